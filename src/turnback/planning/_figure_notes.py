"""The words of a figure: notes beside the clip seen along the rope, and the description for those who cannot see."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from turnback.model.absent import Absent
from turnback.model.lettering import wrapped
from turnback.model.shapes import Rect, Shape, Text, line
from turnback.planning._figure_along import section, sections
from turnback.planning._figure_labels import SIZE
from turnback.planning._figure_lengths import short, taped
from turnback.planning._figure_sheet import MARGIN, PAGE, Sheet
from turnback.planning.bill import tape_step
from turnback.planning.marks import marks_missing
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["description", "foot_of"]


def foot_of(plan: Plan, sheet: Sheet, top: float) -> tuple[tuple[Shape, ...], float]:
    """Draw the clip seen along the rope, and write the notes beside it.

    Args:
        plan: The plan.
        sheet: Where everything lies.
        top: Where they may begin, from the top [drawing units].

    Returns:
        The shapes, and how far down they reach [drawing units].
    """
    shapes: list[Shape] = [line(MARGIN, top, PAGE - MARGIN, top, "faint", 0.8)]
    top += 10
    left, bottom = MARGIN, top
    for words, side in sections(plan):
        drawn, width, foot = section(plan, sheet, words, side, left, top)
        shapes.append(drawn)
        left, bottom = left + width + 24, max(bottom, foot)
    y = top + 12
    for text, bold in _notes(plan, sheet):
        for i, part in enumerate(wrapped(text, SIZE, PAGE - MARGIN - left - 14, bold=bold)):
            shapes.append(Text(left + 14, y, part, SIZE, bold=bold))
            if i == 0:
                shapes.append(Rect(left + 2, y - 7, 5, 5, "none", "ink"))
            y += 16
        y += 4
    return tuple(shapes), max(bottom, y) + 8


def _notes(plan: Plan, sheet: Sheet) -> Iterator[tuple[str, bool]]:
    lengths = sheet.lengths
    yield from ((each, True) for each in (*_saddle_notes(plan), *_scale_notes(sheet)))
    if any(finding.code == "service-not-stated" for finding in plan.findings):
        yield "The service was not stated: read in the findings which uses are forbidden.", True
    if lengths.linked is not None:
        yield "The other eye is a termination of its own, with its own clips and its own drawing.", False
    yield from ((each, False) for each in _lengths_notes(plan, sheet))
    missing: dict[str, list[str]] = {}
    for absent in marks_missing(plan):
        missing.setdefault(absent.reason, []).append(absent.what)
    for reason, what in missing.items():
        yield f"Marks not given ({'; '.join(what)}): {reason}.", False
    yield "Replaces neither local codes nor the clip maker's instructions nor a qualified person.", False


def _saddle_notes(plan: Plan) -> Iterator[str]:
    if plan.style.wrong_way_round:
        if plan.layout_demand.splice:
            yield "Every saddle bears on the rope whose dead end is farther away; every U on the other."
        else:
            yield "Every saddle bears on the live part (drawn with its strands), every U on the dead part (plain)."
    elif plan.style.in_series:
        yield "Each clip has two equal saddles, one on each part; it has no wrong way round."


def _scale_notes(sheet: Sheet) -> Iterator[str]:
    lengths = sheet.lengths
    hidden = [clip.number for clip in lengths.clips if clip not in sheet.shown]
    if hidden:
        yield f"Clips {hidden[0]} to {hidden[-1]} are left out at the break line; they stand evenly between the others."
    if not lengths.known:
        yield "NOT TO SCALE: the turn-back is not known until the clip is measured."
    elif not lengths.measured:
        whole = "Overlap" if lengths.splice else "Turn-back"
        yield f"{whole} to scale. Clips NOT TO SCALE: the base width was not measured."
    if lengths.eye is not None and lengths.eye.missing:
        yield f"Eye NOT TO SCALE: {lengths.eye.missing}."


def _lengths_notes(plan: Plan, sheet: Sheet) -> Iterator[str]:
    eye = plan.rope_in_eye
    if isinstance(eye, Length):
        angle = plan.geometry.included_angle
        said = "" if isinstance(angle, Absent) else f"; the parts meet at {angle.degrees:.1f} degrees"
        yield f"Rope in the eye, base to base: {_rounded(eye, plan)}{said}."
    if isinstance(plan.tape, Absent):
        if not isinstance(plan.turn_back, Absent):
            yield f"Lengths are exact: {plan.tape.reason}."
    else:
        yield f"Lengths are those of the tape, in steps of {short(plan.tape.step, plan)}, rounded to the safe side."
    coating = plan.request.rope.coating
    if coating is not None:
        what = "is stripped under the clips" if coating.stripped else "stays on under the clips"
        yield f"The coating, drawn grey round the rope, {what}."
    what = "All else along the rope is" if any(_scale_notes(sheet)) else "Lengths along the rope are"
    to_scale = f"{what} to scale; the" if sheet.lengths.known else "The"
    yield f"{to_scale} outline of the clip is schematic."


def _rounded(length: Length, plan: Plan) -> str:
    return short(length.tape(tape_step(plan), "up"), plan)


def description(plan: Plan, sheet: Sheet) -> str:
    """Describe the drawing for those who cannot see it.

    Args:
        plan: The plan.
        sheet: Where everything lies.

    Returns:
        Sentences; what forbids the joint stands first.
    """
    layout = taped(plan)
    parts = [f"{finding.kind.upper()}: {finding.text[:2000]}" for finding in plan.findings if finding.blocks]
    splice = plan.layout_demand.splice
    if splice:
        parts.append(
            "Two ropes side by side. Rope A, above, has its dead end on the left and runs on to the right; rope B, "
            "below, has its dead end on the right and runs on to the left."
        )
    else:
        parts.append(
            "The live part comes in from the left, goes round the eye on the right and comes back above itself as the "
            "dead part, whose end is on the left."
        )
    name = "Overlap" if splice else "Turn-back"
    said = layout.turn_back
    parts.append(f"{name}: {short(said, plan) if isinstance(said, Length) else f'not known; {said.reason}'}.")
    if layout.clips:
        parts.append("From the dead end of rope A:" if splice else "From the dead end:")
        for clip in layout.clips:
            where = f"from {short(clip.near_edge, plan)} to {short(clip.far_edge, plan)}"
            on = "plates" if clip.saddle_on == "plates" else f"saddle on {clip.saddle_on}"
            parts.append(f"clip {clip.number} {where}, {on};")
        parts[-1] = parts[-1].removesuffix(";") + "."
    parts += [text for text, _ in _notes(plan, sheet)]
    return " ".join(parts)
