"""What a rule set asks of one rope, worked out again from the cells of its table by plain arithmetic.

The judges of the searched laws compare a plan with this. Nothing here calls a method of a rule set, a row or a bound,
for a plugin may bring its own.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

import attrs

from turnback.conformance.judging import halves_of
from turnback.model.cited import Cited
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.ruleset import BodyOfClip, Row, RuleSet, SpacingBound

__all__ = ["Limit", "cell_of", "count_of", "floor_of", "limits_of", "needed_length", "printed_length", "row_of"]

_APART = Citation(COMMON_PRACTICE, "clips at least one base width apart", "common practice")


@attrs.frozen
class Limit:
    """A bound on the distance between the centres of two neighbouring clips.

    Args:
        bound: ``least``, ``greatest`` or ``equal``.
        exact: The distance [nm].
        citation: Who says so.
    """

    bound: str
    exact: Fraction
    citation: Citation

    def broken_by(self, gap: Length) -> bool:
        """Say whether a distance breaks it.

        Args:
            gap: The distance [length].

        Returns:
            Whether it does. An equal one that is no whole number is met by the whole numbers next to it.
        """
        low, high = ceil(self.exact), floor(self.exact)
        if self.bound == "equal":
            low, high = high, low
        return (self.bound != "greatest" and gap.nanometres < low) or (self.bound != "least" and gap.nanometres > high)

    def __str__(self) -> str:
        word = {"least": "at least", "greatest": "at most"}.get(self.bound, "exactly")
        return f"{word} {Length.nearest(self.exact).text('both')} between centres"


def row_of(rules: RuleSet, seat: Length) -> Row | None:
    """Find the row that takes a rope, by the sizes as they stand there; a rule without a table has a row for any."""
    rule = rules.count_rule
    if rule is not None:
        exact = ceil(rule.per_inch * seat.inches + rule.plus)
        return Row(size=seat, count=Cited(exact, rule.citations, rule.text))
    for row in rules.rows:
        if row.size == seat if row.above is None else row.above < seat <= row.size:
            return row
    return None if rules.rows else Row(size=seat)


def cell_of(row: Row, body: BodyOfClip, *, fewest: bool = False) -> Cited[int] | None:
    """Take the printed count for a body.

    Where it is not given, the larger one; the smaller where it is the count that a turn-back stands beside.
    """
    if row.count_forged is None or row.count_other is None:
        return row.count
    if body == "not given":
        pair = (row.count_forged, row.count_other)
        return (min if fewest else max)(pair, key=lambda cell: cell.value)
    return row.count_forged if body == "forged" else row.count_other


def floor_of(plan: Plan, rules: RuleSet) -> int:
    """Least number of clips that the source and the service ask for beside the table, of one eye [-]."""
    service = plan.service.count_floor
    least: int = max((floor.count for floor in rules.floors), default=0)
    return least if service is None else max(least, service.value)


def count_of(plan: Plan, rules: RuleSet, row: Row) -> Cited[int] | None:
    """Work out the clips of one eye, without a pulley and without clips asked for; None where none are printed."""
    cell = cell_of(row, plan.request.clip_body)
    if cell is None:
        return None
    count, more = cell.value, rules.adjustments.large_wires
    if more is not None and plan.demand.large_wires and plan.demand.seat >= more.from_size:
        count += more.add
    return Cited(max(count, floor_of(plan, rules)) if plan.style.in_series else count, cell.citations)


def printed_length(plan: Plan, row: Row) -> Cited[Length] | None:
    """Work out the printed turn-back for the clips of a plan, in proportion, rounded up once; None where none is."""
    cell = cell_of(row, plan.request.clip_body, fewest=True)
    if row.turn_back is None or cell is None:
        return None
    halves = halves_of(plan.request)
    whole = ceil(Fraction(row.turn_back.value.nanometres * (plan.clip_count // halves), cell.value))
    return Cited(Length(whole * halves), row.turn_back.citations)


def limits_of(plan: Plan) -> tuple[Limit, ...]:
    """List the bounds on the distance between measured clips, that of the trade among them."""
    base, seat = plan.request.base_width, plan.demand.seat
    if base is None:
        return ()
    asked = [
        (bound, row_of(member.rules, seat) or member.row)
        for member in plan.members
        if not member.verdict.counts_only
        for bound in member.rules.spacing
    ]
    asked += [(bound, plan.members[0].row) for bound in plan.service.spacing]
    found = [Limit("least", Fraction(2 * base.nanometres), _APART)]
    for bound, row in asked:
        exact, citation = _exact(bound, row, seat, base)
        if exact is not None:
            found.append(Limit(bound.bound, exact, citation))
    return tuple(found)


def _exact(bound: SpacingBound, row: Row, seat: Length, base: Length) -> tuple[Fraction | None, Citation]:
    citation = bound.citation
    if bound.length is not None:
        linear = bound.length
        exact = linear.diameters * seat.nanometres + linear.base_widths * base.nanometres + linear.constant.nanometres
    elif row.spacing is not None:
        exact, citation = Fraction(row.spacing.value.nanometres), row.spacing.citations[0]
    else:
        return None, citation
    return exact + base.nanometres if bound.clear else exact, citation


def needed_length(plan: Plan) -> Length | None:
    """Work out the turn-back or overlap that measured clips take at their least distance; None where not measured."""
    base = plan.request.base_width
    if base is None:
        return None
    # An equal distance that is no whole number of nanometres is met from below.
    least = max(
        floor(limit.exact) if limit.bound == "equal" else ceil(limit.exact)
        for limit in limits_of(plan)
        if limit.bound != "greatest"
    )
    ends = 1 + halves_of(plan.request)
    return Length(ends * base.nanometres + (plan.clip_count - 1) * least)
