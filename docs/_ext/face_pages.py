"""The reference of the public face: a list made from ``turnback.__all__``, so that a new name appears by itself.

Directives, for pages in reStructuredText:

- ``public-face FLOOR ...``: every name of the face that lives on these floors, documented by autodoc;
- ``public-face-rest``: every name whose floor no page asks for;
- ``public-face-index``: the table of all names;
- ``public-floor FLOOR``: what a floor and its public modules publish and the face does not; of a plugin, its package.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import textwrap
from collections.abc import Iterator
from functools import cached_property
from types import ModuleType
from typing import ClassVar, Final

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective
from sphinx.util.typing import ExtensionMetadata

import turnback
from turnback.sphinxext.nodes import Cell, section, table

__all__ = ["DOCUMENTED_FLOORS", "setup"]

DOCUMENTED_FLOORS: Final = ("errors", "model", "output", "planning", "quantities", "review", "rules")
"""The floors that have a page of their own; ``public-face-rest`` takes what lives on any other."""


_LONGEST_VALUE: Final = 160
"""Longest value of a name that is printed whole [characters]."""
_LITERAL: Final = re.compile(r"``([^`]+)``")
_ROLE: Final = re.compile(r":[a-z]+:`~?([^`]+)`")


def _floor(name: str) -> str:
    value: object = getattr(turnback, name)
    module = str(getattr(value, "__module__", "")).split(".")
    return module[1] if len(module) > 1 and module[0] == "turnback" else ""


def _names(floors: tuple[str, ...]) -> list[str]:
    return [name for name in turnback.__all__ if _floor(name) in floors]


def _directive(value: object) -> str:
    # Another name for somebody else's class is a value of ours.
    if inspect.isclass(value) and value.__module__.startswith("turnback"):
        return "autoexception" if issubclass(value, BaseException) else "autoclass"
    return "autofunction" if inspect.isroutine(value) else "autodata"


def _entry(place: str, value: object) -> str:
    kind = _directive(value)
    options = ["   :show-inheritance:"] if kind == "autoexception" else []
    if kind == "autodata" and len(repr(value)) > _LONGEST_VALUE:
        options.append("   :no-value:")
    if inspect.isclass(value) and kind != "autodata":
        options += ["   :members:", "", *_cached_properties(value)]
    return "\n".join([f".. {kind}:: {place}", *options, ""])


def _cached_properties(owner: type) -> Iterator[str]:
    """Write out the cached properties of a class: attrs turns them into slots, where autodoc finds no docstring."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(owner)))
    for node in tree.body[0].body if isinstance(tree.body[0], ast.ClassDef) else ():
        if not isinstance(node, ast.FunctionDef) or "cached_property" not in map(ast.unparse, node.decorator_list):
            continue
        if isinstance(vars(owner).get(node.name), cached_property):
            continue  # a class without slots keeps it, and autodoc finds it
        kind = [f"      :type: {ast.unparse(node.returns)}"] if node.returns is not None else []
        said = textwrap.indent(ast.get_docstring(node) or "", "      ")
        yield from [f"   .. py:property:: {node.name}", *kind, "", said, ""]


class PublicFace(SphinxDirective):
    """Every name of the face that lives on the floors named."""

    required_arguments: ClassVar[int] = 1
    optional_arguments: ClassVar[int] = 20

    def run(self) -> list[nodes.Node]:
        """Let autodoc document them."""
        strange = [floor for floor in self.arguments if floor not in DOCUMENTED_FLOORS]
        if strange:
            raise self.error(f"add {', '.join(strange)} to DOCUMENTED_FLOORS in face_pages.py")
        return self.documented(_names(tuple(self.arguments)))

    def documented(self, names: list[str]) -> list[nodes.Node]:
        """Document names of the face.

        Args:
            names: The names.

        Returns:
            Their entries.
        """
        text = "\n".join(_entry(f"turnback.{name}", getattr(turnback, name)) for name in names)
        return self.parse_text_to_nodes(text) if names else []


class PublicFaceRest(PublicFace):
    """Every name of the face whose floor has no page."""

    required_arguments: ClassVar[int] = 0

    def run(self) -> list[nodes.Node]:
        """Let autodoc document them."""
        return self.documented([name for name in turnback.__all__ if _floor(name) not in DOCUMENTED_FLOORS])


class PublicFaceIndex(SphinxDirective):
    """The table of all names of the face."""

    def run(self) -> list[nodes.Node]:
        """Build the table."""
        head = ("name", "what it is", "in a sentence")
        return [table("Names of turnback", head, [self._row(name) for name in turnback.__all__])]

    def _row(self, name: str) -> list[Cell]:
        value: object = getattr(turnback, name)
        kind = {"autoclass": "class", "autoexception": "error", "autofunction": "function", "autodata": "value"}
        first = (inspect.getdoc(value) or "").partition("\n")[0]
        # Away from its class a short reference leads nowhere; as code it says the same.
        said, messages = self.parse_inline(_ROLE.sub(r"``\1``", first))
        link = addnodes.pending_xref(
            "",
            nodes.literal(name, name, classes=["xref", "py"]),
            refdomain="py",
            reftype="obj",
            reftarget=f"turnback.{name}",
            refexplicit=True,
            refwarn=True,
            refdoc=self.env.docname,
        )
        return [link, kind[_directive(value)], [*said, *messages]]


