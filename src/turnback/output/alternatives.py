"""What else could end this rope, as text beside a plan."""

from __future__ import annotations

from turnback.model.absent import Absent
from turnback.output.paper import Paper, Point, Points, Section, Words
from turnback.output.paper_text import paper_text
from turnback.output.sources_list import SourcesList
from turnback.planning.plan import Plan
from turnback.review.alternatives import NOT_A_RATING, Alternative, alternatives

__all__ = ["alternatives_text"]


def alternatives_text(plan: Plan) -> str:
    """Write the other ways of ending the rope of a plan, with what each would break at.

    Args:
        plan: The plan.

    Returns:
        Lines of at most 80 columns; the caution that none of it is a rating comes first.
    """
    sources = SourcesList()
    points = tuple(
        Point(_words(each), f"{each.name}:", cited=sources.cite(each.citations)) for each in alternatives(plan)
    )
    cited = Section("Sources of these figures", (sources.points(),))
    listed = Section("What each would break at", (Words(NOT_A_RATING), Points(points)))
    rope = f"Rope: {plan.request.rope}."
    return paper_text(Paper("Other ways of ending this rope: no ratings", rope, (listed, cited)))


def _words(each: Alternative) -> str:
    if isinstance(each.figure, Absent):
        return f"no figure for this rope: {each.figure.reason}. Printed: {each.printed}."
    note = f" ({each.note})" if each.note else ""
    if isinstance(each.breaks_at_least, Absent):
        return f"{each.efficiency}; what it breaks at is not known: {each.breaks_at_least.reason}{note}"
    return f"{each.efficiency}, breaks at {each.breaks_at}; never load to it{note}"
