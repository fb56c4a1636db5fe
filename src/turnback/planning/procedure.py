"""The numbered steps of the work: a style's own steps, chosen and filled in for one plan.

Which steps there are is the style's affair (:class:`~turnback.model.steps.StepTemplate`). Here every condition and
every value of the closed lists is computed from the plan. Lengths are those of the tape, rounded to the safe side.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.classes import is_rotation_resistant
from turnback.model.sources import Citation
from turnback.model.steps import Step, StepTemplate
from turnback.planning.bill import seizing_of, tape_step
from turnback.quantities import SIXTY_FOURTH, Length

if TYPE_CHECKING:
    from turnback.model.layout import Layout
    from turnback.planning.plan import Plan

__all__ = ["conditions_of", "procedure_of", "tightening_order"]

_RETORQUES: Final = ("retorque loaded", "retorque unloaded", "retorque state not stated")
_WHEN: Final = {
    "retorque before first use": "before first use",
    "each shift": "each shift",
    **dict.fromkeys(_RETORQUES, "after the first load"),
}
"""Conditions that hang on when to tighten again, and the word that the sources have for it."""


def procedure_of(plan: Plan) -> tuple[Step, ...]:
    """Choose, fill in and number the steps of a plan.

    Args:
        plan: The plan.

    Returns:
        The steps in order, numbered from 1, each with the citation of the step and of the values in it.

    Source: the steps carry their own citations; the order of tightening is that of the rule sets, from the dead end to
    the eye where they do not say.
    """
    conditions, values, cited = conditions_of(plan), _values(plan), _citations(plan)
    chosen = [
        template
        for template in plan.style.procedure
        if conditions.issuperset(template.when) and conditions.isdisjoint(template.unless)
    ]
    return tuple(_step(number, template, values, cited) for number, template in enumerate(chosen, 1))


def tightening_order(plan: Plan) -> tuple[int, ...]:
    """Return the order in which the clips are brought to full torque.

    Args:
        plan: The plan.

    Returns:
        Numbers of the clips, counted from the dead end [-]: from the dead end to the eye, or from the eye where the
        source begins there. A lap splice has no eye to begin at and is tightened from the dead end that is its datum.

    Source: the rule sets of the plan; common practice where they do not say.
    """
    numbers = tuple(range(1, plan.clip_count + 1))
    eye_first = _begin(plan) == "eye" and not plan.layout_demand.splice
    return numbers[::-1] if eye_first else numbers


def conditions_of(plan: Plan) -> frozenset[str]:
    """Return every condition of a step that holds for a plan.

    Args:
        plan: The plan.

    Returns:
        Words of :data:`turnback.model.steps.STEP_CONDITIONS`; of each of its groups exactly one.
    """
    rope, kind = plan.request.rope, plan.request.termination.kind
    coating, again = rope.coating, _retorque(plan)
    threads = plan.thread_condition
    held: dict[str, bool] = {
        kind: True,
        "eye": kind != "lap splice",
        "measured": plan.request.base_width is not None,
        "unmeasured": plan.request.base_width is None,
        "turn-back known": not isinstance(plan.turn_back, Absent),
        "turn-back unknown": isinstance(plan.turn_back, Absent),
        "one clip": plan.clip_count == 1,
        "two clips": plan.clip_count == 2,
        "three or more clips": plan.clip_count >= 3,
        "stripped": coating is not None and coating.stripped,
        "coating on": coating is not None and not coating.stripped,
        "rotation-resistant": is_rotation_resistant(rope) is True,
        "lang lay": "Lang" in rope.lay,
        "torque known": not isinstance(plan.torque, Absent),
        "torque unknown": isinstance(plan.torque, Absent),
        "begin at the eye": _begin(plan) == "eye",
        "begin at the dead end": _begin(plan) == "dead end",
        "wrong way round": plan.style.wrong_way_round,
        "dry threads": threads == "dry",
        "greased threads": threads == "greased",
        "threads not stated": threads not in ("dry", "greased"),
        # No source at hand says whether the clips are tightened again under load.
        "retorque state not stated": True,
        "retorque before first use": "before first use" in again,
        "each shift": "each shift" in again,
        "working load known": _working_load(plan) is not None,
        "working load unknown": _working_load(plan) is None,
    }
    return frozenset(condition for condition, holds in held.items() if holds)


def _step(number: int, template: StepTemplate, values: dict[str, str], cited: dict[str, tuple[Citation, ...]]) -> Step:
    asked = (*template.when, *template.values)
    citations = (template.citation, *(citation for name in asked for citation in cited.get(name, ())))
    # A value may itself hold a brace (a rope's certificate, a maker's words), so the text is filled in once.
    text = template.text.format_map(values)
    return Step(number, template.code, text, template.hold, tuple(dict.fromkeys(citations)), template.reading)


def _begin(plan: Plan) -> Literal["dead end", "eye"]:
    said = {member.rules.procedure.begin_at for member in plan.members} - {""}
    # Where sources contradict each other, the order of common practice stands.
    return "eye" if said == {"eye"} else "dead end"


def _retorque(plan: Plan) -> dict[str, tuple[Citation, ...]]:
    found: dict[str, tuple[Citation, ...]] = {}
    for member in plan.members:
        said = member.rules.procedure
        for word in said.retorque:
            found[word] = (*found.get(word, ()), said.retorque_citation or member.rules.citation)
    for each in plan.service.retorque:
        found[each.value] = (*found.get(each.value, ()), *each.citations)
    return found


def _working_load(plan: Plan) -> str | None:
    try:
        return plan.working_load().text(rounding="down")
    except TurnbackError:
        return None


def _citations(plan: Plan) -> dict[str, tuple[Citation, ...]]:
    """Who stands behind a condition or a value, beside the template's own citation."""
    begins = tuple(c for m in plan.members if (c := m.rules.procedure.begin_citation) is not None)
    again, threads, torque = _retorque(plan), plan.demand.threads, plan.demand.torque
    found = {name: again.get(word, ()) for name, word in _WHEN.items()}
    found["intervals"] = again.get("at intervals", ())
    found["begin at the eye"] = found["begin at the dead end"] = begins
    found["seizing"] = seizing_of(plan).citations
    found["torque"] = torque.citations if isinstance(torque, Cited) else ()
    found["threads"] = threads.citations if isinstance(threads, Cited) else ()
    found["dry threads"] = found["greased threads"] = found["threads"]
    found["working_load"] = ()
    if isinstance(plan.service.design_factor, Cited) and isinstance(plan.strength.efficiency, Cited):
        found["working_load"] = (*plan.strength.efficiency.citations, *plan.service.design_factor.citations)
    return found


