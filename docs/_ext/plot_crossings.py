"""Where one rule set asks for more than another: size by size, from the loaded tables."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import attrs
from plot_values import Quantity, Series, series_of

from turnback.quantities import Length

__all__ = ["Leaders", "Pair", "leaders_of", "pairs_of", "ranges_text", "size_text"]


@attrs.frozen
class Leaders:
    """Who asks for most at one size, among rule sets that can govern together.

    Args:
        size: The rope [length].
        series: Those who ask for most.
        text: What they ask for.
        others: How many more answer for this size [-].
    """

    size: Length
    series: tuple[Series, ...]
    text: str
    others: int


@attrs.frozen
class Pair:
    """Two lines of a plot against each other.

    Args:
        one: The first.
        other: The second.
        more: Sizes at which the first asks for more.
        same: Sizes at which both ask for the same.
        less: Sizes at which the second asks for more.
    """

    one: Series
    other: Series
    more: tuple[Length, ...]
    same: tuple[Length, ...]
    less: tuple[Length, ...]

    @property
    def sizes(self) -> tuple[Length, ...]:
        """All sizes at which they were weighed, rising."""
        return tuple(sorted((*self.more, *self.same, *self.less)))

    @property
    def crosses(self) -> bool:
        """Whether neither asks for at least as much everywhere."""
        return bool(self.more and self.less)


def _joinable(one: Series, other: Series) -> bool:
    """Whether two rule sets can govern together: of one pattern, or one of them has none."""
    return one.pattern == other.pattern or not one.pattern or not other.pattern


def _printed(lines: tuple[Series, ...]) -> tuple[Length, ...]:
    return tuple(sorted({point.size for line in lines for point in line.points}))


def leaders_of(quantity: Quantity, style: str) -> tuple[Leaders, ...]:
    """Find who asks for most at each size that two or more answer for.

    The rule sets of the first pattern are weighed, and those without a pattern, for these can govern together.

    Args:
        quantity: What is weighed.
        style: Id of the style.

    Returns:
        One for each size, rising; empty where there is nothing to compare.
    """
    lines = series_of(quantity, style)
    pattern = next((each.pattern for each in lines if each.pattern), "")
    lines = tuple(each for each in lines if each.pattern in ("", pattern))
    return tuple(_leaders(lines))


def _leaders(lines: tuple[Series, ...]) -> Iterator[Leaders]:
    for size in _printed(lines):
        said = [(line, point) for line in lines if (point := line.cell(size)) is not None and not point.row]
        if len(said) < 2:
            continue
        most = max(point.value for _, point in said)
        ahead = [(line, point) for line, point in said if point.value == most]
        yield Leaders(size, tuple(line for line, _ in ahead), ahead[0][1].text, len(said) - len(ahead))


def pairs_of(quantity: Quantity, style: str) -> tuple[Pair, ...]:
    """Weigh every two lines that can govern together, at every size that one of them prints and both answer for.

    Args:
        quantity: What is weighed.
        style: Id of the style.

    Returns:
        The pairs that have a size in common.
    """
    found = []
    for one, other in combinations(series_of(quantity, style), 2):
        if not _joinable(one, other) or one.rules == other.rules:
            continue
        more: list[Length] = []
        same: list[Length] = []
        less: list[Length] = []
        for size in _printed((one, other)):
            mine, theirs = one.cell(size), other.cell(size)
            if mine is not None and theirs is not None:
                (more if mine.value > theirs.value else less if mine.value < theirs.value else same).append(size)
        if more or same or less:
            found.append(Pair(one, other, tuple(more), tuple(same), tuple(less)))
    return tuple(found)


def size_text(size: Length) -> str:
    """Write a size in the unit that it is printed in.

    Args:
        size: The size [length].

    Returns:
        Such as ``3/4 in`` or ``13 mm``.
    """
    return size.text("in" if size.nanometres % 396_875 == 0 else "mm")


def ranges_text(sizes: tuple[Length, ...], among: tuple[Length, ...]) -> str:
    """Write sizes as ranges.

    Args:
        sizes: The sizes, rising.
        among: All sizes that could be there, rising; a gap among them ends a range.

    Returns:
        Such as ``1/2 in to 5/8 in, 1 in``; ``nowhere`` where there are none.
    """
    runs: list[list[Length]] = []
    for size in sizes:
        follows = bool(runs) and among.index(size) == among.index(runs[-1][-1]) + 1
        if follows:
            runs[-1].append(size)
        else:
            runs.append([size])
    words = [size_text(run[0]) if len(run) == 1 else f"{size_text(run[0])} to {size_text(run[-1])}" for run in runs]
    return ", ".join(words) or "nowhere"
