"""The corpus of faults: its size and classes, and that the kit notices one of each class by what it should.

The whole corpus is measured by ``python -m tests.conformance.power``, which takes long.
"""

from __future__ import annotations

import os
from collections import Counter
from typing import Final

import pytest
from tests.conformance.faults.figures import Figures, page, told
from tests.conformance.faults.index import FAULTS, KINDS, OWN, Fault, fault_named
from tests.conformance.faults.measuring import CHECK_VALUES, ORACLE, Measured, hinted, measured
from tests.conformance.power import Amounts, Runs, measure, sample

from turnback.conformance.checking import check_subject
from turnback.conformance.effort import Effort
from turnback.conformance.laws import LAWS
from turnback.errors import TurnbackError

A_FEW: Final = Effort("a few", 30, 300)
ENOUGH: Final = Effort("enough", 120, 50)
DOOR: Final = "door"

NOTICED_BY: Final[dict[str, str]] = {
    "falling-last-row": "count-never-falls",
    "one-clip-forged": "two-clips-or-more",
    "rounded-to-the-nearest": "plan-says-the-row",
    "milder-body": "stricter-body",
    "pulley-adds-two-typed": CHECK_VALUES,
    "wires-forgotten": ORACLE,
    "floor-forgotten": "file-reads-the-same",
    "row-answers-one-less": "plan-says-the-row",
    "torque-falls-metric": "torque-never-falls",
    "turn-back-short": "turn-back-covers-clips",
    "torque-in-foot-pounds": CHECK_VALUES,
    "ten-times-the-spacing": DOOR,
    "sixty-six": CHECK_VALUES,
    "turn-backs-swapped": CHECK_VALUES,
    "row-dropped-as-a-value": ORACLE,
    "counts-a-row-up": CHECK_VALUES,
    "size-through-a-float": "sizes-on-a-tape",
    "upper-edge-not": "row-edges",
    "torque-between-rows": "row-edges",
    "silent-refusal": "refusals-name-neighbours",
    "count-from-nowhere": "every-cell-cited",
    "another-section": "one-source-one-spelling",
    "threads-dropped": DOOR,
    "service-twice": "excluded-services-known",
    "scope-stops-short": "every-row-has-a-rope",
    "bands-with-a-hole": "efficiency-bands-cover",
    "bounds-clash-for-wide-clips": "spacing-bounds-agree",
    "waiver-of-no-law": DOOR,
    "a-nanometre-short": "plan-says-the-row",
    "nothing-under-a-millimetre": "tape-is-safe",
    "first-too-near": "inside-the-turn-back",
    "second-moved": "spacing-in-bounds",
    "off-centre": "positions-in-order",
    "last-turned": "saddles-on-the-live-part",
    "splice-lopsided": "lap-splice-mirrors",
    "plate-moved": "inside-the-turn-back",
    "threads-swapped": "threads-as-the-source",
    "no-round": "tightening-order",
    "not-again": "torqued-again",
    "no-gauge": "unmeasured-is-asked",
    "remembered-plate": "memory-is-named",
    "drifting": "inches-equal-millimetres",
    "by-thread": "same-answer-again",
    "sets-decimals": "surroundings-left-alone",
    "twins": "order-of-plugins",
    "refuses-many": "scope-answers",
    "draws-elsewhere": "drawing-is-made",
    "a-title-without-end": "rules-round-trip",
}
"""One fault of each class, and a law, or something else, that has to notice it."""


def test_the_corpus_is_as_large_as_it_is_said_to_be() -> None:
    assert len(FAULTS) >= 130
    assert len(KINDS) >= 22
    assert [] == [name for name, times in Counter(fault.id for fault in FAULTS).items() if times > 1]
    assert all(fault.what.endswith(".") and not fault.what[0].islower() for fault in FAULTS)
    assert [] == [kind for kind, faults in Counter(fault.kind for fault in FAULTS).items() if faults < 2]


def test_one_fault_of_each_class_is_put_to_the_kit_here() -> None:
    assert list(KINDS) == [fault_named(name).kind for name in NOTICED_BY]
    assert set(NOTICED_BY.values()) - {law.id for law in LAWS} == {CHECK_VALUES, ORACLE, DOOR}


