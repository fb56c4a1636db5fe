"""The whole corpus, by class."""

from __future__ import annotations

from typing import Final

from tests.conformance.faults.claims import CLAIM_FAULTS
from tests.conformance.faults.counts import COUNT_FAULTS
from tests.conformance.faults.endings import ENDING_FAULTS
from tests.conformance.faults.finer import FINER_FAULTS
from tests.conformance.faults.layouts import LAYOUT_FAULTS
from tests.conformance.faults.making import Fault
from tests.conformance.faults.slips import SLIP_FAULTS
from tests.conformance.faults.surroundings import SURROUNDING_FAULTS
from tests.conformance.faults.work import WORK_FAULTS

__all__ = ["FAULTS", "KINDS", "OWN", "Fault", "fault_named"]

FAULTS: Final[tuple[Fault, ...]] = (
    *COUNT_FAULTS, *SLIP_FAULTS, *CLAIM_FAULTS, *LAYOUT_FAULTS, *WORK_FAULTS, *SURROUNDING_FAULTS, *ENDING_FAULTS,
    *FINER_FAULTS,
)  # fmt: skip
KINDS: Final[tuple[str, ...]] = tuple(dict.fromkeys(fault.kind for fault in FAULTS))
"""The classes, in the order of the corpus."""
OWN: Final[dict[str, str]] = {
    "rows-answer": "rows-said-to-be-alike",
    "row-edges": "torque-between-rows",
    "sizes-on-a-tape": "size-through-a-float",
    "count-never-falls": "falling-table",
    "torque-never-falls": "torque-falls",
    "turn-back-covers-clips": "turn-back-short",
    "two-clips-or-more": "one-clip-forged",
    "scope-answers": "refuses-many",
    "plan-says-the-row": "row-answers-one-less",
    "stricter-body": "milder-body",
    "every-cell-cited": "count-from-nowhere",
    "one-source-one-spelling": "another-section",
    "torque-names-threads": "torques-alone-empty-threads",
    "excluded-services-known": "service-twice",
    "every-number-cited": "nameless-step",
    "memory-is-named": "remembered-plate",
    "spacing-in-bounds": "second-moved",
    "tape-is-safe": "generous-on-tape",
    "refusals-name-neighbours": "silent-refusal",
    "one-more-clip-never-shortens": "splice-longer-with-fewer",
    "positions-in-order": "off-centre",
    "inside-the-turn-back": "first-late-on-tape",
    "lap-splice-mirrors": "splice-lopsided",
    "governing-admits-each": "forgets-the-printed",
    "first-of-takes-the-first": "counting",
    "order-of-plugins": "twins",
    "efficiency-is-a-share": "bands-that-overlap",
    "efficiency-bands-cover": "bands-with-a-hole",
    "spacing-bounds-agree": "bounds-clash-for-wide-clips",
    "every-row-has-a-rope": "scope-stops-short",
    "never-above-the-rope": "band-that-takes-all",
    "tightening-order": "no-round",
    "torqued-again": "not-again",
    "threads-as-the-source": "threads-swapped",
    "bill-counts-clips": "no-title",
    "one-change-is-seen": "last-wide-on-tape",
    "unmeasured-is-asked": "no-gauge",
    "file-reads-the-same": "another-hash",
    "rules-round-trip": "a-title-without-end",
    "json-round-trip": "a-lone-half-character",
    "drawing-is-made": "draws-elsewhere",
    "same-answer-again": "by-thread",
    "surroundings-left-alone": "sets-decimals",
}
"""Of each law a fault that it is meant to notice alone; a law that is not here says why it is kept nevertheless."""
_NAMED: Final = {fault.id: fault for fault in FAULTS}


def fault_named(fault_id: str) -> Fault:
    return _NAMED[fault_id]
