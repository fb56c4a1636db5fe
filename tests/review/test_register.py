"""The register: one row a joint, readable by machines that know nothing of us."""

from __future__ import annotations

import csv
import datetime
import sys
from collections.abc import Callable
from pathlib import Path

import attrs
import pytest
from hypothesis import given
from tests.review.joints import as_planned, plan, request
from tests.review.test_record import record
from tests.strategies import planned, requests

from turnback.errors import InputError
from turnback.model.terminations import LinkedEyes, PulleyEye, ThimbleEye
from turnback.planning.request import Request
from turnback.review.record import Record
from turnback.review.register import REGISTER_COLUMNS, register_rows, write_register_csv, write_register_parquet

TYPES = {"text": str, "whole": int, "number": float, "flag": bool, "day": datetime.date}


def test_a_row_by_hand() -> None:
    (row,) = register_rows([record()])
    assert list(REGISTER_COLUMNS) == list(row)
    expected = {
        "joint_id": "guy 7, lower end",
        "rope_diameter_nm": 19_050_000,
        "construction": "6x19",
        "core": "IWRC",
        "grade": "EIP",
        "termination": "thimble eye",
        "inside_length_nm": 95_250_000,
        "inside_width_nm": 60_325_000,
        "groove_offset_nm": 3_175_000,
        "base_width_nm": 57_150_000,
        "rules": "us-ca-8-8497",
        "service": "guy",
        "clip_count": 4,
        "turn_back_nm": 457_200_000,
        "made_by": "rigger 7",
        "clip_certificates": "clip certificate 3; clip certificate 4",
        "made_on": datetime.date(2031, 5, 9),
        "next_torque_check": datetime.date(2031, 6, 10),
        "rope_left_nm": 2_438_400_000,
        "remakes_left": 2,
        "in_service": "keep",
        "deviations": None,
        "still_to_measure": 0,
        "minimum_breaking_force_newton": None,
    }
    assert expected == {column: row[column] for column in expected}


@pytest.mark.parametrize("write", [write_register_csv, write_register_parquet])
def test_arguments_that_changed_places_are_told_so(tmp_path: Path, write: Callable[..., None]) -> None:
    path = tmp_path / "register.csv"
    with pytest.raises(InputError, match="the path, then the records"):
        write([record()], path)
    for strange in (record(), "register.csv", [record(), "guy 8"], None):
        with pytest.raises(InputError, match="made of records") as caught:
            write(path, strange)
        assert "iterable of Record" in str(caught.value)
    assert not path.exists()


def test_every_kind_of_eye_has_its_columns() -> None:
    pulley = plan(request(termination=PulleyEye("8 in")))
    linked = plan(request(termination=LinkedEyes(ThimbleEye(), ThimbleEye("3-3/4 in"))))
    rows = register_rows([Record("pulley 1", pulley), Record("linked 1", linked)])
    assert [(203_200_000, None), (None, 95_250_000)] == [
        (row["tread_diameter_nm"], row["second_inside_length_nm"]) for row in rows
    ]


@given(requests(maker=None))
def test_every_cell_is_of_the_type_of_its_column(request: Request) -> None:
    (row,) = register_rows([Record("joint 1", planned(request))])
    for column, kind in REGISTER_COLUMNS.items():
        assert row[column] is None or TYPES[kind] is type(row[column])


def test_one_joint_stands_once() -> None:
    with pytest.raises(InputError, match="one joint id") as caught:
        register_rows([record(), record()])
    assert "guy 7, lower end" == caught.value.value


def test_csv_is_read_back_by_the_standard_library(tmp_path: Path) -> None:
    path = tmp_path / "register.csv"
    hostile = attrs.evolve(record(), joint_id='guy "8", é', made_by="rigger 7, shift 2")
    write_register_csv(path, [record(), hostile])
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert ["guy 7, lower end", 'guy "8", é'] == [row["joint_id"] for row in rows]
    assert ("19050000", "2031-05-09", "", "0") == (
        rows[0]["rope_diameter_nm"],
        rows[0]["made_on"],
        rows[0]["minimum_breaking_force_newton"],
        rows[0]["extra_clips"],
    )
    assert set(REGISTER_COLUMNS) == set(rows[0])


def test_csv_has_the_same_bytes_each_time(tmp_path: Path) -> None:
    one, other = tmp_path / "1.csv", tmp_path / "2.csv"
    write_register_csv(one, [record()])
    write_register_csv(other, [record()])
    assert one.read_bytes() == other.read_bytes()
    assert b"\r" not in one.read_bytes()


def test_a_register_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written") as caught:
        write_register_csv(tmp_path / "no folder" / "register.csv", [record()])
    assert "path" == caught.value.field


def test_parquet_is_read_back_by_pyarrow(tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    path = tmp_path / "register.parquet"
    write_register_parquet(path, [record(), Record("guy 8")])
    table = parquet.read_table(path)
    assert list(REGISTER_COLUMNS) == table.column_names
    assert list(register_rows([record(), Record("guy 8")])) == table.to_pylist()
    kinds = {"text": "string", "whole": "int64", "number": "double", "flag": "bool", "day": "date32[day]"}
    assert [kinds[kind] for kind in REGISTER_COLUMNS.values()] == [str(field.type) for field in table.schema]


def test_without_pyarrow_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(InputError, match=r"turnback\[batch\]"):
        write_register_parquet(tmp_path / "register.parquet", [record()])


def test_a_joint_with_deviations_lists_their_codes() -> None:
    readings = attrs.evolve(as_planned(plan()), turn_back="17 in", saddles=["dead part", *["live part"] * 3])
    (row,) = register_rows([Record("guy 9", plan(), readings)])
    assert ("out of service", "clip-reversed; turn-back-short; clip-past-the-base") == (
        row["in_service"],
        row["deviations"],
    )
