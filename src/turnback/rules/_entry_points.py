"""Entry points of the installed distributions, whatever state their metadata are in."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from importlib import metadata
from typing import Final, TypeAlias

from turnback.errors import PluginError

__all__ = ["discovered"]

UNKNOWN: Final = "unknown distribution"

REFERENCE: Final = re.compile(r"\s*[\w.]+\s*(:\s*[\w.]+\s*)?(\[.*\]\s*)?")
"""What an entry point may refer to: ``module`` or ``module:object``, and extras."""

Where: TypeAlias = tuple[str, str, str]
Found: TypeAlias = tuple[Where, Callable[[], object]]


def discovered(group: str) -> Iterator[Found]:
    """Find the entry points of a group.

    Args:
        group: The group.

    Yields:
        Distribution, version and name of each, and what loads it. Broken metadata are given as an entry point that
        raises, for a plugin may stand in them.
    """
    named: dict[Where, str] = {}
    for where, entry_point in _entry_points(group):
        # By what it can do and not by its class: a backport of importlib.metadata brings a class of its own.
        if callable(entry_point):
            yield where, entry_point
        elif not REFERENCE.fullmatch(entry_point.value):
            # Told here, for what a class of the backport says of it is not what Python's own says.
            yield where, _raising(f"its entry point refers to {entry_point.value!r}, which is no module:object")
        elif where not in named:
            named[where] = entry_point.value
            yield where, entry_point.load
        elif named[where] != entry_point.value:
            # The same one twice is an editable install beside a stale one.
            yield where, _raising(f"the name stands for {named[where]} and for {entry_point.value} too")


def _entry_points(group: str) -> Iterator[tuple[Where, metadata.EntryPoint | Callable[[], object]]]:
    try:
        for entry_point in metadata.entry_points(group=group):
            yield _where(entry_point), entry_point
    except Exception:
        # One distribution's file cannot be read, which makes all of them unreadable together: one by one, then.
        yield from _one_by_one(group)


def _one_by_one(group: str) -> Iterator[tuple[Where, metadata.EntryPoint | Callable[[], object]]]:
    seen: set[str] = set()
    for dist in metadata.distributions():
        name, version = _named(dist)
        plain = name.lower().replace("_", "-").replace(".", "-")
        if name and plain in seen:
            continue  # an older one behind it on the path
        seen.add(plain)
        try:
            for entry_point in dist.entry_points.select(group=group):
                yield (name or UNKNOWN, version or "?", entry_point.name), entry_point
        except Exception as error:
            if _may_name(dist, group):
                words = f"its entry points cannot be read ({type(error).__name__})"
                yield (name or UNKNOWN, version or "?", "entry_points.txt"), _raising(words)


def _may_name(dist: metadata.Distribution, group: str) -> bool:
    try:
        return group in (dist.read_text("entry_points.txt") or "")
    except Exception:
        return True


def _where(entry_point: metadata.EntryPoint) -> Where:
    name, version = ("", "") if entry_point.dist is None else _named(entry_point.dist)
    return name or UNKNOWN, version or "?", entry_point.name


def _named(dist: metadata.Distribution) -> tuple[str, str]:
    # Where the metadata are missing these are None or an error, as the version of Python has it.
    try:
        lines = dist.metadata
        given: tuple[object, object] = (lines["Name"], lines["Version"])
    except Exception:
        return "", ""
    name, version = given
    return name if isinstance(name, str) else "", version if isinstance(version, str) else ""


def _raising(words: str) -> Callable[[], object]:
    def plugin() -> object:
        raise PluginError(words, instead="Install that distribution again, or remove it.")

    return plugin
