"""Sources side by side, compared live.

- ``sources-side-by-side STYLE``: count, turn-back, spacing and torque of every size that any rule set of the style
  prints, a column for each rule set, and what cannot be met together;
- ``rope-by-source STYLE``: one rope (``:rope: 1 in 6x19 IWRC IPS``): what each source says, how it comes about, where
  it stands in print, who does not cover it and why, and where they conflict in words.

Both take ``:body:``, ``forged`` or ``other``, for sources that tell clips apart by it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import ClassVar, Final

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from turnback.errors import TurnbackError
from turnback.review.clashes import Clash
from turnback.review.comparison import Comparison
from turnback.review.saying import Answer, Item
from turnback.sphinxext.comparing import compared, own_status, printed_sizes
from turnback.sphinxext.nodes import Cell, aside, bullets, code, doc_link, paragraph, section, table, tag, where
from turnback.sphinxext.rule_sets import FOLDER
from turnback.sphinxext.settings import chosen_rule_sets

__all__ = ["add_sides"]

_ITEMS: Final[tuple[tuple[Item, str], ...]] = (
    ("count", "Clips"),
    ("turn-back", "Turn-back"),
    ("spacing rule", "Distance of clips"),
    ("torque", "Torque"),
)
_WHY: Final = {"size": "size not printed", "rope": "not for this rope", "demands": "refused", "input": "refused"}
_ROPE: Final = "6x19 IWRC IPS"


class _Compared(SphinxDirective):
    """What both directives share."""

    required_arguments: ClassVar[int] = 1
    option_spec: ClassVar[dict[str, Callable[[str], str]]] = {
        "rope": directives.unchanged_required,
        "body": directives.unchanged_required,
    }

    def compared(self, rope: str) -> Comparison:
        """Compare, and say on the page what is wrong with it.

        Args:
            rope: The rope.

        Returns:
            The comparison.
        """
        try:
            return compared(rope, self.arguments[0], self.options.get("body", "not given"))
        except TurnbackError as error:
            raise self.error(str(error)) from error

    def link(self, rules_id: str) -> nodes.Node:
        """Build the name of a rule set.

        Args:
            rules_id: Its id.

        Returns:
            A link where the site has a page of it.
        """
        known = {rules.id for rules in chosen_rule_sets(self.config)}
        return (
            doc_link(self.env.docname, f"{FOLDER}/{rules_id}", code(rules_id)) if rules_id in known else code(rules_id)
        )


class _SideBySide(_Compared):
    """Every printed size, a column for each rule set."""

    def run(self) -> list[nodes.Node]:
        """Build a section for each item, and one of what cannot be met together."""
        rope = self.options.get("rope", _ROPE)
        sizes = [text for _, text in printed_sizes(chosen_rule_sets(self.config), self.arguments[0])]
        found = {size: self.compared(f"{size} {rope}") for size in sizes}
        names = sorted({each.rules.id for comparison in found.values() for each in comparison.answers})
        document = self.state.document
        tables: list[nodes.Node] = [
            section(document, f"{title} by size and source", self._table(item, title, found, names))
            for item, title in _ITEMS
        ]
        clashes = list(_gathered(found))
        if clashes:
            tables.append(section(document, "What cannot be met together", bullets(clashes)))
        return tables

    def _table(self, item: Item, title: str, found: dict[str, Comparison], names: list[str]) -> nodes.table:
        rows: list[list[Cell]] = []
        for size, comparison in found.items():
            cells = [_cell(comparison, name, item) for name in names]
            said = {each.about(item).text for each in comparison.answers if each.about(item).says}
            rows.append([size, *cells, "differ" if len(said) > 1 else "—"])
        head = ("rope", *names, "sources")
        return table(f"{title}, {self.arguments[0]}, rope {self.options.get('rope', _ROPE)}", head, rows)


def _cell(comparison: Comparison, name: str, item: Item) -> Cell:
    for answer in comparison.answers:
        if answer.rules.id == name:
            said = answer.about(item)
            status = own_status(answer, said)
            return "nothing printed" if status is None else [said.text, " ", tag(status)]
    for refusal in comparison.refusals:
        if refusal.rules.id == name:
            return _WHY[refusal.why]
    return "—"


def _gathered(found: dict[str, Comparison]) -> Iterator[Cell]:
    """Say each conflict once, with the sizes at which it stands; the words are those of the first of them."""
    sizes: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    first: dict[tuple[str, tuple[str, ...]], Clash] = {}
    for size, comparison in found.items():
        for clash in comparison.clashes:
            sizes.setdefault((clash.item, clash.rules), []).append(size)
            first.setdefault((clash.item, clash.rules), clash)
    for key, clash in first.items():
        at = ", ".join(dict.fromkeys(sizes[key]))
        yield [
            nodes.strong(clash.item, clash.item),
            f", {' and '.join(clash.rules)}, at {at}. At {sizes[key][0]}: {clash.text} {clash.instead}",
            aside("; ".join(where(citation) for citation in clash.citations)),
        ]


class _RopeBySource(_Compared):
    """One rope: what each source says, how, and where it stands in print."""

    def run(self) -> list[nodes.Node]:
        """Build the sections."""
        rope = self.options.get("rope", "")
        if not rope:
            raise self.error("name the rope, such as :rope: 1 in 6x19 IWRC IPS")
        comparison = self.compared(rope)
        document = self.state.document
        found: list[nodes.Node] = [
            section(document, f"{title}: {comparison.request.rope.diameter}", self._said(comparison, item))
            for item, title in _ITEMS
        ]
        refused: list[Cell] = [[self.link(each.rules.id), f": {each.reason}"] for each in comparison.refusals]
        if refused:
            found.append(section(document, "Sources that do not cover this rope", bullets(refused)))
        words: list[Cell] = [f"{each.text}." for each in comparison.differences if each.differs]
        found.append(section(document, "Where they differ, in words", bullets(words)))
        clashes: list[Cell] = [str(clash) for clash in comparison.clashes]
        if clashes:
            found.append(section(document, "What cannot be met together here", bullets(clashes)))
        return found

    def _said(self, comparison: Comparison, item: Item) -> nodes.Node:
        if not comparison.answers:
            return paragraph("No source at hand covers this rope.")
        rows = [self._row(answer, item) for answer in comparison.answers]
        return table("", ("rule set", "what it says", "how", "where it stands in print"), rows, classes=["prose"])

    def _row(self, answer: Answer, item: Item) -> list[Cell]:
        said = answer.about(item)
        places: list[str | nodes.Node] = []
        for citation in said.citations:
            places += [*(["; "] if places else []), f"{where(citation)} ", tag(citation.status)]
        name = [self.link(answer.rules.id), aside(answer.rules.title)]
        text: Cell = nodes.strong(said.text, said.text) if said.says else said.text
        return [name, text, said.how or "—", places or "—"]


def add_sides(app: Sphinx) -> None:
    """Register the directives.

    Args:
        app: The application.
    """
    app.add_directive("sources-side-by-side", _SideBySide)
    app.add_directive("rope-by-source", _RopeBySource)
