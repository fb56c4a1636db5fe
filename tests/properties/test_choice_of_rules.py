"""Design, section 10: governing is idempotent, commutative and associative as a set; first_of takes the first."""

from __future__ import annotations

from itertools import permutations

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, COMPANIES, planned, requests

from turnback.errors import OutOfScope, OutOfTable, TurnbackError
from turnback.model.absent import Absent
from turnback.model.terminations import ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.selection import RulesChoice, choice_text, first_of, governing, parse_choice

IDS = tuple(rules.id for rules in CATALOGUE.rule_sets)
U_BOLT = tuple(rules.id for rules in CATALOGUE.for_style("u-bolt"))
some_ids = st.lists(st.sampled_from(IDS), min_size=1, max_size=5)
TRIPLES = sorted({company.ids for company in COMPANIES if len(company.members) == 3})


def answer(plan: Plan) -> tuple[object, ...]:
    """All of a plan but the name that the rules were called by."""
    named = attrs.evolve(plan.request, rules=None)
    return named, plan.members, plan.demand, plan.layout, plan.geometry, plan.strength, plan.findings


def under(request: Request, rules: RulesChoice) -> tuple[object, ...]:
    """The answer under a choice of rules, or the error."""
    try:
        return answer(planned(attrs.evolve(request, rules=rules)))
    except TurnbackError as error:
        return type(error), str(error)


# --- as a choice ---


@given(st.sampled_from(IDS) | st.sampled_from(CATALOGUE.rule_sets))
def test_governing_of_one_is_that_one(one: RulesChoice) -> None:
    """Governing: governing(a) is a, and so is first_of(a)."""
    assert one is governing(one)
    assert one is governing(one, one)
    assert one is first_of(one)


@given(some_ids)
def test_governing_is_idempotent(ids: list[str]) -> None:
    """Governing: naming a member twice, or governing what governs already, changes nothing."""
    once = governing(*ids)
    assert once == governing(*ids, *ids) == governing(once) == governing(once, once) == governing(once, ids[0])


@given(some_ids)
def test_governing_is_commutative(ids: list[str]) -> None:
    """Governing: the order in which the members are named does not matter."""
    assert {governing(*ids)} == {governing(*other) for other in permutations(ids)}


@given(some_ids, some_ids, some_ids)
def test_governing_is_associative(a: list[str], b: list[str], c: list[str]) -> None:
    """Governing: how the members are nested does not matter."""
    flat = governing(*a, *b, *c)
    assert flat == governing(governing(*a, *b), *c) == governing(*a, governing(*b, *c))
    assert flat == governing(governing(*a), governing(*b), governing(*c))


@given(some_ids)
def test_a_choice_is_read_back_from_its_text(ids: list[str]) -> None:
    """Section 13: governing and rules="a+b" are the same thing; first_of is "a,b"."""
    assert governing(*ids) == parse_choice("+".join(ids)) == parse_choice(choice_text(governing(*ids)))
    assert first_of(*ids) == parse_choice(",".join(ids)) == parse_choice(choice_text(first_of(*ids)))


# --- as a plan ---


@given(requests(least=2))
def test_a_governing_plan_does_not_depend_on_order_nesting_or_repetition(request: Request) -> None:
    """Governing: idempotent, commutative, associative as a set, in the plan itself."""
    ids = [member.rules.id for member in planned(request).members]
    expected = under(request, governing(*ids))
    assert expected == under(request, "+".join(reversed(ids)))
    assert expected == under(request, governing(ids[0], governing(*reversed(ids)), ids[-1]))
    assert expected == under(request, governing(*(CATALOGUE.rule_set(each) for each in ids)))
    assert expected == under(request, governing(CATALOGUE.rule_set(ids[0]), *ids))


@given(requests(style="u-bolt", most=1), st.lists(st.sampled_from(U_BOLT), min_size=2, max_size=3, unique=True))
def test_a_conflict_does_not_depend_on_the_order_of_the_members_either(request: Request, ids: list[str]) -> None:
    """Governing: whether a set can be met at all, and what the error says, does not depend on the order."""
    expected = under(request, "+".join(ids))
    for other in permutations(ids):
        assert expected == under(request, "+".join(other))


@given(requests(most=1))
def test_a_plan_under_governing_of_one_is_the_plan_under_that_one(request: Request) -> None:
    """Governing: governing(a) is a, in the plan itself."""
    (member,) = planned(request).members
    assert under(request, member.rules) == under(request, governing(member.rules.id, member.rules))


@given(requests(least=2, measured=True))
def test_a_governing_plan_asks_for_no_less_than_any_member_alone(request: Request) -> None:
    """Section 5: the count is the largest and the turn-back the longest that any member alone asks for."""
    together = planned(request)
    for member in together.members:
        alone = planned(attrs.evolve(request, rules=member.rules.id))
        assert together.clip_count >= alone.clip_count
        if isinstance(alone.turn_back, Absent):
            # It gives the number of clips alone for this rope, so that it asks for no length.
            assert member.verdict.counts_only
            continue
        assert isinstance(together.turn_back, Length)
        assert together.turn_back >= alone.turn_back


# --- first of ---


def refusal(request: Request, rules_id: str) -> str:
    """Why a rule set alone does not cover the rope; empty where it does, whatever else is wrong."""
    try:
        planned(attrs.evolve(request, rules=rules_id))
    except (OutOfScope, OutOfTable) as error:
        return str(error)
    except TurnbackError:
        pass
    return ""


@given(requests(style="u-bolt", most=1), st.permutations(U_BOLT))
def test_first_of_takes_the_first_that_covers_and_reports_the_skipped(request: Request, ids: list[str]) -> None:
    """First of: the first whose scope covers the rope, and every one before it with the reason."""
    request = attrs.evolve(request, base_width=None)
    reasons = [(each, refusal(request, each)) for each in ids]
    taken = next(i for i, (_, reason) in enumerate(reasons) if not reason)
    plan = planned(attrs.evolve(request, rules=first_of(*ids)))
    assert [ids[taken]] == [member.rules.id for member in plan.members]
    assert tuple(reasons[:taken]) == plan.skipped
    told = [finding.text for finding in plan.findings if finding.code == "rule-set-skipped"]
    assert taken == len(told)
    assert all(any(each in text and reason in text for text in told) for each, reason in plan.skipped)


@given(st.integers(90, 280))
def test_first_of_that_covers_nothing_says_why_of_each(millimetres: int) -> None:
    """First of: where none covers the rope the error carries the reason of every one."""
    request = Request(f"{millimetres} mm", ThimbleEye(), "u-bolt", first_of(*U_BOLT))
    with pytest.raises(OutOfScope) as caught:
        planned(request)
    for each in U_BOLT:
        assert each in str(caught.value)


@given(requests(least=2, measured=True), st.data())
def test_first_of_inside_governing_is_resolved_before_anything_is_weighed(
    request: Request, data: st.DataObject
) -> None:
    """Section 5: governing resolves first_of first; the answer is that of the members that were taken."""
    plan = planned(request)
    ids = [member.rules.id for member in plan.members]
    other = data.draw(st.sampled_from(ids))
    nested = under(request, governing(first_of(ids[0], other), *ids[1:]))
    assert under(request, governing(*ids)) == nested
