"""Public docstrings name exactly the parameters, in their order, and the unit of every number.

What is looked at: every class, function and method without a leading underscore, in every module without one, and what
such a module takes from a private one into its ``__all__``. A class documents what its own constructor takes: the
parameters of ``__init__`` or ``__new__``, or the fields that its body declares.

What carries a unit: a parameter whose annotation names a quantity or a number (:data:`QUANTITIES`). Its lines hold one
of :data:`UNITS` in brackets. A parameter that can only be given by place (``x, /``) has no name to document.
"""

from __future__ import annotations

import ast
import functools
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[2]
CORE = ROOT / "src" / "turnback"
MODULES = sorted([*CORE.rglob("*.py"), *ROOT.glob("plugins/*/src/**/*.py")])

QUANTITIES = {
    "Length", "LengthLike", "Torque", "TorqueLike", "Force", "ForceLike", "Mass", "MassLike", "MassPerLength",
    "MassPerLengthLike", "Angle", "AngleLike", "int", "float", "Fraction",
    "D", "N", "R",  # the numbers of the formulas in mechanics
}  # fmt: skip
UNITS = {
    "-", "length", "torque", "force", "mass", "mass per length", "angle", "nm", "mm", "m", "in", "N", "N/m", "N/mm²",
    "N·m", "kg", "kg/m", "kg/(m·mm²)", "m/s²", "rad", "deg", "1/in", "drawing units", "drawing units/mm", "`unit`",
    "in `unit`", "in that unit",
}  # fmt: skip


class Parameter(NamedTuple):
    """A parameter as it is written in a signature."""

    name: str
    annotation: ast.expr | None


class Documented(NamedTuple):
    """A public class or function and where it stands."""

    where: str
    docstring: str
    parameters: tuple[Parameter, ...]


def documented(file: Path) -> Iterator[Documented]:
    """Everything public that a module defines."""
    if file.name[0] == "_" and file.name != "__init__.py":
        taken = _taken_from(file)
        body: list[ast.stmt] = [
            node for node in _parsed(file).body if isinstance(node, ast.ClassDef) and node.name in taken
        ]
    else:
        body = _parsed(file).body
    yield from _public(body, str(file.relative_to(ROOT)), in_class=False)


