"""How plate clips look when a style says no more than the core: two plates and their bolts.

The outline is schematic. To scale is the length of the body along the rope.
"""

from __future__ import annotations

from turnback.model.figures import ClipPlace
from turnback.model.shapes import Circle, Path, PathStep, Rect, Shape, polygon

__all__ = ["draw_plates", "hex_head", "plate_face"]


_FLANK = 0.9
"""From the centre line of the outer part to the edge of a plate [rope diameters]."""


def draw_plates(place: ClipPlace) -> tuple[Shape, ...]:
    """Draw a body of two plates that hold both parts between them.

    Args:
        place: Where.

    Returns:
        The shapes.
    """
    if place.view == "side":
        return plate_face(place)
    d = place.diameter
    top, bottom = min(place.saddle, place.other) - _FLANK * d, max(place.saddle, place.other) + _FLANK * d
    shapes: list[Shape] = []
    for y in _bolt_heights(place):
        shapes.append(Rect(place.x - 1.05 * d, y - 0.13 * d, 2.2 * d, 0.26 * d, fill="paper"))
        shapes.append(Rect(place.x - 1.0 * d, y - 0.28 * d, 0.28 * d, 0.56 * d, fill="paper"))
        shapes.append(Rect(place.x + 0.72 * d, y - 0.28 * d, 0.28 * d, 0.56 * d, fill="paper"))
    for side in (-1, 1):
        left = place.x + (0.5 * d if side > 0 else -0.72 * d)
        shapes.append(Rect(left, top, 0.22 * d, bottom - top, fill="metal", corner=0.06 * d))
    return tuple(shapes)


def plate_face(place: ClipPlace, heights: tuple[float, ...] = ()) -> tuple[Shape, ...]:
    """Draw a plate seen from its face, the two parts hidden under it, and its bolts.

    Args:
        place: Where; the view from the side.
        heights: Where the rows of bolts are, from the top [drawing units]; between the parts where these leave room
            and beyond them where they do not, when none is given.

    Returns:
        The shapes.
    """
    d, half = place.diameter, place.width / 2
    top, bottom = min(place.saddle, place.other) - _FLANK * d, max(place.saddle, place.other) + _FLANK * d
    shapes: list[Shape] = [
        Rect(place.x - half, top, place.width, bottom - top, fill="metal", corner=min(0.25 * d, half))
    ]
    for part in (place.other, place.saddle):
        for edge in (part - d / 2, part + d / 2):
            steps: tuple[PathStep, ...] = (("M", place.x - half, edge), ("L", place.x + half, edge))
            shapes.append(Path(steps, "ink", width=1.0, dash=(5.0, 3.0)))
    radius = min(0.26 * d, place.width / 6)
    for y in heights or _bolt_heights(place):
        for x in (place.x - 0.27 * place.width, place.x + 0.27 * place.width):
            shapes += hex_head(x, y, radius)
    return tuple(shapes)


def hex_head(x: float, y: float, radius: float) -> tuple[Shape, ...]:
    """Draw the head of a bolt from above.

    Args:
        x: Centre, from the left [drawing units].
        y: Centre, from the top [drawing units].
        radius: From the centre to a corner [drawing units].

    Returns:
        The shapes.
    """
    # Cosine and sine of the six corners, written out so that no platform rounds them in another way.
    corners = ((1.0, 0.0), (0.5, 0.8660254), (-0.5, 0.8660254), (-1.0, 0.0), (-0.5, -0.8660254), (0.5, -0.8660254))
    return (
        polygon([(x + radius * a, y + radius * b) for a, b in corners], "paper", width=1.2),
        Circle(x, y, radius * 0.55, width=0.8),
    )


def _bolt_heights(place: ClipPlace) -> tuple[float, ...]:
    d = place.diameter
    if abs(place.saddle - place.other) >= 1.4 * d:
        return ((place.saddle + place.other) / 2,)
    return (min(place.saddle, place.other) - 0.68 * d, max(place.saddle, place.other) + 0.68 * d)
