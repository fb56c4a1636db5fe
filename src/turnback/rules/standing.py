"""How every number and statement of a rule set was taken: read, recalled, common practice, or the user's."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.model.cited import Cited
from turnback.model.sources import Citation, Status
from turnback.rules.ruleset import RuleSet

__all__ = ["STATUS_WORDS", "Standing", "not_read", "not_read_text", "standings"]

STATUS_WORDS: Final = {
    "memory": "from memory, not yet read against the document",
    "common practice": "common practice, without a source",
    "user": "given by the user",
}
"""How a value that nobody read in a document is said to have been taken."""

_COLUMNS: Final = ("count", "count_forged", "count_other", "turn_back", "spacing", "torque")
_SHOWN: Final = 3


@attrs.frozen
class Standing:
    """One thing that a rule set says, and how it was taken.

    Args:
        place: Where it stands, such as ``rows[3/4 in (19.05 mm)].torque``.
        number: Whether it is a number of the trade; everything else is a statement in words, such as the condition of
            the threads, the scope, or a remark to confirm.
        citation: Who says so.
    """

    place: str
    number: bool
    citation: Citation

    @property
    def status(self) -> Status:
        """How it was taken."""
        return self.citation.status


def standings(rules: RuleSet) -> tuple[Standing, ...]:
    """List everything that a rule set says, with who says so.

    Args:
        rules: The rule set.

    Returns:
        Numbers of tables and rules in the order of the file, then bounds and additions, then statements in words.
    """
    return (*_numbers(rules), *_words(rules))


def not_read(rules: RuleSet) -> tuple[Standing, ...]:
    """List what nobody read in a document.

    Args:
        rules: The rule set.

    Returns:
        Numbers and statements whose status is not ``read``, in the order of :func:`standings`.
    """
    return tuple(each for each in standings(rules) if each.status != "read")


def not_read_text(rules: RuleSet, *, numbers_alone: bool = False) -> str:
    """Say in words what nobody read in a document; every report and list says it by these.

    Args:
        rules: The rule set.
        numbers_alone: Whether statements in words, such as the condition of the threads, are passed over.

    Returns:
        Text such as ``24 of 28 numbers are from memory, not yet read against the document: ...``; empty where
        everything was read.
    """
    all_of_them = standings(rules)
    groups: dict[tuple[bool, Status], list[str]] = {}
    for each in all_of_them:
        if each.status != "read" and (each.number or not numbers_alone):
            groups.setdefault((each.number, each.status), []).append(each.place)
    return "; ".join(
        _group_text(places, sum(each.number == number for each in all_of_them), number, status)
        for (number, status), places in groups.items()
    )


def _group_text(places: list[str], of: int, number: bool, status: Status) -> str:
    kind = "number" if number else "statement"
    more = len(places) - _SHOWN
    named = ", ".join(places[:_SHOWN]) + (f" and {more} more" if more > 0 else "")
    are = "are" if len(places) > 1 else "is"
    return f"{len(places)} of {of} {kind}{'s' if of > 1 else ''} {are} {STATUS_WORDS[status]}: {named}"


def _numbers(rules: RuleSet) -> list[Standing]:
    found = []
    for row in rules.rows:
        for column in _COLUMNS:
            cell: Cited[object] | None = getattr(row, column)
            if cell is not None:
                found.append(Standing(f"rows[{row.size.text('both')}].{column}", True, cell.citations[0]))
    if rules.count_rule is not None:
        places = zip(("count", "count.sizes"), rules.count_rule.citations, strict=False)
        found += [Standing(place, True, citation) for place, citation in places]
    found += [Standing(f"spacing[{number}]", True, bound.citation) for number, bound in enumerate(rules.spacing)]
    found += [Standing(f"efficiency[{number}]", True, band.citation) for number, band in enumerate(rules.efficiency)]
    if rules.efficiency_at_most is not None:
        found.append(Standing("efficiency.at_most", True, rules.efficiency_at_most.citations[0]))
    more = rules.adjustments
    if more.large_wires is not None:
        found.append(Standing("adjustments.large_outer_wires", True, more.large_wires.citation))
    for name, cell in (("pulley", more.pulley), ("lap_splice", more.lap_factor)):
        if cell is not None:
            found.append(Standing(f"adjustments.{name}", True, cell.citations[0]))
    found += [Standing(f"floors[{number}]", True, floor.citation) for number, floor in enumerate(rules.floors)]
    return found


def _words(rules: RuleSet) -> list[Standing]:
    found = []
    if rules.threads is not None:
        found.append(Standing("threads", False, rules.threads.citations[0]))
    if rules.adjustments.proportion is not None:
        found.append(Standing("adjustments.more_clips", False, rules.adjustments.proportion))
    for name, citation in (
        ("procedure.begin_at", rules.procedure.begin_citation),
        ("procedure.retorque", rules.procedure.retorque_citation),
    ):
        if citation is not None:
            found.append(Standing(name, False, citation))
    found += [Standing(f"scope[{number}]", False, entry.citation) for number, entry in enumerate(rules.scope)]
    found += [
        Standing(f"excluded_services[{name}]", False, text.citations[0]) for name, text in rules.excluded_services
    ]
    found += [Standing(f"notes[{number}]", False, note.citations[0]) for number, note in enumerate(rules.notes)]
    for row in rules.rows:
        if row.confirm is not None:
            found.append(Standing(f"rows[{row.size.text('both')}].confirm", False, row.confirm.citations[0]))
    return found
