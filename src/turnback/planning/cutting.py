"""How long to cut the rope for a span between two terminations.

The sum is exact. What rounding for the tape adds goes to the last dead end, never into the span.
"""

from __future__ import annotations

from typing import Final

import attrs

from turnback.errors import InputError
from turnback.mechanics import cut_length as formula
from turnback.model.absent import Absent
from turnback.model.ropedata import mass_per_length
from turnback.planning.bill import tape_step
from turnback.planning.plan import Plan
from turnback.planning.tape import tape_steps
from turnback.quantities import Length, LengthLike, Mass

__all__ = ["CutLength", "CutPart", "cut_length"]

_NONE: Final = Length(0)
_EXCESS: Final = "What the tape adds goes to the last dead end, never into the span: set out the span exactly."


@attrs.frozen
class CutPart:
    """One stretch of the rope to cut.

    Args:
        name: What it is, in words.
        length: How long [length]; exact.
    """

    name: str
    length: Length


@attrs.frozen
class CutLength:
    """The length to cut for a span.

    Args:
        length: The exact length [length]; absent with the reason.
        tape: Rounded up to the graduations of a tape, as every mark on it is [length]; absent with the reason.
        parts: The stretches of the rope in order, from the first dead end to the last; they add up to ``length``.
            Empty where it is absent.
        between_bases: Between the bases of the two eyes, without tension [length]; absent with the reason.
        mass: Mass of the exact length [mass]; absent with the reason.
        notes: What is in it and what is not, one sentence each.
    """

    length: Length | Absent
    tape: Length | Absent
    parts: tuple[CutPart, ...]
    between_bases: Length | Absent
    mass: Mass | Absent
    notes: tuple[str, ...]

    @property
    def reason(self) -> str:
        """Why there is no length; empty where there is one."""
        return self.length.reason if isinstance(self.length, Absent) else ""

    def __str__(self) -> str:
        return f"cut {self.tape}" if isinstance(self.tape, Length) else f"no length to cut: {self.reason}"


@attrs.frozen
class _End:
    """What one termination takes of the rope, exactly and on the tape."""

    reach: Length
    eye: Length
    turn_back: Length
    tape: Length


def cut_length(
    *,
    span: LengthLike,
    ends: tuple[Plan, Plan],
    trim: LengthLike | None = None,
    stretch: LengthLike | None = None,
    take_up: LengthLike | None = None,
    spare: LengthLike | None = None,
) -> CutLength:
    """Say how long to cut one rope that ends in two terminations.

    span - both reaches + rope in both eyes + both turn-backs, and what is asked for beside.

    Args:
        span: Between the bearing points of the two eyes, where their pins bear [length].
        ends: The plans of the two terminations, of the same rope; the same plan twice for two alike.
        trim: To be cut off again when the ends are trimmed, both ends together [length]; added. None when not given.
        stretch: By how much the rope grows under its load [length]; taken off. None when not given.
        take_up: By how much an adjuster draws the bearing points farther apart than ``span`` [length]; added. None when
            not given.
        spare: To be kept for making an end again [length]; added. None when not given.

    Returns:
        The exact length, its parts and mass, and the length for the tape. All of it is absent, with the reason, where
        a termination has no bearing point (a lap splice) or a dimension is missing.

    Raises:
        InputError: A length cannot be read or is not above zero, the plans are not two or are for different ropes, the
            span is shorter than both reaches, or the two turn-backs do not fit between the bases.

    Source: geometry; common practice for what is added and taken off.
    """
    plans = _pair(ends)
    wanted = Length.of(span, "span")
    beside = _Beside(
        trim=_given("trim", trim),
        stretch=_given("stretch", stretch),
        take_up=_given("take_up", take_up),
        spare=_given("spare", spare),
    )
    notes = (_EXCESS, *beside.notes(), *_plan_notes(plans))
    first = _end(plans[0], "first")
    if isinstance(first, Absent):
        return _nothing(first, notes)
    second = _end(plans[1], "second")
    if isinstance(second, Absent):
        return _nothing(second, notes)
    return _cut(plans[0], wanted, first, second, beside, notes)


@attrs.frozen
class _Beside:
    """What is asked for beside the sum; zero where it was not given."""

    trim: Length
    stretch: Length
    take_up: Length
    spare: Length

    def notes(self) -> tuple[str, ...]:
        said = (
            ("trim", self.trim, "Added, to be cut off again when the ends are trimmed"),
            ("stretch", self.stretch, "Taken off, because the rope grows so much under its load"),
            ("take-up", self.take_up, "Added, because an adjuster draws the bearing points so much farther apart"),
            ("spare for making an end again", self.spare, "Added, to be kept for making an end again"),
        )
        none = ", ".join(name for name, length, _ in said if length == _NONE)
        given = tuple(f"{words}: {length}." for _, length, words in said if length != _NONE)
        return (*given, f"Not given, so none is reckoned with: {none}.") if none else given


