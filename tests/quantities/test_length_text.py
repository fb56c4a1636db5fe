"""Lengths as text: what is read, what is refused, what is printed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Length

READ = [
    ("1/2 in", 12_700_000),
    ("1-1/2 in", 38_100_000),
    ("1 1/2 in", 38_100_000),
    ('1 1/2"', 38_100_000),
    ('1-1/2"', 38_100_000),
    ("1 1/2″", 38_100_000),
    ('3/4 "', 19_050_000),
    ("0.75 in", 19_050_000),
    ("0.1 in", 2_540_000),
    ("9/8 in", 28_575_000),
    ("2 inches", 50_800_000),
    ("1 inch", 25_400_000),
    ("13 mm", 13_000_000),
    ("372.533334 mm", 372_533_334),
    ("2.5 cm", 25_000_000),
    ("1.2 m", 1_200_000_000),
    ("0.000001 mm", 1),
    ("40 ft", 12_192_000_000),
    ("1 foot", 304_800_000),
    ("4 ft 6 in", 1_371_600_000),
    ("4 feet 6 inches", 1_371_600_000),
    ("4 ft 6-1/2 in", 1_384_300_000),
    ("4 ft 6.5 in", 1_384_300_000),
    ("4 ft 0 in", 1_219_200_000),
    ("0 ft 6 in", 152_400_000),
    ("1 ft 11-63/64 in", 609_203_125),
    ("11-1/2 in (292.1 mm)", 292_100_000),
    ("1000000 m", 10**15),
]


@pytest.mark.parametrize(("text", "nanometres"), READ)
def test_read(text: str, nanometres: int) -> None:
    assert Length(nanometres) == Length.of(text)


REFUSED = [
    # bare numbers
    ("5", "no unit"),
    ("1/2", "no unit"),
    ("1-1/2", "no unit"),
    (5, "no unit"),
    (0.75, "no unit"),
    # signs, zero, not finite
    ("0 in", "greater than zero"),
    ("0.0 mm", "greater than zero"),
    ("0 ft 0 in", "greater than zero"),
    ("-1 in", "greater than zero"),
    ("−1 in", "greater than zero"),
    ("+1 in", "without a sign"),
    ("nan mm", "finite"),
    ("NaN in", "finite"),
    ("inf mm", "finite"),
    ("-inf mm", "finite"),
    ("infinity mm", "finite"),
    # separators of other places
    ("1,5 mm", "comma"),
    ("1,000 mm", "comma"),
    ("1 000 mm", "'1 000'"),
    ("1_000 mm", "not among"),
    ("1'000 mm", "foot mark"),
    ("1.000.000 mm", "'1.000.000'"),
    # fractions in one character, and fractions that are none
    ("½ in", "one character"),
    ("1½ in", "one character"),
    ("1 ½ in", "one character"),
    ("1⁄2 in", "one character"),
    ("1/0 in", "'1/0'"),
    ("0/4 in", "'0/4'"),
    ("1-0/2 in", "'1-0/2'"),
    ("1-3/2 in", "'1-3/2'"),
    ("0-1/2 in", "'0-1/2'"),
    ("1/2/3 in", "'1/2/3'"),
    ("1.5/2 in", "'1.5/2'"),
    ("1/2.5 in", "'1/2.5'"),
    ("1-1-1/2 in", "'1-1-1/2'"),
    ("1 - 1/2 in", "'1 - 1/2'"),
    ("1  1/2 in", "'1  1/2'"),
    ("1–1/2 in", "not among"),
    # decimals that may have lost something
    (".75 in", "'.75'"),
    ("5. mm", "'5.'"),
    ("007 mm", "'007'"),
    ("00.5 mm", "'00.5'"),
    ("1e3 mm", "not among"),
    ("1E3 mm", "not among"),
    ("0x10 mm", "not among"),
    ("9**9**9 mm", "not among"),
    ("１３ mm", "begin with a number"),
    ("1² mm", "not among"),
    # units
    ("13mm", "one space"),
    ("1/2in", "one space"),
    ("13  mm", "one space"),
    ("13\u00a0mm", "not among"),
    ("13\tmm", "not among"),
    ("13 MM", "capital"),
    ("13 Mm", "capital"),
    ("1 In", "capital"),
    ("1 in.", "not among"),
    ("1''", "foot mark"),
    ("5'", "foot mark"),
    ("4' 6\"", "foot mark"),
    ("5 km", "not among"),
    ("5 yd", "not among"),
    ("5 kN", "unit of force"),
    ("65 lbf·ft", "unit of torque"),
    ("5 kg", "unit of mass"),
    ("60 deg", "unit of angle"),
    ("80 %", "unit of percentage"),
    ("mm", "begin with a number"),
    ("in 5", "begin with a number"),
    # feet and inches
    ("4 ft 12 in", "less than twelve"),
    ("4 ft 18 in", "less than twelve"),
    ("4 ft 6", "less than twelve"),
    ("4 ft 6 mm", "less than twelve"),
    ("4.5 ft 6 in", "not among"),
    ("4 ft 6 in 2 in", "less than twelve"),
    # not exact, or too much
    ("1/3 in", "whole number of nanometres"),
    ("0.0000001 mm", "whole number of nanometres"),
    ("1 ft 1/3 in", "whole number of nanometres"),
    ("1000000.1 m", "longer than any rope"),
    ("9" * 61 + " mm", "longer than any rope"),
    # printed in two units
    ("11-1/2 in (292.2 mm)", "not the same"),
    ("13 mm (≈ 0.5118 in)", "not among"),
    ("1 in (1 in (1 in))", "not among"),
    ("1 in (25.4 mm", "not among"),
    # shape
    ("", "empty"),
    (" ", "empty"),
    (" 5 mm", "spaces"),
    ("5 mm ", "spaces"),
    ("1" * 62 + " mm", "64"),
    ("1" * 100_000, "64"),
    (None, "NoneType"),
    (True, "bool"),
    (b"5 mm", "bytes"),
    ([5, "mm"], "list"),
    (5 + 0j, "complex"),
    (Fraction(1, 2), "Fraction"),
]


@pytest.mark.parametrize(("value", "reason"), REFUSED)
def test_refused_with_the_reason_and_the_accepted_forms(value: object, reason: str) -> None:
    with pytest.raises(InputError) as caught:
        Length.of(value, "base_width")  # type: ignore[arg-type]
    message = str(caught.value)
    assert reason in message
    assert message.startswith("base_width: ")
    assert caught.value.field == "base_width"
    # A value that is read and then found unfit is told what to do; a form that is not read is shown those that are.
    if "not the same" not in reason:
        assert all(form in message for form in ("'1/2 in'", "'4 ft 6 in'", "'13 mm'"))


@pytest.mark.parametrize("count", [0, -1])
def test_a_length_that_is_no_size_is_refused_at_the_door(count: int) -> None:
    with pytest.raises(InputError, match="greater than zero"):
        Length.of(Length(count))


def test_a_length_passes_the_door_unchanged() -> None:
    length = Length(5)
    assert length is Length.of(length)


PRINTED = [
    # nanometres, str, in, mm, both
    (292_100_000, "11-1/2 in (292.1 mm)", "11-1/2 in", "292.1 mm", "11-1/2 in (292.1 mm)"),
    (19_050_000, "3/4 in (19.05 mm)", "3/4 in", "19.05 mm", "3/4 in (19.05 mm)"),
    (127_000_000, "5 in (127 mm)", "5 in", "127 mm", "5 in (127 mm)"),
    (396_875, "1/64 in (0.396875 mm)", "1/64 in", "0.396875 mm", "1/64 in (0.396875 mm)"),
    # 13 / 25.4 = 0.511811...
    (13_000_000, "13 mm", "≈ 0.5118 in", "13 mm", "13 mm (≈ 0.5118 in)"),
    # 372.533334 / 25.4 = 14.66666669...
    (372_533_334, "372.533334 mm", "≈ 14.6667 in", "372.533334 mm", "372.533334 mm (≈ 14.6667 in)"),
    (2_540_000, "2.54 mm", "0.1 in", "2.54 mm", "2.54 mm (0.1 in)"),
    # 1e-6 / 25.4 = 3.937e-8
    (1, "0.000001 mm", "≈ 0.00000004 in", "0.000001 mm", "0.000001 mm (≈ 0.00000004 in)"),
    (0, "0 in (0 mm)", "0 in", "0 mm", "0 in (0 mm)"),
    (-38_100_000, "-1-1/2 in (-38.1 mm)", "-1-1/2 in", "-38.1 mm", "-1-1/2 in (-38.1 mm)"),
    (-13_000_000, "-13 mm", "≈ -0.5118 in", "-13 mm", "-13 mm (≈ -0.5118 in)"),
]


@pytest.mark.parametrize(("count", "plain", "inches", "millimetres", "both"), PRINTED)
def test_printed(count: int, plain: str, inches: str, millimetres: str, both: str) -> None:
    length = Length(count)
    assert (plain, inches, millimetres, both) == (
        str(length),
        length.text("in"),
        length.text("mm"),
        length.text("both"),
    )
    assert both == length.text()


def test_printing_in_an_unknown_form() -> None:
    with pytest.raises(InputError, match="form"):
        Length(5).text("cm")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="form"):
        Length(5).text("exact")  # type: ignore[arg-type]


def test_a_length_takes_a_format() -> None:
    assert f"{Length.of('13 mm'):>10}" == "     13 mm"


@given(st.integers(1, 10**15))
@settings(deadline=None)
def test_print_and_read_give_the_same_length(count: int) -> None:
    length = Length(count)
    assert length == Length.of(str(length)) == Length.of(length.text("mm"))


@given(st.integers(1, 64 * 36_000))
@settings(deadline=None)
def test_tape_fractions_print_and_read_the_same(sixty_fourths: int) -> None:
    length = Length(sixty_fourths * 396_875)
    assert length == Length.of(length.text("in"))
    assert str(length) == str(Length.of(str(length)))


@given(st.integers(0, 500), st.integers(0, 64 * 12 - 1).filter(bool))
@settings(deadline=None)
def test_feet_and_inches_add_up(feet: int, sixty_fourths: int) -> None:
    inches = Length(sixty_fourths * 396_875)
    assert Fraction(feet * 12) + Fraction(sixty_fourths, 64) == Length.of(f"{feet} ft {inches.text('in')}").inches


@given(st.integers(1, 10**15))
@settings(deadline=None)
def test_decimal_inches_are_right_to_half_the_last_place(count: int) -> None:
    text = Length(count).text("in")
    if text.startswith("≈ "):
        number = text.removeprefix("≈ ").removesuffix(" in")
        places = len(number.partition(".")[2])
        assert abs(Fraction(number) - Fraction(count, 25_400_000)) <= Fraction(1, 2 * 10**places)
