"""Check values: what is typed is read, what differs is found and named, and a bad file says what to write instead."""

from __future__ import annotations

import re
from fractions import Fraction
from hashlib import sha256
from pathlib import Path

import attrs
import pytest
from tests.conformance.invented import CHECK, LINEAR, LINEAR_CHECK, RULES, checked, ruled

from turnback.conformance.check_values import parse_check_values, read_check_values
from turnback.conformance.check_values_keys import FILE, KEYS
from turnback.errors import InputError
from turnback.quantities import Length
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import LinearLength

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "reference" / "check-values.md"
RULE_PAGE = ROOT / "docs" / "how-to" / "write-a-rule-file.md"


def found(rules_change: tuple[str, str] | None = None, *check_changes: tuple[str, str]) -> list[tuple[str, str, str]]:
    """Place, expected and got of every difference."""
    rules = ruled(RULES, *([rules_change] if rules_change else []))
    return [(each.place, each.expected, each.got) for each in checked(CHECK, *check_changes).differences(rules)]


class TestHeader:
    def test_it_says_who_typed_it_when_and_from_what(self) -> None:
        values = checked()
        assert ("invented-sheet-12", "second typist of the project", "2026-11-25") == (
            values.rules, values.typed_by, values.typed_on,
        )  # fmt: skip
        assert ("Invented Institute, sheet 12, first edition", True, "read", "the printed sheet") == (
            values.edition, values.another_person, values.source_status, values.copy,
        )  # fmt: skip
        assert sha256(CHECK.encode()).hexdigest() == values.sha256

    def test_the_day_may_stand_in_quotes_and_the_rest_may_be_left_out(self) -> None:
        values = checked(LINEAR_CHECK)
        assert ("2026-11-25", False, "", "") == (
            values.typed_on, values.another_person, values.source_status, values.copy,
        )  # fmt: skip

    def test_a_header_alone_checks_nothing(self) -> None:
        header = CHECK[: CHECK.index('count = ""')]
        assert () == parse_check_values(header).differences(ruled())

    def test_a_file_is_read_with_its_name(self, tmp_path: Path) -> None:
        path = tmp_path / "sheet.check.toml"
        path.write_text(CHECK, encoding="utf-8")
        assert "sheet.check.toml" == read_check_values(path).origin
        assert checked().columns == read_check_values(str(path)).columns


def test_two_right_typings_agree() -> None:
    assert [] == found()
    assert () == checked(LINEAR_CHECK).differences(ruled(LINEAR))


