"""Mutants that say more than the source: what is filled in where nothing is printed is the worst slip of all.

Each makes a rule set say something of which it says nothing. A file of check values kills them by stating the silence,
``pulley = ""``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final

import attrs

from turnback.conformance.facts import size_text
from turnback.conformance.mutants_rows import with_row
from turnback.conformance.mutants_steps import Change
from turnback.model.cited import Cited
from turnback.quantities import Length, Torque
from turnback.rules.ruleset import (
    Adjustments,
    EfficiencyBand,
    Floor,
    LargeWires,
    LinearLength,
    Row,
    RuleSet,
    ScopeEntry,
    SpacingBound,
)

__all__ = ["additions"]

_ADDED: Final = "said where the file says nothing"


def additions(rules: RuleSet) -> Iterator[Change]:
    """Let a rule set say more than it says.

    Args:
        rules: The rule set.

    Yields:
        The changes.
    """
    yield from _ranges(rules)
    yield from _columns(rules)
    for place, make in (*_spacing(rules), *_efficiency(rules), *_adjustments(rules), *_others(rules)):
        yield Change("", place, _ADDED, rules.citation, make)


def _ranges(rules: RuleSet) -> Iterator[Change]:
    """A size that takes its own rope alone takes a range of them."""
    for number, (before, row) in enumerate(pairwise(rules.rows), 1):
        if row.above is None:
            ranged = attrs.evolve(row, above=before.size)
            what = f"takes every rope above {size_text(before.size)}"
            yield Change(size_text(row.size), "above", what, rules.citation, _row(rules, number, ranged))


def _row(rules: RuleSet, number: int, row: Row) -> Callable[[], RuleSet]:
    return lambda: with_row(rules, number, row)


def _columns(rules: RuleSet) -> Iterator[Change]:
    """A cell in a column of which the source prints nothing."""
    for column, value in _invented(rules):
        if any(getattr(row, column) is not None for row in rules.rows):
            continue
        for number, row in enumerate(rules.rows):
            cell = {column: Cited(value, (rules.citation,))}
            filled = attrs.evolve(row, **cell)  # type: ignore[arg-type]  # a value of the column's type
            yield Change(size_text(row.size), column, _ADDED, rules.citation, _row(rules, number, filled))


def _invented(rules: RuleSet) -> Iterator[tuple[str, object]]:
    if all(row.count_forged is None for row in rules.rows):
        yield "count", 3
    if all(row.count is None for row in rules.rows):
        yield "count_forged", 3
        yield "count_other", 4
    yield "turn_back", Length.of("12 in")
    yield "spacing", Length.of("3 in")
    if rules.threads is not None:
        yield "torque", Torque(65, "lbf·ft")


_Makes = Iterator[tuple[str, Callable[[], RuleSet]]]


def _spacing(rules: RuleSet) -> _Makes:
    if rules.is_basis:
        return
    kinds = {bound.bound for bound in rules.spacing}
    six = LinearLength(Fraction(6), Fraction(0), Length(0), "6 diameters")
    if not kinds & {"least", "equal"}:
        least = SpacingBound("least", False, six, rules.citation)
        yield "spacing.least", lambda: attrs.evolve(rules, spacing=(*rules.spacing, least))
    if not kinds & {"greatest", "equal"}:
        ten = attrs.evolve(six, diameters=Fraction(10), text="10 diameters")
        greatest = SpacingBound("greatest", False, ten, rules.citation)
        yield "spacing.greatest", lambda: attrs.evolve(rules, spacing=(*rules.spacing, greatest))


def _efficiency(rules: RuleSet) -> _Makes:
    share = Fraction(4, 5)
    if not rules.efficiency:
        band = EfficiencyBand(share, None, None, rules.citation)
        yield "efficiency", lambda: attrs.evolve(rules, efficiency=(band,))
    if rules.efficiency_at_most is None:
        at_most = Cited(share, (rules.citation,))
        yield "efficiency.at_most", lambda: attrs.evolve(rules, efficiency_at_most=at_most)
    if rules.efficiency and "pulley eye" not in rules.efficiency_terminations:
        kinds = (*rules.efficiency_terminations, "pulley eye")
        yield "efficiency.terminations", lambda: attrs.evolve(rules, efficiency_terminations=kinds)


def _adjustments(rules: RuleSet) -> _Makes:
    held, citation = rules.adjustments, rules.citation

    def adjusted(place: str, other: Adjustments) -> tuple[str, Callable[[], RuleSet]]:
        return f"adjustments.{place}", lambda: attrs.evolve(rules, adjustments=other)

    if held.large_wires is None:
        large = LargeWires(1, Length.of("1 in"), citation)
        yield adjusted("large_outer_wires", attrs.evolve(held, large_wires=large))
    if held.pulley is None:
        yield adjusted("pulley", attrs.evolve(held, pulley=Cited(1, (citation,))))
    if held.proportion is None:
        yield adjusted("more_clips", attrs.evolve(held, proportion=citation))
    if held.lap_factor is None:
        yield adjusted("lap_splice", attrs.evolve(held, lap_factor=Cited(2, (citation,))))


def _others(rules: RuleSet) -> _Makes:
    citation, procedure = rules.citation, rules.procedure
    if not rules.pattern:
        yield "pattern", lambda: attrs.evolve(rules, pattern="inch")
    if rules.threads is None:
        threads = Cited("dry", (citation,))
        yield "threads", lambda: attrs.evolve(rules, threads=threads)
    if not rules.floors:
        floor = Floor(3, "at least three", citation)
        yield "floors", lambda: attrs.evolve(rules, floors=(floor,))
    if not procedure.begin_at:
        begun = attrs.evolve(procedure, begin_at="dead end", begin_citation=citation)
        yield "procedure.begin_at", lambda: attrs.evolve(rules, procedure=begun)
    if not procedure.retorque:
        again = attrs.evolve(procedure, retorque=("after the first load",), retorque_citation=citation)
        yield "procedure.retorque", lambda: attrs.evolve(rules, procedure=again)
    if not rules.excluded_services:
        excluded = (("mine-hoist", Cited("not for mine hoists", (citation,))),)
        yield "excluded_services", lambda: attrs.evolve(rules, excluded_services=excluded)
    entry = ScopeEntry("everything", None, None, ("8x19",), (), (), (), (), None, False, (), citation)
    yield "scope", lambda: attrs.evolve(rules, scope=(*rules.scope, entry))
