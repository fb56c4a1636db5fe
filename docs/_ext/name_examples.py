"""Says of each public class and function where it is at work: pages whose code runs, else tests.

A name is followed through the imports of the code, so that another thing of the same name is not taken for it. What is
said stands at the end of its entry in the reference.
"""

from __future__ import annotations

import ast
import functools
import inspect
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from page_examples import blocks_of
from references import object_named
from sphinx.application import Sphinx
from sphinx.util.typing import ExtensionMetadata

__all__ = ["names_in", "pages_of", "setup", "tests_of"]

_DOCS: Final = Path(__file__).parents[1]
_AT_MOST: Final = 3
"""How many pages or tests are named [-]."""
_MADE: Final = ("_build", "rule-sets", "laws", "formulas")


def names_in(code: str) -> Iterator[str]:
    """Name the things of ours that code uses.

    Args:
        code: Python; what cannot be read names nothing.

    Yields:
        Dotted names as the code imports them, such as ``turnback.plan``; some twice.
    """
    try:
        tree = ast.parse(code)
    except SyntaxError:
        return
    stands_for: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for each in node.names:
                stands_for[each.asname or each.name.partition(".")[0]] = (
                    each.name if each.asname else each.name.partition(".")[0]
                )
        elif isinstance(node, ast.ImportFrom):
            for each in node.names:
                stands_for[each.asname or each.name] = f"{node.module}.{each.name}"
    for node in ast.walk(tree):
        first, _, rest = _dotted(node).partition(".")
        whole = f"{stands_for[first]}.{rest}".removesuffix(".") if first in stands_for else ""
        if whole.startswith("turnback"):
            yield whole


def _dotted(node: ast.AST) -> str:
    """Return a name as it is written; empty for anything else."""
    parts: list[str] = []
    while isinstance(node, ast.Attribute):
        parts.insert(0, node.attr)
        node = node.value
    return ".".join([node.id, *parts]) if isinstance(node, ast.Name) else ""


def _code_of_page(page: Path) -> Iterator[str]:
    """Give the code of a page as one text, for its blocks share their names."""
    parts: list[str] = []
    for block in blocks_of(page.read_text(encoding="utf-8")):
        if block.kind == "python":
            parts.append(block.body)
        elif block.kind == "pycon":
            parts += [line[4:] for line in block.body.splitlines() if line.startswith((">>> ", "... "))]
        elif block.kind.startswith("{literalinclude} "):
            yield (page.parent / block.kind.partition(" ")[2]).read_text(encoding="utf-8")
    yield "\n".join(parts)


def _users(texts: Iterable[tuple[str, str]]) -> dict[int, list[str]]:
    """Gather who uses a class or a function, by its identity."""
    found: dict[int, list[str]] = {}
    for user, code in texts:
        for name in dict.fromkeys(names_in(code)):
            value = object_named(name)
            if (inspect.isclass(value) or inspect.isroutine(value)) and user not in found.setdefault(id(value), []):
                found[id(value)].append(user)
    return found


@functools.cache
def pages_of() -> dict[int, list[str]]:
    """Gather the pages that use a class or a function in code that runs.

    Returns:
        Pages without an ending, those that teach first, by the identity of what they use.
    """
    pages = [page for page in _DOCS.rglob("*.md") if page.relative_to(_DOCS).parts[0] not in _MADE]
    order = ("tutorial", "how-to", "explanation", "reference")
    named = sorted(
        (page.relative_to(_DOCS).with_suffix("").as_posix() for page in pages),
        key=lambda name: (order.index(first) if (first := name.partition("/")[0]) in order else -1, name),
    )
    return _users((name, code) for name in named for code in _code_of_page(_DOCS / f"{name}.md"))


@functools.cache
def tests_of() -> dict[int, list[str]]:
    """Gather the tests that use a class or a function.

    Returns:
        Files from the top of the tree, by the identity of what they use; nothing where the tree has no tests.
    """
    root = _DOCS.parent
    files = sorted([*(root / "tests").rglob("test_*.py"), *root.glob("plugins/*/tests/test_*.py")])
    return _users((file.relative_to(root).as_posix(), file.read_text(encoding="utf-8")) for file in files)


def _tell(app: Sphinx, what: str, name: str, obj: object, options: object, lines: list[str]) -> None:
    """Add the line to an entry, behind what napoleon has made of the docstring."""
    del app, name, options
    if what not in ("class", "exception", "function"):
        return
    if pages := pages_of().get(id(obj), [])[:_AT_MOST]:
        lines += ["", f"At work: {', '.join(f':doc:`/{page}`' for page in pages)}.", ""]
    elif tests := tests_of().get(id(obj), [])[:_AT_MOST]:
        lines += ["", f"At work: {', '.join(f'``{test}``' for test in tests)}.", ""]


def _read_once(app: Sphinx) -> None:
    """Read pages and tests before the build goes on in several processes."""
    del app
    pages_of()
    tests_of()


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the line at the end of each entry.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.connect("builder-inited", _read_once)
    app.connect("autodoc-process-docstring", _tell, priority=900)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
