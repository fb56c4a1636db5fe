"""The eye against textbook identities, trade figures and two general-purpose geometry libraries.

Sources are named beside the checks. "I1" and so on number the project's list of identities.
"""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from shapely import LineString, MultiPoint, Point, Polygon

from turnback.mechanics import (
    base_distance_for_angle,
    base_point_distance,
    contact_angle,
    cut_length,
    half_arc_angle,
    half_included_angle,
    least_base_distance,
    leg,
    leg_force,
    pulley_radius,
    reach,
    rope_in_eye,
    soft_eye_base_distance,
    soft_eye_radius,
    thimble_base_distance,
    thimble_radius,
)

# Radius of the centre line, distance to the base, distance between the parts: invented, from slender to nearly round,
# with the parts apart by nothing, by a rope, and by more than the circle is wide (a bolt between them).
SHAPES = [
    (10.0, 20.0, 0.0),
    (36.0, 71.0, 13.0),
    (100.0, 2000.0, 19.0),
    (25.0, 26.0, 12.0),
    (20.0, 90.0, 44.0),
]
# A base nearer than the circle is wide: legs still exist, but the circle stands out between the two parts, so that the
# rope is no longer the outline of disc and base points.
SUNK_SHAPES = [(25.0, 24.5, 20.0), (25.0, 25.0, 30.0)]


def outline(radius: float, a: float, e: float) -> Polygon:
    """The disc and the two base points, wrapped by shapely; the disc as a polygon of 80 000 corners on the circle."""
    disc = Point(0, 0).buffer(radius, quad_segs=20_000)
    wrapped = disc.union(MultiPoint([(a, e / 2), (a, -e / 2)])).convex_hull
    assert isinstance(wrapped, Polygon)
    return wrapped


@pytest.mark.parametrize(("radius", "a"), [(10.0, 10.5), (36.0, 71.0), (250.0, 2000.0)])
def test_i1_legs_that_meet_in_a_point_are_half_an_open_belt(radius: float, a: float) -> None:
    # Open belt length: "Mechanical Engineering Design", eq. 17-2, and handbooks of machinery, belt length; from memory.
    open_belt = 2 * math.sqrt(a**2 - radius**2) + radius * (math.pi + 2 * math.asin(radius / a))

    assert open_belt == pytest.approx(rope_in_eye(radius, a, 0.0, math), rel=1e-15)


def test_i1_parts_that_close_up_approach_the_open_belt() -> None:
    radius, a = 36.0, 71.0
    open_belt = 2 * math.sqrt(a**2 - radius**2) + radius * (math.pi + 2 * math.asin(radius / a))

    misfits = [abs(rope_in_eye(radius, a, e, math) - open_belt) for e in (1.0, 1e-3, 1e-6, 1e-9)]

    # The rope ends at the base points: moving one of them sideways by e/2 changes the length by sin(B) e/2, B ~ 30 deg.
    assert [0.5, 0.5e-3, 0.5e-6, 0.5e-9] == pytest.approx(misfits, rel=0.02)


@pytest.mark.parametrize(("radius", "a", "e"), SHAPES)
def test_i1_length_is_the_integral_of_the_support_function(radius: float, a: float, e: float) -> None:
    """Cauchy's formula for the perimeter of a convex figure, by quadrature with scipy, knows no point of tangency.

    The rope is the outline of the disc and the two base points, less the closing side between these.
    """

    def support(angle: float) -> float:
        return max(radius, a * math.cos(angle) + e / 2 * abs(math.sin(angle)))

    upper_half, _ = quad(support, 0, math.pi, limit=2000, epsabs=1e-10, epsrel=1e-12)

    assert 2 * upper_half - e == pytest.approx(rope_in_eye(radius, a, e, math), rel=1e-9)


