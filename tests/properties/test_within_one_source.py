"""Design, section 10: what holds within one source, for every rule set at hand.

A table that breaks a law because its source does says so: the rows that break it are the rows that its file waives.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, TABLES, lengths

from turnback.mechanics import turn_back_for_spacing
from turnback.quantities import Length, Torque
from turnback.rules.ruleset import CountRule, Row, RuleSet

LINEAR = [rules.count_rule for rules in CATALOGUE.rule_sets if rules.count_rule is not None]
tables = pytest.mark.parametrize("rules", TABLES, ids=[rules.id for rules in TABLES])


def waived(rules: RuleSet, law: str) -> set[Length]:
    return {Length.of(waiver.row) for waiver in rules.waivers if waiver.law == law}


def falling(pairs: Iterable[tuple[Row, Row]], *columns: str) -> set[Length]:
    """The sizes at which any of the columns is smaller than in the row before."""
    found = set()
    for one, other in pairs:
        for column in columns:
            before, after = getattr(one, column), getattr(other, column)
            if before is not None and after is not None and _number(after.value) < _number(before.value):
                found.add(other.size)
    return found


def _number(value: int | Torque) -> Fraction:
    return value.exact_newton_metres if isinstance(value, Torque) else Fraction(value)


def test_there_are_tables_and_linear_rules_to_hold_the_laws_to() -> None:
    """The laws below are not empty: both kinds of rule set are at hand."""
    assert {"us-ca-8-8497", "us-osha-1926-251", "us-ca-8-8497-t2", "en-13411-5"} <= {rules.id for rules in TABLES}
    assert len(LINEAR) >= 2


@tables
def test_the_count_never_falls_as_the_size_grows(rules: RuleSet) -> None:
    """Within one source: the count never falls as the size grows, in any column of the body."""
    broken = falling(pairwise(rules.rows), "count", "count_forged", "count_other")
    assert waived(rules, "count-never-falls") == broken


@tables
def test_the_torque_never_falls_as_the_size_grows(rules: RuleSet) -> None:
    """Within one source: the torque never falls as the size grows."""
    assert waived(rules, "torque-never-falls") == falling(pairwise(rules.rows), "torque")


@tables
def test_a_printed_turn_back_covers_the_clips_their_spacing_and_the_end_allowance(rules: RuleSet) -> None:
    """Within one source: the turn-back covers the clips, their spacing and the end allowance.

    The base width is that of the smallest clip that is not questioned, one rope diameter; the clips are one base width
    apart, or as far as the same row prints.
    """
    broken = set()
    for row in rules.rows:
        count = row.count_for("not given")
        if row.turn_back is None or count is None:
            continue
        base = row.size.nanometres
        apart = max(2 * base, row.spacing.value.nanometres if row.spacing is not None else 0)
        if row.turn_back.value.nanometres < turn_back_for_spacing(base, count.value, apart):
            broken.add(row.size)
    assert waived(rules, "turn-back-covers-clips") == broken


@tables
def test_a_turn_back_has_a_count_beside_it(rules: RuleSet) -> None:
    """Section 5: a printed turn-back needs a count beside it, or no clip could share it out."""
    assert [] == [row.size for row in rules.rows if row.turn_back is not None and row.count_for("not given") is None]


@given(st.sampled_from(LINEAR), st.data())
def test_the_count_of_a_linear_rule_never_falls_as_the_size_grows(rule: CountRule, data: st.DataObject) -> None:
    """Within one source: the count never falls as the size grows, for every pair of sizes of the declared range."""
    low, high = rule.least or Length.of("1/16 in"), rule.greatest or Length.of("2 in")
    drawn = lengths(low.nanometres, high.nanometres)
    small, large = sorted((data.draw(drawn), data.draw(drawn)))
    assert rule.count(small) <= rule.count(large)
