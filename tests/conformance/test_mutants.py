"""Mutants: every cell is damaged in every way, each damage is where it says it is, and nothing else changes."""

from __future__ import annotations

from fractions import Fraction

import attrs
import pytest
from tests.conformance.invented import LINEAR, ruled

from turnback.conformance.mutants import Mutant, mutants
from turnback.model.cited import Cited
from turnback.quantities import Length, Torque
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import basis_rule_sets
from turnback.rules.ruleset import RuleSet

INSTALLED = (*Catalogue.installed().rule_sets, *basis_rule_sets())
TABLE = ruled()


def by_id(rules: RuleSet) -> dict[str, Mutant]:
    return {mutant.id: mutant for mutant in mutants(rules)}


def made(rules: RuleSet, name: str) -> RuleSet:
    found = by_id(rules)[name].rules
    assert found is not None, by_id(rules)[name].refusal
    return found


def value(cell: Cited[object] | None) -> object:
    return None if cell is None else cell.value


@pytest.mark.parametrize("rules", [TABLE, ruled(LINEAR), *INSTALLED], ids=lambda rules: rules.id)
class TestEveryRuleSet:
    def test_each_mutant_has_a_name_of_its_own_and_the_same_ones_come_again(self, rules: RuleSet) -> None:
        found = mutants(rules)
        assert len(found) == len({mutant.id for mutant in found})
        assert found == mutants(rules)

    def test_none_is_the_original_and_only_its_own_part_of_it_changed(self, rules: RuleSet) -> None:
        fields = [field.name for field in attrs.fields(RuleSet)]
        for mutant in mutants(rules):
            if mutant.rules is None:
                assert mutant.refusal
                continue
            changed = {name for name in fields if getattr(rules, name) != getattr(mutant.rules, name)}
            assert changed, mutant.id
            if mutant.row:
                assert {"rows"} == changed, mutant.id
            else:
                assert len(changed) == 1 or mutant.column == "efficiency.at_most", (mutant.id, changed)

    def test_each_cell_is_moved_both_ways_and_dropped_whatever_else_happens(self, rules: RuleSet) -> None:
        names = {(mutant.row, mutant.column, mutant.what) for mutant in mutants(rules)}
        sizes = {row for row, column, _ in names if column == "size"}
        assert len(rules.rows) == len(sizes)
        for row in rules.rows:
            here = row.size.text("in" if row.size.text("in") in sizes else "mm")
            for column in ("count", "count_forged", "count_other", "turn_back", "spacing", "torque", "above"):
                step = "one" if column.startswith("count") else "one step"
                wanted = {(here, column, f"{step} up"), (here, column, f"{step} down"), (here, column, "dropped")}
                printed = getattr(row, column) is not None
                assert (wanted if printed else set()) == wanted & names

    def test_each_cites_its_cell(self, rules: RuleSet) -> None:
        for mutant in mutants(rules):
            assert str(mutant.citation)
        torques = [mutant for mutant in mutants(rules) if mutant.row and mutant.column == "torque"]
        cited = {row.torque.citations[0] for row in rules.rows if row.torque is not None}
        assert {mutant.citation for mutant in torques if "said" not in mutant.what} <= cited | {rules.citation}


