"""Registers for the tests of the column path: rows good and bad, in every layout, and what the scalar path says.

A row is drawn as whole numbers, one a column; each is turned into a cell by the column's own list of choices, which
depend on the rope's diameter where the trade does. What is expected is computed here from the plan itself.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final

import attrs
import pyarrow as pa
from hypothesis import strategies as st
from tests.companies import CATALOGUE

from turnback.batch import BatchOptions, request_of_row
from turnback.errors import Conflict, InputError, OutOfScope, OutOfTable, TurnbackError
from turnback.model.absent import Absent
from turnback.model.findings import KINDS
from turnback.planning.build import plan_request
from turnback.planning.cutting import cut_length
from turnback.planning.plan import Plan
from turnback.quantities import Force, Length
from turnback.rules.catalogue import Catalogue

__all__ = ["OUTPUTS", "Register", "encoded", "expected_rows", "registers"]

OUTPUTS: Final = (
    "status", "clip_count", "spacing_nm", "turn_back_nm", "torque_newton_metre", "thread_condition", "efficiency",
    "termination_breaking_force_newton", "working_load_newton", "rope_in_eye_nm", "cut_length_nm", "usable",
    "worst_finding", "finding_codes",
)  # fmt: skip
_MM: Final = 1_000_000
_BAD: Final = 1 << 20
"""A drawn number from here on makes a bad cell."""

STYLES: Final[Mapping[str, tuple[str, ...]]] = {
    "u-bolt": (
        "us-ca-8-8497", "us-osha-1926-251", "en-13411-5", "ca-nb-clips", "us-navy-14026", "us-army-5420-278",
        "us-ca-8-8497+us-osha-1926-251", "us-osha-1926-251,en-13411-5", "ca-nb-clips+en-13411-5",
        "us-army-5420-278+en-13411-5", "us-navy-14026+us-ca-8-8497", "en-13411-5+us-navy-14026",
    ),
    "mirrored-saddle": ("us-ca-8-8497-t2", "us-army-3810-305", "us-ca-8-8497-t2+us-army-3810-305"),
    "single-plate": ("common-practice-single-plate",),
    "double-plate": ("common-practice-double-plate",),
}  # fmt: skip


def _sizes() -> tuple[int, ...]:
    rows = {row.size.nanometres for rules in CATALOGUE.rule_sets for row in rules.rows}
    # Between the printed sizes too, and a few that a rule without a table takes.
    return (*sorted(rows), 13 * _MM, 12_500_000, 18 * _MM, 11 * _MM, 2_500_000, 4_762_500)


SIZES: Final = _sizes()
_THIMBLE: Final = ("inside_length", "inside_width", "groove_offset")
_DIMENSIONS: Final[Mapping[str, tuple[str, ...]]] = {
    "thimble eye": _THIMBLE,
    "linked eyes": (*_THIMBLE, *(f"second_{name}" for name in _THIMBLE)),
    "soft eye": ("pin", "eye_length"),
    "pulley eye": ("tread_diameter", "included_angle"),
    "lap splice": (),
    "plate eye": (*_THIMBLE, "pin", "eye_length", "parts_apart"),
}
_KINDS: Final = tuple(_DIMENSIONS)

Choice = Callable[[int, int], Any]


def _of(*values: Any) -> Choice:
    return lambda k, _: values[k % len(values)]


def _times(*tenths: int, odd: int = 7919) -> Choice:
    """Lengths in proportion to the rope's diameter, and a few nanometres beside them."""
    return lambda k, d: (
        None if k % 11 == 0 else d * tenths[k % len(tenths)] // 10 + ((k // 26) % odd if k // 13 % 2 else 0)
    )


