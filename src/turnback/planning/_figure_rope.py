"""A run of rope in a figure: its dead part plain, its live part with its strands.

All lengths here are drawing units. Directions turn clockwise on the page, for its heights grow downwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, NamedTuple, TypeAlias

from turnback.model.shapes import Circle, Path, PathStep, Shape, Tone

__all__ = ["Arc", "Run", "Straight", "band", "kink"]

_OUTLINE: Final = 1.4


class Straight(NamedTuple):
    """A straight piece of rope, by its centre line."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length(self) -> float:
        """Its length."""
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)


class Arc(NamedTuple):
    """A piece of rope round a centre, clockwise from one angle to a greater one [rad]."""

    x: float
    y: float
    radius: float
    start: float
    end: float

    @property
    def length(self) -> float:
        """Its length."""
        return self.radius * (self.end - self.start)

    def at(self, angle: float) -> tuple[float, float]:
        """Return the point at an angle."""
        return self.x + self.radius * math.cos(angle), self.y + self.radius * math.sin(angle)


Run: TypeAlias = tuple[Straight | Arc, ...]
"""Pieces that follow each other without a break."""


def _steps(run: Run) -> tuple[PathStep, ...]:
    steps: list[PathStep] = []
    for piece in run:
        if isinstance(piece, Straight):
            if not steps:
                steps.append(("M", piece.x1, piece.y1))
            steps.append(("L", piece.x2, piece.y2))
        else:
            if not steps:
                steps.append(("M", *piece.at(piece.start)))
            large = piece.end - piece.start > math.pi
            steps.append(("A", piece.radius, large, True, *piece.at(piece.end)))
    return tuple(steps)


def band(run: Run, diameter: float, fill: Tone, *, pitch: float = 0.0, slant: int = 1) -> Iterator[Shape]:
    """Draw a run of rope.

    Args:
        run: Its centre line.
        diameter: Its diameter.
        fill: What it is filled with.
        pitch: Distance of two strands in diameters [-]; 0 for a plain rope.
        slant: 1 for a rope of right lay, -1 for one of left lay [-].

    Yields:
        The two outlines, the filling, and the strands.
    """
    steps = _steps(run)
    yield Path(steps, "ink", width=diameter)
    yield Path(steps, fill, width=max(diameter - 2 * _OUTLINE, 1.0))
    if pitch:
        yield Path(tuple(_strands(run, diameter - _OUTLINE, pitch * diameter, slant)), "ink", width=0.9)


def _strands(run: Run, diameter: float, pitch: float, slant: int) -> Iterator[PathStep]:
    reach, half, bow = 0.34 * diameter * slant, diameter / 2, 0.3 * diameter * slant
    for x, y, tx, ty in _stations(run, pitch, 0.36 * diameter):
        # The normal points clockwise of the way that the rope runs.
        start = (x - tx * reach + ty * half, y - ty * reach - tx * half)
        end = (x + tx * reach - ty * half, y + ty * reach + tx * half)
        yield ("M", *start)
        yield ("C", start[0] + tx * bow, start[1] + ty * bow, end[0] - tx * bow, end[1] - ty * bow, *end)


def _stations(run: Run, pitch: float, margin: float) -> Iterator[tuple[float, float, float, float]]:
    """Yield point and direction at every pitch along a run, clear of both its ends."""
    total, passed, at = sum(piece.length for piece in run), 0.0, margin
    for piece in run:
        while at <= passed + piece.length and at <= total - margin:
            along = at - passed
            if isinstance(piece, Straight):
                tx, ty = (piece.x2 - piece.x1) / piece.length, (piece.y2 - piece.y1) / piece.length
                yield piece.x1 + tx * along, piece.y1 + ty * along, tx, ty
            else:
                angle = piece.start + along / piece.radius
                yield (*piece.at(angle), -math.sin(angle), math.cos(angle))
            at += pitch
        passed += piece.length


def kink(x: float, y: float, diameter: float, fill: Tone) -> Circle:
    """Fill the wedge that a kink leaves between two runs, which are drawn over it.

    Args:
        x: The kink, from the left.
        y: The kink, from the top.
        diameter: Diameter of the rope.
        fill: What the rope is filled with.

    Returns:
        A disc as thick as the rope.
    """
    return Circle(x, y, (diameter - _OUTLINE) / 2, "ink", fill, _OUTLINE)
