"""Geometry of an eye, one equation a function.

One shape serves all eyes. The rope's centre line follows a circle of radius R and leaves it along two straight legs to
the base of the eye, where the two centre lines run e apart. The centre of the circle lies at (0, 0), the crown at
(-R, 0), the base points at (a, e/2) and (a, -e/2). R is ``radius``, q the distance from the centre of the circle to a
base point, and B, ``half_angle``, half of the angle that the legs enclose.

Lengths are in one unit throughout, written [mm] here; whole nanometres as floats lose nothing. Angles are in [rad].
Nothing is checked, rounded or branched upon: the caller keeps to the stated domain. Outside it ``math`` raises,
``numpy`` warns and ``mpmath`` turns complex.
"""

from __future__ import annotations

from typing import TypeVar

from turnback.mechanics.functions import Divisible, Functions, Real

__all__ = [
    "base_distance_for_angle",
    "base_point_distance",
    "contact_angle",
    "half_arc_angle",
    "half_included_angle",
    "least_base_distance",
    "leg",
    "leg_force",
    "pulley_radius",
    "reach",
    "rope_in_eye",
    "soft_eye_base_distance",
    "soft_eye_radius",
    "thimble_base_distance",
    "thimble_radius",
]

D = TypeVar("D", bound=Divisible)
R = TypeVar("R", bound=Real)


def base_point_distance(a: R, e: R, f: Functions[R]) -> R:
    """Distance q from the centre of the circle to a base point.

    Theorem of Pythagoras.

    Args:
        a: Distance from the centre of the circle to the base of the eye [mm].
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        q [mm].
    """
    return f.sqrt(a * a + e * e / 4)


def leg(radius: R, a: R, e: R, f: Functions[R]) -> R:
    """Length of one straight leg, from the circle to a base point.

    Tangent to a circle from a point outside: q*q - R*R, with the difference of the squares of a and R written as a
    product, which keeps its digits where the base lies close to the circle.

    Args:
        radius: Radius R of the rope's centre line [mm].
        a: Distance from the centre of the circle to the base of the eye [mm], more than ``least_base_distance``.
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        Length [mm].
    """
    return f.sqrt((a - radius) * (a + radius) + e * e / 4)


def half_arc_angle(radius: R, a: R, e: R, f: Functions[R]) -> R:
    """Half of the angle over which the rope lies on the circle.

    From the crown to the point of tangency: pi - atan(e/(2a)) - acos(R/q). The last angle is atan(leg/R) in the same
    right triangle, for an arc cosine loses half its digits where the legs become short; pi/2 less it is atan(R/leg).
    The difference of two arc tangents between 0 and pi/2 is one arc tangent by the addition theorem, with nothing to
    be told apart, for 2 a leg + e R is above zero; one takes half the time of two.

    Args:
        radius: Radius R of the rope's centre line [mm].
        a: Distance from the centre of the circle to the base of the eye [mm], more than ``least_base_distance``.
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        Angle [rad].
    """
    return _half_arc(leg(radius, a, e, f), radius, a, e, f)


def _half_arc(straight: R, radius: R, a: R, e: R, f: Functions[R]) -> R:
    """The same from the length of the leg, so that whoever needs both takes one square root."""
    return f.pi / 2 + f.atan((2 * a * radius - e * straight) / (2 * a * straight + e * radius))


def contact_angle(radius: R, a: R, e: R, f: Functions[R]) -> R:
    """Angle over which the rope lies on the pulley, pin or thimble.

    Both halves, which are alike. 240 degrees where the legs meet in a point at 60 degrees.

    Args:
        radius: Radius R of the rope's centre line [mm].
        a: Distance from the centre of the circle to the base of the eye [mm], more than ``least_base_distance``.
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        Angle [rad].
    """
    return 2 * half_arc_angle(radius, a, e, f)


def rope_in_eye(radius: R, a: R, e: R, f: Functions[R]) -> R:
    """Length of rope in the eye, along its centre line from base point to base point.

    Two legs and the arc between them. With e = 0 it is half of the textbook's open belt with the small pulley shrunk
    to a point. Floats give it to 4 units in the last place, however short the legs: leg and arc err together, because
    the arc is computed from the leg, and the errors cancel.

    Args:
        radius: Radius R of the rope's centre line [mm].
        a: Distance from the centre of the circle to the base of the eye [mm], more than ``least_base_distance``.
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        Length [mm].
    """
    return _rope(leg(radius, a, e, f), radius, a, e, f)


def _rope(straight: R, radius: R, a: R, e: R, f: Functions[R]) -> R:
    """The same from the length of the leg."""
    return 2 * straight + 2 * radius * _half_arc(straight, radius, a, e, f)


