"""What the U-bolt plugin supplies, held against the sources that it names and against each other."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest

from turnback.errors import OutOfTable
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet
from turnback_ubolt import plugin

CATALOGUE = Catalogue.of(plugin)
IDS = ("ca-nb-clips", "en-13411-5", "us-army-5420-278", "us-ca-8-8497", "us-navy-14026", "us-osha-1926-251")
TABLES = ("ca-nb-clips", "en-13411-5", "us-ca-8-8497", "us-osha-1926-251")
LINEAR = ("us-army-5420-278", "us-navy-14026")


def inches(text: str) -> Length:
    return Length.of(f"{text} in")


def row_of(rules_id: str, size: str) -> Row:
    return CATALOGUE.rule_set(rules_id).row_for(Length.of(size))


def counts(rules: RuleSet) -> list[tuple[int, ...]]:
    return [
        tuple(cell.value for cell in (row.count, row.count_forged, row.count_other) if cell is not None)
        for row in rules.rows
    ]


def test_the_hooks_supply_one_style_and_six_rule_sets() -> None:
    assert () == CATALOGUE.failures
    assert ["u-bolt"] == [style.id for style in CATALOGUE.styles]
    assert list(IDS) == [rules.id for rules in CATALOGUE.rule_sets]
    assert {"u-bolt"} == {rules.style for rules in CATALOGUE.rule_sets}


def test_every_rule_file_of_the_folder_is_supplied_and_has_check_values_beside_it() -> None:
    checks = {name.removesuffix(".toml") + ".check.toml" for name in plugin.RULE_FILES}
    assert {*plugin.RULE_FILES, *checks} == {file.name for file in plugin._FOLDER.iterdir()}


@pytest.mark.parametrize("rules_id", TABLES)
def test_counts_and_torques_never_fall_and_every_cell_is_cited_at_its_own_row(rules_id: str) -> None:
    rules = CATALOGUE.rule_set(rules_id)
    printed = counts(rules)
    assert all(all(low <= high for low, high in zip(a, b, strict=True)) for a, b in itertools.pairwise(printed))
    torques = [row.torque.value.exact_newton_metres for row in rules.rows if row.torque is not None]
    assert sorted(torques) == torques
    turn_backs = [row.turn_back.value for row in rules.rows if row.turn_back is not None]
    assert sorted(turn_backs) == turn_backs
    places = [
        citation.locator
        for row in rules.rows
        for cell in (row.count, row.count_forged, row.count_other, row.turn_back, row.spacing, row.torque)
        if cell is not None
        for citation in cell.citations
    ]
    assert len(set(places)) == len(places)


def test_a_body_that_is_not_forged_never_takes_fewer_clips() -> None:
    # 29 CFR 1926.251, Table H-2: the heading of the two columns.
    assert all(forged <= other for forged, other in counts(CATALOGUE.rule_set("us-osha-1926-251")))


def test_table_h2_spaces_the_clips_six_diameters() -> None:
    # 29 CFR 1926.251, Table H-2: every row's distance is six rope diameters exactly.
    rows = CATALOGUE.rule_set("us-osha-1926-251").rows
    assert [Fraction(6)] * 9 == [row.spacing.value / row.size for row in rows if row.spacing is not None]


def test_two_regulators_print_the_same_from_a_half_to_seven_eighths() -> None:
    # 8 CCR 8497 Table 1 and the sample installation table of WorkSafeNB were read independently of each other.
    here, there = CATALOGUE.rule_set("us-ca-8-8497"), CATALOGUE.rule_set("ca-nb-clips")
    shared = [row for row in there.rows if row.size >= inches("1/2")]
    assert 5 == len(shared)
    for row in shared:
        other = here.row_for(row.size)
        assert row.count is not None
        assert other.count is not None
        assert row.count.value == other.count.value
        assert row.turn_back is not None
        assert other.turn_back is not None
        assert row.turn_back.value == other.turn_back.value
        assert row.torque is not None
        assert other.torque is not None
        assert row.torque.value == other.torque.value


@pytest.mark.parametrize("rules_id", LINEAR)
@pytest.mark.parametrize(("size", "count"), [("1 in", 4), ("1/2 in", 3)])
def test_three_clips_an_inch_and_one_more(rules_id: str, size: str, count: int) -> None:
    # NAVEDTRA 14026, page 1-8: 4 clips at 1 in; 2-1/2 at 1/2 in goes up to 3. TM 5-5420-278-10 has the same rule.
    cell = row_of(rules_id, size).count
    assert cell is not None
    assert count == cell.value
    assert ["read", "common practice"] == [citation.status for citation in cell.citations]


@pytest.mark.parametrize("rules_id", LINEAR)
@pytest.mark.parametrize("size", ["3/32 in", "3-9/16 in"])
def test_a_linear_rule_ends_at_its_declared_range(rules_id: str, size: str) -> None:
    with pytest.raises(OutOfTable):
        row_of(rules_id, size)


@pytest.mark.parametrize(
    ("size", "navy", "army"), [("1/2 in", "3", "4"), ("3/4 in", "4-1/2", "5-1/2"), ("2 in", "12", "13")]
)
def test_the_army_spaces_the_clips_one_inch_wider_than_the_navy(size: str, navy: str, army: str) -> None:
    # NAVEDTRA 14026: 6 D. TM 5-5420-278-10, WP 0035: 6 D + 1 in. Both between centres.
    for rules_id, expected in (("us-navy-14026", navy), ("us-army-5420-278", army)):
        (bound,) = CATALOGUE.rule_set(rules_id).spacing
        assert bound.length is not None
        assert ("least", False) == (bound.bound, bound.clear)
        assert inches(expected).nanometres == bound.length.nanometres(Length.of(size), None)


def test_sources_without_torque_turn_back_or_efficiency_give_none() -> None:
    for rules_id in (*LINEAR, "us-osha-1926-251"):
        rules = CATALOGUE.rule_set(rules_id)
        row = rules.row_for(inches("1/2"))
        assert (None, None, None, ()) == (row.torque, row.turn_back, rules.threads, rules.efficiency)
    assert () == CATALOGUE.rule_set("us-ca-8-8497").efficiency


def test_at_best_85_percent_is_a_bound_and_no_value() -> None:
    # WorkSafeNB, text beside the table.
    rules = CATALOGUE.rule_set("ca-nb-clips")
    assert rules.efficiency_at_most is not None
    assert Fraction(85, 100) == rules.efficiency_at_most.value
    assert () == rules.efficiency
    (floor,) = rules.floors
    below = [row.size for row in rules.rows if row.count is not None and row.count.value < floor.count]
    assert [inches("5/16"), inches("3/8"), inches("7/16")] == below


def test_torque_of_a_half_inch_clip_is_dry_and_of_a_13_mm_grip_greased() -> None:
    # 8 CCR 8497 Table 1: 65 lbf·ft, 88 N·m. EN 13411-5 Annex A: 33 N·m, greased. Never to be mixed.
    inch, metric = row_of("us-ca-8-8497", "1/2 in").torque, row_of("en-13411-5", "13 mm").torque
    assert inch is not None
    assert metric is not None
    assert 88 == round(inch.value.newton_metres)
    assert 33 == metric.value.exact_newton_metres
    assert ["dry", "greased"] == [
        rules.threads.value
        for rules in (CATALOGUE.rule_set("us-ca-8-8497"), CATALOGUE.rule_set("en-13411-5"))
        if rules.threads is not None
    ]
    assert "inch" == CATALOGUE.rule_set("us-ca-8-8497").pattern == CATALOGUE.rule_set("ca-nb-clips").pattern
    assert "inch" != CATALOGUE.rule_set("en-13411-5").pattern


@pytest.mark.parametrize(
    ("rope", "grip"),
    [("5 mm", "5"), ("6 mm", "6.5"), ("6.5 mm", "6.5"), ("12.7 mm", "13"), ("18 mm", "19"), ("40 mm", "40")],
)
def test_a_metric_grip_takes_ropes_above_the_next_smaller_size(rope: str, grip: str) -> None:
    # EN 13411-5 Annex A: the size is the largest rope that the grip takes.
    assert Length.of(f"{grip} mm") == row_of("en-13411-5", rope).size


@pytest.mark.parametrize("rope", ["4.9 mm", "40.1 mm"])
def test_no_metric_grip_takes_a_rope_outside_the_table(rope: str) -> None:
    with pytest.raises(OutOfTable):
        row_of("en-13411-5", rope)


def test_what_was_read_of_the_european_table() -> None:
    # Read: the torque of 10 mm and the count of 8 to 16 mm. Everything else of the table is from memory.
    rows = CATALOGUE.rule_set("en-13411-5").rows
    read_counts = [row.size for row in rows if row.count is not None and row.count.citations[0].status == "read"]
    assert [Length.of(f"{size} mm") for size in (8, 10, 12, 13, 14, 16)] == read_counts
    read_torques = [row.size for row in rows if row.torque is not None and row.torque.citations[0].status == "read"]
    assert [Length.of("10 mm")] == read_torques


def test_what_was_read_of_table_h2() -> None:
    rows = CATALOGUE.rule_set("us-osha-1926-251").rows
    statuses = {
        row.size: {
            cell.citations[0].status for cell in (row.count_forged, row.count_other, row.spacing) if cell is not None
        }
        for row in rows
    }
    assert {"read"} == statuses.pop(inches("1/2"))
    assert [{"memory"}] * 8 == list(statuses.values())


def test_the_european_grip_begins_at_the_eye_and_is_excluded_from_hoists_and_slings() -> None:
    rules = CATALOGUE.rule_set("en-13411-5")
    assert "eye" == rules.procedure.begin_at
    assert ("before first use", "after the first load", "at intervals") == rules.procedure.retorque
    assert ["mine-hoist", "hoist-rope", "sling"] == [service for service, _ in rules.excluded_services]
    assert {"read"} == {text.citations[0].status for _, text in rules.excluded_services}


def test_eight_grips_join_two_ropes_of_8_to_18_mm() -> None:
    # EN 13411-5 Annex A: 8 grips for 8 to 18 mm; the counts of an eye, doubled, agree.
    rules = CATALOGUE.rule_set("en-13411-5")
    factor = rules.adjustments.lap_factor
    assert factor is not None
    doubled = {row_of("en-13411-5", f"{size} mm").count for size in (8, 10, 12, 13, 14, 16, 18)}
    assert {8} == {factor.value * cell.value for cell in doubled if cell is not None}


@pytest.mark.parametrize("size", ["1-1/4 in", "1-1/2 in", "2-1/4 in"])
def test_from_an_inch_and_a_quarter_the_clip_maker_is_asked(size: str) -> None:
    confirm = row_of("us-ca-8-8497", size).confirm
    assert confirm is not None
    assert "memory" == confirm.citations[0].status
    assert "8497" not in str(confirm.citations[0]), "the regulation does not say so; the makers' sheets do"
    assert row_of("us-ca-8-8497", "1-1/8 in").confirm is None


def test_the_misprint_stands_beside_its_row_alone() -> None:
    rows = CATALOGUE.rule_set("us-ca-8-8497").rows
    assert [inches("1-3/4")] == [row.size for row in rows if row.misprint]


def test_counts_alone_hold_for_rotation_resistant_rope() -> None:
    # 8 CCR 8497, notes to Table 1: 8x19 to 1-1/2 in, 19x7 to 1-3/4 in.
    counts_only = [entry for entry in CATALOGUE.rule_set("us-ca-8-8497").scope if entry.gives == "counts"]
    limits = {entry.constructions: entry.greatest for entry in counts_only}
    assert {("8x19",): inches("1-1/2"), ("19x7",): inches("1-3/4")} == limits
    assert {True} == {entry.rotation_resistant for entry in counts_only}


def test_table_h2_asks_about_another_grade_instead_of_refusing_it() -> None:
    (entry,) = CATALOGUE.rule_set("us-osha-1926-251").scope
    assert (("IPS",), ("grades",)) == (entry.grades, entry.confirm)
