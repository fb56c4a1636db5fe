"""The numbers of a job card: what a rigger looks up while the joint is made, each with its status and its sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.layout import Layout
from turnback.model.sources import USER, Citation, Status, weakest
from turnback.output.paper import Grid
from turnback.output.sources_list import SourcesList
from turnback.planning.bill import tape_step
from turnback.planning.plan import Plan
from turnback.quantities import SIXTY_FOURTH, Length, percent_text
from turnback.review.saying import turn_back_citations

__all__ = ["numbers_grid", "on_the_tape", "short"]

_STATUS: Final[dict[Status, str]] = {
    "read": "read",
    "memory": "FROM MEMORY: check",
    "common practice": "common practice",
    "user": "given by the user",
}
_GIVEN: Final = Citation(USER, "the request", "user")
_SOURCES: Final = "Numbers in brackets stand in the list of sources at the end."
_MEMORY: Final = "FROM MEMORY: recalled and not yet read against the document; check it there before you rely on it."


class _Number(NamedTuple):
    name: str
    value: str
    citations: tuple[Citation, ...] = ()


def numbers_grid(plan: Plan, sources: SourcesList) -> Grid:
    """Write the numbers of a plan as a table.

    Args:
        plan: The plan.
        sources: Where the citations are numbered.

    Returns:
        Name, value, status and sources; what is absent stands there with the reason.
    """
    rows = tuple(_row(number, sources) for number in _numbers(plan))
    notes = (_SOURCES, _MEMORY) if any(_STATUS["memory"] in row for row in rows) else (_SOURCES,)
    return Grid(("number", "value", "status", "sources"), rows, "The numbers of this joint", notes=notes)


def on_the_tape(plan: Plan) -> Layout:
    """Return the layout to mark out: that of the tape, the exact one where the tape has none.

    Args:
        plan: The plan.

    Returns:
        The layout.
    """
    tape = plan.tape
    return plan.layout if isinstance(tape, Absent) else tape.layout


def short(length: Length, plan: Plan) -> str:
    """Write a length in the one unit of the plan's tape.

    Args:
        length: The length [length].
        plan: The plan; a rope of an inch size is marked out in inches.

    Returns:
        Inches or millimetres; both where the length is no fraction of an inch.
    """
    inch = plan.request.rope.diameter.nanometres % SIXTY_FOURTH.nanometres == 0
    if inch and length.nanometres % SIXTY_FOURTH.nanometres:
        return str(length)
    return length.text("in" if inch else "mm")


def _row(number: _Number, sources: SourcesList) -> tuple[str, ...]:
    if not number.citations:
        return (number.name, number.value, "", "")
    cited = ", ".join(str(each) for each in sources.cite(number.citations))
    return (number.name, number.value, _STATUS[weakest(number.citations)], f"[{cited}]")


def _numbers(plan: Plan) -> Iterator[_Number]:
    layout, splice = on_the_tape(plan), plan.layout_demand.splice
    each = " on each eye" if plan.other_eye is not None else ""
    yield _Number("clips", f"{plan.clip_count} of {plan.clip_size}{each}", _derived(plan, "clip_count", "clip_size"))
    yield from _lengths(plan, layout)
    yield from _tightening(plan)
    if not splice:
        yield _taped("rope in the eye", plan.rope_in_eye, plan, _derived(plan, "rope_in_eye"))
    other = plan.other_eye
    if other is not None and other.rope_in_eye != plan.rope_in_eye:
        yield _taped("rope in the second eye", other.rope_in_eye, plan, _derived(other, "rope_in_eye"))
    if plan.request.rope.coating is not None:
        yield _taped("coating to strip", plan.strip_length, plan, _derived(plan, "strip_length"))
    yield from _strength(plan)


def _taped(name: str, length: Length | Absent, plan: Plan, citations: tuple[Citation, ...]) -> _Number:
    if isinstance(length, Absent):
        return _length(name, length)
    tape = length.tape(tape_step(plan), "up")
    text = str(length) if tape == length else f"{tape} on the tape; exactly {length.text('mm')}"
    return _Number(name, text, citations)


def _lengths(plan: Plan, layout: Layout) -> Iterator[_Number]:
    name = "overlap" if plan.layout_demand.splice else "turn-back"
    turn_back, exact = layout.turn_back, plan.turn_back
    if isinstance(turn_back, Absent) or isinstance(exact, Absent):
        yield _length(name, turn_back)
    else:
        more = "" if turn_back == exact else f" on the tape; exactly {exact}"
        yield _Number(name, f"{turn_back}{more}", turn_back_citations(plan))
    if plan.style.in_series and plan.clip_count > 1:
        yield _length("between centres", layout.spacing, _derived(plan, "spacing"))
    word = "dead end to the first clip" if plan.style.in_series else "dead end beyond the body"
    yield _length(word, layout.end_distance, _derived(plan, "positions") if plan.clips else ())
    base = plan.request.base_width
    what = "base width of a clip" if plan.style.in_series else "length of the body"
    if base is None:
        yield _Number(what, "not given: measure it along the rope")
    else:
        yield _Number(what, str(base), (_GIVEN,))


def _tightening(plan: Plan) -> Iterator[_Number]:
    torque, threads = plan.demand.torque, plan.demand.threads
    if isinstance(torque, Absent):
        yield _Number("torque", f"none: {torque.reason}")
    else:
        yield _Number("torque of each nut", str(torque.value), torque.citations)
    if not isinstance(threads, Absent):
        yield _Number("threads and nuts", threads.value.upper(), threads.citations)
    elif not isinstance(torque, Absent):
        yield _Number("threads and nuts", threads.reason)


def _strength(plan: Plan) -> Iterator[_Number]:
    strength, factor, load = plan.strength, plan.service.design_factor, plan.request.load
    force, share = strength.minimum_breaking_force, strength.efficiency
    if not isinstance(force, Absent):
        yield _Number("the rope itself breaks at", str(force.value), force.citations)
    if isinstance(strength.breaking_force, Absent) or isinstance(share, Absent):
        reason = strength.breaking_force.reason if isinstance(strength.breaking_force, Absent) else "not known"
        yield _Number("the joint breaks at", f"no strength is given: {reason}")
    else:
        text = f"{strength.breaking_force}, {percent_text(share.value)} of the rope. NEVER LOAD TO IT"
        yield _Number("the joint breaks at", text, _derived(plan, "termination_breaking_force"))
    if load is not None:
        yield _Number("load asked for", str(load), (_GIVEN,))
    if isinstance(factor, Absent):
        yield _Number("working load", f"none: {factor.reason}")
        return
    try:
        most = plan.working_load().text(rounding="down")
    except TurnbackError as error:
        yield _Number("working load", f"none: {error.problem}")
        return
    cited = (*_derived(plan, "termination_breaking_force"), *factor.citations)
    yield _Number("working load", f"{most} at a design factor of {float(factor.value):g}", cited)


def _length(name: str, value: Length | Absent, citations: tuple[Citation, ...] = ()) -> _Number:
    return (
        _Number(name, f"absent: {value.reason}") if isinstance(value, Absent) else _Number(name, str(value), citations)
    )


def _derived(plan: Plan, *names: str) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(_all(plan.derivations[name].citations for name in names)))


def _all(lists: Iterable[tuple[Citation, ...]]) -> Iterator[Citation]:
    for each in lists:
        yield from each
