"""A mass, and a mass per length of rope."""

from __future__ import annotations

from fractions import Fraction
from typing import TypeAlias, final

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import shown
from turnback.quantities.length import Length
from turnback.quantities.pint_door import MASS, MASS_PER_LENGTH, PintQuantity, PintRegistry, Q_co
from turnback.quantities.printing import float_text
from turnback.quantities.scalar import Scalar

__all__ = ["Mass", "MassLike", "MassPerLength", "MassPerLengthLike"]

_POUND_PER_FOOT = units.POUND / units.FOOT
_BARE_TON = "a bare ton may be a short ton, a long ton or a tonne"
_HINTS = {"ton": _BARE_TON, "tons": _BARE_TON, "lbf": "lbf is a force; the unit of mass is lb"}
_MASS_UNITS = {"kg": ("kilogram", Fraction(1)), "lb": ("pound", units.POUND)}
_MASS_PER_LENGTH_UNITS = {
    "kg/m": ("kilogram / meter", Fraction(1)),
    "lb/ft": ("pound / foot", _POUND_PER_FOOT),
}


@final
class Mass(Scalar):
    """A mass.

    Args:
        kilograms: Its size, finite [kg].

    Raises:
        InputError: The number is not finite, or no number.
    """

    __slots__ = ()
    _kind = "mass"
    _forms = "Write a mass as '12 kg', '500 g' or '26 lb'."
    _dimension = MASS
    _spellings = units.MASS_KILOGRAMS
    _hints = _HINTS
    _pint_units = _MASS_UNITS

    def __new__(cls, kilograms: float) -> Mass:
        """Check the number and make the quantity."""
        return cls._made(kilograms, "kilograms")

    @staticmethod
    def of(value: MassLike, field: str = "mass") -> Mass:
        """Read a mass.

        Args:
            value: A Mass, text such as ``"12 kg"`` or ``"26 lb"``, or a pint quantity of any registry [mass].
            field: Name of the input, for the message.

        Returns:
            The mass, greater than zero.

        Raises:
            InputError: The value is no mass of the accepted forms, or not greater than zero.
        """
        return Mass._read(value, field)

    @property
    def kilograms(self) -> float:
        """The mass in kilograms [kg]."""
        return self._si

    @property
    def pounds(self) -> float:
        """The mass in pounds [lb]."""
        return float(Fraction(self._si) / units.POUND)

    def to_pint(self, registry: PintRegistry[Q_co], unit: str = "kg") -> Q_co:
        """Give the mass back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"kg"`` or ``"lb"``.

        Returns:
            The quantity.

        Raises:
            InputError: The unit is neither.
        """
        return self._handed(registry, unit)

    def __str__(self) -> str:
        return f"{float_text(self.kilograms, 4, 'nearest')} kg ({float_text(self.pounds, 4, 'nearest')} lb)"


@final
class MassPerLength(Scalar):
    """The mass of one metre of rope.

    Args:
        kilograms_per_metre: Its size, finite [kg/m].

    Raises:
        InputError: The number is not finite, or no number.
    """

    __slots__ = ()
    _kind = "mass per length"
    _forms = "Write a mass per length as '1.55 kg/m' or '1.04 lb/ft'."
    _dimension = MASS_PER_LENGTH
    _spellings = units.MASS_PER_LENGTH_KILOGRAMS_PER_METRE
    _pint_units = _MASS_PER_LENGTH_UNITS

    def __new__(cls, kilograms_per_metre: float) -> MassPerLength:
        """Check the number and make the quantity."""
        return cls._made(kilograms_per_metre, "kilograms_per_metre")

    @staticmethod
    def of(value: MassPerLengthLike, field: str = "mass_per_length") -> MassPerLength:
        """Read a mass per length.

        Args:
            value: A MassPerLength, text such as ``"1.55 kg/m"`` or ``"1.04 lb/ft"``, or a pint quantity of any
                registry [mass per length].
            field: Name of the input, for the message.

        Returns:
            The mass per length, greater than zero.

        Raises:
            InputError: The value is no mass per length of the accepted forms, or not greater than zero.
        """
        return MassPerLength._read(value, field)

    @property
    def kilograms_per_metre(self) -> float:
        """The mass per length in kilograms per metre [kg/m]."""
        return self._si

    @property
    def pounds_per_foot(self) -> float:
        """The mass per length in pounds per foot [lb/ft]."""
        return float(Fraction(self._si) / _POUND_PER_FOOT)

    def of_length(self, length: Length) -> Mass:
        """Reckon the mass of a piece of rope.

        Args:
            length: The length of the piece [length].

        Returns:
            Its mass.

        Raises:
            InputError: The length is no Length.
        """
        if not isinstance(length, Length):
            raise InputError("a length is wanted", field="length", value=shown(length), instead="Use Length.of.")
        return Mass(float(Fraction(self._si) * Fraction(length.nanometres, 10**9)))

    def to_pint(self, registry: PintRegistry[Q_co], unit: str = "kg/m") -> Q_co:
        """Give the mass per length back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"kg/m"`` or ``"lb/ft"``.

        Returns:
            The quantity.

        Raises:
            InputError: The unit is neither.
        """
        return self._handed(registry, unit)

    def __str__(self) -> str:
        metric = float_text(self.kilograms_per_metre, 4, "nearest")
        return f"{metric} kg/m ({float_text(self.pounds_per_foot, 4, 'nearest')} lb/ft)"


MassLike: TypeAlias = Mass | str | PintQuantity
"""What is read as a mass: a Mass, text, or a pint quantity of any registry."""
MassPerLengthLike: TypeAlias = MassPerLength | str | PintQuantity
"""What is read as a mass per length: a MassPerLength, text, or a pint quantity of any registry."""
