"""What the plate plugin supplies: two styles, their procedure, and the little that is common practice."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.model.absent import Absent
from turnback.model.layout import LayoutDemand
from turnback.model.steps import StepTemplate
from turnback.model.styles import BodyStyle
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback_plate import DOUBLE_PLATE, PLATE_PROCEDURE, SINGLE_PLATE, plugin

CATALOGUE = Catalogue.of(plugin)
STYLES = (SINGLE_PLATE, DOUBLE_PLATE)
GROUPS = (
    ("measured", "unmeasured"),
    ("torque known", "torque unknown"),
    ("dry threads", "greased threads", "threads not stated"),
    ("retorque loaded", "retorque unloaded", "retorque state not stated"),
    ("working load known", "working load unknown"),
    ("stripped", "coating on", "bare"),
)
FREE = ("rotation-resistant", "lang lay", "each shift", "retorque before first use")


@st.composite
def cases(draw: st.DrawFn) -> frozenset[str]:
    held = {"plate eye", "eye", "one clip"} | {draw(st.sampled_from(group)) for group in GROUPS}
    held.add("turn-back known" if "measured" in held else "turn-back unknown")
    held |= draw(st.sets(st.sampled_from(FREE)))
    return frozenset(held - {"bare"})


def chosen(case: frozenset[str]) -> list[StepTemplate]:
    return [s for s in PLATE_PROCEDURE if case.issuperset(s.when) and case.isdisjoint(s.unless)]


def demand(base_width: str | None) -> LayoutDemand:
    return LayoutDemand(
        count=1,
        rope_diameter=Length.of("3/16 in"),
        base_width=None if base_width is None else Length.of(base_width),
        turn_back=None,
        least=None,
        greatest=None,
        depends_on_base_width=False,
        splice=False,
    )


def test_the_hooks_supply_two_styles_and_a_rule_set_for_each() -> None:
    assert () == CATALOGUE.failures
    assert ["double-plate", "single-plate"] == [style.id for style in CATALOGUE.styles]
    assert [("common-practice-double-plate", "double-plate"), ("common-practice-single-plate", "single-plate")] == [
        (rules.id, rules.style) for rules in CATALOGUE.rule_sets
    ]


def test_every_rule_file_of_the_folder_is_supplied_and_has_check_values_beside_it() -> None:
    checks = {name.removesuffix(".toml") + ".check.toml" for name in plugin.RULE_FILES}
    assert {*plugin.RULE_FILES, *checks} == {file.name for file in plugin._FOLDER.iterdir()}


@settings(deadline=None)
@given(diameter=st.integers(min_value=10_000, max_value=300_000_000).map(Length))
def test_one_clip_for_any_rope_that_can_be_described(diameter: Length) -> None:
    # Common practice: one body makes the connection. 300 mm is the thickest rope that the library takes.
    for rules in CATALOGUE.rule_sets:
        cell = rules.row_for(diameter).count
        assert cell is not None
        assert 1 == cell.value
        assert {"common practice"} == {citation.status for citation in cell.citations}


def test_nothing_is_rated_and_no_torque_is_given() -> None:
    for rules in CATALOGUE.rule_sets:
        row = rules.row_for(Length.of("3/16 in"))
        assert (None, None, None) == (row.torque, row.turn_back, row.spacing)
        assert ((), None, None) == (rules.efficiency, rules.efficiency_at_most, rules.threads)
        assert [("plate eye",)] == [entry.terminations for entry in rules.scope]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.id)
def test_two_finished_diameters_stand_out_of_the_body(style: BodyStyle) -> None:
    # Common practice: at least two cable diameters of dead end. A 3/16 in cable in a body of 1 in (invented).
    layout = style.lay_out(demand("1 in"))
    assert Length.of("3/8 in") == layout.end_distance
    assert Length.of("1-3/8 in") == layout.turn_back
    assert [(Length.of("3/8 in"), Length.of("1-3/8 in"))] == [(clip.near_edge, clip.far_edge) for clip in layout.clips]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.id)
def test_without_the_length_of_the_body_the_dead_end_stands_and_the_turn_back_is_absent(style: BodyStyle) -> None:
    layout = style.lay_out(demand(None))
    assert Length.of("3/8 in") == layout.end_distance
    assert isinstance(layout.turn_back, Absent)
    assert ("plate eye",) == style.terminations


@settings(deadline=None)
@given(case=cases())
def test_one_complete_order_of_work_for_every_case(case: frozenset[str]) -> None:
    names = [step.code for step in chosen(case)]
    assert len(set(names)) == len(names)
    at = {name: i for i, name in enumerate(names)}
    (load,) = [at[name] for name in at if name in ("first-load", "first-load-not-known")]
    (again,) = [at[name] for name in at if name in ("retorque", "retorque-loaded", "retorque-unloaded")]
    assert at["seize"] < at["cut"] < at["put-on-body"] < at["torque"] < at["check-joint"] < load < again
    held = {step.code for step in chosen(case) if step.hold}
    assert {"check-joint", "clear-the-line"} <= held
    assert ("no-torque" in held) == ("torque unknown" in case)
    assert ("coating-test" in held) == ("coating on" in case)


@settings(deadline=None)
@given(case=cases())
def test_nobody_is_told_a_number_that_the_plan_does_not_have(case: frozenset[str]) -> None:
    needs = {
        "turn_back": "turn-back known",
        "edges": "measured",
        "working_load": "working load known",
        "strip": "stripped",
        "spacing": "never",
        "order": "never",
    }
    for step in chosen(case):
        assert {needs[name] for name in step.values if name in needs} <= case, step.code
