"""Drawings of an eye with the quantities of its formulas: the bare shape, then round a thimble, pin or pulley."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from typing import Final

from formula_strokes import Pen, arc

from turnback.mechanics import half_arc_angle, half_included_angle
from turnback.model.figures import Figure
from turnback.model.shapes import Circle, Path, PathStep, Shape, Text, line

__all__ = ["eye_figure"]

# One shape for all: invented, and chosen so that every letter finds its place. Drawing units from the circle's centre.
_RADIUS: Final = 92.0
_BASE: Final = 225.0
_APART: Final = 40.0
_ROPE: Final = 36.0
_GROOVE: Final = 12.0
_X, _Y = 165.0, 190.0
_END: Final = 180.0
"""How far the two parts go on beyond the base [drawing units]."""
_BEARING: Final = _RADIUS - _ROPE / 2

_TITLES: Final = {
    "eye": "An eye, from its crown at the left to the base at the right",
    "thimble": "An eye round a thimble",
    "pin": "An eye without a thimble, round a pin",
    "pulley": "An eye round a pulley",
}
_DESCRIPTIONS: Final = {
    "eye": (
        "The rope's centre line follows a circle of radius R and leaves it along two straight legs l to the base "
        "of the eye, where the centre lines of the two parts run e apart. a is the distance from the centre of "
        "the circle to the base, q the distance from the centre to a base point, B half of the angle that the "
        "legs enclose."
    ),
    "thimble": (
        "w is the inside width of the thimble, L its inside length from the bearing point to its point at the "
        "base, g the distance from the bearing surface to the bottom of the groove, d the diameter of the rope, r "
        "the radius of the bearing surface, R the radius of the rope's centre line, a the distance from the "
        "centre to the base."
    ),
    "pin": (
        "p is the diameter of the pin, d that of the rope, L the inside length from the bearing point to the "
        "base, R the radius of the rope's centre line, a the distance from the centre of the pin to the base."
    ),
    "pulley": (
        "D is the diameter of the pulley at the bottom of its groove, d that of the rope, R the radius of the "
        "rope's centre line, a the distance from the centre of the pulley to the base, e the distance between the "
        "centre lines of the two parts there, B half of the angle that the legs enclose."
    ),
}


def eye_figure(kind: str, strong: Collection[str]) -> Figure:
    """Draw an eye.

    Args:
        kind: ``eye``, ``thimble``, ``pin`` or ``pulley``.
        strong: Names of the quantities to pick out.

    Returns:
        The figure; its shape is right, its size is nobody's.
    """
    pen = Pen(strong)
    shapes = [*_rope(), *_round_body(pen, kind), *_shape(pen, kind)]
    desc = f"{_DESCRIPTIONS[kind]} Invented proportions."
    return Figure(640, 372, _TITLES[kind], desc, tuple(shapes))


def _tangent() -> tuple[float, float]:
    """Where the upper leg leaves the circle, from its centre, upwards."""
    angle = math.pi - half_arc_angle(_RADIUS, _BASE, _APART, math)
    return _RADIUS * math.cos(angle), _RADIUS * math.sin(angle)


def _rope() -> Iterator[Shape]:
    x, y = _tangent()
    right = _X + _BASE + _END
    steps: tuple[PathStep, ...] = (
        ("M", right, _Y - _APART / 2),
        ("L", _X + _BASE, _Y - _APART / 2),
        ("L", _X + x, _Y - y),
        ("A", _RADIUS, True, False, _X + x, _Y + y),
        ("L", _X + _BASE, _Y + _APART / 2),
        ("L", right, _Y + _APART / 2),
    )
    yield Path(steps, "live", width=_ROPE)
    yield Path(steps, "ink", width=1.2, dash=(10.0, 4.0))
    yield line(_X + _BASE, _Y - 58, _X + _BASE, _Y + 58, "faint", 1.2)
    yield Text(_X + _BASE + 6, _Y - 50, "base of the eye", 13, tone="faint")
    yield Text(right, _Y - _APART / 2 - 26, "dead part", 13, "end", tone="faint")
    yield Text(right, _Y + _APART / 2 + 36, "live part", 13, "end", tone="faint")


def _round_body(pen: Pen, kind: str) -> Iterator[Shape]:
    if kind == "eye":
        yield Circle(_X, _Y, _RADIUS, "faint", width=1.2, dash=(3.0, 4.0))
    elif kind == "thimble":
        yield Circle(_X, _Y, _BEARING, "ink", "metal")
        yield Circle(_X, _Y, _BEARING - _GROOVE, "ink", "paper")
    else:
        yield Circle(_X, _Y, _BEARING, "ink", "metal")
    yield Circle(_X, _Y, 3, "ink", "ink")
    if kind == "thimble":
        yield from _thimble(pen)
    elif kind == "pin":
        yield from pen.down(_X, _Y - _BEARING, _Y + _BEARING, "p")
        yield from pen.across(_X - _BEARING, _X + _BASE, _Y - 138, "L", foot=_Y - 60)
        yield from _thickness(pen)
    elif kind == "pulley":
        yield from pen.down(_X, _Y - _BEARING, _Y + _BEARING, "D")
        yield from _thickness(pen)


def _thickness(pen: Pen) -> Iterator[Shape]:
    x = _X - 24
    top = _Y + math.sqrt(_BEARING**2 - 24**2)
    yield from pen.down(x, top, top + _ROPE, "d")


def _thimble(pen: Pen) -> Iterator[Shape]:
    inner = _BEARING - _GROOVE
    yield from pen.down(_X, _Y - inner, _Y + inner, "w")
    yield from pen.across(_X - inner, _X + _BASE, _Y - 138, "L", foot=_Y - 40)
    yield from _thickness(pen)
    yield pen.stroke(_X - inner, _Y, _X - _BEARING, _Y, "g")
    yield pen.stroke(_X - (inner + _BEARING) / 2, _Y, _X - 140, _Y + 60, "g")
    yield from pen.letter(_X - 147, _Y + 74, "g")
    yield pen.stroke(_X, _Y, _X - inner * math.cos(0.6), _Y + inner * math.sin(0.6), "r")
    yield from pen.letter(_X - 22, _Y + 34, "r")
    if "reach" in pen.strong:
        yield from pen.across(_X - inner, _X + _BASE, _Y + 168, "reach", foot=_Y + 40)


def _shape(pen: Pen, kind: str) -> Iterator[Shape]:
    turn = 2.4
    yield pen.stroke(_X, _Y, _X + _RADIUS * math.cos(turn), _Y - _RADIUS * math.sin(turn), "R")
    yield from pen.letter(_X - 34, _Y - 44, "R")
    yield from pen.across(_X, _X + _BASE, _Y + 138, "a", foot=_Y + 6)
    if kind == "eye":
        yield from _lines_of_the_bare_shape(pen)
    if kind in ("eye", "pulley"):
        yield from pen.down(_X + _BASE, _Y - _APART / 2, _Y + _APART / 2, "e")
        yield from _angle(pen)
    if "F" in pen.strong:
        yield from pen.arrow(_X - _RADIUS - _ROPE / 2, _Y, 24, "F")


def _lines_of_the_bare_shape(pen: Pen) -> Iterator[Shape]:
    x, y = _tangent()
    yield pen.stroke(_X, _Y, _X + _BASE, _Y - _APART / 2, "q")
    yield from pen.letter(_X + 118, _Y + 10, "q")
    yield pen.stroke(_X + x, _Y - y, _X + _BASE, _Y - _APART / 2, "l")
    yield from pen.letter(_X + 148, _Y - 76, "l")
    around = half_arc_angle(_RADIUS, _BASE, _APART, math)
    outer = _RADIUS + _ROPE / 2 + 12
    yield arc(_X, _Y, outer, math.pi - around, math.pi, pen.tone("arc"), 2.4 if "arc" in pen.strong else 1.2)
    yield from pen.letter(_X - 70, _Y - 118, "arc", "half arc")


def _angle(pen: Pen) -> Iterator[Shape]:
    half = half_included_angle(_RADIUS, _BASE, _APART, math)
    apex = _BASE + _APART / 2 / math.tan(half)
    for way in (-1, 1):
        yield Path(
            (("M", _X + _BASE, _Y + way * _APART / 2), ("L", _X + apex, _Y)), "faint", width=1.0, dash=(4.0, 3.0)
        )
    yield Path((("M", _X, _Y), ("L", _X + apex, _Y)), "faint", width=1.0, dash=(4.0, 3.0))
    yield arc(_X + apex, _Y, 96, math.pi - half, math.pi, pen.tone("B"), 2.4 if "B" in pen.strong else 1.2)
    yield from pen.letter(_X + apex - 110, _Y - 10, "B")
