"""``turnback batch``: a whole register from file to file; one row explained; two rule sets over one register."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING, Final

from turnback.cli.batch_text import changes_text, explained_text, rehearsal_text, report_text
from turnback.cli.choice import read_choice
from turnback.cli.codes import OK, code_of
from turnback.cli.progress import Progress
from turnback.errors import InputError
from turnback.planning.request import MakerFigures

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.batch import BatchOptions
    from turnback.cli.parser import Parser

__all__ = ["INTERRUPTED", "add"]

INTERRUPTED: Final = 130
"""Exit code of a run that was interrupted from the keyboard, as shells count it."""

_EYES: Final = {
    "thimble": "thimble eye",
    "soft": "soft eye",
    "pulley": "pulley eye",
    "linked": "linked eyes",
    "lap": "lap splice",
    "plate": "plate eye",
}

_EPILOG: Final = """\
The columns are those of a register: rope_diameter_nm, construction, core, grade, inside_length_nm, base_width_nm,
service and so on. Without its ending a column of lengths or forces holds text ("3/4 in"), or numbers whose unit is
given with --unit. Any other column passes through; --dry-run and the summary say which, and warn of a name that is
near a known one. Rows are counted from 0, names not counted.

No row is lost: one that cannot be planned comes back with its status, and answers that are empty. A run that was cut
off goes on where it stopped when it is called again; the output appears under its name when all is written. A file
that is there already is replaced with --overwrite alone.

examples (invented):
  turnback batch guys.parquet planned.parquet --style u-bolt --rules us-ca-8-8497 --clip-body forged
  turnback batch guys.csv planned.csv --style u-bolt --rules us-ca-8-8497 --unit base_width=mm --dry-run
  turnback batch guys.parquet --style u-bolt --rules us-ca-8-8497 --explain 123456
  turnback batch guys.parquet --style u-bolt --rules us-ca-8-8497 --against us-osha-1926-251

exit codes: 0 done, whatever the rows' statuses are; 2 a file or a column cannot be read or written, OUT is there
already, or --strict and a row was not planned; 3 unknown style or rule set; 130 interrupted; with --explain the code
of the row's error; the others under turnback --help"""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "batch",
        help="plan a whole register of terminations",
        description="Plan every row of a register: Parquet, CSV or Arrow in, the same or another of them out.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("source", metavar="IN", help="file (.parquet, .csv, .arrow, .feather) or folder of Parquet")
    parser.add_argument("destination", nargs="?", metavar="OUT", help="file that is written, with such an ending")
    parser.add_argument("--style", required=True, help="clip style; see turnback rules")
    parser.add_argument("--rules", required=True, help="rule set, rule file (.toml), a+b or a,b, as for turnback plan")
    rows = parser.add_argument_group("what holds for every row, where no column says it")
    rows.add_argument("--eye", choices=tuple(_EYES), default="thimble", help="kind of eye or splice")
    rows.add_argument("--clip-body", default="not given", help="forged or other")
    rows.add_argument("--service", help="service, such as guy; see turnback rules --services")
    rows.add_argument("--jurisdiction", help="where the joints are used; none: the strictest")
    rows.add_argument("--efficiency-basis", help="basis of efficiency asked for by name")
    rows.add_argument("--maker-citation", help="the clip maker's sheet, page and date")
    rows.add_argument("--maker-torque", help="the clip maker's torque")
    rows.add_argument("--maker-threads", default="", help="dry or greased, as the maker's sheet says")
    rows.add_argument("--maker-efficiency", help='the clip maker\'s efficiency, as "80 %%"')
    rows.add_argument("--unit", action="append", default=[], metavar="COLUMN=UNIT", help="unit of a column of numbers")
    run_ = parser.add_argument_group("the run")
    run_.add_argument("--strict", action="store_true", help="write nothing where a row was not planned")
    run_.add_argument(
        "--again", action="store_true", help="leave out the answers that an earlier run put beside the rows"
    )
    run_.add_argument("--overwrite", action="store_true", help="replace OUT where there is one already")
    run_.add_argument("--restart", action="store_true", help="begin again, whatever a run that was cut off has left")
    run_.add_argument("--dry-run", action="store_true", help="check, count, plan the first block, and write nothing")
    other = parser.add_argument_group("in place of OUT")
    other.add_argument("--explain", type=int, metavar="N", help="the full plan of row N, with its derivations")
    other.add_argument("--against", metavar="RULES", help="what these rules would change in the register")
    other.add_argument("--first", type=int, default=10, metavar="N", help="rows that --against lists; 10")
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Plan, rehearse, explain or compare.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    _check(options)
    from turnback.batch import BatchOptions

    chosen = BatchOptions(
        options.style,
        read_choice(options.rules),
        _EYES[options.eye],
        options.clip_body,
        options.service,
        options.jurisdiction,
        options.efficiency_basis,
        _maker(options),
        options.strict,
    )
    units = _units(options.unit)
    if options.explain is not None:
        return _explain(options, chosen, units)
    if options.against is not None:
        return _against(options, chosen, units)
    return _plan(options, chosen, units)


