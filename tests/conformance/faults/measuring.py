"""Examining one fault: which laws, check values or oracle notice it, each asked whatever the others say."""

from __future__ import annotations

import contextlib
import decimal
import io
import os
import random
import sys
import time
import warnings
from collections.abc import Iterator
from typing import Final

import attrs
from tests.conformance.faults.making import Fault

from turnback.conformance.door import checked_at_the_door
from turnback.conformance.effort import Effort
from turnback.conformance.laws import LAWS
from turnback.conformance.oracle_check import compare
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject
from turnback.conformance.waiving import stale_waivers
from turnback.errors import TurnbackError

__all__ = ["CHECK_VALUES", "ORACLE", "Measured", "hinted", "measured"]

CHECK_VALUES: Final = "check values"
ORACLE: Final = "oracle"


@attrs.frozen
class Measured:
    """What noticed a fault.

    Args:
        id: The fault.
        door: Why it was refused before any law was asked; empty where it was not.
        laws: Laws that failed.
        blocked: Laws that were not asked, for one that they build on had failed, or that nothing was drawn for.
        others: What noticed it beside the laws: check values, oracle.
        seconds: How long it took [s].
    """

    id: str
    door: str = ""
    laws: tuple[str, ...] = ()
    blocked: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    seconds: float = attrs.field(default=0.0, eq=False)

    @property
    def killed(self) -> bool:
        """Whether the examination does not pass, or was refused."""
        return bool(self.door or self.laws or self.blocked or self.others)


@contextlib.contextmanager
def surroundings_kept() -> Iterator[None]:
    """Put back what some faults change in the process."""
    folder, environment, chance, depth = os.getcwd(), dict(os.environ), random.getstate(), sys.getrecursionlimit()
    with (
        decimal.localcontext(),
        contextlib.redirect_stdout(io.StringIO()),
        warnings.catch_warnings(),
    ):
        warnings.simplefilter("ignore")
        try:
            yield
        finally:
            os.chdir(folder)
            os.environ.clear()
            os.environ.update(environment)
            random.setstate(chance)
            sys.setrecursionlimit(depth)


def measured(fault: Fault, effort: Effort, seed: int) -> Measured:
    """Examine a fault as ``check_subject`` does, and note everything that notices it.

    The laws are not asked of a fault that the check values notice.
    """
    begun = time.perf_counter()
    with surroundings_kept():
        found = _measured(fault, effort, seed)
    return attrs.evolve(found, seconds=time.perf_counter() - begun)


def hinted(fault: Fault, effort: Effort, seed: int, hints: tuple[str, ...]) -> Measured:
    """Ask of a fault what is likely to notice it, one after the other, and everything where none of that does.

    A law draws from a seed of its own, so that asked alone it comes to what it comes to among the others.
    """
    begun = time.perf_counter()
    with surroundings_kept():
        found = _hinted(fault, effort, seed, hints) or _measured(fault, effort, seed)
    return attrs.evolve(found, seconds=time.perf_counter() - begun)


def _examined(fault: Fault) -> Subject:
    subject = fault.subject()
    checked_at_the_door(subject)
    return subject


def _hinted(fault: Fault, effort: Effort, seed: int, hints: tuple[str, ...]) -> Measured | None:
    try:
        subject = _examined(fault)
    except TurnbackError as error:
        return _at_the_door(fault, error)
    for hint in hints:
        if hint == CHECK_VALUES:
            if _typed_otherwise(subject):
                return Measured(fault.id, others=(hint,))
        elif hint == ORACLE:
            if _oracle_differs(subject, effort, seed):
                return Measured(fault.id, others=(hint,))
        elif run_laws(subject, tuple(law for law in LAWS if law.id == hint), effort, seed)[0].state == "failed":
            return Measured(fault.id, laws=(hint,))
    return None


def _measured(fault: Fault, effort: Effort, seed: int) -> Measured:
    try:
        subject = _examined(fault)
    except TurnbackError as error:
        return _at_the_door(fault, error)
    if _typed_otherwise(subject):
        return Measured(fault.id, others=(CHECK_VALUES,))  # the laws would take long to say what need not be said
    outcomes = stale_waivers(subject, run_laws(subject, LAWS, effort, seed))
    laws = tuple(each.law for each in outcomes if each.state == "failed")
    blocked = tuple(each.law for each in outcomes if each.state in ("blocked", "not reached"))
    others = (ORACLE,) if _oracle_differs(subject, effort, seed) else ()
    return Measured(fault.id, laws=laws, blocked=blocked, others=others)


def _at_the_door(fault: Fault, error: TurnbackError) -> Measured:
    return Measured(fault.id, f"{type(error).__name__}: {error}"[:200])


def _typed_otherwise(subject: Subject) -> bool:
    try:
        return subject.values is not None and bool(subject.values.differences(subject.rules))
    except Exception:  # a value of a strange type; the report goes on without
        return False


def _oracle_differs(subject: Subject, effort: Effort, seed: int) -> bool:
    if subject.rules.is_basis or not subject.text:
        return False
    found = compare(subject.text, examples=effort.oracle, seed=seed, rules=subject.rules, catalogue=subject.catalogue)
    return not found.agree
