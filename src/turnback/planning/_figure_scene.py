"""The termination itself: rope, eye and clips at their places. Its dimensions are drawn in another module."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from turnback.model.figures import Circle, ClipPlace, Group, Shape, Text, Tone, bounds_of
from turnback.planning._figure_eye import EyePlace, eye_place, hardware, linked_eye
from turnback.planning._figure_labels import SIZE, SMALL
from turnback.planning._figure_lengths import DrawnClip
from turnback.planning._figure_rope import (
    Run,
    Straight,
    arrow,
    band,
    break_lines,
    cut_end,
    kink,
    rope_end,
    seizing,
)
from turnback.planning._figure_sheet import GAP, MARGIN, PAGE, Sheet
from turnback.planning.bill import seizing_of

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["LAY", "NUMBER", "Scene", "scene_of"]

LAY: Final = 0.62
"""Distance of two strands on the live part, in diameters [-]."""
NUMBER: Final = 10.0
"""Radius of the disc that holds the number of a clip [drawing units]."""
_LAY_IN_EYE: Final = 1.7
_ARROW: Final = 34.0


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
    draw = _Drawing(plan, sheet, axis, half, eye)
    shapes: list[Shape] = []
    if eye is not None:
        shapes.append(Group(tuple(hardware(eye)), eye.eye.around))
    shapes += draw.splice_ropes() if eye is None else draw.eye_ropes(eye)
    shapes += draw.clips()
    shapes += draw.breaks(above, below)
    if eye is not None and lengths.linked is not None:
        shapes.append(Group(tuple(linked_eye(eye, lengths.linked)), "linked eye"))
    return Scene(tuple(shapes), axis, above, below, half, eye)


def _reach(plan: Plan, sheet: Sheet, half: float) -> tuple[float, float]:
    """Return how far the clips stand out above and below the axis, as their style draws them."""
    above = below = half + sheet.diameter / 2 + 2
    for clip in sheet.shown:
        _, top, _, bottom = bounds_of(_clip(plan, sheet, clip, 0.0, half))
        above, below = max(above, -top), max(below, bottom)
    return above, below


def _clip(plan: Plan, sheet: Sheet, clip: DrawnClip, axis: float, half: float) -> tuple[Shape, ...]:
    way = -1 if clip.saddle_on == "rope A" else 1
    near, far = sheet.x(clip.near), sheet.x(clip.far)
    place = ClipPlace("side", (near + far) / 2, far - near, axis + way * half, axis - way * half, sheet.diameter)
    return plan.style.draw_clip(place)


@attrs.frozen
class _Drawing:
    plan: Plan
    sheet: Sheet
    axis: float
    half: float
    eye: EyePlace | None

    # --- the rope ---

    def _run(self, run: Run, fill: Tone, pitch: float, *, coated: bool) -> Iterator[Shape]:
        rope, coating = self.plan.request.rope, self.plan.request.rope.coating
        slant = -1 if "left" in rope.lay else 1
        if coated and coating is not None:
            bare = self.sheet.lengths.bare * self.sheet.unit
            yield from band(run, self.sheet.thickness, "metal")
            yield from band(run, bare, fill, pitch=pitch, slant=slant)
        else:
            yield from band(run, self.sheet.diameter, fill, pitch=pitch, slant=slant)

    @property
    def _coated(self) -> bool:
        """Whether the coating stays on under the clips."""
        coating = self.plan.request.rope.coating
        return coating is not None and not coating.stripped

    def _pieces(self, start: float, end: float, y: float) -> Iterator[Run]:
        """Yield a straight part between two lengths from the dead end, in the pieces that break lines leave."""
        at = min(start, end)
        for cut in self.sheet.cuts:
            if at < cut.start < max(start, end):
                yield (Straight(self.sheet.x(at), y, self.sheet.x(cut.start), y),)
                at = cut.end
        yield (Straight(self.sheet.x(at), y, self.sheet.x(max(start, end)), y),)

    def _dead_end(self, x: float, y: float, way: int) -> Iterator[Shape]:
        width = seizing_of(self.plan).width_at_least
        drawn = self.sheet.diameter if width is None else width.nanometres / 1e6 * self.sheet.unit
        # The seizing is never drawn into the first clip.
        room = abs(self.sheet.x(self.sheet.lengths.clips[0].near) - self.sheet.x(0.0)) * 0.8
        drawn = min(drawn, room)
        diameter = self.sheet.diameter
        yield from seizing(x if way > 0 else x - drawn, y, diameter, drawn)
        yield cut_end(x, y, diameter)

    def _lead(self, x: float, y: float, way: int) -> Iterator[Shape]:
        """Draw the live part from a place to the edge of the page, and which way it is loaded."""
        end = PAGE - MARGIN - _ARROW if way > 0 else MARGIN + _ARROW
        # One unit longer, so that no seam shows where the next run begins.
        run = (Straight(x - 1, y, end, y),) if way > 0 else (Straight(end, y, x + 1, y),)
        coating = self.plan.request.rope.coating
        yield from self._run(run, "live", LAY, coated=coating is not None)
        yield from rope_end(end, y, self.sheet.thickness)
        yield from arrow(end + 4 * way, end + (_ARROW - 2) * way, y)

    def eye_ropes(self, eye: EyePlace) -> Iterator[Shape]:
        """Draw the dead part, the eye and the live part."""
        whole, dead, live = self.sheet.lengths.turn_back, self.axis - self.half, self.axis + self.half
        coating = self.plan.request.rope.coating
        in_eye = coating is not None and not (coating.stripped and coating.eye_stripped)
        turned: list[Shape] = [kink(*each, self.sheet.diameter, "live") for each in (eye.dead, eye.live)]
        for run in eye.runs:
            turned += self._run(run, "live", _LAY_IN_EYE, coated=in_eye)
        yield Group(tuple(turned), "eye", "the eye")
        loaded = [*self._lead(self.sheet.left, live, -1)]
        for run in self._pieces(0.0, whole, live):
            loaded += self._run(run, "live", LAY, coated=self._coated)
        yield Group(tuple(loaded), "live part", "the live part, which carries the load")
        ending: list[Shape] = []
        for run in self._pieces(0.0, whole, dead):
            ending += self._run(run, "paper", 0.0, coated=self._coated)
        ending += self._dead_end(self.sheet.left, dead, 1)
        yield Group(tuple(ending), "dead part", "the dead part, from the base of the eye to the dead end")

    def splice_ropes(self) -> Iterator[Shape]:
        """Draw the two ropes of a lap splice, each plain in the half that ends at its dead end."""
        whole, middle = self.sheet.lengths.turn_back, self.sheet.lengths.turn_back / 2
        a, b = self.axis - self.half, self.axis + self.half
        for name, y, way, quiet, loaded in (
            ("rope A", a, 1, (0.0, middle), (middle, whole)),
            ("rope B", b, -1, (middle, whole), (0.0, middle)),
        ):
            end = self.sheet.left if way > 0 else self.sheet.base
            shapes: list[Shape] = [*self._lead(self.sheet.base if way > 0 else self.sheet.left, y, way)]
            for run in self._pieces(*loaded, y):
                shapes += self._run(run, "live", LAY, coated=self._coated)
            for run in self._pieces(*quiet, y):
                shapes += self._run(run, "paper", 0.0, coated=self._coated)
            shapes += self._dead_end(end, y, way)
            yield Group(tuple(shapes), name, f"{name}, plain in the half towards its dead end")

    # --- the clips ---

    def clips(self) -> Iterator[Shape]:
        """Draw every clip that the page shows."""
        for clip in self.sheet.shown:
            title = f"clip {clip.number}"
            if clip.saddle_on in ("live part", "rope A", "rope B"):
                title += f", its saddle on {'' if 'rope' in clip.saddle_on else 'the '}{clip.saddle_on}"
            yield Group(_clip(self.plan, self.sheet, clip, self.axis, self.half), f"clip {clip.number}", title)

    def breaks(self, above: float, below: float) -> Iterator[Shape]:
        """Draw the break lines."""
        for cut in self.sheet.cuts:
            x = self.sheet.x(cut.start)
            if cut.start < self.sheet.lengths.turn_back:
                yield Group(tuple(break_lines(x, x + GAP, self.axis - above, self.axis + below)), "break")
            elif self.eye is not None:
                high = self.eye.half_height
                yield Group(tuple(break_lines(x, x + GAP, self.axis - high, self.axis + high)), "break in the eye")


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


__all__ += ["number_disc"]
