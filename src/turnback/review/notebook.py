"""A comparison of rule sets as HTML, for notebooks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from turnback.model.markup import Html, element, escaped, joined, table
from turnback.review.saying import ITEMS, Said, item_label

if TYPE_CHECKING:
    from turnback.review.comparison import Comparison

__all__ = ["comparison_table"]


def comparison_table(comparison: Comparison) -> Html:
    """Write a comparison for a notebook: a column for each rule set, and what does not fit into a table under it.

    Args:
        comparison: The comparison.

    Returns:
        One element; every text is escaped.
    """
    said = f"{comparison.request.rope}: {comparison.request.termination.kind} with {comparison.style.title}"
    parts = [element("p", element("strong", escaped(said)))]
    parts += [element("p", element("strong", escaped(failure))) for failure in comparison.failures]
    grave = [
        f"{each.kind.upper()} under {', '.join(ids)}: {each.text}" for each, ids in comparison.findings if each.blocks
    ]
    parts += [element("p", element("strong", escaped(line))) for line in grave]
    answers = comparison.answers
    if answers:
        headers = ("item", *(answer.rules.id for answer in answers))
        rows = [
            (escaped(item_label(item, answers[0].plan)), *(_cell(answer.about(item)) for answer in answers))
            for item in ITEMS
        ]
        parts.append(table(headers, rows, "What each rule set says"))
    lines = [
        f"together: {' + '.join(each.ids)}: {'; '.join(map(': '.join, each.governs))}" for each in comparison.together
    ]
    lines += [f"cannot be met together: {clash}" for clash in comparison.clashes]
    lines += [f"not covered: {each.rules.id}: {each.reason}" for each in comparison.refusals]
    parts.append(element("ul", joined(element("li", escaped(line)) for line in lines)))
    return element("div", joined(parts, "\n"))


def _cell(said: Said) -> Html:
    return escaped(f"{said.text} ({said.status})" if said.says else f"- ({said.text})")
