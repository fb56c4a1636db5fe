"""Laws of inspection: a joint made to its plan passes, one change on it is seen, what is not measured is asked."""

from __future__ import annotations

from typing import Final, Literal

import attrs
from hypothesis import strategies as st

from turnback.conformance.draws import requests, several
from turnback.conformance.judging import broken, in_both, planned
from turnback.conformance.law import Breakage, Law, Search
from turnback.conformance.laws_sources import gives_everything, has_places, plans_alone
from turnback.conformance.subject import Subject
from turnback.model.absent import Absent
from turnback.model.layout import Layout
from turnback.planning.plan import Plan
from turnback.planning.procedure import conditions_of
from turnback.planning.request import Request
from turnback.quantities import SIXTEENTH, Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.inspection import Inspection, inspect
from turnback.review.torque_pass import TorquePass

__all__ = ["INSPECTION_LAWS", "as_planned"]

Verdict = Breakage | Literal["kept"] | None
Change = Literal[
    "an edge a sixteenth on", "an edge a sixteenth back", "an edge a base width on", "an edge a base width back",
    "a side", "a clip less", "a torque", "the base width", "the turn-back", "the threads",
]  # fmt: skip
_CHANGES: Final[tuple[Change, ...]] = (
    "an edge a sixteenth on", "an edge a sixteenth back", "an edge a base width on", "an edge a base width back",
    "a side", "a clip less", "a torque", "the base width", "the turn-back", "the threads",
)  # fmt: skip
_EDGES: Final[tuple[tuple[Change, Change], ...]] = (
    ("an edge a sixteenth on", "an edge a sixteenth back"),
    ("an edge a base width on", "an edge a base width back"),
)
_JOINTS: Final = "joints to look at"
"""Name of the cases that the laws of joints share."""
_OTHER_SIDE: Final = {"live part": "dead part", "rope A": "rope B", "rope B": "rope A"}
_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_NEEDS: Final = (("positions", "clips"), ("edges", "clips"), ("base_width", "base width"), ("spacing", "spacing"),
                 ("turn_back", "turn-back"), ("dead_end", "dead end"))  # fmt: skip
"""Values of a step that stand on something measured, and what it is called."""


@attrs.frozen
class Looked:
    """A joint to look at.

    Args:
        request: The request.
        on_tape: Whether it was set out on the graduations of a tape.
        loaded: Whether it has carried load.
        change: What is changed on it.
        which: Clip that is changed, counted from 0 and modulo the clips [-].
    """

    request: Request = attrs.field(repr=False)
    on_tape: bool = False
    loaded: bool = True
    change: Change = "a torque"
    which: int = 0


@st.composite
def _looked(draw: st.DrawFn, subject: Subject) -> Looked:
    request = draw(requests(subject, measured=True, kinds=_one_eye(subject), everything=gives_everything(subject)))
    on_tape, loaded, change, which = several(draw, (False, True), (True, False), _CHANGES, tuple(range(6)))
    return Looked(request, on_tape, loaded, change, which)


def _one_eye(
    subject: Subject,
) -> tuple[Literal["thimble eye", "soft eye", "pulley eye", "lap splice", "plate eye"], ...]:
    # Linked eyes are two joints of which each is looked at as a thimble eye is.
    known: tuple[Literal["thimble eye", "soft eye", "pulley eye", "lap splice", "plate eye"], ...] = (
        "thimble eye", "soft eye", "pulley eye", "lap splice", "plate eye",
    )  # fmt: skip
    return tuple(kind for kind in known if kind in subject.style.terminations)


def as_planned(plan: Plan, *, on_tape: bool = False, loaded: bool = True) -> AsBuilt:
    """Write down the readings of a joint that was made exactly to its plan.

    Args:
        plan: The plan.
        on_tape: Whether it was set out on the graduations of a tape.
        loaded: Whether it has carried load.

    Returns:
        Every reading that the plan has a number for.
    """
    layout = _layout(plan, on_tape)
    count, torque = plan.clip_count, None if isinstance(plan.torque, Absent) else plan.torque
    passes = [] if torque is None else [TorquePass("assembly", None, torque, clips=count)]
    if loaded and torque is not None:
        passes.append(TorquePass("after the first load", torque, torque, clips=count))
    return AsBuilt(
        clip_count=count,
        clip_size=plan.clip_size,
        sizes_mixed=False,
        makes_mixed=False,
        base_width=plan.request.base_width,
        near_edges=[clip.near_edge for clip in layout.clips],
        saddles=[None if clip.saddle_on == "plates" else clip.saddle_on for clip in layout.clips],
        passes=passes,
        threads="" if isinstance(plan.thread_condition, Absent) else plan.thread_condition,
        dead_end=None if isinstance(layout.end_distance, Absent) else layout.end_distance,
        turn_back=None if isinstance(layout.turn_back, Absent) else layout.turn_back,
        carried_load=loaded,
        first_load_applied=True if loaded else None,
        slips=[False] * count if loaded else None,
    )


