"""The hooks through which the library finds this plugin."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from turnback.model.styles import ClipStyle
from turnback.rules.hookspecs import hookimpl
from turnback.rules.rulefile import read_rules
from turnback.rules.ruleset import RuleSet
from turnback_mirrored_saddle.styles import MIRRORED_SADDLE

__all__ = ["RULE_FILES", "turnback_rule_sets", "turnback_styles"]

RULE_FILES: Final = ("us-army-3810-305.toml", "us-ca-8-8497-t2.toml")
"""The rule files that this plugin brings, one for each source and style."""

turnback_contract: Final = 1

_FOLDER: Final = Path(__file__).parent / "rules"


@hookimpl
def turnback_styles() -> tuple[ClipStyle, ...]:
    """Return the clip style of this plugin.

    Returns:
        The mirrored-saddle clip.
    """
    return (MIRRORED_SADDLE,)


@hookimpl
def turnback_rule_sets() -> tuple[RuleSet, ...]:
    """Read the rule files of this plugin; they are not touched before somebody asks.

    Returns:
        One rule set for each file.

    Raises:
        InputError: A file does not say what the format asks for.
    """
    return tuple(read_rules(_FOLDER / name) for name in RULE_FILES)
