"""What goes in and what comes out: names, types, units, options, errors before the first row, provenance."""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import pyarrow as pa
import pytest
from tests.batch.registers import OUTPUTS
from tests.companies import CATALOGUE

import turnback.batch
from turnback import __version__
from turnback.batch import (
    INPUT_COLUMNS,
    OUTPUT_COLUMNS,
    BatchOptions,
    BatchPlanner,
    plan_batches,
    plan_table,
    request_of_row,
)
from turnback.errors import InputError, TurnbackError, UnknownRuleSet, UnknownStyle
from turnback.planning.build import plan_request
from turnback.planning.request import MakerFigures
from turnback.review.register import REGISTER_COLUMNS
from turnback.rules.selection import governing

MM = 1_000_000
OPTIONS = BatchOptions("u-bolt", "us-ca-8-8497")
SIZE = pa.field("rope_diameter_nm", pa.int64())


def planner(*fields: pa.Field, options: BatchOptions = OPTIONS) -> BatchPlanner:
    return BatchPlanner(options, pa.schema(fields), CATALOGUE)


def untouched() -> Iterator[pa.RecordBatch]:
    """Batches that nobody may ask for."""
    for each in [pa.record_batch({"rope_diameter_nm": [1]})]:
        assert each is None, "a row was asked for"
        yield each


def field(name: str, kind: pa.DataType, unit: str | None = None) -> pa.Field:
    return pa.field(name, kind, metadata=None if unit is None else {"unit": unit})


def test_the_inputs_are_the_columns_of_the_register() -> None:
    """From the rope's diameter to the load; what is left out is said in the columns' own documentation."""
    names = list(REGISTER_COLUMNS)
    inputs = names[names.index("rope_diameter_nm") : names.index("load_newton") + 1]
    known = {column.exact_name for column in INPUT_COLUMNS}
    assert {"rules"} == set(inputs) - known
    assert {"design_factor", "span_nm"} == known - set(inputs)


def test_the_output_has_its_columns_in_order() -> None:
    assert list(OUTPUTS) == [name for name, _ in OUTPUT_COLUMNS]
    schema = planner(pa.field("id", pa.string()), SIZE).output_schema
    assert ["id", "rope_diameter_nm", *OUTPUTS] == schema.names
    assert [kind for _, kind in OUTPUT_COLUMNS] == schema.types[2:]
    batch = pa.RecordBatch.from_arrays(
        [pa.array(["a"]), pa.array([12_700_000])], schema=pa.schema([pa.field("id", pa.string()), SIZE])
    )
    assert schema.equals(planner(pa.field("id", pa.string()), SIZE).plan(batch).schema, check_metadata=True)


def test_every_number_is_that_of_print() -> None:
    """8 CCR 8497, Table 1: 1/2 in takes 3 clips, 11-1/2 in of turn-back and 65 lbf·ft; 80 % of 118 kN hold."""
    table = pa.table(
        {"rope_diameter": ["1/2 in"], "minimum_breaking_force_newton": [100_000.0], "base_width": ["1-1/2 in"],
         "span_nm": [10_000 * MM], "inside_length": ["3 in"], "inside_width": ["1-1/2 in"], "groove_offset": ["1/8 in"]}
    )  # fmt: skip
    row = plan_table(table, style="u-bolt", rules="us-ca-8-8497", service="guy", jurisdiction="US", catalogue=CATALOGUE)
    found = row.to_pylist()[0]
    assert 3 == found["clip_count"]
    assert 292_100_000 == found["turn_back_nm"]  # 11-1/2 in
    assert (292_100_000 - 2 * 38_100_000) // 2 == found["spacing_nm"]
    assert 65 * 1.3558179483314004 == pytest.approx(found["torque_newton_metre"], rel=1e-15)  # 65 lbf·ft
    assert 80_000.0 == found["termination_breaking_force_newton"]
    reaches, eyes = 2 * 76_200_000, 2 * found["rope_in_eye_nm"]
    assert 10_000 * MM - reaches + eyes + 2 * 292_100_000 == found["cut_length_nm"]


