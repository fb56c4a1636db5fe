"""Breaking force, mass and tolerance of a rope: which source answers, with which citations, and every absence.

Expected numbers are typed from the tables named beside them; the tables themselves are checked cell by cell in
``tests/published/test_rope_tables.py``. Factors: NIST SP 811, Appendix B.
"""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.rope import Rope
from turnback.model.ropedata import breaking_force, diameter_tolerance, mass_per_length, rope_cells
from turnback.quantities import Force, Length, MassPerLength

SHORT_TONF = Fraction("8896.443230521")
POUND_FORCE = Fraction("4.4482216152605")
POUND_PER_FOOT = Fraction("0.45359237") / Fraction("0.3048")


def force(text: str) -> Cited[Force]:
    found = breaking_force(Rope.parse(text))
    assert isinstance(found, Cited), found
    return found


def mass(text: str) -> Cited[MassPerLength]:
    found = mass_per_length(Rope.parse(text))
    assert isinstance(found, Cited), found
    return found


def statuses(found: Cited[Force] | Cited[MassPerLength] | Cited[Length]) -> list[str]:
    return [citation.status for citation in found.citations]


@pytest.mark.parametrize(
    ("text", "short_tons", "status"),
    [
        # Inch table, 6x19 and 6x37 classes.
        ("1/2 in 6x19 class FC IPS", "10.7", ["read"]),
        ("1/2 in 6x37 class IWRC EIP", "13.3", ["memory"]),
        ("3/4 in 6x19S FC IPS", "23.8", ["read", "memory"]),
        ("2 in 6x36WS IWRC IPS", "172", ["memory", "memory"]),
        ("1-1/8 in 6x25F FC XIP bright", "57.8", ["memory", "memory"]),
        ("19.05 mm 6x37 IWRC EIPS", "29.4", ["memory", "common practice"]),
    ],
)
def test_inch_ropes_of_a_table_grade_come_from_the_table(text: str, short_tons: str, status: list[str]) -> None:
    found = force(text)
    assert float(Fraction(short_tons) * SHORT_TONF) == found.value.newtons
    assert status == statuses(found)
    assert found.how.startswith(f"{short_tons} short tonf, looked up")


@pytest.mark.parametrize(
    ("text", "factor", "status"),
    [
        # K of Table 1.9, and the relation K d² R / 1000 in kN.
        ("13 mm 6x19-IWRC 1770", "0.356", ["read"]),
        ("13 mm 6x19 class FC 1770", "0.330", ["read"]),
        ("13 mm 6x36WS-IWRC 1960", "0.356", ["read", "memory"]),
        ("10.5 mm 6x19M-WSC 1570", "0.362", ["read"]),
        ("1/2 in 8x25F FC 2160", "0.293", ["read", "memory"]),
        ("22 mm 34(M)x7-IWRC 1960 galvanized", "0.318", ["read", "memory"]),
    ],
)
def test_ropes_of_a_tensile_grade_come_from_the_formula(text: str, factor: str, status: list[str]) -> None:
    rope, found = Rope.parse(text), force(text)
    expected = Fraction(factor) * rope.diameter.millimetres**2 * int(rope.grade)
    assert float(expected) == found.value.newtons
    assert status == statuses(found)
    assert factor in found.how
    assert rope.grade in found.how


@pytest.mark.parametrize(
    ("text", "pounds_force", "status"),
    [
        # FAA AC 43.13-1B, Table 7-3; the alignment of column B is from memory.
        ("5/32 in 7x19 stainless", 2400, ["memory"]),
        ("5/32 in 7x19 galvanized", 2800, ["read"]),
        ("5/32 in 7x19", 2400, ["memory", "read"]),
        ("1/16 in 7x7 WSC bright", 480, ["read"]),
        ("7/16 in 6x19 IWRC", 16300, ["memory", "read"]),
        ("7/16 in 6x19S IWRC galvanized", 17600, ["read", "memory"]),
        ("1/32 in 3x7 bright", 110, ["read"]),
    ],
)
def test_small_cable_comes_from_the_column_of_its_finish(text: str, pounds_force: int, status: list[str]) -> None:
    found = force(text)
    assert float(pounds_force * POUND_FORCE) == found.value.newtons
    assert status == statuses(found)


