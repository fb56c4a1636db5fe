"""Every column that is read, in every form it may have, against every sort of cell that is no good value.

The status of each is that of the documentation (``docs/reference/batch-statuses``): nothing given is nothing given,
what is not finite or not of the accepted forms cannot be read, what is zero, negative or beyond every bound is out of
bounds, a word of no closed list is unknown. The rows above and below are as if they stood alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final

import pyarrow as pa
import pytest
from tests.batch.registers import OUTPUTS
from tests.companies import CATALOGUE

from turnback.batch import INPUT_COLUMNS, BatchOptions, BatchPlanner, InputColumn, Status

MM: Final = 1_000_000
HALF_INCH: Final = 12_700_000
NAN, INF = float("nan"), float("inf")
NOTHING: Final = "as if it was not given"
UNREAD, BOUNDS, WORD = Status.VALUE_UNREADABLE, Status.VALUE_OUT_OF_BOUNDS, Status.UNKNOWN_WORD

GOOD: Final[dict[str, Any]] = {
    "rope_diameter": HALF_INCH, "construction": "6x19", "core": "IWRC", "grade": "EIP", "lay": "right regular",
    "outer_wires": "ordinary", "finish": "bright", "condition": "new", "rotation_resistant": False, "preformed": True,
    "measured_diameter": HALF_INCH, "coating_diameter": 15 * MM, "coating_stripped": True, "eye_stripped": True,
    "minimum_breaking_force": 100_000.0, "rope_certificate": "certificate 4711 (invented)",
    "termination": "thimble eye", "inside_length": 70 * MM, "inside_width": 38 * MM, "groove_offset": 3 * MM,
    "second_inside_length": 70 * MM, "second_inside_width": 38 * MM, "second_groove_offset": 3 * MM,
    "pin": 60 * MM, "eye_length": 150 * MM, "tread_diameter": 300 * MM, "included_angle": 1.0,
    "parts_apart": 20 * MM, "style": "u-bolt", "clip_body": "forged", "clip_size": HALF_INCH, "base_width": 35 * MM,
    "service": "guy", "jurisdiction": "US", "extra_clips": 1, "load": 5_000.0, "design_factor": 6.0, "span": 9_000 * MM,
}  # fmt: skip
"""A value of each column that is taken, in nanometres, newton or radian."""
BESIDE: Final[dict[str, tuple[str, ...]]] = {
    "coating_stripped": ("coating_diameter",), "eye_stripped": ("coating_diameter", "coating_stripped"),
    "coating_diameter": ("coating_stripped",), "parts_apart": ("inside_length", "inside_width"),
}  # fmt: skip
"""What must be given beside a column, for the row to be a good one."""
KINDS: Final[dict[str, str]] = {
    "second_inside_length": "linked eyes", "second_inside_width": "linked eyes", "second_groove_offset": "linked eyes",
    "pin": "soft eye", "eye_length": "soft eye", "tread_diameter": "pulley eye", "included_angle": "pulley eye",
    "parts_apart": "plate eye",
}  # fmt: skip

Bad = tuple[Any, Status | str]
TEXT_LENGTHS: Final[tuple[Bad, ...]] = (
    (None, NOTHING), ("", NOTHING), ("nan", UNREAD), ("inf", UNREAD), ("-inf mm", UNREAD), ("-3 mm", UNREAD),
    ("13", UNREAD), ("3 furlong", UNREAD), ("0 mm", BOUNDS), ("2000000 m", BOUNDS),
)  # fmt: skip
TEXT_FORCES: Final[tuple[Bad, ...]] = (
    (None, NOTHING), ("", NOTHING), ("nan N", UNREAD), ("inf", UNREAD), ("-3 kN", UNREAD), ("13", UNREAD),
    ("3 ton", UNREAD), ("0 N", BOUNDS),
)  # fmt: skip
TEXT_ANGLES: Final[tuple[Bad, ...]] = (
    (None, NOTHING), ("", NOTHING), ("nan deg", UNREAD), ("inf", UNREAD), ("-3 deg", UNREAD), ("60", UNREAD),
    ("3 grad", UNREAD), ("0 deg", BOUNDS), ("170 deg", BOUNDS),
)  # fmt: skip
FLOATS: Final[tuple[Bad, ...]] = (
    (None, NOTHING), (NAN, UNREAD), (INF, UNREAD), (-INF, UNREAD), (0.0, BOUNDS), (-0.0, BOUNDS), (-1.0, BOUNDS),
    (-1e300, BOUNDS),
)  # fmt: skip
HUGE: Final[tuple[Bad, ...]] = ((1e300, BOUNDS),)
COUNTED: Final[tuple[Bad, ...]] = (
    (None, NOTHING), (NAN, NOTHING), (INF, UNREAD), (-INF, UNREAD), (1.5, UNREAD), (-1.5, UNREAD), (-1.0, BOUNDS),
    (1e300, BOUNDS),
)  # fmt: skip
WHOLES: Final[tuple[Bad, ...]] = ((None, NOTHING), (-1, BOUNDS), (-(2**62), BOUNDS), (2**62, BOUNDS))
DECIMALS: Final[tuple[Bad, ...]] = (
    (None, NOTHING), (Decimal(0), BOUNDS), (Decimal(-1), BOUNDS), (Decimal(10) ** 20, BOUNDS)
)  # fmt: skip

Form = tuple[str, pa.DataType, str, tuple[Bad, ...]]
"""Ending of the name, type, unit in the metadata, cells."""


def forms(column: InputColumn) -> tuple[Form, ...]:
    exact = column.exact_name.removeprefix(column.name)
    if column.kind == "length":
        return (
            (exact, pa.int64(), "", (*WHOLES, (0, BOUNDS))),
            (exact, pa.float64(), "", (*COUNTED, (0.0, BOUNDS))),
            ("", pa.float64(), "mm", (*FLOATS, *HUGE)),
            ("", pa.decimal128(38, 6), "mm", DECIMALS),
            ("", pa.string(), "", TEXT_LENGTHS),
        )
    if column.kind == "force":
        return (
            (exact, pa.float64(), "", FLOATS),
            (exact, pa.int64(), "", ((None, NOTHING), (0, BOUNDS), (-1, BOUNDS))),
            ("", pa.float64(), "kN", FLOATS),
            ("", pa.string(), "", TEXT_FORCES),
        )
    if column.kind == "angle":
        return (
            (exact, pa.float64(), "", (*FLOATS, *HUGE, (3.0, BOUNDS))),
            ("", pa.float64(), "deg", (*FLOATS, *HUGE, (170.0, BOUNDS))),
            ("", pa.string(), "", TEXT_ANGLES),
        )
    if column.kind == "number":
        return (
            ("", pa.float64(), "", (*FLOATS, *HUGE, (0.5, BOUNDS), (2.0, Status.INPUT_REFUSED))),
            ("", pa.int64(), "", ((None, NOTHING), (0, BOUNDS), (-1, BOUNDS), (2**62, BOUNDS))),
        )
    if column.kind == "whole":
        return (("", pa.int64(), "", (*WHOLES, (101, BOUNDS))), ("", pa.float64(), "", (*COUNTED, (101.0, BOUNDS))))
    if column.kind == "flag":
        return (("", pa.bool_(), "", ((None, NOTHING),)),)
    if column.name == "rope_certificate":
        words: tuple[Bad, ...] = (("x" * 201, BOUNDS),)
    else:
        words = (("no such word", Status.OTHER_STYLE if column.name == "style" else WORD),)
    return (("", pa.string(), "", ((None, NOTHING), ("", NOTHING), *words)),)


def every_case() -> Iterator[Any]:
    for column in INPUT_COLUMNS:
        for ending, kind, unit, cells in forms(column):
            for cell, status in cells:
                name = f"{column.name}{ending} {kind} {unit or 'plain'} {str(cell)[:20]!r}"
                yield pytest.param(column, ending, kind, unit, cell, status, id=name)


def as_form(column: InputColumn, kind: pa.DataType, unit: str) -> Any:
    """The good value in the form of the column."""
    value = GOOD[column.name]
    if column.kind not in ("length", "force", "angle"):
        return value
    if pa.types.is_string(kind):
        return {"length": f"{Decimal(value) / MM} mm", "force": f"{value} N", "angle": f"{value} rad"}[column.kind]
    if pa.types.is_decimal(kind):
        return Decimal(value) / MM
    scaled = value / {"mm": MM, "kN": 1000, "deg": 0.017453292519943295}.get(unit, 1)
    return int(scaled) if pa.types.is_integer(kind) else float(scaled)


def answered(fields: list[pa.Field], rows: list[dict[str, Any]], options: BatchOptions) -> list[dict[str, Any]]:
    table = pa.Table.from_pylist(rows, pa.schema(fields))
    planner = BatchPlanner(options, table.schema, CATALOGUE)
    found: list[dict[str, Any]] = planner.plan(table.to_batches()[0]).select(list(OUTPUTS)).to_pylist()
    return found


def setting(column: InputColumn) -> tuple[BatchOptions, dict[str, Any]]:
    """The options and the other cells that make a good row of a good cell of this column."""
    kind = KINDS.get(column.name, "thimble eye")
    plate = kind == "plate eye"
    style, rules = ("single-plate", "common-practice-single-plate") if plate else ("u-bolt", "us-ca-8-8497")
    beside = ("rope_diameter", *BESIDE.get(column.name, ()))
    spelt = {each.name: each.exact_name for each in INPUT_COLUMNS}
    others = {spelt[name]: GOOD[name] for name in beside if name != column.name}
    service, place = (None, None) if column.name in ("service", "jurisdiction") else ("guy", "US")
    return BatchOptions(style, rules, kind, service=service, jurisdiction=place), others


def type_of(value: Any) -> pa.DataType:
    return pa.bool_() if isinstance(value, bool) else pa.int64() if isinstance(value, int) else pa.float64()


@pytest.mark.parametrize(("column", "ending", "kind", "unit", "cell", "status"), list(every_case()))
def test_every_bad_cell_has_its_status_and_its_neighbours_are_untouched(
    column: InputColumn, ending: str, kind: pa.DataType, unit: str, cell: Any, status: Status | str
) -> None:
    options, others = setting(column)
    name = column.name + ending
    plain = [pa.field(each, type_of(value)) for each, value in others.items()]
    field = pa.field(name, kind, metadata={"unit": unit} if unit else None)
    good = {**others, name: as_form(column, kind, unit)}
    above, bad, below = answered([*plain, field], [good, {**good, name: cell}, good], options)
    (alone,) = answered([*plain, field], [good], options)
    assert Status.OK == alone["status"], alone
    assert [alone, alone] == [above, below]
    if isinstance(status, Status):
        assert status.label == Status(bad["status"]).label
        assert {None} == {bad[each] for each in OUTPUTS[1:]}
    elif column.name == "rope_diameter":
        assert Status.SIZE_MISSING.label == Status(bad["status"]).label
        assert {None} == {bad[each] for each in OUTPUTS[1:]}
    else:
        (without,) = answered(plain, [others], options)
        assert without == bad


@pytest.mark.parametrize(
    ("cells", "status"),
    [
        ({"rope_diameter_nm": 13 * MM}, Status.OUT_OF_TABLE),
        ({"rope_diameter_nm": 1}, Status.OUT_OF_TABLE),
        ({"rope_diameter_nm": 300 * MM}, Status.OUT_OF_TABLE),
        # The clips sit on the coating, and no clip of that size is printed.
        ({"coating_diameter_nm": 15 * MM, "coating_stripped": False}, Status.OUT_OF_TABLE),
        ({"clip_size_nm": 13 * MM}, Status.OTHER_CLIP_SIZE),
    ],
)
def test_what_the_table_does_not_print(cells: dict[str, Any], status: Status) -> None:
    good: dict[str, Any] = dict.fromkeys(cells) | {"rope_diameter_nm": HALF_INCH}
    kinds = {"coating_stripped": pa.bool_()}
    fields = [pa.field(name, kinds.get(name, pa.int64())) for name in good]
    above, bad, below = answered(fields, [good, {**good, **cells}, good], BatchOptions("u-bolt", "us-ca-8-8497"))
    assert Status.OK == above["status"]
    assert above == below
    assert status.label == Status(bad["status"]).label
    assert {None} == {bad[each] for each in OUTPUTS[1:]}
