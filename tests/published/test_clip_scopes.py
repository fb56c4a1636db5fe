"""What the clip sources say beside their tables: scope, notes, floors, efficiency, threads; typed again and not copied.

The source of each figure is named beside it; the documents are those of the tables next door.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.errors import OutOfScope, OutOfTable
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.sources import Citation
from turnback.model.terminations import LapSplice, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet
from turnback.rules.scope import Verdict, scope_verdict

CALIFORNIA, FEDERAL, NAVY, CABLES = "us-ca-8-8497", "us-osha-1926-251", "us-navy-14026", "us-army-5420-278"
SADDLES, CALIFORNIA_2, BRUNSWICK, EUROPE = "us-army-3810-305", "us-ca-8-8497-t2", "ca-nb-clips", "en-13411-5"
EVERY = (CALIFORNIA, FEDERAL, NAVY, CABLES, SADDLES, CALIFORNIA_2, BRUNSWICK, EUROPE)


def rules(rules_id: str) -> RuleSet:
    return Catalogue.installed().rule_set(rules_id)


def judged(rules_id: str, rope: str) -> Verdict:
    read = Rope.parse(rope)
    return scope_verdict(rules(rules_id), read, read.diameter)


def planned(rope: str, rules_id: str, extra_clips: int = 0) -> Plan:
    style = rules(rules_id).style
    return plan(rope, ThimbleEye(), style=style, rules=rules_id, clip_body="forged", extra_clips=extra_clips)


def codes(made: Plan) -> dict[str, str]:
    return {finding.code: finding.kind for finding in made.findings}


# --- what a source says, and what it does not say ---


def test_who_gives_an_efficiency_and_who_only_a_bound() -> None:
    """80 %: TM 5-3810-305-10 (read), EN 13411-5 (memory). At best 85 %: New Brunswick (read), never a value."""
    bands = {name: rules(name).efficiency for name in EVERY if rules(name).efficiency}
    four_fifths = Fraction(80, 100)
    assert {SADDLES: [(four_fifths, "read")], EUROPE: [(four_fifths, "memory")]} == {
        name: [(band.value, band.citation.status) for band in found] for name, found in bands.items()
    }
    at_most = {name: bound for name in EVERY if (bound := rules(name).efficiency_at_most) is not None}
    assert {BRUNSWICK: (Fraction(85, 100), "read")} == {
        name: (bound.value, bound.citations[0].status) for name, bound in at_most.items()
    }


def test_the_bound_of_new_brunswick_is_never_the_value_of_a_plan() -> None:
    made = planned("3/4 in 6x19 IWRC EIP", BRUNSWICK)
    # 80 % for 1/8 to 7/8 in is common practice.
    assert Fraction(80, 100) == made.efficiency
    assert made.efficiency_basis not in (BRUNSWICK, "")


@pytest.mark.parametrize(
    ("rules_id", "expected"),
    [
        # The sources of the inch pattern do not speak of threads, except New Brunswick: unlubricated bolts.
        (CALIFORNIA, ("dry", "common practice")),
        (SADDLES, ("dry", "common practice")),
        (CALIFORNIA_2, ("dry", "common practice")),
        (BRUNSWICK, ("dry", "read")),
        # EN 13411-5, Annex A: threads and nuts greased.
        (EUROPE, ("greased", "memory")),
    ],
)
def test_the_threads_that_a_torque_belongs_to(rules_id: str, expected: tuple[str, str]) -> None:
    threads = rules(rules_id).threads
    assert threads is not None
    assert expected == (threads.value, threads.citations[0].status)


@pytest.mark.parametrize("rules_id", [FEDERAL, NAVY, CABLES])
def test_no_torque_no_threads(rules_id: str) -> None:
    assert rules(rules_id).threads is None


def test_patterns() -> None:
    """Sources 1 and 7 are of the inch pattern, EN 13411-5 is metric, the Navy's rule is for any U-bolt clip."""
    california, brunswick, europe = (rules(name).pattern for name in (CALIFORNIA, BRUNSWICK, EUROPE))
    assert california == brunswick
    assert "inch" in california
    assert "metric" in europe
    assert {""} == {rules(name).pattern for name in (NAVY, CABLES, FEDERAL)}