@pytest.mark.filterwarnings("ignore::hypothesis.errors.HypothesisWarning")
@pytest.mark.parametrize(("name", "law"), NOTICED_BY.items(), ids=list(NOTICED_BY))
def test_a_fault_is_noticed_by_what_should_notice_it(name: str, law: str) -> None:
    fault = fault_named(name)
    if law == DOOR:
        found = measured(fault, A_FEW, 1)
        assert (True, (), ()) == (bool(found.door), found.laws, found.others)
        return
    found = hinted(fault, A_FEW, 1, (law,))
    assert (law,) == (*found.laws, *found.others), found


def _refused(fault: Fault) -> bool:
    try:
        fault.subject()
    except TurnbackError:
        return True
    return False


def test_a_law_has_a_fault_of_its_own_or_says_why_not_and_never_both() -> None:
    """That no other law notices it is measured below for some, and for all by the command of the figures."""
    marked = {law.id for law in LAWS if law.redundant}
    assert {law.id for law in LAWS} == set(OWN) | marked
    assert set() == set(OWN) & marked
    assert len(set(OWN.values())) == len(OWN)
    assert all(fault_named(fault) for fault in OWN.values())
    # A law that is kept although others notice the same names one of them.
    assert [] == [law.id for law in LAWS if law.redundant and not any(each.id in law.redundant for each in LAWS)]


TURN: Final = tuple(OWN.items()) if os.environ.get("TURNBACK_HYPOTHESIS_PROFILE") == "deep" else tuple(OWN.items())[::8]
"""Laws with their faults: every eighth, and all of them in a deep run."""


@pytest.mark.filterwarnings("ignore::hypothesis.errors.HypothesisWarning")
@pytest.mark.parametrize(("law", "fault"), TURN, ids=[fault for _, fault in TURN])
def test_the_fault_of_a_law_is_noticed_by_no_other(law: str, fault: str) -> None:
    assert (law,) == hinted(fault_named(fault), ENOUGH, 1, (law,)).laws
    assert set(measured(fault_named(fault), Effort("fewest", 10, 50), 1).laws) <= {law}


def test_at_most_a_quarter_is_refused_at_the_door() -> None:
    refused = [fault.id for fault in FAULTS if _refused(fault)]
    assert 0 < 4 * len(refused) <= len(FAULTS), refused


@pytest.mark.parametrize("name", ["bands-with-a-hole", "bands-that-overlap", "eighty-five"])
def test_what_is_measured_is_what_an_examination_says(name: str) -> None:
    """A basis of efficiency is examined in no time."""
    report = check_subject(fault_named(name).subject(), A_FEW, 1)
    found = measured(fault_named(name), A_FEW, 1)
    assert found.killed
    assert not report.passed
    assert found.others or found.laws == tuple(each.law for each in report.outcomes if each.state == "failed")


def test_a_sample_begins_with_one_fault_of_each_class() -> None:
    assert list(KINDS) == [fault.kind for fault in sample(len(KINDS))]
    assert set(FAULTS) == set(sample(len(FAULTS)))


def test_a_law_that_is_idle_or_busy_and_says_otherwise_makes_the_command_fail() -> None:
    """Two laws: one that notices a fault alone and is said to, and one that is marked and notices one alone."""
    alone = Measured("bands-with-a-hole", laws=("efficiency-bands-cover",))
    beside = Measured("twins", laws=("admitted",))
    figures = Figures(0, 1, (alone, beside), (("quick", (alone, beside)),), (), None, "a machine", 0.0)
    assert "efficiency-bands-cover" not in figures.idle
    assert "efficiency-is-a-share" in figures.idle
    assert "admitted" not in figures.idle
    assert ("admitted",) == figures.busy


def test_the_page_names_what_lives_and_counts_what_does_not() -> None:
    faults = tuple(fault_named(name) for name in ("bands-with-a-hole", "eighty-five", "share-above-one-typed"))
    figures = measure(faults, (Effort("quick", 5, 5),), 1, Amounts(5, 3), Runs(None))
    text = page(figures)
    assert "3 of 3 (100.0 %)" in text
    assert "1 of 3 (33.3 %) were refused" in text
    assert "`bands-with-a-hole`" in text
    assert "quick: 3 of 3 (100.0 %); lives: none" in told(figures)
    assert all(f"`{law.id}`" in text for law in LAWS)
