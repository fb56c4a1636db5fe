"""The data proof: how much a second typing of a source would notice, measured by damaging the rule set."""

from __future__ import annotations

import attrs

from turnback.conformance.check_values import Difference
from turnback.conformance.mutants import mutants
from turnback.conformance.search import text_of
from turnback.conformance.subject import Subject

__all__ = ["DataProof", "Survivor", "data_proof"]


@attrs.frozen
class Survivor:
    """A fault that the check values would let pass.

    Args:
        row: Size of the row, with its unit; empty where the fault is in no row.
        column: The column, or the place outside the table.
        what: The fault, such as ``one step up``.
        source: Where the cell stands in print.
        place: Where the fault is, such as ``rows[3/4 in].torque``.
    """

    row: str
    column: str
    what: str
    source: str
    place: str

    def __str__(self) -> str:
        return f"{self.place}: {self.what} [{self.source}]"


@attrs.frozen
class DataProof:
    """What came of damaging a rule set.

    Args:
        has_values: Whether there are check values at all.
        total: Mutants [-].
        refused: Those that the types refuse to build [-].
        killed: Those that the check values notice [-].
        survivors: Those that nobody notices.
        differences: What the rule set itself has otherwise than the check values.
        failure: Why it could not be made: a rule set made in Python may hold anything; empty where it was made.
    """

    has_values: bool
    total: int
    refused: int
    killed: int
    survivors: tuple[Survivor, ...]
    differences: tuple[Difference, ...] = ()
    failure: str = ""

    @property
    def complete(self) -> bool:
        """Whether there are check values, the rule set agrees with them, and every mutant is noticed."""
        held = self.has_values and self.total > 0 and not self.failure
        return held and not self.differences and not self.survivors

    def __str__(self) -> str:
        if self.failure:
            return f"the rule set cannot be held against a second typing: {self.failure}"
        if not self.has_values:
            return f"no check values: none of {self.total} mutants is held against a second typing"
        text = f"{self.total} mutants: {self.killed} killed, {self.refused} refused, {len(self.survivors)} survive"
        return f"{text}; {len(self.differences)} differences" if self.differences else text


def data_proof(subject: Subject) -> DataProof:
    """Damage a rule set in every way and ask its check values each time.

    Args:
        subject: The rule set with its check values.

    Returns:
        The figures and the survivors. A mutant is killed where the check values say of it something else than they say
        of the rule set itself, so that a difference which was there before kills nothing. Without check values every
        mutant that can be built survives.
    """
    try:
        return _proof(subject)
    except Exception as error:  # a plugin's values may be of any type, and the report goes on
        text = f"{type(error).__name__}: {text_of(error)}"
        # One survivor, so that nobody who counts survivors alone takes this for a proof.
        alive = Survivor("", "", f"no mutant could be held against it: {text}", subject.rules.id, "whole rule set")
        return DataProof(subject.values is not None, 1, 0, 0, (alive,), (), text)


def _proof(subject: Subject) -> DataProof:
    made = mutants(subject.rules)
    refused = sum(mutant.refused for mutant in made)
    values = subject.values
    before = () if values is None else values.differences(subject.rules)
    survivors: list[Survivor] = []
    for mutant in made:
        if mutant.rules is None:
            continue
        if values is None:
            noticed = False
        elif before:
            noticed = values.differences(mutant.rules) != before
        else:
            noticed = next(values.each_difference(mutant.rules), None) is not None
        if not noticed:
            survivors.append(Survivor(mutant.row, mutant.column, mutant.what, str(mutant.citation), mutant.place))
    killed = len(made) - refused - len(survivors)
    return DataProof(values is not None, len(made), refused, killed, tuple(survivors), before)
