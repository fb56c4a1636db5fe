"""The end of an Arrow file, written without reading the file again.

An Arrow file is a stream of messages with a footer behind it: where each record batch begins, how long its head and its
body are (Arrow columnar format, "IPC file format" and File.fbs). A part that pyarrow writes as a file of its own has
the bytes of its batches in it already, and its own footer says where. So parts are joined by moving their places, and
the footer of the whole is that of as many empty batches with the places put in.

A footer is a FlatBuffers table: a place in its list of members is read by the table's own list of offsets.
"""

from __future__ import annotations

import struct
from typing import Final

import pyarrow as pa
import pyarrow.ipc as paipc

from turnback.errors import InputError

__all__ = ["HEAD", "Block", "blocks_of", "end_of", "whole_file"]

HEAD: Final = b"ARROW1\x00\x00"
"""The first bytes of an Arrow file, filled up to eight."""

Block = tuple[int, int, int]
"""Where a record batch begins in the file, the bytes of its head, the bytes of its body [-]."""

_TAIL: Final = b"ARROW1"
_BLOCK: Final = struct.Struct("<qi4xq")
_RECORD_BATCHES: Final = 3
"""The place of the record batches among the members of a footer."""


def whole_file(rows: pa.Table) -> memoryview:
    """Write a table as an Arrow file in memory.

    Args:
        rows: The table.

    Returns:
        The bytes.
    """
    out = pa.BufferOutputStream()
    with paipc.new_file(out, rows.schema) as writer:
        writer.write_table(rows)
    return memoryview(out.getvalue())


def blocks_of(file: memoryview) -> list[Block]:
    """Read where the record batches of an Arrow file are.

    Args:
        file: The whole file.

    Returns:
        A place for each.

    Raises:
        InputError: It is no Arrow file.
    """
    first, count = _batches(_footer(file))
    footer = _footer(file)
    return [_BLOCK.unpack_from(footer, first + number * _BLOCK.size) for number in range(count)]


def end_of(schema: pa.Schema, blocks: list[Block]) -> bytes:
    """Write what stands behind the last record batch.

    Args:
        schema: The schema of the file, without dictionaries.
        blocks: Where its record batches are.

    Returns:
        The end of the stream, the footer, its length, and the last bytes of an Arrow file.
    """
    out = pa.BufferOutputStream()
    with paipc.new_file(out, schema) as writer:
        empty = pa.RecordBatch.from_arrays([pa.nulls(0, each.type) for each in schema], schema=schema)
        for _ in blocks:
            writer.write_batch(empty)
    footer = bytearray(_footer(memoryview(out.getvalue())))
    first, _ = _batches(footer)
    for number, block in enumerate(blocks):
        _BLOCK.pack_into(footer, first + number * _BLOCK.size, *block)
    return _STREAM_END + bytes(footer) + struct.pack("<i", len(footer)) + _TAIL


_STREAM_END: Final = b"\xff\xff\xff\xff\x00\x00\x00\x00"


def _footer(file: memoryview) -> memoryview:
    behind = len(file) - len(_TAIL) - 4
    if behind < len(HEAD) or bytes(file[-len(_TAIL) :]) != _TAIL:
        raise InputError("this is no Arrow file", field="file", value=f"{len(file)} bytes")
    (length,) = struct.unpack_from("<i", file, behind)
    return file[behind - length : behind]


def _batches(footer: memoryview | bytearray) -> tuple[int, int]:
    """Where the first record batch stands in a footer, and how many there are."""
    (table,) = struct.unpack_from("<I", footer, 0)
    (back,) = struct.unpack_from("<i", footer, table)
    members = table - back
    (size,) = struct.unpack_from("<H", footer, members)
    at = 4 + 2 * _RECORD_BATCHES
    (offset,) = struct.unpack_from("<H", footer, members + at) if at < size else (0,)
    if not offset:
        return 0, 0
    (ahead,) = struct.unpack_from("<I", footer, table + offset)
    (count,) = struct.unpack_from("<I", footer, table + offset + ahead)
    return table + offset + ahead + 4, count
