"""A plain-text copy beside each page, and ``llms.txt``, the index of them for whoever reads without a browser.

The copy is written from the same document tree as the page, by Sphinx's own writer of text, in the same build. What is
drawn as HTML only, such as a picture, is named in it by its title. ``llms-full.txt``, all copies in one, is written as
long as it stays below ``FULL_AT_MOST``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final, cast

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.builders.text import TextBuilder
from sphinx.util.typing import ExtensionMetadata
from sphinx.writers.text import TextTranslator

__all__ = ["FULL_AT_MOST", "setup", "summary_of"]

FULL_AT_MOST: Final = 400_000
"""Longest file of all copies together [bytes]."""
_SUMMARY_AT_MOST: Final = 200
"""Longest summary of a page [characters]."""
_SUMMARY_AT_LEAST: Final = 20
"""Shortest summary, where the page begins with more than one sentence [characters]."""
_SENTENCE: Final = re.compile(r"(.+?[.:?!])(?=\s+[A-Z]|$)", re.DOTALL)
_DRAWN: Final = re.compile(r"<title\b[^>]*>(.*?)</title>", re.DOTALL)
_OTHER: Final = "More"


def _cells(row: nodes.row) -> str:
    return " | ".join(" ".join(cell.astext().split()) for cell in row.findall(nodes.entry))


class _PlainText(TextTranslator):
    """Writes text; says where a drawing stands, and writes a row of a table on one line, cells apart by ``|``."""

    def visit_table(self, node: nodes.Element) -> None:
        lines = [" ".join(title.astext().split()) for title in node.findall(nodes.title)]
        for part in node.findall(lambda each: isinstance(each, (nodes.thead, nodes.tbody))):
            lines += [_cells(row) for row in part.findall(nodes.row)]
            if isinstance(part, nodes.thead):
                lines.append("---")
        self.new_state(0)
        for line in lines:
            self.add_text(line + self.nl)
        self.end_state(wrap=False)
        raise nodes.SkipNode

    def visit_raw(self, node: nodes.Element) -> None:
        titles = _DRAWN.findall(node.astext()) if "html" in node.get("format", "").split() else []
        for title in titles[:1]:
            self.new_state(0)
            self.add_text(f"[drawing: {' '.join(title.split())}]")
            self.end_state(wrap=False)
        raise nodes.SkipNode

    def visit_image(self, node: nodes.Element) -> None:
        self.add_text(f"[drawing: {node.get('alt') or node.get('uri', '')}]")
        raise nodes.SkipNode


def summary_of(document: nodes.document) -> str:
    """Return the first sentence of a page, and the next where it is very short.

    Args:
        document: The page.

    Returns:
        What it says on one line, cut at a word where it is long; empty where the page begins with no text.
    """
    for paragraph in document.findall(nodes.paragraph):
        if isinstance(paragraph.parent, (nodes.section, nodes.document)):
            text = " ".join(paragraph.astext().split())
            sentence = ""
            # A first sentence such as "Format 1." says too little.
            while len(sentence) < _SUMMARY_AT_LEAST and (found := _SENTENCE.match(text, len(sentence))) is not None:
                sentence += found[1]
            sentence = sentence or text
            if len(sentence) > _SUMMARY_AT_MOST:
                sentence = f"{sentence[:_SUMMARY_AT_MOST].rsplit(' ', 1)[0]} ..."
            return sentence
    return ""


def write_copy(app: Sphinx, document: nodes.document, docname: str) -> None:
    """Write the copy of one page.

    Args:
        app: The application.
        document: The page, its references resolved.
        docname: Its name.
    """
    if app.builder.format != "html":
        return
    # The writer asks a builder for its settings and for the numbers of sections; that of HTML has both.
    translator = _PlainText(document, cast(TextBuilder, app.builder))
    document.walkabout(translator)
    path = Path(app.outdir) / f"{docname}.txt"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(translator.body, encoding="utf-8")


def offer_copy(
    app: Sphinx, pagename: str, templatename: str, context: dict[str, object], document: nodes.document | None
) -> None:
    """Tell the template of a page where its copy is.

    Args:
        app: The application.
        pagename: The page.
        templatename: Its template.
        context: What the template may use; ``plain_copy`` is added where there is a copy.
        document: The page; None for the search and the like.
    """
    del app, templatename
    if document is not None:
        context["plain_copy"] = f"{pagename}.txt"


def _groups(app: Sphinx) -> Iterator[tuple[str, list[str]]]:
    """List the pages below each caption of the first page, in reading order, then those that no caption leads to."""
    env = app.env
    root = str(app.config.root_doc)
    listed = {root}
    for tree in env.get_doctree(root).findall(addnodes.toctree):
        pages: list[str] = []
        waiting = [str(page) for page in tree["includefiles"]]
        while waiting:
            page = waiting.pop(0)
            if page not in listed:
                listed.add(page)
                pages.append(page)
                waiting[:0] = env.toctree_includes.get(page, [])
        yield tree.get("caption") or _OTHER, pages
    if rest := sorted(env.found_docs - listed):
        yield _OTHER, rest


def write_index(app: Sphinx, exception: Exception | None) -> None:
    """Write ``llms.txt``, and ``llms-full.txt`` where it is not too long.

    Args:
        app: The application.
        exception: What broke the build, if anything did.
    """
    if exception is not None or app.builder.format != "html":
        return
    out, env = Path(app.outdir), app.env
    root = str(app.config.root_doc)
    lines = [
        f"# {app.config.project} {app.config.release}",
        "",
        f"> {summary_of(env.get_doctree(root))}",
        "",
        f"Each page is here as plain text; with .html in place of .txt it is the page itself. Start: {root}.txt",
    ]
    order = [root]
    for caption, pages in _groups(app):
        lines += ["", f"## {caption}", ""]
        for page in pages:
            order.append(page)
            said = summary_of(env.get_doctree(page))
            title = env.titles[page].astext()
            lines.append(f"- [{title}]({page}.txt): {said}" if said else f"- [{title}]({page}.txt)")
    (out / "llms.txt").write_text("\n".join([*lines, ""]), encoding="utf-8")
    full = "\n\n".join(f"[{page}.txt]\n\n{(out / f'{page}.txt').read_text(encoding='utf-8')}" for page in order)
    whole = out / "llms-full.txt"
    if len(full.encode()) <= FULL_AT_MOST:
        whole.write_text(full, encoding="utf-8")
    else:
        whole.unlink(missing_ok=True)


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the writers.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.connect("doctree-resolved", write_copy, priority=900)
    app.connect("html-page-context", offer_copy)
    app.connect("build-finished", write_index)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
