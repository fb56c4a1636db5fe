"""How many clips there are and where they stand: count, distances, dead end, base of the eye, turn-back."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.model.styles import BodyStyle
from turnback.planning.cautions import practice
from turnback.planning.spacing import APART
from turnback.quantities import Length
from turnback.review.observations import Observation
from turnback.review.subject import MAKE_AGAIN, Subject
from turnback.rules.admission import EXACT, Breach, Margin, spacing_breaches
from turnback.rules.ruleset import LinearLength, SpacingBound

__all__ = ["count", "places", "turn_back"]

_APART: Final = SpacingBound(
    "least", False, LinearLength(Fraction(0), Fraction(2), Length(0), "one base width apart"), APART
)
_DEAD_END: Final = practice("first clip one base width from the dead end")
_BASE: Final = practice("the clip nearest the eye tight against the thimble or the base of the eye")
_EVENLY: Final = practice("the other clips evenly between the first and the last")
_COUNTED: Final = practice("more clips: turn-back in proportion")
_MOVE: Final = (
    "Do not load it. Loosen the clips, set them out again to the plan from the dead end, and torque them again. "
    "If it is within what your tape can tell, give the tape's tolerance with its reason."
)
_STAY: Final = (
    "Take the load off. A clip that has gripped the rope under load is not shifted along it: a competent person "
    "decides. If it is within what your tape can tell, give the tape's tolerance with its reason. "
    "Otherwise the joint is made again. "
)


def count(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the number of clips.

    Args:
        subject: The joint.

    Returns:
        At most one observation.
    """
    counted, planned = subject.as_built.clip_count, subject.plan.clip_count
    if counted is None or counted == planned:
        return
    citations = subject.plan.demand.steps[-1].citations
    if counted > planned:
        yield subject.seen(
            "clips-more-than-planned",
            "confirm",
            "clips",
            f"There are {counted} clips and the plan has {planned}.",
            f"Plan it again with {counted - planned} more (extra_clips) and inspect it against that plan: more clips "
            "take more turn-back.",
            (_COUNTED, *citations),
            measured=counted,
            bound=planned,
        )
        return
    broken = subject.breaches(subject.joint(), "count", subject.margin)
    do, out = subject.made_again("Do not load it. Take it apart and make it again with every clip of the plan.")
    yield subject.seen(
        "clips-missing",
        "must-fix",
        "clips",
        f"There are {counted} clips where the plan has {planned}.",
        do,
        (*_cited(broken), *citations, *([MAKE_AGAIN] if out else [])),
        measured=f"{counted} clips",
        bound=_bounds(broken) or f"{planned} clips",
        out_of_service=out,
    )


