"""The register of many joints: one row a joint, as CSV or Parquet, in columns that a machine can plan from again."""

from __future__ import annotations

import csv
import datetime
import os
from collections.abc import Iterable
from importlib import import_module
from typing import Final, Literal, TypeAlias

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.terminations import (
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.plan import Plan
from turnback.quantities import Force, Length, Torque
from turnback.review.identity import plan_id
from turnback.review.record import Record
from turnback.rules.selection import choice_text

__all__ = ["REGISTER_COLUMNS", "Cell", "RegisterRow", "register_rows", "write_register_csv", "write_register_parquet"]

Cell: TypeAlias = str | int | float | bool | datetime.date | None
RegisterRow: TypeAlias = dict[str, Cell]
ColumnType = Literal["text", "whole", "number", "flag", "day"]

REGISTER_COLUMNS: Final[dict[str, ColumnType]] = {
    "joint_id": "text", "plan_id": "text",
    "rope_diameter_nm": "whole", "construction": "text", "core": "text", "grade": "text", "lay": "text",
    "outer_wires": "text", "finish": "text", "condition": "text", "rotation_resistant": "flag", "preformed": "flag",
    "measured_diameter_nm": "whole", "coating_diameter_nm": "whole", "coating_stripped": "flag",
    "eye_stripped": "flag", "minimum_breaking_force_newton": "number", "rope_certificate": "text",
    "termination": "text", "inside_length_nm": "whole", "inside_width_nm": "whole", "groove_offset_nm": "whole",
    "second_inside_length_nm": "whole", "second_inside_width_nm": "whole", "second_groove_offset_nm": "whole",
    "pin_nm": "whole", "eye_length_nm": "whole", "tread_diameter_nm": "whole", "included_angle_radian": "number",
    "parts_apart_nm": "whole",
    "style": "text", "rules": "text", "clip_body": "text", "clip_size_nm": "whole", "base_width_nm": "whole",
    "service": "text", "jurisdiction": "text", "extra_clips": "whole", "load_newton": "number",
    "clip_count": "whole", "turn_back_nm": "whole", "torque_newton_metre": "number", "threads": "text",
    "rope_breaking_force_newton": "number", "termination_breaking_force_newton": "number",
    "made_by": "text", "checked_by": "text", "competent_person": "text", "wrench_id": "text",
    "wrench_calibrated_until": "day", "joint_rope_certificate": "text", "clip_certificates": "text",
    "made_on": "day", "first_load_on": "day", "first_load_newton": "number",
    "last_torque_check": "day", "next_torque_check": "day", "next_torque_check_words": "text",
    "last_inspection": "day", "next_inspection": "day", "next_inspection_words": "text",
    "in_service": "text", "deviations": "text", "still_to_measure": "whole",
    "remakes": "whole", "rope_left_nm": "whole", "remake_length_nm": "whole", "remakes_left": "whole",
}  # fmt: skip
"""Every column with its type, in order. The columns from ``rope_diameter_nm`` to ``load_newton`` are the inputs of a
plan, by the names of their fields; ``second_...`` are those of the second thimble of linked eyes. Those from
``clip_count`` to ``termination_breaking_force_newton`` are what the plan answered: ``rope_breaking_force_newton`` is
the least breaking force that it took, from the certificate or from a table. The rest is the record's own.
``rope_certificate`` is what the rope's force was read in, ``joint_rope_certificate`` what the record names;
``clip_certificates`` and ``deviations`` (codes) are joined by ``; ``. Lengths are whole nanometres, forces newton,
torques newton metre, angles radian, days year-month-day. What is not known is empty (null in Parquet)."""


def register_rows(records: Iterable[Record]) -> tuple[RegisterRow, ...]:
    """Turn records into rows.

    Args:
        records: The records, each joint once.

    Returns:
        One row a record, in their order, with every column of :data:`REGISTER_COLUMNS`.

    Raises:
        InputError: Two records have one joint id, or what is given are no records.
    """
    rows: list[RegisterRow] = []
    seen: set[str] = set()
    for record in _checked(records):
        if record.joint_id in seen:
            raise InputError(
                "two records have one joint id",
                field="joint_id",
                value=record.joint_id,
                instead="Give every joint an id of its own; of one joint take the latest record.",
            )
        seen.add(record.joint_id)
        known = {**_planned(record.plan), **_recorded(record)}
        rows.append({column: known.get(column) for column in REGISTER_COLUMNS})
    return tuple(rows)


def write_register_csv(path: str | os.PathLike[str], records: Iterable[Record]) -> None:
    """Write a register as CSV: UTF-8, comma, one line a joint, the columns of :data:`REGISTER_COLUMNS` as its head.

    Args:
        path: Where to write it; what stands there is replaced.
        records: The records.

    Raises:
        InputError: Two records have one joint id, what is given are no records, or the file cannot be written.
    """
    _check_path(path)
    rows = register_rows(records)
    try:
        with open(path, "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(REGISTER_COLUMNS), lineterminator="\n")
            writer.writeheader()
            writer.writerows({column: _cell(value) for column, value in row.items()} for row in rows)
    except OSError as error:
        raise _not_written(path, error) from error


def write_register_parquet(path: str | os.PathLike[str], records: Iterable[Record]) -> None:
    """Write a register as Parquet, with the columns of :data:`REGISTER_COLUMNS`.

    Whole numbers are ``int64``, numbers ``float64``, flags ``bool``, days ``date32``, text ``string``.

    Args:
        path: Where to write it; what stands there is replaced.
        records: The records.

    Raises:
        InputError: pyarrow is not installed (it comes with ``turnback[batch]``), two records have one joint id, what is
            given are no records, or the file cannot be written.
    """
    _check_path(path)
    rows = register_rows(records)
    try:
        arrow, parquet = import_module("pyarrow"), import_module("pyarrow.parquet")
    except ImportError as error:
        raise InputError(
            "Parquet is written by pyarrow, which is not installed",
            field="path",
            value=str(path),
            instead="Install it with: pip install 'turnback[batch]'. CSV needs nothing: write_register_csv.",
        ) from error
    types = {
        "text": arrow.string(),
        "whole": arrow.int64(),
        "number": arrow.float64(),
        "flag": arrow.bool_(),
        "day": arrow.date32(),
    }
    schema = arrow.schema([(column, types[kind]) for column, kind in REGISTER_COLUMNS.items()])
    try:
        parquet.write_table(arrow.Table.from_pylist(list(rows), schema=schema), os.fspath(path))
    except OSError as error:
        raise _not_written(path, error) from error


def _check_path(path: object) -> None:
    if not isinstance(path, (str, os.PathLike)):
        raise InputError(
            "a register is written to a path, which comes first",
            field="path",
            value=repr(type(path).__name__),
            bound="text or a path",
            instead="Write it as write_register_csv('register.csv', records): the path, then the records.",
        )


def _checked(records: object) -> Iterable[Record]:
    """The records, each of which is one."""
    if not isinstance(records, Iterable) or isinstance(records, (str, bytes)):
        raise _no_record(records)
    for record in records:
        if not isinstance(record, Record):
            raise _no_record(record)
        yield record


def _no_record(given: object) -> InputError:
    return InputError(
        "a register is made of records of joints",
        field="records",
        value=repr(type(given).__name__),
        bound="an iterable of Record",
        instead="Hand over a list of records, such as [record]; the path comes before it.",
    )


def _planned(plan: Plan | None) -> RegisterRow:
    if plan is None:
        return {}
    request, rope, coating = plan.request, plan.request.rope, plan.request.rope.coating
    row: RegisterRow = {
        "plan_id": plan_id(plan),
        "rope_diameter_nm": rope.diameter.nanometres,
        "rotation_resistant": rope.rotation_resistant,
        "preformed": rope.preformed,
        "measured_diameter_nm": _nm(rope.measured_diameter),
        "coating_diameter_nm": None if coating is None else coating.finished_diameter.nanometres,
        "coating_stripped": None if coating is None else coating.stripped,
        "eye_stripped": None if coating is None else coating.eye_stripped,
        "minimum_breaking_force_newton": _newton(rope.minimum_breaking_force),
        "rope_certificate": rope.certificate or None,
        "termination": request.termination.kind,
        "style": request.style,
        "rules": None if request.rules is None else choice_text(request.rules),
        "clip_body": request.clip_body,
        "clip_size_nm": plan.clip_size.nanometres,
        "base_width_nm": _nm(request.base_width),
        "service": request.service,
        "jurisdiction": request.jurisdiction,
        "extra_clips": request.extra_clips,
        "load_newton": _newton(request.load),
        "clip_count": plan.clip_count,
        "turn_back_nm": _nm(plan.turn_back),
        "torque_newton_metre": plan.torque.newton_metres if isinstance(plan.torque, Torque) else None,
        "threads": None if isinstance(plan.thread_condition, Absent) else plan.thread_condition,
        "rope_breaking_force_newton": _newton(plan.minimum_breaking_force),
        "termination_breaking_force_newton": _newton(plan.termination_breaking_force),
        **_eye(request.termination),
    }
    for name in ("construction", "core", "grade", "lay", "outer_wires", "finish", "condition"):
        row[name] = getattr(rope, name) or None
    return row


def _eye(termination: Termination, prefix: str = "") -> RegisterRow:
    if isinstance(termination, ThimbleEye):
        names = ("inside_length", "inside_width", "groove_offset")
        return {f"{prefix}{name}_nm": _nm(getattr(termination, name)) for name in names}
    if isinstance(termination, SoftEye):
        return {"pin_nm": _nm(termination.pin), "eye_length_nm": _nm(termination.length)}
    if isinstance(termination, PulleyEye):
        angle = termination.included_angle
        radians = None if angle is None else angle.radians
        return {"tread_diameter_nm": _nm(termination.tread_diameter), "included_angle_radian": radians}
    if isinstance(termination, LinkedEyes):
        return {**_eye(termination.first), **_eye(termination.second, "second_")}
    if isinstance(termination, PlateEye):
        return {**_eye(termination.around), "parts_apart_nm": _nm(termination.parts_apart)}
    return {}


def _recorded(record: Record) -> RegisterRow:
    torque, look, inspection = record.next_torque_check, record.next_inspection, record.inspection
    row: RegisterRow = {
        "joint_id": record.joint_id,
        "joint_rope_certificate": record.rope_certificate or None,
        "clip_certificates": "; ".join(record.clip_certificates) or None,
        "first_load_newton": _newton(record.first_load),
        "next_torque_check": torque.on,
        "next_torque_check_words": torque.words,
        "next_inspection": look.on,
        "next_inspection_words": look.words,
        "rope_left_nm": _nm(record.rope_left),
        "remake_length_nm": _nm(record.remake_length),
        "remakes": record.remakes,
        "remakes_left": None if isinstance(record.remakes_left, Absent) else record.remakes_left,
    }
    for name in ("made_by", "checked_by", "competent_person", "wrench_id"):
        row[name] = getattr(record, name) or None
    for name in ("wrench_calibrated_until", "made_on", "first_load_on", "last_torque_check", "last_inspection"):
        row[name] = getattr(record, name)
    if not isinstance(inspection, Absent):
        row["in_service"] = inspection.in_service
        row["deviations"] = "; ".join(dict.fromkeys(each.code for each in inspection.deviations)) or None
        row["still_to_measure"] = len(inspection.still_to_measure)
    return row


def _nm(value: Length | Absent | None) -> int | None:
    return value.nanometres if isinstance(value, Length) else None


def _newton(value: Force | Absent | None) -> float | None:
    return value.newtons if isinstance(value, Force) else None


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return value.isoformat() if isinstance(value, datetime.date) else str(value)


def _not_written(path: str | os.PathLike[str], error: OSError) -> InputError:
    return InputError(
        f"the register cannot be written: {error.strerror or error}",
        field="path",
        value=str(path),
        instead="Give the path of a file in a folder that can be written to.",
    )
