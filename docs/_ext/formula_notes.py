"""What a page says of a formula beside the formula itself: where it holds, what becomes of its result, a worked case.

The conditions are plain arithmetic over the symbols of the formula; a test evaluates each at the worked case, and
refuses a formula without a note.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import attrs

__all__ = ["NOTES", "SCENARIO", "Condition", "Drawing", "Note", "Rounding"]

SCENARIO: Final = (
    "Invented for this page: a guy of 3/4 in rope (19.05 mm) with an eye round a thimble of 2-3/8 in inside width "
    "(60.325 mm) and 5 in inside length (127 mm), held by four clips of 2-1/4 in base width (57.15 mm). No such joint "
    "exists, and no number below is to be used for one."
)

Condition: TypeAlias = tuple[str, str]
"""A condition in the symbols of the formula, and who sees to it."""

Rounding: TypeAlias = Literal["nearest", "up", "exact", "none"]
"""What the library does with the result: to the nearest nanometre, up to a whole one, nothing to round, not rounded."""

Drawing: TypeAlias = Literal["", "eye", "thimble", "pin", "pulley", "layout", "splice", "span"]


@attrs.frozen
class Note:
    """What a page says beside the formula.

    Args:
        holds: Where it holds.
        rounding: What the library does with the result.
        afterwards: The same in words, with what it means.
        drawing: The drawing that shows its symbols; empty for none.
        inputs: The worked case: argument and exact number, in the unit of the symbol.
    """

    holds: tuple[Condition, ...]
    rounding: Rounding
    afterwards: str
    drawing: Drawing
    inputs: tuple[tuple[str, str], ...]


_REFUSED: Final = "a plan refuses the eye otherwise"
_CALLER: Final = "the caller sees to it; nothing is checked here"
_READ: Final = "a length is above zero, or it is refused where it is read"
_MEASURED: Final = "a measured dimension; a plan reads it as a length"

_OUTSIDE: Final = (
    ("R > 0", _READ),
    ("a > 0", _REFUSED),
    ("e >= 0", _READ),
    ("sqrt(a*a + e*e/4) > R", "the base lies outside the circle; " + _REFUSED),
)
_NEAREST: Final = "A plan rounds it to the nearest nanometre, once, at the end; a tie goes away from zero."
_STEP: Final = "A step on the way: it is not rounded, and no plan shows it."
_ANGLE: Final = "An angle is kept as computed, in radians. A plan shows twice this angle, the included angle."
_WHOLE: Final = "Whole nanometres in, whole nanometres out: there is nothing to round."
_UP: Final = "A plan rounds it up to a whole nanometre, so that what is asked for at least is met."
_FORCE: Final = "A force is a float and is not rounded. Printed, a load to keep below is cut down, never up."
_PLACES: Final = (
    "A plan sets the clips on whole nanometres, such that every distance between two neighbours is one of the two "
    "whole numbers next to the exact spacing; a centre is cut down to a whole nanometre."
)
_UNUSED: Final = "No number of a plan is computed with it; it is here to check and to explain."

_EYE: Final = (("radius", "42.8625"), ("a", "96.8375"), ("e", "19.05"))
_CLIPS: Final = (("b", "57.15"), ("s", "114.3"))
_CLIP_HOLDS: Final = (("b > 0", _READ), ("s >= b", "a plan refuses clips that cannot stand side by side"))
_PLACE: Final = (("i", "2"), *_CLIPS)
_PLACE_HOLDS: Final = (("i >= 0", _CALLER), *_CLIP_HOLDS)
_CROSSWISE: Final = "the inside length is no less than the inside width, or the thimble is refused"

NOTES: Final[dict[str, Note]] = {
    "base_point_distance": Note((("a > 0", _REFUSED), ("e >= 0", _READ)), "none", _STEP, "eye", _EYE[1:]),
    "leg": Note(_OUTSIDE, "none", _STEP, "eye", _EYE),
    "half_arc_angle": Note(_OUTSIDE, "none", _STEP, "eye", _EYE),
    "contact_angle": Note(_OUTSIDE, "none", "An angle is kept as computed. " + _UNUSED, "eye", _EYE),
    "rope_in_eye": Note(_OUTSIDE, "nearest", _NEAREST, "eye", _EYE),
    "half_included_angle": Note(
        _OUTSIDE, "none", _ANGLE + " Above 60 degrees it carries a finding; at 120 or more it is refused.", "eye", _EYE
    ),
    "base_distance_for_angle": Note(
        (
            ("0 < B", "the wanted angle is above 0 and below 120 degrees, or it is refused where it is read"),
            ("B < pi/3", "the same"),
            ("R*cos(B) > e/2", "the legs run away from the pulley; a plan refuses a smaller one"),
        ),
        "nearest",
        _NEAREST,
        "pulley",
        (("radius", "161.925"), ("e", "19.05"), ("half_angle", "0.5")),
    ),
    "least_base_distance": Note(
        (("R > 0", _CALLER), ("e >= 0", _CALLER), ("e <= 2*R", _CALLER)), "none", _UNUSED, "eye", (_EYE[0], _EYE[2])
    ),
    "leg_force": Note(
        (
            ("0 <= B", "a plan's eye has such an angle"),
            ("B < pi/3", "a plan refuses 120 degrees or more between the parts"),
        ),
        "none",
        "A force is a float and is not rounded.",
        "eye",
        (("load", "9000"), ("half_angle", "0.5")),
    ),
    "thimble_radius": Note(
        (("w > 0", _READ), ("g > 0", _READ), ("d > 0", _READ)),
        "nearest",
        _NEAREST,
        "thimble",
        (("inside_width", "60.325"), ("groove_offset", "3.175"), ("rope_diameter", "19.05")),
    ),
    "thimble_base_distance": Note(
        (("w > 0", _READ), ("L >= w", _CROSSWISE)),
        "nearest",
        _NEAREST,
        "thimble",
        (("inside_length", "127"), ("inside_width", "60.325")),
    ),
    "soft_eye_radius": Note(
        (("p > 0", _READ), ("d > 0", _READ)),
        "nearest",
        _NEAREST,
        "pin",
        (("pin_diameter", "101.6"), ("rope_diameter", "19.05")),
    ),
    "soft_eye_base_distance": Note(
        (("p > 0", _READ), ("L > p", "the eye is longer than its pin is thick, or it is refused")),
        "nearest",
        _NEAREST,
        "pin",
        (("inside_length", "228.6"), ("pin_diameter", "101.6")),
    ),
    "pulley_radius": Note(
        (("D > 0", _READ), ("d > 0", _READ)),
        "nearest",
        _NEAREST,
        "pulley",
        (("tread_diameter", "304.8"), ("rope_diameter", "19.05")),
    ),
    "reach": Note(
        (("a > 0", _REFUSED), ("r > 0", _READ)),
        "nearest",
        _NEAREST,
        "thimble",
        (("base_distance", "96.8375"), ("bearing_radius", "30.1625")),
    ),
    "turn_back_for_spacing": Note(
        (("n >= 1", "a count is one or more"), *_CLIP_HOLDS),
        "exact",
        _WHOLE + " A least spacing that is no whole number of nanometres was rounded up before.",
        "layout",
        (_CLIPS[0], ("n", "4"), _CLIPS[1]),
    ),
    "spacing_in_turn_back": Note(
        (("n >= 2", "one clip has no spacing, and a plan says so"), ("T - 2*b >= (n - 1)*b", _CLIP_HOLDS[1][1])),
        "up",
        _UP,
        "layout",
        (("turn_back", "460"), ("b", "57.15"), ("n", "4")),
    ),
    "overlap_for_spacing": Note(
        (("n >= 2", "a lap splice has twice the clips of an eye"), *_CLIP_HOLDS),
        "exact",
        _WHOLE + " The overlap is twice the turn-back where that is longer.",
        "splice",
        (_CLIPS[0], ("total", "8"), _CLIPS[1]),
    ),
    "spacing_in_overlap": Note(
        (("n >= 2", "a lap splice has twice the clips of an eye"), ("T - 3*b >= (n - 1)*b", _CLIP_HOLDS[1][1])),
        "up",
        _UP,
        "splice",
        (("overlap", "1000"), ("b", "57.15"), ("total", "8")),
    ),
    "near_edge": Note(_PLACE_HOLDS, "exact", _PLACES, "layout", _PLACE),
    "saddle_centre": Note(_PLACE_HOLDS, "exact", _PLACES, "layout", _PLACE),
    "far_edge": Note(_PLACE_HOLDS, "exact", _PLACES, "layout", _PLACE),
    "clear_gap": Note(_CLIP_HOLDS, "exact", _WHOLE, "layout", _CLIPS),
    "turn_back_in_proportion": Note(
        (("T > 0", _READ), ("n >= 1", "a count is one or more"), ("m >= 1", "a turn-back is printed beside a count")),
        "up",
        "A plan rounds it up to a whole nanometre, once for each rule set, and takes the longest of them.",
        "",
        (("turn_back", "457.2"), ("count", "5"), ("printed_count", "4")),
    ),
    "strip_length_one_run": Note(
        (("T > 0", _READ), ("c > 0", "the rope in the eye is above zero")),
        "exact",
        _WHOLE + " A plan adds the same sum in place of calling the function; on the tape it is rounded up.",
        "layout",
        (("turn_back", "457.2"), ("rope_in_eye", "338.5")),
    ),
    "on_live_part": Note(
        (("0 <= x", _CALLER), ("x <= T", _CALLER), ("c > 0", "the rope in the eye is above zero")),
        "exact",
        _WHOLE,
        "layout",
        (("position", "85.725"), ("turn_back", "457.2"), ("rope_in_eye", "338.5")),
    ),
    "cut_length": Note(
        (
            ("S > r1 + r2", "the span is longer than both reaches, or it is refused"),
            ("r1 > 0", _READ),
            ("r2 > 0", _READ),
        ),
        "exact",
        _WHOLE + " On the tape it is rounded up; what that adds goes to the last dead end, never into the span.",
        "span",
        (
            ("span", "12000"),
            ("reach_a", "127"),
            ("reach_b", "127"),
            ("eye_a", "338.5"),
            ("eye_b", "338.5"),
            ("turn_back_a", "457.2"),
            ("turn_back_b", "457.2"),
        ),
    ),
    "breaking_force_by_grade": Note(
        (("K > 0", "read from a table with its citation"), ("d > 0", _READ), ("R > 0", "a grade in N/mm²")),
        "none",
        "It is computed as an exact fraction and turned into a float in newton. " + _FORCE,
        "",
        (("breaking_force_factor", "0.35"), ("rope_diameter", "20"), ("rope_grade", "1800")),
    ),
    "mass_by_factor": Note(
        (("W > 0", "read from a table with its citation"), ("d > 0", _READ)),
        "none",
        "It is computed as an exact fraction and turned into a float in kg/m.",
        "",
        (("mass_factor", "0.4"), ("rope_diameter", "20")),
    ),
    "metallic_area": Note(
        (("C > 0", _CALLER), ("d > 0", _CALLER)), "none", _UNUSED, "", (("area_factor", "0.4"), ("rope_diameter", "20"))
    ),
    "termination_breaking_force": Note(
        (
            ("F > 0", "given, or read from a table with its citation"),
            ("0 < k", "read with its citation"),
            ("k <= 1", "the same"),
        ),
        "none",
        _FORCE + " It is what the joint breaks at, and is never to be loaded to.",
        "",
        (("minimum_breaking_force", "250000"), ("efficiency", "0.8")),
    ),
    "working_load": Note(
        (
            ("F > 0", "a breaking force that a source stands behind"),
            ("Z >= 1", "a factor below the cited one is refused"),
        ),
        "none",
        _FORCE + " A plan divides in place of calling the function; the batch calls it.",
        "",
        (("breaking_force", "200000"), ("design_factor", "5")),
    ),
    "rope_tension_with_acceleration": Note(
        (("W >= 0", _CALLER), ("w >= 0", _CALLER), ("l >= 0", _CALLER), ("a > -g", _CALLER), ("g > 0", _CALLER)),
        "none",
        _UNUSED,
        "",
        (
            ("load", "9000"),
            ("weight_per_length", "15"),
            ("length", "60"),
            ("acceleration", "1.5"),
            ("gravity", "9.80665"),
        ),
    ),
    "rule_of_thumb_short_tons": Note(
        (("D > 0", _CALLER),),
        "none",
        "A cross-check for the head, never a rating. " + _UNUSED,
        "",
        (("rope_diameter", "0.75"),),
    ),
    "rule_of_thumb_kilograms": Note(
        (("D > 0", _CALLER),),
        "none",
        "A cross-check for the head, never a rating. " + _UNUSED,
        "",
        (("rope_diameter", "20"),),
    ),
    "belt_tension_ratio": Note(
        (("mu >= 0", _CALLER), ("theta >= 0", _CALLER)), "none", _UNUSED, "", (("friction", "0.15"), ("angle", "3.5"))
    ),
    "torque_for_preload": Note(
        (("K > 0", _CALLER), ("F >= 0", _CALLER), ("d > 0", _CALLER)),
        "none",
        "It explains a torque and sets none: the torque of a clip comes from its source. " + _UNUSED,
        "",
        (("nut_factor", "0.2"), ("preload", "20000"), ("thread_diameter", "0.016")),
    ),
}
