"""An angle."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TypeAlias, final

from turnback.quantities import units
from turnback.quantities.pint_door import ANGLE, PintQuantity, PintRegistry, Q_co
from turnback.quantities.printing import float_text
from turnback.quantities.scalar import Scalar

__all__ = ["Angle", "AngleLike"]

_PINT_UNITS = {"rad": ("radian", Fraction(1)), "deg": ("degree", units.DEGREE)}


@final
class Angle(Scalar):
    """An angle.

    Args:
        radians: Its size, finite [rad].

    Raises:
        InputError: The number is not finite, or no number.
    """

    __slots__ = ()
    _kind = "angle"
    _forms = "Write an angle as '60 deg', '60°' or '1.05 rad'."
    _dimension = ANGLE
    _spellings = units.ANGLE_RADIANS
    _pint_units = _PINT_UNITS

    def __new__(cls, radians: float) -> Angle:
        """Check the number and make the quantity."""
        return cls._made(radians, "radians")

    @staticmethod
    def of(value: AngleLike, field: str = "angle") -> Angle:
        """Read an angle.

        Args:
            value: An Angle, text such as ``"60 deg"`` or ``"1.05 rad"``, or a pint quantity of any registry [angle].
            field: Name of the input, for the message.

        Returns:
            The angle, greater than zero.

        Raises:
            InputError: The value is no angle of the accepted forms, or not greater than zero.
        """
        return Angle._read(value, field)

    @property
    def radians(self) -> float:
        """The angle in radians [rad]."""
        return self._si

    @property
    def degrees(self) -> float:
        """The angle in degrees [deg]."""
        return math.degrees(self._si)

    def to_pint(self, registry: PintRegistry[Q_co], unit: str = "rad") -> Q_co:
        """Give the angle back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"rad"`` or ``"deg"``.

        Returns:
            The quantity.

        Raises:
            InputError: The unit is neither.
        """
        return self._handed(registry, unit)

    def __str__(self) -> str:
        return f"{float_text(self.degrees, 4, 'nearest')}°"


AngleLike: TypeAlias = Angle | str | PintQuantity
"""What is read as an angle: an Angle, text, or a pint quantity of any registry."""
