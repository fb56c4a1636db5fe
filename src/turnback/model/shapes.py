"""Shapes of a drawing as values: paths, rectangles, circles, text, groups.

Lengths are drawing units from the top left of the page, heights growing downwards, as SVG has it. Shapes name what they
are drawn in (a :data:`Tone`), never a colour, so that one figure serves light and dark screens and paper in black and
white.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final, Literal, TypeAlias, get_args

import attrs

from turnback.errors import InputError

__all__ = [
    "Circle",
    "Group",
    "Path",
    "PathStep",
    "Rect",
    "Shape",
    "Text",
    "Tone",
    "check_drawn",
    "line",
    "polygon",
    "polyline",
]


Tone = Literal["none", "paper", "ink", "faint", "live", "metal", "saddle", "alarm"]
"""What a shape is drawn in: nothing, the page, the lines, secondary lines, the rope's live part, hardware, the saddle,
what is forbidden."""

_TONES: Final = frozenset(get_args(Tone))


PathStep: TypeAlias = (
    tuple[Literal["M", "L"], float, float]
    | tuple[Literal["A"], float, bool, bool, float, float]
    | tuple[Literal["C"], float, float, float, float, float, float]
    | tuple[Literal["Z"]]
)
"""One step of a path, in drawing units: ``("M", x, y)`` moves, ``("L", x, y)`` draws a line, ``("A", radius, large,
clockwise, x, y)`` an arc of a circle, ``("C", x1, y1, x2, y2, x, y)`` a curve with two control points, ``("Z",)``
closes."""


_STEP_LENGTHS: Final = {"M": 3, "L": 3, "A": 6, "C": 7, "Z": 1}


def check_drawn(field: str, numbers: Iterable[float], *tones: str) -> None:
    """Check what is about to be drawn.

    Args:
        field: What it is, for the message.
        numbers: Its numbers [drawing units].
        *tones: Its tones.

    Raises:
        InputError: A number is not finite, or a tone does not exist.
    """
    for number in numbers:
        if not math.isfinite(number):
            raise InputError("a figure is drawn with finite numbers", field=field, value=str(number))
    for tone in tones:
        if tone not in _TONES:
            raise InputError("no such tone", field=field, value=tone, bound="one of " + ", ".join(sorted(_TONES)))


@attrs.frozen
class Path:
    """A line of straight pieces, arcs and curves, open or closed.

    Args:
        steps: Its steps.
        stroke: What its line is drawn in.
        fill: What it is filled with.
        width: Width of the line [drawing units].
        dash: Lengths of dash and gap in turn [drawing units]; empty for a whole line.

    Raises:
        InputError: A number is not finite, a step or a tone does not exist.
    """

    steps: tuple[PathStep, ...]
    stroke: Tone = "ink"
    fill: Tone = "none"
    width: float = 1.5
    dash: tuple[float, ...] = ()

    def __attrs_post_init__(self) -> None:
        for step in self.steps:
            if _STEP_LENGTHS.get(step[0]) != len(step):
                raise InputError("no such step of a path", field="path", value=repr(step), bound="M, L, A, C or Z")
            check_drawn("path", step[1:])
        check_drawn("path", (self.width, *self.dash), self.stroke, self.fill)


@attrs.frozen
class Rect:
    """A rectangle, its sides along the axes.

    Args:
        x: Left side [drawing units].
        y: Top side [drawing units].
        width: Width [drawing units].
        height: Height [drawing units].
        stroke: What its line is drawn in.
        fill: What it is filled with.
        line: Width of its line [drawing units].
        corner: Radius of its corners [drawing units].

    Raises:
        InputError: A number is not finite, or a tone does not exist.
    """

    x: float
    y: float
    width: float
    height: float
    stroke: Tone = "ink"
    fill: Tone = "none"
    line: float = 1.5
    corner: float = 0.0

    def __attrs_post_init__(self) -> None:
        numbers = (self.x, self.y, self.width, self.height, self.line, self.corner)
        check_drawn("rect", numbers, self.stroke, self.fill)


@attrs.frozen
class Circle:
    """A circle.

    Args:
        x: Centre, from the left [drawing units].
        y: Centre, from the top [drawing units].
        radius: Radius [drawing units].
        stroke: What its line is drawn in.
        fill: What it is filled with.
        width: Width of its line [drawing units].
        dash: Lengths of dash and gap in turn [drawing units]; empty for a whole line.

    Raises:
        InputError: A number is not finite, or a tone does not exist.
    """

    x: float
    y: float
    radius: float
    stroke: Tone = "ink"
    fill: Tone = "none"
    width: float = 1.5
    dash: tuple[float, ...] = ()

    def __attrs_post_init__(self) -> None:
        check_drawn("circle", (self.x, self.y, self.radius, self.width, *self.dash), self.stroke, self.fill)


@attrs.frozen
class Text:
    """One line of text.

    Args:
        x: Its anchor, from the left [drawing units].
        y: Its base line, from the top [drawing units].
        text: What is written. Characters that no SVG may hold are replaced.
        size: Height of the type [drawing units].
        anchor: Where the anchor is.
        bold: Whether it is bold.
        tone: What it is drawn in.
        upright: Whether it is turned to be read from below, about its anchor.

    Raises:
        InputError: A number is not finite, the anchor or the tone does not exist.
    """

    x: float
    y: float
    text: str
    size: float = 12.0
    anchor: Literal["start", "middle", "end"] = "start"
    bold: bool = False
    tone: Tone = "ink"
    upright: bool = False

    def __attrs_post_init__(self) -> None:
        check_drawn("text", (self.x, self.y, self.size), self.tone)
        if self.anchor not in ("start", "middle", "end"):
            raise InputError("no such anchor", field="text", value=self.anchor, bound="start, middle or end")


@attrs.frozen
class Group:
    """Shapes that belong together.

    Args:
        shapes: The shapes, the later ones on top.
        part: Name of the part, for those who read the figure with a program; empty for none.
        title: What a pointer that rests on it is told; empty for nothing.
    """

    shapes: tuple[Shape, ...]
    part: str = ""
    title: str = ""


Shape: TypeAlias = Path | Rect | Circle | Text | Group
"""Whatever can be drawn."""


def line(x1: float, y1: float, x2: float, y2: float, stroke: Tone = "ink", width: float = 1.0) -> Path:
    """Draw a straight line.

    Args:
        x1: Where it begins, from the left [drawing units].
        y1: Where it begins, from the top [drawing units].
        x2: Where it ends, from the left [drawing units].
        y2: Where it ends, from the top [drawing units].
        stroke: What it is drawn in.
        width: Its width [drawing units].

    Returns:
        The path.
    """
    return Path((("M", x1, y1), ("L", x2, y2)), stroke, width=width)


def polyline(points: Iterable[tuple[float, float]], stroke: Tone = "ink", width: float = 1.0) -> Path:
    """Draw straight lines from point to point.

    Args:
        points: At least one point [drawing units].
        stroke: What they are drawn in.
        width: Their width [drawing units].

    Returns:
        The open path.
    """
    first, *rest = points
    return Path((("M", *first), *(("L", x, y) for x, y in rest)), stroke, width=width)


def polygon(points: Iterable[tuple[float, float]], fill: Tone, stroke: Tone = "ink", width: float = 1.5) -> Path:
    """Draw a closed figure with straight sides.

    Args:
        points: Its corners [drawing units].
        fill: What it is filled with.
        stroke: What its sides are drawn in.
        width: Their width [drawing units].

    Returns:
        The closed path.
    """
    first, *rest = points
    return Path((("M", *first), *(("L", x, y) for x, y in rest), ("Z",)), stroke, fill, width)
