"""The document of an inspection: the plan, the readings, and what was observed. It is read by inspecting again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from turnback.errors import InputError, TurnbackError
from turnback.model.absent import Absent
from turnback.output._annotations import object_of
from turnback.output._composite import Many, placed
from turnback.output._shapes import FLAG, Defs, Words, wrong
from turnback.output.comparing import unlike
from turnback.output.documents import as_built as as_built_document
from turnback.output.documents import plan as plan_document
from turnback.output.json_text import Json, with_head
from turnback.output.recomputing import plan_of
from turnback.review.inspection import Inspection, inspect
from turnback.review.observations import Observation
from turnback.rules.catalogue import Catalogue

__all__ = ["KIND", "document", "schema", "value"]

KIND: Final = "inspection"

_HEAD: Final = ("format", "kind")
_WORDS: Final = ("keep", "find out first", "act", "out of service")
_KEYS: Final = ("in_service", "usable", "planned_here", "observations", "still_to_measure", "as_built", "plan")


def document(inspection: Inspection, catalogue: Catalogue | None = None) -> dict[str, Json]:
    """Write an inspection.

    Args:
        inspection: The inspection.
        catalogue: What its plan was made from; the installed plugins when not given.

    Returns:
        The document: whether the joint may stay in service first.
    """
    plan = plan_document.document(inspection.plan, catalogue)
    readings = as_built_document.document(inspection.as_built)
    return with_head(
        KIND,
        {
            **_outcome(inspection),
            "as_built": {key: each for key, each in readings.items() if key not in _HEAD},
            "plan": {key: each for key, each in plan.items() if key not in _HEAD},
        },
    )


def _outcome(inspection: Inspection) -> dict[str, Json]:
    return {
        "in_service": inspection.in_service,
        "usable": inspection.usable,
        "planned_here": inspection.planned_here,
        "observations": Many(object_of(Observation)).write(inspection.observations),
        "still_to_measure": Many(object_of(Absent)).write(inspection.still_to_measure),
    }


def value(found: Mapping[str, Json], path: str = "", catalogue: Catalogue | None = None) -> Inspection:
    """Read an inspection: inspect again, and refuse it where something else was recorded.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The inspection.

    Raises:
        InputError: A key is missing, a part cannot be read, or the inspection comes out otherwise now.
    """
    parts = []
    for key in ("plan", "as_built"):
        part = found.get(key)
        if not isinstance(part, dict):
            raise wrong(part, key, "an object of keys and values")
        parts.append(part)
    plan = plan_of(parts[0], "plan", catalogue)
    readings = as_built_document.value(parts[1], "as_built")
    here = FLAG.read(found.get("planned_here"), "planned_here")
    try:
        made = inspect(plan.request if here else plan, readings, catalogue)
    except TurnbackError as error:
        raise placed(error, path) from error
    outcome = _outcome(made)
    told = {key: each for key, each in found.items() if key not in ("plan", "as_built")}
    for each in unlike(told, outcome):
        raise InputError(
            "the inspection comes out otherwise now",
            field=each.path,
            value=each.recorded,
            bound=f"now {each.recomputed}",
            instead="Inspect again from the plan and the readings.",
        )
    return made


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    readings = as_built_document.schema(defs)
    defs["as_built"] = readings
    defs["plan"] = plan_document.schema(defs)
    properties: dict[str, Json] = {
        "in_service": {**Words(_WORDS).schema(defs), "description": "Whether the joint may stay in service."},
        "usable": {**FLAG.schema(defs), "description": "True for keep alone."},
        "planned_here": {**FLAG.schema(defs), "description": "Whether it was planned for this inspection."},
        "observations": Many(object_of(Observation)).schema(defs),
        "still_to_measure": Many(object_of(Absent)).schema(defs),
        "as_built": {"$ref": "#/$defs/as_built"},
        "plan": {"$ref": "#/$defs/plan"},
    }
    return {"type": "object", "properties": properties, "required": list(_KEYS), "additionalProperties": False}
