"""Strict runs: rows that were not planned, counted and named."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np
import pyarrow as pa

from turnback.batch.statuses import Status
from turnback.errors import InputError

__all__ = ["refuse_rows"]

_SHOWN: Final = 5


def refuse_rows(planned: Iterable[pa.RecordBatch], first_row: int) -> None:
    """Raise where rows were not planned.

    Args:
        planned: Batches of the output.
        first_row: Number of the first of their rows, counted from 0 [-].

    Raises:
        InputError: At least one row was not planned; the counts by status and the first rows are named.
    """
    counts = np.zeros(256, dtype=np.int64)
    rows: list[str] = []
    at = first_row
    for batch in planned:
        statuses = batch.column("status").to_numpy(zero_copy_only=False)
        counts += np.bincount(statuses, minlength=256)
        if len(rows) < _SHOWN:
            for i in np.flatnonzero(statuses)[: _SHOWN - len(rows)].tolist():
                rows.append(f"row {at + i} ({Status(int(statuses[i])).label})")
        at += batch.num_rows
    if not rows:
        return
    refused = ", ".join(f"{count} {Status(code).label}" for code, count in enumerate(counts.tolist()) if code and count)
    raise InputError(
        f"{int(counts[1:].sum())} of {int(counts.sum())} rows were not planned: {refused}",
        field="rows",
        value=", ".join(rows) + (" and others" if counts[1:].sum() > len(rows) else ""),
        instead="Correct these rows, or leave strict out: each row then comes back with its status. Rows count from 0.",
    )
