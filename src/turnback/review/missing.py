"""What an inspection still needs: every reading that was not taken, and every value that nobody gave to judge it by."""

from __future__ import annotations

from collections.abc import Iterator

from turnback.model.absent import Absent
from turnback.review.check_clips import has_thimble, saddle_wanted
from turnback.review.check_load import expected_load, load_limit
from turnback.review.check_rope import holding, loss_allowed
from turnback.review.subject import Subject
from turnback.review.torque_pass import PASSES
from turnback.review.upkeep import torque_times

__all__ = ["still_to_measure"]

_NOT_MEASURED = "not measured"
_NOT_LOOKED = "nobody looked"
_NOT_SAID = "nobody says"


def still_to_measure(subject: Subject) -> tuple[Absent, ...]:
    """List what is still to be measured, counted, looked at or stated.

    Args:
        subject: The joint.

    Returns:
        Each with the reason, in the order of an inspection; empty where every reading is there.
    """
    found = [*_joint(subject), *_clips(subject), *_torque(subject), *_load(subject), *_rope(subject)]
    return tuple(Absent(subject.named(what), reason) for what, reason in dict.fromkeys(found))


def _joint(subject: Subject) -> Iterator[tuple[str, str]]:
    as_built, splice = subject.as_built, subject.plan.layout_demand.splice
    if as_built.clip_count is None:
        yield "number of clips", "not counted"
    if as_built.clip_size is None:
        yield "size of the clips", _NOT_MEASURED
    for field, what in (("sizes_mixed", "clips of different sizes"), ("makes_mixed", "clips of different makes")):
        if getattr(as_built, field) is None:
            yield what, _NOT_LOOKED
    if subject.base_width is None:
        yield "base width", "not measured, and the plan does not give it"
    if as_built.turn_back is None:
        yield "overlap" if splice else "turn-back", _NOT_MEASURED
    if not any(clip == 1 for clip, _ in subject.dead_ends):
        yield "dead end", _NOT_MEASURED
    if has_thimble(subject) and as_built.thimble is None:
        yield "thimble", _NOT_LOOKED
    if not as_built.threads:
        yield "condition of the threads", _NOT_SAID


def _clips(subject: Subject) -> Iterator[tuple[str, str]]:
    as_built = subject.as_built
    places = as_built.centres or as_built.near_edges
    for clip in range(1, subject.count + 1):
        if clip > len(places) or places[clip - 1] is None:
            yield f"{subject.clip(clip)}, place", _NOT_MEASURED
        if saddle_wanted(subject, clip) and (clip > len(as_built.saddles) or as_built.saddles[clip - 1] is None):
            yield f"{subject.clip(clip)}, side of the saddle", _NOT_LOOKED
        if subject.loaded and (clip > len(as_built.slips) or as_built.slips[clip - 1] is None):
            yield f"{subject.clip(clip)}, slip at its witness mark", _NOT_LOOKED


def _torque(subject: Subject) -> Iterator[tuple[str, str]]:
    as_built, torque = subject.as_built, subject.plan.torque
    if isinstance(torque, Absent):
        yield "torque to judge by", torque.reason
    if isinstance(subject.plan.thread_condition, Absent) and not isinstance(torque, Absent):
        yield "threads to judge by", subject.plan.thread_condition.reason
    times = {each.value for each in torque_times(subject.plan)}
    least = 0
    if subject.loaded:
        least = PASSES.index("after the first load")
    elif "before first use" in times:
        least = PASSES.index("before first use")
    later = [one for one in as_built.passes if PASSES.index(one.at) >= least]
    for clip in range(1, subject.count + 1):
        if not any(one.left(clip) or one.found(clip) for one in later):
            yield f"{subject.clip(clip)}, torque {_when(least)}", _NOT_MEASURED


def _when(least: int) -> str:
    return PASSES[least] if least else "at assembly"


def _load(subject: Subject) -> Iterator[tuple[str, str]]:
    as_built = subject.as_built
    if as_built.loaded is None:
        yield "whether it has carried load", _NOT_SAID
    if as_built.first_load_applied is None and as_built.first_load is None:
        yield "whether the first load was put on", _NOT_SAID
    if as_built.first_load is None:
        yield "first load", _NOT_MEASURED
    if expected_load(subject) is None:
        yield "load expected in service", "nobody says; give expected_load, or load in the request"
    limit, _ = load_limit(subject)
    if isinstance(limit, Absent):
        yield "working load", limit.reason


def _rope(subject: Subject) -> Iterator[tuple[str, str]]:
    state = subject.as_built.rope
    if state.use is None:
        yield "rope, running or standing", _NOT_SAID
    for rule in holding(subject):
        if rule.measure == "loss of diameter":
            allowed = loss_allowed(subject, rule)
            if isinstance(allowed, Absent):
                yield "rope, loss of diameter", allowed.reason
            elif state.diameter is None:
                yield "rope, diameter", _NOT_MEASURED
        elif rule.measure == "damage seen":
            if state.damage is None:
                yield "rope, kinks, crushing, bird-caging or heat damage", _NOT_LOOKED
        elif state.measured(rule.measure) is None:
            yield f"rope, {rule.measure}", _NOT_MEASURED
    if state.corrosion is None:
        yield "rope, corrosion", _NOT_LOOKED
