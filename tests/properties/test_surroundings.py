"""Design, section 10: load order, hash seed, locale and thread change nothing; nor does what was planned before."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import permutations
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, PLUGINS, planned, requests

from turnback.errors import TurnbackError
from turnback.planning import case
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.rules.catalogue import Catalogue

MANY = """
import locale, sys
import turnback as tb
from turnback.output.interchange import plan_document, to_text
try:
    locale.setlocale(locale.LC_ALL, "")
except locale.Error:
    pass
thimble = tb.ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
inch = dict(style="u-bolt", clip_body="forged", base_width="2-1/4 in")
rope = "3/4 in 6x19 IWRC EIP"
small, metric = "1/2 in 6x19 IWRC EIP", "13 mm 6x36WS IWRC 1960"
cable = "1/8 in 7x19 galvanized coated 3/16 in stripped"
three, first = "us-ca-8-8497+us-osha-1926-251+us-navy-14026", "en-13411-5,us-army-5420-278,us-navy-14026"
mirrored, plate = "us-army-3810-305+us-ca-8-8497-t2", "common-practice-single-plate"
wanted = [
    (rope, thimble, dict(inch, rules="us-ca-8-8497", service="guy", jurisdiction="US")),
    (rope, tb.LinkedEyes(thimble, thimble), dict(inch, rules=three)),
    (rope, tb.LapSplice(), dict(inch, rules=first)),
    (metric, tb.PulleyEye("200 mm"), dict(style="u-bolt", rules="en-13411-5", base_width="30 mm")),
    (small, thimble, dict(style="mirrored-saddle", rules=mirrored, service="sling")),
    (cable, tb.PlateEye(thimble), dict(style="single-plate", rules=plate, base_width="1 in")),
    (rope, thimble, dict(inch)),
    (metric, thimble, dict(inch, rules="us-ca-8-8497+en-13411-5")),
    (small, thimble, dict(inch, rules="us-ca-8-8497", service="gy")),
]
for each, eye, more in wanted:
    try:
        plan = tb.plan(each, eye, **more)
        text = to_text(plan_document(plan)) + str(plan) + str(plan.derivations) + "".join(map(str, plan.procedure))
    except tb.TurnbackError as error:
        text = f"refused: {type(error).__name__}: {error}\\n"
    sys.stdout.buffer.write(text.encode("utf-8"))
