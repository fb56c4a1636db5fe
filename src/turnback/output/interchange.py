"""A plan and a rule set as plain dictionaries for JSON: keys named with their unit, nothing of a serialiser's own idea.

A length is a whole number ``..._nm``, a torque ``..._newton_metre`` beside its printed text, a force ``..._newton``.
What is absent is ``null`` at its place, and its reason stands under ``absent``.
"""

from __future__ import annotations

import json
from typing import Final, TypeAlias

import attrs

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.layout import PlacedClip
from turnback.model.sources import Citation
from turnback.planning.plan import Plan
from turnback.quantities import Angle, Force, Length, Torque
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet
from turnback.rules.selection import choice_text

__all__ = ["FORMAT", "Json", "plan_document", "rule_set_document", "to_text"]

Json: TypeAlias = bool | int | float | str | list["Json"] | dict[str, "Json"] | None
FORMAT: Final = 1
"""Version of the layout of these dictionaries."""


def to_text(document: Json) -> str:
    """Write a document as JSON text.

    Args:
        document: Plain lists, dictionaries, numbers and text.

    Returns:
        Text with two blanks of indent, in the order of the keys, ending in a new line.
    """
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def plan_document(plan: Plan) -> dict[str, Json]:
    """Turn a plan into a plain dictionary.

    Args:
        plan: The plan.

    Returns:
        A dictionary that JSON can hold; what is forbidden or must be fixed comes first.
    """
    absent: dict[str, Json] = {}

    def length(name: str, value: Length | Absent) -> Json:
        if isinstance(value, Absent):
            absent[name] = value.reason
            return None
        return value.nanometres

    def force(name: str, value: Force | Absent) -> Json:
        if isinstance(value, Absent):
            absent[name] = value.reason
            return None
        return value.newtons

    def ratio(name: str, value: object) -> Json:
        if isinstance(value, Absent):
            absent[name] = value.reason
            return None
        return str(value)

    request, geometry = plan.request, plan.geometry
    tape = plan.tape
    document: dict[str, Json] = {
        "format": FORMAT,
        "usable": plan.usable,
        "forbidden": [finding.text for finding in plan.findings if finding.kind == "forbidden"],
        "request": {
            "rope": str(request.rope),
            "rope_diameter_nm": request.rope.diameter.nanometres,
            "termination": request.termination.kind,
            "style": request.style,
            "rules": choice_text(request.rules) if request.rules is not None else None,
            "clip_body": request.clip_body,
            "base_width_nm": None if request.base_width is None else request.base_width.nanometres,
            "service": request.service,
            "jurisdiction": request.jurisdiction,
            "extra_clips": request.extra_clips,
            "load_newton": None if request.load is None else request.load.newtons,
        },
        "rule_sets": [_rules_used(member.rules) for member in plan.members],
        "clip_count": plan.clip_count,
        "clip_size_nm": plan.clip_size.nanometres,
        "turn_back_nm": length("turn_back", plan.turn_back),
        "spacing_nm": length("spacing", plan.spacing),
        "dead_end_nm": length("dead_end", plan.dead_end),
        "torque": _torque(plan.torque, absent),
        "thread_condition": ratio("thread_condition", plan.thread_condition),
        "clips": [_clip(clip) for clip in plan.clips],
        "tape": None
        if isinstance(tape, Absent)
        else {
            "step_nm": tape.step.nanometres,
            "turn_back_nm": length("tape_turn_back", tape.layout.turn_back),
            "clips": [_clip(clip) for clip in tape.layout.clips],
        },
        "rope_in_eye_nm": length("rope_in_eye", plan.rope_in_eye),
        "reach_nm": length("reach", geometry.reach),
        "included_angle_radian": _angle(geometry.included_angle, absent),
        "strip_length_nm": length("strip_length", plan.strip_length),
        "efficiency": ratio("efficiency", plan.efficiency),
        "efficiency_basis": plan.efficiency_basis or None,
        "minimum_breaking_force_newton": force("minimum_breaking_force", plan.minimum_breaking_force),
        "termination_breaking_force_newton": force("termination_breaking_force", plan.termination_breaking_force),
        "design_factor": ratio("design_factor", _value(plan.service.design_factor)),
        "findings": [_finding(finding) for finding in plan.findings],
        "marks": [
            {"number": mark.number, "code": mark.code, "name": mark.name, "position_nm": mark.position.nanometres}
            for mark in plan.marks
        ],
        "procedure": [
            {"number": step.number, "code": step.code, "text": step.text, "hold": step.hold} for step in plan.procedure
        ],
        "bill": [str(line) for line in plan.bill.lines],
        "derivations": [
            {
                "name": item.name,
                "value": item.value,
                "formula": item.formula,
                "inputs": [list(given) for given in item.inputs],
                "citations": [_citation(citation) for citation in item.citations],
            }
            for item in plan.derivations
        ],
        "citations": [_citation(citation) for citation in plan.citations],
    }
    document["absent"] = absent
    if plan.other_eye is not None:
        document["other_eye"] = {"rope_in_eye_nm": length("other_eye.rope_in_eye", plan.other_eye.rope_in_eye)}
    return document


