"""What stands on the page of one formula."""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from functools import cache
from html import escape
from pathlib import Path
from typing import Final

from docutils import nodes
from formula_eye_drawings import eye_figure
from formula_math import Printed, printed, shortened
from formula_notes import NOTES, SCENARIO
from formula_row_drawings import row_figure
from formula_worked import worked
from sphinx import addnodes

import turnback
from turnback import mechanics
from turnback.mechanics import FORMULAS, Formula
from turnback.mechanics.eye_formulas import EYE_FORMULAS
from turnback.mechanics.layout_formulas import LAYOUT_FORMULAS
from turnback.mechanics.strength_formulas import STRENGTH_FORMULAS
from turnback.sphinxext.nodes import Cell, aside, caution, code, doc_link, paragraph, section, table

__all__ = ["FOLDER", "ROOMS", "math_block", "page_nodes", "picture", "title_of"]

FOLDER: Final = "formulas"
ROOMS: Final = (
    ("Geometry of an eye", EYE_FORMULAS),
    ("Where the clips sit, and how much rope", LAYOUT_FORMULAS),
    ("Strength, mass and force", STRENGTH_FORMULAS),
)

_DRAWN: Final = {
    "base_point_distance": "q",
    "leg": "l",
    "half_arc_angle": "arc",
    "contact_angle": "arc",
    "rope_in_eye": "arc",
    "half_included_angle": "B",
    "base_distance_for_angle": "a",
    "least_base_distance": "a",
    "thimble_radius": "R",
    "thimble_base_distance": "a",
    "soft_eye_radius": "R",
    "soft_eye_base_distance": "a",
    "pulley_radius": "R",
    "reach": "reach",
    "turn_back_for_spacing": "T",
    "spacing_in_turn_back": "s",
    "overlap_for_spacing": "T",
    "spacing_in_overlap": "s",
    "near_edge": "near",
    "saddle_centre": "centre",
    "far_edge": "far",
    "clear_gap": "gap",
}
"""The name under which the drawing knows the result."""
_ROUNDED: Final = {
    "nearest": "rounded to the nearest nanometre",
    "up": "rounded up to a whole nanometre",
    "exact": "whole nanometres, nothing to round",
}
_ALSO: Final = {"rope_in_eye": {"l"}}
_UNIT: Final = re.compile(r" \[[^\]]+\]")
_LITERAL: Final = re.compile(r"``([^`]+)``")


def title_of(formula: Formula) -> str:
    """Return the title of a page.

    Args:
        formula: The formula.

    Returns:
        The name of its function and what it gives.
    """
    return f"{formula.name}: {formula.result}"


def page_nodes(name: str, document: nodes.document, docname: str) -> list[nodes.Node]:
    """Build the page of a formula.

    Args:
        name: Name of its function.
        document: The document that it goes into.
        docname: The page's own name.

    Returns:
        What stands below the title.
    """
    formula, note = FORMULAS[name], NOTES[name]
    summary, rest = _said(name)
    built: list[nodes.Node] = [paragraph(*summary), *([paragraph(*rest)] if rest else [])]
    built += [*_formula(formula), section(document, "Symbols", _symbols(formula))]
    if note.drawing:
        strong = {symbol.name for symbol in formula.symbols} | {_DRAWN.get(name, "")} | _ALSO.get(name, set())
        draw = eye_figure if note.drawing in ("eye", "thimble", "pin", "pulley") else row_figure
        built.append(picture(draw(note.drawing, strong).to_svg(), f"Drawing for {name}"))
    held: list[Cell] = [_condition(text, who) for text, who in note.holds]
    built.append(section(document, "Where it holds", nodes.bullet_list("", *map(_item, held), bullet="-")))
    built.append(section(document, "What becomes of the result", paragraph(note.afterwards)))
    built.append(section(document, "A worked number", *_worked(formula)))
    built.append(section(document, "Source", paragraph(formula.source), *_misused(name)))
    built.append(section(document, "In the library", *_in_the_library(name, docname)))
    return built


def _item(cell: Cell) -> nodes.list_item:
    parts = [cell] if isinstance(cell, (str, nodes.Node)) else list(cell)
    return nodes.list_item("", paragraph(*parts))


def _condition(text: str, who: str) -> list[str | nodes.Node]:
    return [code(text), f": {who}."]


def _with_code(text: str) -> list[str | nodes.Node]:
    pieces = _LITERAL.split(" ".join(text.split()))
    return [code(piece) if place % 2 else piece for place, piece in enumerate(pieces) if piece]


def _docstring(name: str) -> str:
    return inspect.getdoc(getattr(mechanics, name)) or ""


def _said(name: str) -> tuple[list[str | nodes.Node], list[str | nodes.Node]]:
    summary, _, rest = _docstring(name).split("\n\nArgs:")[0].partition("\n\n")
    return _with_code(summary), _with_code(rest)


def _arguments(name: str) -> dict[str, str]:
    """Read what the docstring says of each argument."""
    block = _docstring(name).split("Args:\n")[1].split("\n\nReturns:")[0]
    found = re.findall(r"^    (\w+): (.+?)(?=^    \w+: |\Z)", block, flags=re.MULTILINE | re.DOTALL)
    return {argument: " ".join(words.split()) for argument, words in found}


# --- the formula itself ---