_WORDS: Final[Mapping[str, Choice]] = {
    "construction": _of(None, "6x19", "6x19S", "6x36WS", "6 x 25 F", "7x19", "18x7", "1x19", "", "6x19 class", "8x19"),
    "core": _of(None, "IWRC", "FC", "WSC", "fibre core"),
    "grade": _of(None, "EIP", "IPS", "1960", "XIP", "1770"),
    "lay": _of(None, "right regular", "left Lang", "sZ"),
    "outer_wires": _of(None, "large", "ordinary"),
    "finish": _of(None, "bright", "galvanized", "stainless"),
    "condition": _of(None, "new", "used", "worn"),
    "rope_certificate": _of(None, "certificate 4711", "   ", "x" * 200),
    "style": _of(None),
    "clip_body": _of(None, "forged", "other", "not given"),
    "service": _of(None, "guy", "sling", "hoist-rope", "lifeline-horizontal", "general", "mine-hoist", "logging-wrap"),
    "jurisdiction": _of(None, "US", "US-CA", "CA-QC", "DE"),
}
_LENGTHS: Final[Mapping[str, Choice]] = {
    "measured_diameter": lambda k, d: None if k % 3 == 0 else d * (96 + k % 11) // 100,
    "coating_diameter": lambda k, d: None if k % 3 else SIZES[k % len(SIZES)],
    "inside_length": _times(50, 40, 66, 30, 90, 25),
    "inside_width": _times(31, 20, 35, 12, 27),
    "groove_offset": _times(1, 2, 3, 0),
    "second_inside_length": _times(50, 40, 66, 30),
    "second_inside_width": _times(31, 20, 35, 12),
    "second_groove_offset": _times(1, 2, 3),
    "pin": _times(10, 20, 39, 40, 41, 60),
    "eye_length": _times(60, 90, 35, 120, 20, 45),
    "tread_diameter": _times(80, 40, 39, 10, 1, 160, 5),
    "parts_apart": _times(10, 15, 9, 30, 80),
    "clip_size": lambda k, d: None if k % 4 else d + (k % 8 == 4),
    "base_width": _times(30, 22, 18, 9, 45, 12, 60),
    "span": _times(2000, 900, 100, 20000, 250),
}
_FORCES: Final[Mapping[str, Choice]] = {
    "minimum_breaking_force": _of(None, 1.1e5, 98_765.4, 2.5e5, 1e4),
    "load": _of(None, 1_000.0, 2.5e4, 9.9e4, 1e6, 41_848.86895637079),
}
_FLAGS: Final = ("rotation_resistant", "preformed", "coating_stripped", "eye_stripped")
_ANGLES: Final = _of(None, 1.0471975511965976, 1.0, 0.5, 1.2, 2.0, 2.09, 2.0943951023, 1.0471975511965979, 0.01)
_FACTORS: Final = _of(None, 5.0, 3.0, 8.0, 1.0, 10.0, 3.3333333333333335)
_COLUMNS: Final = (
    "rope_diameter", *_WORDS, *_LENGTHS, *_FORCES, *_FLAGS, "included_angle", "design_factor", "extra_clips",
    "termination",
)  # fmt: skip

_BAD_TEXT: Final = ("half an inch", "0 in", "-3 mm", "½ in", "2000 km", "1,5 mm", "9" * 70, "13")
_BAD_NUMBER: Final = (float("nan"), float("inf"), -1.0, 0.0, 1e300, -float("inf"), 5e-324)


@attrs.frozen
class Register:
    """A drawn register.

    Args:
        options: What holds for every row.
        table: Its rows.
    """

    options: BatchOptions
    table: pa.Table


def _text_of(name: str, value: Any) -> str:
    if name in _FORCES:
        return f"{Decimal(repr(value)):f} N"
    if name == "included_angle":
        return f"{value:.17f} rad".replace("-", "")
    return Length(value).text("mm")


def _as_form(name: str, form: str, values: list[Any]) -> pa.Array:
    if form == "text":
        return pa.array([v if v is None or isinstance(v, str) else _text_of(name, v) for v in values], pa.string())
    if form == "whole":
        return pa.array(values, pa.int64())
    if form == "mm":
        return pa.array([None if v is None else v / _MM if abs(v) < 1e290 else v for v in values], pa.float64())
    if form == "decimal":
        return pa.array([None if v is None else Decimal(v) / _MM for v in values], pa.decimal128(38, 6))
    if form == "kN":
        return pa.array([None if v is None else v / 1000 for v in values], pa.float64())
    if form == "degrees":
        return pa.array([None if v is None else v * 57.29577951308232 for v in values], pa.float64())
    return pa.array(values, pa.float64())


_FORMS: Final[Mapping[str, tuple[str, ...]]] = {
    "length": ("whole", "text", "mm", "decimal", "in"),
    "force": ("newton", "text", "kN", "lbf"),
    "angle": ("radian", "text", "degrees"),
}
_ENDINGS: Final = {"whole": "_nm", "newton": "_newton", "radian": "_radian"}
_UNITS: Final = {"mm": "mm", "decimal": "mm", "in": "in", "kN": "kN", "lbf": "lbf", "degrees": "deg"}


