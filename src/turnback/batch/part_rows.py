"""Rows of one kind of termination while they are planned: their columns, their cases, what is known of them so far."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from turnback.batch.arrays import Flags, Numbers
from turnback.batch.cases import CaseTable
from turnback.batch.roster import Wholes
from turnback.batch.statuses import Status
from turnback.batch.stretch import Stretch, Verdict

__all__ = ["PartRows"]


class PartRows:
    """Rows of one kind of termination.

    Args:
        stretch: Their continuous columns.
        cases: The case of each row.
        table: The cases.
        kind: The kind of termination.
        verdict: The statuses that are known already.
    """

    def __init__(self, stretch: Stretch, cases: Wholes, table: CaseTable, kind: str, verdict: Verdict) -> None:
        self.stretch = stretch
        self.table = table
        self.kind = kind
        self.verdict = verdict
        self.masks: npt.NDArray[np.uint8] = np.zeros(stretch.count, dtype=np.uint8)
        self.cases = cases

    def wholes(self, name: str) -> Wholes:
        """Gather a whole number of each row's case.

        Args:
            name: Name of the number.

        Returns:
            The numbers.
        """
        return self.table.column(name).take(self.cases)  # type: ignore[return-value]  # the column's own type

    def floats(self, name: str) -> Numbers:
        """Gather a float of each row's case.

        Args:
            name: Name of the number.

        Returns:
            The numbers.
        """
        return self.table.column(name).take(self.cases)  # type: ignore[return-value]  # the column's own type

    def flags(self, name: str) -> Flags:
        """Gather a yes or no of each row's case.

        Args:
            name: Name of the flag.

        Returns:
            The flags.
        """
        return self.table.column(name).take(self.cases)  # type: ignore[return-value]  # the column's own type

    def mark(self, rows: Flags, bit: int) -> None:
        """Set a bit of rows.

        Args:
            rows: The rows.
            bit: The bit [-].
        """
        self.masks |= rows.view(np.uint8) * np.uint8(bit)

    def refuse(self, rows: Flags, given: Flags | None, status: Status = Status.INPUT_REFUSED) -> None:
        """Give a status to rows that have none yet.

        Args:
            rows: The rows.
            given: Only those among them; None for all.
            status: The status.
        """
        self.verdict.refuse(rows if given is None else rows & given, status)
