"""A plan and a rule set as plain text, at most 80 columns wide where a table allows it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final

import attrs

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.planning.plan import Plan
from turnback.quantities import Length, percent_text
from turnback.rules.selection import choice_text

__all__ = ["plan_text"]

_WIDTH: Final = 80
_LABEL: Final = 16


def plan_text(plan: Plan) -> str:
    """Write a whole plan: what is forbidden first, then numbers, positions, marks, steps, materials and citations.

    Args:
        plan: The plan.

    Returns:
        Plain text of at most 80 columns.
    """
    blocks = [
        _head(plan),
        _grave(plan.findings),
        _numbers(plan),
        _positions(plan),
        _strength(plan),
        _findings(plan.findings),
        _marks(plan),
        _steps(plan),
        _bill(plan),
        _sources(plan),
    ]
    text = "\n\n".join(block for block in blocks if block) + "\n"
    # What the user gave may hold characters that steer a terminal.
    return "".join(sign if sign.isprintable() or sign == "\n" else "\N{REPLACEMENT CHARACTER}" for sign in text)


def _line(label: str, text: str) -> str:
    return textwrap.fill(
        text,
        _WIDTH,
        initial_indent=f"  {label:<{_LABEL}}",
        subsequent_indent=" " * (_LABEL + 2),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _bullet(text: str, sign: str = "-") -> str:
    indent = " " * (len(sign) + 3)
    return textwrap.fill(
        text,
        _WIDTH,
        initial_indent=f"  {sign} ",
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _head(plan: Plan) -> str:
    request = plan.request
    rules = choice_text(request.rules) if request.rules is not None else ""
    lines = [
        f"Plan: {request.termination.kind} with {plan.style.title}",
        _line("rope", str(request.rope)),
        _line("rules", rules),
        _line("service", f"{request.service or 'not stated'}, {request.jurisdiction or 'jurisdiction not stated'}"),
    ]
    return "\n".join(lines)


def _grave(findings: Iterable[Finding]) -> str:
    grave = [_bullet(f"{finding.kind.upper()}: {finding.text}", "!") for finding in findings if finding.blocks]
    return "NOT USABLE\n" + "\n".join(grave) if grave else ""


def _numbers(plan: Plan) -> str:
    demand, splice = plan.demand, plan.layout_demand.splice
    each = " on each eye" if plan.other_eye is not None else ""
    lines = ["Numbers", _line("clips", f"{plan.clip_count} of {plan.clip_size}{each}")]
    lines += [_line("", f"{step.count}: {step.label}") for step in demand.steps]
    lines.append(_line("overlap" if splice else "turn-back", _with_tape(plan)))
    lines.append(_line("spacing", f"{plan.spacing}" + ("" if isinstance(plan.spacing, Absent) else " between centres")))
    lines.append(_line("dead end", f"{plan.dead_end}" + ("" if isinstance(plan.dead_end, Absent) else " to the clip")))
    torque = str(plan.torque)
    if not isinstance(plan.torque, Absent):
        torque += f", threads: {plan.thread_condition}"
        threads = plan.cited("thread_condition")
        if not isinstance(threads, Absent):
            torque += f" ({threads.citations[0].status})"
    lines.append(_line("torque", torque))
    if not splice:
        lines.append(_line("rope in eye", str(plan.rope_in_eye)))
        lines.append(_line("angle", str(plan.geometry.included_angle)))
    if plan.request.load is not None:
        lines.append(_line("leg force", str(plan.geometry.leg_force(plan.request.load))))
    if plan.request.rope.coating is not None:
        lines.append(_line("strip", str(plan.strip_length)))
    return "\n".join(lines)


def _with_tape(plan: Plan) -> str:
    exact, tape = plan.turn_back, plan.tape
    if isinstance(tape, Absent) or tape.layout.turn_back == exact:
        return str(exact)
    return f"{exact}; on the tape {tape.layout.turn_back}"


def _positions(plan: Plan) -> str:
    if not plan.clips:
        return ""
    tape = plan.tape
    clips = plan.clips if isinstance(tape, Absent) else tape.layout.clips
    rounded = "exact" if isinstance(tape, Absent) else f"on a tape of {_short(tape.step)}, rounded to the safe side"
    lines = [f"Clips, from the dead end ({rounded})", "  clip  near edge    centre       far edge     saddle on"]
    lines += [
        f"  {clip.number:>4}  {_short(clip.near_edge):<11}  {_short(clip.position):<11}  {_short(clip.far_edge):<11}"
        f"  {clip.saddle_on}"
        for clip in clips
    ]
    return "\n".join(lines)


def _short(length: Length) -> str:
    inch = length.text("in")
    return length.text("mm") if "≈" in inch or length.nanometres % 396_875 else inch


def _strength(plan: Plan) -> str:
    strength = plan.strength
    lines = ["Strength", _line("rope breaks at", str(plan.minimum_breaking_force))]
    if isinstance(plan.efficiency, Absent):
        lines.append(_line("efficiency", str(plan.efficiency)))
    else:
        how = strength.efficiency.how if not isinstance(strength.efficiency, Absent) else ""
        lines.append(_line("efficiency", f"{percent_text(plan.efficiency)} ({how})"))
    breaking = plan.termination_breaking_force
    text = str(breaking) if isinstance(breaking, Absent) else f"{breaking.text('both', 'down')}; never load to it"
    lines.append(_line("breaks at", text))
    if isinstance(breaking, Absent):
        return "\n".join(lines)
    factor = plan.service.design_factor
    if isinstance(factor, Absent):
        lines.append(_line("working load", f"none: {factor.reason}"))
        return "\n".join(lines)
    try:
        load = plan.working_load().text("both", "down")
    except TurnbackError as error:
        lines.append(_line("working load", f"none: {error.problem}"))
        return "\n".join(lines)
    lines.append(_line("working load", f"{load} at a design factor of {float(factor.value):g}"))
    return "\n".join(lines)


def _marks(plan: Plan, title: str = "Marks on the rope, from the dead end") -> str:
    if plan.other_eye is not None:
        one = _marks(attrs.evolve(plan, second_eye=None), "Marks on the first rope, from the dead end")
        return one + "\n\n" + _marks(plan.other_eye, "Marks on the second rope, from its dead end")
    if not plan.marks:
        return ""
    lines = [title]
    lines += [
        _bullet(
            f"{_short(mark.position if isinstance(mark.tape, Absent) else mark.tape)}: {mark.name}", f"{mark.number:>2}"
        )
        for mark in plan.marks
    ]
    return "\n".join(lines)


def _steps(plan: Plan) -> str:
    lines = ["Procedure"]
    lines += [_bullet(step.text + (" HOLD." if step.hold else ""), f"{step.number:>2}") for step in plan.procedure]
    return "\n".join(lines)


def _bill(plan: Plan) -> str:
    return "\n".join(["Materials", *(_bullet(str(line)) for line in plan.bill.lines)])


def _findings(findings: Iterable[Finding]) -> str:
    return "\n".join(["Findings", *(_bullet(str(finding)) for finding in findings)])


def _sources(plan: Plan) -> str:
    return "\n".join(["Sources", *(_bullet(str(citation)) for citation in plan.citations)])
