"""The printed formulas are the functions that are run: derived with sympy, evaluated with math and at fifty digits."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from typing import Any

import mpmath
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback import mechanics
from turnback.mechanics import FORMULAS, Formula

FUNCTIONS: dict[str, Callable[..., Any]] = {
    name: member for name in mechanics.__all__ if inspect.isfunction(member := getattr(mechanics, name))
}
NAMES = ("sqrt", "sin", "cos", "asin", "atan", "exp", "pi")
every_formula = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())

# Where an argument must keep to a domain; any other is drawn from 0.5 to 500.
DOMAINS = {
    "radius": st.floats(10, 100),
    "a": st.floats(120, 2000),
    "e": st.floats(0, 19),
    "half_angle": st.floats(0.05, 1.04),
    "friction": st.floats(0.01, 0.5),
    "angle": st.floats(0.1, 12),
    "n": st.integers(2, 24),
    "total": st.integers(2, 24),
    "i": st.integers(0, 23),
    "count": st.integers(1, 24),
    "printed_count": st.integers(1, 24),
}


def run(formula: Formula, arguments: dict[str, Any], namespace: Any) -> Any:
    function = FUNCTIONS[formula.name]
    if "f" in inspect.signature(function).parameters:
        return function(**arguments, f=namespace)
    return function(**arguments)


def printed(formula: Formula, arguments: dict[str, Any], namespace: Any) -> Any:
    """The printed text, read as arithmetic over its symbols."""
    values = {symbol.name: arguments[symbol.argument] for symbol in formula.symbols}
    functions = {name: getattr(namespace, name) for name in NAMES}
    return eval(formula.text, {"__builtins__": {}, **functions}, values)


def drawn_arguments(data: st.DataObject, formula: Formula) -> dict[str, float]:
    return {
        symbol.argument: data.draw(DOMAINS.get(symbol.argument, st.floats(0.5, 500)), label=symbol.argument)
        for symbol in formula.symbols
    }


def test_every_function_has_a_formula_and_every_formula_a_function() -> None:
    assert set(FUNCTIONS) == set(FORMULAS)
    assert list(FORMULAS) == [formula.name for formula in FORMULAS.values()]


@every_formula
def test_symbols_are_the_arguments_of_the_function_in_order(formula: Formula) -> None:
    parameters = [name for name in inspect.signature(FUNCTIONS[formula.name]).parameters if name != "f"]

    assert parameters == [symbol.argument for symbol in formula.symbols]
    assert len(formula.symbols) == len({symbol.name for symbol in formula.symbols})
    assert not {symbol.name for symbol in formula.symbols} & set(NAMES)


@every_formula
def test_text_is_what_sympy_derives_from_the_function(formula: Formula) -> None:
    symbols = {symbol.name: sympy.Symbol(symbol.name, positive=True) for symbol in formula.symbols}
    from_text = sympy.sympify(formula.text, locals=symbols)
    arguments = {symbol.argument: symbols[symbol.name] for symbol in formula.symbols}
    from_function = run(formula, arguments, sympy)

    assert set(symbols.values()) == from_text.free_symbols
    assert 0 == sympy.simplify(from_text - from_function)


@every_formula
@settings(deadline=None, max_examples=100)
@given(data=st.data())
def test_text_evaluates_to_the_value_of_the_function(formula: Formula, data: st.DataObject) -> None:
    arguments = drawn_arguments(data, formula)
    expected = printed(formula, arguments, math)

    assert abs(expected - run(formula, arguments, math)) <= 4 * math.ulp(expected)


@every_formula
@settings(deadline=None, max_examples=20)
@given(data=st.data())
def test_text_evaluates_to_the_value_of_the_function_at_fifty_digits(formula: Formula, data: st.DataObject) -> None:
    with mpmath.workdps(50):
        arguments = {name: mpmath.mpf(value) for name, value in drawn_arguments(data, formula).items()}
        expected = printed(formula, arguments, mpmath.mp)

        assert mpmath.almosteq(expected, run(formula, arguments, mpmath.mp), rel_eps=1e-45, abs_eps=1e-45)


@every_formula
def test_formula_says_what_it_gives_in_which_unit_and_where_it_comes_from(formula: Formula) -> None:
    documented = inspect.getdoc(FUNCTIONS[formula.name]) or ""
    returns = documented.split("Returns:")[1]
    unit = {"rad": "[rad]", "-": "[-]"}.get(formula.unit, f"[{formula.unit}]")

    assert unit in returns
    assert formula.result
    assert formula.source.endswith(".")
    for symbol in formula.symbols:
        assert f"{symbol.argument}:" in documented
        assert symbol.meaning
        assert symbol.unit
