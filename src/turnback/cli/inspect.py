"""``turnback inspect``: a joint as it was made against its plan."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Final

from turnback.cli.codes import MUST_FIX, OK, OUT_OF_SERVICE
from turnback.cli.files import read_bytes, within
from turnback.errors import InputError
from turnback.output.inspection_text import inspection_text
from turnback.output.interchange import from_json, opened, to_json
from turnback.output.readings_form import readings_form, readings_of
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.review.inspection import InService, inspect

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]

_CODES: Final[dict[InService, int]] = {
    "keep": OK,
    "find out first": MUST_FIX,
    "act": MUST_FIX,
    "out of service": OUT_OF_SERVICE,
}

_EPILOG: Final = """\
The plan is made by turnback plan ... --json plan.json; for an old joint without one, a request that describes it does.
turnback inspect plan.json --form prints the readings to fill in; lengths and torques are written with their unit
("17-1/2 in", "65 lbf·ft"), and what was not measured stays null or is left out.

It does not replace a competent person on the spot.

exit codes: 0 it may stay in service, 2 a file cannot be read, 6 something is to be done or found out first,
9 out of service; the others under turnback --help"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "inspect",
        help="hold a joint as it was made to its plan",
        description="Hold a joint as it was made to its plan: what deviates, what to do, what is still to be measured.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("plan", metavar="PLAN", help="the plan, or a request, as JSON")
    parser.add_argument("readings", nargs="?", metavar="READINGS", help="what was read on the joint, as JSON")
    parser.add_argument("--form", action="store_true", help="print the readings of this plan to fill in, and no more")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Inspect and print.

    Args:
        options: The arguments.

    Returns:
        Exit code.

    Raises:
        InputError: A file cannot be read, or there are no readings.
    """
    plan = _plan(options.plan)
    if options.form:
        print(readings_form(plan), end="")
        return OK
    if options.readings is None:
        raise InputError(
            "the readings are missing", field="READINGS", instead="turnback inspect PLAN --form prints them to fill in."
        )
    text = read_bytes(options.readings)
    try:
        kind, body = opened(text, "as-built")
        found = inspect(plan, readings_of(kind, body))
    except InputError as error:
        raise within(options.readings, error) from error
    print(to_json(found) if options.json else inspection_text(found), end="")
    return _CODES[found.in_service]


def _plan(path: str) -> Plan | Request:
    text = read_bytes(path)
    try:
        found = from_json(text)
    except InputError as error:
        raise within(path, error) from error
    if isinstance(found, (Plan, Request)):
        return found
    raise InputError("a joint is held to a plan or a request", field="PLAN", value=type(found).__name__)
