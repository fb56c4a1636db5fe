"""``turnback conform``: hold a rule set to the laws, and say how much that proves."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING, Final

from turnback.cli.codes import BROKEN, DIFFERS, OK, WAIVED
from turnback.cli.files import read_bytes, within
from turnback.errors import InputError
from turnback.output.json_text import Json, to_text

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser
    from turnback.conformance.law import Law

__all__ = ["add"]

_MARKS: Final = "w: a rule file may waive it in a row where its document breaks it; the other laws are never waived\n"
_WIDTH: Final = 100

_EPILOG: Final = """\
A report says of each law whether it was proved over the whole table or searched over examples, and how many.
Check values (NAME.check.toml beside NAME.toml) are a second typing of the source: without them nothing says that the
table was typed right.

exit codes: 0 passed, 2 it cannot be read, 3 unknown rule set, 8 the certificate differs, 10 passed with laws waived,
11 failed: a law does not hold or was not reached, a check value or the oracle differs, or the level is below
--at-least"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "conform",
        help="hold a rule set to the laws, and say how much that proves",
        description="Hold a rule set to every law, mutate its table, and recompute its numbers by an exact oracle.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("name", nargs="?", metavar="ID|FILE", help="an installed rule set, or a rule file")
    parser.add_argument("--effort", choices=("quick", "full", "deep"), default="quick", help="how much is drawn")
    parser.add_argument("--seed", type=int, default=0, help="seed of the draws; the same seed gives the same report")
    parser.add_argument("--check-values", metavar="FILE", help="the second typing, where it does not lie beside")
    parser.add_argument("--at-least", metavar="LEVEL", help="fail below loads, lawful, sourced or proved")
    parser.add_argument("--only", default="", metavar="LAW", help="run one law alone, to see a failure again")
    parser.add_argument("--certificate", metavar="FILE", help="write the certificate here")
    parser.add_argument("--verify", metavar="FILE", help="check a certificate: run it again and compare")
    parser.add_argument("--laws", action="store_true", help="list the laws: which may be waived, which are redundant")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Examine, verify or list.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    from turnback.conformance import LAWS, certificate, check, level_named, report_document

    if options.laws:
        listed: list[Json] = [
            {"id": law.id, "sentence": law.sentence, "waivable": law.waivable, "redundant": law.redundant}
            for law in LAWS
        ]
        words = "".join(map(_law_text, LAWS)) + _MARKS
        print(to_text({"laws": listed}) if options.json else words, end="")
        return OK
    if options.verify is not None:
        return _verify(options)
    if options.name is None:
        raise InputError(
            "nothing is named to be examined",
            field="ID|FILE",
            instead="Name a rule set or a rule file; turnback rules lists what is installed.",
        )
    if options.only and options.certificate is not None:
        raise InputError("one law alone is no ground for a certificate", field="--certificate", instead="Leave it out.")
    report = check(
        options.name,
        effort=options.effort,
        seed=options.seed,
        check_values=options.check_values,
        at_least=None if options.at_least is None else level_named(options.at_least),
        only=options.only,
    )
    print(to_text(report_document(report)) if options.json else str(report), end="")
    if options.certificate is not None:
        _write(options.certificate, certificate(report))  # what cannot be written must not cost the report
    if not report.passed:
        return BROKEN
    return WAIVED if report.waived else OK


def _law_text(law: Law) -> str:
    mark = "w" if law.waivable else " "
    words = f"{law.id}: {law.sentence}" + (f" Kept although it is redundant: {law.redundant}." if law.redundant else "")
    lines = textwrap.wrap(words, _WIDTH, subsequent_indent="      ", break_long_words=False, break_on_hyphens=False)
    return "\n".join([f"{mark} {lines[0]}", *lines[1:]]) + "\n"


def _verify(options: argparse.Namespace) -> int:
    from turnback.conformance import verify_certificate

    text = read_bytes(options.verify)
    try:
        found = verify_certificate(text, options.name, check_values=options.check_values)
    except InputError as error:
        raise within(options.verify, error) from error
    differences: list[Json] = [{"path": path, "certified": then, "now": now} for path, then, now in found.differences]
    document: dict[str, Json] = {"same": found.same, "differences": differences}
    print(to_text(document) if options.json else f"{found}\n", end="")
    return OK if found.same else DIFFERS


def _write(path: str, text: str) -> None:
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        file.write(text)
