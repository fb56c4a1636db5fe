"""Whatever the layout of the input in memory, however it is cut into batches, the answers are the same."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.batch.registers import OUTPUTS, Register, encoded, registers
from tests.companies import CATALOGUE

from turnback.batch import OUTPUT_COLUMNS, BatchOptions, BatchPlanner, plan_batches, plan_table
from turnback.batch.arrays import given_in, numbers_in

MM = 1_000_000
OPTIONS = BatchOptions("u-bolt", "us-ca-8-8497", service="guy")


def answers(table: pa.Table, options: BatchOptions = OPTIONS) -> list[dict[str, Any]]:
    planner = BatchPlanner(options, table.schema, CATALOGUE)
    batches = [planner.plan(batch) for batch in table.to_batches()]
    found: list[dict[str, Any]] = (
        pa.Table.from_batches(batches, planner.output_schema).select(list(OUTPUTS)).to_pylist()
    )
    return found


@settings(max_examples=60)
@given(registers(most_rows=20), st.data())
def test_batches_slices_and_chunks_change_nothing(register: Register, data: st.DataObject) -> None:
    table, options = register.table, register.options
    whole = answers(table, options)
    size = data.draw(st.integers(1, len(table)))
    assert whole == answers(pa.Table.from_batches(table.to_batches(max_chunksize=size), table.schema), options)
    start = data.draw(st.integers(0, len(table) - 1))
    stop = data.draw(st.integers(start, len(table)))
    # A slice keeps the buffers of the whole and an offset, of which three bits are of a byte.
    assert whole[start:stop] == answers(table.slice(start, stop - start), options)
    order = data.draw(st.permutations(range(len(table))))
    assert [whole[i] for i in order] == answers(table.take(order), options)


@settings(max_examples=60)
@given(registers(), st.lists(st.integers(0, 3), min_size=50, max_size=50))
def test_encodings_of_text_change_nothing(register: Register, how: list[int]) -> None:
    table = register.table
    again = table
    for i, name in enumerate(table.column_names):
        array = table.column(i).combine_chunks()
        other = encoded(array, how[i % len(how)])
        again = again.set_column(i, pa.field(name, other.type, metadata=table.schema.field(i).metadata), other)
    assert answers(table, register.options) == answers(again, register.options)


WHOLES = (pa.int8(), pa.int16(), pa.int32(), pa.int64(), pa.uint8(), pa.uint16(), pa.uint32(), pa.uint64())
FLOATS = (pa.float16(), pa.float32(), pa.float64())


@pytest.mark.parametrize("kind", [*WHOLES, *FLOATS, pa.decimal128(20, 3), pa.decimal256(40, 2), pa.decimal32(6, 1)])
def test_numbers_of_any_width_are_the_same_number(kind: pa.DataType) -> None:
    values = [20, 24, None, 40]
    cast = [None if v is None else Decimal(v) for v in values] if pa.types.is_decimal(kind) else values
    rope, width = (
        pa.field(name, of, metadata={"unit": "mm"}) for name, of in (("rope_diameter", kind), ("base_width", kind))
    )
    table = pa.table([pa.array(cast, kind), pa.array(cast[::-1], kind)], schema=pa.schema([rope, width]))
    options = BatchOptions("u-bolt", "en-13411-5")
    nanometres = pa.table(
        {
            "rope_diameter_nm": [None if v is None else v * MM for v in values],
            "base_width_nm": [None if v is None else v * MM for v in values[::-1]],
        }
    )
    assert answers(nanometres, options) == answers(table, options)
    assert 0 == answers(table, options)[0]["status"]


@pytest.mark.parametrize(
    ("unit", "half_inch"),
    [("in", 0.5), ("inch", 0.5), ("mm", 12.7), ("cm", 1.27), ("m", 0.0127), ("nm", 12_700_000.0), ("ft", 0.5 / 12)],
)
def test_a_length_in_any_unit_is_the_same_length(unit: str, half_inch: float) -> None:
    field = pa.field("rope_diameter", pa.float64(), metadata={"unit": unit})
    table = pa.table([pa.array([half_inch])], schema=pa.schema([field]))
    assert answers(pa.table({"rope_diameter": ["1/2 in"]})) == answers(table)


@pytest.mark.parametrize(
    ("unit", "load"), [("N", 17_792.886461042), ("kN", 17.792886461042), ("lbf", 4000.0), ("kip", 4.0)]
)
def test_a_force_in_any_unit_is_the_same_force(unit: str, load: float) -> None:
    """4000 lbf, by the exact definitions of the pound and of standard gravity (NIST SP 811)."""
    field = pa.field("minimum_breaking_force", pa.float64(), metadata={"unit": unit})
    schema = pa.schema([pa.field("rope_diameter_nm", pa.int64()), field])
    table = pa.table([pa.array([12_700_000]), pa.array([load])], schema=schema)
    text = pa.table({"rope_diameter_nm": [12_700_000], "minimum_breaking_force": ["4000 lbf"]})
    assert answers(text) == answers(table)
    assert 17_792.886461042 * 0.8 == pytest.approx(answers(text)[0]["termination_breaking_force_newton"], rel=1e-15)


def test_dictionaries_with_strange_insides() -> None:
    """Twice the same word, a word that nobody uses, a null among the words, a null index over garbage."""
    words = pa.array(["6x19", "nonsense", None, "6x19", "6x36WS"])
    indices = pa.array([0, 3, 2, 4, None], pa.int8())
    construction = pa.DictionaryArray.from_arrays(indices, words)
    plain = pa.array(["6x19", "6x19", None, "6x36WS", None])
    size = pa.array([12_700_000] * 5)
    names = ["rope_diameter_nm", "construction"]
    assert answers(pa.table([size, plain], names)) == answers(pa.table([size, construction], names))


def test_a_long_dictionary_is_read_only_where_it_is_used() -> None:
    words = pa.array([f"nonsense {i}" for i in range(5000)] + ["6x19"])
    construction = pa.DictionaryArray.from_arrays(pa.array([5000, None, 5000], pa.int16()), words)
    table = pa.table([pa.array([12_700_000] * 3), construction], ["rope_diameter_nm", "construction"])
    plain = pa.table({"rope_diameter_nm": [12_700_000] * 3, "construction": ["6x19", None, "6x19"]})
    assert answers(plain) == answers(table)


def test_dictionaries_of_numbers_and_nothing_but_nulls() -> None:
    size = pa.array([12_700_000, 19_050_000, 12_700_000]).dictionary_encode()
    nothing = pa.nulls(3)
    table = pa.table([size, nothing, nothing], ["rope_diameter_nm", "construction", "base_width_nm"])
    assert answers(pa.table({"rope_diameter_nm": size.dictionary_decode()})) == answers(table)
    lost = answers(pa.table({"rope_diameter_nm": pa.nulls(2)}))
    assert [1, 1] == [row["status"] for row in lost]


@settings(max_examples=40)
@given(registers())
def test_a_column_of_nulls_is_no_column(register: Register) -> None:
    """What is not given is not given, whether there is a column for it or not."""
    table, options = register.table, register.options
    missing = {
        "base_width_nm": pa.int64(), "load_newton": pa.float64(), "span_nm": pa.int64(), "core": pa.string(),
        "minimum_breaking_force_newton": pa.float64(), "design_factor": pa.float64(),
        "measured_diameter_nm": pa.int32(),
        "coating_diameter_nm": pa.int64(), "eye_stripped": pa.bool_(), "pin_nm": pa.int64(), "clip_size_nm": pa.int64(),
        "tread_diameter_nm": pa.uint64(), "parts_apart_nm": pa.int64(), "included_angle_radian": pa.float32(),
    }  # fmt: skip
    more = table
    for name, kind in missing.items():
        plain = name.removesuffix("_nm").removesuffix("_newton").removesuffix("_radian")
        if not any(each in table.column_names for each in (name, plain)):
            more = more.append_column(name, pa.nulls(len(table), kind))
    assert answers(table, options) == answers(more, options)


def test_other_columns_pass_through_untouched() -> None:
    others = {
        "id": pa.array(["a", None, "c"]),
        "when": pa.array([0, 1, None], pa.timestamp("ns", "UTC")),
        "nested": pa.array([{"a": [1, 2]}, None, {"a": []}]),
        "rules": pa.array(["other", None, "rules"]),
        "many": pa.array([[1], [2, 3], None], pa.large_list(pa.int8())),
        "extension": pa.array([b"1", None, b"3"], pa.binary(1)),
    }
    size = pa.field("rope_diameter_nm", pa.int64(), nullable=False, metadata={"seen": "by hand"})
    schema = pa.schema([*(pa.field(name, each.type) for name, each in others.items()), size], {"register": "north"})
    table = pa.table([*others.values(), pa.array([12_700_000, 13, 19_050_000])], schema=schema)
    found = plan_table(table, style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE)
    assert table.column_names + [name for name, _ in OUTPUT_COLUMNS] == found.column_names
    for i, name in enumerate(table.column_names):
        assert table.column(i).equals(found.column(name))
        assert schema.field(i).equals(found.schema.field(i), check_metadata=True)
    assert b"north" == found.schema.metadata[b"register"]


def test_no_rows_and_no_batches() -> None:
    empty = pa.table({"rope_diameter_nm": pa.array([], pa.int64()), "construction": pa.array([], pa.string())})
    found = plan_table(empty, style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE)
    assert 0 == found.num_rows
    assert [name for name, _ in OUTPUT_COLUMNS] == found.column_names[2:]
    assert [] == list(plan_batches([], style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE))
    batch = pa.RecordBatch.from_arrays([pa.array([], pa.int64()), pa.array([], pa.string())], schema=empty.schema)
    planner = BatchPlanner(OPTIONS, empty.schema, CATALOGUE)
    assert planner.output_schema.equals(planner.plan(batch).schema)


def test_more_rows_than_a_block() -> None:
    """The block boundary is no boundary."""
    rng = np.random.default_rng(1)
    rows = (1 << 16) + 1000
    size = np.array([12_700_000, 19_050_000, 13 * MM])[rng.integers(0, 3, rows)]
    mask = rng.random(rows) < 0.1
    width = pa.array(size * 2 + rng.integers(0, MM, rows), mask=mask)
    table = pa.table({"rope_diameter_nm": size, "base_width_nm": width})
    whole = answers(table)
    tail = answers(table.slice((1 << 16) - 300, 600))
    assert tail == whole[(1 << 16) - 300 : (1 << 16) + 300]
    assert {0, 7} == {row["status"] for row in whole}


def test_a_frame_that_made_floats_of_whole_numbers() -> None:
    """A missing base width turns the whole column of a frame into floats; each of them is exact."""
    frame = pd.DataFrame(
        {"rope_diameter_nm": [12_700_000, 19_050_000, 12_700_000], "base_width_nm": [35_000_001, None, 7]}
    )
    assert "float64" == str(frame["base_width_nm"].dtype)
    whole = pa.table({"rope_diameter_nm": [12_700_000, 19_050_000, 12_700_000], "base_width_nm": [35_000_001, None, 7]})
    assert answers(whole) == answers(pa.table(frame))
    # The same where what is missing comes as a number that is none.
    nan = pa.table({"rope_diameter_nm": whole["rope_diameter_nm"], "base_width_nm": [35_000_001.0, float("nan"), 7.0]})
    assert answers(whole) == answers(nan)
    assert answers(whole) != answers(whole.drop_columns("base_width_nm"))


def test_frames_go_in_by_the_c_stream() -> None:
    frame = pd.DataFrame({"rope_diameter_nm": [12_700_000, 19_050_000], "grade": ["EIP", None]})
    plain = {"rope_diameter_nm": [12_700_000, 19_050_000], "grade": ["EIP", None]}
    ours = plan_table(pa.table(plain), style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE).to_pylist()
    assert ours == plan_table(frame, style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE).to_pylist()
    reader = pa.RecordBatchReader.from_batches(pa.table(plain).schema, pa.table(plain).to_batches(max_chunksize=1))
    assert ours == plan_table(reader, style="u-bolt", rules="us-ca-8-8497", catalogue=CATALOGUE).to_pylist()


def test_columns_of_numbers_are_looked_at_where_they_are() -> None:
    """No copy of an input column: the view has the buffer's own address."""
    array = pa.array([1, 2, None, 4], pa.int64()).slice(1)
    view = numbers_in(array)
    assert array.buffers()[1].address + 8 == view.__array_interface__["data"][0]
    given = given_in(array, 0, 3)
    assert given is not None
    assert [True, False, True] == given.tolist()
    table = pa.table({"rope_diameter_nm": [12_700_000], "id": ["x"]})
    planned = BatchPlanner(OPTIONS, table.schema, CATALOGUE).plan(table.to_batches()[0])
    for i in range(2):
        before, after = table.to_batches()[0].column(i), planned.column(i)
        assert [b and b.address for b in before.buffers()] == [b and b.address for b in after.buffers()]


def test_nothing_but_zeros_stands_under_a_null() -> None:
    """So that the bytes of a file are the same for the same input."""
    table = pa.table({"rope_diameter_nm": [13 * MM, 12_700_000, None], "base_width_nm": [20 * MM, None, 30 * MM]})
    batch = BatchPlanner(OPTIONS, table.schema, CATALOGUE).plan(table.to_batches()[0])
    for name, kind in OUTPUT_COLUMNS:
        column = batch.column(name)
        if pa.types.is_integer(kind) or pa.types.is_floating(kind):
            held = numbers_in(column).tolist()
            assert all(held[i] == 0 for i in range(3) if not column[i].is_valid), name
