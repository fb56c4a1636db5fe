"""The dimensions of a figure, and the words beside its parts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from turnback.model.figures import Shape, Text, line
from turnback.model.lettering import wrapped
from turnback.planning._figure_eye import EyePlace
from turnback.planning._figure_labels import SIZE, SMALL, Label, dimension, placed_row, upright_dimension
from turnback.planning._figure_lengths import short, taped
from turnback.planning._figure_scene import NUMBER, Scene, number_disc
from turnback.planning._figure_sheet import GAP, MARGIN, PAGE, Sheet
from turnback.planning.bill import tape_step
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.model.layout import Layout
    from turnback.planning.plan import Plan

__all__ = ["ROWS_ABOVE", "sizes_of"]

_CHAIN: Final = 2 * NUMBER + 16
"""From the hardware up to the line of the shorter dimensions [drawing units]."""
_WHOLE: Final = _CHAIN + 46
"""From the hardware up to the line of the turn-back [drawing units]."""
ROWS_ABOVE: Final = _WHOLE + 24
"""Room for everything above the hardware [drawing units]."""


def sizes_of(plan: Plan, sheet: Sheet, scene: Scene) -> tuple[tuple[Shape, ...], float]:
    """Draw the dimensions and the words beside the parts.

    Args:
        plan: The plan.
        sheet: Where everything lies.
        scene: What is drawn.

    Returns:
        The shapes, and how far down they reach [drawing units].
    """
    shapes: list[Shape] = [*_numbers(sheet, scene), *_above(plan, sheet, scene), *_part_names(sheet, scene)]
    below, foot = _below(plan, sheet, scene)
    shapes += below
    if scene.eye is not None:
        eye, foot = _eye(plan, sheet, scene, scene.eye, foot)
        shapes += eye
    return tuple(shapes), foot


def _numbers(sheet: Sheet, scene: Scene) -> Iterator[Shape]:
    for clip in sheet.shown:
        yield number_disc((sheet.x(clip.near) + sheet.x(clip.far)) / 2, scene.numbers, str(clip.number))
    hidden = [clip.number for clip in sheet.lengths.clips if clip not in sheet.shown]
    for cut in sheet.cuts:
        if hidden and cut.start < sheet.lengths.turn_back:
            words = f"{hidden[0]} to {hidden[-1]}"
            yield Text(sheet.x(cut.start) + GAP / 2, scene.numbers + 4, words, SMALL, "middle")


def _above(plan: Plan, sheet: Sheet, scene: Scene) -> Iterator[Shape]:
    layout, splice = taped(plan), sheet.lengths.splice
    series = plan.style.in_series
    measure = "base width" if series else "body"
    hardware, rope = scene.axis - scene.above, scene.axis - scene.half - sheet.diameter / 2
    chain, whole = hardware - _CHAIN, hardware - _WHOLE
    high = sheet.base + 40
    name = "overlap" if splice else "turn-back"
    right = rope if not splice else scene.axis + scene.half - sheet.diameter / 2
    yield dimension(f"dimension {name}", sheet.left, sheet.base, whole, (rope, right))
    for cut in sheet.cuts:
        if cut.start < sheet.lengths.turn_back:
            yield from _broken(sheet.x(cut.start) + GAP / 2, whole)
    said = (
        short(layout.turn_back, plan) if isinstance(layout.turn_back, Length) else f"not known: measure the {measure}"
    )
    # Clear of the stroke that breaks the line.
    end = next((sheet.x(cut.start) for cut in sheet.cuts if cut.start < sheet.lengths.turn_back), sheet.base)
    middle = (sheet.left + end) / 2
    yield from placed_row([Label(middle, (f"{name} {said}",), True)], whole - 6, MARGIN, max(high, middle + 200))
    first, *others = sheet.shown
    if isinstance(layout.end_distance, Length) and (sheet.lengths.measured or not series):
        x = sheet.x(first.near)
        yield dimension("dimension end distance", sheet.left, x, chain, (rope, hardware))
        for i, words in enumerate(("end distance" if series else "dead end", short(layout.end_distance, plan))):
            yield Text(sheet.left - 8, chain - 3 + 15 * i, words, SIZE, "end")
    if len(layout.clips) > 1:
        one, two = ((sheet.x(clip.near) + sheet.x(clip.far)) / 2 for clip in (first, others[0]))
        top = scene.numbers - NUMBER
        yield dimension("dimension spacing", one, two, chain, (top, top))
        yield from placed_row([Label((one + two) / 2, _spacing(plan, layout))], chain - 6, sheet.left + 6, high)
    if not sheet.lengths.measured and series:
        label = Label(middle, ("clips not to scale: base width not measured",))
        yield from placed_row([label], chain - 2, MARGIN, max(high, middle + 200))


def _spacing(plan: Plan, layout: Layout) -> tuple[str, str]:
    """Name the distance from the first clip to the second; on a tape the others may differ by a graduation."""
    gaps = [after.position - before.position for before, after in pairwise(layout.clips)]
    words = "spacing" if len(gaps) == 1 else f"{len(gaps)} equal spacings" if len(set(gaps)) == 1 else "clip 1 to 2"
    return words, short(gaps[0], plan)


def _broken(x: float, y: float) -> Iterator[Shape]:
    yield line(x - 5, y, x + 5, y, "paper", 4.0)
    for at in (x - 5, x + 5):
        yield line(at - 2.5, y + 5, at + 2.5, y - 5, width=1.0)


def _part_names(sheet: Sheet, scene: Scene) -> Iterator[Shape]:
    dead, live = scene.axis - scene.half, scene.axis + scene.half
    under = _under(sheet, scene)
    if not sheet.lengths.splice:
        # Above the live part, however thick its coating is.
        clear = min(dead + 5, live - sheet.thickness / 2 - 6)
        yield Text(sheet.left - 10, clear, "DEAD PART", SIZE, "end", True)
        yield Text(MARGIN, under, "LIVE PART", SIZE, bold=True)
        yield Text(MARGIN, under + 16, "to the load", SMALL)
        return
    right = PAGE - MARGIN
    over, beneath = live - sheet.thickness / 2 - 6, dead + sheet.thickness / 2 + 15
    for i, words in enumerate(("ROPE A", "dead end")):
        yield Text(sheet.left - 10, over - 15 + 15 * i, words, SIZE, "end", i == 0)
    for i, words in enumerate(("ROPE B", "live part")):
        yield Text(MARGIN, under + 15 * i, words, SIZE, bold=i == 0)
    for i, words in enumerate(("ROPE B", "dead end")):
        yield Text(sheet.base + 10, beneath + 15 * i, words, SIZE, bold=i == 0)
    for i, words in enumerate(("ROPE A", "live part")):
        yield Text(right, dead - sheet.thickness / 2 - 27 + 15 * i, words, SIZE, "end", i == 0)


def _under(sheet: Sheet, scene: Scene) -> float:
    """Return the base line of the first words under the live part."""
    return scene.axis + scene.half + sheet.thickness / 2 + 20


def _below(plan: Plan, sheet: Sheet, scene: Scene) -> tuple[list[Shape], float]:
    y = scene.axis + scene.below + 14
    row = max(y + 17, _under(sheet, scene) + 36)
    shapes: list[Shape] = []
    labels: list[Label] = []
    first = sheet.shown[0]
    near, far = sheet.x(first.near), sheet.x(first.far)
    name = "base width" if plan.style.in_series else "length of the body"
    if sheet.lengths.measured and plan.request.base_width is not None:
        shapes.append(dimension(f"dimension {name}", near, far, y, (scene.axis + scene.below,) * 2))
        labels.append(Label((near + far) / 2, (name, short(plan.request.base_width, plan))))
    elif not plan.style.in_series:
        labels.append(Label((near + far) / 2, ("body not to scale:", "measure it along the rope")))
    callouts = _callouts(plan, sheet)
    labels += [Label(_foot(sheet, number), words, True) for number, words in callouts]
    texts = placed_row(labels, row + 15, MARGIN, sheet.base + (4 if scene.eye is not None else 100))
    shapes += texts
    for (number, _), text in zip(callouts, texts[-2 * len(callouts) :: 2] if callouts else (), strict=True):
        clip = sheet.shown[number]
        way = -1 if clip.saddle_on == "rope A" else 1
        saddle = scene.axis + way * (scene.half + 0.8 * sheet.diameter)
        shapes.append(line(text.x, row - SIZE, _foot(sheet, number), saddle, "faint", 0.9))
    return shapes, row + 21


def _foot(sheet: Sheet, number: int) -> float:
    """Return the right-hand end of a drawn clip's saddle, clear of its bolt."""
    clip = sheet.shown[number]
    near, far = sheet.x(clip.near), sheet.x(clip.far)
    return far - 0.2 * (far - near)


