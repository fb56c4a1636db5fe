"""The text grammar: small, closed and total. What it does not list it refuses.

A number is whole (``2``), decimal (``0.75``), a fraction (``3/4``) or mixed (``1-1/2``, ``1 1/2``).
It has no sign, no exponent, no thousands mark and no leading zero that could be the rest of something lost.
A quantity is a number, one space and a unit; a sign (``"``, ``°``, ``%``) may follow without the space.
Everything is read as whole numbers, so that nothing is rounded, and nothing is ever evaluated.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import TypeGuard, TypeVar

from turnback.errors import InputError
from turnback.quantities.units import KIND_OF_UNIT

LONGEST_TEXT = 64
NUMBER_FORMS = "Write a number as '2', '0.75', '3/4', '1-1/2' or '1 1/2'."

NO_HINTS: Mapping[str, str] = MappingProxyType({})

_VULGAR = frozenset("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅟↉⁄∕")

T = TypeVar("T")


def read_number(text: str) -> tuple[int, int] | None:
    """Read a plain number as numerator and denominator.

    Args:
        text: The number alone [-].

    Returns:
        Numerator and denominator [-], not reduced; None where the text is no number of the grammar.
    """
    if not text.isascii():
        return None
    if text.isdigit():
        return None if text[0] == "0" and text != "0" else (int(text), 1)
    if "/" in text:
        return _read_fraction(text)
    whole, _, part = text.partition(".")
    if not (whole.isdigit() and part.isdigit()) or (whole[0] == "0" and whole != "0"):
        return None
    return int(whole + part), 10 ** len(part)


def _read_fraction(text: str) -> tuple[int, int] | None:
    head, _, low = text.partition("/")
    whole, mark, high = head.partition("-")
    if not mark:
        whole, mark, high = head.partition(" ")
    if not mark:
        whole, high = "", whole
    if not (high.isdigit() and low.isdigit()) or high[0] == "0" or low[0] == "0":
        return None
    numerator, denominator = int(high), int(low)
    if not mark:
        return numerator, denominator
    if not whole.isdigit() or whole[0] == "0" or numerator >= denominator:
        return None
    return int(whole) * denominator + numerator, denominator


def split_unit(text: str, units: Mapping[str, T]) -> tuple[str, T] | None:
    """Split a text into its number and the meaning of its unit.

    Args:
        text: A number and a unit.
        units: Spelling of every unit that may stand here, with its meaning.

    Returns:
        The text of the number and the meaning of the unit; None where no listed unit ends the text.
    """
    number, _, unit = text.rpartition(" ")
    meaning = units.get(unit)
    if meaning is not None:
        return number, meaning
    # Units of two words, and signs that stand right behind the number.
    for spelling, each in units.items():
        if text.endswith(spelling):
            number = text[: -len(spelling)]
            if not spelling[0].isalpha():
                return number, each
            if number.endswith(" "):
                return number[:-1], each
    return None


def parse_number(text: str, field: str = "number") -> Fraction:
    """Read a plain exact number, as a table cell holds it whose unit stands in the head of the column.

    Args:
        text: ``"2"``, ``"0.75"``, ``"3/4"``, ``"1-1/2"`` or ``"1 1/2"``; zero is a number here [-].
        field: Name of the input, for the message.

    Returns:
        The number [-], exact.

    Raises:
        InputError: The text is no number of the grammar.
    """
    if is_short_text(text):
        found = read_number(text)
        if found is not None:
            return Fraction(*found)
    raise refusal(text, field, "number", NUMBER_FORMS)


def is_short_text(value: object) -> TypeGuard[str]:
    """Tell whether a value is text that is short enough to be read.

    Args:
        value: Anything.

    Returns:
        True for text of at most 64 characters.
    """
    return isinstance(value, str) and len(value) <= LONGEST_TEXT


def shown(value: object) -> str:
    """Show a given value in a message: short, printable, and never failing itself.

    Args:
        value: Whatever was given.

    Returns:
        Text of at most 80 characters.
    """
    try:
        text = repr(value[:80] if isinstance(value, str) else value)
    except Exception as error:  # a stranger's repr may do anything; the message must still be written
        return f"<{type(value).__name__} whose repr fails with {type(error).__name__}>"
    return text if len(text) <= 80 else text[:76] + " ..."


def refusal(value: object, field: str, kind: str, forms: str, hints: Mapping[str, str] = NO_HINTS) -> InputError:
    """Build the error for something that could not be read, naming the likeliest reason.

    Args:
        value: What was given.
        field: Name of the input.
        kind: What was expected, in words: ``"length"``, ``"torque"`` ...
        forms: The accepted forms, as a sentence.
        hints: Units that are refused for a reason of their own, with the reason.

    Returns:
        The error, not raised.
    """
    return InputError(_reason(value, kind, hints), field=field, value=shown(value), instead=forms)


def _reason(value: object, kind: str, hints: Mapping[str, str]) -> str:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return f"a {type(value).__name__} is no {kind}"
    if not isinstance(value, str):
        return f"a bare number is no {kind}, for it has no unit"
    if len(value) > LONGEST_TEXT:
        return f"the text has {len(value)} characters, more than the {LONGEST_TEXT} that are read"
    return _reason_in_text(value, kind, hints)


def _reason_in_text(text: str, kind: str, hints: Mapping[str, str]) -> str:
    if text.strip(" ") != text or not text:
        return "the text is empty or has spaces around it"
    if not _VULGAR.isdisjoint(text):
        return "a fraction in one character is not read, for it is easily lost or glued to the wrong number"
    if text.lower().lstrip("+-").startswith(("nan", "inf")):
        return f"a {kind} is a finite number"
    if text[0] in "-−–+":
        return f"a {kind} is written without a sign and is greater than zero"
    if "," in text:
        return "a comma is not read, for it may mean a decimal mark or thousands"
    unit = text.lstrip("0123456789./- ")
    if kind == "number":
        return "a number stands here without a unit" if unit else "the text is no number of the accepted forms"
    if not unit:
        return f"a bare number is no {kind}, for it has no unit"
    if unit in hints:
        return hints[unit]
    return _reason_in_parts(text.removesuffix(unit), unit, kind)


def _reason_in_parts(number: str, unit: str, kind: str) -> str:
    other = KIND_OF_UNIT.get(unit, kind)
    if other != kind:
        return f"{shown(unit)} is a unit of {other}, where a {kind} belongs"
    if not number:
        return "the text does not begin with a number"
    if unit[0] in "'′’":
        return "a foot mark is not read; feet are written ft"
    if number.endswith("  "):
        return "one space stands between the number and its unit"
    if read_number(number.removesuffix(" ")) is None:
        return f"the number {shown(number.rstrip(' '))} is not written in a form that is read"
    if unit in KIND_OF_UNIT:
        return "one space stands between the number and its unit"
    return f"the unit {shown(unit)} is not among those that are read; small and capital letters differ"