def _plan(options: argparse.Namespace, chosen: BatchOptions, units: dict[str, str]) -> int:
    from turnback.batch.files import plan_file, rehearse_file

    if options.dry_run:
        tried = rehearse_file(
            options.source,
            options.destination,
            chosen,
            units=units,
            again=options.again,
            overwrite=options.overwrite,
        )
        print(rehearsal_text(tried, as_json=options.json), end="")
        return OK
    with Progress(sys.stderr) as progress:
        try:
            done = plan_file(
                options.source,
                options.destination,
                chosen,
                units=units,
                again=options.again,
                restart=options.restart,
                overwrite=options.overwrite,
                watch=progress.seen,
            )
        except KeyboardInterrupt:
            progress.close()
            print(
                "turnback: interrupted; nothing stands under the output's name, and the same command goes on from here",
                file=sys.stderr,
            )
            return INTERRUPTED
    print(report_text(done, as_json=options.json), end="")
    return OK


def _explain(options: argparse.Namespace, chosen: BatchOptions, units: dict[str, str]) -> int:
    from turnback.batch.explaining import explain_row

    found = explain_row(options.source, options.explain, chosen, units=units)
    print(explained_text(found, as_json=options.json), end="")
    return OK if found.error is None else code_of(found.error)


def _against(options: argparse.Namespace, chosen: BatchOptions, units: dict[str, str]) -> int:
    from turnback.batch.changes import against_file

    other = read_choice(options.against)
    with Progress(sys.stderr) as progress:
        found = against_file(
            options.source, chosen, other, units=units, shown=max(0, options.first), watch=progress.seen
        )
    print(changes_text(found, as_json=options.json), end="")
    return OK


def _check(options: argparse.Namespace) -> None:
    """Refuse what does not go together before anything is loaded."""
    instead = [name for name in ("explain", "against") if getattr(options, name) is not None]
    if len(instead) == 2 or (instead and options.destination is not None):
        raise InputError(
            "one thing at a time",
            field="--" + instead[0],
            value="--against" if len(instead) == 2 else str(options.destination),
            instead="--explain and --against print; without them OUT is written.",
        )
    if not instead and options.destination is None:
        raise InputError(
            "the output is missing", field="OUT", instead="turnback batch IN OUT, as in.parquet out.parquet."
        )
    strange = [
        flag
        for flag, given in (
            ("--strict", options.strict),
            ("--restart", options.restart),
            ("--overwrite", options.overwrite),
            ("--dry-run", options.dry_run),
        )
        if instead and given
    ]
    if strange:
        raise InputError("nothing is written here", field=strange[0], instead="Leave it out.")


def _units(texts: list[str]) -> dict[str, str]:
    units: dict[str, str] = {}
    for column, unit in map(_unit, texts):
        if units.setdefault(column, unit) != unit:
            raise InputError(
                "two units are given for one column",
                field="--unit",
                value=f"{column}={units[column]} and {column}={unit}",
                instead="Give the one that holds.",
            )
    return units


def _unit(text: str) -> tuple[str, str]:
    column, sign, unit = text.partition("=")
    if sign and column.strip() and unit.strip():
        return column.strip(), unit.strip()
    raise InputError(
        "a unit is given as COLUMN=UNIT", field="--unit", value=text[:80], instead="Such as base_width=mm."
    )


def _maker(options: argparse.Namespace) -> MakerFigures | None:
    given = (options.maker_torque, options.maker_efficiency, options.maker_citation)
    if not any(given) and not options.maker_threads:
        return None
    return MakerFigures(
        options.maker_citation or "", options.maker_torque, options.maker_threads, options.maker_efficiency
    )
