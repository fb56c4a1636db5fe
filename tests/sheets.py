"""Sheets of an invented institute, for tests that need a source of their own. Their numbers belong to no clip."""

from __future__ import annotations

from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["sheet", "sheet_text"]


def sheet_text(
    rules_id: str,
    *,
    count: int = 3,
    turn_back: str = "",
    torque: str = "",
    torque_also: str = "",
    unit: str = "lbf·ft",
    threads: str = "dry",
    size: str = "1/2",
    pattern: str = "inch",
    more: str = "",
) -> str:
    """The text of a rule file with one row, for U-bolt clips."""
    columns = {"size": size, "turn_back": turn_back, "torque": torque, "torque_also": torque_also}
    cells = "".join(f'{name} = "{text}"\n' for name, text in columns.items() if text)
    units = 'size = "in"\n' + 'turn_back = "in"\n' * bool(turn_back) + f'torque = "{unit}"\n' * bool(torque)
    dry = f'[threads]\ncondition = "{threads}"\n' if torque else ""
    return (
        f'format = 1\nid = "{rules_id}"\nstyle = "u-bolt"\ntitle = "Invented"\npattern = "{pattern}"\n'
        'notes = [{ text = "Invented for a test." }]\n'
        f'[source]\nid = "invented-{rules_id}"\ndocument = "Invented Institute, sheet {rules_id}"\nstatus = "read"\n'
        f"[units]\n{units}{dry}[[rows]]\ncount = {count}\n{cells}\n{more}"
    )


def sheet(
    rules_id: str,
    *,
    count: int = 3,
    turn_back: str = "",
    torque: str = "",
    torque_also: str = "",
    unit: str = "lbf·ft",
    threads: str = "dry",
    more: str = "",
) -> RuleSet:
    """The same as a rule set."""
    text = sheet_text(
        rules_id,
        count=count,
        turn_back=turn_back,
        torque=torque,
        torque_also=torque_also,
        unit=unit,
        threads=threads,
        more=more,
    )
    return parse_rules(text, rules_id)
