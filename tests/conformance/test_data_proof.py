"""The data proof: complete check values let nothing pass, and a line less lets pass exactly what that line held."""

from __future__ import annotations

import re

import attrs
import pytest
from tests.conformance.invented import CHECK, LINEAR, LINEAR_CHECK, RULES, checked, ruled, without_line

from turnback.conformance.check_values import CheckValues, parse_check_values
from turnback.conformance.data_proof import DataProof, data_proof
from turnback.conformance.subject import Subject
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet

EMPTY = Catalogue.of()


def proof(values: CheckValues | None, rules: RuleSet | None = None) -> DataProof:
    return data_proof(Subject(ruled() if rules is None else rules, EMPTY, "", values))


def ids(found: DataProof) -> set[str]:
    return {f"{each.place}: {each.what}" for each in found.survivors}


@pytest.mark.parametrize(
    ("rules", "values"), [(ruled(), checked()), (ruled(LINEAR), checked(LINEAR_CHECK))], ids=["table", "linear"]
)
def test_complete_check_values_let_nothing_pass(rules: RuleSet, values: CheckValues) -> None:
    found = proof(values, rules)
    assert found.complete
    assert ((), (), "") == (found.survivors, found.differences, found.failure)
    assert found.total == found.killed + found.refused
    assert found.killed > 5 * found.refused


LENGTH = {
    "one step up", "one step down", "inches taken for millimetres, 25.4 times", "dropped",
    "millimetres taken for inches, a 25.4th part", "point slipped, 10 times", "point slipped, a tenth",
}  # fmt: skip
EDGE = {"edge one nanometre up", "edge one nanometre down"}
TORQUE = {*LENGTH, "unit taken for N·m", "unit taken for lbf·in"}
SAID = "said where the file says nothing"


def named(place: str, whats: set[str]) -> set[str]:
    return {f"{place}: {what}" for what in whats}


def test_without_the_turn_backs_exactly_their_slips_pass() -> None:
    expected = {
        *named("rows[1/2 in].turn_back", {*LENGTH, "exchanged with that of 5/8 in"}),
        *named("rows[5/8 in].turn_back", {*LENGTH, "exchanged with that of 3/4 in"}),
        *named("rows[3/4 in].turn_back", LENGTH),
    }
    assert expected == ids(proof(parse_check_values(without_line(CHECK, "turn_back = ["))))


def test_without_one_line_exactly_the_slips_of_that_line_pass() -> None:
    lines = {
        "above = ": {
            # The second row may not take what the first one takes: to move its lower end down is refused.
            *named("rows[1/2 in].above", {*LENGTH, *EDGE}),
            *named("rows[5/8 in].above", {
                "one step up", "inches taken for millimetres, 25.4 times", "point slipped, 10 times",
                "edge one nanometre up", "dropped",
            }),
            "rows[3/4 in].above: takes every rope above 5/8 in",
        },
        "count_forged = ": {
            *named("rows[1/2 in].count_forged", {"one up", "one down"}),
            *named("rows[5/8 in].count_forged", {"one up", "one down"}),
            *named("rows[3/4 in].count_forged", {"one up", "one down"}),
            "rows[1/2 in].count_forged: exchanged with that of 5/8 in",
        },
        "torque_also = [": named("rows[1/2 in].torque_also", {"second print dropped"}),
        "pattern = ": named("pattern", {"taken for en-metric", "dropped"}),
        "threads = ": named("threads", {"taken for greased"}),
        "pulley = ": named("adjustments.pulley", {"one up", "one down", "dropped"}),
        "turn_back_in_proportion = ": named("adjustments.more_clips", {"dropped"}),
        "lap_splice = ": named("adjustments.lap_splice", {"dropped"}),
        "floors = ": named("floors[0]", {"one up", "one down", "dropped"}),
        "efficiency_at_most = ": named("efficiency.at_most", {"one per cent up", "one per cent down", "dropped"}),
        "efficiency_terminations = ": named(
            "efficiency.terminations", {"'thimble eye' dropped", "'linked eyes' dropped", SAID}
        ),
        "begin_at = ": named("procedure.begin_at", {"taken for eye", "dropped"}),
        "retorque = ": named("procedure.retorque", {
            "'after the first load' after 'at intervals'", "'after the first load' dropped", "'at intervals' dropped",
        }),
        "excluded_services = ": named("excluded_services", {"'mine-hoist' dropped"}),
        "large_outer_wires = ": named("adjustments.large_outer_wires", {
            "add one up", "add one down", "dropped", *(f"from: {what}" for what in {*LENGTH, *EDGE} - {"dropped"}),
        }),
    }  # fmt: skip
    assert lines == {line: ids(proof(parse_check_values(without_line(CHECK, line)))) for line in lines}


