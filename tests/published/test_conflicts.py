"""Where published sources disagree: each says its own, and together they are met exactly or refused, never mixed.

Facts about the rule sets as loaded; every expected number is typed from the source named beside it.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.errors import Conflict, OutOfTable
from turnback.model.absent import Absent
from turnback.model.terminations import ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Length, Torque
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

CALIFORNIA, FEDERAL, NAVY, CABLES = "us-ca-8-8497", "us-osha-1926-251", "us-navy-14026", "us-army-5420-278"
SADDLES, BRUNSWICK, EUROPE = "us-army-3810-305", "ca-nb-clips", "en-13411-5"


def rules(rules_id: str) -> RuleSet:
    return Catalogue.installed().rule_set(rules_id)


def eye(
    rope: str, choice: str, base_width: str | None = None, service: str | None = None, jurisdiction: str | None = None
) -> Plan:
    return plan(
        rope,
        ThimbleEye(),
        style="u-bolt",
        rules=choice,
        clip_body="forged",
        base_width=base_width,
        service=service,
        jurisdiction=jurisdiction,
    )


# --- 1: count from 1 in up ---


@pytest.mark.parametrize(
    ("size", "by_formula", "by_table"),
    # 3D + 1: NAVEDTRA 14026 and TM 5-5420-278-10. Tables: 8 CCR §8497, Table 1, and 29 CFR 1926.251, Table H-2.
    [("1 in", 4, 5), ("1-1/8 in", 5, 6), ("1-1/4 in", 5, 6), ("1-3/8 in", 6, 7), ("1-1/2 in", 6, 7)],
)
def test_from_one_inch_up_the_formula_gives_fewer_clips_than_the_tables(
    size: str, by_formula: int, by_table: int
) -> None:
    rope = f"{size} 6x25F IWRC IPS"
    assert {NAVY: by_formula, CABLES: by_formula, CALIFORNIA: by_table, FEDERAL: by_table} == {
        name: eye(rope, name).clip_count for name in (NAVY, CABLES, CALIFORNIA, FEDERAL)
    }
    # Asked for together, the larger count stands, whatever the order.
    assert {by_table} == {eye(rope, choice).clip_count for choice in (f"{NAVY}+{FEDERAL}", f"{FEDERAL}+{NAVY}")}


# --- 2: spacing ---


@pytest.mark.parametrize("choice", [FEDERAL, NAVY])
@pytest.mark.parametrize(
    ("size", "base_width", "apart"),
    [("1/2 in", "1 in", "3 in"), ("3/4 in", "2 in", "4-1/2 in"), ("1 in", "2-1/4 in", "6 in")],
)
def test_exactly_six_diameters_satisfies_the_american_least_and_the_quebec_greatest(
    choice: str, size: str, base_width: str, apart: str
) -> None:
    """At least 6D: 29 CFR 1926.251 and NAVEDTRA 14026. At most 6D: Quebec Construction Code, B-1.1, r. 2, s. 4.20."""
    made = eye(f"{size} 6x25F IWRC IPS", choice, base_width, "elevator", "CA-QC")
    bounds = (made.demand.least, made.demand.greatest)
    assert [Length.of(apart)] * 2 == [bound.length for bound in bounds if bound is not None]
    assert Length.of(apart) == made.spacing
    assert {Length.of(apart)} == {b.position - a.position for a, b in zip(made.clips, made.clips[1:], strict=False)}


def test_without_the_quebec_code_nothing_limits_the_distance() -> None:
    assert eye("1 in 6x25F IWRC IPS", FEDERAL, "2 in", "elevator", "US").demand.greatest is None


@pytest.mark.parametrize("base_width", ["1 in", None])
def test_an_inch_more_than_six_diameters_cannot_be_met_in_quebec(base_width: str | None) -> None:
    """At least 6D + 1 in: TM 5-5420-278-10. At most 6D: Quebec Construction Code, B-1.1, r. 2, s. 4.20."""
    with pytest.raises(Conflict) as refused:
        eye("1/2 in 6x25F IWRC IPS", CABLES, base_width, "elevator", "CA-QC")
    assert "spacing" == refused.value.field
    assert "TM 5-5420-278-10" in refused.value.citation
    assert "4.20" in refused.value.citation
    assert refused.value.instead


def test_a_saddle_over_three_diameters_cannot_be_met_in_quebec() -> None:
    """Clips one base width apart, common practice, are 2 x 1-3/4 in between centres; 6D at 1/2 in is 3 in."""
    with pytest.raises(Conflict):
        eye("1/2 in 6x25F IWRC IPS", NAVY, "1-3/4 in", "elevator", "CA-QC")


# --- 3: spacing against turn-back ---


def test_at_one_inch_the_printed_turn_back_cannot_hold_the_printed_spacing() -> None:
    """8 CCR §8497: 5 clips in 26 in. 29 CFR 1926.251: 5 clips at 6 in. Base width 1-3/4 in (invented)."""
    rope = "1 in 6x25F IWRC IPS"
    alone = eye(rope, CALIFORNIA, "1-3/4 in")
    # (26 - 2 x 1-3/4) / 4 = 5-5/8 in between centres, which is less than 6 in.
    assert (Length.of("26 in"), Length.of("5-5/8 in")) == (alone.turn_back, alone.spacing)
    together = eye(rope, f"{CALIFORNIA}+{FEDERAL}", "1-3/4 in")
    # 2 x 1-3/4 + 4 x 6 = 27-1/2 in: longer than either prints.
    assert (Length.of("27-1/2 in"), Length.of("6 in")) == (together.turn_back, together.spacing)
    # Without the base width nobody can tell, and the turn-back is not given as 26 in.
    unmeasured = eye(rope, f"{CALIFORNIA}+{FEDERAL}")
    assert isinstance(unmeasured.turn_back, Absent)
    assert "base width" in unmeasured.turn_back.reason


# --- 4: torque at 1/2 in and 13 mm ---


def test_torque_belongs_to_the_pattern_and_to_the_threads() -> None:
    """1/2 in: 65 lbf·ft = 88 N·m dry (8 CCR §8497; TM 5-3810-305-10). 13 mm: 33 N·m greased (EN 13411-5)."""
    half_inch, thirteen = Length.of("1/2 in"), Length.of("13 mm")
    printed = {
        CALIFORNIA: (Torque(65, "lbf·ft"), "dry"),
        SADDLES: (Torque(65, "lbf·ft", (88, "N·m")), "dry"),
        EUROPE: (Torque(33, "N·m"), "greased"),
    }
    for name, expected in printed.items():
        found = rules(name)
        torque, threads = found.row_for(thirteen if name == EUROPE else half_inch).torque, found.threads
        assert torque is not None
        assert threads is not None
        assert expected == (torque.value, threads.value)
    inch, saddles, metric = (torque for torque, _ in printed.values())
    assert inch.same_as(saddles)
    assert not inch.same_as(metric)
    assert not saddles.same_as(metric)


@pytest.mark.parametrize("choice", [f"{CALIFORNIA}+{EUROPE}", f"{EUROPE}+{CALIFORNIA}", f"{BRUNSWICK}+{EUROPE}"])
def test_an_inch_clip_and_a_metric_grip_are_never_governed_together(choice: str) -> None:
    """A 1/2 in rope is 12.7 mm: an inch clip of 1/2 in by one source, a grip of 13 mm by the other."""
    with pytest.raises(Conflict) as refused:
        eye("1/2 in 6x25F IWRC EIP", choice)
    assert "EN 13411-5" in refused.value.citation
    assert refused.value.instead


def test_one_rope_has_one_torque_where_two_sources_print_the_same() -> None:
    """8 CCR §8497, Table 1, and New Brunswick's sample table: 65 lbf·ft at 1/2 in, each on its own threads."""
    made = eye("1/2 in 6x25F IWRC EIP", f"{CALIFORNIA}+{BRUNSWICK}")
    assert (3, Length.of("11-1/2 in"), Torque(65, "lbf·ft")) == (made.clip_count, made.turn_back, made.torque)


