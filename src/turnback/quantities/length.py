"""A length as an exact count of nanometres.

An inch is 25 400 000 nm and 1/64 in is 396 875 nm (NIST SP 811), so every tape fraction and every usual metric size is
a whole count. The class is written by hand: comparison, hash and sums are single operations on one integer.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, ClassVar, Literal, TypeAlias, final

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import shown
from turnback.quantities.length_text import LENGTH_FORMS, print_exact, print_length, read_length
from turnback.quantities.pint_door import (
    LENGTH,
    LENGTH_NAMES,
    PintQuantity,
    PintRegistry,
    Q_co,
    hand_over,
    is_pint_quantity,
    read_pint,
)
from turnback.quantities.rounding import Rounding, exact, nearest_to_float, whole

__all__ = ["MILLIMETRE", "SIXTEENTH", "SIXTY_FOURTH", "THIRTY_SECOND", "Length", "LengthLike"]

GREATEST_NANOMETRES = 10**15
"""Greatest length that is read from outside, 1000 km: below it a float names every nanometre."""


@final
class Length:
    """A length, exact to the nanometre.

    Sums, differences, whole multiples, comparisons and ratios are exact; a difference may be negative.
    `Length.of` reads a length from text or from a pint quantity and takes only what is greater than zero.

    Args:
        nanometres: Whole count of nanometres [nm].

    Raises:
        InputError: The count is not an int (a bool is none).
    """

    __slots__ = {"nanometres": "The exact count of nanometres [nm]."}
    # numpy asks this before it tries to make an array of us; None lets Python raise its TypeError.
    __array_ufunc__: ClassVar[None] = None

    if TYPE_CHECKING:

        @property
        def nanometres(self) -> int:
            """The exact count of nanometres [nm]."""

    def __new__(cls, nanometres: int) -> Length:
        """Check the count and make the length."""
        if nanometres.__class__ is not int:
            raise InputError(
                "a count of nanometres is an int",
                field="nanometres",
                value=shown(nanometres),
                instead=f'Use Length.of("3/4 in"), Length.up, Length.down or Length.nearest. {LENGTH_FORMS}',
            )
        return _made(nanometres)

    def __init_subclass__(cls) -> None:
        raise TypeError("Length is final")

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a Length cannot be changed ({name})")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"a Length cannot be changed ({name})")

    def __reduce__(self) -> tuple[type[Length], tuple[int]]:
        return Length, (self.nanometres,)

    def __copy__(self) -> Length:
        return self

    def __deepcopy__(self, memo: object) -> Length:
        return self

    # Reading

    @staticmethod
    def of(value: LengthLike, field: str = "length") -> Length:
        """Read a length.

        Args:
            value: A Length, text such as ``"1-1/2 in"``, ``"13 mm"``, ``"4 ft 6 in"``, or a pint quantity of any
                registry. A float or Decimal magnitude is rounded to the nearest nanometre; an int or a
                Fraction must come out as a whole count of nanometres [length].
            field: Name of the input, for the message.

        Returns:
            The length, greater than zero.

        Raises:
            InputError: The value cannot be read exactly, is zero or negative, or is longer than 1000 km.
        """
        if value.__class__ is str:
            return _bounded(read_length(value, field), value, field)
        if isinstance(value, Length):
            return _bounded(value.nanometres, value, field)
        if isinstance(value, str):
            return _bounded(read_length(str(value), field), value, field)
        if is_pint_quantity(value):
            metres, is_exact = read_pint(value, LENGTH, "length", field, LENGTH_FORMS)
            count = metres * 10**9
            if is_exact and count.denominator != 1:
                raise InputError(
                    "the length is no whole number of nanometres",
                    field=field,
                    value=shown(value),
                    instead="Round it first, to the safe side: Length.up or Length.down.",
                )
            return _bounded(whole(count, "nearest"), value, field)
        return _bounded(read_length(value, field), value, field)

    @staticmethod
    def up(nanometres: Fraction | int) -> Length:
        """Build a length from an exact count of nanometres, rounded up.

        Args:
            nanometres: The count [nm].

        Returns:
            The least length that is not shorter.

        Raises:
            InputError: The count is neither Fraction nor int.
        """
        return _made(whole(exact(nanometres, "nanometres"), "up"))

    @staticmethod
    def down(nanometres: Fraction | int) -> Length:
        """Build a length from an exact count of nanometres, rounded down.

        Args:
            nanometres: The count [nm].

        Returns:
            The greatest length that is not longer.

        Raises:
            InputError: The count is neither Fraction nor int.
        """
        return _made(whole(exact(nanometres, "nanometres"), "down"))

    @staticmethod
    def nearest(nanometres: float | Fraction) -> Length:
        """Build a length from a count of nanometres, rounded to the nearest; ties go away from zero.

        Args:
            nanometres: The count, finite [nm].

        Returns:
            The nearest length.

        Raises:
            InputError: The count is no number, or is not finite.
        """
        if isinstance(nanometres, float):
            return _made(nearest_to_float(nanometres, "nanometres"))
        return _made(whole(exact(nanometres, "nanometres"), "nearest"))

    def times(self, ratio: Fraction | int, rounding: Rounding) -> Length:
        """Multiply by an exact ratio and round once.

        Args:
            ratio: The ratio [-].
            rounding: ``"up"``, ``"down"`` or ``"nearest"`` (ties away from zero), to the nanometre.

        Returns:
            The multiple.

        Raises:
            InputError: The ratio is neither Fraction nor int, or the rounding is none of the three.
        """
        return _made(whole(self.nanometres * exact(ratio, "ratio"), rounding))

    def tape(self, step: Length, rounding: Rounding) -> Length:
        """Round to a graduation of the tape.

        Args:
            step: The graduation, such as `SIXTEENTH` or `MILLIMETRE`, greater than zero [length].
            rounding: ``"up"``, ``"down"`` or ``"nearest"`` (ties away from zero).

        Returns:
            A whole multiple of the graduation.

        Raises:
            InputError: The graduation is not greater than zero, or the rounding is none of the three.
        """
        if step.__class__ is not _OWN or step.nanometres <= 0:
            raise InputError(
                "a graduation is a length greater than zero",
                field="step",
                value=shown(step),
                instead="Use SIXTEENTH, THIRTY_SECOND, SIXTY_FOURTH or MILLIMETRE.",
            )
        return _made(whole(Fraction(self.nanometres, step.nanometres), rounding) * step.nanometres)

    # Giving

    @property
    def inches(self) -> Fraction:
        """The exact number of inches [in]."""
        return Fraction(self.nanometres, units.NANOMETRES_PER_INCH)

    @property
    def millimetres(self) -> Fraction:
        """The exact number of millimetres [mm]."""
        return Fraction(self.nanometres, units.NANOMETRES_PER_MILLIMETRE)

    def to_pint(self, registry: PintRegistry[Q_co], unit: str = "mm") -> Q_co:
        """Give the length back as a quantity of the caller's registry.

        Args:
            registry: A pint registry; nothing of it is kept.
            unit: ``"mm"``, ``"m"``, ``"in"``, ``"ft"`` or their long names.

        Returns:
            The quantity; its magnitude is a float, or exact where the registry works with Fraction or Decimal.

        Raises:
            InputError: The unit is none of these.
        """
        known = LENGTH_NAMES.get(unit)
        if known is None:
            raise InputError(
                "the unit is no unit of a length", field="unit", value=shown(unit), bound=", ".join(LENGTH_NAMES)
            )
        return hand_over(registry, Fraction(self.nanometres, known[1]), known[0])

    def text(self, form: Literal["in", "mm", "both"] = "both") -> str:
        """Write the length.

        Args:
            form: ``"mm"``, exact; ``"in"``, a tape fraction where it is a multiple of 1/64 in, else decimal inches,
                marked with ≈ where they are rounded; ``"both"``, the exact one first.

        Returns:
            Text such as ``"11-1/2 in"``, ``"13 mm"`` or ``"13 mm (≈ 0.5118 in)"``.

        Raises:
            InputError: The form is none of the three.
        """
        return print_length(self.nanometres, form)

    def __str__(self) -> str:
        return print_exact(self.nanometres)

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)

    def __repr__(self) -> str:
        return f"Length({self.nanometres})"

    # Comparing

    def __hash__(self) -> int:
        return hash(self.nanometres)

    def __eq__(self, other: object) -> bool:
        return self.nanometres == other.nanometres if isinstance(other, Length) else NotImplemented

    def __lt__(self, other: Length) -> bool:
        return self.nanometres < other.nanometres if other.__class__ is _OWN else NotImplemented

    def __le__(self, other: Length) -> bool:
        return self.nanometres <= other.nanometres if other.__class__ is _OWN else NotImplemented

    def __gt__(self, other: Length) -> bool:
        return self.nanometres > other.nanometres if other.__class__ is _OWN else NotImplemented

    def __ge__(self, other: Length) -> bool:
        return self.nanometres >= other.nanometres if other.__class__ is _OWN else NotImplemented

    # Reckoning

    def __add__(self, other: Length) -> Length:
        if other.__class__ is not _OWN:
            return NotImplemented
        total = _blank(Length)  # `_made`, written out: sums are what a plan does most
        _write(total, self.nanometres + other.nanometres)
        return total

    def __sub__(self, other: Length) -> Length:
        if other.__class__ is not _OWN:
            return NotImplemented
        rest = _blank(Length)
        _write(rest, self.nanometres - other.nanometres)
        return rest

    def __mul__(self, count: int) -> Length:
        return _made(self.nanometres * count) if count.__class__ is int else NotImplemented

    __rmul__ = __mul__

    def __truediv__(self, other: Length) -> Fraction:
        return Fraction(self.nanometres, other.nanometres) if other.__class__ is _OWN else NotImplemented

    def __neg__(self) -> Length:
        return _made(-self.nanometres)

    def __abs__(self) -> Length:
        return _made(abs(self.nanometres))


LengthLike: TypeAlias = Length | str | PintQuantity
"""What is read as a length: a Length, text, or a pint quantity of any registry."""

_blank = object.__new__
# As a plain type, so that a check which the type checker holds needless still stands at run time.
_OWN: type = Length
# The slot's own setter: it alone writes, once, when a length is made.
_write = Length.__dict__["nanometres"].__set__


def _made(nanometres: int) -> Length:
    length = _blank(Length)
    _write(length, nanometres)
    return length


def _bounded(nanometres: int, value: object, field: str) -> Length:
    if 0 < nanometres <= GREATEST_NANOMETRES:
        return value if isinstance(value, Length) else _made(nanometres)
    low = nanometres <= 0
    raise InputError(
        "a length is greater than zero" if low else "the length is longer than any rope",
        field=field,
        value=shown(value),
        bound="at least 1 nm" if low else "at most 1000 km",
        instead=LENGTH_FORMS,
    )


SIXTEENTH = Length(4 * units.NANOMETRES_PER_SIXTY_FOURTH)
"""Graduation of 1/16 in."""
THIRTY_SECOND = Length(2 * units.NANOMETRES_PER_SIXTY_FOURTH)
"""Graduation of 1/32 in."""
SIXTY_FOURTH = Length(units.NANOMETRES_PER_SIXTY_FOURTH)
"""Graduation of 1/64 in."""
MILLIMETRE = Length(units.NANOMETRES_PER_MILLIMETRE)
"""Graduation of 1 mm."""
