"""Strokes that the drawings of the formulas are made of: dimensions, arrows and labels, plain or picked out."""

from __future__ import annotations

import math
from collections.abc import Collection
from typing import Final

import attrs

from turnback.model.shapes import Path, Shape, Text, Tone, line

__all__ = ["Pen", "arc"]

_TICK: Final = 4.0
_LETTER: Final = 17.0
_WORD: Final = 13.0


@attrs.frozen
class Pen:
    """Draws what a formula speaks of in the strong tone and everything else in the faint one.

    Args:
        strong: Names of the quantities to pick out.
    """

    strong: Collection[str]

    def tone(self, name: str) -> Tone:
        """Return what a quantity is drawn in.

        Args:
            name: The quantity.

        Returns:
            The tone.
        """
        return "saddle" if name in self.strong else "faint"

    def letter(self, x: float, y: float, name: str, text: str = "") -> tuple[Shape, ...]:
        """Write the letter of a quantity.

        Args:
            x: Its middle, from the left [drawing units].
            y: Its base line, from the top [drawing units].
            name: The quantity.
            text: What is written; its name when empty.

        Returns:
            The text.
        """
        words = text or name
        size = _LETTER if len(words) <= 2 else _WORD
        return (Text(x, y, words, size, "middle", bold=name in self.strong, tone=self.tone(name)),)

    def stroke(self, x1: float, y1: float, x2: float, y2: float, name: str) -> Path:
        """Draw a straight line that stands for a quantity.

        Args:
            x1: Where it begins, from the left [drawing units].
            y1: Where it begins, from the top [drawing units].
            x2: Where it ends, from the left [drawing units].
            y2: Where it ends, from the top [drawing units].
            name: The quantity.

        Returns:
            The line.
        """
        return line(x1, y1, x2, y2, self.tone(name), 2.4 if name in self.strong else 1.2)

    def across(
        self, x1: float, x2: float, y: float, name: str, text: str = "", foot: float | None = None
    ) -> tuple[Shape, ...]:
        """Draw a dimension from left to right with its letter above it.

        Args:
            x1: Its left end [drawing units].
            x2: Its right end [drawing units].
            y: Its height, from the top [drawing units].
            name: The quantity.
            text: What is written; its name when empty.
            foot: Height from which thin lines lead to its ends [drawing units]; None for none.

        Returns:
            The shapes.
        """
        lead = () if foot is None else tuple(line(x, foot, x, y, "faint", 0.8) for x in (x1, x2))
        ticks = tuple(self.stroke(x, y - _TICK, x, y + _TICK, name) for x in (x1, x2))
        return (*lead, self.stroke(x1, y, x2, y, name), *ticks, *self.letter((x1 + x2) / 2, y - 6, name, text))

    def down(self, x: float, y1: float, y2: float, name: str, text: str = "") -> tuple[Shape, ...]:
        """Draw a dimension from top to foot with its letter at its right.

        Args:
            x: Its place, from the left [drawing units].
            y1: Its top [drawing units].
            y2: Its foot [drawing units].
            name: The quantity.
            text: What is written; its name when empty.

        Returns:
            The shapes.
        """
        ticks = tuple(self.stroke(x - _TICK, y, x + _TICK, y, name) for y in (y1, y2))
        words = text or name
        return (
            self.stroke(x, y1, x, y2, name),
            *ticks,
            *self.letter(x + 8 + 3 * len(words), (y1 + y2) / 2 + 5, name, text),
        )

    def arrow(self, x1: float, y: float, x2: float, name: str) -> tuple[Shape, ...]:
        """Draw an arrow along the axis, its letter at its end.

        Args:
            x1: Where it begins, from the left [drawing units].
            y: Its height, from the top [drawing units].
            x2: Where its point lies [drawing units].
            name: The quantity.

        Returns:
            The shapes.
        """
        way = math.copysign(1.0, x2 - x1)
        tip = Path(
            (("M", x2, y), ("L", x2 - way * 12, y - 5), ("L", x2 - way * 12, y + 5), ("Z",)), "none", self.tone(name)
        )
        return (self.stroke(x1, y, x2 - way * 10, y, name), tip, *self.letter(x2 + way * 12, y + 6, name))


def arc(x: float, y: float, radius: float, start: float, end: float, tone: Tone, width: float) -> Path:
    """Draw an arc of a circle.

    Args:
        x: Its centre, from the left [drawing units].
        y: Its centre, from the top [drawing units].
        radius: Its radius [drawing units].
        start: Where it begins, from the right, turning up the page [rad].
        end: Where it ends, greater than ``start`` [rad].
        tone: What it is drawn in.
        width: Width of its line [drawing units].

    Returns:
        The path.
    """
    begin = (x + radius * math.cos(start), y - radius * math.sin(start))
    stop = (x + radius * math.cos(end), y - radius * math.sin(end))
    return Path((("M", *begin), ("A", radius, end - start > math.pi, False, *stop)), tone, width=width)
