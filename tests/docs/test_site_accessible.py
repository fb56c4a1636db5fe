"""Everybody can read the site: by the keyboard, by ear, on a narrow screen, light and dark.

The judge of pages is axe-core, an open engine for the Web Content Accessibility Guidelines 2.2 of the W3C; it comes in
the package ``axe-playwright-python``. What it cannot judge, the path of the keyboard, is walked with real keys.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest
from tests.docs.browser import Scheme, address, chromium, opened
from tests.docs.site import kinds

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

RUN: Final = """async () => {
  const found = await axe.run(document, { resultTypes: ["violations"] });
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => id + ": " + target.join(" ") + ": " + failureSummary));
}"""
FOCUS: Final = """() => {
  const at = document.activeElement;
  // A box to tick is out of sight: its label shows where the focus is.
  const icons = [...(at.type === "checkbox" ? at.labels : [])].filter(label => !label.matches(".overlay"));
  const seen = icons.find(label => label.offsetParent) || at;
  const box = seen.getBoundingClientRect();
  const style = getComputedStyle(seen);
  return { what: at.id || at.className || at.tagName, text: at.textContent.trim().slice(0, 40), left: box.left,
    right: box.right, top: box.top, width: box.width, outline: style.outlineStyle + " " + style.outlineWidth };
}"""
WIDE: Final = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def axe() -> str:
    pytest.importorskip(
        "axe_playwright_python", reason="axe-playwright-python, which brings axe-core, is not installed"
    )
    return files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")


def violations(page: Page, axe: str) -> list[str]:
    page.evaluate(axe)
    found: list[str] = page.evaluate(RUN)
    return found


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
def test_no_page_breaks_a_rule(browser: Browser, axe: str, site: Path, width: int, scheme: Scheme) -> None:
    with opened(browser, width, scheme) as page:
        for name in kinds(site):
            page.goto(address(site, name))
            assert [] == violations(page, axe), f"{name}, {width} wide, {scheme}"


def test_a_theme_that_is_chosen_breaks_no_rule(browser: Browser, axe: str, site: Path) -> None:
    # The reader's system prefers light, and the reader has chosen dark on the page.
    with opened(browser) as page:
        page.goto(address(site, "index"))
        page.evaluate("document.body.dataset.theme = 'dark'")
        assert "rgb(19, 20, 22)" == page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert [] == violations(page, axe)


def test_axe_finds_what_is_wrong(browser: Browser, axe: str, site: Path) -> None:
    with opened(browser) as page:
        page.goto(address(site, "index"))
        page.evaluate("document.querySelector('#furo-main-content').innerHTML += '<img src=\"x.png\"><h4></h4>'")
        page.evaluate("document.querySelector('#furo-main-content p').style.color = '#999'")
        found = {line.partition(":")[0] for line in violations(page, axe)}
        assert {"image-alt", "color-contrast"} <= found


def test_nothing_but_boxes_scrolls_sideways(browser: Browser, site: Path) -> None:
    # 320 px is what the guidelines ask for (1.4.10 Reflow).
    for width in (320, 360, 1280):
        with opened(browser, width) as page:
            for name in (*kinds(site), "genindex"):
                page.goto(address(site, name))
                assert 0 == page.evaluate(WIDE), f"{name}, {width} wide"


def test_the_first_key_leads_past_the_menu(browser: Browser, site: Path) -> None:
    for width in (1280, 360):
        with opened(browser, width) as page:
            page.goto(address(site, "rule-sets/us-ca-8-8497"))
            page.keyboard.press("Tab")
            at = page.evaluate(FOCUS)
            assert "Skip to content" == at["text"]
            assert 0 <= at["top"]
            page.keyboard.press("Enter")
            assert "furo-main-content" == page.evaluate("document.activeElement.id")
            page.keyboard.press("Tab")
            assert page.evaluate("document.activeElement.closest('#furo-main-content') !== null")


def test_the_menu_of_a_narrow_screen_opens_by_the_keyboard(browser: Browser, site: Path) -> None:
    with opened(browser, 360) as page:
        page.goto(address(site, "rule-sets/us-ca-8-8497"))
        assert not page.locator(".sidebar-search").is_visible()
        page.keyboard.press("Tab")
        page.keyboard.press("Tab")
        at = page.evaluate(FOCUS)
        assert "__navigation" == at["what"]
        assert "solid 2px" == at["outline"]
        page.keyboard.press("Space")
        assert page.locator(".sidebar-search").is_visible()
        reached = []
        for _ in range(8):
            page.keyboard.press("Tab")
            reached.append(page.evaluate("document.activeElement.closest('.sidebar-drawer') !== null"))
        assert any(reached)
        # Backwards to the box, and the menu is shut again; nothing in it can be reached then.
        page.focus("#__navigation")
        page.keyboard.press("Space")
        page.wait_for_function("getComputedStyle(document.querySelector('.sidebar-drawer')).visibility === 'hidden'")


@pytest.mark.parametrize("width", [1280, 360])
def test_what_has_the_focus_is_on_the_screen_and_marked(browser: Browser, site: Path, width: int) -> None:
    with opened(browser, width) as page:
        for name in ("rule-sets/us-ca-8-8497", "search?q=torque"):
            page.goto(address(site, name))
            page.evaluate("document.activeElement.blur()")
            stops = 0
            for _ in range(60):
                page.keyboard.press("Tab")
                at = page.evaluate(FOCUS)
                if at["what"] == "BODY":
                    break
                stops += 1
                assert 0 <= at["left"] < at["right"], at
                assert at["left"] < width, at
                assert 0 < at["width"], at
                assert "none" not in at["outline"], at
                assert "0px" not in at["outline"], at
            assert 5 < stops


def test_the_lists_of_the_menu_open_by_the_keyboard(browser: Browser, site: Path) -> None:
    with opened(browser) as page:
        page.goto(address(site, "index"))
        box = page.locator(".toctree-checkbox").first
        below = page.locator("li.has-children > ul").first
        assert not below.is_visible()
        box.focus()
        page.keyboard.press("Space")
        assert below.is_visible()


def test_every_header_of_a_table_says_what_it_heads(site: Path) -> None:
    tables = 0
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        for table in re.findall(r"<table.*?</table>", text, re.DOTALL):
            # The lists of names and modules are laid out as tables and have nothing to head.
            if "indextable" in table or "domainindex-table" in table:
                continue
            tables += 1
            heads = re.findall(r"<th\b[^>]*>", table)
            assert heads, f"{page}: {table[:80]}"
            assert [] == [head for head in heads if not re.search(r' scope="(?:col|row)"', head)], page
    assert 50 < tables


def test_every_box_that_scrolls_has_a_name_and_can_be_reached(site: Path) -> None:
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        boxes = re.findall(r'<div class="table-wrapper\b[^>]*>', text)
        names = [re.search(r'tabindex="0" role="region" aria-label="(Table[^"]*)"', box) for box in boxes]
        assert None not in names, page
        assert len(boxes) == len({found[1] for found in names if found is not None}), page
        assert [] == re.findall(r'<div class="highlight"><pre(?! tabindex="0")', text), page
