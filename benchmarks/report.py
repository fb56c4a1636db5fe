"""Runs every benchmark and writes the table of the documentation.

``python -m benchmarks.report`` takes some minutes; ``--most 100000000`` also measures the memory of a hundred million
rows; ``--rows``, ``--part`` and ``--most`` make it shorter. Nothing here is asserted: a shared machine is no witness.
"""

from __future__ import annotations

import argparse
import datetime
import os
import platform
import tempfile
from importlib import metadata
from pathlib import Path
from typing import Final, NamedTuple

from benchmarks import batch_kernel

PAGE: Final = Path(__file__).parents[1] / "docs" / "reference" / "benchmarks.md"
MILLION: Final = 1_000_000
BILLION: Final = "## A billion rows, once by hand"
"""Heading of what ``benchmarks.billion`` writes."""


class Line(NamedTuple):
    """One line of the table."""

    what: str
    figure: str
    goal: str


def measured(folder: Path, *, rows: int, most: int, part: int) -> tuple[list[Line], list[Line]]:
    """Measure everything.

    Args:
        folder: Where files may be written.
        rows: Rows of the kernel and of the files [-].
        most: Rows of the largest register of the memory [-].
        part: Rows of a part under Dask [-].

    Returns:
        Ratios, and absolute figures.
    """
    kernel = batch_kernel.kernel(rows)
    files = batch_kernel.files(folder, rows)
    sizes = [size for size in (MILLION, 10 * MILLION, 100 * MILLION) if size <= most] or [most]
    peaks = {size: batch_kernel.memory(folder, size) / 1024 for size in sizes}
    engines = batch_kernel.engines(folder, part, 4)
    scalar, startup = batch_kernel.scalar(), batch_kernel.startup()
    ours, hand, copy = kernel["library"], kernel["by hand"], kernel["copy"]
    copied = 1.6e9 / copy
    spread = max(peaks.values()) / min(peaks.values())
    parts, each = f"{count(part)} rows a part", "million rows a second"
    ratios = [
        Line("kernel, Arrow to Arrow: speed beside the same by hand", _percent(hand / ours), "60 % or more"),
        Line("kernel: bytes in and out beside a memory copy's", _percent(rows * _row_bytes() / ours / copied), ""),
        Line("greatest peak memory beside the least, over the sizes below", f"{spread:.2f}", "1.10 or less"),
        Line(f"Dask beside a plain pool, {parts}", f"{engines['dask'] / engines['pool']:.2f}", "1.15 or less"),
        Line("one plan with pint throughout, beside one of the library", f"{scalar['pint'] / scalar['plan']:.1f}", ""),
    ]
    imported, ready = (startup[name] - startup["bare"] for name in ("import", "ready"))
    figures = [
        Line(f"kernel, one core, {count(rows)} rows", f"{rows / ours / 1e6:.1f} million plans a second", "20 million"),
        Line("the same by hand in numpy, one core", f"{rows / hand / 1e6:.1f} million plans a second", ""),
        Line("memory copy of 800 MB, one core", f"{copied / 2e9:.1f} GB/s copied", ""),
        Line(f"Parquet to Parquet, {count(rows)} rows", f"{rows / files / 1e6:.2f} {each}", "5 million"),
        *(
            Line(f"peak memory, {count(size)} rows of Parquet", f"{peak:.0f} MiB", "512 MB")
            for size, peak in peaks.items()
        ),
        Line(f"Dask, two workers, {parts}", f"{4 * part / engines['dask'] / 1e6:.2f} {each}", ""),
        Line("plain pool, two processes, the same parts", f"{4 * part / engines['pool'] / 1e6:.2f} {each}", ""),
        Line("one plan, derivations unbuilt", f"{scalar['plan'] * 1e6:.0f} µs", "60 µs"),
        Line("import turnback, above the interpreter", f"{imported * 1e3:.1f} ms", "10 ms"),
        Line("ready for the first plan, above the interpreter", f"{ready * 1e3:.0f} ms", "150 ms"),
    ]
    return ratios, figures


