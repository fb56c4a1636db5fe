"""Rules named on the command line: ids, rule files, and both joined by ``+`` and ``,``."""

from __future__ import annotations

import os

from turnback.rules.rulefile import read_rules
from turnback.rules.selection import FirstOf, Governing, RulesChoice, first_of, governing, parse_choice

__all__ = ["read_choice"]


def read_choice(text: str) -> RulesChoice:
    """Read what stands behind ``--rules``.

    Args:
        text: Ids and names of rule files that end in ``.toml``, joined by ``+`` (govern together) and ``,`` (first of);
            round brackets group.

    Returns:
        The choice, rule files read.

    Raises:
        InputError: A name is missing, or a rule file cannot be read.
    """
    return _with_files(parse_choice(text))


def _with_files(choice: RulesChoice) -> RulesChoice:
    if isinstance(choice, Governing):
        return governing(*map(_with_files, choice.members))
    if isinstance(choice, FirstOf):
        return first_of(*map(_with_files, choice.options))
    if isinstance(choice, str) and (choice.lower().endswith(".toml") or "/" in choice or os.sep in choice):
        return read_rules(choice)
    return choice
