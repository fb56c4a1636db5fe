"""The layout, exactly: laid out clip by clip with integers, and its laws in fractions."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.mechanics import (
    clear_gap,
    cut_length,
    far_edge,
    near_edge,
    on_live_part,
    overlap_for_spacing,
    saddle_centre,
    spacing_in_overlap,
    spacing_in_turn_back,
    strip_length_one_run,
    turn_back_for_spacing,
    turn_back_in_proportion,
)

INCH = 25_400_000  # nanometres, exactly
exactly = settings(deadline=None, max_examples=300)
counts = st.integers(2, 24)
base_widths = st.integers(1_000_000, 200_000_000)
spacings = st.integers(2_000_000, 800_000_000)


def laid_out(b: int, n: int, s: int) -> list[tuple[int, int]]:
    """Both edges of every saddle, set one after another as a rigger would: one base width from the dead end, then s."""
    edges = []
    place = b
    for _ in range(n):
        edges.append((place, place + b))
        place += s
    return edges


@exactly
@given(base_widths, counts, spacings)
def test_edges_and_turn_back_are_those_laid_out_clip_by_clip(b: int, n: int, s: int) -> None:
    clips = laid_out(b, n, s)

    assert clips == [(near_edge(i, b, s), far_edge(i, b, s)) for i in range(n)]
    assert clips[-1][1] == turn_back_for_spacing(b, n, s)
    assert clips[1][0] - clips[0][1] == clear_gap(b, s)
    assert [Fraction(near + far, 2) for near, far in clips] == [
        saddle_centre(i, Fraction(b), Fraction(s)) for i in range(n)
    ]


@exactly
@given(base_widths, counts, spacings)
def test_spacing_and_turn_back_are_inverse(b: int, n: int, s: int) -> None:
    turn_back = turn_back_for_spacing(b, n, s)
    overlap = overlap_for_spacing(b, n, s)

    assert s == spacing_in_turn_back(Fraction(turn_back), Fraction(b), n)
    assert s == spacing_in_overlap(Fraction(overlap), Fraction(b), n)


@exactly
@given(base_widths, counts, st.fractions(1, 10_000_000_000))
def test_clips_set_evenly_in_any_turn_back_end_at_the_base_of_the_eye(b: int, n: int, turn_back: Fraction) -> None:
    width = Fraction(b)

    assert turn_back == far_edge(n - 1, width, spacing_in_turn_back(turn_back, width, n))


@exactly
@given(base_widths, counts, spacings)
def test_a_lap_splice_looks_the_same_from_either_dead_end(b: int, total: int, s: int) -> None:
    width, spacing = Fraction(b), Fraction(s)
    overlap = overlap_for_spacing(width, total, spacing)
    centres = [saddle_centre(i, width, spacing) for i in range(total)]

    assert centres == [overlap - centre for centre in reversed(centres)]
    assert b == overlap - far_edge(total - 1, width, spacing)


@exactly
@given(base_widths, st.integers(1, 24), spacings)
def test_one_more_clip_takes_one_more_spacing(b: int, n: int, s: int) -> None:
    assert s == turn_back_for_spacing(b, n + 1, s) - turn_back_for_spacing(b, n, s)


def test_one_clip_has_one_base_width_beyond_it() -> None:
    assert 2 * INCH == turn_back_for_spacing(INCH, 1, 6 * INCH)


def test_turn_back_in_proportion() -> None:
    # TM 5-3810-305-10, Table 6 and notes, 1/2 in mirrored saddle: 11 in for 3 clips; a pulley makes it 4. Derived:
    # 11 x 4/3 in, which is no whole number of nanometres.
    actual = turn_back_in_proportion(Fraction(11 * INCH), 4, 3)

    assert Fraction(44, 3) == actual / INCH
    assert 3 == actual.denominator


def test_strip_length_is_where_the_dead_end_comes_to_lie() -> None:
    # Out 300, round 250, back 300: the strip ends where the dead end lies, and the base of the eye is at 550.
    assert 850 == strip_length_one_run(300, 250)
    assert 850 == on_live_part(0, 300, 250)
    assert 550 == on_live_part(300, 300, 250)
    # A clip 40 from the dead end grips the live part 40 short of that.
    assert 810 == on_live_part(40, 300, 250)


def test_cut_length_of_whole_numbers() -> None:
    # 10 000 between the pins; the eyes reach 100 and 150; 240 and 370 of rope in them; 300 and 400 turned back.
    assert 11_060 == cut_length(10_000, 100, 150, 240, 370, 300, 400)


def test_arrays_of_whole_nanometres_stay_whole() -> None:
    b, n, s = np.array([INCH, 2 * INCH]), np.array([3, 4]), np.array([3 * INCH, 5 * INCH])

    # 2 x 1 + 2 x 3 = 8 in; 2 x 2 + 3 x 5 = 19 in.
    actual = turn_back_for_spacing(b, n, s)

    assert [8 * INCH, 19 * INCH] == actual.tolist()
    assert np.issubdtype(actual.dtype, np.integer)


def test_floats_of_whole_nanometres_lose_nothing() -> None:
    assert 8.0 * INCH == turn_back_for_spacing(float(INCH), 3, 3.0 * INCH)
    assert 3.0 * INCH == spacing_in_turn_back(8.0 * INCH, float(INCH), 3)
