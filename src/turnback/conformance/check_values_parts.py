"""The parts of a second typing: columns, facts, examples; and what a rule set has otherwise."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from turnback.conformance.facts import (
    CELLS,
    FACTS,
    NOTHING,
    SCOPE_PARTS,
    Value,
    cell_citation,
    fact_citation,
    scope_value,
    size_text,
    value_text,
)
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.rows import BodyOfClip
from turnback.rules.ruleset import RuleSet, ScopeEntry

__all__ = ["Column", "Difference", "Example", "Fact", "cell_differences", "fact_differences", "scope_differences"]


@attrs.frozen
class Difference:
    """One place where a rule set and a second typing of its source differ.

    Args:
        place: The place, such as ``rows[3/4 in].torque``.
        expected: What was typed the second time.
        got: What the rule set has.
        citation: Where it stands in print.
    """

    place: str
    expected: str
    got: str
    citation: Citation

    def __str__(self) -> str:
        return f"{self.place}: typed {self.expected}, the rule set has {self.got} [{self.citation}]"


@attrs.frozen
class Column:
    """One column of a table.

    Args:
        name: Its name, as in the file.
        cells: One value for each size, in their plain form; None where nothing is printed.
    """

    name: str
    cells: tuple[Value, ...]


@attrs.frozen
class Fact:
    """Something that stands in no table.

    Args:
        place: Where a rule set says it, such as ``adjustments.pulley``.
        value: Its value in its plain form.
    """

    place: str
    value: Value


@attrs.frozen
class Example:
    """What a rule set answers for one rope.

    Args:
        size: Nominal rope diameter [length].
        body: Body of the clips.
        base_width: Base width of the clip [length]; None when it does not matter.
        refused: Whether no clip size takes this rope.
        answers: What is asked and the answer in its plain form; None where there is none.
    """

    size: Length
    body: BodyOfClip
    base_width: Length | None
    refused: bool
    answers: tuple[tuple[str, Value], ...]


def cell_differences(sizes: tuple[Length, ...], columns: tuple[Column, ...], rules: RuleSet) -> Iterator[Difference]:
    """Compare the tables, both ways.

    Args:
        sizes: The sizes that were typed [length].
        columns: The columns that were typed, each as long as the sizes.
        rules: The rule set.

    Yields:
        What differs, by size and column.
    """
    held = {row.size: row for row in rules.rows}
    # Most rule sets compared are mutants with the sizes of the original, so the usual case is one comparison.
    if tuple(held) != sizes:
        for size in sorted(held.keys() - set(sizes)):
            yield Difference(f"rows[{size_text(size)}].size", NOTHING, value_text(size), rules.citation)
    for number, size in enumerate(sizes):
        row = held.get(size)
        if row is None:
            yield Difference(f"rows[{size_text(size)}].size", value_text(size), NOTHING, rules.citation)
            continue
        place = f"rows[{size_text(size)}]"
        for column in columns:
            expected, got = column.cells[number], CELLS[column.name](row)
            if expected != got:
                citation = cell_citation(rules, row, column.name)
                yield Difference(f"{place}.{column.name}", value_text(expected), value_text(got), citation)


def fact_differences(facts: tuple[Fact, ...], rules: RuleSet) -> Iterator[Difference]:
    """Compare what stands in no table.

    Args:
        facts: What was typed.
        rules: The rule set.

    Yields:
        What differs, in the order of the facts.
    """
    for fact in facts:
        got = FACTS[fact.place](rules)
        if got != fact.value:
            citation = fact_citation(rules, fact.place)
            yield Difference(fact.place, value_text(fact.value), value_text(got), citation)


def scope_differences(entries: tuple[tuple[Value, ...], ...], rules: RuleSet) -> Iterator[Difference]:
    """Compare the scope; the order of its entries says nothing.

    Args:
        entries: The entries that were typed, in their plain form.
        rules: The rule set.

    Yields:
        What differs; entries that are alike in most parts are held against each other.
    """
    unmet = list(entries)
    left: list[tuple[int, ScopeEntry, tuple[Value, ...]]] = []
    for number, entry in enumerate(rules.scope):
        value = scope_value(entry)
        if value in unmet:
            unmet.remove(value)
        else:
            left.append((number, entry, value))
    for number, entry, value in left:
        if not unmet:
            yield Difference(f"scope[{number}]", NOTHING, _entry_text(value), entry.citation)
            continue
        nearest = max(unmet, key=lambda typed: _alike(typed, value))
        unmet.remove(nearest)
        for name, expected, got in zip(SCOPE_PARTS, nearest, value, strict=True):
            if expected != got:
                yield Difference(f"scope[{number}].{name}", value_text(expected), value_text(got), entry.citation)
    for typed in unmet:
        yield Difference("scope", _entry_text(typed), NOTHING, rules.citation)


def _alike(one: tuple[Value, ...], other: tuple[Value, ...]) -> int:
    return sum(mine == yours for mine, yours in zip(one, other, strict=True))


def _entry_text(value: tuple[Value, ...]) -> str:
    said = [
        f"{name} {value_text(part)}" for name, part in zip(SCOPE_PARTS, value, strict=True) if part not in (None, ())
    ]
    return "; ".join(said)
