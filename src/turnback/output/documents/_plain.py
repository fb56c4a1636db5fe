"""From the plain dictionaries of other rooms to those of JSON."""

from __future__ import annotations

from collections.abc import Mapping

from turnback.output.json_text import Json

__all__ = ["plain"]


def plain(value: object) -> Json:
    """Return plain data as JSON has it.

    Args:
        value: Text, numbers, lists and dictionaries.

    Returns:
        The same; anything else as text.
    """
    if value is None or isinstance(value, (bool, int, float, str)):
        return value
    if isinstance(value, Mapping):
        return {str(key): plain(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(each) for each in value]
    return str(value)
