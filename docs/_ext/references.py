"""Leads references from where an object lives to where it is documented.

Docstrings and annotations name an object by the module that they stand in; the face, a floor or somebody else's site
has its entry. Two doors: before Sphinx resolves references, short names that several objects bear are made whole; what
Sphinx does not find is looked up by the object itself, then by what the module imports.
"""

from __future__ import annotations

import ast
import functools
import importlib
import inspect
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import ClassVar, Final
from weakref import WeakKeyDictionary

import attrs
from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment
from sphinx.ext.intersphinx import resolve_reference_any_inventory
from sphinx.transforms.post_transforms import SphinxPostTransform
from sphinx.util.typing import ExtensionMetadata

__all__ = ["object_named", "setup"]

_OURS: Final = ("turnback.", "turnback_")
_KNOWN: Final[WeakKeyDictionary[BuildEnvironment, dict[int, str]]] = WeakKeyDictionary()
_STANDS_IN: Final = re.compile(r"docstring of ([\w.]+)")


@functools.cache
def object_named(dotted: str) -> object | None:
    """Return an object of ours.

    Args:
        dotted: Its name with the module in front.

    Returns:
        The object; None where there is none.
    """
    whole, _, name = dotted.rpartition(".")
    if not whole:
        return _module(name)
    # What a package lists under a name is meant before a module of that name.
    owner = object_named(whole)
    found: object = getattr(owner, name, None)
    return _module(dotted) if found is None and inspect.ismodule(owner) else found


def _module(dotted: str) -> ModuleType | None:
    if not dotted.startswith("turnback"):
        return None
    try:
        return importlib.import_module(dotted)
    except ImportError:
        return None


def _homes(node: addnodes.pending_xref) -> Iterator[str]:
    """Name the modules in which a reference may have been written, the likeliest first."""
    source = _STANDS_IN.search(str(node.source or ""))
    if source is not None:
        yield from _parents(source[1])
    module, owner = str(node.get("py:module") or ""), str(node.get("py:class") or "")
    for name in (f"{module}.{owner}" if owner else "", module):
        if name.startswith("turnback"):
            home = getattr(object_named(name), "__module__", "")
            yield from (each for each in (home, name) if isinstance(each, str) and each.startswith("turnback"))


def _parents(dotted: str) -> Iterator[str]:
    while dotted:
        if dotted.startswith("turnback"):
            yield dotted
        dotted = dotted.rpartition(".")[0]


def _meant(node: addnodes.pending_xref) -> object | None:
    target = str(node.get("reftarget", "")).lstrip(".")
    if target.startswith(_OURS):
        return object_named(target)
    for home in _homes(node):
        found = object_named(f"{home}.{target}") or object_named(_imported(home).get(target, ""))
        if found is not None:
            return found
    return object_named(f"turnback.{target}")


@functools.cache
def _imported(module: str) -> dict[str, str]:
    """Read what names stand for in a module, those that only a type checker loads too."""
    found = object_named(module)
    if not inspect.ismodule(found):
        return {}
    names: dict[str, str] = {}
    for node in ast.walk(ast.parse(inspect.getsource(found))):
        if isinstance(node, ast.Import):
            names |= {each.asname or each.name: each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom):
            names |= {each.asname or each.name: f"{node.module}.{each.name}" for each in node.names}
    return names


@functools.cache
def _imported_on(floor: str) -> dict[str, str]:
    package = object_named(floor)
    folder = getattr(package, "__path__", ())
    return {
        name: whole
        for place in folder
        for file in sorted(Path(place).glob("*.py"))
        for name, whole in _imported(f"{floor}.{file.stem}").items()
    }


class WholeNames(SphinxPostTransform):
    """Makes short names whole, so that two objects of one name are not taken for each other."""

    default_priority: ClassVar[int] = 5

    def run(self, **kwargs: object) -> None:
        """Go through the references of a page.

        Args:
            **kwargs: Nothing is made of them.
        """
        del kwargs
        for node in self.document.findall(addnodes.pending_xref):
            if node.get("refdomain") == "py" and node.hasattr("refspecific"):
                place = _documented(self.env).get(id(_meant(node))) or _listed(self.env, node)
                if place is not None:
                    node["reftarget"] = place
                    del node["refspecific"]


def _listed(env: BuildEnvironment, node: addnodes.pending_xref) -> str | None:
    """Return the entry that the module itself means by a name, also where its value is shared with others."""
    target = str(node.get("reftarget", "")).lstrip(".")
    if "." in target:
        return None
    entries = env.domains["py"].data["objects"]
    for home in _homes(node):
        for place in (f"{home}.{target}", _imported(home).get(target, "")):
            if place in entries:
                return place
    return None


