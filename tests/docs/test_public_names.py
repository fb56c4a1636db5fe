"""Every public name of the core and of each plugin has an entry in the reference, and every entry is a public name."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import sys
from collections.abc import Callable, Iterator
from itertools import zip_longest
from pathlib import Path
from types import ModuleType
from typing import Final

import pytest
from tests.docs.site import DOCS, inventory

import turnback

PACKAGES: Final = ("turnback", "turnback_ubolt", "turnback_mirrored_saddle", "turnback_plate")
NOT_IMPORTED: Final = ("turnback.cli",)
"""The command line is no place to import from; its page shows what it prints."""


def entries(site: Path) -> set[str]:
    return {name for name, kind in inventory(site) if kind.startswith("py:")}


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


def works(value: object) -> bool:
    """Tell whether a thing can be put to work: a class or a function."""
    return inspect.isclass(value) or inspect.isroutine(value)


def identity(name: str, value: object) -> tuple[str, int]:
    return (name if isinstance(value, (int, float, str)) else "", id(value))


def test_every_public_name_has_an_entry(site: Path) -> None:
    documented = entries(site)
    # Each thing is documented once. Small numbers and texts are shared, so that those are known by their name as well.
    known = {identity(each.rpartition(".")[2], named(each)) for each in documented}
    missing = [
        f"{module.__name__}.{name}"
        for module in modules()
        for name in getattr(module, "__all__", ())
        if identity(name, getattr(module, name)) not in known
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


LEAST_AT_WORK: Final = 330
"""Public classes and functions, of all floors, whose entry leads to code that runs; the number may not fall."""


def test_every_name_of_the_face_is_at_work_on_a_page(site: Path) -> None:
    entry = re.compile(r'<dl class="py (?:class|exception|function|data)">\s*<dt [^>]*id="(?P<name>[\w.]+)"')
    at_work: set[str] = set()
    for page in (site / "reference").glob("*.html"):
        text = page.read_text(encoding="utf-8")
        found = list(entry.finditer(text))
        for here, after in zip_longest(found, found[1:]):
            said = text[here.start() : after.start() if after is not None else len(text)]
            if re.search(r"<p>At work: <a [^>]*><span", said):
                at_work.add(here["name"])
    wanted = {f"turnback.{name}" for name in turnback.__all__ if works(getattr(turnback, name))}
    # Another name for a union of types is no class, and has no entry of its own kind.
    assert 60 < len(wanted)
    assert set() == wanted - at_work


def test_the_number_of_names_at_work_does_not_fall(site: Path, record_property: Callable[[str, object], None]) -> None:
    del site  # it skips where Sphinx is not installed
    sys.path.insert(0, str(DOCS / "_ext"))
    from name_examples import names_in, pages_of, tests_of

    public = {
        id(value): f"{module.__name__}.{name}"
        for module in modules()
        for name in getattr(module, "__all__", ())
        if works(value := getattr(module, name))
    }
    shown = [name for key, name in public.items() if key in pages_of() or key in tests_of()]
    record_property(
        "figure", f"{len(shown)} of {len(public)} public classes and functions at work on a page or in a test"
    )
    assert LEAST_AT_WORK <= len(shown)
    # A name is followed through the imports: by hand, one of each form.
    code = "import turnback as tb\nfrom turnback.batch import plan_table as many\n\ntb.plan(many)\nplan = tb.Rope\n"
    assert {"turnback.plan", "turnback.batch.plan_table", "turnback.Rope", "turnback"} == set(names_in(code))
