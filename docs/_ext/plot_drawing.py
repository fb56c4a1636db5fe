"""Draws the rule sets of a style against the rope's diameter, as a figure of the library's own shapes.

Every line has a letter and a shape of mark; the colours come from the style sheet of the site and nothing depends on
them. Counts, of which many are the same, are moved apart a little, up and down; every other value stands where it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import attrs
from plot_crossings import Leaders
from plot_marks import DASHES, letter, mark
from plot_values import Run, Series

from turnback.model.figures import Figure
from turnback.model.shapes import Group, Path, Shape, Text, line

__all__ = ["Axes", "plot_figure"]

_WIDTH: Final = 740.0
_LEFT, _RIGHT, _TOP = 66.0, 676.0, 46.0
_HEIGHT: Final = 300.0
_FOOT: Final = _TOP + _HEIGHT
_INCHES: Final = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25)
_INCH_NAMES: Final = ("1/4", "1/2", "3/4", "1", "1-1/4", "1-1/2", "1-3/4", "2", "2-1/4")
_ROW: Final = 19.0


@attrs.frozen
class Axes:
    """The frame of a plot.

    Args:
        widest: Greatest diameter shown [mm].
        most: Greatest value shown.
        step: Distance between two numbers at the left.
        label: What stands at the left, with its unit.
        least: Smallest value shown.
        apart: How far marks of neighbouring lines are moved apart [drawing units].
        percent: Whether the numbers at the left are shares, written as percentages.
    """

    widest: float
    most: float
    step: float
    label: str
    least: float = 0.0
    apart: float = 0.0
    percent: bool = False

    def x(self, millimetres: float) -> float:
        """Return where a diameter lies.

        Args:
            millimetres: The diameter [mm].

        Returns:
            From the left [drawing units]; no farther than the frame.
        """
        return _LEFT + min(max(millimetres / self.widest, 0.0), 1.0) * (_RIGHT - _LEFT)

    def y(self, value: float) -> float:
        """Return where a value lies.

        Args:
            value: The value.

        Returns:
            From the top [drawing units].
        """
        return _FOOT - (value - self.least) / (self.most - self.least) * _HEIGHT


def plot_figure(title: str, axes: Axes, lines: Sequence[Series], leaders: Sequence[Leaders], desc: str) -> Figure:
    """Draw a plot.

    Args:
        title: What it shows.
        axes: Its frame.
        lines: What is plotted.
        leaders: Who asks for most at which size; empty for no such row.
        desc: What it shows, for those who cannot see it.

    Returns:
        The figure.
    """
    depth = max((len(each.series) for each in leaders), default=0)
    shapes: list[Shape] = [*_frame(axes)]
    shapes += [_drawn(axes, lines, place) for place in range(len(lines))]
    shapes += _letters(axes, lines)
    shapes += _leading(axes, lines, leaders)
    top = _FOOT + 66 + (depth * 13 + 26 if depth else 0)
    shapes += [_key(lines, place, top) for place in range(len(lines))]
    shapes.append(Text(_LEFT, 22, title, 15, bold=True))
    return Figure(_WIDTH, top + len(lines) * _ROW + 4, title, desc, tuple(shapes))


def _frame(axes: Axes) -> Iterator[Shape]:
    for number in range(round((axes.most - axes.least) / axes.step) + 1):
        value = axes.least + number * axes.step
        y = axes.y(value)
        yield line(_LEFT, y, _RIGHT, y, "faint", 1.4 if number == 0 else 0.3)
        text = f"{value * 100:g} %" if axes.percent else f"{value:g}"
        yield Text(_LEFT - 8, y + 4, text, 12, "end")
    yield Text(18, (_TOP + _FOOT) / 2, axes.label, 13, "middle", upright=True)
    for millimetres in range(0, int(axes.widest) + 1, 10):
        x = axes.x(millimetres)
        yield line(x, _FOOT, x, _FOOT + 5, "ink", 1.0)
        yield Text(x, _FOOT + 18, f"{millimetres}", 12, "middle")
    yield Text(_RIGHT + 12, _FOOT + 18, "mm", 12)
    for inches, name in zip(_INCHES, _INCH_NAMES, strict=True):
        if inches * 25.4 <= axes.widest:
            yield line(axes.x(inches * 25.4), _FOOT, axes.x(inches * 25.4), _TOP, "faint", 0.3)
            yield Text(axes.x(inches * 25.4), _FOOT + 35, name, 12, "middle", tone="faint")
    yield Text(_RIGHT + 12, _FOOT + 35, "in", 12, tone="faint")
    yield Text((_LEFT + _RIGHT) / 2, _FOOT + 52, "diameter of the rope", 13, "middle")


def _shift(axes: Axes, lines: Sequence[Series], place: int) -> float:
    return (place - (len(lines) - 1) / 2) * axes.apart


def _drawn(axes: Axes, lines: Sequence[Series], place: int) -> Group:
    each, shift = lines[place], _shift(axes, lines, place)
    shapes: list[Shape] = [_run(axes, run, shift) for run in each.runs]
    if not each.points:
        ends = [end for run in each.runs for end in ((run.start, run.first, run), (run.end, run.last, run))]
        shapes += [mark(axes.x(x), axes.y(value) + shift, place, run.status) for x, value, run in ends]
    if not each.runs:
        steps = [(axes.x(float(point.size.millimetres)), axes.y(float(point.value)) + shift) for point in each.points]
        shapes += [
            Path((("M", *one), ("L", *other)), "ink", width=0.9, dash=DASHES[point.status])
            for one, other, point in zip(steps, steps[1:], each.points[1:], strict=False)
        ]
    shapes += [
        mark(axes.x(float(point.size.millimetres)), axes.y(float(point.value)) + shift, place, point.status)
        for point in each.points
    ]
    return Group(tuple(shapes), f"series-{place + 1}", each.name)


def _run(axes: Axes, run: Run, shift: float) -> Path:
    start, end = (axes.x(run.start), axes.y(run.first) + shift), (axes.x(run.end), axes.y(run.last) + shift)
    return Path((("M", *start), ("L", *end)), "ink", width=2.2, dash=DASHES[run.status])


def _last(axes: Axes, each: Series) -> tuple[float, float]:
    ends = [(float(point.size.millimetres), float(point.value)) for point in each.points]
    ends += [(run.end, run.last) for run in each.runs]
    x, value = max(ends)
    return axes.x(x), axes.y(value)


def _letters(axes: Axes, lines: Sequence[Series]) -> Iterator[Shape]:
    """Write the letter of each line at its right end, moved down where another stands there."""
    taken: list[tuple[float, float]] = []
    order = sorted(range(len(lines)), key=lambda place: _last(axes, lines[place])[1] + _shift(axes, lines, place))
    for place in order:
        x, y = _last(axes, lines[place])
        x, y = x + 12, y + _shift(axes, lines, place) + 4
        while any(math.hypot(x - other, y - height) < 13 for other, height in taken):
            y += 2
        taken.append((x, y))
        yield Group((Text(x, y, letter(place), 13, bold=True),), f"series-{place + 1}-letter")


def _leading(axes: Axes, lines: Sequence[Series], leaders: Sequence[Leaders]) -> Iterator[Shape]:
    if not leaders:
        return
    top = _FOOT + 72
    yield Text(_LEFT, top - 2, "asks for most, size by size:", 12, tone="faint")
    for each in leaders:
        x = axes.x(float(each.size.millimetres))
        for row, leader in enumerate(each.series):
            place = lines.index(leader)
            said = Text(x, top + 14 + row * 13, letter(place), 12, "middle", bold=True)
            yield Group((said,), f"series-{place + 1}-letter")


def _key(lines: Sequence[Series], place: int, top: float) -> Group:
    each = lines[place]
    y = top + place * _ROW + 8
    statuses = dict.fromkeys(said.status for said in each.points or each.runs)
    shapes: list[Shape] = [Text(_LEFT, y + 4, letter(place), 13, bold=True)]
    shapes.append(mark(_LEFT + 26, y, place, next(iter(statuses))))
    name = Text(_LEFT + 44, y + 4, f"{each.name} ({', '.join(statuses)})", 13)
    return Group((Group(tuple(shapes), f"series-{place + 1}-key"), name))
