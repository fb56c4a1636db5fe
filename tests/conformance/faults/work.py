"""Faults of the work: threads, order of tightening, tightening again, measuring and cautions."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Literal, cast

import attrs
from tests.conformance.faults.making import (
    EN,
    PLATE,
    SADDLE,
    TABLE,
    Fault,
    departing,
    forced,
    retyped,
    rules_of,
    steps_changed,
    under,
    without,
)

from turnback.conformance.subject import Subject
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Source
from turnback.model.steps import StepTemplate
from turnback.model.styles import BodyStyle
from turnback.rules.ruleset import Procedure, RuleSet

__all__ = ["WORK_FAULTS"]

Steps = dict[str, StepTemplate]


def worded(code: str, text: str, rules_id: str = TABLE) -> Callable[[], Subject]:
    """One step in other words."""
    return steps_changed(lambda steps: {**steps, code: attrs.evolve(steps[code], text=text)}, rules_id)


def exchanged(one: str, other: str) -> Callable[[], Subject]:
    """Two steps with each other's words."""
    return steps_changed(
        lambda steps: {
            **steps,
            one: attrs.evolve(steps[one], text=steps[other].text),
            other: attrs.evolve(steps[other], text=steps[one].text),
        }
    )


def asking(code: str, *when: str, rules_id: str = TABLE) -> Callable[[], Subject]:
    """One step under other conditions."""
    return steps_changed(lambda steps: {**steps, code: attrs.evolve(steps[code], when=when)}, rules_id)


def copied(code: str) -> Callable[[], Subject]:
    """One step that stands twice."""

    def change(steps: Steps) -> Steps:
        found: Steps = {}
        for name, step in steps.items():
            found[name] = step
            if name == code:
                found["copy"] = attrs.evolve(step, code=f"{code}-2")
        return found

    return steps_changed(change)


def put_before(code: str, before: str) -> Callable[[], Subject]:
    """One step that comes too early."""

    def change(steps: Steps) -> Steps:
        found: Steps = {}
        for name, step in steps.items():
            if name == before:
                found[code] = steps[code]
            if name != code:
                found[name] = step
        return found

    return steps_changed(change)


def nameless_step() -> Subject:
    rules = rules_of(TABLE)

    def change(steps: Steps) -> Steps:
        step = steps["tools"]
        source = forced(step.citation.source, document=" ")
        return {**steps, "tools": attrs.evolve(step, citation=forced(step.citation, source=source))}

    return under(rules, steps_changed(change)().style)


def remembered_plate() -> Subject:
    rules = rules_of(PLATE)
    style = under(rules).style
    assert isinstance(style, BodyStyle)
    cited = Citation(Source("invented-plates", "Invented sheet of plates"), "line 2", "memory")
    return under(rules, attrs.evolve(style, dead_end_citation=cited))


def said(begin_at: str = "", retorque: tuple[str, ...] = ()) -> Callable[[RuleSet], RuleSet]:
    begin = cast('Literal["dead end", "eye", ""]', begin_at)
    return lambda rules: attrs.evolve(rules, procedure=Procedure(begin, rules.citation, retorque, rules.citation))


def threaded(words: str) -> Callable[[RuleSet], RuleSet]:
    return lambda rules: attrs.evolve(rules, threads=Cited(words, (rules.citation,)))


def both(change: Callable[[RuleSet], RuleSet], make: Callable[[], Subject]) -> Callable[[], Subject]:
    """A changed rule set under a changed style."""
    return lambda: under(change(rules_of(TABLE)), make().style)


def untitled(rules_id: str, title: str) -> Callable[[], Subject]:
    return lambda: under(rules_of(rules_id), attrs.evolve(under(rules_of(rules_id)).style, title=title))


THREADS: Final = "wrong threads"
ORDER: Final = "tightening order wrong"
AGAIN: Final = "not tightened again"
UNMEASURED: Final = "unmeasured clip not asked about"
STEPS: Final = "step that nobody stands behind"

