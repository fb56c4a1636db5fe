"""Rules named on the command line: ids, rule files, and both joined by ``+`` and ``,``."""

from __future__ import annotations

import os

from turnback.rules.rulefile import read_rules
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import RulesChoice, first_of, governing, parse_choice

__all__ = ["read_choice"]


def read_choice(text: str) -> RulesChoice:
    """Read what stands behind ``--rules``.

    Args:
        text: Ids and names of rule files that end in ``.toml``, joined by ``+`` (govern together) and ``,`` (first of).

    Returns:
        The choice, rule files read.

    Raises:
        InputError: A name is missing, or a rule file cannot be read.
    """
    parse_choice(text)  # refuses missing names before any file is opened
    options = [governing(*(_one(name.strip()) for name in option.split("+"))) for option in text.split(",")]
    return first_of(*options)


def _one(name: str) -> str | RuleSet:
    is_file = name.lower().endswith(".toml") or os.sep in name
    return read_rules(name) if is_file else name
