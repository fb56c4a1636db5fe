"""Exact unit factors and the closed list of unit spellings that the text grammar reads.

Factors: NIST SP 811, Appendix B, and the definitions there (inch, pound, standard gravity).
A spelling is matched exactly, letter case included. ``kip`` is 1000 lbf by its name.
"""

from __future__ import annotations

import math
from fractions import Fraction

INCH = Fraction("0.0254")
FOOT = Fraction("0.3048")
POUND = Fraction("0.45359237")
STANDARD_GRAVITY = Fraction("9.80665")
POUND_FORCE = POUND * STANDARD_GRAVITY
# The one factor that is no exact number: the double next to pi, over 180.
DEGREE = Fraction(math.pi) / 180

NANOMETRES_PER_INCH = 25_400_000
NANOMETRES_PER_SIXTY_FOURTH = 396_875
NANOMETRES_PER_MILLIMETRE = 1_000_000

LENGTH_NANOMETRES: dict[str, int] = {
    "in": NANOMETRES_PER_INCH,
    "mm": NANOMETRES_PER_MILLIMETRE,
    "m": 1_000_000_000,
    "ft": 12 * NANOMETRES_PER_INCH,
    "cm": 10_000_000,
    "inch": NANOMETRES_PER_INCH,
    "inches": NANOMETRES_PER_INCH,
    "foot": 12 * NANOMETRES_PER_INCH,
    "feet": 12 * NANOMETRES_PER_INCH,
    '"': NANOMETRES_PER_INCH,
    "″": NANOMETRES_PER_INCH,
}

FORCE_NEWTONS: dict[str, Fraction] = {
    "kN": Fraction(1000),
    "N": Fraction(1),
    "lbf": POUND_FORCE,
    "kip": 1000 * POUND_FORCE,
    "kips": 1000 * POUND_FORCE,
    "kgf": STANDARD_GRAVITY,
    "short tonf": 2000 * POUND_FORCE,
    "long tonf": 2240 * POUND_FORCE,
}

MASS_KILOGRAMS: dict[str, Fraction] = {"kg": Fraction(1), "lb": POUND, "g": Fraction(1, 1000)}

MASS_PER_LENGTH_KILOGRAMS_PER_METRE: dict[str, Fraction] = {"kg/m": Fraction(1), "lb/ft": POUND / FOOT}

ANGLE_RADIANS: dict[str, Fraction] = {
    "deg": DEGREE,
    "°": DEGREE,
    "degree": DEGREE,
    "degrees": DEGREE,
    "rad": Fraction(1),
}

TORQUE_NEWTON_METRES: dict[str, Fraction] = {
    "lbf·ft": POUND_FORCE * FOOT,
    "lbf·in": POUND_FORCE * INCH,
    "N·m": Fraction(1),
}

# The half-high dot has two code points in use, and typewriters have none: all of these mean one product.
_JOINS = ("·", "⋅", "-", " ")
TORQUE_SPELLINGS: dict[str, str] = {
    **{f"lbf{join}ft": "lbf·ft" for join in _JOINS},
    **{f"ft{join}lbf": "lbf·ft" for join in _JOINS},
    **{f"lbf{join}in": "lbf·in" for join in _JOINS},
    **{f"in{join}lbf": "lbf·in" for join in _JOINS},
    **{f"N{join}m": "N·m" for join in _JOINS},
    "Nm": "N·m",
}

# Only for messages: which kind of quantity a spelling belongs to.
KIND_OF_UNIT: dict[str, str] = {
    spelling: kind
    for kind, spellings in (
        ("percentage", ("%",)),
        ("angle", ANGLE_RADIANS),
        ("mass", MASS_KILOGRAMS),
        ("mass per length", MASS_PER_LENGTH_KILOGRAMS_PER_METRE),
        ("torque", TORQUE_SPELLINGS),
        ("force", FORCE_NEWTONS),
        ("length", LENGTH_NANOMETRES),
    )
    for spelling in spellings
}
