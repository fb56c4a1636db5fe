"""Cuts text into the words that are searched for. ``_static/search.js`` cuts a query the same way.

A size such as ``1-1/8 in`` is one word, and so is a clause such as ``1926.251`` or ``H-2``, a code such as
``too-few-clips`` and a name such as ``ThimbleEye``; their parts are words beside it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Final

from sphinx.search.en import SearchEnglish

__all__ = ["STOP_WORDS", "UNITS", "forms", "spoken", "stem", "tokens"]

STOP_WORDS: Final = frozenset(
    [
        "a",
        "an",
        "and",
        "are",
        "as",
        "at",
        "be",
        "by",
        "can",
        "do",
        "does",
        "each",
        "for",
        "from",
        "has",
        "have",
        "how",
        "i",
        "if",
        "in",
        "is",
        "it",
        "its",
        "me",
        "my",
        "of",
        "on",
        "or",
        "should",
        "so",
        "that",
        "the",
        "there",
        "this",
        "to",
        "was",
        "what",
        "when",
        "where",
        "which",
        "who",
        "why",
        "will",
        "with",
        "you",
        "your",
    ]
)
"""Words that say nothing of a page."""
UNITS: Final = {
    "in": "in", "inch": "in", "inches": "in", "mm": "mm", "m": "m", "ft": "ft", "lbf": "lbf", "lb": "lbf", "kn": "kn",
    "n": "n", "kips": "kips",
}  # fmt: skip
"""What may stand behind a number, and how it is written in the index."""

_CHUNK: Final = re.compile(r"[^\W_]+(?:[-./_·][^\W_]+)*")
_SEPARATOR: Final = re.compile(r"[-./_·]")
_CAMEL: Final = re.compile(r"(?<=[a-z0-9])(?=[A-Z])")
_NUMBER: Final = re.compile(r"^[0-9]+(?:[-./][0-9]+)*$")
_MIXED: Final = re.compile(r"\b([0-9]+) ([0-9]+/[0-9]+)")
_INCHES: Final = re.compile(r'(?<=[0-9])(?:"|″|\'\')')
_BLANK: Final = re.compile(r"^\s+$")
_ENGLISH: Final = SearchEnglish({})
"""Its twin in ``language_data.js`` stems the query."""


def plain(text: str) -> str:
    """Take away accents and what writes a size in another way.

    Args:
        text: Any text.

    Returns:
        The text with plain letters, ``1-1/8`` for ``1 1/8`` and ``in`` for a sign of inches.
    """
    text = unicodedata.normalize("NFKD", text).replace("\u2044", "/")
    text = "".join(character for character in text if not unicodedata.combining(character))
    return _INCHES.sub(" in", _MIXED.sub(r"\1-\2", text))


@cache
def stem(word: str) -> str:
    """Bring a word to the form that all its forms share.

    Args:
        word: A word in small letters.

    Returns:
        Its stem; anything with a digit as it is.
    """
    return _ENGLISH.stem(word) if word.isalpha() and word.isascii() else word


def _parts(chunk: str) -> list[str]:
    return [part.lower() for piece in _SEPARATOR.split(chunk) for part in _CAMEL.split(piece)]


def spoken(text: str) -> list[str]:
    """Cut what people say, as the search page cuts a query.

    Args:
        text: A word or a few.

    Returns:
        For each word its parts with blanks between them; words that say nothing are left out.
    """
    words = [
        [stem(part) for part in _parts(found[0]) if part not in STOP_WORDS] for found in _CHUNK.finditer(plain(text))
    ]
    return [" ".join(parts) for parts in words if parts]


def forms(text: str) -> set[str]:
    """List the words of a text as they are written.

    Args:
        text: Any text.

    Returns:
        Its words of four letters and more, in small letters and without what stands between digits.
    """
    chunks = {found[0] for found in _CHUNK.finditer(plain(text))}
    parts = {part for chunk in chunks for part in (chunk.lower(), *_parts(chunk))}
    return {part for part in parts if part.isalpha() and part.isascii() and len(part) > 3 and part not in STOP_WORDS}


def tokens(text: str) -> Iterator[str]:
    """Cut a text.

    Args:
        text: Any text.

    Yields:
        Each word, and for compounds the whole and the parts; for two words such as ``turn-back`` also both in one.
    """
    text = plain(text)
    number, end = "", 0
    for found in _CHUNK.finditer(text):
        chunk = found[0]
        whole = chunk.lower()
        unit = UNITS.get(whole)
        if number and unit is not None and _BLANK.match(text[end : found.start()]):
            yield f"{number}~{unit}"
        number, end = (whole if _NUMBER.match(whole) else ""), found.end()
        parts = _parts(chunk)
        if len(parts) > 1:
            yield whole
            if len(parts) == 2 and not any(character.isdigit() for character in whole):
                glued = "".join(parts)
                if glued != whole:
                    yield stem(glued)
        for part in parts:
            if part not in STOP_WORDS:
                yield stem(part)
