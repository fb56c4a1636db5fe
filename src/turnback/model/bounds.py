"""The box that holds a drawing."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from turnback.errors import InputError
from turnback.model.lettering import text_width
from turnback.model.shapes import Circle, Group, PathStep, Rect, Shape, Text

__all__ = ["Box", "bounds_of"]


Box: TypeAlias = tuple[float, float, float, float]


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
