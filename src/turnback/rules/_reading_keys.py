"""Every key of rule file format 1, by the table that it stands in, each with an example of how it is written.

The loader checks against this closed list, its errors take their help from it, and the documentation page is tested
against it. The examples are of form alone; their numbers belong to no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

__all__ = ["FILE", "FORMAT", "KEYS"]

FORMAT: Final = 1
FILE: Final = ""
"""Name of the file's own table, above the first header."""

_PLACE: Final[Mapping[str, str]] = {
    "locator": '"Table 3, note 2"',
    "status": '"read"',
    "note": '"the sentence is cut in the copy read"',
}

KEYS: Final[Mapping[str, Mapping[str, str]]] = {
    FILE: {
        "format": "1",
        "id": '"example-clips"',
        "style": '"u-bolt"',
        "title": '"U-bolt clips, eye on a thimble"',
        "pattern": '"inch"',
        "notes": '[ { text = "What a reader must know." } ]',
        "source": '[source], then id = "example-sheet" and the rest below it',
        "units": '[units], then size = "in" and the rest below it',
        "rows": '[[rows]], then size = "1/2", count = 3 and the rest below it',
        "count": '[count], then rule = "3 per inch, plus 1, rounded up" and the rest below it',
        "spacing": '[spacing], then measured = "centre to centre" and the rest below it',
        "threads": '[threads], then condition = "dry" below it',
        "efficiency": '[efficiency], then value = "80 %" and the rest below it',
        "scope": '[[scope]], then for = "everything" and the rest below it',
        "adjustments": "[adjustments], then pulley = { add = 1 } below it",
        "floors": '[[floors]], then count = 3 and text = "..." below it',
        "excluded_services": '[[excluded_services]], then service = "mine-hoist" and text = "..." below it',
        "procedure": '[procedure], then begin_at = "dead end" below it',
        "waivers": '[[waivers]], then law = "..." and reason = "..." below it',
    },
    "notes": {"text": '"What a reader must know."', **_PLACE},
    "source": {
        "id": '"example-sheet"',
        "document": '"Example sheet of clips"',
        "edition": '"second edition"',
        "issuer": '"Example Institute"',
        "year": "2020",
        "locator": '"Table 3"',
        "status": '"read"',
    },
    "units": {"size": '"in"', "turn_back": '"in"', "spacing": '"in"', "torque": '"lbf·ft"'},
    "rows": {
        "size": '"1/2"',
        "above": '"3/8"',
        "count": "3",
        "count_forged": "3",
        "count_other": "4",
        "turn_back": '"11-1/2"',
        "turn_back_also": '"292 mm"',
        "spacing": '"3"',
        "spacing_also": '"76 mm"',
        "torque": "65",
        "torque_also": '"88 N·m"',
        "status": '"memory"',
        "misprint": '"the copy prints the size as 1/34"',
        "confirm": '"the clip maker asks for more"',
        "confirm_status": '"memory"',
        "confirm_source": '"the clip maker\'s present sheet"',
    },
    "rows.status": {
        "count": '"memory"',
        "count_forged": '"memory"',
        "count_other": '"memory"',
        "turn_back": '"memory"',
        "spacing": '"memory"',
        "torque": '"memory"',
    },
    "count": {
        "rule": '"3 per inch, plus 1, rounded up"',
        "sizes": '"1/8 in to 3-1/2 in"',
        "sizes_status": '"common practice"',
        **_PLACE,
    },
    "spacing": {
        "measured": '"centre to centre"',
        "least": '"6 diameters"',
        "greatest": '"3 base widths"',
        "equal": '"table"',
        "identity": '"6 diameters"',
        **_PLACE,
    },
    "threads": {"condition": '"dry"', "text": '"unlubricated bolts"', **_PLACE},
    "efficiency": {
        "value": '"80 %"',
        "bands": '[ { least = "1/8 in", greatest = "7/8 in", value = "80 %" } ]',
        "at_most": '"85 %"',
        "terminations": '["thimble eye"]',
        **_PLACE,
    },
    "efficiency.bands": {
        "least": '"1/8 in"',
        "greatest": '"7/8 in"',
        "below": '"1 in"',
        "value": '"80 %"',
        **_PLACE,
    },
    "scope": {
        "for": '"everything"',
        "sizes": '"up to 1-1/2 in"',
        "constructions": '["6x19 class", "6x37 class"]',
        "cores": '["FC", "IWRC"]',
        "grades": '["IPS", "EIP"]',
        "lays": '["right regular", "right Lang"]',
        "terminations": '["thimble eye"]',
        "rotation_resistant": "true",
        "condition": '"new"',
        "confirm": '["grades"]',
        **_PLACE,
    },
    "adjustments": {
        "large_outer_wires": '{ add = 1, from = "1 in" }',
        "pulley": "{ add = 1 }",
        "more_clips": '{ turn_back = "in proportion" }',
        "lap_splice": "{ factor = 2 }",
    },
    "adjustments.large_outer_wires": {"add": "1", "from": '"1 in"', **_PLACE},
    "adjustments.pulley": {"add": "1", **_PLACE},
    "adjustments.more_clips": {"turn_back": '"in proportion"', **_PLACE},
    "adjustments.lap_splice": {"factor": "2", **_PLACE},
    "floors": {"count": "3", "text": '"at least three clips for any eye"', **_PLACE},
    "excluded_services": {"service": '"mine-hoist"', "text": '"not for mine hoists"', **_PLACE},
    "procedure": {
        "begin_at": '"dead end"',
        "begin_status": '"read"',
        "begin_locator": '"note 4"',
        "retorque": '["after the first load", "at intervals"]',
        "retorque_status": '"read"',
        "retorque_locator": '"note 5"',
    },
    "waivers": {"law": '"turn-back-covers-clips"', "row": '"7/8"', "reason": '"the source prints it so"', **_PLACE},
}