def _values(plan: Plan) -> dict[str, str]:
    threads = plan.thread_condition
    layout = plan.layout if isinstance(plan.tape, Absent) else plan.tape.layout
    again = _retorque(plan)
    base_width = plan.request.base_width
    return {
        "count": str(plan.demand.count),
        "total": str(plan.clip_count if plan.other_eye is None else 2 * plan.clip_count),
        "clip_size": str(plan.clip_size),
        "rope": str(plan.request.rope),
        "rope_diameter": str(plan.demand.seat),
        "eye": plan.request.termination.kind,
        "turn_back": _words(layout.turn_back),
        "spacing": _words(layout.spacing),
        "dead_end": _words(layout.end_distance),
        "base_width": "a base width that was not given" if base_width is None else str(base_width),
        "positions": _positions(plan, layout),
        "edges": _edges(plan, layout),
        "torque": "the clip maker's torque" if isinstance(plan.torque, Absent) else str(plan.torque),
        "threads": "as the clip maker states" if isinstance(threads, Absent) else threads,
        "order": ", ".join(map(str, tightening_order(plan))),
        "seizing": seizing_of(plan).words,
        "strip": _strip(plan),
        "working_load": _working_load(plan) or "a working load that is not known here",
        "intervals": "at the start of each shift" if "each shift" in again else "at intervals",
    }


def _words(length: Length | Absent) -> str:
    return f"a length that is not known ({length.reason})" if isinstance(length, Absent) else str(length)


def _short(length: Length, plan: Plan) -> str:
    if isinstance(plan.tape, Absent):
        return str(length)
    inch = plan.request.rope.diameter.nanometres % SIXTY_FOURTH.nanometres == 0
    return length.text("in" if inch else "mm")


def _positions(plan: Plan, layout: Layout) -> str:
    if not layout.clips:
        return "places that are not known here"
    places = [f"clip {clip.number} at {_short(clip.position, plan)}" for clip in layout.clips]
    return "; ".join(places)


def _edges(plan: Plan, layout: Layout) -> str:
    if not layout.clips:
        return "edges that are not known here"
    if not plan.style.in_series:
        body = layout.clips[0]
        return f"from {_short(body.near_edge, plan)} to {_short(body.far_edge, plan)}"
    both = ((clip.number, _short(clip.near_edge, plan), _short(clip.far_edge, plan)) for clip in layout.clips)
    return "; ".join(f"clip {number} from {near} to {far}" for number, near, far in both)


def _strip(plan: Plan) -> str:
    coating = plan.request.rope.coating
    if coating is None or not coating.stripped:
        return "nothing is stripped"
    turn_back = plan.turn_back if isinstance(plan.tape, Absent) else plan.tape.layout.turn_back
    eye = plan.rope_in_eye
    unknown = "how far is not known here ({}); lay the rope in place and mark it"
    if isinstance(turn_back, Absent):
        return unknown.format(turn_back.reason)
    if plan.layout_demand.splice:
        return f"{_words(turn_back)} from each dead end, on both ropes"
    if not coating.eye_stripped:
        start = "which is not known here" if isinstance(eye, Absent) else _up(turn_back + eye, plan)
        return (
            f"two runs of {_words(turn_back)}, one from the dead end to the base of the eye, the other from the "
            f"base on the live side, {start} from the dead end, with the eye left coated"
        )
    if isinstance(eye, Absent):
        return unknown.format(eye.reason)
    return f"one run of {_up(turn_back * 2 + eye, plan)} from the dead end"


def _up(length: Length, plan: Plan) -> str:
    return str(length.tape(tape_step(plan), "up"))
