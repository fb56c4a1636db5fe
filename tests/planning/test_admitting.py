"""One checker for plans: what a rule set says of a plan made under another."""

from __future__ import annotations

import pytest

import turnback as tb

ROPE = tb.Rope("3/4 in", construction="6x19", core="IWRC", grade="EIP")


def planned(rules: str, extra: int = 0, base: str | None = None) -> tb.Plan:
    return tb.plan(
        ROPE, tb.ThimbleEye(), style="u-bolt", rules=rules, clip_body="forged", extra_clips=extra, base_width=base
    )


def rule_set(name: str) -> tb.RuleSet:
    return tb.Catalogue.installed().rule_set(name)


def test_a_plan_is_admitted_by_its_own_rule_set() -> None:
    found = tb.admits(rule_set("us-ca-8-8497"), planned("us-ca-8-8497"))
    assert found
    assert found.admitted
    assert () == found.breaches
    assert "us-ca-8-8497 admits it" == str(found)


def test_another_rule_set_names_the_clause_that_is_broken() -> None:
    """8 CCR 8497, Table 1 prints 4 clips for 3/4 in; NAVEDTRA 14026 prints 3 x D + 1: 3.25, so 4, next whole number."""
    rules = rule_set("us-ca-8-8497")
    more = tb.admits(rules, planned("us-navy-14026", base="2 in"))
    # The navy's rule gives the clips a spacing of six diameters, 4-1/2 in: 2 x 2 + 3 x 4-1/2 = 17-1/2 in, and Table 1
    # prints 18 in.
    assert not more
    assert ("turn-back",) == tuple(each.clause for each in more.breaches)
    assert "does not admit it: turn-back" in str(more)


def test_a_rule_set_for_another_rope_or_style_says_so() -> None:
    metric = tb.admits(rule_set("en-13411-5"), planned("us-ca-8-8497"))
    assert not metric
    assert not metric.admitted
    plates = tb.admits(rule_set("common-practice-single-plate"), planned("us-ca-8-8497"))
    assert "it is for single-plate, the plan for u-bolt" == plates.outside
    assert "does not speak of it" in str(plates)


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ("us-ca-8-8497", r"Catalogue.installed\(\).rule_set\(ID\), or read_rules\(FILE\)"),
        (tb.governing("us-ca-8-8497", "us-navy-14026"), "of several ask one by one"),
        (None, "this is no rule set"),
    ],
)
def test_what_is_no_rule_set_is_told_and_what_to_write(rules: object, told: str) -> None:
    with pytest.raises(tb.InputError, match=told) as caught:
        tb.admits(rules, planned("us-ca-8-8497"))  # type: ignore[arg-type]  # a caller without a type checker
    assert "rules" == caught.value.field


def test_what_is_no_plan_is_told() -> None:
    with pytest.raises(tb.InputError, match="this is no plan") as caught:
        tb.admits(rule_set("us-ca-8-8497"), "3/4 in")  # type: ignore[arg-type]  # a caller without a type checker
    assert "plan" == caught.value.field
