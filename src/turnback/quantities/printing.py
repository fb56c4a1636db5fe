"""Numbers as text: tape fractions, exact decimals, and floats with stated rounding."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context
from fractions import Fraction
from math import gcd

from turnback.quantities.rounding import Rounding, unknown_rounding

_MODES = {"up": ROUND_CEILING, "down": ROUND_FLOOR, "nearest": ROUND_HALF_UP}
# A float carries 15 to 17 digits; what stands behind the twelfth is noise of the conversion, not a value to round.
_NOISE_FREE = Context(prec=12, rounding=ROUND_HALF_UP, traps=[])


def tape_text(numerator: int, denominator: int) -> str:
    """Write a number as a tape fraction.

    Args:
        numerator: Numerator [-].
        denominator: Denominator, greater than zero [-].

    Returns:
        ``"3/4"``, ``"11-1/2"``, ``"-1-1/2"`` or ``"2"``.
    """
    sign = "-" if numerator < 0 else ""
    whole, rest = divmod(abs(numerator), denominator)
    if not rest:
        return f"{sign}{whole}"
    common = gcd(rest, denominator)
    fraction = f"{rest // common}/{denominator // common}"
    return f"{sign}{whole}-{fraction}" if whole else f"{sign}{fraction}"


def millimetre_text(nanometres: int) -> str:
    """Write a count of nanometres as the exact decimal of millimetres.

    Args:
        nanometres: The count [nm].

    Returns:
        The decimal [mm], without needless zeros.
    """
    sign = "-" if nanometres < 0 else ""
    whole, rest = divmod(abs(nanometres), 1_000_000)
    return f"{sign}{whole}.{rest:06d}".rstrip("0") if rest else f"{sign}{whole}"


def decimal_text(value: Fraction) -> str | None:
    """Write a fraction as the decimal that it exactly is.

    Args:
        value: The number [-].

    Returns:
        The decimal without needless zeros; None where it never ends.
    """
    rest, places = value.denominator, 0
    for prime in (2, 5):
        count = 0
        while rest % prime == 0:
            rest //= prime
            count += 1
        places = max(places, count)
    if rest != 1:
        return None
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def number_text(value: Fraction) -> str:
    """Write a fraction exactly: as a decimal where it ends, as a fraction where it does not.

    Args:
        value: The number [-].

    Returns:
        Text that `parse_number` reads back to the same number, if it is not negative.
    """
    return decimal_text(value) or tape_text(value.numerator, value.denominator)


def float_text(value: float, digits: int, rounding: Rounding) -> str:
    """Write a float with a few significant digits.

    Args:
        value: A finite number [-].
        digits: Significant digits, 1 to 12 [-].
        rounding: ``"up"`` (towards plus infinity), ``"down"`` or ``"nearest"`` (ties away from zero).

    Returns:
        The decimal without exponent and without needless zeros.

    Raises:
        InputError: The rounding is none of the three.
    """
    clean = _NOISE_FREE.create_decimal(value)
    if rounding not in _MODES:
        raise unknown_rounding(rounding)
    few = Context(prec=digits, rounding=_MODES[rounding], traps=[]).create_decimal(clean)
    text = format(few, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def places_text(value: Fraction, places: int) -> str:
    """Write a fraction rounded to decimal places, ties away from zero.

    Args:
        value: The number [-].
        places: Decimal places, at least 1 [-].

    Returns:
        The decimal, with all its places.
    """
    count = (2 * abs(value.numerator) * 10**places + value.denominator) // (2 * value.denominator)
    digits = str(count).rjust(places + 1, "0")
    sign = "-" if value < 0 and count else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}"
