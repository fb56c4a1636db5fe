"""The fingerprint of rows: order, cuts and encodings do not change it, and every cell does."""

from __future__ import annotations

import datetime
import decimal
import hashlib
import math
import struct
from typing import Final

import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.batch.fingerprints import fingerprint, joined, row_hashes
from turnback.errors import InputError

WHOLE: Final = st.none() | st.integers(-(2**63), 2**63 - 1)
NUMBER: Final = st.none() | st.floats(allow_nan=True, width=64)
TEXT: Final = st.none() | st.text(max_size=20)
TAGS: Final = st.none() | st.lists(st.none() | st.text(max_size=3), max_size=3)
ROW: Final = st.tuples(WHOLE, NUMBER, TEXT, st.none() | st.booleans(), TAGS)
SCHEMA: Final = pa.schema(
    {
        "whole": pa.int64(),
        "number": pa.float64(),
        "text": pa.string(),
        "flag": pa.bool_(),
        "tags": pa.list_(pa.string()),
    }
)
Row = tuple[int | None, float | None, str | None, bool | None, list[str | None] | None]


def table(rows: list[Row]) -> pa.Table:
    columns = list(zip(*rows, strict=True)) or [()] * len(SCHEMA)
    return pa.table([pa.array(list(column), kind) for column, kind in zip(columns, SCHEMA.types, strict=True)], SCHEMA)


@settings(deadline=None)
@given(st.lists(ROW, max_size=12), st.randoms(use_true_random=False), st.integers(1, 5))
def test_neither_order_nor_cuts_change_it(rows: list[Row], shuffle: object, size: int) -> None:
    whole = fingerprint(table(rows))
    other = list(rows)
    shuffle.shuffle(other)  # type: ignore[attr-defined]  # a random.Random of hypothesis
    cut = table(other)
    assert whole == fingerprint(cut.to_batches(max_chunksize=size))
    assert whole == joined(fingerprint(cut.slice(start, size)) for start in range(0, len(rows), size))
    assert whole == fingerprint(cut.select(["tags", "flag", "text", "number", "whole"]))


@settings(deadline=None)
@given(st.lists(ROW, max_size=8), st.integers(0, 4))
def test_no_encoding_changes_it(rows: list[Row], skipped: int) -> None:
    plain = table(rows)
    encoded = plain
    for name in ("whole", "number", "text"):
        index = plain.schema.get_field_index(name)
        encoded = encoded.set_column(index, name, plain.column(name).dictionary_encode())
    large = plain.set_column(2, "text", plain.column("text").cast(pa.large_string()))
    large = large.set_column(4, "tags", plain.column("tags").cast(pa.large_list(pa.large_string())))
    assert fingerprint(plain) == fingerprint(encoded) == fingerprint(large)
    assert fingerprint(plain.slice(skipped)) == fingerprint(encoded.slice(skipped)) == fingerprint(large.slice(skipped))


@settings(deadline=None)
@given(st.lists(ROW, min_size=1, max_size=6), st.data())
def test_another_cell_is_another_fingerprint(rows: list[Row], data: st.DataObject) -> None:
    row, column = data.draw(st.integers(0, len(rows) - 1)), data.draw(st.integers(0, 4))
    cell = data.draw((WHOLE, NUMBER, TEXT, st.none() | st.booleans(), TAGS)[column])
    changed: list[Row] = list(rows)
    changed[row] = (*rows[row][:column], cell, *rows[row][column + 1 :])  # type: ignore[assignment]  # one cell is new
    same = bits(cell) == bits(rows[row][column])
    assert same == (fingerprint(table(rows)) == fingerprint(table(changed)))


def bits(cell: object) -> object:
    return struct.pack("<d", cell) if isinstance(cell, float) else cell


def test_cells_that_change_places_change_it() -> None:
    one = pa.table({"a": [1, 2], "b": ["x", "y"]})
    assert fingerprint(one) != fingerprint(pa.table({"a": [1, 2], "b": ["y", "x"]}))
    assert fingerprint(pa.table({"a": [1], "b": [2]})) != fingerprint(pa.table({"a": [2], "b": [1]}))
    assert fingerprint(one) != fingerprint(one.rename_columns(["a", "c"]))
    assert fingerprint(one) != fingerprint(pa.concat_tables([one, one.slice(0, 1)]))


