"""Opens the built site in Debian's Chromium, headless and without a network, for the tests that look and type.

What drives it is ``playwright``; of its own browsers none is used.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

__all__ = ["Scheme", "address", "chromium", "opened"]

Scheme = Literal["light", "dark"]
_FLAGS: Final = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)  # fmt: skip
"""The last one: no name of any host leads anywhere; what a test serves itself is at a bare address."""


@contextmanager
def chromium() -> Iterator[Browser]:
    """Start Chromium, and end it.

    Yields:
        The browser; the test is skipped where there is none.
    """
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        pytest.skip("chromium is not installed (apt-get install chromium), so no page can be opened")
    with sync_api.sync_playwright() as playwright:
        browser: Browser = playwright.chromium.launch(executable_path=program, args=list(_FLAGS))
        yield browser
        browser.close()


def address(site: Path, page: str) -> str:
    """Return where a page is, on this disk.

    Args:
        site: The folder of the site.
        page: The page without ``.html``, with or without ``?q=``.

    Returns:
        A ``file://`` address.
    """
    name, mark, query = page.partition("?")
    return f"{(site / name).as_uri()}.html{mark}{query}"


@contextmanager
def opened(browser: Browser, width: int = 1280, scheme: Scheme = "light") -> Iterator[Page]:
    """Open an empty page.

    Args:
        browser: The browser.
        width: How wide the window is [px].
        scheme: What the reader prefers.

    Yields:
        The page, its storage empty.
    """
    context = browser.new_context(
        viewport={"width": width, "height": 800}, color_scheme=scheme, reduced_motion="reduce"
    )
    yield context.new_page()
    context.close()
