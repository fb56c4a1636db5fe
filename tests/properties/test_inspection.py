"""Design, section 10: what holds for every inspection of a joint against its plan."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Final

import attrs
from hypothesis import given
from hypothesis import strategies as st
from tests.review.joints import as_planned
from tests.strategies import CATALOGUE, planned, requests

from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import SIXTEENTH, Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.as_built_document import as_built_document, as_built_from_document
from turnback.review.inspection import Inspection, inspect
from turnback.review.observations import Observation
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import TorquePass
from turnback.rules.admission import breaches

MEASURED: Final = requests(measured=True, maker=None)
TORQUED: Final = requests(measured=True, maker=True)
ONE_EYE: Final = requests(
    measured=True, kinds=("thimble eye", "soft eye", "pulley eye", "lap splice"), maker=None, most=2
)
GRAVE: Final = ("must-fix", "must-do")


def grave(inspection: Inspection) -> set[tuple[str, str]]:
    return {(each.code, each.item) for each in inspection.deviations if each.kind in GRAVE}


def length_of(value: Length | Absent) -> Length:
    assert isinstance(value, Length)
    return value


def prefix(plan: Plan) -> str:
    return "first eye, " if plan.other_eye is not None else ""


def on_item(inspection: Inspection, plan: Plan, item: str) -> tuple[Observation, ...]:
    return tuple(each for each in inspection.about(prefix(plan) + item) if each.deviates)


# --- an as-built equal to the plan ---


@given(MEASURED, st.booleans(), st.booleans())
def test_an_as_built_equal_to_the_plan_adds_no_deviation(request: Request, on_tape: bool, loaded: bool) -> None:
    """On the exact layout and on the graduations of the tape, before and after the first load."""
    plan = planned(request)
    inspection = inspect(plan, as_planned(plan, on_tape=on_tape, loaded=loaded))
    assert () == inspection.deviations


@given(MEASURED)
def test_the_plans_own_findings_remain(request: Request) -> None:
    plan = planned(request)
    inspection = inspect(plan, as_planned(plan))
    assert set(plan.findings) <= set(inspection.findings)
    assert "forbidden" not in {finding.kind for finding in plan.findings} or inspection.in_service == "out of service"


@given(MEASURED)
def test_a_request_is_planned_first_and_said_so(request: Request) -> None:
    plan = planned(request)
    readings = as_planned(plan)
    held, made = inspect(plan, readings), inspect(request, readings, CATALOGUE)
    assert (False, True) == (held.planned_here, made.planned_here)
    assert held.deviations == made.deviations
    assert {"planned-here"} == {each.code for each in made.observations} - {each.code for each in held.observations}


# --- one thing changed ---


@given(MEASURED, st.booleans())
def test_one_clip_less_is_seen_on_the_number_of_clips(request: Request, loaded: bool) -> None:
    plan = planned(request)
    whole = as_planned(plan, loaded=loaded)
    count = plan.clip_count - 1
    less = attrs.evolve(
        whole,
        clip_count=count,
        near_edges=whole.near_edges[:count],
        saddles=whole.saddles[:count],
        slips=whole.slips[:count],
        passes=[TorquePass(one.at, one.as_found[:count], one.as_left[:count]) for one in whole.passes if count],
    )
    seen = on_item(inspect(plan, less), plan, "clips")
    assert ["clips-missing"] == [each.code for each in seen]
    assert seen[0].out_of_service is loaded


@given(MEASURED, st.integers(0, 1000), st.booleans())
def test_one_side_flipped_is_seen_on_that_clip(request: Request, which: int, loaded: bool) -> None:
    """And a joint that has carried load is never told to turn it round."""
    plan = planned(request)
    if not plan.style.wrong_way_round:
        return
    whole = as_planned(plan, loaded=loaded)
    clip = which % plan.clip_count
    other = {"live part": "dead part", "rope A": "rope B", "rope B": "rope A"}
    sides = [other[str(side)] if i == clip else side for i, side in enumerate(whole.saddles)]
    inspection = inspect(plan, attrs.evolve(whole, saddles=sides))
    seen = on_item(inspection, plan, f"clip {clip + 1}")
    assert ["clip-reversed"] == [each.code for each in seen]
    assert loaded == seen[0].out_of_service
    assert not loaded or ("fresh rope" in seen[0].do and inspection.in_service == "out of service")


@given(MEASURED, st.integers(0, 1000), st.sampled_from([-1, 1]), st.booleans())
def test_an_edge_that_moved_is_seen_on_that_clip(request: Request, which: int, sign: int, far: bool) -> None:
    """By 1/16 in or by nearly a base width; grave where a rule set or the trade bounds it, else written down."""
    plan = planned(request)
    whole = as_planned(plan)
    clip, base = which % plan.clip_count, request.base_width
    assert base is not None
    step = (base - Length(1) if far else min(SIXTEENTH, base - Length(1))) * sign
    moved = [edge + step if i == clip and edge is not None else edge for i, edge in enumerate(whole.near_edges)]
    inspection = inspect(plan, attrs.evolve(whole, near_edges=moved, dead_end=None))
    seen = {each.code for each in on_item(inspection, plan, f"clip {clip + 1}")}
    tape = plan.tape
    on_tape = not isinstance(tape, Absent) and tape.layout.clips[clip].near_edge == moved[clip]
    assert on_tape or "off-plan" in seen
    assert clip > 0 or sign > 0 or "dead-end-short" in seen
    # Less than 1/16 in is what the layout on the tape may itself leave at the base, for it rounds the clip up.
    if clip == plan.clip_count - 1 and not plan.layout_demand.splice and (sign > 0 or -step >= SIXTEENTH):
        assert ("clip-past-the-base" if sign > 0 else "clip-off-the-base") in seen or on_tape
    assert pairs_off(plan, moved) == {
        each.item.removeprefix(prefix(plan)) for each in inspection.deviations if each.code == "spacing-off"
    }


def pairs_off(plan: Plan, edges: list[Length | None]) -> set[str]:
    """Pairs that any rule set or the service objects to, or that stand less than one base width apart."""
    joint = attrs.evolve(plan.joint, near_edges=tuple(edges))
    found = {
        "clips " + " and ".join(map(str, breach.clips))
        for member in plan.members
        for breach in breaches(member.rules, joint, member.verdict.counts_only)
        if breach.clause == "spacing"
    }
    base = plan.request.base_width
    assert base is not None
    for number, (one, other) in enumerate(pairwise(edges), 1):
        if one is not None and other is not None and (other - one < base * 2 or off_in_service(plan, other - one)):
            found.add(f"clips {number} and {number + 1}")
    return found


def off_in_service(plan: Plan, gap: Length) -> bool:
    for bound in plan.service.spacing:
        limit = bound.length.nanometres(plan.demand.seat, plan.request.base_width) if bound.length else None
        assert limit is not None
        assert not bound.clear
        if (bound.bound == "least" and gap.nanometres < limit) or (
            bound.bound == "greatest" and gap.nanometres > limit
        ):
            return True
    return False


@given(requests(measured=True, uses=(("guy", "US"),)), st.sampled_from([-1, 1]))
def test_another_base_width_is_seen_on_the_base_width(request: Request, sign: int) -> None:
    plan = planned(request)
    base = request.base_width
    assert base is not None
    other = base + Length(min(SIXTEENTH.nanometres, base.nanometres - 1) * sign)
    seen = on_item(inspect(plan, attrs.evolve(as_planned(plan), base_width=other)), plan, "base width")
    assert [("base-width-differs", "must-do")] == [(each.code, each.kind) for each in seen]


@given(MEASURED, st.integers(1, 2))
def test_a_turn_back_a_sixteenth_short_is_seen_on_the_turn_back(request: Request, sixteenths: int) -> None:
    plan = planned(request)
    whole = as_planned(plan)
    short = attrs.evolve(whole, turn_back=length_of(plan.turn_back) - SIXTEENTH * sixteenths)
    item = "overlap" if plan.layout_demand.splice else "turn-back"
    seen = on_item(inspect(plan, short), plan, item)
    assert [("turn-back-short", "must-fix")] == [(each.code, each.kind) for each in seen]


@given(TORQUED, st.integers(0, 1000), st.booleans(), st.fractions(Fraction(1, 100), Fraction(99, 100)))
def test_a_torque_left_low_is_seen_on_that_clip(request: Request, which: int, early: bool, part: Fraction) -> None:
    """In the last pass it must be put right; where a later pass did that, somebody looks for slip."""
    plan = planned(request)
    assert isinstance(plan.torque, Torque)
    whole = as_planned(plan)
    clip = which % plan.clip_count
    low = Torque(plan.torque.value * part, plan.torque.unit)
    index = 0 if early else len(whole.passes) - 1
    one = whole.passes[index]
    left = [low if i == clip else torque for i, torque in enumerate(one.as_left)]
    passes = [TorquePass(p.at, p.as_found, left if i == index else p.as_left) for i, p in enumerate(whole.passes)]
    seen = on_item(inspect(plan, attrs.evolve(whole, passes=passes)), plan, f"clip {clip + 1}")
    assert [("torque-was-off", "confirm") if early else ("clip-under-torqued", "must-fix")] == [
        (each.code, each.kind) for each in seen
    ]


@given(TORQUED, st.integers(0, 1000), st.booleans())
def test_a_torque_found_low_after_the_first_load_is_torqued_again_and_is_no_failure(
    request: Request, which: int, left: bool
) -> None:
    plan = planned(request)
    assert isinstance(plan.torque, Torque)
    whole = as_planned(plan)
    clip = which % plan.clip_count
    low = Torque(plan.torque.value / 2, plan.torque.unit)
    one = whole.passes[-1]
    found = [low if i == clip else torque for i, torque in enumerate(one.as_found)]
    again = [None if i == clip and not left else torque for i, torque in enumerate(one.as_left)]
    changed = attrs.evolve(whole, passes=[*whole.passes[:-1], TorquePass(one.at, found, again)])
    inspection = inspect(plan, changed)
    seen = on_item(inspection, plan, f"clip {clip + 1}")
    assert [("torque-low-as-found", "note" if left else "must-do")] == [(each.code, each.kind) for each in seen]
    assert not any(each.out_of_service or each.kind == "must-fix" for each in inspection.deviations)


# --- tolerance ---


def bent(draw_from: tuple[int, ...], whole: AsBuilt) -> AsBuilt:
    """Readings moved by so many quarters of a millimetre, kept in order."""
    moves = [Length(250_000 * move) for move in draw_from]
    edges = [
        None if edge is None else max(Length(1), edge + moves[i % len(moves)])
        for i, edge in enumerate(whole.near_edges)
    ]
    kept: list[Length | None] = []
    for edge in edges:
        last = kept[-1] if kept else None
        kept.append(edge if edge is None or last is None or edge > last else last + Length(1))
    turn_back = whole.turn_back
    return attrs.evolve(whole, near_edges=kept, turn_back=None if turn_back is None else turn_back + moves[0])


@given(
    ONE_EYE,
    st.tuples(*[st.integers(-12, 12)] * 4),
    st.integers(1, 3_000_000),
    st.integers(1, 3_000_000),
    st.integers(80, 120),
)
def test_a_tolerance_widens_and_never_narrows(
    request: Request, moves: tuple[int, ...], tape: int, more: int, percent: int
) -> None:
    """What is grave under a tolerance is grave under a smaller one and under none."""
    plan = planned(request)
    readings = bent(moves, as_planned(plan))
    if isinstance(plan.torque, Torque):
        torque = Torque(plan.torque.value * Fraction(percent, 100), plan.torque.unit)
        count = plan.clip_count
        readings = attrs.evolve(readings, passes=[TorquePass("periodic", None, torque, clips=count)])
    given_tolerances = [
        Tolerances(),
        Tolerances(Length(tape), "class of the tape", "4 %", "sheet of the wrench"),
        Tolerances(Length(tape + more), "class of the tape", "12 %", "sheet of the wrench"),
    ]
    seen = [grave(inspect(plan, attrs.evolve(readings, tolerances=each))) for each in given_tolerances]
    assert seen[2] <= seen[1] <= seen[0]


@given(MEASURED)
def test_a_value_inside_the_tolerance_passes_and_says_so(request: Request) -> None:
    plan = planned(request)
    whole = as_planned(plan)
    short = attrs.evolve(
        whole,
        turn_back=length_of(plan.turn_back) - SIXTEENTH,
        tolerances=Tolerances(SIXTEENTH, "class of the tape"),
    )
    inspection = inspect(plan, short)
    assert set() == grave(inspection)
    assert "within-tolerance" in {each.code for each in inspection.deviations}


# --- what is missing ---

READINGS: Final = (
    "clip_count", "clip_size", "sizes_mixed", "makes_mixed", "near_edges", "saddles", "passes", "threads", "turn_back",
    "thimble", "first_load", "expected_load", "slips", "rope",
)  # fmt: skip
OF_THE_ROPE: Final = (
    "use", "diameter", "broken_wires_in_lay", "broken_wires_at_end", "share_broken", "wear", "damage", "corrosion",
)  # fmt: skip
LOOKED_AT: Final = requests(
    style="u-bolt", kinds=("thimble eye",), measured=True, maker=True, coatings=("",), uses=(("guy", "US"),)
)


@given(LOOKED_AT, st.sampled_from([*READINGS, *(f"rope.{name}" for name in OF_THE_ROPE)]))
def test_a_reading_that_is_missing_never_lets_a_joint_pass(request: Request, name: str) -> None:
    plan = planned(request)
    whole = as_planned(plan)
    changed = as_built_from_document(without(as_built_document(whole), name))
    before, after = inspect(plan, whole), inspect(plan, changed)
    assert after.in_service != "keep"
    if name not in ("rope.diameter", "expected_load"):  # unless it could not be judged in the first place
        assert set(before.still_to_measure) < set(after.still_to_measure)


def without(document: dict[str, object], name: str) -> dict[str, object]:
    """The same readings without one of them; the dead end goes with the edges, for it is the first of them."""
    head, dot, part = name.partition(".")
    inner = document.get(head)
    if dot and isinstance(inner, dict):
        return {**document, head: without(inner, part)}
    taken = {"near_edges": ("near_edges", "dead_end")}.get(name, (name,))
    keys = {f"{each}{unit}" for each in taken for unit in ("", "_nm", "_newton")}
    assert keys & set(document)
    return {key: value for key, value in document.items() if key not in keys}


@given(MEASURED)
def test_nothing_measured_is_never_enough(request: Request) -> None:
    inspection = inspect(planned(request), AsBuilt())
    assert inspection.in_service != "keep"
    assert () == inspection.deviations
    assert inspection.still_to_measure


@given(MEASURED, st.integers(0, 1000))
def test_a_list_that_stops_early_leaves_the_other_clips_to_be_measured(request: Request, which: int) -> None:
    plan = planned(request)
    whole = as_planned(plan)
    few = which % plan.clip_count
    inspection = inspect(plan, attrs.evolve(whole, near_edges=whole.near_edges[:few]))
    missing = {each.what for each in inspection.still_to_measure}
    expected = {f"{prefix(plan)}clip {number}, place" for number in range(few + 1, plan.clip_count + 1)}
    assert expected == {what for what in missing if what.endswith("place")}
    assert inspection.in_service != "keep"


# --- every observation ---


@given(ONE_EYE, st.tuples(*[st.integers(-40, 40)] * 4), st.booleans())
def test_every_observation_is_cited_and_says_what_to_do(request: Request, moves: tuple[int, ...], loaded: bool) -> None:
    plan = planned(request)
    readings = bent(moves, as_planned(plan, loaded=loaded))
    readings = attrs.evolve(readings, makes_mixed=True, thimble=False, threads="greased")
    for each in inspect(plan, readings).deviations:
        assert each.do
        assert each.text.endswith(".")
        assert each.do.endswith(".")
        assert all(isinstance(citation, Citation) for citation in each.citations)
