"""Lettering of a figure: text that any SVG may hold, how wide it may become, and where its lines break."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["clean_text", "text_width", "wrapped"]

# Widths of a wide sans-serif face in hundredths of the type's height; a narrower face leaves more room.
_NARROW: Final = frozenset("ijl.,:;'|!I ")
_MIDDLING: Final = frozenset('frt()[]-/\\"·°{}J')
_WIDE: Final = frozenset("wOQGDHNU&≈+=<>~")
_WIDEST: Final = frozenset("mMW%@")


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Reckon how wide a line of text may become, whatever sans-serif face draws it.

    Args:
        text: The text.
        size: Height of the type [drawing units].
        bold: Whether it is bold.

    Returns:
        The width [drawing units], rather too great than too small.
    """
    hundredths = 0
    for sign in clean_text(text):
        if sign in _NARROW:
            hundredths += 34
        elif sign in _MIDDLING:
            hundredths += 43
        elif sign in _WIDE:
            hundredths += 88
        elif sign in _WIDEST:
            hundredths += 102
        else:
            hundredths += 66 if sign < "\u0250" else 105
    return hundredths * size * (1.13 if bold else 1.0) / 100


# What XML 1.0 cannot hold, and the signs that turn the direction of writing: a name must not reorder a drawing.
_UNFIT: Final = re.compile(
    r"[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u200e\u200f\u202a-\u202e\u2066-\u2069]"
)
_BLANKS: Final = re.compile(r"\s+")


def clean_text(text: str) -> str:
    """Make one line of text that any SVG may hold.

    Args:
        text: Any text.

    Returns:
        The text with blanks of every kind as single ones, and what cannot be written as a replacement sign.
    """
    return _BLANKS.sub(" ", _UNFIT.sub("\ufffd", text))


def wrapped(text: str, size: float, width: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text into lines.

    Args:
        text: The text.
        size: Height of the type [drawing units].
        width: Greatest width of a line [drawing units].
        bold: Whether it is bold.

    Returns:
        Lines that fit, at least one; a word that is too long for a line is broken.
    """
    lines: list[str] = []
    line = ""
    for word in clean_text(text).split():
        rest = word
        if line and text_width(f"{line} {rest}", size, bold=bold) <= width:
            line = f"{line} {rest}"
            continue
        if line:
            lines.append(line)
        # No more than so many of the narrowest signs can fit, which keeps a word without end from taking time.
        most = int(width / (size * 0.34)) + 1
        while len(rest) > 1 and text_width(rest[: most + 1], size, bold=bold) > width:
            lengths = range(min(most, len(rest) - 1), 0, -1)
            fits = next(n for n in lengths if n == 1 or text_width(rest[:n], size, bold=bold) <= width)
            lines.append(rest[:fits])
            rest = rest[fits:]
        line = rest
    return (*lines, line)
