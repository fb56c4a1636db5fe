"""How much a run proves of a rule set: it loads, it is lawful, it is sourced, it is proved."""

from __future__ import annotations

from typing import Final, Literal, get_args

import attrs

from turnback.conformance.data_proof import DataProof
from turnback.conformance.oracle_check import Comparison
from turnback.conformance.outcome import Outcome
from turnback.conformance.subject import Subject
from turnback.errors import InputError
from turnback.rules.standing import STATUS_WORDS, not_read_text

__all__ = ["LEVELS", "Level", "LevelName", "level_named", "level_of"]

LevelName = Literal["loads", "lawful", "sourced", "proved"]
LEVELS: Final[tuple[LevelName, ...]] = get_args(LevelName)
"""Each includes those before it."""

_SHOWN: Final = 3
_UNSAID: Final = "the check values do not say how they were taken: source_status"


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
    broken = _not_lawful(outcomes, typed, oracle)
    if broken:
        return Level("loads", broken)
    unread = not_read_text(subject.rules, numbers_alone=True)
    if unread:
        return Level("lawful", unread)
    open_ones = _not_proved(subject, data, oracle, oracle_reason)
    return Level("sourced", open_ones) if open_ones else Level("proved", "")


def _not_lawful(outcomes: tuple[Outcome, ...], typed: int, oracle: Comparison | None) -> str:
    failing = [outcome.law for outcome in outcomes if outcome.fails and outcome.state != "blocked"]
    if failing:
        blocked = sum(outcome.state == "blocked" for outcome in outcomes)
        behind = f"; {blocked} more build on them" if blocked else ""
        return f"laws that do not hold: {_some(failing)}{behind}"
    if oracle is not None and not oracle.agree:
        return f"the oracle differs in {oracle.found} of {oracle.cases} cases"
    return f"the check values differ in {typed} places" if typed else ""


def _not_proved(subject: Subject, data: DataProof | None, oracle: Comparison | None, oracle_reason: str) -> str:
    if data is None or subject.values is None:
        return "there are no check values: nobody typed the table a second time"
    if data.failure:
        return data.failure
    taken = subject.values.source_status
    if taken != "read":
        return f"the check values are themselves {STATUS_WORDS[taken]}" if taken else _UNSAID
    if not data.total:
        return "there is nothing in it that a mutant could be made of"
    if data.survivors:
        survivors = [str(each) for each in data.survivors]
        return f"{len(survivors)} of {data.total} mutants of its data live: {_some(survivors)}"
    return f"no oracle: {oracle_reason}" if oracle is None and not subject.rules.is_basis else ""


def _some(names: list[str]) -> str:
    more = len(names) - _SHOWN
    return "; ".join(names[:_SHOWN]) + (f"; and {more} more" if more > 0 else "")
