"""The search box of the built site finds the right page in the first three, for a committed list of questions.

The list is ``queries.toml``. All questions are put to the function that the search page itself calls; some are typed
into the box, and what is shown must be the same.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest
from tests.docs.browser import address, chromium, opened
from tests.docs.site import DOCS

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

GROUPS: Final[dict[str, dict[str, list[str]]]] = tomllib.loads(
    (Path(__file__).parent / "queries.toml").read_text(encoding="utf-8")
)
QUERIES: Final = {query: pages for group in GROUPS.values() for query, pages in group.items()}
FIND: Final = "queries => queries.map(query => window.siteSearch.find(query).slice(0, 3).map(found => found.page))"
TYPED: Final = ("8497", "1 in clips", "13411-5", "thimbel", "clip-too-small", "ThimbleEye", "how many clips")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def search(browser: Browser, site: Path) -> Iterator[Page]:
    with opened(browser) as page:
        page.goto(address(site, "search"))
        yield page


def test_the_list_is_long_and_of_every_kind() -> None:
    assert 60 <= len(QUERIES)
    kinds = {"plain-words", "trade-words", "clauses", "numbers", "symbols", "codes", "names", "misspellings"}
    assert kinds == set(GROUPS)
    assert all(4 <= len(group) for group in GROUPS.values())


def test_every_page_that_is_asked_for_alone_exists(site: Path) -> None:
    # A query whose only page has gone would count among the five in a hundred that may fail.
    lost = {query for query, pages in QUERIES.items() if not any((site / f"{page}.html").is_file() for page in pages)}
    assert set() == lost


def test_the_right_page_is_among_the_first_three(search: Page, record_property: Callable[[str, object], None]) -> None:
    found: list[list[str]] = search.evaluate(FIND, list(QUERIES))
    asked = dict(zip(QUERIES, found, strict=True))
    missed = {query: first for query, first in asked.items() if not set(first) & set(QUERIES[query])}
    share = 1 - len(missed) / len(QUERIES)
    leading = sum(first[:1] != [] and first[0] in QUERIES[query] for query, first in asked.items())
    said = f"{len(QUERIES) - len(missed)} of {len(QUERIES)} in the first three, {leading} at the top; missed: {missed}"
    record_property("figure", f"queries: {said}")
    assert 0.95 <= share, said


def test_what_is_typed_is_answered_on_the_page(search: Page) -> None:
    for query in TYPED:
        search.fill("#search-words", query)
        shown = search.eval_on_selector_all(
            "#search-results > li > a", "links => links.map(a => a.getAttribute('href'))"
        )
        (found,) = search.evaluate(FIND, [query])
        assert [f"./{page}.html" for page in found] == shown[:3]
        assert 0 < len(set(found) & set(QUERIES[query]))


def test_the_number_of_pages_is_told_and_nothing_found_is_told(search: Page) -> None:
    search.fill("#search-words", "zzzqqq")
    assert "No page has these words" in search.inner_text("#search-count")
    search.fill("#search-words", "8497")
    assert "page" in search.inner_text("#search-count")
    search.fill("#search-words", "")
    assert "" == search.inner_text("#search-count")


def test_a_word_from_the_box_of_any_page_leads_to_the_search(browser: Browser, site: Path) -> None:
    with opened(browser) as page:
        page.goto(address(site, "rule-sets/us-ca-8-8497"))
        page.fill(".sidebar-search", "torqe <b>")
        page.press(".sidebar-search", "Enter")
        page.wait_for_url("**/search.html?q=*")
        assert "torqe <b>" == page.input_value("#search-words")
        assert 0 < page.locator("#search-results > li").count()
        # A result leads to its page, and a heading below it into the page.
        page.locator("#search-results > li > a").first.click()
        page.wait_for_load_state()
        assert 1 == page.locator("h1").count()


def test_each_word_that_people_say_leads_somewhere(search: Page) -> None:
    # What stands on the left in search-words.toml are words of the pages themselves.
    same = tomllib.loads((DOCS / "search-words.toml").read_text(encoding="utf-8"))["same"]
    found = search.evaluate(FIND, list(same))
    assert [] == [word for word, pages in zip(same, found, strict=True) if not pages]
