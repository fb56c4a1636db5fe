"""The rope of a figure: its dead part plain, its live part with the lay, break lines, seizing.

All lengths here are drawing units. Directions turn clockwise on the page, for its heights grow downwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple, TypeAlias

from turnback.model.figures import Circle, Path, PathStep, Rect, Shape, Tone, line

__all__ = ["Arc", "Run", "Straight", "arrow", "band", "break_lines", "cut_end", "kink", "rope_end", "seizing"]

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


def cut_end(x: float, y: float, diameter: float) -> Path:
    """Draw the cut end of a rope.

    Args:
        x: Where it is cut, from the left.
        y: Its centre line, from the top.
        diameter: Its diameter.

    Returns:
        A heavy line across it.
    """
    return line(x, y - diameter / 2 - 1, x, y + diameter / 2 + 1, width=2.4)


def seizing(x: float, y: float, diameter: float, width: float) -> Iterator[Shape]:
    """Draw the seizing that stays on a dead end.

    Args:
        x: Its left side, from the left.
        y: Centre line of the rope, from the top.
        diameter: Diameter of the rope.
        width: Its width.

    Yields:
        The turns of its wire.
    """
    high = diameter + 3
    yield Rect(x, y - high / 2, width, high, fill="paper", line=1.0)
    turns = max(2, min(9, int(width / 3)))
    for i in range(1, turns):
        yield line(x + width * i / turns, y - high / 2, x + width * i / turns, y + high / 2, width=0.8)


def rope_end(x: float, y: float, diameter: float) -> Iterator[Shape]:
    """Draw where a rope runs on beyond the page.

    Args:
        x: Where it is broken off, from the left.
        y: Its centre line, from the top.
        diameter: Its diameter.

    Yields:
        A wave across it.
    """
    half = diameter / 2 + 2
    wave: PathStep = ("C", x + half, y - half / 2, x - half, y + half / 2, x, y + half)
    steps: tuple[PathStep, ...] = (("M", x, y - half), wave)
    yield Path(steps, "paper", width=5.0)
    yield Path(steps, "ink", width=1.4)


def break_lines(left: float, right: float, top: float, bottom: float) -> Iterator[Shape]:
    """Draw the two sides of a break.

    Args:
        left: Left side.
        right: Right side.
        top: Where they begin.
        bottom: Where they end.

    Yields:
        The empty page between two zigzag lines, and these.
    """
    middle = (top + bottom) / 2
    sides = []
    for x in (left, right):
        points = ((x, top), (x, middle - 9), (x - 6, middle - 3), (x + 6, middle + 3), (x, middle + 9), (x, bottom))
        sides.append(points)
    first, *rest = (*sides[0], *reversed(sides[1]))
    gap: tuple[PathStep, ...] = (("M", *first), *(("L", *point) for point in rest), ("Z",))
    yield Path(gap, "none", "paper")
    for points in sides:
        start, *others = points
        yield Path((("M", *start), *(("L", *point) for point in others)), "ink", width=1.1)


def arrow(x1: float, x2: float, y: float, tone: Tone = "ink", width: float = 2.4) -> Iterator[Shape]:
    """Draw an arrow along the rope.

    Args:
        x1: Its tail, from the left.
        x2: Its point, from the left.
        y: Its height, from the top.
        tone: What it is drawn in.
        width: Width of its shaft.

    Yields:
        Shaft and head.
    """
    way = 1 if x2 >= x1 else -1
    yield line(x1, y, x2 - 9 * way, y, tone, width)
    head: Iterable[tuple[float, float]] = ((x2 - 11 * way, y - 6), (x2 - 11 * way, y + 6))
    yield Path((("M", x2, y), *(("L", *point) for point in head), ("Z",)), tone, tone, 0.8)
