"""The numbers of a stretch of rows, each column read once, whole or for some of its rows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
import numpy.typing as npt

from turnback.batch.arrays import Flags
from turnback.batch.quantities import LengthReader, Lengths, ScalarReader, Scalars
from turnback.batch.roster import Wholes

__all__ = ["Stretch", "Verdict", "first_of"]

_OK: Final = 0


class Stretch:
    """The continuous columns of a stretch of rows.

    Args:
        lengths: The columns of lengths.
        scalars: The columns of forces, angles and factors.
        count: Number of rows [-].
        nominal: The rope's diameters, where no rope is coated; None where one may be.
    """

    def __init__(
        self,
        lengths: Mapping[str, Lengths],
        scalars: Mapping[str, Scalars],
        count: int,
        nominal: Wholes | None = None,
    ) -> None:
        self.nominal = nominal
        self.lengths = lengths
        self.scalars = scalars
        self.count = count

    @classmethod
    def read(
        cls, lengths: Mapping[str, LengthReader], scalars: Mapping[str, ScalarReader], start: int, stop: int
    ) -> Stretch:
        """Read a stretch of the open batch.

        Args:
            lengths: Readers of lengths.
            scalars: Readers of forces, angles and factors.
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            The stretch.
        """
        return cls(
            {name: reader.take(start, stop) for name, reader in lengths.items()},
            {name: reader.take(start, stop) for name, reader in scalars.items()},
            stop - start,
        )

    def only(self, rows: Wholes) -> Stretch:
        """Return the same of some rows.

        Args:
            rows: Their places.

        Returns:
            A stretch of these rows.
        """
        return Stretch(
            {
                name: Lengths(each.numbers.take(rows), _taken(each.given, rows), None, each.most)
                for name, each in self.lengths.items()
            },
            {
                name: Scalars(each.numbers.take(rows), _taken(each.given, rows), None)
                for name, each in self.scalars.items()
            },
            len(rows),
            None if self.nominal is None else self.nominal.take(rows),
        )

    def given(self, *names: str) -> Flags | None:
        """Tell which rows give all of several lengths.

        Args:
            *names: Names of the columns.

        Returns:
            True where all are given; None where all are everywhere.
        """
        found: Flags | None = None
        for name in names:
            column = self.lengths.get(name)
            if column is None:
                return np.zeros(self.count, dtype=np.bool_)
            if column.given is not None:
                found = column.given if found is None else found & column.given
        return found

    def nowhere(self, *names: str) -> bool:
        """Tell whether one of several lengths has no column, or no cell in these rows.

        Args:
            *names: Names of the columns.

        Returns:
            True where no row gives all of them.
        """
        given = self.given(*names)
        return given is not None and not given.any()

    def worst(self) -> npt.NDArray[np.uint8] | None:
        """Return the first status for which a cell of each row was refused.

        Returns:
            Statuses, 0 where every cell was read; None where all of all rows were.
        """
        found: npt.NDArray[np.uint8] | None = None
        refused = [each.refused for each in self.lengths.values()] + [each.refused for each in self.scalars.values()]
        for statuses in refused:
            if statuses is not None:
                found = statuses if found is None else first_of(found, statuses)
        return found


def first_of(one: npt.NDArray[np.uint8], other: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """Return the lower of two statuses, where 0 is none.

    Args:
        one: Statuses.
        other: Statuses.

    Returns:
        The first that holds.
    """
    # One less, an unsigned 0 is the greatest of all.
    lower: npt.NDArray[np.uint8] = np.minimum(one - np.uint8(1), other - np.uint8(1))
    return lower + np.uint8(1)


def _taken(flags: Flags | None, rows: Wholes) -> Flags | None:
    return None if flags is None else flags.take(rows)


class Verdict:
    """The status of each row, found step by step in the order of the scalar path.

    Args:
        count: Number of rows [-].
        statuses: What is known already; None where nothing is.
    """

    def __init__(self, count: int, statuses: npt.NDArray[np.uint8] | None = None) -> None:
        self._count = count
        self.statuses = statuses
        self.asked: Flags | None = None

    def refuse(self, rows: Flags | None, status: int) -> None:
        """Give a status to rows that have none yet.

        Args:
            rows: The rows; None where there are none.
            status: The status [-].
        """
        if rows is None or not rows.any():
            return
        if self.statuses is None:
            self.statuses = np.zeros(self._count, dtype=np.uint8)
        self.statuses[rows & (self.statuses == _OK)] = status

    def take(self, statuses: npt.NDArray[np.uint8]) -> None:
        """Give statuses of their own to rows that have none yet.

        Args:
            statuses: The statuses; 0 where none is given.
        """
        if self.statuses is None:
            self.statuses = statuses.copy()
        else:
            self.statuses = np.where(self.statuses == _OK, statuses, self.statuses)

    def ask(self, rows: Flags | None) -> None:
        """Leave rows that have no status yet to the scalar path.

        Args:
            rows: The rows; None where there are none.
        """
        if rows is None or not rows.any():
            return
        if self.statuses is not None:
            rows = rows & (self.statuses == _OK)
        self.asked = rows if self.asked is None else self.asked | rows
