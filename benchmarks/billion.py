"""Plans a billion rows once, by hand, and writes down what it took: a folder of Parquet in, one Parquet file out.

``python -m benchmarks.billion FOLDER`` needs some 20 GB there and takes minutes to half an hour; ``--rows`` makes it
shorter. It is no part of ``benchmarks.report``, which keeps the section that this writes.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pyarrow as pa
import pyarrow.parquet as pq

from benchmarks.batch_register import GROUP, OPTIONS, batch, writing
from benchmarks.report import BILLION, PAGE, count, machine, section_of

FILE_ROWS: Final = 50 * GROUP
SAMPLED: Final = 101
"""Row groups of the register from one that is planned again to the next [-]."""


def draw(folder: Path, rows: int) -> None:
    """Draw the register, a seed for each row group.

    Args:
        folder: Where its files go; those that are there already stay.
        rows: How many rows [-].
    """
    folder.mkdir(parents=True, exist_ok=True)
    for number, first in enumerate(range(0, rows, FILE_ROWS)):
        path = folder / f"part-{number:03d}.parquet"
        if path.exists():
            continue
        half = path.with_suffix(".half")
        with writing(half) as writer:
            for start in range(first, min(first + FILE_ROWS, rows), GROUP):
                writer.write_batch(drawn(start, rows))
        half.rename(path)


def drawn(start: int, rows: int) -> pa.RecordBatch:
    """Draw one row group.

    Args:
        start: Its first row [-].
        rows: Rows of the whole register [-].

    Returns:
        Its rows.
    """
    return batch(min(GROUP, rows - start), start // GROUP)


def run(source: Path, out: Path) -> dict[str, object]:
    """Plan it in a process of its own.

    Args:
        source: The folder.
        out: The output.

    Returns:
        Seconds, peak memory [KiB], rows by status.
    """
    began = time.monotonic()
    command = [sys.executable, "-m", "benchmarks.billion", str(source), "--planned", str(out)]
    done = subprocess.run(command, capture_output=True, check=True, text=True)
    found: dict[str, object] = json.loads(done.stdout)
    return {"seconds": time.monotonic() - began, **found}


def planned(source: Path, out: Path) -> None:
    """Plan the folder, and print what it took; what :func:`run` runs.

    Args:
        source: The folder.
        out: The output.
    """
    from turnback.batch.files import plan_file

    report = plan_file(source, out, OPTIONS)
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    peak = next(int(line.split()[1]) for line in lines if line.startswith("VmHWM:"))
    said = ", ".join(f"{name} {count(number)}" for name, number in report.statuses if number)
    print(json.dumps({"peak": peak, "rows": report.rows, "statuses": said}))


def sampled(out: Path, rows: int) -> int:
    """Plan some row groups again, in memory, and hold the output to them.

    Args:
        out: The output.
        rows: Rows of the register [-].

    Returns:
        How many row groups of the register were compared; the run stops where one differs [-].
    """
    from turnback.batch import BatchPlanner, fingerprint

    file, compared = pq.ParquetFile(out), 0
    planner = BatchPlanner(OPTIONS, batch(0, 0).schema)
    each = GROUP // file.metadata.row_group(0).num_rows  # the output is cut finer than the input
    for start in range(0, rows, GROUP * SAMPLED):
        wanted = fingerprint(planner.plan(drawn(start, rows)))
        first = start // GROUP * each
        found = fingerprint(file.read_row_groups(range(first, min(first + each, file.num_row_groups))))
        if wanted != found:
            raise SystemExit(f"the rows from {start} on are not what planning them again gives")
        compared += 1
    return compared


def main() -> None:
    """Draw, plan, compare, and write the section of the page."""
    parser = argparse.ArgumentParser(description="Plan a billion rows once and write down what it took.")
    parser.add_argument("folder", type=Path, help="where the register and the output go")
    parser.add_argument("--rows", type=int, default=10**9, help="rows of the register")
    parser.add_argument("--planned", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.planned is not None:
        planned(options.folder, options.planned)
        return
    source, out = options.folder / "register", options.folder / "planned.parquet"
    draw(source, options.rows)
    where = machine()
    took = run(source, out)
    seconds, peak = float(str(took["seconds"])), int(str(took["peak"]))
    compared = sampled(out, options.rows)
    given = sum(path.stat().st_size for path in source.iterdir())
    lines = [
        BILLION,
        "",
        "Written by `python -m benchmarks.billion`, run by hand: a folder of Parquet in, one Parquet file out, the",
        "register of the tables above.",
        "",
        *(f"- {line}" for line in where),
        f"- {count(options.rows)} rows in {seconds:.0f} s, {options.rows / seconds / 1e6:.2f} million rows a second",
        f"- statuses: {took['statuses']}; rows of the output: {count(int(str(took['rows'])))}",
        f"- peak memory {peak / 1024:.0f} MiB; {given / 1e9:.1f} GB read, {out.stat().st_size / 1e9:.1f} GB written",
        f"- row groups of the register planned again in memory: {compared}, the same fingerprints",
    ]
    text = "\n".join(lines) + "\n"
    page = PAGE.read_text(encoding="utf-8")
    PAGE.write_text(page.replace(section_of(page), "").rstrip("\n") + "\n\n" + text, encoding="utf-8")
    print(text, end="")


if __name__ == "__main__":
    main()
