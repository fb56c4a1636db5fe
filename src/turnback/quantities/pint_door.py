"""The door for pint quantities: read from any registry, given back in the caller's registry.

pint is never imported here. From a quantity the door takes the magnitude and the names of the units, and uses our own
factors (NIST SP 811), so that the settings and definitions of the caller's registry cannot change a value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from decimal import Context, Decimal
from fractions import Fraction
from typing import Protocol, TypeVar, cast

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import shown

Q_co = TypeVar("Q_co", covariant=True)

Dimension = tuple[int, int, int, int]
"""Powers of metre, kilogram, second and radian."""

LENGTH: Dimension = (1, 0, 0, 0)
MASS: Dimension = (0, 1, 0, 0)
FORCE: Dimension = (1, 1, -2, 0)
TORQUE: Dimension = (2, 1, -2, 0)
MASS_PER_LENGTH: Dimension = (-1, 1, 0, 0)
ANGLE: Dimension = (0, 0, 0, 1)

# Canonical names as pint gives them. A joule is left out on purpose: a torque is no energy.
_UNITS: dict[str, tuple[Fraction, Dimension]] = {
    "meter": (Fraction(1), LENGTH),
    "inch": (units.INCH, LENGTH),
    "foot": (units.FOOT, LENGTH),
    "gram": (Fraction(1, 1000), MASS),
    "pound": (units.POUND, MASS),
    "second": (Fraction(1), (0, 0, 1, 0)),
    "newton": (Fraction(1), FORCE),
    "force_pound": (units.POUND_FORCE, FORCE),
    "kip": (1000 * units.POUND_FORCE, FORCE),
    "force_kilogram": (units.STANDARD_GRAVITY, FORCE),
    "force_ton": (2000 * units.POUND_FORCE, FORCE),
    "force_long_ton": (2240 * units.POUND_FORCE, FORCE),
    "foot_pound": (units.POUND_FORCE * units.FOOT, TORQUE),
    "radian": (Fraction(1), ANGLE),
    "degree": (units.DEGREE, ANGLE),
}
# Our own precision, so that the caller's decimal context does not round for us.
_FINE = Context(prec=50, traps=[])
_PREFIXED = ("meter", "gram", "newton", "force_pound")
_PREFIXES = {
    "nano": Fraction(1, 10**9),
    "micro": Fraction(1, 10**6),
    "milli": Fraction(1, 10**3),
    "centi": Fraction(1, 10**2),
    "deci": Fraction(1, 10),
    "kilo": Fraction(10**3),
    "mega": Fraction(10**6),
}


# Units in which a length is given back, with the nanometres in each.
LENGTH_NAMES: dict[str, tuple[str, int]] = {
    **dict.fromkeys(("mm", "millimetre", "millimeter"), ("millimeter", units.NANOMETRES_PER_MILLIMETRE)),
    **dict.fromkeys(("m", "metre", "meter"), ("meter", 1000 * units.NANOMETRES_PER_MILLIMETRE)),
    **dict.fromkeys(("in", "inch"), ("inch", units.NANOMETRES_PER_INCH)),
    **dict.fromkeys(("ft", "foot"), ("foot", 12 * units.NANOMETRES_PER_INCH)),
}


class PintQuantity(Protocol):
    """What the library needs of a pint quantity; every quantity of every registry has it."""

    @property
    def magnitude(self) -> object:
        """The number, without its unit."""

    def unit_items(self) -> Iterable[tuple[str, object]]:
        """The names of the units with their powers."""


class PintRegistry(Protocol[Q_co]):
    """What the library needs of a pint registry to hand a quantity back in it."""

    @property
    def Quantity(self) -> type[Q_co]:  # noqa: N802 -- pint's own name
        """The registry's class of quantities."""


def is_pint_quantity(value: object) -> bool:
    """Tell whether a value looks like a pint quantity.

    Args:
        value: Anything.

    Returns:
        True where it has a magnitude and names its units.
    """
    return callable(getattr(value, "unit_items", None)) and hasattr(value, "magnitude")


def unit_powers(quantity: PintQuantity) -> dict[str, int] | None:
    """Read the units of a quantity.

    Args:
        quantity: A pint quantity of any registry.

    Returns:
        Canonical unit name and its power [-]; None where a power is no whole number from -3 to 3.
    """
    try:
        items = [(str(name), power) for name, power in quantity.unit_items()]
    except (TypeError, ValueError):  # something that has the method and is no quantity
        return None
    powers: dict[str, int] = {}
    for name, power in items:
        # The powers of force, torque and mass per length; anything higher is a mistake, and could be made huge.
        if not isinstance(power, (int, float, Fraction, Decimal)) or power not in (-3, -2, -1, 1, 2, 3):
            return None
        powers[name] = int(power)
    return powers


