"""Values as JSON and back, without loss: requests, plans, findings, rule sets, readings, inspections, records.

A document is an object that begins with its format and its kind. Keys are named with their unit: a length is a whole
number ``..._nm``, a force a number ``..._newton``, a torque its printed number and unit beside ``..._newton_metre``.
The same value is written as the same bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, TypeAlias, TypeVar, overload

from turnback.errors import InputError
from turnback.model.findings import Finding
from turnback.output._shapes import Defs, nearest
from turnback.output.documents import as_built as as_built_document
from turnback.output.documents import finding as finding_document
from turnback.output.documents import inspection as inspection_document
from turnback.output.documents import plan as _plan_document
from turnback.output.documents import record as record_document
from turnback.output.documents import request as request_document
from turnback.output.documents import rule_set as _rule_set_document
from turnback.output.json_text import FORMAT, Json, to_text
from turnback.output.reading import read_document, refuse_beyond_bounds
from turnback.output.recomputing import plan_of
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities.grammar import shown
from turnback.review.as_built import AsBuilt
from turnback.review.inspection import Inspection
from turnback.review.record import Record
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = [
    "FORMAT",
    "SCHEMAS",
    "Interchanged",
    "Json",
    "from_json",
    "opened",
    "plan_document",
    "rule_set_document",
    "to_json",
    "to_text",
]

Interchanged: TypeAlias = Request | Plan | Finding | RuleSet | AsBuilt | Inspection | Record
"""What can be written and read back."""

T = TypeVar("T", Request, Plan, Finding, RuleSet, AsBuilt, Inspection, Record)

SCHEMAS: Final[Mapping[str, Callable[[Defs], dict[str, Json]]]] = {
    request_document.KIND: request_document.schema,
    _plan_document.KIND: _plan_document.schema,
    finding_document.KIND: finding_document.schema,
    _rule_set_document.KIND: _rule_set_document.schema,
    as_built_document.KIND: as_built_document.schema,
    inspection_document.KIND: inspection_document.schema,
    record_document.KIND: record_document.schema,
}
"""Every kind of document, and what describes it."""


def to_json(value: Interchanged, catalogue: Catalogue | None = None) -> str:
    """Write a value as JSON.

    Args:
        value: A request, plan, finding, rule set, joint as it was made, inspection or record.
        catalogue: What a plan was made from; the installed plugins when not given.

    Returns:
        The text, ending in a new line; :func:`from_json` reads it back to an equal value.

    Raises:
        InputError: The value is of another kind, or breaks a bound that :func:`from_json` reads within.
    """
    document = _document(value, catalogue)
    text = to_text(document)
    refuse_beyond_bounds(document, text)
    return text


def _document(value: Interchanged, catalogue: Catalogue | None) -> dict[str, Json]:
    if isinstance(value, Plan):
        return _plan_document.document(value, catalogue)
    if isinstance(value, Request):
        return request_document.document(value)
    if isinstance(value, Finding):
        return finding_document.document(value)
    if isinstance(value, RuleSet):
        return _rule_set_document.document(value)
    if isinstance(value, AsBuilt):
        return as_built_document.document(value)
    if isinstance(value, Inspection):
        return inspection_document.document(value, catalogue)
    if isinstance(value, Record):
        return record_document.document(value, catalogue)
    raise InputError(
        "there is no document of such a value", field="value", value=shown(value), bound=", ".join(SCHEMAS)
    )


@overload
def from_json(text: str | bytes, wanted: type[T], catalogue: Catalogue | None = None) -> T: ...
@overload
def from_json(text: str | bytes, wanted: None = None, catalogue: Catalogue | None = None) -> Interchanged: ...
def from_json(text: str | bytes, wanted: type[T] | None = None, catalogue: Catalogue | None = None) -> Interchanged:
    """Read a value from JSON that nobody vouches for.

    A plan is read by planning its request again: it is refused where a rule file, the library or a hand has changed one
    of its numbers. :func:`turnback.verify` says which.

    Args:
        text: The text, or its bytes in UTF-8: at most 1 MiB, 32 levels, 10 000 entries of lists, texts of 4096
            characters.
        wanted: Class of the value, such as :class:`turnback.Plan`, where only that will do.
        catalogue: What a plan is made again from; the installed plugins when not given.

    Returns:
        A value equal to the one that was written.

    Raises:
        InputError: It is no JSON, breaks a bound, has a format newer than this library, is of another kind than wanted,
            has an unknown key or a value that cannot be read, or a number that is not the computed one; the place is
            named.
    """
    kind, body = opened(text)
    found = _value(kind, body, catalogue)
    if wanted is not None and not isinstance(found, wanted):
        raise InputError("the document is of another kind", field="kind", value=kind, bound=wanted.__name__)
    return found


def _value(kind: str, body: Mapping[str, Json], catalogue: Catalogue | None) -> Interchanged:
    if kind == _plan_document.KIND:
        return plan_of(body, "", catalogue)
    if kind == inspection_document.KIND:
        return inspection_document.value(body, "", catalogue)
    if kind == record_document.KIND:
        return record_document.value(body, "", catalogue)
    simple: dict[str, Callable[[Mapping[str, Json]], Interchanged]] = {
        request_document.KIND: request_document.value,
        finding_document.KIND: finding_document.value,
        _rule_set_document.KIND: _rule_set_document.value,
        as_built_document.KIND: as_built_document.value,
    }
    return simple[kind](body)


def opened(text: str | bytes, default: str = "") -> tuple[str, dict[str, Json]]:
    """Read the head of a document, within the bounds.

    Args:
        text: The text, or its bytes in UTF-8.
        default: Kind of a document that names none; empty where it must.

    Returns:
        Its kind, and its keys without the head.

    Raises:
        InputError: It is no JSON, breaks a bound, has another format than this library reads, or is of no known kind.
    """
    body = read_document(text)
    number, kind = body.pop("format", FORMAT if default else None), body.pop("kind", default or None)
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        raise InputError(
            "a document says which format it has",
            field="format",
            value="" if number is None else shown(number),
            bound=f"1 to {FORMAT}",
            instead=f'Begin it with "format": {FORMAT}.',
        )
    if number > FORMAT:
        raise InputError(
            "the document has a format that is newer than this library",
            field="format",
            value=shown(number),
            bound=f"up to {FORMAT}",
            instead="Read it with the version of turnback that wrote it, or a later one.",
        )
    if not isinstance(kind, str) or kind not in SCHEMAS:
        raise InputError(
            "no such kind of document",
            field="kind",
            value="" if kind is None else shown(kind),
            bound="one of " + ", ".join(SCHEMAS),
            instead=nearest(kind, list(SCHEMAS)) if isinstance(kind, str) else "",
        )
    return kind, body


def plan_document(plan: Plan, catalogue: Catalogue | None = None) -> dict[str, Json]:
    """Turn a plan into a plain dictionary.

    Args:
        plan: The plan.
        catalogue: What it was made from; the installed plugins when not given.

    Returns:
        A dictionary that JSON can hold, as :func:`to_json` writes it.
    """
    return _plan_document.document(plan, catalogue)


def rule_set_document(rules: RuleSet, catalogue: Catalogue) -> dict[str, Json]:
    """Turn a rule set into a plain dictionary, with where it comes from.

    Args:
        rules: The rule set.
        catalogue: Where it was found.

    Returns:
        A dictionary that JSON can hold, as :func:`to_json` writes it, with ``distribution`` and ``version`` at the end.
    """
    origin = catalogue.origin_of(rules.id)
    return {
        **_rule_set_document.document(rules),
        "distribution": None if origin is None else origin.distribution,
        "version": None if origin is None else origin.version,
    }
