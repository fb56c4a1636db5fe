"""Forces, masses, masses per length and angles.

Factors: NIST SP 811, Appendix B, as printed there; 1 kip is 1000 lbf.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength

FORCES = [
    (4.4482216152605, "1 lbf"),
    (4448.2216152605, "1 kip"),
    (4448.2216152605, "1 kips"),
    (8896.443230521, "1 short tonf"),
    (9964.01641818352, "1 long tonf"),
    (9.80665, "1 kgf"),
    (1000.0, "1 kN"),
    (1.0, "1 N"),
    # 26.6 x 4448.221 615 260 5
    (118322.6949659293, "26.6 kip"),
    # 11.5 x 8896.443 230 521
    (102309.0971509915, "11.5 short tonf"),
]


@pytest.mark.parametrize(("newtons", "text"), FORCES)
def test_force(newtons: float, text: str) -> None:
    assert newtons == Force.of(text).newtons


def test_force_in_other_units() -> None:
    force = Force.of("26.6 kip")
    assert force.kilonewtons == pytest.approx(118.3226949659293, rel=1e-15)
    assert force.pounds_force == pytest.approx(26600, rel=1e-15)
    assert force.short_tons_force == pytest.approx(13.3, rel=1e-15)


@pytest.mark.parametrize(
    ("kilograms", "text"), [(0.45359237, "1 lb"), (1.0, "1 kg"), (0.5, "500 g"), (11.79340162, "26 lb")]
)
def test_mass(kilograms: float, text: str) -> None:
    assert kilograms == Mass.of(text).kilograms
    assert Mass.of("1 lb").pounds == pytest.approx(1, rel=1e-15)


@pytest.mark.parametrize(("kilograms_per_metre", "text"), [(1.488163943569554, "1 lb/ft"), (1.55, "1.55 kg/m")])
def test_mass_per_length(kilograms_per_metre: float, text: str) -> None:
    mass = MassPerLength.of(text)
    assert kilograms_per_metre == pytest.approx(mass.kilograms_per_metre, rel=1e-15)
    assert mass == MassPerLength(mass.kilograms_per_metre)
    assert MassPerLength.of("1.04 lb/ft").pounds_per_foot == pytest.approx(1.04, rel=1e-15)


def test_mass_of_a_piece_of_rope() -> None:
    # 100 ft of rope of 1.04 lb/ft weigh 104 lb.
    assert MassPerLength.of("1.04 lb/ft").of_length(Length.of("100 ft")).pounds == pytest.approx(104, rel=1e-15)
    with pytest.raises(InputError):
        MassPerLength(1.0).of_length(5)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("radians", "text"),
    [
        (math.pi / 3, "60 deg"),
        (math.pi / 3, "60°"),
        (math.pi / 2, "90 degrees"),
        (math.pi, "180 deg"),
        (1.05, "1.05 rad"),
    ],
)
def test_angle(radians: float, text: str) -> None:
    assert radians == Angle.of(text).radians
    assert Angle.of("60 deg").degrees == pytest.approx(60, rel=1e-15)


REFUSED: list[tuple[Callable[..., object], object, str]] = [
    (Force.of, "5 ton", "bare ton"),
    (Force.of, "5 tons", "bare ton"),
    (Force.of, "5 tonf", "bare ton"),
    (Force.of, "5 tonne", "bare ton"),
    (Force.of, "5 short ton", "is a mass"),
    (Force.of, "5 lb", "lb is a mass"),
    (Force.of, "5 lbs", "lb is a mass"),
    (Force.of, "5 kg", "kg is a mass"),
    (Force.of, "5 t", "not among"),
    (Force.of, "5 KN", "capital"),
    (Force.of, "5 kn", "capital"),
    (Force.of, "5", "no unit"),
    (Force.of, 5.0, "no unit"),
    (Force.of, "0 kN", "greater than zero"),
    (Force.of, "-5 kN", "greater than zero"),
    (Force.of, "nan kN", "finite"),
    (Force.of, "1,5 kN", "comma"),
    (Force.of, "26 600 lbf", "'26 600'"),
    (Force.of, Mass(5.0), "Mass"),
    (Force.of, Force(0.0), "greater than zero"),
    (Mass.of, "5 ton", "bare ton"),
    (Mass.of, "5 lbf", "is a force"),
    (Mass.of, "5 kN", "unit of force"),
    (Mass.of, Force(5.0), "Force"),
    (MassPerLength.of, "5 lb", "unit of mass"),
    (MassPerLength.of, "5 lb/in", "not among"),
    (MassPerLength.of, Mass(5.0), "Mass"),
    (Angle.of, "60", "no unit"),
    (Angle.of, "0 deg", "greater than zero"),
    (Angle.of, "60 mm", "unit of length"),
]


@pytest.mark.parametrize(("read", "value", "reason"), REFUSED)
def test_refused(read: Callable[..., object], value: object, reason: str) -> None:
    with pytest.raises(InputError) as caught:
        read(value, "given")
    message = str(caught.value)
    assert reason in message
    assert message.startswith("given: ")
    assert "Write a" in message


@pytest.mark.parametrize("kind", [Force, Mass, MassPerLength, Angle])
@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf, True, "5", None, 10**400, 5 + 0j])
def test_a_number_is_finite(kind: Callable[[object], object], number: object) -> None:
    with pytest.raises(InputError):
        kind(number)


OVERFLOWS: list[Callable[[Force], object]] = [
    lambda big: big + big,
    lambda big: big * 10.0,
    lambda big: big * 10**400,
    lambda big: big / 1e-300,
]


@pytest.mark.parametrize("compute", OVERFLOWS)
def test_what_overflows_is_refused(compute: Callable[[Force], object]) -> None:
    with pytest.raises(InputError, match="finite"):
        compute(Force(1e308))


PRINTED = [
    ("118.3 kN (26600 lbf)", Force.of("26.6 kip")),
    ("5 kN (1124 lbf)", Force.of("5 kN")),
    ("0 kN (0 lbf)", Force(0.0)),
    ("11.79 kg (26 lb)", Mass.of("26 lb")),
    ("1.548 kg/m (1.04 lb/ft)", MassPerLength.of("1.04 lb/ft")),
    ("60°", Angle.of("60 deg")),
    ("57.3°", Angle(1.0)),
]


@pytest.mark.parametrize(("expected", "value"), PRINTED)
def test_printed(expected: str, value: object) -> None:
    assert expected == str(value) == f"{value}"
    assert expected.rjust(30) == f"{value:>30}"


def test_force_text_rounds_to_the_side_asked_for() -> None:
    # 12 345.6 N is 2775.4 lbf.
    force = Force(12345.6)
    assert (
        force.text("kN", "down"),
        force.text("kN", "up"),
        force.text("kN", "nearest"),
    ) == ("12.34 kN", "12.35 kN", "12.35 kN")
    assert (force.text("lbf", "down"), force.text("lbf", "up")) == ("2775 lbf", "2776 lbf")
    # What was typed as 26 600 lbf stays 26 600 lbf: the noise of a float is not rounded.
    typed = Force.of("26600 lbf")
    assert typed.text("lbf", "down") == typed.text("lbf", "up") == "26600 lbf"
    with pytest.raises(InputError, match="form"):
        force.text("N")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="rounding"):
        force.text("kN", "even")  # type: ignore[arg-type]


sizes = st.floats(-1e9, 1e9)


@given(sizes, sizes)
@settings(deadline=None)
def test_sums_and_order_are_those_of_the_numbers(one: float, two: float) -> None:
    first, second = Force(one), Force(two)
    assert one + two == (first + second).newtons
    assert one - two == (first - second).newtons
    assert (one < two, one <= two, one > two, one >= two, one == two) == (
        first < second,
        first <= second,
        first > second,
        first >= second,
        first == second,
    )
    assert (-one, abs(one)) == ((-first).newtons, abs(first).newtons)


@given(sizes, st.floats(1e-3, 1e3))
@settings(deadline=None)
def test_multiples_and_parts(size: float, factor: float) -> None:
    force = Force(size)
    assert size * factor == (force * factor).newtons == (factor * force).newtons
    assert size / factor == (force / factor).newtons
    assert size / factor == force / Force(factor)


def test_an_exact_factor_is_rounded_once() -> None:
    # 0.1 N as a float, four fifths of it: the float next to the exact product.
    expected = float(Fraction(0.1) * Fraction(4, 5))
    assert expected == (Force(0.1) * Fraction(4, 5)).newtons
    assert (Force(10.0) / Fraction(4, 5)).newtons == 12.5
    assert (Force(10.0) / 5).newtons == 2.0


def test_no_negative_zero() -> None:
    assert "0 kN (0 lbf)" == str(-Force(0.0))