class TestWhatDiffers:
    @pytest.mark.parametrize(
        ("change", "expected"),
        [
            (("torque = 70", "torque = 75"), ("rows[5/8 in].torque", "70 lbf·ft", "75 lbf·ft")),
            (('"68 N·m"', '"67.8 N·m"'), ("rows[1/2 in].torque_also", "68 N·m", "67.8 N·m")),
            (('"17-1/2"', '"17"'), ("rows[5/8 in].turn_back", "17-1/2 in (444.5 mm)", "17 in (431.8 mm)")),
            (('above = "1/2", ', ""), ("rows[5/8 in].above", "1/2 in (12.7 mm)", "nothing")),
            (("count_other = 5", "count_other = 6"), ("rows[5/8 in].count_other", "5", "6")),
            (('"dry"', '"greased"'), ("threads", "dry", "greased")),
            (("{ add = 1, from", "{ add = 2, from"),
             ("adjustments.large_outer_wires", "1, 5/8 in (15.875 mm)", "2, 5/8 in (15.875 mm)")),
            (("pulley = { add = 1", "pulley = { add = 2"), ("adjustments.pulley", "1", "2")),
            (('more_clips = { turn_back = "in proportion" }\n', ""), ("adjustments.more_clips", "yes", "no")),
            (("lap_splice = { factor = 2 }\n", ""), ("adjustments.lap_splice", "2", "nothing")),
            (("count = 3\n", "count = 2\n"), ("floors", "3", "2")),
            (('at_most = "90 %"\n', ""), ("efficiency.at_most", "0.9", "nothing")),
            (('["after the first load", "at intervals"]', '["at intervals", "after the first load"]'),
             ("procedure.retorque", "after the first load, at intervals", "at intervals, after the first load")),
            (('begin_at = "dead end"', 'begin_at = "eye"'), ("procedure.begin_at", "dead end", "eye")),
            (('"mine-hoist"', '"sling"'), ("excluded_services", "mine-hoist", "sling")),
            (("8 diameters", "9 diameters"),
             ("spacing.greatest", "8 diameters + 1 in (25.4 mm), centre to centre",
              "9 diameters + 1 in (25.4 mm), centre to centre")),
            (('for = "counts"', 'for = "everything"'), ("scope[1].gives", "counts", "everything")),
            (('["IPS", "EIP"]', '["IPS"]'), ("scope[0].grades", "EIP, IPS", "IPS")),
            (('"3/8 in to 3/4 in"', '"1/4 in to 3/4 in"'),
             ("scope[0].least", "3/8 in (9.525 mm)", "1/4 in (6.35 mm)")),
        ],
        ids=lambda pair: pair[0][:30],
    )  # fmt: skip
    def test_a_slip_in_the_rule_file_is_named(self, change: tuple[str, str], expected: tuple[str, str, str]) -> None:
        assert [expected] == found(change)

    def test_every_difference_cites_the_cell(self) -> None:
        (torque,) = checked().differences(ruled(RULES, ("torque = 70", "torque = 75")))
        (floor,) = checked().differences(ruled(RULES, ("count = 3\n", "count = 2\n")))
        assert "Invented Institute, sheet 12, Table 2, row 5/8, torque" == str(torque.citation)
        assert "Invented Institute, sheet 12, note 5" == str(floor.citation)
        assert "floors: typed 3, the rule set has 2 [Invented Institute, sheet 12, note 5]" == str(floor)

    def test_two_cells_that_changed_places_in_the_check_file_are_found(self) -> None:
        assert [
            ("rows[1/2 in].torque", "70 lbf·ft", "50 lbf·ft"),
            ("rows[5/8 in].torque", "50 lbf·ft", "70 lbf·ft"),
        ] == (found(None, ("[50, 70, 100.5]", "[70, 50, 100.5]")))

    def test_a_cell_too_many_and_a_cell_too_few_are_found_alike(self) -> None:
        too_many = found(None, ('[13, "17-1/2", 24]', '[13, "", 24]'))
        too_few = found(None, ('[68, "", ""]', '[68, 95, ""]'))
        assert [("rows[5/8 in].turn_back", "nothing", "17-1/2 in (444.5 mm)")] == too_many
        assert [("rows[5/8 in].torque_also", "95 N·m", "nothing")] == too_few

    def test_a_row_too_many_and_a_row_too_few_are_found_alike(self) -> None:
        row = '    { size = "7/8", count_forged = 4, count_other = 5, spacing = "5" },\n]\n\n[source]'
        assert [("rows[7/8 in].size", "nothing", "7/8 in (22.225 mm)")] == found(("]\n\n[source]", row))
        without = RULES.index('    { size = "3/4"'), RULES.index("]\n\n[source]")
        assert [("rows[3/4 in].size", "3/4 in (19.05 mm)", "nothing")] == found((RULES[slice(*without)], ""))

    def test_a_column_that_the_source_does_not_have_is_checked_too(self) -> None:
        values = checked(CHECK, ("torque = [50, 70, 100.5]", 'torque = ""'), ('torque_also = [68, "", ""]\n', ""))
        assert ["rows[1/2 in].torque", "rows[5/8 in].torque", "rows[3/4 in].torque"] == [
            each.place for each in values.differences(ruled())
        ]

    def test_the_order_of_entries_and_words_of_the_scope_says_nothing_and_a_missing_entry_is_named(self) -> None:
        entry = '[[scope]]\nfor = "counts"\nconstructions = ["19x7"]\nrotation_resistant = true\n'
        said = "gives counts; constructions 19x7; rotation_resistant yes; new_only no"
        assert [("scope", said, "nothing")] == found((entry, ""))
        assert [("scope[1]", "nothing", said)] == found(None, (entry, ""))

    def test_spacing_and_scope_that_are_stated_as_nothing_are_held_to_it(self) -> None:
        cut = LINEAR_CHECK[: LINEAR_CHECK.index("[count]")]
        values = parse_check_values(cut + 'spacing = ""\ncount = ""\n')
        assert [
            "count.per_inch",
            "count.plus",
            "count.least",
            "count.greatest",
            "spacing.least",
            "spacing.greatest",
        ] == [each.place for each in values.differences(ruled(LINEAR))]


EXAMPLE = '\n[[examples]]\nsize = "5/8 in"\n'


