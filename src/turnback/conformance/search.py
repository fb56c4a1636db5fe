"""Searching a law: cases are judged one after the other, and the one that breaks it is made as small as it goes."""

from __future__ import annotations

import contextlib

import attrs
from hypothesis.errors import FlakyFailure, HypothesisException

from turnback.conformance.drawing import Cases, Drawings, tried
from turnback.conformance.law import Breakage, Search
from turnback.conformance.subject import Subject

__all__ = ["Found", "judged", "searched", "text_of"]


@attrs.frozen
class Found:
    """What a search came to.

    Args:
        examples: Cases that said something of the law [-].
        breakage: The smallest case that breaks it; None where none was found.
        reason: Why nothing was searched; empty where something was.
    """

    examples: int
    breakage: Breakage | None
    reason: str = ""


class _BrokenError(Exception):
    """A case breaks the law; caught below, never shown."""


def searched(
    search: Search[object], subject: Subject, examples: int, seed: int, *, drawings: Drawings | None = None,
    one_in: int = 1,
) -> Found:  # fmt: skip
    """Search for a case that breaks a law.

    Args:
        search: How cases are drawn and judged.
        subject: The subject.
        examples: Cases to draw [-].
        seed: Seed of the draws; the same seed draws the same cases [-].
        drawings: Cases that were drawn in this run before; they are drawn anew where not given.
        one_in: Of how many drawn cases one is judged, for a law that is dear [-].

    Returns:
        How many cases said something of the law, and the smallest that breaks it.

    Raises:
        Exception: Whatever a plugin's code raises while a case is drawn.
    """
    cases = (drawings or Drawings()).cases(search, subject, examples, seed)
    counted = 0
    for at in range(0, len(cases.drawn), one_in):
        verdict = judged(search, subject, cases.drawn[at])
        counted += verdict is not None
        if isinstance(verdict, Breakage):
            return Found(counted, _smallest(search, subject, examples, seed, at) or verdict)
    return Found(counted, None, _why_none(cases, counted))


def _why_none(cases: Cases, counted: int) -> str:
    if cases.none_there:
        return cases.none_there
    if cases.error is not None:
        return text_of(cases.error)
    return "" if counted else "none of the cases drawn said anything of this law"


def _smallest(search: Search[object], subject: Subject, examples: int, seed: int, broke: int) -> Breakage | None:
    """Draw the same cases again up to the one that broke the law, and make that one small."""
    drawn = 0
    last: list[Breakage] = []

    def trial(case: object) -> None:
        nonlocal drawn
        drawn += 1
        if drawn <= broke:
            return  # it was judged before, or left out
        verdict = judged(search, subject, case)
        if isinstance(verdict, Breakage):
            last[:] = [verdict]
            raise _BrokenError

    # The last case that hypothesis runs is the smallest; a rule set that answers differently each time is flaky, and
    # what it answered last is shown all the same.
    with contextlib.suppress(_BrokenError, FlakyFailure):
        tried(search, subject, examples, seed, trial)
    return last[0] if last else None


def judged(search: Search[object], subject: Subject, case: object) -> Breakage | str | None:
    """Judge one case; whatever a plugin's code raises is a breakage of the law.

    Args:
        search: How cases are judged.
        subject: The subject.
        case: The case.

    Returns:
        As the search's own judge.
    """
    try:
        return search.judge(subject, case)
    except KeyboardInterrupt:
        raise
    except HypothesisException:
        raise
    except BaseException as error:  # a plugin may raise anything, SystemExit too
        return Breakage("an answer", f"{type(error).__name__}: {text_of(error)}", str(subject.rules.citation))


def text_of(error: BaseException) -> str:
    """Return the message of an error in one line.

    Args:
        error: The error.

    Returns:
        At most 300 characters; a message that cannot be read is said to be so.
    """
    try:
        return " ".join(str(error).split())[:300] or "no message"
    except Exception:
        return "its message cannot be read"
