"""A law: one sentence that every rule set keeps, and the way in which it is checked.

A table is finite, so a law about it is looked up on every row, pair of neighbours and edge: that is a proof. A law
about ropes, eyes and options is searched: examples are drawn, and the one that breaks it is made as small as it goes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Generic, Literal, TypeVar

import attrs

from turnback.errors import InputError

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

    from turnback.conformance.subject import Subject

__all__ = ["Breakage", "Law", "Proof", "Search", "always", "needs_hardware_in_series"]

T = TypeVar("T")


@attrs.frozen
class Breakage:
    """How a law is broken, in the words of somebody who reads the table and not the code.

    Args:
        expected: What the law asks for.
        got: What the rule set gives.
        citation: The clause, or the law's own ground where no clause is broken.
        row: Size of the row, as printed and with its unit; empty where it is about the whole file.
        rope: The smallest rope and eye that show it; empty where the row alone does.
        replay: One line of Python that shows it again; empty where the row alone does.
    """

    expected: str
    got: str
    citation: str
    row: str = ""
    rope: str = ""
    replay: str = ""


@attrs.frozen
class Proof:
    """What was looked at, all of it.

    Args:
        cells: Rows, pairs of neighbours, edges or coefficients looked at [-].
        breakages: Those that break the law, each row once.
    """

    cells: int
    breakages: tuple[Breakage, ...]


@attrs.frozen
class Search(Generic[T]):
    """How a law is searched.

    Args:
        draw: Draws one case for a subject.
        judge: Says what is wrong with a case: ``"kept"``, a breakage, or None where the case says nothing of the law,
            so that it is not counted.
        shared: Name of the cases, where several laws draw in the same way and judge the same ones; empty where a law
            has cases of its own.
    """

    draw: Callable[[Subject], SearchStrategy[T]]
    judge: Callable[[Subject, T], Breakage | Literal["kept"] | None]
    shared: str = ""


@attrs.frozen
class Law:
    """One law.

    Args:
        id: Stable name, lower case with hyphens; waivers and reports use it.
        sentence: The law in one sentence.
        proof: Looks at all of a table; None for a law that is searched.
        search: Draws examples; None for a law that is proved.
        after: Laws that it builds on; where one of them is broken it is blocked and not failed again.
        applies: Says why it does not apply to a subject; empty where it does.
        dear: How many times as dear one example is as a plan; it judges so many times fewer [-].
        redundant: Why it is kept although other laws notice the same faults; empty where it notices one alone.
        waivable: Whether a rule file may waive it for a row: a published table may break it. What no document can
            break, such as that a row answers with its own cells, is not waived, and no plan breaks a law of plans.

    Raises:
        InputError: It is neither proved nor searched, or both; or it is searched and can be waived.
    """

    id: str
    sentence: str
    proof: Callable[[Subject], Proof] | None = None
    search: Search[Any] | None = None
    after: tuple[str, ...] = ()
    applies: Callable[[Subject], str] = attrs.field(default=lambda _: "")
    dear: int = 1
    redundant: str = ""
    waivable: bool = False

    def __attrs_post_init__(self) -> None:
        if (self.proof is None) == (self.search is None):
            raise InputError("a law is either proved or searched", field="law", value=self.id)
        if self.waivable and self.proof is None:
            raise InputError("only a law of tables can be waived, row by row", field="law", value=self.id)


def always(_: Subject) -> str:
    """Say that a law applies to every rule set.

    Args:
        _: The subject.

    Returns:
        Nothing.
    """
    return ""


def needs_hardware_in_series(subject: Subject) -> str:
    """Say that a law is about clips in a row.

    Args:
        subject: The subject.

    Returns:
        Why it does not apply to a style of one body.
    """
    if subject.rules.is_basis:
        return "it gives efficiencies alone and counts no clips"
    return "" if subject.style.in_series else f"a {subject.style.title} is one body; no clips stand in a row"
