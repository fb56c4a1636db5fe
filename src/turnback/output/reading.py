"""Reading JSON that nobody vouches for: bounded before anything is built, and every error names its place.

The bounds: 1 MiB of text, 32 levels, 10 000 entries of lists, 100 keys of one object, texts of 4096 characters, numbers
of 40 characters. What the standard parser lets pass in silence is refused: NaN and infinity, also as a number too large
for a float, keys given twice, halves of surrogate pairs (the restricted profile of RFC 7493).
"""

from __future__ import annotations

import json
import math
import re
from typing import Final

from turnback.errors import InputError
from turnback.output.json_text import Json, at, entry
from turnback.quantities.grammar import shown

__all__ = [
    "DEEPEST",
    "LONGEST_NUMBER",
    "LONGEST_TEXT",
    "MOST_BYTES",
    "MOST_ITEMS",
    "MOST_KEYS",
    "read_document",
    "refuse_beyond_bounds",
]

MOST_BYTES: Final = 1 << 20
DEEPEST: Final = 32
MOST_ITEMS: Final = 10_000
MOST_KEYS: Final = 100
LONGEST_TEXT: Final = 4096
LONGEST_NUMBER: Final = 40

# Possessive throughout: a text that nobody closes is given up at once and not tried again from each of its quotes.
_TOKEN: Final = re.compile(
    r"""[ \t\n\r]*+(?:
        (?P<text>"(?:[^"\\\x00-\x1f]++|\\[\x20-\U0010ffff])*+")
      | (?P<number>-?+(?:0|[1-9][0-9]*+)(?:\.[0-9]++)?+(?:[eE][-+]?+[0-9]++)?+)
      | (?P<word>-?+[A-Za-z]++)
      | (?P<mark>[\[\]{}:,])
      | (?P<end>\Z)
    )""",
    re.VERBOSE,
)
_SURROGATE: Final = re.compile("[\ud800-\udfff]")
_WORDS: Final[dict[str, Json]] = {"true": True, "false": False, "null": None}
_SHAPE: Final = 'A document begins with {"format": 1, "kind": ...; turnback.to_json writes one.'


def read_document(text: str | bytes) -> dict[str, Json]:
    """Read the text of a document.

    Args:
        text: The text, or its bytes in UTF-8.

    Returns:
        Its object, as plain values.

    Raises:
        InputError: It is no JSON object, or breaks a bound; the place is named.
    """
    found = _Reader(_decoded(text)).document()
    if not isinstance(found, dict):
        raise InputError("a document is an object of keys and values", field="document", instead=_SHAPE)
    return found


def refuse_beyond_bounds(document: Json, text: str) -> None:
    """Refuse to write what could not be read back.

    Args:
        document: The document.
        text: The same, written.

    Raises:
        InputError: It breaks a bound of :func:`read_document`; the place is named.
    """
    entries = _entries(document, "", 1)
    if entries > MOST_ITEMS:
        raise InputError("the lists have too many entries", field="document", bound=f"{MOST_ITEMS} entries in all")
    if len(text.encode()) > MOST_BYTES:
        raise _too_long()


def _entries(document: Json, path: str, depth: int) -> int:
    if isinstance(document, str):
        _check_text(document, path)
    if not isinstance(document, (list, dict)):
        return 0
    if depth > DEEPEST:
        raise _too_deep(path)
    if isinstance(document, list):
        each = [_entries(value, entry(path, i), depth + 1) for i, value in enumerate(document)]
        return len(each) + sum(each)
    return sum(_entries(value, at(path, key), depth + 1) for key, value in document.items())


def _check_text(text: str, where: str) -> None:
    if len(text) > LONGEST_TEXT:
        raise InputError("the text is too long", field=where, bound=f"{LONGEST_TEXT} characters")
    if _SURROGATE.search(text):
        raise InputError("the text has half of a surrogate pair, which is no character", field=where, value=shown(text))


def _too_deep(where: str) -> InputError:
    return InputError("lists or objects are nested too deep", field=where, bound=f"{DEEPEST} levels")


def _decoded(text: object) -> str:
    if not isinstance(text, (str, bytes)):
        raise InputError("a document is text or bytes", field="document", value=shown(text), instead=_SHAPE)
    if len(text) > MOST_BYTES:
        raise _too_long()
    try:
        data = text if isinstance(text, bytes) else text.encode()
        decoded = data.decode()
    except UnicodeError:
        raise InputError("this is no UTF-8", field="document", instead="Save the file in the encoding UTF-8.") from None
    if len(data) > MOST_BYTES:
        raise _too_long()
    return decoded.removeprefix("\ufeff")  # some editors mark UTF-8 so


def _too_long() -> InputError:
    return InputError(
        "the document is too long", field="document", bound=f"{MOST_BYTES} bytes", instead="One document is one joint."
    )


