"""Strict runs: rows that were not planned, counted and named."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final, TypeAlias

import numpy as np
import pyarrow as pa

from turnback.batch.statuses import Status
from turnback.errors import InputError, TurnbackError

__all__ = ["SHOWN", "Why", "refuse_rows", "refused_rows", "row_text"]

SHOWN: Final = 5
"""How many rows an error names [-]."""

Why: TypeAlias = "Callable[[pa.RecordBatch, int], TurnbackError | None]"
"""Says why the row at a place of a batch was not planned."""


def refuse_rows(planned: Iterable[pa.RecordBatch], first_row: int, why: Why) -> None:
    """Raise where rows were not planned.

    Args:
        planned: Batches of the output.
        first_row: Number of the first of their rows, counted from 0 [-].
        why: Says of a batch and a place in it why the row there was not planned.

    Raises:
        InputError: At least one row was not planned; the counts by status and the first rows are named.
    """
    counts = np.zeros(256, dtype=np.int64)
    rows: list[str] = []
    at = first_row
    for batch in planned:
        statuses = batch.column("status").to_numpy(zero_copy_only=False)
        counts += np.bincount(statuses, minlength=256)
        for i in np.flatnonzero(statuses)[: SHOWN - len(rows)].tolist():
            rows.append(row_text(at + i, Status(int(statuses[i])), why(batch, i)))
        at += batch.num_rows
    if rows:
        raise refused_rows([(Status(code).label, int(counts[code])) for code in Status], rows)


def row_text(row: int, status: Status, error: TurnbackError | None) -> str:
    """Name a row that was not planned, with the column and the cell where one is to blame.

    Args:
        row: Its number, counted from 0 [-].
        status: Its status.
        error: Why it was not planned.

    Returns:
        Such as ``row 3 (value-unreadable: base_width '57,15')``.
    """
    if error is None or not error.field:
        return f"row {row} ({status.label})"
    cell = " ".join(f"{error.field} {error.value}".split())
    return f"row {row} ({status.label}: {cell[:120]})"


def refused_rows(counts: Sequence[tuple[str, int]], rows: Sequence[str], also: str = "") -> InputError:
    """Return the error of a strict run.

    Args:
        counts: Every status by name, with the number of its rows [-].
        rows: The first rows that were not planned, as :func:`row_text` names them.
        also: What else is to be said.

    Returns:
        The error.
    """
    bad = [(name, count) for name, count in counts if count and name != Status.OK.label]
    total = sum(count for _, count in bad)
    return InputError(
        f"{total} of {sum(count for _, count in counts)} rows were not planned: "
        + ", ".join(f"{count} {name}" for name, count in bad),
        field="rows",
        value=", ".join(rows) + (" and others" if total > len(rows) else ""),
        instead=f"{also} Correct these rows, or leave strict out: each row then comes back with its status. "
        "Rows count from 0.".strip(),
    )