def test_the_misprint_is_recorded_beside_its_row_and_no_other() -> None:
    """The public copy of 8 CCR §8497, Table 1, prints the size of the 1-3/4 in row as "1/34"."""
    misprints = {row.size.text("in"): row.misprint for name in EVERY for row in rules(name).rows if row.misprint}
    assert ["1-3/4 in"] == list(misprints)
    assert "1/34" in misprints["1-3/4 in"]


def test_from_one_and_a_quarter_inch_the_clip_makers_govern() -> None:
    """8 CCR §8497, Table 1: the makers' present sheets ask for more there (memory)."""
    confirm = {row.size.text("in"): row.confirm.citations[0].status for row in rules(CALIFORNIA).rows if row.confirm}
    sizes = ["1-1/4 in", "1-3/8 in", "1-1/2 in", "1-5/8 in", "1-3/4 in", "2 in", "2-1/4 in"]
    assert dict.fromkeys(sizes, "memory") == confirm
    assert codes(planned("1-1/4 in 6x19 IWRC EIP", CALIFORNIA))["row-to-confirm"] == "confirm"
    assert "row-to-confirm" not in codes(planned("1-1/8 in 6x19 IWRC EIP", CALIFORNIA))


# --- additions ---


def status_of(citation: Citation | None) -> str:
    return "" if citation is None else citation.status


def test_additions_stand_only_in_the_files_of_the_sources_that_print_them() -> None:
    """One more for large outer wires from 1 in and the proportion: sources 1, 5, 6. One more for a pulley: source 5."""
    adjustments = {name: rules(name).adjustments for name in EVERY}
    assert {CALIFORNIA: 1, SADDLES: 1, CALIFORNIA_2: 1} == {
        name: each.large_wires.add for name, each in adjustments.items() if each.large_wires is not None
    }
    # 1 in is 25 400 000 nm.
    assert {Length(25_400_000)} == {each.large_wires.from_size for each in adjustments.values() if each.large_wires}
    assert {SADDLES: 1} == {name: each.pulley.value for name, each in adjustments.items() if each.pulley is not None}
    assert {CALIFORNIA, SADDLES, CALIFORNIA_2} == {name for name, each in adjustments.items() if each.proportion}
    # EN 13411-5: a joint of two ropes has twice the count of an eye, 8 for 8 to 18 mm (read).
    laps = {name: each.lap_factor for name, each in adjustments.items() if each.lap_factor is not None}
    assert {EUROPE: (2, "read")} == {name: (cell.value, cell.citations[0].status) for name, cell in laps.items()}


def test_the_cut_sentence_on_large_outer_wires_points_to_where_it_is_whole() -> None:
    """8 CCR §8497: the sentence is cut in the copy read; TM 5-3810-305-10 prints the same rule whole."""
    for name in (CALIFORNIA, CALIFORNIA_2):
        wires = rules(name).adjustments.large_wires
        assert wires is not None
        assert "3810-305" in f"{wires.citation.note} {wires.citation.source}"


@pytest.mark.parametrize(
    ("rope", "clips", "turn_back"),
    [
        # 8 CCR §8497, Table 1: 5 clips and 26 in at 1 in; a Seale rope takes one more, 26 x 6/5 = 31.2 in = 792.48 mm.
        ("1 in 6x19S IWRC EIP", 6, "792.48 mm"),
        ("1 in 6x25F IWRC EIP", 5, "26 in"),
        ("1 in 6x19 IWRC EIP large outer wires", 6, "792.48 mm"),
        # Below 1 in nothing is added: 4 clips and 19 in at 7/8 in.
        ("7/8 in 6x19S IWRC EIP", 4, "19 in"),
    ],
)
def test_large_outer_wires_take_one_more_clip_from_one_inch_on(rope: str, clips: int, turn_back: str) -> None:
    made = planned(rope, CALIFORNIA)
    assert (clips, Length.of(turn_back)) == (made.clip_count, made.turn_back)


