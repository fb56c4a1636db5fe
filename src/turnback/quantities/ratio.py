"""Percentages as exact ratios."""

from __future__ import annotations

from fractions import Fraction

from turnback.errors import InputError
from turnback.quantities.grammar import is_short_text, read_number, refusal, shown, split_unit
from turnback.quantities.printing import decimal_text, places_text

PERCENT_FORMS = "Write a percentage as '80 %' or '92.5 %'."
_SIGN = {"%": 100}


def percent(text: str, field: str = "percentage") -> Fraction:
    """Read a percentage.

    Args:
        text: ``"80 %"``, ``"92.5 %"``; zero is a percentage.
        field: Name of the input, for the message.

    Returns:
        The ratio [-], exact: 4/5 for ``"80 %"``.

    Raises:
        InputError: The text is no percentage of the grammar.
    """
    if is_short_text(text):
        split = split_unit(text, _SIGN)
        number = read_number(split[0]) if split else None
        if number:
            return Fraction(number[0], number[1] * 100)
    raise refusal(text, field, "percentage", PERCENT_FORMS)


def percent_text(ratio: Fraction) -> str:
    """Write a ratio as a percentage.

    Args:
        ratio: The ratio [-].

    Returns:
        ``"80 %"``, exact; marked with ≈ and rounded to two places where the decimal never ends.

    Raises:
        InputError: The ratio is neither Fraction nor int.
    """
    given: object = ratio
    if not isinstance(given, (Fraction, int)) or isinstance(given, bool):
        raise InputError("a ratio is a Fraction", field="ratio", value=shown(given), instead="Use percent or Fraction.")
    hundredths = Fraction(given) * 100
    exact = decimal_text(hundredths)
    return f"{exact} %" if exact is not None else f"≈ {places_text(hundredths, 2)} %"
