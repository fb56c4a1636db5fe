"""The built site, for the tests that read it and for those that open it in a browser."""

from __future__ import annotations

import subprocess
import sys
import zlib
from collections.abc import Mapping
from fnmatch import fnmatch
from pathlib import Path
from typing import Final

import pytest

__all__ = ["DOCS", "KINDS", "ROOT", "addresses", "build", "inventory", "kinds"]

ROOT: Final = Path(__file__).parents[2]
DOCS: Final = ROOT / "docs"
KINDS: Final = (
    "index", "tutorial/first-plan", "how-to/find-the-cut-length", "explanation/what-it-refuses",
    "rule-sets/us-ca-8-8497", "reference/api-quantities", "reference/batch-statuses", "reference/pictures",
    "laws/count-never-falls", "formulas/*", "search?q=torque",
)  # fmt: skip
"""A page of every kind; of those with a star the first."""


def build(source: Path, out: Path, env: Mapping[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """Build pages strictly.

    Args:
        source: Where they are.
        out: Where the site goes to.
        env: The variables of the environment; ours where None.

    Returns:
        How it ended and what it said. Where the extra of the documentation is not installed, the test is skipped.
    """
    for needed in ("sphinx", "furo", "myst_parser"):
        pytest.importorskip(needed, reason="the extra [docs] is not installed")
    command = [sys.executable, "-m", "sphinx", "-q", "-W", "--keep-going", "-b", "html", str(source), str(out)]
    return subprocess.run(command, capture_output=True, text=True, check=False, env=env)


def addresses(site: Path) -> list[str]:
    """List the pages of a site.

    Args:
        site: Its folder.

    Returns:
        Each path below the folder without ``.html``, sorted, the search and the index of names among them.
    """
    return sorted(page.relative_to(site).with_suffix("").as_posix() for page in site.rglob("*.html"))


def kinds(site: Path) -> list[str]:
    """List a page of every kind that is there.

    Args:
        site: The folder of the site.

    Returns:
        Each without ``.html``, some with what is asked of them.
    """
    there = addresses(site)
    found = [next((name for name in there if fnmatch(name, kind.partition("?")[0])), None) for kind in KINDS]
    return [
        name + "".join(kind.partition("?")[1:]) for kind, name in zip(KINDS, found, strict=True) if name is not None
    ]


def inventory(site: Path) -> set[tuple[str, str]]:
    """Read the inventory of a site.

    Args:
        site: Its folder.

    Returns:
        Name and kind of everything that has an entry, such as ``turnback.plan`` and ``py:function``.
    """
    data = (site / "objects.inv").read_bytes()
    lines = zlib.decompress(data.split(b"\n", 4)[4]).decode().splitlines()
    return {(line.split(" ")[0], line.split(" ")[1]) for line in lines}
