"""How rows become bytes: Parquet, CSV and Arrow, each as a head, parts that are encoded one by one, and an end.

A part is encoded in memory, by a thread of its own where there is one to spare, and does not depend on the parts before
it; so the output has the same bytes however often the run was cut off.
"""

from __future__ import annotations

import base64
import json
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final, Protocol

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv
import pyarrow.parquet as pq

from turnback.batch._files_arrow import Block, blocks_of, end_of, whole_file
from turnback.batch._files_footer import MAGIC, footer_of, joined_footer, moved_groups, tail
from turnback.batch.resume import Entry
from turnback.errors import InputError

__all__ = ["FORMS", "Sink", "form_of", "parquet_writing", "sink_for"]

FORMS: Final = {".parquet": "parquet", ".csv": "csv", ".arrow": "arrow", ".feather": "arrow"}
"""Endings of file names, and the form that each stands for."""

_JOIN: Final = "; "
_SAMPLE: Final = 4096
_REPEATS: Final = 4
"""A number repeats where the first rows hold each value so often in the mean, or more [-]."""


class Sink(Protocol):
    """One form of output."""

    def head(self) -> bytes:
        """What stands before the first part."""

    def encode(self, rows: pa.Table) -> tuple[memoryview, bytes]:
        """The bytes of a part, and what the end must know of it."""

    def placed(self, note: bytes, position: int, entries: Sequence[Entry]) -> Entry:
        """What the journal keeps of a part that begins at this place."""

    def end(self, entries: Sequence[Entry], rows: int) -> bytes:
        """What stands behind the last part."""


def form_of(path: str | os.PathLike[str], field: str) -> str:
    """Return the form that a file's name asks for.

    Args:
        path: The file.
        field: Name of the argument, for the message.

    Returns:
        ``parquet``, ``csv`` or ``arrow``.

    Raises:
        InputError: The name ends in none of the known endings.
    """
    form = FORMS.get(Path(path).suffix.lower())
    if form is None:
        raise InputError(
            "the name does not say which form the file has",
            field=field,
            value=str(path)[:200],
            bound="a name that ends in " + ", ".join(FORMS),
        )
    return form


def sink_for(form: str, schema: pa.Schema) -> Sink:
    """Return the sink of a form.

    Args:
        form: As :func:`form_of` returns it.
        schema: What is written.

    Returns:
        The sink.

    Raises:
        InputError: The form cannot hold a column of this schema.
    """
    if form == "parquet":
        return _ParquetSink(schema)
    return _CsvSink(schema) if form == "csv" else _ArrowSink(schema)


def parquet_writing(rows: pa.Table) -> dict[str, object]:
    """Return how Parquet is written: zstd at its fastest level, text with a dictionary, fractional numbers without.

    A dictionary of numbers that hardly repeat costs most of the writing and saves nothing. Whole numbers that do
    repeat, such as lengths from a table, are written twice as fast with one; the first rows tell. Limits (statistics)
    are kept of numbers.

    Args:
        rows: The first rows that are written.

    Returns:
        Arguments of pyarrow's writer.
    """
    coded = [field.name for field in rows.schema if _is_text(field.type)]
    coded += [
        field.name
        for index, field in enumerate(rows.schema)
        if pa.types.is_integer(field.type) and field.type.bit_width > 8 and _repeats(rows.column(index))
    ]
    limits = [field.name for field in rows.schema if pa.types.is_primitive(field.type)]
    return {
        "use_dictionary": coded or False,
        "compression": "zstd",
        "compression_level": 1,
        "write_statistics": limits or False,
    }


def _repeats(column: pa.ChunkedArray) -> bool:
    first = column.slice(0, _SAMPLE).drop_null()
    return bool(len(first)) and pc.count_distinct(first).as_py() * _REPEATS <= len(first)


def _is_text(kind: pa.DataType) -> bool:
    if pa.types.is_dictionary(kind):
        kind = kind.value_type
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind) or pa.types.is_string_view(kind))


class _ParquetSink:
    def __init__(self, schema: pa.Schema) -> None:
        self._empty = footer_of(self._whole(schema.empty_table()))

    def head(self) -> bytes:
        return MAGIC

    def encode(self, rows: pa.Table) -> tuple[memoryview, bytes]:
        whole = self._whole(rows)
        footer = footer_of(whole)
        return whole[len(MAGIC) : len(whole) - len(tail(footer))], footer

    def placed(self, note: bytes, position: int, entries: Sequence[Entry]) -> Entry:
        before = sum(len(_texts(entry["groups"])) for entry in entries[-1:]) and _count(entries[-1])
        groups = moved_groups(note, position - len(MAGIC), before)
        return {"groups": [base64.b64encode(group).decode() for group in groups], "count": before + len(groups)}

    def end(self, entries: Sequence[Entry], rows: int) -> bytes:
        groups = [base64.b64decode(text) for entry in entries for text in _texts(entry["groups"])]
        return tail(joined_footer(self._empty, rows, groups))

    @staticmethod
    def _whole(rows: pa.Table) -> memoryview:
        out = pa.BufferOutputStream()
        pq.write_table(rows, out, row_group_size=max(1, rows.num_rows), **parquet_writing(rows))
        return memoryview(out.getvalue())


