"""Any row, of an input or of an output, back to the full scalar plan; numbers from 8 CCR 8497, Table 1."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa
import pytest
from tests.batch.files_register import INCH, OPTIONS, register, written

from turnback.batch import BatchOptions
from turnback.batch.explaining import explain_row
from turnback.batch.files import plan_file
from turnback.errors import InputError, OutOfTable
from turnback.quantities import Force, Length, Torque

ROWS = 350


@pytest.fixture(scope="module")
def table() -> pa.Table:
    return register(ROWS, seed=4)


def value(of: object) -> object:
    if isinstance(of, Length):
        return of.nanometres
    if isinstance(of, Torque):
        return of.newton_metres
    return of.newtons if isinstance(of, Force) else None


@pytest.mark.parametrize("form", ["parquet", "csv", "arrow"])
def test_every_row_explains_itself_from_input_and_output(tmp_path: Path, table: pa.Table, form: str) -> None:
    source = written(table, tmp_path / f"in.{form}", row_group=70)
    plan_file(source, tmp_path / f"out.{form}", OPTIONS)
    planned = 0
    for row in (0, 1, 69, 70, 71, 200, ROWS - 1):
        found = explain_row(source, row, OPTIONS)
        again = explain_row(tmp_path / f"out.{form}", row, OPTIONS)
        assert (found.status, found.answers, str(found.error)) == (again.status, again.answers, str(again.error))
        assert found.plan == again.plan
        answers = dict(found.answers)
        assert (found.plan is None) == bool(found.status.code) == (found.error is not None)
        diameter = table.column("rope_diameter_nm")[row].as_py()
        if found.plan is not None:
            planned += 1
            assert diameter == found.plan.clip_size.nanometres
            assert answers["clip_count"] == found.plan.clip_count
            for name in ("turn_back", "spacing", "rope_in_eye"):
                assert answers[f"{name}_nm"] == value(getattr(found.plan, name))
            assert answers["torque_newton_metre"] == value(found.plan.torque)
            assert len(found.plan.derivations) > 5
    assert planned


def test_a_row_of_the_printed_table(tmp_path: Path) -> None:
    """8 CCR 8497, Table 1: at 3/4 in 4 clips and 18 in; (18 - 2 x 2-1/4) / 3 = 4-1/2 in."""
    source = written(
        pa.table({"rope_diameter": ["1 in", "3/4 in"], "base_width_nm": [3 * INCH, 9 * INCH // 4]}), tmp_path / "in.csv"
    )
    plan = explain_row(source, 1, OPTIONS).plan
    assert plan is not None
    assert (4, Length.of("18 in"), Length.of("4-1/2 in")) == (plan.clip_count, plan.turn_back, plan.spacing)
    assert "8-ccr-8497" in {citation.source.id for citation in plan.derivations["turn_back"].citations}


def test_a_row_that_was_not_planned_says_why(tmp_path: Path) -> None:
    text = "rope_diameter_nm,base_width_nm,grade,tread_diameter_nm\n7937500,,EIP,\n,,EIP,\n19050000,57 mm,EIP,\n"
    (tmp_path / "in.csv").write_text(text + "19050000,,gold,\n19050000,,EIP,1000\n19 mm,,,\n", encoding="utf-8")
    wanted = [
        ("out-of-table", "nearest printed sizes"),
        ("size-missing", "rope's diameter is not given"),
        ("value-unreadable", "base_width_nm: the cell cannot be read. Given: '57 mm'"),
        ("unknown-word", "grade"),
        ("dimension-of-another-kind", "tread_diameter"),
        ("value-unreadable", "rope_diameter_nm: the cell cannot be read. Given: '19 mm'"),
    ]
    for row, (status, words) in enumerate(wanted):
        found = explain_row(tmp_path / "in.csv", row, OPTIONS)
        assert (status, None) == (found.status.name, found.plan)
        assert words in str(found.error)
        assert not any(answer for name, answer in found.answers if name != "status")
    assert isinstance(explain_row(tmp_path / "in.csv", 0, OPTIONS).error, OutOfTable)


def test_what_only_the_whole_row_shows(tmp_path: Path) -> None:
    source = written(
        pa.table({"rope_diameter": ["3/4 in", "3/4 in"], "clip_size": ["3/4 in", "1 in"]}), tmp_path / "in.parquet"
    )
    assert explain_row(source, 0, OPTIONS).plan is not None
    found = explain_row(source, 1, OPTIONS)
    assert ("other-clip-size", None) == (found.status.name, found.plan)
    assert "clips are of another size" in str(found.error)
    assert "1 in (25.4 mm)" in str(found.error)


@pytest.mark.parametrize("row", [-1, ROWS, 10**12, True])
@pytest.mark.parametrize("form", ["parquet", "csv", "arrow"])
def test_a_row_that_is_not_there(tmp_path: Path, table: pa.Table, form: str, row: int) -> None:
    with pytest.raises(InputError, match="no such row"):
        explain_row(written(table, tmp_path / f"in.{form}"), row, OPTIONS)


def test_strict_does_not_hide_what_is_asked_for(tmp_path: Path) -> None:
    source = written(pa.table({"rope_diameter": ["5/16 in"]}), tmp_path / "in.parquet")
    assert "out-of-table" == explain_row(source, 0, BatchOptions("u-bolt", "us-ca-8-8497", strict=True)).status.name