"""


@cache
def printed(seed: str = "0", locale: str = "C.UTF-8", utf8: str = "1") -> bytes:
    """What a new process prints of many plans and refusals."""
    surroundings = {
        **os.environ,
        "PYTHONHASHSEED": seed,
        "LC_ALL": locale,
        "LANG": locale,
        "PYTHONUTF8": utf8,
        "PYTHONCOERCECLOCALE": utf8,
    }
    done = subprocess.run([sys.executable, "-c", MANY], env=surroundings, capture_output=True, check=True, timeout=120)
    return done.stdout


def test_the_process_prints_six_plans_and_three_refusals() -> None:
    """The laws below are not empty: the process plans what it is asked for, and refuses what it must."""
    text = printed().decode()
    assert 6 == text.count('\n  "usable": ')
    assert 3 == text.count("refused: ")


@pytest.mark.parametrize("seed", ["1", "20251125"])
def test_the_hash_seed_changes_nothing(seed: str) -> None:
    """Hash seed: the JSON and the text of plans, and every error, are the same to the byte in another process."""
    assert printed() == printed(seed)


@pytest.mark.parametrize(("locale", "utf8"), [("C", "0"), ("POSIX", "0"), ("de_DE.UTF-8", "1"), ("tr_TR.UTF-8", "1")])
def test_the_locale_changes_nothing(locale: str, utf8: str) -> None:
    """Locale: the same to the byte under an ASCII locale, a comma for a point, and a dotless i, where installed."""
    assert printed() == printed(locale=locale, utf8=utf8)


@pytest.mark.parametrize(
    "plugins", list(permutations(PLUGINS)), ids=lambda order: " ".join(p.__name__[9:15] for p in order)
)
def test_the_order_in_which_plugins_load_changes_nothing(plugins: tuple[object, ...]) -> None:
    """Load order: any order gives an equal catalogue, with the same contents in the same order."""
    other = Catalogue.of(*plugins)
    assert CATALOGUE == other
    assert hash(CATALOGUE) == hash(other)
    assert CATALOGUE.rule_sets == other.rule_sets
    assert CATALOGUE.styles == other.styles
    assert () == other.failures


@settings(max_examples=settings().max_examples // 6)
@given(st.lists(requests(extra=2), min_size=1, max_size=4), st.permutations(PLUGINS))
def test_a_plan_does_not_depend_on_the_order_in_which_plugins_loaded(
    wanted: list[Request], plugins: list[object]
) -> None:
    """Load order: the plans are equal too."""
    other = Catalogue.of(*plugins)
    for request in wanted:
        assert planned(request) == plan_request(request, other)


def test_installed_plugins_supply_what_the_repository_holds() -> None:
    """Load order: found through entry points or passed in, the rule sets and styles are the same."""
    installed = Catalogue.installed()
    assert CATALOGUE.rule_sets == installed.rule_sets
    assert CATALOGUE.styles == installed.styles


def forget() -> None:
    """Empty what is remembered between plans."""
    case._case.cache_clear()
    case.service_book.cache_clear()


def all_of(plan: Plan) -> tuple[object, ...]:
    return plan, plan.derivations, plan.marks, plan.procedure, plan.bill, str(plan)


@settings(max_examples=settings().max_examples // 4)
@given(st.lists(requests(maker=None, extra=2), min_size=2, max_size=4))
def test_what_was_planned_before_changes_nothing(wanted: list[Request]) -> None:
    """Process-wide state: a plan is the same after others, in any order, and with nothing remembered."""
    forget()
    forward = [all_of(planned(request)) for request in wanted]
    backward = [all_of(planned(request)) for request in reversed(wanted)]
    alone = []
    for request in wanted:
        forget()
        alone.append(all_of(planned(request)))
    assert forward == backward[::-1] == alone


FIELDS = tuple(field.name for field in attrs.fields(Request))


@given(
    requests(whole=True, maker=None), requests(whole=True, maker=None), st.sampled_from((*FIELDS, "eye", "rope's own"))
)
def test_a_plan_remembers_nothing_of_another_that_differs_in_one_thing(
    request: Request, other: Request, changed: str
) -> None:
    """Process-wide state: a request that differs in one field, or in dimensions alone, leaves no trace in the next."""
    if changed == "eye":
        same_kind = other.termination.kind == request.termination.kind
        similar = attrs.evolve(request, termination=other.termination if same_kind else request.termination, load="1 N")
    elif changed == "rope's own":
        similar = attrs.evolve(request, rope=attrs.evolve(request.rope, condition="worn", finish="stainless"))
    else:
        similar = attrs.evolve(request, **{changed: getattr(other, changed), **_word(changed, other)})
    forget()
    expected = all_of(planned(request))
    forget()
    with contextlib.suppress(TurnbackError):  # one field of another request need not fit; what comes after matters
        planned(similar)
    assert expected == all_of(planned(request))


def _word(changed: str, other: Request) -> dict[str, Any]:
    # A clip size and the clip maker's word for it are given together or not at all.
    pair = ("clip_size", "clip_size_citation")
    return {name: getattr(other, name) for name in pair} if changed in pair else {}


@settings(max_examples=settings().max_examples // 12)
@given(st.lists(requests(maker=None, extra=2), min_size=4, max_size=8))
def test_threads_change_nothing(wanted: list[Request]) -> None:
    """Threads: many at once, with nothing remembered before, give the plans that one gives."""
    expected = [all_of(planned(request)) for request in wanted]
    forget()
    with ThreadPoolExecutor(8) as pool:
        assert expected * 4 == list(pool.map(lambda request: all_of(planned(request)), wanted * 4))
