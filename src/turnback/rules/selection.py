"""How the caller names rules: one rule set, several that govern together, or the first that covers the rope.

Nothing is evaluated here. ``a+b`` in text is ``governing(a, b)``; ``a,b`` is ``first_of(a, b)``; plus binds
tighter.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

import attrs

from turnback.errors import InputError
from turnback.rules.ruleset import RuleSet

__all__ = ["FirstOf", "Governing", "RulesChoice", "choice_text", "first_of", "governing", "parse_choice"]


@attrs.frozen
class Governing:
    """Several rule sets that a plan must satisfy at once. Make it with :func:`governing`.

    Args:
        members: Its leaf members and first-of choices, sorted, each once.
    """

    members: tuple[str | RuleSet | FirstOf, ...]

    def __str__(self) -> str:
        return choice_text(self)


@attrs.frozen
class FirstOf:
    """The first choice that covers the rope. Make it with :func:`first_of`.

    Args:
        options: In the order in which they are tried.
    """

    options: tuple[str | RuleSet | Governing, ...]

    def __str__(self) -> str:
        return choice_text(self)


RulesChoice: TypeAlias = str | RuleSet | Governing | FirstOf
"""What ``rules=`` takes."""


def choice_text(choice: RulesChoice) -> str:
    """Write a choice as text that :func:`parse_choice` reads back.

    Args:
        choice: Any choice.

    Returns:
        Ids joined by ``+`` and ``,``.
    """
    if isinstance(choice, str):
        return choice
    if isinstance(choice, RuleSet):
        return choice.id
    if isinstance(choice, Governing):
        return "+".join(choice_text(member) for member in choice.members)
    return ",".join(choice_text(option) for option in choice.options)


def _key(choice: str | RuleSet | FirstOf) -> tuple[str, str]:
    return choice_text(choice), choice.sha256 if isinstance(choice, RuleSet) else ""


def governing(*rules: RulesChoice) -> RulesChoice:
    """Name several rule sets that a plan must satisfy at once.

    The order does not matter, nor how they are nested, nor whether one is named twice; ``governing(a)`` is ``a``.

    Args:
        *rules: Ids, rule sets, or choices made with this function or :func:`first_of`.

    Returns:
        The choice; it is evaluated when rope, clip and base width are known.

    Raises:
        InputError: No rule set is named.
    """
    leaves: dict[tuple[str, str], str | RuleSet | FirstOf] = {}
    for leaf in _leaves(rules):
        leaves.setdefault(_key(leaf), leaf)
    if not leaves:
        raise InputError("no rule set is named", field="rules", instead="Name at least one, such as 'us-ca-8-8497'.")
    members = tuple(leaves[key] for key in sorted(leaves))
    return members[0] if len(members) == 1 else Governing(members)


def _leaves(rules: Iterable[RulesChoice]) -> Iterable[str | RuleSet | FirstOf]:
    for choice in rules:
        parsed = parse_choice(choice) if isinstance(choice, str) else choice
        if isinstance(parsed, Governing):
            yield from parsed.members
        else:
            yield parsed


def first_of(*rules: RulesChoice) -> RulesChoice:
    """Name rule sets of which the first whose scope covers the rope is taken.

    It promises no order between the sources: the next size may fall to another set with other numbers. The plan reports
    which sets were skipped and why.

    Args:
        *rules: Ids, rule sets, or choices, in the order in which they are tried.

    Returns:
        The choice; it is evaluated when the rope is known.

    Raises:
        InputError: No rule set is named.
    """
    options: list[str | RuleSet | Governing] = []
    for choice in rules:
        parsed = parse_choice(choice) if isinstance(choice, str) else choice
        for option in parsed.options if isinstance(parsed, FirstOf) else (parsed,):
            if option not in options:
                options.append(option)
    if not options:
        raise InputError("no rule set is named", field="rules", instead="Name at least one, such as 'us-ca-8-8497'.")
    return options[0] if len(options) == 1 else FirstOf(tuple(options))


def parse_choice(text: str) -> RulesChoice:
    """Read a choice from text.

    Args:
        text: An id, ``a+b`` (governing), ``a,b`` (first of), or both; the plus binds tighter.

    Returns:
        The choice.

    Raises:
        InputError: A name is missing before or behind a ``+`` or ``,``.
    """
    if "+" not in text and "," not in text:
        if not text.strip():
            raise InputError(
                "no rule set is named", field="rules", instead="Name at least one, such as 'us-ca-8-8497'."
            )
        return text.strip()
    options = [[name.strip() for name in option.split("+")] for option in text.split(",")]
    if not all(all(option) for option in options):
        raise InputError(
            "a name is missing beside a + or a comma",
            field="rules",
            value=repr(text),
            instead="Write a+b for rule sets that govern together, a,b for the first that covers the rope.",
        )
    choices = [option[0] if len(option) == 1 else governing(*option) for option in options]
    return choices[0] if len(choices) == 1 else first_of(*choices)
