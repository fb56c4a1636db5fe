"""Planning a recorded plan again, and holding every recorded number against the new one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final, NamedTuple

import attrs

from turnback import __version__
from turnback.errors import InputError, TurnbackError
from turnback.output.comparing import Unlike, unlike
from turnback.output.documents import plan as plan_document
from turnback.output.documents import request as request_document
from turnback.output.json_text import Json
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, first_of, governing, parse_choice

__all__ = ["Cause", "Recomputed", "plan_of", "recomputed"]

_SURROUNDINGS: Final = ("library_version", "plugins")
"""What says who made the document; a change of it is a cause and no number."""


class Cause(NamedTuple):
    """Something that is not as it was when the plan was made.

    Args:
        kind: ``rule file``, ``library version`` or ``plugin``.
        text: What it is, in a sentence.
    """

    kind: str
    text: str


@attrs.frozen
class Recomputed:
    """A recorded plan, planned again.

    Args:
        plan: The new plan; None where it is refused now.
        refusal: Why it is refused; empty where it is not.
        unlike: Where the recorded document and the new one differ.
        causes: What is not as it was.
        unchecked: Rule sets that came with the plan and whose very files are not at hand to hold them against.
    """

    plan: Plan | None
    refusal: str
    unlike: tuple[Unlike, ...]
    causes: tuple[Cause, ...]
    unchecked: tuple[str, ...]

    @property
    def faults(self) -> tuple[Unlike, ...]:
        """The differences that count: wording may differ where library, plugin or rule file do."""
        return tuple(each for each in self.unlike if not (each.wording and self.causes))


def recomputed(
    found: Mapping[str, Json], catalogue: Catalogue | None = None, rules: Iterable[RuleSet] = ()
) -> Recomputed:
    """Plan a recorded plan again.

    Args:
        found: The document, without its head.
        catalogue: What is at hand; the installed plugins when not given.
        rules: Rule files of your own as they are now; each stands in for the one of its id in the request.

    Returns:
        The new plan and how the record differs from it.

    Raises:
        InputError: The document holds no request that can be read.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    if "request" not in found:
        raise InputError("this key is required", field="request", bound="a plan is read by planning its request again")
    asked = request_document.request_shape().read(found["request"], "request")
    if not isinstance(asked, Request):
        raise InputError("this is no request", field="request")
    own = {each.id: each for each in rules}
    request = attrs.evolve(asked, rules=_with(asked.rules, own)) if own and asked.rules is not None else asked
    held = embedded(request.rules)
    causes = [*_files(found.get("rule_files"), held, at_hand), *_surroundings(found, at_hand)]
    unchecked = tuple(each.id for each in held if each.id not in own and at_hand.find(each.id) is None)
    forged = [
        Unlike("request.rules", each.id, "another rule set under the same hash") for each in _forged(held, at_hand)
    ]
    try:
        plan = plan_request(request, at_hand)
    except TurnbackError as error:
        refused = Unlike("request", "planned", f"refused: {error}")
        return Recomputed(None, str(error), (*forged, refused), tuple(causes), unchecked)
    now = plan_document.document(plan, at_hand)
    now["request"] = request_document.request_shape().write(asked)
    if "alternatives" in found:
        from turnback.output.comparison_document import alternatives_document

        now["alternatives"] = alternatives_document(plan)
    told = {key: each for key, each in found.items() if key not in _SURROUNDINGS}
    new = {key: each for key, each in now.items() if key not in (*_SURROUNDINGS, "format", "kind")}
    return Recomputed(plan, "", (*forged, *unlike(told, new)), tuple(causes), unchecked)


