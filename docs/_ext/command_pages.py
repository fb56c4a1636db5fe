"""What the command line says, run when the site is built, so that no page shows an output of yesterday.

Directives:

- ``turnback-command ARGUMENTS``: run ``turnback`` with these arguments and show command and output; ``:exit:`` is the
  exit code that it must have (0 when not given), ``:lines:`` cuts the output after so many lines;
- ``exit-codes``: the exit codes, from the text that ``turnback --help`` prints;
- ``error-codes``: the exit code of each error.
"""

from __future__ import annotations

import contextlib
import io
import os
import shlex
from collections.abc import Callable
from typing import ClassVar
from unittest import mock

from docutils import nodes
from docutils.parsers.rst import directives
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

import turnback.errors
from doc_nodes import Cell, code, table
from turnback.cli.codes import CODES_TEXT, code_of
from turnback.cli.main import main

__all__ = ["run_command", "setup"]


def run_command(arguments: str) -> tuple[int, str]:
    """Run the command line in this process.

    Args:
        arguments: What stands behind ``turnback``, quoted as in a shell.

    Returns:
        Exit code, and what it printed: output first, errors behind it.
    """
    out, err = io.StringIO(), io.StringIO()
    wide = mock.patch.dict(os.environ, {"COLUMNS": "80"})
    with wide, contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        exit_code = main(shlex.split(arguments))
    return exit_code, out.getvalue() + err.getvalue()


class TurnbackCommand(SphinxDirective):
    """A command with its output."""

    required_arguments: ClassVar[int] = 1
    final_argument_whitespace: ClassVar[bool] = True
    option_spec: ClassVar[dict[str, Callable[[str], int]]] = {
        "exit": directives.nonnegative_int,
        "lines": directives.positive_int,
    }

    def run(self) -> list[nodes.Node]:
        """Run it and build the block."""
        arguments = " ".join(self.arguments[0].split())
        exit_code, output = run_command(arguments)
        wanted = self.options.get("exit", 0)
        if exit_code != wanted:
            raise self.error(f"turnback {arguments}\nends with exit code {exit_code}, not {wanted}:\n{output}")
        lines = output.rstrip("\n").split("\n")
        most = self.options.get("lines", len(lines))
        cut = [f"(and {len(lines) - most} more lines)"] if len(lines) > most else []
        text = "\n".join([f"$ turnback {arguments}", *lines[:most], *cut])
        return [nodes.literal_block(text, text, language="text", classes=["command"])]


class ExitCodes(SphinxDirective):
    """The exit codes, as ``--help`` prints them."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        lines = [line.split(maxsplit=1) for line in CODES_TEXT.split("\n")[1:]]
        rows: list[list[Cell]] = [[code(number), words] for number, words in lines]
        return [table("Exit codes of turnback", ("code", "meaning"), rows)]


class ErrorCodes(SphinxDirective):
    """The exit code of each error."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        rows: list[list[Cell]] = []
        for name in turnback.errors.__all__:
            kind: type[turnback.errors.TurnbackError] = getattr(turnback.errors, name)
            also = [base.__name__ for base in kind.__bases__ if base is not turnback.errors.TurnbackError]
            rows.append([code(name), code(", ".join(also)), code(str(code_of(kind("")))) if also != ["Exception"] else "—"])
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
