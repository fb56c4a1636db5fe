"""``turnback plan``: the whole plan of one termination."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from turnback.cli.arguments import HOW_TO_WRITE, add_termination, request_of
from turnback.cli.choice import read_choice
from turnback.cli.codes import FORBIDDEN, MUST_FIX, OK
from turnback.errors import InputError
from turnback.output.alternatives import alternatives_text
from turnback.output.card import card_html, card_markdown, card_text
from turnback.output.comparison_document import alternatives_document
from turnback.output.interchange import plan_document, to_json, to_text
from turnback.output.text import plan_text
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]

_CARDS: Final[dict[str, Callable[[Plan], str]]] = {
    ".html": card_html,
    ".htm": card_html,
    ".md": card_markdown,
    ".txt": card_text,
}

_PRINTED: Final = "-"
"""What stands for ``--json`` without a file."""

_EPILOG: Final = f"""\
{HOW_TO_WRITE}

example (invented):
  turnback plan "3/4 in 6x19 IWRC EIP" --style u-bolt --rules us-ca-8-8497 --eye thimble \\
      --clip-body forged --base-width "2-1/4 in" --service guy --jurisdiction US

A job card is a printable page: --card card.html, and the same as card.md or card.txt. The plan as JSON, to be verified
and inspected against later: --json plan.json.

exit codes: 0 nothing forbids it, 5 forbidden, 6 something must be fixed; the others under turnback --help"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "plan",
        help="plan one termination",
        description="Plan one termination: every number with its source.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_termination(parser)
    parser.add_argument("--rules", help="rule set, rule file (.toml), a+b (govern together) or a,b (first that covers)")
    parser.add_argument(
        "--json",
        nargs="?",
        const=_PRINTED,
        metavar="FILE",
        help="write the plan as JSON to FILE (.json); without FILE print it instead of text",
    )
    parser.add_argument(
        "--card", action="append", default=[], metavar="FILE", help="write the job card, as .html, .md or .txt"
    )
    parser.add_argument("--alternatives", action="store_true", help="what else could end this rope; no ratings")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Plan and print.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    forms = [_form(path) for path in options.card]  # a wrong name is refused before anything is written
    kept = None if options.json in (None, _PRINTED) else _json_path(options.json)
    made = plan_request(request_of(options, None if options.rules is None else read_choice(options.rules)))
    for path, form in zip(options.card, forms, strict=True):
        Path(path).write_text(form(made), encoding="utf-8")
    if kept is not None:
        kept.write_text(to_json(made), encoding="utf-8")
    if options.json == _PRINTED:
        more = {"alternatives": alternatives_document(made)} if options.alternatives else {}
        print(to_text({**plan_document(made), **more}) if more else to_json(made), end="")
    else:
        print(plan_text(made), end="")
        print("\n" + alternatives_text(made) if options.alternatives else "", end="")
    return _code(made)


def _form(path: str) -> Callable[[Plan], str]:
    found = None if "\0" in path else _CARDS.get(Path(path).suffix.lower())
    if found is None:
        raise InputError(
            "a job card is an HTML page, Markdown or plain text",
            field="--card",
            value=path[:80],
            bound="a name that ends in " + ", ".join(_CARDS),
            instead="Write --card card.html.",
        )
    return found


def _json_path(path: str) -> Path:
    if Path(path).suffix.lower() == ".json" and "\0" not in path:
        return Path(path)
    raise InputError(
        "the plan is written to a file that ends in .json",
        field="--json",
        value=path[:80],
        instead="Write --json plan.json, or --json alone at the end to print it.",
    )


def _code(made: Plan) -> int:
    kinds = {finding.kind for finding in made.findings}
    if "forbidden" in kinds:
        return FORBIDDEN
    return MUST_FIX if "must-fix" in kinds else OK
