"""Keys of a document that are computed from a value: written, described, and never read back but held against it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from turnback.model.absent import Absent
from turnback.output._shapes import Defs, Shape
from turnback.output.json_text import Json
from turnback.planning.plan import Plan

__all__ = ["Part", "described", "written"]


class Part(NamedTuple):
    """One key.

    Args:
        name: What it is called, without its unit.
        shape: Its shape.
        get: How it is taken from a plan.
        about: What it is, for the schema.
    """

    name: str
    shape: Shape
    get: Callable[[Plan], object]
    about: str

    @property
    def key(self) -> str:
        """The key, with its unit."""
        return self.name + self.shape.suffix


def written(parts: Sequence[Part], plan: Plan) -> dict[str, Json]:
    """Write every part.

    Args:
        parts: The parts.
        plan: What they are taken from.

    Returns:
        A dictionary; what is absent is null, and its reason stands under ``absent`` at the end.
    """
    values = [(part, part.get(plan)) for part in parts]
    found = {part.key: part.shape.write(each) for part, each in values}
    reasons: dict[str, Json] = {part.name: each.reason for part, each in values if isinstance(each, Absent)}
    return {**found, "absent": reasons}


def described(parts: Sequence[Part], defs: Defs) -> dict[str, Json]:
    """Describe every part.

    Args:
        parts: The parts.
        defs: Where the schemas of objects are put.

    Returns:
        A schema with all of them required.
    """
    properties: dict[str, Json] = {part.key: {**part.shape.schema(defs), "description": part.about} for part in parts}
    properties["absent"] = {
        "type": "object",
        "description": "What is null above, and why: the name without its unit, and the reason.",
        "additionalProperties": {"type": "string"},
    }
    required: list[Json] = list(properties)
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}
