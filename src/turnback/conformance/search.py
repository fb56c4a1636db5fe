"""Searching a law: hypothesis draws cases and makes the one that breaks it as small as it goes."""

from __future__ import annotations

import attrs
import hypothesis
from hypothesis import HealthCheck, Phase, Verbosity
from hypothesis import strategies as st
from hypothesis.errors import FlakyFailure, HypothesisException, Unsatisfiable

from turnback.conformance.draws import Unseen
from turnback.conformance.law import Breakage, Search
from turnback.conformance.subject import Subject

__all__ = ["Found", "judged", "searched", "text_of"]


@st.composite
def _boxed(draw: st.DrawFn, held: Unseen[st.SearchStrategy[object]]) -> Unseen[object]:
    # A failing case is printed by hypothesis with every rule set in it; nobody reads that, and it takes long.
    return Unseen(draw(held.value))


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


def searched(search: Search[object], subject: Subject, examples: int, seed: int) -> Found:
    """Search for a case that breaks a law.

    Args:
        search: How cases are drawn and judged.
        subject: The subject.
        examples: Cases to draw [-].
        seed: Seed of the draws; the same seed draws the same cases [-].

    Returns:
        How many cases said something of the law, and the smallest that breaks it.
    """
    counted: set[int] = set()
    drawn = 0
    last: list[Breakage] = []

    @hypothesis.seed(seed)
    @hypothesis.settings(
        max_examples=examples,
        deadline=None,
        database=None,
        derandomize=False,
        report_multiple_bugs=False,
        verbosity=Verbosity.quiet,
        print_blob=False,
        phases=(Phase.generate, Phase.shrink),
        suppress_health_check=list(HealthCheck),
    )
    @hypothesis.given(case=_boxed(Unseen(search.draw(subject))))
    def trial(case: Unseen[object]) -> None:
        nonlocal drawn
        drawn += 1
        verdict = judged(search, subject, case.value)
        if verdict is not None:
            counted.add(drawn)
        if isinstance(verdict, Breakage):
            last[:] = [verdict]
            raise _BrokenError

    try:
        trial()
    except (_BrokenError, FlakyFailure):
        # The last case that hypothesis runs is the smallest; a rule set that answers differently each time is flaky,
        # and what it answered last is shown all the same.
        return Found(len(counted), last[0])
    except Unsatisfiable:
        return Found(0, None, "no rope of its scope and table could be drawn")
    except HypothesisException as error:
        return Found(len(counted), last[0] if last else None, text_of(error))
    if not counted:
        return Found(0, None, "none of the cases drawn said anything of this law")
    return Found(len(counted), None)


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
