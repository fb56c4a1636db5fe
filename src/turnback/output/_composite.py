"""Shapes that are made of others: lists, objects with a closed set of keys, choices between objects."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from turnback.errors import InputError, TurnbackError
from turnback.model.absent import Absent
from turnback.output._shapes import Defs, Shape, nearest, wrong
from turnback.output.json_text import Json, at, entry
from turnback.quantities.grammar import shown

__all__ = ["Choice", "Field", "Fixed", "Many", "Object", "Optional", "Perhaps", "closed"]


class Optional(Shape):
    """A value or null.

    Args:
        inner: The value.
    """

    def __init__(self, inner: Shape) -> None:
        self._inner, self.suffix = inner, inner.suffix

    def write(self, value: object) -> Json:
        """Write the value, or null."""
        return None if value is None else self._inner.write(value)

    def read(self, found: Json, path: str) -> object:
        """Read the value, or null."""
        return None if found is None else self._inner.read(found, path)

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """The value, or null."""
        return {"anyOf": [self._inner.schema(defs), {"type": "null"}]}


class Perhaps(Optional):
    """A value, or null where it is absent; the reason stands under ``absent``. It is written and never read."""

    def write(self, value: object) -> Json:
        """Write the value, or null."""
        return None if value is None or isinstance(value, Absent) else self._inner.write(value)


class Many(Shape):
    """A list of values of one shape.

    Args:
        inner: The values.
    """

    def __init__(self, inner: Shape) -> None:
        self._inner, self.suffix = inner, inner.suffix

    def write(self, value: object) -> Json:
        """Write each."""
        return [self._inner.write(each) for each in value] if isinstance(value, tuple) else None

    def read(self, found: Json, path: str) -> tuple[object, ...]:
        """Read each."""
        if not isinstance(found, list):
            raise wrong(found, path, "a list")
        return tuple(self._inner.read(each, entry(path, i)) for i, each in enumerate(found))

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """A list."""
        return {"type": "array", "items": self._inner.schema(defs)}


class Fixed(Shape):
    """A list with one shape for each place.

    Args:
        inner: The shapes.
    """

    def __init__(self, inner: Sequence[Shape]) -> None:
        self._inner = tuple(inner)

    def write(self, value: object) -> Json:
        """Write each."""
        pairs = zip(self._inner, value, strict=True) if isinstance(value, tuple) else ()
        return [shape.write(each) for shape, each in pairs]

    def read(self, found: Json, path: str) -> tuple[object, ...]:
        """Read each."""
        if not isinstance(found, list) or len(found) != len(self._inner):
            raise wrong(found, path, f"a list of {len(self._inner)} entries")
        return tuple(
            shape.read(each, entry(path, i)) for i, (shape, each) in enumerate(zip(self._inner, found, strict=True))
        )

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """A list of so many."""
        size = len(self._inner)
        items: list[Json] = [shape.schema(defs) for shape in self._inner]
        return {"type": "array", "prefixItems": items, "minItems": size, "maxItems": size}


class Field(NamedTuple):
    """One key of an object.

    Args:
        name: Name of what it holds, as the class calls it.
        key: The key, with its unit.
        shape: Its shape.
        required: Whether it may not be left out when reading.
        about: What it is, for the schema.
    """

    name: str
    key: str
    shape: Shape
    required: bool
    about: str


def closed(found: Json, path: str, keys: Sequence[str]) -> Mapping[str, Json]:
    """Return an object that has no key outside a closed list.

    Args:
        found: What stands there.
        path: Its place, for the message.
        keys: The list.

    Returns:
        The object.

    Raises:
        InputError: It is no object, or has another key; the nearest known one is named.
    """
    if not isinstance(found, dict):
        raise wrong(found, path or "document", "an object of keys and values")
    for key in found:
        if key not in keys:
            raise InputError("no such key is known here", field=at(path, key), instead=nearest(key, keys))
    return found


class Object(Shape):
    """A value of a class, as an object with the class's fields as keys.

    Args:
        kind: Makes the value from its fields.
        title: Name of its schema; the schema is shared under this name.
        about: What it is, for the schema.
        fields: Its keys.
        absences: Whether a value may be absent: the reasons stand under ``absent``. It is then never read.
    """

    def __init__(
        self, kind: Callable[..., object], title: str, about: str, fields: Sequence[Field], absences: bool = False
    ) -> None:
        self._kind, self._title, self._about = kind, title, about
        self.fields = tuple(fields)
        self._absences = absences

    def write(self, value: object) -> dict[str, Json]:
        """Write every field."""
        parts = [(field, getattr(value, field.name)) for field in self.fields]
        written = {field.key: field.shape.write(part) for field, part in parts}
        if self._absences:
            reasons: dict[str, Json] = {f.name: part.reason for f, part in parts if isinstance(part, Absent)}
            written["absent"] = reasons
        return written

    def read(self, found: Json, path: str) -> object:
        """Read every field that is given."""
        given = closed(found, path, [field.key for field in self.fields])
        return self.made(given, path)

    def made(self, given: Mapping[str, Json], path: str) -> object:
        """Make the value from keys that were checked before."""
        values: dict[str, object] = {}
        for field in self.fields:
            place = at(path, field.key)
            if field.key in given:
                values[field.name] = field.shape.read(given[field.key], place)
            elif field.required:
                raise InputError("this key is required", field=place, bound=field.about)
        try:
            return self._kind(**values)
        except TurnbackError as error:
            raise placed(error, path) from error

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """Share its schema and refer to it."""
        if self._title not in defs:
            defs[self._title] = {}  # stands here first, for a class may hold itself
            defs[self._title] = self.own_schema(defs)
        return {"$ref": f"#/$defs/{self._title}"}

    def own_schema(self, defs: Defs) -> dict[str, Json]:
        """Describe it in full."""
        properties: dict[str, Json] = {
            field.key: {**field.shape.schema(defs), **({"description": field.about} if field.about else {})}
            for field in self.fields
        }
        required: list[Json] = [field.key for field in self.fields if field.required]
        if self._absences:
            words: Json = {"type": "object", "additionalProperties": {"type": "string"}, "description": "Why not."}
            properties["absent"] = words
        return {
            "type": "object",
            **({"description": self._about} if self._about else {}),
            "properties": properties,
            "required": required,
            "additionalProperties": False,
        }


def placed(error: TurnbackError, path: str) -> InputError:
    """Return an error of a constructor with the place in the document.

    Args:
        error: What the constructor said; its field is the name that its caller knows.
        path: Where the object stands.

    Returns:
        The same facts at the path.
    """
    head, _, rest = error.field.partition(".")
    own = rest if head == path.rpartition(".")[2] else error.field
    return InputError(
        error.problem,
        field=f"{path}.{own}".strip(".") if own else path,
        value=error.value,
        bound=error.bound,
        citation=error.citation,
        instead=error.instead,
    )


class Choice(Shape):
    """One of several classes, told apart by the key ``kind``; or text, where that is one of them.

    Args:
        options: Word, class and shape of each.
        text: Shape of the text that may stand in place of an object; None where none may.
    """

    def __init__(self, options: Sequence[tuple[str, type, Object]], text: Shape | None = None) -> None:
        self._options = tuple(options)
        self._text = text

    def write(self, value: object) -> Json:
        """Write the word and the object."""
        if self._text is not None and isinstance(value, str):
            return self._text.write(value)
        word, shape = next((word, shape) for word, kind, shape in self._options if type(value) is kind)
        return {"kind": word, **shape.write(value)}

    def read(self, found: Json, path: str) -> object:
        """Read the object that its word names."""
        if self._text is not None and isinstance(found, str):
            return self._text.read(found, path)
        if not isinstance(found, dict):
            raise wrong(found, path, "an object")
        words = [word for word, _, _ in self._options]
        if "kind" not in found:
            raise InputError("this key is required", field=at(path, "kind"), bound="one of " + ", ".join(words))
        kind = found["kind"]
        for word, _, shape in self._options:
            if word == kind:
                closed(found, path, ["kind", *(field.key for field in shape.fields)])
                return shape.made(found, path)
        raise InputError(
            "no such kind",
            field=at(path, "kind"),
            value=shown(kind),
            bound="one of " + ", ".join(words),
            instead=nearest(str(kind), words),
        )

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        """Any of them."""
        options: list[Json] = [] if self._text is None else [self._text.schema(defs)]
        for word, _, shape in self._options:
            own = shape.own_schema(defs)
            own["properties"] = {"kind": {"const": word}, **_mapping(own["properties"])}
            own["required"] = ["kind", *_sequence(own["required"])]
            options.append(own)
        return {"oneOf": options}


def _mapping(found: Json) -> dict[str, Json]:
    return found if isinstance(found, dict) else {}


def _sequence(found: Json) -> list[Json]:
    return found if isinstance(found, list) else []
