"""The formulas of the eye as printed text; a test derives each from the function in ``eye``."""

from __future__ import annotations

from turnback.mechanics.formula import Formula, Symbol

__all__ = ["EYE_FORMULAS"]

_RADIUS = Symbol("R", "radius", "radius of the rope's centre line", "mm")
_BASE = Symbol("a", "a", "distance from the centre of the circle to the base of the eye", "mm")
_APART = Symbol("e", "e", "distance between the centre lines of the two parts at the base", "mm")
_HALF_ANGLE = Symbol("B", "half_angle", "half of the angle that the legs enclose", "rad")
_EYE_SHAPE = (_RADIUS, _BASE, _APART)
_ROPE = Symbol("d", "rope_diameter", "diameter of the rope", "mm")
_PIN = Symbol("p", "pin_diameter", "diameter of the pin", "mm")
_INSIDE_LENGTH = Symbol("L", "inside_length", "inside length", "mm")
_INSIDE_WIDTH = Symbol("w", "inside_width", "inside width", "mm")

_LEG = "sqrt((a - R)*(a + R) + e*e/4)"
_HALF_ARC = f"pi/2 + atan((2*a*R - e*{_LEG})/(2*a*{_LEG} + e*R))"

_TANGENT = "Tangents to a circle from two points: plane geometry."
_MEASURE = "Follows from where the dimension is measured."

EYE_FORMULAS = (
    Formula(
        "base_point_distance",
        "distance from the centre of the circle to a base point",
        "mm",
        "sqrt(a*a + e*e/4)",
        (_BASE, _APART),
        "Theorem of Pythagoras.",
    ),
    Formula("leg", "length of one straight leg", "mm", _LEG, _EYE_SHAPE, _TANGENT),
    Formula(
        "half_arc_angle",
        "half of the angle over which the rope lies on the circle",
        "rad",
        _HALF_ARC,
        _EYE_SHAPE,
        _TANGENT,
    ),
    Formula(
        "contact_angle",
        "angle over which the rope lies on the circle",
        "rad",
        f"2*({_HALF_ARC})",
        _EYE_SHAPE,
        _TANGENT,
    ),
    Formula("rope_in_eye", "rope in the eye", "mm", f"2*{_LEG} + 2*R*({_HALF_ARC})", _EYE_SHAPE, _TANGENT),
    Formula(
        "half_included_angle",
        "half of the angle that the legs enclose",
        "rad",
        "asin(R/sqrt(a*a + e*e/4)) - atan(e/(2*a))",
        _EYE_SHAPE,
        _TANGENT,
    ),
    Formula(
        "base_distance_for_angle",
        "distance from the centre of the circle to the base of the eye",
        "mm",
        "(R - e/2*cos(B))/sin(B)",
        (_RADIUS, _APART, _HALF_ANGLE),
        _TANGENT,
    ),
    Formula(
        "least_base_distance",
        "distance from the centre of the circle at which the legs vanish",
        "mm",
        "sqrt((R - e/2)*(R + e/2))",
        (_RADIUS, _APART),
        "Theorem of Pythagoras.",
    ),
    Formula(
        "leg_force",
        "force in each leg of the eye",
        "N",
        "F/(2*cos(B))",
        (Symbol("F", "load", "load on the eye", "N"), _HALF_ANGLE),
        "Statics: equilibrium along the axis of the eye.",
    ),
    Formula(
        "thimble_radius",
        "radius of the rope's centre line round the thimble",
        "mm",
        "w/2 + g + d/2",
        (
            _INSIDE_WIDTH,
            Symbol("g", "groove_offset", "distance from the bearing surface to the bottom of the groove", "mm"),
            _ROPE,
        ),
        _MEASURE,
    ),
    Formula(
        "thimble_base_distance",
        "distance from the centre of the thimble's round end to the base of the eye",
        "mm",
        "L - w/2",
        (_INSIDE_LENGTH, _INSIDE_WIDTH),
        _MEASURE,
    ),
    Formula(
        "soft_eye_radius",
        "radius of the rope's centre line round the pin",
        "mm",
        "(p + d)/2",
        (_PIN, _ROPE),
        _MEASURE,
    ),
    Formula(
        "soft_eye_base_distance",
        "distance from the centre of the pin to the base of the eye",
        "mm",
        "L - p/2",
        (_INSIDE_LENGTH, _PIN),
        _MEASURE,
    ),
    Formula(
        "pulley_radius",
        "radius of the rope's centre line on the pulley",
        "mm",
        "(D + d)/2",
        (Symbol("D", "tread_diameter", "diameter of the pulley at the bottom of its groove", "mm"), _ROPE),
        _MEASURE,
    ),
    Formula(
        "reach",
        "distance from the base of the eye to its bearing point",
        "mm",
        "a + r",
        (
            Symbol("a", "base_distance", "distance from the centre of the circle to the base of the eye", "mm"),
            Symbol("r", "bearing_radius", "radius of the bearing surface", "mm"),
        ),
        _MEASURE,
    ),
)
