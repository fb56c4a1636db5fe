"""The eye that a figure draws, in millimetres: the plan's own, or a stand-in where a dimension is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

import attrs

from turnback.model.absent import Absent
from turnback.model.terminations import PulleyEye, SoftEye, ThimbleEye
from turnback.planning.geometry import EyeGeometry
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["DrawnEye", "drawn_eye", "mm", "stand_in_eye", "under_clips"]


Around = Literal["thimble", "pin", "pulley"]


_GROOVE: Final = 0.25
_LONG_ENOUGH: Final = 1.25
"""From the centre of an eye to its base, in radii, where a stand-in would leave no room for the legs."""


@attrs.frozen
class DrawnEye:
    """One eye as it is drawn [mm].

    Args:
        around: What it is laid round.
        radius: Radius of the rope's centre line.
        base: From the centre to the base of the eye.
        apart: Between the centre lines of both parts at the base.
        rope: Diameter of the rope in the eye, its coating included where it stays there.
        bearing: Radius of what the rope bears on.
        opening: Length inside a thimble, from its bearing point to its point; 0 for others.
        missing: What is not to scale and why; empty where everything is.
    """

    around: Around
    radius: float
    base: float
    apart: float
    rope: float
    bearing: float
    opening: float
    missing: str = ""

    @property
    def length(self) -> float:
        """From the base to the outside of the rope at the crown [mm]."""
        return self.base + self.radius + self.rope / 2


def under_clips(plan: Plan) -> Length:
    """Return the diameter of the rope where the clips sit, whatever diameter their size goes by."""
    rope = plan.request.rope
    return rope.diameter if rope.coating is None or rope.coating.stripped else rope.coating.finished_diameter


def mm(length: Length) -> float:
    """Return a length as a number [mm]."""
    return length.nanometres / 1e6


def drawn_eye(made: ThimbleEye | SoftEye | PulleyEye, geometry: EyeGeometry, plan: Plan, apart: float) -> DrawnEye:
    d = mm(under_clips(plan))
    coating = plan.request.rope.coating
    bare = coating is None or (coating.stripped and coating.eye_stripped)
    rope = d if bare or coating is None else mm(coating.finished_diameter)
    known = not isinstance(geometry.radius, Absent) and not isinstance(geometry.base_distance, Absent)
    around, bearing, opening, why = _hardware(made, rope)
    if known and isinstance(geometry.radius, Length) and isinstance(geometry.base_distance, Length):
        return DrawnEye(
            around, mm(geometry.radius), mm(geometry.base_distance), apart, rope, bearing, opening
        )  # fmt: skip
    radius = bearing + rope / 2 + (_GROOVE * rope if around == "thimble" else 0.0)
    base = opening - bearing if around == "thimble" else 2.2 * radius
    return DrawnEye(around, radius, max(base, _LONG_ENOUGH * radius), apart, rope, bearing, opening, why)


def _hardware(made: ThimbleEye | SoftEye | PulleyEye, rope: float) -> tuple[Around, float, float, str]:
    if isinstance(made, ThimbleEye):
        length, width = made.inside_length, made.inside_width
        if length is not None and width is not None:
            return "thimble", mm(width) / 2, mm(length), "the groove offset of the thimble was not given"
        why = "the inside length and width of the thimble were not given"
        return "thimble", 1.6 * rope, 5.4 * rope, why
    if isinstance(made, SoftEye):
        pin = 3 * rope if made.pin is None else mm(made.pin)
        return "pin", pin / 2, 0.0, "the pin or the length of the eye was not given"
    tread = 8 * rope if made.tread_diameter is None else mm(made.tread_diameter)
    return "pulley", tread / 2, 0.0, "the tread diameter of the pulley was not given"


def stand_in_eye(eye: DrawnEye) -> DrawnEye:
    """Return a small eye in place of one that is too large to be drawn beside its rope.

    Args:
        eye: The eye.

    Returns:
        One of its kind, marked as not to scale.
    """
    bearing = min(eye.bearing, 3.5 * eye.rope)
    radius = bearing + eye.rope / 2
    why = "the eye is too large to be drawn beside its rope and clips"
    return attrs.evolve(
        eye, radius=radius, base=1.9 * radius, bearing=bearing, opening=1.9 * radius + bearing, missing=why
    )
