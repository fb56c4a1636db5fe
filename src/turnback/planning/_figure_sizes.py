"""The dimensions of a figure, and the words beside its parts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from turnback.model.shapes import Shape, Text
from turnback.planning._figure_callouts import callouts
from turnback.planning._figure_eye_sizes import eye_sizes
from turnback.planning._figure_labels import SIZE, SMALL, Label, broken, dimension, placed_row
from turnback.planning._figure_lengths import short, taped
from turnback.planning._figure_scene import NUMBER, Scene, number_disc, under_live
from turnback.planning._figure_sheet import GAP, MARGIN, PAGE, Sheet
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
    below, foot = callouts(plan, sheet, scene)
    shapes += below
    if scene.eye is not None:
        eye, foot = eye_sizes(plan, sheet, scene, scene.eye, foot)
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
            yield from broken(sheet.x(cut.start) + GAP / 2, whole)
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


def _part_names(sheet: Sheet, scene: Scene) -> Iterator[Shape]:
    dead, live = scene.axis - scene.half, scene.axis + scene.half
    under = under_live(sheet, scene)
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
