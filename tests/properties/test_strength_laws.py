"""Design, section 10: never a strength for a forbidden use, used rope, unknown torque, unnamed termination, coating on.

Each law starts from a request that has a strength and changes one thing, so that none of them can hold for nothing.
"""

from __future__ import annotations

from fractions import Fraction

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import BOOK, COMPANIES, SERIES_STYLES, Use, planned, rated_requests, requests

from turnback.errors import AbsentError, Forbidden, InputError, TurnbackError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.rope import Coating
from turnback.model.terminations import LapSplice, LinkedEyes, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import Force, Length

FORBIDDING: tuple[Use, ...] = tuple(
    (rule.service, rule.jurisdiction)
    for rule in BOOK.rules
    if rule.kind == "forbidden"
    and not rule.styles
    and not rule.terminations
    and not (rule.rope_from or rule.rope_below)
)
SILENT = tuple(
    company
    for company in COMPANIES
    if company.style in SERIES_STYLES and not any(row.torque for rules in company.members for row in rules.rows)
)
(COUNTS_ONLY,) = (
    company for company in COMPANIES if company.ids == ("us-ca-8-8497",) and company.constructions[1:2] == ("8x19",)
)
MAKER = MakerFigures("invented sheet 5", "100 lbf·ft", "dry", "80 %")


def force_of(plan: Plan) -> Force:
    assert isinstance(plan.termination_breaking_force, Force)
    return plan.termination_breaking_force


def assert_no_strength(plan: Plan) -> None:
    """Neither strength nor efficiency nor working load, each with a reason, and a finding that says so."""
    for number in (plan.termination_breaking_force, plan.efficiency):
        assert isinstance(number, Absent)
        assert number.reason.strip()
    assert "" == plan.efficiency_basis
    assert "no-strength" in {finding.code for finding in plan.findings}
    for factor in (None, 5, 1000):
        with pytest.raises((AbsentError, Forbidden)):
            plan.working_load(factor)


@given(rated_requests())
def test_the_requests_that_these_laws_start_from_have_a_strength(request: Request) -> None:
    """The laws are not empty: before one thing is changed there is a strength, below that of the rope itself."""
    plan = planned(request)
    least = request.rope.minimum_breaking_force
    assert least is not None
    assert Force(0) < force_of(plan) < least
    assert isinstance(plan.working_load(), Force)


# --- never a strength ---


@given(rated_requests(uses=FORBIDDING), st.booleans())
def test_never_a_strength_for_a_forbidden_use(request: Request, by_maker: bool) -> None:
    """Never a strength for a forbidden use, whatever the clip's maker says."""
    plan = planned(attrs.evolve(request, maker=MAKER if by_maker else None))
    assert "forbidden" == plan.findings[0].kind
    assert not plan.usable
    assert_no_strength(plan)


@pytest.mark.parametrize("service", ["sling", "hoist-rope", "mine-hoist"])
@pytest.mark.parametrize("eye", [ThimbleEye(), LinkedEyes()], ids=["thimble eye", "linked eyes"])
def test_never_a_strength_for_a_service_that_the_rule_set_excludes(service: str, eye: Termination) -> None:
    """Never a strength for a forbidden use: here one that the rule set itself excludes, where no law is at hand."""
    rope = "13 mm 6x36WS IWRC 1770 new"
    assert force_of(planned(Request(rope, eye, "u-bolt", "en-13411-5", service="guy", jurisdiction="AU"))) > Force(0)
    plan = planned(Request(rope, eye, "u-bolt", "en-13411-5", service=service, jurisdiction="AU"))
    assert "service-outside-rules" in {finding.code for finding in plan.findings if finding.kind == "forbidden"}
    assert_no_strength(plan)


@given(rated_requests(), st.sampled_from(("used", "worn")), st.booleans())
def test_never_a_strength_for_used_rope(request: Request, condition: str, by_maker: bool) -> None:
    """Never a strength for used or worn rope."""
    rope = attrs.evolve(request.rope, condition=condition)
    assert_no_strength(planned(attrs.evolve(request, rope=rope, maker=MAKER if by_maker else None)))


