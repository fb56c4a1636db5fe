"""The worked case of a formula: its exact input, the value as floats, at fifty digits and as a plan rounds it."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final

import attrs
import mpmath
from formula_math import run
from formula_notes import NOTES

from turnback.mechanics import FORMULAS
from turnback.quantities import Length

__all__ = ["Worked", "worked"]

_DIGITS: Final = 50
_NANOMETRES: Final = 1_000_000
"""In a millimetre."""


@attrs.frozen
class Worked:
    """A worked case.

    Args:
        inputs: Value of each symbol as text, in the order of the formula.
        value: Computed with floats, in the unit of the formula.
        digits: The same at fifty digits, as text.
        ulps: Distance of the two, in units in the last place of the float [-].
        rounded: What a plan makes of it, as text; empty where it does not round.
    """

    inputs: tuple[str, ...]
    value: float
    digits: str
    ulps: float
    rounded: str


def worked(name: str) -> Worked:
    """Work the case of a formula.

    Args:
        name: Name of its function.

    Returns:
        The case.

    Raises:
        KeyError: The note gives another set of inputs than the formula takes.
    """
    formula, note = FORMULAS[name], NOTES[name]
    given = dict(note.inputs)
    texts = tuple(given.pop(symbol.argument) for symbol in formula.symbols)
    if given:
        raise KeyError(f"{name}: the formula takes no {', '.join(given)}")
    named = list(zip((symbol.argument for symbol in formula.symbols), texts, strict=True))
    value = run(name, {argument: float(text) for argument, text in named}, math)
    assert isinstance(value, float)
    with mpmath.workdps(_DIGITS):
        exact = run(name, {argument: mpmath.mpf(text) for argument, text in named}, mpmath.mp)
        digits = mpmath.nstr(exact, 30, strip_zeros=True)
        ulps = float(abs(mpmath.mpf(value) - exact) / math.ulp(value))
    return Worked(texts, value, digits, ulps, _rounded(name, named))


def _rounded(name: str, named: list[tuple[str, str]]) -> str:
    """Do what a plan does: lengths as nanometres, floats where the formula has functions, else exact numbers."""
    formula, note = FORMULAS[name], NOTES[name]
    if note.rounding == "none":
        return ""
    units = {symbol.argument: symbol.unit for symbol in formula.symbols}
    scaled = {key: Fraction(text) * (_NANOMETRES if units[key] == "mm" else 1) for key, text in named}
    if note.rounding == "nearest":
        floats = run(name, {key: float(number) for key, number in scaled.items()}, math)
        assert isinstance(floats, float)
        return _shown(Length.nearest(floats))
    exact = run(name, scaled, math)
    assert isinstance(exact, Fraction)
    return _shown(Length.up(exact))


def _shown(length: Length) -> str:
    return f"{length.nanometres:,} nm".replace(",", "\u202f") + f", which is {length}"
