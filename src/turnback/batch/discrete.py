"""Columns of few distinct values, turned into codes: the words, the flags, the diameters that choose a row.

A code below :data:`FIRST` is no value: 0 is a cell that was not given, any other the status for which it was refused.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Protocol

import numpy as np
import pyarrow as pa

from turnback.batch.arrays import flags_in, given_in, numbers_in
from turnback.batch.cells import MOST_EXTRA_CLIPS, Cell, CellError
from turnback.batch.distinct import Distinct, plain
from turnback.batch.quantities import LengthReader
from turnback.batch.roster import Roster, Wholes
from turnback.batch.statuses import Status
from turnback.quantities import Length

__all__ = ["FIRST", "Codes", "DiameterCodes", "ExtraCodes", "FlagCodes", "WordCodes"]

FIRST: Final = max(Status) + 1
"""The first code that stands for a value [-]."""


class Codes(Protocol):
    """A column as codes."""

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """

    def take(self, start: int, stop: int) -> Wholes:
        """Return the codes of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].
        """

    def cell(self, code: int) -> Cell | Status:
        """Return what a code stands for.

        Args:
            code: The code [-].
        """

    def __len__(self) -> int:
        """Number of codes so far."""


class WordCodes:
    """A column of words.

    Args:
        read: Reads one cell.
        matters: False where only a refusal matters, and all else is as if it was not given.
    """

    def __init__(self, read: Callable[[object], Cell | CellError], *, matters: bool = True) -> None:
        self._read = read
        self._matters = matters
        self._cells: list[Cell] = []
        self._codes: dict[Cell, int] = {}
        self._distinct = Distinct(self._code_of)

    def _code_of(self, value: object) -> int:
        cell = self._read(value)
        if isinstance(cell, CellError):
            return int(cell.status)
        if not cell or not self._matters:
            return 0
        code = self._codes.get(cell)
        if code is None:
            code = self._codes[cell] = FIRST + len(self._cells)
            self._cells.append(cell)
        return code

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._distinct.open(array)

    def take(self, start: int, stop: int) -> Wholes:
        """Return the codes of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            Their codes.
        """
        return self._distinct.numbers(start, stop)

    def cell(self, code: int) -> Cell | Status:
        """Return what a code stands for.

        Args:
            code: The code [-].

        Returns:
            The word; None where it was not given, the status where it was refused.
        """
        return _below_first(code) if code < FIRST else self._cells[code - FIRST]

    def __len__(self) -> int:
        return FIRST + len(self._cells)


class FlagCodes:
    """A column of true and false."""

    def __init__(self) -> None:
        self._array: pa.Array = None

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._array = plain(array)

    def take(self, start: int, stop: int) -> Wholes:
        """Return the codes of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            Their codes.
        """
        codes = flags_in(self._array, start, stop).astype(np.int64) + FIRST
        given = given_in(self._array, start, stop)
        return codes if given is None else np.where(given, codes, 0)

    def cell(self, code: int) -> Cell | Status:
        """Return what a code stands for.

        Args:
            code: The code [-].

        Returns:
            True, false, or None where it was not given.
        """
        return _below_first(code) if code < FIRST else bool(code - FIRST)

    def __len__(self) -> int:
        return FIRST + 2


class ExtraCodes:
    """A column of clips that are added."""

    def __init__(self) -> None:
        self._array: pa.Array = None
        self._numbers: Wholes = np.empty(0, dtype=np.int64)

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._array = plain(array)
        self._numbers = numbers_in(self._array)

    def take(self, start: int, stop: int) -> Wholes:
        """Return the codes of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            Their codes.
        """
        raw = self._numbers[start:stop]
        given = given_in(self._array, start, stop)
        refused = None
        if raw.dtype.kind == "f":
            # As a frame keeps whole numbers of which some are missing; the missing ones are no numbers.
            exact = raw.astype(np.float64)
            there = ~np.isnan(exact)
            given = there if given is None else given & there
            whole = np.isfinite(exact) & (exact == np.floor(exact))
            refused = ~whole
            raw = np.where(whole, np.clip(exact, -1.0, MOST_EXTRA_CLIPS + 1.0), 0.0)
        bad = (raw < 0) | (raw > MOST_EXTRA_CLIPS)
        codes = np.where(bad, int(Status.VALUE_OUT_OF_BOUNDS) - FIRST, raw.astype(np.int64)) + FIRST
        if refused is not None:
            codes = np.where(refused, int(Status.VALUE_UNREADABLE), codes)
        return codes if given is None else np.where(given, codes, 0)

    def cell(self, code: int) -> Cell | Status:
        """Return what a code stands for.

        Args:
            code: The code [-].

        Returns:
            The number of clips; None where it was not given, the status where it was refused.
        """
        return _below_first(code) if code < FIRST else code - FIRST

    def __len__(self) -> int:
        return FIRST + MOST_EXTRA_CLIPS + 1


class DiameterCodes:
    """A column of diameters of which there are few: the rope's, and that over its coating.

    ``numbers`` holds the diameters that were taken last.

    Args:
        reader: Reads the column.
        when_null: The code of a cell that was not given [-].
    """

    def __init__(self, reader: LengthReader, when_null: int) -> None:
        self._reader = reader
        self._when_null = when_null
        self._roster = Roster()
        self.numbers: Wholes = np.empty(0, dtype=np.int64)

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array.
        """
        self._reader.open(array)

    def take(self, start: int, stop: int) -> Wholes:
        """Return the codes of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            Their codes.
        """
        found = self._reader.take(start, stop)
        self.numbers = found.numbers
        codes = self._roster.codes(np.ascontiguousarray(found.numbers)) + FIRST
        if found.given is not None:
            codes = np.where(found.given, codes, self._when_null)
        return codes if found.refused is None else np.where(found.refused > 0, found.refused, codes)

    def cell(self, code: int) -> Cell | Status:
        """Return what a code stands for.

        Args:
            code: The code [-].

        Returns:
            The diameter [length]; None where it was not given, the status where it was refused.
        """
        return _below_first(code) if code < FIRST else Length(int(self._roster.values[code - FIRST]))

    def __len__(self) -> int:
        return FIRST + len(self._roster)


def _below_first(code: int) -> Cell | Status:
    return Status(code) if code else None
