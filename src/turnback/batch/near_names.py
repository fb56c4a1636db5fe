"""Names of columns that are near a known one: a slip of the finger, another case, a unit of one's own at the end."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

__all__ = ["meant_by", "nearest_of"]

_UNITS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in", "ft": "ft", "feet": "ft",
        "n": "N", "kn": "kN", "lbf": "lbf", "kip": "kip", "kips": "kip", "kgf": "kgf",
        "deg": "deg", "degree": "deg", "degrees": "deg", "rad": "rad", "radians": "rad",
    }
)  # fmt: skip
"""Endings that people write, and the unit that each stands for."""
_SIZE_WORDS: Final = frozenset({"size", "diameter", "diam", "dia", "rope", "nominal"})
_SHORT: Final = 4
_MIDDLE: Final = 8


def meant_by(name: str, known: Iterable[str]) -> tuple[str, str]:
    """Say which known column a name may have been meant for.

    Args:
        name: The name of a column that is not read.
        known: The names that are read.

    Returns:
        The known name, and the unit that the name ends in where it has one of its own; both empty where none is near.
    """
    plain = _plain(name)
    names = {_plain(each): each for each in known}
    if plain in names:
        return names[plain], ""
    stem, _, ending = plain.rpartition("_")
    if ending in _UNITS and stem in names:
        return names[stem], _UNITS[ending]
    allowed = _allowed(plain)
    near = min(((_edits(plain, each), each) for each in names), default=(allowed + 1, ""))
    return (names[near[1]], "") if near[0] <= allowed else ("", "")


def nearest_of(names: Iterable[str], wanted: Iterable[str]) -> str:
    """Name the column that may have been meant for the rope's diameter.

    Args:
        names: The names that are there.
        wanted: The names that are read.

    Returns:
        The nearest name; empty where none is near.
    """
    given, known = list(names), list(wanted)
    slips = [name for name in given if meant_by(name, known)[0]]
    words = [name for name in given if _SIZE_WORDS & set(_plain(name).split("_"))]
    return next(iter([*slips, *sorted(words, key=lambda name: -len(_SIZE_WORDS & set(_plain(name).split("_"))))]), "")


def _plain(name: str) -> str:
    """A name without what a spreadsheet or another program may have made of it: case, blanks, signs, brackets."""
    parted = re.sub(r"(?<=[a-z0-9])(?=[A-Z][a-z])", "_", name.strip())
    return re.sub(r"[^a-z0-9]+", "_", parted.lower()).strip("_")


def _allowed(name: str) -> int:
    return 0 if len(name) < _SHORT else 1 if len(name) < _MIDDLE else 2


def _edits(one: str, other: str) -> int:
    """Letters that are put in, left out, changed, or changed over with the next, from one name to the other."""
    if abs(len(one) - len(other)) > 2:
        return 3
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, mine in enumerate(one, 1):
        last, before, row = before, row, [i]
        for j, theirs in enumerate(other, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (mine != theirs))
            if i > 1 and j > 1 and mine == other[j - 2] and one[i - 2] == theirs:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
    return row[-1]
