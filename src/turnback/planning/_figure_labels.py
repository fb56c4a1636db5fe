"""Dimension lines and labels of a figure, and how labels in one row keep clear of each other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from typing import Final, NamedTuple

from turnback.model.lettering import text_width
from turnback.model.shapes import Group, Path, Shape, Text, Tone, line

__all__ = ["SIZE", "SMALL", "Label", "across", "broken", "dimension", "placed_row", "spread", "upright_dimension"]

SIZE: Final = 13.0
"""Height of the type of a label [drawing units]."""
SMALL: Final = 11.5

_WIDE_ENOUGH: Final = 26.0
"""A shorter dimension line has no room for two arrows between its ends."""


class Label(NamedTuple):
    """A label that wants to stand in the middle of a place, in one or two lines."""

    middle: float
    lines: tuple[str, ...]
    bold: bool = False

    @property
    def width(self) -> float:
        """Room that it takes."""
        return max(text_width(each, SIZE, bold=self.bold) for each in self.lines)


def spread(wanted: Sequence[float], widths: Sequence[float], low: float, high: float, gap: float = 8.0) -> list[float]:
    """Move things in a row apart until none overlaps its neighbour, each as little as can be.

    Args:
        wanted: Where each would like its middle to be, in rising order.
        widths: Room that each takes.
        low: Left end of the row.
        high: Right end of the row.
        gap: Least room between two.

    Returns:
        Where the middle of each comes to be. Where the row is too short for all, they run out on its left.
    """
    # Blocks of things that touch each other: each keeps the sum of what its members want of its left side.
    blocks: list[tuple[float, float, int]] = []
    for middle, width in zip(wanted, widths, strict=True):
        total, room, count = middle - width / 2, width + gap, 1
        while blocks and blocks[-1][0] / blocks[-1][2] + blocks[-1][1] > total / count:
            before = blocks.pop()
            total = before[0] + total - before[1] * count
            room, count = room + before[1], count + before[2]
        blocks.append((total, room, count))
    order = iter(widths)
    lefts: list[float] = []
    for total, _, count in blocks:
        at = total / count
        for width in islice(order, count):
            lefts.append(at)
            at += width + gap
    # The ends of the row push back.
    edge = low
    for i, width in enumerate(widths):
        lefts[i] = max(lefts[i], edge)
        edge = lefts[i] + width + gap
    edge = high
    for i in range(len(widths) - 1, -1, -1):
        lefts[i] = min(lefts[i], edge - widths[i])
        edge = lefts[i] - gap
    return [left + width / 2 for left, width in zip(lefts, widths, strict=True)]


def placed_row(labels: Sequence[Label], y: float, low: float, high: float, tone: Tone = "ink") -> tuple[Text, ...]:
    """Write labels in one row, clear of each other.

    Args:
        labels: The labels, in rising order of their middles.
        y: Base line of their last line.
        low: Left end of the row.
        high: Right end of the row.
        tone: What they are written in.

    Returns:
        The texts.
    """
    middles = spread([label.middle for label in labels], [label.width for label in labels], low, high)
    return tuple(
        Text(middle, y - (len(label.lines) - 1 - i) * (SIZE + 2), text, SIZE, "middle", label.bold, tone)
        for middle, label in zip(middles, labels, strict=True)
        for i, text in enumerate(label.lines)
    )


def across(x1: float, x2: float, y: float) -> tuple[Shape, ...]:
    """Draw a dimension line between two places, with arrows or, where it is short, with strokes across its ends.

    Args:
        x1: Left end.
        x2: Right end.
        y: Its height.

    Returns:
        The line and its ends.
    """
    if x2 - x1 < _WIDE_ENOUGH:
        ends: tuple[Shape, ...] = tuple(line(x - 3.5, y + 3.5, x + 3.5, y - 3.5, width=1.4) for x in (x1, x2))
        return (line(x1, y, x2, y, width=0.9), *ends)
    return (line(x1, y, x2, y, width=0.9), _head(x1, y, 1, 0), _head(x2, y, -1, 0))


def dimension(part: str, x1: float, x2: float, y: float, foot: tuple[float, float]) -> Group:
    """Draw a dimension along the rope.

    Args:
        part: Name of the part.
        x1: Left end.
        x2: Right end.
        y: Height of its line.
        foot: Where the lines down to (or up to) the left and the right end begin.

    Returns:
        The dimension without its label. Its first shape is the dimension line.
    """
    beyond = 4 if y > max(foot) else -4
    lines = (
        line(x1, foot[0], x1, y + beyond, "faint", 0.8),
        line(x2, foot[1], x2, y + beyond, "faint", 0.8),
    )
    return Group((*across(x1, x2, y), *lines), part)


def upright_dimension(part: str, x: float, y1: float, y2: float, foot: float) -> Group:
    """Draw a dimension across the rope.

    Args:
        part: Name of the part.
        x: Where its line is, from the left.
        y1: Upper end.
        y2: Lower end.
        foot: Where the lines to both ends begin, from the left.

    Returns:
        The dimension without its label. Its first shape is the dimension line.
    """
    lines = (line(foot, y1, x + 4, y1, "faint", 0.8), line(foot, y2, x + 4, y2, "faint", 0.8))
    return Group((line(x, y1, x, y2, width=0.9), _head(x, y1, 0, 1), _head(x, y2, 0, -1), *lines), part)


def broken(x: float, y: float) -> tuple[Shape, ...]:
    """Draw the two strokes that break a dimension line.

    Args:
        x: Their middle.
        y: Height of the line.

    Returns:
        The shapes.
    """
    strokes = (line(at - 2.5, y + 5, at + 2.5, y - 5, width=1.0) for at in (x - 5, x + 5))
    return (line(x - 5, y, x + 5, y, "paper", 4.0), *strokes)


def _head(x: float, y: float, to_x: int, to_y: int) -> Path:
    base_x, base_y = x + 9 * to_x, y + 9 * to_y
    sides = ((base_x + 3 * to_y, base_y + 3 * to_x), (base_x - 3 * to_y, base_y - 3 * to_x))
    return Path((("M", x, y), *(("L", *side) for side in sides), ("Z",)), "ink", "ink", 0.5)
