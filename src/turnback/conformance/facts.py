"""What a rule set says, taken apart into values that a second typing can be held against.

A fact has one plain form here, whichever layout it was typed in: a number, a word, a range, a sorted list of words.
``None``, an empty tuple or ``False`` stand for what is not said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, TypeAlias

from turnback.model.sources import Citation
from turnback.quantities import SIXTY_FOURTH, Length, number_text
from turnback.rules.ruleset import Row, RuleSet, ScopeEntry, SpacingBound

__all__ = [
    "CELLS",
    "FACTS",
    "NOTHING",
    "SCOPE_PARTS",
    "SPACING_FACTS",
    "Value",
    "bound_value",
    "cell_citation",
    "fact_citation",
    "scope_value",
    "size_text",
    "value_text",
]

Value: TypeAlias = object
"""A value in its plain form: hashable, compared by content."""

NOTHING: Final = "nothing"
"""How a report writes what is not said."""

SCOPE_PARTS: Final = (
    "gives", "least", "greatest", "constructions", "cores", "grades", "lays", "terminations", "rotation_resistant",
    "new_only", "confirm",
)  # fmt: skip
"""What an entry of the scope says, in the order of its plain form."""

SPACING_FACTS: Final = ("spacing.least", "spacing.greatest", "spacing.equal")


def _torque(row: Row) -> Value:
    return None if row.torque is None else (row.torque.value.value, row.torque.value.unit)


CELLS: Final[Mapping[str, Callable[[Row], Value]]] = {
    "above": lambda row: row.above,
    "count": lambda row: None if row.count is None else row.count.value,
    "count_forged": lambda row: None if row.count_forged is None else row.count_forged.value,
    "count_other": lambda row: None if row.count_other is None else row.count_other.value,
    "turn_back": lambda row: None if row.turn_back is None else row.turn_back.value,
    "spacing": lambda row: None if row.spacing is None else row.spacing.value,
    "torque": _torque,
    "torque_also": lambda row: None if row.torque is None else row.torque.value.also,
}
"""Column, and what a row says in it."""


def cell_citation(rules: RuleSet, row: Row | None, column: str) -> Citation:
    """Say where a cell stands in print.

    Args:
        rules: The rule set.
        row: The row; None where the rule set has none of that size.
        column: The column.

    Returns:
        The cell's own citation; the file's where the cell has none.
    """
    cell = None if row is None else getattr(row, column.removesuffix("_also"), None)
    found: tuple[Citation, ...] = getattr(cell, "citations", ())
    return found[0] if found else rules.citation


def bound_value(bound: SpacingBound) -> Value:
    """Return a bound on the spacing in its plain form.

    Args:
        bound: The bound.

    Returns:
        Clear or not; diameters, base widths and constant, or None where it is the column of the table.
    """
    length = bound.length
    if length is None:
        return bound.clear, None
    return bound.clear, (length.diameters, length.base_widths, length.constant)


def scope_value(entry: ScopeEntry) -> tuple[Value, ...]:
    """Return an entry of the scope in its plain form.

    Args:
        entry: The entry.

    Returns:
        Its parts in the order of :data:`SCOPE_PARTS`; lists of words are sorted.
    """
    parts = (getattr(entry, name) for name in SCOPE_PARTS)
    return tuple(tuple(sorted(part)) if isinstance(part, tuple) else part for part in parts)


def _bounds(kind: str) -> Callable[[RuleSet], Value]:
    def found(rules: RuleSet) -> Value:
        values = [bound_value(bound) for bound in rules.spacing if bound.bound == kind]
        # A rule file has one bound of a kind at most; a rule set made in Python might have two, which is a fault.
        return values[0] if len(values) == 1 else tuple(values) or None

    return found


def _large_wires(rules: RuleSet) -> Value:
    large = rules.adjustments.large_wires
    return None if large is None else (large.add, large.from_size)


def _count(part: str) -> Callable[[RuleSet], Value]:
    return lambda rules: None if rules.count_rule is None else getattr(rules.count_rule, part)


def _efficiency(rules: RuleSet) -> Value:
    return tuple((band.value, band.least, band.greatest, band.below) for band in rules.efficiency)


FACTS: Final[Mapping[str, Callable[[RuleSet], Value]]] = {
    "pattern": lambda rules: rules.pattern or None,
    "threads": lambda rules: None if rules.threads is None else rules.threads.value,
    "adjustments.large_outer_wires": _large_wires,
    "adjustments.pulley": lambda rules: None if (cell := rules.adjustments.pulley) is None else cell.value,
    "adjustments.more_clips": lambda rules: rules.adjustments.proportion is not None,
    "adjustments.lap_splice": lambda rules: None if (cell := rules.adjustments.lap_factor) is None else cell.value,
    "floors": lambda rules: tuple(sorted(floor.count for floor in rules.floors)),
    "efficiency": _efficiency,
    "efficiency.at_most": lambda rules: None if (cell := rules.efficiency_at_most) is None else cell.value,
    "efficiency.terminations": lambda rules: tuple(sorted(rules.efficiency_terminations)),
    "procedure.begin_at": lambda rules: rules.procedure.begin_at or None,
    "procedure.retorque": lambda rules: rules.procedure.retorque,
    "excluded_services": lambda rules: tuple(sorted(name for name, _ in rules.excluded_services)),
    "count.per_inch": _count("per_inch"),
    "count.plus": _count("plus"),
    "count.least": _count("least"),
    "count.greatest": _count("greatest"),
    **{name: _bounds(name.partition(".")[2]) for name in SPACING_FACTS},
}
"""Place of a fact that stands in no table, and what a rule set says there."""


def fact_citation(rules: RuleSet, place: str) -> Citation:
    """Say where a fact stands in print.

    Args:
        rules: The rule set.
        place: The place, such as ``adjustments.pulley``.

    Returns:
        The fact's own citation; the file's where the rule set says nothing there.
    """
    held: tuple[Citation | None, ...] = ()
    adjustments, procedure, rule = rules.adjustments, rules.procedure, rules.count_rule
    if place == "threads" and rules.threads is not None:
        held = rules.threads.citations
    elif place == "adjustments.large_outer_wires" and adjustments.large_wires is not None:
        held = (adjustments.large_wires.citation,)
    elif place == "adjustments.more_clips":
        held = (adjustments.proportion,)
    elif place in ("adjustments.pulley", "adjustments.lap_splice"):
        cell = adjustments.pulley if place == "adjustments.pulley" else adjustments.lap_factor
        held = () if cell is None else cell.citations
    elif place.startswith("procedure."):
        held = (procedure.begin_citation if place == "procedure.begin_at" else procedure.retorque_citation,)
    elif place.startswith("count.") and rule is not None:
        held = (rule.sizes_citation if place in ("count.least", "count.greatest") else rule.citation,)
    else:
        held = _of_entries(rules, place)
    return next((citation for citation in held if citation is not None), rules.citation)


def _of_entries(rules: RuleSet, place: str) -> tuple[Citation, ...]:
    if place == "floors":
        return tuple(floor.citation for floor in rules.floors)
    if place == "efficiency.at_most":
        return () if rules.efficiency_at_most is None else rules.efficiency_at_most.citations
    if place.startswith("efficiency"):
        return tuple(band.citation for band in rules.efficiency)
    if place == "excluded_services":
        return tuple(text.citations[0] for _, text in rules.excluded_services)
    if place in SPACING_FACTS:
        kind = place.partition(".")[2]
        return tuple(bound.citation for bound in rules.spacing if bound.bound == kind)
    return ()


def size_text(size: Length) -> str:
    """Write the size of a row, short, for the place of a cell.

    Args:
        size: The size [length].

    Returns:
        ``3/4 in`` where a tape in inches has a mark, else ``13 mm``.
    """
    return size.text("mm" if size.nanometres % SIXTY_FOURTH.nanometres else "in")


def value_text(value: Value) -> str:
    """Write a value in its plain form for a report.

    Args:
        value: The value.

    Returns:
        Text such as ``11-1/2 in``, ``65 lbf·ft``, ``IPS, EIP`` or ``nothing``.
    """
    if value is None or value == ():
        return NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return number_text(value)
    if isinstance(value, Length):
        return value.text("both")
    return _tuple_text(value) if isinstance(value, tuple) else str(value)


def _tuple_text(value: tuple[Value, ...]) -> str:
    if len(value) == 2 and isinstance(value[0], Fraction) and isinstance(value[1], str):
        return f"{number_text(value[0])} {value[1]}"
    if len(value) == 2 and isinstance(value[0], bool):
        return _bound_text(value[0], value[1])
    return ", ".join(f"({value_text(each)})" if isinstance(each, tuple) else value_text(each) for each in value)


def _bound_text(clear: bool, length: Value) -> str:
    how = "clear" if clear else "centre to centre"
    if not isinstance(length, tuple):
        return f"the column of the table, {how}"
    named = zip(length, ("diameters", "base widths", ""), strict=True)
    parts = [f"{value_text(part)} {name}".strip() for part, name in named if part not in (0, Length(0))]
    return f"{' + '.join(parts) or 'zero'}, {how}"