@given(st.sampled_from(SILENT).flatmap(lambda company: requests(company=company, conditions=("new",))))
def test_never_a_strength_without_a_torque(request: Request) -> None:
    """Never a strength for an unknown torque: no rule set at hand prints one for the joint and no maker gives it."""
    plan = planned(request)
    assert isinstance(plan.torque, Absent)
    assert_no_strength(plan)
    assert "torque-missing" in {finding.code for finding in plan.findings}


@given(requests(style="u-bolt", most=1, conditions=("new",), company=COUNTS_ONLY))
def test_never_a_strength_for_a_rope_of_which_the_source_gives_counts_alone(request: Request) -> None:
    """Never a strength for an unknown torque: a torque that is printed for other ropes is none for this one."""
    rope = attrs.evolve(request.rope, construction="8x19")
    plan = planned(attrs.evolve(request, rope=rope))
    assert plan.members[0].row.torque is not None
    assert "counts-only" in {finding.code for finding in plan.findings}
    assert isinstance(plan.torque, Absent)
    assert_no_strength(plan)


@given(rated_requests(), st.sampled_from((SoftEye(), PulleyEye(), LapSplice())))
def test_never_a_strength_for_a_termination_that_no_source_names(request: Request, eye: Termination) -> None:
    """Never a strength for an unnamed termination: no source speaks of a soft eye, a pulley eye or a lap splice."""
    assert_no_strength(planned(attrs.evolve(request, termination=eye)))


@given(requests(kinds=("plate eye",), conditions=("new",)))
def test_never_a_strength_for_a_plate(request: Request) -> None:
    """Never a strength for an unnamed termination: no source rates a plate clip."""
    assert_no_strength(planned(request))


