"""The document of a record: the record as :mod:`turnback.review.record_document` writes it, with its plan whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from turnback.errors import InputError, TurnbackError
from turnback.output._composite import placed
from turnback.output._shapes import Defs
from turnback.output.comparing import unlike
from turnback.output.documents import plan as plan_document
from turnback.output.documents._plain import plain
from turnback.output.documents.as_built import object_schema
from turnback.output.json_text import Json, with_head
from turnback.output.recomputing import plan_of
from turnback.planning.plan import Plan
from turnback.review.record import Record
from turnback.review.record_document import record_document, record_from_document
from turnback.review.upkeep import Interval
from turnback.rules.catalogue import Catalogue

__all__ = ["KIND", "document", "schema", "value"]

KIND: Final = "record"

_HEAD: Final = ("format", "kind")
_COMPUTED: Final = ("plan_id", "next_torque_check", "next_inspection", "remake_length_nm", "remakes_left", "in_service")


def document(record: Record, catalogue: Catalogue | None = None) -> dict[str, Json]:
    """Write a record.

    Args:
        record: The record.
        catalogue: What its plan was made from; the installed plugins when not given.

    Returns:
        The document, without what was not given.
    """
    body = {key: plain(each) for key, each in record_document(record).items() if key != "format"}
    readings = body.get("as_built")
    if isinstance(readings, dict):
        readings.pop("format", None)
    if record.plan is not None:
        made = plan_document.document(record.plan, catalogue)
        body["plan"] = {key: each for key, each in made.items() if key not in _HEAD}
    return with_head(KIND, body)


def value(found: Mapping[str, Json], path: str = "", catalogue: Catalogue | None = None) -> Record:
    """Read a record.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The record.

    Raises:
        InputError: A key is unknown, a value cannot be read, the plan cannot be made again as it was recorded, or what
            follows from the record is not what stands in it.
    """
    rest = {key: each for key, each in found.items() if key != "plan"}
    given = found.get("plan")
    plan = None
    if given is not None:
        if not isinstance(given, dict):
            raise InputError("an object of keys and values is wanted here", field="plan")
        plan = plan_of(given, "plan", catalogue)
    try:
        record = record_from_document(rest, plan)
        now = document(record, catalogue)
    except TurnbackError as error:
        raise placed(error, path) from error
    for key in _COMPUTED:
        for each in unlike(found[key], now.get(key)) if key in found and (plan is not None or key != "plan_id") else ():
            raise InputError(
                "this follows from the record, and it is another",
                field=f"{key}.{each.path}".strip("."),
                value=each.recorded,
                bound=each.recomputed,
                instead="Leave it out.",
            )
    return record


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    defs["plan"] = plan_document.schema(defs)
    object_schema(Record, defs, {Plan: {"$ref": "#/$defs/plan"}, Interval: _object("every", "reason")})
    own = defs.pop("record")
    found = dict(own) if isinstance(own, dict) else {}
    fields = found.get("properties")
    words: Json = {"type": "string"}
    when = _object("when")
    when["properties"] = {"when": words, "on": {"type": "string", "format": "date"}}
    count: Json = {"type": "integer", "minimum": 0}
    computed: dict[str, Json] = dict(zip(_COMPUTED, (words, when, when, count, count, words), strict=True))
    about: Json = "It follows from the others, and is checked when it is read."
    found["properties"] = {
        **(fields if isinstance(fields, dict) else {}),
        **{key: {**each, "description": about} for key, each in computed.items() if isinstance(each, dict)},
    }
    return {**found, "required": ["joint_id"]}


def _object(*keys: str) -> dict[str, Json]:
    listed: list[Json] = list(keys)
    properties: dict[str, Json] = {key: {"type": "string"} for key in keys}
    return {"type": "object", "properties": properties, "required": listed, "additionalProperties": False}
