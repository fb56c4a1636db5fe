"""The formulas of strength as printed text; a test derives each from the function in ``strength``."""

from __future__ import annotations

from turnback.mechanics.formula import Formula, Symbol

__all__ = ["STRENGTH_FORMULAS"]

_ROPE = Symbol("d", "rope_diameter", "diameter of the rope", "mm")
_ROPE_STANDARD = 'EN 12385-4 relation, printed in "Wire Ropes: Tension, Endurance, Reliability", Table 1.9.'

STRENGTH_FORMULAS = (
    Formula(
        "breaking_force_by_grade",
        "minimum breaking force of the rope",
        "kN",
        "K*d*d*R/1000",
        (
            Symbol("K", "breaking_force_factor", "minimum breaking force factor", "-"),
            _ROPE,
            Symbol("R", "rope_grade", "rope grade", "N/mm²"),
        ),
        _ROPE_STANDARD,
    ),
    Formula(
        "mass_by_factor",
        "mass of the rope per length",
        "kg/m",
        "W*d*d/100",
        (Symbol("W", "mass_factor", "length mass factor, for 100 m", "kg/mm²"), _ROPE),
        _ROPE_STANDARD,
    ),
    Formula(
        "metallic_area",
        "metallic cross-section of the rope",
        "mm²",
        "C*d*d",
        (Symbol("C", "area_factor", "metallic area factor", "-"), _ROPE),
        _ROPE_STANDARD,
    ),
    Formula(
        "termination_breaking_force",
        "force at which the termination may break",
        "N",
        "F*k",
        (
            Symbol("F", "minimum_breaking_force", "minimum breaking force of the rope", "N"),
            Symbol("k", "efficiency", "termination efficiency", "-"),
        ),
        "Definition of the termination efficiency.",
    ),
    Formula(
        "working_load",
        "working load",
        "N",
        "F/Z",
        (
            Symbol("F", "breaking_force", "breaking force of the termination", "N"),
            Symbol("Z", "design_factor", "design factor", "-"),
        ),
        "Definition of the design factor.",
    ),
    Formula(
        "rope_tension_with_acceleration",
        "tension at the top of the rope",
        "N",
        "(W + w*l)*(1 + a/g)",
        (
            Symbol("W", "load", "weight of the load on this rope", "N"),
            Symbol("w", "weight_per_length", "weight of the rope per length", "N/m"),
            Symbol("l", "length", "hanging length", "m"),
            Symbol("a", "acceleration", "upward acceleration", "m/s²"),
            Symbol("g", "gravity", "acceleration of free fall", "m/s²"),
        ),
        '"Mechanical Engineering Design", section 17-6, read in public lecture notes.',
    ),
    Formula(
        "rule_of_thumb_short_tons",
        "safe working load by rule of thumb: a cross-check, never a rating",
        "short tonf",
        "8*D*D",
        (Symbol("D", "rope_diameter", "diameter of the rope", "in"),),
        "NAVEDTRA 14026, page 1-7.",
    ),
    Formula(
        "rule_of_thumb_kilograms",
        "safe working load by rule of thumb: a cross-check, never a rating",
        "kgf",
        "8*D*D",
        (Symbol("D", "rope_diameter", "diameter of the rope", "mm"),),
        'Australian Emergency Manual "Disaster Rescue", 3.15.',
    ),
    Formula(
        "belt_tension_ratio",
        "ratio of the tight part's tension to the slack part's",
        "-",
        "exp(mu*theta)",
        (
            Symbol("mu", "friction", "coefficient of friction", "-"),
            Symbol("theta", "angle", "angle over which the rope lies on the body", "rad"),
        ),
        "Belt friction.",
    ),
    Formula(
        "torque_for_preload",
        "torque for a preload: an estimate that explains, never a torque to set",
        "N·m",
        "K*F*d",
        (
            Symbol("K", "nut_factor", "nut factor", "-"),
            Symbol("F", "preload", "force in the bolt", "N"),
            Symbol("d", "thread_diameter", "nominal diameter of the thread", "m"),
        ),
        'Bolt torque and preload: "Mechanical Engineering Design", Table 8-15 for the factor.',
    ),
)
