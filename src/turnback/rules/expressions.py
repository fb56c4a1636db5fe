"""The closed grammars of a rule file: linear counts, linear lengths, ranges of sizes. Nothing is ever evaluated."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from turnback.errors import InputError
from turnback.quantities import Length, parse_number
from turnback.quantities.grammar import shown
from turnback.rules.ruleset import LinearLength

__all__ = ["COUNT_FORMS", "LENGTH_FORMS", "RANGE_FORMS", "read_count_rule", "read_linear_length", "read_size_range"]

COUNT_FORMS: Final = (
    'Write it as "3 per inch, rounded up", "3 per inch, plus 1, rounded up" or, without a range, "1 for every size".'
)
LENGTH_FORMS: Final = (
    'Write a sum of "N diameters", "N base widths" and a length, each at most once, such as "6 diameters + 1 in".'
)
RANGE_FORMS: Final = 'Write it as "1/8 in to 3-1/2 in", "up to 1-1/2 in" or "from 1 in"; each size has its own unit.'

_COUNT: Final = re.compile(r"(?P<per_inch>[0-9][0-9./ -]*) per inch(?:, plus (?P<plus>[1-9][0-9]?))?, rounded up")
_CONSTANT: Final = re.compile(r"(?P<count>[1-9][0-9]?) for every size")
_DIAMETERS: Final = (" diameters", " diameter")
_BASE_WIDTHS: Final = (" base widths", " base width")
_LONGEST: Final = 200
_ZERO: Final = Length(0)


def read_count_rule(text: str, field: str = "rule") -> tuple[Fraction, int]:
    """Read a count that grows with the rope diameter.

    Args:
        text: ``"N per inch, rounded up"``, ``"N per inch, plus M, rounded up"`` or ``"M for every size"``; M is a whole
            number from 1 to 99.
        field: Name of the input, for the message.

    Returns:
        Clips per inch of diameter [1/in], exact, and clips added [-]; zero per inch for a count for every size.

    Raises:
        InputError: The text is no count of the grammar, or grows by nothing.
    """
    short = text[: _LONGEST + 1]
    constant = _CONSTANT.fullmatch(short)
    if constant is not None:
        return Fraction(0), int(constant["count"])
    found = _COUNT.fullmatch(text) if len(text) <= _LONGEST else None
    if found is None:
        raise InputError("this is no linear count", field=field, value=shown(text), instead=COUNT_FORMS)
    per_inch = parse_number(found["per_inch"], field)
    if not per_inch:
        raise InputError(
            "the count does not grow with the diameter", field=field, value=shown(text), instead=COUNT_FORMS
        )
    return per_inch, int(found["plus"] or 0)


def read_linear_length(text: str, field: str = "length") -> LinearLength:
    """Read a length that depends on the rope diameter and on the clip's base width.

    Args:
        text: A sum, joined with `` + ``, of ``"N diameters"``, ``"N base widths"`` and a length with its unit.
        field: Name of the input, for the message.

    Returns:
        The length, with exact factors.

    Raises:
        InputError: A term cannot be read, is zero, or is given twice.
    """
    if len(text) > _LONGEST:
        raise InputError("the text is too long", field=field, value=shown(text), bound=f"{_LONGEST} characters")
    factors = {"diameters": Fraction(0), "base widths": Fraction(0)}
    constant = _ZERO
    for term in text.split(" + "):
        kind, number = _factor(term)
        if kind is None:
            if constant != _ZERO:
                raise _twice("a length", text, field)
            constant = _constant(term, text, field)
            continue
        if factors[kind]:
            raise _twice(kind, text, field)
        factors[kind] = parse_number(number, field)
        if not factors[kind]:
            raise InputError(f"zero {kind} say nothing", field=field, value=shown(text), instead=LENGTH_FORMS)
    return LinearLength(factors["diameters"], factors["base widths"], constant, text)


def _factor(term: str) -> tuple[str | None, str]:
    """Tell what a term counts, and the text of its number; None where it is a plain length."""
    for kind, endings in (("diameters", _DIAMETERS), ("base widths", _BASE_WIDTHS)):
        for ending in endings:
            if term.endswith(ending):
                return kind, term[: -len(ending)]
    return None, ""


def _constant(term: str, text: str, field: str) -> Length:
    try:
        return Length.of(term, field)
    except InputError as error:
        # The usual slip is a word that is not known, not a length that is misspelt: show both ways out.
        raise InputError(
            f"the term {shown(term)} cannot be read: {error.problem}",
            field=field,
            value=shown(text),
            instead=LENGTH_FORMS,
        ) from None


def _twice(kind: str, text: str, field: str) -> InputError:
    return InputError(f"{kind} is given twice in one sum", field=field, value=shown(text), instead=LENGTH_FORMS)


def read_size_range(text: str, field: str = "sizes") -> tuple[Length | None, Length | None]:
    """Read a range of sizes; both ends belong to it.

    Args:
        text: ``"A to B"``, ``"up to B"`` or ``"from A"``; A and B are lengths with their units.
        field: Name of the input, for the message.

    Returns:
        Smallest and greatest size [length]; None for an end that is not limited.

    Raises:
        InputError: The text is no range of the grammar, or its ends stand the wrong way round.
    """
    if len(text) <= _LONGEST:
        if text.startswith("up to "):
            return None, Length.of(text[len("up to ") :], field)
        if text.startswith("from "):
            return Length.of(text[len("from ") :], field), None
        low, found, high = text.partition(" to ")
        if found:
            least, greatest = Length.of(low, field), Length.of(high, field)
            if least <= greatest:
                return least, greatest
            raise InputError(
                "the range ends before it begins",
                field=field,
                value=shown(text),
                bound=f"at least {least} at the upper end",
                instead=RANGE_FORMS,
            )
    raise InputError("this is no range of sizes", field=field, value=shown(text), instead=RANGE_FORMS)
