"""Every public function says what it is, what it returns and which errors it raises.

Units and the names of arguments are held by ``tests/architecture/test_docstrings.py``; that every name has its place on
the site, by ``test_public_names.py``.
"""

from __future__ import annotations

import ast
import builtins
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import attrs
import pytest

from turnback import errors

ROOT: Final = Path(__file__).parents[2]
MODULES: Final = sorted(
    file
    for file in (*(ROOT / "src" / "turnback").rglob("*.py"), *ROOT.glob("plugins/*/src/**/*.py"))
    if not file.name.startswith("_") and "templates" not in file.parts
)
READ_ONLY: Final = {"property", "cached_property", "overload", "setter", "validator", "default"}
"""What is read like a field has a sentence that says what it is."""
SILENT: Final = {"None", "Never", "NoReturn"}
OURS: Final = {"SkipNode", "NotImplementedError", "AssertionError", "StopIteration"}
"""Signals between parts of a program, which no caller sees."""


@attrs.frozen
class Function:
    """A public function or method: where it stands, whether its class only names what others have, and its tree."""

    place: str
    of_protocol: bool
    node: ast.FunctionDef

    @property
    def said(self) -> str:
        return ast.get_docstring(self.node) or ""

    def raised(self) -> Iterator[str]:
        """Name the errors that its own text raises; what is caught again on the way is looked at too."""
        for node in ast.walk(self.node):
            if isinstance(node, ast.Raise) and node.exc is not None:
                called = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
                name = ast.unparse(called).rpartition(".")[2]
                if name[:1].isupper() and name not in OURS:
                    yield name


def functions(body: list[ast.stmt], where: str, *, of_protocol: bool = False) -> Iterator[Function]:
    for node in body:
        if isinstance(node, ast.ClassDef) and node.name[0] != "_":
            bases = {ast.unparse(base).partition("[")[0] for base in node.bases}
            yield from functions(node.body, f"{where} {node.name}", of_protocol="Protocol" in bases)
        elif isinstance(node, ast.If):
            yield from functions([*node.body, *node.orelse], where, of_protocol=of_protocol)
        elif isinstance(node, ast.FunctionDef) and node.name[0] != "_":
            decorators = {ast.unparse(each).rpartition(".")[2] for each in node.decorator_list}
            if not decorators & READ_ONLY:
                yield Function(f"{where}.{node.name}", of_protocol, node)


def of_file(file: Path) -> list[Function]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return list(functions(tree.body, file.relative_to(ROOT).as_posix()))


def without_returns(found: list[Function]) -> list[str]:
    """Name those that give something back and do not say what; of a protocol the first sentence says it."""
    return [
        each.place
        for each in found
        if each.node.returns is not None
        and ast.unparse(each.node.returns) not in SILENT
        and not re.search(r"^(?:Returns|Yields):", each.said, re.MULTILINE)
        and not (each.of_protocol and each.said)
    ]


def without_raises(found: list[Function]) -> list[str]:
    """Name those that raise what they do not speak of, by its own name or by that of a kind of error above it."""
    missing = []
    for each in found:
        section = re.search(r"^Raises:\n(?P<lines>(?:    .*\n?|\n)+)", each.said, re.MULTILINE)
        # "See :func:`check`" hands the reader on to the function that does the same.
        told = section["lines"] if section is not None else each.said if "see :func:" in each.said else ""
        for name in each.raised():
            kind = getattr(errors, name, None) or getattr(builtins, name, None)
            kinds = [base.__name__ for base in kind.__mro__] if isinstance(kind, type) else [name]
            if "see :func:" not in told and not any(re.search(rf"\b{one}\b", told) for one in kinds):
                missing.append(f"{each.place}: {name}")
    return missing


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.relative_to(ROOT).as_posix())
def test_what_comes_back_and_what_is_raised_is_said(file: Path) -> None:
    # The command line is for a shell: its errors are exit codes, and its page lists them.
    found = [each for each in of_file(file) if "/cli/" not in each.place]
    assert ([], []) == (without_returns(found), without_raises(found))


SNIPPET: Final = '''
class Kind(Protocol):
    def size(self) -> int:
        """How large it is [-]."""

def silent(text: str) -> int:
    """Read a number."""
    raise InputError("no")

def told(text: str) -> int:
    """Read a number.

    Returns:
        It.

    Raises:
        TurnbackError: It is none.
    """
    raise InputError("no")

def _inside() -> int: ...
'''


def test_the_reader_sees_what_is_missing() -> None:
    found = list(functions(ast.parse(SNIPPET).body, "snippet"))
    assert ["snippet Kind.size", "snippet.silent", "snippet.told"] == [each.place for each in found]
    assert ["snippet.silent"] == without_returns(found)
    assert ["snippet.silent: InputError"] == without_raises(found)


def test_much_is_looked_at() -> None:
    assert 500 < sum(len(of_file(file)) for file in MODULES)
