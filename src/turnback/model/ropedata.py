"""Breaking force, mass and tolerance of a rope: the certificate first, then the published tables.

The tables are the files ``data/rope_*.toml``, read on first use. Nothing is interpolated between sizes, a table grade
is never taken for a grade in N/mm², and a rope that no table speaks of gets the reason and what to give instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Final, Literal

import attrs

from turnback.mechanics import breaking_force_by_grade, mass_by_factor
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.classes import classes_of
from turnback.model.rope import Rope
from turnback.model.sources import Citation, Source, user_citation
from turnback.quantities import Force, Length, MassPerLength, parse_number

__all__ = ["ROPE_TABLES", "RopeCell", "breaking_force", "diameter_tolerance", "mass_per_length", "rope_cells"]

ROPE_TABLES: Final = ("class_factors", "inch_classes", "small_cable", "small_cable_tolerance")
"""Names of the rope tables that ship."""

_INCH_CLASSES: Final = ("6x19 class", "6x37 class")
_CORE_INDEX: Final[Mapping[str, str]] = {"FC": "1", "IWRC": "2", "WSC": "3"}
_SMALL_CABLE: Final = ("3x7", "7x7", "7x19", "6x19 IWRC")


@attrs.frozen
class RopeCell:
    """One printed value of a rope table.

    Args:
        table: One of :data:`ROPE_TABLES`.
        row: The row as printed: a class, or a size in inches with the construction behind it where the row has one.
        column: The column: factor, core and grade, core and mass, or composition.
        text: The number as printed [`unit`].
        unit: The unit of the column.
        citation: Where it stands, with its status.
    """

    table: str
    row: str
    column: str
    text: str
    unit: str
    citation: Citation

    @property
    def value(self) -> Fraction:
        """The exact printed number [`unit`]."""
        return parse_number(self.text)


class _NoValueError(Exception):
    """No source gives the value; the text is the reason."""


@cache
def _table(name: str) -> Mapping[tuple[str, str], RopeCell]:
    import tomllib
    from importlib.resources import files

    text = files("turnback.model").joinpath(f"data/rope_{name}.toml").read_text(encoding="utf-8")
    # Numbers stay text, so that a cell keeps what was printed, trailing zeros and all.
    data = tomllib.loads(text, parse_float=str)
    if "source_of" in data:
        source = next(iter(_table(data["source_of"]).values())).citation.source
    else:
        source = Source(**data["source"])
    cells: dict[tuple[str, str], RopeCell] = {}
    for row, values in data["rows"].items():
        for (column, head), value in zip(data["columns"].items(), values, strict=True):
            if value != "":
                place = f"{data['locator']}, row {row}, column {column}"
                citation = Citation(source, place, head["status"], head.get("note", ""))
                cells[row, column] = RopeCell(name, row, column, str(value), head["unit"], citation)
    return MappingProxyType(cells)


def rope_cells() -> tuple[RopeCell, ...]:
    """List every printed value of every rope table, for a page of the docs and for tests.

    Returns:
        The cells in the order of :data:`ROPE_TABLES` and of print, each with its unit, citation and status. A cell that
        a source leaves empty is not in the list.
    """
    return tuple(cell for name in ROPE_TABLES for cell in _table(name).values())


@cache
def _sizes(name: str) -> Mapping[str, Mapping[Length, str]]:
    """Rows of a table by what is printed behind the size, then by size."""
    sizes: dict[str, dict[Length, str]] = {}
    for row, _ in _table(name):
        size, _, behind = row.partition(" ")
        sizes.setdefault(behind, {})[Length.of(f"{size} in")] = row
    return MappingProxyType(sizes)


def _row_of_size(name: str, behind: str, diameter: Length) -> str:
    rows = _sizes(name)[behind]
    if diameter in rows:
        return rows[diameter]
    thinner = max((size for size in rows if size < diameter), default=None)
    thicker = min((size for size in rows if size > diameter), default=None)
    near = [
        f"{size.text('in')} (the rope is {abs(float(diameter / size - 1)) * 100:.1f} % {word})"
        for size, word in ((thinner, "thicker"), (thicker, "thinner"))
        if size is not None
    ]
    raise _NoValueError(
        f"The table does not print {diameter} and nothing is interpolated; its nearest "
        f"{'size' if len(near) == 1 else 'sizes'}{' of ' + behind if behind else ''}: {' and '.join(near)}."
    )


def _class_citation(found: Cited[str]) -> tuple[Citation, ...]:
    """Citation of a mapping to a class; the construction's own name needs none."""
    return tuple(citation for citation in found.citations if citation.status != "user")


def _needs(rope: Rope, field: Literal["construction", "core"]) -> None:
    if not getattr(rope, field):
        raise _NoValueError(f"The {field} of the rope is not given.")


