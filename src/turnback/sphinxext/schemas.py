"""A JSON Schema in words: its keys, what they hold, and which must be there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from turnback.output.json_text import Json

__all__ = ["defined_parts", "holds", "keys_of"]


def defined_parts(schema: Mapping[str, Json]) -> Iterator[tuple[str, Mapping[str, Json]]]:
    """List the parts that a schema defines by name.

    Args:
        schema: The schema of a document.

    Yields:
        Name and schema of each part.
    """
    parts = schema.get("$defs")
    for name, part in parts.items() if isinstance(parts, dict) else ():
        if isinstance(part, dict):
            yield name, part


def keys_of(schema: Mapping[str, Json]) -> Iterator[tuple[str, str, str, str]]:
    """List the keys of an object.

    Args:
        schema: Its schema.

    Yields:
        Key, what it holds, ``yes`` where it must be there, and what it is.
    """
    properties, required = schema.get("properties"), schema.get("required")
    needed = required if isinstance(required, list) else []
    for key, part in properties.items() if isinstance(properties, dict) else ():
        if isinstance(part, dict):
            yield key, holds(part), "yes" if key in needed else "no", str(part.get("description", "—"))


def holds(schema: Mapping[str, Json]) -> str:
    """Say in words what a value may be.

    Args:
        schema: Its schema.

    Returns:
        Such as ``"list of citation"`` or ``"text or null"``.
    """
    for word in ("anyOf", "oneOf"):
        choices = schema.get(word)
        if isinstance(choices, list):
            return " or ".join(holds(each) for each in choices if isinstance(each, dict))
    if "$ref" in schema:
        return str(schema["$ref"]).rpartition("/")[2]
    if "const" in schema:
        return f"always {schema['const']!r}"
    listed = schema.get("enum")
    if isinstance(listed, list):
        return "one of " + ", ".join(repr(each) for each in listed)
    kind, items = schema.get("type"), schema.get("items")
    if kind == "array":
        return f"list of {holds(items)}" if isinstance(items, dict) else "list"
    return " or ".join(map(str, kind)) if isinstance(kind, list) else str(kind or "anything").replace("string", "text")
