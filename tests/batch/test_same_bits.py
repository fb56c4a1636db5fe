"""The law of the column path: every cell of every row is that of the row's own scalar plan."""

from __future__ import annotations

import functools
import importlib
import json
import math
import os
import subprocess
import sys
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.batch.registers import OUTPUTS, STYLES, Register, expected_rows, registers
from tests.companies import CATALOGUE

from turnback.batch import BatchOptions, BatchPlanner, Status
from turnback.batch.columns import bind
from turnback.batch.eye_kernel import pulley_eyes, soft_eyes, thimble_eyes
from turnback.batch.kernel import Kernel
from turnback.batch.products import multiplied
from turnback.batch.quantities import LengthReader
from turnback.batch.roster import Roster
from turnback.batch.rows import answer_of_row
from turnback.errors import TurnbackError
from turnback.mechanics import rope_in_eye, thimble_base_distance, thimble_radius
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.ropedata import rope_cells
from turnback.model.sources import user_citation
from turnback.model.styles import SeriesStyle
from turnback.quantities import Length, units
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import LinearLength, RuleSet, SpacingBound
from turnback.rules.selection import governing

MM = 1_000_000
SIZE = pa.field("rope_diameter_nm", pa.int64())
CITED = user_citation("invented bounds")


def planned(table: pa.Table, options: BatchOptions, catalogue: Catalogue = CATALOGUE) -> list[dict[str, Any]]:
    planner = BatchPlanner(options, table.schema, catalogue)
    batches = [planner.plan(batch) for batch in table.to_batches()]
    rows: list[dict[str, Any]] = pa.Table.from_batches(batches, planner.output_schema).select(list(OUTPUTS)).to_pylist()
    return rows


def assert_same(table: pa.Table, options: BatchOptions, catalogue: Catalogue = CATALOGUE) -> None:
    expected = expected_rows(table, options, catalogue)
    for i, (want, got) in enumerate(zip(expected, planned(table, options, catalogue), strict=True)):
        error = want.pop("error", None)
        if want["status"] == "refused":
            # The cells themselves, or what they make together: test_statuses tells which.
            assert got["status"] in (1, 2, 3, 4, 5, 6, 10), (i, error)
            want["status"] = got["status"]
        assert want == got, (i, table.slice(i, 1).to_pylist(), error)


@settings(max_examples=150)
@given(registers())
def test_every_cell_is_that_of_the_scalar_plan(register: Register) -> None:
    assert_same(register.table, register.options)


@pytest.mark.parametrize("style", STYLES)
def test_every_rule_set_plans_at_least_one_row(style: str) -> None:
    """So that the law above does not hold because nothing was planned."""
    able = CATALOGUE.style(style).terminations
    sizes = sorted({row.size.nanometres for each in CATALOGUE.for_style(style) for row in each.rows} or {6 * MM})
    for rules in STYLES[style]:
        rows = [
            {"rope_diameter_nm": size, "termination": kind, "base_width_nm": size * 17 // 10, "construction": "6x19",
             "core": "IWRC", "condition": "new", "service": service, "inside_length_nm": length}
            for size in sizes
            for kind in able
            for service in ("guy", None)
            for length in ((None,) if "thimble" not in kind else (None, size * 5))
        ]  # fmt: skip
        schema = pa.schema([(name, pa.int64() if name.endswith("_nm") else pa.string()) for name in rows[0]])
        table = pa.Table.from_pylist(rows, schema)
        options = BatchOptions(style, rules)
        assert_same(table, options)
        if "+" not in rules:  # some of these are of two patterns of clip, and plan nothing together
            assert any(row["status"] == 0 and row["turn_back_nm"] for row in planned(table, options)), rules


def bounded(*bounds: tuple[str, bool, str, str]) -> RuleSet:
    """An invented rule set: a public one's table with other bounds on the spacing."""
    spacing = tuple(
        SpacingBound(bound, clear, LinearLength(Fraction(diameters), Fraction(widths), Length(7), "invented"), CITED)  # type: ignore[arg-type]  # one of the three
        for bound, clear, diameters, widths in bounds
    )
    return attrs.evolve(CATALOGUE.rule_set("us-osha-1926-251"), id="invented", spacing=spacing)