# --- 5: the first row ---


def test_table_h_2_begins_at_half_an_inch() -> None:
    """29 CFR 1926.251, Table H-2; a state's copy says "1/2 or less" (R 408.40834) and does not stretch this one."""
    assert Length.of("1/2 in") == rules(FEDERAL).rows[0].size
    with pytest.raises(OutOfTable):
        eye("7/16 in 6x25F IWRC IPS", FEDERAL)


# --- 6: two clips against a floor of three ---


@pytest.mark.parametrize("size", ["5/16 in", "3/8 in", "7/16 in"])
def test_two_printed_clips_stand_against_a_floor_of_three(size: str) -> None:
    """New Brunswick's table prints 2 from 5/16 to 7/16 in; its text asks for at least 3 in any eye."""
    count = rules(BRUNSWICK).row_for(Length.of(size)).count
    assert count is not None
    assert 2 == count.value
    assert 3 == eye(f"{size} 6x25F IWRC EIP", BRUNSWICK).clip_count


@pytest.mark.parametrize(
    ("service", "clips"),
    # 29 CFR 1926.451(d)(12): at least 3 clips. NAVEDTRA 14026 at 1/4 in: 1.75, so 2.
    [("scaffold-suspension", 3), ("general", 2)],
)
def test_a_scaffold_asks_for_three_where_the_formula_gives_two(service: str, clips: int) -> None:
    assert clips == eye("1/4 in 6x25F IWRC IPS", NAVY, service=service, jurisdiction="US").clip_count


# --- 7: efficiency ---


def test_efficiencies_are_each_their_own() -> None:
    """80 % (TM 5-3810-305-10; EN 13411-5), at best 85 % (New Brunswick), 80 and 90 % by size (common practice)."""
    printed = {
        name: {band.value for band in rules(name).efficiency} for name in (SADDLES, EUROPE, BRUNSWICK, CALIFORNIA)
    }
    four_fifths = Fraction(80, 100)
    assert {SADDLES: {four_fifths}, EUROPE: {four_fifths}, BRUNSWICK: set(), CALIFORNIA: set()} == printed
    at_most = rules(BRUNSWICK).efficiency_at_most
    assert at_most is not None
    assert Fraction(85, 100) == at_most.value
    common = rules("common-practice-efficiency").efficiency
    assert [Fraction(80, 100), Fraction(90, 100)] == [band.value for band in common]


def test_a_plan_names_the_basis_of_its_efficiency_and_takes_the_lower() -> None:
    """10 mm: 80 % by EN 13411-5's own word. 1 in by 8 CCR §8497, which gives none: 80 % against 90 %."""
    metric = eye("10 mm 6x19 FC 1770", EUROPE)
    assert (Fraction(80, 100), EUROPE) == (metric.efficiency, metric.efficiency_basis)
    inch = eye("1 in 6x25F IWRC IPS", CALIFORNIA)
    assert Fraction(80, 100) == inch.efficiency
    assert inch.efficiency_basis not in ("", CALIFORNIA)