class TestExamples:
    @pytest.mark.parametrize(
        "right",
        [
            'body = "forged"\ncount = 4',
            'body = "other"\ncount = 5',
            "count = 5",  # the stricter column
            'clip_size = "5/8 in"\nturn_back = "17-1/2 in"\ntorque = "70 lbf·ft"',
            'least_spacing = "3-3/4 in"\ngreatest_spacing = "6 in"',  # 8 x 5/8 in + 1 in
        ],
    )
    def test_a_right_one_agrees(self, right: str) -> None:
        assert () == parse_check_values(CHECK + EXAMPLE + right + "\n").differences(ruled())

    @pytest.mark.parametrize(
        ("wrong", "place", "got"),
        [
            ('body = "forged"\ncount = 5', "examples[0].count", "4"),
            ('clip_size = "3/4 in"', "examples[0].clip_size", "5/8 in (15.875 mm)"),
            ('turn_back = ""', "examples[0].turn_back", "17-1/2 in (444.5 mm)"),
            ('greatest_spacing = "5 in"', "examples[0].greatest_spacing", "6 in (152.4 mm)"),
            ("refused = true", "examples[0]", "the size 5/8 in (15.875 mm)"),
        ],
    )
    def test_a_wrong_one_is_named(self, wrong: str, place: str, got: str) -> None:
        (each,) = parse_check_values(CHECK + EXAMPLE + wrong + "\n").differences(ruled())
        assert (place, got) == (each.place, each.got)

    def test_the_edges_of_a_row_can_be_stated(self) -> None:
        # 3/8 in is 9.525 mm; the row takes what is above it, and the 3/4 in row takes its own size alone.
        edges = "".join(
            f'\n[[examples]]\nsize = "{size}"\n{said}\n'
            for size, said in (
                ("9.525 mm", "refused = true"), ("9.525001 mm", 'clip_size = "1/2 in"'),
                ("19.049999 mm", "refused = true"), ("19.05 mm", 'clip_size = "3/4 in"'),
                ("19.050001 mm", "refused = true"),
            )
        )  # fmt: skip
        values = parse_check_values(CHECK + edges)
        assert () == values.differences(ruled())
        without_lower_end = ruled(RULES, ('above = "3/8", ', ""))
        assert {"rows[1/2 in].above", "examples[1]"} == {each.place for each in values.differences(without_lower_end)}

    def test_a_spacing_that_is_measured_clear_gains_a_base_width_and_needs_one(self) -> None:
        # By hand, base width 40 mm: 1.5 x 40 + 40 = 100, 3 x 40 + 10 + 40 = 170; 2.5 x 1 + 2 = 4.5, rounded up 5.
        told = '\n[[examples]]\nsize = "1 in"\nbase_width = "40 mm"\ncount = 5\n'
        right = 'least_spacing = "100 mm"\ngreatest_spacing = "170 mm"\nturn_back = ""\ntorque = ""\n'
        assert () == parse_check_values(LINEAR_CHECK + told + right).differences(ruled(LINEAR))
        unmeasured = '\n[[examples]]\nsize = "1 in"\nleast_spacing = "100 mm"\n'
        (each,) = parse_check_values(LINEAR_CHECK + unmeasured).differences(ruled(LINEAR))
        assert ("examples[0].least_spacing", "a base width is needed") == (each.place, each.got)

    def test_of_two_bounds_of_one_kind_the_stricter_one_is_asked(self) -> None:
        # Four diameters of 1 in are 101.6 mm from centre to centre, more than the 100 mm that the base width asks.
        rules = ruled(LINEAR)
        four = attrs.evolve(
            rules.spacing[0], clear=False, length=LinearLength(Fraction(4), Fraction(0), Length(0), "4 diameters")
        )
        told = '\n[[examples]]\nsize = "1 in"\nbase_width = "40 mm"\nleast_spacing = "101.6 mm"\n'
        found = parse_check_values(LINEAR_CHECK + told).differences(attrs.evolve(rules, spacing=(*rules.spacing, four)))
        assert ["spacing.least"] == [each.place for each in found]


