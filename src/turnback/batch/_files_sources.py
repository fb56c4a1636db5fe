"""Where rows come from: Parquet, Arrow and CSV, read in pieces whose limits do not depend on where reading begins.

That last is what a run that goes on after a kill needs: a row group or a record batch is always read from its own
beginning, so the dictionaries of a column are the same ones, and so are the bytes that are written from them.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

import attrs
import pyarrow as pa
import pyarrow.ipc as paipc
import pyarrow.parquet as pq

from turnback.batch._files_csv import open_csv
from turnback.batch._files_pieces import Piece, Source, no_such_column, unreadable
from turnback.batch._files_sinks import form_of
from turnback.batch.columns import INPUT_COLUMNS
from turnback.errors import InputError

__all__ = ["open_source", "signature"]

_PIECE: Final = 1 << 17
"""Least rows that are read in one go, where row groups are smaller [-]."""

_KNOWN: Final = frozenset(name for column in INPUT_COLUMNS for name in (column.name, column.exact_name))
_BATCH: Final = 1 << 16
_END: Final = 1 << 16
"""How many bytes at each end of a file are looked at to tell whether it has changed [-]."""


def open_source(path: str | os.PathLike[str], units: Mapping[str, str], *, as_text: bool) -> Source:
    """Open a file, or a folder of Parquet files, and read what columns it has.

    Args:
        path: The file or folder.
        units: Units of columns of numbers, by column.
        as_text: Keep the cells of CSV as they stood, in place of numbers; what else is read has its types already.

    Returns:
        The source; its rows are read later.

    Raises:
        InputError: It cannot be read, or a unit is given for a column that is not there.
    """
    where = Path(path)
    if "\0" in str(where) or not where.exists():
        raise InputError("there is no such file", field="IN", value=str(where).replace("\0", "?")[:200])
    try:
        if where.is_dir():
            source = _parquet(sorted(each for each in where.iterdir() if each.suffix == ".parquet"), where)
        else:
            form = form_of(where, "IN")
            source = {"parquet": lambda: _parquet([where], where), "arrow": lambda: _arrow(where)}.get(
                form, lambda: open_csv(where, units, as_text=as_text)
            )()
    except (pa.ArrowException, OSError) as error:
        raise unreadable(where, error) from error
    return source if source.has_units else _with_units(source, units)


def signature(path: Path) -> str:
    """Return a short text that changes when the input does: size, time and both ends of every file.

    A register of many gigabytes is not read through for this; a change in its middle is noticed by the time of the
    file alone.

    Args:
        path: The file or folder.

    Returns:
        A hash, in hexadecimal digits.
    """
    found = hashlib.sha256()
    for each in sorted(path.iterdir()) if path.is_dir() else [path]:
        state = each.stat()
        found.update(f"{each.name if path.is_dir() else ''} {state.st_size} {state.st_mtime_ns}\n".encode())
        if each.is_file():
            with open(each, "rb") as file:
                found.update(file.read(_END))
                file.seek(max(0, state.st_size - _END))
                found.update(file.read(_END))
    return found.hexdigest()


# --- Parquet ---


@attrs.frozen
class _Groups:
    """Row groups of one file that are read in one go."""

    file: Path
    groups: tuple[int, ...]
    first: int
    rows: int


def _parquet(files: list[Path], where: Path) -> Source:
    if not files:
        raise InputError("no Parquet files are in this folder", field="IN", value=str(where))
    pieces: list[_Groups] = []
    at = 0
    with pq.ParquetFile(files[0], pre_buffer=False) as opened:
        stored = opened.schema_arrow
    for file in files:
        with pq.ParquetFile(file, pre_buffer=False) as opened:
            if not opened.schema_arrow.equals(stored):
                raise InputError("the files of this folder have different columns", field="IN", value=file.name)
            for groups, rows in _gathered(opened.metadata):
                pieces.append(_Groups(file, groups, at, rows))
                at += rows
    schema, words = _with_dictionaries(stored)

    def begun(first: int) -> Iterator[Piece]:
        for piece in pieces:
            if piece.first + piece.rows <= first:
                continue
            # The buffer keeps a row group from being held whole; reading ahead would do the opposite.
            with pq.ParquetFile(piece.file, pre_buffer=False, buffer_size=1 << 20, read_dictionary=words) as opened:
                at = piece.first
                for batch in opened.iter_batches(_BATCH, row_groups=list(piece.groups)):
                    yield Piece(at, batch, batch, None)
                    at += batch.num_rows

    return Source(where, schema, schema, at, begun, has_units=False)


def _with_dictionaries(schema: pa.Schema) -> tuple[pa.Schema, list[str]]:
    """The few sizes, grades and services of a register are worth a dictionary, in memory and in the output."""
    words = [each.name for each in schema if each.name in _KNOWN and _is_text(each.type)]
    for word in words:
        index = schema.get_field_index(word)
        schema = schema.set(index, schema.field(index).with_type(pa.dictionary(pa.int32(), pa.string())))
    return schema, words


def _gathered(metadata: pq.FileMetaData) -> Iterator[tuple[tuple[int, ...], int]]:
    groups: list[int] = []
    rows = 0
    for index in range(metadata.num_row_groups):
        groups.append(index)
        rows += metadata.row_group(index).num_rows
        if rows >= _PIECE:
            yield tuple(groups), rows
            groups, rows = [], 0
    if rows:
        yield tuple(groups), rows


def _is_text(kind: pa.DataType) -> bool:
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind))


# --- Arrow ---


def _arrow(where: Path) -> Source:
    with pa.OSFile(str(where)) as file:
        try:
            schema = paipc.open_file(file).schema
            stream = False
        except pa.ArrowInvalid:
            file.seek(0)
            schema, stream = paipc.open_stream(file).schema, True

    def begun(first: int) -> Iterator[Piece]:
        with pa.OSFile(str(where)) as file:
            reader = paipc.open_stream(file) if stream else paipc.open_file(file)
            batches = reader if stream else (reader.get_batch(index) for index in range(reader.num_record_batches))
            at = 0
            for batch in batches:
                if at + batch.num_rows > first:
                    yield Piece(at, batch, batch, None)
                at += batch.num_rows

    return Source(where, schema, schema, None, begun, has_units=False)


# --- units ---


def _with_units(source: Source, units: Mapping[str, str]) -> Source:
    """Put units into the fields' metadata; the values stay."""
    if not units:
        return source
    fields = list(source.given)
    for name, unit in units.items():
        index = source.given.get_field_index(name)
        if index < 0:
            raise no_such_column(name, unit, source.given.names)
        stored = (fields[index].metadata or {}).get(b"unit")
        if stored is not None and stored != unit.encode():
            raise InputError(
                "the file names another unit for this column",
                field="--unit",
                value=f"{name}={unit}",
                bound=f"{stored.decode('utf-8', 'replace')[:80]}, in the field's metadata",
                instead="Leave --unit out, or correct the file: one of the two is wrong.",
            )
        fields[index] = fields[index].with_metadata({**(fields[index].metadata or {}), b"unit": unit.encode()})
    schema = pa.schema(fields, source.given.metadata)

    def begun(first: int) -> Iterator[Piece]:
        for piece in source.begun(first):
            batch = pa.RecordBatch.from_arrays(piece.given.columns, schema=schema)
            yield attrs.evolve(piece, given=batch, kept=batch)

    return attrs.evolve(source, given=schema, kept=schema, begun=begun)
