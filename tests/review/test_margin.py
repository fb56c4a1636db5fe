"""The one checker of bounds, with a margin: it widens by so much and no more."""

from __future__ import annotations

from fractions import Fraction

import attrs
from hypothesis import given
from hypothesis import strategies as st
from tests.review.joints import plan

from turnback.quantities import Length, Torque
from turnback.rules.admission import EXACT, Joint, Margin, breaches, means_torque, spacing_breaches
from turnback.rules.ruleset import LinearLength, Row, SpacingBound

CITED = plan().members[0].rules.citation
SIXTEENTH = Length(1_587_500)


def bound(kind: str, nanometres: int) -> SpacingBound:
    length = LinearLength(Fraction(0), Fraction(0), Length(nanometres), "as typed")
    return SpacingBound(kind, False, length, CITED)  # type: ignore[arg-type]  # one of the three


def joint(gap: int) -> Joint:
    return attrs.evolve(plan().joint, near_edges=(Length(1000), Length(1000 + gap)))


def broken(kind: str, limit: int, gap: int, margin: int) -> bool:
    row = Row(Length(1))
    return bool(spacing_breaches(bound(kind, limit), row, joint(gap), Margin(Length(margin))))


@given(st.sampled_from(["least", "greatest", "equal"]), st.integers(10, 50), st.integers(1, 90), st.integers(0, 20))
def test_a_distance_breaks_a_bound_where_it_misses_it_by_more_than_the_margin(
    kind: str, limit: int, gap: int, margin: int
) -> None:
    """By the definition: at least, at most, or within the margin of an exact distance."""
    misses = {"least": limit - gap, "greatest": gap - limit, "equal": abs(gap - limit)}[kind]
    assert (misses > margin) is broken(kind, limit, gap, margin)


def test_a_pair_with_an_edge_that_was_not_measured_breaks_nothing() -> None:
    made = attrs.evolve(plan().joint, near_edges=(Length(1), None, Length(2), Length(3)))
    found = spacing_breaches(bound("least", 10), Row(Length(1)), made)
    assert [(3, 4)] == [each.clips for each in found]


def test_the_margin_of_a_turn_back() -> None:
    """8 CCR 8497 Table 1, row 3/4 in: 18 in."""
    rules = plan().members[0].rules
    short = attrs.evolve(plan().joint, turn_back=Length.of("18 in") - SIXTEENTH)
    assert ["turn-back"] == [each.clause for each in breaches(rules, short)]
    assert () == breaches(rules, short, margin=Margin(SIXTEENTH))
    assert ["turn-back"] == [each.clause for each in breaches(rules, short, margin=Margin(SIXTEENTH - Length(1)))]


def test_the_margin_of_a_torque_is_taken_of_each_printed_number() -> None:
    printed = Torque(65, "lbf·ft", (88, "N·m"))
    assert means_torque(printed, Torque(88, "N·m"), EXACT)
    assert not means_torque(printed, Torque(100, "N·m"), EXACT)
    assert means_torque(Torque(100, "N·m"), Torque(96, "N·m"), Margin(torque=Fraction(4, 100)))
    assert means_torque(Torque(100, "N·m"), Torque(104, "N·m"), Margin(torque=Fraction(4, 100)))
    assert not means_torque(Torque(100, "N·m"), Torque(Fraction(9599, 100), "N·m"), Margin(torque=Fraction(4, 100)))


def test_no_margin_excuses_a_missing_clip() -> None:
    rules = plan().members[0].rules
    fewer = attrs.evolve(plan().joint, count=3)
    assert ["count"] == [each.clause for each in breaches(rules, fewer, margin=Margin(Length(10**9), Fraction(1, 2)))]
