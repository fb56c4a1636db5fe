"""What a figure draws, in millimetres: the plan's own lengths, and stand-ins where one is absent, marked as such."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, NamedTuple

import attrs

from turnback.model.absent import Absent
from turnback.model.layout import Layout, SaddleOn
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning.geometry import EyeGeometry
from turnback.quantities import SIXTY_FOURTH, Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["DrawnClip", "DrawnEye", "Lengths", "lengths_of", "short", "stand_in_eye", "taped"]

Around = Literal["thimble", "pin", "pulley"]

# Proportions of what stands in for a dimension that was not given, in rope diameters. They are a sign, not a size.
_BASE: Final = 2.0
_PITCH: Final = 5.0
_GROOVE: Final = 0.25
_LONG_ENOUGH: Final = 1.25
"""From the centre of an eye to its base, in radii, where a stand-in would leave no room for the legs."""


class DrawnClip(NamedTuple):
    """One clip as it is drawn, from the dead end [mm]."""

    number: int
    near: float
    far: float
    saddle_on: SaddleOn


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


@attrs.frozen
class Lengths:
    """Everything that is drawn, from the dead end towards the eye [mm].

    Args:
        diameter: Of the rope under the clips.
        bare: Of the rope without its coating.
        finished: Of the rope with its coating, if it has one.
        apart: Between the centre lines of both parts.
        turn_back: From the dead end to the base of the eye; in a lap splice the overlap.
        known: Whether the turn-back is the plan's.
        clips: The clips.
        measured: Whether the clips stand where the plan has them.
        eye: The eye; None in a lap splice.
        linked: Of linked eyes the other eye, otherwise None.
        splice: Whether it is a lap splice.
    """

    diameter: float
    bare: float
    finished: float
    apart: float
    turn_back: float
    known: bool
    clips: tuple[DrawnClip, ...]
    measured: bool
    eye: DrawnEye | None
    linked: DrawnEye | None
    splice: bool


def taped(plan: Plan) -> Layout:
    """Return the layout that is drawn.

    Args:
        plan: The plan.

    Returns:
        That of the tape, which is what the procedure names; the exact one where no tape shows it.
    """
    return plan.layout if isinstance(plan.tape, Absent) else plan.tape.layout


def short(length: Length, plan: Plan) -> str:
    """Write a length in the one system that its rope is measured in.

    Args:
        length: The length.
        plan: The plan.

    Returns:
        Inches for an inch rope where they are exact on the tape, otherwise millimetres.
    """
    inch = plan.request.rope.diameter.nanometres % SIXTY_FOURTH.nanometres == 0
    return length.text("in" if inch and length.nanometres % SIXTY_FOURTH.nanometres == 0 else "mm")


def lengths_of(plan: Plan) -> Lengths:
    """Gather what is drawn.

    Args:
        plan: The plan.

    Returns:
        The lengths; what is absent has a stand-in.
    """
    layout, termination = taped(plan), plan.request.termination
    d, coating = _mm(plan.demand.seat), plan.request.rope.coating
    splice = plan.layout_demand.splice
    apart = d
    eye = linked = None
    if isinstance(termination, LinkedEyes):
        pair = (termination.first, termination.second)
        own, other = pair if plan.second_eye is not None else pair[::-1]
        eye = _eye(own, plan.geometry, plan, d)
        linked = _eye(other, plan.second_eye or plan.geometry, plan, d)
    elif isinstance(termination, PlateEye):
        apart = d if termination.parts_apart is None else _mm(termination.parts_apart)
        eye = _eye(termination.around, plan.geometry, plan, apart)
    elif isinstance(termination, ThimbleEye | SoftEye | PulleyEye):
        eye = _eye(termination, plan.geometry, plan, d)
    known = isinstance(layout.turn_back, Length)
    if isinstance(layout.turn_back, Length):
        turn_back = _mm(layout.turn_back)
    elif plan.style.in_series:
        turn_back = d * (2 * _BASE + _PITCH * (plan.clip_count - 1))
    else:
        end = 2 * d if isinstance(layout.end_distance, Absent) else _mm(layout.end_distance)
        turn_back = end + 3 * _BASE * d
    return Lengths(
        diameter=d,
        bare=_mm(plan.request.rope.diameter),
        finished=_mm(plan.request.rope.diameter if coating is None else coating.finished_diameter),
        apart=apart,
        turn_back=turn_back,
        known=known,
        clips=_clips(plan, layout, turn_back, d),
        measured=bool(layout.clips),
        eye=eye,
        linked=linked,
        splice=splice,
    )


def _mm(length: Length) -> float:
    return length.nanometres / 1e6


def _clips(plan: Plan, layout: Layout, turn_back: float, d: float) -> tuple[DrawnClip, ...]:
    if layout.clips:
        return tuple(
            DrawnClip(clip.number, _mm(clip.near_edge), _mm(clip.far_edge), clip.saddle_on) for clip in layout.clips
        )
    if not plan.style.in_series:
        end = 2 * d if isinstance(layout.end_distance, Absent) else _mm(layout.end_distance)
        return (DrawnClip(1, end, turn_back, "plates"),)
    count, splice = plan.clip_count, plan.layout_demand.splice
    base = min(_BASE * d, turn_back / (count + 3))
    last = turn_back - base * (2 if splice else 1)
    clips = []
    for i in range(count):
        near = last if count == 1 else base + (last - base) * i / (count - 1)
        saddle: SaddleOn = "both parts"
        if plan.style.wrong_way_round:
            saddle = "live part" if not splice else "rope B" if i < count // 2 else "rope A"
        clips.append(DrawnClip(i + 1, near, near + base, saddle))
    return tuple(clips)


def _eye(made: ThimbleEye | SoftEye | PulleyEye, geometry: EyeGeometry, plan: Plan, apart: float) -> DrawnEye:
    d = _mm(plan.demand.seat)
    coating = plan.request.rope.coating
    bare = coating is None or (coating.stripped and coating.eye_stripped)
    rope = d if bare or coating is None else _mm(coating.finished_diameter)
    known = not isinstance(geometry.radius, Absent) and not isinstance(geometry.base_distance, Absent)
    around, bearing, opening, why = _hardware(made, rope)
    if known and isinstance(geometry.radius, Length) and isinstance(geometry.base_distance, Length):
        return DrawnEye(
            around, _mm(geometry.radius), _mm(geometry.base_distance), apart, rope, bearing, opening
        )  # fmt: skip
    radius = bearing + rope / 2 + (_GROOVE * rope if around == "thimble" else 0.0)
    base = opening - bearing if around == "thimble" else 2.2 * radius
    return DrawnEye(around, radius, max(base, _LONG_ENOUGH * radius), apart, rope, bearing, opening, why)


def _hardware(made: ThimbleEye | SoftEye | PulleyEye, rope: float) -> tuple[Around, float, float, str]:
    if isinstance(made, ThimbleEye):
        length, width = made.inside_length, made.inside_width
        if length is not None and width is not None:
            return "thimble", _mm(width) / 2, _mm(length), "the groove offset of the thimble was not given"
        why = "the inside length and width of the thimble were not given"
        return "thimble", 1.6 * rope, 5.4 * rope, why
    if isinstance(made, SoftEye):
        pin = 3 * rope if made.pin is None else _mm(made.pin)
        return "pin", pin / 2, 0.0, "the pin or the length of the eye was not given"
    tread = 8 * rope if made.tread_diameter is None else _mm(made.tread_diameter)
    return "pulley", tread / 2, 0.0, "the tread diameter of the pulley was not given"


def stand_in_eye(eye: DrawnEye) -> DrawnEye:
    """Return a small eye in place of one that is too large to be drawn beside its rope.

    Args:
        eye: The eye.

    Returns:
        One of its kind, marked as not to scale.
    """
    bearing = 5.0 * eye.rope
    radius = bearing + eye.rope / 2
    why = "the eye is too large to be drawn beside its rope"
    return attrs.evolve(
        eye, radius=radius, base=1.9 * radius, bearing=bearing, opening=1.9 * radius + bearing, missing=why
    )
