"""Waivers: a published table that breaks a law because its source does."""

from __future__ import annotations

import difflib

from turnback.conformance.law import Breakage, Law
from turnback.conformance.outcome import Outcome
from turnback.conformance.subject import Subject
from turnback.errors import InputError
from turnback.quantities import Length
from turnback.rules.ruleset import Waiver

__all__ = ["checked_waivers", "stale_waivers", "waived"]


def checked_waivers(subject: Subject, laws: tuple[Law, ...]) -> None:
    """Refuse waivers of laws that nobody knows, or that cannot be waived.

    Args:
        subject: The subject.
        laws: The laws.

    Raises:
        InputError: A waiver names no law, or a law of plans.
    """
    known = {law.id: law for law in laws}
    for number, waiver in enumerate(subject.rules.waivers):
        law = known.get(waiver.law)
        if law is None:
            near = difflib.get_close_matches(waiver.law, known, n=1)
            raise InputError(
                "no law has this name",
                field=f"waivers[{number}].law",
                value=waiver.law,
                citation=str(waiver.citation),
                instead=f"Did you mean {near[0]}?" if near else "turnback conform --laws lists them.",
            )
        if not law.waivable:
            raise InputError(
                "this law cannot be waived: a published table may break some laws of tables, but this one none",
                field=f"waivers[{number}].law",
                value=waiver.law,
                citation=str(waiver.citation),
                instead="Mend what breaks it, or report it.",
            )


def waived(subject: Subject, law: Law, breakages: tuple[Breakage, ...], cells: int) -> Outcome:
    """Weigh what a proof found against the waivers of the file.

    Args:
        subject: The subject.
        law: The law.
        breakages: What was found, each row once.
        cells: How much was looked at [-].

    Returns:
        Passed, waived or failed. A waiver that no longer bites is a failure too: the table was mended, or the waiver
        names the wrong row.
    """
    waivers = [waiver for waiver in subject.rules.waivers if waiver.law == law.id]
    held = [(waiver, [each for each in breakages if _is_about(waiver, each)]) for waiver in waivers]
    stale = [waiver for waiver, bites in held if not bites]
    if stale:
        return Outcome(law.id, "failed", "proved", cells, breakages=tuple(map(_stale, stale)))
    open_ones = tuple(each for each in breakages if not any(_is_about(waiver, each) for waiver in waivers))
    if open_ones:
        return Outcome(law.id, "failed", "proved", cells, breakages=open_ones)
    if waivers:
        reasons = "; ".join(f"{waiver.row or 'whole file'}: {waiver.reason} [{waiver.citation}]" for waiver in waivers)
        return Outcome(law.id, "waived", "proved", cells, reasons, breakages)
    return Outcome(law.id, "passed", "proved", cells)


def _stale(waiver: Waiver) -> Breakage:
    return Breakage(
        "a waiver that still bites",
        f"nothing breaks {waiver.law} at {waiver.row or 'any row'}; take the waiver out",
        str(waiver.citation),
        waiver.row and Length.of(waiver.row).text("both"),
    )


def stale_waivers(subject: Subject, outcomes: tuple[Outcome, ...]) -> tuple[Outcome, ...]:
    """Fail the laws that do not apply and are waived all the same: such a waiver waives nothing.

    Args:
        subject: The subject.
        outcomes: What came of the laws.

    Returns:
        The same, but for those laws.
    """
    found = []
    for outcome in outcomes:
        idle = tuple(_stale(each) for each in subject.rules.waivers if each.law == outcome.law)
        if outcome.state == "not applicable" and idle:
            outcome = Outcome(outcome.law, "failed", "", 0, outcome.reason, idle)  # noqa: PLW2901
        found.append(outcome)
    return tuple(found)


def _is_about(waiver: Waiver, breakage: Breakage) -> bool:
    return not waiver.row or Length.of(waiver.row).text("both") == breakage.row