BOUNDS = (
    ("least", False, "6", "0"), ("least", True, "1/3", "0"), ("least", True, "0", "7/3"),
    ("equal", False, "1/7", "13/6"),
    ("equal", True, "1/7", "4/3"), ("equal", False, "19/3", "0"),
    ("greatest", True, "0", "3"), ("greatest", False, "20/3", "0"), ("greatest", True, "1/3", "8/3"),
)  # fmt: skip


@pytest.mark.parametrize("chosen", [*combinations(BOUNDS, 1), *combinations(BOUNDS, 2)])
def test_bounds_of_every_sort_are_rounded_as_the_scalar_plan_rounds_them(chosen: tuple[Any, ...]) -> None:
    sizes = [12_700_000, 15_875_000, 28_575_000, 38_100_000]
    rows = [
        {"rope_diameter_nm": size, "base_width_nm": size * tenths // 10 + 1 if tenths else None, "termination": kind}
        for size in sizes
        for tenths in (0, 11, 15, 20, 25, 31, 40)
        for kind in ("thimble eye", "lap splice", "pulley eye")
    ]
    table = pa.Table.from_pylist(rows)
    assert_same(table, BatchOptions("u-bolt", bounded(*chosen)))
    assert_same(table, BatchOptions("u-bolt", governing(bounded(*chosen), "us-osha-1926-251")))


def test_limits_are_met_from_both_sides() -> None:
    """Pins and pulleys of four rope diameters, a load at the working load, a factor at the cited one, and their
    neighbours: one nanometre or one last bit to either side."""
    size, sides = 12_700_000, (-1, 0, 1)
    options = BatchOptions("u-bolt", "us-ca-8-8497", service="sling", termination="soft eye")
    pins = pa.table({"rope_diameter_nm": [size] * 3, "pin_nm": [4 * size + each for each in sides]})
    assert_same(pins, options)
    assert 2 == len({row["finding_codes"] for row in planned(pins, options)})
    pulleys = pa.table({"rope_diameter_nm": [size] * 3, "tread_diameter_nm": [4 * size + each for each in sides]})
    assert_same(pulleys, attrs.evolve(options, termination="pulley eye"))
    widths = pa.table({"rope_diameter_nm": [size] * 3, "base_width_nm": [size + each for each in sides]})
    assert_same(widths, attrs.evolve(options, termination="thimble eye"))
    assert 2 == len({row["finding_codes"] for row in planned(widths, attrs.evolve(options, termination="thimble eye"))})
    force, cited = 100_000.0, 5.0  # the factor of wire rope in general; that it is cited is seen from the nulls below
    working = force * 0.8 / cited
    loads = [math.nextafter(working, 0), working, math.nextafter(working, math.inf)]
    factors = [math.nextafter(cited, 0), cited, math.nextafter(cited, math.inf)]
    table = pa.table(
        {
            "rope_diameter_nm": [size] * 3, "minimum_breaking_force_newton": [force] * 3, "load_newton": loads,
            "design_factor": factors, "condition": ["new"] * 3,
        }
    )  # fmt: skip
    options = BatchOptions("u-bolt", "us-ca-8-8497", service="guy", jurisdiction="US")
    for names in (["load_newton"], ["design_factor"], ["load_newton", "design_factor"]):
        some = table.select(["rope_diameter_nm", "minimum_breaking_force_newton", "condition", *names])
        assert_same(some, options)
        assert 2 <= len({(row["usable"], row["working_load_newton"]) for row in planned(some, options)})


@pytest.mark.parametrize("inches", ["1/16", "1/8", "3/16", "1/4", "3/8"])
def test_measured_diameters_at_every_tolerance(inches: str) -> None:
    """FAA AC 43.13-1B, Table 7-3 gives small cable a tolerance upwards; each size is tried at those of all sizes."""
    size = Length.of(f"{inches} in").nanometres
    printed = [cell for cell in rope_cells() if cell.table == "small_cable_tolerance"]
    plus = {Length.of(f"{cell.text} in").nanometres for cell in printed}
    measured = sorted({size + each + side for each in (0, *plus) for side in (-1, 0, 1)})
    count, construction = len(measured), "7x19" if size > 3 * MM else "7x7"
    table = pa.table(
        {
            "rope_diameter_nm": [size] * count, "measured_diameter_nm": measured,
            "construction": [construction] * count,
            "finish": ["galvanized"] * count,
        }
    )  # fmt: skip
    options = BatchOptions("single-plate", "common-practice-single-plate", termination="plate eye", service="guy")
    assert_same(table, options)
    assert 2 == len({row["finding_codes"] for row in planned(table, options)})


def test_parts_far_apart_round_a_small_eye() -> None:
    """A plate whose bolt holds the parts farther apart than the eye is wide: the legs run apart."""
    rows = [
        {"rope_diameter_nm": 6 * MM, "pin_nm": pin * MM, "eye_length_nm": length * MM, "parts_apart_nm": apart * MM,
         "base_width_nm": 40 * MM}
        for pin in (6, 12, 30) for length in (14, 20, 40, 90) for apart in (6, 11, 12, 17, 18, 19, 30, 35, 37, 80, 400)
    ]  # fmt: skip
    table = pa.Table.from_pylist(rows)
    options = BatchOptions("double-plate", "common-practice-double-plate", termination="plate eye")
    assert_same(table, options)
    codes = [row["finding_codes"] or "" for row in planned(table, options)]
    assert any("wide-angle" in each for each in codes)
    assert any("wide-angle" not in each and each for each in codes)


# --- where the last bit decides ---


@functools.cache
def near_half_thimbles(count: int) -> list[tuple[int, int, int, int]]:
    """Large thimbles whose rope in the eye is, in floats, within a few last bits of half a nanometre."""
    rng = np.random.default_rng(20)
    found: list[tuple[int, int, int, int]] = []
    while len(found) < count:
        size = 1 << 18
        length, width = rng.integers(600 * MM, 1000 * MM, size), rng.integers(200 * MM, 400 * MM, size)
        offset, rope = rng.integers(MM, 4 * MM, size), np.full(size, 12_700_000)
        numbers = rope_in_eye(
            thimble_radius(width.astype(float), offset.astype(float), rope.astype(float)),
            thimble_base_distance(length.astype(float), width.astype(float)),
            rope.astype(float),
            np,
        )
        near = np.flatnonzero(np.abs(numbers - np.floor(numbers) - 0.5) < 1e-6)
        found += [(int(length[i]), int(width[i]), int(offset[i]), 12_700_000) for i in near]
    return found[:count]


def test_halves_of_a_nanometre_are_rounded_by_the_scalar_function() -> None:
    rows = near_half_thimbles(60)
    table = pa.table(
        {
            "rope_diameter_nm": [row[3] for row in rows],
            "inside_length_nm": [row[0] for row in rows],
            "inside_width_nm": [row[1] for row in rows],
            "groove_offset_nm": [row[2] for row in rows],
            "base_width_nm": [40 * MM] * len(rows),
        }
    )
    assert_same(table, BatchOptions("u-bolt", "us-osha-1926-251"))


class Skewed:
    """numpy with arc functions that err in their last bits, as they do on some processors."""

    pi = math.pi

    def __init__(self, towards: float) -> None:
        self.towards = towards

    def __getattr__(self, name: str) -> Any:
        function = getattr(np, name)
        if name in ("sqrt",):
            return function

        def skewed(x: Any) -> Any:
            # Four last bits: one alone moves such a number to the half at the most, where every guard looks.
            found = function(x)
            for _ in range(4):
                found = np.nextafter(found, self.towards)
            return found

        return skewed


@pytest.mark.parametrize("towards", [math.inf, -math.inf])
def test_arc_functions_that_err_in_the_last_bit_change_nothing(towards: float, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = near_half_thimbles(60)
    columns = [np.array([row[i] for row in rows]) for i in range(4)]
    rope = columns[3].astype(float)
    honest = thimble_eyes(columns[0], columns[1], columns[2], rope, rope)
    import turnback.batch.eye_kernel as kernel

    class Namespace(Skewed):
        def __getattr__(self, name: str) -> Any:
            return super().__getattr__(name) if name in ("atan", "asin", "acos", "sin", "cos") else getattr(np, name)

    monkeypatch.setattr(kernel, "np", Namespace(towards))
    skewed = thimble_eyes(columns[0], columns[1], columns[2], rope, rope)
    assert honest.rope.tolist() == skewed.rope.tolist()
    sizes = np.arange(5, 300) * MM
    tens = np.full(len(sizes), 10.0 * MM)
    angles = np.linspace(0.3, 1.9, len(sizes))
    pulleys = pulley_eyes(sizes, angles, tens, tens)
    pins = soft_eyes(sizes, sizes * 3, tens, tens)
    monkeypatch.undo()
    for skew, true in (
        (pulleys, pulley_eyes(sizes, angles, tens, tens)),
        (pins, soft_eyes(sizes, sizes * 3, tens, tens)),
    ):
        assert true.rope.tolist() == skew.rope.tolist()
        assert true.reach.tolist() == skew.reach.tolist()
        assert true.wide.tolist() == skew.wide.tolist()


@given(
    st.integers(20, 400),
    st.integers(5, 60),
    st.lists(st.integers(-3, 3), min_size=1, max_size=20),
    st.sampled_from((math.pi / 3, 2 * math.pi / 3)),
)
def test_angles_next_to_a_limit_are_told_as_the_scalar_plan_tells_them(
    width: int, rope: int, steps: list[int], limit: float
) -> None:
    """Soft eyes whose parts meet at 60 or 120 degrees, a few nanometres up or down."""
    pin, diameter = width * MM, 8 * MM if rope < 30 else 13 * MM
    radius = (pin + diameter) / 2
    base = (radius - diameter / 2 * math.cos(limit / 2)) / math.sin(limit / 2)
    lengths = [round(base + pin / 2) + step for step in steps]
    table = pa.table(
        {
            "rope_diameter_nm": [diameter] * len(steps), "pin_nm": [pin] * len(steps), "eye_length_nm": lengths,
            "base_width_nm": [25 * MM] * len(steps),
        }
    )  # fmt: skip
    assert_same(table, BatchOptions("u-bolt", "en-13411-5", termination="soft eye"))


@pytest.mark.parametrize("factor", sorted(units.FORCE_NEWTONS.values()) + sorted(set(units.ANGLE_RADIANS.values())))
def test_a_float_times_a_unit_is_rounded_once(factor: Fraction) -> None:
    rng = np.random.default_rng(7)
    numbers = np.concatenate(
        [10.0 ** rng.uniform(-12, 12, 4000), rng.uniform(1, 2, 2000), np.array([1e-300, 5e-324, 1e300, 1.0, 2.0**52])]
    )
    expected = [float(Fraction(each) * factor) if each < 1e300 else None for each in numbers.tolist()]
    got = multiplied(numbers, factor).tolist()
    assert [each for each in expected if each is not None] == [
        g for e, g in zip(expected, got, strict=True) if e is not None
    ]


@pytest.mark.parametrize(("unit", "factor"), [("mm", 10**6), ("in", 25_400_000), ("ft", 304_800_000), ("m", 10**9)])
def test_a_float_length_next_to_half_of_a_nanometre_is_rounded_once(unit: str, factor: int) -> None:
    """Floats on either side of every half: what the product of floats rounds to is not what the length is."""
    rng = np.random.default_rng(9)
    halves = (rng.integers(1, 10**11, 1500) + 0.5) / factor
    numbers = np.concatenate([halves, np.nextafter(halves, 0), np.nextafter(halves, np.inf)])
    field = pa.field("base_width", pa.float64(), metadata={"unit": unit})
    reader = LengthReader(bind(pa.schema([SIZE, field]), BatchOptions("u-bolt", "us-ca-8-8497"), ())[1], lambda _: None)
    reader.open(pa.array(numbers))
    expected = [Length.nearest(Fraction(each) * factor).nanometres for each in numbers.tolist()]
    assert expected == reader.take(0, len(numbers)).numbers.tolist()
    assert expected != np.floor(numbers * factor + 0.5).astype(np.int64).tolist()


@given(st.lists(st.integers(1, 10**15), min_size=1, max_size=40), st.integers(1, 900))
def test_a_roster_finds_every_number_again(numbers: list[int], more: int) -> None:
    roster = Roster()
    first = roster.codes(np.array(numbers, dtype=np.int64))
    roster.codes(np.arange(1, more + 1, dtype=np.int64) * 396_875)
    again = roster.codes(np.array(numbers, dtype=np.int64))
    assert numbers == roster.values[first].tolist() == roster.values[again].tolist()
    assert len(roster) == len(set(numbers) | {396_875 * (i + 1) for i in range(more)})


# --- what is not planned in columns ---


@attrs.frozen
class Lopsided(SeriesStyle):
    """An invented style of a plugin, which lays out in a way of its own: one nanometre more of turn-back."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        return attrs.evolve(found, turn_back=found.turn_back + Length(1)) if found.clips else found


class Invented:
    """A plugin with that style in place of the U-bolt's."""

    @staticmethod
    def turnback_styles() -> tuple[SeriesStyle, ...]:
        style = CATALOGUE.style("u-bolt")
        return (
            Lopsided(style.id, style.title, style.wrong_way_round, style.terminations, style.procedure, style.citation),
        )


def lopsided() -> Catalogue:
    style = Invented.turnback_styles()[0]
    styles = tuple(style if each.id == style.id else each for each in CATALOGUE.styles)
    return attrs.evolve(CATALOGUE, styles=styles)


def test_a_style_of_another_class_is_asked_for_every_row() -> None:
    table = pa.table({"rope_diameter_nm": [12_700_000, 19_050_000, 1], "base_width_nm": [40 * MM, 50 * MM, 1]})
    catalogue = lopsided()
    options = BatchOptions("u-bolt", "us-ca-8-8497")
    assert_same(table, options, catalogue)
    ours = planned(table, options)
    theirs = planned(table, options, catalogue)
    assert [row["turn_back_nm"] + 1 for row in ours[:2]] == [row["turn_back_nm"] for row in theirs[:2]]
    assert [0, 0, int(Status.OUT_OF_TABLE)] == [row["status"] for row in theirs]


def test_a_style_that_breaks_gives_its_rows_a_status() -> None:
    @attrs.frozen
    class Breaking(Lopsided):
        def lay_out(self, demand: LayoutDemand) -> Layout:
            raise RuntimeError("invented")

    style = Invented.turnback_styles()[0]
    broken = Breaking(style.id, style.title, style.wrong_way_round, style.terminations, style.procedure, style.citation)
    catalogue = attrs.evolve(
        CATALOGUE, styles=tuple(broken if each.id == style.id else each for each in CATALOGUE.styles)
    )
    table = pa.table({"rope_diameter_nm": [12_700_000, 1], "base_width_nm": [40 * MM, 1]})
    got = planned(table, BatchOptions("u-bolt", "us-ca-8-8497"), catalogue)
    assert [int(Status.PLUGIN_FAILED), int(Status.OUT_OF_TABLE)] == [row["status"] for row in got]


def test_lengths_beyond_what_floats_tell_are_planned_by_the_scalar_path() -> None:
    lengths = [10**10, 10**10 + 1, 10**12, 10**15, 10**15 + 1]
    table = pa.table(
        {
            "rope_diameter_nm": [12_700_000] * 5, "inside_length_nm": lengths, "inside_width_nm": [100 * MM] * 5,
            "groove_offset_nm": [MM] * 5, "base_width_nm": [40 * MM, 40 * MM, 40 * MM, 40 * MM, 40 * MM],
            "span_nm": [10**15] * 5,
        }
    )  # fmt: skip
    assert_same(table, BatchOptions("u-bolt", "us-ca-8-8497"))


def test_few_rows_are_left_to_the_scalar_path(monkeypatch: pytest.MonkeyPatch) -> None:
    """The guard is for doubt; a kernel that asked for every row would be right and useless."""
    import turnback.batch.kernel as module

    asked: list[int] = []
    scalar = answer_of_row

    def counting(*arguments: Any) -> Any:
        asked.append(1)
        return scalar(*arguments)

    monkeypatch.setattr(module, "answer_of_row", counting)
    rng = np.random.default_rng(3)
    rows = 20_000
    size = np.array([12_700_000, 19_050_000])[rng.integers(0, 2, rows)]
    columns = {
        "rope_diameter_nm": size, "inside_length_nm": size * 5 + rng.integers(0, MM, rows),
        "inside_width_nm": size * 3 + rng.integers(0, MM, rows), "groove_offset_nm": size // 6,
        "base_width_nm": size * 2 + rng.integers(0, MM, rows), "load_newton": rng.uniform(1, 1e5, rows),
        "minimum_breaking_force_newton": rng.uniform(1e4, 1e6, rows), "span_nm": rng.integers(10**9, 10**11, rows),
    }  # fmt: skip
    table = pa.table(columns)
    got = planned(table, BatchOptions("u-bolt", "us-ca-8-8497", service="guy"))
    assert rows == len(got)
    assert len(asked) < rows // 1000
    some = rng.integers(0, rows, 150)
    picked = table.take(some)
    expected = expected_rows(picked, BatchOptions("u-bolt", "us-ca-8-8497", service="guy"))
    assert expected == [got[i] for i in some.tolist()]


def test_many_sizes_and_cases_are_kept_apart() -> None:
    """More distinct sizes than are hashed, more combinations than are looked up directly, over several batches."""
    rng = np.random.default_rng(11)
    rows = 3000
    words = {
        "construction": ["6x19", "6x19S", "6x36WS", None], "core": ["IWRC", "FC", None], "grade": ["EIP", "1960", None],
        "lay": ["sZ", "left Lang", None], "service": ["guy", "sling", None], "jurisdiction": ["US", "DE", None],
        "condition": ["new", "used", None], "finish": ["bright", "galvanized", None],
    }  # fmt: skip
    table = pa.table(
        {
            "rope_diameter_nm": rng.integers(5 * MM, 40 * MM, rows),
            "base_width_nm": rng.integers(20 * MM, 30 * MM, rows),
            **{name: rng.choice(np.array(values, dtype=object), rows) for name, values in words.items()},
        }
    )
    options = BatchOptions("u-bolt", "en-13411-5")
    got = planned(pa.Table.from_batches(table.to_batches(max_chunksize=700)), options)
    some = rng.integers(0, rows, 200)
    expected = expected_rows(table.take(some), options)
    for row in expected:
        row.pop("error", None)
    assert expected == [got[i] for i in some.tolist()]


def test_the_kernel_forgets_cases_when_there_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    import turnback.batch.planner as module

    monkeypatch.setattr(module, "_MOST_CASES", 2)
    table = pa.table({"rope_diameter_nm": [12_700_000, 19_050_000, 25_400_000, 15_875_000] * 2})
    planner = BatchPlanner(BatchOptions("u-bolt", "us-ca-8-8497"), table.schema, CATALOGUE)
    halves = [planner.plan(batch).to_pylist() for batch in table.to_batches(max_chunksize=4)]
    assert halves[0] == halves[1]
    assert isinstance(planner._kernel, Kernel)
    assert 4 == len(planner._kernel)


# --- without the widest instructions of the processor ---

_CHILD = """
import json, sys
import numpy as np, pyarrow as pa
from turnback.batch import fingerprint, plan_table
rng = np.random.default_rng(5)
n = 40_000
size = np.array([12_700_000, 19_050_000])[rng.integers(0, 2, n)]
table = pa.table({
    "rope_diameter_nm": size, "inside_length_nm": size * 5 + rng.integers(0, 10**6, n),
    "inside_width_nm": size * 3 + rng.integers(0, 10**6, n), "groove_offset_nm": size // 6,
    "base_width_nm": size * 2 + rng.integers(0, 10**6, n), "span_nm": rng.integers(10**9, 10**11, n),
})
out = plan_table(table, style="u-bolt", rules="us-ca-8-8497", service="guy")
names = ("spacing_nm", "turn_back_nm", "rope_in_eye_nm", "cut_length_nm", "working_load_newton", "finding_codes")
print(json.dumps([int(out["rope_in_eye_nm"].null_count), *(fingerprint(out.select([name])) for name in names)]))
"""


def test_a_processor_without_the_widest_instructions_gives_the_same() -> None:
    module = importlib.import_module("numpy._core._multiarray_umath")  # where numpy lists what it dispatches to
    features = getattr(module, "__cpu_features__", {})
    dispatched = [name for name in getattr(module, "__cpu_dispatch__", []) if features.get(name)]
    if not dispatched:
        pytest.skip("numpy dispatches to nothing on this processor, so there is nothing to switch off")

    def prints(disabled: str) -> list[int]:
        environment = {**os.environ, "NPY_DISABLE_CPU_FEATURES": disabled}
        root = Path(__file__).parents[2]
        command = [sys.executable, "-W", "ignore", "-c", _CHILD]
        done = subprocess.run(command, check=False, env=environment, capture_output=True, text=True, cwd=root)
        assert 0 == done.returncode, done.stderr
        found: list[int] = json.loads(done.stdout)
        return found

    wide = prints("")
    assert wide[0] < 100  # of 40 000: nearly every row has an eye, so that the arc functions were asked
    assert len(set(wide)) == len(wide)
    assert wide == prints(" ".join(dispatched))


def test_the_reference_raises_what_the_scalar_plan_raises() -> None:
    """expected_rows must not be a stand-in that swallows everything."""
    table = pa.table({"rope_diameter_nm": [12_700_000, 13 * MM]})
    expected = expected_rows(table, BatchOptions("u-bolt", "us-ca-8-8497"))
    assert [0, 7] == [row["status"] for row in expected]
    assert issubclass(TurnbackError, Exception)