def test_a_bare_6x19_of_one_inch_asks_for_its_outer_wires() -> None:
    assert codes(planned("1 in 6x19 IWRC EIP", CALIFORNIA))["large-wires-unknown"] == "confirm"
    assert "large-wires-unknown" not in codes(planned("7/8 in 6x19 IWRC EIP", CALIFORNIA))


def test_more_clips_than_tabulated_take_a_turn_back_in_proportion() -> None:
    """8 CCR §8497: 4 clips and 18 in at 3/4 in; one clip more makes 18 x 5/4 = 22-1/2 in."""
    made = planned("3/4 in 6x19 IWRC EIP", CALIFORNIA, extra_clips=1)
    assert (5, Length.of("22-1/2 in")) == (made.clip_count, made.turn_back)


@pytest.mark.parametrize(
    ("size", "clips", "turn_back"),
    # New Brunswick prints 2 clips and 5-1/2, 6-1/2, 7 in, and asks for three in any eye: half as much again.
    [("5/16 in", 3, "8-1/4 in"), ("3/8 in", 3, "9-3/4 in"), ("7/16 in", 3, "10-1/2 in"), ("1/2 in", 3, "11-1/2 in")],
)
def test_the_floor_of_new_brunswick_adds_a_clip_where_the_table_prints_two(
    size: str, clips: int, turn_back: str
) -> None:
    made = planned(f"{size} 6x19 IWRC EIP", BRUNSWICK)
    assert (clips, Length.of(turn_back)) == (made.clip_count, made.turn_back)
    assert ("must-do" if size != "1/2 in" else None) == codes(made).get("source-floor")


def test_floors_stand_only_in_the_file_of_new_brunswick() -> None:
    floors = {name: [(floor.count, floor.citation.status) for floor in rules(name).floors] for name in EVERY}
    assert {BRUNSWICK: [(3, "read")]} == {name: found for name, found in floors.items() if found}


@pytest.mark.parametrize(("size", "grips"), [("8 mm", 8), ("10 mm", 8), ("16 mm", 8), ("22 mm", 10)])
def test_a_joint_of_two_ropes_takes_twice_the_grips(size: str, grips: int) -> None:
    """EN 13411-5: 8 grips for 8 to 18 mm (read); at 22 mm an eye has 5 (memory)."""
    made = plan(f"{size} 6x19 FC 1770", LapSplice(), style="u-bolt", rules=EUROPE)
    assert grips == made.clip_count


# --- procedure ---


def test_where_the_work_begins_and_when_it_is_tightened_again() -> None:
    """EN 13411-5: first grip at the thimble; again before first use, after the first load, at intervals (memory).

    TM 5-3810-305-10: again after the first load, then periodically (read).
    """
    assert {EUROPE: "eye"} == {name: rules(name).procedure.begin_at for name in EVERY if rules(name).procedure.begin_at}
    again = {name: rules(name).procedure for name in EVERY if rules(name).procedure.retorque}
    assert {
        EUROPE: (("before first use", "after the first load", "at intervals"), "memory"),
        SADDLES: (("after the first load", "at intervals"), "read"),
    } == {name: (found.retorque, status_of(found.retorque_citation)) for name, found in again.items()}


# --- services ---


def test_services_that_a_source_excludes() -> None:
    """EN 13411-5, scope (read): not for mine hoists, crane hoists, eyes of general lifting slings."""
    excluded = {name: rules(name).excluded_services for name in EVERY if rules(name).excluded_services}
    assert [EUROPE] == list(excluded)
    assert {"mine-hoist": "read", "hoist-rope": "read", "sling": "read"} == {
        service: text.citations[0].status for service, text in excluded[EUROPE]
    }


@pytest.mark.parametrize("service", ["mine-hoist", "hoist-rope", "sling"])
def test_an_excluded_service_is_forbidden_with_its_source(service: str) -> None:
    made = plan("10 mm 6x19 FC 1770", ThimbleEye(), style="u-bolt", rules=EUROPE, service=service, jurisdiction="CA-NB")
    forbidden = [finding for finding in made.findings if finding.kind == "forbidden"]
    assert any("EN 13411-5" in str(citation) for finding in forbidden for citation in finding.citations)
    assert not made.usable
    assert isinstance(made.termination_breaking_force, Absent)


# --- ropes ---


