"""One table of a rule file, read key by key, so that every wrong key is found and every error names its path."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final, TypeVar

from turnback.errors import InputError
from turnback.quantities.grammar import shown
from turnback.rules._reading_keys import FILE, KEYS

__all__ = ["ID_FORM", "DecimalText", "Table", "restated"]

W = TypeVar("W", bound=str)

ID_FORM: Final = "lower-case letters, digits and single hyphens, at most 64 characters"
_ID: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_PLAIN_KEY: Final = re.compile(r"[A-Za-z0-9_-]{1,40}")
_LONGEST_TEXT: Final = 2000
_KINDS: Final[Sequence[tuple[type, str]]] = (
    (bool, "true or false"),
    (int, "a whole number"),
    (list, "a list"),
    (dict, "a table"),
)


class DecimalText(str):
    """A decimal number as the file writes it. It stays text until the exact grammar reads it; it is never a float."""

    __slots__ = ()

    def __repr__(self) -> str:
        return str(self)


def restated(error: InputError, addition: str) -> InputError:
    """Return the same error with an addition to its sentence.

    Args:
        error: The error.
        addition: What to add, such as the name of the file.

    Returns:
        Another error with the same data.
    """
    return InputError(
        f"{error.problem.rstrip('.')} ({addition})",
        field=error.field,
        value=error.value,
        bound=error.bound,
        citation=error.citation,
        instead=error.instead,
    )


def _kind(value: object) -> str:
    if isinstance(value, DecimalText):
        return "a decimal number"
    if isinstance(value, str):
        return "text"
    return next((words for kind, words in _KINDS if isinstance(value, kind)), "a date or time")


class Table:
    """A table of a rule file. Making one checks that it has no key outside the closed list.

    Every reader below takes the name of a key; it raises InputError with the key's path where the key is missing
    (the readers that do not say what holds then), of another type, or outside its bounds.

    Args:
        data: What the file holds there.
        path: Where it stands, such as ``rows[3]``; empty for the file itself.
        form: Name of its closed list of keys.

    Raises:
        InputError: It is no table, or has a key that the format does not know.
    """

    __slots__ = ("_data", "_form", "path")

    def __init__(self, data: object, path: str, form: str) -> None:
        self.path = path
        self._form = form
        if not isinstance(data, dict):
            raise InputError(
                f"a table is wanted here, not {_kind(data)}", field=path, value=shown(data), instead=self._table_form()
            )
        self._data: dict[str, object] = data
        if not data.keys() <= KEYS[form].keys():
            raise self._unknown(next(key for key in data if key not in KEYS[form]))

    def at(self, key: str) -> str:
        """Return the path of a key."""
        return f"{self.path}.{key}" if self.path else key

    def has(self, key: str) -> bool:
        """Tell whether a key was written."""
        return key in self._data

    def wrong(self, key: str, problem: str, bound: str = "", instead: str = "") -> InputError:
        """Build the error for a key whose value will not do."""
        value = shown(self._data[key]) if key in self._data else ""
        return InputError(problem, field=self.at(key), value=value, bound=bound, instead=instead or self._example(key))

    def text(self, key: str) -> str:
        """Read a required text."""
        value = self._get(key)
        if not isinstance(value, str) or isinstance(value, DecimalText):
            raise self._wrong_type(key, "text in quotes")
        if not value or value.strip() != value or len(value) > _LONGEST_TEXT:
            raise self.wrong(
                key, "the text is empty, too long or has spaces around it", f"1 to {_LONGEST_TEXT} characters"
            )
        if not value.isprintable():
            raise self.wrong(
                key,
                "the text has a line break or a character that does not print",
                instead="Write it in one line with ordinary spaces.",
            )
        return value

    def text_or(self, key: str, default: str) -> str:
        """Read a text that may be left out."""
        return self.text(key) if key in self._data else default

    def name(self, key: str) -> str:
        """Read a required id."""
        value = self.text(key)
        if len(value) > 64 or not _ID.fullmatch(value):
            raise self.wrong(key, "this is no id", ID_FORM)
        return value

    def word(self, key: str, accepted: Sequence[W]) -> W:
        """Read a required word of a closed list."""
        return self._word(self.text(key), key, accepted)

    def words(self, key: str, accepted: Sequence[W]) -> tuple[W, ...]:
        """Read a list of words of a closed list; empty when it is left out."""
        found = tuple(self._word(word, key, accepted) for word in self.texts(key))
        if len(set(found)) != len(found):
            raise self.wrong(key, "a word stands twice in the list")
        return found

    def texts(self, key: str) -> tuple[str, ...]:
        """Read a list of texts; empty when it is left out."""
        if key not in self._data:
            return ()
        value = self._data[key]
        if not isinstance(value, list) or not all(type(entry) is str for entry in value):
            raise self._wrong_type(key, "a list of texts in quotes")
        if not value:
            raise self.wrong(key, "the list is empty", instead="Leave the key out where the source says nothing.")
        return tuple(value)

    def whole(self, key: str, least: int, greatest: int) -> int:
        """Read a required whole number."""
        value = self._get(key)
        if type(value) is not int:
            raise self._wrong_type(key, "a whole number")
        if not least <= value <= greatest:
            raise self.wrong(key, "the number is outside its bounds", f"{least} to {greatest}")
        return value

    def number(self, key: str) -> str:
        """Read a required number as the file writes it: a fraction in quotes, a whole number or a decimal."""
        value = self._get(key)
        if type(value) is int:
            return shown(value)  # Python refuses to write out thousands of digits, and this never fails
        if not isinstance(value, str):
            raise self._wrong_type(key, "a number or a fraction in quotes")
        return str(value)

    def flag(self, key: str) -> bool | None:
        """Read true or false."""
        value = self._data.get(key)
        if value is None or isinstance(value, bool):
            return value
        raise self._wrong_type(key, "true or false")

    def is_text(self, key: str) -> bool:
        """Tell whether a key holds a text rather than a table."""
        return isinstance(self._data.get(key), str)

    def table(self, key: str, form: str = "") -> Table:
        """Read a required table."""
        return Table(self._get(key), self.at(key), form or key)

    def tables(self, key: str, form: str = "") -> tuple[Table, ...]:
        """Read a list of tables; empty when it is left out."""
        if key not in self._data:
            return ()
        value = self._data[key]
        if not isinstance(value, list):
            raise self._wrong_type(key, "a list of tables")
        if not value:
            raise self.wrong(key, "the list is empty", instead="Leave the key out where the source says nothing.")
        path = self.at(key)
        return tuple(Table(entry, f"{path}[{i}]", form or key) for i, entry in enumerate(value))

    def _get(self, key: str) -> object:
        if key in self._data:
            return self._data[key]
        raise InputError("this key is required", field=self.at(key), instead=self._example(key))

    def _word(self, text: str, key: str, accepted: Sequence[W]) -> W:
        if text in accepted:
            return accepted[accepted.index(text)]
        nearest = _nearest(text, accepted)
        raise InputError(
            "this word is not in the closed list",
            field=self.at(key),
            value=shown(text),
            bound="one of " + ", ".join(f'"{word}"' for word in accepted),
            instead=f'Did you mean "{nearest}"?' if nearest else self._example(key),
        )

    def _wrong_type(self, key: str, wanted: str) -> InputError:
        value = self._data[key]
        mixed = isinstance(value, list) and wanted.startswith("a list")
        return self.wrong(key, f"{wanted} is wanted here, not {'one of other things' if mixed else _kind(value)}")

    def _example(self, key: str) -> str:
        example = KEYS[self._form][key]
        # A table with a header of its own is written below that header, not behind an equals sign.
        headed = example.startswith((f"[{key}]", f"[[{key}]]"))
        return f"Write {example}." if headed else f"Write it like {key} = {example}"

    def _table_form(self) -> str:
        keys = ", ".join(KEYS[self._form])
        return f"Write a table with some of the keys {keys}."

    def _unknown(self, key: str) -> InputError:
        named = key if _PLAIN_KEY.fullmatch(key) else shown(key)
        elsewhere = [form for form, keys in KEYS.items() if key in keys]
        nearest = _nearest(key, KEYS[self._form])
        if FILE in elsewhere:
            instead = f"{named} belongs to the file itself: write it above the first [table] or under its own header."
        elif nearest:
            instead = f"The nearest known key is {nearest}."
        elif elsewhere:
            instead = f"{named} is a key of [{elsewhere[0]}]."
        else:
            instead = f"Known here: {', '.join(KEYS[self._form])}."
        return InputError("the format knows no such key here", field=self.at(named), instead=instead)


def _nearest(word: str, accepted: Iterable[str]) -> str:
    from difflib import get_close_matches  # only where a message is written

    return next(iter(get_close_matches(word[:64], list(accepted), n=1, cutoff=0.6)), "")