@st.composite
def registers(draw: st.DrawFn, most_rows: int = 12, kinds: bool = True) -> Register:
    """Registers of any rule set, style and kind, with good and bad cells."""
    style = draw(st.sampled_from(tuple(STYLES)))
    rules = draw(st.sampled_from(STYLES[style]))
    able = CATALOGUE.style(style).terminations
    several = kinds and draw(st.booleans())
    kind = draw(st.sampled_from(able))
    names = [name for name in _COLUMNS if name in _usual(able if several else (kind,), several)]
    chosen = draw(st.sets(st.sampled_from(names))) if names else set()
    names = ["rope_diameter", *(name for name in names if name in chosen and name != "rope_diameter")]
    clean = draw(st.booleans())
    bound = _BAD - 1 if clean else _BAD + _BAD // 16
    rows = draw(
        st.lists(
            st.lists(st.integers(0, bound), min_size=len(names), max_size=len(names)), min_size=1, max_size=most_rows
        )
    )
    seen = CATALOGUE.for_style(style)
    printed = sorted({row.size.nanometres for each in seen for row in each.rows}) or list(SIZES)
    diameters = [_diameter(row[0], printed) for row in rows]
    columns: dict[str, pa.Array] = {}
    fields = []
    for i, name in enumerate(names):
        forms = _FORMS.get(_sort(name), ("plain",))
        form = draw(st.sampled_from(forms))
        values = [
            _cell(name, form, row[i], diameter or 12_700_000, able, style)
            for row, diameter in zip(rows, diameters, strict=True)
        ]
        field, array = _column(name, form, values)
        fields.append(field)
        columns[field.name] = array
    options = BatchOptions(
        style,
        rules,
        termination=kind if "termination" not in names else "thimble eye",
        service=None if "service" in names else draw(st.sampled_from((None, "guy", "sling", "elevator"))),
        jurisdiction=None if "jurisdiction" in names else draw(st.sampled_from((None, "US", "US-CA"))),
    )
    return Register(options, pa.Table.from_arrays(list(columns.values()), schema=pa.schema(fields)))


def _usual(kinds: Sequence[str], several: bool) -> set[str]:
    dimensions = {name for kind in kinds for name in _DIMENSIONS[kind]}
    every = {name for names in _DIMENSIONS.values() for name in names}
    return (set(_COLUMNS) - every - {"termination"}) | dimensions | ({"termination"} if several else set())


def _sort(name: str) -> str:
    if name == "rope_diameter" or name in _LENGTHS:
        return "length"
    return "force" if name in _FORCES else "angle" if name == "included_angle" else "plain"


def _diameter(k: int, printed: Sequence[int]) -> int | None:
    if k >= _BAD:
        return None
    return SIZES[k % len(SIZES)] if k % 5 == 0 else printed[k % len(printed)]


def _cell(name: str, form: str, k: int, diameter: int, able: Sequence[str], style: str) -> Any:
    if k >= _BAD:
        return _bad(name, form, k)
    if name == "rope_diameter":
        return diameter
    if name in _LENGTHS:
        value = _LENGTHS[name](k, diameter)
        return None if value is None or value < 1 else value
    if name in _FORCES:
        return _FORCES[name](k, diameter)
    if name in _FLAGS:
        return (None, True, False)[k % 3]
    if name == "termination":
        return (None, *able)[k % (len(able) + 1)]
    if name == "style":
        return (None, style)[k % 2]
    plain = {"included_angle": _ANGLES, "design_factor": _FACTORS, "extra_clips": _of(None, 0, 1, 2, 7)}
    return {**_WORDS, **plain}[name](k, diameter)


def _bad(name: str, form: str, k: int) -> Any:
    if name in _FLAGS:
        return None
    if name == "extra_clips":
        return (-1, 101, 10**12)[k % 3]
    if form == "text":
        return _BAD_TEXT[k % len(_BAD_TEXT)]
    if form in ("whole", "decimal"):
        return (-1, 0, 10**17)[k % 3]
    if name in _WORDS or name == "termination":
        return ("no such word", "x" * 201)[k % 2]
    return _BAD_NUMBER[k % len(_BAD_NUMBER)]


def _column(name: str, form: str, values: list[Any]) -> tuple[pa.Field, pa.Array]:
    if form == "plain":
        kind = pa.bool_() if name in _FLAGS else pa.int64() if name == "extra_clips" else pa.string()
        array = pa.array(values, pa.float64() if name == "design_factor" else kind)
        return pa.field(name, array.type), array
    if form == "in":
        array = pa.array([None if v is None else v / 25_400_000 if abs(v) < 1e290 else v for v in values], pa.float64())
    elif form == "lbf":
        array = pa.array([None if v is None else v / 4.4 for v in values], pa.float64())
    else:
        array = _as_form(name, form, values)
    unit = _UNITS.get(form)
    return pa.field(name + _ENDINGS.get(form, ""), array.type, metadata=unit and {"unit": unit}), array


