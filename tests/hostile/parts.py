"""What the hostile plugins are put together from: an honest rule set and an honest style, each to be spoilt."""

from __future__ import annotations

from pathlib import Path
from typing import Final, TypeVar

import attrs

from turnback.model.layout import Layout, LayoutDemand
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import ClipStyle, SeriesStyle
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["CITED", "Honest", "changed", "rule_set", "table", "tabled"]

T = TypeVar("T")
S = TypeVar("S", bound=ClipStyle)

CITED: Final = Citation(COMMON_PRACTICE, "invented for the tests", "common practice")

_LINEAR: Final = (Path(__file__).parents[1] / "rules" / "data" / "invented-rule.toml").read_text(encoding="utf-8")
_TABLE: Final = """
format = 1
id = "hostile-rules"
style = "hostile"
title = "Invented for the tests; the numbers belong to no clip"

[source]
id = "invented-institute-9"
document = "Invented Institute, sheet 9"
locator = "page 1"
status = "user"

[units]
size = "in"
turn_back = "in"
torque = "lbf·ft"

[threads]
condition = "dry"

[[rows]]
size = "1/2"
count = 3
turn_back = "12"
torque = 65

[[rows]]
size = "3/4"
count = 4
turn_back = "18"
torque = 130
"""


def rule_set(rules_id: str, style: str = "u-bolt") -> RuleSet:
    """An invented rule set with a linear count, under another name."""
    text = _LINEAR.replace("invented-rule", rules_id, 1).replace('style = "u-bolt"', f'style = "{style}"', 1)
    return parse_rules(text, "invented")


def table(style: str = "hostile") -> RuleSet:
    """An invented rule set with two rows."""
    return parse_rules(_TABLE.replace('style = "hostile"', f'style = "{style}"', 1), "invented")


def changed(value: T, field: str, to: object) -> T:
    """Change a frozen value past its constructor, as a plugin can."""
    object.__setattr__(value, field, to)
    return value


@attrs.frozen
class Honest(SeriesStyle):
    """A style of a plugin's own that does what it should."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return SeriesStyle.lay_out(self, demand)


def tabled(kind: type[S], style_id: str = "hostile") -> S:
    """A style of a kind, with everything that a style must say of itself."""
    return kind(style_id, "hostile clip", False, ("thimble eye", "lap splice"), (), CITED)
