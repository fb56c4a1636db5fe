"""The procedure of clips in a row: one complete order of work for every case, and never two that contradict."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.model.steps import STEP_CONDITIONS, StepTemplate
from turnback_ubolt import U_BOLT

KINDS = ("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice")
GROUPS = (
    ("measured", "unmeasured"),
    ("turn-back known", "turn-back unknown"),
    ("two clips", "three or more clips"),
    ("torque known", "torque unknown"),
    ("begin at the dead end", "begin at the eye"),
    ("dry threads", "greased threads", "threads not stated"),
    ("retorque loaded", "retorque unloaded", "retorque state not stated"),
    ("working load known", "working load unknown"),
    ("stripped", "coating on", "bare"),
)
FREE = ("rotation-resistant", "lang lay", "wrong way round", "each shift", "retorque before first use")


@st.composite
def cases(draw: st.DrawFn) -> frozenset[str]:
    kind = draw(st.sampled_from(KINDS))
    held = {kind} if kind == "lap splice" else {kind, "eye"}
    held |= {draw(st.sampled_from(group)) for group in GROUPS}
    held |= draw(st.sets(st.sampled_from(FREE)))
    return frozenset(held - {"bare"})


def chosen(case: frozenset[str]) -> list[StepTemplate]:
    return [s for s in U_BOLT.procedure if case.issuperset(s.when) and case.isdisjoint(s.unless)]


def codes(*conditions: str) -> list[str]:
    return [step.code for step in chosen(frozenset(conditions))]


def test_an_eye_on_a_thimble_in_order() -> None:
    # Common practice: first clip at the dead end at full torque, second at the eye snug, the others, slack, all torqued
    # towards the eye, first load, torque again, witness marks, tail tied.
    expected = [
        "who-governs",
        "tools",
        "check-rope",
        "check-clips",
        "check-u-bolts",
        "check-thimble",
        "dry-threads",
        "seize",
        "cut",
        "mark-turn-back",
        "mark-clips",
        "bend-round-thimble",
        "saddle-on-live-part",
        "how-to-tighten",
        "first-clip",
        "second-clip",
        "other-clips",
        "slack-to-the-eye",
        "torque-from-the-dead-end",
        "check-joint",
        "clear-the-line",
        "first-load",
        "look-for-slip",
        "retorque",
        "witness-marks",
        "tie-the-tail",
        "later-checks",
    ]
    assert expected == codes(
        "thimble eye",
        "eye",
        "measured",
        "turn-back known",
        "three or more clips",
        "torque known",
        "working load known",
        "begin at the dead end",
        "dry threads",
        "retorque state not stated",
        "wrong way round",
    )


def test_a_lap_splice_of_greased_reversed_clips() -> None:
    expected = [
        "who-governs",
        "tools",
        "check-rope",
        "check-clips",
        "check-u-bolts",
        "greased-threads",
        "seize",
        "cut",
        "mark-overlap",
        "mark-clips-lap",
        "lay-alongside",
        "saddle-in-lap",
        "how-to-tighten",
        "first-clip-of-lap",
        "second-clip-of-lap",
        "other-clips-of-lap",
        "slack-out-of-lap",
        "torque-lap",
        "check-joint",
        "torque-before-use",
        "clear-the-line",
        "first-load-not-known",
        "look-for-slip",
        "retorque",
        "witness-marks",
        "tie-the-tails",
        "later-checks",
    ]
    assert expected == codes(
        "lap splice",
        "measured",
        "turn-back known",
        "three or more clips",
        "torque known",
        "working load unknown",
        "begin at the eye",
        "greased threads",
        "retorque state not stated",
        "retorque before first use",
        "wrong way round",
    )


@settings(deadline=None)
@given(case=cases())
def test_one_complete_order_of_work_for_every_case(case: frozenset[str]) -> None:
    steps = chosen(case)
    names = [step.code for step in steps]
    assert len(set(names)) == len(names)
    for alternatives in (
        {"torque-from-the-dead-end", "torque-from-the-eye", "torque-lap"},
        {"first-load", "first-load-not-known"},
        {"retorque", "retorque-loaded", "retorque-unloaded"},
        {"saddle-on-live-part", "saddle-in-lap", "seat-both-saddles"},
        {"first-clip", "first-clip-at-the-eye", "first-clip-of-lap"},
        {"bend-round-thimble", "bend-round-pin", "bend-round-pulley", "link-eyes", "lay-alongside"},
        {"dry-threads", "greased-threads", "ask-threads", "no-torque"}
        - ({"no-torque"} if "torque known" in case else set()),
        {"each-shift", "later-checks"},
        {"tie-the-tail", "tie-the-tails"},
    ):
        assert alternatives & set(names), f"none of {sorted(alternatives)}"
    for alternatives in (
        {"dry-threads", "greased-threads", "ask-threads"},
        {"first-load", "first-load-not-known"},
        {"retorque", "retorque-loaded", "retorque-unloaded"},
        {"torque-from-the-dead-end", "torque-from-the-eye", "torque-lap"},
        {"saddle-on-live-part", "saddle-in-lap", "seat-both-saddles"},
    ):
        assert 1 >= len(alternatives & set(names)), f"more than one of {sorted(alternatives)}"


@settings(deadline=None)
@given(case=cases())
def test_nobody_is_told_a_number_that_the_plan_does_not_have(case: frozenset[str]) -> None:
    needs = {
        "turn_back": "turn-back known",
        "edges": "measured",
        "positions": "measured",
        "base_width": "measured",
        "spacing": "measured",
        "working_load": "working load known",
        "strip": "stripped",
    }
    for step in chosen(case):
        assert {needs[name] for name in step.values if name in needs} <= case, step.code


@settings(deadline=None)
@given(case=cases())
def test_the_dangerous_moments_are_held(case: frozenset[str]) -> None:
    held = {step.code for step in chosen(case) if step.hold}
    assert {"check-joint", "clear-the-line"} <= held
    assert ("no-torque" in held) == ("torque unknown" in case)
    assert ("no-turn-back" in held) == ("turn-back unknown" in case)
    assert ("first-load-not-known" in held) == ("working load unknown" in case)
    assert ("coating-test" in held) == ("coating on" in case)
    assert ("seize-first" in held) == ("rotation-resistant" in case)


@settings(deadline=None)
@given(case=cases())
def test_no_load_before_the_torque_and_torque_again_after_it(case: frozenset[str]) -> None:
    names = [step.code for step in chosen(case)]
    at = {name: i for i, name in enumerate(names)}
    torque = next(at[n] for n in at if n in ("torque-from-the-dead-end", "torque-from-the-eye", "torque-lap"))
    load = next(at[n] for n in at if n in ("first-load", "first-load-not-known"))
    again = next(at[n] for n in at if n in ("retorque", "retorque-loaded", "retorque-unloaded"))
    assert at["seize"] < at["cut"] < torque < at["check-joint"] < at["clear-the-line"] < load < again


def test_every_condition_that_the_plan_supplies_is_known_and_every_label_is_honest() -> None:
    used = {name for step in U_BOLT.procedure for name in (*step.when, *step.unless)}
    assert used <= STEP_CONDITIONS
    assert {"common practice"} == {step.citation.status for step in U_BOLT.procedure}
