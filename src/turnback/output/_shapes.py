"""Shapes of single values: how one is written to JSON, read back, and described by a schema.

A shape knows the unit that a key of its values ends in. Shapes of lists, objects and choices between objects are built
from these in :mod:`turnback.output._composite`, and all of them from the annotations of a class in
:mod:`turnback.output._annotations`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Final

from turnback.errors import InputError
from turnback.output.json_text import Json
from turnback.output.reading import LONGEST_TEXT
from turnback.quantities import Length
from turnback.quantities.grammar import shown

__all__ = [
    "FLAG",
    "GREATEST_WHOLE",
    "LENGTH",
    "NUMBER",
    "RATIO",
    "TEXT",
    "WHOLE",
    "Defs",
    "Lengths",
    "Ratios",
    "Scalars",
    "Shape",
    "Whole",
    "Words",
    "nearest",
    "wrong",
]

Defs = dict[str, Json]
"""Schemas of objects by name, to be referred to."""
GREATEST_WHOLE: Final = (1 << 53) - 1
"""Greatest whole number that every reader of JSON keeps (RFC 7493)."""

_RATIO: Final = re.compile(r"-?[0-9]{1,400}(?:/0*[1-9][0-9]{0,399})?")


class Shape:
    """How one kind of value is written, read and described."""

    suffix: str = ""

    def write(self, value: object) -> Json:
        """Write a value.

        Args:
            value: A value of this shape.

        Returns:
            Plain data.
        """
        raise NotImplementedError

    def read(self, found: Json, path: str) -> object:
        """Read a value.

        Args:
            found: What stands there.
            path: Its place, for the message.

        Returns:
            The value.

        Raises:
            InputError: It is none of this shape, or out of its bounds.
        """
        raise NotImplementedError

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """Describe it; the schemas of objects are put into ``defs``.

        Returns:
            A JSON Schema, draft 2020-12.
        """
        raise NotImplementedError


def wrong(found: Json, path: str, wanted: str, instead: str = "") -> InputError:
    """Build the error for data of another shape."""
    kinds = {bool: "true or false", int: "a whole number", float: "a number", str: "text", list: "a list"}
    kind = "null" if found is None else kinds.get(type(found), "an object")
    given = "" if isinstance(found, (list, dict)) else shown(found)
    return InputError(f"{wanted} is wanted here, not {kind}", field=path, value=given, instead=instead)


def nearest(word: str, known: Sequence[str]) -> str:
    """Return a sentence that names the nearest known word; the whole list where none is near.

    Args:
        word: What was written.
        known: What could have been.

    Returns:
        The sentence.
    """
    from difflib import get_close_matches  # only where a message is written

    near = get_close_matches(word[:64], known, n=1, cutoff=0.5)
    return f"The nearest known one is {near[0]}." if near else "Known here: " + ", ".join(known) + "."


class _Text(Shape):
    def write(self, value: object) -> Json:
        return str(value)

    def read(self, found: Json, path: str) -> str:
        if isinstance(found, str):
            return found
        raise wrong(found, path, "text")

    def schema(self, _: Defs, /) -> dict[str, Json]:
        return {"type": "string", "maxLength": LONGEST_TEXT}


class _Flag(Shape):
    def write(self, value: object) -> Json:
        return bool(value)

    def read(self, found: Json, path: str) -> bool:
        if isinstance(found, bool):
            return found
        raise wrong(found, path, "true or false")

    def schema(self, _: Defs, /) -> dict[str, Json]:
        return {"type": "boolean"}


class Words(Shape):
    """Words of a closed list.

    Args:
        words: The list.
    """

    def __init__(self, words: Sequence[str]) -> None:
        self.words = tuple(words)

    def write(self, value: object) -> Json:
        """Write the word."""
        return str(value)

    def read(self, found: Json, path: str) -> str:
        """Read a word of the list."""
        if not isinstance(found, str):
            raise wrong(found, path, "a word")
        if found not in self.words:
            raise InputError(
                "this word is not in the closed list",
                field=path,
                value=shown(found),
                bound="one of " + ", ".join(repr(word) for word in self.words),
                instead=nearest(found, self.words),
            )
        return found

    def schema(self, _: Defs, /) -> dict[str, Json]:
        """List the words."""
        return {"enum": list(self.words)}


class Whole(Shape):
    """Whole numbers between two bounds.

    Args:
        least: The least [-].
        greatest: The greatest [-].
    """

    def __init__(self, least: int = 0, greatest: int = GREATEST_WHOLE) -> None:
        self.least, self.greatest = least, greatest

    def write(self, value: object) -> Json:
        """Write the number."""
        return value if isinstance(value, int) else None

    def read(self, found: Json, path: str) -> int:
        """Read a whole number."""
        if isinstance(found, bool) or not isinstance(found, int):
            raise wrong(found, path, "a whole number")
        if not self.least <= found <= self.greatest:
            raise InputError(
                "the number is out of bounds",
                field=path,
                value=shown(found),
                bound=f"{self.least} to {self.greatest}",
            )
        return found

    def schema(self, _: Defs, /) -> dict[str, Json]:
        """Give the bounds."""
        return {"type": "integer", "minimum": self.least, "maximum": self.greatest}


class Lengths(Whole):
    """Lengths between two bounds, as whole numbers of nanometres."""

    suffix = "_nm"

    def write(self, value: object) -> Json:
        """Write the count of nanometres."""
        return value.nanometres if isinstance(value, Length) else None

    def read(self, found: Json, path: str) -> Length:  # type: ignore[override]  # another kind of value in the same numbers
        """Read a count of nanometres."""
        return Length(super().read(found, path))


class Scalars(Shape):
    """Numbers in a unit, such as forces.

    Args:
        kind: What is made of a number.
        suffix: What the key ends in.
        number: The number of a value.
    """

    def __init__(self, kind: Callable[[float], object], suffix: str, number: Callable[[object], float]) -> None:
        self._kind, self.suffix, self._number = kind, suffix, number

    def write(self, value: object) -> Json:
        """Write the number."""
        return self._number(value)

    def read(self, found: Json, path: str) -> object:
        """Read a number."""
        if isinstance(found, bool) or not isinstance(found, (int, float)):
            raise wrong(found, path, "a number")
        return self._kind(float(found))

    def schema(self, _: Defs, /) -> dict[str, Json]:
        """Any number."""
        return {"type": "number"}


class Ratios(Shape):
    """Exact ratios between two bounds, written as ``"4/5"`` or ``"3"``.

    Args:
        least: The least [-]; None for no bound.
        greatest: The greatest [-]; None for no bound.
    """

    def __init__(self, least: Fraction | int | None = None, greatest: Fraction | int | None = None) -> None:
        self._least, self._greatest = least, greatest

    def write(self, value: object) -> Json:
        """Write the exact number."""
        return str(value)

    def read(self, found: Json, path: str) -> Fraction:
        """Read an exact number."""
        if not isinstance(found, str) or not _RATIO.fullmatch(found):
            raise wrong(found, path, "an exact ratio as text", 'Write "4/5" or "3".')
        number = Fraction(found)
        low, high = self._least, self._greatest
        if (low is not None and number < low) or (high is not None and number > high):
            bound = f"{'' if low is None else low} to {'' if high is None else high}".strip()
            raise InputError("the ratio is out of bounds", field=path, value=shown(found), bound=bound)
        return number

    def schema(self, _: Defs, /) -> dict[str, Json]:
        """Give the pattern."""
        return {"type": "string", "pattern": f"^(?:{_RATIO.pattern})$"}


TEXT: Final = _Text()
FLAG: Final = _Flag()
WHOLE: Final = Whole()
LENGTH: Final = Lengths()
RATIO: Final = Ratios()


def _float(value: object) -> float:
    return value if isinstance(value, float) else 0.0


NUMBER: Final = Scalars(float, "", _float)
