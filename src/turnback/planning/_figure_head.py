"""The heading of a figure, and above it what forbids the joint."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from turnback.model.absent import Absent
from turnback.model.lettering import wrapped
from turnback.model.shapes import Group, Rect, Shape, Text, line, polygon
from turnback.planning._figure_labels import SIZE
from turnback.planning._figure_lengths import short
from turnback.planning._figure_sheet import MARGIN, PAGE
from turnback.rules.selection import choice_text

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["head_of", "title_of"]

_WIDTH: Final = PAGE - 2 * MARGIN
_MOST_LINES: Final = 24


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
