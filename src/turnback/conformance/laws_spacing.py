"""Laws of spacing, of the tape, of the units, and of sizes that no row takes."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import attrs
from hypothesis import strategies as st

from turnback.conformance._expected import Limit, limits_of
from turnback.conformance.draws import (
    MEASURED,
    WITH_LENGTH,
    Unseen,
    lengths,
    measured_requests,
    requests,
    requests_with_length,
)
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
from turnback.errors import OutOfTable
from turnback.model.absent import Absent
from turnback.model.layout import PlacedClip
from turnback.model.rope import Rope
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length

__all__ = ["SPACING_LAWS"]

_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_EVEN: Final = Citation(COMMON_PRACTICE, "the clips stand evenly", "common practice")
_TAPE: Final = Citation(COMMON_PRACTICE, "a tape is read to the safe side", "common practice")
_ONE_LENGTH: Final = Citation(COMMON_PRACTICE, "an inch is 25.4 mm exactly", "common practice")
_GREATEST: Final = 300_000_000
"""The thickest rope that the library takes [nm]."""


def _placed(subject: Subject) -> str:
    return no_lengths(subject) or needs_hardware_in_series(subject)


# --- spacing-in-bounds ---


def _in_bounds(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or len(plan.clips) < 2:
        return None
    size = plan.members[0].row.size
    gaps = [(one, other, other.near_edge - one.near_edge) for one, other in pairwise(plan.clips)]
    for one, other, gap in gaps:
        for limit in limits_of(plan):
            if limit.broken_by(gap):
                return broken(request, f"{limit}", _between(one, other, gap), limit.citation, size)
    spacing = plan.spacing
    if isinstance(spacing, Absent):
        return broken(request, "a spacing, for the clips are placed", shown(spacing), _EVEN)
    for one, other, gap in gaps:
        # The spacing is shown rounded up, so that a gap is that or one nanometre less.
        if not 0 <= spacing.nanometres - gap.nanometres <= 1:
            words = f"even gaps of {in_both(spacing)}, to the nanometre"
            return broken(request, words, _between(one, other, gap), _EVEN)
    return "kept"


def _between(one: PlacedClip, other: PlacedClip, gap: Length) -> str:
    return f"{in_both(gap)} between clips {one.number} and {other.number}"


# --- tape-is-safe ---


def _tape_is_safe(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or isinstance(plan.turn_back, Absent):
        return None
    tape, limits = plan.tape, limits_of(plan)
    if isinstance(tape, Absent):
        if plan.demand.greatest is not None:
            return "kept"  # no graduation keeps a greatest distance, and the plan says so
        return broken(request, "a layout on the graduations of a tape", shown(tape), _TAPE)
    step, turn_back = tape.step, tape.layout.turn_back
    # Each base width, gap and end is rounded up by less than one graduation.
    most = plan.turn_back + step * (2 * plan.clip_count + 4)
    if isinstance(turn_back, Absent) or not plan.turn_back <= turn_back <= most:
        words = f"from {in_both(plan.turn_back)} up to {in_both(most)} on the tape"
        return broken(request, words, shown(turn_back), _TAPE)
    found = _off_the_tape(plan, tape.layout.clips, turn_back, step) or _gap_on_the_tape(tape.layout.clips, limits)
    return "kept" if found is None else broken(request, *found)


def _off_the_tape(
    plan: Plan, clips: tuple[PlacedClip, ...], turn_back: Length, step: Length
) -> tuple[str, str, Citation] | None:
    exact = [(clip.number, clip.saddle_on) for clip in plan.clips]
    if [(clip.number, clip.saddle_on) for clip in clips] != exact:
        return f"{len(exact)} clips as in the plan, each the same way round", f"{len(clips)} clips", _TAPE
    marks = [turn_back, *(edge for clip in clips for edge in (clip.near_edge, clip.far_edge))]
    for mark in marks:
        if mark.nanometres % step.nanometres:
            return f"every mark on a graduation of {step}", in_both(mark), _TAPE
    if clips and (clips[0].near_edge < plan.clips[0].near_edge or clips[-1].far_edge > turn_back):
        words = f"the clips from {in_both(plan.clips[0].near_edge)} or more to {in_both(turn_back)} at most"
        return words, f"from {in_both(clips[0].near_edge)} to {in_both(clips[-1].far_edge)}", _TAPE
    return None


def _gap_on_the_tape(clips: tuple[PlacedClip, ...], limits: tuple[Limit, ...]) -> tuple[str, str, Citation] | None:
    for one, other in pairwise(clips):
        gap = other.near_edge - one.near_edge
        for limit in limits:
            if limit.broken_by(gap):
                return f"{limit}, on the tape too", _between(one, other, gap), limit.citation
    return None


# --- inches-equal-millimetres ---


def _both_units(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    for form in ("in", "mm"):
        other = planned(subject, _written(request, form))
        found = "refused" if other is None else _first_difference(plan, other)
        if found:
            words = f"the same answer from lengths typed in {'inches' if form == 'in' else 'millimetres'}"
            return broken(request, words, found, _ONE_LENGTH)
    return "kept"


def _written(request: Request, form: str) -> Request:
    rope = request.rope
    return Request(
        attrs.evolve(rope, diameter=_typed(rope.diameter, form)),
        _eye_written(request.termination, form),
        request.style,
        request.rules,
        request.clip_body,
        None if request.base_width is None else _typed(request.base_width, form),
        service=request.service,
        jurisdiction=request.jurisdiction,
        extra_clips=request.extra_clips,
    )


def _typed(length: Length, form: str) -> str:
    # Not every length is a decimal of inches that ends; such a one is typed in millimetres both times.
    inches = length.text("in")
    return inches if form == "in" and "≈" not in inches else length.text("mm")


def _eye_written(eye: Termination, form: str) -> Termination:
    def typed(length: Length | None) -> str | None:
        return None if length is None else _typed(length, form)

    if isinstance(eye, ThimbleEye):
        return ThimbleEye(typed(eye.inside_length), typed(eye.inside_width), typed(eye.groove_offset))
    if isinstance(eye, SoftEye):
        return SoftEye(typed(eye.pin), typed(eye.length))
    if isinstance(eye, PulleyEye):
        return PulleyEye(typed(eye.tread_diameter), eye.included_angle)
    return eye


def _first_difference(one: Plan, other: Plan) -> str:
    pairs: tuple[tuple[str, object, object], ...] = (
        ("clips", one.clip_count, other.clip_count),
        ("turn-back", one.turn_back, other.turn_back),
        ("spacing", one.spacing, other.spacing),
        ("positions", one.clips, other.clips),
        ("torque", one.torque, other.torque),
        ("rope in the eye", one.rope_in_eye, other.rope_in_eye),
        ("breaks at", one.termination_breaking_force, other.termination_breaking_force),
    )
    for what, before, after in pairs:
        if before != after:
            return f"{what}: {_short(after)}, and {_short(before)} from exact lengths"
    return "" if one == other else "plans that differ"


def _short(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(str(clip.near_edge) for clip in value)
    return shown(value)


# --- refusals-name-neighbours ---


def _gaps(subject: Subject) -> tuple[tuple[int, int, tuple[Length, ...]], ...]:
    """Sizes that no row takes, with the neighbours that a refusal names [nm]."""
    rules = subject.rules
    if rules.count_rule is not None:
        low, high = rules.count_rule.least, rules.count_rule.greatest
        spans = [] if low is None and high is None else [(low, high)]
    else:
        spans = [(row.size if row.above is None else Length(row.above.nanometres + 1), row.size) for row in rules.rows]
    sizes = [row.size for row in rules.rows]
    found: list[tuple[int, int, tuple[Length, ...]]] = []
    previous = 0
    for index, (first, last) in enumerate(spans):
        if first is not None and previous + 1 < first.nanometres:
            below = sizes[index - 1 : index] if index else []
            found.append((previous + 1, first.nanometres - 1, (*below, sizes[index] if sizes else first)))
        previous = _GREATEST if last is None else last.nanometres
    if spans and previous < _GREATEST:
        found.append((previous + 1, _GREATEST, (Length(previous),)))
    return tuple(found)


def _has_gaps(subject: Subject) -> str:
    return no_plans(subject) or ("" if _gaps(subject) else "it takes every size")


_EMPTY: Final = {
    each.kind: each for each in (ThimbleEye(), SoftEye(), PulleyEye(), LinkedEyes(), LapSplice(), PlateEye())
}


def _between_rows(subject: Subject) -> st.SearchStrategy[Request]:
    return _off_the_rows(Unseen(subject))


@st.composite
def _off_the_rows(draw: st.DrawFn, made_from: Unseen[Subject]) -> Request:
    subject = made_from.value
    low, high, _ = draw(st.sampled_from(_gaps(subject)))
    kind = draw(st.sampled_from(subject.style.terminations))
    return Request(Rope(draw(lengths(low, high))), _EMPTY[kind], subject.style.id, subject.rules)


def _refused(subject: Subject, request: Request) -> Verdict:
    size = request.rope.diameter
    neighbours = next(found for low, high, found in _gaps(subject) if low <= size.nanometres <= high)
    names = " and ".join(in_both(each) for each in neighbours)
    words = f"a refusal that names {names}, for no row takes this size"
    try:
        plan = plan_request(request, subject.catalogue)
    except OutOfTable as error:
        if all(str(each) in error.bound for each in neighbours) and error.citation and error.instead:
            return "kept"
        return broken(request, words, f"a refusal that says: {error}", subject.rules.citation)
    return broken(request, words, f"{plan.clip_count} clips, torque {plan.torque}", subject.rules.citation)


SPACING_LAWS: Final = (
    Law("spacing-in-bounds", "Neighbouring clips stand evenly, never less than one base width apart, and within every "
        "bound of rule set and service.",
        search=search_of(measured_requests, _in_bounds, MEASURED), after=_AFTER, applies=_placed),
    Law("tape-is-safe", "The layout on the graduations of a tape is never shorter than the exact one and keeps every "
        "bound.",
        search=search_of(requests_with_length, _tape_is_safe, WITH_LENGTH), after=_AFTER,
        applies=no_lengths),
    Law("inches-equal-millimetres", "The same lengths typed in inches, typed in millimetres and given exactly lead to "
        "the same answer, to the nanometre.",
        search=search_of(lambda subject: requests(subject, certified=False), _both_units), after=_AFTER,
        applies=no_plans,
        redundant="a plugin never sees in which unit a length was typed, and one that answers differently each time is "
        "noticed by same-answer-again too; it stays because it holds the library's own reading of lengths to it"),
    Law("refusals-name-neighbours", "A size that no row takes is refused with the sizes next to it; nothing is "
        "interpolated.", search=search_of(_between_rows, _refused), after=_AFTER[:2], applies=_has_gaps),
)  # fmt: skip
"""In the order in which they are checked."""
