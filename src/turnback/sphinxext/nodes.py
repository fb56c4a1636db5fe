"""Small builders of document nodes, shared by the pages of this floor and by extensions of a site."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, TypeAlias

from docutils import nodes
from sphinx import addnodes

from turnback.model.sources import Citation, Status, weakest

__all__ = [
    "MEANING",
    "Cell",
    "aside",
    "bullets",
    "caution",
    "cited",
    "code",
    "doc_link",
    "paragraph",
    "section",
    "source_facts",
    "status_key",
    "table",
    "tag",
    "where",
]

Cell: TypeAlias = str | nodes.Node | Sequence["str | nodes.Node"]
"""What stands in a cell or a paragraph: text, a node, or several of both."""

_COLUMN: Final = 24
"""Width of a column where a builder writes plain text [characters]; a browser finds its own."""

_OPTION: Final = re.compile(r"(?<![\w-])--[a-z][a-z-]*")

MEANING: Final[dict[Status, str]] = {
    "read": "read in the document itself, or in an independent public copy of it",
    "memory": "recalled and not yet read against the document: check it there before you rely on it",
    "common practice": "a habit of the trade with no single source",
    "user": "given by the user, with a citation of the user's own",
}


def _parts(content: Cell) -> list[nodes.Node]:
    given = [content] if isinstance(content, (str, nodes.Node)) else list(content)
    return [node for part in given for node in (_words(part) if isinstance(part, str) else (part,))]


def _words(text: str) -> Iterator[nodes.Node]:
    """Set options of the command line as code: in prose their two hyphens would become a dash."""
    end = 0
    for option in _OPTION.finditer(text):
        if option.start() > end:
            yield nodes.Text(text[end : option.start()])
        yield nodes.literal(option[0], option[0])
        end = option.end()
    if end < len(text) or not text:
        yield nodes.Text(text[end:])


def paragraph(*parts: str | nodes.Node) -> nodes.paragraph:
    """Build a paragraph.

    Args:
        *parts: Text and inline nodes, in order.

    Returns:
        The paragraph.
    """
    return nodes.paragraph("", "", *_parts(parts))


def code(text: str) -> nodes.literal:
    """Build text in the font of code.

    Args:
        text: The text.

    Returns:
        The node.
    """
    return nodes.literal(text, text)


def aside(*parts: str | nodes.Node) -> nodes.inline:
    """Build what stands in small print on a line of its own, below the main thing in a cell.

    Args:
        *parts: Text and inline nodes, in order.

    Returns:
        The node; a blank in front keeps its words apart where styles are not shown.
    """
    return nodes.inline("", "", nodes.Text(" "), *_parts(parts), classes=["aside"])


def tag(status: Status) -> nodes.inline:
    """Build the label of a status: always the word itself, whatever its colour.

    Args:
        status: The status.

    Returns:
        The node.
    """
    return nodes.inline(status, status, classes=["status", "status-" + status.replace(" ", "-")])


def cited(content: Cell, citations: Sequence[Citation]) -> list[nodes.Node]:
    """Build a value with the status of what stands behind it.

    Args:
        content: The value.
        citations: Who says so; the least certain of them is shown.

    Returns:
        Inline nodes.
    """
    return [*_parts(content), nodes.Text(" "), tag(weakest(tuple(citations)))]


def where(citation: Citation) -> str:
    """Say where a citation points, without its status, which stands beside it as a tag.

    Args:
        citation: The citation.

    Returns:
        Document and place; for common practice, that it has no source.
    """
    if citation.status == "common practice":
        return f"no source ({citation.locator})" if citation.locator else "no source"
    place = f"{citation.source.document}, {citation.locator}" if citation.locator else citation.source.document
    return f"{place} [{citation.note}]" if citation.note else place


def source_facts(citation: Citation) -> list[tuple[str, Cell]]:
    """List document, edition, issuer, year and place of a citation.

    Args:
        citation: The citation.

    Returns:
        Name and content of each fact.
    """
    source = citation.source
    return [
        ("document", source.document),
        ("edition", source.edition),
        ("issuer", source.issuer),
        ("year", str(source.year) if source.year else "not recorded"),
        ("place in it", citation.locator or "the whole document"),
    ]


def table(
    title: str, head: Sequence[str], body: Iterable[Sequence[Cell]], *, stubs: int = 1, classes: Sequence[str] = ()
) -> nodes.table:
    """Build a table with a caption, a row of headers and header cells at the left.

    Args:
        title: Its caption; empty for none.
        head: The headers of the columns.
        body: The rows; each has a cell for each header.
        stubs: How many cells at the left of each row are headers of it [-].
        classes: Further classes.

    Returns:
        The table.
    """
    group = nodes.tgroup(cols=len(head))
    for index in range(len(head)):
        spec = nodes.colspec(colwidth=_COLUMN)
        if index < stubs:
            spec["stub"] = 1
        group += spec
    group += nodes.thead("", _row(head))
    group += nodes.tbody("", *(_row(row) for row in body))
    built = nodes.table(classes=["colwidths-auto", *classes])
    if title:
        built += nodes.title(title, title)
    built += group
    return built


def _row(cells: Sequence[Cell]) -> nodes.row:
    return nodes.row("", *(nodes.entry("", nodes.paragraph("", "", *_parts(cell))) for cell in cells))


def bullets(items: Iterable[Cell]) -> nodes.bullet_list:
    """Build a list.

    Args:
        items: Its items.

    Returns:
        The list.
    """
    entries = [nodes.list_item("", nodes.paragraph("", "", *_parts(item))) for item in items]
    return nodes.bullet_list("", *entries, bullet="-")


def caution(*parts: str | nodes.Node) -> nodes.caution:
    """Build a box of caution.

    Args:
        *parts: Text and inline nodes, in order.

    Returns:
        The box.
    """
    return nodes.caution("", paragraph(*parts))


def section(document: nodes.document, title: str, *children: nodes.Node) -> nodes.section:
    """Build a section that the table of contents finds.

    Args:
        document: The document that it goes into.
        title: Its heading.
        *children: What stands under it.

    Returns:
        The section.
    """
    built = nodes.section("", nodes.title(title, title), *children, names=[nodes.fully_normalize_name(title)])
    document.note_implicit_target(built, built)
    return built


def doc_link(from_doc: str, to_doc: str, content: nodes.Node) -> addnodes.pending_xref:
    """Build a link to another page.

    Args:
        from_doc: The page that it stands on.
        to_doc: The page that it leads to.
        content: What is shown.

    Returns:
        A reference that the build resolves, or warns about.
    """
    return addnodes.pending_xref(
        "",
        content,
        refdomain="std",
        reftype="doc",
        reftarget="/" + to_doc,
        refexplicit=True,
        refwarn=True,
        refdoc=from_doc,
    )


def status_key() -> nodes.bullet_list:
    """Build the key of the four statuses.

    Returns:
        A list.
    """
    return bullets([[tag(status), f": {words}"] for status, words in MEANING.items()])
