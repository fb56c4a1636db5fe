"""How much a run proves of a rule set: it loads, it is lawful, it is sourced, it is proved."""

from __future__ import annotations

from typing import Final, Literal, get_args

import attrs

from turnback.conformance.data_proof import DataProof
from turnback.conformance.oracle_check import Comparison
from turnback.conformance.outcome import Outcome
from turnback.conformance.standing import Cell, cells_of, unread_numbers
from turnback.conformance.subject import Subject
from turnback.errors import InputError

__all__ = ["LEVELS", "Level", "LevelName", "level_named", "level_of"]

LevelName = Literal["loads", "lawful", "sourced", "proved"]
LEVELS: Final[tuple[LevelName, ...]] = get_args(LevelName)
"""Each includes those before it."""

_SHOWN: Final = 3


@attrs.frozen
class Level:
    """The highest level that a rule set reaches.

    Args:
        name: ``loads``: it is read and its invariants hold. ``lawful``: every law holds or is waived, and the oracle
            agrees. ``sourced``: every number was read in its document. ``proved``: every mutant of its data is killed
            by check values.
        reason: Why it is not the next one; empty at the highest.
    """

    name: LevelName
    reason: str

    def __str__(self) -> str:
        return f"{self.name}; not {LEVELS[LEVELS.index(self.name) + 1]}: {self.reason}" if self.reason else self.name

    def is_at_least(self, name: LevelName) -> bool:
        """Whether it reaches another level.

        Args:
            name: The other level.

        Returns:
            True where it is the same or higher.
        """
        return LEVELS.index(self.name) >= LEVELS.index(name)


def level_named(name: str) -> LevelName:
    """Read the name of a level.

    Args:
        name: ``loads``, ``lawful``, ``sourced`` or ``proved``.

    Returns:
        The name.

    Raises:
        InputError: There is no such level.
    """
    for level in LEVELS:
        if level == name:
            return level
    raise InputError("no such level", field="level", value=name, bound="one of " + ", ".join(LEVELS))


def level_of(
    subject: Subject,
    outcomes: tuple[Outcome, ...],
    typed: int,
    data: DataProof | None,
    oracle: Comparison | None,
    oracle_reason: str,
) -> Level:
    """Say which level a run reaches.

    Args:
        subject: What was examined.
        outcomes: One for each law.
        typed: Places where the check values differ [-].
        data: What mutating the table came to; None where there are no check values.
        oracle: What the oracle found; None where it does not apply.
        oracle_reason: Why it does not apply.

    Returns:
        The level, with the reason why not the next.
    """
    failing = [outcome.law for outcome in outcomes if outcome.fails]
    if failing:
        return Level("loads", "laws that do not hold: " + _some(failing))
    if oracle is not None and not oracle.agree:
        return Level("loads", f"the oracle differs in {oracle.found} of {oracle.cases} cases")
    if typed:
        return Level("loads", f"the check values differ in {typed} places")
    unread = unread_numbers(subject.rules)
    if unread:
        return Level("lawful", _unread(unread, len([cell for cell in cells_of(subject.rules) if cell.number])))
    if data is None or subject.values is None:
        return Level("sourced", "there are no check values: nobody typed the table a second time")
    if data.failure:
        return Level("sourced", data.failure)
    if subject.values.source_status not in ("", "read"):
        return Level("sourced", f"the check values are themselves {_WORDS[subject.values.source_status]}")
    if data.survivors:
        survivors = [str(each) for each in data.survivors]
        return Level("sourced", f"{len(survivors)} of {data.total} mutants of its data live: {_some(survivors)}")
    if oracle is None and not subject.rules.is_basis:
        return Level("sourced", f"no oracle: {oracle_reason}")
    return Level("proved", "")


def _unread(cells: tuple[Cell, ...], of: int) -> str:
    by_status: dict[str, list[str]] = {}
    for cell in cells:
        by_status.setdefault(cell.status, []).append(cell.place)
    return "; ".join(
        f"{len(places)} of {of} numbers {'are' if len(places) > 1 else 'is'} {_WORDS[status]}: {_some(places)}"
        for status, places in by_status.items()
    )


_WORDS: Final = {
    "memory": "from memory, not yet read against the document",
    "common practice": "common practice, without a source",
    "user": "given by the user",
}


def _some(names: list[str]) -> str:
    more = len(names) - _SHOWN
    return "; ".join(names[:_SHOWN]) + (f"; and {more} more" if more > 0 else "")
