"""``turnback verify``: a plan that was written before: the same, or which number has changed and why."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Final

from turnback.cli.codes import DIFFERS, OK
from turnback.cli.files import read_bytes, within
from turnback.errors import InputError
from turnback.output.interchange import to_text
from turnback.output.verification import verification_document, verify
from turnback.rules.rulefile import read_rules

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]

_EPILOG: Final = """\
The plan is made by turnback plan ... --json plan.json. A rule file of your own went with it whole; to see whether the
file has changed since, name it: --rules maker.toml.

exit codes: 0 the same, 2 it cannot be read, 8 it differs; what differs and why is printed"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "verify",
        help="check a plan that was written before",
        description="Plan it again from its own request, and hold every recorded number against the new one.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("file", metavar="FILE", help="the plan, as JSON")
    parser.add_argument("--rules", action="append", default=[], metavar="FILE", help="your rule file as it is now")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Verify and print.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    rules = [read_rules(path) for path in options.rules]
    text = read_bytes(options.file)
    try:
        found = verify(text, rules=rules)
    except InputError as error:
        raise within(options.file, error) from error
    print(to_text(verification_document(found)) if options.json else f"{found}\n", end="")
    return OK if found.same else DIFFERS
