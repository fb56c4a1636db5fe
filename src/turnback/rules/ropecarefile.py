"""Seizing and discard rules, read from the files that ship; their form is that of :mod:`turnback.rules.servicefile`."""

from __future__ import annotations

from functools import cache
from typing import Final, Literal

import attrs

from turnback.quantities import Length
from turnback.rules._service_parts import PLACE, Names, built, citation, names_in, needed, parsed, shipped
from turnback.rules._service_reading import Cells
from turnback.rules.ropecare import DISCARD_MEASURES, DiscardRule, SeizingRule
from turnback.rules.servicefile import core_names

__all__ = ["discard_rules", "seizing_rules"]

_SEIZING: Final = tuple(f.name for f in attrs.fields(SeizingRule) if f.name != "citation") + PLACE
_DISCARD: Final = tuple(f.name for f in attrs.fields(DiscardRule) if f.name != "citation") + PLACE
_ROPES: Final[tuple[Literal["running", "standing", "any"], ...]] = ("running", "standing", "any")


@cache
def seizing_rules() -> tuple[SeizingRule, ...]:
    """Return how the sources seize a rope before it is cut.

    Returns:
        The rules in the order of their file, read once.
    """

    def read(cells: Cells) -> tuple[SeizingRule, ...]:
        names = names_in(cells, core_names())
        return tuple(_seizing(each, names) for each in cells.tables("rules", _SEIZING))

    return parsed("seizing.toml", shipped("seizing.toml"), "rules", read)


@cache
def discard_rules() -> tuple[DiscardRule, ...]:
    """Return when a rope is taken out of service.

    Returns:
        The rules in the order of their file, read once.
    """

    def read(cells: Cells) -> tuple[DiscardRule, ...]:
        names = names_in(cells, core_names())
        return tuple(_discard(each, names) for each in cells.tables("rules", _DISCARD))

    return parsed("discard.toml", shipped("discard.toml"), "rules", read)


def _seizing(cells: Cells, names: Names) -> SeizingRule:
    steps = cells.tables("not_preformed", ("up_to", "number"))
    numbers = tuple((step.length("up_to"), int(needed(step, "number"))) for step in steps)
    return built(
        cells,
        lambda: SeizingRule(
            id=cells.text("id"),
            text=cells.text("text"),
            citation=citation(cells, names),
            each_side=cells.flag("each_side", False),
            per_inch=cells.ratio("per_inch"),
            preformed=cells.whole("preformed"),
            not_preformed=numbers,
            width_at_least=cells.linear("width_at_least"),
            width_at_most=cells.linear("width_at_most"),
            distance=cells.linear("distance"),
        ),
    )


def _discard(cells: Cells, names: Names) -> DiscardRule:
    losses = tuple(
        (step.length("from"), _length(step, "to"), _length(step, "more_than"))
        for step in cells.tables("losses", ("from", "to", "more_than"))
    )
    return built(
        cells,
        lambda: DiscardRule(
            code=cells.text("code"),
            rope=cells.word("rope", _ROPES),
            measure=cells.word("measure", DISCARD_MEASURES),
            text=cells.text("text"),
            citation=citation(cells, names),
            from_value=cells.ratio("from_value"),
            more_than=cells.ratio("more_than"),
            losses=losses,
        ),
    )


def _length(cells: Cells, key: str) -> Length:
    return Length.of(cells.text(key), cells.at(key))
