"""Pages for rule sets, written from the loaded objects when the site is built.

``builder-inited`` writes one short page for each rule set into the folder ``rule-sets`` (not committed); everything on
it is made by the directives of this module:

- ``rule-set ID``: the page of one rule set;
- ``rule-set-index``: all rule sets, with the number of values of each status;
- ``rule-set-toctree``: the entries of the sidebar;
- ``efficiency-bases``: the bases of efficiency;
- ``status-key``: the four statuses.

A plugin that is installed and cannot be loaded is a warning, so a strict build fails and says which.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar, Final

from doc_nodes import Cell, aside, code, doc_link, paragraph, status_key, table
from docutils import nodes
from rule_set_cells import STATUS_ORDER, beside_the_table, table_cells, tally, tally_text
from rule_set_content import page_nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

from turnback.errors import TurnbackError
from turnback.quantities import percent_text
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, RuleSet

__all__ = ["setup", "write_pages"]

FOLDER: Final = "rule-sets"
_LOG: Final = logging.getLogger(__name__)


def _all(catalogue: Catalogue) -> tuple[RuleSet, ...]:
    return (*catalogue.rule_sets, *catalogue.bases)


def write_pages(app: Sphinx) -> None:
    """Write a page for each rule set at hand, and take away those of rule sets that are gone.

    Args:
        app: The application.
    """
    catalogue = Catalogue.installed()
    for failure in catalogue.failures:
        _LOG.warning("a plugin cannot be documented, for it was refused: %s", failure)
    if not catalogue.rule_sets:
        _LOG.warning("no rule set is installed: install the plugins beside turnback")
    folder = Path(app.srcdir) / FOLDER
    folder.mkdir(exist_ok=True)
    wanted = {f"{rules.id}.md": _stub(rules) for rules in _all(catalogue)}
    for page in folder.glob("*.md"):
        if page.name not in wanted:
            page.unlink()
    for name, text in wanted.items():
        (folder / name).write_text(text, encoding="utf-8")


def _stub(rules: RuleSet) -> str:
    return (
        "% Written when the site is built; do not edit.\n\n"
        f"# {rules.id}: {rules.title}\n\n```{{rule-set}} {rules.id}\n```\n"
    )


def everything(
    app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]
) -> Iterable[str]:
    """Build every page anew each time: what they show comes from the library, whose changes Sphinx does not see.

    Args:
        app: The application.
        env: The environment.
        added: Pages that are new.
        changed: Pages whose text changed.
        removed: Pages that are gone.

    Returns:
        All pages.
    """
    del app, added, changed
    return env.found_docs - removed


class RuleSetDirective(SphinxDirective):
    """The page of one rule set."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Build the page."""
        catalogue = Catalogue.installed()
        try:
            rules = catalogue.rule_set(self.arguments[0])
        except TurnbackError as error:
            raise self.error(str(error)) from error
        return page_nodes(rules, catalogue.origin_of(rules.id), self.state.document)


class RuleSetIndex(SphinxDirective):
    """All rule sets, with the number of values of each status."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        head = ("rule set", "style", *STATUS_ORDER, "beside the table")
        rows = [self._row(rules) for rules in Catalogue.installed().rule_sets]
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


class RuleSetToctree(SphinxDirective):
    """The entries of the sidebar, by id."""

    def run(self) -> list[nodes.Node]:
        """Build a hidden list of pages."""
        found = [(rules.id, f"{FOLDER}/{rules.id}") for rules in _all(Catalogue.installed())]
        tree = addnodes.toctree("", entries=found, includefiles=[page for _, page in found], parent=self.env.docname)
        for name in ("glob", "numbered", "titlesonly", "includehidden"):
            tree[name] = False
        tree["hidden"], tree["maxdepth"], tree["caption"] = True, 1, None
        return [nodes.compound("", tree, classes=["toctree-wrapper"])]


class EfficiencyBases(SphinxDirective):
    """The bases of efficiency that a plan may name."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        catalogue = Catalogue.installed()
        own = [rules for rules in catalogue.rule_sets if rules.efficiency]
        rows = [self._row(rules) for rules in (*catalogue.bases, *own)]
        return [table("Termination efficiencies by source", ("basis", "for", "figures", "statuses"), rows)]

    def _row(self, rules: RuleSet) -> list[Cell]:
        figures = ", ".join(dict.fromkeys(percent_text(band.value) for band in rules.efficiency))
        link = doc_link(self.env.docname, f"{FOLDER}/{rules.id}", code(rules.id))
        found = [place for place in beside_the_table(rules) if place.what == "efficiency"]
        style = "any style" if rules.style == ANY_STYLE else f"printed beside its own table ({rules.style})"
        return [[link, aside(rules.title)], style, figures, tally_text(found)]


class StatusKey(SphinxDirective):
    """The four statuses of a value."""

    def run(self) -> list[nodes.Node]:
        """Build the list."""
        return [paragraph("Every value carries one of four statuses:"), status_key()]


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives and the writer of pages.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_directive("rule-set", RuleSetDirective)
    app.add_directive("rule-set-index", RuleSetIndex)
    app.add_directive("rule-set-toctree", RuleSetToctree)
    app.add_directive("efficiency-bases", EfficiencyBases)
    app.add_directive("status-key", StatusKey)
    app.connect("builder-inited", write_pages)
    app.connect("env-get-outdated", everything)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