BAD = [
    pytest.param(("format = 1", "format = 2"), "format", "does not read that format", id="format"),
    pytest.param(('typed_by = "second typist of the project"\n', ""), "typed_by", "required", id="no typist"),
    pytest.param(("typed_on = 2026-11-25", 'typed_on = "25 November"'), "typed_on", "no day", id="day"),
    pytest.param(("typed_on = 2026-11-25", "typed_on = 20261125"), "typed_on", "no day", id="day as a number"),
    pytest.param(("another_person = true", 'another_person = "yes"'), "another_person", "true or false", id="yes"),
    pytest.param(('source_status = "read"', 'source_status = "seen"'), "source_status", "closed list", id="status"),
    pytest.param(('copy = "the printed sheet"', 'coppy = "x"'), "coppy", "nearest known key is copy", id="unknown key"),
    pytest.param(("torque_also = [68", "torque_alos = [68"), "columns.torque_alos", "key is torque_also", id="column"),
    pytest.param(("pulley = 1", "pully = 1"), "facts.pully", "nearest known key is pulley", id="fact"),
    pytest.param(("pulley = 1", "begin_at_ = 1"), "facts.begin_at_", "key is begin_at", id="fact, near"),
    pytest.param(("pulley = 1", 'typed_by = "x"'), "facts.typed_by", "belongs to the file itself", id="wrong table"),
    pytest.param(("[3, 4, 4]", "[3, 4]"), "columns.count_forged", "2 entries for 3 sizes", id="short column"),
    pytest.param(("[3, 4, 4]", "[3, 4, 4, 4]"), "columns.count_forged", "4 entries for 3 sizes", id="long column"),
    pytest.param(("[3, 4, 4]", '"3 4 4"'), "columns.count_forged", "a column is a list", id="no list"),
    pytest.param(("[3, 4, 4]", "[3, 4, 0]"), "columns.count_forged[2]", "no number of clips", id="no clips"),
    pytest.param(("[3, 4, 4]", "[3, 4, 3.5]"), "columns.count_forged[2]", "no number of clips", id="half a clip"),
    pytest.param(("[3, 4, 4]", "[3, true, 4]"), "columns.count_forged[1]", "a cell is a number", id="true"),
    pytest.param(("[50, 70, 100.5]", "[50, 0, 100.5]"), "columns.torque[1]", "greater than zero", id="no torque"),
    pytest.param(('"17-1/2"', '"17-1/2 in"'), "columns.turn_back[1]", "17-1/2 in", id="unit in a cell"),
    pytest.param(('["1/2", "5/8", "3/4"]', '["1/2", "3/4", "5/8"]'), "columns.size[2]", "increasing", id="order"),
    pytest.param(('["1/2", "5/8", "3/4"]', '["1/2", "1/2", "3/4"]'), "columns.size[1]", "each once", id="twice"),
    pytest.param(('["1/2", "5/8", "3/4"]', '["1/2", "", "3/4"]'), "columns.size[1]", "no row", id="size missing"),
    pytest.param(('size = ["1/2", "5/8", "3/4"]\n', ""), "columns.size", "required", id="no sizes"),
    pytest.param(('turn_back = "in"\n', ""), "units.turn_back", "has no unit", id="no unit"),
    pytest.param(('torque_also = "N·m"', 'torque_also = "Nm"'), "units.torque_also", "closed list", id="unit"),
    pytest.param(('threads = "dry"', 'threads = "oiled"'), "facts.threads", "closed list", id="threads"),
    pytest.param(('threads = "dry"', 'threads = "greasd"'), "facts.threads", 'Did you mean "greased"', id="near word"),
    pytest.param(('value = "85 %", from = "5/8 in"', 'value = "850 %"'), "facts.efficiency[1].value",
                 "no share", id="efficiency"),
    pytest.param(('"90 %"', "0.9"), "facts.efficiency_at_most", "text in quotes", id="share as a number"),
    pytest.param(("floors = [3]", "floors = 3"), "facts.floors", "a column is a list", id="floors"),
    pytest.param(("pulley = 1", "pulley = 0"), "facts.pulley", "outside its bounds", id="zero added"),
    pytest.param(("lap_splice = 2", 'lap_splice = "2"'), "facts.lap_splice", "whole number", id="number in quotes"),
    pytest.param(('retorque = ["after the first load"', 'retorque = ["after first load"'), "facts.retorque",
                 "after the first load", id="retorque"),
    pytest.param(("from_table = true", "diameters = 6\nfrom_table = true"), "spacing[0]", "sum of", id="both bounds"),
    pytest.param(("from_table = true\n", ""), "spacing[0]", "sum of", id="no bound"),
    pytest.param(('bound = "greatest"', 'bound = "least"'), "spacing[1].bound", "twice", id="bound twice"),
    pytest.param(('constant = "1 in"', "constant = 1"), "spacing[1].constant", "text in quotes", id="no unit there"),
    pytest.param(('grades = ["EIP", "IPS"]', 'grades = ["EIPS2"]'), "scope[1].grades", "closed list", id="grade"),
    pytest.param(("new_only = true", 'condition = "new"'), "scope[1].condition", "no such key", id="rule file's key"),
    pytest.param(('for = "counts"', 'for = "count"'), "scope[0].for", 'Did you mean "counts"', id="for"),
    pytest.param(("[facts]", "[facts"), "line 29, column 7", "no TOML", id="TOML"),
    pytest.param(('up_to = "3/4 in"\nconstructions', 'up_to = "3/4"\nconstructions'), "scope[1].up_to", "unit",
                 id="length without unit"),
]  # fmt: skip


