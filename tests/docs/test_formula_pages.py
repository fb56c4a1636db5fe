"""The formula shown is the formula run: what the pages print is read back and evaluated against the function.

The reader of LaTeX and MathML (``printed_math``) shares no code with sympy or with the writer of the pages. Worked
numbers are compared with the textbook's form of the same equation at fifty digits, or with sums done by hand.
"""

from __future__ import annotations

import html
import inspect
import math
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.docs.printed_math import read_latex, read_mathml
from tests.docs.site import DOCS
from tests.docs.small_site import small_site

from turnback import mechanics
from turnback.mechanics import FORMULAS, Formula

sys.path.insert(0, str(DOCS / "_ext"))

from formula_math import printed, shortened
from formula_notes import NOTES
from formula_worked import worked

every_formula = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())
# Drawn so that every condition of every page holds; any other argument is drawn from 0.5 to 500.
DRAWN: Final[dict[str, st.SearchStrategy[float]]] = {
    "radius": st.floats(10, 100),
    "a": st.floats(120, 2000),
    "e": st.floats(0, 19),
    "half_angle": st.floats(0.05, 1.04),
    "friction": st.floats(0.01, 0.5),
    "angle": st.floats(0.1, 12),
    "n": st.integers(2, 24).map(float),
    "total": st.integers(2, 24).map(float),
    "i": st.integers(0, 23).map(float),
    "count": st.integers(1, 24).map(float),
    "printed_count": st.integers(1, 24).map(float),
}


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_site(tmp_path_factory.mktemp("formulas"))


def run(formula: Formula, arguments: dict[str, float]) -> float:
    function: Callable[..., float] = getattr(mechanics, formula.name)
    takes = "f" in inspect.signature(function).parameters
    return function(**arguments, f=math) if takes else function(**arguments)


def drawn(data: st.DataObject, formula: Formula) -> dict[str, float]:
    return {
        symbol.argument: data.draw(DRAWN.get(symbol.argument, st.floats(0.5, 500)), label=symbol.argument)
        for symbol in formula.symbols
    }


def of_symbols(formula: Formula, arguments: dict[str, float]) -> dict[str, float]:
    return {symbol.name: arguments[symbol.argument] for symbol in formula.symbols}


@every_formula
@settings(deadline=None, max_examples=1000)
@given(data=st.data())
def test_what_is_printed_evaluates_to_what_the_function_gives(formula: Formula, data: st.DataObject) -> None:
    arguments = drawn(data, formula)
    shown, actual = printed(formula.name), run(formula, arguments)
    for expected in (
        read_latex(shown.latex, of_symbols(formula, arguments)),
        read_mathml(shown.mathml, of_symbols(formula, arguments)),
    ):
        assert abs(expected - actual) <= 4 * math.ulp(expected)


@pytest.mark.parametrize("name", ["half_arc_angle", "contact_angle", "rope_in_eye"])
@settings(deadline=None, max_examples=200)
@given(data=st.data())
def test_the_short_form_is_the_same_with_the_leg_put_in(name: str, data: st.DataObject) -> None:
    formula, short = FORMULAS[name], shortened(name)
    assert short is not None
    arguments = drawn(data, formula)
    values = of_symbols(formula, arguments) | {"l": run(FORMULAS["leg"], arguments)}
    for expected in (read_latex(short.latex, values), read_mathml(short.mathml, values)):
        assert abs(expected - run(formula, arguments)) <= 4 * math.ulp(expected)


def test_a_formula_without_a_leg_has_no_short_form() -> None:
    assert None is shortened("leg")
    assert None is shortened("reach")


def test_the_reader_reads_what_it_is_given() -> None:
    # By hand: (3 - 1)(3 + 1)/4 = 2, its root, times 2 pi; and exp(0) = 1.
    latex = r"2 \pi \sqrt{\frac{\left(a - R\right) \left(a + R\right)}{4}}"
    assert 2 * math.pi * math.sqrt(2) == pytest.approx(read_latex(latex, {"a": 3.0, "R": 1.0}), rel=1e-15)
    assert 1.0 == read_latex(r"\operatorname{exp}{\left(\mu \theta \right)}", {"mu": 0.0, "theta": 5.0})
    mathml = "<mrow><mi>a</mi><mo>−</mo><mfrac><mi>R</mi><mn>2</mn></mfrac><mo>+</mo><mn>1</mn></mrow>"
    assert 3.5 == read_mathml(mathml, {"a": 3.0, "R": 1.0})


def test_every_formula_has_a_note_and_every_note_a_formula() -> None:
    assert set(FORMULAS) == set(NOTES)


@every_formula
def test_the_worked_case_keeps_to_every_condition(formula: Formula) -> None:
    values = {symbol.name: float(dict(NOTES[formula.name].inputs)[symbol.argument]) for symbol in formula.symbols}
    functions = {name: getattr(math, name) for name in ("sqrt", "sin", "cos", "pi")}
    assert NOTES[formula.name].holds
    for condition, who in NOTES[formula.name].holds:
        used = set(re.findall(r"[A-Za-z_]\w*", condition)) - set(functions)
        assert used <= set(values), condition
        assert eval(condition, {"__builtins__": {}, **functions}, values), condition
        assert who


