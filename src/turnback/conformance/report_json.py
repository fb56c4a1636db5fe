"""A report as a plain dictionary, for JSON; the part of it that is a certificate."""

from __future__ import annotations

from turnback.conformance.law import Breakage
from turnback.conformance.outcome import Outcome
from turnback.conformance.replaying import again_line, plan_line
from turnback.conformance.report import Report
from turnback.output.json_text import Json
from turnback.output.rules_text import not_read_document

__all__ = ["examined_document", "report_document"]


def report_document(report: Report) -> dict[str, Json]:
    """Turn a report into a plain dictionary.

    Args:
        report: The report.

    Returns:
        A dictionary that JSON can hold: what a certificate holds, every breakage and survivor, and the time it took.
    """
    found = examined_document(report)
    oracle = report.oracle
    return {
        **found,
        "passed": report.passed,
        "asked": report.asked,
        "below": report.below,
        "only": report.only,
        "breakages": {
            outcome.law: [_breakage(report, outcome, each) for each in outcome.breakages]
            for outcome in report.outcomes
            if outcome.breakages
        },
        "check_value_differences": [str(each) for each in report.typed],
        "oracle_differences": [] if oracle is None else [str(each) for each in oracle.differences],
        "survivors": [] if report.data is None else [str(each) for each in report.data.survivors],
        "seconds": round(report.seconds, 3),
    }


def examined_document(report: Report) -> dict[str, Json]:
    """Return what was examined and what came of it, without anything that differs from run to run.

    Args:
        report: The report.

    Returns:
        The same dictionary for the same inputs.
    """
    return {
        "effort": report.effort.name,
        "examples": report.effort.examples,
        "seed": report.seed,
        "laws": [_outcome(outcome) for outcome in report.outcomes],
        "totals": _totals(report),
        "waivers": [
            {"law": each.law, "row": each.row, "reason": each.reason, "citation": str(each.citation)}
            for each in report.subject.rules.waivers
        ],
        "data": _data(report),
        "oracle": _oracle(report),
        "level": report.level.name,
        "level_reason": report.level.reason,
        "not_read": list(not_read_document(report.subject.rules)),
    }


def _totals(report: Report) -> dict[str, Json]:
    return {
        "laws": len(report.outcomes),
        "run": report.run,
        **{str(state): number for state, number in report.totals.items()},
    }


def _outcome(outcome: Outcome) -> Json:
    return {
        "id": outcome.law,
        "state": outcome.state,
        "strength": outcome.strength,
        "amount": outcome.amount,
        "reason": outcome.reason,
    }


def _breakage(report: Report, outcome: Outcome, each: Breakage) -> Json:
    return {
        "row": each.row,
        "rope": each.rope,
        "expected": each.expected,
        "got": each.got,
        "citation": each.citation,
        "replay": again_line(report.subject, outcome.law, report.effort, report.seed),
        "plan": plan_line(report.subject, each),
    }


def _data(report: Report) -> Json:
    data, values = report.data, report.subject.values
    if data is None or values is None:
        return None
    return {
        "mutants": data.total,
        "killed": data.killed,
        "refused": data.refused,
        "alive": len(data.survivors),
        "typed_by": values.typed_by,
        "typed_on": values.typed_on,
        "edition": values.edition,
        "another_person": values.another_person,
    }


def _oracle(report: Report) -> Json:
    found = report.oracle
    if found is None:
        return {"cases": 0, "differ": 0, "reason": report.oracle_reason}
    return {"cases": found.cases, "differ": found.found, "reason": ""}
