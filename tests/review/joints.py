"""A joint made exactly to its plan, for tests that change one thing on it. Everything about it is invented."""

from __future__ import annotations

import turnback_mirrored_saddle.plugin
import turnback_plate.plugin
import turnback_ubolt.plugin
from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import LapSplice, Termination, ThimbleEye
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Force, LengthLike
from turnback.review.as_built import AsBuilt
from turnback.review.rope_state import RopeState
from turnback.review.torque_pass import TorquePass
from turnback.rules.catalogue import Catalogue

CATALOGUE = Catalogue.of(turnback_ubolt.plugin, turnback_mirrored_saddle.plugin, turnback_plate.plugin)


def request(
    rope: str = "3/4 in 6x19 IWRC EIP right regular new",
    termination: Termination | None = None,
    base_width: LengthLike | None = "2-1/4 in",
    rules: str = "us-ca-8-8497",
    style: str = "u-bolt",
    service: str | None = "guy",
    extra_clips: int = 0,
) -> Request:
    """The joint of most tests: 4 clips in 18 in, 130 lbf·ft dry (8 CCR 8497 Table 1, row 3/4 in)."""
    return Request(
        Rope.parse(rope),
        ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in") if termination is None else termination,
        style,
        rules,
        "forged",
        base_width,
        service=service,
        jurisdiction="US",
        extra_clips=extra_clips,
    )


def plan(of: Request | None = None) -> Plan:
    return plan_request(request() if of is None else of, CATALOGUE)


def as_planned(plan: Plan, *, on_tape: bool = False, loaded: bool = True, full: bool = True) -> AsBuilt:
    """Every reading as the plan has it; without what nobody stated (loads, rope) where not ``full``."""
    layout = plan.tape.layout if on_tape and not isinstance(plan.tape, Absent) else plan.layout
    count, torque = plan.clip_count, None if isinstance(plan.torque, Absent) else plan.torque
    sides = [None if clip.saddle_on == "plates" else clip.saddle_on for clip in layout.clips]
    passes = [] if torque is None else [TorquePass("assembly", None, torque, clips=count)]
    if loaded and torque is not None:
        passes.append(TorquePass("after the first load", torque, torque, clips=count))
    limit = working_load(plan)
    return AsBuilt(
        clip_count=count,
        clip_size=plan.clip_size,
        sizes_mixed=False,
        makes_mixed=False,
        base_width=plan.request.base_width,
        near_edges=[clip.near_edge for clip in layout.clips],
        saddles=sides,
        passes=passes,
        threads="" if isinstance(plan.thread_condition, Absent) else plan.thread_condition,
        dead_end=None if isinstance(layout.end_distance, Absent) else layout.end_distance,
        turn_back=None if isinstance(layout.turn_back, Absent) else layout.turn_back,
        thimble=has_thimble(plan) or None,
        carried_load=loaded,
        first_load_applied=True if loaded else None,
        first_load=limit if loaded and full else None,
        expected_load=Force(limit.newtons / 2) if full else None,
        working_load=limit if full else None,
        working_load_reason="engineer 4, sheet 2" if full else "",
        slips=[False] * count if loaded else None,
        rope=sound(plan) if full else None,
        other_eye=None
        if plan.other_eye is None
        else as_planned(plan.other_eye, on_tape=on_tape, loaded=loaded, full=full),
    )


def sound(plan: Plan) -> RopeState:
    """A rope that somebody looked at and found sound."""
    rope = plan.request.rope
    new = max(rope.diameter, rope.measured_diameter or rope.diameter)
    return RopeState("standing", new, 0, 0, 0, "0 %", "0 %", [], corrosion=False)


def working_load(plan: Plan) -> Force:
    """The plan's, or 11 kN as somebody competent may state it."""
    try:
        return plan.working_load()
    except TurnbackError:
        return Force.of("11 kN")


def has_thimble(plan: Plan) -> bool:
    kind = plan.request.termination.kind
    if kind == "plate eye":
        return isinstance(getattr(plan.request.termination, "around", None), ThimbleEye)
    return kind in ("thimble eye", "linked eyes")


def lap_splice() -> Plan:
    """Eight grips of 10 mm rope, half of them reversed (EN 13411-5, Annex A); invented base width."""
    return plan(request("10 mm 6x19 new", LapSplice(), "20 mm", "en-13411-5"))