# --- errors before the first row ---


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ([field("id", pa.string())], "the rope's diameter is missing"),
        ([], "the rope's diameter is missing"),
        ([field("Rope_diameter_nm", pa.int64())], "the rope's diameter is missing"),
        ([SIZE, field("rope_diameter", pa.string())], "stands in two columns"),
        ([SIZE, SIZE], "stands in two columns"),
        ([SIZE, field("load", pa.float64(), "N"), field("load_newton", pa.float64())], "stands in two columns"),
        ([field("rope_diameter", pa.float64())], "without a unit"),
        ([SIZE, field("base_width", pa.int32())], "without a unit"),
        ([SIZE, field("load", pa.float64())], "without a unit"),
        ([field("rope_diameter", pa.float64(), "furlong")], "none that is read here"),
        ([field("rope_diameter", pa.float64(), "N")], "none that is read here"),
        ([field("rope_diameter", pa.float64(), "MM")], "none that is read here"),
        ([field("rope_diameter_nm", pa.int64(), "mm")], "none that is read here"),
        ([SIZE, field("load", pa.float64(), "kg")], "none that is read here"),
        ([SIZE, field("load_newton", pa.float64(), "kN")], "none that is read here"),
        ([SIZE, field("base_width", pa.string(), "mm")], "carries its own units"),
        ([field("rope_diameter_nm", pa.decimal128(20, 2))], "of another type"),
        ([field("rope_diameter_nm", pa.string())], "of another type"),
        ([field("rope_diameter", pa.bool_())], "of another type"),
        ([SIZE, field("extra_clips", pa.decimal128(3, 0))], "of another type"),
        ([SIZE, field("design_factor", pa.string())], "of another type"),
        ([SIZE, field("construction", pa.int64())], "of another type"),
        ([SIZE, field("rotation_resistant", pa.int8())], "of another type"),
        ([SIZE, field("load_newton", pa.string())], "of another type"),
        ([SIZE, field("span_nm", pa.timestamp("ns"))], "of another type"),
        ([SIZE, field("base_width_nm", pa.list_(pa.int64()))], "of another type"),
        ([SIZE, field("status", pa.string())], "the output adds a column of this name"),
        ([SIZE, field("turn_back_nm", pa.int64())], "the output adds a column of this name"),
    ],
)
def test_a_schema_that_cannot_be_planned_from(fields: list[pa.Field], said: str) -> None:
    with pytest.raises(InputError, match=said):
        planner(*fields)


@pytest.mark.parametrize(
    ("name", "option"),
    [("service", "guy"), ("jurisdiction", "US"), ("clip_body", "forged"), ("termination", "soft eye")],
)
def test_an_option_and_a_column_of_one_name(name: str, option: str) -> None:
    with pytest.raises(InputError, match="given for all rows and as a column") as caught:
        planner(SIZE, field(name, pa.string()), options=BatchOptions("u-bolt", "us-ca-8-8497", **{name: option}))  # type: ignore[arg-type]  # every one of them is text
    assert name == caught.value.field
    planner(SIZE, field(name, pa.string()))


@pytest.mark.parametrize(
    ("given", "kind"),
    [
        ({"style": "no-such-style"}, UnknownStyle), ({"rules": "no-such-rules"}, UnknownRuleSet),
        ({"rules": "us-ca-8-8497+no-such-rules"}, UnknownRuleSet), ({"rules": "us-ca-8-8497-t2"}, InputError),
        ({"rules": "common-practice-efficiency"}, InputError), ({"service": "no-such-service"}, InputError),
        ({"jurisdiction": "no-such-place"}, InputError), ({"termination": "no-such-eye"}, InputError),
        ({"clip_body": "no-such-body"}, InputError), ({"efficiency_basis": "no-such-basis"}, UnknownRuleSet),
        ({"efficiency_basis": "us-ca-8-8497"}, InputError),
        ({"style": 5}, InputError), ({"rules": None}, InputError), ({"strict": 1}, InputError),
        ({"maker": "x"}, InputError),
    ],
)  # fmt: skip
def test_options_that_cannot_be_planned_with(given: dict[str, Any], kind: type[TurnbackError]) -> None:
    options: dict[str, Any] = {"style": "u-bolt", "rules": "us-ca-8-8497", "catalogue": CATALOGUE, **given}

    with pytest.raises(kind):
        plan_batches(untouched(), **options)


def test_what_is_no_table_and_what_is_no_batch() -> None:
    with pytest.raises(InputError, match="this is no table"):
        plan_table({"rope_diameter_nm": [1]}, style="u-bolt", rules="us-ca-8-8497")
    with pytest.raises(InputError, match="another kind"):
        planner(SIZE).plan([1, 2, 3])
    with pytest.raises(InputError, match="another schema"):
        planner(SIZE).plan(pa.record_batch({"rope_diameter_nm": pa.array([1], pa.int32())}))
    with pytest.raises(InputError, match="another kind"):
        BatchPlanner({"style": "u-bolt"}, pa.schema([SIZE]))  # type: ignore[arg-type]  # on purpose


def test_a_reader_is_checked_before_it_is_read() -> None:
    reader = pa.RecordBatchReader.from_batches(pa.schema([field("id", pa.string())]), untouched())
    with pytest.raises(InputError, match="diameter is missing"):
        plan_batches(reader, style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE)


def test_batches_come_out_as_they_are_asked_for() -> None:
    taken: list[int] = []

    def batches() -> Iterator[pa.RecordBatch]:
        for i in range(3):
            taken.append(i)
            yield pa.record_batch({"rope_diameter_nm": [12_700_000 + i]})

    found = plan_batches(batches(), style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE)
    assert [] == taken
    assert [0] == next(found).column("status").to_pylist()
    assert [0] == taken
    assert [[7], [7]] == [each.column("status").to_pylist() for each in found]