def _row_bytes() -> float:
    """What a row of the register and of its answers takes as Arrow, in bytes."""
    from benchmarks.batch_register import OPTIONS, batch
    from turnback.batch import BatchPlanner

    given = batch(batch_kernel.BLOCK, 0)
    # The input's columns are read and the answers written; that the output carries the input's costs nothing.
    return float(BatchPlanner(OPTIONS, given.schema).plan(given).get_total_buffer_size() / given.num_rows)


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def count(rows: int) -> str:
    """Write a number of rows.

    Args:
        rows: The number [-].

    Returns:
        Its digits in groups of three.
    """
    return f"{rows:,}".replace(",", " ")


def machine() -> list[str]:
    """Say what it ran on.

    Returns:
        Lines of a list.
    """
    cpus = Path("/proc/cpuinfo")
    text = cpus.read_text(encoding="utf-8") if cpus.exists() else ""
    model = next((line.partition(":")[2].strip() for line in text.splitlines() if line.startswith("model name")), "")
    names = ("numpy", "pyarrow", "dask", "pint", "attrs")
    load = f", load {os.getloadavg()[0]:.1f} when it began" if hasattr(os, "getloadavg") else ""
    return [
        f"{os.cpu_count()} cores, {model or platform.processor() or 'unknown processor'}, {platform.system()}{load}",
        f"Python {platform.python_version()}, " + ", ".join(f"{name} {metadata.version(name)}" for name in names),
        f"{datetime.datetime.now(datetime.UTC).date()}, turnback {metadata.version('turnback')}",
    ]


def page(where: list[str], ratios: list[Line], figures: list[Line]) -> str:
    """Write the page.

    Args:
        where: What it ran on.
        ratios: The ratios.
        figures: The absolute figures.

    Returns:
        Markdown.
    """
    lines = [
        "# Benchmarks",
        "",
        "Written by `python -m benchmarks.report`; nothing on this page is asserted by a test. Ratios are between",
        "things measured in turn in one run, and are what to look at. Absolute figures belong to this machine at that",
        "moment.",
        "",
        "The register is invented: U-bolts on thimbles, five sizes of 8 CCR 8497, full plans with the eye's geometry,",
        "strength and findings. *By hand* is a blocked numpy kernel of the same outputs without any of the guards; the",
        "run stops where the two disagree.",
        "",
        *(f"- {line}" for line in where),
    ]
    for title, table in (("Ratios", ratios), ("Figures, for information", figures)):
        lines += ["", f"## {title}", "", "| what | measured | goal |", "|---|---|---|"]
        lines += [f"| {line.what} | {line.figure} | {line.goal} |" for line in table]
    return "\n".join(lines) + "\n"


def section_of(text: str) -> str:
    """Return what ``benchmarks.billion`` wrote into a page.

    Args:
        text: The page.

    Returns:
        The section, from its heading to the end; empty where there is none.
    """
    return text[text.index(BILLION) :] if BILLION in text else ""


def main() -> None:
    """Measure, and write the page."""
    parser = argparse.ArgumentParser(description="Run every benchmark and write the table of the documentation.")
    parser.add_argument("--most", type=int, default=10 * MILLION, help="rows of the largest register of the memory")
    parser.add_argument("--rows", type=int, default=5 * MILLION, help="rows of the kernel and of the files")
    parser.add_argument("--part", type=int, default=5 * MILLION, help="rows of a part under Dask and the pool")
    parser.add_argument("--out", type=Path, default=PAGE, help="the page")
    options = parser.parse_args()
    where = machine()
    with tempfile.TemporaryDirectory() as folder:
        ratios, figures = measured(Path(folder), rows=options.rows, most=options.most, part=options.part)
    kept = section_of(options.out.read_text(encoding="utf-8")) if options.out.exists() else ""
    options.out.write_text(page(where, ratios, figures) + (f"\n{kept}" if kept else ""), encoding="utf-8")
    print(options.out.read_text(encoding="utf-8"), end="")


if __name__ == "__main__":
    main()