# --- what the scalar path says ---


def expected_rows(table: pa.Table, options: BatchOptions, catalogue: Catalogue = CATALOGUE) -> list[dict[str, Any]]:
    """The output of every row, from its scalar plan."""
    return [_expected(row, table.schema, options, catalogue) for row in table.to_pylist()]


def _expected(row: Mapping[str, Any], schema: pa.Schema, options: BatchOptions, catalogue: Catalogue) -> dict[str, Any]:
    nothing: dict[str, Any] = dict.fromkeys(OUTPUTS)
    try:
        request = request_of_row(row, schema, options, catalogue)
    except InputError as error:
        return {**nothing, "status": "refused", "error": str(error)}
    try:
        plan = plan_request(request, catalogue)
    except TurnbackError as error:
        kinds = ((OutOfTable, 7), (OutOfScope, 8), (Conflict, 9))
        status = next((code for kind, code in kinds if isinstance(error, kind)), 10)
        return {**nothing, "status": status, "error": str(error)}
    factor, cited = row.get("design_factor"), plan.service.design_factor
    if factor is not None and not isinstance(cited, Absent) and Fraction(factor) < cited.value:
        return {**nothing, "status": 10}
    plan = _by_own_factor(plan, factor, catalogue)
    size = _length_in(row, schema, "clip_size")
    if size is not None and size != plan.clip_size:
        return {**nothing, "status": 11}
    span, cut = _length_in(row, schema, "span"), None
    if span is not None:
        try:
            length = cut_length(span=span, ends=(plan, plan)).length
            cut = length.nanometres if isinstance(length, Length) else None
        except InputError:
            return {**nothing, "status": 12}
    try:
        working: float | None = plan.working_load(row.get("design_factor")).newtons
    except TurnbackError:
        working = None
    values = (
        0,
        plan.clip_count,
        _number(plan.spacing),
        _number(plan.turn_back),
        None if isinstance(plan.torque, Absent) else plan.torque.newton_metres,
        None if isinstance(plan.thread_condition, Absent) else plan.thread_condition,
        None if isinstance(plan.efficiency, Absent) else float(plan.efficiency),
        _number(plan.termination_breaking_force),
        working,
        _number(plan.rope_in_eye),
        cut,
        plan.usable,
        next(kind for kind in KINDS if any(finding.kind == kind for finding in plan.findings)),
        "; ".join(dict.fromkeys(finding.code for finding in plan.findings)),
    )
    return dict(zip(OUTPUTS, values, strict=True))


def _by_own_factor(plan: Plan, factor: float | None, catalogue: Catalogue) -> Plan:
    """The plan with its load judged by the row's own factor, where it has one."""
    load, breaking = plan.request.load, plan.termination_breaking_force
    if factor is None or load is None or isinstance(breaking, Absent):
        return plan
    try:
        if load.newtons <= plan.working_load(factor).newtons:
            return plan
    except TurnbackError:
        return plan
    # Ten times the load that breaks it is above every working load: the same findings, and no strength.
    return plan_request(attrs.evolve(plan.request, load=Force(10 * breaking.newtons)), catalogue)


def _number(value: Length | Force | Absent) -> int | float | None:
    if isinstance(value, Length):
        return value.nanometres
    return value.newtons if isinstance(value, Force) else None


def _length_in(row: Mapping[str, Any], schema: pa.Schema, name: str) -> Length | None:
    """A length of a row that was read without an error before."""
    exact = f"{name}_nm"
    if row.get(exact) is not None:
        return Length(row[exact])
    value = row.get(name)
    if value is None or value == "":
        return None
    if isinstance(value, str):
        return Length.of(value)
    per = {b"mm": _MM, b"in": 25_400_000}[schema.field(name).metadata[b"unit"]]
    from fractions import Fraction

    return Length.nearest(Fraction(value) * per)


# --- layouts ---


def encoded(array: pa.Array, how: int) -> pa.Array:
    """The same cells in another layout."""
    if pa.types.is_string(array.type):
        kinds = (pa.string(), pa.large_string(), pa.string_view())
        return array.dictionary_encode() if how % 4 == 3 else array.cast(kinds[how % 4])
    return array
