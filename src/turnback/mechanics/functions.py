"""What a formula asks of the numbers and of the functions that it is given.

A formula of this room is one text with four readings. Give it floats and ``math`` and it computes a plan; arrays and
``numpy`` (2 or later), a million plans; ``mpmath.mpf`` and ``mpmath.mp``, fifty digits; symbols and ``sympy``, itself.
The layout formulas need no functions and stay exact with ``int`` or ``fractions.Fraction``.
"""

from __future__ import annotations

from typing import Protocol, Self, TypeVar

__all__ = ["Divisible", "Functions", "Number", "Real"]


class Number(Protocol):
    """Adds, subtracts and multiplies: ``int``, ``Fraction``, ``float``, an array, a symbol."""

    def __add__(self, other: Self | int, /) -> Self: ...
    def __radd__(self, other: int, /) -> Self: ...
    def __sub__(self, other: Self | int, /) -> Self: ...
    def __mul__(self, other: Self | int, /) -> Self: ...
    def __rmul__(self, other: int, /) -> Self: ...


class Divisible(Number, Protocol):
    """Divides too and stays what it is.

    ``Fraction`` and ``float`` do. ``int`` does not (``1 / 2`` is a float), so a type checker refuses whole nanometres
    where a formula divides: pass ``Fraction(nanometres)`` to stay exact.
    """

    def __truediv__(self, other: Self | int, /) -> Self: ...


class Real(Divisible, Protocol):
    """Goes together with a float such as pi: ``float``, a float array, ``mpf``, a symbol; not ``Fraction``."""

    def __radd__(self, other: float, /) -> Self: ...
    def __rsub__(self, other: float, /) -> Self: ...


R = TypeVar("R", bound=Real)


class Functions(Protocol[R]):
    """The functions a formula may call, by the names that ``math``, ``numpy``, ``mpmath.mp`` and ``sympy`` share."""

    @property
    def pi(self) -> float:
        """Half a turn [rad]; ``mpmath`` and ``sympy`` bring their own, which is not a float but behaves like one."""

    def sqrt(self, x: R, /) -> R:
        """Square root."""

    def sin(self, x: R, /) -> R:
        """Sine of an angle [rad]."""

    def cos(self, x: R, /) -> R:
        """Cosine of an angle [rad]."""

    def asin(self, x: R, /) -> R:
        """Angle [rad] that has this sine."""

    def acos(self, x: R, /) -> R:
        """Angle [rad] that has this cosine."""

    def atan(self, x: R, /) -> R:
        """Angle [rad] that has this tangent."""

    def exp(self, x: R, /) -> R:
        """Exponential."""
