"""Laws of the work: cautions, the order of tightening, threads, tightening again, marks and the bill.

A style supplies the steps. What a step does is read from its template (the values that it names in braces and the
conditions that it asks for), never from its code alone, so that a style may name its steps as it likes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final, Literal

from hypothesis import strategies as st

from turnback.conformance.draws import ANY, requests
from turnback.conformance.judging import broken, in_both, planned
from turnback.conformance.law import Breakage, Law, Search, needs_hardware_in_series
from turnback.conformance.laws_sources import gives_everything, has_places, plans_alone
from turnback.conformance.subject import Subject
from turnback.model.absent import Absent
from turnback.model.findings import KINDS
from turnback.model.steps import Step, StepTemplate
from turnback.planning.plan import Plan
from turnback.planning.procedure import conditions_of, tightening_order
from turnback.planning.request import Request
from turnback.quantities import Length

__all__ = ["PROCEDURE_LAWS"]

Verdict = Breakage | Literal["kept"] | None
Told = tuple[StepTemplate, Step]
"""A step as the style words it, and as it stands in the plan."""
_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_CAUTIONS: Final = ("qualified-person", "torque-again", "stand-clear", "never-rated")
_BOTH_PARTS: Final = ("both parts", "plates")
_ENDS: Final = re.compile(
    r"\bbegin\w* (?:at|with|from) (?:the )?(?:one |clip )*(?:nearest )?(?:the )?(eye|thimble|dead end)"
)
_EVERY: Final = re.compile(r"\b(?:every|each|all)\b", re.IGNORECASE)
_THREADS: Final = re.compile(r"\bthread", re.IGNORECASE)
_DRY_OR_GREASED: Final = re.compile(r"\b(dry|greas\w*)\b", re.IGNORECASE)
_BEGINNINGS: Final = ("dead end", "eye", "")
_TIMES: Final = ("before first use", "after the first load", "at intervals", "each shift")


# --- steps ---


def _steps(plan: Plan) -> tuple[Told, ...]:
    """Pair the steps of a plan with the templates that they were made from."""
    held = conditions_of(plan)
    chosen = (each for each in plan.style.procedure if held.issuperset(each.when) and held.isdisjoint(each.unless))
    return tuple(zip(chosen, plan.procedure, strict=True))


def _is_first_load(told: Told) -> bool:
    template, _ = told
    asks = {*template.when, *template.unless} & {"working load known", "working load unknown"}
    return bool(asks) or template.code.startswith("first-load") or "working_load" in template.values


def _around_the_load(plan: Plan) -> tuple[tuple[Told, ...], tuple[Told, ...]] | None:
    """Return the steps before the first load and those after it; None where no step puts it on."""
    steps = _steps(plan)
    at = next((number for number, told in enumerate(steps) if _is_first_load(told)), None)
    return None if at is None else (steps[:at], steps[at + 1 :])


def _no_load(request: Request, plan: Plan) -> Breakage:
    return broken(request, "a step that puts the first load on", "none", plan.style.citation)


def _torques(told: Told) -> bool:
    template, _ = told
    return "torque" in template.values


def _again(told: Told) -> bool:
    """Whether a step tightens again at once, and not at later checks."""
    template, _ = told
    later = "intervals" in template.values or "each shift" in (*template.when, *template.unless)
    return _torques(told) and not later


# --- cautions ---


def _cautions(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    codes = [finding.code for finding in plan.findings]
    wanted = list(_CAUTIONS)
    if any(clip.saddle_on not in _BOTH_PARTS for clip in plan.clips):
        wanted.append("saddle-on-live-part")
    missing = [code for code in wanted if codes.count(code) != 1]
    if missing:
        got = f"it stands {codes.count(missing[0])} times among {len(codes)} findings"
        return broken(request, f"the caution {missing[0]}, once", got, plan.style.citation)
    ranks = [KINDS.index(each.kind) for each in plan.findings if each.code != "service-not-stated"]
    if ranks != sorted(ranks):
        return broken(request, "the gravest findings first", ", ".join(codes), plan.style.citation)
    if request.service is None and codes[0] != "service-not-stated":
        return broken(request, "the uses that are forbidden, first of all", codes[0], plan.style.citation)
    return "kept"


# --- tightening ---


def _tightening(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    said = subject.rules.procedure.begin_at
    if said not in _BEGINNINGS:
        wanted = "a place to begin at: " + " or ".join(_BEGINNINGS[:2])
        return broken(request, wanted, repr(said), subject.rules.procedure.begin_citation or subject.rules.citation)
    order, count = tightening_order(plan), plan.clip_count
    if sorted(order) != list(range(1, count + 1)):
        return broken(request, f"each of the {count} clips once", str(order), subject.rules.citation)
    at_eye = said == "eye" and not plan.layout_demand.splice
    if order[0] != (count if at_eye else 1):
        wanted = f"clip {count if at_eye else 1} first, as the source says"
        return broken(request, wanted, f"clip {order[0]}", subject.rules.citation)
    return _round(request, plan, ", ".join(map(str, order)), "eye" if at_eye else "dead end")


def _round(request: Request, plan: Plan, order: str, begin: str) -> Verdict:
    around = _around_the_load(plan)
    if around is None:
        return _no_load(request, plan)
    once = [told for told in around[0] if "retorque before first use" not in told[0].when]
    rounds = [told for told in once if "order" in told[0].values and _torques(told)]
    if len(rounds) != 1 or order not in rounds[0][1].text:
        wanted = "one step before the first load that brings every clip to its torque, in order"
        return broken(request, wanted, f"{len(rounds)} steps that do", plan.style.citation)
    for _, step in around[0]:
        named = None if plan.layout_demand.splice else _ENDS.search(step.text)
        if named is not None and named[1].replace("thimble", "eye") != begin:
            return broken(request, f"the work begins at the {begin}", f"{step.code}: {step.text}", plan.style.citation)
    return "kept"


def _torqued_again(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    said = subject.rules.procedure
    strange = [word for word in said.retorque if word not in _TIMES]
    cited = said.retorque_citation or subject.rules.citation
    if strange:
        return broken(request, "a time that the library knows: " + ", ".join(_TIMES), strange[0], cited)
    around = _around_the_load(plan)
    if around is None:
        return _no_load(request, plan)
    before, after = around
    torque = "torque" if isinstance(plan.torque, Absent) else str(plan.torque)
    again = [step for told in after if _again(told) for step in told[1:] if torque in step.text]
    if not again:
        return broken(request, "every clip torqued again after the first load", "no step does", plan.style.citation)
    if not any(_EVERY.search(step.text) for step in again):
        return broken(request, "every clip torqued again, none left out", again[0].text, plan.style.citation)
    for word, steps in (("before first use", before), ("at intervals", after), ("each shift", after)):
        if word in said.retorque and not any(_torques(told) and _speaks_of(told, word) for told in steps):
            return broken(request, f"a step that tightens {word}, as the source says", "none", cited)
    return "kept"


def _speaks_of(told: Told, word: str) -> bool:
    template, step = told
    asked = {"before first use": "retorque before first use", "each shift": "each shift"}.get(word)
    return asked in template.when or "intervals" in template.values or word in step.text


def _threads(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or isinstance(plan.torque, Absent):
        return None
    threads = subject.rules.threads
    if threads is None or plan.thread_condition != threads.value:
        wanted = "threads as the source says" if threads is None else f"{threads.value} threads, as the source says"
        return broken(request, wanted, str(plan.thread_condition), subject.rules.citation)
    root = {"dry": "dry", "greased": "greas"}.get(threads.value, "")
    if not root:
        return broken(request, "dry or greased threads", threads.value, threads.citations[0])
    heard = False
    for _, step in _steps(plan):
        words = _DRY_OR_GREASED.findall(step.text) if _THREADS.search(step.text) else []
        if words and not words[0].lower().startswith(root):
            return broken(request, f"{threads.value} threads", f"{step.code}: {step.text}", threads.citations[0])
        heard = heard or bool(words)
    return "kept" if heard else broken(
        request, f"a step that says that the threads are {threads.value}", "none", threads.citations[0]
    )  # fmt: skip


# --- marks and bill ---


def _marks(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None or not plan.clips or isinstance(plan.turn_back, Absent):
        return None
    splice = plan.layout_demand.splice
    on, other = ("rope A", "rope B") if splice else ("dead part", "live part")
    eye = Length(0) if isinstance(plan.rope_in_eye, Absent) else plan.rope_in_eye
    mirror = plan.turn_back if splice else plan.turn_back * 2 + eye
    both = splice or not isinstance(plan.rope_in_eye, Absent)
    got: dict[tuple[str, str, int], Length] = {
        (mark.code, mark.along, mark.clip): mark.position for mark in plan.marks if mark.clip
    }
    wanted = dict(_wanted(plan, on))
    if both:
        wanted |= {(code, other, clip): mirror - place for code, clip, place in _mirrored(plan, splice)}
    placed = {key: place for key, place in got.items() if key[0] != "witness"}
    if placed != wanted:
        key = next(key for key in sorted({*placed, *wanted}) if placed.get(key) != wanted.get(key))
        words = [in_both(place) if place is not None else "no mark" for place in (wanted.get(key), placed.get(key))]
        return broken(request, f"{key[0]} of clip {key[2]}, {key[1]}, at {words[0]}", words[1], plan.style.citation)
    for along in (on, other) if both else (on,):
        if sorted(key[2] for key in got if key[:2] == ("witness", along)) != [clip.number for clip in plan.clips]:
            return broken(request, f"a witness mark at every clip, {along}", "not so", plan.style.citation)
    ordered = [mark.position for mark in plan.marks if mark.along != "rope B"]
    if ordered != sorted(ordered):
        return broken(request, "marks in the order of the rope", "another order", plan.style.citation)
    return "kept"


def _wanted(plan: Plan, along: str) -> Iterator[tuple[tuple[str, str, int], Length]]:
    width = plan.request.base_width or Length(0)
    for number, clip in enumerate(plan.clips, 1):
        yield ("clip-near-edge", along, number), clip.near_edge
        yield ("clip-far-edge", along, number), clip.near_edge + width


def _mirrored(plan: Plan, splice: bool) -> Iterator[tuple[str, int, Length]]:
    # Near and far are meant from the dead end of the rope that the mark stands on.
    width = plan.request.base_width or Length(0)
    near, far = ("clip-far-edge", "clip-near-edge") if splice else ("clip-near-edge", "clip-far-edge")
    for number, clip in enumerate(plan.clips, 1):
        yield near, number, clip.near_edge
        yield far, number, clip.near_edge + width


def _bill(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    eyes = 2 if request.termination.kind == "linked eyes" else 1
    line = plan.bill.line("clips")
    wanted = (len(plan.clips) or plan.clip_count) * eyes
    if line.number != wanted or plan.clip_count * eyes != wanted:
        where = "places" if plan.clips else "plan"
        return broken(request, f"{wanted} clips, as the {where} have it", str(line.number), plan.style.citation)
    if not subject.style.title.strip():
        return broken(request, "the name of the hardware on the bill", "none", plan.style.citation)
    if subject.style.title not in line.item or str(plan.clip_size) not in line.item:
        return broken(request, f"{subject.style.title}, size {plan.clip_size}", line.item, plan.style.citation)
    rope = plan.bill.line("rope")
    if isinstance(rope.length, Length) and isinstance(plan.turn_back, Length):
        parts = plan.turn_back * (2 if plan.layout_demand.splice else eyes)
        tape = rope.tape
        if rope.length < parts or not isinstance(tape, Length) or tape < rope.length:
            got = f"{in_both(rope.length)}, on the tape {tape}"
            return broken(request, f"at least {in_both(parts)} of rope", got, plan.style.citation)
    return "kept"


# --- draws ---


def _torqued(subject: Subject) -> str:
    if plans_alone(subject):
        return plans_alone(subject)
    prints = gives_everything(subject) and any(row.torque is not None for row in subject.rules.rows)
    return "" if prints else "it prints no torque"


def _in_series(subject: Subject) -> str:
    return plans_alone(subject) or needs_hardware_in_series(subject)


def _measured(subject: Subject) -> st.SearchStrategy[Request]:
    return requests(subject, measured=True)


def _whole(subject: Subject) -> st.SearchStrategy[Request]:
    return requests(subject, measured=True, coatings=("", "stripped"), everything=gives_everything(subject))


def _all_ropes(subject: Subject) -> st.SearchStrategy[Request]:
    return requests(subject, everything=True)


def _law(
    law_id: str,
    sentence: str,
    draw: Callable[[Subject], st.SearchStrategy[Request]],
    judge: Callable[[Subject, Request], Verdict],
    applies: Callable[[Subject], str] = plans_alone,
    redundant: str = "",
    shared: str = "",
    dear: int = 1,
) -> Law:
    search = Search(draw, judge, shared)
    return Law(law_id, sentence, search=search, after=_AFTER, applies=applies, redundant=redundant, dear=dear)


PROCEDURE_LAWS: Final = (
    _law("cautions-always-shown", "The cautions that always stand are shown beside every plan, that on the side of the "
         "saddle beside every clip that has a wrong one, the gravest findings first.", _measured, _cautions,
         redundant="the planner puts them there, whatever a plugin brings, and a style that hides its wrong way round "
         "is noticed by as-built-equal-adds-nothing and one-change-is-seen too; it stays because it is what a reader "
         "is warned by"),
    _law("tightening-order", "Every clip is brought to its torque once in a round, beginning where the source says.",
         requests, _tightening, _in_series, shared=ANY, dear=2),
    _law("torqued-again", "Every clip is torqued again after the first load, and at the other times that the source "
         "names.", requests, _torqued_again, shared=ANY, dear=2),
    _law("threads-as-the-source", "The threads are dry or greased as the source says, in the plan and in the work, and "
         "never the other.", _all_ropes, _threads, _torqued, dear=2),
    _law("marks-match-positions", "Each clip has both edges marked at its own place, on both parts of the rope.",
         _whole, _marks, has_places, dear=2,
         redundant="the planner makes the marks from the places, and a place that is wrong is noticed by "
         "inside-the-turn-back too; it stays because the marks are what is painted on the rope"),
    _law("bill-counts-clips", "The bill has the clips of every eye, of the plan's size, and rope enough for every "
         "turn-back.", requests, _bill, shared=ANY),
)  # fmt: skip
"""In the order in which they are checked."""
