"""How a single-plate clip is drawn: one plate, and bolts bent round both parts. It is a sign, not a maker's shape."""

from __future__ import annotations

from turnback.model.figures import ClipPlace
from turnback.model.plates import plate_face
from turnback.model.shapes import Path, PathStep, Rect, Shape

__all__ = ["draw_single_plate"]


def draw_single_plate(place: ClipPlace) -> tuple[Shape, ...]:
    """Draw a single-plate clip.

    Args:
        place: Where, and from which side it is seen.

    Returns:
        The shapes.
    """
    d = place.diameter
    upper, lower = min(place.saddle, place.other) - 0.66 * d, max(place.saddle, place.other) + 0.66 * d
    if place.view == "side":
        return plate_face(place, (upper, lower))
    rod, bend, right, left = 0.26 * d, 0.5 * d, place.x + 0.66 * d, place.x - 1.1 * d
    steps: tuple[PathStep, ...] = (
        ("M", left, upper),
        ("L", right - bend, upper),
        ("A", bend, False, True, right, upper + bend),
        ("L", right, lower - bend),
        ("A", bend, False, True, right - bend, lower),
        ("L", left, lower),
    )
    plate = Rect(place.x - 0.72 * d, upper - 0.3 * d, 0.22 * d, lower - upper + 0.6 * d, fill="metal", corner=0.06 * d)
    nuts = tuple(Rect(place.x - d, y - 0.28 * d, 0.28 * d, 0.56 * d, fill="paper") for y in (upper, lower))
    return (Path(steps, "ink", width=rod), Path(steps, "paper", width=rod - 2.8), plate, *nuts)