class _Reader:
    """A reader that goes through the text once and stops at the first thing that is wrong."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._place = self._start = 0
        self._items = 0
        self._kind, self._token = "", ""
        self._next("document")

    def document(self) -> Json:
        """Read the whole text."""
        if self._kind == "end":
            raise InputError("the document is empty", field="document", instead=_SHAPE)
        found = self._value("", 1)
        if self._kind != "end":
            raise self._wrong("document", "something stands behind the end of the document")
        return found

    def _next(self, path: str) -> None:
        match = _TOKEN.match(self._text, self._place)
        if match is None:
            rest = self._text[self._place :].lstrip(" \t\n\r")
            self._start = len(self._text) - len(rest)
            problem = "a text is not closed (it may have been cut off), or has a line break or the like in it"
            raise self._wrong(path, problem if rest[0] == '"' else "this begins neither a value nor a mark of JSON")
        self._kind, self._token = match.lastgroup or "", match[match.lastgroup or 0]
        self._start, self._place = match.start(self._kind), match.end()
        if self._kind == "number" and len(self._token) > LONGEST_NUMBER:
            raise InputError(
                "the number is too long",
                field=path,
                value=self._token[:LONGEST_NUMBER] + "...",
                bound=f"{LONGEST_NUMBER} characters",
            )

    def _value(self, path: str, depth: int) -> Json:
        where, kind, token = path or "document", self._kind, self._token
        if token in ("{", "["):
            if depth > DEEPEST:
                raise _too_deep(where)
            self._next(where)
            return self._object(path, depth) if token == "{" else self._list(path, depth)
        if kind == "text":
            found: Json = self._unquoted(token, where)
        elif kind == "number":
            found = self._number(token, where)
        elif kind == "word" and token in _WORDS:
            found = _WORDS[token]
        else:
            raise self._no_value(where)
        self._next(where)
        return found

    def _no_value(self, where: str) -> InputError:
        if self._kind == "end":
            return self._wrong(where, "the text ends before the document does; it may have been cut off")
        if self._kind == "word":
            return InputError(
                "this word is no value of JSON",
                field=where,
                value=self._token[:LONGEST_NUMBER],
                bound="true, false or null; a number is finite",
                instead="Text stands in double quotes; what is not known is null.",
            )
        return self._wrong(where, f"a value is wanted before {self._token}")

    def _object(self, path: str, depth: int) -> dict[str, Json]:
        found: dict[str, Json] = {}
        while self._token != "}" or self._kind != "mark":
            where = path or "document"
            if found:
                self._mark(",", where)
            if self._kind != "text":
                raise self._wrong(where, "a key in double quotes is wanted here")
            key = self._unquoted(self._token, where)
            place = at(path, key)
            self._next(place)
            if key in found:
                raise InputError("this key is given twice", field=place, instead="Keep one of the two.")
            if len(found) >= MOST_KEYS:
                raise InputError("the object has too many keys", field=where, bound=f"{MOST_KEYS} keys")
            self._mark(":", place)
            found[key] = self._value(place, depth + 1)
        self._next(path or "document")
        return found

    def _list(self, path: str, depth: int) -> list[Json]:
        found: list[Json] = []
        while self._token != "]" or self._kind != "mark":
            if found:
                self._mark(",", path or "document")
            place = entry(path or "document", len(found))
            self._items += 1
            if self._items > MOST_ITEMS:
                raise InputError("the lists have too many entries", field=place, bound=f"{MOST_ITEMS} entries in all")
            found.append(self._value(place, depth + 1))
        self._next(path or "document")
        return found

    def _mark(self, wanted: str, where: str) -> None:
        if self._kind != "mark" or self._token != wanted:
            ended = self._kind == "end"
            problem = "the text ends before the document does; it may have been cut off"
            raise self._wrong(where, problem if ended else f"a {wanted} is wanted here")
        self._next(where)

    def _unquoted(self, token: str, where: str) -> str:
        # Six characters of text are at most one character, so that no text is unescaped which could not be kept.
        if len(token) > 6 * LONGEST_TEXT + 2:
            raise InputError("the text is too long", field=where, bound=f"{LONGEST_TEXT} characters")
        found = token[1:-1]
        if "\\" in token:
            try:
                found = json.loads(token)
            except ValueError:
                raise self._wrong(where, "a text has an escape that JSON does not know") from None
        _check_text(found, where)
        return found

    @staticmethod
    def _number(token: str, where: str) -> int | float:
        if token.lstrip("-").isdigit():
            return int(token)
        number = float(token)
        if not math.isfinite(number):
            raise InputError("the number is too large", field=where, value=token, instead="A number is finite.")
        return number

    def _wrong(self, where: str, problem: str) -> InputError:
        line = self._text.count("\n", 0, self._start) + 1
        column = self._start - self._text.rfind("\n", 0, self._start)
        return InputError(f"this is no JSON: {problem} (line {line}, column {column})", field=where)
