"""Runs what stands on a page, and says of each example that no longer holds where it stands. It needs no Sphinx.

A page is run from top to bottom in one namespace and in an empty folder. Blocks with a caption are files, and a TOML
block with an ``id`` is saved as ``ID.toml``, as the pages tell their reader to do. ``examples_builder`` runs the pages
of a site, ``tests/docs/test_code_blocks.py`` those of this one.
"""

from __future__ import annotations

import contextlib
import doctest
import io
import re
import shlex
import sys
import tempfile
import tomllib
import traceback
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs

from turnback.cli.main import main

__all__ = ["NO_CODE", "Block", "Problem", "blocks_of", "problems_of"]

_FENCE: Final = re.compile(r"^```(?P<info>[^\n`]*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
_OPTION: Final = re.compile(r"^:(?P<name>[a-z]+): *(?P<value>.*)\n", re.MULTILINE)
NO_CODE: Final = "text"
"""What a block may be without being run, beside a directive: one that does not exist is refused by the build."""
_MADE: Final = "turnback_example"
"""The package that pages make in their folder and import."""


@attrs.frozen
class Block:
    """One fenced block.

    Args:
        kind: What it is: a language, or a directive in braces.
        options: Its options.
        body: Its text.
        line: The line above its text [-].
    """

    kind: str
    options: dict[str, str]
    body: str
    line: int


@attrs.frozen
class Problem:
    """An example that does not hold.

    Args:
        line: The line above the block [-].
        said: What was expected and what came.
    """

    line: int
    said: str


def blocks_of(text: str) -> Iterator[Block]:
    """Read the fenced blocks of a page.

    Args:
        text: The page in Markdown.

    Yields:
        Each block, in order.
    """
    for found in _FENCE.finditer(text):
        kind, body, options = found["info"].strip(), found["body"], dict[str, str]()
        while (option := _OPTION.match(body)) is not None:
            options[option["name"]] = option["value"]
            body = body[option.end() :]
        kind = kind.removeprefix("{code-block} ")
        yield Block(kind, options, body.lstrip("\n"), text.count("\n", 0, found.start("body")))


def problems_of(page: Path) -> Iterator[Problem]:
    """Run a page in an empty folder.

    Args:
        page: The page in Markdown.

    Yields:
        Each example that does not hold. What follows it on the page is run all the same.
    """
    page = page.resolve()
    known, names = set(sys.modules), dict[str, object]({"__name__": "page"})
    with tempfile.TemporaryDirectory() as place, contextlib.chdir(place):
        folder = Path(place)
        sys.path.insert(0, str(folder / "src"))
        try:
            for block in blocks_of(page.read_text(encoding="utf-8")):
                if said := _run(block, names, page, folder):
                    yield Problem(block.line, said)
        finally:
            sys.path.remove(str(folder / "src"))
            for name in set(sys.modules) - known:
                # The next page may make a package of the same name.
                if name.partition(".")[0] == _MADE:
                    del sys.modules[name]


def _run(block: Block, names: dict[str, object], page: Path, folder: Path) -> str:
    """Run one block, and say what is wrong with it; nothing where it holds."""
    if block.kind in ("python", "toml"):
        _save(block, folder)
    if block.kind == "python" and "caption" not in block.options:
        return _code(block, names, page)
    if block.kind == "pycon":
        return _session(block, names, page)
    if block.kind == "{turnback-command}":
        return _command(block)
    if block.kind.startswith("{literalinclude} "):
        # tests/docs/test_examples.py runs every recipe and checks its answer.
        included = page.parent / block.kind.partition(" ")[2]
        return "" if included.is_file() else f"there is no file {included}"
    shown = block.kind in ("python", "toml", NO_CODE) or block.kind.startswith("{")
    return "" if shown else f"nothing runs a block of {block.kind!r}"


def _code(block: Block, names: dict[str, object], page: Path) -> str:
    try:
        exec(compile("\n" * block.line + block.body, str(page), "exec"), names)
    except Exception:
        return traceback.format_exc()
    return ""


def _session(block: Block, names: dict[str, object], page: Path) -> str:
    test = doctest.DocTestParser().get_doctest(block.body, names, page.name, str(page), block.line)
    report = io.StringIO()
    result = doctest.DocTestRunner(verbose=False).run(test, out=report.write, clear_globs=False)
    names.update(test.globs)
    if not result.attempted:
        return "the session has no prompt"
    return report.getvalue() if result.failed else ""


def _command(block: Block) -> str:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(shlex.split(block.body.replace("\\\n", " ")))
    wanted = int(block.options.get("exit", "0"))
    return "" if code == wanted else f"exit code {code}, not {wanted}: {err.getvalue()}"


def _save(block: Block, folder: Path) -> None:
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
