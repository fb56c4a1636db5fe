"""An argument parser whose errors are one line and one exit code."""

from __future__ import annotations

import argparse
from typing import NoReturn

from turnback.cli.codes import USAGE

__all__ = ["Parser"]


class Parser(argparse.ArgumentParser):
    """An argument parser that says in one line what is wrong."""

    def error(self, message: str) -> NoReturn:
        """Print the message and stop.

        Args:
            message: What is wrong.
        """
        self.exit(USAGE, f"{self.prog}: {message}. {self.prog} --help shows how it is written.\n")
