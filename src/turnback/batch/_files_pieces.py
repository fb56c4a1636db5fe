"""A source of rows, and its rows in blocks of one size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import attrs
import numpy as np
import pyarrow as pa

from turnback.batch.near_names import meant_by
from turnback.errors import InputError

__all__ = ["Piece", "Source", "blocks", "no_such_column", "unreadable"]


@attrs.frozen(eq=False)
class Piece:
    """Rows as they were read.

    Args:
        first: Where the first of them stands in the source, counted from 0 [-].
        given: What is planned from.
        kept: What stands beside the answers in the output; the same, but for CSV.
        unreadable: Which rows hold a cell that cannot be read as its column's kind; None where there are none.
    """

    first: int
    given: pa.RecordBatch
    kept: pa.RecordBatch
    unreadable: np.ndarray[tuple[int], np.dtype[np.bool_]] | None


@attrs.frozen(eq=False)
class Source:
    """A file or folder whose columns are known and whose rows are still to be read.

    Args:
        path: Where it is.
        given: Schema of what is planned from.
        kept: Schema of what stands beside the answers.
        rows: How many rows there are [-]; None where only reading tells.
        begun: Begins to read at the piece that holds a row.
        has_units: Whether the units of the command are in the schema already.
    """

    path: Path
    given: pa.Schema
    kept: pa.Schema
    rows: int | None
    begun: Callable[[int], Iterator[Piece]]
    has_units: bool

    def counted(self) -> int:
        """Return how many rows there are, by reading where nothing else tells [-]."""
        if self.rows is not None:
            return self.rows
        return sum(piece.kept.num_rows for piece in _pieces(self, 0))


def unreadable(path: Path, error: Exception) -> InputError:
    """Return the error for a file that cannot be read.

    Args:
        path: The file.
        error: What the reader says.

    Returns:
        The error, in one line.
    """
    first = (str(error).splitlines() or [type(error).__name__])[0]
    return InputError(
        f"the file cannot be read: {first[:300]}",
        field="IN",
        value=str(path),
        instead="Is it whole, and does its name end as its form does?",
    )


def no_such_column(name: str, unit: str, names: Sequence[str]) -> InputError:
    """Return the error for a unit of a column that is not there.

    Args:
        name: The column.
        unit: Its unit.
        names: The columns that are there.

    Returns:
        The error; it names the nearest column.
    """
    near, _ = meant_by(name, names)
    return InputError(
        "a unit is given for a column that is not there",
        field="--unit",
        value=f"{name}={unit}",
        bound="columns: " + ", ".join(names[:20]),
        instead=f"Did you mean {near}={unit}?" if near else "",
    )


def blocks(source: Source, first: int, size: int, end: int | None = None) -> Iterator[Piece]:
    """Read rows in blocks of one size; only the last is shorter.

    Args:
        source: Where they come from.
        first: The row to begin with [-].
        size: Rows in a block [-].
        end: The row to stop before [-]; the end of the source when not given.

    Yields:
        The blocks, in order, of one chunk each.

    Raises:
        InputError: The file cannot be read to its end.
    """
    waiting: list[Piece] = []
    held = 0
    for piece in _pieces(source, first):
        skipped = max(0, first - piece.first)
        until = piece.kept.num_rows if end is None else min(piece.kept.num_rows, end - piece.first)
        while skipped < until:
            taken = min(size - held, until - skipped)
            waiting.append(_cut(piece, skipped, taken))
            held += taken
            skipped += taken
            if held == size:
                yield _one(waiting)
                waiting, held = [], 0
        if until < piece.kept.num_rows:
            break
    if held:
        yield _one(waiting)


def _pieces(source: Source, first: int) -> Iterator[Piece]:
    try:
        yield from source.begun(first)
    except (pa.ArrowException, OSError) as error:
        raise unreadable(source.path, error) from error


def _cut(piece: Piece, start: int, rows: int) -> Piece:
    if rows == piece.kept.num_rows:
        return piece
    mask = piece.unreadable
    given = piece.given.slice(start, rows)
    kept = given if piece.kept is piece.given else piece.kept.slice(start, rows)
    return Piece(piece.first + start, given, kept, None if mask is None else mask[start : start + rows])


def _one(pieces: list[Piece]) -> Piece:
    if len(pieces) == 1:
        return pieces[0]
    given = _batch([piece.given for piece in pieces])
    kept = given if all(piece.kept is piece.given for piece in pieces) else _batch([piece.kept for piece in pieces])
    masks = [
        np.zeros(piece.kept.num_rows, np.bool_) if piece.unreadable is None else piece.unreadable for piece in pieces
    ]
    mask = None if all(piece.unreadable is None for piece in pieces) else np.concatenate(masks)
    return Piece(pieces[0].first, given, kept, mask)


def _batch(batches: list[pa.RecordBatch]) -> pa.RecordBatch:
    whole = pa.Table.from_batches(batches).combine_chunks().to_batches()
    if len(whole) != 1:
        raise InputError("a block of rows holds more text than fits", field="IN")
    return whole[0]
