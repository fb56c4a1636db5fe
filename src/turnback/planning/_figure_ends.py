"""Where a rope of a figure ends: cut and seized, broken off at the page, or left out at a break line.

All lengths here are drawing units.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from turnback.model.shapes import Path, PathStep, Rect, Shape, Tone, line

__all__ = ["arrow", "break_lines", "cut_end", "rope_end", "seizing"]


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
