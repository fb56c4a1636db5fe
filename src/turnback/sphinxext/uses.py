"""What is taken from each source: every citation of the rule sets and of the core's own tables, with its place."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterable, Iterator
from typing import Final

import attrs

from turnback.model.ropedata import rope_cells
from turnback.model.sources import USER, Citation, Source, Status
from turnback.planning.build import service_book
from turnback.review.alternatives_file import ways_of_ending
from turnback.rules.catalogue import Catalogue
from turnback.rules.ropecarefile import discard_rules, seizing_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["Taken", "Use", "sources_of", "taken_from", "uses_of_core", "uses_of_rule_sets"]

_FLOORS: Final = ("model", "rules", "planning", "review")
_ROW: Final = ", row "


@attrs.frozen
class Use:
    """One value or statement that leans on a source.

    Args:
        where: Id of the rule set, or a name for the part of the core.
        what: What it is, in a word or two.
        citation: Where it stands.
    """

    where: str
    what: str
    citation: Citation


@attrs.frozen
class Taken:
    """What is taken from one place of a source, for one part of the library.

    Args:
        place: Table, paragraph or page, without the row.
        what: What it is.
        where: Id of the rule set, or a name for the part of the core.
        statuses: Number of values by status, those with none left out [-].
    """

    place: str
    what: str
    where: str
    statuses: tuple[tuple[Status, int], ...]


def uses_of_rule_sets(rule_sets: Iterable[RuleSet]) -> tuple[Use, ...]:
    """List every value and statement of rule sets.

    Args:
        rule_sets: The rule sets.

    Returns:
        Uses, rule set by rule set, in the order of its fields.
    """
    return tuple(use for rules in rule_sets for use in _of_rules(rules))


def _of_rules(rules: RuleSet) -> Iterator[Use]:
    for field in attrs.fields(RuleSet):
        # What the whole file leans on by default is no value.
        if field.name != "citation":
            for what, citation in _cited(getattr(rules, field.name), field.name):
                yield Use(rules.id, what, citation)


def _cited(held: object, name: str) -> Iterator[tuple[str, Citation]]:
    if isinstance(held, Citation):
        yield name.replace("_", " "), held
    elif isinstance(held, (tuple, frozenset)):
        for each in held:
            yield from _cited(each, name)
    elif attrs.has(kind := type(held)):
        for field in attrs.fields(kind):
            # Of rows and adjustments the cell has the name; of the rest it only says that it is a value or a place.
            inner = field.name if name in ("rows", "adjustments", "procedure") else name
            yield from _cited(getattr(held, field.name), inner.removesuffix("_citation"))


def uses_of_core() -> tuple[Use, ...]:
    """List what the core itself takes: services, factors, rope tables, care of ropes, other ends, its own words.

    Returns:
        Uses, part by part.
    """
    book = service_book(Catalogue.installed())
    found = [Use("services", f"{rule.service}: {rule.kind}", rule.citation) for rule in book.rules]
    found += [Use("design factors", factor.use, factor.citation) for factor in book.factors]
    found += [Use("seizing", "seizing before the cut", rule.citation) for rule in seizing_rules()]
    found += [Use("discard", rule.measure, rule.citation) for rule in discard_rules()]
    found += [Use("ropes", f"{cell.table}: {cell.column}", cell.citation) for cell in rope_cells()]
    found += [Use("ways of ending", way.name, each.citation) for way in ways_of_ending() for each in way.figures]
    return (*found, *_constants())


def _constants() -> Iterator[Use]:
    seen: set[Citation] = set()
    for floor in _FLOORS:
        package = importlib.import_module(f"turnback.{floor}")
        for found in sorted(pkgutil.iter_modules(package.__path__), key=lambda each: each.name):
            module = importlib.import_module(f"turnback.{floor}.{found.name}")
            for value in vars(module).values():
                if isinstance(value, Citation) and value.source != USER and value not in seen:
                    seen.add(value)
                    yield Use(module.__name__, "what the library itself says", value)


def sources_of(uses: Iterable[Use], rule_sets: Iterable[RuleSet] = ()) -> tuple[Source, ...]:
    """List the sources that are used.

    Args:
        uses: The uses.
        rule_sets: Rule sets whose own source belongs to it, whether it is used or not.

    Returns:
        Each once, by id.
    """
    found = {use.citation.source for use in uses} | {rules.source for rules in rule_sets}
    return tuple(sorted(found, key=lambda source: (source.id, source.document)))


def taken_from(source: Source, uses: Iterable[Use]) -> tuple[Taken, ...]:
    """Gather what is taken from a source.

    Args:
        source: The source.
        uses: Uses of any source.

    Returns:
        One line for each place, part and kind of value; rows of one table stand together.
    """
    counted: dict[tuple[str, str, str], dict[Status, int]] = {}
    for use in uses:
        if use.citation.source != source:
            continue
        place = use.citation.locator.split(_ROW)[0] or "the whole document"
        by_status = counted.setdefault((place, use.where, use.what), {})
        by_status[use.citation.status] = by_status.get(use.citation.status, 0) + 1
    return tuple(
        Taken(place, what, where, tuple(sorted(found.items()))) for (place, where, what), found in counted.items()
    )
