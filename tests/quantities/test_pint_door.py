"""Quantities of any registry in, quantities of the caller's registry out; pint is the second opinion on factors."""

from __future__ import annotations

import decimal
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from types import SimpleNamespace
from unittest.mock import MagicMock, Mock

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, PintQuantity, Torque

Registry = pint.UnitRegistry[float]
NUMBERS = [
    (0.75, 19_050_000),
    (Fraction(3, 4), 19_050_000),
    (Decimal("0.75"), 19_050_000),
    (np.float64(0.75), 19_050_000),
    (np.array(0.75), 19_050_000),
    (3, 76_200_000),
    (np.int64(3), 76_200_000),
    (np.array(3), 76_200_000),
    (0.1, 2_540_000),
    (1 / 64, 396_875),
    (11.5, 292_100_000),
]


@pytest.mark.parametrize(("magnitude", "nanometres"), NUMBERS)
def test_inches_are_read_exactly(ureg: Registry, magnitude: float, nanometres: int) -> None:
    assert nanometres == Length.of(ureg.Quantity(magnitude, "inch")).nanometres


@pytest.mark.parametrize(
    ("unit", "nanometres"),
    [
        ("inch", 25_400_000),
        ("foot", 304_800_000),
        ("millimeter", 1_000_000),
        ("mm", 1_000_000),
        ("cm", 10_000_000),
        ("decimeter", 100_000_000),
        ("meter", 1_000_000_000),
        ("kilometer", 1_000_000_000_000),
        ("micrometer", 1_000),
        ("nanometer", 1),
        ("meter ** 2 / meter", 1_000_000_000),
    ],
)
def test_units_of_length(ureg: Registry, unit: str, nanometres: int) -> None:
    assert nanometres == Length.of(ureg.Quantity(1, unit)).nanometres


def test_registries_of_any_kind(
    ureg: Registry,
    fraction_ureg: pint.UnitRegistry[Fraction],
    decimal_ureg: pint.UnitRegistry[Decimal],
    array_ureg: Registry,
    odd_ureg: Registry,
) -> None:
    expected = Length.of("3/4 in")
    assert expected == Length.of(ureg.Quantity(0.75, "inch"))
    assert expected == Length.of(fraction_ureg.Quantity("3/4 inch"))
    assert expected == Length.of(decimal_ureg.Quantity(Decimal("0.75"), "inch"))
    assert expected == Length.of(array_ureg.Quantity(0.75, "inch"))
    # The host's inch is its own affair; an inch that is handed over is 25.4 mm.
    assert odd_ureg.Quantity(1.0, "inch").m_as("millimeter") == pytest.approx(26)
    assert expected == Length.of(odd_ureg.Quantity(0.75, "inch"))
    assert expected == Length.of(0.75 * odd_ureg.inch)


def test_two_registries_in_one_sum(ureg: Registry, odd_ureg: Registry) -> None:
    total = Length.of(ureg.Quantity(0.5, "inch")) + Length.of(odd_ureg.Quantity(6.35, "mm"))
    assert Length.of("3/4 in") == total


def test_a_quantity_of_pints_default_registry() -> None:
    assert Length.of("3/4 in") == Length.of(pint.Quantity(0.75, "inch"))


BACK = [("mm", 19.05), ("millimetre", 19.05), ("in", 0.75), ("inch", 0.75), ("m", 0.01905), ("ft", 0.0625)]


@pytest.mark.parametrize(("unit", "magnitude"), BACK)
def test_lengths_go_back_into_the_callers_registry(ureg: Registry, unit: str, magnitude: float) -> None:
    quantity = Length.of("3/4 in").to_pint(ureg, unit)
    assert isinstance(quantity, ureg.Quantity)
    assert magnitude == quantity.magnitude
    assert quantity == ureg.Quantity(magnitude, unit.replace("metre", "meter"))


def test_magnitudes_are_of_the_registrys_own_kind(
    ureg: Registry, fraction_ureg: pint.UnitRegistry[Fraction], decimal_ureg: pint.UnitRegistry[Decimal]
) -> None:
    length = Length.of("13 mm")
    magnitudes = [
        length.to_pint(ureg).magnitude,
        length.to_pint(fraction_ureg, "in").magnitude,
        length.to_pint(decimal_ureg).magnitude,
    ]
    assert [13.0, Fraction(65, 127), Decimal(13)] == magnitudes
    assert [float, Fraction, Decimal] == [type(magnitude) for magnitude in magnitudes]


def test_the_callers_decimal_context_rounds_nothing(decimal_ureg: pint.UnitRegistry[Decimal]) -> None:
    length = Length.of("372.533334 mm")
    with decimal.localcontext() as context:
        context.prec = 3
        assert Decimal("372.533334") == length.to_pint(decimal_ureg).magnitude
        assert str(length) == "372.533334 mm"
        assert str(Force.of("26.6 kip")) == "118.3 kN (26600 lbf)"


