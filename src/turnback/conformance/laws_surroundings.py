"""Laws of surroundings: drawings, and answers that hang on nothing but what was asked."""

from __future__ import annotations

import contextlib
import copy
import decimal
import io
import locale
import os
import random
import sys
from concurrent.futures import ThreadPoolExecutor
from typing import Final, Literal
from xml.etree import ElementTree

import attrs
from hypothesis import strategies as st

from turnback.conformance.draws import ANY, requests
from turnback.conformance.judging import broken, planned
from turnback.conformance.law import Breakage, Law, Search
from turnback.conformance.laws_sources import plans_alone
from turnback.conformance.subject import Subject
from turnback.model.bounds import bounds_of
from turnback.model.figures import ClipPlace
from turnback.planning.figure import figure_of
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.rules.ruleset import RuleSet

__all__ = ["SURROUNDING_LAWS"]

Verdict = Breakage | Literal["kept"] | None
_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_TAGS: Final = frozenset({"svg", "title", "desc", "style", "g", "path", "rect", "circle", "text", "tspan"})
_PLACES: Final = (
    ClipPlace("side", 400.0, 60.0, 220.0, 180.0, 40.0),
    ClipPlace("side", 400.0, 60.0, 180.0, 220.0, 40.0),
    ClipPlace("along", 400.0, 60.0, 220.0, 180.0, 40.0),
    ClipPlace("along", 400.0, 60.0, 180.0, 220.0, 40.0),
)
_ODD: Final = 23
"""Digits of decimals that nobody would ask for [-]."""
_EDGE: Final = 1.0
"""How far a line may stand over the edge of its page, which is half its width [drawing units]."""


# --- drawing ---


