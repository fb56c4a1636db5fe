"""Rule sets as the conformance kit examines them, each brought together once in a build."""

from __future__ import annotations

from functools import lru_cache

from turnback.conformance.subject import Subject, subject_of
from turnback.rules.ruleset import RuleSet

__all__ = ["subject"]


@lru_cache(maxsize=256)
def subject(rules: RuleSet) -> Subject:
    """Bring a rule set together with its style, its file and its check values.

    Args:
        rules: The rule set.

    Returns:
        The subject.

    Raises:
        TurnbackError: A file cannot be read.
    """
    return subject_of(rules)
