"""How clips look when a style says no more than the core: a U over one part, or two equal saddles.

The outlines are schematic: nobody but the clip's maker knows its shape. To scale is the base width, along the rope,
and which part each piece bears on is as it must be.
"""

from __future__ import annotations

from collections.abc import Iterator

from turnback.model.figures import ClipPlace
from turnback.model.shapes import Path, PathStep, Rect, Shape, Tone, polygon

__all__ = ["draw_block", "draw_twin_saddles", "draw_u_bolt"]


def draw_block(place: ClipPlace) -> tuple[Shape, ...]:
    """Draw a clip of which nothing is known: a block round both parts, heavier where its saddle bears.

    Args:
        place: Where.

    Returns:
        The shapes.
    """
    d, k = place.diameter, place.out
    half = place.width / 2 if place.view == "side" else d
    far, near = place.other - 0.8 * d * k, place.saddle + 0.8 * d * k
    block = Rect(place.x - half, min(far, near), 2 * half, abs(near - far), corner=d / 6)
    heavy = Rect(place.x - half, min(near, near - 0.25 * d * k), 2 * half, 0.25 * d, fill="saddle")
    return (block, heavy)


def draw_u_bolt(place: ClipPlace) -> tuple[Shape, ...]:
    """Draw a U-bolt clip: the U over one part, the saddle on the other, the nuts on the saddle's side.

    Args:
        place: Where.

    Returns:
        The shapes.
    """
    return tuple(_u_side(place) if place.view == "side" else _u_along(place))


def draw_twin_saddles(place: ClipPlace) -> tuple[Shape, ...]:
    """Draw a clip of two equal saddles with a bolt on each side of the rope, one from above and one from below.

    Args:
        place: Where.

    Returns:
        The shapes.
    """
    return tuple(_twin_side(place) if place.view == "side" else _twin_along(place))


def _upright(x: float, wide: float, y1: float, y2: float, fill: Tone, corner: float = 0.0) -> Rect:
    return Rect(x - wide / 2, min(y1, y2), wide, abs(y2 - y1), fill=fill, corner=corner)


def _nut(x: float, rod: float, y: float, k: float) -> Iterator[Shape]:
    """Draw a nut on a bolt, seen from the side, with the thread standing out."""
    yield _upright(x, rod, y, y + 1.25 * rod * k, "paper")
    yield _upright(x, 1.75 * rod, y, y + 0.8 * rod * k, "paper", 0.15 * rod)


def _saddle_side(place: ClipPlace, part: float, k: float) -> Path:
    d, half = place.diameter, place.width / 2
    y = [part + share * d * k for share in (0.1, 0.62, 0.95)]
    corners = ((-half, y[0]), (half, y[0]), (half, y[1]), (0.72 * half, y[2]), (-0.72 * half, y[2]), (-half, y[1]))
    return polygon([(place.x + across, down) for across, down in corners], "saddle", width=1.2)


def _u_side(place: ClipPlace) -> Iterator[Shape]:
    d, k = place.diameter, place.out
    rod = min(0.46 * d, 0.4 * place.width)
    top, foot = place.other - (0.5 * d + rod) * k, place.saddle + 0.95 * d * k
    yield _upright(place.x, rod, top, foot, "paper", rod / 2)
    yield _saddle_side(place, place.saddle, k)
    yield from _nut(place.x, rod, foot, k)


def _cradle(place: ClipPlace, part: float, k: float, half: float) -> Path:
    """Draw a saddle seen along the rope: a block with a groove in which the part lies."""
    d = place.diameter
    lip, foot, chord = part + 0.14 * d * k, part + 0.95 * d * k, 0.48 * d
    return Path(
        (
            ("M", place.x - half, lip),
            ("L", place.x - chord, lip),
            ("A", 0.5 * d, False, k < 0, place.x + chord, lip),
            ("L", place.x + half, lip),
            ("L", place.x + half, foot),
            ("L", place.x - half, foot),
            ("Z",),
        ),
        "ink",
        "saddle",
        1.2,
    )


def _u_along(place: ClipPlace) -> Iterator[Shape]:
    d, k = place.diameter, place.out
    rod = 0.4 * d
    radius, foot = 0.5 * d + rod / 2, place.saddle + 0.95 * d * k
    steps: tuple[PathStep, ...] = (
        ("M", place.x - radius, foot),
        ("L", place.x - radius, place.other),
        ("A", radius, False, k > 0, place.x + radius, place.other),
        ("L", place.x + radius, foot),
    )
    yield Path(steps, "ink", width=rod)
    yield Path(steps, "paper", width=rod - 3.0)
    yield _cradle(place, place.saddle, k, radius + rod)
    for side in (-1, 1):
        yield from _nut(place.x + side * radius, rod, foot, k)


def _twin_side(place: ClipPlace) -> Iterator[Shape]:
    d, k = place.diameter, place.out
    rod = min(0.4 * d, 0.24 * place.width)
    x = place.x - 0.24 * place.width
    outer, inner = place.saddle + 0.95 * d * k, place.other - 0.95 * d * k
    yield _upright(x, rod, place.saddle, place.other, "paper")
    yield _saddle_side(place, place.saddle, k)
    yield _saddle_side(place, place.other, -k)
    yield from _nut(x, rod, outer, k)
    yield _upright(x, 1.75 * rod, inner, inner - 0.5 * rod * k, "paper")
    # The other bolt goes the other way, behind the rope: only its ends show.
    x = place.x + 0.24 * place.width
    yield from _nut(x, rod, inner, -k)
    yield _upright(x, 1.75 * rod, outer, outer + 0.5 * rod * k, "paper")


def _twin_along(place: ClipPlace) -> Iterator[Shape]:
    d, k = place.diameter, place.out
    rod = 0.36 * d
    radius = 0.5 * d + rod / 2 + 0.04 * d
    outer, inner = place.saddle + 0.95 * d * k, place.other - 0.95 * d * k
    for side in (-1, 1):
        yield _upright(place.x + side * radius, rod, outer, inner, "paper")
    yield _cradle(place, place.saddle, k, radius + rod)
    yield _cradle(place, place.other, -k, radius + rod)
    for side, foot, head, way in ((-1, outer, inner, k), (1, inner, outer, -k)):
        yield from _nut(place.x + side * radius, rod, foot, way)
        yield _upright(place.x + side * radius, 1.75 * rod, head, head - 0.5 * rod * way, "paper")