def _drawn(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    figure = figure_of(plan)
    text = figure.to_svg()
    if plan.to_svg() != text:
        return broken(request, "the same drawing twice", "another drawing", plan.style.citation)
    left, top, right, bottom = bounds_of(figure.shapes)
    if left < -_EDGE or top < -_EDGE or right > figure.width + _EDGE or bottom > figure.height + _EDGE:
        got = f"{left:.0f}, {top:.0f} to {right:.0f}, {bottom:.0f} on {figure.width:.0f} x {figure.height:.0f}"
        return broken(request, "a drawing that stays on its page", got, plan.style.citation)
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        return broken(request, "a drawing in well-formed XML", str(error), plan.style.citation)
    strange = _strange(root)
    if strange:
        return broken(request, "shapes and words alone", strange, plan.style.citation)
    return _clip_drawn(subject, request)


def _strange(root: ElementTree.Element) -> str:
    for element in root.iter():
        tag = str(element.tag).rpartition("}")[2]
        if tag not in _TAGS:
            return f"an element {tag}"
        for name in element.attrib:
            plain = name.rpartition("}")[2].lower()
            if plain.startswith("on") or plain in ("href", "src"):
                return f"an attribute {plain}"
    return ""


def _clip_drawn(subject: Subject, request: Request) -> Verdict:
    style = subject.style
    for place in _PLACES:
        shapes = style.draw_clip(place)
        if not shapes:
            return broken(request, "a clip that is drawn", f"nothing, {place.view}", style.citation)
        if style.draw_clip(place) != shapes:
            return broken(request, "the same clip drawn twice", f"another one, {place.view}", style.citation)
        left, top, right, bottom = bounds_of(shapes)
        low, high = min(place.saddle, place.other), max(place.saddle, place.other)
        if not (left <= place.x <= right and top <= low and bottom >= high):
            got = f"{left:.0f}, {top:.0f} to {right:.0f}, {bottom:.0f}, {place.view}"
            return broken(request, "a clip that is drawn at its place, round both parts", got, style.citation)
    return "kept"


# --- the same answer ---


@attrs.frozen
class Pair:
    """Two requests, the second of which is planned in between.

    Args:
        request: The request that is asked again.
        other: What is asked in between.
    """

    request: Request = attrs.field(repr=False)
    other: Request = attrs.field(repr=False)


def _pairs(subject: Subject) -> st.SearchStrategy[Pair]:
    return st.builds(Pair, requests(subject), requests(subject))


def _anew(request: Request, mark: str) -> Request:
    """Return a request that the library does not remember; the name of a file stands in messages alone."""
    if not isinstance(request.rules, RuleSet):
        return request
    return attrs.evolve(request, rules=attrs.evolve(request.rules, origin=request.rules.origin + mark))


def _answers(plan: Plan) -> tuple[tuple[str, object], ...]:
    return (
        ("what is asked for", plan.demand),
        ("where everything lies", plan.layout),
        ("the layout on the tape", plan.tape),
        ("the eye", plan.geometry),
        ("the strength", plan.strength),
        ("the findings", plan.findings),
        ("the marks", plan.marks),
        ("the work", plan.procedure),
        ("the bill", plan.bill),
    )


def _elsewhere(subject: Subject, request: Request) -> Plan | None:
    """Plan in a thread of its own in which decimals are cut short, from a deep copy."""
    with decimal.localcontext() as context:
        context.prec, context.rounding = 3, decimal.ROUND_UP
        return planned(subject, copy.deepcopy(request))


def _same_again(subject: Subject, case: Pair) -> Verdict:
    request = case.request
    first = planned(subject, _anew(request, "~1"))
    planned(subject, _anew(case.other, "~1"))
    again = planned(subject, _anew(request, "~2"))
    with ThreadPoolExecutor(1) as pool:
        elsewhere = pool.submit(_elsewhere, subject, _anew(request, "~3")).result()
    for where, plan in (("after another plan", again), ("in another thread, from a copy", elsewhere)):
        if first is None or plan is None:
            if first is not plan:
                return broken(request, "the same answer again", f"none {where}", subject.rules.citation)
            continue
        for (name, one), (_, other) in zip(_answers(first), _answers(plan), strict=True):
            if one != other:
                return broken(request, f"{name} again, {where}", "another answer", subject.rules.citation)
    return "kept" if first is not None else None


# --- left alone ---


@attrs.frozen
class Surroundings:
    """What lies around the library and is not its own.

    Args:
        numbers: How the locale writes numbers.
        folder: The working directory.
        environment: The environment, but for what a test runner writes into it.
    """

    numbers: str
    folder: str
    environment: tuple[tuple[str, str], ...]


def _around() -> Surroundings:
    given = ((name, value) for name, value in sorted(os.environ.items()) if not name.startswith("PYTEST_"))
    return Surroundings(str(locale.localeconv()), os.getcwd(), tuple(given))


@attrs.frozen
class Asked:
    """A request, and what lay around it before anything was asked.

    Args:
        request: The request.
        before: The surroundings when the search began: what a rule set changes it may have changed with the first draw.
    """

    request: Request = attrs.field(repr=False)
    before: Surroundings


def _asked(subject: Subject) -> st.SearchStrategy[Asked]:
    before = _around()
    return requests(subject).map(lambda request: Asked(request, before))


def _left_alone(subject: Subject, case: Asked) -> Verdict:
    asked = _anew(case.request, "~4")
    text, chance, printed = repr(asked), random.getstate(), io.StringIO()
    depth = sys.getrecursionlimit()  # which hypothesis itself raises while it runs
    with (
        decimal.localcontext(decimal.Context(prec=_ODD, rounding=decimal.ROUND_05UP)),
        contextlib.redirect_stdout(printed),
        contextlib.redirect_stderr(printed),
    ):
        plan = planned(subject, asked)
        if plan is not None:
            plan.to_svg()
            _answers(plan)
        # So many digits, cut off as nobody would ask for it: anything else was set meanwhile.
        reckons = str(decimal.Decimal(2) / decimal.Decimal(3)) != "0." + "6" * _ODD
    after, before = _around(), case.before
    changes = (
        ("it prints", bool(printed.getvalue())),
        ("it changes how decimals are reckoned", reckons),
        ("it draws random numbers", random.getstate() != chance),
        ("it changes the locale", after.numbers != before.numbers),
        ("it changes the working directory", after.folder != before.folder),
        ("it changes the environment", after.environment != before.environment),
        ("it changes how deep calls may go", sys.getrecursionlimit() != depth),
        ("it changes the request or its own rules", repr(asked) != text),
    )
    noticed = next((name for name, holds in changes if holds), "")
    if noticed:
        return broken(case.request, "an answer and nothing else", noticed, subject.rules.citation)
    return "kept" if plan is not None else None


SURROUNDING_LAWS: Final = (
    Law("drawing-is-made", "A plan is drawn in the same bytes each time, in well-formed XML of shapes and words alone, "
        "on its page, with every clip round both parts.", search=Search(requests, _drawn, ANY), after=_AFTER,
        applies=plans_alone, dear=8),
    Law("same-answer-again", "The same request has the same answer: after other plans, in another thread, from a copy, "
        "however decimals are reckoned there.", search=Search(_pairs, _same_again), after=_AFTER, applies=plans_alone,
        dear=6),
    Law("surroundings-left-alone", "Planning and drawing print nothing and change nothing: neither the locale nor the "
        "environment, nor the request.", search=Search(_asked, _left_alone), after=_AFTER, applies=plans_alone, dear=6),
)  # fmt: skip
"""In the order in which they are checked."""
