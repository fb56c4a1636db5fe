"""Rule files: every slip is named with its place, its bound and a way out. The files are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from turnback.errors import InputError
from turnback.rules.rulefile import parse_rules, read_rules

DATA = Path(__file__).parent / "data"
SHEET, LINEAR, BASIS = (
    (DATA / f"invented-{name}.toml").read_text(encoding="utf-8") for name in ("sheet", "rule", "basis")
)


def swapped(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, f"{old!r} must stand once in the file that a test changes"
    return text.replace(old, new)


def refused(text: str | bytes) -> InputError:
    with pytest.raises(InputError) as caught:
        parse_rules(text, "invented.toml")
    assert "invented.toml" in str(caught.value)
    return caught.value


SLIPS = [
    # the file
    ("format = 1", "format = 2", "format", "format = 1"),
    ("format = 1", "format = true", "format", "whole number"),
    ("format = 1", 'format = "1"', "format", "not text"),
    ("format = 1", "", "format", "required"),
    ('id = "invented-sheet"', 'id = "Invented Sheet"', "id", "lower-case"),
    ('id = "invented-sheet"', "id = 5", "id", "not a whole number"),
    ('id = "invented-sheet"', "id = 5.5", "id", "not a decimal number"),
    ('id = "invented-sheet"', "id = 1979-05-27", "id", "not a date"),
    ('id = "invented-sheet"', "", "id", "required"),
    ('style = "u-bolt"', "", "style", "required"),
    ('style = "u-bolt"', 'style = "any"', "style", "efficiencies alone"),
    ('title = "Invented"', 'title = " "', "title", "spaces around"),
    ('title = "Invented"', 'title = "a\\nb"', "title", "line break"),
    ('title = "Invented"', 'titel = "Invented"', "titel", "nearest known key is title"),
    ('pattern = "invented-pattern"', 'pattern = "Inch"', "pattern", "lower-case"),
    ('notes = [ { text = "Invented for a test." } ]', "notes = []", "notes", "empty"),
    ('notes = [ { text = "Invented for a test." } ]', 'notes = ["a"]', "notes[0]", "table is wanted"),
    ('{ text = "Invented for a test." }', '{ texts = "Invented" }', "notes[0].texts", "nearest known key is text"),
    # the source
    ('id = "invented-institute-1"', 'id = "a b"', "source.id", "no id"),
    ('document = "Invented Institute, sheet 1"', "", "source.document", "required"),
    ('locator = "Table 1"\n', 'locator = "Table 1"\nyear = "2020"\n', "source.year", "whole number"),
    ('status = "read"', "", "source.status", 'status = "read"'),
    ('status = "read"', 'status = "seen"', "source.status", '"common practice"'),
    ('status = "read"', 'status = "read"\npattern = "inch"', "source.pattern", "above the first [table]"),
    # the units
    ('size = "in"\n', "", "units.size", "no unit"),
    ('turn_back = "in"\n', "", "units.turn_back", "rows[0].turn_back"),
    ('spacing = "in"\n', "", "units.spacing", "no unit"),
    ('torque = "lbf·ft"\n', "", "units.torque", "lbf·ft"),
    ('size = "in"\n', 'size = "cm"\n', "units.size", '"mm"'),
    ('torque = "lbf·ft"\n', 'torque = "ft-lb"\n', "units.torque", '"lbf·in"'),
    # the rows
    ('size = "1/2"\n', "", "rows[0].size", "required"),
    ('size = "1/2"\n', 'size = "1/2 in"\n', "rows[0].size", "1/2 in"),
    ('size = "1/2"\n', 'size = "4 ft 6"\n', "rows[0].size", "4 ft 6"),
    ('size = "1/2"\n', f'size = "{"9" * 5000}"\n', "rows[0].size", "5000 characters"),
    ('size = "1/2"\n', f"size = {'9' * 1000}\n", "rows[0].size", "characters"),
    ('size = "1/2"\n', 'size = "0"\n', "rows[0].size", "greater than zero"),
    ('size = "1/2"\n', "size = -1\n", "rows[0].size", "without a sign"),
    ('size = "1/2"\n', "size = inf\n", "rows[0].size", "finite"),
    ('size = "1/2"\n', "size = nan\n", "rows[0].size", "finite"),
    ('size = "1/2"\n', "size = 5e-1\n", "rows[0].size", "5e-1"),
    ('size = "1/2"\n', 'size = "5/8"\n', "rows[1].size", "same size"),
    ('size = "1/2"\n', 'size = "9/16"\n', "rows[1].above", "overlaps"),
    ('size = "1/2"\n', 'size = "7/8"\n', "rows[1].size", "increasing"),
    ('above = "1/2"', 'above = "5/8"', "rows[1].above", "less than 5/8 in"),
    ('above = "1/2"', 'above = "7/16"', "rows[1].above", "at least 1/2 in"),
    ("count = 3\nturn", "count = 0\nturn", "rows[0].count", "1 to 99"),
    ("count = 3\nturn", "count = 100\nturn", "rows[0].count", "1 to 99"),
    ("count = 3\nturn", "count = 3.0\nturn", "rows[0].count", "decimal"),
    ("count = 3\nturn", "count = true\nturn", "rows[0].count", "true or false"),
    ("count = 3\nturn", 'count = "3"\nturn', "rows[0].count", "text"),
    ("count = 3\nturn", "turn", "rows[0].turn_back", "without a count"),
    ("count_other = 4\n", "", "rows[1].count_forged", "without count_other"),
    ("count_forged = 3\n", "", "rows[1].count_other", "without count_forged"),
    ("count_forged = 3\n", "count = 3\ncount_forged = 3\n", "rows[1].count_forged", "beside count"),
    ("turn_back = 12\n", "turnback = 12\n", "rows[1].turnback", "nearest known key is turn_back"),
    ("turn_back = 12\n", "turn_back = true\n", "rows[1].turn_back", "true or false"),
    ("turn_back = 12\n", "turn_back = [12]\n", "rows[1].turn_back", "a list"),
    ("turn_back = 12\n", 'turn_back = "1,5"\n', "rows[1].turn_back", "comma"),
    ("torque = 65\n", "torque = 0\n", "rows[0].torque", "greater than zero"),
    ("torque = 65\n", 'torque = "65 lbf·ft"\n', "rows[0].torque", "65 lbf·ft"),
    ("torque = 65\n", "", "rows[0].torque_also", "without torque"),
    ('"292 mm"', '"293 mm"', "rows[0].turn_back_also", "292.1 mm"),
    ('"292 mm"', '"292.2 mm"', "rows[0].turn_back_also", "0.05 mm"),
    ('"292 mm"', '"11-1/2 in"', "rows[0].turn_back_also", "other than in"),
    ('"292 mm"', '"292"', "rows[0].turn_back_also", "mm"),
    ('"88 N·m"', '"87 N·m"', "rows[0].torque_also", "88.12"),
    ('"88 N·m"', '"88.0 N·m"', "rows[0].torque_also", "0.05 N·m"),
    ('"88 N·m"', '"88 Nm"', "rows[0].torque_also", "N·m"),
    ("spacing = 4.5", "spacing = 4.25", "rows[2].spacing", "6 diameters of 3/4 in"),
    ('{ torque = "memory", count = "common practice" }', '"seen"', "rows[2].status", "closed list"),
    ('{ torque = "memory", count = "common practice" }', "5", "rows[2].status", "table"),
    ('{ torque = "memory", count = "common practice" }', '{ torque = "red" }', "rows[2].status.torque", '"read"'),
    ('torque = "memory", count = "common practice"', 'turn_back = "read"', "rows[2].status.turn_back", "no such cell"),
    ('{ torque = "memory", count = "common practice" }', '{ size = "read" }', "rows[2].status.size", "no such key"),
    ('confirm_status = "memory"', "", "rows[2].confirm_status", "required"),
    ('confirm = "the clip maker asks for more"', "", "rows[2].confirm_status", "without confirm"),
    # the spacing
    ('measured = "centre to centre"', "", "spacing.measured", "required"),
    ('measured = "centre to centre"', 'measured = "centre to center"', "spacing.measured", "centre to centre"),
    ('greatest = "7 diameters"', 'greatest = "table"', "spacing.greatest", "one column"),
    ('greatest = "7 diameters"', 'equal = "7 diameters"', "spacing", "bound"),
    ('greatest = "7 diameters"', "greatest = 7", "spacing.greatest", "text"),
    ('greatest = "7 diameters"', 'greatest = "7 D"', "spacing.greatest", "7 D"),
    ('least = "table"', 'least = "6 diameters"', "spacing", "no bound takes up"),
    ('identity = "6 diameters"', 'identity = "6 base widths"', "spacing.identity", "alone"),
    ('identity = "6 diameters"', 'identity = "5 diameters"', "rows[0].spacing", "2-1/2 in"),
    ("spacing = 4.5\n", "", "rows[2].spacing", "this row has none"),
    # threads, efficiency
    ('condition = "dry"', 'condition = "unlubricated"', "threads.condition", '"greased"'),
    ('[threads]\ncondition = "dry"\nstatus = "common practice"\n', "", "threads", "rows[0].torque"),
    ('value = "80 %"', 'value = "86 %"', "efficiency.value", "at most 85 %"),
    ('value = "80 %"', 'value = "101 %"', "efficiency.value", "up to 100 %"),
    ('value = "80 %"', 'value = "0 %"', "efficiency.value", "above 0 %"),
    ('value = "80 %"', 'value = "-1 %"', "efficiency.value", "without a sign"),
    ('value = "80 %"', "value = 0.8", "efficiency.value", "decimal"),
    ('value = "80 %"', 'value = "80"', "efficiency.value", "80 %"),
    ('at_most = "85 %"', 'at_most = "185 %"', "efficiency.at_most", "100 %"),
    ('value = "80 %"', 'value = "80 %"\nbands = []', "efficiency.value", "together"),
    ('at_most = "85 %"\nterminations = ["thimble eye"]', "", "efficiency.terminations", "which terminations"),
    ('at_most = "85 %"\nterminations = ["thimble eye"]', 'terminations = ["eye"]', "efficiency.terminations", "eye"),
    # the scope
    ('for = "everything"', "", "scope[0].for", "required"),
    ('for = "everything"', 'for = "all"', "scope[0].for", '"counts"'),
    ('sizes = "up to 3/4 in"', 'sizes = "to 3/4 in"', "scope[0].sizes", "range"),
    ('constructions = ["6x19 class"]', 'constructions = ["six by nineteen"]', "scope[0].constructions", "6x19"),
    ('constructions = ["6x19 class"]', 'constructions = "6x19"', "scope[0].constructions", "list"),
    ('constructions = ["6x19 class"]', "constructions = []", "scope[0].constructions", "empty"),
    ('constructions = ["6x19 class"]', 'constructions = [""]', "scope[0].constructions", "empty"),
    ('cores = ["FC"]', 'cores = ["XC"]', "scope[0].cores", "IWRC"),
    ('cores = ["FC"]', "cores = [1]", "scope[0].cores", "other things"),
    ('cores = ["FC"]', 'cores = ["FC", "fibre core"]', "scope[0].cores", "twice"),
    ('grades = ["IPS", "1770"]', 'grades = ["IPS", "1771"]', "scope[0].grades", "1771"),
    ('grades = ["IPS", "1770"]', "grades = [1770]", "scope[0].grades", "texts"),
    ('grades = ["IPS", "1770"]', "", "scope[0].confirm", "grades"),
    ('lays = ["right Lang"]', 'lays = ["up"]', "scope[0].lays", "right regular"),
    ("rotation_resistant = false", 'rotation_resistant = "no"', "scope[0].rotation_resistant", "true or false"),
    ("rotation_resistant = false", "rotation_resistant = 0", "scope[0].rotation_resistant", "true or false"),
    ('condition = "new"', 'condition = "used"', "scope[0].condition", '"new"'),
    ('confirm = ["grades"]', 'confirm = ["sizes"]', "scope[0].confirm", "closed list"),
    # the rest
    ("pulley = { add = 1 }", "pulley = 1", "adjustments.pulley", "table"),
    ("pulley = { add = 1 }", "pulley = { add = 0 }", "adjustments.pulley.add", "1 to 9"),
    ("pulley = { add = 1 }", "pulley = {}", "adjustments.pulley.add", "required"),
    ('from = "1 in"', 'from = "1"', "adjustments.large_outer_wires.from", "no unit"),
    ('from = "1 in"', "from = 1", "adjustments.large_outer_wires.from", "text"),
    ('"in proportion"', '"longer"', "adjustments.more_clips.turn_back", "in proportion"),
    ("factor = 2", "factor = 1", "adjustments.lap_splice.factor", "2 to 9"),
    ('count = 3\ntext = "At least three."', 'count = 3', "floors[0].text", "required"),
    ('service = "mine-hoist"', 'service = "mine hoist"', "excluded_services[0].service", "no id"),
    ('begin_at = "eye"', "", "procedure.begin_locator", "without begin_at"),
    ('begin_at = "eye"', 'begin_at = "middle"', "procedure.begin_at", '"dead end"'),
    ('"before first use", "at intervals"', '"at intervals", "at intervals"', "procedure.retorque", "twice"),
    ('"before first use", "at intervals"', '"now"', "procedure.retorque", "closed list"),
    ('row = "5/8"', 'row = "7/8"', "waivers[0].row", "no row of this size"),
    ('reason = "Printed so."', "", "waivers[0].reason", "required"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "field", "words"), SLIPS, ids=[f"{slip[2]}: {slip[1][:40]}" for slip in SLIPS])
def test_a_slip_is_named(old: str, new: str, field: str, words: str) -> None:
    error = refused(swapped(SHEET, old, new))
    assert field == error.field
    assert words in str(error)
    assert error.instead or error.bound


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        (LINEAR + "[[rows]]\nsize = 1\ncount = 3\n", "count", "together"),
        (swapped(LINEAR, '"1/8 in to 3-1/2 in"', '"from 1/8 in"'), "count.sizes", "both ends"),
        (swapped(LINEAR, 'sizes_status = "common practice"', ""), "count.sizes_status", "required"),
        (swapped(LINEAR, '"3 per inch, plus 1, rounded up"', '"3D + 1"'), "count.rule", "3 per inch"),
        (swapped(LINEAR, '"3 base widths"', '"1 base width"'), "spacing.greatest", "less than the least"),
        (swapped(LINEAR, '"1.5 base widths"', '"table"'), "spacing.least", "no rows"),
        (LINEAR + '[units]\nsize = "in"\n', "units", "without rows"),
        (LINEAR + '[[waivers]]\nlaw = "a"\nreason = "b"\nrow = 1\n', "waivers[0].row", "no rows"),
        (LINEAR[: LINEAR.index("[count]")], "rows", "says nothing"),
        (LINEAR + "[efficiency]\n", "efficiency", "says nothing"),
        (
            SHEET + '[[excluded_services]]\nservice = "mine-hoist"\n',
            "excluded_services[1].service",
            "twice",
        ),
        (LINEAR + "[procedure]\n", "procedure", "says nothing"),
        (LINEAR + '[[scope]]\nfor = "counts"\n', "scope[0]", "limits nothing"),
        (swapped(BASIS, 'below = "1 in", ', 'greatest = "1 in", '), "efficiency.bands[1].least", "overlaps"),
        (swapped(BASIS, 'below = "1 in", ', ""), "efficiency.bands[1].least", "overlaps"),
        (swapped(BASIS, 'below = "1 in", ', 'below = "1/8 in", '), "efficiency.bands[0].least", "before it begins"),
        (
            swapped(BASIS, 'below = "1 in", ', 'below = "1 in", greatest = "1 in", '),
            "efficiency.bands[0].below",
            "greatest",
        ),
        (swapped(BASIS, '{ least = "1 in", value', "{ value"), "efficiency.bands[1].least", "overlaps"),
        (swapped(BASIS, '"90 %"', '"190 %"'), "efficiency.bands[1].value", "100 %"),
        (swapped(BASIS, "terminations =", 'at_most = "85 %"\nterminations ='), "efficiency.bands[1].value", "85 %"),
    ],
)
def test_a_slip_in_other_files_is_named(text: str, field: str, words: str) -> None:
    error = refused(text)
    assert field == error.field
    assert words in str(error)


# Reckoned by hand: 50 mm is 1.9685 in, 52 mm is 2.0472 in, 53 mm is 2.0866 in.
@pytest.mark.parametrize(
    ("millimetres", "also", "agrees"),
    [
        (50, "2 in", True),
        (52, "2 in", True),
        (53, "2 in", False),
        (52, "2.0 in", True),
        (53, "2.0 in", False),
        (50, "2.00 in", False),
        (50, "1-31/32 in", True),
        (50, "1-15/16 in", True),
        (50, "2-1/16 in", False),
    ],
)
def test_an_inch_print_is_rounded_to_eighths_at_the_coarsest(millimetres: int, also: str, agrees: bool) -> None:
    text = LINEAR[: LINEAR.index("[count]")] + (
        f'[units]\nsize = "mm"\nturn_back = "mm"\n'
        f'[[rows]]\nsize = 8\ncount = 3\nturn_back = {millimetres}\nturn_back_also = "{also}"\n'
    )
    if agrees:
        assert len(parse_rules(text).rows) == 1
    else:
        assert refused(text).field == "rows[0].turn_back_also"


def test_an_error_in_a_row_names_its_size() -> None:
    assert "row of size 5/8" in str(refused(swapped(SHEET, "turn_back = 12\n", "turn_back = -12\n")))


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        ("", "text", "empty"),
        ("# nothing\n", "text", "empty"),
        ("a = 1/2", "line 1, column 6", 'size = "1/2"'),
        ("format = 1\nformat = 1\n", "line 2, column 11", "overwrite"),
        ("a = [", "text", "no TOML"),
        ("a = " + "[" * 5000, "text", "nested"),
        ("a = " + "9" * 5000, "text", "no TOML"),
        (".".join("a" * 60) + " = 1", "line 1", "full stops"),
        (b"format = \xff", "byte 9", "UTF-8"),
        ("title = '\ud800'", "text", "UTF-8"),
        ("#" * (256 * 1024 + 1), "text", "262144 bytes"),
        (b"#" * (256 * 1024 + 1), "text", "262144 bytes"),
        ("size = 1e999999999999", "size", "no such key"),
        ("format = 0x" + "f" * 9000, "format", "outside its bounds"),
    ],
)
def test_no_rule_file_at_all(text: str | bytes, field: str, words: str) -> None:
    error = refused(text)
    assert field == error.field
    assert words in str(error)


@pytest.mark.parametrize("given", [None, 5, True, ["format = 1"], bytearray(b"format = 1")])
def test_parse_takes_text_alone(given: object) -> None:
    with pytest.raises(InputError, match="text or bytes"):
        parse_rules(given)  # type: ignore[arg-type]  # the point of the test


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    long = tmp_path / "long.toml"
    long.write_bytes(b"#" * 300_000)
    for path in (tmp_path / "none.toml", tmp_path, "\0", "/dev/null", 5, None, True):
        with pytest.raises(InputError) as caught:
            read_rules(path)  # type: ignore[arg-type]  # the point of the test
        assert caught.value.field == "path"
    with pytest.raises(InputError, match=r"too long .*long\.toml"):
        read_rules(long)
