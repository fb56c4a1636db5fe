"""Identities that stand outside the trade: units against pint (I6), and eyes of a plan against plane geometry.

The formulas themselves are held to quadrature, to shapely and to scipy beside the mechanics (I1 to I5), and the door to
pint beside the quantities; here the whole way is checked, from what a caller writes to the number in a plan.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction

import pint
import pytest

from turnback.model.absent import Absent
from turnback.model.terminations import PulleyEye, SoftEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, Torque

# Both made once: a registry takes a while to build.
EXACT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
FLOATING: pint.UnitRegistry[float] = pint.UnitRegistry()


def by_pint(unit: str, si: str) -> Fraction:
    """One of a unit in SI, as pint defines it, exactly."""
    return Fraction(EXACT.Quantity(Fraction(1), unit).to(si).magnitude)


# --- I6: units, against NIST SP 811, Appendix B, and against pint ---


@pytest.mark.parametrize(
    ("text", "unit", "nanometres"),
    # 1 in = 25.4 mm, 1 ft = 304.8 mm.
    [
        ("1 in", "inch", 25_400_000),
        ("1 ft", "foot", 304_800_000),
        ("1 mm", "millimeter", 1_000_000),
        ("1 cm", "centimeter", 10_000_000),
        ("1 m", "meter", 1_000_000_000),
    ],
)
def test_i6_length(text: str, unit: str, nanometres: int) -> None:
    assert nanometres == by_pint(unit, "nanometer") == Length.of(text).nanometres


@pytest.mark.parametrize(
    ("text", "unit", "newtons"),
    [
        ("1 N", "newton", "1"),
        ("1 kN", "kilonewton", "1000"),
        ("1 lbf", "force_pound", "4.4482216152605"),
        ("1 kip", "kip", "4448.2216152605"),
        ("1 kgf", "force_kilogram", "9.80665"),
        ("1 short tonf", "force_ton", "8896.443230521"),
        ("1 long tonf", "force_long_ton", "9964.01641818352"),
    ],
)
def test_i6_force(text: str, unit: str, newtons: str) -> None:
    assert Fraction(newtons) == by_pint(unit, "newton")
    assert float(newtons) == Force.of(text).newtons


@pytest.mark.parametrize(
    ("text", "unit", "newton_metres"),
    [
        ("1 lbf·ft", "force_pound * foot", "1.3558179483314004"),
        ("1 lbf·in", "force_pound * inch", "0.1129848290276167"),
        ("1 N·m", "newton * meter", "1"),
    ],
)
def test_i6_torque(text: str, unit: str, newton_metres: str) -> None:
    assert Fraction(newton_metres) == by_pint(unit, "newton * meter") == Torque.of(text).exact_newton_metres


def test_i6_mass_and_mass_per_length() -> None:
    # 1 lb = 0.453 592 37 kg; 1 lb/ft = 0.453 592 37 / 0.3048 kg/m, rounded 1.488 163 943 569 554.
    assert Fraction("0.45359237") == by_pint("pound", "kilogram")
    assert 0.45359237 == Mass.of("1 lb").kilograms
    assert float(by_pint("pound / foot", "kilogram / meter")) == MassPerLength.of("1 lb/ft").kilograms_per_metre
    assert "1.488163943569554" == f"{MassPerLength.of('1 lb/ft').kilograms_per_metre:.15f}"


def test_i6_angle() -> None:
    assert FLOATING.Quantity(60, "degree").to("radian").magnitude == pytest.approx(
        Angle.of("60 deg").radians, rel=1e-15
    )


def test_i6_a_plan_from_quantities_is_the_plan_from_text() -> None:
    """18 in and 130 lbf·ft: 8 CCR §8497, Table 1, at 3/4 in."""
    width = FLOATING.Quantity(2.25, "inch")
    made = plan("3/4 in 6x25F IWRC EIP", SoftEye(), style="u-bolt", rules="us-ca-8-8497", base_width=width)
    turn_back, torque = made.turn_back, made.torque
    assert not isinstance(turn_back, Absent)
    assert not isinstance(torque, Absent)
    assert FLOATING.Quantity(457.2, "millimeter") == turn_back.to_pint(FLOATING)
    in_pound_feet = torque.to_pint(FLOATING).to("force_pound * foot").magnitude
    assert 130 == pytest.approx(in_pound_feet, rel=1e-15)


# --- I1 to I3 on the eyes of plans ---


def pulley(tread: str, angle: str | None = None) -> Plan:
    eye = PulleyEye(tread, angle)
    return plan("1/2 in 6x25F IWRC EIP", eye, style="mirrored-saddle", rules="us-army-3810-305", clip_body="forged")


def of_inches(value: Decimal) -> int:
    """Nanometres, nearest."""
    return int((value * 25_400_000).to_integral_value())


@pytest.mark.parametrize("tread", [4, 10, 16, 30])
def test_i2_at_sixty_degrees_the_base_lies_one_pulley_diameter_from_the_centre(tread: int) -> None:
    """Parts side by side, 60 degrees: D + d (1 - sqrt(3)/2), which is D + 0.134 d. Plane trigonometry, 1/2 in rope."""
    with localcontext() as context:
        context.prec = 40
        expected = of_inches(tread + Decimal("0.5") * (1 - Decimal(3).sqrt() / 2))
    base = pulley(f"{tread} in").geometry.base_distance
    assert not isinstance(base, Absent)
    assert abs(expected - base.nanometres) <= 1


def test_i2_and_i1_the_rope_touches_two_hundred_and_forty_degrees_of_the_pulley() -> None:
    """60 degrees: two straight legs and 240 degrees of a circle of radius R = (D + d)/2. D = 10 in, d = 1/2 in.

    The base lies at (a, d/2); the leg leaves the circle where the radius stands at 60 degrees to the middle line. So
    the base is R from the centre across the leg, a sin 30 + (d/2) cos 30, and the leg is a cos 30 - (d/2) sin 30 long.
    """
    with localcontext() as context:
        context.prec = 40
        cosine, pi = Decimal(3).sqrt() / 2, Decimal("3.14159265358979323846264338327950288")
        radius, half = Decimal("5.25"), Decimal("0.25")
        a = 2 * (radius - half * cosine)
        expected = of_inches(2 * (a * cosine - half / 2) + radius * 4 * pi / 3)
    made = pulley("10 in")
    assert not isinstance(made.rope_in_eye, Absent)
    assert abs(expected - made.rope_in_eye.nanometres) <= 1


@pytest.mark.parametrize(
    ("angle", "share"),
    # F / (2 cos A): 60 degrees 1/sqrt(3) = 0.577, 90 degrees 1/sqrt(2), and 30 degrees 0.5176.
    [("60 deg", 0.5773502691896258), ("90 deg", 0.7071067811865476), ("30 deg", 0.5176380902050415)],
)
def test_i3_force_in_each_leg(angle: str, share: float) -> None:
    force = pulley("10 in", angle).geometry.leg_force(Force(10_000.0))
    assert not isinstance(force, Absent)
    assert 10_000 * share == pytest.approx(force.newtons, rel=1e-12)
