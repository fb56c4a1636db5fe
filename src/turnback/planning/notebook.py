"""A plan as HTML, for notebooks: what forbids it first, the drawing, the numbers with their sources, the findings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from turnback.model.finding_table import findings_table
from turnback.model.markup import Html, element, escaped, joined, table
from turnback.rules.selection import choice_text

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["plan_html"]


def plan_html(plan: Plan) -> Html:
    """Write a plan for a notebook.

    Args:
        plan: The plan.

    Returns:
        One element; every text is escaped.
    """
    request = plan.request
    rules = choice_text(request.rules) if request.rules is not None else ""
    said = f"{request.rope}: {request.termination.kind} with {plan.style.title}, by {rules}"
    parts = [element("p", element("strong", escaped(said)))]
    if not plan.usable:
        grave = tuple(finding for finding in plan.findings if finding.blocks)
        parts.insert(0, findings_table(grave, "NOT USABLE: do not make or load this joint"))
    # The library wrote the drawing and escaped every text in it.
    parts.append(Html(plan.to_svg()))
    rows = [
        (
            escaped(item.name.replace("_", " ")),
            escaped(item.value),
            escaped(item.status if item.formula else ""),
            escaped("; ".join(str(citation) for citation in item.citations) if item.formula else ""),
        )
        for item in plan.derivations
    ]
    parts.append(table(("number", "value", "status", "sources"), rows, "Numbers"))
    parts.append(findings_table(plan.findings))
    return element("div", joined(parts, "\n"))
