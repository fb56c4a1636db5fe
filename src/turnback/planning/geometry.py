"""The eye of a plan: radius, base, rope in the eye, included angle, reach.

The formulas stand in :mod:`turnback.mechanics.eye`; here are the choices of diameters, the domain checks and the one
rounding to nanometres.
"""

from __future__ import annotations

import math
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.mechanics import (
    base_distance_for_angle,
    base_point_distance,
    half_included_angle,
    leg_force,
    pulley_radius,
    reach,
    rope_in_eye,
    soft_eye_base_distance,
    soft_eye_radius,
    thimble_base_distance,
    thimble_radius,
)
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.quantities import Angle, Force, Length

__all__ = ["WIDE_ANGLE", "EyeGeometry", "eye_geometry"]

WIDE_ANGLE: Final = math.radians(60)
"""Included angle above which a plan carries a finding [rad]; twice it is refused."""

_NUDGE: Final = 1e-12
"""Relative slack of a comparison of angles that were typed in degrees and turned into radians [-]."""


@attrs.frozen
class EyeGeometry:
    """One eye, from its base to its bearing point.

    Args:
        radius: Radius of the rope's centre line [length].
        base_distance: From the centre of the circle to the base [length].
        parts_apart: Between the centre lines of the two parts at the base [length].
        rope_in_eye: Length of rope from base to base [length].
        included_angle: Angle between the two parts at the base [angle].
        reach: From the base to the bearing point [length].
    """

    radius: Length | Absent
    base_distance: Length | Absent
    parts_apart: Length | Absent
    rope_in_eye: Length | Absent
    included_angle: Angle | Absent
    reach: Length | Absent

    def leg_force(self, load: Force) -> Force | Absent:
        """Return the force in each part of the eye under a load on the termination.

        Args:
            load: Load on the termination [force].

        Returns:
            Force in each leg, or why it cannot be told.
        """
        if isinstance(self.included_angle, Absent):
            return self.included_angle
        return Force(leg_force(load.newtons, self.included_angle.radians / 2, math))


def eye_geometry(rope: Rope, termination: Termination) -> EyeGeometry:
    """Compute the eye of a termination; of linked eyes, the first.

    Args:
        rope: The rope.
        termination: The termination with its dimensions.

    Returns:
        The eye; what a missing dimension keeps from being computed is absent with the reason.

    Raises:
        InputError: The eye is too short for what it is laid round, or its parts meet at 120 degrees or more.
    """
    bare = rope.diameter.nanometres
    coating = rope.coating
    around = under = bare
    if coating is not None:
        around = bare if coating.stripped and coating.eye_stripped else coating.finished_diameter.nanometres
        under = bare if coating.stripped else coating.finished_diameter.nanometres
    if isinstance(termination, LinkedEyes):
        termination = termination.first
    apart = under
    if isinstance(termination, PlateEye):
        if termination.parts_apart is not None and termination.parts_apart.nanometres < under:
            raise InputError(
                "two parts of a rope cannot lie closer than their own diameter",
                field="parts_apart",
                value=str(termination.parts_apart),
                bound=f"at least {Length(under)}",
                instead="Measure between the centre lines of the two parts inside the clip.",
            )
        apart = termination.parts_apart.nanometres if termination.parts_apart is not None else under
        termination = termination.around
    if isinstance(termination, ThimbleEye):
        return _thimble(termination, float(around), float(apart))
    if isinstance(termination, SoftEye):
        return _soft(termination, float(around), float(apart))
    if isinstance(termination, PulleyEye):
        return _pulley(termination, float(around), float(apart))
    return _nothing(f"a {termination.kind} has no eye")


def _nothing(reason: str) -> EyeGeometry:
    names = ("radius", "base_distance", "parts_apart", "rope_in_eye", "included_angle", "reach")
    absent = [Absent(name, reason) for name in names]
    return EyeGeometry(*absent)


def _thimble(eye: ThimbleEye, around: float, apart: float) -> EyeGeometry:
    if eye.inside_length is None or eye.inside_width is None:
        return _nothing("the thimble's inside length or inside width was not given")
    length, width = eye.inside_length.nanometres, eye.inside_width.nanometres
    if eye.groove_offset is None:
        reason = "the thimble's groove offset (bearing surface to bottom of the groove) was not given"
        part = _nothing(reason)
        base = Length.nearest(thimble_base_distance(float(length), float(width)))
        return attrs.evolve(part, base_distance=base, parts_apart=Length.nearest(apart), reach=eye.inside_length)
    radius = thimble_radius(float(width), float(eye.groove_offset.nanometres), around)
    a = thimble_base_distance(float(length), float(width))
    return _closed(radius, a, apart, float(width) / 2, "inside_length", eye.inside_length)


def _soft(eye: SoftEye, around: float, apart: float) -> EyeGeometry:
    if eye.pin is None or eye.length is None:
        return _nothing("the diameter of the pin or the length of the eye was not given")
    pin = float(eye.pin.nanometres)
    a = soft_eye_base_distance(float(eye.length.nanometres), pin)
    return _closed(soft_eye_radius(pin, around), a, apart, pin / 2, "length", eye.length)


def _pulley(eye: PulleyEye, around: float, apart: float) -> EyeGeometry:
    if eye.tread_diameter is None:
        return _nothing("the tread diameter of the pulley was not given")
    tread = float(eye.tread_diameter.nanometres)
    radius = pulley_radius(tread, around)
    angle = WIDE_ANGLE if eye.included_angle is None else eye.included_angle.radians
    if radius * math.cos(angle / 2) <= apart / 2:
        # The legs would run backwards, and the eye would close at another angle than the one that was asked for.
        raise InputError(
            "the parts meet before they leave the pulley: it is too small for its rope at this angle",
            field="tread_diameter",
            value=f"{eye.tread_diameter} at {math.degrees(angle):.1f} degrees",
            bound=f"more than {Length.nearest(apart / math.cos(angle / 2) - around)}",
            instead="Take a larger pulley or a smaller angle.",
        )
    a = base_distance_for_angle(radius, apart, angle / 2, math)
    return _closed(radius, a, apart, tread / 2, "tread_diameter", eye.tread_diameter)


def _closed(radius: float, a: float, apart: float, bearing: float, field: str, given: Length) -> EyeGeometry:
    if a <= 0 or base_point_distance(a, apart, math) <= radius:
        raise InputError(
            "the eye is too short for what it is laid round: its base lies inside the circle of the rope",
            field=field,
            value=str(given),
            bound=f"the base must lie more than {Length.nearest(radius)} from the centre of the eye",
            instead="Measure from the bearing point to the base of the eye, where the two parts come together.",
        )
    half = half_included_angle(radius, a, apart, math)
    if abs(2 * half) >= 2 * WIDE_ANGLE * (1 - _NUDGE):
        raise InputError(
            "the two parts of the eye come together at too wide an angle",
            field=field,
            value=f"{math.degrees(2 * half):.1f} degrees",
            bound="below 120 degrees; common practice is 60 degrees or less",
            instead="Make the eye longer.",
        )
    return EyeGeometry(
        radius=Length.nearest(radius),
        base_distance=Length.nearest(a),
        parts_apart=Length.nearest(apart),
        rope_in_eye=Length.nearest(rope_in_eye(radius, a, apart, math)),
        included_angle=Angle(2 * half),
        reach=Length.nearest(reach(a, bearing)),
    )
