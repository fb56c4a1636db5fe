"""Laws of how many clips a plan has, searched over ropes of the rule set's own scope and table."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from turnback.conformance._expected import cell_of, count_of, floor_of, needed_length, printed_length, row_of
from turnback.conformance.draws import ANY, requests
from turnback.conformance.judging import (
    Verdict,
    broken,
    halves_of,
    in_both,
    no_plans,
    planned,
    search_of,
    shown,
)
from turnback.conformance.law import Law, needs_hardware_in_series
from turnback.conformance.ropes import stocks
from turnback.conformance.subject import Subject
from turnback.errors import OutOfScope, TurnbackError
from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.model.terminations import TerminationKind, ThimbleEye
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.admission import breaches
from turnback.rules.rows import BodyOfClip
from turnback.rules.ruleset import ScopeEntry
from turnback.rules.scope import scope_verdict

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

__all__ = ["COUNT_LAWS"]

_BASIC: Final = ("rows-answer", "row-edges")
_AFTER: Final = (*_BASIC, "scope-answers")
_PLAIN: Final = ((None, None),)
_BODIES: Final[tuple[BodyOfClip, ...]] = ("forged", "other")


def _series(subject: Subject) -> str:
    return no_plans(subject) or needs_hardware_in_series(subject)


# --- scope-answers ---


def _answers(subject: Subject, request: Request) -> Verdict:
    bare = attrs.evolve(
        request, termination=type(request.termination)(), base_width=None, service=None, jurisdiction=None
    )
    try:
        if planned(subject, request) is not None:
            return "kept"
        # No dimension, service or jurisdiction is left that could stand in the way.
        request = bare
        plan_request(bare, subject.catalogue)
    except TurnbackError as error:
        expected = "a plan, for the rule set's own scope and table take this rope"
        return broken(request, expected, f"{type(error).__name__}: {error}", subject.rules.citation)
    return "kept"


# --- plan-says-the-row ---


def _plain(subject: Subject) -> SearchStrategy[Request]:
    made = subject.style.terminations
    kinds: tuple[TerminationKind, ...] = tuple(kind for kind in made if kind not in ("pulley eye", "lap splice"))
    return requests(subject, kinds=kinds or made, uses=_PLAIN, extra=0, bodies=_BODIES)


def _says(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    rules = subject.rules
    row = row_of(rules, plan.demand.seat)
    if row is None:
        return broken(request, "no plan, for no row takes this rope", f"{plan.clip_count} clips", rules.citation)
    for what, expected, got, citation in _differences(subject, plan):
        if expected != got:
            return broken(request, f"{what}: {shown(expected)}", shown(got), citation, row.size)
    return "kept"


def _differences(subject: Subject, plan: Plan) -> Iterator[tuple[str, object, object, Citation]]:
    rules, request = subject.rules, plan.request
    row = row_of(rules, plan.demand.seat)
    if row is None:
        return
    count = count_of(plan, rules, row)
    if count is not None:
        pulley = rules.adjustments.pulley
        more = (1 if pulley is None else pulley.value) if request.termination.kind == "pulley eye" else 0
        yield "clips", (count.value + more) * halves_of(request), plan.clip_count, count.citations[0]
    yield "clip size", row.size, plan.clip_size, rules.citation
    alone = plan.members[0].verdict.counts_only
    if row.torque is None or alone:
        yield "torque", "none", "none" if isinstance(plan.torque, Absent) else plan.torque, rules.citation
    else:
        yield "torque", row.torque.value, plan.torque, row.torque.citations[0]
        if rules.threads is not None:
            yield "threads", rules.threads.value, plan.thread_condition, rules.threads.citations[0]
    yield from _turn_backs(plan, None if alone else printed_length(plan, row), rules.citation)


def _turn_backs(plan: Plan, printed: object, citation: Citation) -> Iterator[tuple[str, object, object, Citation]]:
    length = getattr(printed, "value", None)
    cited = getattr(printed, "citations", (citation,))[0]
    needed = needed_length(plan)
    if not plan.style.in_series:
        if length is not None and isinstance(plan.turn_back, Length):
            yield "turn-back at least", length, min(length, plan.turn_back), cited
    elif not plan.case.has_length or (needed is None and (length is None or plan.demand.depends_on_base_width)):
        yield "turn-back", "none", "none" if isinstance(plan.turn_back, Absent) else plan.turn_back, citation
    else:
        yield "turn-back", max(each for each in (length, needed) if each is not None), plan.turn_back, cited


# --- extra-clips-add, pulley-adds, stricter-body, large-wires-add ---


def _extra_add(subject: Subject, request: Request) -> Verdict:
    more = request.extra_clips + 1
    plain = planned(subject, attrs.evolve(request, extra_clips=0))
    plan = planned(subject, attrs.evolve(request, extra_clips=more))
    if plain is None or plan is None:
        return None
    expected = plain.clip_count + more * halves_of(request)
    for got in (plan.clip_count, len(plan.clips) or expected):
        if got != expected:
            words = f"{expected} clips counted and placed, {more} more for each eye or half than {plain.clip_count}"
            return broken(plan.request, words, f"{got} clips", subject.rules.citation, plan.members[0].row.size)
    return "kept"


def _makes_pulleys(subject: Subject) -> str:
    reason = _series(subject)
    if reason:
        return reason
    made = {"pulley eye", "thimble eye"} & set(subject.style.terminations)
    return "" if len(made) == 2 else f"a {subject.style.title} does not make both a pulley and a thimble eye"


def _pulley_adds(subject: Subject, request: Request) -> Verdict:
    thimble = planned(subject, attrs.evolve(request, termination=ThimbleEye()))
    plan = planned(subject, request)
    if plan is None or thimble is None or plan.service.count_floor != thimble.service.count_floor:
        return None
    own = subject.rules.adjustments.pulley
    citation = subject.rules.citation if own is None else own.citations[0]
    if own is not None and own.value < 1:
        return broken(request, "one more clip at least for a pulley", f"{own.value} more", citation)
    expected = thimble.clip_count + (1 if own is None else own.value)
    if plan.clip_count != expected:
        words = f"{expected} clips, for the same eye on a thimble has {thimble.clip_count}"
        return broken(request, words, f"{plan.clip_count} clips", citation)
    return "kept"


def _stricter(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    rules, size = subject.rules, plan.members[0].row.size
    alone = plan.members[0].verdict.counts_only
    for body in _BODIES:
        told = planned(subject, attrs.evolve(request, clip_body=body))
        if told is not None and plan.clip_count < told.clip_count:
            words = f"at least {told.clip_count} clips, as for {body} ones"
            return broken(request, words, f"{plan.clip_count} clips", rules.citation, size)
        least = None if told is None or isinstance(told.turn_back, Absent) else told.turn_back
        if least is not None and (isinstance(plan.turn_back, Absent) or plan.turn_back < least):
            words = f"a turn-back of at least {in_both(least)}, as for {body} clips"
            return broken(request, words, shown(plan.turn_back), rules.citation, size)
        for breach in breaches(rules, attrs.evolve(plan.joint, clip_body=body), counts_only=alone):
            words = f"a joint that holds if the clips turn out {body}: {breach.expected}"
            return broken(request, words, breach.got, breach.citation, size)
    return "kept"


def _adds_for_wires(subject: Subject) -> str:
    said = subject.rules.adjustments.large_wires
    return _series(subject) or ("" if said is not None else "it adds nothing for large outer wires")


def _wires_add(subject: Subject, request: Request) -> Verdict:
    more = subject.rules.adjustments.large_wires
    if more is None:
        return None
    # A Seale strand cannot be called ordinary; a rope whose construction is not given can be either.
    seale = request.rope.construction.endswith("S") and "W" not in request.rope.construction
    rope = attrs.evolve(request.rope, construction="" if seale else request.rope.construction)
    plain, large = (
        planned(subject, attrs.evolve(request, rope=attrs.evolve(rope, outer_wires=wires)))
        for wires in ("ordinary", "large")
    )
    if plain is None or large is None:
        return None
    row = row_of(subject.rules, plain.demand.seat)
    cell = None if row is None else cell_of(row, request.clip_body)
    if row is None or cell is None:
        return None
    if more.add < 1:
        return broken(large.request, "one more clip at least for large outer wires", f"{more.add} more", more.citation)
    floor = floor_of(plain, subject.rules)
    added = more.add if plain.demand.seat >= more.from_size else 0
    expected = max(cell.value + added, floor) - max(cell.value, floor)
    got, rest = divmod(large.clip_count - plain.clip_count, halves_of(request))
    if rest or got != expected:
        words = f"{expected} more for large outer wires, which the source adds from {in_both(more.from_size)} on"
        counts = f"{large.clip_count} clips for large, {plain.clip_count} for ordinary wires"
        return broken(large.request, words, counts, more.citation, row.size)
    return "kept"


# --- counts-only ---


def _gives_counts_alone(subject: Subject) -> str:
    if any(stock.counts_only for stock in stocks(subject.rules)):
        return no_plans(subject)
    return "no entry of its scope gives the number of clips alone"


def _counts_alone(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    rules = subject.rules
    entry = next((each for each in rules.scope if _alone_takes(subject, each, plan)), None)
    if entry is None or entry.gives == "everything":
        return None  # an entry before it takes the rope, and gives more
    found = (
        ("turn-back", next((each.length for each in plan.demand.turn_backs if each.rules_id == rules.id), None)),
        ("turn-back", plan.turn_back if plan.style.in_series and not plan.service.spacing else None),
        ("torque", plan.torque),
        ("thread condition", plan.thread_condition),
        ("strength", plan.termination_breaking_force),
        ("efficiency", plan.efficiency),
    )
    for what, value in found:
        if value is not None and not isinstance(value, Absent):
            words = f"no {what}, for the scope gives {entry.gives} alone for this rope"
            return broken(request, words, shown(value), entry.citation, plan.members[0].row.size)
    return "kept"


def _alone_takes(subject: Subject, entry: ScopeEntry, plan: Plan) -> bool:
    try:
        scope_verdict(attrs.evolve(subject.rules, scope=(entry,)), plan.request.rope, plan.demand.seat)
    except OutOfScope:
        return False
    return True


COUNT_LAWS: Final = (
    Law("scope-answers", "A rope that the scope and the rows speak of gets a plan, whatever is measured of it.",
        search=search_of(requests, _answers, ANY), after=_BASIC, applies=no_plans),
    Law("plan-says-the-row", "A plan of a plain rope says what the row says: count with the source's own additions and "
        "floors, turn-back in proportion to it, torque and threads.",
        search=search_of(_plain, _says), after=_AFTER, applies=no_plans),
    Law("extra-clips-add", "Clips asked for beyond the rule come on top, so many and no other number, in each half of "
        "a lap splice.", search=search_of(requests, _extra_add, ANY), after=_AFTER, applies=_series,
        redundant="the planner adds them, whatever a plugin brings; a row that answers differently each time is "
        "noticed by plan-says-the-row too; it stays because it is asked of pulleys and splices as well"),
    Law("pulley-adds", "A pulley in place of a thimble adds the clips that the source says, one where it says nothing.",
        search=search_of(lambda subject: requests(subject, kinds=("pulley eye",)), _pulley_adds), after=_AFTER,
        applies=_makes_pulleys,
        redundant="the planner adds what the source says, whatever a plugin brings, and an addition below one is "
        "noticed by rules-round-trip and governing-admits-each too; it stays because plan-says-the-row leaves pulleys "
        "out"),
    Law("stricter-body", "Where the body of the clips is not given, the plan holds for forged and for other clips.",
        search=search_of(lambda subject: requests(subject, bodies=("not given",)), _stricter), after=_AFTER,
        applies=no_plans),
    Law("large-wires-add", "Large outer wires add the clips that the source says, from the size on that it says.",
        search=search_of(requests, _wires_add, ANY), after=_AFTER, applies=_adds_for_wires,
        redundant="the planner adds what the source says, whatever a plugin brings, and an addition below one is "
        "noticed by rules-round-trip too; it stays because it says in the words of the source what large wires cost"),
    Law("counts-only", "For a rope for which the source gives the number of clips alone, it gives no turn-back, no "
        "torque and no strength.",
        search=search_of(lambda subject: requests(subject, counts_alone=True), _counts_alone), after=_AFTER,
        applies=_gives_counts_alone,
        redundant="the planner takes everything else away, whatever a plugin brings, and a scope that is misspelt is "
        "noticed by never-a-strength-unrated and rules-round-trip too; it stays because nothing else says what counts "
        "alone mean"),
)  # fmt: skip
"""In the order in which they are checked."""
