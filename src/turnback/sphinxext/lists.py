"""Lists that the library keeps anyway: statuses of a batch, keys of a rule file, JSON Schemas.

- ``batch-statuses``: the numbers in the column ``status``;
- ``rule-file-keys``: every key of a rule file, by the table that it stands in;
- ``document-schemas``: every kind of document with its keys.
"""

from __future__ import annotations

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from turnback.output.schema import KINDS, json_schema
from turnback.rules._reading_keys import FILE, KEYS
from turnback.sphinxext.nodes import Cell, code, paragraph, section, table
from turnback.sphinxext.schemas import defined_parts, keys_of

__all__ = ["add_lists"]


class _BatchStatuses(SphinxDirective):
    """The numbers in the column ``status``."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        try:
            from turnback.batch.statuses import BATCH_STATUSES
        except ImportError as error:
            raise self.error(f"{error}. Install it with: pip install 'turnback[batch]'") from error
        rows: list[list[Cell]] = [[str(each.code), code(each.name), each.text] for each in BATCH_STATUSES]
        return [table("Statuses of a row", ("status", "name", "what it says"), rows, stubs=2, classes=["prose"])]


class _RuleFileKeys(SphinxDirective):
    """Every key of a rule file."""

    def run(self) -> list[nodes.Node]:
        """Build a section for each table of the file."""
        return [
            section(self.state.document, "The file itself" if name == FILE else f"Table {name}", self._table(name))
            for name in KEYS
        ]

    @staticmethod
    def _table(name: str) -> nodes.table:
        rows: list[list[Cell]] = [[code(key), code(example)] for key, example in KEYS[name].items()]
        return table("", ("key", "how it is written"), rows)


class _DocumentSchemas(SphinxDirective):
    """Every kind of document."""

    def run(self) -> list[nodes.Node]:
        """Build a section for each kind, and one for each part that it names."""
        return [section(self.state.document, f"Document {kind}", *self._kind(kind)) for kind in KINDS]

    @staticmethod
    def _kind(kind: str) -> list[nodes.Node]:
        schema = json_schema(kind)
        identity = paragraph("Its schema is ", code(str(schema["$id"])), ", JSON Schema draft 2020-12.")
        found: list[nodes.Node] = [identity]
        for name, part in (("the document", schema), *defined_parts(schema)):
            rows: list[list[Cell]] = [[code(key), *cells] for key, *cells in keys_of(part)]
            if rows:
                head = ("key", "holds", "must be there", "what it is")
                found.append(table(name, head, rows, classes=["prose"]))
        return found


def add_lists(app: Sphinx) -> None:
    """Register the directives.

    Args:
        app: The application.
    """
    app.add_directive("batch-statuses", _BatchStatuses)
    app.add_directive("rule-file-keys", _RuleFileKeys)
    app.add_directive("document-schemas", _DocumentSchemas)
