"""Mutants of the scope: a rope let in that the source does not speak of, or kept out that it does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from turnback.conformance.mutants_steps import Change, edge_slips, length_slips, length_steps
from turnback.rules.ruleset import RuleSet, ScopeEntry

__all__ = ["scope_changes"]

_LISTS: Final = ("constructions", "cores", "grades", "lays", "terminations", "confirm")


def scope_changes(rules: RuleSet) -> Iterator[Change]:
    """Damage the scope.

    Args:
        rules: The rule set.

    Yields:
        The changes, entry by entry.
    """
    for number, entry in enumerate(rules.scope):
        yield _change(rules, number, "", "dropped", None)
        for part, what, other in (*_sizes(entry), *_lists(entry), *_flags(entry)):
            yield _change(rules, number, part, what, other)


def _change(rules: RuleSet, number: int, part: str, what: str, other: ScopeEntry | None) -> Change:
    entries = list(rules.scope)
    entries[number : number + 1] = [] if other is None else [other]
    place = f"scope[{number}].{part}" if part else f"scope[{number}]"
    citation = rules.scope[number].citation
    return Change("", place, what, citation, lambda: attrs.evolve(rules, scope=tuple(entries)))


def _sizes(entry: ScopeEntry) -> Iterator[tuple[str, str, ScopeEntry]]:
    for part, size in (("least", entry.least), ("greatest", entry.greatest)):
        if size is None:
            continue
        for what, moved in (*length_steps(size), *edge_slips(size), *length_slips(size)):
            yield part, what, _with(entry, part, moved)
        yield part, "dropped", _with(entry, part, None)


def _lists(entry: ScopeEntry) -> Iterator[tuple[str, str, ScopeEntry]]:
    for part in _LISTS:
        words: tuple[str, ...] = getattr(entry, part)
        for number, word in enumerate(words):
            yield part, f"'{word}' dropped", _with(entry, part, words[:number] + words[number + 1 :])
        if len(words) > 1:
            yield part, "list dropped", _with(entry, part, ())


def _flags(entry: ScopeEntry) -> Iterator[tuple[str, str, ScopeEntry]]:
    if entry.gives == "counts":
        yield "gives", "taken for everything", attrs.evolve(entry, gives="everything")
    else:
        yield "gives", "taken for counts", attrs.evolve(entry, gives="counts")
    yield "new_only", "flipped", attrs.evolve(entry, new_only=not entry.new_only)
    for value in (True, False, None):
        if value is not entry.rotation_resistant:
            what = {True: "taken for yes", False: "taken for no", None: "dropped"}[value]
            yield "rotation_resistant", what, attrs.evolve(entry, rotation_resistant=value)


def _with(entry: ScopeEntry, part: str, value: object) -> ScopeEntry:
    changes = {part: value}
    return attrs.evolve(entry, **changes)  # type: ignore[arg-type]  # a value of the same field