def _documented(env: BuildEnvironment) -> dict[int, str]:
    """Name the place of each documented object; values that are shared, such as numbers and texts, have none."""
    if env in _KNOWN:
        return _KNOWN[env]
    found: dict[int, str] = {}
    for name, _, _, _, _, _ in env.domains["py"].get_objects():
        value = object_named(name)
        if inspect.isclass(value) or inspect.isroutine(value):
            found.setdefault(id(value), name)
    _KNOWN[env] = found
    return found


def lead(
    app: Sphinx, env: BuildEnvironment, node: addnodes.pending_xref, content: nodes.TextElement
) -> nodes.Node | None:
    """Resolve a reference to an object by the name under which it is documented.

    Args:
        app: The application.
        env: The environment.
        node: A reference that was not found.
        content: What it shows.

    Returns:
        The resolved reference; the bare text of a name that begins with an underscore, stands for any type or is
        listed by no module, and so has no entry; None where nothing of the name is documented.
    """
    if node.get("refdomain") != "py" or app.builder is None:
        return None
    target = str(node.get("reftarget", "")).lstrip(".")
    wanted = _meant(node)
    if wanted is not None:
        place = _documented(env).get(id(wanted)) or _place_of_value(env, wanted)
        if place is not None:
            return _resolved(app, env, node, content, place)
    field = _owner_of_field(node, target)
    if field is not None:
        place = _documented(env).get(id(field))
        if place is not None:
            return _resolved(app, env, node, content, place)
    elsewhere = _elsewhere(env, node, content, target)
    if elsewhere is not None:
        return elsewhere
    bare = type(wanted).__name__ == "TypeVar" or any(part.startswith("_") for part in target.split("."))
    return content if bare or _unlisted(node, target) else None


def _resolved(
    app: Sphinx, env: BuildEnvironment, node: addnodes.pending_xref, content: nodes.TextElement, place: str
) -> nodes.Node | None:
    domain = env.domains["py"]
    return domain.resolve_xref(env, str(node["refdoc"]), app.builder, "obj", place, node, content)


def _place_of_value(env: BuildEnvironment, wanted: object) -> str | None:
    if wanted is None or isinstance(wanted, (bool, int, str)):
        return None
    for name, _, _, _, _, _ in env.domains["py"].get_objects():
        if object_named(name) is wanted:
            return str(name)
    return None


def _owner_of_field(node: addnodes.pending_xref, target: str) -> type | None:
    """Return the class whose field is meant: fields are documented with their class."""
    if node.get("reftype") not in ("attr", "data", "obj"):
        return None
    module, name = str(node.get("py:module") or ""), str(node.get("py:class") or "")
    for home in (*_homes(node), f"{module}.{name}"):
        owner = object_named(home)
        if inspect.isclass(owner):
            fields = {each.name for each in attrs.fields(owner)} if attrs.has(owner) else set()
            if target in fields or f"self.{target}" in inspect.getsource(owner):
                return owner
    return None


def _unlisted(node: addnodes.pending_xref, target: str) -> bool:
    """Tell whether a name is a short form that modules of the floor use and none lists, so that it has no entry."""
    floor = ".".join(str(node.get("py:module") or "").split(".")[:2])
    package = object_named(floor)
    modules = [
        object_named(f"{floor}.{file.stem}")
        for place in getattr(package, "__path__", ())
        for file in sorted(Path(place).glob("*.py"))
    ]
    holding = [each for each in modules if inspect.ismodule(each) and target in vars(each)]
    return bool(holding) and not any(target in getattr(each, "__all__", ()) for each in holding)


def _elsewhere(
    env: BuildEnvironment, node: addnodes.pending_xref, content: nodes.TextElement, target: str
) -> nodes.Node | None:
    """Look in the inventories of other sites for what the module imports under the name."""
    first, _, rest = target.partition(".")
    module = str(node.get("py:module") or "")
    homes = [*_homes(node), module]
    tables = [*(_imported(home) for home in homes), _imported_on(".".join(module.split(".")[:2]))]
    for names in tables:
        if first in names:
            whole = node.copy()
            whole["reftarget"] = names[first] + (f".{rest}" if rest else "")
            found = resolve_reference_any_inventory(env, False, whole, content)
            if found is not None:
                return found
            ours = _documented(env).get(id(object_named(str(whole["reftarget"]))))
            if ours is not None:
                return _resolved(env.app, env, node, content, ours)
    return None


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register both doors.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_post_transform(WholeNames)
    app.connect("missing-reference", lead)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
