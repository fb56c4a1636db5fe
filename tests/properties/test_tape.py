"""Design, sections 1 and 7: rounding for the tape is always to the safe side, and every mark is on a graduation."""

from __future__ import annotations

from itertools import pairwise

import attrs
from hypothesis import given
from tests.strategies import planned, requests

from turnback.model.absent import Absent
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.planning.tape import TapeLayout
from turnback.quantities import Length
from turnback.rules.admission import breaches

SIXTY_FOURTH, TENTH = 396_875, 100_000


def tape_of(plan: Plan) -> TapeLayout | None:
    """The tape's layout; none only where there is no turn-back, or no graduation keeps a greatest spacing."""
    if isinstance(plan.tape, Absent):
        assert isinstance(plan.turn_back, Absent) or plan.demand.greatest is not None
        assert plan.tape.reason.strip()
        return None
    return plan.tape


def length(value: Length | Absent) -> Length:
    assert isinstance(value, Length)
    return value


@given(requests())
def test_the_turn_back_on_the_tape_is_never_shorter(request: Request) -> None:
    """Tape layout on the safe side: the turn-back is rounded up, never under that of the plan."""
    plan = planned(request)
    tape = tape_of(plan)
    if tape is not None:
        assert length(tape.layout.turn_back) >= length(plan.turn_back)


@given(requests(measured=True))
def test_every_edge_on_the_tape_is_a_graduation(request: Request) -> None:
    """Tape layout: every edge, centre and the turn-back are whole graduations, sixteenths or millimetres or finer."""
    tape = tape_of(planned(request))
    if tape is None:
        return
    step = tape.step.nanometres
    marks = [edge for clip in tape.layout.clips for edge in (clip.near_edge, clip.position, clip.far_edge)]
    assert {0} == {mark.nanometres % step for mark in (*marks, length(tape.layout.turn_back))}
    inch = request.rope.diameter.nanometres % SIXTY_FOURTH == 0
    assert step in ([SIXTY_FOURTH, 2 * SIXTY_FOURTH, 4 * SIXTY_FOURTH] if inch else [TENTH, 5 * TENTH, 10 * TENTH])


@given(requests(measured=True))
def test_the_layout_on_the_tape_is_admitted_by_every_member(request: Request) -> None:
    """Tape layout: spacing never below the least nor above the greatest bound, turn-back as printed or longer."""
    plan = planned(request)
    tape = tape_of(plan)
    if tape is None:
        return
    near = tuple(clip.near_edge for clip in tape.layout.clips)
    joint = attrs.evolve(plan.joint, turn_back=length(tape.layout.turn_back), near_edges=near)
    assert () == tuple(b for m in plan.members for b in breaches(m.rules, joint, counts_only=m.verdict.counts_only))


@given(requests(measured=True))
def test_the_spacing_on_the_tape_keeps_every_bound_of_the_plan(request: Request) -> None:
    """Tape layout: never below the least spacing that anybody asks for, the trade's one base width among them."""
    plan = planned(request)
    tape = tape_of(plan)
    if tape is None:
        return
    for before, after in pairwise(tape.layout.clips):
        gap = after.near_edge - before.near_edge
        assert plan.demand.least is None or gap >= plan.demand.least.length
        assert plan.demand.greatest is None or gap <= plan.demand.greatest.length
        assert request.base_width is not None
        assert gap >= request.base_width * 2


@given(requests(measured=True))
def test_the_clips_on_the_tape_stand_inside_with_the_end_allowance(request: Request) -> None:
    """Tape layout: the first clip no nearer the dead end than exactly, the last inside, as many, the same way round."""
    plan = planned(request)
    tape = tape_of(plan)
    if tape is None:
        return
    assert [(c.number, c.saddle_on) for c in plan.clips] == [(c.number, c.saddle_on) for c in tape.layout.clips]
    assert tape.layout.clips[0].near_edge >= plan.clips[0].near_edge
    assert tape.layout.clips[-1].far_edge <= length(tape.layout.turn_back)


@given(requests(measured=True, whole=True))
def test_the_marks_that_measure_rope_are_never_short_on_the_tape(request: Request) -> None:
    """Tape layout: the marks of base, crown and dead end are never short of the exact ones."""
    for mark in planned(request).marks:
        if mark.code in ("base-dead-side", "crown", "base-live-side", "dead-end-lies") and isinstance(
            mark.tape, Length
        ):
            assert mark.tape >= mark.position
