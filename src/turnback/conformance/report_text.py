"""A report in words: totals first, then what is wrong, at most twelve lines for each law."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from turnback.conformance.law import Breakage
from turnback.conformance.laws import law_named
from turnback.conformance.outcome import Outcome
from turnback.conformance.report import Report

__all__ = ["failure_lines", "report_text"]

_WIDTH = 80
_MOST_LINES = 12
_MOST_LISTED = 20


def report_text(report: Report) -> str:
    """Write a report.

    Args:
        report: The report.

    Returns:
        Lines of at most 80 characters, ending in a new line.
    """
    return "\n".join(_lines(report)) + "\n"


def _lines(report: Report) -> Iterator[str]:
    rules, totals = report.subject.rules, report.totals
    yield from _folded(f"{rules.id}: {rules.title}")
    yield from _folded(f"source: {rules.citation}")
    yield f"effort {report.effort.name}, seed {report.seed}, {report.seconds:.1f} s"
    yield ""
    for outcome in report.outcomes:
        yield from _folded(f"{outcome.state:<14} {outcome.law}{_how(outcome)}", "               ")
    yield ""
    yield from _folded(
        f"laws: {len(report.outcomes)} in all; " + ", ".join(f"{number} {state}" for state, number in totals.items())
    )
    yield from _folded("data: " + _data(report))
    yield from _folded("oracle: " + _oracle(report))
    yield from _folded(f"level: {report.level}")
    for outcome in report.outcomes:
        if outcome.fails or outcome.state == "waived":
            yield ""
            yield from failure_lines(outcome)
    for difference in report.typed[:_MOST_LISTED]:
        yield from _folded(f"check values: {difference}")
    if report.oracle is not None:
        for each in report.oracle.differences[:_MOST_LISTED]:
            yield from _folded(f"oracle: {each}")
    if report.data is not None and report.data.survivors:
        yield ""
        yield f"mutants that no check value notices ({len(report.data.survivors)}):"
        for survivor in report.data.survivors[:_MOST_LISTED]:
            yield from _folded(f"- {survivor}", "  ")
        if len(report.data.survivors) > _MOST_LISTED:
            yield f"- and {len(report.data.survivors) - _MOST_LISTED} more (--json lists all)"
    yield ""
    yield _verdict(report)


def _how(outcome: Outcome) -> str:
    if outcome.strength == "proved":
        return f" (proved, {outcome.amount} cells)"
    if outcome.strength == "searched":
        return f" (searched, {outcome.amount} examples)"
    return f" ({outcome.reason})" if outcome.reason else ""


def _data(report: Report) -> str:
    values, data = report.subject.values, report.data
    if values is None or data is None:
        return "no check values; nothing says that the table was typed right"
    other = "another person than the author" if values.another_person else "the author"
    return (
        f"{data.total} mutants, {data.killed} killed, {data.refused} refused by their type, {len(data.survivors)} "
        f"alive; check values typed by {values.typed_by} ({other}) on {values.typed_on} from {values.edition}"
    )


def _oracle(report: Report) -> str:
    found = report.oracle
    if found is None:
        return f"not applicable ({report.oracle_reason})"
    return f"{found.cases} cases recomputed in fractions from the file, {found.found} differ"


def _verdict(report: Report) -> str:
    if not report.passed:
        return "FAILED"
    return f"passed, with {len(report.waived)} waived" if report.waived else "passed"


def failure_lines(outcome: Outcome) -> tuple[str, ...]:
    """Write what is wrong with one law.

    Args:
        outcome: What came of it.

    Returns:
        At most twelve lines of at most 80 characters.
    """
    law = law_named(outcome.law)
    lines = [*_folded(f"{outcome.state.upper()} {outcome.law}: {law.sentence if law is not None else ''}")]
    if outcome.reason:
        lines += _folded(f"  {outcome.reason}", "  ")
    if outcome.breakages:
        lines += _breakage(outcome.breakages[0])
        others = [each.row for each in outcome.breakages[1:] if each.row]
        if others:
            lines += _folded(f"  also at: {', '.join(others[:6])}{' ...' if len(others) > 6 else ''}", "  ")
    kept = lines[:_MOST_LINES]
    if len(lines) > _MOST_LINES:
        kept[-1] = "  ..."
    return tuple(kept)


def _breakage(found: Breakage) -> Iterator[str]:
    for label, text in (
        ("row", found.row),
        ("rope", found.rope),
        ("expected", found.expected),
        ("got", found.got),
        ("source", found.citation),
    ):
        if text:
            yield from _cut(_folded(f"  {label + ':':<10}{text}", "            "), 2)
    if found.replay:
        # One line to copy, however long; it is not folded, for a fold would break it.
        yield f"  again:    {found.replay}"


def _cut(lines: list[str], most: int) -> list[str]:
    return lines if len(lines) <= most else [*lines[: most - 1], lines[most - 1][: _WIDTH - 4] + " ..."]


def _folded(text: str, hanging: str = "  ") -> list[str]:
    found = textwrap.wrap(text, _WIDTH, subsequent_indent=hanging, break_long_words=False, break_on_hyphens=False)
    return found or [""]
