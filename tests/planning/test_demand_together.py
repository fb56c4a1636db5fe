"""What is asked for together: bounds on the spacing, sizes, patterns and torques that agree or conflict, by hand.

The count and the turn-back are in ``test_demand.py``. Every printed number stands beside its source; base widths and
the sheets of the invented institute are invented.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from tests.sheets import sheet

from turnback.errors import Conflict, InputError
from turnback.model.absent import Absent
from turnback.model.terminations import LapSplice, PulleyEye, Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.quantities import Length, Torque
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import RulesChoice, governing

INCH = 25_400_000
EYE, PULLEY, LAP = ThimbleEye(), PulleyEye(), LapSplice()
CALIFORNIA, FEDERAL, NAVY, BRUNSWICK, EUROPE = (
    "us-ca-8-8497",
    "us-osha-1926-251",
    "us-navy-14026",
    "ca-nb-clips",
    "en-13411-5",
)
ARMY, SADDLES = "us-army-3810-305", "us-ca-8-8497-t2"


def up(inches: Fraction | int | str) -> Length:
    """A length that no source prints in so many words, rounded up to the nanometre, once."""
    return Length(ceil(Fraction(inches) * INCH))


def joint(
    rope: str,
    rules: RulesChoice,
    termination: Termination = EYE,
    *,
    style: str = "u-bolt",
    clip_body: str = "forged",
    base_width: str | None = None,
    service: str | None = None,
    jurisdiction: str | None = "US",
    extra_clips: int = 0,
    maker: MakerFigures | None = None,
) -> Plan:
    return plan(
        rope,
        termination,
        style=style,
        rules=rules,
        clip_body=clip_body,
        base_width=base_width,
        service=service,
        jurisdiction=jurisdiction,
        extra_clips=extra_clips,
        maker=maker,
    )


def elevator(size: str, rules: str, base_width: str, extra_clips: int = 0) -> Plan:
    """A joint under the Quebec Construction Code, B-1.1, r. 2, s. 4.20: at most 6 diameters between centres."""
    return joint(
        f"{size} 6x25F IWRC IPS",
        rules,
        base_width=base_width,
        service="elevator",
        jurisdiction="CA-QC",
        extra_clips=extra_clips,
    )


def counts(made: Plan) -> list[int]:
    """The number of clips after each step."""
    return [step.count for step in made.demand.steps]


# --- bounds on the spacing ---


@pytest.mark.parametrize("extra", range(4))
def test_a_greatest_distance_is_met_by_adding_clips_and_the_remedy_says_how_many(extra: int) -> None:
    """8 CCR §8497, 7/8 in: 4 clips in 19 in. Quebec, B-1.1, r. 2, s. 4.20: at most 6D = 5-1/4 in. Base width 1 in.

    n clips: (19 n / 4 - 2) / (n - 1) = 5.667, 5.4375, 5.3 and 5.2083 in for 4, 5, 6 and 7.
    """
    spacing = (Fraction(19 * (4 + extra), 4) - 2) / (3 + extra)
    if spacing <= Fraction(21, 4):
        made = elevator("7/8 in", CALIFORNIA, "1 in", extra)
        assert (4 + extra, up(spacing)) == (made.clip_count, made.spacing)
        return
    with pytest.raises(Conflict) as refused:
        elevator("7/8 in", CALIFORNIA, "1 in", extra)
    error = refused.value
    assert ("spacing", str(up(spacing))) == (error.field, error.value.partition(" between")[0])
    assert str(up("21/4")) in error.bound
    assert "8497" in error.citation
    assert "4.20" in error.citation
    if not extra:
        assert "extra_clips=3" in error.instead


def test_where_no_number_of_clips_mends_it_the_remedy_says_so() -> None:
    """1/2 in: 11-1/2 in for 3 clips is 3.83 in for each further one, more than 6D = 3 in."""
    with pytest.raises(Conflict, match="more clips alone do not mend it"):
        elevator("1/2 in", CALIFORNIA, "1 in")


@pytest.mark.parametrize(("base_width", "meets"), [("1-1/2 in", True), ("1-33/64 in", False)])
def test_clips_one_base_width_apart_against_a_greatest_distance(base_width: str, meets: bool) -> None:
    """Two base widths between centres, common practice, against 6D = 3 in at 1/2 in (NAVEDTRA and Quebec)."""
    if meets:
        assert Length.of("3 in") == elevator("1/2 in", NAVY, base_width).spacing
        return
    with pytest.raises(Conflict) as refused:
        elevator("1/2 in", NAVY, base_width)
    assert "common practice" in refused.value.citation
    assert "4.20" in refused.value.citation


def test_least_and_greatest_of_two_sources_are_met_together_or_not_at_all() -> None:
    wide = sheet("wide", more='[spacing]\nmeasured = "centre to centre"\nleast = "8 diameters"\n')
    narrow = sheet("narrow", more='[spacing]\nmeasured = "centre to centre"\ngreatest = "7 diameters + 1/2 in"\n')
    # 8 x 1/2 = 4 in and 7 x 1/2 + 1/2 = 4 in.
    assert Length.of("4 in") == joint("1/2 in", governing(wide, narrow), base_width="1 in").spacing
    narrower = sheet("narrow", more='[spacing]\nmeasured = "centre to centre"\ngreatest = "7 diameters"\n')
    for base_width in ("1 in", None):
        with pytest.raises(Conflict) as refused:
            joint("1/2 in", governing(wide, narrower), base_width=base_width)
        assert ("spacing", True) == (refused.value.field, str(Length.of("4 in")) in refused.value.value)
        assert "sheet wide" in refused.value.citation
        assert "sheet narrow" in refused.value.citation


def test_a_clear_distance_becomes_one_between_centres_when_the_clip_is_measured() -> None:
    """EN 13411-5: 1.5 to 3 bridge widths clear (from memory): 2.5 b to 4 b between centres; 4 grips at 10 mm."""
    made = joint("10 mm 6x19 FC 1770", EUROPE, base_width="20 mm")
    assert (Length.of("50 mm"), Length.of("80 mm")) == (
        made.demand.least and made.demand.least.length,
        made.demand.greatest and made.demand.greatest.length,
    )
    # 2 x 20 + 3 x 50 = 190 mm.
    assert (Length.of("50 mm"), Length.of("190 mm")) == (made.spacing, made.turn_back)


# --- sizes and patterns ---


def test_members_of_different_sizes_of_clip_conflict() -> None:
    """12.7 mm takes a 1/2 in clip by 8 CCR §8497, and a 13 mm grip by EN 13411-5."""
    with pytest.raises(Conflict) as refused:
        joint("1/2 in 6x25F IWRC EIP", governing(CALIFORNIA, EUROPE))
    assert "rules" == refused.value.field
    for text in ("1/2 in", "13 mm"):
        assert text in refused.value.value


def test_members_of_different_patterns_conflict_even_at_one_size() -> None:
    """13 mm is printed by EN 13411-5; the invented sheet prints 13 mm in another pattern."""
    metric = parse_rules(
        'format = 1\nid = "other"\nstyle = "u-bolt"\ntitle = "Invented"\npattern = "invented"\n[source]\n'
        'id = "invented-other"\ndocument = "Invented Institute"\nstatus = "read"\n[units]\nsize = "mm"\n'
        "[[rows]]\nsize = 13\ncount = 3\n",
        "other",
    )
    with pytest.raises(Conflict) as refused:
        joint("13 mm 6x36WS IWRC 1960", governing(metric, EUROPE))
    assert "pattern" in str(refused.value)
    for text in ("invented", "en-metric"):
        assert text in refused.value.value


def test_a_member_without_a_pattern_joins_any() -> None:
    """NAVEDTRA 14026 has no pattern: 3D + 1 = 3 at 13 mm (2.535), EN 13411-5 prints 4."""
    assert [4] == counts(joint("13 mm 6x36WS IWRC 1960", governing(NAVY, EUROPE)))


# --- torque ---


@pytest.mark.parametrize(
    ("other", "agrees"),
    [
        (sheet("other", torque="65"), True),
        (sheet("other", torque="65", torque_also="88 N·m"), True),
        (sheet("other", torque="780", unit="lbf·in"), True),
        (sheet("other", torque="88", unit="N·m"), False),
        (sheet("other", torque="66"), False),
        (sheet("other", torque="65", threads="greased"), False),
    ],
)
def test_torques_are_the_same_as_printed_or_they_conflict(other: RuleSet, agrees: bool) -> None:
    """8 CCR §8497, Table 1: 65 lbf·ft at 1/2 in, dry (common practice)."""
    choice = governing(CALIFORNIA, other)
    if agrees:
        made = joint("1/2 in 6x25F IWRC EIP", choice)
        assert isinstance(made.torque, Torque)
        assert made.torque.same_as(Torque(65, "lbf·ft"))
        assert "dry" == made.thread_condition
        return
    with pytest.raises(Conflict) as refused:
        joint("1/2 in 6x25F IWRC EIP", choice)
    assert "torque" == refused.value.field
    assert "8497" in refused.value.citation
    assert "Invented Institute" in refused.value.citation
    assert "MakerFigures" in refused.value.instead


def test_the_makers_torque_settles_it_and_is_cited() -> None:
    maker = MakerFigures("invented sheet 7", "70 lbf·ft", "greased")
    made = joint("1/2 in 6x25F IWRC EIP", governing(CALIFORNIA, sheet("other", torque="66")), maker=maker)
    assert (Torque(70, "lbf·ft"), "greased") == (made.torque, made.thread_condition)
    assert "invented sheet 7" in str(made.cited("torque"))


def test_one_member_that_prints_a_torque_is_enough() -> None:
    made = joint("1/2 in 6x25F IWRC IPS", governing(CALIFORNIA, NAVY, FEDERAL))
    assert Torque(65, "lbf·ft") == made.torque
    alone = joint("1/2 in 6x25F IWRC IPS", NAVY).torque
    assert isinstance(alone, Absent)
    assert "maker" in alone.reason


# --- known defects, each to be mended where it is: see the report of the session that found them ---


SHARED = (sheet("b", torque="65", torque_also="88 N·m"), sheet("c", torque="88", unit="N·m"))


def test_a_torque_that_all_share_is_found_where_its_member_comes_first() -> None:
    choice = governing(*SHARED, sheet("z", torque="65"))
    assert Torque(65, "lbf·ft", (88, "N·m")) == joint("1/2 in", choice).torque


def test_a_torque_that_all_share_is_found_whatever_the_names() -> None:
    choice = governing(*SHARED, sheet("a", torque="65"))
    assert Torque(65, "lbf·ft", (88, "N·m")) == joint("1/2 in", choice).torque


def test_a_lap_splice_has_twice_the_clips_and_no_other_factor() -> None:
    with pytest.raises(InputError, match="twice the clips"):
        sheet("fourfold", turn_back="10", more="[adjustments]\nlap_splice = { factor = 4 }\n")


def test_a_rule_set_of_distances_alone_governs_with_others() -> None:
    quebec = parse_rules(
        'format = 1\nid = "distances"\nstyle = "u-bolt"\ntitle = "Invented"\n[source]\nid = "invented-distances"\n'
        'document = "Invented Institute"\nstatus = "read"\n[spacing]\nmeasured = "centre to centre"\n'
        'greatest = "6 diameters"\n',
        "distances",
    )
    made = joint("1 in 6x25F IWRC IPS", governing(FEDERAL, quebec), base_width="1-3/4 in")
    assert Length.of("6 in") == made.spacing
