"""What force, mass, mass per length and angle have in common: one finite float in its SI unit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import ClassVar, Self, TypeGuard, overload

from turnback.errors import InputError
from turnback.quantities.grammar import is_short_text, read_number, refusal, shown, split_unit
from turnback.quantities.pint_door import Dimension, PintRegistry, Q_co, hand_over, is_pint_quantity, read_pint


class Scalar:
    """Base of the quantities that are one float: unchangeable, finite, ordered within one kind.

    It is not made itself; each kind names its unit.
    """

    __slots__ = ("_si",)
    __array_ufunc__: ClassVar[None] = None

    _si: float
    _kind: ClassVar[str] = ""
    _forms: ClassVar[str] = ""
    _dimension: ClassVar[Dimension] = (0, 0, 0, 0)
    _spellings: ClassVar[Mapping[str, Fraction]] = {}
    _hints: ClassVar[Mapping[str, str]] = {}
    _pint_units: ClassVar[Mapping[str, tuple[str, Fraction]]] = {}

    def __init_subclass__(cls) -> None:
        if cls.__base__ is not Scalar:
            raise TypeError(f"{cls.__base__} is final")

    @classmethod
    def _made(cls, number: float | Fraction, field: str) -> Self:
        if isinstance(number, bool) or not isinstance(number, (int, float, Fraction)):
            raise InputError(
                "a number is wanted", field=field, value=shown(number), bound="an int or a float", instead=cls._forms
            )
        try:
            si = float(number) + 0.0  # no negative zero
        except OverflowError:
            si = math.inf
        if not math.isfinite(si):
            raise InputError(f"a {cls._kind} is a finite number", field=field, value=shown(number), instead=cls._forms)
        made = object.__new__(cls)
        object.__setattr__(made, "_si", si)
        return made

    @classmethod
    def _read(cls, value: object, field: str) -> Self:
        if isinstance(value, cls):
            si: Fraction | float = value._si
        elif isinstance(value, str):
            si = cls._read_text(value, field)
        elif is_pint_quantity(value):
            si = read_pint(value, cls._dimension, cls._kind, field, cls._forms)[0]  # type: ignore[arg-type]
        else:
            raise refusal(value, field, cls._kind, cls._forms, cls._hints)
        if si <= 0:
            raise InputError(
                f"a {cls._kind} is greater than zero",
                field=field,
                value=shown(value),
                bound="greater than 0",
                instead=cls._forms,
            )
        return cls._made(si, field)

    @classmethod
    def _read_text(cls, text: str, field: str) -> Fraction:
        split = split_unit(text, cls._spellings) if is_short_text(text) else None
        number = read_number(split[0]) if split else None
        if split is None or number is None:
            raise refusal(text, field, cls._kind, cls._forms, cls._hints)
        return Fraction(*number) * split[1]

    def _handed(self, registry: PintRegistry[Q_co], unit: str) -> Q_co:
        known = self._pint_units.get(unit)
        if known is None:
            raise InputError(
                f"the unit is no unit of a {self._kind}",
                field="unit",
                value=shown(unit),
                bound=", ".join(self._pint_units),
            )
        return hand_over(registry, Fraction(self._si) / known[1], known[0])

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a {type(self).__name__} cannot be changed ({name})")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"a {type(self).__name__} cannot be changed ({name})")

    def __reduce__(self) -> tuple[type[Self], tuple[float]]:
        return type(self), (self._si,)

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: object) -> Self:
        return self

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self._si!r})"

    def __hash__(self) -> int:
        return hash((type(self).__name__, self._si))

    def __eq__(self, other: object) -> bool:
        return self._si == other._si if isinstance(other, type(self)) else NotImplemented

    def __lt__(self, other: Self) -> bool:
        return self._si < other._si if isinstance(other, type(self)) else NotImplemented

    def __le__(self, other: Self) -> bool:
        return self._si <= other._si if isinstance(other, type(self)) else NotImplemented

    def __gt__(self, other: Self) -> bool:
        return self._si > other._si if isinstance(other, type(self)) else NotImplemented

    def __ge__(self, other: Self) -> bool:
        return self._si >= other._si if isinstance(other, type(self)) else NotImplemented

    def __add__(self, other: Self) -> Self:
        return self._made(self._si + other._si, self._kind) if isinstance(other, type(self)) else NotImplemented

    def __sub__(self, other: Self) -> Self:
        return self._made(self._si - other._si, self._kind) if isinstance(other, type(self)) else NotImplemented

    def __neg__(self) -> Self:
        return self._made(-self._si, self._kind)

    def __abs__(self) -> Self:
        return self._made(abs(self._si), self._kind)

    def __mul__(self, factor: float | Fraction) -> Self:
        if isinstance(factor, float):
            return self._made(self._si * factor, self._kind)
        # An exact factor is taken exactly, and rounded once.
        return self._made(Fraction(self._si) * factor, self._kind) if _is_exact(factor) else NotImplemented

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: Self) -> float: ...
    @overload
    def __truediv__(self, other: float | Fraction) -> Self: ...
    def __truediv__(self, other: Self | float | Fraction) -> float | Self:
        if isinstance(other, type(self)):
            return self._si / other._si
        if isinstance(other, float):
            return self._made(self._si / other, self._kind)
        return self._made(Fraction(self._si) / other, self._kind) if _is_exact(other) else NotImplemented


def _is_exact(factor: object) -> TypeGuard[int | Fraction]:
    return isinstance(factor, (int, Fraction)) and not isinstance(factor, bool)
