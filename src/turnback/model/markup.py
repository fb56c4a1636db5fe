"""Small pieces of HTML for notebooks and pages. Text becomes HTML in one place, :func:`escaped`, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import NewType

from turnback.model.lettering import clean_text

__all__ = ["Html", "element", "escaped", "joined", "table"]

Html = NewType("Html", str)
"""Text that is HTML already. A type checker refuses plain text in its place."""


def escaped(text: str) -> Html:
    """Turn any text into HTML that shows it and does nothing else.

    Args:
        text: Any text.

    Returns:
        The text in one line, without control characters and signs that turn the direction of writing.
    """
    return Html(escape(clean_text(text), quote=True))


def joined(parts: Iterable[Html], between: str = "") -> Html:
    """Put pieces behind one another.

    Args:
        parts: The pieces.
        between: Text between them; it is escaped.

    Returns:
        One piece.
    """
    return Html(str(escape(between, quote=True)).join(parts))


def element(tag: str, content: Html, css_class: str = "", attributes: str = "") -> Html:
    """Wrap a piece.

    Args:
        tag: Name of the element; a word of the program's own, never a user's.
        content: What stands in it.
        css_class: Its class; a word of the program's own.
        attributes: Further attributes, written out; the program's own.

    Returns:
        The element.
    """
    named = f' class="{css_class}"' if css_class else ""
    more = f" {attributes}" if attributes else ""
    return Html(f"<{tag}{named}{more}>{content}</{tag}>")


def table(headers: Sequence[str], rows: Iterable[Sequence[Html]], caption: str = "", css_class: str = "") -> Html:
    """Write a table whose columns have headers and whose rows are named by their first cell.

    Args:
        headers: Of the columns.
        rows: The cells.
        caption: What the table shows; empty for none.
        css_class: Its class; a word of the program's own.

    Returns:
        The table.
    """
    head = joined(element("th", escaped(header), attributes='scope="col"') for header in headers)
    body = joined(element("tr", _cells(row)) for row in rows)
    title = element("caption", escaped(caption)) if caption else Html("")
    parts = (title, element("thead", element("tr", head)), element("tbody", body))
    return element("table", joined(parts), css_class)


def _cells(row: Sequence[Html]) -> Html:
    first = joined(element("th", cell, attributes='scope="row"') for cell in row[:1])
    return joined((first, *(element("td", cell) for cell in row[1:])))
