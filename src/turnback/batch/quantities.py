"""Columns of continuous numbers: lengths as whole nanometres, forces, angles and factors as floats.

A number times the exact factor of its unit is rounded once, as the scalar path rounds it. Where the last bit or a half
of a nanometre is in doubt the cell is read by itself, exactly.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from turnback.batch.arrays import Flags, Numbers, given_in, numbers_in
from turnback.batch.cells import Cell, CellError
from turnback.batch.columns import Bound
from turnback.batch.distinct import Distinct, plain, read_once
from turnback.batch.products import multiplied
from turnback.batch.roster import Wholes
from turnback.batch.statuses import Status
from turnback.quantities import Angle, Force, Length

__all__ = ["LONGEST", "LengthReader", "Lengths", "ScalarReader", "Scalars"]

LONGEST: Final = 10**15
"""The longest length that is read [nm]; a test holds it against the length itself."""
_STAND_IN: Final = 50_000_000
_EXACT: Final = 1 << 53
"""Up to here every whole number is a float [-]."""
Reader = Callable[[object], "Cell | CellError"]


class Lengths(NamedTuple):
    """Lengths of a stretch of rows. Where a cell is null or refused a harmless one stands in.

    Args:
        numbers: The lengths, in whole nanometres.
        given: Cells that hold something; None where all do.
        refused: Statuses of cells that were refused; None where none was.
        most: None of the lengths is above it [nm].
    """

    numbers: Wholes
    given: Flags | None
    refused: npt.NDArray[np.uint8] | None
    most: int


class Scalars(NamedTuple):
    """Floats of a stretch of rows. Where a cell is null or refused a one stands in.

    Args:
        numbers: The numbers, in newton or radian, or without a unit.
        given: Cells that hold something; None where all do.
        refused: Statuses of cells that were refused; None where none was.
    """

    numbers: Numbers
    given: Flags | None
    refused: npt.NDArray[np.uint8] | None


class LengthReader:
    """Reads a column of lengths, batch by batch.

    Args:
        bound: The column.
        read: Reads one cell, exactly.
        most: Longest length that is taken [nm].
        stand_in: What stands where nothing is given [nm].
    """

    def __init__(self, bound: Bound, read: Reader, most: int = LONGEST, stand_in: int = _STAND_IN) -> None:
        self._bound = bound
        self._read = read
        self._most = most
        self._stand_in = stand_in
        self._distinct: Distinct | None = None
        self._array: pa.Array = None
        self._numbers: Wholes = np.empty(0, dtype=np.int64)

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._array = array = plain(array)
        self._once = read_once(array.type)
        if self._once:
            if self._distinct is None:
                self._distinct = Distinct(self._number_of)
            self._distinct.open(array)
        else:
            self._numbers = numbers_in(array)

    def _number_of(self, value: object) -> int:
        # Lengths are above zero, so that nothing and the statuses fit below.
        cell = self._read(value)
        if isinstance(cell, Length):
            return cell.nanometres
        return -int(cell.status) if isinstance(cell, CellError) else 0

    def take(self, start: int, stop: int) -> Lengths:
        """Return the lengths of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            The lengths.
        """
        if self._once and self._distinct is not None:
            found = self._distinct.numbers(start, stop)
            most = int(found.max(initial=self._stand_in))
            if found.min(initial=1) > 0:
                return Lengths(found, None, None, most)
            refused = np.where(found < 0, -found, 0).astype(np.uint8)
            numbers = np.where(found > 0, found, self._stand_in)
            return Lengths(numbers, found != 0, refused if refused.any() else None, most)
        given = given_in(self._array, start, stop)
        raw = self._numbers[start:stop]
        if raw.dtype.kind in "iu":
            return self._whole(raw, given)
        return self._counted(raw, given) if self._bound.counted else self._rounded(raw, given)

    def _whole(self, raw: Wholes, given: Flags | None) -> Lengths:
        factor = int(self._bound.factor)
        if given is not None:
            raw = np.where(given, raw, raw.dtype.type(1))
        limit = self._most // factor
        low, high = int(raw.min(initial=1)), int(raw.max(initial=1))
        if low < 1 or high > limit:
            bad = (raw < 1) | (raw > limit)
            numbers = np.where(bad, raw.dtype.type(1), raw).astype(np.int64) * factor
            return self._standing_in(numbers, given, bad, bad * np.uint8(Status.VALUE_OUT_OF_BOUNDS))
        numbers = raw.astype(np.int64, copy=False)
        return self._standing_in(numbers if factor == 1 else numbers * factor, given, None, None, high * factor)

    def _standing_in(
        self,
        numbers: Wholes,
        given: Flags | None,
        bad: Flags | None,
        refused: npt.NDArray[np.uint8] | None,
        most: int = LONGEST,
    ) -> Lengths:
        usable = given
        if bad is not None:
            # A refused cell was given; it only must not be used.
            usable = ~bad if given is None else given & ~bad
        if usable is not None:
            numbers = np.where(usable, numbers, self._stand_in)
        return Lengths(numbers, given, refused, max(most, self._stand_in))

    def _counted(self, raw: Wholes, given: Flags | None) -> Lengths:
        """Whole numbers that a frame keeps as floats because some are missing; the missing ones are no numbers."""
        exact = raw.astype(np.float64)
        there = ~np.isnan(exact) if given is None else given & ~np.isnan(exact)
        exact = np.where(there, exact, 1.0)
        bad = ~((exact >= 1) & (exact <= self._most) & (exact == np.floor(exact)))
        numbers = np.where(bad, 1.0, exact).astype(np.int64)
        if not bad.any():
            return self._standing_in(numbers, there, None, None, int(numbers.max(initial=1)))
        whole = np.isfinite(exact) & (exact == np.floor(exact))
        statuses = np.where(whole, np.uint8(Status.VALUE_OUT_OF_BOUNDS), np.uint8(Status.VALUE_UNREADABLE))
        return self._standing_in(numbers, there, bad, statuses * bad)

    def _rounded(self, raw: Wholes, given: Flags | None) -> Lengths:
        exact = raw.astype(np.float64)
        if given is not None:
            exact = np.where(given, exact, 1.0)
        product = exact * float(self._bound.factor)
        below = np.floor(product)
        rest = product - below
        near = below + (rest >= 0.5)
        finite = np.isfinite(exact)
        bad = ~((near >= 1) & (near <= self._most))
        if self._bound.factor != 1:
            # Half a unit in the last place of the product, and a little more.
            doubt = np.abs(rest - 0.5) <= np.abs(product) * 2.3e-16
            for i in np.flatnonzero(doubt & finite & (product < 2.0 * LONGEST)).tolist():
                number = Length.nearest(Fraction(float(exact[i])) * self._bound.factor).nanometres
                near[i], bad[i] = float(number), not 1 <= number <= self._most
        numbers = np.where(bad, 1.0, near).astype(np.int64)
        if not bad.any():
            return self._standing_in(numbers, given, None, None, int(numbers.max(initial=1)))
        statuses = np.where(finite, np.uint8(Status.VALUE_OUT_OF_BOUNDS), np.uint8(Status.VALUE_UNREADABLE))
        return self._standing_in(numbers, given, bad, statuses * bad)


class ScalarReader:
    """Reads a column of forces, angles or factors, batch by batch.

    Args:
        bound: The column.
        read: Reads one cell, exactly.
        least: Numbers below it are refused, or at it where `open_below` [-].
        most: Numbers above it are refused, or at it where `open_above` [-].
        open_below: Whether the least itself is refused.
        open_above: Whether the most itself is refused.
        scale: Number of the unit of `least` and `most` in one radian, newton or unit of the column [-].
    """

    def __init__(
        self,
        bound: Bound,
        read: Reader,
        *,
        least: float = 0.0,
        most: float = float("inf"),
        open_below: bool = True,
        open_above: bool = True,
        scale: float = 1.0,
    ) -> None:
        self._bound = bound
        self._read = read
        self._least, self._most = least, most
        self._open_below, self._open_above = open_below, open_above
        self._scale = scale
        self._distinct: Distinct | None = None
        self._cells: list[float] = [1.0] * (max(Status) + 2)
        self._table: Numbers = np.ones(len(self._cells))
        self._array: pa.Array = None
        self._numbers: Wholes = np.empty(0, dtype=np.int64)

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._array = array = plain(array)
        self._once = read_once(array.type)
        if self._once:
            if self._distinct is None:
                self._distinct = Distinct(self._place_of)
            self._distinct.open(array)
            if len(self._cells) != len(self._table):
                self._table = np.array(self._cells)
        else:
            self._numbers = numbers_in(array)

    def _place_of(self, value: object) -> int:
        """Place of a value in the list: 0 for nothing, the status where it was refused, then the values."""
        cell = self._read(value)
        if cell is None:
            return 0
        if isinstance(cell, CellError):
            return int(cell.status)
        number = cell.newtons if isinstance(cell, Force) else cell.radians if isinstance(cell, Angle) else cell
        self._cells.append(float(number))  # type: ignore[arg-type]  # a factor, where it is neither
        return len(self._cells) - 1

    def take(self, start: int, stop: int) -> Scalars:
        """Return the numbers of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            The numbers.
        """
        if self._once and self._distinct is not None:
            places = self._distinct.numbers(start, stop)
            numbers = self._table.take(places)
            if not len(places) or places.min() > max(Status):
                return Scalars(numbers, None, None)
            refused_ = np.where(places <= max(Status), places, 0).astype(np.uint8)
            return Scalars(numbers, places != 0, refused_ if refused_.any() else None)
        given = given_in(self._array, start, stop)
        numbers = self._numbers[start:stop].astype(np.float64, copy=False)
        if given is not None:
            numbers = np.where(given, numbers, 1.0)
        finite = np.isfinite(numbers)
        if self._bound.factor != 1:
            numbers = multiplied(numbers, self._bound.factor)
            if self._bound.whole:
                numbers = self._corrected(numbers, start, given)
        with np.errstate(all="ignore"):
            seen = numbers * self._scale if self._scale != 1.0 else numbers
            good = seen > self._least if self._open_below else seen >= self._least
            good &= seen < self._most if self._open_above else seen <= self._most
        if given is not None:
            good |= ~given
        if good.all():
            return Scalars(numbers, given, None)
        refused = np.where(finite, np.uint8(Status.VALUE_OUT_OF_BOUNDS), np.uint8(Status.VALUE_UNREADABLE))
        refused[good] = 0
        return Scalars(np.where(good, numbers, 1.0), given, refused)

    def _corrected(self, numbers: Numbers, start: int, given: Flags | None) -> Numbers:
        """Compute whole numbers that no float holds as fractions, so that they are rounded once."""
        raw = self._numbers[start : start + len(numbers)]
        beyond = (raw > _EXACT) | (raw < -_EXACT)
        if given is not None:
            beyond &= given
        for i in np.flatnonzero(beyond).tolist():
            numbers[i] = float(int(raw[i]) * self._bound.factor)
        return numbers
