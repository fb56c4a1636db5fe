"""Builds the site once for all tests of this folder."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.docs.site import DOCS, build


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    work = tmp_path_factory.mktemp("site")
    # A copy without what earlier builds have left, as a clean clone has it.
    shutil.copytree(
        DOCS, work / "docs", ignore=shutil.ignore_patterns("_build", "rule-sets", "laws", "formulas", "__pycache__")
    )
    done = build(work / "docs", work / "html")
    assert (0, "") == (done.returncode, done.stderr), done.stderr
    return work / "html"
