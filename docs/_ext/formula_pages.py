"""Pages for the formulas of ``turnback.mechanics``, each derived from the function that is run.

``builder-inited`` writes one short page for each formula into the folder ``formulas`` (not committed); everything on it
is made by the directives of this module:

- ``formula NAME``: the page of one formula;
- ``formula-index``: all formulas, room by room;
- ``formula-toctree``: the entries of the sidebar.

A formula without a note in ``formula_notes`` is a warning, so a strict build fails and says which.
"""

from __future__ import annotations

from typing import ClassVar

from docutils import nodes
from formula_content import FOLDER, ROOMS, link_to, page_nodes, title_of
from formula_notes import NOTES
from sphinx.application import Sphinx
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

from turnback.mechanics import FORMULAS
from turnback.sphinxext.nodes import Cell, aside, code, section, table
from turnback.sphinxext.stubs import hidden_toctree, page, write_folder

__all__ = ["setup", "write_pages"]

_LOG = logging.getLogger(__name__)


def write_pages(app: Sphinx) -> None:
    """Write a page for each formula, and take away those of formulas that are gone.

    Args:
        app: The application.
    """
    for name in sorted(set(FORMULAS) ^ set(NOTES)):
        known = "a note without a formula" if name in NOTES else "a formula without a note in formula_notes"
        _LOG.warning("%s: %s", name, known)
    named = [formula for formula in FORMULAS.values() if formula.name in NOTES]
    write_folder(app, FOLDER, {each.name: page(title_of(each), "formula", each.name) for each in named})


class FormulaDirective(SphinxDirective):
    """The page of one formula."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Build the page."""
        name = self.arguments[0]
        if name not in FORMULAS or name not in NOTES:
            raise self.error(f"no such formula: {name}")
        return page_nodes(name, self.state.document, self.env.docname)


class FormulaIndex(SphinxDirective):
    """All formulas, room by room."""

    def run(self) -> list[nodes.Node]:
        """Build a section with a table for each room."""
        found: list[nodes.Node] = []
        for title, formulas in ROOMS:
            rows: list[list[Cell]] = [
                [[link_to(self.env.docname, each.name), aside(each.result)], code(each.text), each.unit]
                for each in formulas
                if each.name in NOTES
            ]
            head = ("formula", "as text", "unit")
            found.append(section(self.state.document, title, table("", head, rows, classes=["prose"])))
        return found


class FormulaToctree(SphinxDirective):
    """The entries of the sidebar, in the order of the index."""

    def run(self) -> list[nodes.Node]:
        """Build a hidden list of pages."""
        return [hidden_toctree(self.env.docname, [(name, f"{FOLDER}/{name}") for name in FORMULAS if name in NOTES])]


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives and the writer of pages.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_directive("formula", FormulaDirective)
    app.add_directive("formula-index", FormulaIndex)
    app.add_directive("formula-toctree", FormulaToctree)
    app.add_css_file("pictures.css")
    app.connect("builder-inited", write_pages)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