class _CsvSink:
    def __init__(self, schema: pa.Schema) -> None:
        self._schema = schema
        for field in schema:
            if pa.types.is_nested(field.type) and not _is_text_list(field.type):
                raise InputError(
                    "CSV cannot hold a column of this type",
                    field=field.name,
                    value=str(field.type)[:80],
                    instead="Write Parquet: out.parquet.",
                )
        self._head = self._text(schema.empty_table(), header=True)

    def head(self) -> bytes:
        return bytes(self._head)

    def encode(self, rows: pa.Table) -> tuple[memoryview, bytes]:
        return self._text(rows, header=False), b""

    def placed(self, note: bytes, position: int, entries: Sequence[Entry]) -> Entry:
        del note, position, entries
        return {}

    def end(self, entries: Sequence[Entry], rows: int) -> bytes:
        del entries, rows
        return b""

    def _text(self, rows: pa.Table, *, header: bool) -> memoryview:
        out = pa.BufferOutputStream()
        plain = pa.table([_joined(column) for column in rows.columns] if rows.num_columns else {}, rows.schema.names)
        pacsv.write_csv(plain, out, pacsv.WriteOptions(include_header=header, quoting_style="needed"))
        return memoryview(out.getvalue())


def _is_text_list(kind: pa.DataType) -> bool:
    return bool(pa.types.is_list(kind) or pa.types.is_large_list(kind)) and _is_text(kind.value_type)


def _joined(column: pa.ChunkedArray) -> pa.ChunkedArray:
    if _is_text_list(column.type):
        return pc.binary_join(column.cast(pa.list_(pa.string())), _JOIN)
    if pa.types.is_dictionary(column.type):
        return column.cast(column.type.value_type)
    return column


class _ArrowSink:
    """Parts stand as the record batches of a file, and the end says where each of them is.

    A file has one dictionary a column, known before the first row, so dictionary-encoded columns become plain.
    """

    def __init__(self, schema: pa.Schema) -> None:
        for field in schema:
            if pa.types.is_nested(field.type) and _holds_dictionary(field.type):
                raise InputError(
                    "an Arrow file cannot hold dictionaries inside a column of this type",
                    field=field.name,
                    value=str(field.type)[:80],
                    instead="Write Parquet: out.parquet.",
                )
        self._schema = pa.schema(
            [
                field.with_type(field.type.value_type) if pa.types.is_dictionary(field.type) else field
                for field in schema
            ],
            schema.metadata,
        )
        self._head = bytes(whole_file(self._schema.empty_table())[: self._begins()])

    def _begins(self) -> int:
        """Where the first record batch of every part begins, behind the schema."""
        one = pa.RecordBatch.from_arrays([pa.nulls(1, each.type) for each in self._schema], schema=self._schema)
        return blocks_of(whole_file(pa.Table.from_batches([one])))[0][0]

    def head(self) -> bytes:
        return self._head

    def encode(self, rows: pa.Table) -> tuple[memoryview, bytes]:
        whole = whole_file(rows.cast(self._schema))
        blocks = blocks_of(whole)
        first, last = len(self._head), blocks[-1]
        note = json.dumps([(at - first, head, body) for at, head, body in blocks]).encode()
        return whole[first : sum(last)], note

    def placed(self, note: bytes, position: int, entries: Sequence[Entry]) -> Entry:
        del entries
        return {"blocks": [[position + at, head, body] for at, head, body in json.loads(note)]}

    def end(self, entries: Sequence[Entry], rows: int) -> bytes:
        del rows
        return end_of(self._schema, [block for entry in entries for block in _blocks(entry["blocks"])])


def _holds_dictionary(kind: pa.DataType) -> bool:
    if pa.types.is_dictionary(kind):
        return True
    return any(_holds_dictionary(kind.field(index).type) for index in range(kind.num_fields))


def _blocks(value: object) -> list[Block]:
    assert isinstance(value, list)
    return [(at, head, body) for at, head, body in value]


def _texts(value: object) -> list[str]:
    assert isinstance(value, list)
    return value


def _count(entry: Entry) -> int:
    count = entry["count"]
    assert isinstance(count, int)
    return count
