"""The command line: thin, one file a command."""

from turnback.cli.main import main

__all__ = ["main"]
