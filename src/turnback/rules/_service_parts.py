"""What every service file has in common: its bytes, its names and sources, and a citation from four keys."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, TypeVar

import attrs

from turnback.errors import InputError
from turnback.model.sources import STATUSES, Citation, Source, Status
from turnback.rules._service_reading import Cells
from turnback.rules.service import ANY

__all__ = ["FORMAT", "PLACE", "Names", "built", "citation", "names_in", "needed", "parsed", "shipped"]

T = TypeVar("T")

FORMAT: Final = 1
PLACE: Final = ("source", "locator", "status", "note")
"""The keys of a citation, which stand in every entry."""
_FILE: Final = ("format", "services", "jurisdictions", "sources")


@attrs.frozen(eq=False)
class Names:
    """What a file may name.

    Args:
        services: Id and description of each service.
        jurisdictions: Id and name of each jurisdiction.
        sources: The sources by id.
    """

    services: Mapping[str, str]
    jurisdictions: Mapping[str, str]
    sources: Mapping[str, Source]


def shipped(name: str) -> bytes:
    """Return a data file that ships with the library.

    Args:
        name: Its file name.

    Returns:
        Its bytes.
    """
    from importlib.resources import files  # slow to import, and needed once

    return files("turnback.rules").joinpath("data").joinpath(name).read_bytes()


def parsed(name: str, content: bytes, lists: str, read: Callable[[Cells], T]) -> T:
    """Parse a service file.

    Args:
        name: Its name, for messages.
        content: Its bytes.
        lists: The key of its list of entries: ``rules`` or ``factors``.
        read: Reads the file's own table.

    Returns:
        What was read.

    Raises:
        InputError: It is no TOML, has another format, lists nothing, or a key or value in it is wrong.
    """
    import tomllib

    try:
        # Decimals stay text, so that nothing is ever a float on its way to an exact number.
        data = tomllib.loads(content.decode("utf-8"), parse_float=str)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise InputError(
            f"this is no TOML in UTF-8: {error}", field=name, instead="Mend the line that is named."
        ) from None
    try:
        return read(_opened(data, lists))
    except InputError as error:
        raise InputError(
            f"{error.problem.rstrip('.')} (in {name})",
            field=error.field,
            value=error.value,
            bound=error.bound,
            citation=error.citation,
            instead=error.instead,
        ) from None


def _opened(data: object, lists: str) -> Cells:
    cells = Cells(data, "", (*_FILE, lists))
    if cells.whole("format") != FORMAT:
        raise cells.wrong("format", "this format is not known", f"{FORMAT}", f"Write format = {FORMAT}")
    if not cells.filled(lists):
        raise cells.wrong(lists, "the file lists nothing", instead=f"Write each entry under [[{lists}]].")
    return cells


def names_in(cells: Cells, known: Names) -> Names:
    """Read what a file declares, on top of what is known.

    Args:
        cells: The file's own table.
        known: What is known.

    Returns:
        Both together.

    Raises:
        InputError: A name is taken, or its description is wrong.
    """
    sources = dict(known.sources)
    ids = cells.named("sources")
    listed = cells.table("sources", ids)
    for name in ids:
        each = listed.table(name, ("document", "edition", "issuer", "year"))
        plain = Source(name, each.text("document"))
        source = Source(
            name,
            plain.document,
            each.text("edition", plain.edition),
            each.text("issuer", plain.issuer),
            each.whole("year") or 0,
        )
        if sources.setdefault(name, source) != source:
            raise listed.wrong(name, "the core has another source of this name", str(sources[name]), "Take another id.")
    return Names(
        {**known.services, **_described(cells, "services", known.services)},
        {**known.jurisdictions, **_described(cells, "jurisdictions", known.jurisdictions)},
        sources,
    )


def _described(cells: Cells, key: str, known: Mapping[str, str]) -> dict[str, str]:
    ids = cells.named(key)
    listed = cells.table(key, ids)
    for name in ids:
        if name == ANY:
            raise listed.wrong(name, "this word stands for every one of them", instead="Take another id.")
        if name in known:
            raise listed.wrong(name, "the core has this name", known[name], "Leave it out, or take another id.")
    return {name: listed.text(name) for name in ids}


def citation(cells: Cells, names: Names) -> Citation:
    """Read the citation of an entry.

    Args:
        cells: The entry.
        names: What the file may name.

    Returns:
        The citation.

    Raises:
        InputError: A key is missing, or the source or the status is not known.
    """
    source = names.sources[cells.word("source", tuple(names.sources))]
    statuses: tuple[Status, ...] = STATUSES  # type: ignore[assignment]  # the words of Status, taken from it
    return Citation(source, cells.text("locator"), cells.word("status", statuses), cells.text("note", ""))


def built(cells: Cells, build: Callable[[], T]) -> T:
    """Build a value, and name the path in the file where the value itself refuses a field.

    Args:
        cells: The entry.
        build: Builds the value from it.

    Returns:
        The value.

    Raises:
        InputError: As the value raises it, with the path in the file.
    """
    try:
        return build()
    except InputError as error:
        if "[" in error.field:
            raise
        raise InputError(
            error.problem, field=cells.at(error.field), value=error.value, bound=error.bound, instead=error.instead
        ) from None


def needed(cells: Cells, key: str) -> Fraction:
    """Read a number that may not be left out.

    Args:
        cells: The entry.
        key: Name of the number.

    Returns:
        The number [-], exact.

    Raises:
        InputError: It is missing or no number.
    """
    value = cells.ratio(key)
    if value is None:
        raise cells.wrong(key, "this key is required", instead=f"Write {key} = 5")
    return value
