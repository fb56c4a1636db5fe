"""Checks that a value is exactly what it should be: of this very type, in its bounds, all the way down.

Constructors check most of it, but a frozen value can be changed past its constructor, a check can be switched off, and
a subclass can answer whatever it likes. So what a plugin hands over is looked at once more when it is loaded
(:mod:`turnback.rules._promised` says what it should be), and every constructor's own check is run again.

A check takes the value and what has been looked at already, by id and kept alive: many cells share a citation.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from fractions import Fraction
from typing import Any, Final, TypeAlias

from turnback.errors import PluginError
from turnback.model.cited import Cited
from turnback.quantities import Length, Torque
from turnback.quantities.grammar import shown
from turnback.quantities.length import GREATEST_NANOMETRES

__all__ = [
    "Check", "Value", "check_fields", "cited", "flag", "fraction", "length", "many", "name", "one_of", "optional",
    "pair", "text", "torque", "whole", "wrong",
]  # fmt: skip

Check: TypeAlias = Callable[[object, dict[int, object]], None]

_NAME: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST_NAME: Final = 64
_LONGEST_TEXT: Final = 10_000
_GREATEST_PART: Final = 10**15
"""Greatest numerator or denominator: far beyond what is printed, and safe to turn into a float."""
_PLAIN: Final = (int, str, float, bool, complex, Fraction, Length)


def wrong(found: object, should: str) -> PluginError:
    """Return the error for a value that is not what it should be; each step on the way up puts its name before it."""
    # A stranger's repr may do anything, so that only plain values are shown.
    given = shown(found) if type(found) in _PLAIN else f"an object of type {type(found).__name__}"
    return PluginError("this is not what it should be", field="", value=given, bound=should)


def _on_the_way(error: PluginError, step: str) -> PluginError:
    joined = error.field if error.field.startswith("[") or not error.field else f".{error.field}"
    error.field = f"{step}{joined}"
    return error


def text(found: object, _: dict[int, object]) -> None:
    """Check a text: no subclass, not endless, and of characters that can be written."""
    if type(found) is not str or len(found) > _LONGEST_TEXT:
        raise wrong(found, f"a str itself, no subclass, of at most {_LONGEST_TEXT} characters")
    if not found.isascii() and any("\ud800" <= character <= "\udfff" for character in found):
        raise wrong(found, "a text without half characters, which cannot be written to a file")


def name(found: object, _: dict[int, object]) -> None:
    """Check an id."""
    if type(found) is not str or len(found) > _LONGEST_NAME or not _NAME.fullmatch(found):
        raise wrong(found, f"lower-case letters, digits and single hyphens, at most {_LONGEST_NAME} characters")


def flag(found: object, _: dict[int, object]) -> None:
    """Check a truth value."""
    if found is not True and found is not False:
        raise wrong(found, "True or False")


def one_of(words: Collection[str]) -> Check:
    """Return the check of a word of a closed list."""

    def check(found: object, _: dict[int, object]) -> None:
        if type(found) is not str or found not in words:
            raise wrong(found, "one of " + ", ".join(repr(word) for word in words))

    return check


def whole(least: int, most: int) -> Check:
    """Return the check of a whole number from ``least`` to ``most``."""

    def check(found: object, _: dict[int, object]) -> None:
        if type(found) is not int or not least <= found <= most:
            raise wrong(found, f"a whole number from {least} to {most}")

    return check


def fraction(least: int, most: int, *, above: bool = False) -> Check:
    """Return the check of an exact number from ``least`` to ``most``; with ``above`` the least is not included."""

    def check(found: object, _: dict[int, object]) -> None:
        if type(found) is not Fraction:
            raise wrong(found, "a Fraction")
        # Its parts can be changed too, to floats for one.
        if any(type(part) is not int or abs(part) > _GREATEST_PART for part in (found.numerator, found.denominator)):
            raise wrong(None, f"a Fraction of two whole numbers of at most {_GREATEST_PART}")
        if not least <= found <= most or (above and found == least):
            raise wrong(found, f"{'above' if above else 'from'} {least} to {most}")

    return check


def length(least: int = 1) -> Check:
    """Return the check of a length of at least so many nanometres."""

    def check(found: object, _: dict[int, object]) -> None:
        if type(found) is not Length:
            raise wrong(found, "a Length")
        count: object = found.nanometres
        if type(count) is not int or not least <= count <= GREATEST_NANOMETRES:
            raise wrong(count, f"a length of {least} to {GREATEST_NANOMETRES} whole nanometres")

    return check


def torque(found: object, seen: dict[int, object]) -> None:
    """Check a torque by making it once more from what it says of itself."""
    if type(found) is not Torque:
        raise wrong(found, "a Torque")
    fraction(0, 10**9, above=True)(found.value, seen)
    text(found.unit, seen)
    if Torque(found.value, found.unit, found.also) != found:
        raise wrong(found, "a Torque that its own constructor makes")


def optional(inner: Check) -> Check:
    """Return the check of something that may be None."""

    def check(found: object, seen: dict[int, object]) -> None:
        if found is not None:
            inner(found, seen)

    return check


def many(inner: Check) -> Check:
    """Return the check of a tuple of any number of things of a kind."""

    def check(found: object, seen: dict[int, object]) -> None:
        if type(found) is not tuple:
            raise wrong(found, "a tuple itself")
        place = 0
        try:
            for place, each in enumerate(found):  # noqa: B007 - the place is told where one is refused
                inner(each, seen)
        except PluginError as error:
            raise _on_the_way(error, f"[{place}]") from None

    return check


def pair(one: Check, other: Check) -> Check:
    """Return the check of a pair."""

    def check(found: object, seen: dict[int, object]) -> None:
        if type(found) is not tuple or len(found) != 2:
            raise wrong(found, "a pair")
        one(found[0], seen)
        other(found[1], seen)

    return check


class Value:
    """The check of one of the library's own values: the very class, its fields, and what its constructor asks."""

    __slots__ = ("_again", "_also", "fields", "kind")

    def __init__(self, kind: type, *fields: tuple[str, Check], also: Callable[[Any], None] | None = None) -> None:
        self.kind = kind
        self.fields = fields
        self._again: Callable[[object], None] | None = getattr(kind, "__attrs_post_init__", None)
        self._also = also

    def __call__(self, found: object, seen: dict[int, object]) -> None:
        """Check a value."""
        if id(found) in seen:
            return
        if type(found) is not self.kind:
            raise wrong(found, f"a {self.kind.__name__} itself: it is a value, and a subclass may answer anything")
        check_fields(found, self.fields, seen)
        if self._again is not None:
            self._again(found)
        if self._also is not None:
            self._also(found)
        seen[id(found)] = found


def check_fields(found: object, fields: Iterable[tuple[str, Check]], seen: dict[int, object]) -> None:
    """Check the fields of a value."""
    field = ""
    try:
        for field, inner in fields:
            inner(getattr(found, field), seen)
    except PluginError as error:
        raise _on_the_way(error, field) from None


def cited(inner: Check, citation: Check) -> Check:
    """Return the check of a value together with who says so."""
    check_citations = many(citation)

    def check(found: object, seen: dict[int, object]) -> None:
        if type(found) is not Cited:
            raise wrong(found, "a Cited itself, with the value and who says so")
        try:
            inner(found.value, seen)
        except PluginError as error:
            raise _on_the_way(error, "value") from None
        try:
            check_citations(found.citations, seen)
            text(found.how, seen)
            if not found.citations:
                raise wrong(found.citations, "at least one citation")
        except PluginError as error:
            raise _on_the_way(error, "citations" if error.field.startswith("[") else "cited") from None

    return check
