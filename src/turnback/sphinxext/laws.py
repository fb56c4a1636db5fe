"""Pages for the laws of the conformance kit.

``builder-inited`` writes one short page for each law into the folder ``laws``, unless the site turns that off:

- ``law ID``: the page of one law;
- ``law-index``: all laws;
- ``law-toctree``: the entries of the sidebar.

The role ``law`` names a law in a sentence and leads to its page. A law that nobody knows is an error in each of them.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar, Final

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective, SphinxRole

from turnback.conformance import (
    laws_counts,
    laws_governing,
    laws_inspection,
    laws_layout,
    laws_procedure,
    laws_records,
    laws_sources,
    laws_spacing,
    laws_strength,
    laws_surroundings,
    laws_tables,
)
from turnback.conformance.law import Law
from turnback.conformance.laws import LAWS, law_named
from turnback.rules.ruleset import RuleSet
from turnback.sphinxext.nodes import Cell, bullets, code, doc_link, paragraph, section, table
from turnback.sphinxext.rule_sets import FOLDER
from turnback.sphinxext.settings import LAW_PAGES, LAW_TESTS, chosen, file_named
from turnback.sphinxext.stubs import hidden_toctree, page, write_folder
from turnback.sphinxext.subjects import subject
from turnback.sphinxext.waivers import LAW_FOLDER, law_link, nearest_law

__all__ = ["add_law_pages", "law_tests", "module_of"]

_MODULES: Final = (
    laws_tables,
    laws_counts,
    laws_sources,
    laws_spacing,
    laws_layout,
    laws_governing,
    laws_strength,
    laws_procedure,
    laws_inspection,
    laws_records,
    laws_surroundings,
)


def module_of(law: Law) -> str:
    """Return the module that holds a law.

    Args:
        law: The law.

    Returns:
        Its dotted name; empty where no module of the kit lists the law.
    """
    for module in _MODULES:
        if any(isinstance(value, tuple) and any(each is law for each in value) for value in vars(module).values()):
            return module.__name__
    return ""


def law_tests(path: Path) -> dict[str, tuple[str, ...]]:
    """Read the file that names the tests of each law.

    Args:
        path: A TOML file with a table ``[tests]``: id of a law, list of test files.

    Returns:
        Test files by the id of the law.

    Raises:
        ExtensionError: It cannot be read, is of another form, or names a law that nobody knows.
    """
    try:
        found: dict[str, object] = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise ExtensionError(f"{LAW_TESTS}: {path} cannot be read: {error}") from error
    listed = found.get("tests")
    if not isinstance(listed, dict):
        raise ExtensionError(f"{LAW_TESTS}: {path} has no table [tests]")
    strange = [str(law_id) for law_id in listed if law_named(str(law_id)) is None]
    if strange:
        raise ExtensionError(
            f"{LAW_TESTS}: {path} names a law that nobody knows: {strange[0]}. {nearest_law(strange[0])}"
        )
    return {
        str(law_id): tuple(map(str, files)) if isinstance(files, list) else (str(files),)
        for law_id, files in listed.items()
    }


def _write_pages(app: Sphinx) -> None:
    if app.config[LAW_PAGES]:
        write_folder(app, LAW_FOLDER, {law.id: page(f"Law {law.id}", "law", law.id) for law in LAWS})


class _Law(SphinxDirective):
    """The page of one law."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Build the page."""
        law = law_named(self.arguments[0])
        if law is None:
            raise self.error(f"no law has the name {self.arguments[0]}. {nearest_law(self.arguments[0])}")
        rules = chosen(self.config)
        return [
            paragraph(nodes.strong(law.sentence, law.sentence)),
            table("", ("what", "as the kit has it"), self._facts(law), classes=["facts"]),
            section(self.state.document, "Tests that name it", self._tests(law)),
            section(self.state.document, "Rule sets that waive it", self._waived(law, rules)),
            *self._apart(law, rules),
        ]

    def _facts(self, law: Law) -> list[tuple[str, Cell]]:
        proved = "proved: every row, pair of neighbours and edge of a table is looked at"
        searched = "searched: examples are drawn, and one that breaks it is made as small as it goes"
        facts: list[tuple[str, Cell]] = [
            ("how it is checked", proved if law.proof is not None else searched),
            ("can a rule file waive it", "yes, with the row, the reason and a citation" if law.waivable else "no"),
            ("builds on", self._after(law) if law.after else "no other law"),
            ("checked in", code(module_of(law))),
        ]
        if law.redundant:
            facts.append(("kept although others notice the same, because", law.redundant))
        if law.dear > 1:
            facts.append(("examples", f"one in {law.dear} of those of other laws, because each is dearer"))
        return facts

    def _after(self, law: Law) -> list[str | nodes.Node]:
        found: list[str | nodes.Node] = []
        for each in law.after:
            found += [*([", "] if found else []), law_link(self.env, each)]
        return found

    def _tests(self, law: Law) -> nodes.Node:
        path = file_named(self.env.app, LAW_TESTS)
        if path is None:
            return paragraph("This site names no tests.")
        self.env.note_dependency(str(path))
        files = law_tests(path).get(law.id, ())
        return bullets([code(each) for each in files]) if files else paragraph("No test file names this law.")

    def _waived(self, law: Law, rules: Sequence[RuleSet]) -> nodes.Node:
        found: list[Cell] = [
            [doc_link(self.env.docname, f"{FOLDER}/{each.id}", code(each.id)), f": {waiver.row or 'whole file'}"]
            for each in rules
            for waiver in each.waivers
            if waiver.law == law.id
        ]
        return bullets(found) if found else paragraph("None of the rule sets at hand waives it.")

    def _apart(self, law: Law, rules: Sequence[RuleSet]) -> list[nodes.Node]:
        found: list[Cell] = [
            [doc_link(self.env.docname, f"{FOLDER}/{each.id}", code(each.id)), f": {why}"]
            for each in rules
            if (why := law.applies(subject(each)))
        ]
        return [section(self.state.document, "Rule sets that it says nothing of", bullets(found))] if found else []


class _LawIndex(SphinxDirective):
    """All laws, in the order in which they are checked."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        rows: list[list[Cell]] = [
            [law_link(self.env, law.id), law.sentence, "proved" if law.proof is not None else "searched"]
            for law in LAWS
        ]
        return [table(f"The {len(LAWS)} laws", ("law", "what it says", "how it is checked"), rows, classes=["prose"])]


class _LawToctree(SphinxDirective):
    """The entries of the sidebar, in the order in which laws are checked."""

    def run(self) -> list[nodes.Node]:
        """Build a hidden list of pages."""
        pages = [(law.id, f"{LAW_FOLDER}/{law.id}") for law in LAWS] if self.config[LAW_PAGES] else []
        return [hidden_toctree(self.env.docname, pages)]


class _LawRole(SphinxRole):
    """A law in a sentence."""

    def run(self) -> tuple[list[nodes.Node], list[nodes.system_message]]:
        """Build the link."""
        if law_named(self.text) is None:
            said = f"no law has the name {self.text}. {nearest_law(self.text)}"
            message = self.inliner.reporter.error(said, line=self.lineno)
            return [self.inliner.problematic(self.rawtext, self.rawtext, message)], [message]
        return [law_link(self.env, self.text)], []


def add_law_pages(app: Sphinx) -> None:
    """Register the directives, the role and the writer of pages.

    Args:
        app: The application.
    """
    app.add_directive("law", _Law)
    app.add_directive("law-index", _LawIndex)
    app.add_directive("law-toctree", _LawToctree)
    app.add_role("law", _LawRole())
    app.connect("builder-inited", _write_pages)
