"""The document of a plan: its request, the rule files that answered, and every number that came of it.

It is read back by planning the request again and holding every recorded number against the new one
(:mod:`turnback.output.recomputing`), so that a number which was edited is never taken for a computed one.
"""

from __future__ import annotations

import functools
from typing import Final, Literal, NamedTuple

from turnback import __version__
from turnback.output._annotations import docs_of, shape_of
from turnback.output._composite import Field, Many, Object
from turnback.output._shapes import TEXT, Defs, Shape, Words
from turnback.output.documents._parts import described, written
from turnback.output.documents._plan_parts import first_parts, last_parts
from turnback.output.documents.request import request_shape
from turnback.output.json_text import Json, with_head
from turnback.planning.plan import Plan
from turnback.review.identity import plan_id
from turnback.rules.catalogue import Catalogue
from turnback.rules.loading import Origin
from turnback.rules.ruleset import RuleSet

__all__ = ["KIND", "RuleFile", "document", "schema"]

KIND: Final = "plan"


class RuleFile(NamedTuple):
    """A rule file that a plan leans on.

    Args:
        id: Id of the rule set.
        edition: Edition of its source.
        sha256: Hash of the file's bytes; empty where the rule set was made without a file.
        role: ``governs``, or ``efficiency`` where the efficiency alone stands in it.
    """

    id: str
    edition: str
    sha256: str
    role: Literal["governs", "efficiency"]


def document(plan: Plan, catalogue: Catalogue | None = None) -> dict[str, Json]:
    """Write a plan.

    Args:
        plan: The plan.
        catalogue: What it was made from; the installed plugins when not given.

    Returns:
        The document: what is forbidden or must be fixed first, then who made it, from what, and the numbers.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    origins = sorted({origin for _, origin in at_hand.origins})
    plugins: list[Json] = [_plugin_shape().write(each) for each in origins]
    files: list[Json] = [_file_shape().write(each) for each in _files(plan, at_hand)]
    first = written(first_parts(), plan)
    del first["absent"]
    return with_head(
        KIND,
        {
            **first,
            "library_version": __version__,
            "plugins": plugins,
            "plan_id": plan_id(plan),
            "request": request_shape().write(plan.request),
            "rule_files": files,
            **written(last_parts(), plan),
        },
    )


def _files(plan: Plan, catalogue: Catalogue) -> list[RuleFile]:
    members = [member.rules for member in plan.members]
    files = [_file(rules, "governs") for rules in members]
    basis = plan.efficiency_basis
    if basis and basis not in {rules.id for rules in members}:
        found = catalogue.find(basis)
        files += [] if found is None else [_file(found, "efficiency")]
    return files


def _file(rules: RuleSet, role: Literal["governs", "efficiency"]) -> RuleFile:
    return RuleFile(rules.id, rules.source.edition, rules.sha256, role)


@functools.cache
def _file_shape() -> Object:
    about = docs_of(RuleFile)
    shapes: dict[str, Shape] = {
        "id": TEXT,
        "edition": TEXT,
        "sha256": TEXT,
        "role": Words(("governs", "efficiency")),
    }
    fields = [Field(name, name, shape, True, about[name]) for name, shape in shapes.items()]
    return Object(RuleFile, "rule_file", about[""], fields)


@functools.cache
def _plugin_shape() -> Object:
    about = docs_of(Origin)
    fields = [Field(name, name, TEXT, True, about[name]) for name in ("distribution", "version", "entry_point")]
    return Object(Origin, "plugin", about[""], fields)


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    head, tail = described(first_parts(), defs), described(last_parts(), defs)
    words = shape_of(str).schema(defs)
    middle: dict[str, Json] = {
        "library_version": {**words, "description": "Version of turnback that made it."},
        "plugins": {**Many(_plugin_shape()).schema(defs), "description": "The plugins that were at hand."},
        "plan_id": {**words, "description": "What readings of the joint call it."},
        "request": {**request_shape().schema(defs), "description": "What was asked."},
        "rule_files": {**Many(_file_shape()).schema(defs), "description": "The rule files that it leans on."},
    }
    one, other = head["properties"], tail["properties"]
    first = {key: each for key, each in one.items() if key != "absent"} if isinstance(one, dict) else {}
    properties: dict[str, Json] = {**first, **middle, **(other if isinstance(other, dict) else {})}
    open_ended: Json = {"type": "object", "description": "What else could end this rope, where it was asked for."}
    return {
        "type": "object",
        "properties": {**properties, "alternatives": open_ended},
        "required": list(properties),
        "additionalProperties": False,
    }
