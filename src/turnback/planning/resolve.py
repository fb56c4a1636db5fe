"""From the name of the rules to the rule sets themselves, once the rope is known."""

from __future__ import annotations

import attrs

from turnback.errors import InputError, OutOfScope, OutOfTable, TurnbackError, UnknownRuleSet
from turnback.model.rope import Rope
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, Row, RuleSet
from turnback.rules.scope import Verdict, scope_verdict
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, parse_choice

__all__ = ["Member", "Resolved", "covering", "resolve", "seat_diameter"]


@attrs.frozen
class Member:
    """One rule set that governs a plan, with what it says for this rope.

    Args:
        rules: The rule set.
        verdict: What its scope says of the rope.
        row: Its row for the clip size.
    """

    rules: RuleSet
    verdict: Verdict
    row: Row


@attrs.frozen
class Resolved:
    """The rule sets that govern a plan.

    Args:
        members: Leaf members by id, each once.
        skipped: Options of a first-of choice that were passed over: name and reason.
    """

    members: tuple[Member, ...]
    skipped: tuple[tuple[str, str], ...]


def seat_diameter(rope: Rope, *, in_series: bool) -> Length:
    """Return the diameter that the clip is sized to.

    Args:
        rope: The rope.
        in_series: Whether the style's clips stand in a row; one body is sized to the finished diameter always.

    Returns:
        The finished diameter where a coating stays on, otherwise the bare nominal one [length].
    """
    if rope.coating is not None and not (rope.coating.stripped and in_series):
        return rope.coating.finished_diameter
    return rope.diameter


def resolve(request: Request, catalogue: Catalogue) -> Resolved:
    """Find the rule sets that a request names and what each says for its rope.

    Args:
        request: The request.
        catalogue: What is at hand.

    Returns:
        The members and the options that were skipped.

    Raises:
        UnknownRuleSet: None was named (the message lists those that cover the rope), or a name is unknown.
        OutOfScope: A member does not speak of the rope.
        OutOfTable: A member has no row for the size.
        InputError: A member is for another style.
    """
    if request.rules is None:
        raise _none_named(request, catalogue)
    choice = parse_choice(request.rules) if isinstance(request.rules, str) else request.rules
    skipped: list[tuple[str, str]] = []
    members = _members(choice, request, catalogue, skipped)
    # By content, as the choice itself is compared: two sets may share a name and differ in what they ask for.
    unique = {attrs.evolve(member.rules, origin=""): member for member in members}
    names = {(rules.id, rules.sha256) for rules in unique}
    order = (lambda r: (r.id, r.sha256)) if len(names) == len(unique) else repr
    return Resolved(tuple(unique[rules] for rules in sorted(unique, key=order)), tuple(skipped))


def _members(
    choice: RulesChoice, request: Request, catalogue: Catalogue, skipped: list[tuple[str, str]]
) -> list[Member]:
    if isinstance(choice, Governing):
        return [member for part in choice.members for member in _members(part, request, catalogue, skipped)]
    if not isinstance(choice, FirstOf):
        return [_member(catalogue.rule_set(choice) if isinstance(choice, str) else choice, request, catalogue)]
    reasons: list[str] = []
    for option in choice.options:
        try:
            return _members(option, request, catalogue, skipped)
        except (OutOfScope, OutOfTable) as error:
            skipped.append((choice_text(option), str(error)))
            reasons.append(str(error))
    raise OutOfScope(
        "none of the rule sets named covers this rope",
        field="rules",
        value=choice_text(choice),
        bound=" / ".join(reasons),
        instead="Name a rule set that covers the rope, or write the clip maker's figures as a rule file.",
    )


def _member(rules: RuleSet, request: Request, catalogue: Catalogue) -> Member:
    if rules.style not in (request.style, ANY_STYLE) or rules.is_basis:
        raise InputError(
            f"this rule set is not for the style {request.style}",
            field="rules",
            value=rules.id,
            bound="it gives efficiencies alone" if rules.is_basis else f"it is for {rules.style}",
            citation=str(rules.citation),
            instead=f"Name a rule set for {request.style}, or take the style {rules.style}.",
        )
    seat = seat_diameter(request.rope, in_series=catalogue.style(request.style).in_series)
    # The size first: a metric rope under an inch table is told its neighbours, not that its grade has another name.
    # A rule without a table speaks of the rope's diameter, whatever clip is put on it.
    by_rope = request.clip_size is None or not rules.rows
    row = rules.row_for(seat) if by_rope or request.clip_size is None else _row_of_size(rules, request.clip_size)
    return Member(rules, scope_verdict(rules, request.rope, seat), row)


def _row_of_size(rules: RuleSet, size: Length) -> Row:
    row = rules.row_for(size, "clip_size")
    if row.size == size:
        return row
    # A size that takes a range of ropes is still one size of clip; no clip is made between two of them.
    smaller = [each.size for each in rules.rows if each.size < size]
    raise OutOfTable(
        f"{rules.id} prints no clip of this size",
        field="clip_size",
        value=str(size),
        bound="nearest printed sizes: " + ", ".join(str(each) for each in (*smaller[-1:], row.size)),
        citation=str(rules.citation),
        instead="Name a clip size that is printed, or leave it out and let the rope's diameter pick the row.",
    )


def covering(catalogue: Catalogue, rope: Rope, style: str) -> tuple[tuple[RuleSet, TurnbackError | None], ...]:
    """Say of every rule set for a style whether it covers a rope.

    Args:
        catalogue: What is at hand.
        rope: The rope.
        style: Id of the style.

    Returns:
        Each rule set with None, or with the error that says why it does not cover the rope.
    """
    seat = seat_diameter(rope, in_series=catalogue.style(style).in_series)
    found: list[tuple[RuleSet, TurnbackError | None]] = []
    for rules in catalogue.for_style(style):
        try:
            rules.row_for(seat)
            scope_verdict(rules, rope, seat)
            found.append((rules, None))
        except (OutOfScope, OutOfTable) as error:
            found.append((rules, error))
    return tuple(found)


def _none_named(request: Request, catalogue: Catalogue) -> TurnbackError:
    names = [rules.id for rules, error in covering(catalogue, request.rope, request.style) if error is None]
    broken = "; ".join(str(failure) for failure in catalogue.failures)
    return UnknownRuleSet(
        "the caller names the rule set; none is chosen for you" + (f" (refused plugins: {broken})" if broken else ""),
        field="rules",
        bound="these cover the rope: " + (", ".join(names) or "none"),
        instead="Name one of them, several joined by + to satisfy them all, or a rule file of your own.",
    )
