"""The index of our own search page: ``search-words.js``, written from the same document trees as the pages.

The search that comes with the builder leaves out all numbers, and here people look for sizes and clauses. The index is
a script and not data, because a page that is opened from a folder may not fetch anything.

What people say and the pages do not is in ``search-words.toml``: other words for the same thing, and the words under
which single pages are looked for.
"""

from __future__ import annotations

import json
import math
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from docutils import nodes
from plain_copies import summary_of
from search_tokens import STOP_WORDS, UNITS, forms, spoken, tokens
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.util import logging
from sphinx.util.typing import ExtensionMetadata

__all__ = ["setup"]

WORDS: Final = "search-words.toml"
_LOG: Final = logging.getLogger(__name__)
_TITLE, _NAME, _ASKED, _HEADING, _OBJECT, _ROW, _BODY = 12, 6, 10, 4, 4, 3, 1
"""How much a word weighs: title, address, words of ``search-words.toml``, headings, names, head of a row, text."""
_APART: Final = (addnodes.desc_addname, addnodes.desc_name, addnodes.desc_parameter, addnodes.desc_returns)
"""Parts of a signature: what stands between two of them is written by the builder of the page."""
_SCRIPT: Final = "window.searchWords = "


def _sections(document: nodes.document) -> list[tuple[str, str]]:
    return [
        (section["ids"][0], section.next_node(nodes.title, descend=True).astext())  # type: ignore[union-attr]  # a section has a title
        for section in document.findall(nodes.section)
        if section["ids"] and section.next_node(nodes.title, descend=True) is not None
    ][1:]


def _text(document: nodes.document) -> str:
    """Return all that is read on a page, with a blank between what stands apart."""
    skipped = (nodes.raw, nodes.comment, nodes.system_message, nodes.math_block, addnodes.toctree)
    found: list[str] = []
    last: nodes.Node | None = None
    for text in document.findall(nodes.Text):
        inside: nodes.Element | None = text.parent
        while inside is not None and not isinstance(inside, skipped):
            inside = inside.parent
        if inside is None:
            block: nodes.Element = text.parent
            while block.parent is not None and issubclass(type(block), nodes.Inline) and not isinstance(block, _APART):
                block = block.parent
            found.append(str(text) if block is last else f"\n{text}")
            last = block
    return "".join(found)


def _heads(document: nodes.document) -> Iterator[str]:
    """List what the rows of tables are about; of the printed tables of rule sets, every cell."""
    for row in document.findall(nodes.row):
        yield row[0].astext()
    for table in document.findall(nodes.table):
        if "rule-table" in table["classes"]:
            yield from (cell.astext() for cell in table.findall(nodes.entry))


def _count(weights: Counter[str], text: str, weight: int) -> None:
    for word in tokens(text):
        weights[word] += weight


def _asked(app: Sphinx) -> tuple[dict[str, str], list[list[list[str]]], list[tuple[str, float]]]:
    """Read the words by page, pairs of what people say and what the pages say, and how much a folder counts."""
    path = Path(app.srcdir) / WORDS
    if not path.is_file():
        return {}, [], []
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    pages: Mapping[str, str] = data.get("pages", {})
    for page in sorted(set(pages) - set(app.env.found_docs)):
        _LOG.warning("%s has words for %s, and there is no such page", WORDS, page)
    pairs = [[spoken(said), list(tokens(meant))] for meant, others in data.get("same", {}).items() for said in others]
    if not all(said for said, _ in pairs):
        _LOG.warning("%s has something said that is no word", WORDS)
    return dict(pages), pairs, list(data.get("folders", {}).items())


def index_of(app: Sphinx) -> dict[str, object]:
    """Make the index.

    Args:
        app: The application, its pages read.

    Returns:
        ``pages``: address, title, summary and length of each; ``sections`` and ``objects``: page, anchor and text of
        each; ``words``: for each word pairs of page and weight; ``forms``: words as they are written; the rest is for
        reading a query.
    """
    env = app.env
    asked, same, folders = _asked(app)
    pages: list[tuple[str, str, str, float]] = []
    sections: list[tuple[int, str, str]] = []
    words: dict[str, list[int]] = defaultdict(list)
    written = {word for page in asked.values() for word in forms(page)}
    order = {name: at for at, name in enumerate(sorted(env.found_docs))}
    objects = [
        (order[docname], anchor, name)
        for domain in env.domains.sorted()
        for name, _, kind, docname, anchor, _ in domain.get_objects()
        if docname in order and (domain.name, kind) not in {("std", "label"), ("std", "doc")}
    ]
    for name, at in order.items():
        document, title = env.get_doctree(name), env.titles[name].astext()
        own = _sections(document)
        weights = Counter[str]()
        _count(weights, text := _text(document), _BODY)
        length = weights.total()
        written |= forms(text)
        for part, weight in (
            (title, _TITLE),
            (name, _NAME),
            (asked.get(name, ""), _ASKED),
            ("\n".join(heading for _, heading in own), _HEADING),
            ("\n".join(_heads(document)), _ROW),
            ("\n".join(full.rpartition(".")[2] for page, _, full in objects if page == at), _OBJECT),
        ):
            _count(weights, part, weight)
        pages.append((name, title, summary_of(document), round(math.sqrt(length), 1)))
        sections += [(at, anchor, heading) for anchor, heading in own]
        for word, weight in weights.items():
            words[word] += [at, weight]
    return {
        "pages": pages,
        "sections": sections,
        "objects": objects,
        "words": dict(sorted(words.items())),
        "forms": sorted(written),
        "same": same,
        "folders": folders,
        "stop": sorted(STOP_WORDS),
        "units": UNITS,
    }


def write_index(app: Sphinx, exception: Exception | None) -> None:
    """Write the index beside the search page.

    Args:
        app: The application.
        exception: What broke the build, if anything did.
    """
    if exception is None and app.builder.format == "html":
        text = json.dumps(index_of(app), ensure_ascii=False, separators=(",", ":"))
        (Path(app.outdir) / "search-words.js").write_text(f"{_SCRIPT}{text};\n", encoding="utf-8")


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the writer.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.connect("build-finished", write_index)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