def _given(field: str, value: LengthLike | None) -> Length:
    return _NONE if value is None else Length.of(value, field)


def _pair(ends: object) -> tuple[Plan, Plan]:
    if not isinstance(ends, tuple) or len(ends) != 2 or not all(isinstance(end, Plan) for end in ends):
        raise InputError(
            "a span has two ends",
            field="ends",
            value=repr(ends)[:80],
            bound="a pair of plans",
            instead="Write ends=(plan_a, plan_b); the same plan twice for two alike.",
        )
    first, second = ends
    if first.request.rope != second.request.rope:
        raise InputError(
            "the two plans are for different ropes, and one piece of rope is cut",
            field="ends",
            value=f"{first.request.rope} and {second.request.rope}",
            bound="the same rope in both plans, certificate and coating included",
            instead="Plan both ends for the rope in hand.",
        )
    return first, second


def _plan_notes(plans: tuple[Plan, Plan]) -> tuple[str, ...]:
    found = []
    for place, plan in zip(("first", "second"), plans, strict=True):
        if not plan.usable:
            found.append(f"The plan of the {place} end is not usable as it stands: see its findings.")
        if plan.other_eye is not None:
            found.append(f"The {place} end is the first of two linked eyes; the other rope ends in plan.other_eye.")
    return tuple(found)


def _end(plan: Plan, place: str) -> _End | Absent:
    if plan.layout_demand.splice:
        return Absent("cut_length", f"the {place} end is a lap splice, which has no eye and no bearing point")
    reach, eye, turn_back, on_tape = plan.geometry.reach, plan.rope_in_eye, plan.turn_back, plan.tape
    if isinstance(turn_back, Absent):
        return Absent("cut_length", f"turn-back of the {place} end: {turn_back.reason}")
    if isinstance(eye, Absent):
        return Absent("cut_length", f"rope in the eye of the {place} end: {eye.reason}")
    if isinstance(reach, Absent):
        return Absent("cut_length", f"reach of the {place} end: {reach.reason}")
    marked = turn_back if isinstance(on_tape, Absent) else on_tape.layout.turn_back
    step = tape_step(plan)
    # The marks of an end are rounded up one by one, so the rope for it is the sum of the rounded ones.
    tape = (turn_back if isinstance(marked, Absent) else marked).tape(step, "up") + eye.tape(step, "up")
    return _End(reach, eye, turn_back, tape)


def _nothing(why: Absent, notes: tuple[str, ...]) -> CutLength:
    return CutLength(why, why, (), Absent("between_bases", why.reason), Absent("mass", why.reason), notes)


def _cut(plan: Plan, span: Length, first: _End, second: _End, beside: _Beside, notes: tuple[str, ...]) -> CutLength:
    under_load = span + beside.take_up - beside.stretch
    between = under_load - first.reach - second.reach
    _room(span, between, first, second)
    ends = formula(
        span=under_load.nanometres,
        reach_a=first.reach.nanometres,
        reach_b=second.reach.nanometres,
        eye_a=first.eye.nanometres,
        eye_b=second.eye.nanometres,
        turn_back_a=first.turn_back.nanometres,
        turn_back_b=second.turn_back.nanometres,
    )
    length = Length(ends) + beside.trim + beside.spare
    parts = [
        CutPart("turn-back of the first end", first.turn_back),
        CutPart("rope in the eye of the first end", first.eye),
        CutPart("between the two bases", between),
        CutPart("rope in the eye of the second end", second.eye),
        CutPart("turn-back of the second end", second.turn_back),
    ]
    parts += [CutPart("trim", beside.trim)] if beside.trim != _NONE else []
    parts += [CutPart("spare", beside.spare)] if beside.spare != _NONE else []
    whole = first.tape + second.tape + between + beside.trim + beside.spare
    per_length = mass_per_length(plan.request.rope)
    return CutLength(
        length=length,
        tape=whole.tape(tape_steps(plan.request.rope.diameter)[0], "up"),
        parts=tuple(parts),
        between_bases=between,
        mass=Absent("mass", per_length.reason)
        if isinstance(per_length, Absent)
        else per_length.value.of_length(length),
        notes=notes,
    )


def _room(span: Length, between: Length, first: _End, second: _End) -> None:
    reaches = first.reach + second.reach
    if span <= reaches:
        raise InputError(
            "the span is no longer than the two eyes reach",
            field="span",
            value=str(span),
            bound=f"more than both reaches together, {reaches}",
            instead="Measure between the points where the pins bear.",
        )
    turn_backs = first.turn_back + second.turn_back
    if between < turn_backs:
        raise InputError(
            "the turn-backs of the two ends do not fit between their bases: a clip would hold three parts of rope",
            field="span",
            value=f"{span}, which leaves {between} between the bases",
            bound=f"at least both turn-backs between the bases, {turn_backs}",
            instead="Take a longer span, or another kind of termination.",
        )
