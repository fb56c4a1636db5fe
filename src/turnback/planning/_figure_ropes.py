"""The ropes of a figure at their places: live part, eye and dead part, or the two ropes of a lap splice."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from turnback.model.shapes import Group, Shape, Tone
from turnback.planning._figure_ends import arrow, cut_end, rope_end, seizing
from turnback.planning._figure_eye import EyePlace
from turnback.planning._figure_rope import Run, Straight, band, kink
from turnback.planning._figure_sheet import MARGIN, PAGE, Sheet
from turnback.planning.bill import seizing_of

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["LAY", "Ropes"]

LAY: Final = 0.62
"""Distance of two strands on the live part, in diameters [-]."""
_LAY_IN_EYE: Final = 1.7
_ARROW: Final = 34.0


@attrs.frozen
class Ropes:
    """Draws the ropes of one figure.

    Args:
        plan: The plan.
        sheet: Where everything lies.
        axis: Height of the axis of the termination [drawing units].
        half: From the axis to the centre line of either part [drawing units].
    """

    plan: Plan
    sheet: Sheet
    axis: float
    half: float

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

    def _pieces(self, start: float, end: float, y: float) -> Iterator[tuple[Straight]]:
        """Yield a straight part between two lengths from the dead end, in the pieces that break lines leave."""
        at = min(start, end)
        for cut in self.sheet.cuts:
            if at < cut.start < max(start, end):
                yield (Straight(self.sheet.x(at), y, self.sheet.x(cut.start), y),)
                at = cut.end
        if at < max(start, end):
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

    def _live(self, start: float, end: float, y: float, way: int) -> Iterator[Shape]:
        """Draw a live part between two lengths from the dead end and on to the edge of the page, where it is loaded."""
        edge = PAGE - MARGIN - _ARROW if way > 0 else MARGIN + _ARROW
        runs = list(self._pieces(start, end, y))
        if self.plan.request.rope.coating is None or self._coated:
            # One run with what is under the clips, so that no seam shows between the two.
            if way > 0:
                runs[-1] = (runs[-1][0]._replace(x2=edge),)
            else:
                runs[0] = (runs[0][0]._replace(x1=edge),)
        else:
            beyond = (self.sheet.base, edge) if way > 0 else (edge, self.sheet.left)
            yield from self._run((Straight(beyond[0], y, beyond[1], y),), "live", LAY, coated=True)
        for run in runs:
            yield from self._run(run, "live", LAY, coated=self._coated)
        yield from rope_end(edge, y, self.sheet.thickness)
        yield from arrow(edge + 4 * way, edge + (_ARROW - 2) * way, y)

    def eye_ropes(self, eye: EyePlace) -> Iterator[Shape]:
        """Draw the dead part, the eye and the live part."""
        whole, dead, live = self.sheet.lengths.turn_back, self.axis - self.half, self.axis + self.half
        coating = self.plan.request.rope.coating
        in_eye = coating is not None and not (coating.stripped and coating.eye_stripped)
        turned: list[Shape] = [kink(*each, self.sheet.diameter, "live") for each in (eye.dead, eye.live)]
        for run in eye.runs:
            turned += self._run(run, "live", _LAY_IN_EYE, coated=in_eye)
        yield Group(tuple(turned), "eye", "the eye")
        loaded = tuple(self._live(0.0, whole, live, -1))
        yield Group(loaded, "live part", "the live part, which carries the load")
        ending: list[Shape] = []
        for piece in self._pieces(0.0, whole, dead):
            ending += self._run(piece, "paper", 0.0, coated=self._coated)
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
            shapes: list[Shape] = list(self._live(*loaded, y, way))
            for run in self._pieces(*quiet, y):
                shapes += self._run(run, "paper", 0.0, coated=self._coated)
            shapes += self._dead_end(end, y, way)
            yield Group(tuple(shapes), name, f"{name}, plain in the half towards its dead end")
