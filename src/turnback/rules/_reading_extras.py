"""What a rule file adds to its table in words: adjustments, floors, excluded services, procedure, notes, waivers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from turnback.errors import InputError
from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules._reading import Table
from turnback.rules._reading_places import place_of
from turnback.rules._reading_rows import MOST_CLIPS, Units, length_in
from turnback.rules.ruleset import Adjustments, Floor, LargeWires, Procedure, Row, Waiver

__all__ = [
    "read_adjustments",
    "read_excluded_services",
    "read_floors",
    "read_notes",
    "read_procedure",
    "read_waivers",
]

_BEGIN: Final = ("dead end", "eye")
_RETORQUE: Final = ("before first use", "after the first load", "at intervals", "each shift")
_MOST_ADDED: Final = 9


def read_adjustments(file: Table, base: Citation) -> Adjustments:
    """Read what the source adds to its own table.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The adjustments; those that it does not give are None.

    Raises:
        InputError: A key is missing or wrong.
    """
    if not file.has("adjustments"):
        return Adjustments()
    table = file.table("adjustments")
    large: LargeWires | None = None
    pulley: Cited[int] | None = None
    proportion: Citation | None = None
    lap: Cited[int] | None = None
    if table.has("large_outer_wires"):
        entry = table.table("large_outer_wires", "adjustments.large_outer_wires")
        start = Length.of(entry.text("from"), entry.at("from"))
        large = LargeWires(entry.whole("add", 1, _MOST_ADDED), start, place_of(entry, base))
    if table.has("pulley"):
        entry = table.table("pulley", "adjustments.pulley")
        pulley = Cited(entry.whole("add", 1, _MOST_ADDED), (place_of(entry, base),))
    if table.has("more_clips"):
        entry = table.table("more_clips", "adjustments.more_clips")
        entry.word("turn_back", ("in proportion",))
        proportion = place_of(entry, base)
    if table.has("lap_splice"):
        entry = table.table("lap_splice", "adjustments.lap_splice")
        lap = Cited(entry.whole("factor", 2, _MOST_ADDED), (place_of(entry, base),))
    return Adjustments(large, pulley, proportion, lap)


def read_floors(file: Table, base: Citation) -> tuple[Floor, ...]:
    """Read the least counts that stand beside the table.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The floors in the order of the file.

    Raises:
        InputError: A key is missing or wrong.
    """
    return tuple(
        Floor(table.whole("count", 1, MOST_CLIPS), table.text("text"), place_of(table, base))
        for table in file.tables("floors")
    )


def read_excluded_services(file: Table, base: Citation) -> tuple[tuple[str, Cited[str]], ...]:
    """Read the services that the source excludes. Whether a service exists is checked where services are known.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        Service and the sentence that excludes it, in the order of the file.

    Raises:
        InputError: A key is missing or wrong, or a service stands twice.
    """
    found: dict[str, Cited[str]] = {}
    for table in file.tables("excluded_services"):
        service = table.name("service")
        if service in found:
            raise table.wrong("service", "a service is excluded twice", instead="Write one entry for it.")
        found[service] = Cited(table.text("text"), (place_of(table, base),))
    return tuple(found.items())


def read_procedure(file: Table, base: Citation) -> Procedure:
    """Read what the source says of the order of work.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The procedure; empty where the file says nothing.

    Raises:
        InputError: A key is wrong, or a place stands without what it is the place of.
    """
    if not file.has("procedure"):
        return Procedure()
    table = file.table("procedure")
    for key in ("begin_status", "begin_locator", "retorque_status", "retorque_locator"):
        said = "begin_at" if key.startswith("begin") else "retorque"
        if table.has(key) and not table.has(said):
            raise table.wrong(key, f"it stands without {said}", instead=f"Write {said} too, or leave it out.")
    begins, again = table.has("begin_at"), table.words("retorque", _RETORQUE)
    if not begins and not again:
        raise InputError("it says nothing", field="procedure", instead="Write begin_at or retorque, or leave it out.")
    return Procedure(
        begin_at=table.word("begin_at", _BEGIN) if begins else "",
        begin_citation=place_of(table, base, "begin_") if begins else None,
        retorque=again,
        retorque_citation=place_of(table, base, "retorque_") if again else None,
    )


def read_notes(file: Table, base: Citation) -> tuple[Cited[str], ...]:
    """Read what a reader must know of the file.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The notes in the order of the file.

    Raises:
        InputError: A key is missing or wrong.
    """
    return tuple(Cited(table.text("text"), (place_of(table, base),)) for table in file.tables("notes"))


def read_waivers(file: Table, rows: Sequence[Row], units: Units, base: Citation) -> tuple[Waiver, ...]:
    """Read the laws that the table breaks because its source does. The laws' names are checked where laws are known.

    Args:
        file: The file.
        rows: Its rows.
        units: The units of its columns.
        base: The file's own citation.

    Returns:
        The waivers; each row as printed, with its unit.

    Raises:
        InputError: A key is missing or wrong, or names a row that the file does not have.
    """
    return tuple(_read_waiver(table, rows, units, base) for table in file.tables("waivers"))


def _read_waiver(table: Table, rows: Sequence[Row], units: Units, base: Citation) -> Waiver:
    row = ""
    if table.has("row"):
        if not rows:
            raise table.wrong("row", "the file has no rows", instead="Leave it out where the whole file is meant.")
        size = length_in(table, "row", units, "size")
        if size not in [each.size for each in rows]:
            raise table.wrong("row", "the file has no row of this size", "one of the sizes that the rows print")
        row = f"{table.number('row')} {units['size']}"
    return Waiver(table.name("law"), row, table.text("reason"), place_of(table, base))
