"""Strength against printed tables, textbook identities and scipy."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from scipy.integrate import solve_ivp

from turnback.mechanics import (
    belt_tension_ratio,
    breaking_force_by_grade,
    mass_by_factor,
    metallic_area,
    rope_tension_with_acceleration,
    rule_of_thumb_kilograms,
    rule_of_thumb_short_tons,
    termination_breaking_force,
    torque_for_preload,
    working_load,
)

# 6x7 with fibre core: "Wire Ropes: Tension, Endurance, Reliability", Table 1.9 (relations and factors of EN 12385-4).
K_6X7_FIBRE_CORE = 0.332
W_6X7_FIBRE_CORE = 0.345


def to_three_figures(value: float) -> float:
    """The tables below print three significant figures."""
    return float(f"{value:.3g}")


@pytest.mark.parametrize(
    ("diameter", "grade", "printed"),
    [
        # API Spec 9A / ISO 10425, Table C.1, 6x7 fibre core [kN].
        (6.0, 1770.0, 21.2),
        (10.0, 1770.0, 58.8),
        (13.0, 1770.0, 99.3),
        (20.0, 1770.0, 235.0),
        (40.0, 1770.0, 940.0),
        (10.0, 1960.0, 65.1),
        (20.0, 1960.0, 260.0),
        (40.0, 1960.0, 1040.0),
    ],
)
def test_breaking_force_is_the_printed_one(diameter: float, grade: float, printed: float) -> None:
    assert printed == to_three_figures(breaking_force_by_grade(K_6X7_FIBRE_CORE, diameter, grade))


@pytest.mark.parametrize(
    ("diameter", "printed"),
    # API Spec 9A / ISO 10425, Table C.1, 6x7 fibre core [kg per 100 m].
    [(6.0, 12.4), (10.0, 34.5), (13.0, 58.3), (20.0, 138.0), (40.0, 552.0)],
)
def test_mass_is_the_printed_one(diameter: float, printed: float) -> None:
    assert printed == to_three_figures(100 * mass_by_factor(W_6X7_FIBRE_CORE, diameter))


def test_metallic_area_of_a_solid_bar() -> None:
    # A solid bar has the factor pi/4; its area is that of a circle.
    assert math.pi * 5**2 == pytest.approx(metallic_area(math.pi / 4, 10.0), rel=1e-15)


def test_rule_of_thumb_is_the_printed_one() -> None:
    # NAVEDTRA 14026, page 1-7: 1/2 in gives 2 tons.
    assert 2 == rule_of_thumb_short_tons(Fraction(1, 2))
    # Australian Emergency Manual "Disaster Rescue", 3.15 prints the rule, 8 D² kg with D in mm; worked out by hand.
    assert 1352 == rule_of_thumb_kilograms(13)


def test_the_two_rules_of_thumb_carry_different_margins() -> None:
    # One inch: 8 short tons are 7257 kg (one short ton is 907.18474 kg, exactly), 8 x 25.4² are 5161 kg.
    in_short_tons = rule_of_thumb_short_tons(Fraction(1)) * Fraction("907.18474")
    in_kilograms = rule_of_thumb_kilograms(Fraction("25.4"))

    assert (7257, 5161) == (math.floor(in_short_tons), math.floor(in_kilograms))


def test_termination_and_working_load() -> None:
    # 80 % of 100 kN breaks at 80 kN; a fifth of that is 16 kN.
    assert 80_000 == termination_breaking_force(Fraction(100_000), Fraction(80, 100))
    assert 16_000 == working_load(Fraction(80_000), Fraction(5))


def test_rope_tension_obeys_the_law_of_motion() -> None:
    # Newton: tension less weight is mass times acceleration. 2000 N on 40 m of rope at 5 N/m weigh 2200 N.
    gravity, acceleration = Fraction("9.80665"), Fraction("1.5")
    mass = Fraction(2200) / gravity

    tension = rope_tension_with_acceleration(Fraction(2000), Fraction(5), Fraction(40), acceleration, gravity)

    assert mass * acceleration == tension - 2200


@pytest.mark.parametrize(("friction", "degrees"), [(0.05, 60.0), (0.12, 180.0), (0.3, 240.0), (0.3, 1080.0)])
def test_i4_belt_friction_is_the_solution_of_its_differential_equation(friction: float, degrees: float) -> None:
    # Equilibrium of a short piece of rope on a round body: dT = mu T d(theta); solved by scipy from T = 1.
    angle = math.radians(degrees)
    solved = solve_ivp(lambda _, tension: friction * tension, (0.0, angle), [1.0], rtol=1e-11, atol=1e-13)

    assert solved.y[0, -1] == pytest.approx(belt_tension_ratio(friction, angle, math), rel=1e-8)


@pytest.mark.parametrize(
    ("nominal", "pitch", "factor"),
    # Coarse threads of ISO 261 [mm] (from memory) with the factor K for friction 0.15 that the screw equation gives:
    # near 0.20, as the textbook table has it for plain and zinc-plated steel.
    [(8.0, 1.25, 0.20), (12.0, 1.75, 0.20), (20.0, 2.5, 0.20), (30.0, 3.5, 0.20)],
)
def test_i5_torque_is_that_of_the_screw_at_the_usual_factor(nominal: float, pitch: float, factor: float) -> None:
    """The nut factor against the inclined plane of the thread and the friction under the nut.

    Torque on a power screw, "Mechanical Engineering Design", chapter 8, from memory: thread and nut face with a
    coefficient of friction of 0.15 each, thread half-angle 30 degrees, mean radius of the nut's face 0.625 d.
    """
    preload, friction = 20_000.0, 0.15
    mean = (nominal - 0.649519 * pitch) / 1000
    lead = (pitch / 1000) / (math.pi * mean)
    wedge = friction / math.cos(math.radians(30))
    screw = preload * mean / 2 * (lead + wedge) / (1 - lead * wedge) + preload * friction * 0.625 * nominal / 1000

    assert screw == pytest.approx(torque_for_preload(factor, preload, nominal / 1000), rel=0.05)
