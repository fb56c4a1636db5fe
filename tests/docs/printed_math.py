"""Reads printed formulas back, as somebody who has nothing but the page: LaTeX and MathML, evaluated as floats."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final
from xml.etree.ElementTree import Element, fromstring

__all__ = ["read_latex", "read_mathml"]

_FUNCTIONS: Final = {"sin": math.sin, "cos": math.cos, "asin": math.asin, "atan": math.atan, "exp": math.exp}
_GREEK: Final = {"μ": "mu", "θ": "theta"}
_TOKEN: Final = re.compile(r"\\left\(|\\right\)|\\operatorname\{(?:\w+)\}|\\[a-z]+|\d+|[A-Za-z]|[-+^_{}]")


def _power(base: float, exponent: float) -> float:
    assert exponent == 2, exponent
    return base * base


class _Latex:
    """A reader of the little LaTeX that formulas are printed in."""

    def __init__(self, text: str, values: Mapping[str, float]) -> None:
        self.tokens: list[str] = _TOKEN.findall(text)
        assert "".join(self.tokens) == "".join(text.split()), "something in the formula is not understood"
        self.values = values

    def next(self) -> str:
        return self.tokens[0] if self.tokens else ""

    def take(self, wanted: str = "") -> str:
        token = self.tokens.pop(0)
        assert wanted in ("", token), (wanted, token)
        return token

    def total(self) -> float:
        negative = self.next() == "-" and bool(self.take())
        found = -self.product() if negative else self.product()
        while self.next() in ("+", "-"):
            sign = self.take()
            found = found + self.product() if sign == "+" else found - self.product()
        return found

    def product(self) -> float:
        found = self.factor()
        while self.next() not in ("", "+", "-", "}", r"\right)"):
            found = found * self.factor()
        return found

    def factor(self) -> float:
        base = self.atom()
        if self.next() == "^":
            self.take()
            return _power(base, self.group())
        return base

    def group(self) -> float:
        self.take("{")
        found = self.total()
        self.take("}")
        return found

    def atom(self) -> float:
        token = self.take()
        if token == r"\left(":
            found = self.total()
            self.take(r"\right)")
            return found
        if token == r"\frac":
            above = self.group()
            return above / self.group()
        if token == r"\sqrt":
            return math.sqrt(self.group())
        if token == r"\pi":
            return math.pi
        if token.isdigit():
            return float(token)
        name = token.removeprefix(r"\operatorname").strip("\\{}")
        if name in _FUNCTIONS:
            return _FUNCTIONS[name](self.group())
        if self.next() == "_":
            self.take()
            self.take("{")
            name += self.take()
            self.take("}")
        return self.values[name]


def read_latex(text: str, values: Mapping[str, float]) -> float:
    """Evaluate a formula that is printed as LaTeX.

    Args:
        text: The formula.
        values: The value of each symbol.

    Returns:
        Its value.
    """
    reader = _Latex(text, values)
    found = reader.total()
    assert not reader.tokens, reader.tokens
    return found


_Token = str | float
"""A sign or the name of a function, or a value."""


def read_mathml(text: str, values: Mapping[str, float]) -> float:
    """Evaluate a formula that is printed as MathML.

    An ``mrow`` shows nothing, so what it holds is read as part of the row that it stands in: brackets alone group.

    Args:
        text: One element, or several that stand side by side.
        values: The value of each symbol.

    Returns:
        Its value.
    """
    return _whole(list(fromstring(f"<mrow>{text}</mrow>")), values)


def _whole(parts: Sequence[Element], values: Mapping[str, float]) -> float:
    tokens = [token for part in parts for token in _tokens(part, values)]
    found = _total(tokens)
    assert not tokens, tokens
    return found


def _tokens(part: Element, values: Mapping[str, float]) -> Iterator[_Token]:
    inner = list(part)
    name = str(part.text)
    if part.tag == "mrow":
        for each in inner:
            yield from _tokens(each, values)
    elif part.tag == "mo" or name in _FUNCTIONS:
        yield name
    elif part.tag == "mn":
        yield float(name)
    elif part.tag == "mi":
        yield math.pi if name == "π" else values[_GREEK.get(name, name)]
    elif part.tag == "msub":
        yield values[f"{inner[0].text}{inner[1].text}"]
    elif part.tag == "mfrac":
        yield _whole(inner[:1], values) / _whole(inner[1:], values)
    elif part.tag == "msqrt":
        yield math.sqrt(_whole(inner, values))
    else:
        assert part.tag == "msup", part.tag
        assert inner[0].tag == "mi", "a power of more than a symbol is not printed"
        yield _power(_whole(inner[:1], values), _whole(inner[1:], values))


def _total(tokens: list[_Token]) -> float:
    negative = tokens[0] == "−" and bool(tokens.pop(0))
    found = -_product(tokens) if negative else _product(tokens)
    while tokens and tokens[0] in ("+", "−"):
        sign = tokens.pop(0)
        found = found + _product(tokens) if sign == "+" else found - _product(tokens)
    return found


def _product(tokens: list[_Token]) -> float:
    found = _factor(tokens)
    while tokens and tokens[0] == "\u2062":
        tokens.pop(0)
        found = found * _factor(tokens)
    return found


def _factor(tokens: list[_Token]) -> float:
    token = tokens.pop(0)
    if isinstance(token, float):
        return token
    if token == "(":
        found = _total(tokens)
        assert tokens.pop(0) == ")"
        return found
    assert tokens.pop(0) == "\u2061"
    assert tokens[0] == "(", "a function's argument stands in brackets"
    return _FUNCTIONS[token](_factor(tokens))
