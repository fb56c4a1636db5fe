"""From a class to its shape: every field is a key, and its annotation says how it is written, read and described.

A length's key ends in ``_nm``, a force's in ``_newton`` and so on; a torque is an object of its own.
"""

from __future__ import annotations

import functools
import inspect
import re
import types
import typing
from collections.abc import Mapping
from fractions import Fraction
from typing import Final

import attrs

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Source, Status
from turnback.output._composite import Choice, Field, Fixed, Many, Object, Optional, Perhaps
from turnback.output._shapes import FLAG, LENGTH, NUMBER, RATIO, TEXT, WHOLE, Scalars, Shape, Words
from turnback.output._torque_shape import TORQUE
from turnback.output.json_text import Json
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, Torque

__all__ = ["CITATION", "cited", "docs_of", "object_of", "shape_of", "with_special"]


def _si(value: object) -> float:
    for kind, name in _SI.items():
        if isinstance(value, kind):
            number: float = getattr(value, name)
            return number
    return 0.0


_SI: Final[dict[type, str]] = {
    Force: "newtons",
    Angle: "radians",
    Mass: "kilograms",
    MassPerLength: "kilograms_per_metre",
}
_SIMPLE: Final[dict[object, Shape]] = {
    str: TEXT,
    bool: FLAG,
    int: WHOLE,
    float: NUMBER,
    Fraction: RATIO,
    Length: LENGTH,
    Torque: TORQUE,
    Force: Scalars(Force, "_newton", _si),
    Angle: Scalars(Angle, "_radian", _si),
    Mass: Scalars(Mass, "_kilogram", _si),
    MassPerLength: Scalars(MassPerLength, "_kilogram_per_metre", _si),
}
_ARGUMENT: Final = re.compile(r"^    ([a-z_0-9]+): (.*)$")


def shape_of(hint: object, special: Mapping[object, Shape] | None = None) -> Shape:
    """Return the shape of an annotation.

    Args:
        hint: The annotation, resolved.
        special: Shapes of classes that are not written field by field.

    Returns:
        Its shape.

    Raises:
        TypeError: Nothing is known of such an annotation; it is a slip in this library.
    """
    if special is not None and hint in special:
        return special[hint]
    if hint in _SIMPLE:
        return _SIMPLE[hint]
    origin, arguments = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Literal:
        return Words(arguments)
    if origin in (types.UnionType, typing.Union):
        return _union(arguments, special)
    if origin is tuple:
        if len(arguments) == 2 and arguments[1] is Ellipsis:
            return Many(shape_of(arguments[0], special))
        return Fixed([shape_of(each, special) for each in arguments])
    if origin is Cited:
        return cited(shape_of(arguments[0], special))
    if hint is Citation:
        return CITATION
    if isinstance(hint, type) and attrs.has(hint):
        return object_of(hint) if special is None else _object(hint, special, {})
    raise TypeError(f"no shape for {hint!r}")


def _union(arguments: tuple[object, ...], special: Mapping[object, Shape] | None) -> Shape:
    rest = [each for each in arguments if each not in (type(None), Absent)]
    if len(rest) == 1:
        inner = shape_of(rest[0], special)
    else:
        tagged = [(str(getattr(each, "kind", "")), each) for each in rest if isinstance(each, type)]
        inner = Choice([(word, kind, _object(kind, special or {}, {})) for word, kind in tagged])
    if Absent in arguments:
        return Perhaps(inner)
    return Optional(inner) if type(None) in arguments else inner


def cited(value: Shape, title: str = "") -> Object:
    """Return the shape of a value with its citations.

    Args:
        value: Shape of the value.
        title: Name of its schema; made from the shape of the value where not given.

    Returns:
        An object.
    """
    docs = docs_of(Cited)
    return Object(
        Cited,
        title or f"cited{value.suffix or '_' + type(value).__name__.strip('_').lower()}",
        docs[""],
        [
            Field("value", f"value{value.suffix}", value, True, docs["value"]),
            Field("citations", "citations", Many(CITATION), True, docs["citations"]),
            Field("how", "how", TEXT, False, docs["how"]),
        ],
    )


@functools.cache
def object_of(kind: type) -> Object:
    """Return the shape of a class of values.

    Args:
        kind: An attrs class.

    Returns:
        An object with one key for each field.
    """
    return _object(kind, None, {})


def with_special(kind: type, special: Mapping[object, Shape], fields: Mapping[str, Shape]) -> Object:
    """Return the shape of a class, some of whose parts have shapes of their own.

    Args:
        kind: An attrs class.
        special: Shapes by annotation, wherever it stands.
        fields: Shapes of fields of this class by name.

    Returns:
        An object with one key for each field.
    """
    return _object(kind, special, fields)


def _object(kind: type, special: Mapping[object, Shape] | None, own: Mapping[str, Shape]) -> Object:
    hints, docs = typing.get_type_hints(kind), docs_of(kind)
    parameters = inspect.signature(kind).parameters
    fields = []
    absences = False
    for each in attrs.fields(kind):
        shape = own[each.name] if each.name in own else shape_of(hints[each.name], special)
        absences = absences or isinstance(shape, Perhaps)
        required = parameters[each.name].default is inspect.Parameter.empty
        fields.append(Field(each.name, each.name + shape.suffix, shape, required, docs.get(each.name, "")))
    title = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", kind.__name__).lower()
    return Object(kind, title, docs[""], fields, absences)


def docs_of(kind: type) -> dict[str, str]:
    """Return what the docstring of a class says of it and of its arguments.

    Args:
        kind: The class.

    Returns:
        Its first sentence under the empty name, and a line for each argument.
    """
    text = inspect.getdoc(kind) or ""
    found = {"": text.partition("\n\n")[0].replace("\n", " ")}
    name = ""
    for line in text.partition("Args:\n")[2].splitlines():
        if not line.startswith("    "):
            break
        argument = _ARGUMENT.match(line)
        name = argument[1] if argument else name
        if name:
            found[name] = argument[2] if argument else f"{found[name]} {line.strip()}"
    return found


class _Citations(Object):
    def write(self, value: object) -> dict[str, Json]:
        if not isinstance(value, Citation):
            return {}
        source = value.source
        return {
            "source": source.id,
            "document": source.document,
            "edition": source.edition,
            "issuer": source.issuer,
            "year": source.year,
            "locator": value.locator,
            "status": value.status,
            "note": value.note,
        }


def _citation(
    source: str,
    document: str,
    locator: str,
    status: Status,
    edition: str = "edition not recorded",
    issuer: str = "issuer not recorded",
    year: int = 0,
    note: str = "",
) -> Citation:
    return Citation(Source(source, document, edition, issuer, year), locator, status, note)


def _citations() -> Object:
    of_source, of_place = docs_of(Source), docs_of(Citation)
    places = {"locator": TEXT, "status": Words(typing.get_args(Status)), "note": TEXT}
    fields = [
        Field("source", "source", TEXT, True, of_source["id"]),
        Field("document", "document", TEXT, True, of_source["document"]),
        Field("edition", "edition", TEXT, False, of_source["edition"]),
        Field("issuer", "issuer", TEXT, False, of_source["issuer"]),
        Field("year", "year", WHOLE, False, of_source["year"]),
        *(Field(name, name, shape, name != "note", of_place[name]) for name, shape in places.items()),
    ]
    return _Citations(_citation, "citation", of_place[""], fields)


CITATION: Final = _citations()
"""A citation and its source in one object, for they are read in one breath."""