@given(rated_requests(), st.booleans(), st.booleans())
def test_never_a_strength_with_the_coating_left_on(request: Request, eye_too: bool, by_maker: bool) -> None:
    """Never a strength where the coating stays on under the clips."""
    seat = request.rope.diameter
    bare = Length(seat.nanometres * 7 // 8)
    rope = attrs.evolve(request.rope, diameter=bare, coating=Coating(seat, stripped=False, eye_stripped=eye_too))
    assert_no_strength(planned(attrs.evolve(request, rope=rope, maker=MAKER if by_maker else None)))


@given(rated_requests(uses=(("wedge-socket", "US"), ("wedge-socket", "US-WA"), ("wedge-socket", None))))
def test_never_a_strength_while_something_must_be_fixed(request: Request) -> None:
    """Never a strength with an open must-fix: here a rule of the service that every such joint breaks."""
    plan = planned(request)
    assert "must-fix" in {finding.kind for finding in plan.findings}
    assert not plan.usable
    assert_no_strength(plan)


@given(rated_requests(), st.floats(1.0001, 1000.0))
def test_never_a_strength_for_a_joint_that_is_overloaded(request: Request, over: float) -> None:
    """Never a strength with an open must-fix: a load above the working load is one, and the plan is not usable."""
    most = planned(request).working_load()
    plan = planned(attrs.evolve(request, load=Force(most.newtons * over)))
    assert "load-above-working-load" in {finding.code for finding in plan.findings if finding.kind == "must-fix"}
    assert not plan.usable
    assert_no_strength(plan)


@given(rated_requests(), st.floats(0.001, 0.9999))
def test_a_load_below_the_working_load_changes_nothing_but_the_request(request: Request, share: float) -> None:
    """A load that the joint may carry leaves strength and findings alone."""
    plan = planned(request)
    loaded = planned(attrs.evolve(request, load=Force(plan.working_load().newtons * share)))
    assert (plan.strength, plan.findings, True) == (loaded.strength, loaded.findings, loaded.usable)


@given(requests(own_size=True, conditions=("new",), coatings=("",)))
def test_never_a_strength_for_a_pairing_that_is_nobodys(request: Request) -> None:
    """Section 7, step 6: no strength where the user pairs clip and rope and the maker gives no rating."""
    assert_no_strength(planned(request))


# --- working load ---


@given(rated_requests(), st.fractions(0, 1))
def test_a_working_load_refuses_a_factor_below_the_cited_one(request: Request, part: Fraction) -> None:
    """Section 7, step 6: a design factor below the service's cited one refuses and names the citation."""
    plan = planned(request)
    cited = plan.service.design_factor
    assert isinstance(cited, Cited)
    below = 1 + (cited.value - 1) * part
    if below == cited.value:
        return
    with pytest.raises(InputError) as caught:
        plan.working_load(below)
    assert caught.value.citation
    assert "design_factor" == caught.value.field


@given(rated_requests(), st.fractions(1, 50))
def test_a_greater_design_factor_never_raises_the_working_load(request: Request, times: Fraction) -> None:
    """Section 7, step 6: at the cited factor the working load is the breaking force over it; above it, no more."""
    plan = planned(request)
    cited = plan.service.design_factor
    assert isinstance(cited, Cited)
    assert force_of(plan).newtons / float(cited.value) == plan.working_load().newtons
    assert plan.working_load(cited.value * times) <= plan.working_load(cited.value) == plan.working_load()


@given(rated_requests(uses=((None, "US"), (None, None))), st.fractions(1, 50))
def test_without_a_service_there_is_no_factor_to_cite_and_no_working_load(request: Request, factor: Fraction) -> None:
    """Section 7, step 6: a working load without a cited design factor refuses, whatever factor is given."""
    with pytest.raises(AbsentError):
        planned(request).working_load(factor)


@given(
    rated_requests(), st.sampled_from((0, 0.5, -5, float("nan"), float("inf"), True, False, Fraction(-1), Fraction(0)))
)
def test_a_design_factor_that_is_none_is_refused(request: Request, factor: float | Fraction) -> None:
    """Section 9: a factor that is no finite number of one or more refuses, a bool too."""
    with pytest.raises(TurnbackError):
        planned(request).working_load(factor)


# --- what never raises it ---


@given(rated_requests(), st.floats(1.0, 3.0))
def test_an_actual_breaking_force_never_raises_the_result(request: Request, over: float) -> None:
    """Section 7, step 6: an actual value on a certificate is recorded, never used upward."""
    least = request.rope.minimum_breaking_force
    assert least is not None
    rope = attrs.evolve(request.rope, actual_breaking_force=Force(least.newtons * over))
    plan, recorded = planned(request), planned(attrs.evolve(request, rope=rope))
    assert plan.strength == recorded.strength
    assert "actual-force-recorded" in {finding.code for finding in recorded.findings}


@given(rated_requests(), st.fractions(Fraction(1, 100), 1))
def test_an_efficiency_of_the_clip_maker_never_raises_the_result(request: Request, share: Fraction) -> None:
    """Section 5: the lowest efficiency governs; a maker's figure above it changes nothing, one below it lowers it."""
    by_maker = planned(attrs.evolve(request, maker=MakerFigures("invented sheet 10", efficiency=share)))
    plan = planned(request)
    assert isinstance(plan.efficiency, Fraction)
    assert min(share, plan.efficiency) == by_maker.efficiency
    assert force_of(by_maker) <= force_of(plan)


@given(rated_requests(), st.integers(1, 20))
def test_extra_clips_never_lower_anything(request: Request, more: int) -> None:
    """Section 10: extra clips never lower the count, the turn-back, the torque or the strength, and never raise it."""
    plan, extra = planned(request), planned(attrs.evolve(request, extra_clips=request.extra_clips + more))
    assert plan.clip_count + more == extra.clip_count
    assert (plan.torque, plan.strength, plan.usable) == (extra.torque, extra.strength, extra.usable)
    if not isinstance(plan.turn_back, Absent):
        assert isinstance(extra.turn_back, Length)
        assert extra.turn_back >= plan.turn_back


@given(rated_requests())
def test_a_governing_plan_is_never_stronger_than_any_member_alone(request: Request) -> None:
    """Section 5: governing takes the lowest efficiency, each member's own basis resolved first."""
    plan = planned(request)
    for member in plan.members:
        alone = planned(attrs.evolve(request, rules=member.rules)).termination_breaking_force
        assert isinstance(alone, Absent) or force_of(plan) <= alone


@given(rated_requests())
def test_an_upper_bound_is_never_used_as_a_value(request: Request) -> None:
    """Section 5: "at best 85 %" is an upper bound, never a value, and the efficiency never goes above it."""
    plan = planned(request)
    for member in plan.members:
        most = member.rules.efficiency_at_most
        if most is not None:
            assert isinstance(plan.efficiency, Fraction)
            assert plan.efficiency < most.value
            assert plan.efficiency_basis != member.rules.id
