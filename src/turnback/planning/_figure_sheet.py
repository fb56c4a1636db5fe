"""The page of a figure: the scale, what a break line leaves out, and where a length along the rope comes to lie."""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

import attrs

from turnback.planning._figure_eyes import stand_in_eye
from turnback.planning._figure_lengths import DrawnClip, Lengths

__all__ = ["GAP", "MARGIN", "PAGE", "Cut", "Sheet", "sheet_of"]

PAGE: Final = 960.0
"""Width of every figure [drawing units]."""
MARGIN: Final = 24.0
GAP: Final = 64.0
"""Room of a break line [drawing units]."""

_LEAD: Final = 150.0
"""Room for the live part beyond the dead end [drawing units]."""
_BESIDE: Final = 160.0
"""Room for the dimension beside an eye [drawing units]."""
_BESIDE_LINKED: Final = 250.0
_THICKEST: Final = 32.0
"""Greatest diameter of a drawn rope [drawing units]."""
_THINNEST: Final = 8.0
"""Below it nobody sees which part a saddle bears on [drawing units]."""
_TALLEST: Final = 520.0
"""Greatest height of a drawn eye [drawing units]."""
_PITCH: Final = 26.0
"""Least distance of two clips on the page [drawing units]."""
_KEPT: Final = 3
"""Clips drawn on each side of a break line."""


class Cut(NamedTuple):
    """What a break line leaves out, along the rope from the dead end [mm]."""

    start: float
    end: float


@attrs.frozen
class Sheet:
    """Where everything lies on the page.

    Args:
        lengths: What is drawn.
        unit: Scale [drawing units/mm].
        left: The dead end [drawing units].
        cuts: What the break lines leave out.
        shown: The clips that are drawn.
    """

    lengths: Lengths
    unit: float
    left: float
    cuts: tuple[Cut, ...]
    shown: tuple[DrawnClip, ...]

    def x(self, along: float) -> float:
        """Return where a length from the dead end comes to lie.

        Args:
            along: From the dead end towards the eye [mm].

        Returns:
            From the left of the page [drawing units].
        """
        x = self.left + along * self.unit
        for cut in self.cuts:
            if along >= cut.end:
                x += GAP - (cut.end - cut.start) * self.unit
            elif along > cut.start:
                x = self.x(cut.start) + GAP * (along - cut.start) / (cut.end - cut.start)
        return x

    @property
    def base(self) -> float:
        """The base of the eye, or the dead end of rope B [drawing units]."""
        return self.x(self.lengths.turn_back)

    @property
    def diameter(self) -> float:
        """Diameter of the rope under the clips [drawing units]."""
        return self.lengths.diameter * self.unit

    @property
    def thickness(self) -> float:
        """Diameter of the rope where it leaves the page, with its coating [drawing units]."""
        return max(self.lengths.diameter, self.lengths.finished) * self.unit

    @property
    def to_scale(self) -> bool:
        """Whether anything along the rope is to scale."""
        return self.lengths.known


def sheet_of(lengths: Lengths) -> Sheet:
    """Find the scale, with a break line where the whole would be too small to read.

    Args:
        lengths: What is to be drawn.

    Returns:
        The sheet. Where even break lines do not help, the eye is replaced by a stand-in.
    """
    sheet = _fitted(lengths, ())
    if _readable(sheet):
        return sheet
    clips, cuts = _cut_clips(lengths), _cut_legs(lengths)
    for tried in (clips, cuts, (*clips, *cuts)):
        broken = _fitted(lengths, tried)
        if tried and _readable(broken):
            return broken
    eye = lengths.eye
    if eye is not None and not eye.missing:
        return sheet_of(attrs.evolve(lengths, eye=stand_in_eye(eye)))
    return _fitted(lengths, clips)


def _readable(sheet: Sheet) -> bool:
    centres = [sheet.x((clip.near + clip.far) / 2) for clip in sheet.shown]
    gaps = [after - before for before, after in pairwise(centres)]
    return sheet.diameter >= _THINNEST and all(gap >= _PITCH for gap in gaps) and len(centres) <= 4 * _KEPT


def _fitted(lengths: Lengths, cuts: tuple[Cut, ...]) -> Sheet:
    eye = lengths.eye
    beside = _LEAD if eye is None else _BESIDE_LINKED if lengths.linked is not None else _BESIDE
    room = PAGE - _LEAD - beside - GAP * len(cuts)
    total = lengths.turn_back + (0.0 if eye is None else eye.length) - sum(cut.end - cut.start for cut in cuts)
    unit = min(room / total, _THICKEST / lengths.diameter)
    if eye is not None:
        unit = min(unit, _TALLEST / (2 * eye.radius + eye.rope))
    spare = room - total * unit
    shown = tuple(clip for clip in lengths.clips if not any(cut.start < clip.near < cut.end for cut in cuts))
    return Sheet(lengths, unit, _LEAD + spare / 2, cuts, shown)


def _cut_clips(lengths: Lengths) -> tuple[Cut, ...]:
    clips = lengths.clips
    if len(clips) < 2 * _KEPT + 2:
        return ()
    before, first = clips[_KEPT - 1], clips[_KEPT]
    last, after = clips[-_KEPT - 1], clips[-_KEPT]
    return (Cut((before.far + first.near) / 2, (last.far + after.near) / 2),)


def _cut_legs(lengths: Lengths) -> tuple[Cut, ...]:
    eye = lengths.eye
    if eye is None or eye.base < eye.radius + 14 * eye.rope:
        return ()
    start = lengths.turn_back + 3 * eye.rope
    return (Cut(start, lengths.turn_back + eye.base - eye.radius - 3 * eye.rope),)
