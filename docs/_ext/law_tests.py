"""Writes ``docs/reference/law-tests.toml``: of each law, the test files that show a fault which it notices.

Run ``python docs/_ext/law_tests.py`` from the top of the tree after a law or a test of one was added.
"""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Final

from turnback.conformance.laws import LAWS

__all__ = ["PAGE", "law_tests_text"]

ROOT: Final = Path(__file__).parents[2]
_TESTS: Final = ROOT / "tests" / "conformance"
PAGE: Final = ROOT / "docs" / "reference" / "law-tests.toml"
_HEAD: Final = """\
# Of each law, the test files that name it: they hold a fault, and show that the law notices it.
# Written by docs/_ext/law_tests.py; a test compares it with the tests.

[tests]
"""


def law_tests_text() -> str:
    """Look for the name of each law in the tests of the kit, and in the list of the fault that it alone notices.

    Returns:
        The file, laws in the order in which they are checked.
    """
    texts = {
        file.relative_to(ROOT).as_posix(): _texts(file)
        for file in (*sorted(_TESTS.rglob("test_*.py")), _TESTS / "faults" / "index.py")
    }
    lines = [_line(law.id, [file for file, said in texts.items() if law.id in said]) for law in LAWS]
    return _HEAD + "".join(lines)


def _texts(file: Path) -> set[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}


def _line(law_id: str, files: list[str]) -> str:
    return f"{law_id} = [{', '.join(repr(file) for file in files)}]\n".replace("'", '"')


if __name__ == "__main__":
    PAGE.write_text(law_tests_text(), encoding="utf-8")
