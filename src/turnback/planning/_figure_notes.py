"""The words of a figure: its heading, what forbids the joint, the clip seen along the rope, notes, the description."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from turnback.model.absent import Absent
from turnback.model.figures import Circle, ClipPlace, Group, Rect, Shape, Text, Tone, bounds_of, line, polygon
from turnback.model.lettering import wrapped
from turnback.planning._figure_labels import SIZE, SMALL
from turnback.planning._figure_lengths import short, taped
from turnback.planning._figure_sheet import MARGIN, PAGE, Sheet
from turnback.planning.marks import marks_missing
from turnback.quantities import Length
from turnback.rules.selection import choice_text

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["description", "foot_of", "head_of", "title_of"]

_WIDTH: Final = PAGE - 2 * MARGIN
_MOST_LINES: Final = 24
_ROPE: Final = 40.0
"""Diameter of the rope in the view along it [drawing units]."""


def title_of(plan: Plan) -> str:
    """Write what a figure shows, in a few words.

    Args:
        plan: The plan.

    Returns:
        One line; it begins with what forbids the joint.
    """
    kind, count = plan.request.termination.kind, plan.clip_count
    clips = f"{count} {plan.style.title}{'' if count == 1 else 's'}"
    each = " on each eye" if plan.request.termination.kind == "linked eyes" else ""
    said = "" if plan.usable else "NOT USABLE. "
    return f"{said}{kind[0].upper()}{kind[1:]} with {clips} of {short(plan.clip_size, plan)}{each}"


def head_of(plan: Plan) -> tuple[tuple[Shape, ...], float]:
    """Write the heading; what is forbidden or must be fixed stands above it.

    Args:
        plan: The plan.

    Returns:
        The shapes, and how far down they reach [drawing units].
    """
    shapes: list[Shape] = []
    y = MARGIN
    grave = [finding for finding in plan.findings if finding.blocks]
    if grave:
        lines = [
            text
            for finding in grave
            for text in wrapped(f"{finding.kind.upper()}: {finding.text[:2000]}", SIZE, _WIDTH - 48)
        ]
        if len(lines) > _MOST_LINES:
            lines = [*lines[:_MOST_LINES], "(more under the findings of the plan)"]
        high = 34 + 17 * len(lines)
        warning: list[Shape] = [
            Rect(MARGIN, y, _WIDTH, high, "alarm", line=3.0),
            *_hazard(MARGIN, y, high),
            Text(MARGIN + 36, y + 23, "NOT USABLE: do not make or load this joint", 17, bold=True, tone="alarm"),
        ]
        warning += [Text(MARGIN + 36, y + 42 + 17 * i, text, SIZE) for i, text in enumerate(lines)]
        shapes.append(Group(tuple(warning), "not usable"))
        y += high + 14
    y += 16
    shapes += [Text(MARGIN, y + 18 * i, text, 16, bold=True) for i, text in enumerate(_heading(plan))]
    y += 18 * (len(_heading(plan)) - 1)
    for text in wrapped(_under(plan), SIZE, _WIDTH)[:3]:
        y += 18
        shapes.append(Text(MARGIN, y, text, SIZE, tone="faint"))
    return tuple(shapes), y + 8


def _heading(plan: Plan) -> tuple[str, ...]:
    return wrapped(title_of(plan).removeprefix("NOT USABLE. "), 16, _WIDTH, bold=True)[:2]


def _under(plan: Plan) -> str:
    rules = choice_text(plan.request.rules) if plan.request.rules is not None else ""
    torque = plan.torque
    said = "torque not known here, ask the clip's maker"
    if not isinstance(torque, Absent):
        threads = plan.thread_condition
        said = f"torque {torque}" + ("" if isinstance(threads, Absent) else f" on {threads} threads")
    return f"{plan.request.rope}, by {rules}; {said}"


def _hazard(x: float, y: float, high: float) -> Iterator[Shape]:
    """Draw the slanting stripes down the side of a warning."""
    wide = 20.0
    at = y
    while at < y + high:
        top, bottom = at, min(at + 10, y + high)
        lift = 8 * (bottom - top) / 10
        corners = ((x, top), (x + wide, max(top - lift, y)), (x + wide, max(bottom - lift, y)), (x, bottom))
        yield polygon(corners, "alarm", "none")
        at += 20
    yield line(x + wide, y, x + wide, y + high, "alarm", 1.0)


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
    for words, side in _sections(plan):
        drawn, width, foot = _section(plan, sheet, words, side, left, top)
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


def _sections(plan: Plan) -> list[tuple[str, int]]:
    half = plan.clip_count // 2
    if plan.layout_demand.splice and plan.style.wrong_way_round:
        return [(f"clips 1 to {half}" if half > 1 else "clip 1", 1), (f"clips {half + 1} to {2 * half}", -1)]
    return [("each clip" if plan.clip_count > 1 else "the clip", 1)]


def _section(plan: Plan, sheet: Sheet, words: str, way: int, left: float, top: float) -> tuple[Shape, float, float]:
    apart = _ROPE * sheet.lengths.apart / sheet.lengths.diameter
    names = _part_names(plan, way)
    trial = ClipPlace("along", 0.0, _ROPE, way * apart / 2, -way * apart / 2, _ROPE)
    west, north, east, south = bounds_of(plan.style.draw_clip(trial))
    north, south = min(north, -apart / 2 - _ROPE / 2), max(south, apart / 2 + _ROPE / 2)
    x, y = left + 8 - west, top + 34 - north
    place = ClipPlace("along", x, _ROPE, y + way * apart / 2, y - way * apart / 2, _ROPE)
    # The upper part is the dead one of an eye; in a splice it is rope A, live where the saddle is above.
    above, below = y - apart / 2, y + apart / 2
    live_above = plan.layout_demand.splice and way < 0
    both = plan.layout_demand.splice and not plan.style.wrong_way_round
    shapes: list[Shape] = [
        Text(left, top + 12, f"Seen along the rope: {words}", SMALL, bold=True),
        *_cross_section(x, above, live=live_above or both),
        *_cross_section(x, below, live=not live_above),
        *plan.style.draw_clip(place),
    ]
    out = x + max(east, _ROPE / 2) + 12
    for part, text in ((above, names[0]), (below, names[1])):
        shapes.append(line(x + _ROPE * 0.2, part, out - 3, part, "faint", 0.9))
        shapes += [Text(out, part + 4 + 14 * i, each, SMALL) for i, each in enumerate(text)]
    width = max(out - left + 96, 190)
    return Group(tuple(shapes), f"along the rope: {words}"), width, y + south + 10


def _part_names(plan: Plan, way: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if plan.layout_demand.splice:
        if not plan.style.wrong_way_round:
            return ("rope A", "saddle on it"), ("rope B", "saddle on it")
        a, b = ("rope A: live", "saddle on it"), ("rope B: live", "saddle on it")
        return (("rope A: dead", "U on it"), b) if way > 0 else (a, ("rope B: dead", "U on it"))
    if not plan.style.in_series:
        return ("dead part",), ("live part",)
    if plan.style.wrong_way_round:
        return ("DEAD part", "U on it"), ("LIVE part", "saddle on it")
    return ("dead part", "saddle on it"), ("live part", "saddle on it")


def _cross_section(x: float, y: float, *, live: bool) -> Iterator[Shape]:
    tone: Tone = "live" if live else "paper"
    r = _ROPE / 2
    yield Circle(x, y, r, "ink", tone, 1.3)
    if live:
        # Six strands round a core, as the sign of the live part; the dead part stays plain.
        for i in range(6):
            turn = math.pi / 3 * i
            yield Circle(x + r * 0.66 * math.cos(turn), y + r * 0.66 * math.sin(turn), r * 0.32, "ink", "none", 0.8)
        yield Circle(x, y, r * 0.32, "ink", "none", 0.8)


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
        yield f"Clips {hidden[0]} to {hidden[-1]} are left out at the break line; they stand at the same spacing."
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
    to_scale = "Lengths along the rope are to scale; the" if sheet.lengths.known else "The"
    yield f"{to_scale} outline of the clip is schematic."


def _rounded(length: Length, plan: Plan) -> str:
    from turnback.planning.bill import tape_step

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
