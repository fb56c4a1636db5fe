"""Every code block of the documentation runs, and every session prints what the page says.

A page is run from top to bottom in one namespace and in an empty folder. Blocks with a caption are files, and a TOML
block with an ``id`` is saved as ``ID.toml``, as the pages tell their reader to do.
"""

from __future__ import annotations

import contextlib
import doctest
import io
import re
import shlex
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs
import pytest

from turnback.cli.main import main

DOCS: Final = Path(__file__).parents[2] / "docs"
GENERATED: Final = ("_build", "rule-sets", "formulas", "laws")
PAGES: Final = sorted(
    page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md") if page.relative_to(DOCS).parts[0] not in GENERATED
)
FENCE: Final = re.compile(r"^```(?P<info>[^\n`]*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
OPTION: Final = re.compile(r"^:(?P<name>[a-z]+): *(?P<value>.*)\n", re.MULTILINE)
NO_CODE: Final = "text"
"""What a block may be without being run, beside a directive: one that does not exist is refused by the build."""


@attrs.frozen
class Block:
    """One fenced block: what it is, its options, its text and the line on which the text begins."""

    kind: str
    options: dict[str, str]
    body: str
    line: int


def blocks_of(page: str) -> Iterator[Block]:
    text = (DOCS / page).read_text(encoding="utf-8")
    for found in FENCE.finditer(text):
        kind, body, options = found["info"].strip(), found["body"], dict[str, str]()
        while (option := OPTION.match(body)) is not None:
            options[option["name"]] = option["value"]
            body = body[option.end() :]
        if kind.startswith("{code-block} "):
            kind = kind.removeprefix("{code-block} ")
        yield Block(kind, options, body.lstrip("\n"), text.count("\n", 0, found.start("body")))


def run_session(block: Block, names: dict[str, object], page: str) -> None:
    test = doctest.DocTestParser().get_doctest(block.body, names, page, page, block.line)
    report = io.StringIO()
    result = doctest.DocTestRunner(verbose=False).run(test, out=report.write, clear_globs=False)
    assert 0 < result.attempted, f"{page}:{block.line}: the session has no prompt"
    assert 0 == result.failed, report.getvalue()
    names.update(test.globs)


def run_command(block: Block, page: str) -> None:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(shlex.split(block.body.replace("\\\n", " ")))
    assert int(block.options.get("exit", "0")) == code, f"{page}:{block.line}: {err.getvalue()}"


def save(block: Block, folder: Path) -> None:
    name = block.options.get("caption", "")
    if block.kind == "toml":
        document = tomllib.loads(block.body)
        name = name or f"{document['id']}.toml" if "id" in document else name
    if name:
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(block.body, encoding="utf-8")
        for package in file.parents:
            if package.parent == folder / "src":
                (package / "__init__.py").touch()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    known = set(sys.modules)
    monkeypatch.chdir(tmp_path)
    monkeypatch.syspath_prepend(str(tmp_path / "src"))
    yield tmp_path
    for name in set(sys.modules) - known:
        if name.split(".")[0] == "turnback_example":
            del sys.modules[name]


@pytest.mark.parametrize("page", PAGES)
def test_every_block_of_a_page_runs(page: str, folder: Path) -> None:
    names: dict[str, object] = {"__name__": "page"}
    for block in blocks_of(page):
        if block.kind in ("python", "toml"):
            save(block, folder)
        if block.kind == "python" and "caption" not in block.options:
            exec(compile("\n" * block.line + block.body, page, "exec"), names)
        elif block.kind == "pycon":
            run_session(block, names, page)
        elif block.kind == "{turnback-command}":
            run_command(block, page)
        elif block.kind.startswith("{literalinclude} examples/"):
            # test_examples.py runs every recipe and checks its answer.
            assert (DOCS / "how-to" / block.kind.partition(" ")[2]).is_file()
        elif block.kind not in ("python", "toml"):
            filled_in = block.kind == NO_CODE or block.kind.startswith("{")
            assert filled_in, f"{page}:{block.line}: nothing runs a block of {block.kind!r}"


def test_the_pages_that_teach_have_code() -> None:
    # A slip in the pattern above would find no blocks, and every page would pass.
    kinds = {page: {block.kind for block in blocks_of(page)} for page in PAGES}
    assert {"python", "pycon", "{turnback-command}"} <= kinds["tutorial/first-plan.md"]
    assert {"python", "pycon"} <= kinds["how-to/use-your-own-pint-registry.md"]
    assert {"python", "pycon", "toml"} <= kinds["how-to/add-a-plugin.md"]
    assert {"python", "pycon"} <= kinds["explanation/what-it-refuses.md"]
    assert {"python", "toml"} <= kinds["how-to/write-a-rule-file.md"]
