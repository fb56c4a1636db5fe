"""Whole numbers, each with a code from 0 in the order of first appearance: the distinct values of a column or a key."""

from __future__ import annotations

from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

__all__ = ["Roster", "Wholes"]

Wholes: TypeAlias = npt.NDArray[np.int64]

_MOST_HASHED: Final = 512
_WIDEST: Final = 16
# An odd number without a pattern in its bits (the golden ratio in 64 bits); others are tried where it collides.
_FIRST: Final = 0x9E3779B97F4A7C15
_ALL: Final = (1 << 64) - 1
_TRIES: Final = 64


class Roster:
    """The distinct whole numbers that were met so far.

    Few of them are found by one multiplication and one look-up, checked against the number itself; many, by bisection.
    """

    def __init__(self) -> None:
        self.values: Wholes = np.empty(0, dtype=np.int64)
        self._table: Wholes = np.zeros(2, dtype=np.int64)
        self._factor = np.uint64(_FIRST)
        self._shift = np.uint64(63)
        self._order: Wholes | None = None

    def __len__(self) -> int:
        return len(self.values)

    def codes(self, numbers: Wholes) -> Wholes:
        """Return the code of each number; numbers that were not met before are added.

        Args:
            numbers: Contiguous whole numbers.

        Returns:
            Their codes.
        """
        if len(self.values):
            codes = self._guessed(numbers)
            known = self.values.take(codes) == numbers
            if known.all():
                return codes
            new = np.unique(numbers[~known])
        else:
            new = np.unique(numbers)
        self.values = np.concatenate([self.values, new])
        self._prepare()
        return self._guessed(numbers)

    def _guessed(self, numbers: Wholes) -> Wholes:
        if self._order is not None:
            places = np.searchsorted(self.values, numbers, sorter=self._order)
            return self._order.take(places, mode="clip")
        slots = numbers.view(np.uint64) * self._factor
        slots >>= self._shift
        return self._table.take(slots.view(np.int64))

    def _prepare(self) -> None:
        count = len(self.values)
        self._order = None
        bits = max(2, count.bit_length() + 1)
        while count <= _MOST_HASHED and bits <= _WIDEST:
            for attempt in range(_TRIES):
                factor = np.uint64((_FIRST * (2 * attempt + 1)) & _ALL)
                slots = ((self.values.view(np.uint64) * factor) >> np.uint64(64 - bits)).view(np.int64)
                if len(np.unique(slots)) == count:
                    self._factor, self._shift = factor, np.uint64(64 - bits)
                    self._table = np.zeros(1 << bits, dtype=np.int64)
                    self._table[slots] = np.arange(count)
                    return
            bits += 1
        self._order = np.argsort(self.values, kind="stable")
