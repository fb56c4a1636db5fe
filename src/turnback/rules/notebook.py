"""A rule set as HTML, for notebooks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from turnback.model.cited import Cited
from turnback.model.markup import Html, element, escaped, joined, table
from turnback.quantities import percent_text
from turnback.rules.rows import Row

if TYPE_CHECKING:
    from turnback.rules.ruleset import RuleSet

__all__ = ["rule_set_html"]

_COLUMNS: Final = ("count", "count_forged", "count_other", "turn_back", "spacing", "torque")


def rule_set_html(rules: RuleSet) -> Html:
    """Write a rule set with the status of each cell in words.

    Args:
        rules: The rule set.

    Returns:
        Heading, table, further rules and notes; every text is escaped.
    """
    head = element("p", joined((element("strong", escaped(rules.id)), escaped(f": {rules.title} [{rules.citation}]"))))
    lines = element("ul", joined(element("li", escaped(line)) for line in _lines(rules)))
    return element("div", joined((head, _rows(rules), lines)))


def _rows(rules: RuleSet) -> Html:
    if not rules.rows:
        return Html("")
    used = [name for name in _COLUMNS if any(getattr(row, name) is not None for row in rules.rows)]
    headers = ("size", *(name.replace("_", " ") for name in used))
    rows = [(_size(row), *(_cell(getattr(row, name)) for name in used)) for row in rules.rows]
    return table(headers, rows, "Rows, each cell with its status")


def _size(row: Row) -> Html:
    return escaped(str(row.size) if row.above is None else f"over {row.above} to {row.size}")


def _cell(cell: Cited[object] | None) -> Html:
    return escaped("-" if cell is None else f"{cell.value} ({cell.citations[0].status})")


def _lines(rules: RuleSet) -> Iterator[str]:
    if rules.count_rule is not None:
        yield f"count: {rules.count_rule.text} [{'; '.join(map(str, rules.count_rule.citations))}]"
    for bound in rules.spacing:
        text = bound.length.text if bound.length is not None else "as the table prints"
        yield f"spacing: {bound.bound} {text} {'clear' if bound.clear else 'between centres'} [{bound.citation}]"
    if rules.threads is not None:
        yield f"threads: {rules.threads}"
    yield from (f"efficiency: {percent_text(band.value)} [{band.citation}]" for band in rules.efficiency)
    if rules.efficiency_at_most is not None:
        most = rules.efficiency_at_most
        yield f"efficiency: at best {percent_text(most.value)} [{most.citations[0]}]"
    yield from (f"floor: {floor.text} [{floor.citation}]" for floor in rules.floors)
    yield from (f"not for {service}: {text}" for service, text in rules.excluded_services)
    yield from (f"note: {note}" for note in rules.notes)
