"""What the theme leaves out for readers who do not use a mouse or do not look at a screen.

Tables get the scope of their header cells; what may scroll sideways in its own box (tables, code) can be reached by the
keyboard, and a table's box has a name; the captions of the list of pages get a level. The rest, skip link, names of
landmarks and the menu, is in ``_templates/page.html`` and ``_static/turnback.css``.
"""

from __future__ import annotations

import html
import re
from collections import Counter
from typing import Final

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.typing import ExtensionMetadata

__all__ = ["accessible", "setup"]

_TABLE_BOX: Final = re.compile(r'<div class="table-wrapper\b[^>]*>(?=\s*<table\b(?P<table>.*?)</table>)', re.DOTALL)
_CAPTION: Final = re.compile(r'<caption><span class="caption-text">(.*?)</span>', re.DOTALL)
_HEADING: Final = re.compile(r"<h[1-6]>(.*?)(?:<a class=\"headerlink\".*?)?</h[1-6]>", re.DOTALL)
_PART: Final = re.compile(r"<(thead|tbody)>.*?</\1>", re.DOTALL)
_CELL: Final = re.compile(r"<th(?= |>)(?![^>]* scope=)")
_MARKUP: Final = re.compile(r"<[^>]+>")


def _scoped(part: re.Match[str]) -> str:
    scope = "col" if part[1] == "thead" else "row"
    return _CELL.sub(f'<th scope="{scope}"', part[0])


def _plain(markup: str) -> str:
    return html.escape(" ".join(html.unescape(_MARKUP.sub("", markup)).split()))


def accessible(body: str) -> str:
    """Add what is missing to the body of a page.

    Args:
        body: HTML of the page without what the theme puts around it.

    Returns:
        The body; its words and their order are as before.
    """
    used = Counter[str]()
    headings = [(found.start(), _plain(found[1])) for found in _HEADING.finditer(body)]

    def named(box: re.Match[str]) -> str:
        caption = _CAPTION.search(box["table"])
        above = [title for start, title in headings if start < box.start()]
        name = f"Table: {_plain(caption[1])}" if caption is not None else f"Table in {above[-1]}" if above else "Table"
        used[name] += 1
        again = f" ({used[name]})" if used[name] > 1 else ""
        return f'{box[0][:-1]} tabindex="0" role="region" aria-label="{name}{again}">'

    body = _TABLE_BOX.sub(named, body)
    return _PART.sub(_scoped, body).replace('<div class="highlight"><pre>', '<div class="highlight"><pre tabindex="0">')


def mend(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, object], document: nodes.document | None
) -> None:
    """Mend the body and the list of pages just before they go into the template.

    Args:
        app: The application.
        pagename: The page.
        templatename: Its template.
        context: What the template uses.
        document: The page; None for the search and the like.
    """
    del app, pagename, templatename, document
    if isinstance(body := context.get("body"), str):
        context["body"] = accessible(body)
    if isinstance(tree := context.get("furo_navigation_tree"), str):
        context["furo_navigation_tree"] = tree.replace(' role="heading"', ' role="heading" aria-level="2"')


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the mending, after the theme has made its list of pages.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.connect("html-page-context", mend, priority=900)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
