"""The rows of a rule file: one for each clip size, every cell with its citation."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Status
from turnback.quantities import Length, Torque, number_text, parse_number
from turnback.quantities.grammar import LONGEST_TEXT, read_number
from turnback.quantities.units import LENGTH_NANOMETRES, TORQUE_NEWTON_METRES
from turnback.rules._reading import Table, restated
from turnback.rules._reading_places import WORDS_OF_STATUS, other_document, with_status
from turnback.rules.ruleset import Row

__all__ = ["MOST_CLIPS", "Units", "length_in", "read_rows", "read_units"]

MOST_CLIPS: Final = 99
"""Greatest number of clips that is read; more is a slip of the pen."""

Units = Mapping[str, str]
"""The unit of each column."""

_LENGTH_UNITS: Final = ("in", "mm")
_TORQUE_UNITS: Final = ("lbf·ft", "lbf·in", "N·m")
_COLUMNS: Final = {
    "count": "count",
    "count_forged": "count for forged clips",
    "count_other": "count for other clips",
    "turn_back": "turn-back",
    "spacing": "spacing",
    "torque": "torque",
}
_HALF: Final = Fraction(1, 2)


def read_units(file: Table) -> Units:
    """Read the units of the columns.

    Args:
        file: The file.

    Returns:
        Column and unit; empty where the file has no table of units.

    Raises:
        InputError: A unit is not in the closed list, or units stand without rows.
    """
    if not file.has("units"):
        return {}
    table = file.table("units")
    if not file.has("rows"):
        raise InputError("units of columns stand without rows", field="units", instead="Write rows, or leave it out.")
    found = {name: table.word(name, _LENGTH_UNITS) for name in ("size", "turn_back", "spacing") if table.has(name)}
    if table.has("torque"):
        return {**found, "torque": table.word("torque", _TORQUE_UNITS)}
    return found


def length_in(table: Table, key: str, units: Units, column: str) -> Length:
    """Read a cell that is a length in the unit of a column.

    Args:
        table: The row.
        key: Name of the cell.
        units: The units.
        column: The column whose unit it has.

    Returns:
        The length, exact.

    Raises:
        InputError: The cell is no number above zero, or the column has no unit.
    """
    text, path = table.number(key), table.at(key)
    if len(text) > LONGEST_TEXT or read_number(text) is None:
        parse_number(text, path)  # refuses a unit in the cell with a message that shows the cell as it is written
    return Length.of(f"{text} {_unit(units, column, path)}", path)


def _unit(units: Units, column: str, path: str) -> str:
    if column in units:
        return units[column]
    accepted = _TORQUE_UNITS if column == "torque" else _LENGTH_UNITS
    raise InputError(
        "this column has no unit",
        field=f"units.{column}",
        value=f"needed by {path}",
        bound="one of " + ", ".join(f'"{unit}"' for unit in accepted),
        instead=f'Write it under [units], such as {column} = "{accepted[0]}".',
    )


def read_rows(file: Table, units: Units, base: Citation) -> tuple[Row, ...]:
    """Read the rows, by increasing size.

    Args:
        file: The file.
        units: The units of its columns.
        base: The file's own citation.

    Returns:
        The rows; empty where the file has none.

    Raises:
        InputError: A cell is wrong, or a row does not follow the one before it.
    """
    rows: list[Row] = []
    for table in file.tables("rows"):
        size = length_in(table, "size", units, "size")
        try:
            row = _Cells(table, units, base, size).row()
            if rows:
                _follows(rows[-1], row, table)
        except InputError as error:
            raise restated(error, f"in the row of size {table.number('size')}") from None
        rows.append(row)
    return tuple(rows)


def _follows(before: Row, row: Row, table: Table) -> None:
    if row.size == before.size:
        raise table.wrong("size", "two rows have the same size", instead="Write one row for each size.")
    if row.size < before.size:
        raise table.wrong(
            "size", "rows are written by increasing size", f"more than {before.size}", "Put the rows in order."
        )
    if row.above is not None and row.above < before.size:
        raise table.wrong("above", "the row overlaps the one before it", f"at least {before.size}")


class _Cells:
    """The cells of one row."""

    __slots__ = ("_base", "_misprint", "_place", "_size", "_statuses", "_table", "_units")

    def __init__(self, table: Table, units: Units, base: Citation, size: Length) -> None:
        self._table = table
        self._units = units
        self._base = base
        self._size = size
        row = f"row {table.number('size')}"
        self._place = f"{base.locator}, {row}" if base.locator else row
        self._misprint = table.text_or("misprint", "")
        self._statuses = self._read_statuses()

    def row(self) -> Row:
        table = self._table
        above = length_in(table, "above", self._units, "size") if table.has("above") else None
        if above is not None and above >= self._size:
            raise table.wrong("above", "a size takes ropes above a smaller one", f"less than {self._size}")
        row = Row(
            size=self._size,
            above=above,
            count=self._count("count"),
            count_forged=self._count("count_forged"),
            count_other=self._count("count_other"),
            turn_back=self._length("turn_back"),
            spacing=self._length("spacing"),
            torque=self._torque(),
            confirm=self._confirm(),
            misprint=self._misprint,
        )
        self._check(row)
        return row

    def _check(self, row: Row) -> None:
        table = self._table
        for key, other in (("count_forged", "count_other"), ("count_other", "count_forged")):
            if table.has(key) and not table.has(other):
                raise table.wrong(
                    key, f"it stands without {other}", instead="Write both, or count where the source has one number."
                )
            if table.has(key) and row.count is not None:
                raise table.wrong(key, "it stands beside count", instead="Write count alone, or the two without it.")
        counted = row.count is not None or row.count_forged is not None
        if row.turn_back is not None and not counted:
            raise table.wrong("turn_back", "a turn-back stands without a count beside it", instead="Write count = ...")
        if not any(table.has(column) for column in _COLUMNS):
            raise table.wrong("size", "the row says nothing of this size", instead="Write a cell, or leave it out.")

    def _read_statuses(self) -> Mapping[str, Status]:
        """Status by column, for the cells whose status is not the file's."""
        table = self._table
        if not table.has("status"):
            return {}
        if table.is_text("status"):
            return dict.fromkeys(_COLUMNS, table.word("status", WORDS_OF_STATUS))
        each = table.table("status", "rows.status")
        for column in _COLUMNS:
            if each.has(column) and not table.has(column):
                raise each.wrong(column, "the row has no such cell", instead="Leave it out, or write the cell.")
        return {column: each.word(column, WORDS_OF_STATUS) for column in _COLUMNS if each.has(column)}

    def _citation(self, column: str) -> Citation:
        place = f"{self._place}, {_COLUMNS[column]}"
        citation = with_status(self._base, self._statuses.get(column, self._base.status), place)
        return attrs.evolve(citation, note=self._misprint) if self._misprint else citation

    def _count(self, key: str) -> Cited[int] | None:
        if not self._table.has(key):
            return None
        return Cited(self._table.whole(key, 1, MOST_CLIPS), (self._citation(key),))

    def _length(self, key: str) -> Cited[Length] | None:
        also = f"{key}_also"
        if not self._table.has(key):
            self._refuse_alone(also, key)
            return None
        value, how = length_in(self._table, key, self._units, key), ""
        if self._table.has(also):
            number, unit = self._second(also, _LENGTH_UNITS, self._units[key])
            self._agree(also, Fraction(value.nanometres, LENGTH_NANOMETRES[unit]), number, unit)
            how = f"also printed as {self._table.text(also)}"
        return Cited(value, (self._citation(key),), how)

    def _torque(self) -> Cited[Torque] | None:
        table = self._table
        if not table.has("torque"):
            self._refuse_alone("torque_also", "torque")
            return None
        path = table.at("torque")
        value, unit = parse_number(table.number("torque"), path), _unit(self._units, "torque", path)
        if not value:
            raise table.wrong("torque", "a torque is greater than zero")
        second: tuple[Fraction, str] | None = None
        if table.has("torque_also"):
            number, also = self._second("torque_also", _TORQUE_UNITS, unit)
            converted = value * TORQUE_NEWTON_METRES[unit] / TORQUE_NEWTON_METRES[also]
            second = self._agree("torque_also", converted, number, also), also
        return Cited(Torque(value, unit, second), (self._citation("torque"),))

    def _confirm(self) -> Cited[str] | None:
        table = self._table
        if not table.has("confirm"):
            for key in ("confirm_status", "confirm_source"):
                self._refuse_alone(key, "confirm")
            return None
        text, status = table.text("confirm"), table.word("confirm_status", WORDS_OF_STATUS)
        if table.has("confirm_source"):
            return Cited(text, (other_document(table.text("confirm_source"), status),))
        return Cited(text, (with_status(self._base, status, self._place),))

    def _refuse_alone(self, key: str, other: str) -> None:
        if self._table.has(key):
            raise self._table.wrong(key, f"it stands without {other}", instead=f"Write {other} too, or leave it out.")

    def _second(self, key: str, accepted: tuple[str, ...], first: str) -> tuple[str, str]:
        """Take a second printed value apart into the text of its number and its unit."""
        number, _, unit = self._table.text(key).rpartition(" ")
        if unit not in accepted or unit == first:
            others = [each for each in accepted if each != first]
            raise self._table.wrong(
                key, f"a second printed value has a unit other than {first}", "a number and " + " or ".join(others)
            )
        return number, unit

    def _agree(self, key: str, value: Fraction, printed: str, unit: str) -> Fraction:
        """Compare a value, converted, with its second print: they differ by half of the last printed place at most."""
        number = parse_number(printed, self._table.at(key))
        place = Fraction(1, 10 ** len(printed.partition(".")[2]))
        if unit == "in":
            # A reduced tape fraction hides how finely it was rounded; eighths of an inch are taken as the coarsest.
            place = min(place, Fraction(1, max(8, int(printed.rpartition("/")[2] if "/" in printed else 1))))
        if abs(value - number) > place * _HALF:
            raise self._table.wrong(
                key,
                f"the second printed value is not the first one, which is {float(value):.6g} {unit}",
                f"within half of the last printed place, {number_text(place * _HALF)} {unit}",
                "Look for a slip of the pen; if the source prints it so, leave it out and record it under misprint.",
            )
        return number