def half_included_angle(radius: R, a: R, e: R, f: Functions[R]) -> R:
    """Half of the angle B that the two legs enclose.

    The tangent's angle with the line to the centre, less that line's angle with the axis of the eye. Floats give it to
    1e-15 rad up to 60 degrees; beyond, the arc sine loses digits as the legs become short.

    Args:
        radius: Radius R of the rope's centre line [mm].
        a: Distance from the centre of the circle to the base of the eye [mm], more than ``least_base_distance``.
        e: Distance between the centre lines of the two parts at the base [mm].
        f: Functions to compute with.

    Returns:
        Angle B [rad].
    """
    return f.asin(radius / base_point_distance(a, e, f)) - f.atan(e / (2 * a))


def base_distance_for_angle(radius: R, e: R, half_angle: R, f: Functions[R]) -> R:
    """Distance from the centre of the circle to the base at which the legs enclose a wanted angle.

    The inverse of ``half_included_angle``: the centre lies R from the line of either leg.

    Args:
        radius: Radius R of the rope's centre line [mm].
        e: Distance between the centre lines of the two parts at the base [mm].
        half_angle: Half of the wanted included angle, B [rad], more than 0 and less than pi/2.
        f: Functions to compute with.

    Returns:
        Distance a [mm].
    """
    return (radius - e / 2 * f.cos(half_angle)) / f.sin(half_angle)


def least_base_distance(radius: R, e: R, f: Functions[R]) -> R:
    """Distance from the centre of the circle at which a base point lies on the circle itself and the legs vanish.

    Legs exist where the base lies farther out than this. Where e is twice R or more they always exist, and this
    distance is not to be asked for.

    Args:
        radius: Radius R of the rope's centre line [mm].
        e: Distance between the centre lines of the two parts at the base [mm], no more than twice R.
        f: Functions to compute with.

    Returns:
        Distance a [mm] at which q = R.
    """
    return f.sqrt((radius - e / 2) * (radius + e / 2))


def leg_force(load: R, half_angle: R, f: Functions[R]) -> R:
    """Force in each leg of the eye under a load along its axis, without friction on the pin.

    Statics: the two legs share the load, each at B from its line.

    Args:
        load: Load on the eye [N].
        half_angle: Half of the included angle, B [rad], less than pi/2.
        f: Functions to compute with.

    Returns:
        Force [N].
    """
    return load / (2 * f.cos(half_angle))


def thimble_radius(inside_width: D, groove_offset: D, rope_diameter: D) -> D:
    """Radius R of the rope's centre line round a thimble.

    Half the inside width, out to the bottom of the groove, and half a rope.

    Args:
        inside_width: Inside width of the thimble, where the pin bears [mm].
        groove_offset: Distance from the bearing surface to the bottom of the groove [mm].
        rope_diameter: Diameter of the rope as it lies in the groove, with any coating that stays on [mm].

    Returns:
        Radius R [mm].
    """
    return inside_width / 2 + groove_offset + rope_diameter / 2


def thimble_base_distance(inside_length: D, inside_width: D) -> D:
    """Distance from the centre of a thimble's round end to the base of the eye, taken at the thimble's point.

    The inside length runs from the bearing point to the point of the thimble; the centre lies half the inside width in.

    Args:
        inside_length: Inside length of the thimble [mm].
        inside_width: Inside width of the thimble [mm].

    Returns:
        Distance a [mm].
    """
    return inside_length - inside_width / 2


def soft_eye_radius(pin_diameter: D, rope_diameter: D) -> D:
    """Radius R of the rope's centre line round the pin of an eye without thimble.

    Half a pin and half a rope.

    Args:
        pin_diameter: Diameter of the pin [mm].
        rope_diameter: Diameter of the rope as it lies on the pin, with any coating that stays on [mm].

    Returns:
        Radius R [mm].
    """
    return (pin_diameter + rope_diameter) / 2


def soft_eye_base_distance(inside_length: D, pin_diameter: D) -> D:
    """Distance from the centre of the pin to the base of a soft eye.

    The inside length runs from the point where the pin bears on the rope to the base of the eye, with the pin in place;
    the centre of the pin lies half a pin in.

    Args:
        inside_length: Inside length of the eye [mm].
        pin_diameter: Diameter of the pin [mm].

    Returns:
        Distance a [mm].
    """
    return inside_length - pin_diameter / 2


def pulley_radius(tread_diameter: D, rope_diameter: D) -> D:
    """Radius R of the rope's centre line on a pulley.

    Half the diameter at the bottom of the groove and half a rope.

    Args:
        tread_diameter: Diameter of the pulley at the bottom of its groove [mm].
        rope_diameter: Diameter of the rope as it lies in the groove, with any coating that stays on [mm].

    Returns:
        Radius R [mm].
    """
    return (tread_diameter + rope_diameter) / 2


def reach(base_distance: D, bearing_radius: D) -> D:
    """Distance from the base of the eye to the point where the eye bears on its pin.

    From the base to the centre of the circle and on to the bearing surface.

    Args:
        base_distance: Distance a from the centre of the circle to the base of the eye [mm].
        bearing_radius: Radius of the bearing surface: half a thimble's inside width, half a pin, half a pulley's tread
            diameter [mm].

    Returns:
        Distance [mm].
    """
    return base_distance + bearing_radius
