"""Which classes a construction counts as, and what its name says about its wires.

No published table at hand maps constructions to classes. A construction counts as itself, and 6x19 and 6x37 as the
classes that bear their name; every other mapping here is recalled from the class definitions of two standards and
carries the status ``memory``, which shows wherever it is used.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from turnback.model.cited import Cited
from turnback.model.designation import normal_construction
from turnback.model.sources import COMMON_PRACTICE, Citation, Source, user_citation

if TYPE_CHECKING:
    from turnback.model.rope import Rope

__all__ = ["classes_of", "is_rotation_resistant", "is_strand", "large_outer_wires"]

_PARTS: Final = re.compile(
    r"(?P<strands>[0-9]+)(?P<order>[WM]?)x(?P<compacted>K?)(?P<wires>[0-9]+)(?P<pattern>[A-Z]*)(?P<is_class>| class)"
)
# Strands whose wires lie parallel, in every layer the same lay length; M (several lay lengths) and N are classes apart.
_PARALLEL: Final = ("", "S", "W", "F", "WS", "SWS", "SFW")
_LIKE_19: Final = (19, 21, 25, 26)
_LIKE_36: Final = (29, 31, 36, 41, 46, 49)

_METRIC: Final = Citation(
    Source("en-12385-2", "EN 12385-2 and ISO 17893, designation and classes of constructions", issuer="CEN and ISO"),
    "classes",
    "memory",
)
_INCH: Final = Citation(
    Source("astm-a1023-classes", "ASTM A1023 and RR-W-410, definitions of the rope classes", issuer="ASTM and US GSA"),
    "classes",
    "memory",
)
_NAMESAKE: Final = Citation(COMMON_PRACTICE, "a class bears the name of its construction", "common practice")


def _mapped(strands: int, wires: int, pattern: str) -> list[tuple[str, Citation]]:
    found: list[tuple[str, Citation]] = []
    if pattern:
        found.append((f"{strands}x{wires}", _METRIC))
    if strands == 6 and wires in _LIKE_19:
        found += [("6x19", _METRIC), ("6x19 class", _INCH)]
    # A bare 6x37 may be of several lay lengths, which the metric class 6x36 is not: only the inch class takes it.
    elif strands == 6 and (wires in _LIKE_36 or (wires == 37 and pattern)):
        found += [("6x36", _METRIC), ("6x37 class", _INCH)]
    elif (strands, wires) == (6, 37):
        found.append(("6x37 class", _INCH))
    elif strands == 8 and wires in _LIKE_19:
        found.append(("8x19", _METRIC))
    elif strands == 8 and wires in _LIKE_36:
        found.append(("8x36", _METRIC))
    elif (strands, wires) == (17, 7):
        found.append(("18x7", _METRIC))
    return found


@lru_cache(maxsize=512)
def classes_of(construction: str) -> tuple[Cited[str], ...]:
    """List every class name that a construction counts as.

    Args:
        construction: The construction, such as ``"6x19S"``; empty means not given.

    Returns:
        The construction itself first, then its classes, each once and with its citation: ``"6x19"`` and
        ``"6x19 class"`` for ``"6x19S"``, ``"6x36"`` and ``"6x37 class"`` for ``"6x36WS"``. Empty where no
        construction was given.

    Raises:
        InputError: The text is no construction.

    Source: EN 12385-2, ISO 17893, ASTM A1023 and RR-W-410, all from memory, except a construction's own name.
    """
    name = normal_construction(construction)
    parts = _PARTS.fullmatch(name)
    if not parts:
        return ()
    classes = {name: Cited(name, (user_citation("the construction of the rope"),), "the construction itself")}
    plain = not (parts["order"] or parts["compacted"] or parts["is_class"])
    mapped: list[tuple[str, Citation]] = []
    if plain and parts["pattern"] in _PARALLEL:
        mapped = _mapped(int(parts["strands"]), int(parts["wires"]), parts["pattern"])
    elif name == "34Mx7":
        mapped = [("34x7", _METRIC)]
    for value, citation in mapped:
        if value not in classes:
            namesake = value == f"{name} class"
            cited = (_NAMESAKE if namesake else citation).at(f"{name} counts as {value}")
            classes[value] = Cited(value, (cited,), f"{name} counts as {value}")
    return tuple(classes.values())


def large_outer_wires(rope: Rope) -> bool | None:
    """Tell whether a rope is what the sources call Seale or other large-outer-wire rope.

    The sources that ask for one more clip speak of 6x19 rope; other classes are not meant, unless they are Seale.

    Args:
        rope: The rope.

    Returns:
        True for a Seale pattern or outer wires given as large; False for another named pattern, for outer wires given
        as ordinary and for a class that is not meant; None where the name does not tell (a bare 6x19, 8x19 or
        6x19 class, or no construction) and somebody must look.

    Source: TM 5-3810-305-10 (the words of the rule); the pattern letters of EN 12385-2 are from memory.
    """
    if rope.outer_wires:
        return rope.outer_wires == "large"
    parts = _PARTS.fullmatch(rope.construction)
    if not parts:
        return None
    if parts["pattern"]:
        return parts["pattern"] == "S"
    return None if parts["strands"] in ("6", "8") and int(parts["wires"]) in _LIKE_19 else False


def is_strand(construction: str) -> bool:
    """Tell whether a construction is a single strand, such as 1x7 or 1x19, and no rope.

    Args:
        construction: The construction.

    Returns:
        True for one strand; False for a rope and where none was given.

    Raises:
        InputError: The text is no construction.

    Source: none needed, the name says it.
    """
    return normal_construction(construction).startswith("1x")


def is_rotation_resistant(rope: Rope) -> bool | None:
    """Tell whether a rope resists rotation: as given, or by its construction.

    Args:
        rope: The rope.

    Returns:
        What was given; True for 8x19 and 19x7, and for 17x7, 18x7, 34x7 and 35Wx7; None where nothing says so.

    Source: 8 CCR 8497 Table 1 (8x19 and 19x7); the other constructions EN 12385-2, from memory.
    """
    if rope.rotation_resistant is not None:
        return rope.rotation_resistant
    names = {cited.value for cited in classes_of(rope.construction)}
    return True if names & {"8x19", "8x19 class", "19x7", "18x7", "34x7", "35Wx7"} else None
