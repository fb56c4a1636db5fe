"""An order-free fingerprint of rows: the same for the same rows, however they were ordered, cut or encoded.

Every cell is mixed to 64 bits together with its column's name, the cells of a row are summed and mixed again, and the
rows are summed modulo 2**64. So the fingerprints of parts add up to the fingerprint of the whole, in any order, while
two cells that change places between rows change it. It tells whether two runs gave the same rows; it is no defence
against somebody who wants two tables to look alike.

The mixing is the finaliser of a splittable generator (xor, shift and multiply, common practice in hashing).
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, TypeAlias

import numpy as np
import pyarrow as pa

from turnback.errors import InputError

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = ["fingerprint", "joined", "row_hashes"]

Hashes: TypeAlias = "NDArray[np.uint64]"

_BLOCK: Final = 1 << 16
_WORD: Final = 8
_MODULUS: Final = 1 << 64
_GOLDEN: Final = np.uint64(0x9E3779B97F4A7C15)
_FIRST: Final = np.uint64(0xBF58476D1CE4E5B9)
_SECOND: Final = np.uint64(0x94D049BB133111EB)
_NULL: Final = np.uint64(0x6E756C6C)


def fingerprint(data: pa.Table | pa.RecordBatch | Iterable[pa.RecordBatch]) -> int:
    """Return the fingerprint of rows.

    Whole numbers count alike whatever their width, ``float32`` as the ``float64`` of the same value, text alike whether
    plain, large or dictionary-encoded. Numbers count by their bits: ``-0.0`` is not ``0.0``, and 1 is not ``1.0``. A
    null is a value of its own. Names of columns count, their order does not.

    Args:
        data: A table, a record batch, or record batches of one run.

    Returns:
        A whole number from 0 to 2**64 - 1 [-]; 0 where there are no rows.

    Raises:
        InputError: A column is of a type that cannot be read as text or numbers.
    """
    batches: Iterable[pa.RecordBatch] = (
        data.to_batches() if isinstance(data, pa.Table) else (data,) if isinstance(data, pa.RecordBatch) else data
    )
    return joined(
        int(row_hashes(batch.slice(start, _BLOCK)).sum(dtype=np.uint64))
        for batch in batches
        for start in range(0, batch.num_rows, _BLOCK)
    )


def joined(parts: Iterable[int]) -> int:
    """Join the fingerprints of parts to that of the whole.

    Args:
        parts: Fingerprints of parts that share no row [-].

    Returns:
        Their sum modulo 2**64 [-].
    """
    return sum(parts) % _MODULUS


def row_hashes(batch: pa.RecordBatch) -> Hashes:
    """Return one hash for each row.

    Args:
        batch: The rows.

    Returns:
        Their hashes, in their order [-].

    Raises:
        InputError: A column is of a type that cannot be read as text or numbers.
    """
    total = np.zeros(batch.num_rows, np.uint64)
    for name, column in zip(batch.schema.names, batch.columns, strict=True):
        total += _mixed(_cells(column, name) ^ _seed(name))
    return _mixed(total)


def _mixed(values: Hashes) -> Hashes:
    mixed: Hashes = values + _GOLDEN
    mixed ^= mixed >> np.uint64(30)
    mixed *= _FIRST
    mixed ^= mixed >> np.uint64(27)
    mixed *= _SECOND
    mixed ^= mixed >> np.uint64(31)
    return mixed


def _seed(text: str) -> np.uint64:
    return np.uint64(int.from_bytes(hashlib.blake2b(text.encode(), digest_size=_WORD).digest(), "little"))


def _cells(column: pa.Array, name: str) -> Hashes:
    """One hash a cell; a type's tag keeps 1, 1.0, true and "1" apart."""
    kind = column.type
    if pa.types.is_dictionary(kind):
        found = _cells(column.dictionary, name)
        codes = column.indices
        # An empty dictionary has nothing to take from, and then every code is null.
        found = np.append(found, _NULL)[np.asarray(codes.fill_null(len(found)).cast(pa.int64()))]
        return _with_nulls(found, column)
    if pa.types.is_null(kind):
        return np.full(len(column), _NULL, np.uint64)
    if pa.types.is_boolean(kind):
        return _with_nulls(
            np.asarray(column.fill_null(False).cast(pa.uint8())).astype(np.uint64) ^ _seed("flag"), column
        )
    if pa.types.is_integer(kind):
        return _with_nulls(_bits(column.fill_null(0), np.uint64) ^ _seed("whole"), column)
    if pa.types.is_floating(kind):
        wide = np.ascontiguousarray(np.asarray(column.fill_null(0)), np.float64)
        return _with_nulls(wide.view(np.uint64) ^ _seed("number"), column)
    if pa.types.is_temporal(kind) and not pa.types.is_interval(kind):
        whole = column.cast(pa.int64() if kind.bit_width == 64 else pa.int32()).cast(pa.int64()).fill_null(0)
        return _with_nulls(_bits(whole, np.uint64) ^ _seed(str(kind)), column)
    if pa.types.is_list(kind) or pa.types.is_large_list(kind):
        return _with_nulls(_lists(column, name), column)
    if pa.types.is_struct(kind):
        total = np.zeros(len(column), np.uint64)
        for index, field in enumerate(kind):
            total += _mixed(_cells(column.field(index), name) ^ _seed(field.name))
        return _with_nulls(_mixed(total), column)
    return _with_nulls(_texts(column, name), column)


