"""The marks of a plan on the straight rope, before it is bent: a strip for each rope, lengths to scale."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING, Final

from turnback.model.lettering import text_width
from turnback.model.shapes import Group, Rect, Shape, Text, Tone, line
from turnback.planning._figure_ends import break_lines, cut_end, rope_end
from turnback.planning._figure_labels import SIZE, SMALL, Label, placed_row, spread
from turnback.planning._figure_lengths import short
from turnback.planning._figure_rope import Straight, band
from turnback.planning._figure_ropes import LAY
from turnback.planning._figure_scene import NUMBER, number_disc
from turnback.planning._figure_sheet import MARGIN, PAGE, Sheet
from turnback.planning._figure_strip import STRIP_GAP, TAIL, Strip, fitted_strip, hidden, mark_mm, mark_place

if TYPE_CHECKING:
    from turnback.planning.marks import Along, Mark
    from turnback.planning.plan import Plan

__all__ = ["strips_of"]

_THICK: Final = 14.0
"""Thickness of the rope on a strip, not to scale [drawing units]."""
_SADDLE: Final = 8.0
_WORDS: Final = {
    "dead-end": "dead end",
    "base-dead-side": "base of the eye",
    "crown": "crown",
    "base-live-side": "base of the eye",
    "strip-to": "stripping ends",
}


def strips_of(plan: Plan, sheet: Sheet, top: float) -> tuple[tuple[Shape, ...], float]:
    """Draw the marks.

    Args:
        plan: The plan.
        sheet: The page of the termination, whose break lines leave out the same clips here.
        top: Where the strips may begin, from the top [drawing units].

    Returns:
        The shapes, and how far down they reach [drawing units]; nothing where fewer than two marks are known.
    """
    ropes: tuple[tuple[Along, ...], ...] = (("rope A",), ("rope B",))
    if not plan.layout_demand.splice:
        ropes = (("dead part", "eye", "live part"),)
    shapes: list[Shape] = []
    foot = top
    for along in ropes:
        marks = tuple(mark for mark in plan.marks if mark.along in along)
        if len(marks) < 3:
            continue
        title = "Marks on the straight rope: number, and distance from the dead end"
        if len(ropes) > 1:
            title = f"Marks on {along[0]} while it is straight: number, and distance from its own dead end"
        drawn, foot = _strip(plan, sheet, marks, title, foot)
        shapes.append(Group(drawn, f"marks on {along[0] if len(ropes) > 1 else 'the rope'}"))
    return tuple(shapes), foot


def _strip(
    plan: Plan, sheet: Sheet, marks: tuple[Mark, ...], title: str, top: float
) -> tuple[tuple[Shape, ...], float]:
    strip = fitted_strip(sheet, marks)
    shown = tuple(mark for mark in marks if not hidden(sheet, mark))
    texts = [_label(plan, same) for _, same in groupby(shown, key=mark_place)]
    places = [strip.x(mark_mm(next(same))) for _, same in groupby(shown, key=mark_place)]
    high = max(text_width(text, SMALL) for text in texts)
    y = top + 26 + high + 14 + _THICK / 2
    shapes: list[Shape] = [Text(MARGIN, top + 14, title, SIZE, bold=True), *_legend(plan, marks, top + 14)]
    shapes += _rope(plan, strip, y)
    shapes += _feet(plan, sheet, strip, marks, y)
    edge, foot = y - _THICK / 2, y - _THICK / 2 - 14
    middles = spread(places, [SMALL + 2.5] * len(places), MARGIN - 6, PAGE - MARGIN, 0.0)
    for x, middle, text in zip(places, middles, texts, strict=True):
        shapes.append(line(x, edge + _THICK, x, edge - 3, width=1.2))
        shapes.append(line(x, edge - 3, middle, foot + 2, "faint", 0.8))
        shapes.append(Text(middle + SMALL * 0.36, foot, text, SMALL, upright=True))
    named = [Label(strip.x(mark_mm(mark)), (_word(mark),)) for mark in shown if _word(mark)]
    shapes += placed_row(named, y + _THICK / 2 + _SADDLE + 40, MARGIN, PAGE - MARGIN, "faint")
    return tuple(shapes), y + _THICK / 2 + _SADDLE + 58


def _legend(plan: Plan, marks: tuple[Mark, ...], y: float) -> Iterator[Shape]:
    """Say what the blocks under the rope mean, where they differ."""
    if not plan.style.wrong_way_round or not any(mark.clip for mark in marks):
        return
    x = PAGE - MARGIN - 130
    for fill, word, at in (("saddle", "saddle", x), ("paper", "U", x + 88)):
        tone: Tone = "saddle" if fill == "saddle" else "paper"
        yield Rect(at, y - _SADDLE - 1, 22, _SADDLE, fill=tone, line=1.0)
        yield Text(at + 28, y, word, SMALL)


def _label(plan: Plan, same: Iterator[Mark]) -> str:
    marks = list(same)
    return f"{', '.join(str(mark.number) for mark in marks)}:  {short(mark_place(marks[0]), plan)}"


def _word(mark: Mark) -> str:
    if mark.code == "dead-end-lies":
        return "dead end lies here" if mark.along == "live part" else f"dead end of {_other(mark)} lies here"
    if mark.code == "strip-to" and mark.along == "dead part":
        return ""
    return "" if mark.code == "strip-to" else _WORDS.get(mark.code, "")


def _other(mark: Mark) -> str:
    return "rope B" if mark.along == "rope A" else "rope A"


def _rope(plan: Plan, strip: Strip, y: float) -> Iterator[Shape]:
    end = strip.x(strip.length) + TAIL - 8
    slant = -1 if "left" in plan.request.rope.lay else 1
    at = {mark.code: mark_mm(mark) for mark in strip.marks}
    pieces: list[tuple[float, float, Tone, float]] = []
    if plan.layout_demand.splice:
        middle = strip.length / 2
        pieces = [(0.0, middle, "paper", 0.0), (middle, strip.length, "live", LAY)]
    else:
        base = at.get("base-dead-side", strip.length)
        live = at.get("base-live-side", strip.length)
        pieces = [(0.0, base, "paper", 0.0), (base, live, "live", 1.7), (live, strip.length, "live", LAY)]
    for start, stop, tone, pitch in pieces:
        if stop > start:
            run = (Straight(strip.x(start), y, strip.x(stop), y),)
            yield from band(run, _THICK, tone, pitch=pitch, slant=slant)
    last = pieces[-1] if pieces[-1][1] > pieces[-1][0] else pieces[0]
    yield from band((Straight(strip.x(strip.length), y, end, y),), _THICK, last[2], pitch=last[3], slant=slant)
    yield from rope_end(end, y, _THICK)
    yield cut_end(strip.x(0.0), y, _THICK)
    for cut in strip.cuts:
        x = strip.x(cut.start)
        yield from break_lines(x, x + STRIP_GAP, y - _THICK / 2 - 3, y + _THICK / 2 + _SADDLE + 4)


def _feet(plan: Plan, sheet: Sheet, strip: Strip, marks: tuple[Mark, ...], y: float) -> Iterator[Shape]:
    """Draw under the rope what sits between the two edges of each clip: a saddle, or the U opposite it."""
    edges: dict[tuple[int, str], list[float]] = {}
    for mark in marks:
        if mark.code in ("clip-near-edge", "clip-far-edge") and not hidden(sheet, mark):
            edges.setdefault((mark.clip, mark.along), []).append(mark_mm(mark))
    sides = {clip.number: clip.saddle_on for clip in plan.clips}
    top = y + _THICK / 2 + 3
    discs: list[tuple[float, int]] = []
    for (number, along), (first, last) in edges.items():
        left, right = sorted((strip.x(first), strip.x(last)))
        saddle = sides[number] in (along, "both parts")
        fill: Tone = "saddle" if saddle else "metal" if sides[number] == "plates" else "paper"
        yield Rect(left, top, right - left, _SADDLE, fill=fill, line=1.0)
        discs.append(((left + right) / 2, number))
    places = [x for x, _ in discs]
    clear = spread(places, [2 * NUMBER] * len(discs), MARGIN, PAGE - MARGIN, 1.0)
    for x, (_, number) in zip(clear, discs, strict=True):
        yield number_disc(x, top + _SADDLE + 12, str(number))
