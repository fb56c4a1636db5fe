"""Mutants of what a rule set says in words and single numbers: pattern, threads, adjustments, floors, procedure."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

import attrs

from turnback.conformance.facts import fact_citation
from turnback.conformance.mutants_steps import Change, edge_slips, length_slips, length_steps
from turnback.rules.ruleset import Adjustments, Procedure, RuleSet

__all__ = ["fact_changes"]


def fact_changes(rules: RuleSet) -> Iterator[Change]:
    """Damage what a rule set says in words and single numbers.

    Args:
        rules: The rule set.

    Yields:
        The changes.
    """
    yield from _words(rules)
    yield from _adjustments(rules)
    yield from _floors(rules)
    yield from _procedure(rules)
    yield from _lists(rules)


def _change(rules: RuleSet, place: str, what: str, make: Callable[[], RuleSet], said: str = "") -> Change:
    return Change("", place, what, fact_citation(rules, said or place), make)


def _words(rules: RuleSet) -> Iterator[Change]:
    if rules.pattern:
        other = "inch" if rules.pattern != "inch" else "en-metric"
        yield _change(rules, "pattern", f"taken for {other}", lambda: attrs.evolve(rules, pattern=other))
        yield _change(rules, "pattern", "dropped", lambda: attrs.evolve(rules, pattern=""))
    threads = rules.threads
    if threads is not None:
        condition = "greased" if threads.value == "dry" else "dry"
        turned = attrs.evolve(threads, value=condition)
        yield _change(rules, "threads", f"taken for {condition}", lambda: attrs.evolve(rules, threads=turned))
        yield _change(rules, "threads", "dropped", lambda: attrs.evolve(rules, threads=None))


def _adjustments(rules: RuleSet) -> Iterator[Change]:
    held = rules.adjustments

    def change(place: str, what: str, make: Callable[[], Adjustments]) -> Change:
        return _change(rules, f"adjustments.{place}", what, lambda: attrs.evolve(rules, adjustments=make()))

    large = held.large_wires
    if large is not None:
        for what, add in (("add one up", large.add + 1), ("add one down", large.add - 1)):
            other = attrs.evolve(large, add=add)
            yield change("large_outer_wires", what, _bound(held, "large_wires", other))
        start = large.from_size
        for what, size in (*length_steps(start), *edge_slips(start), *length_slips(start)):
            other = attrs.evolve(large, from_size=size)
            yield change("large_outer_wires", f"from: {what}", _bound(held, "large_wires", other))
        yield change("large_outer_wires", "dropped", _bound(held, "large_wires", None))
    if held.pulley is not None:
        for what, step in (("one up", 1), ("one down", -1)):
            cell = attrs.evolve(held.pulley, value=held.pulley.value + step)
            yield change("pulley", what, _bound(held, "pulley", cell))
        yield change("pulley", "dropped", _bound(held, "pulley", None))
    if held.proportion is not None:
        yield change("more_clips", "dropped", _bound(held, "proportion", None))
    if held.lap_factor is not None:
        for what, step in (("one up", 1), ("one down", -1)):
            cell = attrs.evolve(held.lap_factor, value=held.lap_factor.value + step)
            yield change("lap_splice", what, _bound(held, "lap_factor", cell))
        yield change("lap_splice", "dropped", _bound(held, "lap_factor", None))


def _bound(held: Adjustments, name: str, value: object) -> Callable[[], Adjustments]:
    changes = {name: value}
    return lambda: attrs.evolve(held, **changes)  # type: ignore[arg-type]  # a value of the same field


def _floors(rules: RuleSet) -> Iterator[Change]:
    for number, floor in enumerate(rules.floors):
        for what, other in (
            ("one up", attrs.evolve(floor, count=floor.count + 1)),
            ("one down", attrs.evolve(floor, count=floor.count - 1)),
            ("dropped", None),
        ):
            floors = list(rules.floors)
            floors[number : number + 1] = [] if other is None else [other]
            made = _evolved(rules, "floors", tuple(floors))
            yield Change("", f"floors[{number}]", what, floor.citation, made)


def _evolved(rules: RuleSet, name: str, value: object) -> Callable[[], RuleSet]:
    changes = {name: value}
    return lambda: attrs.evolve(rules, **changes)  # type: ignore[arg-type]  # a value of the same field


def _procedure(rules: RuleSet) -> Iterator[Change]:
    held = rules.procedure

    def change(place: str, what: str, procedure: Procedure) -> Change:
        return _change(rules, f"procedure.{place}", what, lambda: attrs.evolve(rules, procedure=procedure))

    if held.begin_at == "dead end":
        yield change("begin_at", "taken for eye", attrs.evolve(held, begin_at="eye"))
    elif held.begin_at:
        yield change("begin_at", "taken for dead end", attrs.evolve(held, begin_at="dead end"))
    if held.begin_at:
        yield change("begin_at", "dropped", attrs.evolve(held, begin_at="", begin_citation=None))
    for number, (one, other) in enumerate(pairwise(held.retorque)):
        times = list(held.retorque)
        times[number : number + 2] = [other, one]
        what = f"'{one}' after '{other}'"
        yield change("retorque", what, attrs.evolve(held, retorque=tuple(times)))
    for number, time in enumerate(held.retorque):
        left = held.retorque[:number] + held.retorque[number + 1 :]
        yield change("retorque", f"'{time}' dropped", attrs.evolve(held, retorque=left))


def _lists(rules: RuleSet) -> Iterator[Change]:
    for number, (service, text) in enumerate(rules.excluded_services):
        left = rules.excluded_services[:number] + rules.excluded_services[number + 1 :]
        made = _evolved(rules, "excluded_services", left)
        yield Change("", "excluded_services", f"'{service}' dropped", text.citations[0], made)
    for number, kind in enumerate(rules.efficiency_terminations):
        kinds = rules.efficiency_terminations[:number] + rules.efficiency_terminations[number + 1 :]
        made = _evolved(rules, "efficiency_terminations", kinds)
        yield _change(rules, "efficiency.terminations", f"'{kind}' dropped", made)