class TestBadFiles:
    @pytest.mark.parametrize(("change", "field", "words"), BAD)
    def test_one_clear_error_with_the_path_of_the_field(self, change: tuple[str, str], field: str, words: str) -> None:
        with pytest.raises(InputError) as caught:
            checked(CHECK, change)
        assert field == caught.value.field
        assert words in str(caught.value)
        assert "check values <text>" in caught.value.problem

    @pytest.mark.parametrize(
        ("example", "field", "words"),
        [
            ("", "examples[0]", "states an answer"),
            ("refused = true\ncount = 4", "examples[0]", "states an answer"),
            ('body = "cast"\ncount = 4', "examples[0].body", "closed list"),
            ("torque = 70", "examples[0].torque", "text in quotes"),
            ('spacing = "3 in"', "examples[0].spacing", "least_spacing"),
        ],
    )
    def test_examples_too(self, example: str, field: str, words: str) -> None:
        with pytest.raises(InputError) as caught:
            parse_check_values(CHECK + EXAMPLE + example + "\n")
        assert field == caught.value.field
        assert words in str(caught.value)

    @pytest.mark.parametrize(
        ("text", "words"),
        [
            ("", "empty"),
            (b"\xff\xfe", "UTF-8"),
            ("#" * (256 * 1024 + 1), "too long"),
            ("format = " + "[" * 33 + "]" * 33, "too deep"),
            ("a" + ".a" * 51 + " = 1", "full stops"),
            ("format = 1\nformat = 1\n", "no TOML"),
        ],
        ids=["empty", "no text", "long", "deep", "dots", "twice"],
    )  # fmt: skip
    def test_the_limits_are_those_of_a_rule_file(self, text: str | bytes, words: str) -> None:
        for read in (parse_check_values, parse_rules):
            with pytest.raises(InputError) as caught:
                read(text)
            assert words in str(caught.value)

    def test_a_path_that_leads_nowhere(self, tmp_path: Path) -> None:
        for path in (tmp_path / "none.check.toml", tmp_path):
            with pytest.raises(InputError, match="there is no such file"):
                read_check_values(path)

    def test_units_without_columns(self) -> None:
        with pytest.raises(InputError) as caught:
            parse_check_values(LINEAR_CHECK + '[units]\nsize = "in"\n')
        assert "units" == caught.value.field


class TestPage:
    def test_it_explains_every_key_and_no_other(self) -> None:
        page = PAGE.read_text(encoding="utf-8").partition("## Every key")[2].partition("## What is not checked")[0]
        explained: dict[str, set[str]] = {}
        for name, part in re.findall(r"^### `?([^`\n]+)`?\n(.*?)(?=^### |\Z)", page, re.MULTILINE | re.DOTALL):
            first_cells = [line.split("|")[1] for line in part.splitlines() if line.startswith("| ")]
            explained[name] = set(re.findall(r"`([a-z_]+)`", " ".join(first_cells)))
        tables = {"units", "columns", "facts", "count", "spacing", "scope", "examples"}
        for name in sorted(tables - {"units"}):
            assert set(KEYS[name]) == explained[name], name
        assert set(KEYS[FILE]) - tables == explained["The file itself"]
        assert tables | {"The file itself"} == set(explained)

    def test_its_examples_agree_with_the_rule_files_that_they_go_with(self) -> None:
        rules = re.findall(r"^```toml\n(.*?)^```", RULE_PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
        fence = r"^```\{code-block\} toml\n:caption: [^\n]*\n\n(.*?)^```"
        values = re.findall(fence, PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
        assert 2 == len(values)
        held = {each.id: each for each in map(parse_rules, rules)}
        for text in values:
            typed = parse_check_values(text)
            assert () == typed.differences(held[typed.rules])