def test_widths_do_not_count_and_kinds_do() -> None:
    def of(values: list[object], kind: pa.DataType) -> int:
        return fingerprint(pa.table({"a": pa.array(values, kind)}))

    small: list[object] = [-1, 0, None, 5]
    assert 1 == len({of(small, kind) for kind in (pa.int8(), pa.int16(), pa.int32(), pa.int64())})
    assert of([1, 5], pa.uint8()) == of([1, 5], pa.int64()) == of([1, 5], pa.uint64())
    assert of([0.5, None], pa.float32()) == of([0.5, None], pa.float64())
    assert 6 == len(
        {
            of([1], pa.int8()),
            of([1.0], pa.float64()),
            of([True], pa.bool_()),
            of(["1"], pa.string()),
            of([b"1"], pa.binary()),
            of([datetime.date(1970, 1, 2)], pa.date32()),
        }
    )


def test_numbers_count_by_their_bits() -> None:
    marks = {fingerprint(pa.table({"a": [value]})) for value in (0.0, -0.0, math.nan, math.inf, -math.inf, 5e-324)}
    assert 6 == len(marks)


def test_a_null_is_not_an_empty_text_and_texts_end_where_they_end() -> None:
    texts = [None, "", "\0", "\0" * 8, "\0" * 9, "a" * 7, "a" * 8, "a" * 9, "a" * 16, "a" * 17]
    assert len(texts) == len({fingerprint(pa.table({"a": pa.array([text], pa.string())})) for text in texts})
    lists = [None, [], [None], [""], ["a", "b"], ["b", "a"], ["ab"]]
    assert len(lists) == len({fingerprint(pa.table({"a": pa.array([x], pa.list_(pa.string()))})) for x in lists})


def test_other_kinds_of_columns() -> None:
    moment = datetime.datetime(2026, 1, 1)
    data = pa.table(
        {
            "when": pa.array([moment, None], pa.timestamp("us")),
            "exact": pa.array([decimal.Decimal("1.50"), None]),
            "nothing": pa.nulls(2),
            "pair": pa.array([{"a": 1, "b": "x"}, None]),
        }
    )
    assert fingerprint(data) == fingerprint(data.take([1, 0]))
    for name, other in (("pair", {"a": 1, "b": "y"}), ("exact", decimal.Decimal("1.51"))):
        index = data.schema.get_field_index(name)
        changed = data.set_column(index, name, pa.array([other, None], data.schema.field(name).type))
        assert fingerprint(data) != fingerprint(changed)
    strange = pa.table({"span": pa.array([(1, 2, 3)], pa.month_day_nano_interval())})
    with pytest.raises(InputError, match="span: a column of this type has no fingerprint"):
        fingerprint(strange)


def test_no_rows_and_the_hash_of_one() -> None:
    assert 0 == fingerprint(pa.table({"a": pa.array([], pa.int64())})) == joined([])
    batch = pa.record_batch({"a": [1, 1, 2]})
    first, second, third = row_hashes(batch).tolist()
    assert first == second != third
    assert (2 * first + third) % 2**64 == fingerprint(batch)


# --- the same in plain Python, from the description ---

FULL: Final = 2**64 - 1


def mixed(value: int) -> int:
    value = (value + 0x9E3779B97F4A7C15) & FULL
    value = ((value ^ (value >> 30)) * 0xBF58476D1CE4E5B9) & FULL
    value = ((value ^ (value >> 27)) * 0x94D049BB133111EB) & FULL
    return value ^ (value >> 31)


def seed(text: str) -> int:
    return int.from_bytes(hashlib.blake2b(text.encode(), digest_size=8).digest(), "little")


def cell_hash(cell: int | float | str | None) -> int:
    if cell is None:
        return 0x6E756C6C
    if isinstance(cell, int):
        return (cell & FULL) ^ seed("whole")
    if isinstance(cell, float):
        return int.from_bytes(struct.pack("<d", cell), "little") ^ seed("number")
    data = cell.encode()
    found = len(data) ^ seed("text")
    for start in range(0, len(data), 8):
        found = mixed(found ^ int.from_bytes(data[start : start + 8], "little"))
    return found


@settings(deadline=None)
@given(st.lists(st.tuples(WHOLE, NUMBER, TEXT), max_size=6))
def test_it_is_what_plain_python_makes_of_it(rows: list[tuple[int | None, float | None, str | None]]) -> None:
    full: list[Row] = [(*row, None, None) for row in rows]
    expected = 0
    for row in rows:
        cells = dict(zip(("whole", "number", "text"), row, strict=True))
        total = sum(mixed(cell_hash(cell) ^ seed(name)) for name, cell in cells.items()) & FULL
        expected += mixed(total)
    assert expected % 2**64 == fingerprint(table(full).select(["whole", "number", "text"]))
