"""``turnback rules``: what is installed, from which distribution, what of it nobody read; a new one."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from turnback.cli.choice import read_choice
from turnback.cli.codes import OK, PLUGIN
from turnback.cli.parser import Parser
from turnback.errors import InputError
from turnback.output.interchange import Json, rule_set_document, to_text
from turnback.output.rules_text import catalogue_text, not_read_document, rule_set_text
from turnback.planning.build import service_book
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet
from turnback.rules.standing import not_read

if TYPE_CHECKING:
    from argparse import _SubParsersAction

__all__ = ["add"]

_NEW: Final = "new"

_EPILOG: Final = """\
turnback rules new NAME --style STYLE writes a rule file to begin with; turnback rules new --help tells more.

exit codes: 0 done, 3 unknown name, 7 a plugin failed to load (it is named, and the others are listed)"""

_NEW_EPILOG: Final = """\
The table in it is invented and marked so; every key is explained beside it, and the file holds from the first moment.
With --plugin it stands in a distribution of its own, turnback-NAME, which pip installs and turnback conform examines.
Nothing is written over.

example:
  turnback rules new my-standard --style u-bolt --plugin

exit codes: 0 written, 2 it is no name, it is taken or something stands in the way, 3 unknown style, 7 a plugin that
failed to load may bring the style"""


class _Named(argparse.Action):
    """What stands behind ``rules``: the name of what is shown, or ``new`` with arguments of its own."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: str | Sequence[object] | None,
        option_string: str | None = None,
    ) -> None:
        """Read what is left of the arguments."""
        del parser, option_string
        first, *rest = [str(value) for value in values or () if value != "--"]
        if first == _NEW:
            namespace.run = run_new
            _new_parser().parse_args(rest, namespace)
        else:
            namespace.name = first
            _listing(_parser_of_one()).parse_args(rest, namespace)


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "rules",
        help="list the rule sets at hand, show one, or begin a new one",
        description="List what is installed, from which distribution, and what of it nobody read in its document.",
        usage="turnback rules [-h] [ID|FILE] [--style STYLE] [--services] [--json]\n"
        "       turnback rules new NAME --style STYLE [--plugin] [--into FOLDER] [--json]",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    named = parser.add_argument(
        "name", nargs=argparse.PARSER, action=_Named, metavar="ID|FILE", help="a rule set or rule file to show whole"
    )
    named.required = False  # without a name everything is listed
    _listing(parser).set_defaults(run=run)


def _listing(parser: Parser) -> Parser:
    parser.add_argument("--style", help="only rule sets for this style")
    parser.add_argument("--services", action="store_true", help="list the services and jurisdictions that plan knows")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    return parser


def _parser_of_one() -> Parser:
    return Parser(
        prog="turnback rules",
        usage="turnback rules ID|FILE [--json]",
        description="Show one rule set or rule file whole.",
        epilog="exit codes: 0 done, 2 it cannot be read, 3 unknown name, 7 a plugin that failed to load may bring it",
        allow_abbrev=False,
    )


def _new_parser() -> Parser:
    parser = Parser(
        prog="turnback rules new",
        usage="turnback rules new NAME --style STYLE [--plugin] [--into FOLDER] [--json]",
        description="Write a rule file to begin with, or a whole distribution round it.",
        epilog=_NEW_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("new_name", metavar="NAME", help="its id: lower-case letters, digits and single hyphens")
    parser.add_argument("--style", help="clip style that it is for, needed; see turnback rules")
    parser.add_argument("--plugin", action="store_true", help="write a distribution with check values and a test")
    parser.add_argument("--into", default=".", metavar="FOLDER", help="folder that it is written into; this one")
    parser.add_argument("--json", action="store_true", help="print what was written as JSON")
    return parser


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
            "memory": {
                rules.id: [each.place for each in not_read(rules) if each.status == "memory"] for rules in listed_sets
            },
            "not_read": {rules.id: not_read_document(rules) for rules in listed_sets},
            "failures": [str(failure) for failure in catalogue.failures],
            "slips": [str(slip) for slip in catalogue.slips],
        }
        print(to_text(document), end="")
    else:
        print(catalogue_text(listed_sets, catalogue), end="")
    return PLUGIN if catalogue.failures else OK


def run_new(options: argparse.Namespace) -> int:
    """Write a new rule file or distribution.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    from turnback.conformance.new_rules import write_plugin, write_rule_file

    if options.services:
        raise InputError("it lists, and writes nothing", field="--services", instead="Leave it out.")
    if options.style is None:
        raise InputError(
            "a rule set is for one style of clip", field="--style", instead="Name one; turnback rules lists them."
        )
    if options.plugin:
        written = write_plugin(options.new_name, options.style, options.into)
    else:
        written = (write_rule_file(options.new_name, options.style, options.into),)
    if options.json:
        print(to_text({"written": [path.as_posix() for path in written]}), end="")
        return OK
    for path in written:
        print(f"wrote {path}")
    rules = next(path for path in written if path.name == f"{options.new_name}.toml")
    print(f"Its table is invented: put your document's in its place, then run: turnback conform {rules}")
    return OK
