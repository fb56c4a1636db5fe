"""Strength, mass and force, one equation a function.

Nothing here rates a termination. The formulas carry the factors that their caller brings, each with its own source.
Nothing is checked or rounded.
"""

from __future__ import annotations

from typing import TypeVar

from turnback.mechanics.functions import Divisible, Functions, Number, Real

__all__ = [
    "belt_tension_ratio",
    "breaking_force_by_grade",
    "mass_by_factor",
    "metallic_area",
    "rope_tension_with_acceleration",
    "rule_of_thumb_kilograms",
    "rule_of_thumb_short_tons",
    "termination_breaking_force",
    "torque_for_preload",
    "working_load",
]

D = TypeVar("D", bound=Divisible)
N = TypeVar("N", bound=Number)
R = TypeVar("R", bound=Real)


def breaking_force_by_grade(breaking_force_factor: D, rope_diameter: D, rope_grade: D) -> D:
    """Minimum breaking force of a rope from its tensile grade.

    EN 12385-4 relation, as printed in "Wire Ropes: Tension, Endurance, Reliability", Table 1.9.

    Args:
        breaking_force_factor: Minimum breaking force factor K of the rope class [-].
        rope_diameter: Nominal rope diameter d [mm].
        rope_grade: Rope grade R_r [N/mm²].

    Returns:
        Minimum breaking force [kN].
    """
    return breaking_force_factor * rope_diameter * rope_diameter * rope_grade / 1000


def mass_by_factor(mass_factor: D, rope_diameter: D) -> D:
    """Mass of a rope per length.

    EN 12385-4 relation, as printed in "Wire Ropes: Tension, Endurance, Reliability", Table 1.9.

    Args:
        mass_factor: Length mass factor W of the rope class [kg/(m·mm²)], times 100.
        rope_diameter: Nominal rope diameter d [mm].

    Returns:
        Mass per length [kg/m].
    """
    return mass_factor * rope_diameter * rope_diameter / 100


def metallic_area(area_factor: N, rope_diameter: N) -> N:
    """Metallic cross-section of a rope.

    EN 12385-4 relation, as printed in "Wire Ropes: Tension, Endurance, Reliability", Table 1.9.

    Args:
        area_factor: Metallic area factor C of the rope class [-].
        rope_diameter: Nominal rope diameter d [mm].

    Returns:
        Area [mm²].
    """
    return area_factor * rope_diameter * rope_diameter


def termination_breaking_force(minimum_breaking_force: N, efficiency: N) -> N:
    """Force at which a termination may break: never a load to put on it.

    Definition of the termination efficiency.

    Args:
        minimum_breaking_force: Minimum breaking force of the rope [N].
        efficiency: Termination efficiency [-].

    Returns:
        Breaking force [N].
    """
    return minimum_breaking_force * efficiency


def working_load(breaking_force: D, design_factor: D) -> D:
    """Load that may be put on a termination at a design factor.

    Definition of the design factor.

    Args:
        breaking_force: Breaking force of the termination [N].
        design_factor: Design factor of the service [-].

    Returns:
        Load [N].
    """
    return breaking_force / design_factor


def rope_tension_with_acceleration(load: D, weight_per_length: D, length: D, acceleration: D, gravity: D) -> D:
    """Tension at the top of a rope that lifts a load with an acceleration.

    "Mechanical Engineering Design", section 17-6: (W + w l)(1 + a/g) for one rope.

    Args:
        load: Weight of the load W on this rope [N].
        weight_per_length: Weight of the rope per length w [N/m].
        length: Hanging length l [m].
        acceleration: Upward acceleration a [m/s²].
        gravity: Acceleration of free fall g [m/s²].

    Returns:
        Tension [N].
    """
    return (load + weight_per_length * length) * (1 + acceleration / gravity)


def rule_of_thumb_short_tons(rope_diameter: N) -> N:
    """Rule of thumb for a safe working load in short tons: a cross-check, never a rating.

    NAVEDTRA 14026, page 1-7: eight times the square of the diameter.

    Args:
        rope_diameter: Nominal rope diameter D [in].

    Returns:
        Load [short tonf].
    """
    return 8 * rope_diameter * rope_diameter


def rule_of_thumb_kilograms(rope_diameter: N) -> N:
    """Rule of thumb for a safe working load in kilograms: a cross-check, never a rating.

    Australian Emergency Manual "Disaster Rescue", 3.15: eight times the square of the diameter. Its margin is not that
    of the rule in short tons.

    Args:
        rope_diameter: Nominal rope diameter D [mm].

    Returns:
        Load [kgf].
    """
    return 8 * rope_diameter * rope_diameter


def belt_tension_ratio(friction: R, angle: R, f: Functions[R]) -> R:
    """Ratio of the tight part's tension to the slack part's when a rope is about to slip on a round body.

    Belt friction: exp(mu theta).

    Args:
        friction: Coefficient of friction mu [-].
        angle: Angle theta over which the rope lies on the body [rad].
        f: Functions to compute with.

    Returns:
        Ratio [-].
    """
    return f.exp(friction * angle)


def torque_for_preload(nut_factor: N, preload: N, thread_diameter: N) -> N:
    """Torque on a nut for a preload in its bolt: an estimate that explains, never a torque to set.

    T = K F d. A clip's torque comes from its source.

    Args:
        nut_factor: Nut factor K of the thread and its condition [-].
        preload: Force F in the bolt [N].
        thread_diameter: Nominal diameter d of the thread [m].

    Returns:
        Torque T [N·m].
    """
    return nut_factor * preload * thread_diameter
