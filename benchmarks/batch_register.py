"""An invented register for the benchmarks: U-bolts on thimbles, sizes of 8 CCR 8497, Table 1, no row refused."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from turnback.batch import BatchOptions

BLOCK: Final = 1 << 16
GROUP: Final = 1 << 20
SIXTEENTH: Final = 25_400_000 // 16
SIXTEENTHS: Final = (8, 10, 12, 14, 16)
GRADES: Final = ("EIP", "IPS")
OPTIONS: Final = BatchOptions("u-bolt", "us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US")


def batch(rows: int, seed: int) -> pa.RecordBatch:
    """Draw rows.

    Args:
        rows: How many [-].
        seed: Seed of the draw [-].

    Returns:
        One batch.
    """
    draw = np.random.default_rng(seed)
    diameter = np.array(SIXTEENTHS, np.int64)[draw.integers(0, len(SIXTEENTHS), rows)] * SIXTEENTH

    def words(values: tuple[str, ...]) -> pa.DictionaryArray:
        codes = draw.integers(0, len(values), rows).astype(np.int32)
        return pa.DictionaryArray.from_arrays(pa.array(codes), pa.array(values))

    return pa.record_batch(
        {
            "joint": np.arange(rows, dtype=np.int64) + seed * rows,
            "rope_diameter_nm": diameter,
            "construction": words(("6x19",)),
            "core": words(("IWRC",)),
            "grade": words(GRADES),
            "inside_length_nm": diameter * draw.integers(48, 75, rows) // 10,
            "inside_width_nm": diameter * draw.integers(29, 34, rows) // 10,
            "groove_offset_nm": diameter // 6,
            "base_width_nm": diameter * draw.integers(17, 32, rows) // 10,
        }
    )


def batches(rows: int) -> Iterator[pa.RecordBatch]:
    """Draw a register in blocks.

    Args:
        rows: How many rows in all [-].

    Yields:
        Blocks of 64 Ki rows; the last may be shorter.
    """
    for seed, start in enumerate(range(0, rows, BLOCK)):
        yield batch(min(BLOCK, rows - start), seed)


def writing(path: Path) -> pq.ParquetWriter:
    """Open a file for a register.

    Args:
        path: Where.

    Returns:
        What writes its row groups.
    """
    return pq.ParquetWriter(
        path,
        batch(0, 0).schema,
        compression="zstd",
        compression_level=1,
        use_dictionary=["construction", "core", "grade"],
    )


def parquet(path: Path, rows: int) -> Path:
    """Write a register as Parquet, in row groups of 1 Mi rows.

    Args:
        path: Where.
        rows: How many rows [-].

    Returns:
        The same path.
    """
    group: list[pa.RecordBatch] = []
    with writing(path) as writer:
        for each in batches(rows):
            group.append(each)
            if len(group) == GROUP // BLOCK:
                writer.write_table(pa.Table.from_batches(group))
                group = []
        if group:
            writer.write_table(pa.Table.from_batches(group))
    return path
