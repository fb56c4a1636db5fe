"""The termination efficiencies by size, each source on a line of its own."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes
from plot_drawing import Axes, plot_figure
from plot_values import Run, Series

from turnback.model.figures import Figure
from turnback.model.sources import weakest
from turnback.quantities import Length, percent_text
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, EfficiencyBand, RuleSet
from turnback.sphinxext.nodes import Cell, cited, code, doc_link, table, where

__all__ = ["efficiency_figure", "efficiency_table"]

_WIDEST = 60.0
"""Greatest diameter shown [mm]; the bands that go on are cut there."""
_AT_BEST = "at best: an upper bound, never used as a value"


def _sources() -> tuple[RuleSet, ...]:
    catalogue = Catalogue.installed()
    every = (*catalogue.bases, *catalogue.rule_sets)
    return tuple(rules for rules in every if rules.efficiency or rules.efficiency_at_most is not None)


def _lines() -> Iterator[Series]:
    for rules in _sources():
        runs = tuple(_run(band, rules) for band in rules.efficiency)
        if runs:
            yield Series((rules.id,), _speaks_of(rules), "", (), runs, lambda _: None)
        most = rules.efficiency_at_most
        if most is not None:
            value = float(most.value)
            start, end = _table_sizes(rules)
            run = Run(start, end, value, value, weakest(most.citations))
            yield Series((rules.id,), _AT_BEST, "", (), (run,), lambda _: None)


def _speaks_of(rules: RuleSet) -> str:
    return "any style" if rules.style == ANY_STYLE else rules.style


def _run(band: EfficiencyBand, rules: RuleSet) -> Run:
    start, end = _table_sizes(rules)
    if band.least is not None:
        start = float(band.least.millimetres)
    stop: Length | None = band.greatest or band.below
    if stop is not None:
        end = float(stop.millimetres)
    return Run(start, min(end, _WIDEST), float(band.value), float(band.value), band.citation.status)


def _table_sizes(rules: RuleSet) -> tuple[float, float]:
    """Where the source's own table begins and ends; the whole axis where it has none."""
    if not rules.rows:
        return 0.0, _WIDEST
    first = rules.rows[0].above or rules.rows[0].size
    return float(first.millimetres), float(rules.rows[-1].size.millimetres)


def efficiency_figure() -> Figure:
    """Draw the efficiencies.

    Returns:
        The figure.
    """
    lines = tuple(_lines())
    axes = Axes(_WIDEST, 1.0, 0.1, "share of the rope's breaking force", least=0.6, apart=3.0, percent=True)
    said = "; ".join(
        f"{each.name}: " + ", ".join(f"{run.first:.0%} from {run.start:g} to {run.end:g} mm" for run in each.runs)
        for each in lines
    )
    title = "Termination efficiency against the rope's diameter"
    return plot_figure(title, axes, lines, (), f"{said}. Lines of one height are drawn a little apart.")


def efficiency_table(docname: str) -> nodes.table:
    """Build the table of the same.

    Args:
        docname: The page that it stands on.

    Returns:
        The table.
    """
    rows: list[list[Cell]] = []
    for rules in _sources():
        link = doc_link(docname, f"rule-sets/{rules.id}", code(rules.id))
        for band in rules.efficiency:
            value = cited(percent_text(band.value), (band.citation,))
            rows.append([link.deepcopy(), _speaks_of(rules), _sizes(band), value, where(band.citation)])
        most = rules.efficiency_at_most
        if most is not None:
            value = cited(f"{percent_text(most.value)}, {_AT_BEST}", most.citations)
            rows.append([link.deepcopy(), _speaks_of(rules), "its table", value, where(most.citations[0])])
    return table("Termination efficiency", ("source", "for", "sizes", "share", "place"), rows, classes=["prose"])


def _sizes(band: EfficiencyBand) -> str:
    parts = [f"from {band.least}"] if band.least is not None else []
    parts += [f"up to {band.greatest}"] if band.greatest is not None else []
    parts += [f"below {band.below}"] if band.below is not None else []
    return " ".join(parts) or "every size"
