"""Where in its source an entry of a rule file stands, and with which status."""

from __future__ import annotations

import re

import attrs

from turnback.model.sources import COMMON_PRACTICE, STATUSES, Citation, Source, Status
from turnback.rules._reading import Table

__all__ = ["WORDS_OF_STATUS", "other_document", "place_of", "read_source", "with_status"]

WORDS_OF_STATUS: tuple[Status, ...] = STATUSES  # type: ignore[assignment]  # the words of the Literal itself


def read_source(table: Table) -> Citation:
    """Read the table of the source.

    Args:
        table: ``[source]``.

    Returns:
        The citation that every entry starts from: the source, the file's place in it, the status of most cells.

    Raises:
        InputError: A key is missing or wrong.
    """
    given = {key: table.text(key) for key in ("edition", "issuer") if table.has(key)}
    year = table.whole("year", 1000, 9999) if table.has("year") else 0
    source = Source(table.name("id"), table.text("document"), year=year, **given)
    return Citation(source, table.text_or("locator", ""), table.word("status", WORDS_OF_STATUS))


def with_status(base: Citation, status: Status, locator: str) -> Citation:
    """Return a citation of another place, its source fitting its status.

    Args:
        base: The file's own citation.
        status: Status of the entry.
        locator: Its place.

    Returns:
        The citation. What is common practice beside a document is not laid to that document.
    """
    if status == "common practice" and base.status != "common practice":
        return Citation(COMMON_PRACTICE, locator, status)
    return Citation(base.source, locator, status)


def place_of(table: Table, base: Citation, prefix: str = "") -> Citation:
    """Read the keys ``locator``, ``status`` and ``note`` of an entry.

    Args:
        table: The entry.
        base: The file's own citation, which holds where a key is left out.
        prefix: What stands before the keys' names, such as ``begin_``; there is no note then.

    Returns:
        The citation of the entry.

    Raises:
        InputError: A text or status is wrong.
    """
    locator = table.text_or(f"{prefix}locator", "")
    status_key = f"{prefix}status"
    status = table.word(status_key, WORDS_OF_STATUS) if table.has(status_key) else base.status
    note = "" if prefix else table.text_or("note", "")
    if not (locator or note) and status == base.status:
        return base
    beside = status == "common practice" and base.status != "common practice"
    citation = with_status(base, status, locator or ("" if beside else base.locator))
    return attrs.evolve(citation, note=note) if note else citation


def other_document(document: str, status: Status) -> Citation:
    """Cite a document beside the file's own, known by its name alone.

    Args:
        document: Its name.
        status: Status of what was taken from it.

    Returns:
        A citation of the whole document.
    """
    name = re.sub(r"[^a-z0-9]+", "-", document.lower()).strip("-")
    return Citation(Source(name or "unnamed", document), "", status)
