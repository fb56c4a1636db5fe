"""The printed table of a rule set, unit by unit, with the status of each cell in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal, TypeAlias

from docutils import nodes

from turnback.model.cited import Cited
from turnback.quantities import Length, Torque, number_text
from turnback.rules.ruleset import Row, RuleSet
from turnback.sphinxext.nodes import Cell, cited, table, where

__all__ = ["LengthUnit", "printed_in", "row_name", "row_remarks", "rows_table"]

LengthUnit: TypeAlias = Literal["in", "mm"]

_COUNTS: Final = {"count": "clips", "count_forged": "forged clips", "count_other": "other clips"}
_LENGTHS: Final = {"turn_back": "turn-back", "spacing": "spacing"}
_OTHER: Final[dict[LengthUnit, LengthUnit]] = {"in": "mm", "mm": "in"}
_SIXTY_FOURTH: Final = 396_875
"""Nanometres in 1/64 in: what is no multiple of it was not printed in inches."""
_NONE: Final = "—"


def printed_in(lengths: Iterable[Length]) -> LengthUnit:
    """Tell in which unit a column is printed.

    Args:
        lengths: The lengths of the column [length].

    Returns:
        ``in`` where every one is a whole number of 1/64 in, otherwise ``mm``.
    """
    return "in" if all(length.nanometres % _SIXTY_FOURTH == 0 for length in lengths) else "mm"


def row_name(rules: RuleSet, row: Row) -> str:
    """Name a row by its size, in the unit of the table.

    Args:
        rules: The rule set.
        row: One of its rows.

    Returns:
        Such as ``"3/4 in"``.
    """
    return row.size.text(printed_in(each.size for each in rules.rows))


def rows_table(rules: RuleSet) -> nodes.table:
    """Build the table: a printed column for each quantity, and beside each length and torque its other unit.

    Args:
        rules: A rule set with rows.

    Returns:
        The table; the clip size is the header of each row.
    """
    unit = printed_in(row.size for row in rules.rows)
    ranges = any(row.above is not None for row in rules.rows)
    heads = [f"clip size, {unit}", f"clip size, {_OTHER[unit]}", *(["takes ropes"] if ranges else [])]
    columns: list[list[Cell]] = [
        [[row.size.text(unit), *_row_tags(row)] for row in rules.rows],
        [row.size.text(_OTHER[unit]) for row in rules.rows],
    ]
    if ranges:
        columns.append([_range(row, unit) for row in rules.rows])
    for name, head in _COUNTS.items():
        counts: list[Cited[int] | None] = [getattr(row, name) for row in rules.rows]
        if any(counts):
            heads.append(head)
            columns.append([_NONE if cell is None else cited(str(cell.value), cell.citations) for cell in counts])
    for name, head in _LENGTHS.items():
        lengths: list[Cited[Length] | None] = [getattr(row, name) for row in rules.rows]
        if any(lengths):
            _length_columns(head, lengths, heads, columns)
    torques = [row.torque for row in rules.rows]
    if any(torques):
        _torque_columns(torques, heads, columns)
    body = [list(cells) for cells in zip(*columns, strict=True)]
    return table(f"{rules.citation.source.document}, {rules.citation.locator}", heads, body, classes=["rule-table"])


def _row_tags(row: Row) -> list[str | nodes.Node]:
    words = [*(["to confirm"] if row.confirm is not None else []), *(["misprint"] if row.misprint else [])]
    found: list[str | nodes.Node] = []
    for word in words:
        found += [" ", nodes.inline(word, word, classes=["row-tag"])]
    return found


def _range(row: Row, unit: LengthUnit) -> str:
    if row.above is None:
        return f"{row.size.text(unit)} alone"
    return f"over {row.above.text(unit)}, up to {row.size.text(unit)}"


def _length_columns(
    head: str, lengths: list[Cited[Length] | None], heads: list[str], columns: list[list[Cell]]
) -> None:
    unit = printed_in(cell.value for cell in lengths if cell is not None)
    heads += [f"{head}, {unit}", f"{head}, {_OTHER[unit]}"]
    columns.append([_NONE if cell is None else cited(cell.value.text(unit), cell.citations) for cell in lengths])
    columns.append([_NONE if cell is None else cell.value.text(_OTHER[unit]) for cell in lengths])


def _torque_columns(torques: list[Cited[Torque] | None], heads: list[str], columns: list[list[Cell]]) -> None:
    units = dict.fromkeys(cell.value.unit for cell in torques if cell is not None)
    heads += ["torque, " + " or ".join(units), "torque, other unit"]
    columns.append([_NONE if cell is None else cited(_printed(cell.value), cell.citations) for cell in torques])
    columns.append([_NONE if cell is None else _converted(cell.value) for cell in torques])


def _printed(torque: Torque) -> str:
    return f"{number_text(torque.value)} {torque.unit}"


def _converted(torque: Torque) -> str:
    if torque.also is not None:
        return f"{number_text(torque.also[0])} {torque.also[1]}, printed too"
    # What stands in brackets behind the printed number, ≈ included.
    return str(torque).removeprefix(f"{_printed(torque)} (").removesuffix(")")


def row_remarks(rules: RuleSet) -> list[Cell]:
    """List what must be said of single rows: misprints, second prints, what to confirm.

    Args:
        rules: The rule set.

    Returns:
        One item for each remark; rows with the same thing to confirm stand together.
    """
    found: list[Cell] = []
    asked: dict[Cited[str], list[str]] = {}
    for row in rules.rows:
        name = row_name(rules, row)
        if row.misprint:
            found.append(f"{name}: misprint, {row.misprint}.")
        if row.confirm is not None:
            # The place differs from row to row; what is said and by whom does not.
            one = row.confirm.citations[0]
            asked.setdefault(Cited(row.confirm.value, (one.at("", one.status),)), []).append(name)
        for head, cell in (("turn-back", row.turn_back), ("spacing", row.spacing), ("torque", row.torque)):
            if cell is not None and cell.how:
                found.append(f"{name}, {head}: {cell.how}.")
    found += [
        [*cited(f"To confirm for {', '.join(names)}: {said.value}.", said.citations), f" {where(said.citations[0])}"]
        for said, names in asked.items()
    ]
    return found
