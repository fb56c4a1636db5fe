"""One cell, read: from text or a number with its unit to a value of the library, or an error with its status."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Final, NamedTuple, TypeAlias, get_args

from turnback.batch.columns import Bound
from turnback.batch.statuses import Status
from turnback.errors import InputError
from turnback.model.designation import normal_construction, normal_word
from turnback.model.rope import Rope
from turnback.model.terminations import TERMINATION_KINDS, PulleyEye
from turnback.planning.service import ServiceBook
from turnback.planning.strength import checked_factor
from turnback.quantities import Angle, Force, Length
from turnback.rules.ruleset import BodyOfClip

__all__ = ["MOST_EXTRA_CLIPS", "THICKEST_ROPE", "Cell", "CellError", "read_cell"]

Cell: TypeAlias = Length | Force | Angle | Fraction | int | bool | str | None
"""A cell that was read; None where nothing was given."""

THICKEST_ROPE: Final = Length(300_000_000)
"""The greatest diameter that a rope of this library has [length]; a test holds it against the rope itself."""
MOST_EXTRA_CLIPS: Final = 100
"""The most clips that are added to an eye [-]; a test holds it against the request itself."""
_ROPE_DIAMETERS: Final = ("rope_diameter", "measured_diameter", "coating_diameter")
_ROPE_WORDS: Final = ("core", "grade", "lay", "outer_wires", "finish", "condition")


class CellError(NamedTuple):
    """A cell that was refused.

    Args:
        status: The status of its row.
        error: Why.
    """

    status: Status
    error: InputError


def read_cell(bound: Bound, value: object, book: ServiceBook, style: str) -> Cell | CellError:
    """Read one cell.

    Args:
        bound: The column.
        value: The cell as a Python value: text, an int, a float, a Decimal, a bool or None.
        book: The service rules at hand, which say which services and jurisdictions there are.
        style: Id of the style that is planned.

    Returns:
        What was read, or why nothing was. Empty text is a cell that was not given.
    """
    column = bound.column
    if value is None or (isinstance(value, str) and not value):
        return None
    if bound.counted and isinstance(value, float) and math.isnan(value):
        return None
    try:
        if column.kind == "word":
            return _word(bound, value, book, style)
        if column.kind in ("length", "force", "angle"):
            return _QUANTITIES[column.kind](bound, value)
        return _plain(bound, value)
    except InputError as error:
        # An error that names a bound speaks of a value that was read.
        return CellError(Status.VALUE_OUT_OF_BOUNDS if error.bound else Status.VALUE_UNREADABLE, error)


def _word(bound: Bound, value: object, book: ServiceBook, style: str) -> Cell | CellError:
    name = bound.column.name
    text = str(value)
    if name == "rope_certificate":
        return Rope(THICKEST_ROPE, certificate=text).certificate
    if name == "style":
        return text if text == style else _refused(Status.OTHER_STYLE, name, text, f"the style planned is {style}")
    try:
        if name == "construction":
            return normal_construction(text)
        for kind in _ROPE_WORDS:
            if name == kind:
                return normal_word(kind, text)
    except InputError as error:
        return CellError(Status.UNKNOWN_WORD, _as_written(error, bound, text))
    known = {
        "termination": TERMINATION_KINDS,
        "clip_body": get_args(BodyOfClip),
        "service": book.services,
        "jurisdiction": book.jurisdictions,
    }[name]
    return text if text in known else _refused(Status.UNKNOWN_WORD, name, text, "one of " + ", ".join(known))


def _refused(status: Status, field: str, text: str, bound: str) -> CellError:
    problem = "the row is of another style" if status == Status.OTHER_STYLE else "this word is in no closed list"
    return CellError(status, InputError(problem, field=field, value=repr(text)[:80], bound=bound))


def _exact(bound: Bound, value: object) -> Fraction:
    """The exact number in a cell of numbers, in nanometres, newton or radian."""
    if isinstance(value, bool) or not isinstance(value, (int, float, Decimal)):
        raise InputError("a number is wanted", field=bound.name, value=repr(value)[:80])
    if not math.isfinite(value):
        raise InputError("the number is not finite", field=bound.name, value=repr(value)[:80])
    if bound.counted and value != int(value):
        raise InputError(
            "a whole number is wanted",
            field=bound.name,
            value=repr(value)[:80],
            instead="Correct the cell; a column without an ending for its unit takes fractions.",
        )
    return Fraction(value) * bound.factor


def _length(bound: Bound, value: object) -> Cell:
    if isinstance(value, str):
        length = Length.of(value, bound.name)
    else:
        # As a pint quantity of a float is read: the exact product, rounded once.
        nearest = Length.nearest(_exact(bound, value))
        try:
            length = Length.of(nearest, bound.name)
        except InputError as error:
            raise _as_written(error, bound, value) from error
    if bound.column.name in _ROPE_DIAMETERS:
        try:
            Rope(length)
        except InputError as error:
            raise _as_written(error, bound, value) from error
    return length


def _as_written(error: InputError, bound: Bound, value: object) -> InputError:
    """The same error with the cell as the user wrote it, in the unit of its column."""
    if isinstance(value, str):
        given, instead = repr(value)[:80], error.instead
    else:
        whole = isinstance(value, float) and value.is_integer() and abs(value) < 1e15
        given = f"{int(value) if whole else value} {bound.unit}"[:80]  # type: ignore[call-overload]  # a float there
        instead = "Correct the number, or the unit of its column."
    return InputError(
        error.problem, field=bound.name, value=given, bound=error.bound, citation=error.citation, instead=instead
    )


def _force(bound: Bound, value: object) -> Cell:
    if isinstance(value, str):
        return Force.of(value, bound.name)
    force = Force(_rounded(bound, value))
    try:
        return Force.of(force, bound.name)
    except InputError as error:
        raise _as_written(error, bound, value) from error


def _angle(bound: Bound, value: object) -> Cell:
    given = value if isinstance(value, str) else Angle(_rounded(bound, value))
    try:
        angle = Angle.of(given, bound.name)
        PulleyEye(None, angle)
    except InputError as error:
        raise _as_written(error, bound, value) from error
    return angle


def _rounded(bound: Bound, value: object) -> float:
    exact = _exact(bound, value)
    try:
        return float(exact)
    except OverflowError:
        raise InputError(
            "the number is greater than any that can be kept",
            field=bound.name,
            value=repr(value)[:80],
            bound="finite in newton or radian",
        ) from None


def _plain(bound: Bound, value: object) -> Cell:
    name = bound.column.name
    if bound.column.kind == "flag":
        if isinstance(value, bool):
            return value
        raise InputError("true or false is wanted", field=name, value=repr(value)[:80])
    number = _exact(bound, value)
    if bound.column.kind == "number":
        return checked_factor(number)
    if not 0 <= number <= MOST_EXTRA_CLIPS:
        raise InputError(
            "clips can be added, never taken away",
            field=name,
            value=repr(value)[:80],
            bound=f"a whole number from 0 to {MOST_EXTRA_CLIPS}",
        )
    return int(number)


_QUANTITIES: Final[Mapping[str, Callable[[Bound, object], Cell]]] = MappingProxyType(
    {"length": _length, "force": _force, "angle": _angle}
)
