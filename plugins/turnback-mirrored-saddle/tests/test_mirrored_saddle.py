"""What the mirrored-saddle plugin supplies, held against the two sources that it names."""

from __future__ import annotations

from fractions import Fraction

from turnback.model.layout import LayoutDemand
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback_mirrored_saddle import MIRRORED_SADDLE, plugin

CATALOGUE = Catalogue.of(plugin)
ARMY = CATALOGUE.rule_set("us-army-3810-305")
CALIFORNIA = CATALOGUE.rule_set("us-ca-8-8497-t2")
HALF = Length.of("1/2 in")


def test_the_hooks_supply_one_style_and_two_rule_sets() -> None:
    assert () == CATALOGUE.failures
    assert ["mirrored-saddle"] == [style.id for style in CATALOGUE.styles]
    assert ["us-army-3810-305", "us-ca-8-8497-t2"] == [rules.id for rules in CATALOGUE.rule_sets]
    assert {"mirrored-saddle"} == {rules.style for rules in CATALOGUE.rule_sets}


def test_every_rule_file_of_the_folder_is_supplied_and_has_check_values_beside_it() -> None:
    checks = {name.removesuffix(".toml") + ".check.toml" for name in plugin.RULE_FILES}
    assert {*plugin.RULE_FILES, *checks} == {file.name for file in plugin._FOLDER.iterdir()}


def test_both_sources_print_the_same_half_inch_row() -> None:
    # TM 5-3810-305-10 Table 6: 3 clips, 11 in = 279 mm, 65 lbf·ft = 88 N·m. 8 CCR 8497 Table 2 agrees.
    for rules in (ARMY, CALIFORNIA):
        row = rules.row_for(HALF)
        assert row.count is not None
        assert 3 == row.count.value
        assert row.turn_back is not None
        assert 279 == round(row.turn_back.value.millimetres)
        assert row.torque is not None
        assert 65 == row.torque.value.value
        assert 88 == round(row.torque.value.newton_metres)
        assert {"read"} == {cell.citations[0].status for cell in (row.count, row.turn_back, row.torque)}
    printed = ARMY.row_for(HALF).torque
    assert printed is not None
    assert (Fraction(88), "N·m") == printed.value.also


def test_the_rest_of_table_2_is_from_memory_and_never_falls() -> None:
    rows = CALIFORNIA.rows
    assert 10 == len(rows)
    cells = [(row.count, row.turn_back, row.torque) for row in rows]
    assert {"memory"} == {cell.citations[0].status for row in cells[1:] for cell in row if cell is not None}
    for column in (
        [row.count.value for row in rows if row.count is not None],
        [row.turn_back.value.nanometres for row in rows if row.turn_back is not None],
        [row.torque.value.value for row in rows if row.torque is not None],
    ):
        assert 10 == len(column)
        assert sorted(column) == column


def test_what_the_army_prints_with_its_table() -> None:
    # TM 5-3810-305-10, notes to Table 6: about 80 %; a pulley in place of the thimble takes one more clip.
    (band,) = ARMY.efficiency
    assert Fraction(80, 100) == band.value
    assert ("thimble eye", "linked eyes") == ARMY.efficiency_terminations
    assert ARMY.adjustments.pulley is not None
    assert 1 == ARMY.adjustments.pulley.value
    assert ARMY.adjustments.large_wires is not None
    assert (1, Length.of("1 in")) == (ARMY.adjustments.large_wires.add, ARMY.adjustments.large_wires.from_size)
    assert ARMY.adjustments.proportion is not None
    assert ("after the first load", "at intervals") == ARMY.procedure.retorque


def test_table_2_prints_no_efficiency_and_no_rule_for_a_pulley() -> None:
    assert () == CALIFORNIA.efficiency
    assert CALIFORNIA.efficiency_at_most is None
    assert CALIFORNIA.adjustments.pulley is None


def test_counts_alone_hold_for_rotation_resistant_rope_to_an_inch_and_a_half() -> None:
    entries = [entry for entry in CALIFORNIA.scope if entry.gives == "counts"]
    assert [(("8x19", "19x7"), Length.of("1-1/2 in"))] == [(e.constructions, e.greatest) for e in entries]


def test_dry_threads_are_common_practice_and_not_laid_to_the_documents() -> None:
    for rules in (ARMY, CALIFORNIA):
        assert rules.threads is not None
        assert "dry" == rules.threads.value
        assert "common practice" == rules.threads.citations[0].status
        assert rules.source != rules.threads.citations[0].source


def test_three_clips_in_eleven_inches_bear_on_both_parts() -> None:
    # TM 5-3810-305-10 Table 6, 1/2 in: 3 clips, 11 in. With saddles of 2 in (invented) they stand 3-1/2 in apart.
    layout = MIRRORED_SADDLE.lay_out(
        LayoutDemand(
            count=3,
            rope_diameter=HALF,
            base_width=Length.of("2 in"),
            turn_back=Length.of("11 in"),
            least=None,
            greatest=None,
            depends_on_base_width=False,
            splice=False,
        )
    )
    assert Length.of("11 in") == layout.turn_back
    assert [Length.of(text) for text in ("3 in", "6-1/2 in", "10 in")] == [clip.position for clip in layout.clips]
    assert {"both parts"} == {clip.saddle_on for clip in layout.clips}


def test_the_procedure_says_that_there_is_no_wrong_way_round() -> None:
    assert not MIRRORED_SADDLE.wrong_way_round
    held = {"thimble eye", "eye"}
    codes = [s.code for s in MIRRORED_SADDLE.procedure if held >= set(s.when) and held.isdisjoint(s.unless)]
    assert "seat-both-saddles" in codes
    assert {"saddle-on-live-part", "check-u-bolts"}.isdisjoint(codes)
