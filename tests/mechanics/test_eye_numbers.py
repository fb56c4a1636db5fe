"""The eye in floating point: against fifty digits, against arrays, and its laws.

Shapes are drawn in whole nanometres, as the library runs them: a float holds every one of them exactly.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import mpmath
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.mechanics import (
    base_distance_for_angle,
    base_point_distance,
    contact_angle,
    half_arc_angle,
    half_included_angle,
    least_base_distance,
    leg,
    leg_force,
    rope_in_eye,
)

MM = 1_000_000
Shape = tuple[float, float, float]
drawn = settings(deadline=None, max_examples=400)


@pytest.fixture(autouse=True, scope="module")
def fifty_digits() -> Iterator[None]:
    with mpmath.workdps(50):
        yield


@st.composite
def shapes(draw: st.DrawFn) -> Shape:
    """Radius, base distance and distance apart [nm]: ropes to 60 mm, treads from d to 800 mm, eyes to 2 m.

    The base lies 1.16 R from the centre or farther, so that the legs enclose less than 120 degrees.
    """
    rope = draw(st.integers(1 * MM, 60 * MM))
    tread = draw(st.integers(rope, 800 * MM))
    radius = (tread + rope) // 2
    a = draw(st.integers(radius * 116 // 100, 2000 * MM))
    e = draw(st.integers(0, rope))
    return float(radius), float(a), float(e)


@st.composite
def shapes_near_the_circle(draw: st.DrawFn) -> Shape:
    """The same with the base anywhere from 2 nm beyond the place where the legs vanish to 1 mm beyond it."""
    radius, _, e = draw(shapes())
    with mpmath.workdps(50):
        least = mpmath.sqrt(mpmath.mpf(radius) ** 2 - mpmath.mpf(e) ** 2 / 4)
        nearest = int(mpmath.ceil(least)) + 2
    return radius, float(nearest + draw(st.integers(0, 1 * MM))), e


def exact(shape: Shape) -> dict[str, mpmath.mpf]:
    """Every quantity of the eye at fifty digits, as derived: with q and an arc cosine, not as it is run."""
    radius, a, e = (mpmath.mpf(length) for length in shape)
    q = mpmath.sqrt(a**2 + e**2 / 4)
    tangent = mpmath.sqrt(q**2 - radius**2)
    half_arc = mpmath.pi - mpmath.atan(e / (2 * a)) - mpmath.acos(radius / q)
    return {
        "q": q,
        "leg": tangent,
        "half arc": half_arc,
        "rope": 2 * tangent + 2 * radius * half_arc,
        "half angle": mpmath.asin(radius / q) - mpmath.atan(e / (2 * a)),
    }


def ulps(expected: mpmath.mpf, actual: float) -> float:
    """Distance between the two in units of the last place of the expected one."""
    return float(abs(mpmath.mpf(actual) - expected) / mpmath.mpf(math.ulp(float(expected))))


@drawn
@given(shapes())
def test_floats_keep_all_but_their_last_digits(shape: Shape) -> None:
    expected = exact(shape)

    assert ulps(expected["q"], base_point_distance(*shape[1:], math)) <= 2
    assert ulps(expected["leg"], leg(*shape, math)) <= 4
    assert ulps(expected["half arc"], half_arc_angle(*shape, math)) <= 4
    assert ulps(2 * expected["half arc"], contact_angle(*shape, math)) <= 4
    assert ulps(expected["rope"], rope_in_eye(*shape, math)) <= 4


@drawn
@given(shapes())
def test_half_angle_loses_digits_only_as_the_difference_of_two_angles_does(shape: Shape) -> None:
    # Both angles are below a right one; a slender eye leaves a small difference, so the bound is absolute [rad].
    assert abs(exact(shape)["half angle"] - half_included_angle(*shape, math)) <= 4 * math.ulp(math.pi / 2)


@drawn
@given(st.one_of(shapes(), shapes_near_the_circle()))
def test_rope_in_eye_is_right_to_a_ten_thousandth_of_a_nanometre(shape: Shape) -> None:
    # Near the circle too: leg and arc err together, and the errors cancel, because the arc is computed from the leg.
    assert abs(exact(shape)["rope"] - rope_in_eye(*shape, math)) < 1e-4


@drawn
@given(st.one_of(shapes(), shapes_near_the_circle()))
def test_fifty_digits_of_the_run_text_are_those_of_the_derivation(shape: Shape) -> None:
    """The text that is run, read by mpmath, is the printed derivation: atan(leg/R) is acos(R/q)."""
    radius, a, e = (mpmath.mpf(length) for length in shape)
    expected = exact(shape)

    assert mpmath.almosteq(expected["leg"], leg(radius, a, e, mpmath.mp), rel_eps=1e-25)
    assert mpmath.almosteq(expected["half arc"], half_arc_angle(radius, a, e, mpmath.mp), rel_eps=1e-25)
    assert mpmath.almosteq(expected["rope"], rope_in_eye(radius, a, e, mpmath.mp), rel_eps=1e-40)


@drawn
@given(shapes(), st.floats(0.05, 1.04))
def test_base_distance_and_leg_force_against_fifty_digits(shape: Shape, half_angle: float) -> None:
    radius, _, e = shape
    angle = mpmath.mpf(half_angle)
    base = (mpmath.mpf(radius) - mpmath.mpf(e) / 2 * mpmath.cos(angle)) / mpmath.sin(angle)
    least = mpmath.sqrt(mpmath.mpf(radius) ** 2 - mpmath.mpf(e) ** 2 / 4)

    assert ulps(base, base_distance_for_angle(radius, e, half_angle, math)) <= 4
    assert ulps(mpmath.mpf(radius) / (2 * mpmath.cos(angle)), leg_force(radius, half_angle, math)) <= 4
    assert ulps(least, least_base_distance(radius, e, math)) <= 4


@drawn
@given(shapes(), st.floats(0.05, 1.04))
def test_base_distance_inverts_the_half_angle(shape: Shape, half_angle: float) -> None:
    radius, a, e = shape
    there = base_distance_for_angle(radius, e, half_angle, math)

    assert half_angle == pytest.approx(half_included_angle(radius, there, e, math), rel=1e-13)
    assert a == pytest.approx(
        base_distance_for_angle(radius, e, half_included_angle(radius, a, e, math), math), rel=1e-12
    )


@drawn
@given(shapes(), st.integers(1, 100 * MM))
def test_rope_in_eye_grows_with_the_eye(shape: Shape, more: int) -> None:
    radius, a, e = shape
    before = rope_in_eye(radius, a, e, math)

    assert before < rope_in_eye(radius, a + more, e, math)
    # A larger circle needs room in front of the same base: to no more than the least distance that the legs need.
    wider = radius + min(float(more), (a - radius) / 2)
    assert before <= rope_in_eye(wider, a, e, math)
    assert wider == radius or before < rope_in_eye(wider, a, e, math)


@drawn
@given(shapes())
def test_rope_in_eye_lies_between_the_shortest_and_the_longest_way_round(shape: Shape) -> None:
    radius, a, e = shape
    rope = rope_in_eye(radius, a, e, math)

    assert leg(*shape, math) > 0
    assert math.pi / 2 < half_arc_angle(*shape, math) < math.pi
    # Straight out to the crown and back is shorter; round the box that holds the eye is longer.
    assert 2 * (a + radius) < rope < 2 * (a + radius) + 4 * radius - e


@drawn
@given(st.lists(shapes(), min_size=1, max_size=30))
def test_arrays_give_what_floats_give(eyes: list[Shape]) -> None:
    """numpy may round an arc function otherwise than math in the last bit; in the result that is two at most."""
    radius, a, e = (np.array(column) for column in zip(*eyes, strict=True))

    for function in (leg, half_arc_angle, contact_angle, rope_in_eye):
        one_by_one = np.array([function(*eye, math) for eye in eyes])
        together = function(radius, a, e, np)
        assert one_by_one.shape == together.shape
        assert (np.abs(together - one_by_one) <= 2 * np.spacing(one_by_one)).all()

    # A difference of two angles: two last places of these, not of the difference.
    one_by_one = np.array([half_included_angle(*eye, math) for eye in eyes])
    assert (np.abs(half_included_angle(radius, a, e, np) - one_by_one) <= 2 * math.ulp(math.pi / 2)).all()


@drawn
@given(st.lists(st.tuples(shapes(), st.floats(0.05, 1.04)), min_size=1, max_size=30))
def test_arrays_of_angles_give_what_floats_give(rows: list[tuple[Shape, float]]) -> None:
    radius, e = np.array([eye[0] for eye, _ in rows]), np.array([eye[2] for eye, _ in rows])
    half_angle = np.array([angle for _, angle in rows])

    bases = np.array([base_distance_for_angle(eye[0], eye[2], angle, math) for eye, angle in rows])
    assert (np.abs(base_distance_for_angle(radius, e, half_angle, np) - bases) <= 2 * np.spacing(bases)).all()

    forces = np.array([leg_force(eye[0], angle, math) for eye, angle in rows])
    assert (np.abs(leg_force(radius, half_angle, np) - forces) <= 2 * np.spacing(forces)).all()

    nearest = np.array([least_base_distance(eye[0], eye[2], math) for eye, _ in rows])
    assert (np.abs(least_base_distance(radius, e, np) - nearest) <= 2 * np.spacing(nearest)).all()
