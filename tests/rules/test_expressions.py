"""The closed grammars of a rule file."""

from __future__ import annotations

import contextlib
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.model.sources import user_citation
from turnback.quantities import Length
from turnback.rules.expressions import read_count_rule, read_linear_length, read_size_range
from turnback.rules.ruleset import CountRule, LinearLength

INCH = 25_400_000  # NIST SP 811: an inch is 25.4 mm


def in_inches(value: Fraction) -> Length:
    return Length.nearest(value * INCH)


def test_count_of_navedtra_14026() -> None:
    # NAVEDTRA 14026, page 1-8: 3 D + 1, the next whole number up. It prints 4 clips at 1 in and 3 at 1/2 in.
    per_inch, plus = read_count_rule("3 per inch, plus 1, rounded up")
    assert (Fraction(3), 1) == (per_inch, plus)
    cite = user_citation("test")
    rule = CountRule(per_inch, plus, Length.of("1/8 in"), Length.of("3-1/2 in"), cite, cite, "")
    assert rule.count(Length.of("1 in")) == 4
    assert rule.count(Length.of("1/2 in")) == 3


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3 per inch, rounded up", (Fraction(3), 0)),
        ("2.5 per inch, plus 2, rounded up", (Fraction(5, 2), 2)),
        ("1-1/2 per inch, plus 99, rounded up", (Fraction(3, 2), 99)),
        ("1 1/2 per inch, plus 9, rounded up", (Fraction(3, 2), 9)),
    ],
)
def test_count_forms(text: str, expected: tuple[Fraction, int]) -> None:
    assert expected == read_count_rule(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "3 per inch",
        "3 per inch, plus 1",
        "3 per inch plus 1, rounded up",
        "3 per inch, plus 0, rounded up",
        "3 per inch, plus 1.5, rounded up",
        "3 per inch, plus 100, rounded up",
        "3 per inch, minus 1, rounded up",
        "0 per inch, plus 1, rounded up",
        "-3 per inch, rounded up",
        "3e0 per inch, rounded up",
        "٣ per inch, rounded up",
        "3 per mm, rounded up",
        "3 per inch, rounded down",
        "3 per inch, rounded up ",
        "3 per inch, rounded up\n",
        "3/0 per inch, rounded up",
        "9" * 300 + " per inch, rounded up",
        "__import__('os') per inch, rounded up",
    ],
)
def test_count_refuses(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_count_rule(text, "count.rule")
    assert caught.value.field == "count.rule"
    assert caught.value.instead


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("6 diameters", (Fraction(6), Fraction(0), 0)),
        ("1 diameter", (Fraction(1), Fraction(0), 0)),
        ("1.5 base widths", (Fraction(0), Fraction(3, 2), 0)),
        ("1/2 base width", (Fraction(0), Fraction(1, 2), 0)),
        ("25 mm", (Fraction(0), Fraction(0), 25_000_000)),
        ("6 diameters + 1 in", (Fraction(6), Fraction(0), INCH)),
        ("1 in + 2 base widths + 0.1 diameters", (Fraction(1, 10), Fraction(2), INCH)),
    ],
)
def test_linear_forms(text: str, expected: tuple[Fraction, Fraction, int]) -> None:
    found = read_linear_length(text)
    assert expected == (found.diameters, found.base_widths, found.constant.nanometres)
    assert text == found.text


def test_spacing_of_table_h2_is_six_diameters() -> None:
    # 29 CFR 1926.251, Table H-2: every printed spacing is 6 rope diameters (rows other than 1/2 in from memory).
    rule = read_linear_length("6 diameters")
    printed = {"1/2": "3", "5/8": "3-3/4", "3/4": "4-1/2", "7/8": "5-1/4", "1": "6", "1-1/8": "6-3/4", "1-1/2": "9"}
    for size, spacing in printed.items():
        assert Length.of(f"{spacing} in").nanometres == rule.nanometres(Length.of(f"{size} in"), None)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "6",
        "diameters",
        "6diameters",
        "6 diameter s",
        "0 diameters",
        "-6 diameters",
        "6 diameters+1 in",
        "6 diameters + ",
        "6 diameters + 2 diameters",
        "1 base width + 2 base widths",
        "1 in + 1 in",
        "0 in",
        "6 D",
        "6 diameters - 1 in",
        "6 * diameters",
        "nan diameters",
        "1e3 diameters",
        "x" * 300,
    ],
)
def test_linear_refuses(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_linear_length(text, "spacing.least")
    assert caught.value.field == "spacing.least"


NUMBERS = st.one_of(
    st.integers(1, 99).map(lambda n: (str(n), Fraction(n))),
    st.tuples(st.integers(0, 9), st.integers(1, 99)).map(
        lambda p: (f"{p[0]}.{p[1]:02}", Fraction(100 * p[0] + p[1], 100))
    ),
    st.tuples(st.integers(1, 9), st.integers(1, 15)).map(
        lambda p: (f"{p[0]}-{p[1]}/16", Fraction(16 * p[0] + p[1], 16))
    ),
)


@settings(deadline=None)
@given(NUMBERS, NUMBERS, NUMBERS, st.permutations(range(3)))
def test_a_sum_means_the_same_in_any_order(
    d: tuple[str, Fraction], b: tuple[str, Fraction], c: tuple[str, Fraction], order: list[int]
) -> None:
    terms = [f"{d[0]} diameters", f"{b[0]} base widths", f"{c[0]} in"]
    found = read_linear_length(" + ".join(terms[i] for i in order))
    assert LinearLength(d[1], b[1], in_inches(c[1]), found.text) == found
    # Exact: one diameter of 1 in and one base width of 2 in.
    expected = (d[1] + 2 * b[1] + c[1]) * INCH
    assert expected == found.nanometres(Length.of("1 in"), Length.of("2 in"))
    assert found.nanometres(Length.of("1 in"), None) is None


@pytest.mark.parametrize(
    ("text", "least", "greatest"),
    [
        ("1/8 in to 3-1/2 in", "1/8 in", "3-1/2 in"),
        ("8 mm to 8 mm", "8 mm", "8 mm"),
        ("10 mm to 1 in", "10 mm", "1 in"),
        ("up to 1-1/2 in", None, "1-1/2 in"),
        ("from 1 in", "1 in", None),
    ],
)
def test_range_forms(text: str, least: str | None, greatest: str | None) -> None:
    expected = tuple(None if end is None else Length.of(end) for end in (least, greatest))
    assert expected == read_size_range(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "1 in",
        "to",
        " to ",
        "1 in to",
        "1/8 to 7/8 in",
        "1 in to 1/2 in",
        "up to",
        "from 1",
        "from 1 in to 2 in",
        "1 in - 2 in",
    ],
)
def test_range_refuses(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_size_range(text, "scope[0].sizes")
    assert caught.value.field == "scope[0].sizes"


@settings(deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (read_count_rule, read_linear_length, read_size_range):
        with contextlib.suppress(InputError):
            assert read(text)


def test_a_count_for_every_size_grows_by_nothing() -> None:
    assert (Fraction(0), 1) == read_count_rule("1 for every size")
    with pytest.raises(InputError):
        read_count_rule("0 for every size")
