"""Design, sections 5 and 7: a greatest spacing, here the one of Quebec's Construction Code: no more than 6 diameters.

Few rule sets can be met together with it; where they cannot, the error names both sources and a way out.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import attrs
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, COMPANIES, Company, Use, planned, requests

from turnback.errors import Conflict
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import ThimbleEye
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.admission import breaches
from turnback.rules.ruleset import Row

QUEBEC: Use = ("elevator", "CA-QC")
MET = ({"us-navy-14026"}, {"us-osha-1926-251"}, {"us-navy-14026", "us-osha-1926-251"}, {"en-13411-5"})
CAPPED: tuple[Company, ...] = tuple(company for company in COMPANIES if set(company.ids) in MET)
TABLE = CATALOGUE.rule_set("us-ca-8-8497")

capped = st.sampled_from(CAPPED).flatmap(lambda company: requests(company=company, measured=True, uses=(QUEBEC,)))


@given(capped)
def test_a_greatest_spacing_and_every_least_one_are_kept_together(request: Request) -> None:
    """Every plan: spacing within bounds, met together; exactly 6 diameters satisfies the least and the greatest."""
    plan = planned(request)
    six = plan.demand.seat * 6
    gaps = [after.near_edge - before.near_edge for before, after in pairwise(plan.clips)]
    assert all(gap <= six for gap in gaps)
    if "en-13411-5" not in {member.rules.id for member in plan.members}:
        assert {six} == set(gaps)
    assert [] == [b for m in plan.members for b in breaches(m.rules, plan.joint, counts_only=m.verdict.counts_only)]


@given(capped)
def test_rounding_for_the_tape_never_stretches_past_a_greatest_spacing(request: Request) -> None:
    """Tape layout: rounding never stretches the spacing past a greatest bound, or there is no layout for the tape."""
    plan = planned(request)
    if isinstance(plan.tape, Absent):
        assert "greatest spacing" in plan.tape.reason
        return
    gaps = [after.near_edge - before.near_edge for before, after in pairwise(plan.tape.layout.clips)]
    assert all(gap <= plan.demand.seat * 6 for gap in gaps)


@given(st.sampled_from(TABLE.rows), st.fractions(0, 1), st.integers(0, 6))
def test_a_printed_turn_back_that_spreads_the_clips_too_far_is_a_conflict_that_names_both(
    row: Row, part: Fraction, extra: int
) -> None:
    """Section 5: what cannot be met together is a conflict with both citations, and only what cannot."""
    size, printed, count = row.size, row.turn_back, row.count
    assert printed is not None
    assert count is not None
    placed = count.value + extra
    turn_back = -(-printed.value.nanometres * placed // count.value)
    base = int(size.nanometres + part * (turn_back // (placed + 1) - size.nanometres))
    spacing = Fraction(max(turn_back, 2 * base * placed) - 2 * base, placed - 1)
    request = Request(
        Rope(size), ThimbleEye(), "u-bolt", TABLE.id, "forged", Length(base), extra_clips=extra, service=QUEBEC[0],
        jurisdiction=QUEBEC[1],
    )  # fmt: skip
    try:
        plan = planned(request)
    except Conflict as conflict:
        found: Conflict | None = conflict
    else:
        found = None
        assert isinstance(plan.spacing, Length)
        assert plan.spacing <= size * 6
    assert (spacing > 6 * size.nanometres) == (found is not None)
    if found is not None:
        assert "8497" in found.citation or "base width" in found.bound + found.value
        assert "Construction Code of Quebec" in found.citation
        assert found.instead


@given(st.sampled_from(TABLE.rows), st.fractions(0, 1))
def test_the_extra_clips_that_a_conflict_names_mend_it(row: Row, part: Fraction) -> None:
    """Section 5: the remedy that a conflict names is one: with so many extra clips the plan is made."""
    size = row.size
    base = Length(int(size.nanometres * (1 + part)))
    request = Request(
        Rope(size), ThimbleEye(), "u-bolt", TABLE.id, "forged", base, service=QUEBEC[0], jurisdiction=QUEBEC[1]
    )
    try:
        planned(request)
    except Conflict as conflict:
        named = conflict.instead.partition("extra_clips=")[2].partition(" ")[0]
    else:
        return
    if named:
        mended = planned(attrs.evolve(request, extra_clips=int(named)))
        assert isinstance(mended.spacing, Length)
        assert mended.spacing <= size * 6
