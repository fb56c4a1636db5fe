from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import number_text, parse_number, percent, percent_text

PRINTED = [
    (Fraction(4, 5), "80 %"),
    (Fraction(37, 40), "92.5 %"),
    (Fraction(1), "100 %"),
    (Fraction(0), "0 %"),
    (Fraction(1, 8), "12.5 %"),
    (Fraction(21, 20), "105 %"),
]


@pytest.mark.parametrize(("ratio", "text"), PRINTED)
def test_percent(ratio: Fraction, text: str) -> None:
    assert ratio == percent(text)
    assert text == percent_text(ratio)


def test_percent_that_never_ends_is_marked() -> None:
    assert percent_text(Fraction(1, 3)) == "≈ 33.33 %"
    assert percent_text(Fraction(2, 3)) == "≈ 66.67 %"


@pytest.mark.parametrize("text", ["80", "0.8", "80 percent", "-5 %", "80  %", "% 80", "80 %%", "", "nan %", "80,5 %"])
def test_percent_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"efficiency: .*'80 %'"):
        percent(text, "efficiency")


@pytest.mark.parametrize("ratio", [0.8, True, "80 %", None])
def test_percent_text_takes_exact_ratios_only(ratio: object) -> None:
    with pytest.raises(InputError, match="ratio"):
        percent_text(ratio)  # type: ignore[arg-type]


@given(st.integers(0, 10**6), st.integers(0, 4))
@settings(deadline=None)
def test_percentages_print_and_read_the_same(count: int, places: int) -> None:
    ratio = Fraction(count, 10**places)
    assert ratio == percent(percent_text(ratio))


@given(st.fractions(min_value=0, max_value=10**6, max_denominator=10**6))
@settings(deadline=None)
def test_numbers_print_and_read_the_same(number: Fraction) -> None:
    assert number == parse_number(number_text(number))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("4.5", Fraction(9, 2)),
        ("65", Fraction(65)),
        ("0.05", Fraction(1, 20)),
        ("1/3", Fraction(1, 3)),
        ("2-1/3", Fraction(7, 3)),
        ("-0.5", Fraction(-1, 2)),
        ("0", Fraction(0)),
    ],
)
def test_number_text(text: str, number: Fraction) -> None:
    assert text == number_text(number)