def _value(cell: Cited[object] | Absent) -> object:
    return cell if isinstance(cell, Absent) else cell.value


def _torque(torque: Torque | Absent, absent: dict[str, Json]) -> Json:
    if isinstance(torque, Absent):
        absent["torque"] = torque.reason
        return None
    return {"printed": str(torque), "torque_newton_metre": torque.newton_metres}


def _angle(angle: Angle | Absent, absent: dict[str, Json]) -> Json:
    if isinstance(angle, Absent):
        absent["included_angle"] = angle.reason
        return None
    return angle.radians


def _clip(clip: PlacedClip) -> Json:
    return {
        "number": clip.number,
        "position_nm": clip.position.nanometres,
        "near_edge_nm": clip.near_edge.nanometres,
        "far_edge_nm": clip.far_edge.nanometres,
        "saddle_on": clip.saddle_on,
    }


def _finding(finding: Finding) -> Json:
    return {
        "code": finding.code,
        "kind": finding.kind,
        "text": finding.text,
        "values": dict(finding.values),
        "citations": [_citation(citation) for citation in finding.citations],
    }


def _citation(citation: Citation) -> Json:
    return {
        "source": citation.source.id,
        "document": citation.source.document,
        "edition": citation.source.edition,
        "issuer": citation.source.issuer,
        "locator": citation.locator,
        "status": citation.status,
        "note": citation.note,
    }


def _rules_used(rules: RuleSet) -> Json:
    return {"id": rules.id, "sha256": rules.sha256, "edition": rules.source.edition}


def rule_set_document(rules: RuleSet, catalogue: Catalogue) -> dict[str, Json]:
    """Turn a rule set into a plain dictionary: its table with the status of each cell, and where it comes from.

    Args:
        rules: The rule set.
        catalogue: Where it was found.

    Returns:
        A dictionary that JSON can hold.
    """
    origin = catalogue.origin_of(rules.id)
    return {
        "format": FORMAT,
        "id": rules.id,
        "style": rules.style,
        "title": rules.title,
        "pattern": rules.pattern or None,
        "citation": _citation(rules.citation),
        "sha256": rules.sha256,
        "distribution": None if origin is None else origin.distribution,
        "version": None if origin is None else origin.version,
        "rows": [_row(row) for row in rules.rows],
        "count_rule": None if rules.count_rule is None else rules.count_rule.text,
        "spacing": [
            {"bound": bound.bound, "clear": bound.clear, "rule": None if bound.length is None else bound.length.text}
            for bound in rules.spacing
        ],
        "threads": None if rules.threads is None else rules.threads.value,
        "efficiency": [str(band.value) for band in rules.efficiency],
        "notes": [note.value for note in rules.notes],
    }


def _row(row: Row) -> Json:
    cells: dict[str, Json] = {"size_nm": row.size.nanometres}
    for field in attrs.fields(Row):
        cell: object = getattr(row, field.name)
        if isinstance(cell, Cited) and field.name != "confirm":
            value = cell.value
            shown: Json = value if isinstance(value, int) else str(value)
            if isinstance(value, Length):
                shown = value.nanometres
            name = f"{field.name}_nm" if isinstance(value, Length) else field.name
            cells[name] = {"value": shown, "status": cell.citations[0].status}
    return cells
