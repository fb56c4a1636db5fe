"""Running the laws: each after those that it builds on, none in silence."""

from __future__ import annotations

from typing import Final
from zlib import crc32

from turnback.conformance.drawing import Drawings
from turnback.conformance.effort import Effort
from turnback.conformance.law import Breakage, Law, Search
from turnback.conformance.outcome import Outcome
from turnback.conformance.search import Found, searched, text_of
from turnback.conformance.subject import Subject
from turnback.conformance.waiving import waived

__all__ = ["run_laws"]

_FEWEST: Final = 10
"""Examples of the dearest law in the shortest run [-]."""


def run_laws(
    subject: Subject, laws: tuple[Law, ...], effort: Effort, seed: int, *, first_failure: bool = False
) -> tuple[Outcome, ...]:
    """Run laws on a subject.

    Args:
        subject: The subject.
        laws: The laws, those that others build on first.
        effort: How much is drawn.
        seed: Seed of the draws [-].
        first_failure: Whether to stop at the first law that fails.

    Returns:
        One outcome for each law that was run, in their order.
    """
    found: dict[str, Outcome] = {}
    drawings = Drawings()
    for law in laws:
        outcome = _run(subject, law, effort, seed, found, drawings)
        found[law.id] = outcome
        if first_failure and outcome.state == "failed":
            break
    return tuple(found.values())


def _run(
    subject: Subject, law: Law, effort: Effort, seed: int, before: dict[str, Outcome], drawings: Drawings
) -> Outcome:
    stopped = [name for name in law.after if name in before and before[name].state in ("failed", "blocked")]
    if stopped:
        return Outcome(law.id, "blocked", reason="it builds on " + ", ".join(stopped))
    try:
        return _run_alone(subject, law, effort, seed, drawings)
    except KeyboardInterrupt:
        raise
    except BaseException as error:  # a plugin's code may raise anything
        told = Breakage("an answer", f"{type(error).__name__}: {text_of(error)}", str(subject.rules.citation))
        return Outcome(law.id, "failed", breakages=(told,))


def _run_alone(subject: Subject, law: Law, effort: Effort, seed: int, drawings: Drawings) -> Outcome:
    reason = law.applies(subject)
    if not reason and law.search is not None and subject.rules.is_basis:
        reason = "it gives efficiencies alone, and no plan is made from it"
    if reason:
        return Outcome(law.id, "not applicable", reason=reason)
    if law.proof is not None:
        proof = law.proof(subject)
        if not proof.cells:
            return Outcome(law.id, "not applicable", reason="the table has no cell that it speaks of")
        return waived(subject, law, proof.breakages, proof.cells)
    if law.search is None:
        return Outcome(law.id, "not reached", reason="it is neither proved nor searched")
    result = _searched(subject, law, law.search, effort, seed, drawings)
    if result.breakage is not None:
        return Outcome(law.id, "failed", "searched", result.examples, breakages=(result.breakage,))
    if result.reason:
        return Outcome(law.id, "not reached", "searched", result.examples, result.reason)
    return Outcome(law.id, "passed", "searched", result.examples)


def _searched(
    subject: Subject, law: Law, search: Search[object], effort: Effort, seed: int, drawings: Drawings
) -> Found:
    # Each law, or each group of laws that judge the same cases, has draws of its own, so that adding a law changes no
    # other law's examples.
    own = seed ^ crc32((search.shared or law.id).encode())
    if not search.shared:
        return searched(search, subject, max(effort.examples // law.dear, _FEWEST), own, drawings=drawings)
    drawn = max(effort.examples, _FEWEST)
    one_in = max(min(law.dear, drawn // _FEWEST), 1)
    return searched(search, subject, drawn, own, drawings=drawings, one_in=one_in)
