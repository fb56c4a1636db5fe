"""Which columns of an input are read as what, which pass through unread, and which of those may be a slip."""

from __future__ import annotations

from collections.abc import Iterable

import attrs
import pyarrow as pa

from turnback.batch.columns import INPUT_COLUMNS, Bound, ColumnKind
from turnback.batch.near_names import meant_by
from turnback.quantities import units

__all__ = ["ColumnRead", "ColumnUse", "column_use"]

_TEXTS: dict[ColumnKind, str] = {"length": "text with units", "force": "text with units", "angle": "text with units"}
_PLAIN: dict[ColumnKind, str] = {"number": "numbers", "whole": "whole numbers", "flag": "true or false"}
_UNITS_OF: dict[ColumnKind, Iterable[str]] = {
    "length": units.LENGTH_NANOMETRES,
    "force": units.FORCE_NEWTONS,
    "angle": units.ANGLE_RADIANS,
}


@attrs.frozen
class ColumnRead:
    """One column that is read.

    Args:
        name: Its name in the input.
        read_as: What its cells are read as, such as ``numbers in mm``.
    """

    name: str
    read_as: str


@attrs.frozen
class ColumnUse:
    """What a run makes of the columns of its input.

    Args:
        read: The columns that are read, in the order of :data:`~turnback.batch.INPUT_COLUMNS`.
        unread: Names of the columns that pass through, in the order of the input.
        warnings: What may be a slip: a column that is not read and whose name is near a known one.
    """

    read: tuple[ColumnRead, ...]
    unread: tuple[str, ...]
    warnings: tuple[str, ...]


def column_use(schema: pa.Schema, bound: Iterable[Bound]) -> ColumnUse:
    """Tell what is made of the columns of an input.

    Args:
        schema: The schema of the input.
        bound: Its known columns.

    Returns:
        The columns, and a warning for each that may be a slip.
    """
    known = list(bound)
    read = {each.name for each in known}
    meant = {each.column.name for each in known}
    unread = tuple(name for name in schema.names if name not in read)
    slips = (_slip(name, meant) for name in unread)
    return ColumnUse(
        tuple(ColumnRead(each.name, _read_as(each)) for each in known), unread, tuple(each for each in slips if each)
    )


def _read_as(bound: Bound) -> str:
    kind = bound.column.kind
    if bound.form == "nothing":
        return "nothing: every cell is empty"
    if kind == "word":
        return "words"
    if bound.form == "text":
        return _TEXTS.get(kind, "text")
    if kind in _UNITS_OF:
        whole = "whole numbers" if bound.whole or bound.counted else "numbers"
        return f"{whole} in {bound.unit}"
    return _PLAIN[kind]


def _slip(name: str, meant: set[str]) -> str:
    known = {spelling: each for each in INPUT_COLUMNS for spelling in (each.name, each.exact_name)}
    near, unit = meant_by(name, known)
    if not near or known[near].name in meant:
        return ""
    column = known[near]
    if unit and unit in _UNITS_OF.get(column.kind, ()):
        return f"column {name!r} is not read; did you mean {column.name}, with --unit {column.name}={unit}?"
    return f"column {name!r} is not read; did you mean {near}?"
