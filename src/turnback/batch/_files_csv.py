"""CSV: read as text, turned into the kinds that the known columns have, and kept as it stood.

A cell that cannot be read as its column's kind (``2,25`` in ``base_width_nm``) is no reason to stop, and none to take
the row as if the cell were empty: the row gets the status of a value that cannot be read. Nothing is guessed from the
first rows: a column that the batch path knows has its kind, every other column is text.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final, Literal

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv

from turnback.batch._files_pieces import Piece, Source, no_such_column
from turnback.batch.columns import INPUT_COLUMNS, InputColumn
from turnback.errors import InputError

__all__ = ["open_csv"]

Kind = Literal["whole", "number", "flag", "text"]

_TYPES: Final[Mapping[Kind, pa.DataType]] = {
    "whole": pa.int64(),
    "number": pa.float64(),
    "flag": pa.bool_(),
    "text": pa.string(),
}
_ACCEPTED: Final[Mapping[Kind, str]] = {
    "whole": r"^[+-]?[0-9]{1,18}$",
    "number": r"^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?$",
    "flag": r"^(true|false|True|False|TRUE|FALSE|0|1)$",
}
_BAD: Final[Mapping[Kind, object]] = {"whole": -1, "number": float("nan"), "text": "?"}
"""What stands for the rope's diameter in a row that cannot be read: no size, of any kind."""

_BLOCK: Final = 1 << 22
"""Bytes that are read in one go [-]; a line must fit."""


def open_csv(where: Path, units: Mapping[str, str], *, as_text: bool) -> Source:
    """Open a CSV file: UTF-8, comma, one line of names.

    Args:
        where: The file.
        units: Units of columns of numbers, by column.
        as_text: Keep every cell as it stood; otherwise in its column's kind, and null where it is not of that kind.

    Returns:
        The source.

    Raises:
        InputError: A name stands twice, the columns are parted by another sign than a comma, or a unit is given for a
            column that is not there.
        pa.ArrowException: The file cannot be read.
    """
    names = list(_reader(where, None).schema.names)
    for name in names:
        if names.count(name) > 1:
            raise InputError("two columns have one name", field=name, value=str(where))
    if len(names) == 1 and (sign := next((each for each in ";\t|" if each in names[0]), "")):
        raise InputError(
            "the columns of this file are parted by another sign than a comma",
            field="IN",
            value=repr(sign),
            bound="commas between columns, points in numbers",
            instead="Write it again with commas; a cell that holds one stands between quotation marks.",
        )
    for name, unit in units.items():
        if name not in names:
            raise no_such_column(name, unit, names)
    kinds = {name: _kind(name, units) for name in names}
    given = pa.schema(
        [
            pa.field(name, _TYPES[kinds[name]], metadata={b"unit": units[name].encode()} if name in units else None)
            for name in names
        ]
    )
    kept = pa.schema([pa.field(name, pa.string()) for name in names]) if as_text else given

    def begun(first: int) -> Iterator[Piece]:
        at = 0
        for batch in _reader(where, names):
            if at + batch.num_rows > first:
                piece = _read(batch, at, given, kinds)
                yield attrs.evolve(piece, kept=batch) if as_text else piece
            at += batch.num_rows

    return Source(where, given, kept, None, begun, has_units=True)


def _kind(name: str, units: Mapping[str, str]) -> Kind:
    column = _known(name)
    if name in units:
        return "number"
    if column is None or column.kind == "word":
        return "text"
    if column.kind == "flag":
        return "flag"
    if column.kind == "whole" or (column.kind == "length" and name == column.exact_name):
        return "whole"
    return "number" if name == column.exact_name else "text"


def _known(name: str) -> InputColumn | None:
    return next((each for each in INPUT_COLUMNS if name in (each.name, each.exact_name)), None)


def _reader(where: Path, names: list[str] | None) -> pacsv.CSVStreamingReader:
    return pacsv.open_csv(
        where,
        # Values may hold line breaks between quotation marks; reading with threads would read far ahead.
        read_options=pacsv.ReadOptions(block_size=_BLOCK, use_threads=False),
        parse_options=pacsv.ParseOptions(newlines_in_values=True),
        convert_options=pacsv.ConvertOptions(
            column_types={name: pa.string() for name in names or ()},
            null_values=[""],
            strings_can_be_null=True,
            quoted_strings_can_be_null=False,
        ),
    )


def _read(batch: pa.RecordBatch, first: int, given: pa.Schema, kinds: Mapping[str, Kind]) -> Piece:
    bad = np.zeros(batch.num_rows, np.bool_)
    columns = []
    for name, text in zip(batch.schema.names, batch.columns, strict=True):
        column, wrong = _converted(text, kinds[name])
        if wrong is not None:
            bad |= wrong
        columns.append(column)
    kept = pa.RecordBatch.from_arrays(columns, schema=given)
    if not bad.any():
        return Piece(first, kept, kept, None)
    for index, name in enumerate(batch.schema.names):
        if _known(name) is INPUT_COLUMNS[0]:
            # The row is not planned whatever else it holds; a row without a size keeps that status of its own.
            spoiled = pa.array(bad & ~np.asarray(batch.columns[index].is_null()))
            filled = pa.scalar(_BAD[kinds[name]], columns[index].type)
            columns[index] = pc.if_else(spoiled, filled, columns[index])
    return Piece(first, pa.RecordBatch.from_arrays(columns, schema=given), kept, bad)


def _converted(text: pa.Array, kind: Kind) -> tuple[pa.Array, np.ndarray[tuple[int], np.dtype[np.bool_]] | None]:
    if kind == "text":
        return text, None
    try:
        return text.cast(_TYPES[kind]), None
    except pa.ArrowInvalid:
        if kind == "whole":
            # A frame keeps whole numbers of which some are missing as floats, and writes them so.
            text = pc.replace_substring_regex(text, r"^([+-]?[0-9]{1,18})\.0*$", r"\1")
        good = pc.match_substring_regex(text, _ACCEPTED[kind])
        read = pc.if_else(good, text, None)
        return read.cast(_TYPES[kind]), np.asarray(pc.invert(good).fill_null(False))
