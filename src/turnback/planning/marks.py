"""Every mark that a rigger puts on the rope, all measured along it from one datum, the dead end.

A mark at the middle of a clip would hide under it, so both edges are marked. What needs a number that is absent has no
mark; :func:`marks_missing` says which, and why.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

import attrs

from turnback.mechanics import on_live_part
from turnback.model.absent import Absent
from turnback.model.layout import PlacedClip
from turnback.planning.bill import seizing_of, tape_step
from turnback.planning.tape import TapeLayout
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["Along", "Mark", "marks_missing", "marks_of"]

Along = Literal["dead part", "eye", "live part", "rope A", "rope B"]
"""Where a mark stands; the last two are the two ropes of a lap splice, each measured from its own dead end."""

_MEASURE: Final = "the base width of the clip was not given; measure it along the rope"
_BOTH: Final = "A saddle sits on each part between these edges."


@attrs.frozen
class Mark:
    """One mark on the rope.

    Args:
        number: From 1, in the order of the rope; of two ropes, rope A first [-].
        code: Stable name: ``dead-end``, ``seizing-edge``, ``clip-near-edge``, ``clip-far-edge``, ``base-dead-side``,
            ``crown``, ``base-live-side``, ``dead-end-lies``, ``strip-from``, ``strip-to`` or ``witness``. Near and far
            are meant from the dead end on the dead part, so the far edge comes first on the live part.
        name: What it marks, in words.
        position: From the dead end along the rope [length]; exact.
        along: Which part of the rope it stands on.
        tape: The same on the graduations of a tape, rounded to the safe side [length]; absent with the reason.
        note: What a rigger must know of it; empty when nothing.
        clip: Number of the clip that it belongs to [-]; 0 when it belongs to none.
    """

    number: int
    code: str
    name: str
    position: Length
    along: Along
    tape: Length | Absent
    note: str = ""
    clip: int = 0


class _Spot(NamedTuple):
    code: str
    name: str
    along: Along
    position: Length
    note: str = ""
    clip: int = 0


@attrs.frozen
class _Frame:
    """One set of lengths to mark out: the exact ones, or those of the tape."""

    turn_back: Length | None
    eye: Length | None
    clips: tuple[PlacedClip, ...]
    seizing: Length | None
    step: Length

    def crown(self, turn_back: Length, eye: Length) -> Length:
        return turn_back + Length.up(Fraction(eye.nanometres, 2)).tape(self.step, "up")


def marks_of(plan: Plan) -> tuple[Mark, ...]:
    """List every mark that a rigger puts on the rope.

    Of linked eyes they are those of the first eye; the second has its own in ``plan.other_eye.marks``.

    Args:
        plan: The plan.

    Returns:
        The marks in the order of the rope, from the dead end: seizing, both edges of every clip on the dead part, base
        of the eye, crown, base, both edges of every clip on the live part, the place where the dead end comes to lie;
        the limits of stripping for a coated rope, and a witness mark at every clip. Of a lap splice, those of rope A
        from its dead end, then those of rope B from its own.

    Source: common practice of the trade; no document prints them all.
    """
    tape = plan.tape
    exact = _spots(plan, _exact(plan))
    order = sorted(range(len(exact)), key=lambda i: (exact[i].along == "rope B", exact[i].position))
    measured: list[Length | Absent]
    if isinstance(tape, Absent) and not isinstance(plan.turn_back, Absent):
        measured = [tape] * len(exact)
    else:
        measured = [spot.position for spot in _spots(plan, _on_tape(plan, tape))]
    return tuple(
        Mark(number, spot.code, _full_name(spot), spot.position, spot.along, measured[i], spot.note, spot.clip)
        for number, i in enumerate(order, 1)
        for spot in (exact[i],)
    )


def _full_name(spot: _Spot) -> str:
    # A name stands by itself in a list: what is marked on both parts, or on both ropes, says on which.
    twice = spot.clip or spot.along in ("rope A", "rope B")
    return f"{spot.name}, {spot.along}" if twice else spot.name


def marks_missing(plan: Plan) -> tuple[Absent, ...]:
    """Say which marks a plan cannot give, and why.

    Args:
        plan: The plan.

    Returns:
        One entry for each kind of mark that is left out, named in words; empty where every mark is known.
    """
    turn_back, eye = plan.turn_back, plan.rope_in_eye
    splice, coating = plan.layout_demand.splice, plan.request.rope.coating
    stripped = coating is not None and coating.stripped
    why_base = turn_back.reason if isinstance(turn_back, Absent) else ""
    why_eye = why_base or (eye.reason if isinstance(eye, Absent) and not splice else "")
    why_clips = "" if plan.clips else (why_base or _MEASURE)
    asked: list[tuple[str, str]] = []
    if splice:
        asked += [
            ("clip edges and witness marks on both ropes", why_clips),
            ("where the dead ends come to lie", why_base),
        ]
        asked += [("limit of stripping on both ropes", why_base)] if stripped else []
    else:
        asked += [
            ("clip edges and witness marks on the dead part", why_clips),
            ("base of the eye on the dead side", why_base),
            ("crown of the eye", why_eye),
            ("base of the eye on the live side", why_eye),
            ("clip edges and witness marks on the live part", why_eye or why_clips),
            ("where the dead end comes to lie", why_eye),
        ]
        asked += [("limits of stripping", why_eye)] if stripped else []
    return tuple(Absent(what, reason) for what, reason in asked if reason)


def _exact(plan: Plan) -> _Frame:
    turn_back, eye = plan.turn_back, plan.rope_in_eye
    return _Frame(
        None if isinstance(turn_back, Absent) else turn_back,
        None if isinstance(eye, Absent) else eye,
        plan.clips,
        seizing_of(plan).width_at_least,
        Length(1),
    )


def _on_tape(plan: Plan, tape: TapeLayout | Absent) -> _Frame:
    exact, step = _exact(plan), tape_step(plan)
    seizing = None if exact.seizing is None else exact.seizing.tape(step, "up")
    if isinstance(tape, Absent):
        return _Frame(None, None, (), seizing, step)
    turn_back = tape.layout.turn_back
    return _Frame(
        None if isinstance(turn_back, Absent) else turn_back,
        None if exact.eye is None else exact.eye.tape(step, "up"),
        tape.layout.clips,
        seizing,
        step,
    )


def _spots(plan: Plan, frame: _Frame) -> list[_Spot]:
    return list(_splice_spots(plan, frame) if plan.layout_demand.splice else _eye_spots(plan, frame))


def _ends(plan: Plan, frame: _Frame, along: Along) -> Iterator[_Spot]:
    yield _Spot("dead-end", "dead end", along, Length(0), "The datum of every mark. Its seizing stays on.")
    if frame.seizing is not None:
        note = f"Of the seizing next to the cut, the only one marked. Before the cut: {seizing_of(plan).words}."
        yield _Spot("seizing-edge", "inner edge of the seizing on the dead end", along, frame.seizing, note)


def _eye_spots(plan: Plan, frame: _Frame) -> Iterator[_Spot]:
    yield from _ends(plan, frame, "dead part")
    if frame.turn_back is None:
        return
    turn_back, eye = frame.turn_back, frame.eye
    name, saddle, other = "clip {}", "", ""
    if not plan.style.in_series:
        name, saddle, other = "body of the clip", "The body holds this part.", "The body holds this part."
    elif plan.style.wrong_way_round:
        saddle, other = "The saddle sits here, on the live part.", "The U sits here, on the dead part."
    else:
        saddle = other = _BOTH
    for clip in frame.clips:
        label = name.format(clip.number)
        yield from _edges(label, "dead part", clip.near_edge, clip.far_edge, other, clip.number)
        # Slip draws the dead part towards the eye, so paint on this side of the clip comes out into the open.
        yield _witness(label, "dead part", clip.far_edge, clip.number)
    note = "Here the dead part comes off the live part."
    yield _Spot("base-dead-side", "base of the eye, dead side", "dead part", turn_back, note)
    yield from _strip_spots(plan, turn_back, eye)
    if eye is None:
        return
    yield _Spot("crown", "crown, the middle of the rope in the eye", "eye", frame.crown(turn_back, eye))
    note = "It comes to lie beside the mark of the dead side."
    yield _Spot("base-live-side", "base of the eye, live side", "live part", turn_back + eye, note)
    for clip in reversed(frame.clips):
        label = name.format(clip.number)
        near, far = (_mirrored(edge, turn_back, eye) for edge in (clip.near_edge, clip.far_edge))
        yield from _edges(label, "live part", near, far, saddle, clip.number)
        # Slip draws the live part away from the eye, which is out on this side.
        yield _witness(label, "live part", near, clip.number)
    end = _mirrored(Length(0), turn_back, eye)
    yield _Spot("dead-end-lies", "where the dead end comes to lie", "live part", end, "The dead end lies beside it.")


def _strip_spots(plan: Plan, turn_back: Length, eye: Length | None) -> Iterator[_Spot]:
    coating = plan.request.rope.coating
    if coating is None or not coating.stripped:
        return
    yield _Spot("strip-from", "stripping begins", "dead part", Length(0), "Do not nick a wire.")
    if not coating.eye_stripped:
        yield _Spot(
            "strip-to", "stripping ends at the base of the eye", "dead part", turn_back, "The eye stays coated."
        )
        if eye is not None:
            yield _Spot("strip-from", "stripping begins again at the base of the eye", "live part", turn_back + eye)
    if eye is not None:
        end = _mirrored(Length(0), turn_back, eye)
        note = "Seal the edge of the coating here."
        yield _Spot("strip-to", "stripping ends where the dead end comes to lie", "live part", end, note)


def _splice_spots(plan: Plan, frame: _Frame) -> Iterator[_Spot]:
    yield from _rope_spots(plan, frame, "rope A", "rope B")
    yield from _rope_spots(plan, frame, "rope B", "rope A")


def _rope_spots(plan: Plan, frame: _Frame, own: Along, other: Along) -> Iterator[_Spot]:
    yield from _ends(plan, frame, own)
    coating, overlap = plan.request.rope.coating, frame.turn_back
    if overlap is None:
        return
    stripped = coating is not None and coating.stripped
    if stripped:
        yield _Spot("strip-from", "stripping begins", own, Length(0), "Do not nick a wire.")
    for clip in frame.clips if own == "rope A" else reversed(frame.clips):
        near, far = clip.near_edge, clip.far_edge
        if own == "rope B":
            near, far = overlap - far, overlap - near
        note = _BOTH
        if clip.saddle_on in ("rope A", "rope B"):
            note = "The saddle sits here." if clip.saddle_on == own else "The U sits here."
        yield from _edges(f"clip {clip.number}", own, near, far, note, clip.number)
        # Each rope slips towards its own live end, so the paint comes out on the side away from its dead end.
        yield _witness(f"clip {clip.number}", own, far, clip.number)
    name = f"where the dead end of {other} comes to lie"
    yield _Spot("dead-end-lies", name, own, overlap, f"The dead end of {other} lies beside it.")
    if stripped:
        yield _Spot("strip-to", "stripping ends", own, overlap, "Seal the edge of the coating here.")


def _mirrored(position: Length, turn_back: Length, eye: Length) -> Length:
    return Length(on_live_part(position.nanometres, turn_back.nanometres, eye.nanometres))


def _edges(label: str, along: Along, near: Length, far: Length, note: str, clip: int) -> Iterator[_Spot]:
    yield _Spot("clip-near-edge", f"{label}, near edge", along, near, note, clip)
    yield _Spot("clip-far-edge", f"{label}, far edge", along, far, note, clip)


def _witness(label: str, along: Along, position: Length, clip: int) -> _Spot:
    note = "Paint it against the clip when all torques are done: where the rope slips, the paint moves off the clip."
    return _Spot("witness", f"witness mark at {label}", along, position, note, clip)
