"""Design, section 3: public objects are frozen, hashable, comparable, picklable, and copied with attrs.evolve."""

from __future__ import annotations

import copy
import pickle

import attrs
import pytest
from hypothesis import given, settings
from tests.strategies import CATALOGUE, PLUGINS, planned, requests

from turnback.planning.request import Request
from turnback.rules.catalogue import Catalogue


@settings(max_examples=settings().max_examples // 2)
@given(requests(maker=None))
def test_a_plan_goes_through_pickle_and_comes_back_equal(request: Request) -> None:
    """Plans pickle: equal, with an equal hash, before and after what is made on demand was made."""
    plan = planned(request)
    fresh = pickle.loads(pickle.dumps(plan))
    made = (plan.derivations, plan.marks, plan.procedure, plan.bill, plan.citations)
    used = pickle.loads(pickle.dumps(plan))
    assert plan == fresh == used
    assert hash(plan) == hash(fresh) == hash(used)
    for other in (fresh, used):
        assert made == (other.derivations, other.marks, other.procedure, other.bill, other.citations)


@given(requests(maker=None))
def test_plans_of_equal_requests_are_equal_and_hash_alike(request: Request) -> None:
    """Plans compare and hash: by what they say, not by who made them."""
    one, other = planned(request), planned(copy.deepcopy(request))
    assert one == other
    assert 1 == len({one, other})
    assert str(one) == str(other)


@given(requests(kinds=("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice")))
def test_plans_of_different_requests_are_different(request: Request) -> None:
    """Plans compare: one clip more is another plan."""
    assert planned(request) != planned(attrs.evolve(request, extra_clips=request.extra_clips + 1))


@given(requests(maker=None, own_size=True))
def test_evolve_without_a_change_is_the_same_value(request: Request) -> None:
    """attrs.evolve identity: rebuilding a value from its own fields changes nothing, for the parts of a plan too."""
    plan = planned(request)
    values: list[object] = [request, request.rope, request.termination, plan, plan.layout, plan.strength]
    values += [plan.demand, plan.geometry, plan.layout_demand, plan.service, *plan.findings, *plan.members, *plan.clips]
    values += [*plan.derivations, *plan.marks, *plan.procedure, plan.bill, plan.joint]
    if request.rope.coating is not None:
        values.append(request.rope.coating)
    for value in values:
        rebuilt: object = attrs.evolve(value)  # type: ignore[misc]  # any attrs class
        assert value == rebuilt
        assert hash(value) == hash(rebuilt)


@given(requests(maker=True))
def test_nothing_of_a_plan_can_be_changed(request: Request) -> None:
    """Public objects are frozen: no field of a plan, a request or a rope takes another value."""
    plan = planned(request)
    for value in (plan, request, request.rope, request.termination, request.maker, plan.layout, plan.findings[0]):
        assert value is not None
        names = [field.name for field in attrs.fields(type(value))]
        for name in [*names, "something_else"]:
            with pytest.raises((AttributeError, TypeError)):
                setattr(value, name, None)


@pytest.mark.parametrize("copied", [copy.copy, copy.deepcopy, lambda c: pickle.loads(pickle.dumps(c))])
def test_a_catalogue_is_a_value(copied: object) -> None:
    """Section 6: Catalogue.of builds one explicitly; it is copied, pickled and compared by what it holds."""
    assert callable(copied)
    assert CATALOGUE == copied(CATALOGUE) == Catalogue.of(*PLUGINS)
    assert hash(CATALOGUE) == hash(copied(CATALOGUE))