# Worked out by hand: 13 in x 25.4 = 330.2 in = 8 387 080 000 nm; 13 in / 25.4 = 13 mm; 50 x 25.4 = 1270.
class TestValues:
    @pytest.mark.parametrize(
        ("name", "expected"),
        [
            ("rows[1/2 in].count_forged: one up", 4),
            ("rows[1/2 in].count_forged: one down", 2),
            ("rows[1/2 in].spacing: dropped", None),
            ("rows[1/2 in].turn_back: one step up", Length.of("13-1/16 in")),
            ("rows[1/2 in].turn_back: one step down", Length.of("12-15/16 in")),
            ("rows[1/2 in].turn_back: inches taken for millimetres, 25.4 times", Length(8_387_080_000)),
            ("rows[1/2 in].turn_back: millimetres taken for inches, a 25.4th part", Length(13_000_000)),
            ("rows[1/2 in].turn_back: point slipped, 10 times", Length.of("130 in")),
            ("rows[1/2 in].turn_back: point slipped, a tenth", Length.of("1.3 in")),
            ("rows[1/2 in].spacing: exchanged with that of 5/8 in", Length.of("3-3/4 in")),
            ("rows[1/2 in].torque: one step up, alone", Torque(51, "lbf·ft")),
            ("rows[1/2 in].torque: inches taken for millimetres, 25.4 times, alone", Torque(1270, "lbf·ft")),
            ("rows[1/2 in].torque: unit taken for N·m, alone", Torque(50, "N·m")),
            ("rows[1/2 in].torque_also: second print dropped", Torque(50, "lbf·ft")),
            ("rows[5/8 in].torque: point slipped, a tenth", Torque(7, "lbf·ft")),
            ("rows[5/8 in].torque: unit taken for lbf·in", Torque(70, "lbf·in")),
        ],
    )
    def test_a_cell(self, name: str, expected: object) -> None:
        mutant = by_id(TABLE)[name]
        number = {"1/2 in": 0, "5/8 in": 1}[mutant.row]
        row = made(TABLE, name).rows[number]
        assert expected == value(getattr(row, mutant.column.removesuffix("_also")))

    def test_both_cells_of_an_exchange_move(self) -> None:
        rows = made(TABLE, "rows[5/8 in].torque: exchanged with that of 3/4 in").rows
        assert [Torque(50, "lbf·ft", (68, "N·m")), Torque(Fraction(201, 2), "lbf·ft"), Torque(70, "lbf·ft")] == [
            value(row.torque) for row in rows
        ]

    def test_an_edge_takes_or_loses_one_nanometre(self) -> None:
        # 3/8 in = 9 525 000 nm, 1/2 in = 12 700 000 nm.
        lower = made(TABLE, "rows[1/2 in].above: edge one nanometre down").rows[0]
        upper = made(TABLE, "rows[1/2 in].size: edge one nanometre down").rows[0]
        assert (True, False) == (lower.takes(Length(9_525_000)), TABLE.rows[0].takes(Length(9_525_000)))
        assert (False, True) == (upper.takes(Length(12_700_000)), TABLE.rows[0].takes(Length(12_700_000)))

    def test_a_size_that_takes_its_own_rope_alone_comes_to_take_a_range(self) -> None:
        row = made(TABLE, "rows[3/4 in].above: takes every rope above 5/8 in").rows[2]
        assert (True, False) == (row.takes(Length.of("11/16 in")), TABLE.rows[2].takes(Length.of("11/16 in")))

    def test_a_metric_length_moves_by_a_millimetre_or_by_its_last_printed_place(self) -> None:
        rules = next(rules for rules in INSTALLED if rules.id == "en-13411-5")
        assert Length(41_000_000) == made(rules, "rows[40 mm].size: one step up").rows[13].size
        assert Length(6_600_000) == made(rules, "rows[8 mm].above: one step up").rows[2].above

    def test_a_size_that_adjoins_the_next_range_moves_with_it(self) -> None:
        alone, both = "rows[1/2 in].size: one step up", "rows[1/2 in].size: one step up, and the next range with it"
        assert "the row takes ropes that the row before takes" in by_id(TABLE)[alone].refusal
        rows = made(TABLE, both).rows
        assert (Length.of("9/16 in"), Length.of("9/16 in")) == (rows[0].size, rows[1].above)

    @pytest.mark.parametrize(
        ("name", "expected"),
        [
            ("count.per_inch: one up", Fraction(7, 2)),
            ("count.per_inch: one down", Fraction(3, 2)),
            ("count.plus: one up", 3),
            ("count.plus: one down", 1),
            ("count.least: one step up", Length.of("7 mm")),
            ("count.greatest: one step down", Length.of("49 mm")),
            ("count.greatest: dropped", None),
        ],
    )
    def test_a_coefficient_of_the_count(self, name: str, expected: object) -> None:
        rule = made(ruled(LINEAR), name).count_rule
        assert expected == getattr(rule, name.partition(".")[2].partition(":")[0])

    @pytest.mark.parametrize(
        ("name", "expected"),
        [
            ("spacing.least: taken for greatest", ("greatest", True, Fraction(3, 2), Length(0))),
            ("spacing.least: taken for equal", ("equal", True, Fraction(3, 2), Length(0))),
            ("spacing.least: measured centre to centre", ("least", False, Fraction(3, 2), Length(0))),
            ("spacing.least.base_widths: one up", ("least", True, Fraction(5, 2), Length(0))),
            ("spacing.least.base_widths: one down", ("least", True, Fraction(1, 2), Length(0))),
        ],
    )
    def test_a_bound_of_the_spacing(self, name: str, expected: object) -> None:
        bound = made(ruled(LINEAR), name).spacing[0]
        assert bound.length is not None
        assert expected == (bound.bound, bound.clear, bound.length.base_widths, bound.length.constant)

    @pytest.mark.parametrize(
        ("name", "expected"),
        [
            ("floors[0]: one down", (2, "dry", 1, "dead end")),
            ("threads: taken for greased", (3, "greased", 1, "dead end")),
            ("adjustments.pulley: one up", (3, "dry", 2, "dead end")),
            ("adjustments.pulley: dropped", (3, "dry", None, "dead end")),
            ("procedure.begin_at: taken for eye", (3, "dry", 1, "eye")),
        ],
    )
    def test_a_fact(self, name: str, expected: object) -> None:
        found = made(TABLE, name)
        pulley = value(found.adjustments.pulley)
        assert expected == (found.floors[0].count, value(found.threads), pulley, found.procedure.begin_at)

    @pytest.mark.parametrize(
        ("name", "part", "expected"),
        [
            ("scope[0].grades: 'EIP' dropped", "grades", ("IPS",)),
            ("scope[0].cores: 'IWRC' dropped", "cores", ()),
            ("scope[0].terminations: list dropped", "terminations", ()),
            ("scope[0].confirm: 'grades' dropped", "confirm", ()),
            ("scope[0].gives: taken for counts", "gives", "counts"),
            ("scope[0].new_only: flipped", "new_only", False),
            ("scope[0].rotation_resistant: taken for yes", "rotation_resistant", True),
            ("scope[0].least: one step up", "least", Length.of("7/16 in")),
            ("scope[0].greatest: edge one nanometre down", "greatest", Length(19_049_999)),
        ],
    )
    def test_a_part_of_the_scope(self, name: str, part: str, expected: object) -> None:
        assert expected == getattr(made(TABLE, name).scope[0], part)

    def test_the_order_of_tightening_again_and_each_time(self) -> None:
        assert ("at intervals", "after the first load") == (
            made(TABLE, "procedure.retorque: 'after the first load' after 'at intervals'").procedure.retorque
        )
        assert ("at intervals",) == made(TABLE, "procedure.retorque: 'after the first load' dropped").procedure.retorque

    def test_an_upper_bound_is_taken_for_a_value_where_there_is_none(self) -> None:
        rules = next(rules for rules in INSTALLED if rules.id == "ca-nb-clips")
        assert () == rules.efficiency
        found = made(rules, "efficiency.at_most: taken for a value")
        assert [Fraction(17, 20)] == [band.value for band in found.efficiency]  # 85 %

    def test_a_source_is_made_to_say_what_it_does_not_say(self) -> None:
        said = [mutant.column for mutant in mutants(ruled(LINEAR)) if "says nothing" in mutant.what]
        assert {"adjustments.pulley", "floors", "efficiency", "threads", "procedure.begin_at", "scope"} <= set(said)
        assert {"spacing.least", "spacing.greatest"} & set(said) == set()  # it gives both