@pytest.mark.parametrize("rules_id", [CALIFORNIA, SADDLES, CALIFORNIA_2])
@pytest.mark.parametrize("lay", ["right regular", "right Lang"])
@pytest.mark.parametrize("kind", ["6x19 FC IPS", "6x19 IWRC XIP", "6x25F IWRC EIPS", "6x36WS FC EIP", "6x37 IWRC IPS"])
def test_ropes_that_the_tables_are_for(rules_id: str, lay: str, kind: str) -> None:
    verdict = judged(rules_id, f"1/2 in {kind} {lay}")
    assert (False, (), ()) == (verdict.counts_only, verdict.not_given, verdict.outside)
    assert {True} == {entry.new_only for entry in rules(rules_id).scope}


@pytest.mark.parametrize("rules_id", [CALIFORNIA, SADDLES, CALIFORNIA_2])
@pytest.mark.parametrize(
    ("rope", "field"),
    [
        ("1/2 in 6x19 IWRC EIP left regular", "lay"),
        ("1/2 in 6x19 IWRC EIP left Lang", "lay"),
        ("1/2 in 6x19 IWRC EEIP right regular", "grade"),
        ("1/2 in 6x19 IWRC 1770 right regular", "grade"),
        ("1/2 in 6x19 WSC EIP right regular", "core"),
        ("1/2 in 7x19 IWRC EIP right regular", "construction"),
        ("1/2 in 6x7 IWRC EIP right regular", "construction"),
    ],
)
def test_ropes_that_the_tables_are_not_for(rules_id: str, rope: str, field: str) -> None:
    with pytest.raises(OutOfScope) as refused:
        judged(rules_id, rope)
    assert field == refused.value.field


@pytest.mark.parametrize(
    ("rules_id", "kind", "greatest", "beyond"),
    [
        (CALIFORNIA, "8x19 IWRC IPS", "1-1/2 in", "1-5/8 in"),
        (CALIFORNIA, "8x19 FC XIP", "1-1/2 in", "1-5/8 in"),
        (CALIFORNIA, "19x7 IPS", "1-3/4 in", "2 in"),
        (CALIFORNIA, "19x7 XIP", "1-3/4 in", "2 in"),
        (CALIFORNIA_2, "8x19 IWRC IPS", "1-1/2 in", "1-5/8 in"),
        (CALIFORNIA_2, "19x7 XIP", "1-1/2 in", "1-5/8 in"),
    ],
)
def test_rotation_resistant_ropes_take_the_counts_alone(rules_id: str, kind: str, greatest: str, beyond: str) -> None:
    """8 CCR §8497: right regular 8x19 to 1-1/2 in; 19x7 to 1-3/4 in in Table 1 and to 1-1/2 in in Table 2."""
    assert judged(rules_id, f"{greatest} {kind} right regular").counts_only
    for outside in (f"{beyond} {kind} right regular", f"{greatest} {kind} right Lang", f"1/2 in {kind} left regular"):
        with pytest.raises(OutOfScope):
            judged(rules_id, outside)


def test_counts_alone_bring_no_turn_back_no_torque_and_no_strength() -> None:
    made = planned("3/4 in 19x7 IPS right regular", CALIFORNIA)
    assert 4 == made.clip_count
    absent = (made.turn_back, made.torque, made.thread_condition, made.efficiency, made.termination_breaking_force)
    assert {Absent} == {type(each) for each in absent}
    assert codes(made)["counts-only"] == "confirm"


@pytest.mark.parametrize("rules_id", [CALIFORNIA, SADDLES, CALIFORNIA_2])
def test_the_tables_speak_of_new_rope_and_a_used_one_has_no_strength(rules_id: str) -> None:
    new, used = (planned(f"1/2 in 6x19 IWRC EIP right regular {word}", rules_id) for word in ("new", "used"))
    assert (False, True) == tuple(isinstance(made.termination_breaking_force, Absent) for made in (new, used))
    assert (new.clip_count, new.turn_back, new.torque) == (used.clip_count, used.turn_back, used.torque)


