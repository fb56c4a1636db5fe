"""The law of comparison: it never says less than each rule set alone, and it calls a conflict what is one."""

from __future__ import annotations

from itertools import combinations

import attrs
from hypothesis import given
from tests.strategies import CATALOGUE, requests

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.review.clashes import clashes_of
from turnback.review.comparison import compare_request
from turnback.rules.admission import breaches
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import governing


def alone(request: Request, rules: RuleSet) -> Plan | str:
    try:
        return plan_request(attrs.evolve(request, rules=rules), CATALOGUE)
    except TurnbackError as error:
        return str(error)


@given(requests(most=1, maker=None))
def test_compare_never_says_less_than_each_rule_set_alone(request: Request) -> None:
    found = compare_request(request, catalogue=CATALOGUE)
    answers = {answer.rules.id: answer for answer in found.answers}
    refusals = {refusal.rules.id: refusal for refusal in found.refusals}
    under = {rules_id: {finding for finding, ids in found.findings if rules_id in ids} for rules_id in answers}
    assert not answers.keys() & refusals.keys()
    for rules in CATALOGUE.for_style(request.style):
        expected = alone(request, rules)
        if isinstance(expected, str):
            assert expected == refusals[rules.id].reason
            continue
        answer = answers[rules.id]
        assert expected == answer.plan
        assert set(expected.findings) == under[rules.id]
        assert str(expected.clip_count) == answer.about("count").text
        for item, number in (
            ("turn-back", expected.turn_back),
            ("spacing", expected.spacing),
            ("torque", expected.torque),
            ("threads", expected.thread_condition),
            ("breaking force", expected.termination_breaking_force),
        ):
            said = next(each for each in answer.said if each.item == item)
            assert isinstance(number, Absent) is not said.says
            assert (number.reason if isinstance(number, Absent) else str(number)) in said.text
        assert expected.usable is (rules.id in found.usable)


@given(requests(most=1))
def test_every_company_satisfies_every_member_and_asks_for_no_less(request: Request) -> None:
    found = compare_request(request, catalogue=CATALOGUE)
    placed = {rules_id for company in found.together for rules_id in company.ids}
    assert {answer.rules.id for answer in found.answers} == placed
    for company in found.together:
        for member, answer in zip(company.plan.members, company.answers, strict=True):
            assert member.rules.id == answer.rules.id
            assert () == breaches(member.rules, company.plan.joint, member.verdict.counts_only)
            assert company.plan.clip_count >= answer.plan.clip_count
            if isinstance(company.plan.turn_back, Length) and isinstance(answer.plan.turn_back, Length):
                assert company.plan.turn_back >= answer.plan.turn_back
        # Nobody who could still join was left out.
        for other in found.answers:
            if other.rules.id not in company.ids:
                assert isinstance(_by_all(request, (*company.ids, other.rules.id)), str)


@given(requests(most=1, maker=None))
def test_two_rule_sets_clash_exactly_where_no_plan_by_both_exists(request: Request) -> None:
    found = compare_request(request, catalogue=CATALOGUE)
    for one, other in combinations(found.answers, 2):
        ids = (one.rules.id, other.rules.id)
        named = [clash for clash in found.clashes if ids == clash.rules]
        refused = isinstance(_by_all(request, ids), str)
        assert refused is bool(named), named
        assert clashes_of(one, other) == tuple(each for each in named if each in clashes_of(one, other))
        for clash in named:
            assert 2 == len(clash.citations)
            assert clash.instead


def _by_all(request: Request, ids: tuple[str, ...]) -> Plan | str:
    try:
        return plan_request(attrs.evolve(request, rules=governing(*ids)), CATALOGUE)
    except TurnbackError as error:
        return str(error)