@pytest.mark.parametrize(
    ("name", "rounded"),
    [
        ("thimble_radius", "42\u202f862\u202f500 nm"),  # 30.1625 + 3.175 + 9.525 mm
        ("thimble_base_distance", "96\u202f837\u202f500 nm"),  # 127 - 30.1625 mm
        ("turn_back_for_spacing", "457\u202f200\u202f000 nm, which is 18 in (457.2 mm)"),  # 114.3 + 3 x 114.3 mm
        ("spacing_in_turn_back", "115\u202f233\u202f334 nm"),  # (460 - 114.3) / 3 mm, up
        ("spacing_in_overlap", "118\u202f364\u202f286 nm"),  # (1000 - 171.45) / 7 mm, up
        ("turn_back_in_proportion", "571\u202f500\u202f000 nm"),  # 18 x 5 / 4 in
        ("cut_length", "13\u202f337\u202f400\u202f000 nm"),  # 12000 - 254 + 677 + 914.4 mm
    ],
)
def test_a_worked_length_is_rounded_as_a_plan_rounds_it(name: str, rounded: str) -> None:
    assert worked(name).rounded.startswith(rounded)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("breaking_force_by_grade", 252.0),
        ("working_load", 40000.0),
        ("rule_of_thumb_short_tons", 4.5),
        ("clear_gap", 57.15),
    ],
)
def test_a_worked_number_is_what_a_hand_computes(name: str, value: float) -> None:
    # 0.35 x 20 x 20 x 1800 / 1000; 200 000 / 5; 8 x 0.75 x 0.75; 114.3 - 57.15.
    assert value == pytest.approx(worked(name).value, rel=1e-15)
    assert str(value) in worked(name).digits + ".0"


def test_the_worked_eye_is_what_the_textbook_gives() -> None:
    with mpmath.workdps(50):
        r, a, e = mpmath.mpf("42.8625"), mpmath.mpf("96.8375"), mpmath.mpf("19.05")
        q = mpmath.sqrt(a**2 + e**2 / 4)
        leg = mpmath.sqrt(q**2 - r**2)
        # Open belt on one circle, with the arc cosine of the textbook.
        expected = 2 * leg + 2 * r * (mpmath.pi - mpmath.atan(e / (2 * a)) - mpmath.acos(r / q))
        found = worked("rope_in_eye")
        assert mpmath.nstr(expected, 30, strip_zeros=True) == found.digits
        assert abs(float(expected) - found.value) <= 4 * math.ulp(found.value)
        assert f"{int(mpmath.nint(expected * 10**6)):,}".replace(",", "\u202f") in found.rounded


# --- the pages ---


@every_formula
def test_a_page_has_everything_in_its_place(pages: Path, formula: Formula) -> None:
    text = (pages / "formulas" / f"{formula.name}.html").read_text(encoding="utf-8")
    plain = html.unescape(re.sub(r"<[^>]+>", "", text))
    headings = re.findall(r"<h([12])>(.*?)<a", text)
    assert headings[0] == ("1", html.escape(f"{formula.name}: {formula.result}", quote=False).replace("'", "’"))
    wanted = ["Symbols", "Where it holds", "What becomes of the result", "A worked number", "Source", "In the library"]
    assert wanted == [title for level, title in headings if level == "2"]
    assert formula.text in plain
    assert printed(formula.name).latex in plain
    assert f"turnback.mechanics.{formula.name}" in plain
    assert f'href="../stubs.html#turnback.mechanics.{formula.name}"' in text
    for symbol in formula.symbols:
        assert symbol.meaning.replace("'", "’") in plain
    for condition, _ in NOTES[formula.name].holds:
        assert condition in plain
    for number in (*worked(formula.name).inputs, worked(formula.name).digits):
        assert number in plain
    assert ("<svg" in text) == bool(NOTES[formula.name].drawing)


@every_formula
def test_the_formula_on_the_page_evaluates_to_the_function(pages: Path, formula: Formula) -> None:
    text = (pages / "formulas" / f"{formula.name}.html").read_text(encoding="utf-8")
    shown = re.findall(r'<math display="block" alttext="([^"]*)">(.*?)</math>', text)
    spoken, mathml = shown[0]
    assert f"{formula.name} = {formula.text}" == html.unescape(spoken)
    right = mathml.removeprefix("<mrow>").removesuffix("</mrow>").split("<mo>=</mo>", 1)[1]
    arguments = {argument: float(number) for argument, number in NOTES[formula.name].inputs}
    expected = read_mathml(right, of_symbols(formula, arguments))
    assert abs(expected - run(formula, arguments)) <= 4 * math.ulp(expected)


def test_nothing_is_fetched_for_a_formula_and_no_script_is_needed(pages: Path) -> None:
    for page in sorted((pages / "formulas").glob("*.html")):
        text = page.read_text(encoding="utf-8")
        assert "mathjax" not in text.lower()
        assert not [each for each in re.findall(r'(?:src|href)="([^"]+)"', text) if each.startswith(("http", "//"))]


def test_the_index_lists_every_formula_once(pages: Path) -> None:
    text = (pages / "reference" / "formulas.html").read_text(encoding="utf-8")
    cells = re.findall(r'<th class="stub"><p><a class="reference internal" href="../formulas/(\w+).html">', text)
    assert list(FORMULAS) == cells
