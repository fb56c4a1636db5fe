"""Steps of the work: chosen by their conditions, filled in, in the order of the sources.

Ropes, clips and thimbles are invented; what a source prints is cited beside it.
"""

from __future__ import annotations

import attrs
import pytest

from turnback.model.rope import Coating, Rope
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.steps import STEP_CONDITIONS, STEP_VALUES, Step, StepTemplate
from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.procedure import conditions_of, procedure_of, tightening_order
from turnback.planning.request import MakerFigures

INCH = Rope.parse("3/4 in 6x19 IWRC EIP ordinary outer wires new")
METRIC = "13 mm 6x36WS IWRC 1960 new"
THIMBLE = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
STRIPPED = Coating("7/8 in", stripped=True)
TWO_RUNS = Coating("7/8 in", stripped=True, eye_stripped=False)
LEFT_ON = Coating("1 in", stripped=False)

GROUPS = (
    {"thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice", "plate eye"},
    {"measured", "unmeasured"},
    {"turn-back known", "turn-back unknown"},
    {"one clip", "two clips", "three or more clips"},
    {"torque known", "torque unknown"},
    {"working load known", "working load unknown"},
    {"begin at the dead end", "begin at the eye"},
    {"dry threads", "greased threads", "threads not stated"},
    {"retorque loaded", "retorque unloaded", "retorque state not stated"},
)


def made(termination: Termination, rope: Rope = INCH, base_width: str | None = "2-1/4 in", **service: str) -> Plan:
    return plan(
        rope,
        termination,
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width=base_width,
        service=service.get("service"),
        jurisdiction=service.get("jurisdiction"),
    )


def european(termination: Termination) -> Plan:
    return plan(METRIC, termination, style="u-bolt", rules="en-13411-5", base_width="30 mm")


def mirrored(termination: Termination, base_width: str | None) -> Plan:
    return plan(
        "1/2 in 6x19 IWRC EIP", termination, style="mirrored-saddle", rules="us-army-3810-305", base_width=base_width
    )


def plate(style: str, around: PlateEye, coating: Coating | None, base_width: str | None) -> Plan:
    cable = Rope("1/8 in", "7x19", finish="galvanized", coating=coating)
    return plan(cable, around, style=style, rules=f"common-practice-{style}", base_width=base_width)


def every_plan() -> list[Plan]:
    eyes: tuple[Termination, ...] = (
        THIMBLE,
        ThimbleEye(),
        SoftEye("3 in", "12 in"),
        PulleyEye("12 in"),
        PulleyEye(),
        LinkedEyes(THIMBLE, THIMBLE),
        LapSplice(),
    )
    coatings = (None, STRIPPED, TWO_RUNS, LEFT_ON)
    found = []
    for eye in eyes:
        for base_width in ("2-1/4 in", None):
            found += [made(eye, attrs.evolve(INCH, coating=coating), base_width) for coating in coatings]
    found += [european(eye) for eye in (THIMBLE, LinkedEyes(), LapSplice())]
    found += [mirrored(eye, width) for eye in (THIMBLE, LapSplice()) for width in ("1-1/4 in", None)]
    for style in ("single-plate", "double-plate"):
        for coating in (None, Coating("3/16 in", True), Coating("3/16 in", True, False), Coating("3/16 in", False)):
            found += [plate(style, PlateEye(ThimbleEye()), coating, width) for width in ("1 in", None)]
    maker = MakerFigures("invented sheet 1, page 2", torque="8 N·m", threads="dry")
    found.append(
        plan(
            "1/8 in 7x19 galvanized", PlateEye(SoftEye("1 in", "3 in")), style="single-plate",
            rules="common-practice-single-plate", base_width="1 in", maker=maker,
        )
    )  # fmt: skip
    found.append(made(THIMBLE, service="guy", jurisdiction="CA-AB"))
    found.append(made(THIMBLE, service="sling", jurisdiction="US"))
    return found


EVERY = every_plan()
NAMES = [f"{p.style.id}, {p.request.termination.kind}, {p.request.rope}, {p.request.base_width}" for p in EVERY]


def step(found: Plan, code: str) -> Step:
    (one,) = [each for each in procedure_of(found) if each.code == code]
    return one


def only_step(found: Plan, text: str) -> Step:
    """Fill in one made step, as a style of a plugin may bring it."""
    citation = Citation(COMMON_PRACTICE, "a made step", "common practice")
    style = attrs.evolve(found.style, procedure=(StepTemplate("made", text, citation),))
    (only,) = procedure_of(attrs.evolve(found, case=attrs.evolve(found.case, style=style)))
    return only


