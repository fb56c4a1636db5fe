"""What is not taken from each source, and why: read from a file that a person wrote."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final, Literal, TypeAlias, get_args

import attrs
from sphinx.errors import ExtensionError

__all__ = ["REASONS", "Coverage", "Gap", "Reason", "read_coverage"]

Reason: TypeAlias = Literal["out of scope", "not read", "not printed"]
"""``out of scope``: the library leaves it out on purpose; ``not read``: nobody had it before him, or only recalled it;
``not printed``: the source itself says nothing of it."""
REASONS: Final[tuple[Reason, ...]] = get_args(Reason)


@attrs.frozen
class Gap:
    """Something that is not taken.

    Args:
        what: What it is.
        why: In two words.
        reason: The reason in a sentence.
    """

    what: str
    why: Reason
    reason: str


@attrs.frozen
class Coverage:
    """What a site knows of what is not taken.

    Args:
        gaps: By id of the source.
        rest: What is to be said of the rest of a document, by id of the source.
        unread: Documents from which nothing is taken.
    """

    gaps: Mapping[str, tuple[Gap, ...]]
    rest: Mapping[str, str]
    unread: tuple[Gap, ...]

    def problems(self, source_ids: Iterable[str]) -> tuple[str, ...]:
        """Hold the file against the sources at hand.

        Args:
            source_ids: Ids of every source that is used.

        Returns:
            One sentence for each source without an entry and each entry without a source.
        """
        used = set(source_ids)
        missing = [f"the source {each} has no entry" for each in sorted(used - set(self.rest))]
        return (*missing, *(f"no source has the id {each}" for each in sorted(set(self.rest) - used)))


def read_coverage(path: Path) -> Coverage:
    """Read the file.

    Args:
        path: A TOML file: ``[[source]]`` tables with ``id``, ``rest`` and ``not_taken``; ``[[unread]]`` tables. Each
            of ``not_taken`` and ``unread`` has ``what``, ``why`` and ``reason``.

    Returns:
        What it says.

    Raises:
        ExtensionError: It cannot be read, or is of another form.
    """
    try:
        found: dict[str, object] = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ExtensionError(f"{path} cannot be read: {error}") from error
    gaps: dict[str, tuple[Gap, ...]] = {}
    rest: dict[str, str] = {}
    for number, table in enumerate(_tables(found, "source", path)):
        place = f"{path}: source[{number}]"
        source_id = _text(table, "id", place)
        if source_id in rest:
            raise ExtensionError(f"{place}: a second entry for {source_id}")
        rest[source_id] = _text(table, "rest", place)
        gaps[source_id] = tuple(_gap(each, f"{place}.not_taken") for each in _tables(table, "not_taken", path))
    unread = tuple(_gap(each, f"{path}: unread") for each in _tables(found, "unread", path))
    return Coverage(gaps, rest, unread)


def _tables(found: Mapping[str, object], key: str, path: Path) -> Iterator[Mapping[str, object]]:
    held = found.get(key, [])
    if not isinstance(held, list):
        raise ExtensionError(f"{path}: {key} is a list of tables")
    for each in held:
        if not isinstance(each, dict):
            raise ExtensionError(f"{path}: {key} is a list of tables")
        yield each


def _gap(table: Mapping[str, object], place: str) -> Gap:
    why = _text(table, "why", place)
    for reason in REASONS:
        if why == reason:
            return Gap(_text(table, "what", place), reason, _text(table, "reason", place))
    raise ExtensionError(f"{place}: why is one of {', '.join(REASONS)}, not {why!r}")


def _text(table: Mapping[str, object], key: str, place: str) -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise ExtensionError(f"{place}: {key} is a text that is not empty")
    return value.strip()
