"""An invented register of guys on invented thimbles, as files. No row of it is anybody's."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import numpy as np
import pyarrow as pa
import pyarrow.csv as pacsv
import pyarrow.ipc as paipc
import pyarrow.parquet as pq

from turnback.batch import BatchOptions

INCH: Final = 25_400_000
OPTIONS: Final = BatchOptions("u-bolt", "us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US")
ARGUMENTS: Final = (
    "--style", "u-bolt", "--rules", "us-ca-8-8497", "--clip-body", "forged", "--service", "guy", "--jurisdiction", "US",
)  # fmt: skip
SIXTEENTHS: Final = (8, 10, 12, 14, 16, 5)
"""Rope diameters [1/16 in]; the last is below every size of 8 CCR 8497, Table 1."""


def register(rows: int, seed: int = 0) -> pa.Table:
    """Rows with every size of a few, some of them without one, one column that nobody knows."""
    draw = np.random.default_rng(seed)
    diameter = np.array(SIXTEENTHS, np.int64)[draw.integers(0, len(SIXTEENTHS), rows)] * (INCH // 16)
    missing = draw.random(rows) < 0.05
    return pa.table(
        {
            "joint_id": [f"G-{number:06d}" for number in range(rows)],
            "rope_diameter_nm": pa.array(diameter, mask=missing),
            "construction": ["6x19"] * rows,
            "core": draw.choice(["IWRC", "FC"], rows).tolist(),
            "grade": draw.choice(["EIP", "IPS"], rows).tolist(),
            "inside_length_nm": diameter * 6,
            "inside_width_nm": diameter * 3,
            "groove_offset_nm": diameter // 6,
            "base_width_nm": pa.array(diameter * 5 // 2, mask=draw.random(rows) < 0.1),
            "note": [None if number % 7 == 0 else f'invented, "{number % 5}"\nsecond line' for number in range(rows)],
        }
    )


def written(table: pa.Table, path: Path, *, row_group: int = 100) -> Path:
    """A table as a file of the form that its name asks for."""
    if path.suffix == ".parquet":
        pq.write_table(table, path, row_group_size=row_group)
    elif path.suffix == ".csv":
        pacsv.write_csv(table, path)
    else:
        with paipc.new_file(path, table.schema) as file:
            file.write_table(table, max_chunksize=row_group)
    return path


def read(path: Path) -> pa.Table:
    """A file as a table, dictionaries as plain text."""
    if path.suffix == ".parquet":
        table = pq.read_table(path)
    elif path.suffix == ".csv":
        table = pacsv.read_csv(
            path,
            parse_options=pacsv.ParseOptions(newlines_in_values=True),
            convert_options=pacsv.ConvertOptions(
                null_values=[""], strings_can_be_null=True, quoted_strings_can_be_null=False
            ),
        )
    else:
        with paipc.open_file(path) as file:
            table = file.read_all()
    return plain(table)


def plain(table: pa.Table) -> pa.Table:
    """The same with dictionaries as plain values."""
    for index, field in enumerate(table.schema):
        if pa.types.is_dictionary(field.type):
            column = table.column(index).cast(field.type.value_type)
            table = table.set_column(index, field.with_type(column.type), column)
    return table
