"""The numbers that a service asks for. Expected values are those of the paragraphs named beside them."""

from __future__ import annotations

from fractions import Fraction

import attrs
import pytest

from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.sources import user_citation
from turnback.model.terminations import (
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.service import ServiceBook, ServiceDemands
from turnback.rules.service import DesignFactor, ServiceRule
from turnback.rules.servicefile import design_factors, service_rules

BOOK = ServiceBook.of(service_rules(), design_factors())
ROPE = Rope("1/2 in", construction="6x19", core="IWRC", grade="EIP")
HERE = user_citation("an invented paragraph for this test")


def ask(
    service: str | None,
    jurisdiction: str | None = None,
    *,
    book: ServiceBook = BOOK,
    rope: Rope = ROPE,
    style: str = "u-bolt",
    termination: Termination | None = None,
) -> ServiceDemands:
    return book.demands(
        service=service,
        jurisdiction=jurisdiction,
        rope=rope,
        style_id=style,
        termination=ThimbleEye() if termination is None else termination,
    )


def kinds(demands: ServiceDemands) -> dict[str, str]:
    return {finding.code: finding.kind for finding in demands.findings}


def factor(demands: ServiceDemands) -> Fraction:
    assert not isinstance(demands.design_factor, Absent)
    return demands.design_factor.value


def cited(demands: ServiceDemands) -> str:
    assert not isinstance(demands.design_factor, Absent)
    return "; ".join(str(each) for each in demands.design_factor.citations)


@pytest.mark.parametrize(
    ("service", "jurisdiction", "diameter", "count"),
    [
        ("scaffold-suspension", "US", "1/2 in", 3),  # 29 CFR 1926.451(d)(12)
        ("scaffold-suspension", "DE", "1/2 in", None),
        ("logging-wrap", "US-WA", "63/64 in", 2),  # WAC 296-54-569(5)(b)
        ("logging-wrap", "US-WA", "1 in", 3),
        ("logging-wrap", None, "25.3 mm", 2),
        ("elevator-residence", "US-WA", "1/2 in", 3),  # WAC 296-96-24660
        ("sling", "DE", "1/2 in", 4),  # DGUV Information 209-013, the exception
        ("towline", "US", "1/2 in", 5),  # 33 CFR 164.74, the exception
        ("guy", None, "1/2 in", None),
    ],
)
def test_the_least_count(service: str, jurisdiction: str | None, diameter: str, count: int | None) -> None:
    found = ask(service, jurisdiction, rope=Rope(diameter)).count_floor
    assert count == (None if found is None else found.value)


def test_the_greatest_of_several_least_counts_stands_with_all_who_print_it() -> None:
    other = user_citation("another invented paragraph")
    rules = [
        ServiceRule("guy", place, "floor", "Invented.", who, f"invented-{number}", clip_count_at_least=count)
        for number, (place, count, who) in enumerate((("US", 3, HERE), ("DE", 5, HERE), ("AU", 5, other)))
    ]
    book = ServiceBook.of(rules, ())
    found = ask("guy", book=book).count_floor
    assert found is not None
    assert (5, (HERE, other)) == (found.value, found.citations)


def test_the_distances_of_scaffolds_and_elevators() -> None:
    # 29 CFR 1926.451(d)(12): at least 6 diameters; Construction Code B-1.1, r. 2, s. 4.20: not more than 6.
    found = {
        service: [(b.bound, b.length.nanometres(ROPE.diameter, None)) for b in ask(service).spacing if b.length]
        for service in ("scaffold-suspension", "elevator", "guy")
    }
    three_inches = Fraction(3 * 25_400_000)
    assert {
        "scaffold-suspension": [("least", three_inches)],
        "elevator": [("greatest", three_inches)],
        "guy": [],
    } == found


def test_when_to_tighten_again_each_word_once_with_all_who_ask() -> None:
    first, shift = ask("scaffold-suspension").retorque
    assert ("after the first load", "each shift") == (first.value, shift.value)
    # 29 CFR 1926.451(d)(12) and WAC 296-155-33915(1).
    assert ["1926.451(d)(12)", "WAC 296-155-33915(1)"] == [each.locator for each in first.citations]
    assert ["1926.451(d)(12)"] == [each.locator for each in shift.citations]
    assert () == ask("scaffold-suspension", "DE").retorque
    assert ["after the first load"] == [each.value for each in ask("guy", "US-WA").retorque]


def test_the_connection_of_platforms_and_mine_hoists_holds_eighty_per_cent() -> None:
    # 29 CFR 1910.66; 30 CFR 57.19025.
    for service in ("powered-platform", "mine-hoist"):
        found = ask(service, "US").efficiency_at_least
        assert found is not None
        assert Fraction(4, 5) == found.value
    assert ask("hoist-rope", "US").efficiency_at_least is None


def test_the_tables_that_a_paragraph_points_to() -> None:
    assert [("us-osha-1926-251",)] == [each.value for each in ask("construction-eye", "US").rule_sets]
    assert [("us-ca-8-8497", "us-ca-8-8497-t2")] == [each.value for each in ask("tunnel-hoist", "US-CA").rule_sets]
    assert () == ask("construction-eye", "US", style="mirrored-saddle").rule_sets


def test_forged_clips_are_confirmed_where_loads_are_hoisted() -> None:
    found = ask("hoist-rope", "DE").forged_confirm
    assert found is not None
    assert ("confirm", ["memory", "common practice"]) == (found.kind, [each.status for each in found.citations])
    assert "forged-clips-only" not in kinds(ask("hoist-rope", "DE"))
    assert ask("guy").forged_confirm is None
    assert ask(None).forged_confirm is None


# Design factors

RESISTANT = attrs.evolve(ROPE, rotation_resistant=True)
ORDINARY = attrs.evolve(ROPE, rotation_resistant=False)


@pytest.mark.parametrize(
    ("service", "jurisdiction", "rope", "expected", "place"),
    [
        ("guy", "CA-AB", ROPE, "3", "292.1(1)(d)"),
        ("pendant", "CA-AB", ROPE, "3", "292.1(1)(d)"),
        ("guy", "US", ROPE, "5", "1917.42(b)(1)"),  # nothing specific: wire rope in general
        ("guy", None, ROPE, "5", "WAC 296-24-29401"),  # the greater of 3 and 5
        ("hoist-rope", "CA-AB", ROPE, "5", "292.1(1)(b)"),  # the stricter of 5 and 3.5
        ("scaffold-suspension", "US", ROPE, "6", "1926.451(a)(4)"),
        ("scaffold-suspension", "US-WA", ROPE, "6", "1926.451(a)(4)"),
        ("scaffold-suspension", "US-CA", ROPE, "6", "1926.451(a)(4)"),
        ("powered-platform", "US", ROPE, "10", "1910.66"),
        ("tunnel-hoist", "US-CA", ROPE, "10", "section 8497(a)"),
        ("tunnel-hoist", "US", ROPE, "10", "8497"),  # none read there, and California asks for more than for any rope
        ("mine-hoist", "US-CA", ROPE, "8", "section 7135"),
        ("personnel-platform", "US", ORDINARY, "5", "1926.1431(g)"),
        ("personnel-platform", "US", RESISTANT, "10", "1926.1431(g)"),
        ("personnel-platform", "US", ROPE, "10", "1926.1431(g)"),  # not known: the stricter
        ("personnel-platform", "CA-AB", ORDINARY, "10", "292(1)"),
        ("personnel-platform", None, ORDINARY, "10", "292(1)"),
        ("lifeline-horizontal", "US", ROPE, "5", "1917.42(b)(1)"),  # 2 is of the whole system
        ("general", "US-MI", ROPE, "5", "R 408.15226"),
        ("general", "CA-AB", ROPE, "5", "292(1)"),
        ("general", None, ROPE, "5", "R 408.15226"),
    ],
)
def test_the_design_factor(service: str, jurisdiction: str | None, rope: Rope, expected: str, place: str) -> None:
    demands = ask(service, jurisdiction, rope=rope)
    assert Fraction(expected) == factor(demands)
    assert place in cited(demands)


def test_what_a_request_does_not_tell_apart_is_said() -> None:
    how = {
        service: found.how
        for service in ("tunnel-hoist", "mine-hoist")
        if not isinstance(found := ask(service, "US-CA").design_factor, Absent)
    }
    assert "material has 5" in how["tunnel-hoist"]
    assert "does not give the depth" in how["mine-hoist"]


def test_a_factor_from_elsewhere_says_so() -> None:
    found = ask("mine-hoist", "US").design_factor
    assert not isinstance(found, Absent)
    assert Fraction(8) == found.value
    assert "No factor for mine-hoist was read for US" in found.how
    assert "elsewhere" in found.how


@pytest.mark.parametrize("service", ["guy", "general", "mine-hoist"])
@pytest.mark.parametrize("place", ["DE", "AU", "CA-QC", "CA-NB"])
def test_where_no_factor_was_read_there_is_none_to_cite(service: str, place: str) -> None:
    found = ask(service, place).design_factor
    assert isinstance(found, Absent)
    assert place in found.reason


def test_rotation_resistance_that_is_not_known_is_confirmed() -> None:
    assert "rotation-resistance-not-known" in kinds(ask("personnel-platform", "US"))
    assert "rotation-resistance-not-known" not in kinds(ask("personnel-platform", "US", rope=ORDINARY))
    assert "rotation-resistance-not-known" not in kinds(ask("personnel-platform", "US", rope=Rope("1/2 in", "19x7")))


def test_without_any_factor_at_hand_it_is_absent() -> None:
    assert isinstance(ask("guy", book=ServiceBook.of(service_rules(), ())).design_factor, Absent)


# What a plugin adds


def test_a_plugin_adds_services_and_jurisdictions() -> None:
    rule = ServiceRule(
        "kite-line",
        "XX-YY",
        "floor",
        "Invented.",
        HERE,
        "invented",
        terminations=("soft eye",),
        clip_count_at_least=4,
        design_factor=Fraction(7),
    )
    book = ServiceBook.of((*service_rules(), rule), design_factors())
    assert {"kite-line"} == set(book.services) - set(BOOK.services)
    assert {"XX-YY"} == set(book.jurisdictions) - set(BOOK.jurisdictions)
    demands = ask("kite-line", "XX-YY", book=book, termination=SoftEye())
    assert (4, Fraction(7)) == (demands.count_floor and demands.count_floor.value, factor(demands))
    # The rule speaks of soft eyes alone.
    assert ask("kite-line", "XX-YY", book=book).count_floor is None


def test_a_factor_for_every_service_of_a_place() -> None:
    rule = ServiceRule("any", "AU", "required", "Invented.", HERE, "invented", design_factor=Fraction(9))
    assert Fraction(9) == factor(ask("guy", "AU", book=ServiceBook.of((rule,), design_factors())))
    alone = DesignFactor("an invented use", (), "AU", Fraction(9), "Invented.", HERE)
    assert isinstance(ask("guy", "AU", book=ServiceBook.of((), (*design_factors(), alone))).design_factor, Absent)
