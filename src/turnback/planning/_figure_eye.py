"""The way of the rope round the eye of a figure."""

from __future__ import annotations

import math

import attrs

from turnback.planning._figure_eyes import DrawnEye
from turnback.planning._figure_rope import Arc, Run, Straight
from turnback.planning._figure_sheet import Cut, Sheet

__all__ = ["EyePlace", "eye_place"]


@attrs.frozen
class EyePlace:
    """Where the eye lies on the page, all in drawing units.

    Args:
        eye: The eye, in millimetres.
        unit: Scale [drawing units/mm].
        x: Centre of its circle.
        y: The axis of the termination.
        radius: Radius of the rope's centre line.
        dead: The base on the dead side.
        live: The base on the live side.
        runs: The way of the rope from the dead side to the live side; several where a break line cuts it.
        broken: Left side of the break, or None.
    """

    eye: DrawnEye
    unit: float
    x: float
    y: float
    radius: float
    dead: tuple[float, float]
    live: tuple[float, float]
    runs: tuple[Run, ...]
    broken: float | None

    @property
    def rope(self) -> float:
        """Diameter of the rope in the eye."""
        return self.eye.rope * self.unit

    @property
    def bearing(self) -> float:
        """Radius of what the rope bears on."""
        return self.eye.bearing * self.unit

    @property
    def crown(self) -> float:
        """Outside of the rope at the crown, from the left."""
        return self.x + self.radius + self.rope / 2

    @property
    def half_height(self) -> float:
        """From the axis to the outside of the rope."""
        return self.radius + self.rope / 2


def eye_place(sheet: Sheet, eye: DrawnEye, axis: float) -> EyePlace:
    """Lay the rope of an eye out on the page.

    Args:
        sheet: The sheet.
        eye: The eye.
        axis: Height of the axis of the termination, from the top.

    Returns:
        Where it lies.
    """
    unit, base = sheet.unit, sheet.lengths.turn_back
    x, half = sheet.x(base + eye.base), eye.apart * unit / 2
    radius = eye.radius * unit
    # Angles run clockwise from the right. The legs touch the circle where they stand square to its radius.
    towards = math.atan2(-eye.apart / 2, -eye.base)
    touch = towards + math.acos(min(1.0, eye.radius / math.hypot(eye.base, eye.apart / 2)))
    arc = Arc(x, axis, radius, touch, -touch)
    dead, live = (sheet.base, axis - half), (sheet.base, axis + half)
    cut = next((each for each in sheet.cuts if each.start > base), None)
    runs: tuple[Run, ...]
    broken = None
    if cut is None:
        first, last = Straight(*dead, *arc.at(touch)), Straight(*arc.at(-touch), *live)
        runs = ((first, arc, last),)
    else:
        near, far = sheet.x(cut.start), sheet.x(cut.end)
        y_near, y_far = _leg(eye, base, cut, touch)
        runs = (
            (Straight(*dead, near, axis - y_near * unit),),
            (
                Straight(far, axis - y_far * unit, *arc.at(touch)),
                arc,
                Straight(*arc.at(-touch), far, axis + y_far * unit),
            ),
            (Straight(near, axis + y_near * unit, *live),),
        )
        broken = near
    return EyePlace(eye, unit, x, axis, radius, dead, live, runs, broken)


def _leg(eye: DrawnEye, base: float, cut: Cut, touch: float) -> tuple[float, float]:
    """Return how far a leg is from the axis on both sides of a cut [mm]."""
    end_x, end_y = eye.base + eye.radius * math.cos(touch), -eye.radius * math.sin(touch)
    rise = (end_y - eye.apart / 2) / end_x
    return eye.apart / 2 + rise * (cut.start - base), eye.apart / 2 + rise * (cut.end - base)
