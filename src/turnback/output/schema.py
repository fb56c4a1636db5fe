"""JSON Schemas (draft 2020-12) of every kind of document, made from the types that the documents are made from.

The files in ``schemas/`` are these schemas, for whoever does not run Python. A test holds the two to each other;
``python -m turnback.output.schema`` writes the files anew.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Final

from turnback.errors import InputError
from turnback.output._shapes import Defs, nearest
from turnback.output.documents.as_built import KIND as AS_BUILT
from turnback.output.interchange import FORMAT, SCHEMAS
from turnback.output.json_text import Json, to_text

__all__ = ["FOLDER", "KINDS", "json_schema", "schema_text", "write_schemas"]

KINDS: Final = tuple(SCHEMAS)
"""Every kind of document."""
FOLDER: Final = Path(__file__).parent / "schemas"
"""Where the schemas lie as files, one for each kind."""

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def json_schema(kind: str) -> dict[str, Json]:
    """Return the schema of a kind of document.

    Args:
        kind: One of :data:`KINDS`.

    Returns:
        The schema, as a plain dictionary; no document of the kind has a key that it does not name.

    Raises:
        InputError: There is no such kind.
    """
    if kind not in SCHEMAS:
        raise InputError("no such kind of document", field="kind", value=repr(kind)[:80], instead=nearest(kind, KINDS))
    defs: Defs = {}
    own = SCHEMAS[kind](defs)
    properties, required = own["properties"], own.get("required")
    listed: list[Json] = list(required) if isinstance(required, list) else []
    return {
        "$schema": _DIALECT,
        "$id": f"urn:turnback:schema:{kind}:{FORMAT}",
        "title": kind,
        **{key: each for key, each in own.items() if key in ("type", "description")},
        "properties": {
            "format": {"const": FORMAT, "description": "Version of the layout of the document."},
            "kind": {"const": kind, "description": "Kind of the document."},
            **(properties if isinstance(properties, dict) else {}),
        },
        # Readings are filled in by hand, and turnback inspect takes them without a head.
        "required": [*([] if kind == AS_BUILT else ["format", "kind"]), *listed],
        "additionalProperties": False,
        "$defs": {name: defs[name] for name in sorted(_used(own, defs))},
    }


def _used(schema: Json, defs: Defs) -> set[str]:
    found: set[str] = set()
    waiting = [json.dumps(schema)]
    while waiting:
        text = waiting.pop()
        for name in defs:
            if name not in found and f'"#/$defs/{name}"' in text:
                found.add(name)
                waiting.append(json.dumps(defs[name]))
    return found


def schema_text(kind: str) -> str:
    """Return the text of the file of a schema.

    Args:
        kind: One of :data:`KINDS`.

    Returns:
        The text, ending in a new line.

    Raises:
        InputError: There is no such kind.
    """
    return to_text(json_schema(kind))


def write_schemas(folder: Path = FOLDER) -> None:
    """Write the files of all schemas.

    Args:
        folder: Where they go; it is made where it is not there.
    """
    folder.mkdir(exist_ok=True)
    for kind in KINDS:
        (folder / f"{kind}.json").write_text(schema_text(kind), encoding="utf-8")


if __name__ == "__main__":
    write_schemas()
