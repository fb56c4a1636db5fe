"""Every public name of the core and of each plugin has an entry in the reference, and every entry is a public name."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import zlib
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Final

import pytest

import turnback

DOCS: Final = Path(__file__).parents[2] / "docs"
PACKAGES: Final = ("turnback", "turnback_ubolt", "turnback_mirrored_saddle", "turnback_plate")
NOT_IMPORTED: Final = ("turnback.cli",)
"""The command line is no place to import from; its page shows what it prints."""


def entries(site: Path) -> set[str]:
    data = (site / "objects.inv").read_bytes()
    lines = zlib.decompress(data.split(b"\n", 4)[4]).decode().splitlines()
    return {line.split(" ")[0] for line in lines if line.split(" ")[1].startswith("py:")}


def modules() -> Iterator[ModuleType]:
    for package in PACKAGES:
        top = importlib.import_module(package)
        yield top
        for found in pkgutil.walk_packages(top.__path__, f"{package}."):
            inner = found.name.split(".")
            if any(part.startswith("_") for part in inner) or found.name.startswith(NOT_IMPORTED):
                continue
            yield importlib.import_module(found.name)


def named(dotted: str) -> object:
    """Return what an entry stands for."""
    parts = dotted.split(".")
    for cut in range(len(parts), 0, -1):
        try:
            found: object = importlib.import_module(".".join(parts[:cut]))
        except ImportError:
            continue
        for part in parts[cut:]:
            found = getattr(found, part)
        return found
    raise LookupError(dotted)


def test_every_public_name_has_an_entry(site: Path) -> None:
    documented = entries(site)
    objects = {id(named(each)) for each in documented}
    missing = [
        f"{module.__name__}.{name}"
        for module in modules()
        for name in getattr(module, "__all__", ())
        if f"{module.__name__}.{name}" not in documented and id(getattr(module, name)) not in objects
    ]
    assert [] == missing, missing


def test_every_entry_is_a_public_name_or_belongs_to_one(site: Path) -> None:
    public = {f"{module.__name__}.{name}" for module in modules() for name in getattr(module, "__all__", ())}
    public |= {module.__name__ for module in modules()}
    public |= {f"turnback.{name}" for name in turnback.__all__}
    objects = {id(named(each)) for each in public}
    strange = []
    for entry in entries(site):
        owner = entry
        # A class that a list takes from a private module has its second name there.
        while owner and owner not in public and id(named(owner)) not in objects:
            owner = owner.rpartition(".")[0]
        # A member stands under its class; a floor alone is no owner of a name that it does not list.
        if not owner or (owner != entry and inspect.ismodule(named(owner))):
            strange.append(entry)
    assert [] == strange, strange


@pytest.mark.parametrize("word", ["nitpick_ignore", "suppress_warnings", "nitpick_ignore_regex"])
def test_the_site_ignores_no_warning(word: str) -> None:
    conf = (DOCS / "conf.py").read_text(encoding="utf-8")
    assert word not in conf
    assert "nitpicky = True" in conf
