"""The text of a file of check values, and one table of it, read key by key under the limits of a rule file."""

from __future__ import annotations

import datetime
import difflib
import re
import tomllib
from typing import Final

from turnback.conformance.check_values_keys import FILE, FORMAT, KEYS
from turnback.errors import InputError
from turnback.quantities import Length
from turnback.quantities.grammar import shown
from turnback.rules._reading import DecimalText, Table
from turnback.rules.rulefile import GREATEST_BYTES, MOST_DOTS

__all__ = ["DEEPEST", "CheckTable", "decoded", "toml_of"]

DEEPEST: Final = 32
"""Lists and tables that may stand in each other, as in a rule file."""

_BRACKETS: Final = re.compile(r"[\[\]{}]")
_PLACE: Final = re.compile(r" \(at line (?P<line>[0-9]+), column (?P<column>[0-9]+)\)$")
_PLAIN_KEY: Final = re.compile(r"[A-Za-z0-9_-]{1,40}")
_WAY_OUT: Final = 'Text and fractions stand in quotes, such as size = ["1/2", "5/8"]; lists and tables are closed.'


class CheckTable(Table):
    """A table of a file of check values. It reads like a table of a rule file, with a closed list of keys of its own.

    Args:
        data: What the file holds there.
        path: Where it stands, such as ``examples[3]``; empty for the file itself.
        form: Name of its closed list of keys.

    Raises:
        InputError: It is no table, or has a key that the format does not know.
    """

    __slots__ = ()

    def __init__(self, data: object, path: str, form: str) -> None:
        self.path = path
        self._form = form
        if not isinstance(data, dict):
            known = ", ".join(KEYS[form])
            raise InputError(
                "a table is wanted here",
                field=path,
                value=shown(data),
                instead=f"Write a table with some of the keys {known}.",
            )
        self._data = data
        for key in data:
            if key not in KEYS[form]:
                raise self._unknown(key)

    def says_nothing(self, key: str) -> bool:
        """Tell whether a key is written as ``""``: the source says nothing of it."""
        return self._data.get(key) == ""

    def is_table(self, key: str) -> bool:
        """Tell whether a key holds a table."""
        return isinstance(self._data.get(key), dict)

    def is_list(self, key: str) -> bool:
        """Tell whether a key holds a list."""
        return isinstance(self._data.get(key), list)

    def cells(self, key: str) -> tuple[str, ...]:
        """Read a list of numbers, fractions in quotes and ``""``, each as text."""
        value = self._get(key)
        if not isinstance(value, list):
            raise self.wrong(key, 'a column is a list, or "" where the source has no such column')
        if not value:
            raise self.wrong(key, "the list is empty", instead='Write "" where the source has no such column.')
        for number, cell in enumerate(value):
            if type(cell) is not int and not isinstance(cell, str):
                raise InputError(
                    'a cell is a number, a fraction in quotes or ""',
                    field=f"{self.at(key)}[{number}]",
                    value=shown(cell),
                    instead=self._example(key),
                )
        return tuple(shown(cell) if type(cell) is int else str(cell) for cell in value)

    def day(self, key: str) -> str:
        """Read a required day."""
        value = self._get(key)
        try:
            if type(value) is datetime.date:
                return value.isoformat()
            if type(value) is str:
                return datetime.date.fromisoformat(value).isoformat()
        except ValueError:
            pass
        raise self.wrong(key, "this is no day", "year, month and day")

    def yes_or_no(self, key: str) -> bool:
        """Read a required true or false."""
        self._get(key)
        value = self.flag(key)
        if value is None:
            raise self.wrong(key, "true or false is wanted here")
        return value

    def length(self, key: str) -> Length | None:
        """Read a length with its unit; None where it is left out or ``""``."""
        return None if not self.has(key) or self.says_nothing(key) else Length.of(self.text(key), self.at(key))

    def table(self, key: str, form: str = "") -> CheckTable:
        """Read a required table."""
        return CheckTable(self._get(key), self.at(key), form or key)

    def entries(self, key: str, form: str = "") -> tuple[CheckTable, ...]:
        """Read a list of tables; empty when it is left out or ``""``."""
        if not self.has(key) or self.says_nothing(key):
            return ()
        value = self._data[key]
        if not isinstance(value, list) or not value:
            raise self.wrong(key, "a list of tables is wanted here")
        path = self.at(key)
        return tuple(CheckTable(entry, f"{path}[{i}]", form or key) for i, entry in enumerate(value))

    def texts(self, key: str) -> tuple[str, ...]:
        """Read a list of texts; empty when it is left out or ``""``."""
        return () if self.says_nothing(key) else super().texts(key)

    def flag(self, key: str) -> bool | None:
        """Read true or false; None when it is left out or ``""``."""
        return None if self.says_nothing(key) else super().flag(key)

    def _example(self, key: str) -> str:
        example = KEYS[self._form][key]
        headed = example.startswith((f"[{key}]", f"[[{key}]]"))
        return f"Write {example}." if headed else f"Write it like {key} = {example}"

    def _unknown(self, key: str) -> InputError:
        named = key if _PLAIN_KEY.fullmatch(key) else shown(key)
        elsewhere = [form for form, keys in KEYS.items() if key in keys]
        near = difflib.get_close_matches(key[:64], list(KEYS[self._form]), n=1, cutoff=0.6)
        if self._form != FILE and FILE in elsewhere and not KEYS[FILE][key].startswith("["):
            instead = f"{named} belongs to the file itself: write it above the first [table]."
        elif near:
            instead = f"The nearest known key is {near[0]}."
        elif elsewhere:
            instead = f"{named} is a key of [{elsewhere[0]}]." if elsewhere[0] else f"{named} is a table of its own."
        else:
            instead = f"Known here: {', '.join(KEYS[self._form])}."
        return InputError("the format knows no such key here", field=self.at(named), instead=instead)


