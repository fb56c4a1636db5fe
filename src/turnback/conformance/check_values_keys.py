"""Every key of a file of check values, by the table that it stands in, each with an example of how it is written.

The reader checks against this closed list, its errors take their help from it, and the documentation page is tested
against it. The examples are of form alone; their numbers belong to no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

__all__ = ["COLUMNS", "FILE", "FORMAT", "KEYS"]

FORMAT: Final = 1
FILE: Final = ""
"""Name of the file's own table, above the first header."""

COLUMNS: Final = ("above", "count", "count_forged", "count_other", "turn_back", "spacing", "torque", "torque_also")
"""Columns beside the sizes."""

_RANGE: Final = {"from": '"1/8 in"', "up_to": '"1-1/2 in"'}

KEYS: Final[Mapping[str, Mapping[str, str]]] = {
    FILE: {
        "format": "1",
        "rules": '"example-sheet-7"',
        "typed_by": '"second typist of the project"',
        "typed_on": "2026-11-25",
        "edition": '"Example Institute, sheet 7, second edition"',
        "another_person": "true",
        "source_status": '"read"',
        "copy": '"the printed sheet"',
        "units": '[units], then size = "in" and the rest below it',
        "columns": '[columns], then size = ["1/2", "5/8"], count = [3, 3] and the rest below it',
        "facts": '[facts], then threads = "dry" and the rest below it',
        "count": '[count], then per_inch = 3, plus = 1 below it, or count = "" where the source gives no formula',
        "spacing": '[[spacing]], then bound = "least" and the rest below it, or spacing = "" where there is none',
        "scope": '[[scope]], then for = "everything" and the rest below it, or scope = "" where there is none',
        "examples": '[[examples]], then size = "3/4 in", count = 4 and the rest below it',
    },
    "units": {
        "size": '"in"',
        "turn_back": '"in"',
        "spacing": '"in"',
        "torque": '"lbf·ft"',
        "torque_also": '"N·m"',
    },
    "columns": {
        "size": '["1/2", "5/8"]',
        "above": '["3/8", ""]',
        "count": "[3, 3]",
        "count_forged": "[3, 3]",
        "count_other": "[4, 4]",
        "turn_back": '["11-1/2", 12]',
        "spacing": '[3, "3-3/4"]',
        "torque": "[50, 67.5]",
        "torque_also": '[68, ""]',
    },
    "facts": {
        "pattern": '"inch"',
        "threads": '"dry"',
        "large_outer_wires": '{ add = 1, from = "1 in" }',
        "pulley": "1",
        "turn_back_in_proportion": "true",
        "lap_splice": "2",
        "floors": "[3]",
        "efficiency": '"80 %"',
        "efficiency_at_most": '"85 %"',
        "efficiency_terminations": '["thimble eye"]',
        "begin_at": '"dead end"',
        "retorque": '["after the first load", "at intervals"]',
        "excluded_services": '["mine-hoist"]',
    },
    "facts.large_outer_wires": {"add": "1", "from": '"1 in"'},
    "facts.efficiency": {"value": '"80 %"', **_RANGE, "below": '"1 in"'},
    "count": {"per_inch": "3", "plus": "1", **_RANGE},
    "spacing": {
        "bound": '"least"',
        "measured": '"centre to centre"',
        "from_table": "true",
        "diameters": "6",
        "base_widths": "1.5",
        "constant": '"1 in"',
    },
    "scope": {
        "for": '"everything"',
        **_RANGE,
        "constructions": '["6x19 class", "6x37 class"]',
        "cores": '["FC", "IWRC"]',
        "grades": '["IPS", "EIP"]',
        "lays": '["right regular", "right Lang"]',
        "terminations": '["thimble eye"]',
        "rotation_resistant": "true",
        "new_only": "true",
        "confirm": '["grades"]',
    },
    "examples": {
        "size": '"3/4 in"',
        "body": '"forged"',
        "base_width": '"2 in"',
        "refused": "true",
        "clip_size": '"3/4 in"',
        "count": "4",
        "turn_back": '"18 in"',
        "least_spacing": '"4-1/2 in"',
        "greatest_spacing": '"6 in"',
        "torque": '"50 lbf·ft"',
    },
}