def test_an_unknown_finish_takes_the_smaller_and_says_so() -> None:
    assert "the smaller of both" in force("5/32 in 7x19").how
    assert "smaller" not in force("5/32 in 7x19 bright").how


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1/2 in", "construction of the rope is not given"),
        ("1/2 in 6x19 EIP", "core of the rope is not given"),
        ("1/2 in 6x19 class IWRC", "grade of the rope is not given"),
        ("1/2 in 6x19 FC", "grade of the rope is not given"),
        ("1/8 in 7x19 FC", "grade of the rope is not given"),
        ("1/2 in 1x19", "grade of the rope is not given"),
        ("1/2 in 6x19 IWRC EEIP", "EEIP have not been read"),
        ("1/2 in 8x19 FC IPS", "6x19 and 6x37 classes, not for 8x19"),
        ("1/8 in 7x19 EIP", "6x19 and 6x37 classes, not for 7x19"),
        ("1/2 in 6x19M FC IPS", "6x19 and 6x37 classes, not for 6x19M"),
        ("1/2 in 6x19 WSC IPS", "prints FC and IWRC, not WSC"),
        ("1/2 in 6x19 IWRC EIP galvanized", "does not say that it holds for galvanized"),
        ("1/2 in 6x19 IWRC EIP stainless", "does not say that it holds for stainless"),
        ("13 mm 6x19 IWRC 1960 stainless", "stainless"),
        ("13 mm 6x19 WSC 1960", "No factor K is printed for class 6x19 with WSC"),
        ("13 mm 6x37 FC 1960", "may be 6x37M or a pattern of class 6x36"),
        ("13 mm 35(W)x7 IWRC 1960", "No factor is printed for 35Wx7"),
        ("13 mm 6x19S IWRC EIP", "1/2 in (the rope is 2.4 % thicker) and 9/16 in (the rope is 9.0 % thinner)"),
        ("3 in 6x19 FC IPS", "nearest size: 2 in (the rope is 50.0 % thicker)"),
        ("1/32 in 7x7", "nearest size of 7x7: 3/64 in (the rope is 33.3 % thinner)"),
        ("11/32 in 7x19 stainless", "Row 11/32 7x19 prints no value for corrosion resistant"),
        ("11/32 in 7x19", "finish is not given"),
    ],
)
def test_an_absent_breaking_force_says_why_and_what_to_give(text: str, reason: str) -> None:
    found = breaking_force(Rope.parse(text))
    assert isinstance(found, Absent), found
    assert reason in found.reason
    assert "Give the minimum breaking force of the rope's certificate." in found.reason


@pytest.mark.parametrize("table_grade", ["IPS", "EIP"])
def test_a_table_grade_is_never_a_tensile_grade(table_grade: str) -> None:
    metric = {grade: force(f"1/2 in 6x19 IWRC {grade}").citations[0] for grade in ("1570", "1770", "1960", "2160")}
    table = force(f"1/2 in 6x19 IWRC {table_grade}").citations[0]
    assert table.source not in {citation.source for citation in metric.values()}
    assert isinstance(breaking_force(Rope.parse(f"13 mm 6x19 IWRC {table_grade}")), Absent)


def certified(text: str, minimum: str | None = None, actual: str | None = None, mass: str | None = None) -> Rope:
    return attrs.evolve(
        Rope.parse(text),
        certificate="invented certificate 7",
        minimum_breaking_force=minimum,
        actual_breaking_force=actual,
        mass_per_length=mass,
    )


@pytest.mark.parametrize(
    "text", ["1/2 in 6x19 IWRC EIP", "13 mm 6x19 IWRC 1960", "1/8 in 7x19", "1/2 in 6x19 IWRC EEIP", "9 mm"]
)
def test_the_minimum_of_a_certificate_outranks_every_table(text: str) -> None:
    found = breaking_force(certified(text, minimum="77 kN", actual="99 kN"))
    assert isinstance(found, Cited)
    assert (Force(77_000), ["user"]) == (found.value, statuses(found))
    assert "invented certificate 7" in str(found.citations[0])


# Every branch of the look-up, and one rope that has no value.
@given(
    st.sampled_from(
        [
            "1/2 in 6x19 IWRC EIP",
            "13 mm 6x36WS IWRC 1960",
            "1/8 in 7x19",
            "1/8 in 7x19 galvanized",
            "13 mm 6x19 IWRC EIP",
        ]
    ),
    st.floats(1.0, 1e6),
)
@settings(deadline=None)
def test_an_actual_breaking_force_is_never_used_upward(text: str, ratio: float) -> None:
    plain = breaking_force(Rope.parse(text))
    actual = plain.value * ratio if isinstance(plain, Cited) else Force(ratio)
    rope = attrs.evolve(Rope.parse(text), certificate="invented", actual_breaking_force=actual)
    assert plain == breaking_force(rope)


def test_an_actual_breaking_force_below_the_table_leaves_no_number() -> None:
    # 13.3 short tonf is 118.3 kN.
    found = breaking_force(certified("1/2 in 6x19 IWRC EIP", actual="118 kN"))
    assert isinstance(found, Absent)
    assert "the rope is not what it is called" in found.reason


