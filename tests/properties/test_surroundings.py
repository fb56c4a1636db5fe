"""Design, section 10: load order, hash seed, locale and thread change nothing; nor does what was planned before."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import permutations

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.strategies import CATALOGUE, PLUGINS, planned, requests
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
wanted = [
    ("3/4 in 6x19 IWRC EIP", thimble, dict(inch, rules="us-ca-8-8497", service="guy", jurisdiction="US")),
    ("3/4 in 6x19 IWRC EIP", tb.LinkedEyes(thimble, thimble), dict(inch, rules="us-ca-8-8497+us-osha-1926-251+us-navy-14026")),
    ("3/4 in 6x19 IWRC EIP", tb.LapSplice(), dict(inch, rules="en-13411-5,us-army-5420-278,us-navy-14026")),
    ("13 mm 6x36WS IWRC 1960", tb.PulleyEye("200 mm"), dict(style="u-bolt", rules="en-13411-5", base_width="30 mm")),
    ("1/2 in 6x19 IWRC EIP", thimble, dict(style="mirrored-saddle", rules="us-army-3810-305+us-ca-8-8497-t2", service="sling")),
    ("1/8 in 7x19 galvanized coated 3/16 in stripped", tb.PlateEye(thimble), dict(style="single-plate", rules="common-practice-single-plate", base_width="1 in")),
    ("3/4 in 6x19", thimble, dict(inch)),
    ("13 mm 6x36WS IWRC 1960", thimble, dict(inch, rules="us-ca-8-8497+en-13411-5")),
    ("1/2 in 6x19 IWRC EIP", thimble, dict(style="u-bolt", rules="us-ca-8-8497", service="gy", base_width="1 in")),
]
for rope, eye, more in wanted:
    try:
        plan = tb.plan(rope, eye, **more)
        text = to_text(plan_document(plan)) + str(plan) + str(plan.derivations) + "".join(map(str, plan.procedure))
    except tb.TurnbackError as error:
        text = f"{type(error).__name__}: {error}\\n"
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
    assert 6 == text.count('"format": ')
    assert ["UnknownRuleSet", "OutOfTable", "InputError"] == [
        line.partition(":")[0] for line in text.splitlines() if line[:1].isupper() and ": " in line and line[:7] != "MUST-FI"
        and line.partition(":")[0] in ("UnknownRuleSet", "OutOfTable", "OutOfScope", "InputError", "Conflict")
    ]  # fmt: skip


@pytest.mark.parametrize("seed", ["1", "20251125"])
def test_the_hash_seed_changes_nothing(seed: str) -> None:
    """Hash seed: the JSON and the text of plans, and every error, are the same to the byte in another process."""
    assert printed() == printed(seed)


@pytest.mark.parametrize(("locale", "utf8"), [("C", "0"), ("POSIX", "0"), ("de_DE.UTF-8", "1"), ("tr_TR.UTF-8", "1")])
def test_the_locale_changes_nothing(locale: str, utf8: str) -> None:
    """Locale: the same to the byte under an ASCII locale, a comma for a point, and a dotless i, where installed."""
    assert printed() == printed(locale=locale, utf8=utf8)


@pytest.mark.parametrize("plugins", list(permutations(PLUGINS)), ids=lambda order: " ".join(p.__name__[9:15] for p in order))
def test_the_order_in_which_plugins_load_changes_nothing(plugins: tuple[object, ...]) -> None:
    """Load order: any order gives an equal catalogue, with the same contents in the same order."""
    other = Catalogue.of(*plugins)
    assert CATALOGUE == other
    assert hash(CATALOGUE) == hash(other)
    assert CATALOGUE.rule_sets == other.rule_sets
    assert CATALOGUE.styles == other.styles
    assert () == other.failures


@settings(max_examples=20)
@given(st.lists(requests(extra=2), min_size=1, max_size=4), st.permutations(PLUGINS))
def test_a_plan_does_not_depend_on_the_order_in_which_plugins_loaded(wanted: list[Request], plugins: list[object]) -> None:
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


@settings(max_examples=40)
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


@settings(max_examples=40)
@given(requests(whole=True), requests(whole=True))
def test_a_plan_remembers_nothing_of_another_of_the_same_kind(request: Request, other: Request) -> None:
    """Process-wide state: what is remembered holds no dimension, load or base width of the request that came first."""
    similar = attrs.evolve(
        request,
        base_width=None,
        load="1 N",
        termination=other.termination if other.termination.kind == request.termination.kind else request.termination,
    )
    forget()
    expected = all_of(planned(request))
    forget()
    try:
        planned(similar)
    except ValueError:
        pass  # the eye may be too short for another rope; what matters is what comes after
    assert expected == all_of(planned(request))


@settings(max_examples=10)
@given(st.lists(requests(maker=None, extra=2), min_size=4, max_size=8))
def test_threads_change_nothing(wanted: list[Request]) -> None:
    """Threads: many at once, with nothing remembered before, give the plans that one gives."""
    expected = [all_of(planned(request)) for request in wanted]
    forget()
    with ThreadPoolExecutor(8) as pool:
        assert expected * 4 == list(pool.map(lambda request: all_of(planned(request)), wanted * 4))