def _layout(plan: Plan, on_tape: bool) -> Layout:
    return plan.tape.layout if on_tape and not isinstance(plan.tape, Absent) else plan.layout


def _equal(subject: Subject, case: Looked) -> Verdict:
    plan = planned(subject, case.request)
    if plan is None or not plan.clips:
        return None
    found = inspect(plan, as_planned(plan, on_tape=case.on_tape, loaded=case.loaded))
    if found.deviations:
        seen = found.deviations[0]
        got = f"{seen.item}: {seen.text}"
        return broken(case.request, "nothing that deviates on a joint made to its plan", got, seen.citations[0])
    left_out = [finding for finding in plan.findings if finding not in found.findings]
    if left_out:
        finding = left_out[0]
        return broken(case.request, "the findings of the plan itself", f"{finding.code} is gone", finding.citations[0])
    if any(finding.kind == "forbidden" for finding in plan.findings) and found.in_service != "out of service":
        return broken(case.request, "a forbidden joint out of service", found.in_service, subject.rules.citation)
    return "kept"


def _seen(subject: Subject, case: Looked) -> Verdict:
    plan = planned(subject, case.request)
    if plan is None or not plan.clips:
        return None
    whole, said = as_planned(plan, loaded=case.loaded), False
    for change in _both_ways(case.change):
        found = _seen_on(subject, case, plan, whole, change)
        if isinstance(found, Breakage):
            return found
        said = said or found is not None
    return "kept" if said else None


def _both_ways(change: Change) -> tuple[Change, ...]:
    """An edge is moved both on and back, for each way has a bound of its own."""
    return next((pair for pair in _EDGES if change in pair), (change,))


def _seen_on(subject: Subject, case: Looked, plan: Plan, whole: AsBuilt, change: Change) -> Verdict:
    said = False
    # The first and the last clip have bounds of their own, so that they are looked at each time.
    for clip in sorted({0, plan.clip_count - 1, case.which % plan.clip_count}):
        changed = _changed(plan, whole, change, clip)
        if changed is None:
            continue
        said = True
        made, item, codes = changed
        found = inspect(plan, made)
        seen = [each.code for each in found.about(item) if each.deviates]
        if not set(codes) & set(seen) if codes else not seen:
            wanted = f"{change} seen on {item}" + (f" as {' or '.join(codes)}" if codes else "")
            return broken(case.request, wanted, ", ".join(seen) or _elsewhere(found), subject.rules.citation)
        if item != f"clip {clip + 1}":
            break
    return "kept" if said else None


def _elsewhere(found: Inspection) -> str:
    return "; ".join(f"{each.code} on {each.item}" for each in found.deviations) or "nothing is seen"


Changed = tuple[AsBuilt, str, tuple[str, ...]]
"""The changed readings, the item that must show it, and the codes of which one must stand there; any where none."""


def _changed(plan: Plan, whole: AsBuilt, change: Change, clip: int) -> Changed | None:
    if change.startswith("an edge"):
        return _moved(plan, whole, change, clip)
    if change == "a clip less":
        return _less(plan, whole)
    if change == "a side":
        sides = [str(side) for side in whole.saddles]
        if plan.clips[clip].saddle_on not in _OTHER_SIDE:
            return None
        sides[clip] = _OTHER_SIDE[sides[clip]]
        return attrs.evolve(whole, saddles=sides), f"clip {clip + 1}", ("clip-reversed",)
    if change == "a torque":
        return _loose(plan, whole, clip)
    if change == "the threads":
        if whole.threads not in ("dry", "greased"):
            return None
        other = "dry" if whole.threads == "greased" else "greased"
        return attrs.evolve(whole, threads=other), "threads", ("threads-differ",)
    return _length(plan, whole, change)


def _length(plan: Plan, whole: AsBuilt, change: Change) -> Changed | None:
    base, turn_back = whole.base_width, whole.turn_back
    if change == "the base width" and base is not None:
        return attrs.evolve(whole, base_width=base + SIXTEENTH), "base width", ("base-width-differs",)
    if change == "the turn-back" and turn_back is not None and turn_back > SIXTEENTH:
        short = attrs.evolve(whole, turn_back=turn_back - SIXTEENTH)
        return short, "overlap" if plan.layout_demand.splice else "turn-back", ("turn-back-short",)
    return None


