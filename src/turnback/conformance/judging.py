"""What the judges of the searched laws share: a plan or nothing, and a breakage that names the smallest rope."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

import attrs

from turnback.conformance.law import Breakage, Search
from turnback.conformance.ropes import stocks
from turnback.conformance.search import text_of
from turnback.conformance.subject import Subject
from turnback.errors import Conflict, InputError
from turnback.model.rope import Rope
from turnback.model.sources import Citation
from turnback.model.terminations import Termination
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Force, Length
from turnback.rules.selection import choice_text

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

__all__ = [
    "Verdict",
    "broken",
    "halves_of",
    "in_both",
    "no_lengths",
    "no_plans",
    "planned",
    "rope_line",
    "search_of",
    "shown",
]

Verdict: TypeAlias = Breakage | Literal["kept"] | None
"""What a judge says of one case."""

_DIMENSIONS: Final = (
    "base_width", "inside_length", "inside_width", "groove_offset", "length", "pin", "tread_diameter", "parts_apart",
    "included_angle", "spacing",
)  # fmt: skip


def no_plans(subject: Subject) -> str:
    """Say that a law is about plans that are made from a rule set alone.

    Args:
        subject: The subject.

    Returns:
        Why none is made from this one; empty where they are.
    """
    rules = subject.rules
    if rules.is_basis:
        return "it gives efficiencies alone, and no plan is made from it"
    if rules.count_rule is None and all(row.count_for("not given") is None for row in rules.rows):
        return "it prints no number of clips, and no plan is made from it alone"
    return ""


def no_lengths(subject: Subject) -> str:
    """Say that a law is about plans that tell how much rope to turn back.

    Args:
        subject: The subject.

    Returns:
        Why those of this rule set never do; empty where they do for some rope.
    """
    reason = no_plans(subject)
    if reason or not subject.style.in_series:
        return reason
    rules = subject.rules
    if all(row.turn_back is None for row in rules.rows) and all(bound.bound == "greatest" for bound in rules.spacing):
        return "it gives neither a turn-back nor a spacing that makes one"
    return "" if any(not stock.counts_only for stock in stocks(rules)) else "it gives the number of clips alone"


def search_of(
    draw: Callable[[Subject], SearchStrategy[Request]],
    judge: Callable[[Subject, Request], Verdict],
    shared: str = "",
) -> Search[Request]:
    """Return a search whose breakages name the rope, also where a plugin's code fails.

    Args:
        draw: Draws one request for a subject.
        judge: Judges it.
        shared: Name of the cases, where several laws judge the same ones.

    Returns:
        The search. Whatever a plugin's code raises breaks the law.
    """

    def named(subject: Subject, request: Request) -> Verdict:
        try:
            return judge(subject, request)
        except KeyboardInterrupt:
            raise
        except BaseException as error:  # a plugin may raise anything, SystemExit too
            return broken(request, "an answer", f"{type(error).__name__}: {text_of(error)}", subject.rules.citation)

    return Search(draw, named, shared)


def halves_of(request: Request) -> int:
    """Return into how many halves the clips fall.

    Args:
        request: The request.

    Returns:
        Two for a lap splice, otherwise one [-].
    """
    return 2 if request.termination.kind == "lap splice" else 1


def shown(value: object) -> str:
    """Write a number of a plan.

    Args:
        value: A length, a number, or what stands where there is none.

    Returns:
        A length in inches and millimetres, anything else as it prints.
    """
    return in_both(value) if isinstance(value, Length) else str(value)


def planned(subject: Subject, request: Request) -> Plan | None:
    """Plan a request.

    Args:
        subject: The subject.
        request: The request.

    Returns:
        The plan; None where the dimensions that were drawn cannot be met, which says nothing of a law.

    Raises:
        TurnbackError: The rule set refuses a rope of its own scope and table, which breaks a law.
    """
    try:
        return plan_request(request, subject.catalogue)
    except InputError as error:
        if error.field in _DIMENSIONS:
            return None
        raise
    except Conflict as error:
        if error.field == "spacing":
            return None
        raise


def broken(
    request: Request, expected: str, got: str, citation: Citation | str, row: Length | None = None, replay: str = ""
) -> Breakage:
    """Return a breakage that names the rope that shows it.

    Args:
        request: The request.
        expected: What the law asks for.
        got: What came.
        citation: The clause.
        row: Size of the row [length]; None where it is about the whole file.
        replay: One line of Python; the plan of the request when not given.

    Returns:
        The breakage.
    """
    return Breakage(
        expected,
        got,
        str(citation),
        "" if row is None else in_both(row),
        rope_line(request),
        replay or _replay(request),
    )


def in_both(length: Length) -> str:
    """Write a length in inches and millimetres.

    Args:
        length: The length [length].

    Returns:
        The exact one first.
    """
    return length.text("both")


def rope_line(request: Request) -> str:
    """Describe a rope and its termination in one line.

    Args:
        request: The request.

    Returns:
        The diameter in inches and millimetres, and what else was drawn.
    """
    rope = request.rope
    words = (rope.construction, rope.core, rope.grade, rope.lay)
    parts = [in_both(rope.diameter), *(word for word in words if word), request.termination.kind]
    if request.clip_body != "not given":
        parts.append(f"{request.clip_body} clips")
    if request.base_width is not None:
        parts.append(f"base width {in_both(request.base_width)}")
    if request.extra_clips:
        parts.append(f"{request.extra_clips} more clips")
    if request.service is not None:
        parts.append(f"service {request.service}")
    return ", ".join(parts)


def _replay(request: Request) -> str:
    rope, eye = request.rope, request.termination
    words = [f'"{rope.diameter.text("mm")}"', *_given(rope, {"diameter", "coating"})]
    if rope.coating is not None:
        over, coating = rope.coating.finished_diameter.text("mm"), rope.coating
        words.append(f'coating=tb.Coating("{over}", {coating.stripped}, {coating.eye_stripped})')
    more = [f"style={request.style!r}"]
    if request.rules is not None:
        more.append(f"rules={choice_text(request.rules)!r}")
    more += _given(request, {"rope", "termination", "style", "rules"})
    return f"tb.plan(tb.Rope({', '.join(words)}), {_eye(eye)}, {', '.join(more)})"


def _eye(eye: Termination) -> str:
    parts = [
        f"{field.name}={_eye(value)}" if attrs.has(type(value)) else _written(field.name, value)
        for field in attrs.fields(type(eye))
        if (value := getattr(eye, field.name)) is not None
    ]
    return f"tb.{type(eye).__name__}({', '.join(parts)})"


def _given(thing: Rope | Request, but: set[str]) -> list[str]:
    """What was given of a rope or a request, as arguments of the face."""
    found = []
    for field in attrs.fields(type(thing)):
        value = getattr(thing, field.name)
        if field.name not in but and value not in (None, "", "not given") and (field.name, value) != ("extra_clips", 0):
            found.append(_written(field.name, value))
    return found


def _written(name: str, value: object) -> str:
    if isinstance(value, Length):
        return f'{name}="{value.text("mm")}"'
    if isinstance(value, Force):
        return f'{name}="{value.newtons!r} N"'
    return f"{name}={value!r}"
