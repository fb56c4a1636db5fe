"""The record of a joint as a plain dictionary for JSON, and back."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any, Final

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.review.as_built_document import Document, as_built_document, as_built_from_document
from turnback.review.identity import plan_id
from turnback.review.record import Record
from turnback.review.upkeep import Interval

__all__ = ["RECORD_FORMAT", "record_document", "record_from_document"]

RECORD_FORMAT: Final = 1
"""Version of the layout of the dictionary."""

_COMPUTED: Final = ("plan_id", "next_torque_check", "next_inspection", "remake_length_nm", "remakes_left", "in_service")
"""Keys that are written for whoever reads the record, and not read back: they follow from the others."""
_INTERVALS: Final = ("torque_interval", "inspection_interval")


def record_document(record: Record) -> dict[str, object]:
    """Turn a record into a plain dictionary.

    The plan itself is not in it, for it has a document of its own; its id is, under ``plan_id``.

    Args:
        record: The record.

    Returns:
        A dictionary that JSON can hold, without what was not given. Keys are the fields of the record; lengths end in
        ``_nm``, dates are written year-month-day, readings are those of an as-built document. What follows from the
        others stands at the end: ``next_torque_check``, ``next_inspection`` (words, and the day where there is one),
        ``remake_length_nm``, ``remakes_left`` and ``in_service``.
    """
    found: dict[str, object] = {"format": RECORD_FORMAT}
    if record.plan is not None:
        found["plan_id"] = plan_id(record.plan)
    for field in attrs.fields(Record):
        value: object = getattr(record, field.name)
        if value is None or value in ("", ()) or field.name == "plan":
            continue
        if field.name == "as_built" and record.as_built is not None:
            found["as_built"] = as_built_document(record.as_built)
        elif isinstance(value, Interval):
            found[field.name] = {"every": value.text, "reason": value.reason}
        elif isinstance(value, Length):
            found[f"{field.name}_nm"] = value.nanometres
        else:
            found[field.name] = list(value) if isinstance(value, tuple) else _plain(value)
    for name, each in (("next_torque_check", record.next_torque_check), ("next_inspection", record.next_inspection)):
        found[name] = {"when": each.words, **({} if each.on is None else {"on": each.on.isoformat()})}
    length, left, inspection = record.remake_length, record.remakes_left, record.inspection
    found.update({} if isinstance(length, Absent) else {"remake_length_nm": length.nanometres})
    found.update({} if isinstance(left, Absent) else {"remakes_left": left})
    found.update({} if isinstance(inspection, Absent) else {"in_service": inspection.in_service})
    return found


def record_from_document(document: Document, plan: Plan | None = None) -> Record:
    """Read a record from a plain dictionary.

    Args:
        document: The dictionary, as a person or :func:`record_document` wrote it.
        plan: The plan of the joint, read from its own document.

    Returns:
        The record.

    Raises:
        InputError: A key is not known (the nearest is named), a value cannot be read, the format is newer than this
            library, or the plan is another one.
    """
    if not isinstance(document, Mapping):
        raise InputError("a record is keys and values", field="record", value=repr(document)[:80])
    given: dict[str, Any] = {key: value for key, value in document.items() if value is not None}
    number = given.pop("format", RECORD_FORMAT)
    if number != RECORD_FORMAT or isinstance(number, bool):
        raise InputError(
            "this format of a record is not known to this version of the library",
            field="format",
            value=repr(number)[:80],
            bound=str(RECORD_FORMAT),
            instead="Write format 1, or read it with the version that wrote it.",
        )
    _same_plan(given.get("plan_id"), plan)
    for key in _COMPUTED:
        given.pop(key, None)
    if "rope_left_nm" in given:
        given["rope_left"] = _nanometres(given.pop("rope_left_nm"))
    _known(given)
    if "as_built" in given:
        given["as_built"] = _readings(given["as_built"])
    for name in _INTERVALS:
        if name in given:
            given[name] = _interval(given[name], name)
    given.setdefault("joint_id", "")
    return Record(plan=plan, **given)


def _same_plan(named: object, plan: Plan | None) -> None:
    if plan is not None and named is not None and named != plan_id(plan):
        raise InputError(
            "the record belongs to another plan",
            field="plan_id",
            value=repr(named)[:80],
            bound=plan_id(plan),
            instead="Take the plan that the joint was made to.",
        )


def _known(given: dict[str, Any]) -> None:
    names = [field.name for field in attrs.fields(Record) if field.name != "plan"]
    for key in given:
        if key not in names:
            near = get_close_matches(str(key)[:64], names, n=1)
            raise InputError(
                "no such key",
                field=str(key)[:64],
                bound="one of " + ", ".join(names),
                instead=f"Did you mean {near[0]}?" if near else "Take it out.",
            )


def _plain(value: object) -> object:
    return value if isinstance(value, (str, int)) else str(value)


def _nanometres(value: object) -> Length:
    if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
        return Length(value)
    raise InputError(
        "a whole number of nanometres stands here",
        field="rope_left_nm",
        value=repr(value)[:80],
        bound="0 or more",
        instead="Write text with its unit under rope_left.",
    )


def _readings(given: Document) -> object:
    try:
        return as_built_from_document(given)
    except InputError as error:
        error.field = f"as_built.{error.field}".rstrip(".")
        raise


def _interval(given: object, name: str) -> Interval:
    if isinstance(given, dict) and set(given) == {"every", "reason"}:
        try:
            return Interval(given["every"], given["reason"])
        except InputError as error:
            error.field = name + error.field.removeprefix("interval")
            raise
    raise InputError(
        "an interval is written with its reason",
        field=name,
        value=repr(given)[:80],
        instead='Write {"every": "3 months", "reason": "rules of the plant"}.',
    )
