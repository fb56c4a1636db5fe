"""The ``turnback`` command: reads the arguments, calls a command, and turns every error into one clear line."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import Final

from turnback import __version__
from turnback.cli import batch as batch_command
from turnback.cli import compare as compare_command
from turnback.cli import conform as conform_command
from turnback.cli import inspect as inspect_command
from turnback.cli import plan as plan_command
from turnback.cli import rules as rules_command
from turnback.cli import verify as verify_command
from turnback.cli.codes import CODES_TEXT, USAGE, code_of
from turnback.cli.parser import Parser, one_line
from turnback.errors import TurnbackError

__all__ = ["main"]

_ABOUT: Final = """\
Wire rope clip terminations: how many clips, where each one sits and which way round, how much rope to turn back,
what torque, what the joint may be trusted with. Every number names its source.

It replaces neither local codes nor the clip maker's instructions nor a qualified person."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Args:
        arguments: The arguments; those of the process when not given.

    Returns:
        The exit code; see ``turnback --help``.
    """
    for stream in (sys.stdout, sys.stderr):
        # A terminal that cannot show a middle dot gets a question mark instead of a traceback.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        options = _parser().parse_args(arguments)
        code = int(options.run(options))
        print(end="", flush=True)  # which bears a standard output that was closed before we came
    except TurnbackError as error:
        print(one_line(f"turnback: {error}"), file=sys.stderr)
        return code_of(error)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else USAGE
    except BrokenPipeError:
        # The reader has gone; nothing is left to say, and Python must not try to flush at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (OSError, UnicodeError) as error:
        print(one_line(f"turnback: {error}"), file=sys.stderr)
        return USAGE
    return code


def _parser() -> Parser:
    parser = Parser(
        prog="turnback",
        description=_ABOUT,
        epilog=CODES_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"turnback {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND", parser_class=Parser)
    plan_command.add(commands)
    compare_command.add(commands)
    inspect_command.add(commands)
    verify_command.add(commands)
    rules_command.add(commands)
    conform_command.add(commands)
    batch_command.add(commands)
    return parser
