"""The readings of a joint: a form to fill in, and what came back from the bench."""

from __future__ import annotations

from collections.abc import Mapping

from turnback.errors import InputError
from turnback.output.documents import as_built as as_built_document
from turnback.output.documents import record as record_document
from turnback.output.json_text import Json, to_text, with_head
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.review.as_built import AsBuilt
from turnback.review.identity import plan_id

__all__ = ["readings_form", "readings_of"]


def readings_form(plan: Plan | Request) -> str:
    """Write the readings of a joint as a form: every value null, one for each clip where each is read.

    Args:
        plan: The plan; a request is planned first.

    Returns:
        JSON text to fill in. What stays null was not read.

    Raises:
        TurnbackError: A request cannot be planned.
    """
    made = plan if isinstance(plan, Plan) else plan_request(plan)
    form: dict[str, Json] = {"plan_id": plan_id(made), **_eye(made)}
    if made.other_eye is not None:
        form["other_eye"] = _eye(made.other_eye)
    return to_text(with_head(as_built_document.KIND, form))


def _eye(plan: Plan) -> dict[str, Json]:
    def each() -> list[Json]:
        return [None] * plan.clip_count

    def once(at: str, *keys: str) -> Json:
        return {"at": at, "on": None, **{key: each() for key in keys}}

    eye: dict[str, Json] = {
        "clip_count": None,
        "clip_size": None,
        "sizes_mixed": None,
        "makes_mixed": None,
        "base_width": None,
        "near_edges": each(),
        "saddles": each(),
        "threads": None,
        "passes": [once("assembly", "as_left"), once("after the first load", "as_found", "as_left")],
        "dead_end": None,
        "turn_back": None,
        "thimble": None,
        "first_load_applied": None,
        "first_load": None,
        "expected_load": None,
        "slips": each(),
        "rope": {"use": None, "diameter": None, "broken_wires_at_end": None, "corrosion": None},
    }
    if not plan.style.in_series:
        del eye["saddles"]
    return eye


def readings_of(kind: str, body: Mapping[str, Json]) -> AsBuilt:
    """Read readings from a document that was opened, or those of a record.

    Args:
        kind: Kind of the document.
        body: Its keys without the head.

    Returns:
        The readings.

    Raises:
        InputError: The document holds no readings, or they cannot be read.
    """
    if kind == as_built_document.KIND:
        return as_built_document.value(_without_empty_passes(body))
    found = record_document.value(body).as_built if kind == record_document.KIND else None
    if found is None:
        raise InputError("the document holds no readings of a joint", field="kind", value=kind, bound="as-built")
    return found


def _without_empty_passes(body: Mapping[str, Json]) -> dict[str, Json]:
    """Leave out every time round with the wrench that the form has and nobody filled in."""
    left = {key: each for key, each in body.items() if key != "passes"}
    passes = body.get("passes")
    if "passes" in body:
        left["passes"] = [each for each in passes if not _is_empty(each)] if isinstance(passes, list) else passes
    other = left.get("other_eye")
    if isinstance(other, dict):
        left["other_eye"] = _without_empty_passes(other)
    return left


def _is_empty(one: Json) -> bool:
    if not isinstance(one, dict):
        return False
    readings = [each for key, each in one.items() if key not in ("at", "on")]
    return all(each is None or (isinstance(each, list) and not any(x is not None for x in each)) for each in readings)