class PublicFloor(SphinxDirective):
    """What a floor and its public modules publish and the face does not, each thing once, in its shortest place."""

    required_arguments: ClassVar[int] = 1

    def run(self) -> list[nodes.Node]:
        """Let autodoc document them."""
        seen = {_identity(name, getattr(turnback, name)) for name in turnback.__all__}
        name = self.arguments[0]
        found: list[nodes.Node] = []
        modules = tuple(_public_modules(name if name.startswith("turnback_") else f"turnback.{name}"))
        constants = {each for module in modules for each in _assigned(module) & set(getattr(module, "__all__", ()))}
        for module in modules:
            own = tuple(_own(module, seen, constants))
            seen |= {_identity(each, getattr(module, each)) for each in own}
            entries = [_entry(f"{module.__name__}.{each}", getattr(module, each)) for each in own]
            text = "\n".join([f".. py:module:: {module.__name__}", "", *entries])
            parsed = self.parse_text_to_nodes(text)
            found += [section(self.state.document, module.__name__, *parsed)] if entries else parsed
        return found


def _identity(name: str, value: object) -> tuple[str, int]:
    """Tell one thing from another wherever it is listed; numbers and texts are shared, so they go by name too."""
    return (name if isinstance(value, (int, float, str)) else "", id(value))


def _own(module: ModuleType, seen: set[tuple[str, int]], constants: set[str]) -> Iterator[str]:
    """Name what a module publishes and no earlier one did.

    A constant has its docstring only where it is assigned, which is never the list of a floor; it waits for a module
    that assigns and lists it, where there is one.
    """
    for name in getattr(module, "__all__", ()):
        value: object = getattr(module, name)
        waits = _directive(value) == "autodata" and name not in _assigned(module) and name in constants
        if not waits and _identity(name, value) not in seen:
            yield name


def _assigned(module: ModuleType) -> set[str]:
    found: set[str] = set()
    for node in ast.parse(inspect.getsource(module)).body:
        targets = (
            node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
        )
        found |= {target.id for target in targets if isinstance(target, ast.Name)}
    return found


def _public_modules(floor: str) -> Iterator[ModuleType]:
    package = importlib.import_module(floor)
    yield package
    for found in sorted(pkgutil.walk_packages(package.__path__, f"{floor}."), key=lambda each: each.name):
        if not any(part.startswith("_") for part in found.name.split(".")):
            yield importlib.import_module(found.name)


def _quoted(literal: re.Match[str]) -> str:
    """Show a literal that begins or ends with a blank in quotes: reStructuredText knows none."""
    text = literal[1]
    return literal[0] if text == text.strip() else f'``"{text}"``'


def keep_colons(app: Sphinx, what: str, name: str, obj: object, options: object, lines: list[str]) -> None:
    """Keep a colon in a sentence from being read as the end of a type, and the words of ``str`` from its values.

    Types stand in annotations, never in docstrings, and ``Returns: The plan: ...`` would be taken for one. An empty
    type in front says so. A constant without words of its own would show those of its class.

    Args:
        app: The application.
        what: Kind of object.
        name: Its name.
        obj: The object.
        options: Options of the directive.
        lines: The docstring, changed in place before it is read.
    """
    del app, name, options
    lines[:] = _LITERAL.sub(_quoted, "\n".join(lines)).split("\n")
    foreign = [(inspect.getdoc(each) or "").split("\n")[:1] for each in (type(obj), obj)]
    if what == "data" and lines[:1] in foreign:
        lines.clear()
    if what in ("property", "attribute", "data") and lines and ":" in lines[0]:
        lines[0] = f": {lines[0]}"
    for number, line in enumerate(lines[:-1]):
        if line.strip() == "Returns:" and ":" in lines[number + 1]:
            said = lines[number + 1]
            lines[number + 1] = f"{said[: len(said) - len(said.lstrip())]}: {said.lstrip()}"


def check_face(app: Sphinx) -> None:
    """Refuse to build a reference of a face that does not load.

    Args:
        app: The application.

    Raises:
        ExtensionError: A name of ``turnback.__all__`` cannot be loaded.
    """
    del app
    for name in turnback.__all__:
        try:
            getattr(turnback, name)
        except (ImportError, AttributeError) as error:
            raise ExtensionError(f"turnback.{name} cannot be loaded: {error}") from error


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directives.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_directive("public-face", PublicFace)
    app.add_directive("public-face-rest", PublicFaceRest)
    app.add_directive("public-face-index", PublicFaceIndex)
    app.add_directive("public-floor", PublicFloor)
    app.connect("builder-inited", check_face)
    app.connect("autodoc-process-docstring", keep_colons, priority=400)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
