"""Drawings of joints and plots of the rule sets, made from the library when the site is built.

Directives:

- ``joint-drawings``: a drawing of every style with every termination that it makes;
- ``joint-drawing STYLE``: the first of those of one style;
- ``light-dark-paper``: one of them on a light and on a dark ground;
- ``rule-plot STYLE``: what the rule sets of a style say against the diameter, and the table of the same below it;
  ``:quantity:`` is ``count``, ``turn-back``, ``turn-back in diameters``, ``spacing`` or ``torque``;
- ``efficiency-plot``: the efficiencies against the diameter, and their table;
- ``crossings STYLE``: where one rule set asks for more than another; ``:quantity:`` as above.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from itertools import groupby
from typing import ClassVar, Final

from docutils import nodes
from docutils.parsers.rst import directives
from formula_content import picture
from picture_joints import INVENTED, INVENTED_ONE, every_joint
from plot_crossings import Leaders, leaders_of, pairs_of, ranges_text, size_text
from plot_drawing import Axes, plot_figure
from plot_efficiencies import efficiency_figure, efficiency_table
from plot_marks import STATUS_WORDS, letter
from plot_values import QUANTITIES, Point, Quantity, Series, series_of, sizes_of
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.sphinxext.nodes import Cell, aside, bullets, code, doc_link, paragraph, section, table, tag

__all__ = ["setup"]

_TITLES: Final[dict[Quantity, str]] = {
    "count": "Number of clips against the rope's diameter",
    "turn-back": "Printed turn-back against the rope's diameter",
    "turn-back in diameters": "Printed turn-back in rope diameters",
    "spacing": "Least distance between the centres of clips",
    "torque": "Torque against the rope's diameter",
}
_LABELS: Final[dict[Quantity, str]] = {
    "count": "clips",
    "turn-back": "turn-back, mm",
    "turn-back in diameters": "turn-back, rope diameters",
    "spacing": "centre to centre, mm",
    "torque": "torque, N·m",
}
_COMPARED: Final = ("count", "turn-back", "spacing")
"""Where the one that asks for most governs; a torque is met by that torque alone."""
_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200, 250, 500)
_IDS: Final = re.compile(r"turnback-[0-9a-f]{12}-(title|desc)")


class JointDrawings(SphinxDirective):
    """Every style with every termination that it makes."""

    def run(self) -> list[nodes.Node]:
        """Build a section for each."""
        found: list[nodes.Node] = [paragraph(INVENTED)]
        for style, kind, plan in every_joint(Catalogue.installed()):
            title = f"{style}: {kind}"
            rules_id = plan.members[0].rules.id
            link = doc_link(self.env.docname, f"rule-sets/{rules_id}", code(rules_id))
            words = f"{plan.clip_count} {'clip' if plan.clip_count == 1 else 'clips'} of {plan.clip_size} by "
            said = paragraph(words, link, f"; turn-back {plan.turn_back}.")
            found.append(section(self.state.document, title, said, picture(plan.to_svg(), title)))
        return found


class JointDrawing(SphinxDirective):
    """One style, with the first termination that it makes."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Build the drawing, and say that it is invented."""
        catalogue = Catalogue.installed()
        style = directives.choice(self.arguments[0], [each.id for each in catalogue.styles])
        kind, plan = next((kind, plan) for name, kind, plan in every_joint(catalogue) if name == style)
        return [picture(plan.to_svg(), f"{style}: {kind}"), paragraph(INVENTED_ONE)]


class LightDarkPaper(SphinxDirective):
    """One drawing on two grounds, whatever the page has."""

    def run(self) -> list[nodes.Node]:
        """Build both."""
        plan: Plan = next(plan for _, _, plan in every_joint(Catalogue.installed()))
        found: list[nodes.Node] = []
        for ground in ("light", "dark"):
            # Ids come from the content; the same drawing twice on a page needs two.
            svg = _IDS.sub(rf"turnback-{ground}-\1", plan.to_svg())
            html = f'<div class="shown-{ground}">', picture(svg, f"on a {ground} ground").astext(), "</div>"
            found += [paragraph(f"On a {ground} ground:"), nodes.raw("", "".join(html), format="html")]
        return found


def _quantity(argument: str) -> Quantity:
    return QUANTITIES[QUANTITIES.index(directives.choice(argument, QUANTITIES))]


class RulePlot(SphinxDirective):
    """A plot with its table."""

    required_arguments: ClassVar[int] = 1
    option_spec: ClassVar[dict[str, Callable[[str], Quantity]]] = {"quantity": _quantity}

    def run(self) -> list[nodes.Node]:
        """Build both."""
        style, quantity = self.arguments[0], self.options["quantity"]
        lines = series_of(quantity, style)
        if not lines:
            raise self.error(f"no rule set of {style} prints a {quantity}")
        leaders = leaders_of(quantity, style) if quantity in _COMPARED and len(lines) > 1 else ()
        title = f"{_TITLES[quantity]}: {style}"
        figure = plot_figure(title, _axes(quantity, lines), lines, leaders, _desc(lines))
        return [
            picture(figure.to_svg(), title, wide=True),
            paragraph(STATUS_WORDS),
            _values(title, lines, sizes_of(style)),
        ]


