"""Readings of a joint as a plain dictionary for JSON, and back.

Keys are the fields of :class:`~turnback.review.as_built.AsBuilt` and of its parts. A length is a whole number under
``..._nm``, a force a number under ``..._newton``, a torque its printed text beside a number under ``..._newton_metre``.
A person may write text such as ``"17-1/2 in"`` under the key without its unit. Every error names the path of the key.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from fractions import Fraction
from typing import Any, Final, TypeAlias, TypeVar

import attrs

from turnback.errors import InputError
from turnback.quantities import Force, Length, Torque, number_text, percent_text
from turnback.review.as_built import AsBuilt
from turnback.review.rope_state import RopeState
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import TorquePass

__all__ = ["AS_BUILT_FORMAT", "Document", "as_built_document", "as_built_from_document"]

T = TypeVar("T")
Document: TypeAlias = Mapping[str, object]
AS_BUILT_FORMAT: Final = 1
"""Version of the layout of the dictionary."""

_LENGTHS: Final = frozenset(
    {"clip_size", "base_width", "near_edges", "centres", "dead_end", "turn_back", "diameter", "tape"}
)
_FORCES: Final = frozenset({"first_load", "expected_load", "working_load"})
_TORQUES: Final = frozenset({"as_found", "as_left"})
_UNITS: Final = {"_newton_metre": _TORQUES, "_newton": _FORCES, "_nm": _LENGTHS}
_PARTS: Final[dict[str, type]] = {"rope": RopeState, "tolerances": Tolerances}


def as_built_document(as_built: AsBuilt) -> dict[str, object]:
    """Turn readings into a plain dictionary.

    Args:
        as_built: The readings.

    Returns:
        A dictionary that JSON can hold, without what was not given.
    """
    return {"format": AS_BUILT_FORMAT, **_written(as_built)}


def as_built_from_document(document: Document) -> AsBuilt:
    """Read readings from a plain dictionary, as a person or :func:`as_built_document` wrote it.

    Args:
        document: The dictionary.

    Returns:
        The readings.

    Raises:
        InputError: A key is not known (the nearest is named), a value cannot be read, a length or torque is written
            twice and differs, or the format is newer than this library.
    """
    given = dict(_mapping(document, ""))
    number = given.pop("format", AS_BUILT_FORMAT)
    if number != AS_BUILT_FORMAT or isinstance(number, bool):
        raise InputError(
            "this format of as-built readings is not known to this version of the library",
            field="format",
            value=repr(number)[:80],
            bound=str(AS_BUILT_FORMAT),
            instead="Write format 1, or read it with the version that wrote it.",
        )
    return _as_built(given, "")


# --- writing ---


def _written(value: AsBuilt | RopeState | Tolerances | TorquePass) -> dict[str, object]:
    found: dict[str, object] = {}
    for field in attrs.fields(type(value)):
        one: object = getattr(value, field.name)
        if one is None or (one in ("", ()) and field.name != "damage"):
            continue
        if field.name in _LENGTHS:
            found[f"{field.name}_nm"] = _each(one, lambda length: length.nanometres)
        elif field.name in _TORQUES:
            found[field.name] = _each(one, _torque_text)
            found[f"{field.name}_newton_metre"] = _each(one, lambda torque: torque.newton_metres)
        elif isinstance(one, Force):
            found[f"{field.name}_newton"] = one.newtons
        elif isinstance(one, (AsBuilt, RopeState, Tolerances)):
            part = _written(one)
            found.update({field.name: part} if part or field.name == "other_eye" else {})
        elif field.name == "passes":
            found[field.name] = [_written(each) for each in value.passes]  # type: ignore[union-attr]  # an AsBuilt's
        else:
            found[field.name] = _each(one, _plain)
    return found


def _each(value: object, write: Any) -> object:
    if not isinstance(value, tuple):
        return write(value)
    return [None if one is None else write(one) for one in value]


def _plain(value: object) -> object:
    if isinstance(value, Fraction):
        text = percent_text(value)
        return str(value) if text.startswith("≈") else text
    if isinstance(value, datetime.date):
        return value.isoformat()
    return str(value) if isinstance(value, Length) else value


def _torque_text(torque: Torque) -> str:
    text = f"{number_text(torque.value)} {torque.unit}"
    return text if torque.also is None else f"{text} ({number_text(torque.also[0])} {torque.also[1]})"


# --- reading ---


def _as_built(given: dict[str, object], path: str) -> AsBuilt:
    values = _values(given, AsBuilt, path)
    for name, kind in _PARTS.items():
        if name in values:
            values[name] = _part(kind, _mapping(values[name], path + name), path + name)
    if "other_eye" in values:
        values["other_eye"] = _as_built(dict(_mapping(values["other_eye"], f"{path}other_eye")), f"{path}other_eye.")
    if "passes" in values:
        clips = values.get("clip_count")
        passes = _sequence(values["passes"], f"{path}passes")
        values["passes"] = [_pass(one, f"{path}passes[{i}]", clips) for i, one in enumerate(passes)]
    return _made(AsBuilt, values, path)


def _pass(given: object, path: str, clips: object) -> TorquePass:
    values = _values(dict(_mapping(given, path)), TorquePass, f"{path}.")
    values.setdefault("at", None)
    counted = isinstance(clips, int) and not isinstance(clips, bool)
    return _made(TorquePass, {**values, "clips": clips if counted else None}, f"{path}.")


def _part(kind: type, given: Mapping[str, object], path: str) -> object:
    # The part names its own fields with this path already.
    return _made(kind, _values(dict(given), kind, f"{path}."), path.removesuffix(path.rpartition(".")[2]))


def _made(kind: type[T], values: dict[str, Any], path: str) -> T:
    try:
        return kind(**values)
    except InputError as error:
        if path and not error.field.startswith(path):
            error.field = path + error.field
        raise


def _values(given: dict[str, object], kind: Any, path: str) -> dict[str, Any]:
    names = tuple(field.name for field in attrs.fields(kind))
    values: dict[str, Any] = {}
    for key, value in given.items():
        name, unit = _name_of(key, names, path)
        if value is None:
            continue
        read = value if not unit else _with_unit(unit, value, path + key)
        if name in values and not _same(values[name], read, name):
            raise InputError(
                "this is written twice, and the two differ",
                field=path + name,
                value=f"{values[name]} and {read}",
                instead=f"Keep the one that was read on the joint and take the other out ({name} or {key}).",
            )
        # Text keeps the unit and the number that was read; a number beside it adds nothing.
        values[name] = values.get(name, read) if unit else read
    return values


def _name_of(key: object, names: Sequence[str], path: str) -> tuple[str, str]:
    if key in names:
        return str(key), ""
    for unit, fields in _UNITS.items():
        if isinstance(key, str) and key.endswith(unit):
            name = key.removesuffix(unit)
            if name in fields and name in names:
                return name, unit
    near = get_close_matches(str(key)[:64], names, n=1)
    raise InputError(
        "no such key",
        field=f"{path}{str(key)[:64]}",
        bound="one of " + ", ".join(names),
        instead=f"Did you mean {near[0]}?" if near else "Take it out.",
    )


def _with_unit(unit: str, value: object, path: str) -> object:
    if isinstance(value, (list, tuple)):
        return [None if one is None else _with_unit(unit, one, f"{path}[{i}]") for i, one in enumerate(value)]
    whole = isinstance(value, int) and not isinstance(value, bool)
    if unit == "_nm" and whole:
        return Length(value)  # type: ignore[arg-type]  # a whole number, as was just asked
    if unit != "_nm" and (whole or (isinstance(value, float) and math.isfinite(value))) and 0 < value < 1e12:  # type: ignore[operator]  # a number, as was just asked
        return Force(float(value)) if unit == "_newton" else Torque(Fraction(str(value)), "N·m")  # type: ignore[arg-type]  # likewise
    raise InputError(
        f"a number stands under a key that ends in {unit}",
        field=path,
        value=repr(value)[:80],
        bound="a whole number of nanometres" if unit == "_nm" else "a number greater than zero",
        instead=f"Write text with its unit under {path.removesuffix(unit)}.",
    )


def _same(one: object, other: object, name: str) -> bool:
    """Tell whether two ways of writing agree: a length to the nanometre, a torque or force as far as a float goes."""
    ones, others = _listed(one), _listed(other)
    return len(ones) == len(others) and all(_agree(a, b, name) for a, b in zip(ones, others, strict=True))


def _agree(one: object, other: object, name: str) -> bool:
    if one is None or other is None:
        return one is other
    if name in _LENGTHS:
        return Length.of(one, name) == Length.of(other, name)  # type: ignore[arg-type]  # it refuses what is no length
    a, b = (_number(each, name) for each in (one, other))
    return math.isclose(a, b, rel_tol=1e-9)


def _number(value: object, name: str) -> float:
    if name in _TORQUES:
        return Torque.of(value, name).newton_metres  # type: ignore[arg-type]  # it refuses what is no torque
    return Force.of(value, name).newtons  # type: ignore[arg-type]  # it refuses what is no force


def _listed(value: object) -> Sequence[object]:
    return value if isinstance(value, (list, tuple)) else [value]


def _mapping(value: object, path: str) -> Mapping[str, object]:
    if isinstance(value, Mapping):
        return value
    raise InputError(
        "keys and values stand here",
        field=path,
        value=repr(value)[:80],
        instead='Write {"clip_count": 4, "turn_back": "18 in"} and the like.',
    )


def _sequence(value: object, path: str) -> Iterable[object]:
    if isinstance(value, (list, tuple)):
        return value
    raise InputError("a list stands here", field=path, value=repr(value)[:80], instead='Write [{"at": "assembly"}].')