@given(count=st.integers(1, 10**15), unit=st.sampled_from(["mm", "in", "ft", "m"]))
@settings(deadline=None)
def test_out_and_in_again_is_the_same_length(
    ureg: Registry,
    fraction_ureg: pint.UnitRegistry[Fraction],
    decimal_ureg: pint.UnitRegistry[Decimal],
    count: int,
    unit: str,
) -> None:
    length = Length(count)
    assert length == Length.of(length.to_pint(ureg, unit))
    assert length == Length.of(length.to_pint(fraction_ureg, unit))
    assert length == Length.of(length.to_pint(decimal_ureg, unit))


@given(sixty_fourths=st.integers(1, 64 * 100))
@settings(deadline=None)
def test_a_conversion_in_the_hosts_floats_is_forgiven(ureg: Registry, sixty_fourths: int) -> None:
    # 3/4 in comes out of pint as 19.049999999999997 mm.
    quantity = ureg.Quantity(sixty_fourths / 64, "inch").to("millimeter")
    assert sixty_fourths * 396_875 == Length.of(quantity).nanometres


@given(st.integers(1, 64 * 100))
@settings(deadline=None)
def test_inches_agree_with_pint_in_fractions(fraction_ureg: pint.UnitRegistry[Fraction], sixty_fourths: int) -> None:
    quantity = fraction_ureg.Quantity(Fraction(sixty_fourths, 64), "inch")
    assert quantity.m_as("millimeter") == Length(sixty_fourths * 396_875).millimetres


REFUSED = [
    (1.5, "kilonewton", "no unit of a length"),
    (1.5, "dimensionless", "no unit of a length"),
    (1.5, "inch ** 2", "no unit of a length"),
    (1.5, "inch ** 0.5", "units cannot be read"),
    (1.5, "inch ** 9", "units cannot be read"),
    (1.5, "yard", "'yard'"),
    (1.5, "thou", "'thou'"),
    (1.5, "kelvin", "'kelvin'"),
    (0.0, "inch", "zero or negative"),
    (-1, "inch", "zero or negative"),
    (float("nan"), "inch", "finite"),
    (float("inf"), "inch", "finite"),
    (Decimal("NaN"), "inch", "finite"),
    (Decimal("Infinity"), "inch", "finite"),
    (Decimal("1e-99999"), "inch", "finite"),
    (Decimal("1e99999"), "inch", "finite"),
    (1 + 2j, "inch", "complex"),
    ([1, 2], "inch", "ndarray"),
    (np.array([1.0]), "inch", "ndarray"),
    (np.array(True), "inch", "bool"),
    # Single precision cannot name a length to the nanometre: 12.7 becomes 12.699999809265137.
    (np.float32(12.7), "inch", "float32"),
    (np.array(12.7, dtype=np.float32), "inch", "ndarray"),
    (Fraction(1, 3), "inch", "whole number of nanometres"),
    (1e300, "inch", "longer than any rope"),
    (10**4000, "inch", "longer than any rope"),
    pytest.param(10**5000, "inch", "longer than any rope", id="more-digits-than-can-be-printed"),
    (1e-9, "millimeter", "greater than zero"),
]


@pytest.mark.parametrize(("magnitude", "unit", "reason"), REFUSED)
def test_refused(ureg: Registry, magnitude: float, unit: str, reason: str) -> None:
    with pytest.raises(InputError) as caught:
        Length.of(ureg.Quantity(magnitude, unit), "rope")
    assert reason in str(caught.value)
    assert str(caught.value).startswith("rope: ")


LOOKALIKES = [
    Mock(),
    MagicMock(),
    pint.Quantity,
    SimpleNamespace(magnitude=1, unit_items=[("inch", 1)]),
    SimpleNamespace(magnitude=1, unit_items=lambda: [("inch",)]),
    SimpleNamespace(magnitude=1, unit_items=lambda: [(object(), 1)]),
    SimpleNamespace(magnitude=True, unit_items=lambda: [("inch", 1)]),
    SimpleNamespace(magnitude="1", unit_items=lambda: [("inch", 1)]),
]


@pytest.mark.parametrize("thing", LOOKALIKES)
def test_what_only_looks_like_a_quantity_is_refused(thing: object) -> None:
    with pytest.raises(InputError):
        Length.of(thing)  # type: ignore[arg-type]


def test_a_unit_of_the_hosts_own_is_refused(ureg: Registry) -> None:
    registry: Registry = pint.UnitRegistry()
    registry.define("span = 9 * inch")
    with pytest.raises(InputError, match="span"):
        Length.of(registry.Quantity(1, "span"))


@pytest.mark.parametrize("unit", ["km", "kN", "", None])
def test_an_unknown_unit_is_refused_on_the_way_out(ureg: Registry, unit: str) -> None:
    for value in (Length(5), Torque(65, "lbf·ft"), Force(5.0), Mass(5.0), MassPerLength(5.0), Angle(5.0)):
        if (type(value), unit) not in ((Force, "kN"), (Torque, None)):
            with pytest.raises(InputError, match="unit"):
                value.to_pint(ureg, unit)


