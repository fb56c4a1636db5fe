"""What another rule set would change in a register: how many rows, by how much, which need more clips or more rope."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Final, TypeAlias

import attrs
import numpy as np
import pyarrow as pa

from turnback.batch._files_pieces import blocks
from turnback.batch._files_planning import FilePlanner
from turnback.batch._files_sources import open_source
from turnback.batch.files import BLOCK_ROWS, Watch
from turnback.batch.options import BatchOptions
from turnback.batch.planner import BatchPlanner
from turnback.batch.statuses import Status
from turnback.errors import InputError
from turnback.rules.catalogue import Catalogue
from turnback.rules.selection import RulesChoice, choice_text

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = ["ChangeReport", "ChangedRow", "GivenChange", "LengthChange", "against", "against_file"]

_Pairs: TypeAlias = "Iterable[tuple[pa.RecordBatch, pa.RecordBatch]]"

_LENGTHS: Final = ("turn_back_nm", "cut_length_nm")
_OTHERS: Final = (
    "spacing_nm",
    "torque_newton_metre",
    "thread_condition",
    "efficiency",
    "termination_breaking_force_newton",
    "working_load_newton",
    "rope_in_eye_nm",
    "worst_finding",
    "finding_codes",
)
_GIVEN: Final = (*_LENGTHS, *(name for name in _OTHERS if name not in ("worst_finding", "finding_codes")))
_NOT_JUDGED: Final = "load-not-judged"
_JOINED: Final = "; "
_HALF: Final = 32
_LOW: Final = (1 << _HALF) - 1
_COMPARED: Final = ("status", "clip_count", "usable", *_LENGTHS, *_OTHERS)


@attrs.frozen
class LengthChange:
    """How a length changes over all rows that both rule sets give one for.

    Args:
        column: The length, as the output names it.
        longer_rows: Rows where it grows [-].
        shorter_rows: Rows where it shrinks [-].
        longer: Sum of what it grows by, exact [nm].
        shorter: Sum of what it shrinks by, exact [nm].
        most_longer: The most that it grows by in one row [nm].
        most_shorter: The most that it shrinks by in one row [nm].
    """

    column: str
    longer_rows: int
    shorter_rows: int
    longer: int
    shorter: int
    most_longer: int
    most_shorter: int


@attrs.frozen
class GivenChange:
    """A column that one rule set gives and the other does not, in rows that both plan.

    Args:
        column: The column, as the output names it.
        no_longer: Rows where it is given now, and not under the other rules [-].
        newly: Rows where it is given under the other rules alone [-].
    """

    column: str
    no_longer: int
    newly: int


@attrs.frozen
class ChangedRow:
    """One row that changes.

    Args:
        row: Its number, counted from 0 [-].
        changes: Column, value now, value under the other rules, for each column that differs.
    """

    row: int
    changes: tuple[tuple[str, object, object], ...]


@attrs.frozen
class ChangeReport:
    """Two rule sets over one register.

    Args:
        rules: The rules that hold now.
        other: The rules that are held against them.
        rows: Rows of the register [-].
        changed: Rows that differ in any answer, their findings among them [-].
        clips: Clips more (or fewer, below 0) and the number of such rows [-], from the fewest up, where both answer.
        lengths: How the lengths change.
        other_columns: Every other column, with the number of rows where both plan the row and differ [-].
        given: Every column that one of the two rule sets gives where the other gives none, both planning the row.
        statuses: Status now, status then, and the number of rows [-], where the two differ.
        no_longer_usable: Rows usable now, and not under the other rules [-].
        newly_usable: Rows usable under the other rules alone [-].
        no_longer_judged: Rows whose load is judged now, and is not under the other rules; both plan the row [-].
        newly_judged: Rows whose load is judged under the other rules alone; both plan the row [-].
        first: The first rows that change.
    """

    rules: str
    other: str
    rows: int
    changed: int
    clips: tuple[tuple[int, int], ...]
    lengths: tuple[LengthChange, ...]
    other_columns: tuple[tuple[str, int], ...]
    given: tuple[GivenChange, ...]
    statuses: tuple[tuple[str, str, int], ...]
    no_longer_usable: int
    newly_usable: int
    no_longer_judged: int
    newly_judged: int
    first: tuple[ChangedRow, ...]

    @property
    def more_clips(self) -> int:
        """Rows that need more clips [-]."""
        return sum(rows for more, rows in self.clips if more > 0)

    @property
    def more_rope(self) -> int:
        """Rows that need a longer turn-back [-]."""
        return next(each.longer_rows for each in self.lengths if each.column == _LENGTHS[0])


def against(
    data: pa.Table | Iterable[pa.RecordBatch],
    options: BatchOptions,
    other: RulesChoice,
    *,
    catalogue: Catalogue | None = None,
    shown: int = 10,
) -> ChangeReport:
    """Plan the same rows by two rule sets and report what differs.

    Args:
        data: A table, or batches of one schema.
        options: What holds for every row, with the rules that hold now.
        other: The rules to hold against them.
        catalogue: What is at hand; the installed plugins when not given.
        shown: How many of the changed rows to list [-].

    Returns:
        The report.

    Raises:
        TurnbackError: The options or the columns cannot be planned with.
    """
    batches = iter(data.to_batches() if isinstance(data, pa.Table) else data)
    first = next(batches, None)
    schema = data.schema if isinstance(data, pa.Table) else getattr(first, "schema", None)
    if schema is None:
        raise InputError("there is no batch, so nothing tells the columns", field="data", instead="Give a table.")
    now, then = (BatchPlanner(each, schema, catalogue) for each in _two(options, other))

    def pairs() -> Iterator[tuple[pa.RecordBatch, pa.RecordBatch]]:
        for batch in [] if first is None else [first, *batches]:
            for start in range(0, batch.num_rows, BLOCK_ROWS):
                block = batch.slice(start, BLOCK_ROWS)
                yield now.plan(block), then.plan(block)

    return _report(pairs(), options, other, shown)


def against_file(
    source: str | os.PathLike[str],
    options: BatchOptions,
    other: RulesChoice,
    *,
    units: Mapping[str, str] | None = None,
    catalogue: Catalogue | None = None,
    shown: int = 10,
    watch: Watch | None = None,
) -> ChangeReport:
    """Report what another rule set changes in a file, streamed; the answers of an earlier run in it are left out.

    Args:
        source: A file, or a folder of Parquet files.
        options: What holds for every row, with the rules that hold now.
        other: The rules to hold against them.
        units: Units of columns of numbers.
        catalogue: What is at hand; the installed plugins when not given.
        shown: How many of the changed rows to list [-].
        watch: Called after each block.

    Returns:
        The report.

    Raises:
        TurnbackError: The options or the columns cannot be planned with, or the input cannot be read.
    """
    given = open_source(source, units or {}, as_text=True)
    now, then = (FilePlanner(given, each, catalogue, again=True) for each in _two(options, other))

    def pairs() -> Iterator[tuple[pa.RecordBatch, pa.RecordBatch]]:
        for block in blocks(given, 0, BLOCK_ROWS):
            yield now.plan(block), then.plan(block)
            if watch is not None:
                watch(block.first + block.kept.num_rows, given.rows)

    return _report(pairs(), options, other, shown)


def _two(options: BatchOptions, other: RulesChoice) -> tuple[BatchOptions, BatchOptions]:
    now = attrs.evolve(options, strict=False)
    return now, attrs.evolve(now, rules=other)


class _Lengths:
    def __init__(self, column: str) -> None:
        self.column = column
        self.totals = [0, 0, 0, 0, 0, 0]

    def add(self, change: NDArray[np.int64]) -> None:
        for place, part in enumerate((change[change > 0], -change[change < 0])):
            if len(part):
                self.totals[place] += len(part)
                # In two halves, so that no sum of a block overflows.
                self.totals[2 + place] += (int((part >> _HALF).sum()) << _HALF) + int((part & _LOW).sum())
                self.totals[4 + place] = max(self.totals[4 + place], int(part.max()))

    def done(self) -> LengthChange:
        return LengthChange(self.column, *self.totals)


def _report(pairs: _Pairs, options: BatchOptions, other: RulesChoice, shown: int) -> ChangeReport:
    clips: Counter[int] = Counter()
    statuses: Counter[tuple[int, int]] = Counter()
    columns: Counter[str] = Counter()
    lengths = [_Lengths(name) for name in _LENGTHS]
    usable, judged = [0, 0], [0, 0]
    given: dict[str, list[int]] = {name: [0, 0] for name in _GIVEN}
    rows = changed = 0
    first: list[ChangedRow] = []
    for now, then in pairs:
        differs = {name: _differs(now.column(name), then.column(name)) for name in _COMPARED}
        any_change = np.logical_or.reduce(list(differs.values()))
        changed += int(any_change.sum())
        both = _ok(now) & _ok(then)
        clips.update(_deltas(now, then, "clip_count", both).tolist())
        for each in lengths:
            each.add(_deltas(now, then, each.column, both))
        columns.update({name: int((differs[name] & both).sum()) for name in _OTHERS})
        codes = np.flatnonzero(differs["status"])
        before, after = (np.asarray(batch.column("status")) for batch in (now, then))
        statuses.update(zip(before[codes].tolist(), after[codes].tolist(), strict=True))
        was, will = _usable(now), _usable(then)
        usable[0] += int((was & ~will).sum())
        usable[1] += int((will & ~was).sum())
        for name, totals in given.items():
            _add(totals, _there(now.column(name)), _there(then.column(name)), both)
        # A load that a row has is the same under both; where it is not judged, a finding says so.
        _add(judged, ~_not_judged(now), ~_not_judged(then), both)
        first += _rows(now, then, np.flatnonzero(any_change)[: max(0, shown - len(first))], differs, rows)
        rows += now.num_rows
    return ChangeReport(
        choice_text(options.rules),
        choice_text(other),
        rows,
        changed,
        tuple(sorted(clips.items())),
        tuple(each.done() for each in lengths),
        tuple((name, columns[name]) for name in _OTHERS),
        tuple(GivenChange(name, *totals) for name, totals in given.items() if any(totals)),
        tuple((Status(a).label, Status(b).label, count) for (a, b), count in sorted(statuses.items())),
        usable[0],
        usable[1],
        judged[0],
        judged[1],
        tuple(first),
    )


def _ok(batch: pa.RecordBatch) -> NDArray[np.bool_]:
    ok: NDArray[np.bool_] = np.asarray(batch.column("status")) == Status.OK
    return ok


def _usable(batch: pa.RecordBatch) -> NDArray[np.bool_]:
    return np.asarray(batch.column("usable").fill_null(False))


def _there(column: pa.Array) -> NDArray[np.bool_]:
    return np.asarray(column.is_valid())


def _not_judged(batch: pa.RecordBatch) -> NDArray[np.bool_]:
    codes = batch.column("finding_codes")
    said = [text is not None and _NOT_JUDGED in text.split(_JOINED) for text in codes.dictionary.to_pylist()]
    known: NDArray[np.bool_] = np.array([*said, False])
    return known.take(np.asarray(codes.indices.cast(pa.int64()).fill_null(len(said))))


def _add(totals: list[int], was: NDArray[np.bool_], will: NDArray[np.bool_], both: NDArray[np.bool_]) -> None:
    totals[0] += int((was & ~will & both).sum())
    totals[1] += int((will & ~was & both).sum())


def _deltas(now: pa.RecordBatch, then: pa.RecordBatch, name: str, both: NDArray[np.bool_]) -> NDArray[np.int64]:
    """The changes of a whole number, where both have one."""
    known = both.copy()
    values = []
    for batch in (now, then):
        column = batch.column(name)
        known &= np.asarray(column.is_valid())
        values.append(np.asarray(column.fill_null(0)).astype(np.int64))
    change: NDArray[np.int64] = (values[1] - values[0])[known]
    return change


def _differs(now: pa.Array, then: pa.Array) -> NDArray[np.bool_]:
    """Where two columns differ; null is the same as null, and a number that is none the same as itself."""
    if pa.types.is_dictionary(now.type):
        return _texts_differ(now, then)
    ours, theirs = np.asarray(now.is_null()), np.asarray(then.is_null())
    nothing = False if pa.types.is_boolean(now.type) else 0
    values = np.asarray(now.fill_null(nothing)) != np.asarray(then.fill_null(nothing))
    differs: NDArray[np.bool_] = (ours != theirs) | (values & ~ours & ~theirs)
    return differs


def _texts_differ(now: pa.DictionaryArray, then: pa.DictionaryArray) -> NDArray[np.bool_]:
    known: dict[object, int] = {None: 0}
    codes = []
    for column in (now, then):
        place = np.array([known.setdefault(text, len(known)) for text in [*column.dictionary.to_pylist(), None]])
        codes.append(place[np.asarray(column.indices.cast(pa.int64()).fill_null(len(place) - 1))])
    differs: NDArray[np.bool_] = codes[0] != codes[1]
    return differs


def _rows(
    now: pa.RecordBatch,
    then: pa.RecordBatch,
    which: NDArray[np.int64],
    differs: Mapping[str, NDArray[np.bool_]],
    start: int,
) -> list[ChangedRow]:
    return [
        ChangedRow(
            start + row,
            tuple((name, _value(now, name, row), _value(then, name, row)) for name in _COMPARED if differs[name][row]),
        )
        for row in which.tolist()
    ]


def _value(batch: pa.RecordBatch, name: str, row: int) -> object:
    value = batch.column(name)[row].as_py()
    return Status(value).label if name == "status" else value
