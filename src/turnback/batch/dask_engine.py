"""Beyond one machine: the same files, the same planner, as tasks of a Dask cluster.

A task reads its rows, plans them and writes one Parquet file; nothing but names, counts and fingerprints travels, and
no frame of another library stands between. A task that is lost with its worker is given to another by the scheduler;
what it had begun never had the name of a part, so a part is there whole or not at all, and the same part has the same
bytes whoever wrote it. All workers must see the same folders.
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
import math
import os
import shutil
import uuid
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from turnback.batch._files_pieces import Source, blocks
from turnback.batch._files_planning import FilePlanner, canonical, options_hash
from turnback.batch._files_sinks import parquet_writing
from turnback.batch._files_sources import open_source, signature
from turnback.batch.explaining import explain_row
from turnback.batch.files import BLOCK_ROWS, PART_ROWS
from turnback.batch.fingerprints import fingerprint, joined
from turnback.batch.options import BatchOptions
from turnback.batch.reporting import SHOWN, refused_rows, row_text
from turnback.batch.resume import not_written, work_folder
from turnback.batch.statuses import BATCH_STATUSES, Status
from turnback.errors import InputError
from turnback.planning.request import check_kind

if TYPE_CHECKING:
    from distributed import Client

__all__ = ["Part", "PartReport", "RunReport", "part_rows", "parts_of", "plan_part", "plan_parts"]

_PARTS: Final = "parts"
_NOTES: Final = "notes"
_WRITING: Final = "writing"
_KEY: Final = "key"
_TASK_SECONDS: Final = 0.0105
"""What one task costs the scheduler and the way there and back, measured on one machine of two cores [-]."""
_ROWS_A_SECOND: Final = 25e6
"""What one worker may reach at the most, Parquet to Parquet with few columns; a slower one has less overhead [-]."""


@attrs.frozen
class Part:
    """Rows of one source that make one file of the output.

    Args:
        name: Name of the file.
        source: The file that the rows are in.
        first: The first of them [-].
        rows: How many [-].
    """

    name: str
    source: str
    first: int
    rows: int


@attrs.frozen
class PartReport:
    """What a task did.

    Args:
        name: Name of the file.
        rows: Rows in it [-].
        statuses: Rows by number of their status [-].
        fingerprint: Order-free fingerprint of its rows [-].
    """

    name: str
    rows: int
    statuses: tuple[int, ...]
    fingerprint: int


@attrs.frozen
class RunReport:
    """What a run did.

    Args:
        destination: The folder.
        parts: What each task did, in the order of the parts.
    """

    destination: str
    parts: tuple[PartReport, ...]

    @property
    def rows(self) -> int:
        """Rows in all parts [-]."""
        return sum(part.rows for part in self.parts)

    @property
    def fingerprint(self) -> int:
        """Order-free fingerprint of all rows [-]; the same however the rows were cut into parts."""
        return joined(part.fingerprint for part in self.parts)

    @property
    def statuses(self) -> tuple[tuple[str, int], ...]:
        """Every status by name, with the number of its rows [-]."""
        return tuple((each.name, sum(part.statuses[each.code] for part in self.parts)) for each in BATCH_STATUSES)


def part_rows(share: float = 0.1, rows_a_second: float = _ROWS_A_SECOND, task_seconds: float = _TASK_SECONDS) -> int:
    """Return how many rows a part needs so that tasks cost little beside the work.

    rows = rows a second x seconds a task / share, rounded up to whole row groups. A task costs 10.5 ms, and a worker
    reaches 25 million rows a second at the most: 2.6 million rows keep the cost at 10 % or below, 26 million at 1 %.

    Args:
        share: What tasks may cost at the most, as a share of the work, such as 0.1 [-].
        rows_a_second: What one worker reaches [-].
        task_seconds: What one task costs [-].

    Returns:
        Rows, a multiple of :data:`~turnback.batch.files.PART_ROWS` [-].

    Raises:
        InputError: A number is not finite and positive.
    """
    for field, value in (("share", share), ("rows_a_second", rows_a_second), ("task_seconds", task_seconds)):
        check_kind(value, (int, float), field, "a number")
        if not 0 < value < math.inf:
            raise InputError("this is not a number above 0", field=field, value=repr(value)[:80])
    return math.ceil(rows_a_second * task_seconds / share / PART_ROWS) * PART_ROWS


def parts_of(sources: Sequence[str | os.PathLike[str]], rows: int) -> tuple[Part, ...]:
    """Cut sources into parts; the same names and limits for the same sources and rows, whatever runs them.

    Args:
        sources: Parquet files or folders of them.
        rows: Rows of a part at the most [-].

    Returns:
        The parts, in order; a source without rows has one without rows, so that its columns are checked.

    Raises:
        InputError: A source cannot be read or is no Parquet, or a part is to have no rows.
    """
    check_kind(rows, (int,), "rows", "a whole number above 0")
    if rows < 1 or not sources:
        raise InputError(
            "a part needs a row, and a run a source",
            field="rows" if sources else "sources",
            value=str(rows) if sources else "none",
        )
    cut: list[tuple[str, int, int]] = []
    for each in sources:
        counted = open_source(each, {}, as_text=False).rows
        if counted is None:
            raise InputError(
                "parts are cut from Parquet, which tells where its rows are", field="sources", value=str(each)
            )
        cut += [
            (str(Path(each).absolute()), first, min(rows, counted - first)) for first in range(0, max(1, counted), rows)
        ]
    return tuple(Part(f"part-{number:05d}.parquet", *each) for number, each in enumerate(cut))


def plan_part(part: Part, options: BatchOptions, folder: str, units: Mapping[str, str], again: bool) -> PartReport:
    """Plan one part and write it under its name; what a worker runs.

    Args:
        part: The part.
        options: What holds for every row.
        folder: Where the run keeps its work.
        units: Units of columns of numbers.
        again: Leave out the answers of an earlier run.

    Returns:
        Counts and fingerprint.

    Raises:
        TurnbackError: The columns or the options cannot be planned with, or the source cannot be read.
    """
    given = open_source(part.source, units, as_text=False)
    planner = FilePlanner(given, attrs.evolve(options, strict=False), None, again=again)
    # A name that no other attempt has: the one whose worker was thought dead may still be writing.
    own = f"{part.name}.{uuid.uuid4().hex}"
    # Not among the parts: what a killed worker leaves half-written must not be there when they are published.
    hidden = Path(folder, f"{_WRITING}.{own}")
    counts = np.zeros(256, np.int64)
    marks: list[int] = []
    try:
        tables = _tables(given, planner, part)
        first = next(tables, planner.schema.empty_table())
        with pq.ParquetWriter(hidden, planner.schema, **parquet_writing(first)) as writer:
            for table in itertools.chain([first], tables):
                writer.write_table(table, row_group_size=PART_ROWS)
                counts += np.bincount(np.asarray(table.column("status")), minlength=256)
                marks.append(fingerprint(table))
        os.replace(hidden, Path(folder, _PARTS, part.name))
    finally:
        hidden.unlink(missing_ok=True)
    report = PartReport(part.name, part.rows, tuple(counts[: len(BATCH_STATUSES)].tolist()), joined(marks))
    note = Path(folder, f"note.{own}")
    note.write_text(json.dumps(attrs.astuple(report)), encoding="ascii")
    os.replace(note, Path(folder, _NOTES, f"{part.name}.json"))
    return report


def _tables(given: Source, planner: FilePlanner, part: Part) -> Iterator[pa.Table]:
    """The rows of a part as row groups."""
    rows = blocks(given, part.first, BLOCK_ROWS, part.first + part.rows)
    while group := [planner.plan(block) for block in itertools.islice(rows, PART_ROWS // BLOCK_ROWS)]:
        yield canonical(group, planner.schema)


def plan_parts(
    client: Client,
    sources: Sequence[str | os.PathLike[str]],
    options: BatchOptions,
    destination: str | os.PathLike[str],
    *,
    rows: int | None = None,
    units: Mapping[str, str] | None = None,
    again: bool = False,
    restart: bool = False,
) -> RunReport:
    """Plan Parquet files on a Dask cluster into a folder of Parquet parts.

    The folder appears under its name when all parts are written. Until then they stand in a hidden folder beside it,
    and a run whose driver was killed goes on with those that are missing.

    Args:
        client: A client of the cluster; its workers have ``turnback`` installed and see the same folders.
        sources: Parquet files or folders of them.
        options: What holds for every row; with ``strict`` nothing is published where a row was not planned.
        destination: The folder; it must not exist.
        rows: Rows of a part [-]; :func:`part_rows` when not given.
        units: Units of columns of numbers.
        again: Leave out the answers of an earlier run.
        restart: Begin again, whatever a run that was cut off has left.

    Returns:
        What each task did.

    Raises:
        TurnbackError: The columns or the options cannot be planned with, or a source cannot be read.
        InputError: The folder exists already, or cannot be written.
    """
    target = Path(destination)
    if target.exists():
        raise InputError("there is something of this name", field="destination", value=str(target))
    parts = parts_of(sources, part_rows() if rows is None else rows)
    settled = attrs.evolve(options, strict=False)
    schemas = [
        FilePlanner(open_source(source, units or {}, as_text=False), settled, None, again=again).schema
        for source in dict.fromkeys(part.source for part in parts)
    ]
    folder = work_folder(target)
    with _errors(target):
        notes = _taken_up(folder, _key(parts, options, schemas), target, restart=restart)
        missing = [part for part in parts if part.name not in notes]
        todo = client.map(
            plan_part, missing, options=options, folder=str(folder), units=dict(units or {}), again=again,
            pure=False,
        )  # fmt: skip
        for future in todo:
            report: PartReport = future.result()
            notes[report.name] = report
        done = RunReport(str(target), tuple(notes[part.name] for part in parts))
        _check_strict(done, parts, options, units or {}, folder)
        os.rename(folder / _PARTS, target)
        shutil.rmtree(folder, ignore_errors=True)
    return done


def _key(parts: Sequence[Part], options: BatchOptions, schemas: Sequence[pa.Schema]) -> str:
    said = hashlib.sha256(f"{pa.__version__}\n{parts!r}\n".encode())
    for source in dict.fromkeys(part.source for part in parts):
        said.update(signature(Path(source)).encode())
    for schema in schemas:
        said.update(options_hash(options, schema).encode())
    return said.hexdigest()


def _taken_up(folder: Path, key: str, target: Path, *, restart: bool) -> dict[str, PartReport]:
    """Make the hidden folder, or go on with what stands in it."""
    begun = folder / _KEY
    if restart:
        shutil.rmtree(folder, ignore_errors=True)
    if begun.exists() and begun.read_text(encoding="ascii") != key:
        raise InputError(
            "a run was cut off here, and it was another one: other input, options, rules, library or parts",
            field="destination",
            value=str(target),
            instead="Finish it as it began, or begin again: restart=True.",
        )
    for name in (_PARTS, _NOTES):
        (folder / name).mkdir(parents=True, exist_ok=True)
    begun.write_text(key, encoding="ascii")
    for left in folder.glob(f"{_WRITING}.*"):
        left.unlink(missing_ok=True)
    found = {}
    for note in sorted((folder / _NOTES).glob("*.json")):
        name, rows, statuses, mark = json.loads(note.read_text(encoding="ascii"))
        if (folder / _PARTS / name).exists():
            found[name] = PartReport(name, rows, tuple(statuses), mark)
    return found


def _check_strict(
    done: RunReport, parts: Sequence[Part], options: BatchOptions, units: Mapping[str, str], folder: Path
) -> None:
    if options.strict and any(count for name, count in done.statuses if name != Status.OK.label):
        rows = list(itertools.islice(_refused(done, parts, options, units, folder), SHOWN))
        shutil.rmtree(folder, ignore_errors=True)
        raise refused_rows(done.statuses, rows)


def _refused(
    done: RunReport, parts: Sequence[Part], options: BatchOptions, units: Mapping[str, str], folder: Path
) -> Iterator[str]:
    """The rows that were not planned, in order, each with its column and cell; of several sources, with its file."""
    several = len({part.source for part in parts}) > 1
    for part, report in zip(parts, done.parts, strict=True):
        if sum(report.statuses) == report.statuses[Status.OK]:
            continue
        statuses = np.asarray(pq.read_table(folder / _PARTS / part.name, columns=["status"]).column("status"))
        for row in np.flatnonzero(statuses).tolist():
            why = explain_row(part.source, part.first + row, options, units=units).error
            said = row_text(part.first + row, Status(int(statuses[row])), why)
            yield f"{Path(part.source).name} {said}" if several else said


@contextlib.contextmanager
def _errors(target: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if isinstance(error, InputError):
            raise
        raise not_written(target, error) from error
