"""Joining row groups to one Parquet file without writing them again.

The bytes of a row group do not depend on where they stand; only the places that the footer gives for them do. So parts
that were encoded one by one are put one behind the other, the places are moved along, and one footer is written for
all. That is what makes a run resumable at no second pass over the data.

The footer is a structure ``FileMetaData`` of the Parquet format (apache/parquet-format, ``parquet.thrift``), written in
the compact protocol of Thrift (apache/thrift, ``thrift-compact-protocol.md``). Fields that are not moved are copied as
they are, known or not. Only what this library has just written comes here: no encryption, no page index.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from typing import Final, TypeAlias

from turnback.errors import InputError

__all__ = ["MAGIC", "footer_of", "joined_footer", "moved_groups", "tail"]

MAGIC: Final = b"PAR1"

_TRUE: Final = 1
_FALSE: Final = 2
_BYTE: Final = 3
_WHOLE: Final = (4, 5, 6)
_DOUBLE: Final = 7
_BINARY: Final = 8
_LISTS: Final = (9, 10)
_MAP: Final = 11
_STRUCT: Final = 12
_I64: Final = 6

Fields: TypeAlias = "list[tuple[int, int, Value]]"
Value: TypeAlias = "int | bytes | Fields | tuple[int, list[Value]]"

# Field numbers of parquet.thrift.
_NUM_ROWS: Final = 3
_ROW_GROUPS: Final = 4
_GROUP_COLUMNS: Final = 1
_GROUP_OFFSET: Final = 5
_GROUP_ORDINAL: Final = 7
_CHUNK_OFFSET: Final = 2
_CHUNK_META: Final = 3
_CHUNK_INDEXES: Final = (4, 6)
_META_OFFSETS: Final = (9, 10, 11, 14)


def footer_of(file: memoryview) -> bytes:
    """Return the footer of a whole Parquet file.

    Args:
        file: The bytes of the file.

    Returns:
        The bytes of its ``FileMetaData``.

    Raises:
        InputError: It is no Parquet file.
    """
    if len(file) < 12 or bytes(file[:4]) != MAGIC or bytes(file[-4:]) != MAGIC:
        raise InputError("this is no Parquet file", field="file")
    (length,) = struct.unpack("<I", file[-8:-4])
    return bytes(file[len(file) - 8 - length : len(file) - 8])


def moved_groups(footer: bytes, by: int, first: int) -> tuple[bytes, ...]:
    """Return the row groups of a footer as they read when their bytes stand elsewhere.

    Args:
        footer: The ``FileMetaData`` of the part.
        by: How many bytes further on they stand [-].
        first: How many row groups stand before them [-].

    Returns:
        Each row group, encoded.
    """
    fields, _ = _read_struct(footer, 0)
    moved = []
    for kind, groups in ((kind, value) for name, kind, value in fields if name == _ROW_GROUPS and kind in _LISTS):
        assert isinstance(groups, tuple), kind
        for number, group in enumerate(groups[1]):
            out = bytearray()
            _write_struct(out, _moved_group(_fields(group), by, first + number))
            moved.append(bytes(out))
    return tuple(moved)


def joined_footer(footer: bytes, rows: int, groups: Sequence[bytes]) -> bytes:
    """Return the footer of a file of many row groups.

    Args:
        footer: The ``FileMetaData`` of any part, for the schema and what else is the same for all.
        rows: How many rows all of them have [-].
        groups: The row groups, as :func:`moved_groups` returns them.

    Returns:
        The ``FileMetaData``.
    """
    fields, _ = _read_struct(footer, 0)
    out, last = bytearray(), 0
    for name, kind, value in fields:
        _write_head(out, name, kind, last)
        last = name
        if name == _ROW_GROUPS:
            _write_list_head(out, _STRUCT, len(groups))
            out += b"".join(groups)
        else:
            _write(out, kind, rows if name == _NUM_ROWS else value)
    out.append(0)
    return bytes(out)


def tail(footer: bytes) -> bytes:
    """Return what stands behind the last row group.

    Args:
        footer: The ``FileMetaData``.

    Returns:
        Footer, its length, and the closing mark of the format.
    """
    return footer + struct.pack("<I", len(footer)) + MAGIC


def _moved_group(group: Fields, by: int, ordinal: int) -> Fields:
    moved: Fields = []
    for name, kind, value in group:
        if name == _GROUP_COLUMNS and isinstance(value, tuple):
            moved.append((name, kind, (value[0], [_moved_chunk(_fields(chunk), by) for chunk in value[1]])))
        elif name == _GROUP_OFFSET:
            moved.append((name, kind, _whole(value) + by))
        else:
            moved.append((name, kind, ordinal if name == _GROUP_ORDINAL else value))
    return moved


def _moved_chunk(chunk: Fields, by: int) -> Fields:
    moved: Fields = []
    for name, kind, value in chunk:
        if name in _CHUNK_INDEXES:
            raise InputError("row groups with a page index are not joined", field="file")
        if name == _CHUNK_META:
            meta: Fields = [
                (inner, kind_, _whole(each) + by if inner in _META_OFFSETS else each)
                for inner, kind_, each in _fields(value)
            ]
            moved.append((name, kind, meta))
        elif name == _CHUNK_OFFSET:
            # Deprecated and 0 in newer files; where it is set it is a place like any other.
            moved.append((name, kind, _whole(value) + by if value else 0))
        else:
            moved.append((name, kind, value))
    return moved


def _fields(value: Value) -> Fields:
    assert isinstance(value, list)
    return value


def _whole(value: Value) -> int:
    assert isinstance(value, int)
    return value


# --- the compact protocol ---


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        byte = data[at]
        at += 1
        value |= (byte & 0x7F) << shift
        if byte < 0x80:
            return value, at
        shift += 7


def _zigzag(data: bytes, at: int) -> tuple[int, int]:
    value, at = _varint(data, at)
    return (value >> 1) ^ -(value & 1), at


def _read_struct(data: bytes, at: int) -> tuple[Fields, int]:
    fields: Fields = []
    name = 0
    while True:
        head = data[at]
        at += 1
        if head == 0:
            return fields, at
        if head >> 4:
            name += head >> 4
        else:
            name, at = _zigzag(data, at)
        kind = head & 0xF
        value: Value
        if kind in (_TRUE, _FALSE):
            value = kind
        else:
            value, at = _read(data, at, kind)
        fields.append((name, kind, value))


def _read(data: bytes, at: int, kind: int) -> tuple[Value, int]:
    if kind in _WHOLE:
        return _zigzag(data, at)
    if kind == _STRUCT:
        return _read_struct(data, at)
    if kind in (_TRUE, _FALSE, _BYTE):
        return data[at], at + 1
    if kind == _DOUBLE:
        return data[at : at + 8], at + 8
    if kind == _BINARY:
        length, at = _varint(data, at)
        return data[at : at + length], at + length
    if kind in _LISTS:
        head = data[at]
        size, at = (head >> 4, at + 1) if head >> 4 < 15 else _varint(data, at + 1)
        items: list[Value] = []
        for _ in range(size):
            item, at = _read(data, at, head & 0xF)
            items.append(item)
        return (head & 0xF, items), at
    raise InputError("the footer holds a kind of field that parts never have", field="file", value=str(kind))


def _write_varint(out: bytearray, value: int) -> None:
    while value > 0x7F:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    out.append(value)


def _write_zigzag(out: bytearray, value: int) -> None:
    _write_varint(out, value * 2 if value >= 0 else -value * 2 - 1)


def _write_head(out: bytearray, name: int, kind: int, last: int) -> None:
    if 0 < name - last < 16:
        out.append((name - last) << 4 | kind)
    else:
        out.append(kind)
        _write_zigzag(out, name)


def _write_list_head(out: bytearray, kind: int, size: int) -> None:
    if size < 15:
        out.append(size << 4 | kind)
    else:
        out.append(0xF0 | kind)
        _write_varint(out, size)


def _write_struct(out: bytearray, fields: Fields) -> None:
    last = 0
    for name, kind, value in fields:
        _write_head(out, name, kind, last)
        last = name
        _write(out, kind, value)
    out.append(0)


def _write(out: bytearray, kind: int, value: Value) -> None:
    """Write a field's value; a flag of a field stands in its head and has none."""
    if kind in (_TRUE, _FALSE):
        return
    if isinstance(value, list):
        _write_struct(out, value)
    elif isinstance(value, tuple):
        _write_list_head(out, value[0], len(value[1]))
        for item in value[1]:
            if value[0] in (_TRUE, _FALSE, _BYTE):
                out.append(_whole(item))
            else:
                _write(out, value[0], item)
    elif isinstance(value, int):
        if kind == _BYTE:
            out.append(value)
        else:
            _write_zigzag(out, value)
    else:
        if kind == _BINARY:
            _write_varint(out, len(value))
        out += value
