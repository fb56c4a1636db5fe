"""Torques as printed. Factors: NIST SP 811, Appendix B."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Force, Length, Torque

NEWTON_METRES = {"lbf·ft": "1.3558179483314004", "lbf·in": "0.1129848290276167", "N·m": "1"}

READ = [
    ("65 lbf·ft", Fraction(65), "lbf·ft"),
    ("65 ft·lbf", Fraction(65), "lbf·ft"),
    ("65 ft-lbf", Fraction(65), "lbf·ft"),
    ("65 lbf-ft", Fraction(65), "lbf·ft"),
    ("65 ft lbf", Fraction(65), "lbf·ft"),
    ("65 lbf ft", Fraction(65), "lbf·ft"),
    ("65 lbf⋅ft", Fraction(65), "lbf·ft"),
    ("4.5 lbf·ft", Fraction(9, 2), "lbf·ft"),
    ("4-1/2 lbf·ft", Fraction(9, 2), "lbf·ft"),
    ("780 lbf·in", Fraction(780), "lbf·in"),
    ("780 in-lbf", Fraction(780), "lbf·in"),
    ("88 N·m", Fraction(88), "N·m"),
    ("88 N m", Fraction(88), "N·m"),
    ("88 N-m", Fraction(88), "N·m"),
    ("88 Nm", Fraction(88), "N·m"),
]


@pytest.mark.parametrize(("text", "value", "unit"), READ)
def test_read(text: str, value: Fraction, unit: str) -> None:
    torque = Torque.of(text)
    assert (value, unit, None) == (torque.value, torque.unit, torque.also)
    assert Torque(value, unit) == torque


def test_a_torque_passes_the_door_unchanged() -> None:
    torque = Torque.of("65 lbf·ft")
    assert torque is Torque.of(torque)


def test_a_torque_takes_a_format() -> None:
    text = f"{Torque.of('65 lbf·ft (88 N·m)'):>25}"
    assert text == "       65 lbf·ft (88 N·m)"


def test_both_printed_numbers_are_kept() -> None:
    torque = Torque.of("65 lbf·ft (88 N·m)")
    assert Torque(Fraction(65), "lbf·ft", (Fraction(88), "N·m")) == torque
    assert str(torque) == "65 lbf·ft (88 N·m)"


@pytest.mark.parametrize(("unit", "factor"), NEWTON_METRES.items())
def test_exact_factors(unit: str, factor: str) -> None:
    # The inch factor is printed to sixteen places; the foot factor is exact, and an inch is its twelfth part.
    exact = Fraction(NEWTON_METRES["lbf·ft"]) / 12 if unit == "lbf·in" else Fraction(factor)
    assert exact == Torque(1, unit).exact_newton_metres
    assert abs(Fraction(factor) - exact) < Fraction(1, 10**16)
    assert float(exact) == Torque(1, unit).newton_metres


def test_values_derived() -> None:
    # 65 x 1.355 817 948 331 400 4
    assert Fraction("88.128166641541026") == Torque.of("65 lbf·ft").exact_newton_metres
    assert Torque.of("65 lbf·ft").pound_feet == 65.0
    assert Torque.of("780 lbf·in").pound_feet == 65.0
    assert Torque.of("88 N·m").newton_metres == 88.0


PRINTED = [
    ("65 lbf·ft (≈ 88.13 N·m)", "65 lbf·ft"),
    ("130 lbf·ft (≈ 176.3 N·m)", "130 lbf·ft"),
    ("4.5 lbf·ft (≈ 6.101 N·m)", "4.5 lbf·ft"),
    # 88 / 1.355818 = 64.9054
    ("88 N·m (≈ 64.91 lbf·ft)", "88 N·m"),
    ("780 lbf·in (≈ 88.13 N·m)", "780 lbf·in"),
    ("88 N·m (65 lbf·ft)", "88 N·m (65 lbf·ft)"),
    ("7.5 lbf·ft (10 N·m)", "7-1/2 lbf·ft (10 N·m)"),
]


@pytest.mark.parametrize(("expected", "text"), PRINTED)
def test_printed(expected: str, text: str) -> None:
    assert expected == str(Torque.of(text))


REFUSED = [
    ("65", "no unit"),
    (65, "no unit"),
    ("65 ft-lb", "lb is a mass"),
    ("65 lb-ft", "lb is a mass"),
    ("65 lb·in", "lb is a mass"),
    ("65 ft lb", "lb is a mass"),
    ("65 J", "not among"),
    ("65 mm", "unit of length"),
    ("65 lbf", "unit of force"),
    ("65 kN·m", "not among"),
    ("65 LBF·FT", "capital"),
    ("65lbf·ft", "one space"),
    ("0 lbf·ft", "greater than zero"),
    ("-65 lbf·ft", "greater than zero"),
    ("nan N·m", "finite"),
    ("1,5 N·m", "comma"),
    ("99999999999 N·m", "at most"),
    ("65 lbf·ft (88 mm)", "not among"),
    ("65 lbf·ft (88 N·m) (88 N·m)", "not among"),
    ("65 lbf·ft (65 lbf·ft)", "unit of the first"),
    ("65 lbf·ft (100 N·m)", "not the first one in another unit"),
    ("65 lbf·ft (88.0 N·m", "not among"),
    (Length(5), "Length"),
    (Force(5.0), "Force"),
    (None, "NoneType"),
    (True, "bool"),
]


@pytest.mark.parametrize(("value", "reason"), REFUSED)
def test_refused(value: object, reason: str) -> None:
    with pytest.raises(InputError) as caught:
        Torque.of(value, "rows[3].torque")  # type: ignore[arg-type]
    message = str(caught.value)
    assert reason in message
    assert message.startswith("rows[3].torque")


@pytest.mark.parametrize(
    ("value", "unit", "also"),
    [
        (0, "N·m", None),
        (Fraction(-1), "N·m", None),
        (65.0, "lbf·ft", None),
        (True, "N·m", None),
        ("65", "N·m", None),
        (65, "ft-lbf", None),
        (65, None, None),
        (65, "lbf·ft", (88.0, "N·m")),
        (65, "lbf·ft", (88, "J")),
        (65, "lbf·ft", [88, "N·m"]),
        (65, "lbf·ft", (88,)),
        (65, "lbf·ft", (0, "N·m")),
    ],
)
def test_constructor_refuses(value: object, unit: object, also: object) -> None:
    with pytest.raises(InputError):
        Torque(value, unit, also)  # type: ignore[arg-type]


def test_the_greatest_number_is_the_last_that_is_taken() -> None:
    assert Torque(10**9, "N·m").newton_metres == 1e9
    with pytest.raises(InputError, match="at most 1000000000"):
        Torque(10**9 + 1, "N·m")


SECOND_NUMBERS = [
    # Whole newton metres beside whole pound-feet, as sources print them (1 lbf·ft = 1.3558 N·m).
    (True, "4.5", "6.1"),
    (True, "7.5", "10"),
    (True, "15", "20"),
    (True, "65", "88"),
    (True, "750", "1020"),
    (False, "65", "89"),
    (False, "65", "87"),
    (False, "65", "88.6"),
    (False, "7.5", "11"),
    (False, "4.5", "7"),
]


@pytest.mark.parametrize(("fits", "pound_feet", "newton_metres"), SECOND_NUMBERS)
def test_a_second_number_must_be_the_first_in_another_unit(fits: bool, pound_feet: str, newton_metres: str) -> None:
    text = f"{pound_feet} lbf·ft ({newton_metres} N·m)"
    if fits:
        assert text == str(Torque.of(text))
    else:
        with pytest.raises(InputError, match="misprint"):
            Torque.of(text)


SAME = [
    (True, "65 lbf·ft", "65 lbf·ft"),
    (True, "65 lbf·ft", "780 lbf·in"),
    (True, "65 lbf·ft (88 N·m)", "88 N·m"),
    (True, "65 lbf·ft (88 N·m)", "65 lbf·ft"),
    (True, "65 lbf·ft (88 N·m)", "88 N·m (65 lbf·ft)"),
    (True, "88 N·m (65 lbf·ft)", "65 lbf·ft"),
    (True, "780 lbf·in (88 N·m)", "65 lbf·ft (88 N·m)"),
    # A conversion that nobody prints is no agreement, and neither is a near miss.
    (False, "65 lbf·ft", "88 N·m"),
    (False, "65 lbf·ft", "65.1 lbf·ft"),
    (False, "65 lbf·ft (88 N·m)", "88.1 N·m"),
    (False, "65 lbf·ft (88 N·m)", "89 N·m"),
    (False, "65 lbf·ft (88 N·m)", "33 N·m"),
    # Two first numbers that differ are two torques, whatever both are rounded to.
    (False, "7.5 lbf·ft (10 N·m)", "7.4 lbf·ft (10 N·m)"),
]


@pytest.mark.parametrize(("same", "one", "two"), SAME)
def test_same_as(same: bool, one: str, two: str) -> None:
    first, second = Torque.of(one), Torque.of(two)
    assert same is first.same_as(second)
    assert same is second.same_as(first)


@pytest.mark.parametrize("other", ["65 lbf·ft", 65, None, Length(5)])
def test_same_as_compares_torques_only(other: object) -> None:
    with pytest.raises(InputError):
        Torque(65, "lbf·ft").same_as(other)  # type: ignore[arg-type]


numbers = st.fractions(min_value=Fraction(1, 100), max_value=10_000, max_denominator=1000)
torques = st.builds(Torque, numbers, st.sampled_from(list(NEWTON_METRES)))


@given(torques)
@settings(deadline=None)
def test_the_printed_number_reads_back(torque: Torque) -> None:
    printed, _, _ = str(torque).partition(" (≈")
    assert torque == Torque.of(printed)
    assert torque.same_as(Torque.of(printed))


@given(numbers)
@settings(deadline=None)
def test_twelve_pound_inches_are_one_pound_foot(number: Fraction) -> None:
    foot, inch = Torque(number, "lbf·ft"), Torque(12 * number, "lbf·in")
    assert foot.same_as(inch)
    assert foot != inch
    assert not foot.same_as(Torque(12 * number + Fraction(1, 1000), "lbf·in"))
