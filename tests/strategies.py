"""Strategies for the whole suite: valid ropes, clips, eyes and requests, built from what the rule sets declare.

Sizes come from the rows and ranges of the rule sets at hand, ropes from their scopes, base widths from the room that
a printed turn-back leaves, thimbles from the condition that the legs of the eye exist.
Nothing is drawn and thrown away.

Draws are what takes the time. So every strategy is built once, a length is one draw (a part of its range, taken to a
graduation of the tape), and choices that have nothing to do with each other are made with one draw together.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import prod
from typing import Any, Final, TypeVar

import attrs
from hypothesis import strategies as st

from tests.companies import (
    BOOK,
    CATALOGUE,
    COMPANIES,
    FINISHES,
    PLUGINS,
    RATING,
    SERIES_STYLES,
    TABLES,
    USES,
    Company,
    Use,
    base_width_span,
)
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    TerminationKind,
    ThimbleEye,
)
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import SIXTY_FOURTH, Angle, Force, Length, Torque
from turnback.rules.selection import RulesChoice, governing

__all__ = [
    "BOOK",
    "CATALOGUE",
    "COMPANIES",
    "PLUGINS",
    "RATING",
    "SERIES_STYLES",
    "TABLES",
    "USES",
    "Company",
    "Use",
    "base_width_span",
    "companies",
    "lengths",
    "planned",
    "rated_requests",
    "requests",
    "ropes",
    "seats",
    "terminations",
]

T = TypeVar("T")
_MM: Final = 1_000_000
_STEPS: Final = (4 * SIXTY_FOURTH.nanometres, SIXTY_FOURTH.nanometres, _MM, _MM // 10, 1)
_PARTS: Final = 1 << 12
# Both ends of a range are where things go wrong, so each is drawn more often than by chance.
_ENDS: Final = _PARTS // 16
_LENGTH: Final = st.integers(0, len(_STEPS) * _PARTS - 1)
_MEASURED: Final = (None, 100, *range(97, 106))
_MINIMUM: Final = (None, 1.1e3, 98_765.4, 261_556.0, 1.9e6)
_ABOVE: Final = (None, 1.0, 1.07, 1.3)
_MISSING: Final = ("", "", "", "offset", "width", "all")
_SHARES: Final = (None, *(Fraction(each, 100) for each in (50, 66, 80, 95)))
_ANGLES: Final = (None, *(Angle.of(f"{tenths / 10} deg") for tenths in (600, 50, 1190, *range(70, 1190, 37))))


@cache
def _sampled(options: tuple[T, ...]) -> st.SearchStrategy[T]:
    return st.sampled_from(options)


@cache
def _below(bound: int) -> st.SearchStrategy[int]:
    return st.integers(0, bound - 1)


def _several(draw: st.DrawFn, *lists: tuple[Any, ...]) -> list[Any]:
    """One of each list, with one draw; the first of each is the simplest."""
    at = draw(_below(prod(map(len, lists))))
    found = []
    for options in lists:
        at, index = divmod(at, len(options))
        found.append(options[index])
    return found


def _length(draw: st.DrawFn, low: int, high: int) -> Length:
    part, index = divmod(draw(_LENGTH), len(_STEPS))
    step = _STEPS[index]
    first, last = -(-low // step), high // step
    if first > last:
        step, first, last = 1, low, high
    inner = min(max(part - _ENDS, 0), _PARTS - 2 * _ENDS)
    return Length(step * (first + (last - first) * inner // (_PARTS - 2 * _ENDS)))


@st.composite
def lengths(draw: st.DrawFn, low: int, high: int) -> Length:
    """Lengths between two counts of nanometres, both in it; most of them on a graduation of a tape."""
    return _length(draw, low, high)


@cache
def companies(
    *,
    style: str | None = None,
    least: int = 1,
    most: int = 3,
    kinds: tuple[TerminationKind, ...] = (),
    lays_out: bool = False,
) -> st.SearchStrategy[Company]:
    """Rule sets that can govern together, at least and at most so many, whose style makes one of these kinds."""
    made = {each.id for each in CATALOGUE.styles if not kinds or set(kinds) & set(each.terminations)}
    known = made if style is None else made & {style}
    fit = [c for c in COMPANIES if least <= len(c.members) <= most and c.style in known]
    return st.sampled_from([c for c in fit if c.lays_out or not lays_out])


def _seat(draw: st.DrawFn, company: Company) -> Length:
    return _length(draw, *draw(_sampled(company.spans)))


@st.composite
def seats(draw: st.DrawFn, company: Company) -> Length:
    """A diameter under the clip that every member takes."""
    return _seat(draw, company)


def _coating(kind: str, seat: Length, eighths: int, flag: bool) -> tuple[Length, Coating | None]:
    if not kind:
        return seat, None
    if kind == "left on":
        return Length(seat.nanometres * eighths // 8), Coating(seat, stripped=False, eye_stripped=flag)
    return seat, Coating(seat + SIXTY_FOURTH * 2 * eighths, stripped=True, eye_stripped=kind == "stripped")


def _rope(
    draw: st.DrawFn, company: Company, seat: Length, coatings: tuple[str, ...], conditions: tuple[str, ...]
) -> Rope:
    construction, core, grade, lay, resistant = _several(
        draw, company.constructions, company.cores, company.grades, company.lays, company.rotation_resistant
    )
    seale = construction.endswith("S") and "W" not in construction
    wires, condition, kind, eighths, flag = _several(
        draw, ("", "large") if seale else ("", "large", "ordinary"), conditions, coatings, (7, 6, 5, 4), (False, True)
    )
    finish, preformed, percent, minimum, above = _several(
        draw, FINISHES, (None, True, False), _MEASURED, _MINIMUM, _ABOVE
    )
    diameter, coating = _coating(kind, seat, eighths, flag)
    return Rope(
        diameter,
        construction,
        core,
        grade,
        lay,
        wires,
        finish,
        condition,
        resistant,
        preformed,
        None if percent is None else Length(diameter.nanometres * percent // 100),
        coating,
        None if minimum is None else Force(minimum),
        None if minimum is None or above is None else Force(minimum * above),
        None,
        "" if minimum is None else "certificate 7 of the invented works",
    )


@st.composite
def ropes(
    draw: st.DrawFn,
    company: Company,
    coatings: tuple[str, ...] = ("", "stripped", "eye left coated", "left on"),
    conditions: tuple[str, ...] = ("new", "", "used", "worn"),
) -> Rope:
    """A rope that every member of a company speaks of, described more or less fully."""
    return _rope(draw, company, _seat(draw, company), coatings, conditions)


def _clip_size(draw: st.DrawFn, company: Company) -> Length:
    """A clip size that every member prints or declares; a size that takes a range of ropes is the range's upper end."""
    ranged = any(row.above is not None for rules in company.members for row in rules.rows)
    span = draw(_sampled(company.spans))
    return Length(span[1]) if ranged else _length(draw, *span)


