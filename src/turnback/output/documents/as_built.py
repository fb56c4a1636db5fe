"""The document of a joint as it was made. A person may have written it, with texts such as ``"17-1/2 in"``.

How it is written and read stands in :mod:`turnback.review.as_built_document`; here are its head and its schema.
"""

from __future__ import annotations

import datetime
import typing
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

import attrs

from turnback.errors import TurnbackError
from turnback.output._annotations import docs_of
from turnback.output._composite import placed
from turnback.output._shapes import Defs
from turnback.output.documents._plain import plain
from turnback.output.json_text import Json, with_head
from turnback.quantities import Force, Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.as_built_document import as_built_document, as_built_from_document

__all__ = ["KIND", "document", "object_schema", "schema", "value"]

KIND: Final = "as-built"

_TEXT: Final[dict[str, Json]] = {"type": "string", "maxLength": 200}
_QUANTITIES: Final[dict[object, tuple[str, dict[str, Json]]]] = {
    Length: ("_nm", {"type": "integer", "minimum": 0}),
    Force: ("_newton", {"type": "number", "exclusiveMinimum": 0}),
    Torque: ("_newton_metre", {"type": "number", "exclusiveMinimum": 0}),
}
_PLAIN: Final[dict[object, dict[str, Json]]] = {
    str: _TEXT,
    int: {"type": "integer", "minimum": 0},
    bool: {"type": "boolean"},
    Fraction: {"anyOf": [_TEXT, {"type": "integer", "minimum": 0, "maximum": 1}]},
    datetime.date: {"type": "string", "format": "date"},
}


def document(as_built: AsBuilt) -> dict[str, Json]:
    """Write readings.

    Args:
        as_built: The readings.

    Returns:
        The document, without what was not given.
    """
    return with_head(KIND, {key: plain(each) for key, each in as_built_document(as_built).items() if key != "format"})


def value(found: Mapping[str, Json], path: str = "") -> AsBuilt:
    """Read readings.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.

    Returns:
        The readings.

    Raises:
        InputError: A key is unknown, or a value cannot be read.
    """
    try:
        return as_built_from_document(found)
    except TurnbackError as error:
        raise placed(error, path) from error


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    object_schema(AsBuilt, defs)
    own = defs["as_built"]
    return dict(own) if isinstance(own, dict) else {}


def object_schema(kind: type, defs: Defs, special: Mapping[object, dict[str, Json]] | None = None) -> dict[str, Json]:
    """Describe a part of a document that a person may write: a length as text, or as a number with its unit.

    Args:
        kind: Class of the part.
        defs: Where the schemas of objects are put.
        special: Schemas of classes that are not described field by field.

    Returns:
        A reference to its schema.
    """
    title = {"AsBuilt": "as_built", "RopeState": "rope_state", "TorquePass": "torque_pass"}.get(
        kind.__name__, kind.__name__.lower()
    )
    if title not in defs:
        defs[title] = {}
        hints, docs = typing.get_type_hints(kind), docs_of(kind)
        properties: dict[str, Json] = {}
        for field in attrs.fields(kind):
            for key, described in _keys(field.name, hints[field.name], defs, special or {}):
                properties[key] = {**described, "description": docs.get(field.name, "")}
        defs[title] = {
            "type": "object",
            "description": docs[""],
            "properties": properties,
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{title}"}


def _keys(
    name: str, hint: object, defs: Defs, special: Mapping[object, dict[str, Json]]
) -> list[tuple[str, dict[str, Json]]]:
    """The keys that a field may stand under, each with what may stand there."""
    kinds = _flat(hint)
    as_text = _any(kinds, defs, special)
    found = [(name, _listed(as_text) if _is_list(hint) else _nullable(as_text))]
    for kind in kinds:
        if kind in _QUANTITIES:
            suffix, number = _QUANTITIES[kind]
            found.append((name + suffix, _listed(number) if _is_list(hint) else _nullable(number)))
    return found


def _is_list(hint: object) -> bool:
    return typing.get_origin(hint) is tuple or any(typing.get_origin(each) is tuple for each in typing.get_args(hint))


def _flat(hint: object) -> tuple[object, ...]:
    """Every kind that may stand somewhere in an annotation; null and the list itself left out."""
    if typing.get_origin(hint) is typing.Literal:
        return (hint,)
    arguments = typing.get_args(hint)
    if not arguments:
        return () if hint in (type(None), Ellipsis) else (hint,)
    return tuple(dict.fromkeys(kind for each in arguments for kind in _flat(each)))


def _any(kinds: Sequence[object], defs: Defs, special: Mapping[object, dict[str, Json]]) -> list[Json]:
    options: list[Json] = []
    for kind in kinds:
        if kind in special:
            options.append(special[kind])
        elif typing.get_origin(kind) is typing.Literal:
            options.append({"enum": list(typing.get_args(kind))})
        elif isinstance(kind, type) and attrs.has(kind):
            options.append(object_schema(kind, defs))
        else:
            options.append(dict(_PLAIN.get(kind, _TEXT)))
    return options


def _listed(options: list[Json] | dict[str, Json]) -> dict[str, Json]:
    # One reading alone stands for every clip.
    each = options if isinstance(options, list) else [options]
    many: Json = {"type": "array", "items": {"anyOf": [*each, {"type": "null"}]}}
    return {"anyOf": [many, *each, {"type": "null"}]}


def _nullable(options: list[Json] | dict[str, Json]) -> dict[str, Json]:
    each = options if isinstance(options, list) else [options]
    return {"anyOf": [*each, {"type": "null"}]}
