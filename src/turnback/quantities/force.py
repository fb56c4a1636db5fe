"""A force."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, TypeAlias, final

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import shown
from turnback.quantities.pint_door import FORCE, PintQuantity, PintRegistry, Q_co
from turnback.quantities.printing import float_text
from turnback.quantities.rounding import Rounding
from turnback.quantities.scalar import Scalar

__all__ = ["Force", "ForceLike"]

_BARE_TON = "a bare ton may be a short ton, a long ton or a tonne, and a mass or a force"
_POUND_IS_MASS = "lb is a mass; the unit of force is lbf"

_HINTS = {
    "lb": _POUND_IS_MASS,
    "lbs": _POUND_IS_MASS,
    "kg": "kg is a mass; the unit of force is N, kN or kgf",
    "short ton": "a short ton is a mass; the force is written short tonf",
    "long ton": "a long ton is a mass; the force is written long tonf",
    "ton": _BARE_TON,
    "tons": _BARE_TON,
    "tonf": _BARE_TON,
    "tonne": _BARE_TON,
}
_PINT_UNITS = {
    "N": ("newton", Fraction(1)),
    "kN": ("kilonewton", Fraction(1000)),
    "lbf": ("force_pound", units.POUND_FORCE),
    "kip": ("kip", 1000 * units.POUND_FORCE),
    "kgf": ("force_kilogram", units.STANDARD_GRAVITY),
}


@final
class Force(Scalar):
    """A force.

    Args:
        newtons: Its size, finite [N].

    Raises:
        InputError: The number is not finite, or no number.
    """

    __slots__ = ()
    _kind = "force"
    _forms = (
        "Write a force as '5 kN', '5000 N', '26600 lbf', '26.6 kip', '500 kgf', '11.5 short tonf' or '10 long tonf'."
    )
    _dimension = FORCE
    _spellings = units.FORCE_NEWTONS
    _hints = _HINTS
    _pint_units = _PINT_UNITS

    def __new__(cls, newtons: float) -> Force:
        """Check the number and make the quantity."""
        return cls._made(newtons, "newtons")

    @staticmethod
    def of(value: ForceLike, field: str = "force") -> Force:
        """Read a force.

        Args:
            value: A Force, text such as ``"26.6 kip"`` or ``"11.5 short tonf"``, or a pint quantity of any
                registry [force].
            field: Name of the input, for the message.

        Returns:
            The force, greater than zero.

        Raises:
            InputError: The value is no force of the accepted forms, or not greater than zero.
        """
        return Force._read(value, field)

    @property
    def newtons(self) -> float:
        """The force in newtons [N]."""
        return self._si

    @property
    def kilonewtons(self) -> float:
        """The force in kilonewtons [kN]."""
        return self._si / 1000

    @property
    def pounds_force(self) -> float:
        """The force in pounds-force [lbf]."""
        return float(Fraction(self._si) / units.POUND_FORCE)

    @property
    def short_tons_force(self) -> float:
        """The force in tons-force of 2000 lbf [short tonf]."""
        return float(Fraction(self._si) / (2000 * units.POUND_FORCE))

    def to_pint(self, registry: PintRegistry[Q_co], unit: str = "N") -> Q_co:
        """Give the force back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"N"``, ``"kN"``, ``"lbf"``, ``"kip"`` or ``"kgf"``.

        Returns:
            The quantity.

        Raises:
            InputError: The unit is none of these.
        """
        return self._handed(registry, unit)

    def text(self, form: Literal["kN", "lbf", "both"] = "both", rounding: Rounding = "nearest") -> str:
        """Write the force with four significant digits.

        Args:
            form: ``"kN"``, ``"lbf"`` or ``"both"``.
            rounding: ``"down"`` for what may be relied on, ``"up"`` for what is demanded, or ``"nearest"``.

        Returns:
            Text such as ``"118.3 kN (26600 lbf)"``.

        Raises:
            InputError: The form or the rounding is none of these.
        """
        metric = f"{float_text(self.kilonewtons, 4, rounding)} kN"
        customary = f"{float_text(self.pounds_force, 4, rounding)} lbf"
        forms = {"kN": metric, "lbf": customary, "both": f"{metric} ({customary})"}
        if form not in forms:
            raise InputError("unknown form of text", field="form", value=shown(form), bound=", ".join(forms))
        return forms[form]

    def __str__(self) -> str:
        return self.text()


ForceLike: TypeAlias = Force | str | PintQuantity
"""What is read as a force: a Force, text, or a pint quantity of any registry."""
