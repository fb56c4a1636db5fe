"""Mutants of the table: each cell, each row, each edge."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, TypeVar

import attrs

from turnback.conformance.facts import cell_citation, size_text
from turnback.conformance.mutants_steps import Change, edge_slips, length_slips, length_steps, torque_slips
from turnback.model.cited import Cited
from turnback.quantities import Length, Torque
from turnback.rules.ruleset import Row, RuleSet

__all__ = ["COUNTS", "row_changes", "with_next", "with_row"]

T = TypeVar("T")

COUNTS: Final = ("count", "count_forged", "count_other")
_LENGTHS: Final = ("turn_back", "spacing")
_CELLS: Final = ("above", *COUNTS, *_LENGTHS, "torque")


def row_changes(rules: RuleSet) -> Iterator[Change]:
    """Damage the table of a rule set.

    Args:
        rules: The rule set.

    Yields:
        The changes, row by row.
    """
    for number in range(len(rules.rows)):
        yield from _edges(rules, number)
        yield from _counts(rules, number)
        yield from _lengths(rules, number)
        yield from _torque(rules, number)
        yield from _dropped(rules, number)
        yield from _swapped(rules, number)


def with_row(rules: RuleSet, number: int, row: Row | None) -> RuleSet:
    """Return a rule set with another row in place of one.

    Args:
        rules: The rule set.
        number: Number of the row, from 0 [-].
        row: The other row; None to leave it out.

    Returns:
        The other rule set.

    Raises:
        InputError: The rows no longer belong together.
    """
    rows = list(rules.rows)
    rows[number : number + 1] = [] if row is None else [row]
    return attrs.evolve(rules, rows=tuple(rows))


def with_next(rules: RuleSet, number: int, row: Row, after: Row) -> Callable[[], RuleSet]:
    """Return what builds a rule set with other rows in place of two neighbours.

    Args:
        rules: The rule set.
        number: Number of the first one, from 0 [-].
        row: The other row.
        after: The other next row.

    Returns:
        What builds it; it raises InputError where the rows do not belong together.
    """
    rows = (*rules.rows[:number], row, after, *rules.rows[number + 2 :])
    return lambda: attrs.evolve(rules, rows=rows)


def _change(rules: RuleSet, number: int, column: str, what: str, make: Callable[[Row], Row | None]) -> Change:
    row = rules.rows[number]
    citation = cell_citation(rules, row, column)
    return Change(size_text(row.size), column, what, citation, lambda: with_row(rules, number, make(row)))


def _cell(cell: Cited[T], value: T) -> Cited[T]:
    return attrs.evolve(cell, value=value)


def _edges(rules: RuleSet, number: int) -> Iterator[Change]:
    row = rules.rows[number]
    for what, size in (*length_steps(row.size), *edge_slips(row.size), *length_slips(row.size)):
        yield _change(rules, number, "size", what, _setting("size", size))
    if number + 1 < len(rules.rows) and rules.rows[number + 1].above == row.size:
        # Where ranges adjoin, moving one end alone is refused; whoever misreads a size misreads the next range too.
        after = rules.rows[number + 1]
        for what, size in (*length_steps(row.size), *edge_slips(row.size)):
            moved = with_next(rules, number, attrs.evolve(row, size=size), attrs.evolve(after, above=size))
            citation = cell_citation(rules, row, "size")
            yield Change(size_text(row.size), "size", f"{what}, and the next range with it", citation, moved)
    if row.above is not None:
        for what, above in (*length_steps(row.above), *edge_slips(row.above), *length_slips(row.above)):
            yield _change(rules, number, "above", what, _setting("above", above))


def _setting(column: str, value: object) -> Callable[[Row], Row]:
    cells = {column: value}
    return lambda row: attrs.evolve(row, **cells)  # type: ignore[arg-type]  # a cell of the same column


def _counts(rules: RuleSet, number: int) -> Iterator[Change]:
    row = rules.rows[number]
    for column in COUNTS:
        cell: Cited[int] | None = getattr(row, column)
        if cell is not None:
            yield _change(rules, number, column, "one up", _setting(column, _cell(cell, cell.value + 1)))
            yield _change(rules, number, column, "one down", _setting(column, _cell(cell, cell.value - 1)))
    forged, other = row.count_forged, row.count_other
    if forged is not None and other is not None and forged.value != other.value:

        def exchanged(row: Row) -> Row:
            return attrs.evolve(row, count_forged=other, count_other=forged)

        yield _change(rules, number, "count_forged", "exchanged with the column count_other", exchanged)


def _lengths(rules: RuleSet, number: int) -> Iterator[Change]:
    for column in _LENGTHS:
        cell: Cited[Length] | None = getattr(rules.rows[number], column)
        if cell is not None:
            for what, value in (*length_steps(cell.value), *length_slips(cell.value)):
                yield _change(rules, number, column, what, _setting(column, _cell(cell, value)))


def _torque(rules: RuleSet, number: int) -> Iterator[Change]:
    cell = rules.rows[number].torque
    if cell is None:
        return
    for what, torque in torque_slips(cell.value):

        def turned(row: Row, torque: Callable[[], Torque] = torque) -> Row:
            return _setting("torque", attrs.evolve(cell, value=torque()))(row)

        yield _change(rules, number, "torque_also" if what.startswith("second") else "torque", what, turned)


def _dropped(rules: RuleSet, number: int) -> Iterator[Change]:
    row = rules.rows[number]
    yield _change(rules, number, "", "row dropped", lambda _: None)
    for column in _CELLS:
        if getattr(row, column) is not None:
            yield _change(rules, number, column, "dropped", _setting(column, None))


def _swapped(rules: RuleSet, number: int) -> Iterator[Change]:
    if number + 1 == len(rules.rows):
        return
    row, after = rules.rows[number : number + 2]
    for column in ("size", *_CELLS):
        mine, yours = getattr(row, column), getattr(after, column)
        if getattr(mine, "value", mine) == getattr(yours, "value", yours):
            continue

        swapped = with_next(rules, number, _setting(column, yours)(row), _setting(column, mine)(after))
        citation = cell_citation(rules, row, column)
        yield Change(size_text(row.size), column, f"exchanged with that of {size_text(after.size)}", citation, swapped)
