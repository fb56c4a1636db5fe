"""The site asks nothing of any other host, and works from a folder as it does from a server.

Every file is read for what a browser would fetch by itself; pages of every kind are opened with no name of a host to be
found, from ``file://`` and from a plain server on this machine, and whatever they ask for is written down.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from html.parser import HTMLParser
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Final

import pytest
from tests.docs.browser import address, chromium, opened
from tests.docs.site import kinds

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

FETCHED: Final[dict[str, tuple[str, ...]]] = {
    "audio": ("src",),
    "base": ("href",),
    "embed": ("src",),
    "form": ("action",),
    "iframe": ("src",),
    "image": ("href", "xlink:href"),
    "img": ("src", "srcset"),
    "input": ("src",),
    "link": ("href",),
    "object": ("data",),
    "script": ("src",),
    "source": ("src", "srcset"),
    "use": ("href", "xlink:href"),
}
ELSEWHERE: Final = re.compile(r"^\s*(?:[a-z][a-z0-9+.-]*:)?//", re.IGNORECASE)
IN_STYLE: Final = re.compile(r"(?:url\(\s*|@import\s+)['\"]?((?:[a-z]+:)?//[^'\")\s]*)", re.IGNORECASE)


class Fetches(HTMLParser):
    """Collects what a browser fetches for a page by itself, and styles written into it."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._style = tag == "style"
        for name, value in attrs:
            if name in FETCHED.get(tag, ()):
                self.found += (value or "").split(",") if name == "srcset" else [value or ""]
            elif name == "style":
                self.found += IN_STYLE.findall(value or "")
            elif tag == "meta" and name == "content" and "url=" in (value or "").lower():
                self.found.append((value or "").lower().partition("url=")[2])

    def handle_data(self, data: str) -> None:
        if self._style:
            self.found += IN_STYLE.findall(data)

    def handle_endtag(self, tag: str) -> None:
        self._style = False


class Log:
    """What a page asks for, and what it complains of."""

    def __init__(self, page: Page) -> None:
        self.asked: list[str] = []
        self.said: list[str] = []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("requestfailed", lambda request: self.said.append(f"failed: {request.url}"))
        page.on("console", lambda message: self.said.append(message.text) if message.type != "log" else None)
        page.on("pageerror", lambda error: self.said.append(str(error)))


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@contextmanager
def served(site: Path) -> Iterator[str]:
    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name is that of the base
            del format, args

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def test_no_file_of_the_site_fetches_from_elsewhere(site: Path) -> None:
    for page in site.rglob("*.html"):
        reader = Fetches()
        reader.feed(page.read_text(encoding="utf-8"))
        assert 5 < len(reader.found), page
        assert [] == [found for found in reader.found if ELSEWHERE.match(found)], page
    for sheet in (*site.rglob("*.css"), *site.rglob("*.svg")):
        assert [] == IN_STYLE.findall(sheet.read_text(encoding="utf-8")), sheet


def test_a_fetch_is_noticed(browser: Browser, tmp_path: Path) -> None:
    # What the two tests below rely on.
    text = '<img src="https://elsewhere.invalid/a.png"><style>b { background: url(//elsewhere.invalid/b.png) }</style>'
    reader = Fetches()
    reader.feed(text)
    assert 2 == len([found for found in reader.found if ELSEWHERE.match(found)])
    (tmp_path / "page.html").write_text(f"{text}<b>b</b><script>console.error('no')</script>", encoding="utf-8")
    with opened(browser) as page:
        log = Log(page)
        page.goto(address(tmp_path, "page"), wait_until="networkidle")
        assert "https://elsewhere.invalid/a.png" in log.asked
        assert {"no", "failed: https://elsewhere.invalid/a.png"} <= set(log.said)


def test_pages_of_every_kind_open_from_a_folder(browser: Browser, site: Path) -> None:
    with opened(browser) as page:
        log = Log(page)
        for name in kinds(site):
            page.goto(address(site, name))
        assert len(kinds(site)) < len(log.asked)
        assert [] == [url for url in log.asked if not url.startswith((site.as_uri(), "data:"))]
        assert [] == log.said


def test_pages_of_every_kind_open_from_a_plain_server(browser: Browser, site: Path) -> None:
    with served(site) as root, opened(browser) as page:
        log = Log(page)
        for name in kinds(site):
            path, mark, query = name.partition("?")
            page.goto(f"{root}{path}.html{mark}{query}")
        page.goto(f"{root}search.html?q=8497")
        assert 0 < page.locator("#search-results > li").count()
        assert [] == [url for url in log.asked if not url.startswith((root, "data:"))]
        # A browser asks every server for an icon of its own accord.
        assert [] == [said for said in log.said if "favicon" not in said and "404" not in said]
