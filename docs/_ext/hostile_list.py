"""Writes ``docs/reference/hostile-ways.md``: every way to misbehave that the tests try on the loader of plugins.

Run ``PYTHONPATH=. python docs/_ext/hostile_list.py`` from the top of the tree after a way was added.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tests.hostile.ways import HOSTILE_WAYS

__all__ = ["PAGE", "hostile_page"]

PAGE: Final = Path(__file__).parents[2] / "docs" / "reference" / "hostile-ways.md"
_HEAD: Final = """\
% Written by docs/_ext/hostile_list.py; a test compares it with the tests.

# Hostile plugins: what was tried

A plugin runs in your own process and is trusted code; nothing here makes it safe to install one that you do not trust.
What these {count} tests show is less: that one which is broken, or spiteful in one of these ways, never takes the
others down and never looks as if no rule applied.

- *refused*: nothing that it brings is at hand, and the reason stands in `catalogue.failures`;
- *put right*: what it changed in the process was put back, which stands in `catalogue.slips`;
- *told when it plans*, *told when it draws*: a {{py:class}}`turnback.PluginError` that names it;
- *harmless*: it can do no harm with what it is given.

| name | what is wrong with it | what becomes of it |
|---|---|---|
"""


def hostile_page() -> str:
    """Write the page.

    Returns:
        The page in Markdown.
    """
    rows = [f"| `{way.name}` | {_plain(way.sentence)} | {way.fate} |\n" for way in HOSTILE_WAYS]
    return _HEAD.format(count=len(HOSTILE_WAYS)) + "".join(rows)


def _plain(sentence: str) -> str:
    return " ".join(sentence.split()).replace("|", "\\|").replace("``", "`")


if __name__ == "__main__":
    PAGE.write_text(hostile_page(), encoding="utf-8")
