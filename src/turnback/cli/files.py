"""Reading the files that a command is given."""

from __future__ import annotations

import os

from turnback.errors import InputError
from turnback.output.reading import MOST_BYTES
from turnback.quantities.grammar import shown

__all__ = ["read_bytes", "within"]


def read_bytes(path: str) -> bytes:
    """Read a file, as far as a document may be long.

    Args:
        path: Its path.

    Returns:
        Its bytes, and one more than a document may have where it has more.

    Raises:
        InputError: There is no such file, or it cannot be read.
    """
    try:
        if not os.path.isfile(path):  # a pipe or a device might never end
            raise _unreadable(path, "there is no such file")
        with open(path, "rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise _unreadable(path, str(getattr(error, "strerror", None) or error)) from error


def _unreadable(path: str, reason: str) -> InputError:
    return InputError(f"the file cannot be read: {reason}", field="FILE", value=shown(path))


def within(path: str, error: InputError) -> InputError:
    """Return an error with the name of the file in it.

    Args:
        path: The file.
        error: What is wrong in it.

    Returns:
        The same facts.
    """
    return InputError(
        f"{error.problem} (in {os.path.basename(path)[:80]})",
        field=error.field,
        value=error.value,
        bound=error.bound,
        citation=error.citation,
        instead=error.instead,
    )
