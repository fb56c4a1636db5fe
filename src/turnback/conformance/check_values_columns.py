"""Reading the columns of a file of check values."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Final

from turnback.conformance._check_values_table import CheckTable
from turnback.conformance.check_values_keys import COLUMNS
from turnback.conformance.check_values_parts import Column
from turnback.conformance.facts import Value
from turnback.errors import InputError
from turnback.quantities import Length, parse_number

__all__ = ["MOST_CLIPS", "clips_in", "read_columns"]

MOST_CLIPS: Final = 99
"""Greatest number of clips that is read; more is a slip of the pen."""

_LENGTH_UNITS: Final = ("in", "mm")
_TORQUE_UNITS: Final = ("lbf·ft", "lbf·in", "N·m")
_COUNTS: Final = ("count", "count_forged", "count_other")


def read_columns(file: CheckTable) -> tuple[tuple[Length, ...] | None, tuple[Column, ...]]:
    """Read the columns.

    Args:
        file: The file.

    Returns:
        The sizes [length], None where no columns are stated; and the columns that are stated.

    Raises:
        InputError: A cell or a unit is wrong, or a column is not as long as the sizes.
    """
    units = _units(file)
    if not file.has("columns"):
        if units:
            raise InputError("units of columns stand without columns", field="units", instead="Write [columns].")
        return None, ()
    table = file.table("columns")
    sizes = tuple(_length(table, units, "size", i, cell) for i, cell in enumerate(table.cells("size")))
    known = tuple(size for size in sizes if size is not None)
    if len(known) < len(sizes):
        raise InputError("a row without a size is no row", field=f"columns.size[{sizes.index(None)}]", value='""')
    for number, (before, size) in enumerate(pairwise(known), 1):
        if size <= before:
            raise InputError(
                "sizes are written by increasing size, each once",
                field=f"columns.size[{number}]",
                value=str(size),
                bound=f"more than {before}",
            )
    return known, tuple(_column(table, units, name, known) for name in COLUMNS if table.has(name))


def _units(file: CheckTable) -> dict[str, str]:
    if not file.has("units"):
        return {}
    table = file.table("units")
    found = {name: table.word(name, _LENGTH_UNITS) for name in ("size", "turn_back", "spacing") if table.has(name)}
    for name in ("torque", "torque_also"):
        if table.has(name):
            found[name] = table.word(name, _TORQUE_UNITS)
    return found


def _column(table: CheckTable, units: Mapping[str, str], name: str, sizes: tuple[Length, ...]) -> Column:
    if table.says_nothing(name):
        return Column(name, (None,) * len(sizes))
    cells = table.cells(name)
    if len(cells) != len(sizes):
        raise table.wrong(
            name,
            f"the column has {len(cells)} entries for {len(sizes)} sizes",
            f"{len(sizes)} entries",
            'Write "" where nothing is printed.',
        )
    return Column(name, tuple(_cell(table, units, name, i, cell) for i, cell in enumerate(cells)))


def _cell(table: CheckTable, units: Mapping[str, str], name: str, number: int, cell: str) -> Value:
    path = f"{table.at(name)}[{number}]"
    if not cell:
        return None
    if name in _COUNTS:
        return clips_in(cell, path)
    if name.startswith("torque"):
        number_of, unit = parse_number(cell, path), _unit(units, name, path, _TORQUE_UNITS)
        if not number_of:
            raise InputError("a torque is greater than zero", field=path, value=cell)
        return number_of, unit
    return _length(table, units, name, number, cell)


def clips_in(cell: str, path: str) -> int:
    """Read a number of clips.

    Args:
        cell: The text of the cell.
        path: Where it stands.

    Returns:
        The number of clips [-].

    Raises:
        InputError: It is no whole number from 1 to 99.
    """
    count = parse_number(cell, path)
    if count.denominator != 1 or not 1 <= count <= MOST_CLIPS:
        raise InputError("this is no number of clips", field=path, value=cell, bound=f"1 to {MOST_CLIPS}")
    return int(count)


def _length(table: CheckTable, units: Mapping[str, str], name: str, number: int, cell: str) -> Length | None:
    path = f"{table.at(name)}[{number}]"
    if not cell:
        return None
    parse_number(cell, path)  # refuses a unit in the cell with a message that shows it
    unit = _unit(units, "size" if name == "above" else name, path, _LENGTH_UNITS)
    return Length.of(f"{cell} {unit}", path)


def _unit(units: Mapping[str, str], column: str, path: str, accepted: tuple[str, ...]) -> str:
    if column in units:
        return units[column]
    raise InputError(
        "this column has no unit",
        field=f"units.{column}",
        value=f"needed by {path}",
        bound="one of " + ", ".join(f'"{unit}"' for unit in accepted),
        instead=f'Write it under [units], such as {column} = "{accepted[0]}".',
    )
