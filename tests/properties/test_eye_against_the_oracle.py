"""Design, section 8: the geometry of plans against fifty digits of mpmath.

The equations are those of section 8 as they stand there, with q and an arc cosine, not as the library runs them. A
length is equal to the exact one, rounded, unless the exact value lies within 1e-4 nm of a half.
"""

from __future__ import annotations

from collections.abc import Iterator

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import planned, requests

from turnback.errors import InputError
from turnback.model.rope import Rope
from turnback.model.terminations import (
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    TerminationKind,
    ThimbleEye,
)
from turnback.planning.geometry import EyeGeometry
from turnback.planning.request import Request
from turnback.quantities import Angle, Force, Length

ROUND: tuple[TerminationKind, ...] = ("thimble eye", "soft eye", "pulley eye", "linked eyes", "plate eye")


@pytest.fixture(autouse=True, scope="module")
def fifty_digits() -> Iterator[None]:
    with mpmath.workdps(50):
        yield


def number(length: Length | None) -> mpmath.mpf:
    assert length is not None
    return mpmath.mpf(length.nanometres)


def diameters(rope: Rope) -> tuple[mpmath.mpf, mpmath.mpf]:
    """Of the rope as it lies in the eye, and between the centre lines at the base."""
    bare, coating = number(rope.diameter), rope.coating
    if coating is None:
        return bare, bare
    finished = number(coating.finished_diameter)
    under = bare if coating.stripped else finished
    return (bare if coating.stripped and coating.eye_stripped else finished), under


def exact(rope: Rope, eye: Termination) -> dict[str, mpmath.mpf]:
    """Every quantity of an eye at fifty digits."""
    d, e = diameters(rope)
    if isinstance(eye, PlateEye):
        e = e if eye.parts_apart is None else number(eye.parts_apart)
        eye = eye.around
    if isinstance(eye, ThimbleEye):
        bearing = number(eye.inside_width) / 2
        radius, a = bearing + number(eye.groove_offset) + d / 2, number(eye.inside_length) - bearing
    elif isinstance(eye, SoftEye):
        bearing = number(eye.pin) / 2
        radius, a = bearing + d / 2, number(eye.length) - bearing
    else:
        assert isinstance(eye, PulleyEye)
        bearing = number(eye.tread_diameter) / 2
        radius = bearing + d / 2
        # The angle as it was given: a float of radians, exactly; sixty degrees are a float as well.
        whole = mpmath.mpf(Angle.of("60 deg").radians if eye.included_angle is None else eye.included_angle.radians)
        a = (radius - e / 2 * mpmath.cos(whole / 2)) / mpmath.sin(whole / 2)
    q = mpmath.sqrt(a * a + e * e / 4)
    leg = mpmath.sqrt(q * q - radius * radius)
    half_arc = mpmath.pi - mpmath.atan(e / (2 * a)) - mpmath.acos(radius / q)
    return {
        "radius": radius,
        "base_distance": a,
        "parts_apart": e,
        "rope_in_eye": 2 * leg + 2 * radius * half_arc,
        "reach": a + bearing,
        "included_angle": 2 * (mpmath.asin(radius / q) - mpmath.atan(e / (2 * a))),
    }


def assert_rounded(name: str, expected: mpmath.mpf, actual: object) -> None:
    assert isinstance(actual, Length)
    nearest = int(mpmath.floor(expected + mpmath.mpf(1) / 2))
    to_a_half = abs(expected - mpmath.floor(expected) - mpmath.mpf(1) / 2)
    # Halves of whole nanometres are exact in a float, and go up; anything else may go either way near a half.
    slack = 0 if to_a_half > mpmath.mpf("1e-4") or to_a_half == 0 else 1
    assert abs(nearest - actual.nanometres) <= slack, name


def assert_exact(rope: Rope, eye: Termination, geometry: EyeGeometry) -> None:
    expected = exact(rope, eye)
    for name in ("radius", "base_distance", "parts_apart", "rope_in_eye", "reach"):
        assert_rounded(name, expected[name], getattr(geometry, name))
    angle = geometry.included_angle
    assert isinstance(angle, Angle)
    assert abs(expected["included_angle"] - mpmath.mpf(angle.radians)) < mpmath.mpf("1e-12")


@given(requests(kinds=ROUND, whole=True))
def test_every_length_of_an_eye_is_the_exact_one_rounded(request: Request) -> None:
    """Section 8: scalar lengths equal the oracle's, but within one nanometre at the very half; linked eyes both."""
    plan, eye = planned(request), request.termination
    if isinstance(eye, LinkedEyes):
        assert plan.other_eye is not None
        assert_exact(request.rope, eye.first, plan.geometry)
        assert_exact(request.rope, eye.second, plan.other_eye.geometry)
        return
    assert_exact(request.rope, eye, plan.geometry)


@given(requests(kinds=("pulley eye",), whole=True))
def test_a_pulley_eye_has_the_angle_that_was_asked_for(request: Request) -> None:
    """Section 8: from a wanted angle the base distance, and from that the same angle; 60 degrees where not given."""
    eye, angle = request.termination, planned(request).geometry.included_angle
    assert isinstance(eye, PulleyEye)
    assert isinstance(angle, Angle)
    wanted = 60.0 if eye.included_angle is None else eye.included_angle.degrees
    assert abs(wanted - angle.degrees) < 1e-9


@given(st.integers(1, 200), st.integers(1, 119))
def test_a_pulley_too_small_for_its_rope_is_refused_at_a_wide_angle(percent: int, degrees: int) -> None:
    """Section 8: legs exist where R cos B > e/2; a smaller pulley refuses, and never makes an eye at another angle."""
    rope = Rope("10 mm")
    eye = PulleyEye(Length(rope.diameter.nanometres * percent // 100), f"{degrees} deg")
    exists = (1 + mpmath.mpf(percent) / 100) * mpmath.cos(mpmath.radians(degrees) / 2) > 1
    request = Request(rope, eye, "u-bolt", "us-navy-14026")
    if not exists:
        with pytest.raises(InputError) as caught:
            planned(request)
        assert "tread_diameter" == caught.value.field
        return
    angle = planned(request).geometry.included_angle
    assert isinstance(angle, Angle)
    assert abs(degrees - angle.degrees) < 1e-6


@given(requests(kinds=ROUND, whole=True))
def test_a_leg_carries_at_least_half_the_load_and_never_more_than_all_of_it(request: Request) -> None:
    """Section 8: leg force = load / (2 cos B), so half the load in parallel legs and all of it at 120 degrees."""
    load = Force(1000.0)
    force = planned(request).geometry.leg_force(load)
    assert isinstance(force, Force)
    assert 500.0 <= force.newtons < 1000.0


@given(requests(kinds=ROUND, whole=True))
def test_the_parts_of_an_eye_come_together(request: Request) -> None:
    """Section 8: the included angle is above 0 and below 120 degrees; above 60 a finding says so."""
    plan = planned(request)
    angle = plan.geometry.included_angle
    assert isinstance(angle, Angle)
    assert 0 < angle.degrees < 120
    if angle.degrees > 60.000001:
        assert "wide-angle" in {finding.code for finding in plan.findings}


@given(requests(kinds=ROUND, whole=False))
def test_what_depends_on_a_missing_dimension_is_absent_and_says_which(request: Request) -> None:
    """Section 13: a dimension not given is absent, and what depends on it is absent with a reason."""
    geometry = planned(request).geometry
    for name in ("radius", "base_distance", "rope_in_eye", "included_angle", "reach"):
        value = getattr(geometry, name)
        assert value or "not given" in value.reason
