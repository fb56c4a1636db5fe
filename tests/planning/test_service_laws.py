"""Laws of the service rules: whatever is asked, they hold."""

from __future__ import annotations

import pickle
from fractions import Fraction

import attrs
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.model.absent import Absent
from turnback.model.findings import KINDS
from turnback.model.rope import Rope
from turnback.model.sources import user_citation
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.service import ServiceBook, ServiceDemands
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


def factor(demands: ServiceDemands) -> Fraction:
    assert not isinstance(demands.design_factor, Absent)
    return demands.design_factor.value


RESISTANT = attrs.evolve(ROPE, rotation_resistant=True)
ORDINARY = attrs.evolve(ROPE, rotation_resistant=False)
ropes = st.sampled_from(
    [ROPE, RESISTANT, ORDINARY, Rope("1/4 in"), Rope("1-1/2 in", "19x7"), Rope("8 mm", grade="1770")]
)
terminations = st.sampled_from(
    [
        ThimbleEye(),
        SoftEye(),
        SoftEye(pin="1 in"),
        PulleyEye(),
        LinkedEyes(),
        LapSplice(),
        PlateEye(SoftEye(pin="4 in")),
    ]
)
styles = st.sampled_from(["u-bolt", "mirrored-saddle", "single-plate"])
services = st.sampled_from([None, *BOOK.services])
places = st.sampled_from(BOOK.jurisdictions)


@settings(deadline=None)
@given(services, places, ropes, styles, terminations)
def test_no_jurisdiction_is_at_least_as_strict_as_any(
    service: str | None, place: str, rope: Rope, style: str, termination: Termination
) -> None:
    one = ask(service, place, rope=rope, style=style, termination=termination)
    every = ask(service, rope=rope, style=style, termination=termination)
    asked = {each for each in one.findings if each.code not in ("service-not-stated", "nothing-read-for-service")}
    assert asked <= set(every.findings)
    assert set(one.spacing) <= set(every.spacing)
    assert {each.value for each in one.retorque} <= {each.value for each in every.retorque}
    if one.count_floor is not None:
        assert every.count_floor is not None
        assert one.count_floor.value <= every.count_floor.value
    if service is not None and not isinstance(one.design_factor, Absent):
        assert factor(one) <= factor(every)


@settings(deadline=None)
@given(services, st.sampled_from(["US-CA", "US-WA", "US-MI"]), ropes, styles, terminations)
def test_a_state_takes_the_rules_of_its_federation(
    service: str | None, state: str, rope: Rope, style: str, termination: Termination
) -> None:
    federal = ask(service, "US", rope=rope, style=style, termination=termination)
    own = ask(service, state, rope=rope, style=style, termination=termination)
    apart = ("service-not-stated", "nothing-read-for-service")
    assert {each for each in federal.findings if each.code not in apart} <= set(own.findings)


@settings(deadline=None)
@given(services, st.none() | places, ropes, styles, terminations, st.randoms(use_true_random=False))
def test_the_order_of_the_rules_changes_nothing_but_the_order_of_the_findings(
    service: str | None, place: str | None, rope: Rope, style: str, termination: Termination, random: object
) -> None:
    rules = list(service_rules())
    random.shuffle(rules)  # type: ignore[attr-defined]  # hypothesis gives a random.Random
    book = ServiceBook.of(rules, design_factors())
    one = ask(service, place, rope=rope, style=style, termination=termination)
    other = ask(service, place, book=book, rope=rope, style=style, termination=termination)
    assert sorted(each.code for each in one.findings) == sorted(each.code for each in other.findings)
    assert [each.kind for each in one.findings] == [each.kind for each in other.findings]
    for field in ("count_floor", "efficiency_at_least"):
        first, second = getattr(one, field), getattr(other, field)
        assert (first and first.value) == (second and second.value)
    assert set(one.spacing) == set(other.spacing)
    assert [each.value for each in one.retorque] == [each.value for each in other.retorque]


@settings(deadline=None)
@given(services, st.none() | places, ropes, styles, terminations)
def test_findings_stand_by_gravity_and_an_answer_does_not_depend_on_the_ones_before(
    service: str | None, place: str | None, rope: Rope, style: str, termination: Termination
) -> None:
    demands = ask(service, place, rope=rope, style=style, termination=termination)
    fresh = ServiceBook.of(service_rules(), design_factors())
    assert demands == ask(service, place, book=fresh, rope=rope, style=style, termination=termination)
    ranks = [KINDS.index(each.kind) for each in demands.findings if each.code != "service-not-stated"]
    assert ranks == sorted(ranks)
    assert demands == pickle.loads(pickle.dumps(demands))
    assert isinstance(hash(demands), int)


def test_a_book_is_equal_to_its_copy_whatever_was_asked_of_it() -> None:
    fresh = ServiceBook.of(service_rules(), design_factors())
    copy = pickle.loads(pickle.dumps(BOOK))
    assert (True, True) == (fresh == BOOK, copy == BOOK)
    assert hash(fresh) == hash(BOOK)
    assert ask("sling", book=copy) == ask("sling")
