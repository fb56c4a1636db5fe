"""Drawings of clips in a row with the quantities of their formulas: an eye's turn-back, a lap splice, a whole span."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from formula_strokes import Pen

from turnback.model.figures import Figure
from turnback.model.shapes import Circle, Rect, Shape, Text, line

__all__ = ["row_figure"]

_LEFT: Final = 60.0
_CLIP: Final = 42.0
_SPACING: Final = 118.0
_DEAD, _LIVE = 128.0, 158.0
_ROPE: Final = 26.0

_TITLES: Final = {
    "layout": "Four clips in a turn-back",
    "splice": "Four clips in a lap splice",
    "span": "A rope with an eye at either end",
}
_DESCRIPTIONS: Final = {
    "layout": (
        "From the dead end at the left: one base width b, then the clips, each b wide, their centres a spacing s "
        "apart, the last one's far edge at the base of the eye. T is the turn-back, n the number of clips, i the "
        "number of clips between one clip and the dead end, x a position on the dead part, c the rope in the eye."
    ),
    "splice": (
        "Two ropes lie side by side over the overlap T. From either dead end: one base width b, then the clips, "
        "their centres a spacing s apart. n is the number of all clips of the splice."
    ),
    "span": (
        "S is the span between the bearing points of the two eyes; r1 and r2 are the reaches, base to bearing "
        "point; T1 and T2 the turn-backs; c1 and c2 the rope in the eyes."
    ),
}


def row_figure(kind: str, strong: Collection[str]) -> Figure:
    """Draw clips in a row.

    Args:
        kind: ``layout``, ``splice`` or ``span``.
        strong: Names of the quantities to pick out.

    Returns:
        The figure; its proportions are invented.
    """
    pen = Pen(strong)
    drawn = {"layout": _layout, "splice": _splice, "span": _span}[kind]
    desc = f"{_DESCRIPTIONS[kind]} Invented proportions."
    return Figure(640, 300, _TITLES[kind], desc, tuple(drawn(pen)))


def _part(x1: float, x2: float, y: float) -> Iterator[Shape]:
    yield line(x1, y, x2, y, "live", _ROPE)
    yield line(x1, y, x2, y, "ink", 1.0)


def _clips(pen: Pen, number: int) -> Iterator[Shape]:
    for place in range(number):
        near = _LEFT + _CLIP + place * _SPACING
        yield Rect(near, _DEAD - 26, _CLIP, _LIVE - _DEAD + 52, "ink", "metal")
        middle = near + _CLIP / 2
        yield Text(middle, _LIVE + 21, f"i = {place}", 12, "middle", bold="i" in pen.strong, tone="ink")


def _spacing_and_base(pen: Pen) -> Iterator[Shape]:
    first = _LEFT + _CLIP * 1.5
    yield from pen.across(first, first + _SPACING, _DEAD - 42, "s", foot=_DEAD - 26)
    second = _LEFT + _CLIP + _SPACING
    yield from pen.across(_LEFT, _LEFT + _CLIP, _LIVE + 48, "b", foot=_DEAD)
    yield from pen.across(second, second + _CLIP, _LIVE + 48, "b", foot=_LIVE + 26)


def _layout(pen: Pen) -> Iterator[Shape]:
    base = _LEFT + 2 * _CLIP + 3 * _SPACING
    yield from _part(_LEFT, 590, _DEAD)
    yield from _part(0, 590, _LIVE)
    yield Text(2, _DEAD + 5, "dead end", 12, tone="faint")
    yield Text(4, _LIVE + 34, "live part", 13, tone="faint")
    yield line(base, _DEAD - 60, base, _LIVE + 60, "faint", 1.2)
    yield Text(base + 5, _DEAD - 48, "base of the eye", 13, tone="faint")
    yield Text(630, _LIVE + 40, "to the eye, c", 13, "end", tone=pen.tone("c"), bold="c" in pen.strong)
    yield from _clips(pen, 4)
    yield from _spacing_and_base(pen)
    yield from pen.across(_LEFT, base, 40, "T", foot=_DEAD - 13)
    third = _LEFT + _CLIP + 2 * _SPACING
    ends = {"near": third, "centre": third + _CLIP / 2, "far": third + _CLIP, "x": _LEFT + _CLIP * 1.5, "gap": 0.0}
    for name, text in (("near", "near edge"), ("centre", "centre"), ("far", "far edge"), ("x", "x")):
        if name in pen.strong:
            yield from pen.across(_LEFT, ends[name], 270, name, text, foot=_DEAD)
    if "gap" in pen.strong:
        yield from pen.across(third - _SPACING + _CLIP, third, 270, "gap", "clear", foot=_LIVE + 26)


def _splice(pen: Pen) -> Iterator[Shape]:
    end = _LEFT + 3 * _CLIP + 3 * _SPACING
    yield from _part(_LEFT, 640, _DEAD)
    yield from _part(0, end, _LIVE)
    yield Text(2, _DEAD + 5, "dead end", 12, tone="faint")
    yield Text(end + 6, _LIVE + 5, "dead end", 12, tone="faint")
    yield from _clips(pen, 4)
    yield from _spacing_and_base(pen)
    yield from pen.across(end - _CLIP, end, _LIVE + 68, "b", foot=_LIVE)
    yield from pen.across(_LEFT, end, 40, "T", foot=_DEAD - 13)


def _span(pen: Pen) -> Iterator[Shape]:
    left, right = 70.0, 570.0
    for way, centre, name in ((1, left, "1"), (-1, right, "2")):
        base = centre + way * 90
        end = base + way * 70
        yield Circle(centre, _LIVE, 34, "live", "paper", _ROPE - 8)
        yield Circle(centre, _LIVE, 25, "ink", "metal")
        yield from _part(min(base, end), max(base, end), _LIVE - 22)
        yield line(base, _LIVE - 36, base, _LIVE + 14, "faint", 1.2)
        yield from pen.across(
            min(centre - way * 25, base), max(centre - way * 25, base), _LIVE + 74, "r" + name, foot=_LIVE
        )
        yield from pen.across(min(base, end), max(base, end), _LIVE - 62, "T" + name, foot=_LIVE - 30)
        yield from pen.letter(centre, _LIVE - 52, "c" + name)
        yield line(centre + way * 38, _LIVE - 14, base, _LIVE - 22, "live", 10)
        yield line(centre + way * 38, _LIVE + 14, base, _LIVE, "live", 10)
    yield from _part(left + 90, right - 90, _LIVE)
    yield from pen.across(left - 25, right + 25, 276, "S", foot=_LIVE)
    yield Text(320, _LIVE - 24, "live part", 13, "middle", tone="faint")
