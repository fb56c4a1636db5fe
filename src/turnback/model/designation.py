"""Reading a rope's designation: a small closed grammar, and the one vocabulary behind it.

The diameter comes first, with its unit; then, in any order, construction, core, grade, lay, outer wires, finish,
condition, rotation resistance, preforming and coating, each at most once. A word that is not listed here is an error
that names the word; nothing is dropped.

The words are those that the trade writes, from memory; the lay symbols ``sZ``, ``zS``, ``zZ``, ``sS`` and the core
words are those of EN 12385-2, from memory. None of them is a number of the trade.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Final, Literal, Required, TypedDict

from turnback.errors import InputError
from turnback.quantities import Length

__all__ = [
    "VOCABULARY",
    "CoatingWords",
    "RopeWords",
    "WordKind",
    "normal_construction",
    "normal_word",
    "read_designation",
]

WordKind = Literal["core", "grade", "lay", "outer_wires", "finish", "condition", "rotation_resistant", "preformed"]
"""What a word says about a rope: the name of the field that it fills."""


class CoatingWords(TypedDict):
    """A coating as read from a text: its finished diameter [length] and where it comes off."""

    finished_diameter: Length
    stripped: bool
    eye_stripped: bool


class RopeWords(TypedDict, total=False):
    """A designation taken apart, each part in its normal spelling; a part that was not given is not there."""

    diameter: Required[Length]
    construction: str
    core: str
    grade: str
    lay: str
    outer_wires: str
    finish: str
    condition: str
    rotation_resistant: bool
    preformed: bool
    coating: CoatingWords


VOCABULARY: Final[Mapping[WordKind, Mapping[str, str]]] = {
    "core": {
        **dict.fromkeys(("fc", "fibre core", "fiber core", "nfc", "sfc"), "FC"),
        **dict.fromkeys(("iwrc", "independent wire rope core"), "IWRC"),
        **dict.fromkeys(("wsc", "wire strand core"), "WSC"),
    },
    "grade": {
        **dict.fromkeys(("ips", "ip", "improved plow steel", "improved plough steel"), "IPS"),
        **dict.fromkeys(("eip", "xip", "eips", "extra improved plow steel", "extra improved plough steel"), "EIP"),
        **dict.fromkeys(("eeip", "eeips", "xxip"), "EEIP"),
        **{
            f"{number}{unit}": number
            for number in ("1570", "1770", "1960", "2160")
            for unit in ("", "n/mm2", "n/mm²", " n/mm2", " n/mm²")
        },
    },
    "lay": {
        f"{hand}{of_hand} {kind}{lay}": f"{hand} {name}"
        for hand in ("right", "left")
        for of_hand in ("", " hand")
        for kind, name in (("regular", "regular"), ("ordinary", "regular"), ("lang", "Lang"), ("lang's", "Lang"))
        for lay in ("", " lay")
    },
    "outer_wires": {"large outer wires": "large", "ordinary outer wires": "ordinary"},
    "finish": {
        "bright": "bright",
        **dict.fromkeys(("galvanized", "galvanised"), "galvanized"),
        **dict.fromkeys(("stainless", "stainless steel"), "stainless"),
    },
    "condition": {"new": "new", "used": "used", "worn": "worn"},
    "rotation_resistant": {"rotation resistant": "yes", "not rotation resistant": "no"},
    "preformed": {"preformed": "yes", "not preformed": "no"},
}
"""Every word a rope may be described with, in lower case and with spaces for hyphens, and its normal spelling."""

_PATTERNS: Final[Mapping[str, str]] = {
    "": "",
    **dict.fromkeys(("s", "seale"), "S"),
    **dict.fromkeys(("w", "warrington"), "W"),
    **dict.fromkeys(("f", "fi", "fw", "filler", "filler wire"), "F"),
    **dict.fromkeys(("ws", "warrington seale"), "WS"),
    "sws": "SWS",
    "sfw": "SFW",
    "m": "M",
    "n": "N",
    "class": " class",
}
_PHRASES: Final[Mapping[str, tuple[WordKind, str]]] = {
    phrase: (kind, value) for kind, words in VOCABULARY.items() for phrase, value in words.items()
}
# Whether the coating comes off where the clips sit, and in the eye; a coating without one of these is not read,
# for a default would hide the choice.
_COATING: Final[Mapping[str, tuple[bool, bool]]] = {
    "stripped": (True, True),
    "stripped eye left coated": (True, False),
    "coating left on": (False, True),
    "coating left on eye left coated": (False, False),
}

# The strand's direction first, then the rope's. Only in this very spelling, for SS may be meant for stainless.
_LAY_SYMBOLS: Final[Mapping[str, str]] = {
    "sZ": "right regular",
    "zS": "left regular",
    "zZ": "right Lang",
    "sS": "left Lang",
}

_LONGEST: Final = 200
_LENGTH: Final = re.compile(r"(?P<number>[0-9][0-9./ -]*?) ?(?P<unit>inches|inch|in|mm|cm|m|[\"″])")
_CONSTRUCTION: Final = re.compile(
    r"(?P<strands>[1-9][0-9]?)(?P<order>|[wm]|\([wm]\))x(?P<compacted>k?)(?P<wires>[1-9][0-9]{0,2})(?P<pattern>[a-z]*)"
)
_LAY_SYMBOL: Final = re.compile(r"(?<![^ ,;])[sz][SZ](?![^ ,;])")
_CROSS: Final = re.compile(r"(?<=[0-9)wm]) ?[x×] ?(?=k?[0-9])")
_GLUE: Final = re.compile(r"(?<=[a-z0-9)]) ?[-–+] ?(?=[a-z])")
_FORM: Final = '"6x19", "6x19S", "6x25F", "6x36WS", "6x19 class", "7x19", "1x19" or "18x7"'
_PARTS_IN_WORDS: Final = (
    "construction, core (FC, IWRC, WSC), grade (IPS, EIP, EEIP or N/mm²), lay (right regular, left Lang, sZ ...), "
    "large or ordinary outer wires, finish (bright, galvanized, stainless), new, used or worn, "
    "rotation-resistant, preformed, coated"
)
_EXAMPLE: Final = 'Write it like "1/2 in 6x36WS IWRC EIP" or "13 mm 6x36WS-IWRC 1960".'


def _plain(text: object, field: str) -> str:
    """Lower case, single spaces, lay symbols in words, one letter for a cross, hyphens between words as spaces."""
    if not isinstance(text, str):
        raise InputError("a text was expected", field=field, value=repr(text)[:80])
    if len(text) > _LONGEST:
        raise InputError("the text is too long", field=field, value=f"{len(text)} characters", bound=f"{_LONGEST}")
    spelled = _LAY_SYMBOL.sub(lambda found: _LAY_SYMBOLS[found[0]], " ".join(text.split()))
    return _GLUE.sub(" ", _CROSS.sub("x", spelled.lower()))


def _nearest(word: str, accepted: Iterable[str]) -> str:
    from difflib import get_close_matches  # only where a message is written

    close = get_close_matches(word, accepted, n=1, cutoff=0.5)
    return f' The nearest is "{close[0]}".' if close else ""


def normal_word(kind: WordKind, text: str) -> str:
    """Return a word of the vocabulary in its normal spelling.

    Args:
        kind: The field that the word belongs to, such as ``"grade"``.
        text: What was written; empty means not given.

    Returns:
        The normal spelling, such as ``"EIP"`` for ``"XIP"``; empty where nothing was given.

    Raises:
        InputError: The word is not in the closed list of this field; the message names the list and the nearest word.
    """
    plain = _plain(text, f"rope.{kind}")
    words = {"": "", **VOCABULARY[kind]}
    words |= {value.lower(): value for value in VOCABULARY[kind].values()}
    if plain not in words:
        accepted = ", ".join(f'"{value}"' for value in dict.fromkeys(VOCABULARY[kind].values()))
        instead = "Write one of these, or leave it out."
        if kind == "lay":
            instead = "Write one of these or the symbol sZ, zZ, zS or sS (strand, then rope), or leave it out."
        if kind == "grade":
            instead = "For another grade leave it out and give the minimum breaking force of the certificate."
        raise InputError(
            "this word is not in the closed list",
            field=f"rope.{kind}",
            value=repr(text),
            bound=f"one of {accepted}",
            instead=instead + _nearest(plain, words),
        )
    return words[plain]


def normal_construction(text: str) -> str:
    """Return a construction in its normal spelling.

    Args:
        text: What was written, such as ``"6 X 36 WS"`` or ``"6x19 Seale"``; empty means not given.

    Returns:
        The normal spelling, such as ``"6x36WS"``, ``"6x19S"`` or ``"6x19 class"``; empty where nothing was given.

    Raises:
        InputError: The text is no construction of the closed grammar.
    """
    plain = _plain(text, "rope.construction")
    if not plain:
        return ""
    first, _, behind = plain.partition(" ")
    found = _CONSTRUCTION.fullmatch(first)
    # The pattern stands in the first word or behind it, never in both.
    if found and (not behind or not found["pattern"]):
        pattern = _PATTERNS.get(behind or found["pattern"])
        if pattern is not None and not (pattern == " class" and found["pattern"]):
            head = f"{found['strands']}{found['order'].strip('()')}x{found['compacted']}{found['wires']}"
            return head.upper().replace("X", "x") + pattern
    raise InputError(
        "this is no construction that can be read",
        field="rope.construction",
        value=repr(text),
        bound="strands x wires, then nothing, a pattern S, W, F, WS, SWS, SFW, M or N, or the word class",
        instead=f"Write it like {_FORM}." + _nearest(plain, ("6x19", "6x36", "6x37", "7x7", "7x19", "8x19", "1x19")),
    )


def _take_length(tokens: Sequence[str], field: str) -> tuple[Length, int] | None:
    """Read a length of one to three words, such as ``1 1/2 in``, and tell how many words it took."""
    for count in (3, 2, 1):
        found = _LENGTH.fullmatch(" ".join(tokens[:count])) if len(tokens) >= count else None
        if found:
            gap = "" if found["unit"] in '"″' else " "
            return Length.of(found["number"] + gap + found["unit"], field), count
    return None


def _take_phrase(tokens: Sequence[str], accepted: Collection[str], longest: int) -> str:
    """Take the longest accepted phrase from the left; empty where none is."""
    for count in range(min(longest, len(tokens)), 0, -1):
        phrase = " ".join(tokens[:count])
        if phrase in accepted:
            return phrase
    return ""


def _take_coating(tokens: Sequence[str]) -> tuple[CoatingWords, int]:
    """Read what follows the word ``coated``, and tell how many words it took."""
    skip = 2 if tokens[1:2] == ["to"] else 1
    length = _take_length(tokens[skip:], "rope.coating.finished_diameter")
    ending = _take_phrase(tokens[skip + length[1] :], _COATING, 6) if length else ""
    if length is None or not ending:
        raise InputError(
            "a coating is read with its finished diameter and with what becomes of it under the clips",
            field="rope.coating",
            value=" ".join(tokens),
            instead='Write it like "coated 3/16 in stripped" or "coated 3/16 in, coating left on".',
        )
    stripped, eye_stripped = _COATING[ending]
    words = CoatingWords(finished_diameter=length[0], stripped=stripped, eye_stripped=eye_stripped)
    return words, skip + length[1] + len(ending.split())


def _take_part(tokens: Sequence[str], words: RopeWords) -> int:
    """Read one part from the left into `words`, and tell how many words it took; none where it cannot be read."""
    part: RopeWords = {"diameter": words["diameter"]}
    if tokens[0] == "coated":
        part["coating"], taken = _take_coating(tokens)
    elif "x" in tokens[0] and tokens[0][0].isdigit():
        behind = _take_phrase(tokens[1:], _PATTERNS, 2)
        part["construction"] = normal_construction(f"{tokens[0]} {behind}".strip())
        taken = 1 + len(behind.split())
    else:
        phrase = _take_phrase(tokens, _PHRASES, 4)
        if not phrase:
            return 0
        kind, value = _PHRASES[phrase]
        taken = len(phrase.split())
        if kind in ("rotation_resistant", "preformed"):
            part[kind] = value == "yes"
        else:
            part[kind] = value
    name = next(key for key in part if key != "diameter")
    if name in words:
        raise InputError(
            f"the {name.replace('_', ' ')} is given twice",
            field="rope",
            value=" ".join(tokens[:taken]),
            instead=_EXAMPLE,
        )
    words.update(part)
    return taken


def read_designation(text: str) -> RopeWords:
    """Take a rope's designation apart.

    Args:
        text: What was written, at most 200 characters, such as ``"1/2 in 6x36 IWRC EIP"``, ``"13 mm 6x36WS-IWRC 1960"``
            or ``"1/8 in 7x19 galvanized coated 3/16 in stripped"``.

    Returns:
        The parts in their normal spelling; the diameter [length] is always there.

    Raises:
        InputError: A word cannot be read, a part is given twice, or the text does not begin with a diameter.
    """
    tokens = [token for token in (word.rstrip(",;") for word in _plain(text, "rope").split()) if token]
    start = _take_length(tokens, "rope.diameter")
    if start is None:
        raise InputError(
            "the text does not begin with a diameter and its unit",
            field="rope",
            value=repr(text[:80]),
            instead=_EXAMPLE,
        )
    words: RopeWords = {"diameter": start[0]}
    at = start[1]
    while at < len(tokens):
        taken = _take_part(tokens[at:], words)
        if not taken:
            raise InputError(
                "a word cannot be read",
                field="rope",
                value=repr(tokens[at]),
                bound=_PARTS_IN_WORDS,
                instead=_EXAMPLE + _nearest(tokens[at], _PHRASES),
            )
        at += taken
    return words