def _inch_cell(rope: Rope, what: str) -> tuple[RopeCell, tuple[Citation, ...]]:
    """Cell of the inch table for this rope, and the citation of the class."""
    _needs(rope, "construction")
    found = next((cited for cited in classes_of(rope.construction) if cited.value in _INCH_CLASSES), None)
    if found is None:
        raise _NoValueError(f"The inch table is for the 6x19 and 6x37 classes, not for {rope.construction}.")
    if rope.finish in ("galvanized", "stainless"):
        raise _NoValueError(f"The inch table does not say that it holds for {rope.finish} rope.")
    _needs(rope, "core")
    if rope.core not in ("FC", "IWRC"):
        raise _NoValueError(f"The inch table prints FC and IWRC, not {rope.core}.")
    row = _row_of_size("inch_classes", "", rope.diameter)
    return _table("inch_classes")[row, f"{rope.core}_{what}"], _class_citation(found)


def _factor_cell(rope: Rope, factor: Literal["K", "W"]) -> tuple[RopeCell, tuple[Citation, ...]]:
    """Cell of the class factors for this rope, and the citation of the class."""
    _needs(rope, "construction")
    cells = _table("class_factors")
    rows = tuple(dict.fromkeys(row for row, _ in cells))
    # The source's column is headed "class", so that a class by name is its row.
    counted = ((cited.value.removesuffix(" class"), cited) for cited in classes_of(rope.construction))
    row, found = next((each for each in counted if each[0] in rows), ("", None))
    if found is None:
        hint = " A bare 6x37 may be 6x37M or a pattern of class 6x36; name it." if rope.construction == "6x37" else ""
        raise _NoValueError(f"No factor is printed for {rope.construction}; the classes are {', '.join(rows)}.{hint}")
    if rope.finish == "stainless":
        raise _NoValueError(
            "The class factors are those of EN 12385-4; nothing says that they hold for stainless rope."
        )
    _needs(rope, "core")
    cell = cells.get((row, factor + _CORE_INDEX[rope.core]))
    if cell is None:
        raise _NoValueError(f"No factor {factor} is printed for class {row} with {rope.core}.")
    return cell, _class_citation(found)


def _small_cable_row(rope: Rope) -> tuple[str, tuple[Citation, ...]]:
    """Row of the small cable table for this rope, and the citation of the class."""
    _needs(rope, "construction")
    if rope.grade:
        raise _NoValueError(
            f"The small cable table is for cable without a grade, named by its finish; given {rope.grade}."
        )
    for found in classes_of(rope.construction):
        name = f"{found.value} {rope.core}".rstrip()
        # The middle strand of 7x7 and 7x19 is their core; some people write it.
        name = found.value if rope.core == "WSC" and found.value in ("7x7", "7x19") else name
        if name in _SMALL_CABLE:
            return _row_of_size("small_cable", name, rope.diameter), _class_citation(found)
    raise _NoValueError(
        f"The grade of the rope is not given, and without one only small cable ({', '.join(_SMALL_CABLE)}) has a table."
    )


def _strength_of_small_cable(rope: Rope) -> Cited[Force]:
    row, citations = _small_cable_row(rope)
    cells = _table("small_cable")
    columns = {"stainless": ("B",), "bright": ("A",), "galvanized": ("A",)}.get(rope.finish, ("A", "B"))
    used = [cells[row, column] for column in columns if (row, column) in cells]
    if len(used) < len(columns):
        raise _NoValueError(
            f"Row {row} prints no value for corrosion resistant cable"
            + ("." if rope.finish else ", and the finish is not given; give it as bright or galvanized if it is.")
        )
    least = min(used, key=lambda cell: cell.value)
    how = f"{least.text} lbf, looked up: {row}, composition {least.column}"
    if len(used) > 1:
        how += ", the smaller of both compositions, for the finish is not given"
    # Every column that was weighed is cited, the one that was taken first.
    own = (least.citation, *(cell.citation for cell in used if cell is not least))
    return Cited(Force.of(f"{least.text} lbf"), own + citations, how)


def _strength_by_table(rope: Rope) -> Cited[Force]:
    cell, citations = _inch_cell(rope, rope.grade)
    how = f"{cell.text} {cell.unit}, looked up: {cell.row} in, {rope.core}, {rope.grade}"
    return Cited(Force.of(f"{cell.text} {cell.unit}"), (cell.citation, *citations), how)


def _strength_by_formula(rope: Rope) -> Cited[Force]:
    cell, citations = _factor_cell(rope, "K")
    kilonewtons = breaking_force_by_grade(cell.value, rope.diameter.millimetres, Fraction(rope.grade))
    how = (
        f"K d² R / 1000 = {cell.text} x ({rope.diameter.text('mm')})² x {rope.grade} N/mm² / 1000 "
        f"= {float(kilonewtons):.5g} kN, class {cell.row} with {rope.core}"
    )
    return Cited(Force(float(kilonewtons * 1000)), (cell.citation, *citations), how)


