"""Exact reading of the numbers of a rule file, for the oracle alone.

Nothing here is shared with the reader of rule files: what both read is written down in the how-to page and in nothing
else, so that a slip in one of them shows. A file that this reader cannot read is an error, never a guess.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Final, TypeAlias

from turnback.errors import InputError

__all__ = ["INCH", "UNITS", "Table", "length", "number", "sub_tables", "table", "text", "unread", "words"]

Table: TypeAlias = Mapping[str, object]

# Written out, for the oracle shares not even the inch with what it checks: 1/64 in is 396 875 nm exactly.
INCH: Final = Fraction(64 * 396_875)
UNITS: Final = {"in": INCH, "mm": Fraction(1_000_000)}
"""One unit of a column or a length [nm]."""

_NUMBER: Final = re.compile(r"(?:(\d+)[- ](\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d+)?))")


def unread(what: str, value: object) -> InputError:
    """Make the error for what the oracle cannot read.

    Args:
        what: What it was to be.
        value: What stands there [-].

    Returns:
        The error, to be raised.
    """
    return InputError(f"the oracle cannot read this {what}", field=what, value=repr(value)[:80])


def number(value: object) -> Fraction:
    """Read a number as the file writes it.

    Args:
        value: Text such as ``"11-1/2"`` or ``"67.7"``, or a whole number [-].

    Returns:
        The number, exactly [-].

    Raises:
        InputError: It is no number.
    """
    if isinstance(value, int) and not isinstance(value, bool):
        return Fraction(value)
    found = _NUMBER.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise unread("number", value)
    whole, over, under, top, bottom, plain = found.groups()
    if plain is not None:
        return Fraction(plain)
    return Fraction(int(top), int(bottom)) if top is not None else int(whole) + Fraction(int(over), int(under))


def length(value: object) -> Fraction:
    """Read a length with its unit.

    Args:
        value: Text such as ``"1-1/2 in"`` or ``"330 mm"`` [length].

    Returns:
        The length [nm].

    Raises:
        InputError: It is no length.
    """
    amount, _, unit = str(value).rpartition(" ")
    if unit not in UNITS:
        raise unread("length", value)
    return number(amount) * UNITS[unit]


def table(value: object) -> Table:
    """Take a table of the file.

    Args:
        value: What stands there; None for nothing [-].

    Returns:
        The table, empty where there is none.

    Raises:
        InputError: Something else stands there.
    """
    if value is None:
        return {}
    if not isinstance(value, dict):
        raise unread("table", value)
    return value


def sub_tables(value: object) -> tuple[Table, ...]:
    """Take a list of tables of the file.

    Args:
        value: What stands there; None for nothing [-].

    Returns:
        The tables in their order.

    Raises:
        InputError: Something else stands there.
    """
    if value is None:
        return ()
    if not isinstance(value, list):
        raise unread("list", value)
    return tuple(table(each) for each in value)


def text(value: object) -> str:
    """Take text of the file.

    Args:
        value: What stands there; None for nothing [-].

    Returns:
        The text, empty where there is none.

    Raises:
        InputError: Something else stands there.
    """
    if value is None:
        return ""
    if not isinstance(value, str):
        raise unread("text", value)
    return value


def words(value: object) -> tuple[str, ...]:
    """Take a list of words of the file.

    Args:
        value: What stands there; None for nothing [-].

    Returns:
        The words in their order.

    Raises:
        InputError: Something else stands there.
    """
    if value is None:
        return ()
    if not isinstance(value, list):
        raise unread("list of words", value)
    return tuple(text(each) for each in value)