def test_strict_tables_count_every_row() -> None:
    table = pa.table({"rope_diameter_nm": [1, 12_700_000, None]})
    batches = pa.Table.from_batches(table.to_batches(max_chunksize=1))
    with pytest.raises(InputError, match="2 of 3 rows were not planned: 1 size-missing, 1 out-of-table"):
        plan_table(batches, style="u-bolt", rules="us-ca-8-8497", strict=True, catalogue=CATALOGUE)
    with pytest.raises(InputError, match="1 of 1 rows were not planned: 1 out-of-table"):
        list(plan_batches(batches.to_batches(), style="u-bolt", rules="us-ca-8-8497", strict=True, catalogue=CATALOGUE))


# --- provenance ---


def test_provenance_names_every_rule_file() -> None:
    options = BatchOptions("u-bolt", governing("us-ca-8-8497", "us-osha-1926-251"), service="guy", jurisdiction="US")
    said = json.loads(planner(SIZE, options=options).output_schema.metadata[b"turnback"])
    assert __version__ == said["version"]
    assert ("u-bolt", "us-ca-8-8497+us-osha-1926-251") == (said["style"], said["rules"])
    assert "guy" == said["options"]["service"]
    for named in said["rule_sets"]:
        rules = CATALOGUE.rule_set(named["id"])
        assert (rules.sha256, rules.source.edition) == (named["sha256"], named["edition"])
        assert 64 == len(named["sha256"])
        assert named["citation"]
    assert ["us-ca-8-8497", "us-osha-1926-251"] == [named["id"] for named in said["rule_sets"]]


def test_provenance_is_the_same_bytes_for_the_same_run() -> None:
    one, other = (planner(SIZE).output_schema.metadata[b"turnback"] for _ in range(2))
    assert one == other
    assert one != planner(SIZE, options=BatchOptions("u-bolt", "en-13411-5")).output_schema.metadata[b"turnback"]


# --- one row, and the options themselves ---


def test_a_row_is_explained_by_its_request() -> None:
    table = pa.table({"rope_diameter": ["3/4 in"], "base_width": ["2-1/4 in"], "grade": ["XIP"], "extra_clips": [1]})
    options = BatchOptions("u-bolt", "us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US")
    request = request_of_row(table.to_pylist()[0], table.schema, options)
    assert (19_050_000, "EIP", 1) == (request.rope.diameter.nanometres, request.rope.grade, request.extra_clips)
    found = plan_table(
        table, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", service="guy", jurisdiction="US"
    )
    assert plan_request(request).clip_count == found.to_pylist()[0]["clip_count"] == 5


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"rope_diameter": None, "core": None}, "not given"),
        ({"rope_diameter": "13", "core": None}, "no unit"),
        ({"rope_diameter": "1/2 in", "core": "steel"}, "closed list"),
    ],
)
def test_a_bad_row_raises_the_teaching_error(row: dict[str, Any], said: str) -> None:
    schema = pa.schema([field("rope_diameter", pa.string()), field("core", pa.string())])
    with pytest.raises(InputError, match=said):
        request_of_row(row, schema, OPTIONS, CATALOGUE)


def test_a_makers_figures_hold_for_every_row() -> None:
    maker = MakerFigures("invented sheet 1, page 1", torque="90 N·m", threads="dry", efficiency="70 %")
    table = pa.table({"rope_diameter_nm": [12_700_000, 19_050_000], "minimum_breaking_force_newton": [1e5, 2e5]})
    found = plan_table(
        table, style="u-bolt", rules="us-ca-8-8497", maker=maker, service="guy", jurisdiction="US", catalogue=CATALOGUE
    )
    assert [90.0, 90.0] == found.column("torque_newton_metre").to_pylist()
    assert [70_000.0, 140_000.0] == pytest.approx(found.column("termination_breaking_force_newton").to_pylist())


def test_options_can_be_sent_to_another_process() -> None:
    options = BatchOptions(
        "u-bolt",
        governing("us-ca-8-8497", CATALOGUE.rule_set("en-13411-5")),
        maker=MakerFigures("sheet 1"),
        strict=True,
    )
    assert options == pickle.loads(pickle.dumps(options))


def test_what_is_public_is_listed() -> None:
    assert sorted(turnback.batch.__all__, key=str.lower) == sorted(set(turnback.batch.__all__), key=str.lower)
    assert all(hasattr(turnback.batch, name) for name in turnback.batch.__all__)


@pytest.mark.parametrize("missing", ["numpy", "pyarrow"])
def test_without_its_libraries_it_says_what_to_install(missing: str) -> None:
    code = (
        f"import sys; sys.modules[{missing!r}] = None\n"
        "try:\n    import turnback.batch\nexcept ImportError as error:\n"
        "    from turnback.errors import TurnbackError\n"
        "    print(isinstance(error, TurnbackError), error)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("True ")
    assert "pip install 'turnback[batch]'" in done.stdout


def test_the_face_loads_neither_numpy_nor_pyarrow() -> None:
    code = "import sys, turnback; turnback.plan; print([n for n in ('numpy', 'pyarrow') if n in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "[]" == done.stdout.strip()