def _callouts(plan: Plan, sheet: Sheet) -> list[tuple[int, tuple[str, str]]]:
    """Return which drawn clip a word about the saddles points at, from the left."""
    shown, second = sheet.shown, min(1, len(sheet.shown) - 1)
    if not plan.style.in_series:
        return []
    if not plan.style.wrong_way_round:
        return [(second, ("an equal saddle", "on each part"))]
    if sheet.lengths.splice:
        last = max(len(shown) - 2, 0) if len(shown) > 2 else len(shown) - 1
        first = 1 if len(shown) > 2 else 0
        return [(first, ("saddles here", "on rope B")), (last, ("saddles here", "on rope A"))]
    return [(second, ("every saddle on", "the LIVE part"))]


def _eye(plan: Plan, sheet: Sheet, scene: Scene, eye: EyePlace, foot: float) -> tuple[list[Shape], float]:
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
        shapes += _broken(eye.broken + GAP / 2, y)
    y += 6 if lines and not lines[0][1] else 2
    for text, bold in lines:
        y += 16
        shapes += placed_row([Label((sheet.base + bearing) / 2, (text,), bold)], y, MARGIN, PAGE - MARGIN)
    return [*shapes, *_across_eye(plan, sheet, eye)], y + 6


def _across_eye(plan: Plan, sheet: Sheet, eye: EyePlace) -> Iterator[Shape]:
    if sheet.lengths.linked is not None:
        x = min(eye.x + eye.bearing + (sheet.lengths.linked.base + eye.eye.bearing) * eye.unit, PAGE - 90)
        yield Text(x, eye.y - eye.rope - 14, "the other eye,", SMALL, "middle")
        yield Text(x, eye.y - eye.rope, "turned a quarter", SMALL, "middle")
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
    from turnback.model.terminations import PlateEye, PulleyEye, SoftEye, ThimbleEye

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
