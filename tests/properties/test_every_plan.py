"""Design, section 10: what holds for every plan's number of clips, turn-back and positions."""

from __future__ import annotations

from itertools import pairwise

import attrs
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import planned, requests

from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import TerminationKind, ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Force, Length
from turnback.rules.admission import Breach, breaches

EYES: tuple[TerminationKind, ...] = ("thimble eye", "soft eye", "pulley eye", "linked eyes")
SERIES_KINDS: tuple[TerminationKind, ...] = (*EYES, "lap splice")


def objections(plan: Plan) -> list[Breach]:
    """What the members object to, each alone."""
    return [each for m in plan.members for each in breaches(m.rules, plan.joint, counts_only=m.verdict.counts_only)]


def gaps(plan: Plan) -> list[Length]:
    """Distances between the centres of neighbouring clips."""
    return [after.near_edge - before.near_edge for before, after in pairwise(plan.clips)]


def turn_back_of(plan: Plan) -> Length:
    assert isinstance(plan.turn_back, Length)
    return plan.turn_back


# --- admitted ---


@given(requests(most=1))
def test_a_plan_is_admitted_by_its_own_rule_set(request: Request) -> None:
    """Every plan: admitted by its own rule set, by the checker that inspection uses."""
    assert [] == objections(planned(request))


@given(requests(least=2, measured=True))
def test_a_governing_plan_is_admitted_by_every_member_alone(request: Request) -> None:
    """Every plan: admitted by every member of a governing one (section 5: each alone)."""
    assert [] == objections(planned(request))


@given(requests(measured=True, own_size=True))
def test_a_plan_with_a_clip_size_of_the_user_is_admitted_too(request: Request) -> None:
    """Every plan: admitted by its rule sets, also where the clip maker's word pairs rope and clip."""
    assert [] == objections(planned(request))


@given(requests(maker=True))
def test_a_torque_of_the_clip_maker_is_all_that_the_rule_sets_can_object_to(request: Request) -> None:
    """Every plan: admitted, but for the torque and threads that the clip's maker overrules, and a finding says so."""
    plan = planned(request)
    assert {each.clause for each in objections(plan)} <= {"torque", "threads"}
    assert "torque-given" in {finding.code for finding in plan.findings}


@given(requests(kinds=SERIES_KINDS))
def test_a_plan_has_no_fewer_clips_than_its_service_and_its_sources_ask_for(request: Request) -> None:
    """Section 7, step 3: the floors of the service and of the sources hold for every eye, whatever a table prints."""
    plan = planned(request)
    asked = [floor.count for member in plan.members for floor in member.rules.floors]
    asked += [plan.service.count_floor.value] if plan.service.count_floor is not None else []
    halves = 2 if request.termination.kind == "lap splice" else 1
    assert plan.clip_count >= halves * max([*asked, 2])


# --- spacing and positions ---


@given(requests(measured=True))
def test_every_gap_keeps_the_bounds_of_the_service_and_of_the_sources(request: Request) -> None:
    """Every plan: spacing within bounds; here those of the service, which no rule set checks."""
    plan = planned(request)
    for bound in plan.service.spacing:
        assert bound.length is not None
        exact = bound.length.nanometres(plan.demand.seat, request.base_width)
        assert exact is not None
        for gap in gaps(plan):
            assert bound.bound == "greatest" or gap.nanometres >= exact
            assert bound.bound == "least" or gap.nanometres <= exact


@given(requests(measured=True))
def test_clips_are_never_less_than_one_base_width_apart(request: Request) -> None:
    """Every plan: spacing never under a base width, not even from saddle to saddle."""
    plan = planned(request)
    assert request.base_width is not None
    assert all(after.near_edge - before.far_edge >= request.base_width for before, after in pairwise(plan.clips))


@given(requests(measured=True))
def test_the_spacing_that_is_shown_is_that_of_the_clips(request: Request) -> None:
    """Every plan: the clips are even, each gap a whole number of nanometres next to the spacing."""
    plan = planned(request)
    if isinstance(plan.spacing, Absent):
        assert 1 == len(plan.clips)
        return
    shown = plan.spacing
    assert {Length(0), Length(1)} >= {shown - gap for gap in gaps(plan)}


