"""An argument parser whose errors are one line and one exit code."""

from __future__ import annotations

import argparse
from typing import Final, NoReturn

from turnback.cli.codes import USAGE

__all__ = ["Parser", "one_line"]

_LONGEST: Final = 300


def one_line(message: str) -> str:
    """Write a message in one line, whatever it quotes.

    Args:
        message: The message.

    Returns:
        The same with single spaces.
    """
    return " ".join(message.split())


class Parser(argparse.ArgumentParser):
    """An argument parser that says in one line what is wrong."""

    def error(self, message: str) -> NoReturn:
        """Print the message and stop.

        Args:
            message: What is wrong.
        """
        words = one_line(message)
        short = words if len(words) <= _LONGEST else words[:_LONGEST] + " ..."
        self.exit(USAGE, f"{self.prog}: {short}. {self.prog} --help shows how it is written.\n")
