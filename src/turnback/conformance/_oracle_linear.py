"""Linear lengths, linear counts and ranges of a rule file, as the oracle reads them."""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil
from typing import Final

import attrs

from turnback.conformance._oracle_reading import INCH, UNITS, length, number, unread

__all__ = ["CountLine", "Span", "Sum", "count_line", "span", "sum_of"]

_COUNT: Final = re.compile(r"(\S+) per inch(?:, plus (\d+))?, rounded up")
_FIXED: Final = re.compile(r"(\d+) for every size")
_TERM: Final = re.compile(r"(\S+) (diameters?|base widths?|in|mm)")


@attrs.frozen
class Sum:
    """A linear length.

    Args:
        diameters: Share of the rope diameter [-].
        widths: Share of the base width [-].
        plus: Constant part [nm].
    """

    diameters: Fraction
    widths: Fraction
    plus: Fraction

    def of(self, diameter: Fraction, width: Fraction | None) -> Fraction | None:
        """Evaluate it.

        Args:
            diameter: Rope diameter [nm].
            width: Base width; None where not measured [nm].

        Returns:
            The length, or None where it needs a base width that is not measured [nm].
        """
        if width is None:
            return None if self.widths else self.diameters * diameter + self.plus
        return self.diameters * diameter + self.widths * width + self.plus


def sum_of(value: str) -> Sum:
    """Read a linear length.

    Args:
        value: Text such as ``"6 diameters + 1 in"`` [length].

    Returns:
        Its parts.

    Raises:
        InputError: It is no linear length.
    """
    parts = {"diameter": Fraction(0), "base width": Fraction(0), "": Fraction(0)}
    for term in value.split(" + "):
        found = _TERM.fullmatch(term)
        if found is None:
            raise unread("linear length", value)
        amount, unit = number(found[1]), found[2]
        if unit in UNITS:
            parts[""] += amount * UNITS[unit]
        else:
            parts[unit.removesuffix("s")] += amount
    return Sum(parts["diameter"], parts["base width"], parts[""])


@attrs.frozen
class CountLine:
    """A count that follows the diameter.

    Args:
        per_inch: Clips for each inch of rope diameter [-].
        plus: Clips beside these [-].
    """

    per_inch: Fraction
    plus: Fraction

    def of(self, diameter: Fraction) -> int:
        """Evaluate it.

        Args:
            diameter: Rope diameter [nm].

        Returns:
            Clips, rounded up [-].
        """
        return ceil(self.per_inch * diameter / INCH + self.plus)


def count_line(value: str) -> CountLine:
    """Read a linear count.

    Args:
        value: Text such as ``"3 per inch, plus 1, rounded up"`` [-].

    Returns:
        Its parts.

    Raises:
        InputError: It is no linear count.
    """
    fixed = _FIXED.fullmatch(value)
    if fixed is not None:
        return CountLine(Fraction(0), Fraction(int(fixed[1])))
    found = _COUNT.fullmatch(value)
    if found is None:
        raise unread("count", value)
    return CountLine(number(found[1]), Fraction(int(found[2] or 0)))


@attrs.frozen
class Span:
    """A range of sizes, both ends in it.

    Args:
        least: Lower end; None where it is open [nm].
        greatest: Upper end; None where it is open [nm].
    """

    least: Fraction | None = None
    greatest: Fraction | None = None

    def holds(self, size: Fraction) -> bool:
        """Say whether a size is in it.

        Args:
            size: The size [nm].

        Returns:
            Whether it is.
        """
        return (self.least is None or self.least <= size) and (self.greatest is None or size <= self.greatest)


def span(value: object) -> Span:
    """Read a range of sizes.

    Args:
        value: ``"A to B"``, ``"up to B"`` or ``"from A"`` [length]; None for no bound at all.

    Returns:
        The range.

    Raises:
        InputError: It is no range.
    """
    if value is None:
        return Span()
    if not isinstance(value, str):
        raise unread("range", value)
    if value.startswith("up to "):
        return Span(None, length(value.removeprefix("up to ")))
    if value.startswith("from "):
        return Span(length(value.removeprefix("from ")))
    low, _, high = value.partition(" to ")
    return Span(length(low), length(high))