WORK_FAULTS: Final = (
    Fault("threads-swapped", THREADS, "Dry threads are told to be greased, and greased ones to be dry.",
          exchanged("dry-threads", "greased-threads")),
    Fault("threads-unsaid", THREADS, "No step says how the threads must be.", without("dry-threads")),
    Fault("threads-waxed", THREADS, "The threads are to be waxed.", departing(TABLE, threaded("waxed"))),
    Fault("threads-oiled-late", THREADS, "A later step has the threads greased.",
          worded("how-to-tighten", "Grease the threads. Tighten the nuts of one clip in turns, a little at a time.")),
    Fault("threads-greased-typed", THREADS, "Dry threads are typed as greased.",
          retyped(TABLE, ('condition = "dry"\ntext = "clean and dry"', 'condition = "greased"\ntext = "greased"'),
                  valued=True)),
    Fault("threads-dry-typed", THREADS, "Greased threads are typed as dry.",
          retyped(EN, ('condition = "greased"\ntext = "threads and nuts greased"', 'condition = "dry"'), valued=True)),
    Fault("no-round", ORDER, "No step brings every clip to its torque.", without("torque-from-the-dead-end")),
    Fault("from-the-wrong-end", ORDER, "The round begins at the eye where the source says nothing of it.",
          worded("torque-from-the-dead-end",
                 "Bring the clips to {torque}, beginning at the one nearest the eye: {order}.")),
    Fault("round-without-an-order", ORDER, "A round says no order, so that a clip may be left out.",
          worded("torque-from-the-dead-end", "Bring the clips to {torque}, all but the one at the eye.")),
    Fault("two-rounds", ORDER, "Every clip is brought to its torque twice.", copied("torque-from-the-dead-end")),
    Fault("both-rounds", ORDER, "The rounds from both ends stand in the work.", asking("torque-from-the-eye", "eye")),
    Fault("begin-at-the-thimble", ORDER, "The work begins at a place that nobody knows.",
          departing(TABLE, said("thimble"))),
    Fault("begin-at-the-eye-typed", ORDER, "The place to begin at is typed as the other one.",
          retyped(EN, ('begin_at = "eye"', 'begin_at = "dead end"'), valued=True)),
    Fault("no-first-load", ORDER, "No first load is put on.", without("first-load", "first-load-not-known")),
    Fault("snug-alone", ORDER, "The round has the clips snug, and not at their torque.",
          worded("torque-from-the-dead-end", "Bring the clips snug, in this order: {order}.")),
    Fault("not-again", AGAIN, "No clip is tightened again.",
          without("retorque", "retorque-loaded", "retorque-unloaded")),
    Fault("one-clip-again", AGAIN, "One clip alone is tightened again.",
          worded("retorque", "Tighten the first clip to {torque} once more.")),
    Fault("again-before-the-load", AGAIN, "The clips are tightened again before the first load and not after it.",
          put_before("retorque", "clear-the-line")),
    Fault("again-at-a-time-unknown", AGAIN, "The time to tighten again is one that nobody knows.",
          departing(TABLE, said(retorque=("after first load",)))),
    Fault("not-before-first-use", AGAIN, "The source has it tightened before first use, the work has not.",
          both(said(retorque=("before first use",)), without("torque-before-use"))),
    Fault("no-later-checks", AGAIN, "The source has it tightened at intervals, the work has not.",
          both(said(retorque=("at intervals",)), without("later-checks", "each-shift"))),
    Fault("again-without-a-torque", AGAIN, "It is tightened again, and to no torque.",
          worded("retorque", "Tighten every clip again.")),
    Fault("intervals-dropped", AGAIN, "The later checks of the source were not typed.",
          retyped(EN, (', "after the first load", "at intervals"]', ', "after the first load"]'), valued=True)),
    Fault("plate-not-again", AGAIN, "A plate is not tightened again.",
          without("retorque", "retorque-loaded", "retorque-unloaded", rules_id=PLATE)),
    Fault("no-gauge", UNMEASURED, "Nobody is told that the saddle is the gauge.", without("gauge")),
    Fault("nobody-measures", UNMEASURED, "Nobody is told to measure the clip.", without("measure-clip")),
    Fault("edges-unmeasured", UNMEASURED, "Edges are to be marked of clips that nobody measured.",
          asking("mark-clips", "eye")),
    Fault("no-gauge-in-a-splice", UNMEASURED, "In a splice nobody is told that the saddle is the gauge.",
          without("gauge-lap", rules_id=SADDLE)),
    Fault("nobody-measures-a-plate", UNMEASURED, "Nobody is told to measure a plate.",
          without("measure-body", rules_id=PLATE)),
    Fault("nameless-step", STEPS, "A step comes from a document without a name.", nameless_step),
    Fault("remembered-plate", STEPS, "The dead end of a plate is from memory of a document that no finding names.",
          remembered_plate),
    Fault("no-title", STEPS, "The style has no name that a bill could print.", untitled(TABLE, "")),
    Fault("a-lone-half-character", STEPS, "A step has half a character in its text, which no file can hold.",
          worded("tools", "Have at hand: tape, marker \ud800 and paint.")),
)  # fmt: skip
