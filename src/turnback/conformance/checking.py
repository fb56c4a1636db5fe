"""Examining one rule set: every law, the data, the oracle, and the level that comes of it."""

from __future__ import annotations

import os
import time

from turnback.conformance.check_values import CheckValues
from turnback.conformance.data_proof import data_proof
from turnback.conformance.effort import QUICK, Effort, effort_named
from turnback.conformance.laws import LAWS
from turnback.conformance.level import level_of
from turnback.conformance.oracle_check import Comparison, compare
from turnback.conformance.report import Report
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject, subject_of
from turnback.conformance.waiving import checked_waivers
from turnback.errors import InputError
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = ["check", "check_subject"]

_GREATEST_SEED = (1 << 63) - 1


def check(
    rules: RuleSet | str | os.PathLike[str],
    *,
    effort: Effort | str = QUICK,
    seed: int = 0,
    check_values: CheckValues | str | os.PathLike[str] | None = None,
    catalogue: Catalogue | None = None,
) -> Report:
    """Examine a rule set.

    Args:
        rules: A rule set, the id of an installed one, or the path of a rule file.
        effort: ``"quick"`` (seconds), ``"full"`` (minutes) or ``"deep"``.
        seed: Seed of the draws; the same seed gives the same report [-].
        check_values: A second typing of the source, or the path of its file; the file ``NAME.check.toml`` beside the
            rule file when not given.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The report: what was proved, what was searched, what was not, and the level that comes of it.

    Raises:
        InputError: A file cannot be read or breaks its format, or a waiver names a law that nobody knows.
        UnknownRuleSet: No plugin brings a rule set of this id.
        UnknownStyle: No plugin brings its style.
        PluginError: A plugin that failed to load may have brought it.
    """
    return check_subject(subject_of(rules, catalogue, check_values), effort, seed)


def check_subject(subject: Subject, effort: Effort | str = QUICK, seed: int = 0) -> Report:
    """Examine a subject that was brought together before; see :func:`check`.

    Args:
        subject: The subject.
        effort: How much is drawn.
        seed: Seed of the draws [-].

    Returns:
        The report.

    Raises:
        TurnbackError: As :func:`check`.
    """
    begun = time.perf_counter()
    amount = effort_named(effort) if isinstance(effort, str) else effort
    given: object = seed  # a caller without a type checker may hand over anything
    if isinstance(given, bool) or not isinstance(given, int) or not 0 <= given <= _GREATEST_SEED:
        raise InputError("a seed is a whole number", field="seed", value=repr(seed)[:80], bound="0 or more")
    if not subject.rules.is_basis:
        subject.style  # noqa: B018  # an unknown style is told before anything is run
    checked_waivers(subject, LAWS)
    outcomes = run_laws(subject, LAWS, amount, seed)
    data = None if subject.values is None else data_proof(subject)
    typed = () if data is None else data.differences
    oracle, reason = _oracle(subject, amount, seed)
    level = level_of(subject, outcomes, len(typed), data, oracle, reason)
    return Report(subject, amount, seed, outcomes, typed, data, oracle, reason, level, time.perf_counter() - begun)


def _oracle(subject: Subject, effort: Effort, seed: int) -> tuple[Comparison | None, str]:
    if subject.rules.is_basis:
        return None, "it gives efficiencies alone; the oracle recomputes counts and lengths"
    if not subject.text:
        return None, "the rule set was made in Python; the oracle reads rule files"
    found = compare(subject.text, examples=effort.oracle, seed=seed, rules=subject.rules, catalogue=subject.catalogue)
    return found, ""
