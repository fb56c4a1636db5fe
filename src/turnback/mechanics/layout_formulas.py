"""The formulas of the layout as printed text; a test derives each from the function in ``layout``."""

from __future__ import annotations

from turnback.mechanics.formula import Formula, Symbol

__all__ = ["LAYOUT_FORMULAS"]

_CLIP = Symbol("b", "b", "base width of a clip", "mm")
_COUNT = Symbol("n", "n", "number of clips", "-")
_TOTAL = Symbol("n", "total", "number of clips in the lap splice", "-")
_SPACING = Symbol("s", "s", "spacing of the clips, centre to centre", "mm")
_PLACE = Symbol("i", "i", "clips between this one and the dead end", "-")
_TURN_BACK = Symbol("T", "turn_back", "turn-back", "mm")
_IN_EYE = Symbol("c", "rope_in_eye", "rope in the eye", "mm")

_SUM = "Sum of the parts along the rope."
_COMMON_LAYOUT = "Layout from the dead end: one base width, the clips, the last saddle's edge at the base of the eye."
_LAP_LAYOUT = "Layout from either dead end: one base width, then the clips."

LAYOUT_FORMULAS = (
    Formula("turn_back_for_spacing", "turn-back", "mm", "2*b + (n - 1)*s", (_CLIP, _COUNT, _SPACING), _COMMON_LAYOUT),
    Formula(
        "spacing_in_turn_back",
        "spacing of the clips, centre to centre",
        "mm",
        "(T - 2*b)/(n - 1)",
        (_TURN_BACK, _CLIP, _COUNT),
        _COMMON_LAYOUT,
    ),
    Formula(
        "overlap_for_spacing",
        "overlap of the lap splice",
        "mm",
        "3*b + (n - 1)*s",
        (_CLIP, _TOTAL, _SPACING),
        _LAP_LAYOUT,
    ),
    Formula(
        "spacing_in_overlap",
        "spacing of the clips, centre to centre",
        "mm",
        "(T - 3*b)/(n - 1)",
        (Symbol("T", "overlap", "overlap of the lap splice", "mm"), _CLIP, _TOTAL),
        _LAP_LAYOUT,
    ),
    Formula("near_edge", "edge nearer to the dead end", "mm", "b + i*s", (_PLACE, _CLIP, _SPACING), _COMMON_LAYOUT),
    Formula("saddle_centre", "centre of a clip", "mm", "b + i*s + b/2", (_PLACE, _CLIP, _SPACING), _COMMON_LAYOUT),
    Formula(
        "far_edge", "edge farther from the dead end", "mm", "b + i*s + b", (_PLACE, _CLIP, _SPACING), _COMMON_LAYOUT
    ),
    Formula(
        "clear_gap",
        "clear distance between neighbouring clips",
        "mm",
        "s - b",
        (_CLIP, _SPACING),
        "Follows from where the dimension is measured.",
    ),
    Formula(
        "turn_back_in_proportion",
        "turn-back",
        "mm",
        "T*n/m",
        (
            Symbol("T", "turn_back", "turn-back that the source prints", "mm"),
            Symbol("n", "count", "number of clips", "-"),
            Symbol("m", "printed_count", "number of clips that the source prints", "-"),
        ),
        "In proportion to the number of clips.",
    ),
    Formula("strip_length_one_run", "length to strip", "mm", "2*T + c", (_TURN_BACK, _IN_EYE), _SUM),
    Formula(
        "on_live_part",
        "place on the live part, along the rope from the dead end",
        "mm",
        "2*T + c - x",
        (Symbol("x", "position", "position on the dead part, from the dead end", "mm"), _TURN_BACK, _IN_EYE),
        _SUM,
    ),
    Formula(
        "cut_length",
        "length of rope to cut",
        "mm",
        "S - r1 - r2 + c1 + c2 + T1 + T2",
        (
            Symbol("S", "span", "distance between the bearing points", "mm"),
            Symbol("r1", "reach_a", "reach of the first eye, base to bearing point", "mm"),
            Symbol("r2", "reach_b", "reach of the second eye, base to bearing point", "mm"),
            Symbol("c1", "eye_a", "rope in the first eye", "mm"),
            Symbol("c2", "eye_b", "rope in the second eye", "mm"),
            Symbol("T1", "turn_back_a", "turn-back at the first eye", "mm"),
            Symbol("T2", "turn_back_b", "turn-back at the second eye", "mm"),
        ),
        _SUM,
    ),
)