def read_magnitude(quantity: PintQuantity, field: str, forms: str) -> tuple[Fraction, bool]:
    """Read the magnitude of a quantity exactly.

    A float is read as the shortest decimal that names it, which is the number that was typed. It and a Decimal may
    come out of a division that had to be rounded, so they do not count as exact.

    Args:
        quantity: A pint quantity of any registry.
        field: Name of the input, for the message.
        forms: The accepted forms, as a sentence.

    Returns:
        The magnitude [in the quantity's own unit], and whether it was exact (an int or a Fraction).

    Raises:
        InputError: The magnitude is no finite int, float, Fraction or Decimal, or is zero or negative.
    """
    given = _unwrapped(quantity.magnitude)
    value = _as_fraction(given)
    if value is None:
        raise InputError(
            f"the magnitude is a {type(given).__name__} that cannot be read as one finite number",
            field=field,
            value=shown(quantity),
            bound="one int, float, Fraction or Decimal, finite",
            instead=forms,
        )
    if value <= 0:
        raise InputError(
            "the value is zero or negative", field=field, value=shown(quantity), bound="greater than 0", instead=forms
        )
    return value, not isinstance(given, (float, Decimal))


def _as_fraction(given: object) -> Fraction | None:
    if isinstance(given, Fraction):
        return given
    if isinstance(given, float):
        return Fraction(float.__repr__(given)) if math.isfinite(given) else None
    if isinstance(given, Decimal):
        # An exponent costs nothing to write and everything to expand.
        return Fraction(given) if given.is_finite() and abs(given.adjusted()) < 400 else None
    return Fraction(given) if isinstance(given, int) and not isinstance(given, bool) else None


def _unwrapped(given: object) -> object:
    """Take the number out of an array without dimensions, as registries make that wrap every number."""
    take = getattr(given, "item", None)
    if getattr(given, "shape", None) != () or not callable(take):
        return given
    number: object = take()
    # A single-precision number is too coarse to name a length to the nanometre, and would look like a double.
    coarse = isinstance(number, float) and getattr(getattr(given, "dtype", None), "itemsize", 8) != 8
    return given if coarse else number


def read_pint(quantity: PintQuantity, dimension: Dimension, kind: str, field: str, forms: str) -> tuple[Fraction, bool]:
    """Read a quantity of any registry as a number in SI units.

    Args:
        quantity: A pint quantity of any registry.
        dimension: Powers of metre, kilogram, second and radian that it must have.
        kind: What was expected, in words.
        field: Name of the input, for the message.
        forms: The accepted forms, as a sentence.

    Returns:
        The value [SI units], and whether its magnitude was exact (an int or a Fraction).

    Raises:
        InputError: A unit is unknown, the dimension is another one, or the magnitude is not one finite number above 0.
    """
    powers = unit_powers(quantity)
    if powers is None:
        raise InputError("its units cannot be read", field=field, value=shown(quantity), instead=forms)
    factor, found = Fraction(1), [0, 0, 0, 0]
    for name, power in powers.items():
        known = _known_unit(name)
        if known is None:
            raise InputError(
                f"the unit {shown(name)} is not among those that are read",
                field=field,
                value=shown(quantity),
                instead=f"Convert it first, in your own registry. {forms}",
            )
        factor *= known[0] ** power
        for axis, one in enumerate(known[1]):
            found[axis] += one * power
    if tuple(found) != dimension:
        raise InputError(f"the unit is no unit of a {kind}", field=field, value=shown(quantity), instead=forms)
    value, exact = read_magnitude(quantity, field, forms)
    return value * factor, exact


def _known_unit(name: str) -> tuple[Fraction, Dimension] | None:
    known = _UNITS.get(name)
    if known is not None:
        return known
    for prefix, factor in _PREFIXES.items():
        base = name.removeprefix(prefix)
        if base != name and base in _PREFIXED:
            return factor * _UNITS[base][0], _UNITS[base][1]
    return None


def hand_over(registry: PintRegistry[Q_co], value: Fraction | float, unit: str) -> Q_co:
    """Build a quantity in the caller's registry, in that registry's own kind of number.

    Args:
        registry: The caller's registry.
        value: The number [in `unit`].
        unit: Unit as pint names it, such as ``"millimeter"``.

    Returns:
        The quantity; its magnitude is a float, or a Fraction or Decimal where the registry works with those.

    Raises:
        InputError: The registry does not know the unit.
    """
    kind = getattr(registry, "non_int_type", float)
    magnitude: object = float(value)
    if kind is Fraction:
        magnitude = Fraction(value)
    elif kind is Decimal:
        exact = Fraction(value)
        magnitude = _FINE.divide(Decimal(exact.numerator), Decimal(exact.denominator))
    build = cast("Callable[[object, str], Q_co]", registry.Quantity)
    try:
        return build(magnitude, unit)
    except AttributeError as error:  # pint's word for an undefined unit
        raise InputError(
            "the registry does not know this unit",
            field="registry",
            value=shown(unit),
            instead="Define it, or ask for another unit.",
        ) from error
