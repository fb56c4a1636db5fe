"""Mutants: a rule set damaged in one place, in every way in which a hand slips, to see whether anybody would notice.

They are made from values and not from text, always the same ones in the same order. What the types of the library
refuse to build is a mutant too, and counts as refused.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import attrs

from turnback.conformance.mutants_additions import additions
from turnback.conformance.mutants_facts import fact_changes
from turnback.conformance.mutants_numbers import number_changes
from turnback.conformance.mutants_rows import row_changes
from turnback.conformance.mutants_scope import scope_changes
from turnback.conformance.mutants_steps import Change
from turnback.errors import TurnbackError
from turnback.model.sources import Citation
from turnback.rules.ruleset import RuleSet

__all__ = ["Mutant", "mutants"]


@attrs.frozen
class Mutant:
    """A rule set with one fault.

    Args:
        row: Size of the row, with its unit; empty where the fault is in no row.
        column: The column, or the place outside the table.
        what: The fault, such as ``one step up``.
        citation: What the source of the cell is.
        rules: The faulty rule set; None where the types refuse to build it.
        refusal: Why they refuse; empty where they do not.
    """

    row: str
    column: str
    what: str
    citation: Citation
    rules: RuleSet | None
    refusal: str = ""

    @property
    def place(self) -> str:
        """Where the fault is, such as ``rows[3/4 in].torque``."""
        if not self.row:
            return self.column
        return f"rows[{self.row}].{self.column}" if self.column else f"rows[{self.row}]"

    @property
    def id(self) -> str:
        """Stable name within one rule set: place and fault."""
        return f"{self.place}: {self.what}"

    @property
    def refused(self) -> bool:
        """Whether the types refuse to build it."""
        return self.rules is None


def mutants(rules: RuleSet) -> tuple[Mutant, ...]:
    """Damage a rule set in every way, one place at a time.

    Args:
        rules: The rule set.

    Returns:
        The mutants: rows, numbers outside the table, words outside the table, scope, additions. Each differs from the
        original and has an id of its own.
    """
    seen: Counter[str] = Counter()
    made: list[Mutant] = []
    for change in _changes(rules):
        mutant = _made(change)
        seen[mutant.id] += 1
        times = seen[mutant.id]
        # A rule set made in Python may say one thing twice; a file cannot.
        made.append(mutant if times == 1 else attrs.evolve(mutant, what=f"{mutant.what} ({times})"))
    return tuple(made)


def _changes(rules: RuleSet) -> Iterator[Change]:
    yield from row_changes(rules)
    yield from number_changes(rules)
    yield from fact_changes(rules)
    yield from scope_changes(rules)
    yield from additions(rules)


def _made(change: Change) -> Mutant:
    try:
        found, refusal = change.make(), ""
    except TurnbackError as error:
        found, refusal = None, str(error)
    return Mutant(change.row, change.column, change.what, change.citation, found, refusal)
