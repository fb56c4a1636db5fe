"""Measurements of the batch path. Each ratio is between things measured in turn in one run; absolute figures are noise
on a shared machine and are printed for information.

Run all of them and write the table of the documentation: ``python -m benchmarks.report``.
"""

from __future__ import annotations

import json
import multiprocessing
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from concurrent.futures import ProcessPoolExecutor
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import numpy as np
import pyarrow as pa

from benchmarks.batch_hand import HandKernel, same
from benchmarks.batch_register import BLOCK, OPTIONS, batch, batches, parquet
from turnback.batch import BatchPlanner
from turnback.batch.files import plan_file

COPIED: Final = 100_000_000
"""float64 of the memory copy: 800 MB [-]."""


def best(actions: Mapping[str, Callable[[], object]], times: int = 5) -> dict[str, float]:
    """Time actions in turn, again and again, and keep the best time of each.

    Args:
        actions: What is timed, by name.
        times: How often [-].

    Returns:
        Seconds, by name [-].
    """
    found = dict.fromkeys(actions, float("inf"))
    for _ in range(times):
        for name, action in actions.items():
            began = time.perf_counter()
            action()
            found[name] = min(found[name], time.perf_counter() - began)
    return found


def kernel(rows: int, times: int = 5) -> dict[str, float]:
    """Time the kernel, Arrow to Arrow, the one written by hand, and a memory copy of 800 MB, in turn on one core.

    Args:
        rows: Rows that are planned [-].
        times: How often each is timed [-].

    Returns:
        Seconds: ``library``, ``by hand``, ``copy`` [-].
    """
    given = list(batches(rows))
    planner, hand = BatchPlanner(OPTIONS, given[0].schema), HandKernel(given[0].schema)
    if not same(planner.plan(given[0]), hand.plan(given[0])):
        raise SystemExit("the kernel and the one written by hand disagree; a ratio between them says nothing")
    source, target = np.ones(COPIED), np.zeros(COPIED)

    def copy() -> None:
        target[:] = source

    def run(plan: Callable[[pa.RecordBatch], pa.RecordBatch]) -> Callable[[], None]:
        def all_blocks() -> None:
            for each in given:
                plan(each)

        return all_blocks

    return best({"library": run(planner.plan), "by hand": run(hand.plan), "copy": copy}, times)


def files(folder: Path, rows: int, times: int = 3) -> float:
    """Time Parquet to Parquet.

    Args:
        folder: Where files may be written.
        rows: Rows of the register [-].
        times: How often it is timed [-].

    Returns:
        Seconds of the best [-].
    """
    source = parquet(folder / "in.parquet", rows)
    plan_file(source, folder / "out.parquet", OPTIONS)
    return best({"files": lambda: plan_file(source, folder / "out.parquet", OPTIONS)}, times)["files"]


def memory(folder: Path, rows: int) -> int:
    """Measure the peak memory of a process that plans a register from Parquet to Parquet.

    Args:
        folder: Where files may be written.
        rows: Rows of the register [-].

    Returns:
        Its greatest resident size, in KiB [-].
    """
    source = parquet(folder / f"in{rows}.parquet", rows)
    command = [sys.executable, "-m", "benchmarks.batch_kernel", str(source), str(folder / "out.parquet")]
    done = subprocess.run(command, capture_output=True, check=True, text=True)
    source.unlink()
    return int(json.loads(done.stdout)["peak"])


def engines(folder: Path, rows: int, parts: int) -> dict[str, float]:
    """Time Dask and a plain pool over the same parts, two processes each, started before.

    Args:
        folder: Where files may be written.
        rows: Rows of a part [-].
        parts: How many parts [-].

    Returns:
        Seconds: ``dask``, ``pool`` [-].
    """
    distributed: Any = import_module("distributed")  # its constructors have no types

    from turnback.batch.dask_engine import parts_of, plan_part, plan_parts

    source = parquet(folder / "engines.parquet", rows * parts)
    cut = parts_of([source], rows)

    def pooled() -> None:
        out = folder / "pool"
        for name in ("parts", "notes"):
            (out / name).mkdir(parents=True, exist_ok=True)
        n = len(cut)
        list(pool.map(plan_part, cut, [OPTIONS] * n, [str(out)] * n, [{}] * n, [False] * n))
        shutil.rmtree(out)

    def dasked() -> None:
        plan_parts(client, [source], OPTIONS, folder / "dask", rows=rows)
        shutil.rmtree(folder / "dask")

    with (
        ProcessPoolExecutor(2, multiprocessing.get_context("spawn")) as pool,
        distributed.LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address=None,
            scheduler_kwargs={"dashboard": False, "dashboard_address": "127.0.0.1:0"},
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        pooled()
        dasked()
        return best({"dask": dasked, "pool": pooled}, 3)


def scalar() -> dict[str, float]:
    """Time one plan, derivations unbuilt, and the same numbers with pint throughout.

    Returns:
        Seconds: ``plan``, ``pint`` [-].
    """
    from benchmarks.pint_plan import Quantity, pint_plan
    from benchmarks.test_plan import full_plan

    given = [Quantity(value, "inch") for value in (0.75, 4.5, 2.375, 0.125, 2.25)]
    full_plan()
    times = 200

    def plans() -> None:
        for _ in range(times):
            full_plan()

    def with_pint() -> None:
        for _ in range(times):
            pint_plan(*given)

    return {name: seconds / times for name, seconds in best({"plan": plans, "pint": with_pint}).items()}


def startup() -> dict[str, float]:
    """Time whole processes: a bare interpreter, the import, everything ready for the first plan.

    Returns:
        Seconds: ``bare``, ``import``, ``ready`` [-].
    """
    codes = {"bare": "pass", "import": "import turnback", "ready": "import turnback; turnback.Catalogue.installed()"}

    def process(code: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, "-c", code], check=True)

    return best({name: process(code) for name, code in codes.items()}, 15)


def main() -> None:
    """Plan one register and print the peak memory; what :func:`memory` runs."""
    plan_file(sys.argv[1], sys.argv[2], OPTIONS)
    # What the system counts for the process (ru_maxrss) also holds the size that its parent had when it was started.
    status = Path("/proc/self/status")
    lines = status.read_text(encoding="ascii").splitlines() if status.exists() else []
    own = [int(line.split()[1]) for line in lines if line.startswith("VmHWM:")]
    print(json.dumps({"peak": own[0] if own else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss}))


if __name__ == "__main__":
    main()

__all__ = ["BLOCK", "batch", "best", "engines", "files", "kernel", "memory", "scalar", "startup"]