def test_a_registry_that_lacks_the_unit() -> None:
    bare: Registry = pint.UnitRegistry(None)
    with pytest.raises(InputError, match="registry"):
        Length(5).to_pint(bare)


@pytest.mark.parametrize(
    ("text", "unit"),
    [("1 lbf·ft", "force_pound * foot"), ("1 lbf·in", "force_pound * inch"), ("1 N·m", "newton * meter")],
)
def test_torque_factors_agree_with_pint(fraction_ureg: pint.UnitRegistry[Fraction], text: str, unit: str) -> None:
    quantity = fraction_ureg.Quantity(Fraction(1), unit)
    assert quantity.m_as("newton * meter") == Torque.of(text).exact_newton_metres
    assert Torque.of(text) == Torque.of(quantity)


def test_torque_keeps_the_unit_of_the_quantity(ureg: Registry) -> None:
    assert Torque(65, "lbf·ft") == Torque.of(ureg.Quantity(65, "force_pound * foot"))
    assert Torque(65, "lbf·ft") == Torque.of(ureg.Quantity(65.0, "foot_pound"))
    assert Torque(780, "lbf·in") == Torque.of(ureg.Quantity(780, "inch * force_pound"))
    assert Torque(Fraction("88.1"), "N·m") == Torque.of(ureg.Quantity(88.1, "newton * meter"))
    assert Torque(88, "N·m") == Torque.of(ureg.Quantity(Fraction("0.088"), "kilonewton * meter"))
    assert Torque(88, "N·m") == Torque.of(ureg.Quantity(88, "newton * meter").to_base_units())


def test_torque_goes_back_in_its_printed_unit(ureg: Registry, fraction_ureg: pint.UnitRegistry[Fraction]) -> None:
    torque = Torque.of("65 lbf·ft (88 N·m)")
    assert ureg.Quantity(65.0, "force_pound * foot") == torque.to_pint(ureg)
    assert Fraction("88.128166641541026") == torque.to_pint(fraction_ureg, "N·m").magnitude
    assert ureg.Quantity(780.0, "force_pound * inch") == torque.to_pint(ureg, "lbf·in")


@pytest.mark.parametrize("unit", ["joule", "newton", "newton * millimeter ** 2", "degree"])
def test_no_torque(ureg: Registry, unit: str) -> None:
    with pytest.raises(InputError):
        Torque.of(ureg.Quantity(65, unit))


Kind = Force | Mass | MassPerLength | Angle
SCALARS: list[tuple[Callable[[str | PintQuantity], Kind], str, str, str, str, bool]] = [
    # how to read it, our spelling, pint's name, our and pint's SI unit, given back in this unit?
    (Force.of, "N", "newton", "N", "newton", True),
    (Force.of, "kN", "kilonewton", "N", "newton", True),
    (Force.of, "lbf", "force_pound", "N", "newton", True),
    (Force.of, "kip", "kip", "N", "newton", True),
    (Force.of, "kgf", "force_kilogram", "N", "newton", True),
    (Force.of, "short tonf", "force_ton", "N", "newton", False),
    (Force.of, "long tonf", "force_long_ton", "N", "newton", False),
    (Mass.of, "kg", "kilogram", "kg", "kilogram", True),
    (Mass.of, "g", "gram", "kg", "kilogram", False),
    (Mass.of, "lb", "pound", "kg", "kilogram", True),
    (MassPerLength.of, "kg/m", "kilogram / meter", "kg/m", "kilogram / meter", True),
    (MassPerLength.of, "lb/ft", "pound / foot", "kg/m", "kilogram / meter", True),
    (Angle.of, "deg", "degree", "rad", "radian", True),
    (Angle.of, "rad", "radian", "rad", "radian", True),
]


@pytest.mark.parametrize(("read", "spelling", "unit", "si", "si_unit", "back"), SCALARS)
def test_scalars_agree_with_pint(
    ureg: Registry,
    read: Callable[[str | PintQuantity], Kind],
    spelling: str,
    unit: str,
    si: str,
    si_unit: str,
    back: bool,
) -> None:
    quantity = ureg.Quantity(26.6, unit)
    value = read(f"26.6 {spelling}")
    assert value == read(quantity)
    assert quantity.m_as(si_unit) == pytest.approx(value.to_pint(ureg, si).magnitude, rel=1e-14)
    if back:
        assert quantity.magnitude == pytest.approx(value.to_pint(ureg, spelling).m_as(unit), rel=1e-14)


def test_a_force_in_base_units(ureg: Registry) -> None:
    assert Force(5000.0) == Force.of(ureg.Quantity(5, "kilonewton").to_base_units())
    with pytest.raises(InputError, match="force"):
        Force.of(ureg.Quantity(5, "kilogram"))


def test_numpy_numbers_do_not_turn_a_length_into_an_array() -> None:
    length = Length(5)
    for factor in (np.float64(2), np.int64(2), np.array([1, 2])):
        with pytest.raises(TypeError):
            factor * length  # type: ignore[operator]
    assert Force(10.0) == np.float64(2) * Force(5.0)
