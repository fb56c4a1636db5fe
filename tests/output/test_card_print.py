"""The card as a browser prints it, on both sizes of paper: what forbids the joint is on every page.

Debian's packages ``chromium`` and ``poppler-utils`` bring the programs; without them nothing is looked at.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from typing import Final

import pytest
from tests.output.cards import PLANS

from turnback.output.card import card_html

BROWSER: Final = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS: Final = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-pdf-header-footer",
)  # fmt: skip
POINTS: Final = {"A4": (595, 842), "letter": (612, 792)}
"""Width and height: A4 is 210 x 297 mm, Letter 8-1/2 x 11 in; a point is 1/72 in."""

pytestmark = pytest.mark.skipif(
    BROWSER is None or shutil.which("pdftotext") is None, reason="chromium or poppler-utils is not installed"
)


def pages(name: str, size: str, folder: Path) -> list[str]:
    """Print a card and return the text of each page."""
    assert BROWSER is not None
    page, pdf = folder / "card.html", folder / "card.pdf"
    # The card leaves the size to the printer; here it is chosen as a printer would.
    page.write_text(card_html(PLANS[name]).replace("size:auto", f"size:{size}"), encoding="utf-8")
    command = (BROWSER, *FLAGS, f"--user-data-dir={folder}/profile", f"--print-to-pdf={pdf}", page.as_uri())
    subprocess.run(command, capture_output=True, check=True, timeout=120)
    about = subprocess.run(("pdfinfo", str(pdf)), capture_output=True, text=True, check=True).stdout
    wide, high = next(line.split()[2:5:2] for line in about.splitlines() if line.startswith("Page size"))
    assert POINTS[size] == (round(float(wide)), round(float(high)))
    text = subprocess.run(("pdftotext", "-layout", str(pdf), "-"), capture_output=True, text=True, check=True).stdout
    return text.removesuffix("\f").split("\f")


@pytest.mark.parametrize("size", POINTS)
def test_a_joint_that_may_not_be_made_says_so_on_every_page(size: str, tmp_path: Path) -> None:
    found = pages("sling", size, tmp_path)
    assert len(found) > 1
    assert [] == [number for number, text in enumerate(found, 1) if "NOT USABLE" not in text]


@pytest.mark.parametrize("size", POINTS)
@pytest.mark.parametrize("name", ["guy", "linked", "unmeasured"])
def test_every_page_is_numbered_and_none_is_nearly_empty(name: str, size: str, tmp_path: Path) -> None:
    found = pages(name, size, tmp_path)
    for number, text in enumerate(found, 1):
        assert f"page {number} of {len(found)}" in text
        assert "qualified person" in text
        assert len(text.split()) > 60
    assert "NOT USABLE" not in "".join(found)


@pytest.mark.parametrize("size", POINTS)
def test_no_table_leaves_its_header_alone_at_the_foot_of_a_page(size: str, tmp_path: Path) -> None:
    for text in pages("stripped", size, tmp_path):
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        # The last two lines are the margin's.
        assert not any(line.startswith("done") for line in lines[-3:])


def test_the_record_of_torques_stays_on_one_page(tmp_path: Path) -> None:
    found = [text for text in pages("linked", "letter", tmp_path) if "Record of torques" in text]
    assert 1 == len(found)
    assert "first eye, clip 1" in " ".join(found[0].split())
    assert "date, initials" in found[0]
