"""``turnback rules``: what is installed, from which distribution, what of it is recalled from memory."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from turnback.cli.choice import read_choice
from turnback.cli.codes import OK, PLUGIN
from turnback.output.interchange import Json, rule_set_document, to_text
from turnback.output.rules_text import catalogue_text, memory_cells, rule_set_text
from turnback.planning.build import service_book
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "rules",
        help="list the rule sets at hand, or show one",
        description="List what is installed, from which distribution, and what of it is recalled from memory.",
        epilog="exit codes: 0 done, 3 unknown name, 7 a plugin failed to load (it is named, and the others are listed)",
        allow_abbrev=False,
    )
    parser.add_argument("name", nargs="?", metavar="ID|FILE", help="a rule set or rule file to show whole")
    parser.add_argument("--style", help="only rule sets for this style")
    parser.add_argument("--services", action="store_true", help="list the services and jurisdictions that plan knows")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """List or show.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    catalogue = Catalogue.installed()
    if options.services:
        book = service_book(catalogue)
        listed: dict[str, Json] = {"services": list(book.services), "jurisdictions": list(book.jurisdictions)}
        words = f"services: {', '.join(book.services)}\njurisdictions: {', '.join(book.jurisdictions)}\n"
        print(to_text(listed) if options.json else words, end="")
        return OK
    if options.name is not None:
        choice = read_choice(options.name)
        rules = choice if isinstance(choice, RuleSet) else catalogue.rule_set(str(choice))
        print(to_text(rule_set_document(rules, catalogue)) if options.json else rule_set_text(rules, catalogue), end="")
        return OK
    if options.style is not None:
        catalogue.style(options.style)
    listed_sets = catalogue.rule_sets if options.style is None else catalogue.for_style(options.style)
    if options.json:
        document: dict[str, Json] = {
            "rule_sets": [rule_set_document(rules, catalogue) for rules in listed_sets],
            "memory": {rules.id: list(memory_cells(rules)) for rules in listed_sets},
            "failures": [str(failure) for failure in catalogue.failures],
        }
        print(to_text(document), end="")
    else:
        print(catalogue_text(listed_sets, catalogue), end="")
    return PLUGIN if catalogue.failures else OK
