"""Findings as an HTML table, for notebooks."""

from __future__ import annotations

from collections.abc import Iterable

from turnback.model.findings import Finding
from turnback.model.markup import Html, element, escaped, table

__all__ = ["findings_table"]


def findings_table(findings: Iterable[Finding], caption: str = "Findings") -> Html:
    """Write findings as a table; what is forbidden or must be fixed stands out.

    Args:
        findings: The findings, in the order in which they are to stand.
        caption: What the table shows.

    Returns:
        The table.
    """
    return table(("kind", "finding", "sources"), [_row(finding) for finding in findings], caption)


def _row(finding: Finding) -> tuple[Html, ...]:
    kind, text = escaped(finding.kind), escaped(finding.text)
    if finding.blocks:
        kind, text = element("strong", escaped(finding.kind.upper())), element("strong", text)
    return kind, text, escaped("; ".join(str(citation) for citation in finding.citations))
