"""A report in words: totals first, then what is wrong, at most twelve lines for each law."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from turnback.conformance.law import Breakage
from turnback.conformance.laws import law_named
from turnback.conformance.outcome import Outcome
from turnback.conformance.replaying import again_line, plan_line
from turnback.conformance.report import Report
from turnback.rules.standing import not_read_text

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
        f"laws: {len(report.outcomes)} in all, {report.run} run; "
        + ", ".join(f"{number} {state}" for state, number in totals.items())
    )
    if report.only:
        yield from _folded(f"level: none is given, for {report.only} alone was run")
    else:
        yield from _folded("data: " + _data(report))
        yield from _folded("oracle: " + _oracle(report))
        yield from _folded(f"level: {report.level}")
    yield from _folded(f"not read: {not_read_text(rules) or 'nothing; every value was read'}")
    yield from _wrong(report)
    yield ""
    yield from _folded(_verdict(report))


def _wrong(report: Report) -> Iterator[str]:
    for outcome in report.outcomes:
        if outcome.state in ("failed", "not reached", "waived"):  # a blocked one says all in its line above
            yield ""
            yield from failure_lines(report, outcome)
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
        return f"FAILED: {report.below}" if report.below else "FAILED"
    passed = f"passed, with {len(report.waived)} waived" if report.waived else "passed"
    return f"{passed}; {report.only} alone was run" if report.only else passed


def failure_lines(report: Report, outcome: Outcome) -> tuple[str, ...]:
    """Write what is wrong with one law.

    Args:
        report: The report that it stands in.
        outcome: What came of it.

    Returns:
        At most twelve lines; of at most 80 characters but for those that are to be copied, which are never folded.
    """
    law, found = law_named(outcome.law), outcome.breakages[:1]
    head = _cut(_folded(f"{outcome.state.upper()} {outcome.law}: {law.sentence if law is not None else ''}"), 2)
    if outcome.reason:
        head += _cut(_folded(f"  {outcome.reason}", "  "), 2 if found else _MOST_LINES - len(head))
    others = [each.row for each in outcome.breakages[1:] if each.row]
    copied = _to_copy(report, outcome)
    if others:
        copied = [*_cut(_folded(f"  also at: {', '.join(others[:6])}{' ...' if len(others) > 6 else ''}"), 1), *copied]
    body = [part for each in found for part in _breakage(each)]
    # What must not be lost is the row and the lines to copy: the longest of the rest gives way.
    while len(head) + sum(map(len, body)) + len(copied) > _MOST_LINES:
        longest = max(range(len(body)), key=lambda at: len(body[at]))
        body[longest] = _cut(body[longest], len(body[longest]) - 1)
    return (*head, *(line for part in body for line in part), *copied)


def _breakage(found: Breakage) -> Iterator[list[str]]:
    for label, text in (
        ("row", found.row),
        ("rope", found.rope),
        ("expected", found.expected),
        ("got", found.got),
        ("source", found.citation),
    ):
        if text:
            yield _cut(_folded(f"  {label + ':':<10}{text}", "            "), 2)


def _to_copy(report: Report, outcome: Outcome) -> list[str]:
    if outcome.state != "failed":
        return []
    lines = [f"  again:    {again_line(report.subject, outcome.law, report.effort, report.seed)}"]
    plan = plan_line(report.subject, outcome.breakages[0]) if outcome.breakages else ""
    return [f"  plan:     {plan}", *lines] if plan else lines


def _cut(lines: list[str], most: int) -> list[str]:
    return lines if len(lines) <= most else [*lines[: most - 1], lines[most - 1][: _WIDTH - 4] + " ..."]


def _folded(text: str, hanging: str = "  ") -> list[str]:
    found = textwrap.wrap(text, _WIDTH, subsequent_indent=hanging, break_long_words=False, break_on_hyphens=False)
    return found or [""]
