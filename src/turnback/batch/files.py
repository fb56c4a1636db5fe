"""A whole register from file to file: streamed, memory flat, resumable, nothing half-written under the output's name.

Rows are planned in blocks of :data:`BLOCK_ROWS` and written in parts of :data:`PART_ROWS`, counted from the first row
whatever the pieces are in which the input is stored. So the output has the same bytes however often the run was cut
off. Reading, planning and encoding run beside each other, each a block or a part ahead of the next.
"""

from __future__ import annotations

import contextlib
import os
import time
from collections import Counter, deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Final, TypeAlias

import attrs
import numpy as np
import pyarrow as pa

from turnback.batch._files_pieces import Piece, Source, blocks
from turnback.batch._files_planning import FilePlanner, canonical, options_hash
from turnback.batch._files_sinks import Sink, form_of, sink_for
from turnback.batch._files_sources import open_source, signature
from turnback.batch.column_use import ColumnUse
from turnback.batch.options import BatchOptions
from turnback.batch.reporting import SHOWN, refused_rows
from turnback.batch.resume import Entry, Work
from turnback.batch.statuses import BATCH_STATUSES, Status
from turnback.errors import InputError
from turnback.rules.catalogue import Catalogue

__all__ = ["BLOCK_ROWS", "PART_ROWS", "FileReport", "Rehearsal", "Watch", "plan_file", "rehearse_file"]

BLOCK_ROWS: Final = 1 << 16
"""Rows that are planned in one go [-]."""
PART_ROWS: Final = 1 << 18
"""Rows that are written in one go, one row group of Parquet [-]."""

Watch: TypeAlias = "Callable[[int, int | None], None]"
"""Called with the rows that are planned and how many there are; None where only reading tells."""

_ENCODERS: Final = 4
_Encoded: TypeAlias = "tuple[memoryview, bytes, Entry, int]"


@attrs.frozen
class FileReport:
    """What a run did.

    Args:
        destination: The output.
        rows: Rows in it, as many as in the input [-].
        taken_up: Those of them that an earlier run, cut off, had finished [-].
        statuses: Every status by name, with the number of its rows [-].
        usable: Rows whose plan is usable: nothing forbids it, nothing must be fixed first [-].
        columns: Which columns were read as what, and which passed through.
        warnings: What a person should look at: columns that may be misspelt, numbers without a unit.
    """

    destination: str
    rows: int
    taken_up: int
    statuses: tuple[tuple[str, int], ...]
    usable: int
    columns: ColumnUse
    warnings: tuple[str, ...]


@attrs.frozen
class Rehearsal:
    """What a run would do.

    Args:
        rows: Rows of the input [-].
        tried: Rows of its first block, which was planned [-].
        statuses: Every status by name, with the number of rows of that block [-].
        seconds: Expected time, by the time that the first block took [-].
        columns: Which columns are read as what, and which pass through.
        warnings: What a person should look at, in the columns and in the first block.
    """

    rows: int
    tried: int
    statuses: tuple[tuple[str, int], ...]
    seconds: float
    columns: ColumnUse
    warnings: tuple[str, ...]