@pytest.mark.parametrize(("radius", "a", "e"), SHAPES + SUNK_SHAPES)
def test_i1_length_is_the_integral_along_the_curve(radius: float, a: float, e: float) -> None:
    """The upper half as a curve in polar coordinates, its point of tangency found by scipy's root finder."""
    base = math.atan2(e / 2, a)

    def misses_the_base(tangency: float) -> float:
        # The tangent at angle t is the line r cos(angle - t) = R; the base point lies on it.
        return math.hypot(a, e / 2) * math.cos(base - tangency) - radius

    tangency = brentq(misses_the_base, base, base + math.pi, xtol=1e-15)

    def along_leg(angle: float) -> float:
        distance = radius / math.cos(angle - tangency)
        slope = distance * math.tan(angle - tangency)
        return math.hypot(distance, slope)

    leg_length, _ = quad(along_leg, base, tangency, epsabs=1e-12, epsrel=1e-12, limit=500)
    arc_length, _ = quad(lambda _: radius, tangency, math.pi)

    assert leg_length == pytest.approx(leg(radius, a, e, math), rel=1e-9)
    assert arc_length == pytest.approx(radius * half_arc_angle(radius, a, e, math), rel=1e-12)
    assert 2 * (leg_length + arc_length) == pytest.approx(rope_in_eye(radius, a, e, math), rel=1e-9)


@pytest.mark.parametrize(("radius", "a", "e"), SHAPES)
def test_i1_length_is_the_outline_of_a_disc_and_two_points(radius: float, a: float, e: float) -> None:
    """Convex hull by shapely, less the closing side between the base points.

    A polygon of 80 000 corners is short of its circle by (pi/80000)²/6 = 2.6e-10 of it, and never longer.
    """
    wrapped = outline(radius, a, e).length - e
    actual = rope_in_eye(radius, a, e, math)

    assert actual * (1 - 1e-9) <= wrapped <= actual * (1 + 1e-12)


def test_i2_sixty_degrees_with_legs_that_meet_in_a_point() -> None:
    # Common practice, no source: the base lies one pulley diameter from the centre, the rope touches 240 degrees.
    assert math.radians(30) == pytest.approx(half_included_angle(50.0, 100.0, 0.0, math), rel=1e-15)
    assert math.radians(240) == pytest.approx(contact_angle(50.0, 100.0, 0.0, math), rel=1e-15)
    assert 100.0 == pytest.approx(base_distance_for_angle(50.0, 0.0, math.radians(30), math), rel=1e-15)


@pytest.mark.parametrize(("tread", "rope"), [(200.0, 13.0), (400.0, 19.0), (60.0, 60.0)])
def test_i2_sixty_degrees_with_the_parts_side_by_side(tread: float, rope: float) -> None:
    actual = base_distance_for_angle(pulley_radius(tread, rope), rope, math.radians(30), math)

    # Printed: D + 0.134 d. In full: D + (1 - sqrt(3)/2) d.
    assert 0.134 == pytest.approx((actual - tread) / rope, abs=0.0005)
    assert tread + (1 - math.sqrt(3) / 2) * rope == pytest.approx(actual, rel=1e-14)


@pytest.mark.parametrize(
    ("included_angle", "force_per_load"),
    # Statics; 60 degrees is the printed one, the others are the tension factors of two-leg slings (from memory).
    [(0, 0.500), (60, 0.577), (90, 0.707), (120, 1.000)],
)
def test_i3_force_in_each_leg(included_angle: float, force_per_load: float) -> None:
    assert force_per_load == pytest.approx(leg_force(1.0, math.radians(included_angle / 2), math), abs=0.0005)


@pytest.mark.parametrize(("radius", "a", "e"), SHAPES)
def test_i3_forces_along_the_drawn_legs_balance_the_load(radius: float, a: float, e: float) -> None:
    """Directions of the legs taken from the outline that shapely draws, not from our angle."""
    corners = list(outline(radius, a, e).exterior.coords)[:-1]
    base = corners.index((a, e / 2))
    (x1, y1), (x2, y2) = max(
        ((corners[base], corners[(base + step) % len(corners)]) for step in (1, -1)), key=lambda side: side[1][1]
    )
    towards_eye = (x1 - x2) / math.hypot(x1 - x2, y1 - y2)

    force = leg_force(1000.0, half_included_angle(radius, a, e, math), math)

    assert 1000.0 == pytest.approx(2 * force * towards_eye, rel=1e-4)


