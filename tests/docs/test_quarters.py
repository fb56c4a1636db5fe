"""Four quarters: every page stands in exactly one, and the number of examples that run may not fall.

A page that is made by the build itself belongs to the reference, whatever its folder.
"""

from __future__ import annotations

import contextlib
import doctest
import io
import re
import shlex
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest
from tests.docs.site import DOCS
from tests.docs.test_code_blocks import PAGES, Block, blocks_of_page

from turnback.cli.main import main

QUARTERS: Final = {"Tutorial": "tutorial", "How to": "how-to", "Reference": "reference", "Explanation": "explanation"}
"""Caption in the table of contents, and the folder of its pages."""
MADE: Final = frozenset({"rule-sets", "laws", "formulas"})
"""Folders that the build fills, all of the reference."""
TOCTREE: Final = re.compile(
    r"^```\{toctree\}\n:caption: (?P<caption>.+)\n(?::\w+:.*\n)*\n(?P<entries>[^`]+)```", re.MULTILINE
)
LEAST_EXAMPLES: Final = 338
"""Examples that the pages run: prompts of sessions, and blocks of Python, TOML and commands. The number may grow and
may not fall; raise it when it has grown."""
SHOWN: Final = frozenset({"text", "{toctree}", "{caution}", "{status-key}"})
"""Blocks that nothing is computed for."""
COMMANDS: Final = frozenset({"plan", "compare", "inspect", "verify", "rules", "conform", "batch"})


def written_pages() -> list[str]:
    """Every page that a person wrote: those of the four folders, and the first page."""
    pages = [*DOCS.rglob("*.md"), *DOCS.rglob("*.rst")]
    names = (page.relative_to(DOCS).as_posix() for page in pages)
    return sorted(name for name in names if name.split("/")[0] in QUARTERS.values() or "/" not in name)


def contents() -> dict[str, list[str]]:
    """The entries of each quarter in the table of contents."""
    text = (DOCS / "index.md").read_text(encoding="utf-8")
    return {found["caption"]: found["entries"].split() for found in TOCTREE.finditer(text)}


def examples_in(block: Block) -> int:
    """How many examples of a block are run; none of what is only shown."""
    if block.kind == "pycon":
        return len(doctest.DocTestParser().get_examples(block.body))
    return int(block.kind in ("python", "toml", "{turnback-command}") or block.kind.startswith("{literalinclude} "))


def test_the_four_quarters_are_there_and_no_fifth() -> None:
    assert list(QUARTERS) == list(contents())
    assert ["index.md"] == [page for page in written_pages() if "/" not in page]


def test_no_page_stands_outside_the_quarters() -> None:
    pages = {page.relative_to(DOCS).parts for page in [*DOCS.rglob("*.md"), *DOCS.rglob("*.rst")]}
    folders = {parts[0] for parts in pages if len(parts) > 1 and not parts[0].startswith("_")}
    assert set() == folders - set(QUARTERS.values()) - MADE


def test_a_page_stands_in_the_quarter_of_its_folder() -> None:
    for caption, entries in contents().items():
        assert [] == [entry for entry in entries if not entry.startswith(f"{QUARTERS[caption]}/")], caption


def test_every_page_stands_in_the_contents_once() -> None:
    listed = Counter(entry for entries in contents().values() for entry in entries)
    assert [] == [entry for entry, times in listed.items() if times > 1]
    # Of the reference some pages stand below another one, which names them itself.
    own = [page.rpartition(".")[0] for page in written_pages() if "/" in page]
    assert [] == [page for page in own if page not in listed and not page.startswith("reference/")]
    assert [] == [entry for entry in listed if entry not in own]


def test_a_page_below_another_stands_below_one_alone() -> None:
    listed = {entry for entries in contents().values() for entry in entries}
    texts = {
        page: (DOCS / page).read_text(encoding="utf-8") for page in written_pages() if page.startswith("reference/")
    }
    for page in texts:
        name = page.rpartition(".")[0]
        if name not in listed:
            short = re.compile(rf"^ +{re.escape(Path(name).name)}$", re.MULTILINE)
            above = [other for other, text in texts.items() if "toctree::" in text and short.search(text)]
            assert 1 == len(above), f"{page} stands below {above or 'no page'}"


def test_every_explanation_has_an_example_that_runs() -> None:
    pages = [page for page in PAGES if page.startswith("explanation/")]
    assert 9 < len(pages)
    for page in pages:
        # Code, or a directive that computes its answer while the site is built.
        assert set() != {block.kind.split(" ")[0] for block in blocks_of_page(page)} - SHOWN, page


def test_the_number_of_examples_does_not_fall(record_property: Callable[[str, object], None]) -> None:
    by_page = {page: sum(examples_in(block) for block in blocks_of_page(page)) for page in PAGES}
    total = sum(by_page.values())
    with_examples = sum(1 for number in by_page.values() if number)
    record_property("figure", f"{total} examples run, on {with_examples} pages; at least {LEAST_EXAMPLES} must")
    assert LEAST_EXAMPLES <= total, "\n".join(f"{number} {page}" for page, number in by_page.items())


@pytest.mark.parametrize("page", [page for page in PAGES if not page.startswith("reference/")])
def test_commands_that_are_only_shown_are_written_as_the_program_reads_them(page: str) -> None:
    # They need files of the reader, so that they are not run; every option of them must be one.
    for block in blocks_of_page(page):
        if block.kind != "text":
            continue
        for line in block.body.replace("\\\n", " ").splitlines():
            words = shlex.split(line.removeprefix("$ ")) if "turnback " in line[:12] else []
            if words[:1] != ["turnback"]:
                continue
            assert words[1] in COMMANDS, f"{page}:{block.line}: {line}"
            out = io.StringIO()
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
                assert 0 == main([*words[1 : 3 if words[1:3] == ["rules", "new"] else 2], "--help"])
            unknown = {word for word in words if word.startswith("--")} - set(re.findall(r"--[a-z-]+", out.getvalue()))
            assert set() == unknown, f"{page}:{block.line}: {line}"
