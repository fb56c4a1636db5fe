"""Every shipped cell of the rope tables against a second typing, made column by column and not from the data files.

Sources: EN 12385-4 relations and factors as printed in "Wire Ropes: Tension, Endurance, Reliability", Table 1.9; inch
ropes of RR-W-410 and the ASTM A1023 family (two columns read in a public engineering table, the others from memory);
FAA AC 43.13-1B (1998), Table 7-3; API Spec 9A / ISO 10425, Table C.1.
"""

from __future__ import annotations

from fractions import Fraction
from statistics import median

import pytest

from turnback.model.cited import Cited
from turnback.model.rope import Rope
from turnback.model.ropedata import ROPE_TABLES, RopeCell, breaking_force, mass_per_length, rope_cells


def words(text: str) -> list[str]:
    return text.split()


# "-" stands where the source prints nothing.
CLASSES = words("6x7 8x7 6x19 8x19 6x36 8x36 6x35N 6x19M 6x37M 18x7 34x7")
FACTORS = {
    "W1": "0.345 0.327 0.359 0.340 0.367 0.348 0.352 0.344 0.334 0.382 0.390",
    "C1": "0.369 0.335 0.384 0.349 0.393 0.357 0.377 0.357 0.357 0.408 0.416",
    "K1": "0.332 0.291 0.330 0.293 0.330 0.293 0.317 0.307 0.295 0.328 0.318",
    "W2": "0.384 0.391 0.400 0.407 0.409 0.417 0.392 0.372 0.372 0.401 0.401",
    "C2": "0.432 0.439 0.449 0.457 0.460 0.468 0.441 0.418 0.418 0.433 0.428",
    "K2": "0.359 0.359 0.356 0.356 0.356 0.356 0.345 0.332 0.319 0.328 0.318",
    "K3": "0.388 - - - - - - 0.362 0.346 - -",
}
INCH_SIZES = words("1/4 5/16 3/8 7/16 1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2 1-5/8 1-3/4 1-7/8 2")
INCH = {
    "FC_mass": "0.11 0.16 0.24 0.32 0.42 0.53 0.66 0.95 1.29 1.68 2.13 2.63 3.18 3.78 4.44 5.15 5.91 6.72",
    "FC_IPS": "2.74 4.26 6.10 8.27 10.7 13.5 16.7 23.8 32.2 41.8 52.6 64.6 77.7 92.0 107 124 141 160",
    "IWRC_mass": "0.116 0.18 0.26 0.35 0.46 0.59 0.72 1.04 1.42 1.85 2.34 2.89 3.50 4.16 4.88 5.67 6.50 7.39",
    "IWRC_IPS": "2.94 4.58 6.56 8.89 11.5 14.5 17.9 25.6 34.6 44.9 56.5 69.4 83.5 98.9 115 133 152 172",
    "FC_EIP": "3.02 4.69 6.71 9.09 11.8 14.9 18.3 26.2 35.4 46.0 57.8 71.1 85.5 101 118 136 155 176",
    "IWRC_EIP": "3.40 5.27 7.55 10.2 13.3 16.8 20.6 29.4 39.8 51.7 65.0 79.9 96.0 114 132 153 174 198",
}
CABLE = [
    "1/32 3x7",
    *(f"{size} 7x7" for size in words("3/64 1/16")),
    "1/16 7x19",
    "3/32 7x7",
    *(f"{size} 7x19" for size in words("3/32 1/8 5/32 3/16 7/32 1/4 9/32 5/16 11/32 3/8")),
    *(f"{size} 6x19 IWRC" for size in words("7/16 1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2")),
]
CABLE_STRENGTH = {
    "A": (
        "110 270 480 480 920 1000 2000 2800 4200 5600 7000 8000 9800 12500 14400 17600 22800 28500 35000 49600 66500 "
        "85400 106400 129400 153600 180500"
    ),
    "B": (
        "110 270 480 480 920 920 1760 2400 3700 5000 6400 7800 9000 - 12000 16300 22800 28500 35000 49600 66500 "
        "85400 106400 129400 153600 180500"
    ),
}
CABLE_SIZES = words(
    "1/32 3/64 1/16 3/32 1/8 5/32 3/16 7/32 1/4 9/32 5/16 11/32 3/8 7/16 1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2"
)
# In thousandths of an inch; print gives one figure for 3/16 to 1/4.
TOLERANCE = words("6 8 10 12 14 16 18 18 18 20 22 24 26 30 33 36 39 45 48 50 54 57 60 62")

READ = {("class_factors", column) for column in FACTORS} | {
    ("inch_classes", "FC_mass"),
    ("inch_classes", "FC_IPS"),
    ("small_cable", "A"),
    ("small_cable_tolerance", "plus"),
}


def shipped(table: str) -> dict[tuple[str, str], RopeCell]:
    return {(cell.row, cell.column): cell for cell in rope_cells() if cell.table == table}


