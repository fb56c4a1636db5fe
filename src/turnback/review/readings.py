"""Reading what a person wrote down at the bench: counts, flags, words, dates, and one reading for each clip."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from difflib import get_close_matches
from fractions import Fraction
from typing import Final, TypeVar

from turnback.errors import InputError
from turnback.quantities import Length, Torque, parse_number, percent

__all__ = ["each", "flag", "known_word", "label", "length", "share", "slip", "torque", "whole", "written_day"]

T = TypeVar("T")

MOST_CLIPS: Final = 1000
_LONGEST: Final = 200
_DIGITS: Final = 10**9


def whole(value: object, field: str, most: int = MOST_CLIPS) -> int | None:
    """Read a number of pieces.

    Args:
        value: What was written; None where it was not counted.
        field: Name of the input, for the message.
        most: Greatest number that is believed [-].

    Returns:
        The number, zero or more [-], or None.

    Raises:
        InputError: It is no whole number, or out of bounds.
    """
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
        raise InputError(
            "a count is a whole number",
            field=field,
            value=repr(value)[:80],
            bound=f"0 to {most}",
            instead="Leave it out where it was not counted.",
        )
    return value


def flag(value: object, field: str) -> bool | None:
    """Read a yes or no.

    Args:
        value: True, False, or None where nobody looked.
        field: Name of the input, for the message.

    Returns:
        The same value.

    Raises:
        InputError: It is none of the three.
    """
    if value is None or isinstance(value, bool):
        return value
    raise InputError(
        "this is neither True nor False",
        field=field,
        value=repr(value)[:80],
        bound="True or False (true or false in JSON)",
        instead="Leave it out where nobody looked.",
    )


def known_word(value: object, field: str, known: dict[str, T]) -> T | None:
    """Read a word of a closed list.

    Args:
        value: What was written; None where nothing was.
        field: Name of the input, for the message.
        known: Every word that may stand here, with its meaning.

    Returns:
        The meaning, or None.

    Raises:
        InputError: The word is not in the list; the nearest one is named.
    """
    if value is None:
        return None
    if isinstance(value, str) and value in known:
        return known[value]
    near = get_close_matches(str(value)[:64], list(known), n=1)
    raise InputError(
        "this word is not read here",
        field=field,
        value=repr(value)[:80],
        bound="one of " + ", ".join(known),
        instead=f"Did you mean {near[0]}?" if near else "Leave it out where nobody looked.",
    )


def label(value: object, field: str) -> str:
    """Read a name, a number or a reason in the user's words.

    Args:
        value: Text of at most 200 characters that begins with a letter or a digit; None or empty for none.
        field: Name of the input, for the message.

    Returns:
        The text without spaces around it.

    Raises:
        InputError: It is no such text.
    """
    text = "" if value is None else value
    if isinstance(text, str):
        text = text.strip()
        # A sign at the beginning would be a formula to a spreadsheet that opens the register.
        if not text or (len(text) <= _LONGEST and text.isprintable() and text[0].isalnum()):
            return text
    raise InputError(
        "a name, number or reason is one line of text that begins with a letter or a digit",
        field=field,
        value=repr(value)[:80],
        bound=f"at most {_LONGEST} characters",
        instead="Write it plainly, such as 'rigger 7' or 'sheet 12 of the tape's maker'.",
    )


def written_day(value: object, field: str) -> datetime.date | None:
    """Read a date.

    Args:
        value: A ``datetime.date``, text such as ``"2031-05-09"``, or None.
        field: Name of the input, for the message.

    Returns:
        The date, or None.

    Raises:
        InputError: It is no date.
    """
    if value is None or (isinstance(value, datetime.date) and not isinstance(value, datetime.datetime)):
        return value
    if isinstance(value, str) and len(value) == len("2031-05-09"):
        try:
            return datetime.date.fromisoformat(value)
        except ValueError:
            pass
    raise InputError(
        "this is no date",
        field=field,
        value=repr(value)[:80],
        bound="year-month-day",
        instead="Write it as '2031-05-09', or give a datetime.date.",
    )


def share(value: object, field: str) -> Fraction | None:
    """Read a share.

    Args:
        value: Text such as ``"10 %"`` or ``"1/3"``, a Fraction, 0 or 1, or None.
        field: Name of the input, for the message.

    Returns:
        The share, 0 to 1 [-], exact to a billionth; or None.

    Raises:
        InputError: It is no share.
    """
    if value is None:
        return None
    read: Fraction | None = None
    if isinstance(value, str):
        read = percent(value, field) if value.endswith("%") else parse_number(value, field)
    elif isinstance(value, (Fraction, int)) and not isinstance(value, bool):
        read = Fraction(value)
    if read is None or not 0 <= read <= 1:
        raise InputError(
            "a share is written as a percentage or as a fraction",
            field=field,
            value=repr(value)[:80],
            bound="0 to 1, or 0 % to 100 %",
            instead="Write '10 %' or '1/3'.",
        )
    return read if read.denominator <= _DIGITS else Fraction(round(read * _DIGITS), _DIGITS)


def each(
    values: object, field: str, read: Callable[[object, str], T | None], count: int | None
) -> tuple[T | None, ...]:
    """Read one reading for each clip, from the dead end.

    Args:
        values: A list with None for a clip that was not measured; one reading alone stands for every clip.
        field: Name of the input, for the message.
        read: How one of them is read.
        count: Clips counted on the joint [-]; None where they were not.

    Returns:
        The readings in the order of the clips; a list that stops early leaves the others to be measured.

    Raises:
        InputError: There are more readings than clips, or one stands for every clip and these were not counted.
    """
    if values is None:
        return ()
    if not isinstance(values, (list, tuple)):
        if count is None:
            raise InputError(
                "one reading for every clip needs the number of clips",
                field=field,
                value=repr(values)[:80],
                instead="Give clip_count, or a list with one reading for each clip.",
            )
        return (read(values, field),) * count
    most = MOST_CLIPS if count is None else count
    if len(values) > most:
        raise InputError(
            "there are more readings than clips",
            field=field,
            value=f"{len(values)} readings",
            bound=f"{most} clips",
            instead="Count the clips again, or leave the readings out that belong to no clip.",
        )
    return tuple(None if value is None else read(value, f"{field}[{i}]") for i, value in enumerate(values))


def length(value: object, field: str) -> Length | None:
    """Read a length; None where it was not measured.

    Args:
        value: As it was read [length].
        field: Name of the reading, for the error.

    Returns:
        The length.

    Raises:
        InputError: It is no length.
    """
    return None if value is None else Length.of(value, field)  # type: ignore[arg-type]  # it refuses what is no length


def torque(value: object, field: str) -> Torque | None:
    """Read a torque, kept to a billionth of its unit; None where it was not measured.

    Args:
        value: As it was read [torque].
        field: Name of the reading, for the error.

    Returns:
        The torque.

    Raises:
        InputError: It is no torque.
    """
    if value is None:
        return None
    read = Torque.of(value, field)  # type: ignore[arg-type]  # it refuses what is no torque
    if read.value.denominator <= _DIGITS:
        return read
    # What a conversion leaves behind the ninth place was on no wrench, and would not fit on a line.
    return Torque(Fraction(max(1, round(read.value * _DIGITS)), _DIGITS), read.unit)


def slip(value: object, field: str) -> Length | bool | None:
    """Read what a witness mark shows.

    Args:
        value: ``"none"`` or False; ``"slipped"`` or True; or by how much.
        field: Name of the input, for the message.

    Returns:
        False for none, True for a slip that was not measured, or its length [length].

    Raises:
        InputError: It is none of these.
    """
    if value is None or isinstance(value, bool):
        return value
    words = {"none": False, "slipped": True}
    if isinstance(value, str) and value in words:
        return words[value]
    try:
        return length(value, field)
    except InputError as error:
        error.instead = "Write 'none', 'slipped', or how far, such as '1/8 in'."
        raise
