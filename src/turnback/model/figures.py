"""Drawings as values: shapes, and the figure that writes them as SVG.

A figure is a page of drawing units with the origin at the top left, as SVG has it. Shapes name what they are drawn in
(a :data:`Tone`), never a colour, so that one figure serves light and dark screens and paper in black and white.
A clip style returns such shapes for its hardware; see :meth:`turnback.model.styles.ClipStyle.draw_clip`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final, Literal, TypeAlias, get_args

import attrs

from turnback.errors import InputError
from turnback.model.lettering import text_width

__all__ = [
    "Circle",
    "ClipPlace",
    "Figure",
    "Group",
    "Path",
    "PathStep",
    "Rect",
    "Shape",
    "Text",
    "Tone",
    "bounds_of",
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

Box: TypeAlias = tuple[float, float, float, float]

_STEP_LENGTHS: Final = {"M": 3, "L": 3, "A": 6, "C": 7, "Z": 1}


def _check(field: str, numbers: Iterable[float], *tones: str) -> None:
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
            _check("path", step[1:])
        _check("path", (self.width, *self.dash), self.stroke, self.fill)


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
        _check("rect", numbers, self.stroke, self.fill)


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
        _check("circle", (self.x, self.y, self.radius, self.width, *self.dash), self.stroke, self.fill)


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
        _check("text", (self.x, self.y, self.size), self.tone)
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


@attrs.frozen
class ClipPlace:
    """Where a style is to draw one clip, in drawing units.

    Args:
        view: ``side``: the rope runs from left to right. ``along``: seen along the rope.
        x: Centre of the clip, from the left; in the view along the rope, the middle of both parts.
        width: The clip's base width to scale, along the rope.
        saddle: Height of the centre line of the part that the saddle bears on, from the top.
        other: Height of the centre line of the other part, from the top.
        diameter: Diameter of the rope under the clip.

    Raises:
        InputError: A number is not finite, or a width is not above zero.
    """

    view: Literal["side", "along"]
    x: float
    width: float
    saddle: float
    other: float
    diameter: float

    def __attrs_post_init__(self) -> None:
        _check("place", (self.x, self.width, self.saddle, self.other, self.diameter))
        if self.width <= 0 or self.diameter <= 0:
            raise InputError("a clip has a width and its rope a diameter", field="place", value=repr(self))

    @property
    def out(self) -> float:
        """Direction from the other part to the saddle: 1 down the page, -1 up the page [-]."""
        return 1.0 if self.saddle >= self.other else -1.0


@attrs.frozen
class Figure:
    """A drawing with its page.

    Args:
        width: Width of the page [drawing units].
        height: Height of the page [drawing units].
        title: What it shows, in a few words.
        desc: What it shows, in sentences, for those who cannot see it.
        shapes: The shapes, the later ones on top.
        units_per_millimetre: Scale of what is drawn to scale [drawing units/mm]; None where nothing is.

    Raises:
        InputError: A number is not finite, or the page has no size.
    """

    width: float
    height: float
    title: str
    desc: str
    shapes: tuple[Shape, ...]
    units_per_millimetre: float | None = None

    def __attrs_post_init__(self) -> None:
        _check("figure", (self.width, self.height, self.units_per_millimetre or 0.0))
        if self.width <= 0 or self.height <= 0:
            raise InputError("a page has a size", field="figure", value=f"{self.width} x {self.height}")

    def to_svg(self) -> str:
        """Write the figure as SVG that needs nothing else: no font, file or script.

        Returns:
            One ``<svg>`` element, the same bytes for the same figure.
        """
        from turnback.model.svg import svg_of

        return svg_of(self)


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


def bounds_of(shapes: Iterable[Shape]) -> Box:
    """Return the box that holds shapes.

    Args:
        shapes: At least one shape.

    Returns:
        Left, top, right and bottom [drawing units]. Arcs and curves count with their control points or whole circle's
        radius about their ends, so the box may be larger than what is drawn.

    Raises:
        InputError: There is no shape.
    """
    boxes = [box for shape in shapes for box in _boxes(shape)]
    if not boxes:
        raise InputError("nothing is drawn", field="shapes")
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _boxes(shape: Shape) -> Iterable[Box]:
    if isinstance(shape, Group):
        return [box for each in shape.shapes for box in _boxes(each)]
    if isinstance(shape, Circle):
        return [(shape.x - shape.radius, shape.y - shape.radius, shape.x + shape.radius, shape.y + shape.radius)]
    if isinstance(shape, Rect):
        return [(shape.x, shape.y, shape.x + shape.width, shape.y + shape.height)]
    if isinstance(shape, Text):
        width = text_width(shape.text, shape.size, bold=shape.bold)
        back = {"start": 0.0, "middle": width / 2, "end": width}[shape.anchor]
        if shape.upright:
            return [(shape.x - shape.size, shape.y - width + back, shape.x + shape.size / 4, shape.y + back)]
        return [(shape.x - back, shape.y - shape.size, shape.x - back + width, shape.y + shape.size / 4)]
    return [box for step in shape.steps for box in _step_boxes(step)]


def _step_boxes(step: PathStep) -> list[Box]:
    if step[0] == "A":
        radius, x, y = step[1], step[4], step[5]
        return [(x - radius, y - radius, x + radius, y + radius)]
    if step[0] == "C":
        return [(x, y, x, y) for x, y in ((step[1], step[2]), (step[3], step[4]), (step[5], step[6]))]
    return [] if step[0] == "Z" else [(step[1], step[2], step[1], step[2])]