def typed(rows: list[str], columns: dict[str, str]) -> dict[tuple[str, str], str]:
    return {
        (row, column): text
        for column, texts in columns.items()
        for row, text in zip(rows, words(texts), strict=True)
        if text != "-"
    }


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("class_factors", typed(CLASSES, FACTORS)),
        ("inch_classes", typed(INCH_SIZES, INCH)),
        ("small_cable", typed(CABLE, CABLE_STRENGTH)),
    ],
)
def test_every_cell_is_the_printed_one(table: str, expected: dict[tuple[str, str], str]) -> None:
    assert expected == {place: cell.text for place, cell in shipped(table).items()}


def test_every_tolerance_is_the_printed_one() -> None:
    expected = {(size, "plus"): Fraction(int(text), 1000) for size, text in zip(CABLE_SIZES, TOLERANCE, strict=True)}
    assert expected == {place: cell.value for place, cell in shipped("small_cable_tolerance").items()}


def test_every_table_is_covered_by_a_second_typing() -> None:
    covered = {"class_factors", "inch_classes", "small_cable", "small_cable_tolerance"}
    assert covered == set(ROPE_TABLES)


def test_what_was_read_is_marked_read_and_all_else_from_memory() -> None:
    expected = {cell: "read" if (cell.table, cell.column) in READ else "memory" for cell in rope_cells()}
    assert expected == {cell: cell.citation.status for cell in rope_cells()}


def test_the_unread_grade_is_left_out() -> None:
    assert not [cell for cell in rope_cells() if "EEIP" in cell.column]


def value_of(rope: Rope) -> tuple[float, float]:
    """Minimum breaking force [kN] and mass [kg per 100 m]."""
    force, mass = breaking_force(rope), mass_per_length(rope)
    assert isinstance(force, Cited)
    assert isinstance(mass, Cited)
    return force.value.newtons / 1000, mass.value.kilograms_per_metre * 100


@pytest.mark.parametrize(
    ("size", "grade", "kilonewtons"),
    [
        # API Spec 9A / ISO 10425, Table C.1, 6x7 fibre core: three figures are printed.
        ("6 mm", "1770", "21.2"),
        ("10 mm", "1770", "58.8"),
        ("13 mm", "1770", "99.3"),
        ("20 mm", "1770", "235"),
        ("40 mm", "1770", "940"),
        ("10 mm", "1960", "65.1"),
        ("20 mm", "1960", "260"),
        ("40 mm", "1960", "1.04e+03"),
    ],
)
def test_breaking_force_by_formula_is_the_printed_one(size: str, grade: str, kilonewtons: str) -> None:
    assert kilonewtons == f"{value_of(Rope(size, construction='6x7', core='FC', grade=grade))[0]:.3g}"


@pytest.mark.parametrize(
    ("size", "kilograms"),
    # API Spec 9A / ISO 10425, Table C.1, 6x7 fibre core, kg per 100 m.
    [("6 mm", "12.4"), ("10 mm", "34.5"), ("13 mm", "58.3"), ("20 mm", "138"), ("40 mm", "552")],
)
def test_mass_by_formula_is_the_printed_one(size: str, kilograms: str) -> None:
    assert kilograms == f"{value_of(Rope(size, construction='6x7', core='FC', grade='1770'))[1]:.3g}"


@pytest.mark.parametrize(
    ("text", "pounds_force"),
    # FAA AC 43.13-1B, Table 7-3, carbon steel.
    [
        ("1/8 in 7x19 galvanized", 2000),
        ("3/16 in 7x19 bright", 4200),
        ("1/4 in 7x19 galvanized", 7000),
        ("3/8 in 7x19 galvanized", 14400),
    ],
)
def test_strength_of_cable_is_the_printed_one(text: str, pounds_force: int) -> None:
    force = breaking_force(Rope.parse(text))
    assert isinstance(force, Cited)
    # 1 lbf = 4.448 221 615 260 5 N exactly (NIST SP 811, Appendix B).
    assert float(pounds_force * Fraction("4.4482216152605")) == force.value.newtons
    assert {"read"} == {citation.status for citation in force.citations}


@pytest.mark.parametrize(
    ("column", "base", "percent"),
    # Strengths are printed with three figures, the lightest masses with two.
    [("IWRC_mass", "FC_mass", 5), ("IWRC_IPS", "FC_IPS", 1), ("FC_EIP", "FC_IPS", 1), ("IWRC_EIP", "FC_IPS", 1)],
)
def test_no_cell_from_memory_steps_out_of_line_with_the_column_that_was_read(
    column: str, base: str, percent: int
) -> None:
    """A check of the figures from memory: two columns of one rope family keep one ratio at every size."""
    cells = shipped("inch_classes")
    ratios = {size: cells[size, column].value / cells[size, base].value for size in INCH_SIZES}
    middle = median(ratios.values())
    assert not {size for size, ratio in ratios.items() if abs(ratio / middle - 1) > Fraction(percent, 100)}


def test_the_strength_from_memory_lies_near_an_independent_table() -> None:
    """FAA AC 43.13-1B, Table 7-3, prints 6x19 IWRC without a grade; it never exceeds IPS and stays within a tenth."""
    cable, inch = shipped("small_cable"), shipped("inch_classes")
    for row in (row for row in CABLE if row.endswith("IWRC")):
        size = row.split()[0]
        ratio = cable[row, "A"].value / (inch[size, "IWRC_IPS"].value * 2000)
        assert Fraction(9, 10) <= ratio <= 1, row
