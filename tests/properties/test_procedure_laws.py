"""Design, sections 7 and 10: the order of tightening, and tightening again after the first load."""

from __future__ import annotations

from hypothesis import given
from tests.strategies import planned, requests

from turnback.model.absent import Absent
from turnback.planning.plan import Plan
from turnback.planning.procedure import conditions_of, tightening_order
from turnback.planning.request import Request

AGAIN = ("retorque", "retorque-loaded", "retorque-unloaded")
GROUPS = (
    ("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice", "plate eye"),
    ("measured", "unmeasured"),
    ("turn-back known", "turn-back unknown"),
    ("one clip", "two clips", "three or more clips"),
    ("torque known", "torque unknown"),
    ("working load known", "working load unknown"),
    ("begin at the dead end", "begin at the eye"),
    ("dry threads", "greased threads", "threads not stated"),
    ("retorque loaded", "retorque unloaded", "retorque state not stated"),
)


def codes(plan: Plan) -> list[str]:
    return [step.code for step in plan.procedure]


@given(requests(maker=None))
def test_the_order_of_tightening_is_a_permutation_of_the_clips(request: Request) -> None:
    """Section 10: the order of tightening is a permutation: every clip once, none forgotten."""
    plan = planned(request)
    assert list(range(1, plan.clip_count + 1)) == sorted(tightening_order(plan))


@given(requests(maker=None))
def test_the_order_of_tightening_is_the_sources_own(request: Request) -> None:
    """Section 10: the order is the source's own: EN 13411-5 begins at the thimble, the others at the dead end."""
    plan = planned(request)
    said = {member.rules.procedure.begin_at for member in plan.members} - {""}
    order = tightening_order(plan)
    at_the_eye = said == {"eye"} and request.termination.kind != "lap splice"
    assert (plan.clip_count if at_the_eye else 1) == order[0]
    assert order in (tuple(sorted(order)), tuple(sorted(order, reverse=True)))


@given(requests(maker=None, kinds=("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice")))
def test_the_steps_name_the_clips_in_that_order(request: Request) -> None:
    """Section 7, step 9: the work names every clip in the order in which it is brought to full torque."""
    plan = planned(request)
    order = ", ".join(map(str, tightening_order(plan)))
    steps = [step for step in plan.procedure if step.code.startswith("torque-") and step.code != "torque-before-use"]
    assert 1 == len(steps)
    assert order in steps[0].text


@given(requests(maker=None))
def test_every_clip_that_is_tightened_is_tightened_again_after_the_first_load(request: Request) -> None:
    """Section 10: every torqued clip is torqued again after the first load, to the same torque."""
    plan = planned(request)
    named = codes(plan)
    load = next(i for i, code in enumerate(named) if code.startswith("first-load"))
    again = [i for i, code in enumerate(named) if code in AGAIN]
    torque = "the clip maker's torque" if isinstance(plan.torque, Absent) else str(plan.torque)
    assert 1 == len(again)
    assert again[0] > load
    assert torque in plan.procedure[again[0]].text
    if plan.style.in_series:
        assert "every clip again" in plan.procedure[again[0]].text
    assert "torque-again" in {finding.code for finding in plan.findings if finding.kind == "must-do"}


@given(requests(maker=None))
def test_nobody_stands_in_line_before_the_first_load_goes_on(request: Request) -> None:
    """Section 7, step 9: the line is cleared, and the joint checked, before the first load."""
    named = codes(planned(request))
    load = next(i for i, code in enumerate(named) if code.startswith("first-load"))
    assert "clear-the-line" in named[:load]
    assert any(code.startswith("check-") for code in named[:load])


@given(requests(maker=None))
def test_of_every_group_of_conditions_exactly_one_holds(request: Request) -> None:
    """Section 7, step 9: the steps are chosen by conditions of which exactly one of each group holds."""
    held = conditions_of(planned(request))
    assert [1] * len(GROUPS) == [len(held & set(group)) for group in GROUPS]


@given(requests(maker=None))
def test_steps_are_numbered_filled_in_and_cited(request: Request) -> None:
    """Section 7, step 9: steps are numbered from 1, without a gap left in the text, each with its citation."""
    steps = planned(request).procedure
    assert list(range(1, len(steps) + 1)) == [step.number for step in steps]
    assert [] == [step.code for step in steps if "{" in step.text or "}" in step.text or not step.citations]
    assert len({step.code for step in steps}) == len(steps)
