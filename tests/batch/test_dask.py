"""Parts on a local cluster of two worker processes, one of them killed in the middle. Loopback alone, no dashboard."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import attrs
import pyarrow.parquet as pq
import pytest
from tests.batch.files_register import OPTIONS, read, register, written

from turnback.batch import BATCH_STATUSES
from turnback.batch.dask_engine import PartReport, RunReport, part_rows, parts_of, plan_part, plan_parts
from turnback.batch.files import PART_ROWS, plan_file
from turnback.batch.fingerprints import fingerprint
from turnback.batch.resume import work_folder
from turnback.errors import InputError

if TYPE_CHECKING:
    from distributed import Client

ROWS: Final = 3000


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(register(ROWS, seed=12), tmp_path_factory.mktemp("dask") / "in.parquet", row_group=170)


@pytest.fixture(scope="module")
def mark(source: Path) -> int:
    """Fingerprint of the same rows without any engine."""
    plan_file(source, source.with_name("whole.parquet"), OPTIONS)
    return fingerprint(read(source.with_name("whole.parquet")))


@pytest.fixture
def client() -> Iterator[Client]:
    distributed = pytest.importorskip("distributed", reason="dask is not installed: pip install 'turnback[dask]'")
    with (
        distributed.LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address=None,
            # Any free port for what the scheduler serves without a dashboard: another run may have taken the usual one.
            scheduler_kwargs={"dashboard": False, "dashboard_address": "127.0.0.1:0"},
        ) as cluster,
        distributed.Client(cluster) as connected,
    ):
        yield connected


# --- without a cluster ---


def test_how_many_rows_a_part_has() -> None:
    """25 million rows a second x 10.5 ms: 2.6 million rows at 10 %, 26 million at 1 %, in whole row groups."""
    for share, rows in ((0.1, 2_625_000), (0.01, 26_250_000)):
        assert 0 == part_rows(share) % PART_ROWS
        assert rows <= part_rows(share) < rows + PART_ROWS
    assert part_rows(0.1) < part_rows(0.01)
    assert part_rows(0.1, rows_a_second=1e6) == PART_ROWS
    for bad in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(InputError):
            part_rows(bad)


def test_parts_cover_every_row_once(source: Path, tmp_path: Path) -> None:
    parts = parts_of([source, source], 700)
    assert [f"part-{number:05d}.parquet" for number in range(10)] == [part.name for part in parts]
    assert 2 * [(0, 700), (700, 700), (1400, 700), (2100, 700), (2800, 200)] == [(p.first, p.rows) for p in parts]
    empty = written(register(0), tmp_path / "empty.parquet")
    assert [(0, 0)] == [(part.first, part.rows) for part in parts_of([empty], 700)]
    with pytest.raises(InputError, match="cut from Parquet"):
        parts_of([written(register(3), tmp_path / "in.csv")], 700)
    for sources, rows in (([], 5), ([source], 0)):
        with pytest.raises(InputError, match="a part needs a row"):
            parts_of(sources, rows)


def test_a_part_is_the_same_whoever_writes_it(source: Path, tmp_path: Path, mark: int) -> None:
    marks = []
    for part in parts_of([source], 1300):
        reports = []
        for attempt in ("a", "b"):
            for name in ("parts", "notes"):
                (tmp_path / attempt / name).mkdir(parents=True, exist_ok=True)
            reports.append(plan_part(part, OPTIONS, str(tmp_path / attempt), {}, False))
        assert reports[0] == reports[1]
        one, other = (tmp_path / attempt / "parts" / part.name for attempt in ("a", "b"))
        assert one.read_bytes() == other.read_bytes()
        assert fingerprint(read(one)) == reports[0].fingerprint
        marks.append(reports[0])
    assert mark == RunReport("", tuple(marks)).fingerprint


def test_what_is_half_written_never_stands_among_the_parts(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A worker may be killed at any moment, and the folder of parts is published as it then is."""
    for name in ("parts", "notes"):
        (tmp_path / name).mkdir()
    seen: list[list[str]] = []
    write = pq.ParquetWriter.write_table

    def watched(*given: Any, **more: Any) -> None:
        write(*given, **more)
        seen.append([each.name for each in (tmp_path / "parts").iterdir()])

    monkeypatch.setattr(pq.ParquetWriter, "write_table", watched)
    (part, *_) = parts_of([source], 500)
    plan_part(part, OPTIONS, str(tmp_path), {}, False)
    assert [] == [name for names in seen for name in names]
    assert seen
    assert [part.name] == [each.name for each in (tmp_path / "parts").iterdir()]
    assert ["notes", "parts"] == sorted(each.name for each in tmp_path.iterdir() if each != source)


