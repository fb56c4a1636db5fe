"""Cases that laws share: drawn once in a run, judged by each law, and forgotten when the run ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Literal

import pytest
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy
from tests.companies import CATALOGUE

from turnback.conformance.drawing import Drawings
from turnback.conformance.effort import Effort
from turnback.conformance.law import Breakage, Law, Search
from turnback.conformance.laws import LAWS
from turnback.conformance.running import run_laws
from turnback.conformance.search import searched
from turnback.conformance.subject import Subject, subject_of

SUBJECT = subject_of("us-ca-8-8497", CATALOGUE)
HALF = Effort("half", 80, 1)
Judge = Callable[[Subject, int], Breakage | Literal["kept"] | None]


def numbers(_: Subject) -> SearchStrategy[int]:
    return st.integers(0, 1000)


def kept(_: Subject, case: object) -> Literal["kept"]:
    return "kept"


def below(limit: int) -> Judge:
    def judge(_: Subject, case: int) -> Breakage | Literal["kept"]:
        return Breakage(f"below {limit}", str(case), "invented") if case >= limit else "kept"

    return judge


def law(name: str, judge: Judge = kept, shared: str = "numbers", dear: int = 1) -> Law:
    return Law(name, "An invented law.", search=Search(numbers, judge, shared), dear=dear)


def seen_by(*laws: tuple[str, str, int]) -> dict[str, list[int]]:
    """What each law judged, by its name; each is given as name, name of its cases, and how dear it is."""
    seen: dict[str, list[int]] = {name: [] for name, _, _ in laws}

    def judging(name: str) -> Judge:
        def judge(_: Subject, case: int) -> Literal["kept"]:
            seen[name].append(case)
            return "kept"

        return judge

    run_laws(SUBJECT, tuple(law(name, judging(name), shared, dear) for name, shared, dear in laws), HALF, 1)
    return seen


def test_laws_that_share_cases_judge_the_same_ones_and_others_do_not() -> None:
    seen = seen_by(("one", "numbers", 1), ("other", "numbers", 1), ("alone", "", 1))
    assert 80 == len(seen["one"])
    assert seen["one"] == seen["other"]
    assert seen["one"] != seen["alone"]


def test_what_a_law_judges_does_not_depend_on_the_laws_that_share_its_cases() -> None:
    alone = seen_by(("one", "numbers", 1))["one"]
    assert alone == seen_by(("other", "numbers", 4), ("one", "numbers", 1))["one"]


def test_a_dear_law_judges_one_in_so_many_from_the_first_on() -> None:
    seen = seen_by(("cheap", "numbers", 1), ("dear", "numbers", 4))
    assert 20 == len(seen["dear"])
    assert seen["cheap"][::4] == seen["dear"]


def test_a_dear_law_judges_ten_cases_at_least() -> None:
    seen = seen_by(("cheap", "numbers", 1), ("dear", "numbers", 100), ("alone", "", 100))
    assert 10 == len(seen["dear"])
    assert 10 == len(seen["alone"])


@pytest.mark.parametrize("dear", [1, 3])
def test_a_shared_case_that_breaks_a_law_is_made_as_small_as_it_goes(dear: int) -> None:
    first, found = run_laws(SUBJECT, (law("keeps"), law("breaks", below(7), dear=dear)), HALF, 1)
    assert "passed" == first.state
    assert "failed" == found.state
    assert "7" == found.breakages[0].got


def test_cases_are_drawn_once_in_a_run_and_anew_in_another() -> None:
    drawn: Counter[str] = Counter()

    def counting(_: Subject) -> SearchStrategy[int]:
        drawn["times"] += 1
        return st.integers(0, 5)

    laws = tuple(Law(name, "An invented law.", search=Search(counting, kept, "few")) for name in ("one", "other"))
    run_laws(SUBJECT, laws, HALF, 1)
    assert 1 == drawn["times"]
    run_laws(SUBJECT, laws, HALF, 1)
    assert 2 == drawn["times"]


def test_a_breakage_that_does_not_come_again_is_told_as_it_was() -> None:
    calls: list[int] = []

    def judge(_: Subject, case: object) -> Breakage | Literal["kept"]:
        calls.append(len(calls))
        return Breakage("the same again", f"call {len(calls)}", "invented") if len(calls) == 20 else "kept"

    found = searched(Search(numbers, judge), SUBJECT, 50, 1, drawings=Drawings())
    assert found.breakage is not None
    assert "call 20" == found.breakage.got


def test_where_nothing_can_be_drawn_the_search_says_so() -> None:
    def nothing(_: Subject) -> SearchStrategy[int]:
        return st.nothing()

    found = searched(Search(nothing, kept), SUBJECT, 50, 1)
    assert (0, None, "no rope of its scope and table could be drawn") == (found.examples, found.breakage, found.reason)


def test_what_a_plugin_raises_while_a_case_is_drawn_fails_every_law_that_asks_for_it() -> None:
    def raising(_: Subject) -> SearchStrategy[int]:
        raise ZeroDivisionError("no rows to draw from")

    laws = tuple(Law(name, "An invented law.", search=Search(raising, kept, "none")) for name in ("one", "other"))
    for outcome in run_laws(SUBJECT, laws, HALF, 1):
        assert "failed" == outcome.state
        assert "ZeroDivisionError: no rows to draw from" == outcome.breakages[0].got


def test_laws_that_name_the_same_cases_draw_them_in_the_same_way() -> None:
    named: dict[str, set[object]] = {}
    for each in LAWS:
        if each.search is not None and each.search.shared:
            named.setdefault(each.search.shared, set()).add(each.search.draw)
    assert named
    assert {1} == {len(draws) for draws in named.values()}
