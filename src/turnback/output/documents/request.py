"""The document of a request: everything that a plan is computed from, rule sets given as values among it."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Final

from turnback.errors import InputError, TurnbackError
from turnback.output._annotations import with_special
from turnback.output._composite import Object, closed, placed
from turnback.output._shapes import TEXT, Defs, Shape, nearest, wrong
from turnback.output.documents.rule_set import rule_set_shape
from turnback.output.json_text import Json, at, entry, with_head
from turnback.planning.request import Request
from turnback.quantities.grammar import shown
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, first_of, governing

__all__ = ["KIND", "document", "request_shape", "schema", "value"]

KIND: Final = "request"

_LISTS: Final = {"governing": "members", "first-of": "options"}
_WORDS: Final = ("rule-set", *_LISTS)


class _Rules(Shape):
    """Rules by name, a rule set embedded whole, or several in a choice."""

    def write(self, value: object) -> Json:
        if isinstance(value, RuleSet):
            return {"kind": "rule-set", **rule_set_shape().write(value)}
        if isinstance(value, Governing):
            return {"kind": "governing", "members": [self.write(each) for each in value.members]}
        if isinstance(value, FirstOf):
            return {"kind": "first-of", "options": [self.write(each) for each in value.options]}
        return None if value is None else str(value)

    def read(self, found: Json, path: str) -> RulesChoice | None:
        return None if found is None else self._choice(found, path)

    def _choice(self, found: Json, path: str) -> RulesChoice:
        if isinstance(found, str):
            return found
        if not isinstance(found, dict):
            raise wrong(found, path, "the name of a rule set, or a choice of rule sets")
        kind = found.get("kind")
        if kind == "rule-set":
            rest = {key: each for key, each in found.items() if key != "kind"}
            made = rule_set_shape().read(rest, path)
            if isinstance(made, RuleSet):
                return made
        if not isinstance(kind, str) or kind not in _LISTS:
            bound = "one of " + ", ".join(_WORDS)
            instead = nearest(str(kind), _WORDS)
            raise InputError("no such kind", field=at(path, "kind"), value=shown(kind), bound=bound, instead=instead)
        key = _LISTS[kind]
        listed, place = closed(found, path, ("kind", key)).get(key), at(path, key)
        if not isinstance(listed, list):
            raise wrong(listed, place, "a list of rule sets")
        members = [self._choice(each, entry(place, i)) for i, each in enumerate(listed)]
        try:
            return governing(*members) if kind == "governing" else first_of(*members)
        except TurnbackError as error:
            raise placed(error, path) from error

    def schema(self, defs: Defs, /) -> dict[str, Json]:
        if "rules" not in defs:
            defs["rules"] = {}
            lists = [_list_schema(kind, key) for kind, key in _LISTS.items()]
            whole = rule_set_shape().own_schema(defs)
            own, required = whole["properties"], whole["required"]
            whole["properties"] = {"kind": {"const": "rule-set"}, **(own if isinstance(own, dict) else {})}
            whole["required"] = ["kind", *(required if isinstance(required, list) else [])]
            defs["rules"] = {
                "description": "An id, a rule set embedded whole, or several.",
                "oneOf": [TEXT.schema(defs), whole, *lists],
            }
        return {"anyOf": [{"$ref": "#/$defs/rules"}, {"type": "null"}]}


def _list_schema(kind: str, key: str) -> dict[str, Json]:
    return {
        "type": "object",
        "properties": {"kind": {"const": kind}, key: {"type": "array", "items": {"$ref": "#/$defs/rules"}}},
        "required": ["kind", key],
        "additionalProperties": False,
    }


@functools.cache
def request_shape() -> Object:
    """Return the shape of a request.

    Returns:
        An object with one key for each field.
    """
    return with_special(Request, {}, {"rules": _Rules()})


def document(request: Request) -> dict[str, Json]:
    """Write a request.

    Args:
        request: The request.

    Returns:
        The document.
    """
    return with_head(KIND, request_shape().write(request))


def value(found: Mapping[str, Json], path: str = "") -> Request:
    """Read a request.

    Args:
        found: The document, without its head.
        path: Where it stands; empty for a document of its own.

    Returns:
        The request.

    Raises:
        InputError: A key is unknown or missing, or a value cannot be read.
    """
    made = request_shape().read(dict(found), path)
    if isinstance(made, Request):
        return made
    raise InputError("this is no request", field=path)


def schema(defs: Defs) -> dict[str, Json]:
    """Describe the document.

    Args:
        defs: Where the schemas of objects are put.

    Returns:
        Its schema, without its head.
    """
    return request_shape().own_schema(defs)
