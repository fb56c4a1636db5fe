"""What the rule sets of a style say, size by size, for the plots: read from the catalogue when the site is built."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from typing import Final, Literal, TypeAlias

import attrs

from turnback.errors import OutOfTable
from turnback.model.cited import Cited
from turnback.model.sources import Status, weakest
from turnback.quantities import Length, Torque, number_text
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet, SpacingBound

__all__ = ["QUANTITIES", "Point", "Quantity", "Run", "Series", "series_of", "sizes_of"]

Quantity: TypeAlias = Literal["count", "turn-back", "turn-back in diameters", "spacing", "torque"]
QUANTITIES: Final[tuple[Quantity, ...]] = ("count", "turn-back", "turn-back in diameters", "spacing", "torque")

_SIXTY_FOURTH: Final = 396_875
"""Nanometres in 1/64 in."""


@attrs.frozen
class Point:
    """What one rule set says for one size.

    Args:
        size: The rope [length].
        value: What it says, in the unit of the plot.
        text: The same as printed, with its unit.
        status: The least certain status behind it.
        row: The row that takes the rope, where that is another size; empty otherwise.
    """

    size: Length
    value: Fraction
    text: str
    status: Status
    row: str = ""


@attrs.frozen
class Run:
    """A stretch of sizes over which one rule set says the same, or something linear in the diameter.

    Args:
        start: Where it begins [mm]; not included where a row takes a range.
        end: Where it ends [mm].
        first: Value at its beginning, in the unit of the plot.
        last: Value at its end, in the unit of the plot.
        status: The least certain status behind it.
    """

    start: float
    end: float
    first: float
    last: float
    status: Status


@attrs.frozen
class Series:
    """One line of a plot.

    Args:
        rules: Ids of the rule sets that say the same.
        words: What sets it apart from another of the same rule set, such as ``forged clips``; empty for nothing.
        pattern: Family of clips; empty when it has none.
        points: What it says at the sizes that it prints, or at those of the other tables where its rule is linear.
        runs: Stretches over which it holds; empty where each size stands for itself.
        cell: Looks a size up, as a plan would; None where it has no answer.
    """

    rules: tuple[str, ...]
    words: str
    pattern: str
    points: tuple[Point, ...]
    runs: tuple[Run, ...]
    cell: Callable[[Length], Point | None] = attrs.field(eq=False)

    @property
    def name(self) -> str:
        """The rule sets, and what sets the line apart."""
        joined = " and ".join(self.rules)
        return f"{joined}, {self.words}" if self.words else joined


def sizes_of(style: str) -> tuple[Length, ...]:
    """List every size that a table of a style prints.

    Args:
        style: Id of the style.

    Returns:
        Each once, rising.
    """
    return tuple(sorted({row.size for rules in Catalogue.installed().for_style(style) for row in rules.rows}))


def series_of(quantity: Quantity, style: str) -> tuple[Series, ...]:
    """Collect the lines of a plot.

    Args:
        quantity: What is plotted.
        style: Id of the style.

    Returns:
        One for each rule set that prints it; rule sets whose every answer is the same share one.
    """
    found: list[Series] = []
    for rules in Catalogue.installed().for_style(style):
        for words, read in _readers(quantity, rules):
            made = _series(rules, words, read, quantity, sizes_of(style))
            same = next(
                (place for place, each in enumerate(found) if made.points and _answers(each) == _answers(made)), None
            )
            if same is not None:
                found[same] = attrs.evolve(found[same], rules=(*found[same].rules, *made.rules))
            elif made.points:
                found.append(made)
    return tuple(found)


def _answers(series: Series) -> tuple[object, ...]:
    return (series.pattern, series.words, series.points, series.runs)


_Said: TypeAlias = tuple[Fraction, str, Status]
_Reader: TypeAlias = Callable[[Row], "_Said | None"]


def _readers(quantity: Quantity, rules: RuleSet) -> Iterator[tuple[str, _Reader]]:
    if quantity == "spacing":
        # A clear distance or a greatest one needs a base width, which belongs to the clip in hand.
        bounds = [bound for bound in rules.spacing if not bound.clear and bound.bound != "greatest"]
        yield from (("", _distance(bound)) for bound in bounds)
    elif quantity == "count" and any(row.count_forged is not None for row in rules.rows):
        yield "forged clips", lambda row: _count(row.count_forged)
        yield "other clips", lambda row: _count(row.count_other)
    else:
        yield "", _PLAIN[quantity]


def _distance(bound: SpacingBound) -> _Reader:
    linear = bound.length
    if linear is None:
        return lambda row: _length(row.spacing)

    def read(row: Row) -> _Said | None:
        nanometres = linear.nanometres(row.size, None)
        if nanometres is None:
            return None
        length = Length.up(nanometres)
        return length.millimetres, str(length), bound.citation.status

    return read


def _count(cell: Cited[int] | None) -> _Said | None:
    return None if cell is None else (Fraction(cell.value), str(cell.value), weakest(cell.citations))


def _length(cell: Cited[Length] | None) -> _Said | None:
    return None if cell is None else (cell.value.millimetres, str(cell.value), weakest(cell.citations))


def _in_diameters(row: Row) -> _Said | None:
    if row.turn_back is None:
        return None
    ratio = row.turn_back.value / row.size
    exact = number_text(ratio) if (ratio * 100).denominator == 1 else f"≈ {float(ratio):.2f}"
    return ratio, exact, weakest(row.turn_back.citations)


def _torque(cell: Cited[Torque] | None) -> _Said | None:
    return None if cell is None else (Fraction(cell.value.newton_metres), str(cell.value), weakest(cell.citations))


_PLAIN: Final[dict[Quantity, _Reader]] = {
    "count": lambda row: _count(row.count),
    "turn-back": lambda row: _length(row.turn_back),
    "turn-back in diameters": _in_diameters,
    "torque": lambda row: _torque(row.torque),
}


def _series(rules: RuleSet, words: str, read: _Reader, quantity: Quantity, sizes: Iterable[Length]) -> Series:
    def cell(size: Length) -> Point | None:
        try:
            row = rules.row_for(size)
        except OutOfTable:
            return None
        said = read(row)
        if said is None:
            return None
        taken_by = "" if row.size == size else row.size.text("mm")
        return Point(size, *said, row=taken_by)

    own = [row.size for row in rules.rows] or [size for size in sizes if size.nanometres % _SIXTY_FOURTH == 0]
    points = tuple(point for point in map(cell, own) if point is not None)
    return Series((rules.id,), words, rules.pattern, points, tuple(_runs(rules, points, quantity)), cell)


def _runs(rules: RuleSet, points: tuple[Point, ...], quantity: Quantity) -> Iterator[Run]:
    if rules.count_rule is not None and quantity == "count":
        yield from _stairs(rules, points)
        return
    if rules.count_rule is not None and points:
        first, last = points[0], points[-1]
        yield Run(_mm(first.size), _mm(last.size), float(first.value), float(last.value), first.status)
        return
    above = {row.size: row.above for row in rules.rows}
    for point in points:
        start = above.get(point.size)
        if start is not None:
            yield Run(_mm(start), _mm(point.size), float(point.value), float(point.value), point.status)


def _stairs(rules: RuleSet, points: tuple[Point, ...]) -> Iterator[Run]:
    """The steps of a count that is linear in the diameter and rounded up."""
    rule = rules.count_rule
    if rule is None or not rule.per_inch or not points:
        return
    end = float(points[-1].size.inches)
    start = float((rule.least or points[0].size).inches)
    while start < end:
        count = rule.count(Length.up(Fraction(start).limit_denominator(10**6) * 25_400_000 + 1))
        stop = min(float((count - rule.plus) / rule.per_inch), end)
        yield Run(start * 25.4, stop * 25.4, count, count, points[0].status)
        start = stop


def _mm(length: Length) -> float:
    return float(length.millimetres)