def test_without_the_torques_the_second_print_still_holds_what_it_can() -> None:
    found = ids(proof(parse_check_values(without_line(CHECK, "torque = ["))))
    # In the first row the second print kills whatever drops it or moves with it; a slip that keeps it is refused.
    assert set() == {name for name in found if name.startswith("rows[1/2 in]") and "exchanged" not in name}
    expected = {
        *named("rows[5/8 in].torque", {*TORQUE, "exchanged with that of 3/4 in"}),
        *named("rows[3/4 in].torque", TORQUE),
    }
    assert expected == found


@pytest.mark.parametrize(
    ("beginning", "end", "places"),
    [
        ('[[spacing]]\nbound = "least"', "[[scope]]", r"spacing\..*"),
        ('[[scope]]\nfor = "counts"', "", r"scope.*"),
        ('efficiency = [', 'efficiency_at_most', r"efficiency\[\d\].*"),
        ("[units]", "[facts]", r"rows\[.*"),
    ],
    ids=["spacing", "scope", "efficiency", "columns"],
)  # fmt: skip
def test_without_a_part_all_of_that_part_passes_and_nothing_else(beginning: str, end: str, places: str) -> None:
    start = CHECK.index(beginning)
    stop = CHECK.index(end, start) if end else len(CHECK)
    full, less = proof(checked()), proof(parse_check_values(CHECK[:start] + CHECK[stop:]))
    assert (full.total, full.refused) == (less.total, less.refused)
    assert less.survivors
    assert set() == {name for name in ids(less) if not re.fullmatch(places, name)}
    untouched = {mutant for mutant in ids(proof(None)) if re.fullmatch(places, mutant)}
    assert untouched == ids(less)


def test_a_survivor_names_row_column_and_source() -> None:
    found = proof(parse_check_values(without_line(CHECK, "floors = ")))
    assert ["floors[0]: one up [Invented Institute, sheet 12, note 5]"] == [str(each) for each in found.survivors][:1]
    cells = proof(parse_check_values(without_line(CHECK, "turn_back = ["))).survivors
    assert ("1/2 in", "turn_back", "Invented Institute, sheet 12, Table 2, row 1/2, turn-back") == (
        cells[0].row, cells[0].column, cells[0].source,
    )  # fmt: skip
    assert not found.complete


def test_without_check_values_it_says_so_and_proves_nothing() -> None:
    found = proof(None)
    assert (False, 0, False) == (found.has_values, found.killed, found.complete)
    assert found.total == found.refused + len(found.survivors)
    assert f"no check values: none of {found.total} mutants is held against a second typing" == str(found)


def test_a_header_alone_proves_nothing() -> None:
    found = proof(parse_check_values(CHECK[: CHECK.index('count = ""')]))
    assert (True, 0, False) == (found.has_values, found.killed, found.complete)


def test_a_swapped_cell_in_the_check_file_is_found_and_kills_nothing_by_being_wrong() -> None:
    swapped = checked(CHECK, ("[50, 70, 100.5]", "[70, 50, 100.5]"))
    found = proof(swapped)
    assert ["rows[1/2 in].torque", "rows[5/8 in].torque"] == [each.place for each in found.differences]
    assert not found.complete
    # With the floors taken out beside it, their mutants pass: an old difference is no notice of a new one.
    less = parse_check_values(without_line(CHECK.replace("[50, 70, 100.5]", "[70, 50, 100.5]"), "floors = "))
    assert named("floors[0]", {"one up", "one down", "dropped"}) == ids(proof(less))


def test_examples_alone_kill_what_they_show() -> None:
    header = CHECK[: CHECK.index('count = ""')]
    one = header + '[[examples]]\nsize = "5/8 in"\nbody = "forged"\ncount = 4\nturn_back = "17-1/2 in"\n'
    found = ids(proof(parse_check_values(one)))
    full = ids(proof(None))
    assert named("rows[5/8 in].turn_back", LENGTH) <= full - found
    assert named("rows[5/8 in].count_forged", {"one up", "one down"}) <= full - found
    assert named("rows[5/8 in].count_other", {"one up", "one down"}) <= found
    assert named("rows[3/4 in].turn_back", LENGTH) <= found


def test_a_rule_set_of_anything_is_reported_and_does_not_stop_the_run() -> None:
    broken = attrs.evolve(ruled(LINEAR), count_rule=None, rows=(Row("1/2 in"),))  # type: ignore[arg-type]  # on purpose
    found = proof(checked(LINEAR_CHECK), broken)
    assert "AttributeError" in found.failure
    assert (1, 0, 1, False) == (found.total, found.killed, len(found.survivors), found.complete)


def test_the_figures_are_written_in_one_line() -> None:
    found = proof(parse_check_values(without_line(CHECK, "floors = ")))
    assert f"{found.total} mutants: {found.killed} killed, {found.refused} refused, 3 survive" == str(found)
    assert RULES.count("size = ") == 4  # three rows and the unit
