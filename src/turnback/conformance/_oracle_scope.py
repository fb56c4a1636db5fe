"""Which ropes a rule file speaks of, as the oracle reads it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

import attrs

from turnback.conformance._oracle_linear import Span, span
from turnback.conformance._oracle_reading import Table, text, words

__all__ = ["Entry", "RopeWords", "entry", "has_large_wires"]

_CONSTRUCTION: Final = re.compile(r"(?P<strands>\d+)[WM]?xK?(?P<wires>\d+)(?P<pattern>[A-Z]*)(?P<class> class)?")
# Wires in one strand; the inch classes, from memory of their definitions.
_CLASSES: Final = {"6x19 class": (6, 15, 26), "6x37 class": (6, 27, 49)}
# From so many strands on, a rope has several layers of them.
_LAYERED: Final = 15


@attrs.frozen
class RopeWords:
    """What is said of a rope; empty text is not given.

    Args:
        construction: Such as ``"6x19S"`` or ``"6x19 class"``.
        core: Such as ``"IWRC"``.
        grade: Such as ``"EIP"``.
        lay: Such as ``"right regular"``.
        rotation_resistant: Whether it is; None where not said.
    """

    construction: str = ""
    core: str = ""
    grade: str = ""
    lay: str = ""
    rotation_resistant: bool | None = None


def has_large_wires(construction: str, said: bool | None) -> bool | None:
    """Say whether the outer wires are large.

    Args:
        construction: The construction; empty where not given.
        said: What is said of them; None where nothing is.

    Returns:
        Whether they are, None where nobody knows: a Seale strand has them, another named pattern has not.
    """
    found = _CONSTRUCTION.fullmatch(construction)
    if found is not None and found["pattern"] == "S":
        return True
    if said is not None:
        return said
    return False if found is not None and found["pattern"] else None


def _covers(named: str, construction: str) -> bool:
    if named == construction:
        return True
    found = _CONSTRUCTION.fullmatch(construction)
    if found is None:
        return False
    strands, wires = int(found["strands"]), int(found["wires"])
    if named in _CLASSES:
        own, least, greatest = _CLASSES[named]
        return strands == own and least <= wires <= greatest
    return not found["class"] and named == f"{strands}x{wires}"


def _resistant(rope: RopeWords) -> bool | None:
    if rope.rotation_resistant is not None:
        return rope.rotation_resistant
    found = _CONSTRUCTION.fullmatch(rope.construction)
    if found is None:
        return None
    # Several layers of strands, laid against each other; 8x19 is so called by the one regulation that names it.
    eight = _covers("8x19", rope.construction)
    return True if eight or int(found["strands"]) >= _LAYERED else None


@attrs.frozen
class Entry:
    """One way to be in the scope of a rule file.

    Args:
        counts_only: Whether it holds for the number of clips alone.
        sizes: The sizes.
        constructions: The constructions; empty for all, likewise the others.
        cores: The cores.
        grades: The grades.
        lays: The lays.
        rotation_resistant: What the rope must be; None for either.
        confirm: Which of these four only ask for a confirmation.
    """

    counts_only: bool
    sizes: Span
    constructions: tuple[str, ...]
    cores: tuple[str, ...]
    grades: tuple[str, ...]
    lays: tuple[str, ...]
    rotation_resistant: bool | None
    confirm: tuple[str, ...]

    def admits(self, diameter: Fraction, rope: RopeWords) -> bool:
        """Say whether a rope is in this entry; what is not said of it neither admits nor refuses it.

        The kinds of termination that an entry names do not refuse others: these are planned, without a strength.

        Args:
            diameter: Rope diameter [nm].
            rope: The rope.

        Returns:
            Whether it is.
        """
        if not self.sizes.holds(diameter):
            return False
        resistant = _resistant(rope)
        if None not in (self.rotation_resistant, resistant) and resistant is not self.rotation_resistant:
            return False
        limits = {
            "constructions": (self.constructions, rope.construction),
            "cores": (self.cores, rope.core),
            "grades": (self.grades, rope.grade),
            "lays": (self.lays, rope.lay),
        }
        return all(
            plural in self.confirm or not accepted or not word or any(_covers(each, word) for each in accepted)
            for plural, (accepted, word) in limits.items()
        )


def entry(place: Table) -> Entry:
    """Read one entry of the scope.

    Args:
        place: The table of the file [-].

    Returns:
        The entry.

    Raises:
        InputError: Something in it cannot be read.
    """
    resistant = place.get("rotation_resistant")
    return Entry(
        text(place.get("for")) == "counts",
        span(place.get("sizes")),
        words(place.get("constructions")),
        words(place.get("cores")),
        words(place.get("grades")),
        words(place.get("lays")),
        resistant if isinstance(resistant, bool) else None,
        words(place.get("confirm")),
    )
