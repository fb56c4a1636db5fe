"""A table of an invented institute, typed twice: as a rule file and as check values. No clip has these numbers."""

from __future__ import annotations

from typing import Final

from turnback.conformance.check_values import CheckValues, parse_check_values
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["CHECK", "LINEAR", "LINEAR_CHECK", "RULES", "checked", "ruled", "without_line"]

RULES: Final = """\
format = 1
id = "invented-sheet-12"
style = "u-bolt"
title = "Invented"
pattern = "inch"
notes = [{ text = "Invented for a test." }]
rows = [
    { size = "1/2", above = "3/8", count_forged = 3, count_other = 4, turn_back = "13", spacing = "3", \
torque = 50, torque_also = "68 N·m" },
    { size = "5/8", above = "1/2", count_forged = 4, count_other = 5, turn_back = "17-1/2", \
spacing = "3-3/4", torque = 70 },
    { size = "3/4", count_forged = 4, count_other = 4, turn_back = "24", spacing = "4-1/2", torque = 100.5 },
]

[source]
id = "invented-sheet-12"
document = "Invented Institute, sheet 12"
locator = "Table 2"
status = "read"

[units]
size = "in"
turn_back = "in"
spacing = "in"
torque = "lbf·ft"

[spacing]
measured = "centre to centre"
least = "table"
greatest = "8 diameters + 1 in"
locator = "Table 2, column 4"

[threads]
condition = "dry"
locator = "note 1"

[efficiency]
bands = [
    { least = "3/8 in", below = "5/8 in", value = "80 %" },
    { least = "5/8 in", greatest = "3/4 in", value = "85 %" },
]
at_most = "90 %"
terminations = ["thimble eye", "linked eyes"]
locator = "note 2"

[[scope]]
for = "everything"
sizes = "3/8 in to 3/4 in"
constructions = ["6x19 class"]
cores = ["IWRC"]
grades = ["IPS", "EIP"]
lays = ["right regular"]
terminations = ["thimble eye", "linked eyes"]
condition = "new"
confirm = ["grades"]

[[scope]]
for = "counts"
constructions = ["19x7"]
rotation_resistant = true

[adjustments]
large_outer_wires = { add = 1, from = "5/8 in", locator = "note 3" }
pulley = { add = 1, locator = "note 4" }
more_clips = { turn_back = "in proportion" }
lap_splice = { factor = 2 }

[[floors]]
count = 3
text = "At least three."
locator = "note 5"

[[excluded_services]]
service = "mine-hoist"
text = "Not for mine hoists."

[procedure]
begin_at = "dead end"
retorque = ["after the first load", "at intervals"]
"""

CHECK: Final = """\
format = 1
rules = "invented-sheet-12"
typed_by = "second typist of the project"
typed_on = 2026-11-25
edition = "Invented Institute, sheet 12, first edition"
another_person = true
source_status = "read"
copy = "the printed sheet"
count = ""

[units]
size = "in"
turn_back = "in"
spacing = "in"
torque = "lbf·ft"
torque_also = "N·m"

[columns]
size = ["1/2", "5/8", "3/4"]
above = ["3/8", "1/2", ""]
count = ""
count_forged = [3, 4, 4]
count_other = [4, 5, 4]
turn_back = [13, "17-1/2", 24]
spacing = [3, "3-3/4", "4-1/2"]
torque = [50, 70, 100.5]
torque_also = [68, "", ""]

[facts]
pattern = "inch"
threads = "dry"
large_outer_wires = { add = 1, from = "5/8 in" }
pulley = 1
turn_back_in_proportion = true
lap_splice = 2
floors = [3]
efficiency = [{ value = "80 %", from = "3/8 in", below = "5/8 in" }, \
{ value = "85 %", from = "5/8 in", up_to = "3/4 in" }]
efficiency_at_most = "90 %"
efficiency_terminations = ["linked eyes", "thimble eye"]
begin_at = "dead end"
retorque = ["after the first load", "at intervals"]
excluded_services = ["mine-hoist"]

[[spacing]]
bound = "least"
measured = "centre to centre"
from_table = true

[[spacing]]
bound = "greatest"
measured = "centre to centre"
diameters = 8
constant = "1 in"

[[scope]]
for = "counts"
constructions = ["19x7"]
rotation_resistant = true

[[scope]]
for = "everything"
from = "3/8 in"
up_to = "3/4 in"
constructions = ["6x19 class"]
cores = ["IWRC"]
grades = ["EIP", "IPS"]
lays = ["right regular"]
terminations = ["thimble eye", "linked eyes"]
new_only = true
confirm = ["grades"]
"""

LINEAR: Final = """\
format = 1
id = "invented-leaflet-4"
style = "u-bolt"
title = "Invented"

[source]
id = "invented-leaflet-4"
document = "Invented Institute, leaflet 4"
status = "read"

[count]
rule = "2.5 per inch, plus 2, rounded up"
sizes = "6 mm to 50 mm"
sizes_status = "common practice"

[spacing]
measured = "clear"
least = "1.5 base widths"
greatest = "3 base widths + 10 mm"
"""

LINEAR_CHECK: Final = """\
format = 1
rules = "invented-leaflet-4"
typed_by = "second typist of the project"
typed_on = "2026-11-25"
edition = "Invented Institute, leaflet 4"
another_person = false
scope = ""

[count]
per_inch = 2.5
plus = 2
from = "6 mm"
up_to = "50 mm"

[[spacing]]
bound = "least"
measured = "clear"
base_widths = "1-1/2"

[[spacing]]
bound = "greatest"
measured = "clear"
base_widths = 3
constant = "10 mm"

[facts]
pattern = ""
threads = ""
large_outer_wires = ""
pulley = ""
turn_back_in_proportion = ""
lap_splice = ""
floors = ""
efficiency = ""
efficiency_at_most = ""
efficiency_terminations = ""
begin_at = ""
retorque = ""
excluded_services = ""
"""


def ruled(text: str = RULES, *changes: tuple[str, str]) -> RuleSet:
    """The rule set, with changes to its text, each of a piece that stands there once."""
    return parse_rules(_changed(text, changes))


def checked(text: str = CHECK, *changes: tuple[str, str]) -> CheckValues:
    """The check values, with changes to their text, each of a piece that stands there once."""
    return parse_check_values(_changed(text, changes))


def without_line(text: str, beginning: str) -> str:
    """A text without its one line that begins so."""
    lines = text.splitlines(keepends=True)
    found = [line for line in lines if line.startswith(beginning)]
    assert 1 == len(found), (beginning, found)
    return "".join(line for line in lines if line is not found[0])


def _changed(text: str, changes: tuple[tuple[str, str], ...]) -> str:
    for old, new in changes:
        assert 1 == text.count(old), f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text
