"""Lengths as text, read and written, always exact."""

from __future__ import annotations

from fractions import Fraction

from turnback.errors import InputError
from turnback.quantities import units
from turnback.quantities.grammar import is_short_text, read_number, refusal, shown, split_unit
from turnback.quantities.printing import decimal_text, millimetre_text, places_text, tape_text

LENGTH_FORMS = (
    "Write a length as '1/2 in', '1-1/2 in', '1 1/2\"', '0.75 in', '4 ft 6 in', '13 mm', '2.5 cm' or '1.2 m'."
)

_FEET = (" ft ", " foot ", " feet ")
_INCH_WORDS = dict.fromkeys(("in", "inch", "inches"), 1)


def read_length(value: object, field: str) -> int:
    """Read the text of a length.

    Args:
        value: The text; anything that is no text is refused with the same message.
        field: Name of the input, for the message.

    Returns:
        The count of nanometres, zero or more [nm].

    Raises:
        InputError: The text is no length of the grammar, or no whole number of nanometres.
    """
    if is_short_text(value):
        found = _read_part(value) or _read_feet(value) or _read_printed(value, field)
        if found is not None:
            count, rest = divmod(found[0], found[1])
            if not rest:
                return count
            raise InputError(
                "the length is no whole number of nanometres, so it cannot be kept exactly",
                field=field,
                value=shown(value),
                instead=f"Write a fraction that a tape shows, or a decimal. {LENGTH_FORMS}",
            )
        if any(value.partition(word)[0].isdigit() for word in _FEET if word in value):
            raise InputError(
                "behind whole feet stand inches, less than twelve of them",
                field=field,
                value=shown(value),
                instead=LENGTH_FORMS,
            )
    raise refusal(value, field, "length", LENGTH_FORMS)


def _read_part(text: str) -> tuple[int, int] | None:
    """Read one number with one unit, as numerator and denominator of nanometres."""
    split = split_unit(text, units.LENGTH_NANOMETRES)
    number = read_number(split[0]) if split else None
    return (number[0] * split[1], number[1]) if split and number else None


def _read_feet(text: str) -> tuple[int, int] | None:
    """Read whole feet and less than twelve inches."""
    for word in _FEET:
        feet, found, rest = text.partition(word)
        split = split_unit(rest, _INCH_WORDS) if found else None
        inches = read_number(split[0]) if split else None
        whole = read_number(feet)
        if inches and whole and whole[1] == 1 and "." not in feet and inches[0] < 12 * inches[1]:
            numerator = whole[0] * 12 * inches[1] + inches[0]
            return numerator * units.NANOMETRES_PER_INCH, inches[1]
    return None


def _read_printed(text: str, field: str) -> tuple[int, int] | None:
    """Read a length as it is printed in two units, ``11-1/2 in (292.1 mm)``; the two must be the same length."""
    first, opened, second = text.removesuffix(")").partition(" (")
    if not opened or not text.endswith(")"):
        return None
    one, two = _read_part(first) or _read_feet(first), _read_part(second) or _read_feet(second)
    if one is None or two is None:
        return None
    if one[0] * two[1] != two[0] * one[1]:
        raise InputError(
            "the two lengths in one text are not the same length",
            field=field,
            value=shown(text),
            instead="Write one of them alone.",
        )
    return one


def print_exact(nanometres: int) -> str:
    """Write a length exactly: in both units where the tape shows it, else in millimetres.

    Args:
        nanometres: The count [nm].

    Returns:
        The text, which reads back to the same length.
    """
    on_tape = nanometres % units.NANOMETRES_PER_SIXTY_FOURTH == 0
    return print_length(nanometres, "both" if on_tape else "mm")


def print_length(nanometres: int, form: str) -> str:
    """Write a length in the form asked for.

    Args:
        nanometres: The count [nm].
        form: ``"in"``, ``"mm"`` or ``"both"``.

    Returns:
        The text.

    Raises:
        InputError: The form is none of these.
    """
    on_tape = nanometres % units.NANOMETRES_PER_SIXTY_FOURTH == 0
    metric = f"{millimetre_text(nanometres)} mm"
    if form == "mm":
        return metric
    inches = _print_inches(nanometres, on_tape)
    if form == "in":
        return inches
    if form == "both":
        return f"{inches} ({metric})" if on_tape else f"{metric} ({inches})"
    raise InputError("unknown form of text", field="form", value=shown(form), bound='"in", "mm" or "both"')


def _print_inches(nanometres: int, on_tape: bool) -> str:
    if on_tape:
        return f"{tape_text(nanometres, units.NANOMETRES_PER_INCH)} in"
    inches = Fraction(nanometres, units.NANOMETRES_PER_INCH)
    exact = decimal_text(inches)
    if exact is not None:
        return f"{exact} in"
    # Four places are finer than any tape; the few nanometres that would read as zero get all they need.
    places = 4 if abs(nanometres) >= 12_700 else 8
    return f"≈ {places_text(inches, places)} in"
