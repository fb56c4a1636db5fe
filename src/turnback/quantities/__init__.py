"""Exact lengths, printed torques, forces, masses and angles; their text grammar; the door for pint quantities."""

from turnback.quantities.angle import Angle, AngleLike
from turnback.quantities.force import Force, ForceLike
from turnback.quantities.grammar import parse_number
from turnback.quantities.length import MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, THIRTY_SECOND, Length, LengthLike
from turnback.quantities.mass import Mass, MassLike, MassPerLength, MassPerLengthLike
from turnback.quantities.pint_door import PintQuantity, PintRegistry
from turnback.quantities.printing import number_text
from turnback.quantities.ratio import percent, percent_text
from turnback.quantities.rounding import Rounding
from turnback.quantities.torque import Torque, TorqueLike

__all__ = [
    "MILLIMETRE",
    "SIXTEENTH",
    "SIXTY_FOURTH",
    "THIRTY_SECOND",
    "Angle",
    "AngleLike",
    "Force",
    "ForceLike",
    "Length",
    "LengthLike",
    "Mass",
    "MassLike",
    "MassPerLength",
    "MassPerLengthLike",
    "PintQuantity",
    "PintRegistry",
    "Rounding",
    "Torque",
    "TorqueLike",
    "number_text",
    "parse_number",
    "percent",
    "percent_text",
]
