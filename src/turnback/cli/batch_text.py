"""What ``turnback batch`` prints: summaries of a run and of a rehearsal, one row explained, what rules would change."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from turnback.cli.progress import clock_text
from turnback.output.interchange import plan_document
from turnback.output.json_text import Json, to_text
from turnback.output.text import plan_text
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.batch.changes import ChangedRow, ChangeReport, LengthChange
    from turnback.batch.explaining import Explained
    from turnback.batch.files import FileReport, Rehearsal
    from turnback.planning.plan import Plan

__all__ = ["changes_text", "explained_text", "rehearsal_text", "report_text"]

_CAUTION: Final = """\
A plan that is usable still asks for its findings to be read: finding_codes of each row, in words by --explain N."""


def report_text(done: FileReport, *, as_json: bool) -> str:
    """Write the summary of a run.

    Args:
        done: What it did.
        as_json: Write JSON.

    Returns:
        Text that ends in a new line.
    """
    if as_json:
        return to_text(
            {
                "output": done.destination,
                "rows": done.rows,
                "rows_of_an_earlier_run": done.taken_up,
                "statuses": dict(done.statuses),
                "usable": done.usable,
                **_columns_document(done),
            }
        )
    if not done.rows:
        return (
            "\n".join([f"{done.destination}: no rows; the input has none, so nothing was planned", *_columns(done)])
            + "\n"
        )
    lines = [f"{done.destination}: {done.rows} rows", *_statuses(done.statuses)]
    planned = dict(done.statuses)["ok"]
    lines.append(
        f"  of the planned rows {done.usable} are usable, {planned - done.usable} are not: a source forbids it, or "
        "something must be fixed first"
    )
    if done.taken_up:
        lines.append(f"  {done.taken_up} rows were finished by a run that was cut off")
    return "\n".join([*lines, *_columns(done), _CAUTION]) + "\n"


def rehearsal_text(tried: Rehearsal, *, as_json: bool) -> str:
    """Write the summary of a rehearsal.

    Args:
        tried: What it found.
        as_json: Write JSON.

    Returns:
        Text that ends in a new line.
    """
    if as_json:
        return to_text(
            {
                "rows": tried.rows,
                "first_rows": tried.tried,
                "statuses_of_the_first_rows": dict(tried.statuses),
                "expected_seconds": tried.seconds,
                **_columns_document(tried),
            }
        )
    if not tried.rows:
        return "\n".join(["no rows: the input has none; nothing was written", *_columns(tried)]) + "\n"
    lines = [f"{tried.rows} rows; nothing was written", f"of the first {tried.tried} rows:", *_statuses(tried.statuses)]
    lines.append(f"expected time: {clock_text(tried.seconds)}, if the other rows are like these")
    return "\n".join([*lines, *_columns(tried)]) + "\n"


def _columns(made: FileReport | Rehearsal) -> list[str]:
    """Which columns are read as what, which pass through, and what may be a slip."""
    read, unread = made.columns.read, made.columns.unread
    lines = [_listed("read", [f"{each.name} ({each.read_as})" for each in read])]
    if unread:
        lines.append(_listed("not read, passed through", unread))
    lines += [f"warning: {each}" for each in made.warnings]
    return lines


def _listed(what: str, names: Sequence[str]) -> str:
    text = f"{what}: {', '.join(map(_printable, names))}"
    return textwrap.fill(text, 100, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)


def _printable(name: str) -> str:
    """A name without the characters that steer a terminal."""
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in name)


def _columns_document(made: FileReport | Rehearsal) -> dict[str, Json]:
    return {
        "columns_read": {each.name: each.read_as for each in made.columns.read},
        "columns_unread": list(made.columns.unread),
        "warnings": list(made.warnings),
    }


def _statuses(statuses: Sequence[tuple[str, int]]) -> list[str]:
    wide = max(len(str(count)) for _, count in statuses)
    return [f"  {count:>{wide}}  {name}" for name, count in statuses if count or name == "ok"]


def explained_text(found: Explained, *, as_json: bool) -> str:
    """Write one row explained.

    Args:
        found: The row.
        as_json: Write JSON.

    Returns:
        Text that ends in a new line.
    """
    if as_json:
        return to_text(
            {
                "row": found.row,
                "status": found.status.name,
                "answers": {name: _json(value) for name, value in found.answers},
                "error": None if found.error is None else str(found.error),
                # The plan that ``turnback verify`` makes again; a register's own factor is no part of a request.
                "plan": None if found.cited is None else plan_document(found.cited),
                "own_factor": None if found.plan is None or found.plan is found.cited else _own_factor(found.plan),
            }
        )
    head = f"Row {found.row}: {found.status.name}. {found.status.text}\n"
    if found.plan is None:
        return f"{head}{found.error}\n"
    return f"{head}\n{plan_text(found.plan)}\nHow each number came about\n\n{found.plan.derivations}\n"


def _own_factor(plan: Plan) -> dict[str, Json]:
    """What is otherwise at the row's own design factor; the working load stands with the answers."""
    return {
        "design_factor": str(plan.service.design_factor),
        "usable": plan.usable,
        "findings": [{"kind": each.kind, "code": each.code, "text": each.text} for each in plan.findings],
    }


