"""How every number and word of a rule set was taken: read in the source, recalled, common practice, the user's."""

from __future__ import annotations

import attrs

from turnback.conformance.judging import in_both
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Status
from turnback.rules.ruleset import RuleSet

__all__ = ["Cell", "cells_of", "unread_numbers"]

_COLUMNS = ("count", "count_forged", "count_other", "turn_back", "spacing", "torque")


@attrs.frozen
class Cell:
    """One thing that a rule set says.

    Args:
        place: Where it stands, such as ``rows[19.05 mm].torque``.
        number: Whether it is a number of the trade; words of procedure and the condition of the threads are none.
        citation: Who says so.
    """

    place: str
    number: bool
    citation: Citation

    @property
    def status(self) -> Status:
        """How it was taken."""
        return self.citation.status


def cells_of(rules: RuleSet) -> tuple[Cell, ...]:
    """List everything that a rule set says, with who says so.

    Args:
        rules: The rule set.

    Returns:
        Cells in the order of the file: numbers of tables and rules, then bounds, additions and words.
    """
    return (*_numbers(rules), *_words(rules))


def _numbers(rules: RuleSet) -> list[Cell]:
    found = []
    for row in rules.rows:
        for column in _COLUMNS:
            cell: Cited[object] | None = getattr(row, column)
            if cell is not None:
                found += [Cell(f"rows[{in_both(row.size)}].{column}", True, each) for each in cell.citations[:1]]
    if rules.count_rule is not None:
        found += [Cell("count", True, each) for each in rules.count_rule.citations]
    found += [Cell(f"spacing[{number}]", True, bound.citation) for number, bound in enumerate(rules.spacing)]
    found += [Cell(f"efficiency[{number}]", True, band.citation) for number, band in enumerate(rules.efficiency)]
    if rules.efficiency_at_most is not None:
        found.append(Cell("efficiency.at_most", True, rules.efficiency_at_most.citations[0]))
    more = rules.adjustments
    if more.large_wires is not None:
        found.append(Cell("adjustments.large_outer_wires", True, more.large_wires.citation))
    for name, cell in (("pulley", more.pulley), ("lap_splice", more.lap_factor)):
        if cell is not None:
            found.append(Cell(f"adjustments.{name}", True, cell.citations[0]))
    found += [Cell(f"floors[{number}]", True, floor.citation) for number, floor in enumerate(rules.floors)]
    return found


def _words(rules: RuleSet) -> list[Cell]:
    found = []
    if rules.threads is not None:
        found.append(Cell("threads", False, rules.threads.citations[0]))
    if rules.adjustments.proportion is not None:
        found.append(Cell("adjustments.more_clips", False, rules.adjustments.proportion))
    for name, citation in (
        ("procedure.begin_at", rules.procedure.begin_citation),
        ("procedure.retorque", rules.procedure.retorque_citation),
    ):
        if citation is not None:
            found.append(Cell(name, False, citation))
    found += [Cell(f"scope[{number}]", False, entry.citation) for number, entry in enumerate(rules.scope)]
    found += [Cell(f"excluded_services[{name}]", False, text.citations[0]) for name, text in rules.excluded_services]
    return found


def unread_numbers(rules: RuleSet) -> tuple[Cell, ...]:
    """Return the numbers that nobody read in a document.

    Args:
        rules: The rule set.

    Returns:
        Cells whose status is not ``read``, in the order of the file.
    """
    return tuple(cell for cell in cells_of(rules) if cell.number and cell.status != "read")
