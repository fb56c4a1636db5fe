"""Every folder under plugins/ is a distribution under the contracts of the house."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from pathlib import Path

import pytest

import turnback

ROOT = Path(__file__).parents[2]
PLUGINS = sorted(folder for folder in (ROOT / "plugins").iterdir() if folder.is_dir() and folder.name[0] != ".")
FLOORS = ("turnback.rules", "turnback.model", "turnback.quantities", "turnback.mechanics", "turnback.errors")


def project(folder: Path) -> dict[str, object]:
    return tomllib.loads((folder / "pyproject.toml").read_text(encoding="utf-8"))


def table(data: dict[str, object], *keys: str) -> dict[str, object]:
    for key in keys:
        found = data[key]
        assert isinstance(found, dict)
        data = found
    return data


def package(folder: Path) -> Path:
    packages = [each for each in (folder / "src").iterdir() if (each / "__init__.py").is_file()]
    assert 1 == len(packages)
    return packages[0]


def test_there_are_plugins_and_nothing_but_distributions() -> None:
    assert {"turnback-ubolt", "turnback-mirrored-saddle", "turnback-plate"} <= {folder.name for folder in PLUGINS}
    assert [] == [folder.name for folder in PLUGINS if not (folder / "pyproject.toml").is_file()]


def test_import_linter_looks_at_every_plugin() -> None:
    settings = table(project(ROOT), "tool", "importlinter")
    packages = {package(folder).name for folder in PLUGINS}
    assert ["turnback", *sorted(packages)] == sorted(map(str, _listed(settings["root_packages"])))
    contracts = _listed(settings["contracts"])
    apart = [each for each in contracts if isinstance(each, dict) and each["type"] == "independence"]
    assert [packages] == [set(_listed(each["modules"])) for each in apart]


def _listed(value: object) -> list[object]:
    assert isinstance(value, list)
    return value


def test_the_contract_of_the_floors_names_every_folder() -> None:
    contracts = _listed(table(project(ROOT), "tool", "importlinter")["contracts"])
    layers = next(each for each in contracts if isinstance(each, dict) and each["type"] == "layers")
    assert ["turnback"] == layers["containers"]
    assert layers["exhaustive"] is True
    named = [re.findall(r"[a-z_]+", str(each)) for each in layers["layers"]]
    # Design, section 2, from the roof down; above it what documents the house.
    assert [
        ["sphinxext"], ["cli"], ["batch", "conformance"], ["output"], ["review"], ["planning"], ["rules"], ["model"],
        ["quantities", "mechanics"], ["errors"],
    ] == named  # fmt: skip
    built = {each.stem for each in (ROOT / "src" / "turnback").iterdir() if each.name[0] not in "_."}
    assert set() == built - {name for floor in named for name in floor} - {"py"}


@pytest.mark.parametrize("folder", PLUGINS, ids=lambda folder: folder.name)
class TestPlugin:
    def test_it_declares_the_core_that_it_is_made_for(self, folder: Path) -> None:
        metadata = table(project(folder), "project")
        assert folder.name == metadata["name"]
        assert "turnback>=0.1,<0.2" in _listed(metadata["dependencies"])
        assert "0.1" == ".".join(turnback.__version__.split(".")[:2])
        assert ">=3.11" == metadata["requires-python"]

    def test_its_licence_is_that_of_the_core_as_spdx(self, folder: Path) -> None:
        assert "Apache-2.0" == table(project(folder), "project")["license"]
        assert "Apache-2.0" == table(project(ROOT), "project")["license"]

    def test_it_is_typed_and_says_what_it_is(self, folder: Path) -> None:
        assert (package(folder) / "py.typed").is_file()
        readme = (folder / "README.md").read_text(encoding="utf-8")
        assert readme.startswith(f"# {folder.name}\n")
        assert "README.md" == table(project(folder), "project")["readme"]
        assert any((folder / "tests").glob("test_*.py"))

    def test_it_is_found_through_an_entry_point(self, folder: Path) -> None:
        points = table(project(folder), "project", "entry-points", "turnback.plugins")
        assert points
        for module in points.values():
            assert str(module).split(".")[0] == package(folder).name

    def test_it_imports_the_lower_floors_and_nothing_else_of_ours(self, folder: Path) -> None:
        own = package(folder).name
        strange = []
        for file in package(folder).rglob("*.py"):
            for name in imported(file):
                top = name.split(".")[0]
                if top in sys.stdlib_module_names or top in (own, "attrs", "pluggy"):
                    continue
                if not any(name == floor or name.startswith(floor + ".") for floor in FLOORS):
                    strange.append((file.name, name))
        assert [] == strange

    def test_its_rule_files_are_read_by_its_hook(self, folder: Path) -> None:
        files = {file.name for file in (package(folder) / "rules").glob("*.toml")}
        checks = {name for name in files if name.endswith(".check.toml")}
        assert checks == {name.removesuffix(".toml") + ".check.toml" for name in files - checks}
        named = {
            node.value
            for node in ast.walk(ast.parse((package(folder) / "plugin.py").read_text(encoding="utf-8")))
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.endswith(".toml")
        }
        assert files - checks == named


def imported(file: Path) -> list[str]:
    found: list[str] = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, "imports are written whole"
            # ``from turnback import rules`` goes through the face, whatever it imports.
            found.append(node.module or "")
    return found
