"""Drawing the cases of a search, once for all laws of one run that judge the same ones.

Most of what a search takes is spent on drawing and not on judging, so that laws which look at the same ropes share
them. Cases live as long as the run in which they were drawn, and nothing of them stays behind.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import attrs
import hypothesis
from hypothesis import HealthCheck, Phase, Verbosity
from hypothesis import strategies as st
from hypothesis.errors import FlakyFailure, HypothesisException, Unsatisfiable

from turnback.conformance.draws import Unseen
from turnback.conformance.law import Search
from turnback.conformance.subject import Subject

__all__ = ["Cases", "Drawings", "tried"]

_NONE: Final = "no rope of its scope and table could be drawn"


@st.composite
def _boxed(draw: st.DrawFn, held: Unseen[st.SearchStrategy[object]]) -> Unseen[object]:
    # A failing case is printed by hypothesis with every rule set in it; nobody reads that, and it takes long.
    return Unseen(draw(held.value))


def tried(
    search: Search[object], subject: Subject, examples: int, seed: int, trial: Callable[[object], None]
) -> HypothesisException | None:
    """Draw cases and try each of them; one that raises is made as small as it goes.

    Args:
        search: How cases are drawn.
        subject: The subject.
        examples: Cases to draw [-].
        seed: Seed of the draws; the same seed draws the same cases, as long as none raises [-].
        trial: What is done with each.

    Returns:
        What kept hypothesis from drawing; None where nothing did.

    Raises:
        Exception: What the trial of the smallest case raised.
    """

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
    def each(case: Unseen[object]) -> None:
        trial(case.value)

    try:
        each()
    except FlakyFailure:
        raise
    except HypothesisException as error:
        return error
    return None


@attrs.frozen(eq=False)
class Cases:
    """What was drawn.

    Args:
        drawn: The cases, the simplest first.
        error: What kept hypothesis from drawing more; None where nothing did.
    """

    drawn: tuple[object, ...] = attrs.field(repr=False)
    error: HypothesisException | None = None

    @property
    def none_there(self) -> str:
        """Why there is not a single case; empty where there is one, or where drawing broke off."""
        return _NONE if not self.drawn and isinstance(self.error, Unsatisfiable) else ""


@attrs.define(eq=False, init=False)
class Drawings:
    """The cases of one run, by how they were drawn."""

    _held: dict[tuple[object, int, int], Cases] = attrs.field(factory=dict, repr=False)

    def __init__(self) -> None:
        self._held = {}

    def cases(self, search: Search[object], subject: Subject, examples: int, seed: int) -> Cases:
        """Return the cases of a search; drawn now, or before for a law that judges the same ones.

        Args:
            search: How cases are drawn.
            subject: The subject of the run.
            examples: Cases to draw [-].
            seed: Seed of the draws [-].

        Returns:
            The cases.

        Raises:
            Exception: Whatever a plugin's code raises while a case is drawn.
        """
        key = (search.draw, examples, seed)
        found = self._held.get(key)
        if found is None:
            drawn: list[object] = []
            error = tried(search, subject, examples, seed, drawn.append)
            found = self._held[key] = Cases(tuple(drawn), error)
        return found
