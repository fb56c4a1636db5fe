"""Builds the site once for all tests of this folder; ``TURNBACK_SITE`` names one that is built already.

Continuous integration builds the site first, strictly, and sets the variable, so that it is built once.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from _pytest.terminal import TerminalReporter
from tests.docs.site import DOCS, build


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    given = os.environ.get("TURNBACK_SITE")
    if given:
        # A folder that is named and not there is a mistake, and no reason to build or to skip.
        assert (Path(given) / "index.html").is_file(), f"TURNBACK_SITE={given} holds no built site"
        return Path(given).resolve()
    work = tmp_path_factory.mktemp("site")
    # A copy without what earlier builds have left, as a clean clone has it.
    shutil.copytree(
        DOCS, work / "docs", ignore=shutil.ignore_patterns("_build", "rule-sets", "laws", "formulas", "__pycache__")
    )
    done = build(work / "docs", work / "html")
    assert (0, "") == (done.returncode, done.stderr), done.stderr
    return work / "html"


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """Print the figures that may not fall, which tests record as a property of the name ``figure``."""
    figures = [
        str(value)
        for report in terminalreporter.getreports("passed")
        for name, value in report.user_properties
        if name == "figure"
    ]
    if figures:
        terminalreporter.section("figures")
        for figure in figures:
            terminalreporter.line(figure)
