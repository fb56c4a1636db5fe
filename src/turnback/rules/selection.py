"""How the caller names rules: one rule set, several that govern together, or the first that covers the rope.

Nothing is evaluated here. ``a+b`` in text is ``governing(a, b)``; ``a,b`` is ``first_of(a, b)``; plus binds
tighter, and round brackets group.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, TypeAlias

import attrs

from turnback.errors import InputError
from turnback.quantities.grammar import shown
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

Leaf: TypeAlias = str | RuleSet | FirstOf

_LONGEST: Final = 4000
_DEEPEST: Final = 8
_MARKS: Final = re.compile(r"([+,()])")


def choice_text(choice: RulesChoice) -> str:
    """Write a choice as text that :func:`parse_choice` reads back.

    Args:
        choice: Any choice.

    Returns:
        Ids joined by ``+`` and ``,``; a first-of choice that governs with others stands in round brackets.
    """
    if isinstance(choice, str):
        return choice
    if isinstance(choice, RuleSet):
        return choice.id
    if isinstance(choice, Governing):
        parts = [(member, choice_text(member)) for member in choice.members]
        return "+".join(f"({text})" if isinstance(member, FirstOf) else text for member, text in parts)
    return ",".join(choice_text(option) for option in choice.options)


def _key(choice: RulesChoice) -> tuple[str, str]:
    return choice_text(choice), choice.sha256 if isinstance(choice, RuleSet) else ""


def _same(one: RulesChoice, other: RulesChoice) -> bool:
    # By content: neither the name of the file nor its hash tells, for a rule set may be changed in the program.
    if isinstance(one, RuleSet) and isinstance(other, RuleSet):
        return one == attrs.evolve(other, origin=one.origin)
    return one == other


def _once(choices: Iterable[Leaf]) -> list[Leaf]:
    kept: list[Leaf] = []
    for choice in choices:
        if not any(_same(choice, other) for other in kept):
            kept.append(choice)
    return kept


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
    leaves = _once(_leaves(rules))
    if not leaves:
        raise _none_named()
    if len({_key(leaf) for leaf in leaves}) < len(leaves):
        leaves.sort(key=repr)  # so that the order does not matter between rule sets of one name and hash either
    leaves.sort(key=_key)
    return leaves[0] if len(leaves) == 1 else Governing(tuple(leaves))


def _leaves(rules: Iterable[RulesChoice]) -> Iterable[Leaf]:
    for choice in rules:
        parsed = _choice(choice)
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
        parsed = _choice(choice)
        for option in parsed.options if isinstance(parsed, FirstOf) else (parsed,):
            if not any(_same(option, other) for other in options):
                options.append(option)
    if not options:
        raise _none_named()
    return options[0] if len(options) == 1 else FirstOf(tuple(options))


def parse_choice(text: str) -> RulesChoice:
    """Read a choice from text.

    Args:
        text: An id, ``a+b`` (governing), ``a,b`` (first of), or both; the plus binds tighter, round brackets group.

    Returns:
        The choice.

    Raises:
        InputError: It is no text or a very long one, a name is missing before or behind a ``+`` or ``,``, or a bracket
            stands where none belongs.
    """
    given: object = text  # a caller without a type checker may hand over anything
    if not isinstance(given, str) or len(text) > _LONGEST:
        raise InputError(
            "this names no rule set", field="rules", value=shown(text), bound=f"text of at most {_LONGEST} characters"
        )
    if not text.strip():
        raise _none_named()
    return _Reader(text).whole()


class _Reader:
    """Reads one text from left to right."""

    __slots__ = ("_at", "_parts", "_text")

    def __init__(self, text: str) -> None:
        self._text = text
        self._parts = [part.strip() for part in _MARKS.split(text)]
        self._at = 0

    def whole(self) -> RulesChoice:
        choice = self._options(0)
        if self._at < len(self._parts):
            raise self._wrong("a round bracket stands where none belongs")
        return choice

    def _options(self, depth: int) -> RulesChoice:
        options = [self._members(depth)]
        while self._takes(","):
            options.append(self._members(depth))
        return options[0] if len(options) == 1 else first_of(*options)

    def _members(self, depth: int) -> RulesChoice:
        members = [self._member(depth)]
        while self._takes("+"):
            members.append(self._member(depth))
        return members[0] if len(members) == 1 else governing(*members)

    def _member(self, depth: int) -> RulesChoice:
        name = self._parts[self._at]
        self._at += 1
        if name:
            return name
        # An opening bracket is a mark with nothing before it.
        if not self._takes("("):
            raise self._wrong("a name is missing beside a +, a comma or a bracket")
        if depth == _DEEPEST:
            raise self._wrong("round brackets are nested too deep")
        choice = self._options(depth + 1)
        if not self._takes(")") or self._parts[self._at]:
            raise self._wrong("a round bracket stands where none belongs")
        self._at += 1
        return choice

    def _takes(self, mark: str) -> bool:
        if self._at == len(self._parts) or self._parts[self._at] != mark:
            return False
        self._at += 1
        return True

    def _wrong(self, problem: str) -> InputError:
        return InputError(
            problem,
            field="rules",
            value=shown(self._text),
            instead="Write a+b for rule sets that govern together, a,b for the first that covers the rope.",
        )


def _choice(choice: RulesChoice) -> RulesChoice:
    if isinstance(choice, str):
        return parse_choice(choice)
    given: object = choice  # a caller without a type checker may hand over anything
    if not isinstance(given, (RuleSet, Governing, FirstOf)):
        raise InputError(
            "this is no rule set",
            field="rules",
            value=shown(choice),
            instead="Give ids or rule sets one by one: governing('a', 'b').",
        )
    return choice


def _none_named() -> InputError:
    return InputError("no rule set is named", field="rules", instead="Name at least one, such as 'us-ca-8-8497'.")
