"""Pages for rule sets, written from the loaded objects when the site is built.

``builder-inited`` writes one short page for each rule set into the folder ``rule-sets``; everything on it is made by
the directives of this module:

- ``rule-set ID``: the page of one rule set;
- ``rule-set-index``: all rule sets, with the number of values of each status;
- ``rule-set-toctree``: the entries of the sidebar;
- ``efficiency-bases``: the bases of efficiency;
- ``status-key``: the four statuses.

A plugin that is installed and cannot be loaded is a warning, so a strict build fails and says which.
"""

from __future__ import annotations

from typing import ClassVar, Final

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective

from turnback.errors import TurnbackError
from turnback.quantities import percent_text
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.sphinxext.cells import STATUS_ORDER, beside_the_table, table_cells, tally, tally_text
from turnback.sphinxext.certificates import read_certificate
from turnback.sphinxext.content import page_nodes
from turnback.sphinxext.nodes import Cell, aside, code, doc_link, paragraph, section, status_key, table
from turnback.sphinxext.proof import proof_nodes
from turnback.sphinxext.settings import CERTIFICATES, chosen, chosen_bases, chosen_rule_sets, file_named
from turnback.sphinxext.stubs import hidden_toctree, page, write_folder
from turnback.sphinxext.waivers import waiver_nodes

__all__ = ["FOLDER", "add_rule_set_pages"]

FOLDER: Final = "rule-sets"
"""Folder of the pages."""
_LOG: Final = logging.getLogger(__name__)


def _write_pages(app: Sphinx) -> None:
    catalogue = Catalogue.installed()
    for failure in catalogue.failures:
        _LOG.warning("a plugin cannot be documented, for it was refused: %s", failure)
    if not catalogue.rule_sets:
        _LOG.warning("no rule set is installed: install the plugins beside turnback")
    pages = {rules.id: page(f"{rules.id}: {rules.title}", "rule-set", rules.id) for rules in chosen(app.config)}
    write_folder(app, FOLDER, pages)


class _RuleSet(SphinxDirective):
    """The page of one rule set."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Build the page."""
        catalogue = Catalogue.installed()
        try:
            rules = catalogue.rule_set(self.arguments[0])
        except TurnbackError as error:
            raise self.error(str(error)) from error
        document = self.state.document
        found = page_nodes(rules, catalogue.origin_of(rules.id), document)
        waived = waiver_nodes(rules, self.env, self.get_location())
        if waived:
            found.append(section(document, "Waived laws", *waived))
        folder = file_named(self.env.app, CERTIFICATES)
        certificate = read_certificate(rules, folder, self.get_location())
        found.append(section(document, "How far it is proved", *proof_nodes(rules, certificate)))
        return found


class _RuleSetIndex(SphinxDirective):
    """All rule sets, with the number of values of each status."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        head = ("rule set", "style", *STATUS_ORDER, "beside the table")
        rows = [self._row(rules) for rules in chosen_rule_sets(self.config)]
        return [table("Cells of the table, or parts of the rule, by status", head, rows, classes=["numbers"])]

    def _row(self, rules: RuleSet) -> list[Cell]:
        found = tally(table_cells(rules))
        link = doc_link(self.env.docname, f"{FOLDER}/{rules.id}", code(rules.id))
        return [
            [link, aside(f"{rules.title}. {rules.citation.source.document}")],
            rules.style,
            *(str(found[status]) for status in STATUS_ORDER),
            tally_text(beside_the_table(rules)),
        ]


class _RuleSetToctree(SphinxDirective):
    """The entries of the sidebar, by id."""

    def run(self) -> list[nodes.Node]:
        """Build a hidden list of pages."""
        return [hidden_toctree(self.env.docname, [(each.id, f"{FOLDER}/{each.id}") for each in chosen(self.config)])]


class _EfficiencyBases(SphinxDirective):
    """The bases of efficiency that a plan may name."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        own = [rules for rules in chosen_rule_sets(self.config) if rules.efficiency]
        rows = [self._row(rules) for rules in (*chosen_bases(self.config), *own)]
        return [table("Termination efficiencies by source", ("basis", "for", "figures", "statuses"), rows)]

    def _row(self, rules: RuleSet) -> list[Cell]:
        figures = ", ".join(dict.fromkeys(percent_text(band.value) for band in rules.efficiency))
        link = doc_link(self.env.docname, f"{FOLDER}/{rules.id}", code(rules.id))
        found = [place for place in beside_the_table(rules) if place.what == "efficiency"]
        style = "any style" if rules.style == ANY_STYLE else f"printed beside its own table ({rules.style})"
        return [[link, aside(rules.title)], style, figures, tally_text(found)]


class _StatusKey(SphinxDirective):
    """The four statuses of a value."""

    def run(self) -> list[nodes.Node]:
        """Build the list."""
        return [paragraph("Every value carries one of four statuses:"), status_key()]


def add_rule_set_pages(app: Sphinx) -> None:
    """Register the directives and the writer of pages.

    Args:
        app: The application.
    """
    app.add_directive("rule-set", _RuleSet)
    app.add_directive("rule-set-index", _RuleSetIndex)
    app.add_directive("rule-set-toctree", _RuleSetToctree)
    app.add_directive("efficiency-bases", _EfficiencyBases)
    app.add_directive("status-key", _StatusKey)
    app.connect("builder-inited", _write_pages)