@given(requests(measured=True))
def test_positions_are_ordered_and_inside_the_turn_back(request: Request) -> None:
    """Every plan: positions ordered, inside the turn-back, one clip for each that is counted."""
    plan = planned(request)
    edges = [edge for clip in plan.clips for edge in (clip.near_edge, clip.position, clip.far_edge)]
    assert list(range(1, plan.clip_count + 1)) == [clip.number for clip in plan.clips]
    assert sorted(set(edges)) == edges
    assert edges[0] >= Length(0)
    assert edges[-1] <= turn_back_of(plan)
    assert {request.base_width} == {clip.far_edge - clip.near_edge for clip in plan.clips}


@given(requests(measured=True, kinds=EYES))
def test_the_first_edge_is_one_base_width_from_the_dead_end_and_the_last_at_the_base(request: Request) -> None:
    """Every plan: first edge exactly one base width from the dead end, last far edge at the base of the eye."""
    plan = planned(request)
    assert request.base_width == plan.clips[0].near_edge == plan.dead_end
    assert turn_back_of(plan) == plan.clips[-1].far_edge


@given(requests(measured=True, kinds=("plate eye",)))
def test_two_finished_diameters_of_dead_end_stand_out_of_a_plate(request: Request) -> None:
    """Section 8: plates: dead end at least two cable diameters beyond the body, which ends at the base."""
    plan = planned(request)
    (body,) = plan.clips
    rope = request.rope
    finished = rope.coating.finished_diameter if rope.coating and not rope.coating.stripped else rope.diameter
    assert body.near_edge >= finished * 2
    assert turn_back_of(plan) == body.far_edge


# --- more clips, pulley, splice ---


@given(requests(kinds=SERIES_KINDS))
def test_one_more_clip_never_shortens_the_turn_back(request: Request) -> None:
    """Every plan: one more clip is one more in each half and never shortens the turn-back."""
    plan, more = planned(request), planned(attrs.evolve(request, extra_clips=request.extra_clips + 1))
    halves = 2 if request.termination.kind == "lap splice" else 1
    assert plan.clip_count + halves == more.clip_count
    if isinstance(plan.turn_back, Absent):
        assert isinstance(more.turn_back, Absent)
    else:
        assert turn_back_of(more) >= plan.turn_back


@given(requests(kinds=("pulley eye",)))
def test_a_pulley_adds_exactly_one(request: Request) -> None:
    """Every plan: a pulley in place of the thimble adds exactly one clip, however many rule sets print it."""
    with_thimble = planned(attrs.evolve(request, termination=ThimbleEye()))
    assert with_thimble.clip_count + 1 == planned(request).clip_count


@given(requests(style="u-bolt", kinds=("lap splice",)))
def test_a_lap_splice_has_twice_the_clips_and_at_least_twice_the_turn_back(request: Request) -> None:
    """Every plan: a lap splice has twice the clips, at least twice the turn-back."""
    eye, splice = planned(attrs.evolve(request, termination=ThimbleEye())), planned(request)
    assert 2 * eye.clip_count == splice.clip_count
    assert isinstance(eye.turn_back, Absent) == isinstance(splice.turn_back, Absent)
    if not isinstance(eye.turn_back, Absent):
        assert turn_back_of(splice) >= eye.turn_back * 2


@given(requests(kinds=("lap splice",), measured=True, style="u-bolt"))
def test_a_lap_splice_is_its_own_mirror_image(request: Request) -> None:
    """Every plan: mirror symmetry of a lap splice to the nanometre, one base width free at both dead ends."""
    plan = planned(request)
    overlap = turn_back_of(plan)
    edges = [(clip.near_edge, clip.far_edge) for clip in plan.clips]
    assert edges == [(overlap - far, overlap - near) for near, far in reversed(edges)]
    assert request.base_width == plan.clips[0].near_edge


@given(requests(kinds=("lap splice",), measured=True, style="u-bolt"))
def test_every_saddle_of_a_lap_splice_bears_on_the_rope_whose_dead_end_is_farther_away(request: Request) -> None:
    """Every plan: in a lap splice each saddle bears on the rope whose dead end is farther away."""
    plan = planned(request)
    overlap = turn_back_of(plan)
    for clip in plan.clips:
        from_a, from_b = clip.near_edge, overlap - clip.far_edge
        assert clip.saddle_on == ("rope B" if from_a < from_b else "rope A")