def codes(found: Plan) -> list[str]:
    return [each.code for each in procedure_of(found)]


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_of_every_group_of_conditions_exactly_one_holds(found: Plan) -> None:
    held = conditions_of(found)
    assert held <= STEP_CONDITIONS
    assert [1] * len(GROUPS) == [len(held & group) for group in GROUPS]
    assert (found.request.termination.kind != "lap splice") == ("eye" in held)
    assert not {"stripped", "coating on"} <= held


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_every_value_is_words_that_fit_a_sentence(found: Plan) -> None:
    # A style of a plugin may name any value of the closed list at any time.
    text = " | ".join(f"{name}: {{{name}}}" for name in sorted(STEP_VALUES))
    only = only_step(found, text)
    for word in ("absent", "None", "Length(", "Absent(", "{", "}"):
        assert word not in only.text
    assert all(part.split(": ", 1)[1].strip() for part in only.text.split(" | "))


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_steps_are_numbered_and_cited_and_read_as_sentences(found: Plan) -> None:
    steps = procedure_of(found)
    assert list(range(1, len(steps) + 1)) == [each.number for each in steps]
    assert len(steps) == len({each.code for each in steps})
    for each in steps:
        assert each.citations
        for word in ("absent:", "None", "{", "}", "not known (", "that are not known", "that was not given"):
            assert word not in each.text, each.code


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_every_torqued_clip_is_torqued_again_after_the_first_load(found: Plan) -> None:
    steps = procedure_of(found)
    order = [each.code for each in steps]
    load = next(i for i, code in enumerate(order) if code.startswith("first-load"))
    again = [i for i, code in enumerate(order) if code in ("retorque", "retorque-loaded", "retorque-unloaded")]
    assert 1 == len(again)
    assert load < again[0]
    words = steps[again[0]].text
    assert "every clip again" in words or "every nut again" in words
    assert (str(found.torque) if "torque known" in conditions_of(found) else "the clip maker's torque") in words


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_the_order_of_tightening_is_a_permutation(found: Plan) -> None:
    assert list(range(1, found.clip_count + 1)) == sorted(tightening_order(found))


@pytest.mark.parametrize("found", EVERY, ids=NAMES)
def test_people_stand_clear_before_the_load_and_the_joint_is_checked(found: Plan) -> None:
    order = codes(found)
    load = next(i for i, code in enumerate(order) if code.startswith("first-load"))
    assert order.index("check-joint") < order.index("clear-the-line") < load
    assert step(found, "check-joint").hold
    assert order.index("seize") < order.index("cut")


def test_order_is_from_the_dead_end_to_the_eye() -> None:
    # Common practice: final tightening starts at the clip nearest the dead end; 4 clips by 8 CCR 8497, Table 1.
    found = made(THIMBLE)
    assert (1, 2, 3, 4) == tightening_order(found)
    assert "1, 2, 3, 4" in step(found, "torque-from-the-dead-end").text
    assert "torque-from-the-eye" not in codes(found)


def test_order_is_from_the_eye_where_the_source_begins_there() -> None:
    # EN 13411-5, Annex A: 13 mm takes 4 grips, and the work begins at the thimble (from memory).
    found = european(THIMBLE)
    assert (4, 3, 2, 1) == tightening_order(found)
    assert "4, 3, 2, 1" in step(found, "torque-from-the-eye").text
    assert "torque-from-the-dead-end" not in codes(found)
    documents = [citation.source.document for citation in step(found, "torque-from-the-eye").citations]
    assert any("EN 13411-5" in document for document in documents)


def test_a_lap_splice_has_no_eye_to_begin_at() -> None:
    # EN 13411-5, Annex A: a joint of two ropes of 8 to 18 mm takes 8 grips.
    assert (1, 2, 3, 4, 5, 6, 7, 8) == tightening_order(european(LapSplice()))


def test_threads_are_as_the_source_says_and_never_the_other() -> None:
    # 8 CCR 8497: dry by common practice; EN 13411-5: greased (from memory).
    assert "dry-threads" in codes(made(THIMBLE))
    assert "greased-threads" not in codes(made(THIMBLE))
    assert "greased-threads" in codes(european(THIMBLE))
    assert "dry-threads" not in codes(european(THIMBLE))


