"""The bibliography: of every source what is taken from it, with the place and the status, and what is not.

Directive ``source-coverage``: a section for each source of the site's rule sets, and with the flag ``everything`` of
what the core takes too; ``unread-sources``: documents from which nothing is taken. What is not taken comes from the
file that the setting ``turnback_coverage`` names; a source without an entry there is a warning.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Final

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.application import Sphinx
from sphinx.util import logging
from sphinx.util.docutils import SphinxDirective

from turnback.model.sources import Source
from turnback.sphinxext.coverage import Coverage, Gap, read_coverage
from turnback.sphinxext.nodes import Cell, code, doc_link, paragraph, section, table
from turnback.sphinxext.rule_sets import FOLDER
from turnback.sphinxext.settings import COVERAGE, chosen, file_named
from turnback.sphinxext.uses import Taken, Use, sources_of, taken_from, uses_of_core, uses_of_rule_sets

__all__ = ["add_bibliography"]

_LOG: Final = logging.getLogger(__name__)


class _SourceCoverage(SphinxDirective):
    """A section for each source."""

    option_spec: ClassVar[dict[str, Callable[[str], None]]] = {"everything": directives.flag}

    def run(self) -> list[nodes.Node]:
        """Build an overview and the sections."""
        rules = chosen(self.config)
        whole = "everything" in self.options
        uses = (*uses_of_rule_sets(rules), *(uses_of_core() if whole else ()))
        sources = sources_of(uses, rules)
        coverage = _coverage(self)
        if coverage is not None:
            for problem in coverage.problems({source.id for source in sources}):
                _LOG.warning("%s: %s", self.config[COVERAGE], problem, location=self.get_location())
        self._pages = {each.id for each in rules}
        found: list[nodes.Node] = [self._overview(sources, uses, coverage)]
        for source in sources:
            title = f"{source.document} ({source.id})"
            found.append(section(self.state.document, title, *self._body(source, uses, coverage)))
        return found

    def _overview(self, sources: tuple[Source, ...], uses: tuple[Use, ...], coverage: Coverage | None) -> nodes.table:
        rows: list[list[Cell]] = []
        for source in sources:
            own = [use.citation.status for use in uses if use.citation.source == source]
            counts = [str(own.count(status)) for status in ("read", "memory", "common practice")]
            gaps = () if coverage is None else coverage.gaps.get(source.id, ())
            rows.append([[code(source.id), f" {source.document}"], *counts, str(len(gaps)) if coverage else "—"])
        head = ("source", "read", "memory", "common practice", "named as not taken")
        return table("Values and statements taken, by status", head, rows, classes=["numbers"])

    def _body(self, source: Source, uses: tuple[Use, ...], coverage: Coverage | None) -> list[nodes.Node]:
        year = str(source.year) if source.year else "not recorded"
        facts: list[tuple[str, Cell]] = [("issuer", source.issuer), ("edition", source.edition), ("year", year)]
        found: list[nodes.Node] = [table("", ("what", "as recorded"), facts, classes=["facts"])]
        taken: list[list[Cell]] = [
            [each.place, each.what, _statuses(each), self._where(each.where)] for each in taken_from(source, uses)
        ]
        if taken:
            found.append(table("Taken", ("place in it", "what", "status", "where it stands here"), taken))
        if coverage is not None and source.id in coverage.rest:
            gaps = coverage.gaps[source.id]
            found += [_gaps(gaps)] if gaps else []
            found.append(paragraph(coverage.rest[source.id]))
        return found

    def _where(self, name: str) -> Cell:
        if name in self._pages:
            return doc_link(self.env.docname, f"{FOLDER}/{name}", code(name))
        return code(name) if "." in name else name


def _coverage(directive: SphinxDirective) -> Coverage | None:
    path = file_named(directive.env.app, COVERAGE)
    if path is None:
        return None
    directive.env.note_dependency(str(path))
    return read_coverage(path)


def _statuses(taken: Taken) -> str:
    return ", ".join(f"{number} {status}" for status, number in taken.statuses)


def _gaps(gaps: tuple[Gap, ...], title: str = "Not taken") -> nodes.table:
    rows: list[list[Cell]] = [[gap.what, gap.why, gap.reason] for gap in gaps]
    return table(title, ("what", "why", "reason"), rows, classes=["prose"])


class _UnreadSources(SphinxDirective):
    """Documents from which nothing is taken."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        coverage = _coverage(self)
        if coverage is None or not coverage.unread:
            return [paragraph("None is named.")]
        return [_gaps(coverage.unread, "Nothing is taken")]


def add_bibliography(app: Sphinx) -> None:
    """Register the directives.

    Args:
        app: The application.
    """
    app.add_directive("source-coverage", _SourceCoverage)
    app.add_directive("unread-sources", _UnreadSources)