def _around(rope: Rope) -> int:
    coating = rope.coating
    if coating is None or (coating.stripped and coating.eye_stripped):
        return rope.diameter.nanometres
    return coating.finished_diameter.nanometres


def _under(rope: Rope) -> int:
    coating = rope.coating
    if coating is None or coating.stripped:
        return rope.diameter.nanometres
    return coating.finished_diameter.nanometres


def _far_enough(draw: st.DrawFn, radius: int) -> Length:
    """From the centre to a base whose legs enclose less than 120 degrees: q > R / sin 60."""
    return _length(draw, radius * 1160 // 1000 + 2, radius * 6 + 2)


def _thimble(draw: st.DrawFn, rope: Rope, whole: bool) -> ThimbleEye:
    missing = "" if whole else draw(_sampled(_MISSING))
    if missing == "all":
        return ThimbleEye()
    width = _length(draw, rope.diameter.nanometres, 8 * rope.diameter.nanometres)
    offset = _length(draw, 1, rope.diameter.nanometres)
    radius = -(-width.nanometres // 2) + offset.nanometres + -(-_around(rope) // 2)
    length = Length(-(-width.nanometres // 2)) + _far_enough(draw, radius)
    return ThimbleEye(length, None if missing == "width" else width, None if missing == "offset" else offset)


def _soft_eye(draw: st.DrawFn, rope: Rope, whole: bool) -> SoftEye:
    pin = _length(draw, rope.diameter.nanometres // 2, 8 * rope.diameter.nanometres)
    radius = -(-(pin.nanometres + _around(rope)) // 2)
    length = Length(-(-pin.nanometres // 2)) + _far_enough(draw, radius)
    missing = "" if whole else draw(_sampled(("", "", "pin", "length")))
    return SoftEye(None if missing == "pin" else pin, None if missing == "length" else length)


def _pulley_eye(draw: st.DrawFn, rope: Rope, whole: bool) -> PulleyEye:
    """Legs exist where R cos B > e/2, so where D > d (1/cos B - 1): at up to 120 degrees any D > d will do."""
    angle, hidden = _several(draw, _ANGLES, (False,) if whole else (False, False, False, True))
    tread = None
    if not hidden:
        tread = _length(draw, _around(rope) * 21 // 20, 30 * _around(rope))
    return PulleyEye(tread, angle)


def _termination(draw: st.DrawFn, rope: Rope, kind: TerminationKind, whole: bool) -> Termination:
    if kind == "thimble eye":
        return _thimble(draw, rope, whole)
    if kind == "soft eye":
        return _soft_eye(draw, rope, whole)
    if kind == "pulley eye":
        return _pulley_eye(draw, rope, whole)
    if kind == "linked eyes":
        return LinkedEyes(_thimble(draw, rope, whole), _thimble(draw, rope, whole))
    if kind == "lap splice":
        return LapSplice()
    on_pin, alike = _several(draw, (False, False, True), (True, False))
    around = _soft_eye(draw, rope, whole) if on_pin else _thimble(draw, rope, whole)
    # From touching, where the coating stays on over it, to less than the eye is wide, so that the parts come together.
    under = _under(rope)
    apart = None if alike else _length(draw, under, under * 6 // 5)
    return PlateEye(around, apart)


@st.composite
def terminations(draw: st.DrawFn, rope: Rope, kind: TerminationKind, whole: bool = False) -> Termination:
    """An eye or splice of one kind whose dimensions fit the rope; some are missing unless it is drawn whole."""
    return _termination(draw, rope, kind, whole)


def _maker(draw: st.DrawFn) -> MakerFigures:
    pounds, threads, share = _several(draw, tuple(range(5, 900)), ("dry", "greased"), _SHARES)
    return MakerFigures("invented sheet 3", Torque(pounds, "lbf·ft"), threads, share)


def _names(company: Company, form: int) -> RulesChoice:
    if form == 0:
        return "+".join(company.ids)
    return governing(*company.ids) if form == 1 else governing(*company.members)


def _base_width(
    draw: st.DrawFn, company: Company, rope: Rope, termination: Termination, use: Use, seat: Length, size: Length | None
) -> Length:
    bounds = BOOK.demands(
        service=use[0], jurisdiction=use[1], rope=rope, style_id=company.style, termination=termination
    ).spacing
    rows = [(rules, rules.row_for(size or seat)) for rules in company.members]
    return _length(draw, *base_width_span(rows, seat, bounds))


@st.composite
def requests(
    draw: st.DrawFn,
    *,
    company: Company | None = None,
    style: str | None = None,
    least: int = 1,
    most: int = 3,
    kinds: tuple[TerminationKind, ...] = (),
    measured: bool | None = None,
    whole: bool = False,
    coatings: tuple[str, ...] = ("", "", "stripped", "eye left coated", "left on"),
    conditions: tuple[str, ...] = ("new", "new", "", "used", "worn"),
    uses: tuple[Use, ...] = USES,
    maker: bool | None = False,
    extra: int = 5,
    own_size: bool = False,
) -> Request:
    """A request that plans: every part fits the others.

    Args:
        draw: Hypothesis' own.
        company: The rule sets; drawn where not given.
        style: Only companies of this style.
        least: Fewest members.
        most: Most members.
        kinds: Kinds of termination; those of the style where not given.
        measured: Whether the base width is given; either where None. With True, a source says how far the clips
            stand apart or how much rope is turned back, so that every clip has its place.
        whole: Whether every dimension of the eye is given.
        coatings: What may become of a coating.
        conditions: Conditions of the rope.
        uses: Service and jurisdiction.
        maker: Whether the clip's maker gives figures; either where None.
        extra: Most clips beyond the rule.
        own_size: Whether the user pairs the rope with a printed clip size.
    """
    found = company
    if found is None:
        found = draw(companies(style=style, least=least, most=most, kinds=kinds, lays_out=measured is True))
    hardware = CATALOGUE.style(found.style)
    seat = _seat(draw, found)
    rope = _rope(draw, found, seat, coatings, conditions)
    makes = tuple(kind for kind in hardware.terminations if not kinds or kind in kinds)
    termination = _termination(draw, rope, draw(_sampled(makes)), whole)
    size = _clip_size(draw, found) if own_size else None
    use, form, body, more, is_measured, by_maker = _several(
        draw,
        uses,
        (0, 1, 2),
        ("forged", "other", "not given"),
        tuple(range(extra + 1)) if hardware.in_series else (0,),
        (True, True, True, False) if measured is None else (measured,),
        (False, True) if maker is None else (maker,),
    )
    return Request(
        rope,
        termination,
        found.style,
        _names(found, form),
        body,
        _base_width(draw, found, rope, termination, use, seat, size) if is_measured else None,
        size,
        None if size is None else "invented sheet 4",
        _maker(draw) if by_maker else None,
        use[0],
        use[1],
        more,
        None,
        None,
    )


@st.composite
def rated_requests(draw: st.DrawFn, uses: tuple[Use, ...] = (("guy", "US"),), extra: int = 5) -> Request:
    """A request for which a source gives a strength: new rope with a known breaking force, an eye on a thimble."""
    made = draw(
        requests(
            company=draw(_sampled(RATING)),
            kinds=("thimble eye", "linked eyes"),
            coatings=("", "stripped"),
            conditions=("new",),
            uses=uses,
            extra=extra,
        )
    )
    certified = attrs.evolve(
        made.rope,
        measured_diameter=None,
        minimum_breaking_force=Force(draw(st.floats(1e4, 1e6))),
        actual_breaking_force=None,
        certificate="certificate 8 of the invented works",
    )
    return attrs.evolve(made, rope=certified)


def planned(request: Request) -> Plan:
    """Plan a request with the plugins of this repository, whatever else is installed."""
    return plan_request(request, CATALOGUE)
