"""A formula as it is printed, derived with sympy from the very function that the library calls.

The function is called with symbols for its arguments and ``sympy`` for its functions, without letting sympy reckon, so
that the terms stand in the order in which the function has them. The tree that comes of it is written as LaTeX by sympy
and as MathML, which browsers show without a script, by the writer below.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Final

import attrs
import sympy

from turnback import mechanics
from turnback.mechanics import FORMULAS

__all__ = ["Printed", "printed", "run", "shortened"]

_GREEK: Final = {"mu": "μ", "theta": "θ"}
_EXP: Final = sympy.Function("exp")
"""Written as exp(x): the letter e is a length in these formulas."""
_LEG: Final = sympy.Symbol("l", positive=True)


@attrs.frozen
class Printed:
    """One formula in two notations.

    Args:
        latex: As LaTeX, the right side alone.
        mathml: As MathML, the right side alone, without the ``math`` element.
    """

    latex: str
    mathml: str


def run(name: str, arguments: Mapping[str, object], functions: object) -> object:
    """Call a function of ``turnback.mechanics``.

    Args:
        name: Its name.
        arguments: Its arguments by name, without the functions to compute with.
        functions: ``math``, ``mpmath.mp`` or ``sympy``; passed where the function takes it.

    Returns:
        What it returns.
    """
    function: Callable[..., object] = getattr(mechanics, name)
    takes = "f" in inspect.signature(function).parameters
    return function(**arguments, f=functions) if takes else function(**arguments)


@cache
def printed(name: str) -> Printed:
    """Print a formula.

    Args:
        name: Name of its function.

    Returns:
        Both notations.
    """
    return _written(_tree(name))


@cache
def shortened(name: str) -> Printed | None:
    """Print a formula with ``l`` for the length of the leg wherever it occurs.

    Args:
        name: Name of its function.

    Returns:
        Both notations; None where the leg does not occur, or is all there is.
    """
    whole, leg = _tree(name), _tree("leg")
    short = _replaced(whole, leg)
    return None if short in (whole, _LEG) else _written(short)


def _written(tree: sympy.Expr) -> Printed:
    return Printed(sympy.latex(tree, order="none"), _mathml(tree))


def _tree(name: str) -> sympy.Expr:
    symbols = {symbol.argument: sympy.Symbol(symbol.name, positive=True) for symbol in FORMULAS[name].symbols}
    with sympy.evaluate(False):
        return _flat(run(name, symbols, sympy))


def _flat(tree: sympy.Expr) -> sympy.Expr:
    """Write sums and products in one row each, and a factor that is repeated as a power."""
    if isinstance(tree, sympy.exp):
        return _EXP(_flat(tree.args[0]))
    if not tree.args:
        return tree
    kind = tree.func
    parts = [_flat(part) for part in tree.args]
    if kind not in (sympy.Add, sympy.Mul):
        return kind(*parts, evaluate=False)
    row = [each for part in parts for each in (part.args if part.func is kind else (part,))]
    return kind(*(row if kind is sympy.Add else _powers(row)), evaluate=False)


def _powers(row: list[sympy.Expr]) -> Iterator[sympy.Expr]:
    for place, factor in enumerate(row):
        if not factor.is_Symbol:
            yield factor
        elif factor not in row[:place]:
            times = row.count(factor)
            yield factor if times == 1 else sympy.Pow(factor, times, evaluate=False)


def _replaced(tree: sympy.Expr, leg: sympy.Expr) -> sympy.Expr:
    if tree == leg:
        return _LEG
    if not tree.args:
        return tree
    parts = [_replaced(part, leg) for part in tree.args]
    return tree if parts == list(tree.args) else tree.func(*parts, evaluate=False)


# --- MathML: the few elements that these formulas need ---


def _mathml(tree: sympy.Expr) -> str:
    if tree.is_Add:
        return _sum(tree.args)
    if tree.is_Mul or tree.is_Rational or (tree.is_Pow and tree.exp == -1):
        return _product(tree)
    if tree.is_Pow:
        return _power(tree)
    if tree.is_Float:
        return f"<mn>{tree}</mn>"
    if tree == sympy.pi:
        return "<mi>π</mi>"
    if tree.is_Symbol:
        return _symbol(tree.name)
    (argument,) = tree.args
    return f"<mrow><mi>{tree.func.__name__}</mi><mo>\u2061</mo>{_bracketed(argument)}</mrow>"


def _symbol(name: str) -> str:
    letter = name.rstrip("0123456789")
    shown = f"<mi>{_GREEK.get(letter, letter)}</mi>"
    return shown if letter == name else f"<msub>{shown}<mn>{name[len(letter) :]}</mn></msub>"


def _sum(terms: tuple[sympy.Expr, ...]) -> str:
    found: list[str] = []
    for term in terms:
        negative, bare = _sign(term)
        sign = "<mo>−</mo>" if negative else "<mo>+</mo>" if found else ""
        found.append(sign + _mathml(bare))
    return f"<mrow>{''.join(found)}</mrow>"


def _sign(term: sympy.Expr) -> tuple[bool, sympy.Expr]:
    if term.is_Number and term < 0:
        return True, -term
    if term.is_Mul and term.args[0].is_Number and term.args[0] < 0:
        first, *rest = term.args
        kept = rest if first == -1 else [-first, *rest]
        return True, kept[0] if len(kept) == 1 else sympy.Mul(*kept, evaluate=False)
    return False, term


def _product(tree: sympy.Expr) -> str:
    above: list[sympy.Expr] = []
    below: list[sympy.Expr] = []
    for factor in tree.args if tree.is_Mul else (tree,):
        if factor.is_Pow and factor.exp == -1:
            below += factor.base.args if factor.base.is_Mul else [factor.base]
        elif factor.is_Rational:
            above += [sympy.Integer(factor.p)] if factor.p != 1 else []
            below += [sympy.Integer(factor.q)] if factor.q != 1 else []
        else:
            above.append(factor)
    top = _factors(above)
    return f"<mfrac>{top}{_factors(below)}</mfrac>" if below else top


def _factors(factors: list[sympy.Expr]) -> str:
    if not factors:
        return "<mn>1</mn>"
    alone = len(factors) == 1
    parts = [_factor(factor, alone=alone) for factor in factors]
    if alone:
        return parts[0]
    return "<mrow>" + "<mo>\u2062</mo>".join(parts) + "</mrow>"


def _factor(factor: sympy.Expr, *, alone: bool) -> str:
    if factor.is_Integer:
        return f"<mn>{factor}</mn>"
    return _bracketed(factor) if factor.is_Add and not alone else _mathml(factor)


def _power(tree: sympy.Expr) -> str:
    if tree.exp == sympy.Rational(1, 2):
        return f"<msqrt>{_mathml(tree.base)}</msqrt>"
    base = _mathml(tree.base) if tree.base.is_Symbol else _bracketed(tree.base)
    return f"<msup>{base}<mn>{tree.exp}</mn></msup>"


def _bracketed(tree: sympy.Expr) -> str:
    return f'<mrow><mo stretchy="true">(</mo>{_mathml(tree)}<mo stretchy="true">)</mo></mrow>'
