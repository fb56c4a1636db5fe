"""Rounding an exact number to a whole one, in a direction that the caller names."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal, TypeAlias

from turnback.errors import InputError
from turnback.quantities.grammar import shown

Rounding: TypeAlias = Literal["up", "down", "nearest"]
"""``"up"`` towards plus infinity, ``"down"`` towards minus infinity, ``"nearest"`` with ties away from zero."""

_HALF = Fraction(1, 2)


def whole(number: Fraction | int, rounding: Rounding) -> int:
    """Round an exact number to a whole one.

    Args:
        number: The number [-].
        rounding: ``"up"``, ``"down"`` or ``"nearest"``.

    Returns:
        The whole number [-].

    Raises:
        InputError: The rounding is none of the three.
    """
    if rounding == "up":
        return math.ceil(number)
    if rounding == "down":
        return math.floor(number)
    if rounding == "nearest":
        size = math.floor(Fraction(number).__abs__() + _HALF)
        return -size if number < 0 else size
    raise unknown_rounding(rounding)


def nearest_to_float(number: float, field: str) -> int:
    """Round a float to the nearest whole number, ties away from zero.

    Args:
        number: The number, finite [-].
        field: Name of the input, for the message.

    Returns:
        The whole number [-].

    Raises:
        InputError: The number is not finite.
    """
    if not math.isfinite(number):
        raise InputError("the number is not finite", field=field, value=shown(number))
    # Truncation and remainder are exact in a float; adding a half would not be.
    truncated = int(number)
    rest = number - truncated
    return truncated + (rest >= 0.5) - (rest <= -0.5)


def exact(number: object, field: str) -> Fraction | int:
    """Take an exact number as it is, and refuse any other.

    Args:
        number: A Fraction or an int [-].
        field: Name of the input, for the message.

    Returns:
        The same number.

    Raises:
        InputError: It is neither (a float and a bool are not).
    """
    if isinstance(number, (Fraction, int)) and not isinstance(number, bool):
        return number
    raise InputError(
        "an exact number is wanted, a Fraction or an int",
        field=field,
        value=shown(number),
        instead="Write Fraction(4, 5), or read text with parse_number or percent.",
    )


def unknown_rounding(rounding: object) -> InputError:
    """Build the error for a rounding that is none of the three.

    Args:
        rounding: What was given.

    Returns:
        The error, not raised.
    """
    return InputError(
        "unknown rounding", field="rounding", value=shown(rounding), bound='one of "up", "down" and "nearest"'
    )
