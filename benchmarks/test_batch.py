"""The batch path beside a kernel written by hand. Run by hand: ``pytest benchmarks --benchmark-enable``.

In CI the functions run once, so that they stay true: the two kernels have the same answers.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from benchmarks import report
from benchmarks.batch_hand import HandKernel, same
from benchmarks.batch_register import OPTIONS, batch, parquet
from turnback.batch import BatchPlanner
from turnback.batch.files import FileReport, plan_file
from turnback.batch.fingerprints import fingerprint

ROWS = 1 << 16


@pytest.mark.benchmark(group="64 Ki rows, Arrow to Arrow")
def test_kernel(benchmark: BenchmarkFixture) -> None:
    given = batch(ROWS, 1)
    planner = BatchPlanner(OPTIONS, given.schema)
    planned = benchmark(planner.plan, given)
    assert same(planned, HandKernel(given.schema).plan(given))


@pytest.mark.benchmark(group="64 Ki rows, Arrow to Arrow")
def test_by_hand(benchmark: BenchmarkFixture) -> None:
    given = batch(ROWS, 2)
    by_hand = benchmark(HandKernel(given.schema).plan, given)
    assert same(BatchPlanner(OPTIONS, given.schema).plan(given), by_hand)


@pytest.mark.benchmark(group="64 Ki rows")
def test_fingerprint(benchmark: BenchmarkFixture) -> None:
    assert benchmark(fingerprint, batch(ROWS, 3)) > 0


@pytest.mark.benchmark(group="64 Ki rows")
def test_parquet_to_parquet(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    source = parquet(tmp_path / "in.parquet", ROWS)
    done: FileReport = benchmark(plan_file, source, tmp_path / "out.parquet", OPTIONS)
    assert ROWS == done.rows == dict(done.statuses)["ok"]


def test_the_page_is_written() -> None:
    lines = [report.Line("one thing", "1.00", "1.10 or less")]
    text = report.page(report.machine(), lines, lines)
    assert 2 == text.count("| one thing | 1.00 | 1.10 or less |")
