"""Holding one document against another: where they differ, in the numbers or in the wording alone."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Final, NamedTuple

from turnback.output.json_text import Json, at, entry

__all__ = ["Unlike", "unlike"]

_CLOSE: Final = 1e-12
"""Relative difference of floats that another machine's functions may make [-]."""
_MOST: Final = 200
_ALIGNED: Final = 200
"""Longest list whose entries are paired by their codes; longer ones are paired by place."""
_NOTHING: Final = "nothing"
_PROSE: Final = frozenset(
    {"text", "note", "name", "reason", "how", "formula", "label", "item", "reading", "document", "edition", "issuer",
     "locator", "printed", "caution"}
)  # fmt: skip
_PROSE_LISTS: Final = ("derivations", "forbidden", "absent", "citations")


class Unlike(NamedTuple):
    """One place where two documents differ.

    Args:
        path: The place.
        recorded: What stands in the one.
        recomputed: What stands in the other.
        wording: Whether it is a text for a reader, which says in words what stands elsewhere in numbers and codes.
    """

    path: str
    recorded: str
    recomputed: str
    wording: bool = False


def unlike(recorded: Json, recomputed: Json) -> tuple[Unlike, ...]:
    """Compare two documents.

    Args:
        recorded: The one.
        recomputed: The other.

    Returns:
        Where they differ, in the order of the document: the first two hundred numbers and codes, and the first two
        hundred texts, so that no number is lost behind texts. Floats may differ in their last digits.
    """
    found, seen = [], {False: 0, True: 0}
    for each in _unlike(recorded, recomputed, ""):
        seen[each.wording] += 1
        if seen[each.wording] <= _MOST:
            found.append(each)
        if seen[False] > _MOST:
            break
    return tuple(found)


def _unlike(one: Json, other: Json, path: str) -> Iterator[Unlike]:
    if isinstance(one, dict) and isinstance(other, dict):
        for key in [*other, *(key for key in one if key not in other)]:
            place = at(path, key)
            if key in one and key in other:
                yield from _unlike(one[key], other[key], place)
            else:
                then, now = (_told(side[key]) if key in side else _NOTHING for side in (one, other))
                yield Unlike(place, then, now)
    elif isinstance(one, list) and isinstance(other, list):
        yield from _lists(one, other, path)
    elif not _same(one, other):
        yield Unlike(path, _told(one), _told(other), _is_wording(one, other, path))


def _same(one: Json, other: Json) -> bool:
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(other, float) and isinstance(one, (int, float)):
        return math.isclose(one, other, rel_tol=_CLOSE)
    return type(one) is type(other) and one == other


def _is_wording(one: Json, other: Json, path: str) -> bool:
    if not isinstance(one, str) or not isinstance(other, str):
        return False
    last = path.rpartition(".")[2]
    return last in _PROSE or any(part.partition("[")[0] in _PROSE_LISTS for part in path.split("."))


def _lists(one: list[Json], other: list[Json], path: str) -> Iterator[Unlike]:
    for i, j in _pairs(one, other):
        if i is None or j is None:
            then, now = (_NOTHING if k is None else _told(side[k]) for k, side in ((i, one), (j, other)))
            yield Unlike(entry(path, i if i is not None else j or 0), then, now)
        else:
            yield from _unlike(one[i], other[j], entry(path, i))


def _pairs(one: list[Json], other: list[Json]) -> Iterator[tuple[int | None, int | None]]:
    codes, others = [_code(each) for each in one], [_code(each) for each in other]
    if codes == others or max(len(one), len(other)) > _ALIGNED or "" in (*codes, *others):
        longest = max(len(one), len(other))
        yield from ((i if i < len(one) else None, i if i < len(other) else None) for i in range(longest))
        return
    from difflib import SequenceMatcher  # only where lists differ

    for what, i, i_end, j, j_end in SequenceMatcher(None, codes, others, autojunk=False).get_opcodes():
        if what == "equal":
            yield from zip(range(i, i_end), range(j, j_end), strict=True)
        else:
            yield from ((k, None) for k in range(i, i_end))
            yield from ((None, k) for k in range(j, j_end))


def _code(value: Json) -> str:
    code = value.get("code") if isinstance(value, dict) else None
    return code if isinstance(code, str) else ""


def _told(value: Json) -> str:
    if isinstance(value, dict):
        code = _code(value)
        return code or f"an object of {len(value)} keys"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 200 else text[:200] + "..."