@functools.cache
def _parsed(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


def _taken_from(private: Path) -> set[str]:
    """Names that public modules take from a private one and list as their own."""
    taken: set[str] = set()
    for file in MODULES:
        if file.name[0] != "_" and file.parent == private.parent:
            module = _parsed(file)
            listed = {
                name
                for node in module.body
                if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
                for name in ast.literal_eval(node.value)
            }
            taken |= {
                alias.name
                for node in module.body
                if isinstance(node, ast.ImportFrom) and (node.module or "").endswith("." + private.stem)
                for alias in node.names
                if alias.name in listed
            }
    return taken


def _public(body: list[ast.stmt], where: str, *, in_class: bool) -> Iterator[Documented]:
    for node in body:
        if isinstance(node, ast.If):
            yield from _public([*node.body, *node.orelse], where, in_class=in_class)
        elif isinstance(node, (ast.FunctionDef, ast.ClassDef)) and node.name[0] != "_":
            decorators = {ast.unparse(each).rpartition(".")[2] for each in node.decorator_list}
            if "overload" in decorators:
                continue
            place = f"{where}:{node.lineno} {node.name}"
            if isinstance(node, ast.ClassDef):
                yield Documented(place, ast.get_docstring(node) or "", _constructor(node))
                yield from _public(node.body, where, in_class=True)
            else:
                bound = in_class and "staticmethod" not in decorators
                yield Documented(place, ast.get_docstring(node) or "", _signature(node, bound=bound))


def _signature(function: ast.FunctionDef, *, bound: bool) -> tuple[Parameter, ...]:
    given = function.args
    first = 1 if bound and not given.posonlyargs else 0
    found = [Parameter(each.arg, each.annotation) for each in given.args[first:]]
    if given.vararg:
        found.append(Parameter("*" + given.vararg.arg, given.vararg.annotation))
    return (*found, *(Parameter(each.arg, each.annotation) for each in given.kwonlyargs))


def _constructor(node: ast.ClassDef) -> tuple[Parameter, ...]:
    for each in node.body:
        if isinstance(each, ast.FunctionDef) and each.name in ("__init__", "__new__"):
            return _signature(each, bound=True)
    made = " ".join(ast.unparse(each) for each in (*node.decorator_list, *node.bases))
    if "attrs." not in made and "NamedTuple" not in made:
        return ()
    return tuple(
        Parameter(each.target.id, each.annotation)
        for each in node.body
        if isinstance(each, ast.AnnAssign)
        and isinstance(each.target, ast.Name)
        and "ClassVar" not in ast.unparse(each.annotation)
        and not (each.value is not None and "init=False" in ast.unparse(each.value))
    )


_ENTRY = re.compile(r"    (?P<name>\*?\w+): (?P<text>.*)")


def arguments(docstring: str) -> dict[str, str]:
    """Names and texts under ``Args:``, in their order."""
    lines = docstring.split("\n")
    if "Args:" not in lines:
        return {}
    found: dict[str, str] = {}
    name = ""
    for line in lines[lines.index("Args:") + 1 :]:
        if not line.startswith("    "):
            break
        entry = _ENTRY.fullmatch(line)
        if entry:
            name = entry["name"]
            assert name not in found, f"{name} is documented twice"
            found[name] = entry["text"]
        else:
            assert line.startswith("        "), f"no entry and no continuation: {line!r}"
            found[name] += " " + line.strip()
    return found


def is_number(annotation: ast.expr | None) -> bool:
    """Whether an annotation names a quantity or a number, at any depth but inside a callable or ``Functions[R]``."""
    if annotation is None:
        return False
    if isinstance(annotation, ast.Subscript) and ast.unparse(annotation.value) in ("Functions", "Callable"):
        return False
    if isinstance(annotation, ast.Name):
        return annotation.id in QUANTITIES
    return any(is_number(each) for each in ast.iter_child_nodes(annotation) if isinstance(each, ast.expr))


def units(text: str) -> set[str]:
    return set(re.findall(r"\[([^\[\]]+)\]", text)) & UNITS


@pytest.mark.parametrize("file", MODULES, ids=lambda file: str(file.relative_to(ROOT)))
class TestModule:
    def test_arguments_are_the_parameters(self, file: Path) -> None:
        wrong = {
            each.where: (expected, list(named))
            for each in documented(file)
            if (expected := [parameter.name for parameter in each.parameters])
            != list(named := arguments(each.docstring))
        }
        assert {} == wrong

    def test_every_number_has_its_unit(self, file: Path) -> None:
        bare = [
            f"{each.where}({parameter.name})"
            for each in documented(file)
            for parameter in each.parameters
            if is_number(parameter.annotation) and not units(arguments(each.docstring).get(parameter.name, ""))
        ]
        assert [] == bare


# --- the reader itself ---

SNIPPET = '''
@attrs.frozen
class Clip:
    """A clip.

    Args:
        size: Its size [length].
        torque: Its torque.
    """

    size: Length
    torque: Cited[Torque] | Absent
    seen: int = attrs.field(init=False)

    def fits(self, rope: Length, /, *, most: int, why: str = "") -> bool:
        """Tell.

        Args:
            most: How many [-].
        """

    def _inside(self, undocumented: int) -> None: ...
'''


def test_the_reader_sees_what_is_there_and_what_is_missing() -> None:
    found = {each.where.split()[-1]: each for each in _public(ast.parse(SNIPPET).body, "snippet", in_class=False)}
    assert {"Clip", "fits"} == set(found)
    clip, fits = found["Clip"], found["fits"]
    assert ["size", "torque"] == [each.name for each in clip.parameters] == list(arguments(clip.docstring))
    assert [True, True] == [is_number(each.annotation) for each in clip.parameters]
    assert [{"length"}, set()] == [units(text) for text in arguments(clip.docstring).values()]
    assert (["most", "why"], ["most"]) == ([each.name for each in fits.parameters], list(arguments(fits.docstring)))
    assert [True, False] == [is_number(each.annotation) for each in fits.parameters]


@pytest.mark.parametrize(
    ("annotation", "number"),
    [
        ("Length | None", True), ("tuple[float, float]", True), ("Sequence[Length]", True), ("Fraction | int", True),
        ("Cited[Torque] | Absent", True), ("str", False), ("bool", False), ("Functions[R]", False), ("Rope", False),
        ("Callable[[int], str]", False), ("TorqueLike", True),
    ],
)  # fmt: skip
def test_the_reader_tells_a_number(annotation: str, number: bool) -> None:
    assert number is is_number(ast.parse(annotation, mode="eval").body)


def test_the_reader_reads_entries_over_several_lines() -> None:
    text = "Do it.\n\nArgs:\n    size: Of it\n        [mm].\n    *more: Others.\n\nReturns:\n    Nothing."
    assert {"size": "Of it [mm].", "*more": "Others."} == arguments(text)
    assert {} == arguments("Do it.\n\nReturns:\n    Nothing.")


def test_much_is_looked_at() -> None:
    """So that a reader that finds nothing is not taken for a house in order."""
    count = sum(len(each.parameters) for file in MODULES for each in documented(file))
    assert count > 500
