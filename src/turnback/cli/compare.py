"""``turnback compare``: every rule set for a style side by side."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from turnback.cli.arguments import HOW_TO_WRITE, add_termination, request_of
from turnback.cli.codes import FORBIDDEN, MUST_FIX, NOT_COVERED, OK
from turnback.output.comparison import comparison_html, comparison_markdown, comparison_text
from turnback.output.comparison_document import comparison_document
from turnback.output.interchange import to_text
from turnback.review.comparison import Comparison, compare_request
from turnback.rules.rulefile import read_rules

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]

_FORMS: Final[dict[str, Callable[[Comparison], str]]] = {
    "text": comparison_text,
    "markdown": comparison_markdown,
    "html": comparison_html,
}

_EPILOG: Final = f"""\
{HOW_TO_WRITE}
Nothing is chosen: the rule set of a plan is named by you.

example (invented):
  turnback compare "1 in 6x25F IWRC IPS" --style u-bolt --clip-body forged \\
      --base-width "1-3/4 in" --service guy --jurisdiction US

exit codes: 0 done, 3 no rule set covers it, 5 a source forbids the use, 6 something must be fixed under each of them;
the others under turnback --help"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "compare",
        help="lay every rule set for a style side by side",
        description="Lay every rule set for a style side by side: what each says, what governs, where they conflict.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_termination(parser)
    parser.add_argument(
        "--also", action="append", default=[], metavar="FILE", help="a rule file of your own beside them"
    )
    parser.add_argument("--format", choices=tuple(_FORMS), default="text", help="how to print it")
    parser.add_argument("--json", action="store_true", help="print JSON instead")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Compare and print.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    found = compare_request(request_of(options, None), tuple(read_rules(path) for path in options.also))
    print(to_text(comparison_document(found)) if options.json else _FORMS[options.format](found), end="")
    return _code(found)


def _code(found: Comparison) -> int:
    if not found.answers:
        return NOT_COVERED
    if found.usable:
        return OK
    kinds = [{finding.kind for finding in answer.plan.findings} for answer in found.answers]
    return FORBIDDEN if all("forbidden" in each for each in kinds) else MUST_FIX