class TestRefused:
    @pytest.mark.parametrize(
        ("name", "why"),
        [
            ("threads: dropped", "a torque needs a condition of the threads"),
            ("rows[1/2 in].size: exchanged with that of 5/8 in", "rows"),
            ("rows[1/2 in].size: point slipped, 10 times", "rows"),
            ("rows[1/2 in].torque: one step up", "the second printed torque is not the first one"),
            ("adjustments.lap_splice: one up", "a lap splice has twice the clips"),
        ],
    )
    def test_what_the_types_refuse_says_why(self, name: str, why: str) -> None:
        mutant = by_id(TABLE)[name]
        assert mutant.refused
        assert why in mutant.refusal

    def test_a_turn_back_without_a_count(self) -> None:
        rules = next(rules for rules in INSTALLED if rules.id == "us-ca-8-8497")
        assert "a turn-back needs a count" in by_id(rules)["rows[1 in].count: dropped"].refusal


def test_a_rule_set_that_says_a_thing_twice_still_has_one_name_for_each_mutant() -> None:
    service = ("mine-hoist", Cited("again", (TABLE.citation,)))
    twice = attrs.evolve(TABLE, excluded_services=(*TABLE.excluded_services, service))
    assert {"excluded_services: 'mine-hoist' dropped", "excluded_services: 'mine-hoist' dropped (2)"} <= set(
        by_id(twice)
    )
