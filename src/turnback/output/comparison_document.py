"""A comparison of rule sets, and the list of other terminations, as plain dictionaries for JSON."""

from __future__ import annotations

from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.model.sources import Citation
from turnback.output.interchange import FORMAT, Json
from turnback.planning.plan import Plan
from turnback.quantities import Force, Length, Torque
from turnback.review.alternatives import NOT_A_RATING, Alternative, alternatives
from turnback.review.comparison import Comparison
from turnback.review.saying import Answer
from turnback.review.together import Together

__all__ = ["alternatives_document", "comparison_document"]


def comparison_document(comparison: Comparison) -> dict[str, Json]:
    """Turn a comparison into a plain dictionary.

    Args:
        comparison: The comparison.

    Returns:
        A dictionary that JSON can hold: lengths in nanometres, torques in newton metres, forces in newtons; what is
        absent is ``null``, with its reason under ``said``.
    """
    request = comparison.request
    return {
        "format": FORMAT,
        "rope": str(request.rope),
        "termination": request.termination.kind,
        "style": request.style,
        "clip_body": request.clip_body,
        "base_width_nm": _length(request.base_width),
        "service": request.service,
        "jurisdiction": request.jurisdiction,
        "usable": list(comparison.usable),
        "failures": list(comparison.failures),
        "covers": [_answer(answer) for answer in comparison.answers],
        "not_covered": [
            {"rules": each.rules.id, "why": each.why, "reason": each.reason} for each in comparison.refusals
        ],
        "together": [_together(company) for company in comparison.together],
        "conflicts": [
            {
                "item": clash.item,
                "rules": list(clash.rules),
                "text": clash.text,
                "instead": clash.instead,
                "citations": [_citation(citation) for citation in clash.citations],
            }
            for clash in comparison.clashes
        ],
        "differences": [
            {
                "item": each.item,
                "differs": each.differs,
                "governs": each.extreme or None,
                "values": [{"value": value, "rules": list(ids)} for value, ids in each.values],
                "silent": list(each.silent),
            }
            for each in comparison.differences
        ],
        "findings": [{**_finding(finding), "rules": list(ids)} for finding, ids in comparison.findings],
    }


def alternatives_document(plan: Plan) -> dict[str, Json]:
    """Turn the list of other terminations into a plain dictionary.

    Args:
        plan: The plan.

    Returns:
        A dictionary that JSON can hold, with the caution that none of it is a rating.
    """
    return {"caution": NOT_A_RATING, "ways": [_alternative(each) for each in alternatives(plan)]}


def _alternative(each: Alternative) -> Json:
    figure = each.figure
    return {
        "code": each.code,
        "name": each.name,
        "printed": each.printed,
        "efficiency_at_least": None if isinstance(figure, Absent) else str(figure.least),
        "efficiency_at_most": None if isinstance(figure, Absent) else str(figure.greatest),
        "breaks_at_least_newton": _force(each.breaks_at_least),
        "breaks_at_most_newton": _force(each.breaks_at_most),
        "absent": each.breaks_at_least.reason if isinstance(each.breaks_at_least, Absent) else None,
        "note": each.note or None,
        "citations": [_citation(citation) for citation in each.citations],
    }


def _answer(answer: Answer) -> Json:
    said: list[Json] = [
        {
            "item": each.item,
            "text": each.text,
            "how": each.how or None,
            "status": each.status,
            "citations": [_citation(citation) for citation in each.citations],
        }
        for each in answer.said
    ]
    return {
        "rules": answer.rules.id,
        "title": answer.rules.title,
        "sha256": answer.rules.sha256,
        "pattern": answer.rules.pattern or None,
        "status": answer.status,
        **_numbers(answer.plan),
        "said": said,
        "findings": [finding.code for finding in answer.plan.findings],
    }


def _together(company: Together) -> Json:
    governs: list[Json] = [{"item": item, "text": text} for item, text in company.governs]
    findings: list[Json] = [_finding(finding) for finding in company.plan.findings]
    return {"rules": list(company.ids), **_numbers(company.plan), "governs": governs, "findings": findings}


def _numbers(plan: Plan) -> dict[str, Json]:
    least, greatest = plan.demand.least, plan.demand.greatest
    return {
        "usable": plan.usable,
        "clip_count": plan.clip_count,
        "clip_size_nm": plan.clip_size.nanometres,
        "turn_back_nm": _length(plan.turn_back),
        "spacing_nm": _length(plan.spacing),
        "least_spacing_nm": None if least is None else least.length.nanometres,
        "greatest_spacing_nm": None if greatest is None else greatest.length.nanometres,
        "torque": _torque(plan.torque),
        "thread_condition": None if isinstance(plan.thread_condition, Absent) else plan.thread_condition,
        "efficiency": None if isinstance(plan.efficiency, Absent) else str(plan.efficiency),
        "efficiency_basis": plan.efficiency_basis or None,
        "termination_breaking_force_newton": _force(plan.termination_breaking_force),
    }


def _length(value: Length | Absent | None) -> Json:
    return value.nanometres if isinstance(value, Length) else None


def _force(value: Force | Absent) -> Json:
    return None if isinstance(value, Absent) else value.newtons


def _torque(value: Torque | Absent) -> Json:
    if isinstance(value, Absent):
        return None
    return {"printed": str(value), "torque_newton_metre": value.newton_metres}


def _finding(finding: Finding) -> dict[str, Json]:
    return {
        "code": finding.code,
        "kind": finding.kind,
        "text": finding.text,
        "citations": [_citation(citation) for citation in finding.citations],
    }


def _citation(citation: Citation) -> Json:
    return {
        "source": citation.source.id,
        "document": citation.source.document,
        "locator": citation.locator,
        "status": citation.status,
        "note": citation.note,
    }