def test_when_to_tighten_again_comes_from_rules_and_service() -> None:
    # EN 13411-5: before first use, after the first load, at intervals (from memory).
    assert "torque-before-use" in codes(european(THIMBLE))
    assert "torque-before-use" not in codes(made(THIMBLE))
    # 29 CFR 1926.451(d)(12): inspect and retighten at the start of each shift.
    scaffold = made(THIMBLE, service="scaffold-suspension", jurisdiction="US")
    assert "each-shift" in codes(scaffold)
    assert "later-checks" not in codes(scaffold)
    cited = [str(citation) for citation in step(scaffold, "each-shift").citations]
    assert any("1926.451" in each for each in cited)
    assert "at the start of each shift" == only_step(scaffold, "{intervals}").text
    guy = made(THIMBLE, service="guy", jurisdiction="US")
    assert "later-checks" in codes(guy)
    assert "at intervals" in step(guy, "later-checks").text


def test_first_load_is_no_more_than_the_working_load() -> None:
    # 29.4 short tons (IWRC EIP, 3/4 in; from memory) x 80 % / 3 (guys: Alberta OHS Code 292.1(1)(d))
    # = 29.4 x 2000 x 0.8 / 3 = 15 680 lbf. Printed with four digits, down.
    found = made(THIMBLE, service="guy", jurisdiction="CA-AB")
    # x 4.4482216152605 N = 69 748.11 N, so 69.74 kN.
    assert "69.74 kN (15680 lbf)" in step(found, "first-load").text
    assert "first-load-not-known" not in codes(found)


def test_a_forbidden_use_has_no_first_load() -> None:
    # 29 CFR 1926.251(c)(4)(iii): no eyes with clips in slings.
    found = made(THIMBLE, service="sling", jurisdiction="US")
    assert "first-load" not in codes(found)
    assert step(found, "first-load-not-known").hold


def test_marks_are_given_from_the_tape() -> None:
    # By hand: base width 2-1/4 in, turn-back 18 in, 4 clips: see test_marks.
    text = step(made(THIMBLE), "mark-clips").text
    assert "clip 1 from 2-1/4 in to 4-1/2 in; clip 2 from 6-3/4 in to 9 in" in text
    assert "clip 3 from 11-1/4 in to 13-1/2 in; clip 4 from 15-3/4 in to 18 in" in text
    assert "18 in (457.2 mm)" in step(made(THIMBLE), "mark-turn-back").text
    assert "clip 1 from 30 mm to 60 mm" in step(european(THIMBLE), "mark-clips").text


def test_an_unmeasured_clip_is_its_own_gauge() -> None:
    found = made(THIMBLE, base_width=None)
    assert {"measure-clip", "gauge"} <= set(codes(found))
    assert "mark-clips" not in codes(found)
    assert {"measure-clip", "gauge-lap"} <= set(codes(made(LapSplice(), base_width=None)))


def test_linked_eyes_take_the_clips_of_both() -> None:
    # 4 clips an eye (8 CCR 8497, Table 1, 3/4 in).
    found = made(LinkedEyes(THIMBLE, THIMBLE))
    assert "8 of size" in step(found, "check-clips").text
    assert "4 clips" in step(found, "link-eyes").text


def test_strip_in_one_run_or_two() -> None:
    one = made(THIMBLE, attrs.evolve(INCH, coating=STRIPPED))
    assert "one run of" in step(one, "strip").text
    two = step(made(THIMBLE, attrs.evolve(INCH, coating=TWO_RUNS)), "strip").text
    assert "two runs of 18 in (457.2 mm)" in two
    lap = step(made(LapSplice(), attrs.evolve(INCH, coating=STRIPPED)), "strip").text
    # Overlap: 3 x 2-1/4 + 7 x 4-1/2 = 38-1/4 in.
    assert "38-1/4 in (971.55 mm) from each dead end" in lap
    vague = step(made(ThimbleEye(), attrs.evolve(INCH, coating=STRIPPED)), "strip").text
    assert "how far is not known here" in vague
    assert "coating-test" in codes(made(THIMBLE, attrs.evolve(INCH, diameter="3/4 in", coating=LEFT_ON)))


def test_rope_that_turns_is_held() -> None:
    turning = Rope("3/4 in", "19x7", rotation_resistant=True)
    found = plan(turning, PlateEye(), style="single-plate", rules="common-practice-single-plate")
    assert "keep-from-turning" in codes(found)
    lang = Rope("3/4 in", "6x19", "IWRC", "EIP", lay="right Lang", outer_wires="ordinary")
    held = plan(lang, PlateEye(), style="single-plate", rules="common-practice-single-plate")
    assert "hold-both-ends" in codes(held)
    assert "hold-both-ends" not in codes(made(THIMBLE))
    assert "keep-from-turning" not in codes(made(THIMBLE))


def test_unknown_torque_stops_the_work() -> None:
    found = plate("single-plate", PlateEye(), None, "1 in")
    assert step(found, "no-torque").hold
    assert "the clip maker's torque" in step(found, "torque").text