def math_block(equation: Printed, spoken: str, left: str) -> nodes.Node:
    """Build a formula that a browser shows without a script.

    Args:
        equation: The formula.
        spoken: The same as plain text, for programs that know no MathML.
        left: MathML of what stands left of the sign of equality; empty for none.

    Returns:
        The node, for HTML alone: the plain text stands beside it.
    """
    head, said = f"{left}<mo>=</mo>" if left else "", escape(spoken, quote=True)
    html = (
        f'<div class="formula" role="group" tabindex="0" aria-label="{said}">'
        f'<math display="block" alttext="{said}"><mrow>{head}{equation.mathml}</mrow></math></div>'
    )
    return nodes.raw("", html, format="html")


def _formula(formula: Formula) -> Iterator[nodes.Node]:
    name = formula.name
    left = f'<mtext class="mono">{name}</mtext>'
    yield math_block(printed(name), f"{name} = {formula.text}", left)
    short = shortened(name)
    if short is not None:
        yield paragraph("With l for the length of the leg, of which the page ", code("leg"), " tells:")
        yield math_block(short, f"{name}, with l for the leg", left)
    yield paragraph(f"The result is in {_unit(formula.unit)}. As text:")
    yield nodes.literal_block(formula.text, formula.text, language="text", classes=["wrapped"])
    latex = printed(name).latex
    yield paragraph("As LaTeX, derived from the function itself:")
    yield nodes.literal_block(latex, latex, language="text", classes=["wrapped"])


def _unit(unit: str) -> str:
    return "no unit" if unit == "-" else unit


def _symbols(formula: Formula) -> nodes.table:
    said = _arguments(formula.name)
    rows: list[list[Cell]] = [
        [
            code(each.name),
            [each.meaning, *_more(each.meaning, said[each.argument])],
            _unit(each.unit),
            code(each.argument),
        ]
        for each in formula.symbols
    ]
    return table("", ("symbol", "meaning", "unit", "argument"), rows)


def _more(meaning: str, argument: str) -> list[nodes.Node]:
    """Show what the docstring says of an argument where that is more than its meaning."""
    words = _UNIT.sub("", argument).removesuffix(".")
    plain = " ".join(word for word in words.lower().split() if len(word) > 1 or word == "a")
    return [] if plain == meaning.lower() else [aside(*_with_code(f"{words}."))]


def _worked(formula: Formula) -> Iterator[nodes.Node]:
    done = worked(formula.name)
    yield paragraph(SCENARIO)
    unit = "" if formula.unit == "-" else f" {formula.unit}"
    rows: list[list[Cell]] = [
        [code(symbol.name), f"{text} {symbol.unit}".removesuffix(" -"), "given"]
        for symbol, text in zip(formula.symbols, done.inputs, strict=True)
    ]
    rows.append(
        ["result", f"{done.value!r}{unit}", "computed with the functions of Python's math when this page was built"]
    )
    apart = "the same float" if done.ulps <= 0.5 else f"{done.ulps:.2g} units in the last place away"
    rows.append(["at 50 digits", f"{done.digits}{unit}", f"30 of 50 digits from mpmath; {apart}"])
    if done.rounded:
        rows.append(["as a plan has it", done.rounded, _ROUNDED[NOTES[formula.name].rounding]])
    yield table("", ("what", "value", "how"), rows, classes=["prose"])


def _misused(name: str) -> Iterator[nodes.Node]:
    if name.startswith("rule_of_thumb"):
        yield caution("A rule of thumb rates nothing. It is a check on a number that comes from somewhere else.")
    if name == "torque_for_preload":
        yield caution("Never set a clip by this: its torque comes from its source, for one condition of the threads.")
    if name == "termination_breaking_force":
        yield caution("This is what the joint may break at. Nothing is ever loaded to it.")


# --- where the library runs it ---


def _in_the_library(name: str, docname: str) -> Iterator[nodes.Node]:
    target = f"turnback.mechanics.{name}"
    reference = addnodes.pending_xref(
        "",
        code(target),
        refdomain="py",
        reftype="func",
        reftarget=target,
        refexplicit=True,
        refwarn=True,
        refdoc=docname,
    )
    yield paragraph("The function is ", reference, ".")
    modules = _callers().get(name, [])
    if not modules:
        yield paragraph("No other part of the library calls it.")
        return
    listed: list[str | nodes.Node] = []
    for module in modules:
        listed += [*([", "] if listed else []), code(module)]
    yield paragraph("Called in ", *listed, ".")


@cache
def _callers() -> dict[str, list[str]]:
    """Find the modules of the package that import each function, read from their text."""
    root = Path(turnback.__file__).parent
    found: dict[str, list[str]] = {}
    for path in sorted(root.rglob("*.py")):
        module = ".".join(("turnback", *path.relative_to(root).with_suffix("").parts)).removesuffix(".__init__")
        if module.startswith("turnback.mechanics"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("turnback.mechanics"):
                for alias in node.names:
                    found.setdefault(alias.name, []).append(module)
    return found


def picture(svg: str, label: str, *, wide: bool = False) -> nodes.Node:
    """Build a drawing that can be moved sideways where the page is narrower than it.

    Args:
        svg: One ``svg`` element with title and description.
        label: What the frame is called.
        wide: Whether it needs more room to be read.

    Returns:
        The node, for HTML alone.
    """
    form = "picture wide" if wide else "picture"
    html = f'<div class="{form}" role="group" tabindex="0" aria-label="{escape(label, quote=True)}">{svg}</div>'
    return nodes.raw("", html, format="html")


def link_to(docname: str, name: str) -> nodes.Node:
    """Build a link to the page of a formula.

    Args:
        docname: The page that it stands on.
        name: Name of the formula's function.

    Returns:
        The reference.
    """
    return doc_link(docname, f"{FOLDER}/{name}", code(name))
