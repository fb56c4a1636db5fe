"""Laws of where the clips stand and how much rope they take, searched over measured clips."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

import attrs

from turnback.conformance.draws import MEASURED, WITH_LENGTH, measured_requests, requests, requests_with_length
from turnback.conformance.judging import (
    Verdict,
    broken,
    in_both,
    no_lengths,
    no_plans,
    planned,
    search_of,
    shown,
)
from turnback.conformance.law import Law, needs_hardware_in_series
from turnback.conformance.subject import Subject
from turnback.model.absent import Absent
from turnback.model.layout import PlacedClip
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.terminations import TerminationKind, ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

__all__ = ["LAYOUT_LAWS"]

_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_EYES: Final[tuple[TerminationKind, ...]] = ("thimble eye", "soft eye", "pulley eye", "linked eyes", "plate eye")
_ON_EYES: Final = "measured clips on an eye"
_LAP: Final[tuple[TerminationKind, ...]] = ("lap splice",)


def _practice(locator: str) -> Citation:
    return Citation(COMMON_PRACTICE, locator, "common practice")


_ORDER: Final = _practice("the clips stand in a row from the dead end to the eye")
_END: Final = _practice("one base width of rope beyond the first clip, the last clip at the base of the eye")
_MIRROR: Final = _practice("a lap splice is its own mirror image and has the clips and the rope of two eyes")
_SADDLE: Final = _practice("the saddle bears on the live part")
_MORE: Final = _practice("more clips never take less rope")


def _series(subject: Subject) -> str:
    return no_plans(subject) or needs_hardware_in_series(subject)


def _placed(subject: Subject) -> str:
    return no_lengths(subject) or needs_hardware_in_series(subject)


def _eyes(subject: Subject) -> str:
    reason = no_lengths(subject)
    if reason or set(_EYES) & set(subject.style.terminations):
        return reason
    return f"a {subject.style.title} makes no eye"


def _splices(subject: Subject) -> str:
    reason = _series(subject)
    if reason or "lap splice" in subject.style.terminations:
        return reason
    return f"a {subject.style.title} makes no lap splice"


def _can_be_wrong(subject: Subject) -> str:
    reason = _eyes(subject)
    return reason or ("" if subject.style.wrong_way_round else f"a {subject.style.title} has no wrong way round")


# --- one-more-clip-never-shortens ---


def _one_more(subject: Subject, request: Request) -> Verdict:
    plan, more = (
        planned(subject, attrs.evolve(request, extra_clips=count))
        for count in (request.extra_clips, request.extra_clips + 1)
    )
    if plan is None or more is None:
        return None
    before, after = plan.turn_back, more.turn_back
    if isinstance(before, Absent):
        return None
    if isinstance(after, Absent) or after < before:
        words = f"a turn-back of at least {in_both(before)}, which {plan.clip_count} clips have"
        return broken(more.request, words, f"{shown(after)} for {more.clip_count} clips", _MORE)
    return "kept"


# --- positions ---


def _in_order(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or not plan.case.has_length:
        return None
    clips, base = plan.clips, request.base_width
    if [clip.number for clip in clips] != list(range(1, plan.clip_count + 1)):
        got = f"clips numbered {', '.join(str(clip.number) for clip in clips) or 'none'}"
        return broken(request, f"clips 1 to {plan.clip_count}, each placed once", got, _ORDER)
    turn_back = plan.turn_back
    if isinstance(turn_back, Absent) or base is None:
        return broken(request, "a turn-back, for the clips are placed", shown(turn_back), _ORDER)
    for clip in clips:
        middle = clip.near_edge.nanometres + base.nanometres // 2
        if clip.far_edge - clip.near_edge != base or not middle <= clip.position.nanometres <= middle + 1:
            words = f"clip {clip.number} from edge to edge one base width, its position in the middle"
            got = f"from {clip.near_edge} to {clip.far_edge}, position {clip.position}"
            return broken(request, words, got, _ORDER)
        if (clip.saddle_on == "plates") == plan.style.in_series:
            words = "plates on both parts" if clip.saddle_on != "plates" else "a saddle"
            return broken(request, f"clip {clip.number} with {words}", f"on {clip.saddle_on}", plan.style.citation)
    for one, other in pairwise(clips):
        if other.near_edge < one.far_edge:
            words = f"clip {other.number} beyond clip {one.number}, which ends at {in_both(one.far_edge)}"
            return broken(request, words, f"it begins at {in_both(other.near_edge)}", _ORDER)
    if clips[0].near_edge < Length(0) or clips[-1].far_edge > turn_back:
        words = f"every clip on the rope from the dead end to {in_both(turn_back)}"
        got = f"clips from {in_both(clips[0].near_edge)} to {in_both(clips[-1].far_edge)}"
        return broken(request, words, got, _ORDER)
    return "kept"


def _inside(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or not plan.clips:
        return None
    first, last, base = plan.clips[0].near_edge, plan.clips[-1].far_edge, request.base_width
    if last != plan.turn_back:
        words = f"the edge of the last clip at the base of the eye, {shown(plan.turn_back)} from the dead end"
        return broken(request, words, in_both(last), _END)
    if plan.dead_end != first:
        words = f"a dead end of {in_both(first)}, where the first clip begins"
        return broken(request, words, shown(plan.dead_end), _END)
    if plan.style.in_series and first != base:
        return broken(request, f"the first clip one base width from the dead end, {shown(base)}", in_both(first), _END)
    return _inside_on_tape(request, plan) or "kept"


def _inside_on_tape(request: Request, plan: Plan) -> Verdict:
    """The same on the graduations of a tape, where a base width is rounded up to a whole number of them."""
    tape, base = plan.tape, request.base_width
    if isinstance(tape, Absent) or base is None:
        return None
    first, last, step = tape.layout.clips[0].near_edge, tape.layout.clips[-1].far_edge, tape.step
    if last != tape.layout.turn_back:
        words = f"the edge of the last clip at the base of the eye, {shown(tape.layout.turn_back)} on the tape"
        return broken(request, words, in_both(last), _END)
    whole = step * -(-base.nanometres // step.nanometres)
    if plan.style.in_series and first != whole:
        words = f"the first clip {shown(whole)} from the dead end, one base width on the tape"
        return broken(request, words, in_both(first), _END)
    return None


def _measured_eyes(subject: Subject) -> SearchStrategy[Request]:
    return measured_requests(subject, kinds=_EYES)


# --- lap-splice-mirrors, saddles-on-the-live-part ---


def _mirrors(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    if plan.clip_count % 2:
        return broken(request, "an even number of clips", f"{plan.clip_count} clips", _MIRROR)
    if "thimble eye" in plan.style.terminations:
        eye = planned(subject, attrs.evolve(request, termination=ThimbleEye()))
        found = None if eye is None else _against_eye(plan, eye)
        if found is not None:
            return broken(request, *found, _MIRROR)
    overlap = plan.turn_back
    if isinstance(overlap, Absent):
        return "kept" if not plan.clips else broken(request, "an overlap", shown(overlap), _MIRROR)
    for clip, twin in zip(plan.clips, reversed(plan.clips), strict=True):
        expected = overlap - twin.far_edge
        if clip.near_edge != expected:
            words = f"clip {clip.number} at {in_both(expected)}, the mirror image of clip {twin.number}"
            return broken(request, words, in_both(clip.near_edge), _MIRROR)
        saddle = _farther(plan, clip, overlap)
        if clip.saddle_on != saddle:
            words = f"the saddle of clip {clip.number} on {saddle}"
            return broken(request, words, f"on {clip.saddle_on}", _SADDLE)
    if plan.clips and plan.clips[0].near_edge != request.base_width:
        words = f"the first clip one base width from the dead end, {shown(request.base_width)}"
        return broken(request, words, in_both(plan.clips[0].near_edge), _END)
    return "kept"


def _against_eye(plan: Plan, eye: Plan) -> tuple[str, str] | None:
    if plan.service == eye.service and plan.clip_count != 2 * eye.clip_count:
        return f"{2 * eye.clip_count} clips, twice those of an eye", f"{plan.clip_count} clips"
    if isinstance(eye.turn_back, Absent):
        return None
    if isinstance(plan.turn_back, Absent) or plan.turn_back < eye.turn_back * 2:
        return f"at least {in_both(eye.turn_back * 2)}, twice the turn-back of an eye", shown(plan.turn_back)
    return None


def _farther(plan: Plan, clip: PlacedClip, overlap: Length) -> str:
    if not plan.style.wrong_way_round:
        return "both parts"
    # Rope A is the one whose dead end is the datum; the saddle bears on the rope whose dead end is farther away.
    return "rope B" if clip.near_edge < overlap - clip.far_edge else "rope A"


def _on_live_part(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or not plan.clips:
        return None
    for clip in plan.clips:
        if clip.saddle_on != "live part":
            words = f"the saddle of clip {clip.number} of {len(plan.clips)} on the live part"
            return broken(request, words, f"on {clip.saddle_on}", _SADDLE)
    return "kept"


LAYOUT_LAWS: Final = (
    Law("one-more-clip-never-shortens", "One more clip never takes less rope: neither turn-back nor overlap falls.",
        search=search_of(requests_with_length, _one_more, WITH_LENGTH), after=_AFTER,
        applies=_placed),
    Law("positions-in-order", "Every clip that is counted has its place, numbered from the dead end, in order, none "
        "upon another, all on the rope that is turned back.",
        search=search_of(measured_requests, _in_order, MEASURED), after=_AFTER, applies=no_lengths),
    Law("inside-the-turn-back", "The first clip stands one base width from the dead end, the last with its edge at the "
        "base of the eye.",
        search=search_of(_measured_eyes, _inside, _ON_EYES), after=_AFTER,
        applies=_eyes),
    Law("lap-splice-mirrors", "A lap splice has twice the clips and at least twice the rope of an eye, is its own "
        "mirror image, and each saddle bears on the rope whose dead end is farther away.",
        search=search_of(lambda subject: requests(subject, kinds=_LAP), _mirrors), after=_AFTER, applies=_splices),
    Law("saddles-on-the-live-part", "Where a clip has a wrong way round, the saddle of every clip of an eye bears on "
        "the live part.",
        search=search_of(_measured_eyes, _on_live_part, _ON_EYES), after=_AFTER,
        applies=_can_be_wrong,
        redundant="as-built-equal-adds-nothing finds a joint that is made to such a plan reversed too; it stays "
        "because it is the rule that everybody knows, and because it is asked of linked eyes as well"),
)  # fmt: skip
"""In the order in which they are checked."""