@pytest.mark.parametrize("rope", ["1/2 in 8x19 FC IPS", "1/2 in 18x7 FC IPS", "1/2 in 18x7 FC EIPS"])
def test_other_ropes_of_the_mirrored_saddle_table(rope: str) -> None:
    """TM 5-3810-305-10: also 8x19 FC IPS and 18x7 FC IPS and EIPS, right regular lay, to 1-1/2 in."""
    judged(SADDLES, f"{rope} right regular")
    for outside in (f"{rope} right Lang", f"{rope} right regular".replace("1/2 in", "1-5/8 in")):
        with pytest.raises(OutOfScope):
            judged(SADDLES, outside)


@pytest.mark.parametrize(
    "rope", ["1/2 in 8x19 FC EIP", "1/2 in 8x19 IWRC IPS", "1/2 in 18x7 IWRC IPS", "1/2 in 19x7 IPS"]
)
def test_other_ropes_that_the_mirrored_saddle_table_does_not_name(rope: str) -> None:
    with pytest.raises(OutOfScope):
        judged(SADDLES, f"{rope} right regular")


def test_table_h_2_is_headed_improved_plow_steel_and_plans_other_grades_with_a_finding() -> None:
    """29 CFR 1926.251, Table H-2: U-bolt clips on improved plow steel rope."""
    assert "outside-heading" not in codes(planned("1/2 in 6x19 IWRC IPS", FEDERAL))
    made = planned("1/2 in 6x19 IWRC EIP", FEDERAL)
    assert 3 == made.clip_count
    assert codes(made)["outside-heading"] == "confirm"


def test_table_h_2_takes_the_larger_count_where_the_body_is_not_given() -> None:
    """29 CFR 1926.251, Table H-2 at 1/2 in: 3 drop-forged, 4 of other material."""
    made = plan("1/2 in 6x19 IWRC IPS", ThimbleEye(), style="u-bolt", rules=FEDERAL)
    assert 4 == made.clip_count
    assert codes(made)["clip-body-not-given"] == "confirm"


@pytest.mark.parametrize("rules_id", [NAVY, CABLES])
@pytest.mark.parametrize("size", ["1/16 in", "3-9/16 in"])
def test_the_linear_sources_stop_at_their_declared_range(rules_id: str, size: str) -> None:
    with pytest.raises(OutOfTable):
        rules(rules_id).row_for(Length.of(size))


@pytest.mark.parametrize("strand", ["10 mm 1x19 1770", "10 mm 1x7 1770"])
def test_a_spiral_rope_is_refused_by_the_metric_grips(strand: str) -> None:
    """EN 13411-5, scope (read): not for spiral (single-strand) ropes."""
    with pytest.raises(OutOfScope):
        judged(EUROPE, strand)


# --- the efficiency of common practice ---


@pytest.mark.parametrize(
    ("size", "percent"),
    # 80 % for 1/8 to 7/8 in, 90 % for 1 to 3-1/2 in, between the two the lower: common practice, no source.
    [("1/8 in", 80), ("7/8 in", 80), ("15/16 in", 80), ("1 in", 90), ("3-1/2 in", 90), ("3/32 in", None),
     ("3-9/16 in", None)],
)  # fmt: skip
def test_the_efficiency_of_common_practice_by_size(size: str, percent: int | None) -> None:
    basis = rules("common-practice-efficiency")
    found = [band for band in basis.efficiency if band.takes(Length.of(size))]
    assert ([] if percent is None else [Fraction(percent, 100)]) == [band.value for band in found]
    assert {"common practice"} == {band.citation.status for band in basis.efficiency}


def test_the_lower_efficiency_governs_unless_another_basis_is_named() -> None:
    """At 1 in: 80 % for clips of any size (TM 5-3810-305-10, Table 4, read) against 90 % by common practice."""
    rope, eye = "1 in 6x25F IWRC EIP", ThimbleEye()
    lower = plan(rope, eye, style="u-bolt", rules=CALIFORNIA)
    named = plan(rope, eye, style="u-bolt", rules=CALIFORNIA, efficiency_basis="common-practice-efficiency")
    assert (Fraction(80, 100), Fraction(90, 100)) == (lower.efficiency, named.efficiency)
    assert named.efficiency_basis == "common-practice-efficiency"
