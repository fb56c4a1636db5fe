"""The grammar is total: any text gives a value or an InputError, and the same one as a second reading of the rules.

The second reading is a set of regular expressions written from the grammar's description, with fractions for values.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, Torque, parse_number, percent

READERS: list[Callable[[str], object]] = [
    Length.of,
    Torque.of,
    Force.of,
    Mass.of,
    MassPerLength.of,
    Angle.of,
    percent,
    parse_number,
]

WHOLE = r"(?:0|[1-9][0-9]*)"
NUMBER = rf"(?:(?:[1-9][0-9]*[- ])?[1-9][0-9]*/[1-9][0-9]*|{WHOLE}(?:\.[0-9]+)?)"
MILLIMETRES = {"mm": 1, "cm": 10, "m": 1000}
INCHES = {"in": 1, "inch": 1, "inches": 1, "ft": 12, "foot": 12, "feet": 12}
ONE = re.compile(rf"({NUMBER})(?: (mm|cm|m|in|inch|inches|ft|foot|feet)| ?[\"″])")
FEET = re.compile(rf"({WHOLE}) (?:ft|foot|feet) ({NUMBER}) (?:in|inch|inches)")


def second_number(text: str) -> Fraction | None:
    if not re.fullmatch(NUMBER, text):
        return None
    if "/" not in text:
        return Fraction(text)
    *whole, fraction = re.split("[- ]", text)
    if whole and Fraction(fraction) >= 1:
        return None
    return Fraction(fraction) + sum(map(Fraction, whole), Fraction(0))


def second_part(text: str) -> Fraction | None:
    """Read one length as millimetres."""
    if found := FEET.fullmatch(text):
        inches = second_number(found[2])
        return None if inches is None or inches >= 12 else (Fraction(found[1]) * 12 + inches) * Fraction(254, 10)
    if found := ONE.fullmatch(text):
        number = second_number(found[1])
        if number is None:
            return None
        unit = found[2] or "in"
        return number * MILLIMETRES[unit] if unit in MILLIMETRES else number * INCHES[unit] * Fraction(254, 10)
    return None


def second_length(text: str) -> int | None:
    """Read a length as nanometres."""
    if len(text) > 64:
        return None
    value = second_part(text)
    if value is None and (found := re.fullmatch(r"([^(]*) \(([^(]*)\)", text)):
        value, other = second_part(found[1]), second_part(found[2])
        if value != other:
            return None
    if value is None or not 0 < value <= 10**9 or (value * 10**6).denominator != 1:
        return None
    return int(value * 10**6)


digits = st.integers(0, 99).map(str)
numbers = st.one_of(
    digits,
    st.builds("{}.{}".format, digits, digits),
    st.builds("{}/{}".format, digits, st.sampled_from(["0", "2", "3", "4", "8", "16", "32", "64"])),
    st.builds("{}{}{}/{}".format, digits, st.sampled_from(["-", " ", "  ", "–"]), digits, st.sampled_from(["2", "64"])),
)
units = st.sampled_from(
    ["in", "inch", "inches", '"', "″", "ft", "feet", "foot", "mm", "cm", "m", "km", "kN", "MM", "'", "", "lbf·ft", "%"]
)
parts = st.builds("{}{}{}".format, numbers, st.sampled_from([" ", " ", " ", "", "  "]), units)
likely = st.one_of(
    parts,
    st.builds("{} {}".format, parts, parts),
    st.builds("{} ({})".format, parts, parts),
    st.text(alphabet="0123456789./- \"″'inchmftec()½,·", max_size=20),
)


@given(likely)
@settings(deadline=None, max_examples=500)
@example("1 ft 1 in (330.2 mm)")
@example("13 in (1 ft 1 in)")
@example("1-1/2 in (1 1/2 in)")
@example("1-1/2 in (1-1/2 in) (1-1/2 in)")
def test_a_length_reads_as_the_second_reading_has_it(text: str) -> None:
    expected = second_length(text)
    if expected is None:
        with pytest.raises(InputError):
            Length.of(text)
    else:
        assert expected == Length.of(text).nanometres


@given(st.one_of(numbers, st.text(alphabet="0123456789./- e_+½", max_size=12)))
@settings(deadline=None, max_examples=300)
def test_a_number_reads_as_the_second_reading_has_it(text: str) -> None:
    expected = second_number(text)
    if expected is None:
        with pytest.raises(InputError):
            parse_number(text)
        with pytest.raises(InputError):
            percent(f"{text} %")
    else:
        assert expected == parse_number(text)
        assert expected / 100 == percent(f"{text} %") == percent(f"{text}%")


near = st.text(alphabet="0123456789./-() lbfkgNmtonfip·⋅%°raddeg\x00\n\u00a0", max_size=70)


@pytest.mark.parametrize("reader", READERS)
@given(text=st.one_of(st.text(), likely, near))
@settings(deadline=None)
def test_any_text_gives_a_value_or_an_input_error(reader: Callable[[str], object], text: str) -> None:
    try:
        value = reader(text)
    except InputError:
        return
    assert type(value) in (Length, Torque, Force, Mass, MassPerLength, Angle, Fraction)


HOSTILE = [
    "9**9**9 mm",
    "(" * 64,
    ("(" * 100_000),
    "1/" * 32,
    "1-" * 32,
    " " * 64,
    " (" * 32,
    "1 in (" * 10 + ")",
    "9" * 64,
    "9" * 10**6 + " mm",
    "0." + "0" * 56 + "1 mm",
    "1/" + "9" * 58 + " mm",
    "__import__('os') mm",
    "1 mm\x00",
    "\ud800 mm",
    "٣ mm",
    "Ⅳ in",
    "{} mm",
    "%s mm",
]


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("reader", READERS)
def test_hostile_text_is_refused(reader: Callable[[str], object], text: str) -> None:
    if text == "9" * 64 and reader is parse_number:
        assert reader(text) == 10**64 - 1
        return
    with pytest.raises(InputError) as caught:
        reader(text)
    assert len(str(caught.value)) < 600


@pytest.mark.parametrize("value", [None, 5, 0.5, True, b"5 mm", ["5 mm"], Length(5), object])
@pytest.mark.parametrize("reader", [reader for reader in READERS if reader is not Length.of])
def test_what_is_no_text_is_refused(reader: Callable[[object], object], value: object) -> None:
    with pytest.raises(InputError):
        reader(value)


def test_a_value_whose_repr_fails_is_refused_like_any_other() -> None:
    class Hostile:
        def __repr__(self) -> str:
            raise RuntimeError

    with pytest.raises(InputError, match="repr fails"):
        Length.of(Hostile())  # type: ignore[arg-type]


def test_text_of_a_subclass_is_text() -> None:
    class Name(str):
        __slots__ = ()

    assert Length.of("13 mm") == Length.of(Name("13 mm"))


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        (Fraction(23, 2), "11-1/2"),
        (Fraction(3, 2), "1 1/2"),
        (Fraction(3, 4), "0.75"),
        (Fraction(2), "2"),
        (Fraction(0), "0"),
        (Fraction(1, 3), "1/3"),
        (Fraction(45), "45"),
    ],
)
def test_numbers(expected: Fraction, text: str) -> None:
    assert expected == parse_number(text)


@pytest.mark.parametrize("text", ["2 in", "", "-1", "1e3", "1,5", "½", "1½", " 2", "nan", "2-", ".5", "01"])
def test_numbers_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"rows\[3\]\.count: .*'1-1/2'"):
        parse_number(text, "rows[3].count")
