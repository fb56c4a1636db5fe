"""A plan in a few lines, for a prompt or a log; the full text is made in :mod:`turnback.output.text`."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from turnback.model.absent import Absent
from turnback.quantities import percent_text
from turnback.rules.selection import choice_text

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["summary"]


def summary(plan: Plan) -> str:
    """Write a plan in a few lines of at most 80 columns.

    Args:
        plan: The plan.

    Returns:
        Plain text; what is forbidden or must be fixed stands first.
    """
    request = plan.request
    grave = [f"{finding.kind.upper()}: {finding.text}" for finding in plan.findings if finding.blocks]
    eye = "each eye" if request.termination.kind == "linked eyes" else request.termination.kind
    rules = choice_text(request.rules) if request.rules is not None else ""
    torque = str(plan.torque)
    if not isinstance(plan.torque, Absent) and not isinstance(plan.thread_condition, Absent):
        torque += f", {plan.thread_condition} threads"
    strength = str(plan.termination_breaking_force)
    if not isinstance(plan.termination_breaking_force, Absent) and not isinstance(plan.efficiency, Absent):
        strength += f" (never load to it), {percent_text(plan.efficiency)} by {plan.efficiency_basis}"
    lines = [
        *grave,
        f"{request.rope}: {eye} with {plan.style.title}, by {rules}",
        f"clips       {plan.clip_count} of {plan.clip_size}",
        f"{'overlap' if plan.layout_demand.splice else 'turn-back':<12}{plan.turn_back}",
        f"spacing     {plan.spacing}",
        f"torque      {torque}",
        f"breaks at   {strength}",
        f"usable      {'yes, once every finding is settled' if plan.usable else 'no'}",
        f"findings    {len(plan.findings)}: " + ", ".join(dict.fromkeys(finding.code for finding in plan.findings)),
    ]
    return "\n".join(_folded(line) for line in lines)


def _folded(line: str) -> str:
    return textwrap.fill(line, 80, subsequent_indent=" " * 12, break_long_words=False, break_on_hyphens=False)
