"""The list of finding codes in the documentation is the list in the source code, both ways."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import turnback.planning._service_weighing as weighing
from turnback.model.findings import KINDS

ROOT: Final = Path(__file__).parents[2]
PAGE: Final = ROOT / "docs" / "reference" / "finding-codes.md"
LINE: Final = re.compile(r"^\| `(?P<code>[^`]+)` \| (?P<kinds>[a-z, -]+) \|", re.MULTILINE)
MADE: Final = "CODE"
"""Stands on the page for the code of a service rule."""


def sources() -> list[Path]:
    return sorted([*(ROOT / "src").rglob("*.py"), *(ROOT / "plugins").glob("*/src/**/*.py")])


def texts(node: ast.expr, module: ast.Module) -> set[str]:
    """Return every text that an expression may be, as far as the module itself tells."""
    if isinstance(node, ast.Constant):
        return {str(node.value)}
    if isinstance(node, ast.IfExp):
        return texts(node.body, module) | texts(node.orelse, module)
    if isinstance(node, ast.Name):
        return {text for value in assigned(node.id, module) for text in texts(value, module)}
    if isinstance(node, ast.JoinedStr):
        parts = [value.value if isinstance(value, ast.Constant) else MADE for value in node.values]
        return {"".join(str(part) for part in parts)}
    if isinstance(node, ast.Attribute) and node.attr == "code":
        return {MADE}
    return set()


def assigned(name: str, module: ast.Module) -> Iterator[ast.expr]:
    """Yield what is assigned to a name anywhere in a module, in pairs of names too."""
    for node in ast.walk(module):
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.target.id == name:
            yield from [node.value] if node.value is not None else []
        if not isinstance(node, ast.Assign):
            continue
        for target in node.targets:
            if isinstance(target, ast.Name) and target.id == name:
                yield node.value
            if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
                pairs = zip(target.elts, node.value.elts, strict=True)
                yield from (value for one, value in pairs if isinstance(one, ast.Name) and one.id == name)


def in_the_code() -> dict[str, set[str]]:
    """Return the code of every finding that is made anywhere, with its kinds; no kind where the module hides it."""
    found: dict[str, set[str]] = {}
    for path in sources():
        module = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(module):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name) or node.func.id != "Finding":
                continue
            given = {keyword.arg: keyword.value for keyword in node.keywords}
            code = node.args[0] if node.args else given["code"]
            kind = node.args[1] if len(node.args) > 1 else given["kind"]
            named = texts(code, module)
            assert named, f"{path}:{node.lineno}: the code of this finding cannot be told from its module"
            for text in named:
                found.setdefault(text, set()).update(texts(kind, module) & set(KINDS))
    return found


def on_the_page() -> dict[str, set[str]]:
    listed = [(found["code"], found["kinds"]) for found in LINE.finditer(PAGE.read_text(encoding="utf-8"))]
    assert len(listed) == len({code for code, _ in listed}), "a code stands twice"
    return {code: set(kinds.split(", ")) for code, kinds in listed}


def test_every_code_is_listed_and_every_listed_code_exists() -> None:
    # The bare code of a service rule is listed by the build, from the rules themselves.
    assert set(in_the_code()) - {MADE} == set(on_the_page())


def test_every_code_has_the_kinds_that_the_page_says() -> None:
    page = on_the_page()
    for code, kinds in in_the_code().items():
        if code != MADE:
            assert page[code] == kinds, code


def test_codes_are_in_order_and_kinds_are_real() -> None:
    codes = [code for code in on_the_page() if not code.startswith(MADE)]
    assert sorted(codes) == codes
    assert {kind for kinds in on_the_page().values() for kind in kinds} <= set(KINDS)


def test_a_service_rule_leads_to_the_kinds_that_the_page_says() -> None:
    # "forbidden; must-do for what is required, a floor or a bound; note", as the page words it.
    expected = {"forbidden": "forbidden", "required": "must-do", "floor": "must-do", "bound": "must-do", "note": "note"}
    assert expected == weighing._KIND