def changes_text(found: ChangeReport, *, as_json: bool) -> str:
    """Write what another rule set changes.

    Args:
        found: The report.
        as_json: Write JSON.

    Returns:
        Text that ends in a new line.
    """
    if as_json:
        return to_text(_changes_document(found))
    lines = [
        f"{found.rules} now, {found.other} against it",
        f"  {found.rows} rows, {found.changed} of them change",
        f"  {found.more_clips} need more clips, {found.more_rope} a longer turn-back",
        f"  {found.no_longer_usable} are usable now and not under the other rules, {found.newly_usable} the other way",
        f"  {found.no_longer_judged} loads are judged now, not by the other rules, {found.newly_judged} the other way",
    ]
    if not found.rows:
        return f"{lines[0]}\n  no rows: the input has none\n"
    if found.statuses:
        lines += ["", "status now -> status then"]
        lines += [f"  {rows:>10}  {now} -> {then}" for now, then, rows in found.statuses]
    if found.clips:
        lines += ["", "clips, where both give a count"]
        lines += [f"  {rows:>10}  {_signed(more)}" for more, rows in found.clips]
    for each in found.lengths:
        if each.longer_rows or each.shorter_rows:
            lines += ["", *_length(each)]
    lines += ["", "other answers, where both plan the row"]
    lines += [f"  {rows:>10}  {name}" for name, rows in found.other_columns if rows] or ["  none differs"]
    if found.given:
        lines += ["", "answers that only one of the two gives, where both plan the row"]
        for change in found.given:
            parts = ((change.no_longer, "no longer given"), (change.newly, "newly given"))
            lines += [f"  {rows:>10}  {change.column} {word}" for rows, word in parts if rows]
    if found.first:
        lines += ["", f"the first {len(found.first)} rows that change, from 0"]
        lines += [line for row in found.first for line in _row(row)]
    return "\n".join(lines) + "\n"


def _signed(more: int) -> str:
    return "as many" if not more else f"{abs(more)} {'more' if more > 0 else 'fewer'}"


def _length(change: LengthChange) -> list[str]:
    lines = [f"{change.column}, where both give one"]
    for rows, total, most, word in (
        (change.longer_rows, change.longer, change.most_longer, "longer"),
        (change.shorter_rows, change.shorter, change.most_shorter, "shorter"),
    ):
        if rows:
            lines.append(f"  {rows:>10}  {word}, {_metres(total)} in all, {Length(most)} at the most")
    return lines


def _row(row: ChangedRow) -> list[str]:
    return [f"  row {row.row}", *(f"    {name}: {_change(name, now, then)}" for name, now, then in row.changes)]


def _change(name: str, now: object, then: object) -> str:
    if name == "finding_codes" and isinstance(now, str) and isinstance(then, str):
        ours, theirs = now.split("; "), then.split("; ")
        gone, new = [each for each in ours if each not in theirs], [each for each in theirs if each not in ours]
        parts = [f"{word} {', '.join(codes)}" for word, codes in (("without", gone), ("with", new)) if codes]
        return "; ".join(parts) or "in another order"
    return f"{_short(now)} -> {_short(then)}"


def _metres(nanometres: int) -> str:
    """Write a sum of lengths exactly."""
    whole, rest = divmod(nanometres, 10**9)
    return f"{whole}.{rest:09d}".rstrip("0").rstrip(".") + " m"


def _short(value: object) -> str:
    return "none" if value is None else str(value)


def _changes_document(found: ChangeReport) -> dict[str, Json]:
    return {
        "rules": found.rules,
        "against": found.other,
        "rows": found.rows,
        "changed": found.changed,
        "more_clips": found.more_clips,
        "more_rope": found.more_rope,
        "no_longer_usable": found.no_longer_usable,
        "newly_usable": found.newly_usable,
        "no_longer_judged": found.no_longer_judged,
        "newly_judged": found.newly_judged,
        "clips": [{"more": more, "rows": rows} for more, rows in found.clips],
        "lengths": [
            {
                "column": each.column,
                "longer_rows": each.longer_rows,
                "shorter_rows": each.shorter_rows,
                "longer_nm": each.longer,
                "shorter_nm": each.shorter,
                "most_longer_nm": each.most_longer,
                "most_shorter_nm": each.most_shorter,
            }
            for each in found.lengths
        ],
        "other_columns": dict(found.other_columns),
        "given": [{"column": each.column, "no_longer": each.no_longer, "newly": each.newly} for each in found.given],
        "statuses": [{"now": now, "then": then, "rows": rows} for now, then, rows in found.statuses],
        "first": [
            {
                "row": row.row,
                "changes": [
                    {"column": name, "now": _json(now), "then": _json(then)} for name, now, then in row.changes
                ],
            }
            for row in found.first
        ],
    }


def _json(value: object) -> Json:
    return value if isinstance(value, (bool, int, float, str)) or value is None else str(value)