def _bits(column: pa.Array, kind: type[np.uint64]) -> Hashes:
    # Sign extension: -1 is the same in every width, and as large as an unsigned number may be.
    return np.asarray(column).astype(kind, copy=True)


def _with_nulls(hashes: Hashes, column: pa.Array) -> Hashes:
    return np.where(np.asarray(column.is_null()), _NULL, hashes) if column.null_count else hashes


def _lists(column: pa.Array, name: str) -> Hashes:
    inner = _cells(column.flatten(), name)
    lengths = np.asarray(column.value_lengths().fill_null(0)).astype(np.int64)
    starts = np.cumsum(lengths) - lengths
    owner = np.repeat(np.arange(len(lengths)), lengths)
    place = np.arange(len(inner), dtype=np.int64) - starts[owner]
    total = lengths.astype(np.uint64) ^ _seed("list")
    np.add.at(total, owner, _mixed(inner ^ _mixed(place.astype(np.uint64))))
    return total


def _texts(column: pa.Array, name: str) -> Hashes:
    binary = pa.types.is_binary(column.type) or pa.types.is_large_binary(column.type)
    try:
        wide = column.cast(pa.large_binary() if binary else pa.large_string()).fill_null(b"" if binary else "")
    except (pa.ArrowInvalid, pa.ArrowNotImplementedError) as error:
        raise InputError(
            "a column of this type has no fingerprint",
            field=name,
            value=str(column.type),
            bound="numbers, text, flags, days and times, lists and structures of them",
            instead="Leave the column out, or turn it into text first.",
        ) from error
    offsets = np.frombuffer(wide.buffers()[1], np.int64, len(wide) + 1, wide.offset * _WORD)
    first, last = (int(offsets[0]), int(offsets[-1])) if len(wide) else (0, 0)
    stored = np.frombuffer(wide.buffers()[2] or b"", np.uint8)[first:last]
    # A word more, so that the last word of the last text can be read whole.
    data = np.concatenate([stored, np.zeros(_WORD, np.uint8)])
    words = np.ndarray((len(data) - _WORD + 1,), np.dtype("<u8"), data, strides=(1,))
    lengths = offsets[1:] - offsets[:-1]
    hashes = lengths.astype(np.uint64) ^ _seed("binary" if binary else "text")
    rows, at = np.arange(len(wide)), 0
    while True:
        rows = rows[lengths[rows] > at]
        if not len(rows):
            return hashes
        left = np.minimum(lengths[rows] - at, _WORD).astype(np.uint64)
        kept = np.uint64(_MODULUS - 1) >> (np.uint64(64) - left * np.uint64(8))
        hashes[rows] = _mixed(hashes[rows] ^ (words[offsets[:-1][rows] - first + at] & kept))
        at += _WORD
