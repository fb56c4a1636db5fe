"""What stands behind every number of a run, once for all its rows."""

from __future__ import annotations

import json
from collections.abc import Iterator

from turnback import __version__
from turnback.batch.options import BatchOptions
from turnback.errors import InputError
from turnback.planning.case import service_book
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, parse_choice

__all__ = ["checked_rule_sets", "provenance"]


def checked_rule_sets(options: BatchOptions, catalogue: Catalogue) -> tuple[RuleSet, ...]:
    """Return the rule sets that options name, after checking that everything they name is at hand.

    Args:
        options: What holds for every row.
        catalogue: What is at hand.

    Returns:
        The rule sets, each once, in the order in which they are named.

    Raises:
        UnknownStyle: No plugin brings the style.
        UnknownRuleSet: No plugin brings one of the rule sets, or the basis of efficiency.
        InputError: A rule set is for another style, or the service or jurisdiction is not known.
        PluginError: A plugin that failed to load may have brought what is named.
    """
    catalogue.style(options.style)
    choice = parse_choice(options.rules) if isinstance(options.rules, str) else options.rules
    found = tuple({(rules.id, rules.sha256): rules for rules in _leaves(choice, catalogue)}.values())
    for rules in found:
        if rules.is_basis or rules.style not in (options.style, ANY_STYLE):
            raise InputError(
                f"this rule set is not for the style {options.style}",
                field="rules",
                value=rules.id,
                bound="it gives efficiencies alone" if rules.is_basis else f"it is for {rules.style}",
                citation=str(rules.citation),
                instead=f"Name a rule set for {options.style}.",
            )
    _check_basis(options, catalogue)
    book = service_book(catalogue)
    for field, value, known in (
        ("service", options.service, book.services),
        ("jurisdiction", options.jurisdiction, book.jurisdictions),
    ):
        if value is not None and value not in known:
            raise InputError(
                f"no {field} of this name is known",
                field=field,
                value=repr(value)[:80],
                bound="one of " + ", ".join(known),
                instead=f"Take one of these, or leave the {field} out.",
            )
    return found


def _check_basis(options: BatchOptions, catalogue: Catalogue) -> None:
    if options.efficiency_basis is None:
        return
    basis = catalogue.rule_set(options.efficiency_basis)
    if basis not in catalogue.bases or basis.style not in (ANY_STYLE, options.style):
        raise InputError(
            "this rule set is no basis of efficiency for others",
            field="efficiency_basis",
            value=basis.id,
            bound="one of " + ", ".join(each.id for each in catalogue.bases),
            instead="Name a basis that gives efficiencies.",
        )


def _leaves(choice: RulesChoice, catalogue: Catalogue) -> Iterator[RuleSet]:
    if isinstance(choice, str):
        yield catalogue.rule_set(choice)
    elif isinstance(choice, RuleSet):
        yield choice
    elif isinstance(choice, Governing):
        for member in choice.members:
            yield from _leaves(member, catalogue)
    elif isinstance(choice, FirstOf):
        for option in choice.options:
            yield from _leaves(option, catalogue)


def provenance(options: BatchOptions, rule_sets: tuple[RuleSet, ...], catalogue: Catalogue) -> bytes:
    """Write down what stands behind every number of a run.

    Args:
        options: What holds for every row.
        rule_sets: The rule sets that they name.
        catalogue: What is at hand.

    Returns:
        JSON, the same bytes for the same run: library, style, rules, options, and of every rule file its id, edition,
        citation and hash.
    """
    bases = [
        basis for basis in catalogue.bases if basis in catalogue.core_bases or basis.id == options.efficiency_basis
    ]
    maker = options.maker
    said = {
        "library": "turnback",
        "version": __version__,
        "style": options.style,
        "rules": choice_text(options.rules),
        "options": {
            **{
                name: getattr(options, name)
                for name in ("termination", "clip_body", "service", "jurisdiction", "efficiency_basis")
            },
            "maker": None
            if maker is None
            else {
                "citation": str(maker.citation),
                "torque": None if maker.torque is None else str(maker.torque),
                "threads": maker.threads,
                "efficiency": None if maker.efficiency is None else str(maker.efficiency),
            },
        },
        "rule_sets": [_named(rules) for rules in rule_sets],
        "efficiency_bases": [_named(rules) for rules in bases],
        "refused_plugins": [str(failure) for failure in catalogue.failures],
    }
    return json.dumps(said, ensure_ascii=False, sort_keys=True).encode("utf-8")


def _named(rules: RuleSet) -> dict[str, str]:
    return {
        "id": rules.id,
        "edition": rules.source.edition,
        "citation": str(rules.citation),
        "sha256": rules.sha256,
    }
