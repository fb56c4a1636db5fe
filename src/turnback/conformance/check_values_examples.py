"""What a rule set answers for one rope, held against examples that were printed or reckoned by hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Final

from turnback.conformance.check_values_parts import Difference, Example
from turnback.conformance.facts import CELLS, Value, value_text
from turnback.errors import OutOfTable
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.ruleset import Row, RuleSet

__all__ = ["ANSWERS", "NEEDS_BASE_WIDTH", "example_differences"]

NEEDS_BASE_WIDTH: Final = "a base width is needed"

ANSWERS: Final = ("clip_size", "count", "turn_back", "least_spacing", "greatest_spacing", "torque")
"""What an example may state."""


def example_differences(examples: tuple[Example, ...], rules: RuleSet) -> Iterator[Difference]:
    """Ask a rule set for each rope of the examples.

    Args:
        examples: The examples.
        rules: The rule set.

    Yields:
        What it answers otherwise.
    """
    for number, example in enumerate(examples):
        place = f"examples[{number}]"
        try:
            row = rules.row_for(example.size)
        except OutOfTable:
            if not example.refused:
                yield Difference(place, f"a clip for {value_text(example.size)}", "none takes it", rules.citation)
            continue
        if example.refused:
            yield Difference(
                place, f"no clip takes {value_text(example.size)}", f"the size {value_text(row.size)}", rules.citation
            )
            continue
        for name, expected in example.answers:
            got = _ASKED[name](rules, row, example)
            if got != expected:
                yield Difference(f"{place}.{name}", value_text(expected), value_text(got), _citation(rules, row, name))


def _citation(rules: RuleSet, row: Row, name: str) -> Citation:
    if name.endswith("spacing") and rules.spacing:
        return rules.spacing[0].citation
    cell = {"count": row.count_for("not given"), "turn_back": row.turn_back, "torque": row.torque}.get(name)
    return rules.citation if cell is None else cell.citations[0]


def _count(_: RuleSet, row: Row, example: Example) -> Value:
    cell = row.count_for(example.body)
    return None if cell is None else cell.value


def _spacings(rules: RuleSet, row: Row, example: Example, kind: str) -> list[Fraction] | str:
    """Bounds of one kind in nanometres from centre to centre."""
    found: list[Fraction] = []
    for bound in rules.spacing:
        if bound.bound not in (kind, "equal"):
            continue
        if bound.length is not None:
            value = bound.length.nanometres(example.size, example.base_width)
        elif row.spacing is not None:
            value = Fraction(row.spacing.value.nanometres)
        else:
            continue
        if value is None or (bound.clear and example.base_width is None):
            return NEEDS_BASE_WIDTH
        clear = bound.clear and example.base_width is not None
        found.append(value + (example.base_width.nanometres if clear and example.base_width is not None else 0))
    return found


def _least(rules: RuleSet, row: Row, example: Example) -> Value:
    found = _spacings(rules, row, example, "least")
    if isinstance(found, str):
        return found
    return Length.up(max(found)) if found else None


def _greatest(rules: RuleSet, row: Row, example: Example) -> Value:
    found = _spacings(rules, row, example, "greatest")
    if isinstance(found, str):
        return found
    return Length.down(min(found)) if found else None


def _torque(_: RuleSet, row: Row, example: Example) -> Value:  # noqa: ARG001  # every answer is asked alike
    return None if row.torque is None else row.torque.value


_ASKED: Final[Mapping[str, Callable[[RuleSet, Row, Example], Value]]] = {
    "clip_size": lambda _, row, __: row.size,
    "count": _count,
    "turn_back": lambda _, row, __: CELLS["turn_back"](row),
    "least_spacing": _least,
    "greatest_spacing": _greatest,
    "torque": _torque,
}