def plan_file(
    source: str | os.PathLike[str],
    destination: str | os.PathLike[str],
    options: BatchOptions,
    *,
    units: Mapping[str, str] | None = None,
    again: bool = False,
    restart: bool = False,
    overwrite: bool = True,
    catalogue: Catalogue | None = None,
    watch: Watch | None = None,
    part_rows: int = PART_ROWS,
    checkpoint_seconds: float = 2.0,
) -> FileReport:
    """Plan every row of a file and write rows and answers to another.

    A run that was cut off goes on where it stopped: call it again with the same input and options. See
    :mod:`turnback.batch.resume`.

    Args:
        source: A file that ends in ``.parquet``, ``.csv``, ``.arrow`` or ``.feather``, or a folder of Parquet files.
        destination: The output, with one of the same endings.
        options: What holds for every row. With ``strict`` all rows are planned, and nothing is published where one of
            them was refused.
        units: Units of columns of numbers, such as ``{"base_width": "mm"}``.
        again: Leave out of the input the columns that the output adds: the answers of an earlier run.
        restart: Begin again, whatever a run that was cut off has left.
        overwrite: What stands under the output's name is replaced when all is written; False refuses it, before the
            first row. The command line asks for this by name.
        catalogue: What is at hand; the installed plugins when not given.
        watch: Called after each block.
        part_rows: Rows that are written in one go [-].
        checkpoint_seconds: Least time between two notes of how far the run has come [-].

    Returns:
        Counts of rows by status.

    Raises:
        TurnbackError: The options or the columns cannot be planned with, or the input cannot be read; or, with
            ``strict``, a row was not planned.
        InputError: The output cannot be written or is there already, or a run that was cut off was another one.
    """
    target = Path(destination)
    form = form_of(target, "OUT")
    given = open_source(source, units or {}, as_text=form == "csv")
    _check_apart(given.path, target)
    _check_free(target, overwrite=overwrite)
    settled = attrs.evolve(options, strict=False)
    planner = FilePlanner(given, settled, catalogue, again=again, named=SHOWN if options.strict else 0)
    sink = sink_for(form, planner.schema)
    before = signature(given.path)
    key = {
        "input": before,
        "options": options_hash(options, planner.schema),
        "form": f"{form} {part_rows} {pa.__version__}",
    }
    with Work(target, key, restart=restart, every=checkpoint_seconds) as work:
        taken_up = work.rows
        if not work.position:
            work.begin(sink.head())
        with _discarding(work):
            for encoded in _encoded(given, planner, sink, work.rows, part_rows, watch):
                data, note, entry, rows = encoded
                placed = sink.placed(note, work.position, work.entries)
                work.append(data, {**entry, **placed}, rows)
            counts = _counts(work.entries)
            warnings = planner.warnings(_bare(work.entries))
            if options.strict:
                _refuse(work.entries, counts, warnings)
            if signature(given.path) != before:
                raise InputError("the input changed while it was read", field="IN", value=str(given.path))
        whole = work.finish(sink.end(work.entries, work.rows))
        _check_free(target, overwrite=overwrite)
        work.publish(whole)
        usable = sum(_whole(entry["usable"]) for entry in work.entries)
        return FileReport(str(target), work.rows, taken_up, counts, usable, planner.columns, warnings)


def rehearse_file(
    source: str | os.PathLike[str],
    destination: str | os.PathLike[str],
    options: BatchOptions,
    *,
    units: Mapping[str, str] | None = None,
    again: bool = False,
    overwrite: bool = True,
    catalogue: Catalogue | None = None,
) -> Rehearsal:
    """Check columns and options, count the rows, plan the first block, and write nothing.

    Args:
        source: As for :func:`plan_file`.
        destination: As for :func:`plan_file`.
        options: What holds for every row.
        units: Units of columns of numbers.
        again: Leave out the answers of an earlier run.
        overwrite: As for :func:`plan_file`.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        What a run would do. The expected time is that of the second of two goes over the first block, for the first
        also asks the rules what they say; a register of more kinds of rows takes longer.

    Raises:
        TurnbackError: As :func:`plan_file`, for what shows before the second block.
    """
    form = form_of(destination, "OUT")
    given = open_source(source, units or {}, as_text=form == "csv")
    _check_apart(given.path, Path(destination))
    _check_free(Path(destination), overwrite=overwrite)
    planner = FilePlanner(given, attrs.evolve(options, strict=False), catalogue, again=again)
    sink = sink_for(form, planner.schema)
    tried, counts, took = 0, np.zeros(256, np.int64), 0.0
    noted: dict[str, int] = {}
    for _ in range(2):
        began = time.perf_counter()
        block = next(iter(blocks(given, 0, BLOCK_ROWS)), None)
        if block is not None:
            planned = planner.plan(block)
            sink.encode(canonical([planned], planner.schema))
            tried, counts = planned.num_rows, _by_status(planned)
            noted, _ = planner.noted()
        took = time.perf_counter() - began
    rows = given.counted()
    seconds = took * rows / tried if tried else 0.0
    return Rehearsal(rows, tried, _named(counts), seconds, planner.columns, planner.warnings(noted))


def _encoded(
    given: Source, planner: FilePlanner, sink: Sink, first: int, part_rows: int, watch: Watch | None
) -> Iterator[_Encoded]:
    """Plan and encode the parts from a row on, in order; encoding runs beside reading and planning."""
    workers = max(2, min(_ENCODERS, os.cpu_count() or 1))
    pool = ThreadPoolExecutor(workers)
    waiting: deque[Future[_Encoded]] = deque()
    try:
        for part in _parts(given, planner, first, part_rows, watch):
            bare, rows = planner.noted()
            waiting.append(pool.submit(_encode, part, {"bare": bare, "refused": rows}, planner.schema, sink))
            if len(waiting) >= workers:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        pool.shutdown(cancel_futures=True)


