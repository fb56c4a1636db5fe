"""The shape of a torque: the printed number and unit, the second printed ones, and what follows from them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from turnback.errors import InputError
from turnback.output._shapes import RATIO, TEXT, Defs, Shape, nearest, wrong
from turnback.output.json_text import Json, at
from turnback.quantities import Torque, number_text
from turnback.quantities.grammar import shown

__all__ = ["TORQUE"]

_CLOSE: Final = 1e-9
"""A number in newton metres that another program wrote may have lost its last digits."""


class _Torque(Shape):
    """Printed number and unit, the second printed ones, and what follows from them."""

    def write(self, value: object) -> Json:
        if not isinstance(value, Torque):
            return None
        also: Json = None if value.also is None else {"value": str(value.also[0]), "unit": value.also[1]}
        return {
            "printed": _printed(value),
            "value": str(value.value),
            "unit": value.unit,
            "also": also,
            "torque_newton_metre": value.newton_metres,
        }

    def read(self, found: Json, path: str) -> Torque:
        given = _object(found, path, ("printed", "value", "unit", "also", "torque_newton_metre"))
        number, unit = _pair(given, path)
        also = given.get("also")
        second = None
        if also is not None:
            second = _pair(_object(also, at(path, "also"), ("value", "unit")), at(path, "also"))
        try:
            torque = Torque(number, unit, second)
        except InputError as error:
            error.field = at(path, error.field)
            raise
        printed, metric = given.get("printed", _printed(torque)), given.get("torque_newton_metre", torque.newton_metres)
        if printed != _printed(torque):
            raise _not_the_same(at(path, "printed"), printed, _printed(torque))
        is_number = isinstance(metric, (int, float)) and not isinstance(metric, bool)
        if not is_number or not math.isclose(metric, torque.newton_metres, rel_tol=_CLOSE):  # type: ignore[arg-type]  # a number, as was just asked
            raise _not_the_same(at(path, "torque_newton_metre"), metric, str(torque.newton_metres))
        return torque

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        number: dict[str, Json] = {
            "value": {**RATIO.schema(defs), "description": "The printed number, exact."},
            "unit": {"enum": ["lbf·ft", "lbf·in", "N·m"]},
        }
        also: Json = {
            "type": "object",
            "properties": number,
            "required": ["value", "unit"],
            "additionalProperties": False,
        }
        defs["torque"] = {
            "type": "object",
            "description": "A torque as its source prints it; the second number where the source prints two.",
            "properties": {
                "printed": {"type": "string", "description": "Both as text. It follows from the others."},
                **number,
                "also": {"anyOf": [also, {"type": "null"}]},
                "torque_newton_metre": {"type": "number", "description": "In newton metres. It follows from value."},
            },
            "required": ["value", "unit"],
            "additionalProperties": False,
        }
        return {"$ref": "#/$defs/torque"}


def _printed(torque: Torque) -> str:
    first = f"{number_text(torque.value)} {torque.unit}"
    return first if torque.also is None else f"{first} ({number_text(torque.also[0])} {torque.also[1]})"


def _not_the_same(path: str, found: Json, wanted: str) -> InputError:
    return InputError(
        "this is not the torque that stands beside it",
        field=path,
        value=shown(found),
        bound=wanted,
        instead="Keep one.",
    )


def _object(found: Json, path: str, keys: Sequence[str]) -> dict[str, Json]:
    if not isinstance(found, dict):
        raise wrong(found, path, "an object")
    for key in found:
        if key not in keys:
            raise InputError("no such key is known here", field=at(path, key), instead=nearest(key, keys))
    return found


def _pair(given: dict[str, Json], path: str) -> tuple[Fraction, str]:
    for key in ("value", "unit"):
        if key not in given:
            raise InputError("this key is required", field=at(path, key))
    return RATIO.read(given["value"], at(path, "value")), TEXT.read(given["unit"], at(path, "unit"))


TORQUE: Final = _Torque()
