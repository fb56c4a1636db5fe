"""One text, four readings: what the formulas ask of numbers and functions, run and type-checked."""

from __future__ import annotations

import ast
import inspect
import math
from fractions import Fraction
from types import ModuleType

import mpmath
import numpy as np
import pytest
import sympy
from numpy.typing import NDArray

from turnback.mechanics import (
    Functions,
    eye,
    layout,
    rope_in_eye,
    saddle_centre,
    spacing_in_turn_back,
    strength,
    turn_back_for_spacing,
)


def test_the_type_checker_knows_the_readings() -> None:
    """Read by mypy: each annotation below is a claim about what a formula returns."""
    from_floats: float = rope_in_eye(36.0, 71.0, 13.0, math)
    widths: NDArray[np.float64] = np.array([36.0, 36.0])
    from_arrays: NDArray[np.float64] = rope_in_eye(widths, 2 * widths, widths / 3, np)
    spacings: NDArray[np.float64] = spacing_in_turn_back(10 * widths, widths, 3)
    from_whole_numbers: int = turn_back_for_spacing(3, 4, 5)
    from_fractions: Fraction = saddle_centre(1, Fraction(3), Fraction(5))
    from_both: Fraction = spacing_in_turn_back(Fraction(10), 3, 4)
    # Whole numbers do not stay whole where a formula divides, so the checker refuses them there.
    no_longer_exact = spacing_in_turn_back(8, 1, 4)  # type: ignore[type-var]

    assert (float, np.float64, np.float64) == (type(from_floats), from_arrays.dtype.type, spacings.dtype.type)
    assert (int, Fraction, Fraction) == (type(from_whole_numbers), type(from_fractions), type(from_both))
    assert isinstance(no_longer_exact, float)


@pytest.mark.parametrize("namespace", [math, np, mpmath.mp, sympy], ids=["math", "numpy", "mpmath", "sympy"])
def test_every_namespace_has_every_function(namespace: object) -> None:
    asked_for = {name for name in vars(Functions) if not name.startswith("_")}

    assert {"pi", "sqrt", "sin", "cos", "asin", "acos", "atan", "exp"} == asked_for
    assert not {name for name in asked_for if not hasattr(namespace, name)}


@pytest.mark.parametrize("module", [eye, layout, strength], ids=["eye", "layout", "strength"])
def test_a_formula_is_one_equation(module: ModuleType) -> None:
    """One return of plain arithmetic: no branch, no check, no power (numpy and math round powers differently)."""
    tree = ast.parse(inspect.getsource(module))
    functions = [node for node in tree.body if isinstance(node, ast.FunctionDef)]
    allowed = (ast.BinOp, ast.Call, ast.Name, ast.Attribute, ast.Constant, ast.operator, ast.expr_context, ast.Return)

    assert functions
    for function in functions:
        assert [ast.Expr, ast.Return] == [type(statement) for statement in function.body]
        for node in ast.walk(function.body[1]):
            assert isinstance(node, allowed)
            assert not isinstance(node, (ast.Pow, ast.FloorDiv, ast.Mod))
