"""Every citation of a rule set with the place where it stands, and how many of each status there are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import attrs

from turnback.model.sources import Citation, Status, weakest
from turnback.rules.ruleset import RuleSet

__all__ = ["COLUMNS", "STATUS_ORDER", "Place", "beside_the_table", "table_cells", "tally", "tally_text"]

COLUMNS: Final = ("count", "count_forged", "count_other", "turn_back", "spacing", "torque")
STATUS_ORDER: Final[tuple[Status, ...]] = ("read", "memory", "common practice", "user")


@attrs.frozen
class Place:
    """One value or statement of a rule set.

    Args:
        what: What it is, in a word or two.
        status: The least certain status among its citations.
    """

    what: str
    status: Status

    @classmethod
    def of(cls, what: str, *citations: Citation) -> Place:
        """Build one.

        Args:
            what: What it is.
            *citations: Who says so; at least one.

        Returns:
            The place.
        """
        return cls(what, weakest(citations))


def table_cells(rules: RuleSet) -> tuple[Place, ...]:
    """List the cells of the printed table, or the two parts of a linear rule.

    Args:
        rules: The rule set.

    Returns:
        One place for each cell that holds something, row by row.
    """
    if rules.count_rule is not None:
        rule = rules.count_rule
        sizes = () if rule.sizes_citation is None else (Place.of("sizes", rule.sizes_citation),)
        return (Place.of("rule", rule.citation), *sizes)
    cells = ((name, getattr(row, name)) for row in rules.rows for name in COLUMNS)
    return tuple(Place.of(name, *cell.citations) for name, cell in cells if cell is not None)


def beside_the_table(rules: RuleSet) -> tuple[Place, ...]:
    """List what the rule set says outside its table: spacing, threads, efficiency, scope, notes and the rest.

    Args:
        rules: The rule set.

    Returns:
        One place for each statement.
    """
    return tuple(_beside(rules))


def _beside(rules: RuleSet) -> Iterator[Place]:
    yield from (Place.of("to confirm", *row.confirm.citations) for row in rules.rows if row.confirm is not None)
    yield from (Place.of("spacing", bound.citation) for bound in rules.spacing)
    if rules.threads is not None:
        yield Place.of("threads", *rules.threads.citations)
    yield from (Place.of("efficiency", band.citation) for band in rules.efficiency)
    if rules.efficiency_at_most is not None:
        yield Place.of("efficiency at most", *rules.efficiency_at_most.citations)
    yield from (Place.of("scope", entry.citation) for entry in rules.scope)
    yield from _adjustments(rules)
    yield from (Place.of("floor", floor.citation) for floor in rules.floors)
    yield from (Place.of("excluded service", *text.citations) for _, text in rules.excluded_services)
    for citation in (rules.procedure.begin_citation, rules.procedure.retorque_citation):
        if citation is not None:
            yield Place.of("order of work", citation)
    yield from (Place.of("note", *note.citations) for note in rules.notes)
    yield from (Place.of("waiver", waiver.citation) for waiver in rules.waivers)


def _adjustments(rules: RuleSet) -> Iterator[Place]:
    more = rules.adjustments
    if more.large_wires is not None:
        yield Place.of("large outer wires", more.large_wires.citation)
    if more.pulley is not None:
        yield Place.of("pulley", *more.pulley.citations)
    if more.proportion is not None:
        yield Place.of("proportion", more.proportion)
    if more.lap_factor is not None:
        yield Place.of("lap splice", *more.lap_factor.citations)


def tally(places: Iterable[Place]) -> dict[Status, int]:
    """Count places by status.

    Args:
        places: The places.

    Returns:
        A number for each of the four statuses, zero included.
    """
    found: dict[Status, int] = dict.fromkeys(STATUS_ORDER, 0)
    for place in places:
        found[place.status] += 1
    return found


def tally_text(places: Iterable[Place]) -> str:
    """Write the count of places by status.

    Args:
        places: The places.

    Returns:
        Such as ``"9 read, 1 common practice"``; ``"none"`` where there are no places.
    """
    return ", ".join(f"{number} {status}" for status, number in tally(places).items() if number) or "none"
