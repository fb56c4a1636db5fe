"""The embedding recipes run as they stand; their answers are typed from 8 CCR 8497 Table 1."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "docs" / "how-to" / "examples"

ANSWERS = {
    # 1/2 in: 3 clips.
    "json_service": "200 3 clips; 400 InputError",
    # 3/4 in: 18 in = 457.2 mm, from either registry.
    "pint_registries": "turn-back 457.2 mm and 457.2 mm",
    # 1/2 in: 11-1/2 in; 3/4 in: 18 in; 13 mm is no size of the table.
    "pandas_frame": (
        "mast 1 north: 11-1/2 in (292.1 mm); mast 1 south: 18 in (457.2 mm); "
        "fence 4: us-ca-8-8497 prints no row for this size, and nothing is interpolated"
    ),
    # 1/2, 5/8, 3/4, 7/8, 1 in: 3, 3, 4, 4, 5 clips.
    "pools": "3 3 4 4 5",
    "spreadsheet": "turn_back: 18 in (457.2 mm)",
}


def test_every_recipe_is_tested_and_shown() -> None:
    files = {file.stem for file in EXAMPLES.glob("*.py")}
    assert set(ANSWERS) == files
    page = (EXAMPLES.parent / "embed.md").read_text(encoding="utf-8")
    assert all(f"examples/{name}.py" in page for name in files)


@pytest.mark.parametrize("name", sorted(ANSWERS))
def test_a_recipe_answers(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # A process pool imports the recipe again by its name, so the folder must be on the path of the children too.
    monkeypatch.syspath_prepend(str(EXAMPLES))
    spec = importlib.util.spec_from_file_location(name, EXAMPLES / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, name, module)
    spec.loader.exec_module(module)
    assert ANSWERS[name] == module.main()