def turn_back(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the turn-back, or with the overlap of a lap splice.

    Args:
        subject: The joint.

    Returns:
        At most one observation.
    """
    measured, planned = subject.as_built.turn_back, subject.plan.turn_back
    if measured is None:
        return
    item = "overlap" if subject.plan.layout_demand.splice else "turn-back"
    broken = subject.breaches(subject.joint(), "turn-back", subject.margin)
    wanted = [] if isinstance(planned, Absent) else [planned]
    most = max([*wanted, *_on_tape(subject)], default=None)
    if broken or any(measured + subject.margin.length < length for length in wanted):
        short = "".join(f", {length - measured} less than planned" for length in wanted if length > measured)
        do, out = subject.made_again(
            f"Do not load it. Loosen the clips, draw the dead end through until the {item} is whole, and set the clips "
            "out again."
        )
        yield subject.seen(
            "turn-back-short",
            "must-fix",
            item,
            f"The {item} measures {measured}{short}.",
            do,
            (*_cited(broken), *_turn_back_citations(subject), *([MAKE_AGAIN] if out else [])),
            measured=measured,
            bound=_bounds(broken) or f"planned {wanted[0]}",
            out_of_service=out,
        )
    elif (missed := subject.breaches(subject.joint(), "turn-back", EXACT)) or any(measured < each for each in wanted):
        bound = _bounds(missed) or f"at least {wanted[0]}"
        yield _tolerated(subject, item, measured, bound)
    elif most is not None and measured > most + subject.margin.length:
        yield subject.seen(
            "turn-back-longer",
            "note",
            item,
            f"The {item} measures {measured}, {measured - most} more than planned; nothing forbids that.",
            "Write it down.",
            _turn_back_citations(subject),
            measured=measured,
            bound=f"planned {wanted[0]}" if wanted else most,
        )


def places(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the places of the clips.

    Args:
        subject: The joint.

    Returns:
        Observations by clip: distances, dead ends, the base of the eye, and places off the plan.
    """
    yield from _base_width(subject)
    if subject.plan.style.in_series:
        yield from _distances(subject)
    yield from _dead_ends(subject)
    if not subject.plan.layout_demand.splice:
        yield from _base_of_eye(subject)
    yield from _off_plan(subject)


def _base_width(subject: Subject) -> Iterator[Observation]:
    measured, planned = subject.as_built.base_width, subject.plan.request.base_width
    if measured is None or planned is None or abs(measured - planned) <= subject.margin.length:
        return
    yield subject.seen(
        "base-width-differs",
        "must-do",
        "base width",
        f"The base width measures {measured}, and the plan was made with {planned}: these may be other clips.",
        "Measure again; plan the joint with this base width and inspect it against that plan. Distances are judged "
        "with the measured one.",
        (_DEAD_END, APART),
        measured=measured,
        bound=planned,
    )


def _distances(subject: Subject) -> Iterator[Observation]:
    broken, missed = _pairs(subject, subject.margin), _pairs(subject, EXACT)
    for clips, found in sorted(missed.items()):
        pair = "clips " + " and ".join(map(str, clips))
        if clips not in broken:
            yield _tolerated(subject, pair, found[0].got, _bounds(found))
            continue
        yield subject.seen(
            "spacing-off",
            "must-fix",
            pair,
            f"Their distance between centres is {found[0].got}.",
            _put_right(subject),
            _cited(found),
            measured=found[0].got,
            bound=_bounds(found),
        )


def _pairs(subject: Subject, margin: Margin) -> dict[tuple[int, ...], list[Breach]]:
    joint, plan = subject.joint(), subject.plan
    broken = [*subject.breaches(joint, "spacing", margin)]
    # A bound of a service or of the trade has no table, so any row does.
    for bound in (*plan.service.spacing, _APART):
        broken += spacing_breaches(bound, plan.members[0].row, joint, margin)
    pairs: dict[tuple[int, ...], list[Breach]] = {}
    for breach in broken:
        pairs.setdefault(breach.clips, []).append(breach)
    return pairs


def _dead_ends(subject: Subject) -> Iterator[Observation]:
    edges, tail, bound = subject.near_edges, subject.as_built.dead_end, subject.dead_end_bound
    first = edges[0] if edges else None
    if tail is not None and first is not None and abs(tail - first) > subject.margin.length:
        yield subject.seen(
            "readings-disagree",
            "confirm",
            "dead end",
            f"The dead end is written down as {tail} and the near edge of the first clip as {first}, which is the same "
            "distance. The shorter one is judged.",
            "Measure it again.",
            (_DEAD_END,),
            measured=tail,
            bound=first,
        )
    if bound is None:
        return
    style = subject.plan.style
    citation = style.dead_end_citation if isinstance(style, BodyStyle) else _DEAD_END
    for clip, length in subject.dead_ends:
        if length + subject.margin.length < bound:
            yield subject.seen(
                "dead-end-short",
                "must-fix",
                subject.clip(clip),
                f"The dead end stands out by {length} beyond it.",
                _put_right(subject),
                (citation,),
                measured=length,
                bound=f"at least {bound}",
            )
        elif length < bound:
            yield _tolerated(subject, subject.clip(clip), length, f"a dead end of at least {bound}")


def _base_of_eye(subject: Subject) -> Iterator[Observation]:
    whole, last, width = subject.as_built.turn_back, subject.last_edge, subject.base_width
    if whole is None or last is None or width is None:
        return
    gap = whole - last - width
    planned = max([Length(0), *_planned_gaps(subject, width)])
    if -subject.margin.length <= gap <= planned + subject.margin.length:
        return
    past = gap < Length(0)
    yield subject.seen(
        "clip-past-the-base" if past else "clip-off-the-base",
        "must-fix",
        subject.clip(subject.count),
        f"Its far edge is {abs(gap)} {'past' if past else 'away from'} the base of the eye.",
        _put_right(subject),
        (_BASE,),
        measured=abs(gap),
        bound=f"no more than {planned}" if planned.nanometres and not past else "at the base of the eye",
    )


def _planned_gaps(subject: Subject, width: Length) -> Iterator[Length]:
    """Yield what the tape layout leaves at the base, for it rounds the base width up."""
    tape, planned = subject.plan.tape, subject.plan.request.base_width
    if isinstance(tape, Absent) or isinstance(tape.layout.turn_back, Absent) or not tape.layout.clips:
        return
    if planned is not None and width == planned:
        yield tape.layout.turn_back - tape.layout.clips[-1].near_edge - width


def _off_plan(subject: Subject) -> Iterator[Observation]:
    plan, tape = subject.plan, subject.plan.tape
    if subject.count != plan.clip_count or not plan.clips:
        return
    layouts = [plan.clips, *([] if isinstance(tape, Absent) else [tape.layout.clips])]
    for number, edge in enumerate(subject.near_edges, 1):
        planned = [clips[number - 1].near_edge for clips in layouts if len(clips) >= number]
        if edge is None or any(abs(edge - place) <= subject.margin.length for place in planned):
            continue
        yield subject.seen(
            "off-plan",
            "note",
            subject.clip(number),
            f"Its near edge is {edge} from the dead end; planned was {planned[-1]}.",
            "Where nothing else is said of it, every bound is kept: write it down.",
            (_EVENLY,),
            measured=edge,
            bound=planned[-1],
        )


def _on_tape(subject: Subject) -> list[Length]:
    tape = subject.plan.tape
    if isinstance(tape, Absent) or isinstance(tape.layout.turn_back, Absent):
        return []
    return [tape.layout.turn_back]


def _turn_back_citations(subject: Subject) -> tuple[Citation, ...]:
    demand = subject.plan.demand
    printed = tuple(citation for each in demand.turn_backs for citation in each.citations)
    least = (demand.least.citation,) if demand.least is not None else ()
    return (*printed, *least) or (_DEAD_END,)


def _put_right(subject: Subject) -> str:
    return _STAY + subject.cut_off() if subject.loaded else _MOVE


def _tolerated(subject: Subject, item: str, measured: object, bound: str) -> Observation:
    tolerances = subject.as_built.tolerances
    return subject.seen(
        "within-tolerance",
        "note",
        item,
        f"It measures {measured}, which misses its bound and passes by the tape's tolerance of {tolerances.tape}.",
        "Nothing, where the tolerance is true.",
        tolerances.citations,
        measured=measured,
        bound=bound,
    )


def _cited(broken: list[Breach] | tuple[Breach, ...]) -> tuple[Citation, ...]:
    return tuple(breach.citation for breach in broken)


def _bounds(broken: list[Breach] | tuple[Breach, ...]) -> str:
    return "; ".join(dict.fromkeys(breach.expected for breach in broken))
