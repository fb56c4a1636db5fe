"""Whether a rule set speaks of a rope, and what of it must be confirmed."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from turnback.errors import OutOfScope
from turnback.model.classes import classes_of, is_rotation_resistant, is_strand
from turnback.model.rope import Rope
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.ruleset import RuleSet, ScopeEntry

__all__ = ["Verdict", "scope_verdict"]


@attrs.frozen
class Verdict:
    """What a rule set's scope says of one rope.

    Args:
        counts_only: Whether nothing but the number of clips holds for this rope.
        not_given: Attributes that the scope names and the request does not give.
        outside: Attributes outside the scope that the file lets pass with a finding: name, value, what it covers.
        class_citations: Where the class of the construction comes from, when not from its own name.
        citation: The scope entry.
        terminations: Kinds of eye and splice that it speaks of; empty when it does not say.
    """

    counts_only: bool
    not_given: tuple[str, ...]
    outside: tuple[tuple[str, str, str], ...]
    class_citations: tuple[Citation, ...]
    citation: Citation
    terminations: tuple[str, ...] = ()


def scope_verdict(rules: RuleSet, rope: Rope, diameter: Length) -> Verdict:
    """Check a rope against the scope of a rule set.

    Terminations and the rope's condition refuse nothing here: they decide whether there is a strength.

    Args:
        rules: The rule set.
        rope: The rope.
        diameter: Diameter under the clip [length].

    Returns:
        What holds and what must be confirmed.

    Raises:
        OutOfScope: An attribute of the rope is outside every entry of the scope; the closest entry is named.
    """
    if is_strand(rope.construction) and not any(rope.construction in e.constructions for e in rules.scope):
        raise OutOfScope(
            "a single strand is outside what this rule set speaks of",
            field="construction",
            value=rope.construction,
            citation=str(rules.citation),
            instead="Ask the clip maker; clips grip a strand differently from a rope.",
        )
    if not rules.scope:
        return Verdict(False, (), (), (), rules.citation)
    judged = [_judge(entry, rope, diameter) for entry in rules.scope]
    # An entry that gives everything goes before one that gives counts, wherever it stands in the file.
    pairs = sorted(zip(rules.scope, judged, strict=True), key=lambda pair: pair[0].gives == "counts")
    for entry, (failures, not_given, outside, classes) in pairs:
        if not failures:
            return Verdict(
                entry.gives == "counts",
                tuple(not_given),
                tuple(outside),
                classes,
                entry.citation,
                entry.terminations,
            )
    closest = min(range(len(judged)), key=lambda i: len(judged[i][0]))
    field, value, bound = judged[closest][0][0]
    raise OutOfScope(
        f"{rules.id} does not speak of this rope",
        field=field,
        value=value,
        bound=bound,
        citation=str(rules.scope[closest].citation),
        instead="Take a rule set that covers the rope, or the clip maker's figures as a rule file of your own.",
    )


_Triple = tuple[str, str, str]


def _judge(
    entry: ScopeEntry, rope: Rope, diameter: Length
) -> tuple[list[_Triple], list[str], list[_Triple], tuple[Citation, ...]]:
    failures: list[_Triple] = []
    not_given: list[str] = []
    outside: list[_Triple] = []
    citations: tuple[Citation, ...] = ()
    if entry.least is not None and diameter < entry.least:
        failures.append(("diameter", str(diameter), f"from {entry.least}"))
    if entry.greatest is not None and diameter > entry.greatest:
        failures.append(("diameter", str(diameter), f"up to {entry.greatest}"))
    if entry.constructions and rope.construction:
        found = [named for named in classes_of(rope.construction) if named.value in entry.constructions]
        if found:
            citations = () if found[0].value == rope.construction else found[0].citations
        else:
            _refuse(entry, "construction", "constructions", rope.construction, entry.constructions, failures, outside)
    elif entry.constructions:
        not_given.append("construction")
    _words(entry, "core", "cores", rope.core, entry.cores, (failures, not_given, outside))
    _words(entry, "grade", "grades", rope.grade, entry.grades, (failures, not_given, outside))
    _words(entry, "lay", "lays", rope.lay, entry.lays, (failures, not_given, outside))
    _rotation(entry, rope, failures, not_given)
    return failures, not_given, outside, citations


def _rotation(entry: ScopeEntry, rope: Rope, failures: list[_Triple], not_given: list[str]) -> None:
    required = entry.rotation_resistant
    if required is None:
        return
    resists = is_rotation_resistant(rope)
    if resists is None:
        not_given.append("rotation_resistant")
    elif resists is not required:
        words = ("not rotation-resistant", "rotation-resistant")
        failures.append(("rotation_resistant", words[resists], words[required]))


def _words(
    entry: ScopeEntry,
    field: str,
    plural: str,
    value: str,
    accepted: tuple[str, ...],
    lists: tuple[list[_Triple], list[str], list[_Triple]],
) -> None:
    failures, not_given, outside = lists
    if not accepted:
        return
    if not value:
        not_given.append(field)
    elif value not in accepted:
        _refuse(entry, field, plural, value, accepted, failures, outside)


def _refuse(
    entry: ScopeEntry,
    field: str,
    plural: str,
    value: str,
    accepted: Sequence[str],
    failures: list[_Triple],
    outside: list[_Triple],
) -> None:
    (outside if plural in entry.confirm else failures).append((field, value, " or ".join(accepted)))
