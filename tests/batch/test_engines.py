"""The engines of the how-to, with the code lifted out of the page: each gives the rows of the plain table path.

The names of rows are compared by fingerprint and by value; polars and DuckDB run here, Dask in ``test_dask.py``, Spark
not at all (it needs Java), so of it only the length is looked at.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import Any, Final

import duckdb
import polars as pl
import pyarrow as pa
import pytest
from tests.batch.files_register import plain, register

from turnback.batch import plan_table
from turnback.batch.fingerprints import fingerprint

PAGE: Final = Path(__file__).parents[2] / "docs" / "how-to" / "engines.md"
BLOCKS: Final = re.findall(r"^```python\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
FUNCTIONS: Final = {
    node.name: node for block in BLOCKS for node in ast.parse(block).body if isinstance(node, ast.FunctionDef)
}


@pytest.fixture(scope="module")
def page() -> dict[str, Any]:
    names: dict[str, Any] = {}
    for block in BLOCKS:
        exec(compile(block, str(PAGE), "exec"), names)
    return names


@pytest.fixture(scope="module")
def table() -> pa.Table:
    return register(5000, seed=21)


@pytest.fixture(scope="module")
def direct(table: pa.Table) -> pa.Table:
    return plan_table(table, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US")


def test_every_engine_takes_under_twenty_lines() -> None:
    lengths = {name: len(ast.unparse(node).splitlines()) for name, node in FUNCTIONS.items()}
    assert {"planned_polars", "planned_duckdb", "planned_dask", "planned_spark"} == set(lengths)
    assert max(lengths.values()) < 20


def test_polars(page: dict[str, Any], table: pa.Table, direct: pa.Table) -> None:
    frame: pl.DataFrame = page["planned_polars"](pl.from_arrow(table))
    assert fingerprint(direct) == fingerprint(pa.table(frame))
    assert plain(direct).to_pylist() == frame.to_dicts()


def test_duckdb(page: dict[str, Any], table: pa.Table, direct: pa.Table) -> None:
    connection = duckdb.connect()
    connection.register("shown", table)
    connection.sql("CREATE TABLE guys AS SELECT * FROM shown")
    planned: duckdb.DuckDBPyRelation = page["planned_duckdb"]("SELECT * FROM guys ORDER BY joint_id DESC", connection)
    assert fingerprint(direct) == fingerprint(planned.to_arrow_table())


def test_sql_goes_on_with_the_answers(page: dict[str, Any], direct: pa.Table, table: pa.Table) -> None:
    connection = duckdb.connect()
    connection.register("shown", table)
    connection.sql("CREATE TABLE guys AS SELECT * FROM shown")
    planned: duckdb.DuckDBPyRelation = page["planned_duckdb"]("SELECT * FROM guys", connection)
    counts = dict(planned.aggregate("status, count(*)").fetchall())
    statuses = direct.column("status").to_pylist()
    assert {status: statuses.count(status) for status in set(statuses)} == counts
