"""What stands for a line of a plot: its letter, the shape of its marks, and how a status shows in them."""

from __future__ import annotations

from typing import Final

from turnback.model.shapes import Circle, Path, PathStep, Shape, Tone
from turnback.model.sources import Status

__all__ = ["DASHES", "STATUS_WORDS", "letter", "mark"]

_SIZES: Final = (6.5, 5.5, 4.5, 4.5, 4.5, 4.5)
"""Half the height of a mark, line by line: of two marks on one spot the earlier one shows round the later."""
# Corners of each shape, from its middle, as shares of its size; None for a circle.
_SHAPES: Final[tuple[tuple[tuple[float, float], ...] | None, ...]] = (
    None,
    ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)),
    ((0.0, -1.25), (1.15, 0.85), (-1.15, 0.85)),
    ((0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)),
    ((0.0, 1.25), (1.15, -0.85), (-1.15, -0.85)),
    ((-1.3, -0.5), (1.3, -0.5), (1.3, 0.5), (-1.3, 0.5)),
)
DASHES: Final[dict[Status, tuple[float, ...]]] = {
    "read": (),
    "user": (),
    "memory": (6.0, 4.0),
    "common practice": (1.5, 3.0),
}
STATUS_WORDS: Final = (
    "A filled mark and a whole line: read in print. A hollow mark and a dashed line: from memory, to be checked in the "
    "document. A hollow mark and a dotted line: common practice, or a value that rests on it in part."
)


def letter(place: int) -> str:
    """Return the letter of a line.

    Args:
        place: Its place among the lines, from 0 [-].

    Returns:
        A, B, C and so on.
    """
    return chr(ord("A") + place)


def mark(x: float, y: float, place: int, status: Status) -> Shape:
    """Draw the mark of a line.

    Args:
        x: Its middle, from the left [drawing units].
        y: Its middle, from the top [drawing units].
        place: Place of the line among the lines, from 0 [-].
        status: Status of the value.

    Returns:
        The shape, filled where the value was read.
    """
    fill: Tone = "ink" if status == "read" else "paper"
    corners, size = _SHAPES[place % len(_SHAPES)], _SIZES[min(place, len(_SIZES) - 1)]
    if corners is None:
        return Circle(x, y, size, "ink", fill, 1.6)
    (first, *rest) = [(x + dx * size, y + dy * size) for dx, dy in corners]
    steps: list[PathStep] = [("M", *first), *(("L", *each) for each in rest), ("Z",)]
    return Path(tuple(steps), "ink", fill, 1.6)