def _strength(rope: Rope) -> Cited[Force]:
    if rope.grade == "EEIP":
        raise _NoValueError("The values of grade EEIP have not been read in any document, so they are left out.")
    if rope.grade.isdigit():
        found = _strength_by_formula(rope)
    else:
        found = _strength_by_table(rope) if rope.grade else _strength_of_small_cable(rope)
    actual = rope.actual_breaking_force
    if actual is not None and actual < found.value:
        raise _NoValueError(
            f"The actual breaking force on the certificate ({actual}) is below the minimum of this rope "
            f"({found.value}, {found.how}), so the rope is not what it is called."
        )
    return found


def breaking_force(rope: Rope) -> Cited[Force] | Absent:
    """Minimum breaking force of a rope.

    The certificate's minimum first. Else, by grade: IPS and EIP, the table of inch ropes of the 6x19 and 6x37 classes;
    a grade in N/mm², K d² R / 1000; no grade, the table of small cable. An actual breaking force never raises the
    result; one that is below it makes it absent.

    Args:
        rope: The rope; its condition does not matter here, only its designation.

    Returns:
        The force [force] with its citations and how it came about; absent with the reason and what to give instead. A
        value or a class mapping from memory carries that status.

    Source: RR-W-410 and ASTM A1023 family; FAA AC 43.13-1B, Table 7-3; EN 12385-4 as printed in "Wire Ropes: Tension,
    Endurance, Reliability", Table 1.9.
    """
    if rope.minimum_breaking_force is not None:
        read_in = (user_citation(rope.certificate),)
        return Cited(rope.minimum_breaking_force, read_in, "minimum breaking force on the certificate")
    try:
        return _strength(rope)
    except _NoValueError as reason:
        return Absent("minimum_breaking_force", f"{reason} Give the minimum breaking force of the rope's certificate.")


def _mass_by_table(rope: Rope) -> Cited[MassPerLength]:
    cell, citations = _inch_cell(rope, "mass")
    how = f"{cell.text} {cell.unit}, looked up: {cell.row} in, {rope.core}"
    return Cited(MassPerLength.of(f"{cell.text} {cell.unit}"), (cell.citation, *citations), how)


def _mass_by_formula(rope: Rope) -> Cited[MassPerLength]:
    cell, citations = _factor_cell(rope, "W")
    mass = mass_by_factor(cell.value, rope.diameter.millimetres)
    how = (
        f"W d² / 100 = {cell.text} x ({rope.diameter.text('mm')})² / 100 = {float(mass):.5g} kg/m, "
        f"class {cell.row} with {rope.core}"
    )
    return Cited(MassPerLength(float(mass)), (cell.citation, *citations), how)


def _mass(rope: Rope) -> Cited[MassPerLength]:
    if rope.grade.isdigit():
        return _mass_by_formula(rope)
    if rope.grade:
        return _mass_by_table(rope)
    try:
        return _mass_by_table(rope)
    except _NoValueError as by_table:
        try:
            return _mass_by_formula(rope)
        except _NoValueError as by_formula:
            same = str(by_table) == str(by_formula)
            raise _NoValueError(str(by_table) if same else f"{by_table} {by_formula}") from None


def mass_per_length(rope: Rope) -> Cited[MassPerLength] | Absent:
    """Mass per length of a rope.

    The certificate first. Else, by grade: a table grade, the table of inch ropes; a grade in N/mm², W d² / 100; no
    grade, the table where it prints the rope, else the formula.

    Args:
        rope: The rope.

    Returns:
        The mass per length [mass per length] with its citations and how it came about; absent with the reason.

    Source: RR-W-410 and ASTM A1023 family; EN 12385-4 as printed in "Wire Ropes: Tension, Endurance, Reliability",
    Table 1.9.
    """
    if rope.mass_per_length is not None:
        return Cited(rope.mass_per_length, (user_citation(rope.certificate),), "mass per length on the certificate")
    try:
        return _mass(rope)
    except _NoValueError as reason:
        return Absent("mass_per_length", f"{reason} Give the mass per length of the rope's certificate.")


def diameter_tolerance(rope: Rope) -> Cited[Length] | Absent:
    """How much thicker than its nominal diameter a rope may be.

    Args:
        rope: The rope.

    Returns:
        The tolerance, plus only [length], for the cable of the small cable table; absent with the reason for others.

    Source: FAA AC 43.13-1B, Table 7-3, for cable made to MIL-W-83420.
    """
    try:
        row, citations = _small_cable_row(rope)
        size = _row_of_size("small_cable_tolerance", "", rope.diameter)
    except _NoValueError as reason:
        return Absent(
            "diameter_tolerance",
            f"{reason} The only tolerance at hand is that of small cable; for others see the rope's standard.",
        )
    cell = _table("small_cable_tolerance")[size, "plus"]
    how = f"{cell.text} in, plus only, looked up: {row}, for cable made to MIL-W-83420"
    return Cited(Length.of(f"{cell.text} in"), (cell.citation, *citations), how)