def plan_of(found: Mapping[str, Json], path: str = "", catalogue: Catalogue | None = None) -> Plan:
    """Read a plan: plan its request again, and refuse it where a recorded number is another.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The plan.

    Raises:
        InputError: The request cannot be read or planned, or a recorded number is not the computed one.
    """
    again = recomputed(found, catalogue)
    if again.plan is not None and not again.faults:
        return again.plan
    first, more = again.faults[0], len(again.faults) - 1
    why = " ".join(cause.text for cause in again.causes) or "The document was edited, or made from other plugins."
    raise InputError(
        "the plan cannot be made again as it was recorded" + (f" ({more} more differences)" if more else ""),
        field=f"{path}.{first.path}".strip("."),
        value=first.recorded,
        bound=f"now {first.recomputed}",
        instead=f"{why} turnback.verify (turnback verify FILE) says what has changed; plan the joint again.",
    )


def embedded(choice: RulesChoice | None) -> tuple[RuleSet, ...]:
    """Return the rule sets that a choice holds as values.

    Args:
        choice: The choice.

    Returns:
        The rule sets, in the order of the choice.
    """
    if isinstance(choice, RuleSet):
        return (choice,)
    parts: tuple[RulesChoice, ...] = ()
    if isinstance(choice, Governing):
        parts = choice.members
    elif isinstance(choice, FirstOf):
        parts = choice.options
    return tuple(found for part in parts for found in embedded(part))


def _with(choice: RulesChoice, own: Mapping[str, RuleSet]) -> RulesChoice:
    parsed = parse_choice(choice) if isinstance(choice, str) else choice
    if isinstance(parsed, Governing):
        return governing(*(_with(each, own) for each in parsed.members))
    if isinstance(parsed, FirstOf):
        return first_of(*(_with(each, own) for each in parsed.options))
    name = parsed if isinstance(parsed, str) else parsed.id
    return own.get(name, parsed)


def _is_at_hand(rules: RuleSet, at_hand: Catalogue) -> bool:
    known = at_hand.find(rules.id)
    return known is not None and known.sha256 == rules.sha256


def _forged(held: Iterable[RuleSet], at_hand: Catalogue) -> list[RuleSet]:
    """Rule sets that came with the plan under the hash of a file that is at hand and says something else."""
    found = []
    for rules in held:
        known = at_hand.find(rules.id)
        if known is not None and _is_at_hand(rules, at_hand) and attrs.evolve(rules, origin=known.origin) != known:
            found.append(rules)
    return found


def _files(recorded: Json, held: Iterable[RuleSet], at_hand: Catalogue) -> list[Cause]:
    now = {rules.id: rules for rules in held}
    causes = []
    for each in recorded if isinstance(recorded, list) else ():
        name, digest = (each.get("id"), each.get("sha256")) if isinstance(each, dict) else (None, None)
        if not isinstance(name, str) or not isinstance(digest, str):
            continue
        rules = now.get(name) or at_hand.find(name)
        if rules is None:
            causes.append(Cause("rule file", f"The rule set {name!r} is not at hand."))
        elif rules.sha256 != digest:
            causes.append(
                Cause(
                    "rule file",
                    f"The rule file of {name} has changed: SHA-256 {digest[:12]!r} then, {rules.sha256[:12]!r} now.",
                )
            )
    return causes


def _surroundings(found: Mapping[str, Json], at_hand: Catalogue) -> list[Cause]:
    causes = []
    version = found.get("library_version")
    if version != __version__:
        then = version if isinstance(version, str) else "not stated"
        causes.append(Cause("library version", f"The library has changed: {then!r} then, {__version__!r} now."))
    now = {(each.distribution, each.entry_point): each.version for _, each in at_hand.origins}
    listed = found.get("plugins")
    then_: dict[tuple[str, str], str] = {}
    for each in listed if isinstance(listed, list) else ():
        if isinstance(each, dict):
            then_[str(each.get("distribution")), str(each.get("entry_point"))] = str(each.get("version"))
    for key in sorted({*now, *then_}):
        one, other = then_.get(key, "not there"), now.get(key, "not there")
        if one != other:
            causes.append(Cause("plugin", f"The plugin {key[0]!r} has changed: {one!r} then, {other!r} now."))
    return causes
