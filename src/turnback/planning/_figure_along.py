"""The clip of a figure seen along the rope."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from turnback.model.bounds import bounds_of
from turnback.model.figures import ClipPlace
from turnback.model.shapes import Circle, Group, Shape, Text, Tone, line
from turnback.planning._figure_clip import drawn
from turnback.planning._figure_labels import SMALL
from turnback.planning._figure_sheet import Sheet

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["section", "sections"]


_ROPE: Final = 40.0
"""Diameter of the rope in the view along it [drawing units]."""


def sections(plan: Plan) -> list[tuple[str, int]]:
    """Return which views there are: their clips in words, and 1 for a saddle below or -1 for one above."""
    half = plan.clip_count // 2
    if plan.layout_demand.splice and plan.style.wrong_way_round:
        return [(f"clips 1 to {half}" if half > 1 else "clip 1", 1), (f"clips {half + 1} to {2 * half}", -1)]
    return [("each clip" if plan.clip_count > 1 else "the clip", 1)]


def section(plan: Plan, sheet: Sheet, words: str, way: int, left: float, top: float) -> tuple[Shape, float, float]:
    """Draw one view, and return it with its width and how far down it reaches."""
    apart = _ROPE * sheet.lengths.apart / sheet.lengths.diameter
    names = _part_names(plan, way)
    trial = ClipPlace("along", 0.0, _ROPE, way * apart / 2, -way * apart / 2, _ROPE)
    west, north, east, south = bounds_of(drawn(plan.style, trial, plan.case.origin))
    north, south = min(north, -apart / 2 - _ROPE / 2), max(south, apart / 2 + _ROPE / 2)
    x, y = left + 8 - west, top + 34 - north
    place = ClipPlace("along", x, _ROPE, y + way * apart / 2, y - way * apart / 2, _ROPE)
    # The upper part is the dead one of an eye; in a splice it is rope A, live where the saddle is above.
    above, below = y - apart / 2, y + apart / 2
    live_above = plan.layout_demand.splice and way < 0
    both = plan.layout_demand.splice and not plan.style.wrong_way_round
    shapes: list[Shape] = [
        Text(left, top + 12, f"Seen along the rope: {words}", SMALL, bold=True),
        *_cross_section(x, above, live=live_above or both),
        *_cross_section(x, below, live=not live_above),
        *drawn(plan.style, place, plan.case.origin),
    ]
    out = x + max(east, _ROPE / 2) + 12
    # Two lines of words need their room, however close the parts lie.
    clear = max(apart / 2, 18.0)
    for part, words_at, text in ((above, y - clear, names[0]), (below, y + clear, names[1])):
        shapes.append(line(x + _ROPE * 0.2, part, out - 3, words_at, "faint", 0.9))
        shapes += [Text(out, words_at + 4 + 14 * i, each, SMALL) for i, each in enumerate(text)]
    width = max(out - left + 96, 190)
    return Group(tuple(shapes), f"along the rope: {words}"), width, y + south + 10


def _part_names(plan: Plan, way: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if plan.layout_demand.splice:
        if not plan.style.wrong_way_round:
            return ("rope A", "saddle on it"), ("rope B", "saddle on it")
        a, b = ("rope A: live", "saddle on it"), ("rope B: live", "saddle on it")
        return (("rope A: dead", "U on it"), b) if way > 0 else (a, ("rope B: dead", "U on it"))
    if not plan.style.in_series:
        return ("dead part",), ("live part",)
    if plan.style.wrong_way_round:
        return ("DEAD part", "U on it"), ("LIVE part", "saddle on it")
    return ("dead part", "saddle on it"), ("live part", "saddle on it")


def _cross_section(x: float, y: float, *, live: bool) -> Iterator[Shape]:
    tone: Tone = "live" if live else "paper"
    r = _ROPE / 2
    yield Circle(x, y, r, "ink", tone, 1.3)
    if live:
        # Six strands round a core, as the sign of the live part; the dead part stays plain.
        for i in range(6):
            turn = math.pi / 3 * i
            yield Circle(x + r * 0.66 * math.cos(turn), y + r * 0.66 * math.sin(turn), r * 0.32, "ink", "none", 0.8)
        yield Circle(x, y, r * 0.32, "ink", "none", 0.8)