def test_legs_vanish_at_the_least_base_distance() -> None:
    # A 3-4-5 triangle: circle of radius 50, parts 60 apart, base at 40.
    assert 40.0 == least_base_distance(50.0, 60.0, math)
    assert 50.0 == base_point_distance(40.0, 60.0, math)
    assert 0.0 == leg(50.0, 40.0, 60.0, math)


def test_leg_of_a_whole_number_triangle() -> None:
    # 3-4-5: circle of radius 30, base in a point at 50. The half-arc is a quarter turn and the angle of the base.
    assert 40.0 == leg(30.0, 50.0, 0.0, math)
    assert math.pi / 2 + math.asin(3 / 5) == pytest.approx(half_arc_angle(30.0, 50.0, 0.0, math), rel=1e-15)


def test_dimensions_that_people_measure() -> None:
    # An invented thimble: 60 inside length, 40 inside width, groove 3 deep to its bottom, rope of 13.
    assert 29.5 == thimble_radius(40.0, 3.0, 13.0)
    assert 40.0 == thimble_base_distance(60.0, 40.0)
    # Measured from base to bearing point, a thimble reaches as far as its inside length, and so does a soft eye.
    assert 60.0 == reach(thimble_base_distance(60.0, 40.0), 20.0)
    assert 150.0 == reach(soft_eye_base_distance(150.0, 30.0), 15.0)
    # Rope of 13 on a pin of 30: its centre line is a circle of 43 across; the same on a pulley with that tread.
    assert 21.5 == soft_eye_radius(30.0, 13.0)
    assert 21.5 == pulley_radius(30.0, 13.0)


def _drawn_eye(radius: float, a: float, e: float) -> list[tuple[float, float]]:
    """The centre line from base point (a, -e/2) round to (a, e/2), as shapely's outline has it."""
    corners = list(outline(radius, a, e).exterior.coords)[:-1]
    start, end = corners.index((a, -e / 2)), corners.index((a, e / 2))
    forward = corners[start:] + corners[:start]
    if forward[1] == corners[end]:
        forward = [forward[0], *reversed(forward[1:])]
    return [(x, y) for x, y in forward]


def test_cut_length_is_the_length_of_the_drawn_rope() -> None:
    """Both eyes, both dead parts and the live part drawn as one line between two pins, measured by shapely."""
    span, e, turn_back_a, turn_back_b = 6000.0, 13.0, 300.0, 350.0
    radius_a, a_a, bearing_a = 56.5, 110.0, 50.0
    radius_b, a_b, bearing_b = 30.0, 75.0, 20.0
    # First pin's bearing point at x = 0, second's at x = span; the eyes open towards each other.
    first = [(bearing_a + x, y) for x, y in _drawn_eye(radius_a, a_a, e)]
    second = [(span - bearing_b - x, y) for x, y in _drawn_eye(radius_b, a_b, e)]
    dead_end_a = (bearing_a + a_a + turn_back_a, -e / 2)
    dead_end_b = (span - bearing_b - a_b - turn_back_b, -e / 2)
    rope = LineString([dead_end_a, *first, *reversed(second), dead_end_b])

    actual = cut_length(
        span=span,
        reach_a=reach(a_a, bearing_a),
        reach_b=reach(a_b, bearing_b),
        eye_a=rope_in_eye(radius_a, a_a, e, math),
        eye_b=rope_in_eye(radius_b, a_b, e, math),
        turn_back_a=turn_back_a,
        turn_back_b=turn_back_b,
    )

    assert rope.length == pytest.approx(actual, abs=1e-6)
