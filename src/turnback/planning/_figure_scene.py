"""The termination itself: rope, eye and clips at their places. Its dimensions are drawn in another module."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from turnback.model.bounds import bounds_of
from turnback.model.figures import ClipPlace
from turnback.model.shapes import Circle, Group, Shape, Text
from turnback.planning._figure_around import hardware, linked_eye
from turnback.planning._figure_clip import drawn
from turnback.planning._figure_ends import break_lines
from turnback.planning._figure_eye import EyePlace, eye_place
from turnback.planning._figure_labels import SIZE, SMALL
from turnback.planning._figure_lengths import DrawnClip
from turnback.planning._figure_ropes import Ropes
from turnback.planning._figure_sheet import GAP, Sheet

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["NUMBER", "Scene", "number_disc", "scene_of", "under_live"]

NUMBER: Final = 10.0
"""Radius of the disc that holds the number of a clip [drawing units]."""


@attrs.frozen
class Scene:
    """What is drawn of the termination, and the room that it takes.

    Args:
        shapes: The shapes.
        axis: Height of the axis of the termination [drawing units].
        above: From the axis to the top of the hardware [drawing units].
        below: From the axis to the foot of the hardware [drawing units].
        half: From the axis to the centre line of either part [drawing units].
        eye: The eye on the page; None in a lap splice.
    """

    shapes: tuple[Shape, ...]
    axis: float
    above: float
    below: float
    half: float
    eye: EyePlace | None

    @property
    def numbers(self) -> float:
        """Height of the row of clip numbers."""
        return self.axis - self.above - NUMBER - 6


def scene_of(plan: Plan, sheet: Sheet, top: float, rows: float) -> Scene:
    """Draw the termination.

    Args:
        plan: The plan.
        sheet: Where everything lies.
        top: Where it may begin, from the top [drawing units].
        rows: Room for dimensions above the hardware [drawing units].

    Returns:
        The scene.
    """
    lengths = sheet.lengths
    half = lengths.apart * sheet.unit / 2
    above, below = _reach(plan, sheet, half)
    high = 0.0
    if lengths.eye is not None:
        high = (lengths.eye.radius + 1.4 * lengths.eye.rope) * sheet.unit
    axis = top + max(above + rows, high)
    eye = None if lengths.eye is None else eye_place(sheet, lengths.eye, axis)
    ropes = Ropes(plan, sheet, axis, half)
    shapes: list[Shape] = []
    if eye is not None:
        shapes.append(Group(tuple(hardware(eye)), eye.eye.around))
    shapes += ropes.splice_ropes() if eye is None else ropes.eye_ropes(eye)
    shapes += (_clip_group(plan, sheet, clip, axis, half) for clip in sheet.shown)
    shapes += _breaks(sheet, eye, axis, above, below)
    if eye is not None and lengths.linked is not None:
        shapes.append(Group(tuple(linked_eye(eye, lengths.linked)), "linked eye"))
    return Scene(tuple(shapes), axis, above, below, half, eye)


def _reach(plan: Plan, sheet: Sheet, half: float) -> tuple[float, float]:
    """Return how far the clips stand out above and below the axis, as their style draws them."""
    above = below = half + sheet.diameter / 2 + 2
    # The words beside the dead end stand above the coating of the live part, however thick it is.
    above = max(above, sheet.thickness / 2 - half + 14)
    for clip in sheet.shown:
        _, top, _, bottom = bounds_of(_clip(plan, sheet, clip, 0.0, half))
        above, below = max(above, -top), max(below, bottom)
    return above, below


def _clip(plan: Plan, sheet: Sheet, clip: DrawnClip, axis: float, half: float) -> tuple[Shape, ...]:
    way = -1 if clip.saddle_on == "rope A" else 1
    near, far = sheet.x(clip.near), sheet.x(clip.far)
    place = ClipPlace("side", (near + far) / 2, far - near, axis + way * half, axis - way * half, sheet.diameter)
    return drawn(plan.style, place, plan.case.origin)


def _clip_group(plan: Plan, sheet: Sheet, clip: DrawnClip, axis: float, half: float) -> Group:
    title = f"clip {clip.number}"
    if clip.saddle_on in ("live part", "rope A", "rope B"):
        title += f", its saddle on {'' if 'rope' in clip.saddle_on else 'the '}{clip.saddle_on}"
    return Group(_clip(plan, sheet, clip, axis, half), f"clip {clip.number}", title)


def _breaks(sheet: Sheet, eye: EyePlace | None, axis: float, above: float, below: float) -> Iterator[Shape]:
    for cut in sheet.cuts:
        x = sheet.x(cut.start)
        if cut.start < sheet.lengths.turn_back:
            yield Group(tuple(break_lines(x, x + GAP, axis - above, axis + below)), "break")
        elif eye is not None:
            high = eye.half_height
            yield Group(tuple(break_lines(x, x + GAP, axis - high, axis + high)), "break in the eye")


def number_disc(x: float, y: float, number: str) -> Group:
    """Draw the number of a clip.

    Args:
        x: Centre, from the left.
        y: Centre, from the top.
        number: The number.

    Returns:
        A disc with the number in it.
    """
    size = SIZE if len(number) < 3 else SMALL - 2
    return Group(
        (Circle(x, y, NUMBER, "ink", "ink"), Text(x, y + size * 0.36, number, size, "middle", True, "paper")), "number"
    )


def under_live(sheet: Sheet, scene: Scene) -> float:
    """Return the base line of the first words under the live part."""
    return scene.axis + scene.half + sheet.thickness / 2 + 20