def _moved(plan: Plan, whole: AsBuilt, change: Change, clip: int) -> Changed | None:
    base = plan.request.base_width
    if base is None or base <= Length(1):
        return None
    sign = 1 if change.endswith("on") else -1
    # Less than a base width, so that the clips stay in order.
    step = min(SIXTEENTH, base - Length(1)) if "sixteenth" in change else base - Length(1)
    edges = list(whole.near_edges)
    moved = plan.clips[clip].near_edge + step * sign
    edges[clip] = moved
    if moved < Length(1):
        return None
    if moved in {each.layout.clips[clip].near_edge for each in (plan.tape,) if not isinstance(each, Absent)}:
        return None  # where the tape puts the clip
    codes: tuple[str, ...] = ()
    if clip == 0 and sign < 0:
        codes = ("dead-end-short",)
    elif clip == plan.clip_count - 1 and not plan.layout_demand.splice and (sign > 0 or step >= SIXTEENTH):
        codes = ("clip-past-the-base" if sign > 0 else "clip-off-the-base",)
    return attrs.evolve(whole, near_edges=edges, dead_end=None), f"clip {clip + 1}", codes


def _less(plan: Plan, whole: AsBuilt) -> Changed:
    count = plan.clip_count - 1
    passes = [TorquePass(one.at, one.as_found[:count], one.as_left[:count]) for one in whole.passes if count]
    less = attrs.evolve(
        whole,
        clip_count=count,
        near_edges=whole.near_edges[:count],
        saddles=whole.saddles[:count],
        slips=whole.slips[:count],
        passes=passes,
    )
    return less, "clips", ("clips-missing",)


def _loose(plan: Plan, whole: AsBuilt, clip: int) -> Changed | None:
    if isinstance(plan.torque, Absent):
        return None
    low = Torque(plan.torque.value / 2, plan.torque.unit)
    *before, last = whole.passes
    left = [low if number == clip else torque for number, torque in enumerate(last.as_left)]
    passes = [*before, TorquePass(last.at, last.as_found, left)]
    return attrs.evolve(whole, passes=passes), f"clip {clip + 1}", ("clip-under-torqued",)


def _asked(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    if plan.clips or not isinstance(plan.spacing, Absent):
        got = ", ".join(in_both(clip.position) for clip in plan.clips) or str(plan.spacing)
        return broken(request, "no place for a clip that nobody has measured", got, plan.style.citation)
    kinds = {finding.code: finding.kind for finding in plan.findings}
    if kinds.get("measure-base-width") != "must-do":
        return broken(request, "a finding that asks for the base width", "none", plan.style.citation)
    if any(mark.clip for mark in plan.marks):
        return broken(request, "no mark for a clip that has no place", "one", plan.style.citation)
    held = conditions_of(plan)
    chosen = [each for each in plan.style.procedure if held.issuperset(each.when) and held.isdisjoint(each.unless)]
    words = [each.text.casefold() for each in chosen if "unmeasured" in each.when]
    if not any("measure" in text for text in words):
        return broken(request, "a step that has the clip measured", "none", plan.style.citation)
    if not any(("gauge" in text or "itself" in text) and "dead end" in text for text in words):
        wanted = "a step in which the clip itself is the gauge, from the dead end"
        return broken(request, wanted, "none", plan.style.citation)
    known = {"turn-back": not isinstance(plan.turn_back, Absent), "dead end": not isinstance(plan.dead_end, Absent)}
    for each in chosen:
        for name, what in _NEEDS:
            if name in each.values and not known.get(what, False):
                got = f"{each.code}: {each.text}"
                return broken(request, f"no step that names the {what}, which is not known", got, each.citation)
    return "kept"


def _unmeasured(subject: Subject) -> st.SearchStrategy[Request]:
    return requests(subject, measured=False)


INSPECTION_LAWS: Final = (
    Law("as-built-equal-adds-nothing", "A joint made to its plan, exactly or on the graduations of a tape, shows "
        "nothing that deviates, and keeps the findings of the plan.", search=Search(_looked, _equal, _JOINTS),
        after=_AFTER, applies=has_places, dear=2,
        redundant="a layout that an inspection would turn away is noticed by the laws of layout or by "
        "one-change-is-seen too; it stays because nothing else holds inspection to letting a right joint pass"),
    Law("one-change-is-seen", "One thing changed on a joint is seen on that very item: a clip less, a side, an edge, a "
        "torque, the base width, the turn-back, the threads.", search=Search(_looked, _seen, _JOINTS), after=_AFTER,
        applies=has_places),
    Law("unmeasured-is-asked", "Where the clip was not measured nothing has a place, somebody is told to measure it, "
        "and the clip itself is the gauge of the work.", search=Search(_unmeasured, _asked), after=_AFTER,
        applies=plans_alone),
)  # fmt: skip
"""In the order in which they are checked."""