# --- with one ---


def test_a_worker_killed_in_the_middle_changes_nothing(client: Client, source: Path, tmp_path: Path, mark: int) -> None:
    target = tmp_path / "out"
    first, second = client.run(os.getpid).values()
    killed: list[int] = []
    over = threading.Event()

    def kill() -> None:
        """When some parts are there, and not all, one worker dies."""
        notes = work_folder(target) / "notes"
        while not over.is_set():
            if notes.is_dir() and 3 <= len(list(notes.iterdir())):
                os.kill(first, signal.SIGKILL)
                killed.append(first)
                return
            time.sleep(0.002)

    killer = threading.Thread(target=kill)
    killer.start()
    try:
        report = plan_parts(client, [source], OPTIONS, target, rows=30)
    finally:
        over.set()
        killer.join()
    assert [first] == killed
    assert first not in client.run(os.getpid).values()
    assert second != first
    assert (ROWS, mark, 100) == (report.rows, report.fingerprint, len(report.parts))
    assert [part.name for part in report.parts] == sorted(each.name for each in target.iterdir())
    assert mark == fingerprint(pq.read_table(target))
    assert ROWS == sum(count for _, count in report.statuses)
    assert [each.name for each in BATCH_STATUSES] == [name for name, _ in report.statuses]
    assert not work_folder(target).exists()


def test_a_run_whose_driver_was_killed_goes_on(client: Client, source: Path, tmp_path: Path, mark: int) -> None:
    target = tmp_path / "out"
    folder = work_folder(target)
    whole = plan_parts(client, [source], OPTIONS, target, rows=500)
    kept = {each.name: each.read_bytes() for each in target.iterdir()}
    # What a driver leaves that was killed: the hidden folder with some parts, their notes and a torn file.
    with pytest.raises(InputError, match="something of this name"):
        plan_parts(client, [source], OPTIONS, target, rows=500)
    target.rename(tmp_path / "before")

    class Cut(BaseException):
        pass

    class Driver:
        """A client that stops after two tasks."""

        def map(self, function: Any, parts: list[Any], **options: Any) -> Iterator[Any]:
            yield from client.map(function, parts[:2], **options)
            raise Cut

    with pytest.raises(Cut):
        plan_parts(Driver(), [source], OPTIONS, target, rows=500)  # type: ignore[arg-type]  # it maps, which is all
    assert ["part-00000.parquet", "part-00001.parquet"] == sorted(each.name for each in (folder / "parts").iterdir())
    assert not target.exists()
    (folder / "writing.part-00002.parquet.torn").write_bytes(b"PAR1")
    stamps = {each.name: each.stat().st_mtime_ns for each in (folder / "parts").glob("part-*")}
    with pytest.raises(InputError, match="another one"):
        plan_parts(client, [source], attrs.evolve(OPTIONS, clip_body="other"), target, rows=500)
    report = plan_parts(client, [source], OPTIONS, target, rows=500)
    assert whole.parts == report.parts
    assert mark == report.fingerprint
    assert kept == {each.name: each.read_bytes() for each in target.iterdir()}
    assert stamps == {name: (target / name).stat().st_mtime_ns for name in stamps}


def test_a_bad_input_is_one_clear_error(client: Client, source: Path, tmp_path: Path, mark: int) -> None:
    assert mark  # which has planned the whole register into one file
    with pytest.raises(InputError, match="no such file"):
        plan_parts(client, [tmp_path / "none.parquet"], OPTIONS, tmp_path / "out")
    with pytest.raises(InputError, match="rows were not planned") as caught:
        plan_parts(client, [source], attrs.evolve(OPTIONS, strict=True), tmp_path / "out")
    statuses = read(source.with_name("whole.parquet"))["status"]
    first = next(row for row, status in enumerate(statuses.to_pylist()) if status)
    # The first row that was not planned, with its column; the register's sizes are null or below the table.
    assert f"row {first} (" in str(caught.value)
    assert "diameter" in str(caught.value)
    assert not (tmp_path / "out").exists()
    assert [] == list(tmp_path.iterdir())


def test_reports_are_frozen() -> None:
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        PartReport("", 0, (), 0).rows = 1  # type: ignore[misc]  # it is frozen, which is what this shows