def decoded(text: str | bytes) -> tuple[bytes, str]:
    """Read the bytes of a file as text.

    Args:
        text: The text, or its bytes in UTF-8.

    Returns:
        The bytes and the text.

    Raises:
        InputError: It is no UTF-8, or too long.
    """
    if not isinstance(text, (str, bytes)):
        raise InputError("a file of check values is text or bytes", field="text", value=shown(text))
    try:
        data = text if isinstance(text, bytes) else text.encode()
        found = data.decode()
    except UnicodeError as error:
        place = f"byte {error.start}" if isinstance(error, UnicodeDecodeError) else "text"
        raise InputError("this is no UTF-8", field=place, instead="Save the file in the encoding UTF-8.") from None
    if len(data) > GREATEST_BYTES:
        raise InputError("the file is too long", field="text", bound=f"{GREATEST_BYTES} bytes")
    return data, found.removeprefix("\ufeff")


def toml_of(text: str) -> dict[str, object]:
    """Read TOML; decimals stay as they are written.

    Args:
        text: The text.

    Returns:
        The tables.

    Raises:
        InputError: It is no TOML, is nested too deep, or is empty; line and column are named.
    """
    for number, line in enumerate(text.split("\n"), 1):
        if line.count(".") > MOST_DOTS:
            raise InputError(
                "the line has too many full stops", field=f"line {number}", bound=f"{MOST_DOTS} in one line"
            )
    depth = 0
    for bracket in _BRACKETS.findall(text):
        depth += 1 if bracket in "[{" else -1
        if depth > DEEPEST:
            raise InputError(
                "lists or tables are nested too deep", field="text", bound=f"{DEEPEST} deep", instead=_WAY_OUT
            )
    try:
        found: dict[str, object] = tomllib.loads(text, parse_float=DecimalText)
    except ValueError as error:
        message = str(error)
        place = _PLACE.search(message)
        if place is None:
            raise InputError(f"this is no TOML: {message}", field="text", instead=_WAY_OUT) from None
        line = text.split("\n")[int(place["line"]) - 1].strip()
        raise InputError(
            f"this is no TOML: {message[: place.start()]}",
            field=f"line {place['line']}, column {place['column']}",
            value=shown(line) if line else "",
            instead=_WAY_OUT,
        ) from None
    if not found:
        raise InputError("the file is empty", field="text", instead=f"Begin it with format = {FORMAT}.")
    return found
