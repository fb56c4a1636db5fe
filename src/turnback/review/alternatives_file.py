"""Reading the table of other ways of ending a rope, which ships with the library."""

from __future__ import annotations

import os
import tomllib
from fractions import Fraction
from functools import cache
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.sources import Citation, Source, Status
from turnback.quantities import Length, percent

__all__ = ["EndFigure", "WayOfEnding", "ways_of_ending"]

_FILE: Final = os.path.join(os.path.dirname(__file__), "data", "alternatives.toml")
_STATUSES: Final[tuple[Status, ...]] = ("read", "memory", "common practice", "user")
_FIGURE_KEYS: Final = frozenset({"least", "greatest", "cores", "finishes", "steel", "at", "up_to", "status"})


@attrs.frozen
class EndFigure:
    """One printed figure, and the ropes that it is printed for.

    Args:
        least: Share of the rope's breaking strength, the lower end where a range is printed [-].
        greatest: The upper end of the range, the same as the lower where none is printed [-].
        cores: Cores; empty where the table does not say.
        steel: The table's word for the steel; empty where the table does not say.
        finishes: The finishes that have it; empty where the table does not say.
        at: The one size that it is printed for [length]; None where the table does not say.
        up_to: The greatest size that it is printed for [length]; None where the table does not say.
        citation: Who says so.

    Raises:
        InputError: The ends of the range are swapped, or no rope holds so much.
    """

    least: Fraction
    greatest: Fraction
    cores: tuple[str, ...]
    steel: str
    finishes: tuple[str, ...]
    at: Length | None
    up_to: Length | None
    citation: Citation

    def __attrs_post_init__(self) -> None:
        if not 0 < self.least <= self.greatest <= 1:
            raise InputError(
                "a range of efficiencies runs from its lower to its upper end",
                field="figures",
                value=f"{self.least} to {self.greatest}",
                bound="above 0 % and up to 100 %",
            )


@attrs.frozen
class WayOfEnding:
    """A way of ending a rope as a table prints it.

    Args:
        code: Stable name, lower case with hyphens.
        name: Its name in the trade.
        figures: What is printed of it, at least one.
    """

    code: str
    name: str
    figures: tuple[EndFigure, ...]


@cache
def ways_of_ending() -> tuple[WayOfEnding, ...]:
    """Return every way of ending a rope that the table prints.

    Returns:
        The ways in the order of the table, read once.

    Source: TM 5-3810-305-10, Table 4.
    """
    with open(_FILE, "rb") as file:
        data = tomllib.load(file)
    place = data["source"]
    source = Source(place["id"], place["document"], issuer=place["issuer"])
    return tuple(
        WayOfEnding(
            each["code"],
            each["name"],
            tuple(_figure(entry, each["name"], source, place["locator"]) for entry in each["figures"]),
        )
        for each in data["alternatives"]
    )


def _figure(entry: dict[str, object], name: str, source: Source, locator: str) -> EndFigure:
    strange = set(entry) - _FIGURE_KEYS
    status = next((known for known in _STATUSES if known == entry.get("status")), None)
    if strange or status is None:
        raise InputError(
            "the table of other ways of ending a rope has a key or a status that it does not know",
            field=name,
            value=", ".join(sorted(strange)) or repr(entry.get("status")),
            bound=f"keys: {', '.join(sorted(_FIGURE_KEYS))}; status: {', '.join(_STATUSES)}",
        )
    least = percent(str(entry["least"]), f"{name}.least")
    return EndFigure(
        least=least,
        greatest=percent(str(entry["greatest"]), f"{name}.greatest") if "greatest" in entry else least,
        cores=_words(entry.get("cores", [])),
        steel=str(entry.get("steel", "")),
        finishes=_words(entry.get("finishes", [])),
        at=_length(entry, "at"),
        up_to=_length(entry, "up_to"),
        citation=Citation(source, f"{locator}, {name}", status),
    )


def _words(value: object) -> tuple[str, ...]:
    return tuple(str(word) for word in value) if isinstance(value, list) else ()


def _length(entry: dict[str, object], key: str) -> Length | None:
    return Length.of(str(entry[key]), key) if key in entry else None