def _parts(
    given: Source, planner: FilePlanner, first: int, part_rows: int, watch: Watch | None
) -> Iterator[list[pa.RecordBatch]]:
    part: list[pa.RecordBatch] = []
    start = done = first
    for block in _ahead(blocks(given, first, min(BLOCK_ROWS, part_rows))):
        part.append(planner.plan(block))
        done += part[-1].num_rows
        if watch is not None:
            watch(done, given.rows)
        if done - start >= part_rows:
            yield part
            part, start = [], done
    if part:
        yield part


def _ahead(pieces: Iterator[Piece]) -> Iterator[Piece]:
    """The next block is read while this one is planned; one, so that memory stays flat."""
    with ThreadPoolExecutor(1) as reader:
        coming = reader.submit(next, pieces, None)
        while (piece := coming.result()) is not None:
            coming = reader.submit(next, pieces, None)
            yield piece


def _encode(part: list[pa.RecordBatch], noted: Entry, schema: pa.Schema, sink: Sink) -> _Encoded:
    counts = sum((_by_status(batch) for batch in part), np.zeros(256, np.int64))
    entry: Entry = {
        "statuses": counts[: len(BATCH_STATUSES)].tolist(),
        **noted,
        "usable": sum(batch.column("usable").true_count for batch in part),
    }
    table = canonical(part, schema)
    part.clear()  # the table has copies; two of each would be the greatest thing in memory
    data, note = sink.encode(table)
    return data, note, entry, table.num_rows


def _by_status(batch: pa.RecordBatch) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    return np.bincount(np.asarray(batch.column("status")), minlength=256)


def _counts(entries: Sequence[Entry]) -> tuple[tuple[str, int], ...]:
    total = np.zeros(256, np.int64)
    for entry in entries:
        counts = np.asarray(entry["statuses"], np.int64)
        total[: len(counts)] += counts
    return _named(total)


def _named(counts: np.ndarray[tuple[int], np.dtype[np.int64]]) -> tuple[tuple[str, int], ...]:
    return tuple((each.name, int(counts[each.code])) for each in BATCH_STATUSES)


def _refuse(entries: Sequence[Entry], counts: Sequence[tuple[str, int]], warnings: Sequence[str]) -> None:
    rows = [row for entry in entries for row in _texts(entry["refused"])]
    if any(count for name, count in counts if name != Status.OK.label):
        raise refused_rows(
            counts, rows[:SHOWN], " ".join(each if each.endswith("?") else f"{each}." for each in warnings)
        )


def _bare(entries: Sequence[Entry]) -> Counter[str]:
    total: Counter[str] = Counter()
    for entry in entries:
        noted = entry["bare"]
        assert isinstance(noted, dict)
        total.update(noted)
    return total


def _whole(value: object) -> int:
    assert isinstance(value, int)
    return value


def _texts(value: object) -> list[str]:
    assert isinstance(value, list)
    return value


def _check_free(target: Path, *, overwrite: bool) -> None:
    if not overwrite and os.path.lexists(target) and not target.is_dir():
        raise InputError(
            "there is a file of this name already, and it is not replaced unasked",
            field="OUT",
            value=str(target),
            instead="Give another name, or write --overwrite (overwrite=True) to replace it when all is written.",
        )


def _check_apart(source: Path, target: Path) -> None:
    if not target.parent.is_dir() or target.is_dir():
        what = "there is a folder of this name" if target.is_dir() else "there is no such folder to write to"
        raise InputError(what, field="OUT", value=str(target))
    with contextlib.suppress(FileNotFoundError):
        if target.samefile(source) or target.parent.samefile(source):
            raise InputError(
                "the output would stand in the place of the input",
                field="OUT",
                value=str(target),
                instead="Give another name; the input is never written to.",
            )


@contextlib.contextmanager
def _discarding(work: Work) -> Iterator[None]:
    """Keep the work where the disk or the user stopped it; what cannot go on is of no use."""
    try:
        yield
    except InputError as error:
        if not isinstance(error.__cause__, OSError):
            work.discard()
        raise
    except pa.ArrowMemoryError as error:
        raise InputError("there is not memory enough for one part", field="part_rows", value=str(error)) from error
