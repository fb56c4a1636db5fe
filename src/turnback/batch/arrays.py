"""Views of Arrow arrays as numpy arrays, without a copy where the layout allows."""

from __future__ import annotations

from typing import TypeAlias, TypeVar

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from turnback.batch.roster import Wholes

__all__ = ["Flags", "Numbers", "bits_of", "flags_in", "given_in", "numbers_in", "of_numbers", "room"]

Flags: TypeAlias = npt.NDArray[np.bool_]
Numbers: TypeAlias = npt.NDArray[np.float64]
Item = TypeVar("Item", bound=np.generic)


def given_in(array: pa.Array, start: int, stop: int) -> Flags | None:
    """Tell which cells of a stretch hold a value.

    Args:
        array: The array.
        start: First cell [-].
        stop: Cell behind the last [-].

    Returns:
        True where a value is; None where one is everywhere.
    """
    if array.null_count == 0:
        return None
    if array.buffers()[0] is None:  # a type of nothing but nulls
        return np.zeros(stop - start, dtype=np.bool_)
    return _unpacked(array.buffers()[0], array.offset + start, stop - start)


def flags_in(array: pa.Array, start: int, stop: int) -> Flags:
    """View a stretch of true and false.

    Args:
        array: The array.
        start: First cell [-].
        stop: Cell behind the last [-].

    Returns:
        The flags; whatever stands there where the cell is null.
    """
    return _unpacked(array.buffers()[1], array.offset + start, stop - start)


def _unpacked(buffer: pa.Buffer, start: int, count: int) -> Flags:
    packed = np.frombuffer(buffer, dtype=np.uint8)
    first = start >> 3
    bits = np.unpackbits(packed[first : (start + count + 7) >> 3], bitorder="little")
    return bits[start & 7 : (start & 7) + count].view(np.bool_)


def numbers_in(array: pa.Array) -> Wholes:
    """View an array of fixed-width numbers.

    Args:
        array: The array.

    Returns:
        Its numbers, in their own type, whatever the annotation says; whatever stands there where the cell is null.
    """
    kind = np.dtype(array.type.to_pandas_dtype())
    if len(array) == 0:
        return np.empty(0, dtype=kind)
    return np.frombuffer(array.buffers()[1], dtype=kind)[array.offset : array.offset + len(array)]


def room(count: int, kind: type[Item]) -> npt.NDArray[Item]:
    """Make room for numbers in Arrow's own memory, which is kept for the next batch where the system's is handed back.

    Args:
        count: How many [-].
        kind: Of which type.

    Returns:
        An array that can be written to; whatever stands in it.
    """
    return np.frombuffer(pa.allocate_buffer(count * np.dtype(kind).itemsize), dtype=kind)


def bits_of(flags: Flags) -> pa.Buffer:
    """Pack flags as Arrow does.

    Args:
        flags: The flags.

    Returns:
        One bit each.
    """
    return pa.py_buffer(np.packbits(flags.view(np.uint8), bitorder="little"))


def of_numbers(kind: pa.DataType, numbers: npt.NDArray[np.generic] | Wholes, given: Flags | None) -> pa.Array:
    """Build an Arrow array on numbers, without a copy.

    Args:
        kind: Its type.
        numbers: The numbers, of that type's width.
        given: True where a value is; None where one is everywhere.

    Returns:
        The array.
    """
    if given is not None and given.all():
        given = None
    validity = None if given is None else bits_of(given)
    return pa.Array.from_buffers(kind, len(numbers), [validity, pa.py_buffer(numbers)])
