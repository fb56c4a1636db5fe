"""The dimensions of the eye of a figure."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from turnback.model.lettering import wrapped
from turnback.model.shapes import Shape, Text
from turnback.model.terminations import PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning._figure_eye import EyePlace
from turnback.planning._figure_labels import SIZE, SMALL, Label, broken, dimension, placed_row, upright_dimension
from turnback.planning._figure_lengths import short
from turnback.planning._figure_scene import Scene
from turnback.planning._figure_sheet import GAP, MARGIN, PAGE, Sheet
from turnback.planning.bill import tape_step
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["eye_sizes"]


def eye_sizes(plan: Plan, sheet: Sheet, scene: Scene, eye: EyePlace, foot: float) -> tuple[list[Shape], float]:
    """Draw them below ``foot``, and return them with how far down they reach."""
    reach = plan.geometry.reach
    y = max(scene.axis + eye.half_height + 0.4 * eye.rope + 14, foot + 16)
    bearing = eye.x + eye.bearing
    start = scene.axis + scene.half + sheet.diameter / 2
    shapes: list[Shape] = [dimension("dimension eye", sheet.base, bearing, y, (start, scene.axis))]
    shapes.append(Text(sheet.base - 8, y + 4, "base of the eye", SMALL, "end"))
    lines: list[tuple[str, bool]] = []
    if isinstance(reach, Length):
        lines = [(f"eye {_about(reach, plan)}", True), ("base to bearing point", False)]
    if eye.eye.missing:
        words = f"eye not to scale: {eye.eye.missing}"
        lines += [(each, False) for each in wrapped(words, SIZE, 300)]
    if eye.broken is not None:
        shapes += broken(eye.broken + GAP / 2, y)
    y += 6 if lines and not lines[0][1] else 2
    for text, bold in lines:
        y += 16
        shapes += placed_row([Label((sheet.base + bearing) / 2, (text,), bold)], y, MARGIN, PAGE - MARGIN)
    return [*shapes, *_across_eye(plan, sheet, eye)], y + 6


def _across_eye(plan: Plan, sheet: Sheet, eye: EyePlace) -> Iterator[Shape]:
    if sheet.lengths.linked is not None:
        for i, words in enumerate(("the other eye,", "turned a quarter")):
            yield Text(eye.crown + 8, eye.y - 0.75 * sheet.lengths.linked.rope * eye.unit - 22 + 14 * i, words, SMALL)
        return
    name, given = _bearing_size(plan)
    if given is None:
        return
    beyond = 0.75 * eye.rope if eye.eye.around == "pulley" else eye.rope / 2
    x = eye.x + eye.radius + beyond + 18
    yield upright_dimension(f"dimension {name}", x, eye.y - eye.bearing, eye.y + eye.bearing, eye.x)
    for i, text in enumerate((name, short(given, plan))):
        yield Text(x + 10, eye.y - 3 + 16 * i, text, SIZE)


def _bearing_size(plan: Plan) -> tuple[str, Length | None]:
    made = plan.request.termination
    if isinstance(made, PlateEye):
        made = made.around
    if isinstance(made, ThimbleEye):
        return "inside width", made.inside_width
    if isinstance(made, SoftEye):
        return "pin", made.pin
    return ("tread diameter", made.tread_diameter) if isinstance(made, PulleyEye) else ("", None)


def _about(length: Length, plan: Plan) -> str:
    step = tape_step(plan)
    nearest = length.tape(step, "nearest")
    return short(length, plan) if nearest == length or not nearest.nanometres else f"about {short(nearest, plan)}"
