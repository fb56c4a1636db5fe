"""An argument parser whose errors are one line and one exit code."""

from __future__ import annotations

import argparse
import sys
from typing import NoReturn

from turnback.cli.codes import USAGE

__all__ = ["Parser"]


class Parser(argparse.ArgumentParser):
    """An argument parser that shows the usage and one line of what is wrong."""

    def error(self, message: str) -> NoReturn:
        """Print the usage and the message and stop.

        Args:
            message: What is wrong.
        """
        self.print_usage(sys.stderr)
        self.exit(USAGE, f"{self.prog}: {message}\n")