@pytest.mark.parametrize("condition", ["new", "used", "worn"])
def test_the_condition_does_not_change_what_the_rope_was_made_for(condition: str) -> None:
    plain = Rope.parse("1/2 in 6x19 IWRC EIP")
    assert breaking_force(plain) == breaking_force(attrs.evolve(plain, condition=condition))


@pytest.mark.parametrize(
    ("text", "kilograms_per_metre", "status"),
    [
        # Inch table [lb/ft].
        ("1/2 in 6x19 FC IPS", Fraction("0.42") * POUND_PER_FOOT, ["read", "common practice"]),
        ("1/4 in 6x36WS IWRC EEIP", Fraction("0.116") * POUND_PER_FOOT, ["memory", "memory"]),
        ("2 in 6x19 class IWRC", Fraction("7.39") * POUND_PER_FOOT, ["memory"]),
        # W d² / 100, Table 1.9.
        ("20 mm 6x19 FC 1770", Fraction("0.359") * 4, ["read"]),
        ("1/2 in 6x19 FC 1770", Fraction("0.359") * Fraction("12.7") ** 2 / 100, ["read"]),
        ("20 mm 8x36WS IWRC", Fraction("0.417") * 4, ["read", "memory"]),
        ("1/2 in 6x7 FC", Fraction("0.345") * Fraction("12.7") ** 2 / 100, ["read"]),
    ],
)
def test_mass_per_length(text: str, kilograms_per_metre: Fraction, status: list[str]) -> None:
    found = mass(text)
    assert float(kilograms_per_metre) == found.value.kilograms_per_metre
    assert status == statuses(found)


def test_the_mass_of_a_certificate_outranks_every_table() -> None:
    found = mass_per_length(certified("1/2 in 6x19 IWRC EIP", mass="0.7 kg/m"))
    assert isinstance(found, Cited)
    assert (MassPerLength(0.7), ["user"]) == (found.value, statuses(found))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1/8 in 7x19", "No factor is printed for 7x19"),
        ("13 mm 6x19 FC IPS", "does not print 13 mm"),
        ("13 mm 6x19 WSC", "No factor W is printed for class 6x19 with WSC"),
        ("13 mm 6x19", "core of the rope is not given"),
        ("13 mm", "construction of the rope is not given"),
    ],
)
def test_an_absent_mass_says_why(text: str, reason: str) -> None:
    found = mass_per_length(Rope.parse(text))
    assert isinstance(found, Absent)
    assert reason in found.reason
    # Two tables were asked; where both lack the same thing it is said once.
    assert found.reason.index(reason) == found.reason.rindex(reason)


@pytest.mark.parametrize(
    ("text", "inches"),
    # FAA AC 43.13-1B, Table 7-3, plus only.
    [
        ("1/8 in 7x19", "0.014"),
        ("7/32 in 7x19 galvanized", "0.018"),
        ("3/8 in 7x19 stainless", "0.026"),
        ("1 in 6x19 IWRC", "0.050"),
    ],
)
def test_tolerance_of_small_cable(text: str, inches: str) -> None:
    found = diameter_tolerance(Rope.parse(text))
    assert isinstance(found, Cited)
    assert (Fraction(inches), ["read"]) == (found.value.inches, statuses(found))
    assert "plus only" in found.how
    assert "MIL-W-83420" in found.how


@pytest.mark.parametrize(
    "text", ["1/2 in 6x19 IWRC EIP", "13 mm 6x19 IWRC 1960", "1/4 in 7x7", "1/8 in", "1/2 in 6x36 FC"]
)
def test_no_tolerance_for_other_ropes(text: str) -> None:
    found = diameter_tolerance(Rope.parse(text))
    assert isinstance(found, Absent)
    assert "only tolerance at hand is that of small cable" in found.reason


@given(st.integers(1, 300_000_000).map(Length), st.sampled_from(["6x19 IWRC EIP", "7x19", "6x36 FC IPS", "6x19 IWRC"]))
@settings(deadline=None)
def test_nothing_is_interpolated(diameter: Length, rest: str) -> None:
    printed = {Length.of(cell.row.split()[0] + " in") for cell in rope_cells() if cell.table != "class_factors"}
    found = breaking_force(attrs.evolve(Rope.parse(f"1 in {rest}"), diameter=diameter))
    assert diameter in printed or isinstance(found, Absent)


def test_tables_are_not_read_at_import() -> None:
    code = (
        "import sys, turnback.model.ropedata as r; assert 'tomllib' not in sys.modules; "
        "assert r.rope_cells(); assert 'tomllib' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