@given(requests(measured=True, kinds=(*EYES, "plate eye")))
def test_saddles_bear_on_the_live_part_where_the_style_has_a_wrong_way_round(request: Request) -> None:
    """Every plan: saddles on the live part where the style has a wrong way round, every one of them."""
    plan = planned(request)
    expected = {"u-bolt": "live part", "mirrored-saddle": "both parts"}.get(request.style, "plates")
    assert {expected} == {clip.saddle_on for clip in plan.clips}
    if plan.style.wrong_way_round:
        assert "saddle-on-live-part" in {finding.code for finding in plan.findings}


@given(requests(measured=True, style="mirrored-saddle", kinds=("lap splice",)))
def test_a_clip_without_a_wrong_way_round_bears_on_both_ropes_of_a_lap_splice(request: Request) -> None:
    """Every plan: a mirrored-saddle clip has no wrong way round, in a lap splice either."""
    assert {"both parts"} == {clip.saddle_on for clip in planned(request).clips}


# --- what changes nothing, or nothing for the worse ---


@given(requests(), st.integers(80, 120))
def test_a_measured_diameter_never_picks_a_row(request: Request, percent: int) -> None:
    """Section 7, step 1: a measured diameter changes findings, takes a strength away, and changes nothing else."""
    rope = attrs.evolve(request.rope, measured_diameter=Length(request.rope.diameter.nanometres * percent // 100))
    nominal = planned(attrs.evolve(request, rope=attrs.evolve(rope, measured_diameter=None)))
    measured = planned(attrs.evolve(request, rope=rope))
    assert [member.row for member in nominal.members] == [member.row for member in measured.members]
    assert nominal.demand == measured.demand
    assert nominal.layout == measured.layout
    assert nominal.geometry == measured.geometry
    if isinstance(measured.termination_breaking_force, Force):
        assert nominal.strength == measured.strength
        assert percent >= 100


@given(requests(measured=None))
def test_clips_have_places_exactly_where_a_source_says_how_far_apart_or_how_much_rope(request: Request) -> None:
    """Section 5: nothing is guessed; common practice alone never tells how much rope to turn back."""
    plan = planned(request)
    printed = [m for m in plan.members if m.row.turn_back is not None and not m.verdict.counts_only]
    bounds = [*plan.service.spacing, *(bound for member in plan.members for bound in member.rules.spacing)]
    gives = not plan.style.in_series or printed or any(bound.bound != "greatest" for bound in bounds)
    assert bool(plan.clips) == bool(gives and request.base_width is not None)
    if not gives:
        assert isinstance(plan.turn_back, Absent)
        assert isinstance(plan.termination_breaking_force, Absent)


@given(requests(measured=True, kinds=EYES))
def test_measuring_the_clip_moves_nothing_that_was_known_without_it(request: Request) -> None:
    """Section 7, step 4: with b unknown, count and torque stand; a turn-back that is given then is never too short."""
    measured, before = planned(request), planned(attrs.evolve(request, base_width=None))
    assert (measured.clip_count, measured.torque) == (before.clip_count, before.torque)
    assert () == before.clips
    assert isinstance(before.spacing, Absent)
    assert "measure-base-width" in {finding.code for finding in before.findings if finding.kind == "must-do"}


def test_the_joint_of_a_plan_keeps_what_the_checker_measures() -> None:
    """The law of admission is not empty: one clip less, or one nanometre of turn-back less, is objected to."""
    request = Request(
        Rope.parse("3/4 in 6x19 IWRC EIP"), ThimbleEye(), "u-bolt", "us-ca-8-8497", base_width=Length(57_150_000)
    )
    plan = planned(request)
    rules = plan.members[0].rules
    assert () == breaches(rules, plan.joint)
    for changed, clause in (
        (attrs.evolve(plan.joint, count=plan.clip_count - 1), "count"),
        (attrs.evolve(plan.joint, turn_back=turn_back_of(plan) - Length(1)), "turn-back"),
        (attrs.evolve(plan.joint, threads="greased"), "threads"),
    ):
        assert [clause] == [each.clause for each in breaches(rules, changed)]
