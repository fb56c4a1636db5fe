"""What a document is made of, and how it is written: plain lists, dictionaries, numbers and text."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Final, TypeAlias

__all__ = ["FORMAT", "Json", "at", "entry", "to_text", "with_head"]

Json: TypeAlias = bool | int | float | str | list["Json"] | dict[str, "Json"] | None
FORMAT: Final = 1
"""Version of the layout of the documents."""

_LONGEST_KEY: Final = 64


def to_text(document: Json) -> str:
    """Write a document as JSON text.

    Args:
        document: Plain lists, dictionaries, numbers and text.

    Returns:
        Text with two blanks of indent, in the order of the keys, ending in a new line; the same bytes for the same
        document.
    """
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def at(path: str, key: str) -> str:
    """Return the path of a key, as errors name it.

    Args:
        path: Where the object stands; empty for the document itself.
        key: The key.

    Returns:
        Such as ``request.rope``; a key that is no plain word is cut and quoted.
    """
    plain = len(key) <= _LONGEST_KEY and key.isascii() and key.replace("-", "_").isidentifier()
    named = key if plain else repr(key[:_LONGEST_KEY])
    return f"{path}.{named}" if path else named


def entry(path: str, number: int) -> str:
    """Return the path of an entry of a list.

    Args:
        path: Where the list stands.
        number: Its place, from 0 [-].

    Returns:
        Such as ``rows[3]``.
    """
    return f"{path}[{number}]"


def with_head(kind: str, body: Mapping[str, Json]) -> dict[str, Json]:
    """Put the head of a document before its body.

    Args:
        kind: Kind of the document.
        body: Its keys.

    Returns:
        The document.
    """
    return {"format": FORMAT, "kind": kind, **body}
