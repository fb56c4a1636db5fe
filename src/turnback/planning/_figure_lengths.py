"""What a figure draws, in millimetres: the plan's own lengths, and stand-ins where one is absent, marked as such."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import attrs

from turnback.model.absent import Absent
from turnback.model.layout import Layout, SaddleOn
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning._figure_eyes import DrawnEye, drawn_eye, mm, under_clips
from turnback.quantities import SIXTY_FOURTH, Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["DrawnClip", "Lengths", "lengths_of", "short", "taped"]


# Proportions of what stands in for a dimension that was not given, in rope diameters. They are a sign, not a size.
_BASE: Final = 2.0
_PITCH: Final = 5.0


class DrawnClip(NamedTuple):
    """One clip as it is drawn, from the dead end [mm]."""

    number: int
    near: float
    far: float
    saddle_on: SaddleOn


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
    d, coating = mm(under_clips(plan)), plan.request.rope.coating
    splice = plan.layout_demand.splice
    apart = d
    eye = linked = None
    if isinstance(termination, LinkedEyes):
        pair = (termination.first, termination.second)
        own, other = pair if plan.second_eye is not None else pair[::-1]
        eye = drawn_eye(own, plan.geometry, plan, d)
        linked = drawn_eye(other, plan.second_eye or plan.geometry, plan, d)
    elif isinstance(termination, PlateEye):
        apart = d if termination.parts_apart is None else mm(termination.parts_apart)
        eye = drawn_eye(termination.around, plan.geometry, plan, apart)
    elif isinstance(termination, ThimbleEye | SoftEye | PulleyEye):
        eye = drawn_eye(termination, plan.geometry, plan, d)
    known = isinstance(layout.turn_back, Length)
    if isinstance(layout.turn_back, Length):
        turn_back = mm(layout.turn_back)
    elif plan.style.in_series:
        turn_back = d * (2 * _BASE + _PITCH * (plan.clip_count - 1))
    else:
        end = 2 * d if isinstance(layout.end_distance, Absent) else mm(layout.end_distance)
        turn_back = end + 3 * _BASE * d
    return Lengths(
        diameter=d,
        bare=mm(plan.request.rope.diameter),
        finished=mm(plan.request.rope.diameter if coating is None else coating.finished_diameter),
        apart=apart,
        turn_back=turn_back,
        known=known,
        clips=_clips(plan, layout, turn_back, d),
        measured=bool(layout.clips),
        eye=eye,
        linked=linked,
        splice=splice,
    )


def _clips(plan: Plan, layout: Layout, turn_back: float, d: float) -> tuple[DrawnClip, ...]:
    if layout.clips:
        return tuple(
            DrawnClip(clip.number, mm(clip.near_edge), mm(clip.far_edge), clip.saddle_on) for clip in layout.clips
        )
    if not plan.style.in_series:
        end = 2 * d if isinstance(layout.end_distance, Absent) else mm(layout.end_distance)
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
