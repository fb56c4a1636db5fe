"""The document of a finding. It stands under a key of its own, for a finding has a kind and the document has one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from turnback.errors import InputError
from turnback.model.findings import Finding
from turnback.output._annotations import object_of
from turnback.output._composite import closed
from turnback.output._shapes import Defs
from turnback.output.json_text import Json, at, with_head

__all__ = ["KIND", "document", "schema", "value"]

KIND: Final = "finding"


def document(finding: Finding) -> dict[str, Json]:
    """Write a finding.

    Args:
        finding: The finding.

    Returns:
        The document.
    """
    return with_head(KIND, {KIND: object_of(Finding).write(finding)})


def value(found: Mapping[str, Json], path: str = "") -> Finding:
    """Read a finding.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.

    Returns:
        The finding.

    Raises:
        InputError: A key is unknown or missing, or a value cannot be read.
    """
    given = closed(dict(found), path, [KIND])
    if KIND not in given:
        raise InputError("this key is required", field=at(path, KIND))
    made = object_of(Finding).read(given[KIND], at(path, KIND))
    if isinstance(made, Finding):
        return made
    raise InputError("this is no finding", field=path)


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    return {
        "type": "object",
        "properties": {KIND: object_of(Finding).schema(defs)},
        "required": [KIND],
        "additionalProperties": False,
    }
