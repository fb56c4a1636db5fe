"""A torque as its source prints it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar, TypeAlias, final

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import is_short_text, read_number, refusal, shown, split_unit
from turnback.quantities.pint_door import (
    TORQUE,
    PintQuantity,
    PintRegistry,
    Q_co,
    hand_over,
    is_pint_quantity,
    read_pint,
    unit_powers,
)
from turnback.quantities.printing import float_text, number_text

__all__ = ["Torque", "TorqueLike"]

GREATEST_NUMBER = 10**9
"""Greatest number of a torque, in any of its units: far beyond any nut, and safe to turn into a float."""

TORQUE_FORMS = (
    "Write a torque as '65 lbf·ft', '65 ft-lbf', '780 lbf·in' or '88 N·m', or as printed: '65 lbf·ft (88 N·m)'."
)
_POUND_IS_MASS = "lb is a mass; the torque unit is lbf·ft or lbf·in"
_HINTS = {
    **{
        f"{a}{join}{b}": _POUND_IS_MASS
        for a, b in (("ft", "lb"), ("lb", "ft"), ("in", "lb"), ("lb", "in"))
        for join in "·-⋅ "
    },
    "lbs": _POUND_IS_MASS,
}
_PINT_UNITS = {"lbf·ft": "force_pound * foot", "lbf·in": "force_pound * inch", "N·m": "newton * meter"}
_PRINTED_UNITS = {
    frozenset({("force_pound", 1), ("foot", 1)}): "lbf·ft",
    frozenset({("foot_pound", 1)}): "lbf·ft",
    frozenset({("force_pound", 1), ("inch", 1)}): "lbf·in",
    frozenset({("newton", 1), ("meter", 1)}): "N·m",
}


@final
class Torque:
    """A torque with the number and unit that its source prints, and the second printed one where there is one.

    Two torques are equal where the same data are printed; `same_as` tells whether they mean the same torque.

    Args:
        value: The printed number, greater than zero [in `unit`].
        unit: ``"lbf·ft"``, ``"lbf·in"`` or ``"N·m"``.
        also: The second printed number and its unit [in that unit], or None.

    Raises:
        InputError: A number is no Fraction or int above zero, a unit is unknown or given twice, or the second number
            is not the first one in another unit (within half of its last printed place or 0.5 %, whichever is more).
    """

    __slots__ = ("also", "unit", "value")
    __array_ufunc__: ClassVar[None] = None

    if TYPE_CHECKING:

        @property
        def value(self) -> Fraction:
            """The printed number [in `unit`]."""

        @property
        def unit(self) -> str:
            """The printed unit."""

        @property
        def also(self) -> tuple[Fraction, str] | None:
            """The second printed number and its unit; None where the source prints one number alone."""

    def __new__(cls, value: Fraction | int, unit: str, also: tuple[Fraction | int, str] | None = None) -> Torque:
        """Check the printed data and make the torque."""
        made = object.__new__(cls)
        object.__setattr__(made, "value", _printed(value, unit))
        object.__setattr__(made, "unit", unit)
        second = None
        if also is not None:
            second = _pair(also)
        object.__setattr__(made, "also", second)
        _check_second(made)
        return made

    def __init_subclass__(cls) -> None:
        raise TypeError("Torque is final")

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a Torque cannot be changed ({name})")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"a Torque cannot be changed ({name})")

    def __reduce__(self) -> tuple[type[Torque], tuple[Fraction, str, tuple[Fraction, str] | None]]:
        return Torque, (self.value, self.unit, self.also)

    def __copy__(self) -> Torque:
        return self

    def __deepcopy__(self, memo: object) -> Torque:
        return self

    @staticmethod
    def of(value: TorqueLike, field: str = "torque") -> Torque:
        """Read a torque.

        Args:
            value: A Torque, text such as ``"65 lbf·ft"``, ``"88 N·m"`` or ``"65 lbf·ft (88 N·m)"``, or a pint quantity
                of any registry [torque].
            field: Name of the input, for the message.

        Returns:
            The torque, in the unit given; a quantity in another unit of torque is taken in N·m.

        Raises:
            InputError: The value is no torque of the accepted forms, or not greater than zero.
        """
        if isinstance(value, Torque):
            return value
        try:
            if isinstance(value, str):
                return _read(value, field)
            if is_pint_quantity(value):
                newton_metres, _ = read_pint(value, TORQUE, "torque", field, TORQUE_FORMS)
                unit = _PRINTED_UNITS.get(frozenset((unit_powers(value) or {}).items()), "N·m")
                return Torque(newton_metres / units.TORQUE_NEWTON_METRES[unit], unit)
        except InputError as error:
            if error.field != field:  # raised by the constructor, which does not know the caller's name
                error.field = f"{field}.{error.field}"
            raise
        raise refusal(value, field, "torque", TORQUE_FORMS, _HINTS)

    @property
    def exact_newton_metres(self) -> Fraction:
        """The exact SI value of the first printed number [N·m]."""
        return self.value * units.TORQUE_NEWTON_METRES[self.unit]

    @property
    def newton_metres(self) -> float:
        """The SI value, derived from the first printed number [N·m]."""
        return float(self.exact_newton_metres)

    @property
    def pound_feet(self) -> float:
        """The value in pound-force feet, derived from the first printed number [lbf·ft]."""
        return float(self.exact_newton_metres / units.TORQUE_NEWTON_METRES["lbf·ft"])

    def same_as(self, other: Torque) -> bool:
        """Tell whether two printed torques mean the same torque.

        They do where a printed value of one is exactly a printed value of the other (65 lbf·ft is 780 lbf·in), and
        the first printed number of at least one of them is among the two: 65 lbf·ft printed with 88 N·m is the same
        as 88 N·m alone. A conversion that no source prints is never taken as agreement.

        Args:
            other: The other torque [torque].

        Returns:
            True where they mean the same torque.

        Raises:
            InputError: The other one is no Torque.
        """
        if other.__class__ is not Torque:
            raise InputError("a torque is compared with a torque", field="other", value=shown(other))
        mine, yours = self.exact_newton_metres, other.exact_newton_metres
        return mine == yours or mine == other._second_exact() or yours == self._second_exact()

    def _second_exact(self) -> Fraction | None:
        return self.also[0] * units.TORQUE_NEWTON_METRES[self.also[1]] if self.also else None

    def to_pint(self, registry: PintRegistry[Q_co], unit: str | None = None) -> Q_co:
        """Give the torque back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"lbf·ft"``, ``"lbf·in"`` or ``"N·m"``; the printed unit where not given.

        Returns:
            The quantity; its magnitude is a float, or exact where the registry works with Fraction or Decimal.

        Raises:
            InputError: The unit is none of these.
        """
        wanted = _known(self.unit if unit is None else unit)
        value = self.exact_newton_metres / units.TORQUE_NEWTON_METRES[wanted]
        return hand_over(registry, value, _PINT_UNITS[wanted])

    def __str__(self) -> str:
        first = f"{number_text(self.value)} {self.unit}"
        if self.also is not None:
            return f"{first} ({number_text(self.also[0])} {self.also[1]})"
        if self.unit == "N·m":
            return f"{first} (≈ {float_text(self.pound_feet, 4, 'nearest')} lbf·ft)"
        return f"{first} (≈ {float_text(self.newton_metres, 4, 'nearest')} N·m)"

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)

    def __repr__(self) -> str:
        second = f", {self.also!r}" if self.also else ""
        return f"Torque({self.value!r}, {self.unit!r}{second})"

    def __hash__(self) -> int:
        return hash((self.value, self.unit, self.also))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Torque):
            return NotImplemented
        return (self.value, self.unit, self.also) == (other.value, other.unit, other.also)


TorqueLike: TypeAlias = Torque | str | PintQuantity
"""What is read as a torque: a Torque, text, or a pint quantity of any registry."""


def _known(unit: object) -> str:
    if isinstance(unit, str) and unit in units.TORQUE_NEWTON_METRES:
        return unit
    raise InputError(
        "the unit is no unit of a torque", field="unit", value=shown(unit), bound='"lbf·ft", "lbf·in" or "N·m"'
    )


def _pair(also: object) -> tuple[Fraction, str]:
    if isinstance(also, tuple) and len(also) == 2:
        return _printed(also[0], also[1]), also[1]
    raise InputError("the second printed torque is a pair of number and unit", field="also", value=shown(also))


def _printed(value: object, unit: object) -> Fraction:
    _known(unit)
    if isinstance(value, (Fraction, int)) and not isinstance(value, bool) and 0 < value <= GREATEST_NUMBER:
        return Fraction(value)
    raise InputError(
        "a printed torque is an exact number greater than zero",
        field="value",
        value=shown(value),
        bound=f"a Fraction or int, greater than 0, at most {GREATEST_NUMBER}",
        instead=f"Read it from text. {TORQUE_FORMS}",
    )


def _check_second(torque: Torque) -> None:
    """Refuse a second number that is another torque: agreement between sources leans on it."""
    if torque.also is None:
        return
    value, unit = torque.also
    if unit == torque.unit:
        raise InputError("the second printed torque has the unit of the first", field="also", value=shown(torque.also))
    converted = torque.exact_newton_metres / units.TORQUE_NEWTON_METRES[unit]
    _, _, places = number_text(value).partition(".")
    if abs(converted - value) > max(Fraction(1, 2 * 10 ** len(places)), converted / 200):
        raise InputError(
            f"the second printed torque is not the first one in another unit, which is {float(converted):.6g} {unit}",
            field="also",
            value=f"{number_text(value)} {unit}",
            instead="Leave the second number out, and record the misprint beside the value.",
        )


def _read(text: str, field: str) -> Torque:
    parts = text.removesuffix(")").split(" (") if text.endswith(")") else [text]
    found = [_read_part(part) for part in parts] if is_short_text(text) and len(parts) <= 2 else []
    if len(found) == 1 and found[0] is not None:
        return Torque(*found[0])
    if len(found) == 2 and found[0] is not None and found[1] is not None:
        return Torque(*found[0], found[1])
    raise refusal(text, field, "torque", TORQUE_FORMS, _HINTS)


def _read_part(text: str) -> tuple[Fraction, str] | None:
    split = split_unit(text, units.TORQUE_SPELLINGS)
    number = read_number(split[0]) if split else None
    return (Fraction(*number), split[1]) if split and number else None
