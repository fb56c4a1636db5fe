"""One table of a service file, read key by key, so that every wrong key is found and every error names its path."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TypeVar

from turnback.errors import InputError
from turnback.quantities import Length, parse_number, percent
from turnback.quantities.grammar import shown
from turnback.rules.expressions import read_linear_length
from turnback.rules.ruleset import LinearLength

__all__ = ["Cells", "nearest"]

W = TypeVar("W", bound=str)

_LONGEST_TEXT = 2000


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a hint that names the nearest known word.

    Args:
        word: What was written.
        known: The words that are known.

    Returns:
        ``"Did you mean ...?"``; empty where none is near.
    """
    from difflib import get_close_matches  # only where a message is written

    near = get_close_matches(word[:64], list(known), n=1)
    return f"Did you mean {near[0]}?" if near else ""


class Cells:
    """The cells of one table. Making it checks that it has no key outside its closed list.

    Args:
        data: What the file holds there.
        path: Where it stands, such as ``rules[3]``; empty for the file itself.
        keys: Its closed list of keys.

    Raises:
        InputError: It is no table, or has a key that the format does not know.
    """

    __slots__ = ("_data", "_path")

    def __init__(self, data: object, path: str, keys: Sequence[str]) -> None:
        if not isinstance(data, dict):
            raise InputError(
                "a table is wanted here", field=path, value=shown(data), instead=f"Keys: {', '.join(keys)}."
            )
        self._path = path
        self._data: dict[str, object] = data
        for key in data:
            if key not in keys:
                hint = nearest(key, keys) or f"Known here: {', '.join(keys)}."
                raise InputError("the format knows no such key here", field=self.at(key), instead=hint)

    def at(self, key: str) -> str:
        """Return the path of a key, such as ``rules[3].kind``.

        Args:
            key: Its name.

        Returns:
            The path.
        """
        return f"{self._path}.{key}" if self._path else key

    def has(self, key: str) -> bool:
        """Tell whether a key was written.

        Args:
            key: Its name.

        Returns:
            True where it stands in the file.
        """
        return key in self._data

    def filled(self, key: str) -> bool:
        """Tell whether a key was written and holds something.

        Args:
            key: Its name.

        Returns:
            False for an empty list, table or text, and for zero.
        """
        return bool(self._data.get(key))

    def wrong(self, key: str, problem: str, bound: str = "", instead: str = "") -> InputError:
        """Build the error for a key whose value will not do.

        Args:
            key: Its name.
            problem: What is wrong.
            bound: Which bound it breaks.
            instead: What to write.

        Returns:
            The error, not raised.
        """
        value = shown(self._data[key]) if key in self._data else ""
        return InputError(problem, field=self.at(key), value=value, bound=bound, instead=instead)

    def text(self, key: str, default: str | None = None) -> str:
        """Read a text in one line.

        Args:
            key: Its name.
            default: What holds when it is left out; None where it is required.

        Returns:
            The text.

        Raises:
            InputError: It is missing, no text, empty, too long, or has characters that do not print.
        """
        if key not in self._data:
            if default is not None:
                return default
            raise InputError("this key is required", field=self.at(key), instead=f'Write {key} = "..."')
        value = self._data[key]
        if not isinstance(value, str):
            raise self.wrong(key, "a text in quotes is wanted here")
        if not value.strip() or value.strip() != value or len(value) > _LONGEST_TEXT or not value.isprintable():
            bound = f"1 to {_LONGEST_TEXT} characters in one line"
            raise self.wrong(key, "the text is empty, too long, or has spaces around it or a line break", bound)
        return value

    def word(self, key: str, accepted: Sequence[W]) -> W:
        """Read a required word of a closed list.

        Args:
            key: Its name.
            accepted: The closed list.

        Returns:
            The word.

        Raises:
            InputError: It is missing or not in the list; the nearest word is named.
        """
        return self._word(self.text(key), key, accepted)

    def words(self, key: str, accepted: Sequence[str] = ()) -> tuple[str, ...]:
        """Read a list of words; empty when it is left out.

        Args:
            key: Its name.
            accepted: The closed list; empty where any word is taken.

        Returns:
            The words in the order of the file.

        Raises:
            InputError: It is no list of texts, is empty, or has a word twice or one outside the list.
        """
        value = self._data.get(key)
        if value is None:
            return ()
        if not isinstance(value, list) or not value or not all(isinstance(word, str) and word for word in value):
            raise self.wrong(
                key, "a list of texts in quotes is wanted here", instead="Leave the key out if it is empty."
            )
        if len(set(value)) != len(value):
            raise self.wrong(key, "a word stands twice in the list")
        return tuple(self._word(word, key, accepted) if accepted else word for word in value)

    def whole(self, key: str) -> int | None:
        """Read a whole number of at least one.

        Args:
            key: Its name.

        Returns:
            The number [-]; None when it is left out.

        Raises:
            InputError: It is anything else (``true`` is no number).
        """
        value = self._data.get(key)
        if value is None or (type(value) is int and value >= 1):
            return value
        raise self.wrong(key, "a whole number is wanted here", "at least 1")

    def ratio(self, key: str) -> Fraction | None:
        """Read an exact number.

        Args:
            key: Its name.

        Returns:
            The number [-], exact, from ``5``, ``3.5``, ``"1/3"`` or ``"80 %"``; None when it is left out.

        Raises:
            InputError: It is no number of the grammar.
        """
        value = self._data.get(key)
        if value is None:
            return None
        if type(value) is int:
            return Fraction(value)
        if not isinstance(value, str):
            raise self.wrong(key, "a number is wanted here", instead='Write 5, 3.5, "1/3" or "80 %".')
        return percent(value, self.at(key)) if value.endswith("%") else parse_number(value, self.at(key))

    def length(self, key: str) -> Length | None:
        """Read a length with its unit.

        Args:
            key: Its name.

        Returns:
            The length; None when it is left out.

        Raises:
            InputError: It is no length of the grammar.
        """
        return Length.of(self.text(key), self.at(key)) if key in self._data else None

    def linear(self, key: str) -> LinearLength | None:
        """Read a length in rope diameters, base widths and constants.

        Args:
            key: Its name.

        Returns:
            The length; None when it is left out.

        Raises:
            InputError: It is no length of the grammar.
        """
        return read_linear_length(self.text(key), self.at(key)) if key in self._data else None

    def flag(self, key: str, default: bool) -> bool:
        """Read true or false.

        Args:
            key: Its name.
            default: What holds when it is left out.

        Returns:
            The flag.

        Raises:
            InputError: It is anything else.
        """
        value = self._data.get(key, default)
        if isinstance(value, bool):
            return value
        raise self.wrong(key, "true or false is wanted here")

    def tables(self, key: str, keys: Sequence[str]) -> tuple[Cells, ...]:
        """Read a list of tables; empty when it is left out.

        Args:
            key: Its name.
            keys: Their closed list of keys.

        Returns:
            The tables in the order of the file.

        Raises:
            InputError: It is no list, or an entry is no table or has an unknown key.
        """
        value = self._data.get(key, [])
        if not isinstance(value, list):
            raise self.wrong(key, "a list of tables is wanted here", instead=f"Write each under a header [[{key}]].")
        return tuple(Cells(entry, f"{self.at(key)}[{i}]", keys) for i, entry in enumerate(value))

    def table(self, key: str, keys: Sequence[str]) -> Cells:
        """Read a table; empty when it is left out.

        Args:
            key: Its name.
            keys: Its closed list of keys.

        Returns:
            The table.

        Raises:
            InputError: It is no table or has an unknown key.
        """
        return Cells(self._data.get(key, {}), self.at(key), keys)

    def named(self, key: str) -> tuple[str, ...]:
        """Return the keys of a table whose keys are free names.

        Args:
            key: Name of the table.

        Returns:
            Its keys in the order of the file; empty when the table is left out.

        Raises:
            InputError: It is no table.
        """
        value = self._data.get(key, {})
        if not isinstance(value, dict):
            raise self.wrong(key, "a table is wanted here", instead=f"Write it under a header [{key}].")
        return tuple(value)

    def texts_of(self, key: str) -> tuple[str, ...]:
        """Read a list of words, or one word in place of the list.

        Args:
            key: Its name.

        Returns:
            The words.

        Raises:
            InputError: It is missing or neither.
        """
        return self.words(key) if isinstance(self._data.get(key), list) else (self.text(key),)

    def _word(self, text: str, key: str, accepted: Sequence[W]) -> W:
        for word in accepted:
            if word == text:
                return word
        raise InputError(
            "this word is not in the closed list",
            field=self.at(key),
            value=shown(text),
            bound="one of " + ", ".join(accepted),
            instead=nearest(text, accepted),
        )
