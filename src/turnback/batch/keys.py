"""One key a row from the codes of its discrete columns, and the place of its case in the table of cases."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from turnback.batch.roster import Roster, Wholes

__all__ = ["KeyIndex"]

_DIRECT: Final = 16
"""Keys of up to so many bits are looked up directly [-]."""
_WIDEST: Final = 60


class KeyIndex:
    """Finds the case of each row, and asks for a case once per distinct combination of codes.

    Args:
        place_of: From a combination of codes to the place of its case.
    """

    def __init__(self, place_of: Callable[[tuple[int, ...]], int]) -> None:
        self._place_of = place_of
        self._sizes: tuple[int, ...] = ()
        self._bits: tuple[int, ...] = ()
        self._direct: Wholes | None = None
        self._rosters: list[Roster] = []
        self._places: Wholes = np.empty(0, dtype=np.int64)

    def places(self, codes: Sequence[Wholes], sizes: Sequence[int]) -> Wholes:
        """Return the place of each row's case.

        Args:
            codes: The codes, one array a column.
            sizes: Number of codes of each column so far [-].

        Returns:
            The places.
        """
        if any(size > 1 << bits for size, bits in zip(sizes, self._bits, strict=False)) or not self._bits:
            self._start(sizes)
        if self._direct is not None:
            keys = self._packed(codes)
            found = self._direct.take(keys)
            if len(found) and found.min() < 0:
                for key, first in zip(*np.unique(keys[found < 0], return_index=True), strict=True):
                    row = np.flatnonzero(found < 0)[first]
                    self._direct[key] = self._place_of(tuple(int(each[row]) for each in codes))
                found = self._direct.take(keys)
            return found
        return self._through_rosters(codes)

    def _start(self, sizes: Sequence[int]) -> None:
        # Room to grow, so that a new value seldom moves the others.
        self._bits = tuple(max(1, (size * 2 - 1).bit_length()) for size in sizes)
        total = sum(self._bits)
        self._direct = np.full(1 << total, -1, dtype=np.int64) if total <= _DIRECT else None
        self._rosters = []
        self._places = np.empty(0, dtype=np.int64)

    def _packed(self, codes: Sequence[Wholes]) -> Wholes:
        keys = codes[0]
        for each, bits in zip(codes[1:], self._bits[1:], strict=True):
            keys = (keys << bits) | each
        return keys

    def _through_rosters(self, codes: Sequence[Wholes]) -> Wholes:
        level = 0
        keys, filled = codes[0], self._bits[0]
        for each, bits in zip(codes[1:], self._bits[1:], strict=True):
            if filled + bits > _WIDEST:
                # Too wide for one number: what was met so far is numbered, and the numbers go on.
                keys, filled, level = self._numbered(keys, level), 32, level + 1
            keys, filled = (keys << bits) | each, filled + bits
        numbers = self._numbered(keys, level)
        known = len(self._places)
        if len(numbers) and int(numbers.max()) >= known:
            new, rows = np.unique(numbers, return_index=True)
            added = {
                int(number): self._place_of(tuple(int(each[row]) for each in codes))
                for number, row in zip(new, rows, strict=True)
                if number >= known
            }
            grown = np.full(len(self._rosters[level]), -1, dtype=np.int64)
            grown[:known] = self._places
            for number, place in added.items():
                grown[number] = place
            self._places = grown
        return self._places.take(numbers)

    def _numbered(self, keys: Wholes, level: int) -> Wholes:
        if level == len(self._rosters):
            self._rosters.append(Roster())
        return self._rosters[level].codes(np.ascontiguousarray(keys))
