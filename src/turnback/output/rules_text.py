"""The catalogue and one rule set as plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final

from turnback.model.cited import Cited
from turnback.output.json_text import Json
from turnback.quantities import Length, percent_text
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet
from turnback.rules.standing import not_read, not_read_text

__all__ = ["catalogue_text", "not_read_document", "rule_set_text"]

_COLUMNS: Final = ("count", "count_forged", "count_other", "turn_back", "spacing", "torque")
_MARKS: Final = {"read": "", "memory": " m", "common practice": " c", "user": " u"}


def not_read_document(rules: RuleSet) -> list[Json]:
    """List what nobody read in a document, for JSON.

    Args:
        rules: The rule set.

    Returns:
        For each number or statement its place, whether it is a number, how it was taken, and who says so.
    """
    return [
        {"place": each.place, "number": each.number, "status": each.status, "citation": str(each.citation)}
        for each in not_read(rules)
    ]


def catalogue_text(rule_sets: Iterable[RuleSet], catalogue: Catalogue) -> str:
    """List rule sets with where they come from and what of them nobody read in a document.

    Args:
        rule_sets: Those to list.
        catalogue: Where they were found.

    Returns:
        Plain text, failures and what plugins did beside first.
    """
    lines = [f"FAILED  {failure}" for failure in catalogue.failures]
    lines += [f"NOTED   {slip}" for slip in catalogue.slips]
    for rules in rule_sets:
        origin = catalogue.origin_of(rules.id)
        lines.append(f"{rules.id}  ({rules.style})")
        lines.append(f"    {rules.title}")
        lines.append(f"    source: {rules.citation}")
        lines += _folded(f"    not read: {not_read_text(rules) or 'nothing; every value was read'}")
        lines.append(f"    distribution: {origin or 'turnback itself'}")
    lines += ["", "bases of efficiency: " + ", ".join(rules.id for rules in catalogue.bases)]
    return "\n".join(lines) + "\n"


def rule_set_text(rules: RuleSet, catalogue: Catalogue) -> str:
    """Write one rule set whole: table with the status of each cell, rules, scope, notes.

    Args:
        rules: The rule set.
        catalogue: Where it was found.

    Returns:
        Plain text; a cell marked m is from memory, c common practice, u the user's.
    """
    origin = catalogue.origin_of(rules.id)
    lines = [f"{rules.id}: {rules.title}", f"source: {rules.citation}", f"style: {rules.style}"]
    lines += [f"pattern: {rules.pattern}"] if rules.pattern else []
    lines += [f"not read: {not_read_text(rules) or 'nothing; every value was read'}"]
    lines += [f"distribution: {origin or 'none'}", f"sha256: {rules.sha256}", ""]
    if rules.rows:
        lines += [*_table(rules), "m: from memory, not yet read; c: common practice; u: given by the user", ""]
    if rules.count_rule is not None:
        rule = rules.count_rule
        sizes = "" if rule.least is None else f", for {rule.least} to {rule.greatest}"
        lines.append(f"count: {rule.text}{sizes} [{'; '.join(str(citation) for citation in rule.citations)}]")
    for bound in rules.spacing:
        how = "clear" if bound.clear else "between centres"
        text = bound.length.text if bound.length is not None else "as the table prints"
        lines.append(f"spacing: {bound.bound} {text} {how} [{bound.citation}]")
    if rules.threads is not None:
        lines.append(f"threads: {rules.threads}")
    lines += [f"efficiency: {percent_text(band.value)} [{band.citation}]" for band in rules.efficiency]
    if rules.efficiency_at_most is not None:
        most = rules.efficiency_at_most
        lines.append(f"efficiency: at best {percent_text(most.value)} [{most.citations[0]}]")
    for entry in rules.scope:
        words = [*entry.constructions, *entry.cores, *entry.grades, *entry.lays, *entry.terminations]
        lines.append(f"scope ({entry.gives}): {', '.join(words) or 'any rope'} [{entry.citation}]")
    lines += [f"floor: {floor.text} [{floor.citation}]" for floor in rules.floors]
    lines += [f"not for {service}: {text}" for service, text in rules.excluded_services]
    lines += [f"note: {note}" for note in rules.notes]
    lines += [f"misprint in row {row.size}: {row.misprint}" for row in rules.rows if row.misprint]
    return (
        "\n".join(textwrap.fill(line, 100, subsequent_indent="    ") if len(line) > 100 else line for line in lines)
        + "\n"
    )


def _folded(line: str) -> list[str]:
    return textwrap.wrap(line, 100, subsequent_indent="        ", break_long_words=False, break_on_hyphens=False)


def _table(rules: RuleSet) -> list[str]:
    used = [name for name in _COLUMNS if any(getattr(row, name) is not None for row in rules.rows)]
    table = [["size", *used]]
    table += [[_size(row), *(_cell(getattr(row, name)) for name in used)] for row in rules.rows]
    widths = [max(len(line[i]) for line in table) for i in range(len(table[0]))]
    return ["  ".join(text.ljust(width) for text, width in zip(line, widths, strict=True)).rstrip() for line in table]


def _size(row: Row) -> str:
    return str(row.size) if row.above is None else f"over {row.above.text('mm')} to {row.size.text('mm')}"


def _cell(cell: Cited[object] | None) -> str:
    if cell is None:
        return "-"
    value = cell.value
    text = value.text("both") if isinstance(value, Length) else str(value)
    return text + _MARKS[cell.citations[0].status]
