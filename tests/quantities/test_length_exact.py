"""Exactness of lengths.

Factors: NIST SP 811, Appendix B (1 in = 25.4 mm, 1 ft = 304.8 mm). Everything else is arithmetic with fractions.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, THIRTY_SECOND, Length, Rounding

counts = st.integers(-(10**15), 10**15)
positive_counts = st.integers(1, 10**15)
ratios = st.fractions(min_value=-1000, max_value=1000, max_denominator=10**6)


def test_three_quarter_inch_is_19_05_mm() -> None:
    assert Length.of("19.05 mm") == Length.of("3/4 in")


def test_six_times_three_quarter_inch_is_four_and_a_half_inches() -> None:
    assert Length.of("4-1/2 in") == 6 * Length.of("3/4 in") == Length.of("3/4 in") * 6


@pytest.mark.parametrize(
    ("nanometres", "text"),
    [
        (25_400_000, "1 in"),
        (396_875, "1/64 in"),
        (304_800_000, "1 ft"),
        (1_000_000, "1 mm"),
        (10_000_000, "1 cm"),
        (1_000_000_000, "1 m"),
    ],
)
def test_factor(nanometres: int, text: str) -> None:
    assert nanometres == Length.of(text).nanometres


def test_every_sixty_fourth_to_eight_inches() -> None:
    for sixty_fourths in range(1, 513):
        inches = Fraction(sixty_fourths, 64)
        whole, rest = divmod(inches, 1)
        mixed = f"{whole}-{rest}" if whole and rest else str(inches)
        decimal = f"{sixty_fourths / 64:.6f}"  # 1/64 = 0.015625 has six places
        expected = inches * 254 / 10
        assert expected == Length.of(f"{mixed} in").millimetres
        assert expected == Length.of(f"{decimal} in").millimetres
        assert expected == Length.of(f'{mixed.replace("-", " ")}"').millimetres
        assert inches == Length.of(f"{mixed} in").inches


def test_every_tenth_of_a_millimetre_to_200_mm() -> None:
    for tenths in range(1, 2001):
        assert tenths * 100_000 == Length.of(f"{tenths // 10}.{tenths % 10} mm").nanometres


def test_graduations() -> None:
    assert Length.of("1/16 in") == SIXTEENTH
    assert Length.of("1/32 in") == THIRTY_SECOND
    assert Length.of("1/64 in") == SIXTY_FOURTH
    assert Length.of("1 mm") == MILLIMETRE


@given(counts, counts)
@settings(deadline=None)
def test_sums_and_order_are_those_of_the_counts(one: int, two: int) -> None:
    first, second = Length(one), Length(two)
    assert one + two == (first + second).nanometres
    assert one - two == (first - second).nanometres
    assert -one == (-first).nanometres
    assert abs(one) == abs(first).nanometres
    assert (one < two, one <= two, one > two, one >= two, one == two, one != two) == (
        first < second,
        first <= second,
        first > second,
        first >= second,
        first == second,
        first != second,
    )


@given(counts, st.integers(-1000, 1000))
@settings(deadline=None)
def test_whole_multiples(count: int, times: int) -> None:
    assert count * times == (Length(count) * times).nanometres == (times * Length(count)).nanometres


@given(counts, counts.filter(bool))
@settings(deadline=None)
def test_ratio_is_exact(one: int, two: int) -> None:
    assert Fraction(one, two) == Length(one) / Length(two)


def test_ratio_to_nothing() -> None:
    with pytest.raises(ZeroDivisionError):
        Length(1) / Length(0)


@given(ratios)
@settings(deadline=None)
def test_rounding_goes_the_stated_way(count: Fraction) -> None:
    assert math.ceil(count) == Length.up(count).nanometres
    assert math.floor(count) == Length.down(count).nanometres
    nearest = Length.nearest(count).nanometres
    assert abs(nearest - count) <= Fraction(1, 2)


@pytest.mark.parametrize(
    ("expected", "count"),
    [
        (1, 0.5),
        (-1, -0.5),
        (2, 1.5),
        (3, 2.5),
        (-3, -2.5),
        (0, 0.49999999999999994),
        (2251799813685249, 2251799813685248.5),
    ],
)
def test_ties_go_away_from_zero(expected: int, count: float) -> None:
    assert expected == Length.nearest(count).nanometres
    assert expected == Length.nearest(Fraction(count)).nanometres


@given(st.floats(-(2.0**60), 2.0**60))
@settings(deadline=None)
def test_nearest_of_a_float_is_nearest_of_its_exact_value(count: float) -> None:
    assert Length.nearest(Fraction(count)) == Length.nearest(count)


@given(counts, ratios)
@settings(deadline=None)
def test_times_rounds_once(count: int, ratio: Fraction) -> None:
    length = Length(count)
    assert math.ceil(count * ratio) == length.times(ratio, "up").nanometres
    assert math.floor(count * ratio) == length.times(ratio, "down").nanometres
    assert abs(length.times(ratio, "nearest").nanometres - count * ratio) <= Fraction(1, 2)


@given(positive_counts, st.sampled_from([SIXTEENTH, THIRTY_SECOND, SIXTY_FOURTH, MILLIMETRE]))
@settings(deadline=None)
def test_tape_brackets_the_length(count: int, step: Length) -> None:
    length = Length(count)
    up, down, near = (length.tape(step, way) for way in ("up", "down", "nearest"))
    assert down <= length <= up
    assert up - down in (Length(0), step)
    assert near in (up, down)
    assert abs(near - length) * 2 <= step
    assert Fraction(0) == (up / step) % 1 == (down / step) % 1


@pytest.mark.parametrize(
    ("expected", "text", "step", "rounding"),
    [
        # 372.533334 mm is 14.6667 in, between 14-10/16 and 14-11/16.
        ("14-11/16 in", "372.533334 mm", SIXTEENTH, "up"),
        ("14-5/8 in", "372.533334 mm", SIXTEENTH, "down"),
        ("14-11/16 in", "372.533334 mm", SIXTEENTH, "nearest"),
        ("373 mm", "372.533334 mm", MILLIMETRE, "up"),
        ("372 mm", "372.533334 mm", MILLIMETRE, "down"),
        ("3/4 in", "19.05 mm", SIXTY_FOURTH, "up"),
    ],
)
def test_tape_examples(expected: str, text: str, step: Length, rounding: Rounding) -> None:
    assert Length.of(expected) == Length.of(text).tape(step, rounding)


@pytest.mark.parametrize("count", [True, 1.0, "1", None, Fraction(1), 1 + 0j])
def test_a_count_is_an_int(count: object) -> None:
    with pytest.raises(InputError, match="int"):
        Length(count)  # type: ignore[arg-type]


@pytest.mark.parametrize("number", [True, 0.5, "1", None, math.nan])
@pytest.mark.parametrize("way", [Length.up, Length.down])
def test_directed_rounding_takes_exact_numbers_only(number: object, way: object) -> None:
    with pytest.raises(InputError, match="Fraction"):
        way(number)  # type: ignore[operator]


@pytest.mark.parametrize("number", [True, "1", None, math.nan, math.inf, -math.inf])
def test_nearest_takes_finite_numbers_only(number: object) -> None:
    with pytest.raises(InputError):
        Length.nearest(number)  # type: ignore[arg-type]


@pytest.mark.parametrize("ratio", [0.8, True, "4/5"])
def test_times_takes_exact_ratios_only(ratio: object) -> None:
    with pytest.raises(InputError, match="ratio"):
        Length(5).times(ratio, "up")  # type: ignore[arg-type]


def test_unknown_rounding_is_refused() -> None:
    with pytest.raises(InputError, match="rounding"):
        Length(5).times(Fraction(1, 2), "even")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="rounding"):
        Length(5).tape(SIXTEENTH, "even")  # type: ignore[arg-type]


@pytest.mark.parametrize("step", [Length(0), Length(-1), 5, "1/16 in", None])
def test_a_graduation_is_a_length_above_zero(step: object) -> None:
    with pytest.raises(InputError, match="graduation"):
        Length(5).tape(step, "up")  # type: ignore[arg-type]
