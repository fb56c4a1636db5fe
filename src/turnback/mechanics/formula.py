"""A formula as printed text, and the symbols that it is written in."""

from __future__ import annotations

import attrs

__all__ = ["Formula", "Symbol"]


@attrs.frozen
class Symbol:
    """One symbol of a printed formula.

    Args:
        name: The symbol as the formula prints it.
        argument: Name of the function's argument that it stands for.
        meaning: What it is, in words.
        unit: Its unit, ``-`` where it has none.
    """

    name: str
    argument: str
    meaning: str
    unit: str


@attrs.frozen
class Formula:
    """A formula as it is shown to a reader.

    Args:
        name: Name of the function in ``turnback.mechanics`` that computes it.
        result: What it gives, in words.
        unit: Unit of the result, ``-`` where it has none.
        text: The formula, in the symbols below.
        symbols: Its symbols, in the order of the function's arguments.
        source: Where it comes from, one sentence.
    """

    name: str
    result: str
    unit: str
    text: str
    symbols: tuple[Symbol, ...]
    source: str
