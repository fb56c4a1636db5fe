"""What the command line says, run when the site is built, so that no page shows an output of yesterday.

Directives:

- ``turnback-command``: run ``turnback`` with the arguments that stand in it and show command and output; ``:exit:`` is
  the exit code that it must have (0 when not given), ``:until:`` cuts the output before the first
  line that is this text;
- ``exit-codes``: the exit codes, from the text that ``turnback --help`` prints;
- ``error-codes``: the exit code of each error.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import textwrap
from collections.abc import Callable, Iterator
from typing import ClassVar, Final
from unittest import mock

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

import turnback.errors
from turnback.cli.codes import CODES_TEXT, code_of
from turnback.cli.main import main
from turnback.sphinxext.nodes import Cell, code, table

__all__ = ["run_command", "setup"]

_CODE: Final = re.compile(r"^  ([0-9]+) +(.*(?:\n   .*)*)", re.MULTILINE)
"""A code and its meaning, which may go on in lines that stand further in."""


def run_command(command: str) -> tuple[int, str]:
    """Run the command line in this process.

    Args:
        command: The command, quoted as in a shell; it begins with ``turnback``.

    Returns:
        Exit code, and what it printed: output first, errors behind it.
    """
    out, err = io.StringIO(), io.StringIO()
    wide = mock.patch.dict(os.environ, {"COLUMNS": "80"})
    with wide, contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        exit_code = main(shlex.split(command.replace("\\\n", " "))[1:])
    return exit_code, out.getvalue() + err.getvalue()


class TurnbackCommand(SphinxDirective):
    """A command with its output; a line that ends in a backslash goes on in the next one, as in a shell."""

    has_content: ClassVar[bool] = True
    option_spec: ClassVar[dict[str, Callable[[str], int | str]]] = {
        "exit": directives.nonnegative_int,
        "until": directives.unchanged_required,
    }

    def run(self) -> list[nodes.Node]:
        """Run it and build the block."""
        self.assert_has_content()
        shown = "turnback " + "\n".join(self.content)
        exit_code, output = run_command(shown)
        wanted = self.options.get("exit", 0)
        if exit_code != wanted:
            raise self.error(f"{shown}\nends with exit code {exit_code}, not {wanted}:\n{output}")
        lines = output.rstrip("\n").split("\n")
        until = self.options.get("until")
        if until is not None and until not in lines:
            raise self.error(f"{shown}\nprints no line {until!r}:\n{output}")
        kept = lines if until is None else lines[: lines.index(until)]
        cut = [f"(and {len(lines) - len(kept)} more lines)"] if len(lines) > len(kept) else []
        text = "\n".join([f"$ {shown}", *_wrapped(kept), *cut])
        return [nodes.literal_block(text, text, language="text", classes=["command"])]


def _wrapped(lines: list[str]) -> Iterator[str]:
    """Break an overlong line of prose where a terminal would, so that a page shows it whole."""
    for line in lines:
        yield from (
            textwrap.wrap(line, 100, break_long_words=False, break_on_hyphens=False) if len(line) > 100 else [line]
        )


class ExitCodes(SphinxDirective):
    """The exit codes, as ``--help`` prints them."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        found = _CODE.findall(CODES_TEXT)
        rows: list[list[Cell]] = [[code(number), " ".join(words.split())] for number, words in found]
        return [table("Exit codes of turnback", ("code", "meaning"), rows)]


class ErrorCodes(SphinxDirective):
    """The exit code of each error."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        rows: list[list[Cell]] = []
        for name in turnback.errors.__all__:
            kind: type[turnback.errors.TurnbackError] = getattr(turnback.errors, name)
            also = [base.__name__ for base in kind.__bases__ if base is not turnback.errors.TurnbackError]
            rows.append(
                [code(name), code(", ".join(also)), code(str(code_of(kind("")))) if also != ["Exception"] else "—"]
            )
        return [table("Errors and exit codes", ("error", "is also a", "exit code"), rows)]


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_directive("turnback-command", TurnbackCommand)
    app.add_directive("exit-codes", ExitCodes)
    app.add_directive("error-codes", ErrorCodes)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
