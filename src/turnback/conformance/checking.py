"""Examining one rule set: every law, the data, the oracle, and the level that comes of it."""

from __future__ import annotations

import difflib
import os
import time

from turnback.conformance.check_values import CheckValues
from turnback.conformance.data_proof import data_proof
from turnback.conformance.door import checked_at_the_door
from turnback.conformance.effort import QUICK, Effort, effort_named
from turnback.conformance.law import Law
from turnback.conformance.laws import LAWS, law_named
from turnback.conformance.level import Level, LevelName, level_named, level_of
from turnback.conformance.oracle_check import Comparison, compare
from turnback.conformance.report import Report
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject, subject_of
from turnback.conformance.waiving import stale_waivers
from turnback.errors import InputError
from turnback.quantities.grammar import shown
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
    at_least: LevelName | None = None,
    only: str = "",
    catalogue: Catalogue | None = None,
) -> Report:
    """Examine a rule set.

    Args:
        rules: A rule set, the id of an installed one, or the path of a rule file.
        effort: ``"quick"`` (seconds), ``"full"`` (minutes) or ``"deep"``.
        seed: Seed of the draws; the same seed gives the same report [-].
        check_values: A second typing of the source, or the path of its file; the file ``NAME.check.toml`` beside the
            rule file when not given.
        at_least: The level below which it does not pass; none when not given.
        only: The one law to run, to see a failure again; all of them, the data and the oracle when not given. Such a
            report gives no level.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The report: what was proved, what was searched, what was not, and the level that comes of it.

    Raises:
        InputError: A file cannot be read or breaks its format, a value in it has no place in a document, or a waiver
            names a law that nobody knows; no such effort, level or law, or a level is asked of one law alone.
        UnknownRuleSet: No plugin brings a rule set of this id.
        UnknownStyle: No plugin brings its style.
        PluginError: A plugin that failed to load may have brought it.
    """
    wanted = None if at_least is None else level_named(at_least)
    return check_subject(subject_of(rules, catalogue, check_values), effort, seed, at_least=wanted, only=only)


def check_subject(
    subject: Subject,
    effort: Effort | str = QUICK,
    seed: int = 0,
    *,
    at_least: LevelName | None = None,
    only: str = "",
) -> Report:
    """Examine a subject that was brought together before; see :func:`check`.

    Args:
        subject: The subject.
        effort: How much is drawn.
        seed: Seed of the draws [-].
        at_least: The level below which it does not pass.
        only: The one law to run; all when not given.

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
    if at_least is not None and only:
        raise InputError(
            "one law alone gives no level", field="at_least", value=at_least, instead="Leave one of the two out."
        )
    laws = LAWS if not only else (_law(only),)
    checked_at_the_door(subject)
    outcomes = stale_waivers(subject, run_laws(subject, laws, amount, seed))
    if only:
        reason = f"{only} alone was run"
        level = Level("loads", reason)
        spent = time.perf_counter() - begun
        return Report(subject, amount, seed, outcomes, (), None, None, reason, level, None, only, spent)
    data = None if subject.values is None else data_proof(subject)
    typed = () if data is None else data.differences
    oracle, reason = _oracle(subject, amount, seed)
    level = level_of(subject, outcomes, len(typed), data, oracle, reason)
    spent = time.perf_counter() - begun
    return Report(subject, amount, seed, outcomes, typed, data, oracle, reason, level, at_least, "", spent)


def _law(name: str) -> Law:
    law = law_named(name)
    if law is None:
        near = difflib.get_close_matches(str(name), [each.id for each in LAWS], n=1)
        raise InputError(
            "no law has this name",
            field="only",
            value=shown(name),
            instead=f"Did you mean {near[0]}?" if near else "turnback conform --laws lists them.",
        )
    return law


def _oracle(subject: Subject, effort: Effort, seed: int) -> tuple[Comparison | None, str]:
    if subject.rules.is_basis:
        return None, "it gives efficiencies alone; the oracle recomputes counts and lengths"
    if not subject.text:
        return None, "the rule set was made in Python; the oracle reads rule files"
    found = compare(subject.text, examples=effort.oracle, seed=seed, rules=subject.rules, catalogue=subject.catalogue)
    return found, ""
