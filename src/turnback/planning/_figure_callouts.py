"""What stands under the clips of a figure: their base width, and words that point at the saddles."""

from __future__ import annotations

from typing import TYPE_CHECKING

from turnback.model.shapes import Shape, line
from turnback.planning._figure_labels import SIZE, Label, dimension, placed_row
from turnback.planning._figure_lengths import short
from turnback.planning._figure_scene import Scene, under_live
from turnback.planning._figure_sheet import MARGIN, Sheet

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["callouts"]


def callouts(plan: Plan, sheet: Sheet, scene: Scene) -> tuple[list[Shape], float]:
    """Draw them, and return them with how far down they reach."""
    y = scene.axis + scene.below + 14
    row = max(y + 17, under_live(sheet, scene) + 36)
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
    pointing = _callouts(plan, sheet)
    labels += [Label(_foot(sheet, number), words, True) for number, words in pointing]
    texts = placed_row(labels, row + 15, MARGIN, sheet.base + (4 if scene.eye is not None else 100))
    shapes += texts
    for (number, _), text in zip(pointing, texts[-2 * len(pointing) :: 2] if pointing else (), strict=True):
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