def _axes(quantity: Quantity, lines: tuple[Series, ...]) -> Axes:
    sizes = [float(point.size.millimetres) for line in lines for point in line.points]
    most = max(float(point.value) for line in lines for point in line.points)
    step = next(step for step in _STEPS if most / step <= 10)
    apart = 4.0 if quantity == "count" else 0.0
    widest = 10.0 * math.ceil(max(sizes) / 10)
    return Axes(widest, step * math.ceil(most / step), step, _LABELS[quantity], apart=apart)


def _desc(lines: tuple[Series, ...]) -> str:
    said = [
        f"{letter(place)}, {each.name}: from {each.points[0].text} at {size_text(each.points[0].size)} to "
        f"{each.points[-1].text} at {size_text(each.points[-1].size)}"
        for place, each in enumerate(lines)
    ]
    return "; ".join(said) + ". The table below has every value. Nothing is interpolated."


def _values(title: str, lines: tuple[Series, ...], sizes: tuple[Length, ...]) -> nodes.table:
    heads = ["rope", *(f"{letter(place)}: {each.name}" for place, each in enumerate(lines))]
    rows: list[list[Cell]] = []
    for size in sizes:
        cells = [each.cell(size) for each in lines]
        if any(cells):
            rows.append([str(size), *map(_cell, cells)])
    return table(title, heads, rows, classes=["rule-table"])


def _cell(point: Point | None) -> Cell:
    if point is None:
        return "—"
    row = [aside(f"row {point.row}")] if point.row else []
    return [f"{point.text} ", tag(point.status), *row]


class EfficiencyPlot(SphinxDirective):
    """The efficiencies with their table."""

    def run(self) -> list[nodes.Node]:
        """Build both."""
        figure = efficiency_figure()
        drawn = picture(figure.to_svg(), figure.title, wide=True)
        return [drawn, paragraph(STATUS_WORDS), efficiency_table(self.env.docname)]


class Crossings(SphinxDirective):
    """Who asks for most where, and every two rule sets against each other."""

    required_arguments: ClassVar[int] = 1
    option_spec: ClassVar[dict[str, Callable[[str], Quantity]]] = {"quantity": _quantity}

    def run(self) -> list[nodes.Node]:
        """Build a list and a table."""
        style, quantity = self.arguments[0], self.options["quantity"]
        leaders = leaders_of(quantity, style)
        if not leaders:
            return [paragraph("No size is answered for by two rule sets that can govern together.")]
        rows: list[list[Cell]] = [
            [
                pair.one.name,
                pair.other.name,
                *(ranges_text(each, pair.sizes) for each in (pair.more, pair.same, pair.less)),
            ]
            for pair in pairs_of(quantity, style)
        ]
        head = ("first", "second", "the first asks for more", "both ask for the same", "the second asks for more")
        crossing = [
            f"{pair.one.name} and {pair.other.name} cross: the first asks for more at "
            f"{ranges_text(pair.more, pair.sizes)}, the second at {ranges_text(pair.less, pair.sizes)}."
            for pair in pairs_of(quantity, style)
            if pair.crosses
        ]
        none = "No two of them cross: where one ever asks for more than another, it never asks for less."
        return [
            bullets(_stretches(leaders)),
            *(paragraph(each) for each in crossing or [none]),
            table(f"Every two rule sets: {quantity}, {style}", head, rows, stubs=2, classes=["prose"]),
        ]


def _who(each: Leaders) -> tuple[tuple[str, ...], bool]:
    return tuple(line.name for line in each.series), each.others > 0


def _stretches(leaders: tuple[Leaders, ...]) -> Iterator[Cell]:
    for (names, others), group in groupby(leaders, key=_who):
        sizes = [size_text(each.size) for each in group]
        stretch = sizes[0] if len(sizes) == 1 else f"{sizes[0]} to {sizes[-1]}"
        if not others:
            yield f"{stretch}: {' and '.join(names)} ask for the same."
        else:
            several = len(names) > 1 or " and " in names[0]
            yield f"{stretch}: {' and '.join(names)} {'ask' if several else 'asks'} for most."


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_directive("joint-drawing", JointDrawing)
    app.add_directive("joint-drawings", JointDrawings)
    app.add_directive("light-dark-paper", LightDarkPaper)
    app.add_directive("rule-plot", RulePlot)
    app.add_directive("efficiency-plot", EfficiencyPlot)
    app.add_directive("crossings", Crossings)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
