"""Columns read once per distinct value: text, and numbers that are kept as decimals."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from turnback.batch.arrays import given_in, numbers_in
from turnback.batch.roster import Wholes

__all__ = ["Distinct", "plain", "read_once"]

_KEPT: Final = 1 << 16


def plain(array: pa.Array) -> pa.Array:
    """Undo dictionaries whose values are no text, so that numbers are numbers.

    Args:
        array: Any array.

    Returns:
        The array itself, or its values one by one.
    """
    while pa.types.is_dictionary(array.type) and not _is_text(array.type.value_type):
        array = array.dictionary_decode()
    return array


def read_once(kind: pa.DataType) -> bool:
    """Tell whether a column of this type is read once per distinct value.

    Args:
        kind: The type, after :func:`plain`.

    Returns:
        True for text, decimals and half floats.
    """
    return bool(
        pa.types.is_dictionary(kind) or _is_text(kind) or pa.types.is_decimal(kind) or pa.types.is_float16(kind)
    )


def _is_text(kind: pa.DataType) -> bool:
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind) or pa.types.is_string_view(kind))


def _encodable(kind: pa.DataType) -> pa.DataType:
    """The type itself, or a wider one that Arrow makes dictionaries of."""
    if pa.types.is_float16(kind):
        return pa.float32()
    if pa.types.is_decimal(kind) and kind.bit_width < 128:
        return pa.decimal128(kind.precision, kind.scale)
    return kind


class Distinct:
    """Turns the distinct values of a column into numbers, each distinct value once.

    Args:
        number_of: From a value (text, a Decimal, a float or None) to its number.
    """

    def __init__(self, number_of: Callable[[object], int]) -> None:
        self._number_of = number_of
        self._known: dict[object, int] = {}
        self._nothing = number_of(None)
        self._dictionary: pa.Array | None = None
        self._table: Wholes = np.empty(0, dtype=np.int64)
        self._places: Wholes = np.empty(0, dtype=np.int64)

    def open(self, array: pa.Array) -> None:
        """Take the array of one batch.

        Args:
            array: The array, after :func:`plain`.
        """
        array = array.cast(_encodable(array.type))
        if not pa.types.is_dictionary(array.type):
            array = pc.dictionary_encode(array)
        self._indices = array.indices
        places = numbers_in(self._indices)
        dictionary = array.dictionary
        if len(dictionary) > 4 * len(array) + 64:
            # A short slice of a long dictionary: only what it uses is read.
            given = given_in(self._indices, 0, len(array))
            used = np.unique(places if given is None else places[given]).astype(np.int64)
            dictionary = dictionary.take(pa.array(used))
            self._dictionary = None
            places = np.searchsorted(used, places.astype(np.int64)).astype(np.int64)
        self._places = places
        if self._dictionary is None or not _same(self._dictionary, dictionary):
            self._table = np.array([*map(self._read, dictionary.to_pylist()), self._nothing], dtype=np.int64)
            self._dictionary = dictionary

    def _read(self, value: object) -> int:
        number = self._known.get(value)
        if number is None:
            if len(self._known) >= _KEPT:
                self._known.clear()
            number = self._known[value] = self._number_of(value)
        return number

    def numbers(self, start: int, stop: int) -> Wholes:
        """Return the numbers of a stretch of the batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].

        Returns:
            Their numbers; that of None where the cell is null.
        """
        places = self._places[start:stop]
        given = given_in(self._indices, start, stop)
        if given is not None:
            places = np.where(given, places, len(self._table) - 1)
        return self._table.take(places.astype(np.intp, copy=False))


def _same(one: pa.Array, other: pa.Array) -> bool:
    """Whether two dictionaries are one and the same memory; the first is held, so that its memory stays its own."""
    if one is other:
        return True
    mine, theirs = one.buffers(), other.buffers()
    return (
        one.type == other.type
        and (one.offset, len(one)) == (other.offset, len(other))
        and [each and each.address for each in mine] == [each and each.address for each in theirs]
    )
