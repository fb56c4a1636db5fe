"""Mutants of the numbers that stand outside the table: linear counts, bounds of the spacing, efficiencies."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final

import attrs

from turnback.conformance.facts import fact_citation
from turnback.conformance.mutants_steps import MILLIMETRES, Change, edge_slips, length_slips, length_steps
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.ruleset import CountRule, EfficiencyBand, LinearLength, RuleSet, SpacingBound

__all__ = ["number_changes"]

_PERCENT: Final = Fraction(1, 100)
_KINDS: Final = ("least", "greatest", "equal")
_ZERO: Final = Length(0)


def number_changes(rules: RuleSet) -> Iterator[Change]:
    """Damage the linear count, the bounds of the spacing and the efficiencies.

    Args:
        rules: The rule set.

    Yields:
        The changes.
    """
    yield from _count(rules)
    for number in range(len(rules.spacing)):
        yield from _spacing(rules, number)
    for number in range(len(rules.efficiency)):
        yield from _band(rules, number)
    yield from _bands_exchanged(rules)
    yield from _at_most(rules)


def _count(rules: RuleSet) -> Iterator[Change]:
    rule = rules.count_rule
    if rule is None:
        return

    def change(column: str, what: str, other: CountRule | None) -> Change:
        place = f"count.{column}"
        citation = fact_citation(rules, place)
        return Change("", place, what, citation, lambda: attrs.evolve(rules, count_rule=other))

    yield change("per_inch", "one up", attrs.evolve(rule, per_inch=rule.per_inch + 1))
    if rule.per_inch:
        yield change("per_inch", "one down", attrs.evolve(rule, per_inch=rule.per_inch - 1))
        yield change("per_inch", "per millimetre, 25.4 times", attrs.evolve(rule, per_inch=rule.per_inch * MILLIMETRES))
        yield change(
            "per_inch", "per millimetre, a 25.4th part", attrs.evolve(rule, per_inch=rule.per_inch / MILLIMETRES)
        )
    yield change("plus", "one up", attrs.evolve(rule, plus=rule.plus + 1))
    yield change("plus", "one down", attrs.evolve(rule, plus=rule.plus - 1))
    if rule.least is not None:
        for what, length in _moved(rule.least):
            yield change("least", what, attrs.evolve(rule, least=length))
        yield change("least", "dropped", attrs.evolve(rule, least=None))
    if rule.greatest is not None:
        for what, length in _moved(rule.greatest):
            yield change("greatest", what, attrs.evolve(rule, greatest=length))
        yield change("greatest", "dropped", attrs.evolve(rule, greatest=None))
    yield change("per_inch", "rule dropped", None)


def _moved(length: Length) -> Iterator[tuple[str, Length]]:
    yield from length_steps(length)
    yield from edge_slips(length)
    yield from length_slips(length)


def _spacing(rules: RuleSet, number: int) -> Iterator[Change]:
    bound = rules.spacing[number]
    place = f"spacing.{bound.bound}"

    def change(what: str, other: SpacingBound | None, part: str = "") -> Change:
        bounds = list(rules.spacing)
        bounds[number : number + 1] = [] if other is None else [other]
        where = f"{place}.{part}" if part else place
        return Change("", where, what, bound.citation, lambda: attrs.evolve(rules, spacing=tuple(bounds)))

    yield change("dropped", None)
    for kind in _KINDS:
        if kind != bound.bound:
            yield change(f"taken for {kind}", attrs.evolve(bound, bound=kind))
    measured = "centre to centre" if bound.clear else "clear"
    yield change(f"measured {measured}", attrs.evolve(bound, clear=not bound.clear))
    if bound.length is None:
        six = LinearLength(Fraction(6), Fraction(0), _ZERO, "6 diameters")
        yield change("six diameters in place of the column", attrs.evolve(bound, length=six))
        return
    for part, what, length in _terms(bound.length):
        yield change(what, attrs.evolve(bound, length=length), part)


def _terms(length: LinearLength) -> Iterator[tuple[str, str, LinearLength]]:
    yield "diameters", "one up", attrs.evolve(length, diameters=length.diameters + 1)
    if length.diameters:
        yield "diameters", "one down", attrs.evolve(length, diameters=length.diameters - 1)
    yield "base_widths", "one up", attrs.evolve(length, base_widths=length.base_widths + 1)
    if length.base_widths:
        yield "base_widths", "one down", attrs.evolve(length, base_widths=length.base_widths - 1)
    if length.diameters != length.base_widths:
        exchanged = attrs.evolve(length, diameters=length.base_widths, base_widths=length.diameters)
        yield "diameters", "exchanged with base widths", exchanged
    yield "constant", "one inch up", attrs.evolve(length, constant=length.constant + Length.of("1 in"))
    if length.constant != _ZERO:
        yield "constant", "dropped", attrs.evolve(length, constant=_ZERO)
        for what, constant in (*length_steps(length.constant), *length_slips(length.constant)):
            yield "constant", what, attrs.evolve(length, constant=constant)


def _band(rules: RuleSet, number: int) -> Iterator[Change]:
    band = rules.efficiency[number]
    place = f"efficiency[{number}]"

    def change(part: str, what: str, other: EfficiencyBand | None) -> Change:
        bands = list(rules.efficiency)
        bands[number : number + 1] = [] if other is None else [other]
        where = f"{place}.{part}" if part else place
        return Change("", where, what, band.citation, lambda: attrs.evolve(rules, efficiency=tuple(bands)))

    yield change("", "dropped", None)
    yield change("value", "one per cent up", attrs.evolve(band, value=band.value + _PERCENT))
    yield change("value", "one per cent down", attrs.evolve(band, value=band.value - _PERCENT))
    yield change("value", "point slipped, a tenth", attrs.evolve(band, value=band.value / 10))
    if band.least is not None:
        for what, length in _moved(band.least):
            yield change("least", what, attrs.evolve(band, least=length))
        yield change("least", "dropped", attrs.evolve(band, least=None))
    if band.greatest is not None:
        for what, length in _moved(band.greatest):
            yield change("greatest", what, attrs.evolve(band, greatest=length))
        yield change("greatest", "dropped", attrs.evolve(band, greatest=None))
        yield change("greatest", "taken for below", attrs.evolve(band, greatest=None, below=band.greatest))
    if band.below is not None:
        for what, length in _moved(band.below):
            yield change("below", what, attrs.evolve(band, below=length))
        yield change("below", "dropped", attrs.evolve(band, below=None))
        yield change("below", "taken for greatest", attrs.evolve(band, below=None, greatest=band.below))


def _bands_exchanged(rules: RuleSet) -> Iterator[Change]:
    for number, (one, other) in enumerate(pairwise(rules.efficiency)):
        if one.value == other.value:
            continue
        bands = list(rules.efficiency)
        bands[number : number + 2] = [attrs.evolve(one, value=other.value), attrs.evolve(other, value=one.value)]
        made = _efficiency(rules, tuple(bands))
        yield Change("", f"efficiency[{number}].value", "exchanged with that of the next range", one.citation, made)


def _efficiency(rules: RuleSet, bands: tuple[EfficiencyBand, ...]) -> Callable[[], RuleSet]:
    return lambda: attrs.evolve(rules, efficiency=bands)


def _at_most(rules: RuleSet) -> Iterator[Change]:
    cell = rules.efficiency_at_most
    if cell is None:
        return
    citation: Citation = cell.citations[0]

    def change(what: str, value: Fraction | None) -> Change:
        other = None if value is None else attrs.evolve(cell, value=value)
        made = lambda: attrs.evolve(rules, efficiency_at_most=other)  # noqa: E731  # bound to this value
        return Change("", "efficiency.at_most", what, citation, made)

    yield change("one per cent up", cell.value + _PERCENT)
    yield change("one per cent down", cell.value - _PERCENT)
    yield change("dropped", None)
    if not rules.efficiency:
        band = EfficiencyBand(cell.value, None, None, citation)
        kinds = rules.efficiency_terminations or ("thimble eye",)
        yield Change(
            "",
            "efficiency.at_most",
            "taken for a value",
            citation,
            lambda: attrs.evolve(rules, efficiency=(band,), efficiency_terminations=kinds),
        )
