"""The work on a job card: materials, marks, numbered steps with blanks and hold points, and the record of torques."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.model.absent import Absent
from turnback.model.steps import Step
from turnback.output.card_numbers import on_the_tape, short
from turnback.output.paper import Block, Grid, Point, Points, Section, Words
from turnback.output.sources_list import SourcesList
from turnback.planning.marks import Mark, marks_missing
from turnback.planning.plan import Plan

__all__ = ["marks_sections", "materials_section", "procedure_section", "torque_section"]

_EVERY: Final = "torque of every"
"""How the reading of a step begins that goes into the record of torques."""
_DO_NOT_BEGIN: Final = "DO NOT BEGIN: what stands on the first page forbids it or must be fixed first."
_FOUND: Final = "as found"
_LEFT: Final = "as left"


def materials_section(plan: Plan, sources: SourcesList) -> Section:
    """List what the joint is made from and with.

    Args:
        plan: The plan.
        sources: Where the citations are numbered.

    Returns:
        A section with a box to tick on every line.
    """
    points = tuple(Point(str(each), tick=True, cited=sources.cite(each.citations)) for each in plan.bill.lines)
    return Section("Materials and tools", (Points(points),))


def marks_sections(plan: Plan) -> tuple[Section, ...]:
    """List the places of the clips and every mark on the rope, from one datum.

    Args:
        plan: The plan.

    Returns:
        One section; of linked eyes two, each for its own rope.
    """
    if plan.layout_demand.splice:
        return (_marks("Marks on both ropes, each measured from its own dead end", plan),)
    if plan.other_eye is None:
        return (_marks("Marks on the rope, all measured from the dead end", plan),)
    first = _marks("Marks on the first rope, from its dead end", attrs.evolve(plan, second_eye=None))
    return (first, _marks("Marks on the second rope, from its dead end", plan.other_eye))


def _marks(title: str, plan: Plan) -> Section:
    blocks: list[Block] = []
    if plan.clips:
        blocks.append(_clips(plan))
    notes = {note: chr(ord("a") + i) for i, note in enumerate(dict.fromkeys(m.note for m in plan.marks if m.note))}
    if plan.marks:
        rows = tuple(_mark(mark, notes, plan) for mark in plan.marks)
        under = tuple(f"{letter}: {note}" for note, letter in notes.items())
        headers = ("mark", "what it marks", "where", "from the dead end", "note")
        blocks.append(Grid(headers, rows, title, notes=under, tick=True))
    missing = marks_missing(plan)
    if missing:
        blocks.append(Words("Not known, and so not listed:", strong=True))
        blocks.append(Points(tuple(Point(f"{each.what}: {each.reason}") for each in missing)))
    return Section(title, tuple(blocks))


def _clips(plan: Plan) -> Grid:
    headers = ("clip", "near edge", "centre", "far edge", "saddle on")
    rows = tuple(
        (
            str(clip.number),
            short(clip.near_edge, plan),
            short(clip.position, plan),
            short(clip.far_edge, plan),
            clip.saddle_on,
        )
        for clip in on_the_tape(plan).clips
    )
    tape = plan.tape
    said = tape.reason if isinstance(tape, Absent) else f"on a tape of {short(tape.step, plan)}, to the safe side"
    datum = "the dead end of rope A" if plan.layout_demand.splice else "the dead end"
    note = f"Measured from {datum}, clip 1 the nearest to it. Rounded: {said}."
    return Grid(headers, rows, "Places of the clips", notes=(note,))


def _mark(mark: Mark, notes: dict[str, str], plan: Plan) -> tuple[str, ...]:
    position = mark.position if isinstance(mark.tape, Absent) else mark.tape
    name = mark.name.removesuffix(f", {mark.along}")
    return (str(mark.number), name, mark.along, short(position, plan), notes.get(mark.note, ""))


def procedure_section(plan: Plan, sources: SourcesList) -> Section:
    """Write the numbered steps, each with a box to tick, blanks for its readings and its hold point.

    Args:
        plan: The plan.
        sources: Where the citations are numbered.

    Returns:
        The section; where the joint may not be made it says so first.
    """
    blocks: list[Block] = [] if plan.usable else [Words(_DO_NOT_BEGIN, strong=True)]
    blocks.append(Points(tuple(_step(step, sources) for step in plan.procedure)))
    return Section("Procedure", tuple(blocks))


def _step(step: Step, sources: SourcesList) -> Point:
    reading = step.reading
    if reading.startswith(_EVERY):
        reading = "torques in the record below; wrench number, and by whom"
    blanks = (reading,) if reading else ()
    return Point(
        step.text, str(step.number), tick=True, hold=step.hold, blanks=blanks, cited=sources.cite(step.citations)
    )


def torque_section(plan: Plan) -> Section:
    """Lay out the record of torques: every clip, as found and as left, for each time that all are tightened.

    Args:
        plan: The plan.

    Returns:
        A section with empty cells to write in.
    """
    passes = [step for step in plan.procedure if step.reading.startswith(_EVERY)]
    headers, caption = ["clip"], "Record of torques, as found and as left"
    for number, step in enumerate(passes):
        when = f"step {step.number}"
        # Before the first tightening there is nothing to find.
        headers += [f"{when}: {_LEFT}"] if number == 0 else [f"{when}: {_FOUND}", f"{when}: {_LEFT}"]
    rows = [(name, *("" for _ in headers[1:])) for name in _clip_names(plan)]
    rows.append(("date, initials", *("" for _ in headers[1:])))
    torque, threads = plan.torque, plan.thread_condition
    target = "the clip maker's torque: ask for it" if isinstance(torque, Absent) else str(torque)
    said = "as the clip maker states" if isinstance(threads, Absent) else threads
    notes = (
        f"To {target}, threads {said}. Write the reading with its unit.",
        "A low torque as found after the first load is to be expected: tighten again and write down both.",
        *(f"Step {step.number}: {step.reading}." for step in passes),
    )
    return Section(
        "Record of torques", (Grid(tuple(headers), tuple(rows), caption, to_fill=True, notes=notes),), whole=True
    )


def _clip_names(plan: Plan) -> tuple[str, ...]:
    numbers = range(1, plan.clip_count + 1)
    if not plan.style.in_series:
        names: tuple[str, ...] = ("body, first nut", "body, further nuts")
    else:
        names = tuple(f"clip {number}" for number in numbers)
    if plan.other_eye is None:
        return names
    return tuple(f"{eye}, {name}" for eye in ("first eye", "second eye") for name in names)
