"""Strategies for the whole suite: valid ropes, clips, eyes and requests, built from what the rule sets declare.

Sizes come from the rows and ranges of the rule sets at hand, ropes from their scopes, base widths from the room that
a printed turn-back leaves, thimbles from the condition that the legs of the eye exist.
Nothing is drawn and thrown away.

Every draw is made from a strategy that is built once, for building strategies is what takes the time: a length is
a part of its range, taken to a graduation of the tape.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from itertools import combinations, product
from math import ceil
from typing import Final, TypeVar

import attrs
from hypothesis import strategies as st

import turnback_mirrored_saddle.plugin
import turnback_plate.plugin
import turnback_ubolt.plugin
from turnback.model.classes import classes_of
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
from turnback.planning.build import plan_request, service_book
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import SIXTY_FOURTH, Angle, Force, Length, Torque
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet, ScopeEntry, SpacingBound
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

PLUGINS: Final = (turnback_ubolt.plugin, turnback_mirrored_saddle.plugin, turnback_plate.plugin)
CATALOGUE: Final = Catalogue.of(*PLUGINS)
BOOK: Final = service_book(CATALOGUE)
TABLES: Final = tuple(rules for rules in CATALOGUE.rule_sets if rules.rows)
SERIES_STYLES: Final = tuple(style.id for style in CATALOGUE.styles if style.in_series)

_MM: Final = 1_000_000
_CONSTRUCTIONS: Final = (
    "6x19", "6x19S", "6x19W", "6x25F", "6x26WS", "6x19 class", "6x37", "6x36WS", "6x41WS", "6x37 class",
    "7x7", "7x19", "8x19", "8x19S", "8x25F", "18x7", "17x7", "19x7", "35Wx7",
)  # fmt: skip
_CORES: Final = ("FC", "IWRC", "WSC")
_GRADES: Final = ("IPS", "EIP", "EEIP", "1770", "1960")
_LAYS: Final = ("right regular", "left regular", "right Lang", "left Lang")
_FINISHES: Final = ("", "bright", "galvanized", "stainless")

T = TypeVar("T")
Span = tuple[int, int]
"""A range of sizes, both ends in it [nm]."""


@attrs.frozen
class Company:
    """Rule sets that can govern one joint together, and the ropes that all of them speak of.

    Args:
        members: The rule sets; one alone is a company too.
        spans: Sizes that every member takes [nm].
        constructions: Constructions that every member takes, "" for not given; likewise the other words.
        cores: Cores.
        grades: Grades.
        lays: Lays.
        rotation_resistant: What may be said of it.
    """

    members: tuple[RuleSet, ...]
    spans: tuple[Span, ...]
    constructions: tuple[str, ...]
    cores: tuple[str, ...]
    grades: tuple[str, ...]
    lays: tuple[str, ...]
    rotation_resistant: tuple[bool | None, ...]

    @property
    def style(self) -> str:
        """Id of the clip style."""
        return self.members[0].style

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the members."""
        return tuple(rules.id for rules in self.members)


def _spans(rules: RuleSet, alone: bool) -> list[Span]:
    rule = rules.count_rule
    if rule is not None:
        # A count for every size declares no range: any rope that is not absurd will do.
        low, high = rule.least or Length.of("1/16 in"), rule.greatest or Length.of("2 in")
        return [(low.nanometres, high.nanometres)]
    # In company a size that takes a range of ropes agrees with the others where the rope has that very size.
    return [
        (row.above.nanometres + 1 if row.above is not None and alone else row.size.nanometres, row.size.nanometres)
        for row in rules.rows
    ]


def _common(one: Sequence[Span], other: Sequence[Span]) -> list[Span]:
    met = ((max(a, c), min(b, d)) for (a, b), (c, d) in product(one, other))
    return sorted({span for span in met if span[0] <= span[1]})


def _torques_agree(members: Sequence[RuleSet], span: Span) -> bool:
    printing = [
        (cell.value, rules.threads.value if rules.threads is not None else "")
        for rules in members
        if (cell := rules.row_for(Length(span[1])).torque) is not None
    ]
    return all(torque.same_as(printing[0][0]) and threads == printing[0][1] for torque, threads in printing)


def _words(entries: Sequence[ScopeEntry], plural: str, known: tuple[str, ...]) -> tuple[str, ...]:
    lists: list[tuple[str, ...]] = [getattr(entry, plural) for entry in entries if plural not in entry.confirm]
    return tuple(word for word in known if all(word in accepted or not accepted for accepted in lists))


def _constructions(entries: Sequence[ScopeEntry]) -> tuple[str, ...]:
    lists = [set(entry.constructions) for entry in entries if entry.constructions]
    return tuple(
        each
        for each in _CONSTRUCTIONS
        if all(accepted & {named.value for named in classes_of(each)} for accepted in lists)
    )


def _company(members: tuple[RuleSet, ...], entries: tuple[ScopeEntry, ...]) -> Company | None:
    spans = _spans(members[0], len(members) == 1)
    for rules in members[1:]:
        spans = _common(spans, _spans(rules, alone=False))
    # The library takes ropes to 300 mm; a little less leaves room for a coating.
    spans = _common(spans, [(1, 290 * _MM)])
    for entry in entries:
        low = entry.least.nanometres if entry.least is not None else 1
        high = entry.greatest.nanometres if entry.greatest is not None else 290 * _MM
        spans = _common(spans, [(low, high)])
    spans = [span for span in spans if _torques_agree(members, span)]
    wanted = {entry.rotation_resistant for entry in entries} - {None}
    constructions = _constructions(entries)
    cores, grades = _words(entries, "cores", _CORES), _words(entries, "grades", _GRADES)
    lays = _words(entries, "lays", _LAYS)
    if len({rules.pattern for rules in members} - {""}) > 1 or len(wanted) > 1:
        return None
    if not all((spans, constructions, cores, grades, lays)):
        return None
    turns = (None, *wanted) if wanted else (None, True, False)
    return Company(members, tuple(spans), ("", *constructions), ("", *cores), ("", *grades), ("", *lays), turns)


def _companies() -> Iterator[Company]:
    for style in CATALOGUE.styles:
        # A rule set without a scope speaks of every rope, and is no choice here.
        for members in (m for n in (1, 2, 3) for m in combinations(CATALOGUE.for_style(style.id), n)):
            for entries in product(*(rules.scope for rules in members if rules.scope)):
                found = _company(members, entries)
                if found is not None:
                    yield found


COMPANIES: Final = tuple(_companies())
"""Every rule set alone, and every pair and triple that can govern together, once for each way through their scopes."""


@cache
def _sampled(options: tuple[T, ...]) -> st.SearchStrategy[T]:
    return st.sampled_from(options)


_PART: Final = st.integers(0, 1 << 16)
_STEP: Final = st.sampled_from((4 * SIXTY_FOURTH.nanometres, SIXTY_FOURTH.nanometres, _MM, _MM // 10, 1))
_HIDDEN: Final = _sampled((False, False, False, True))
_FLAG: Final = _sampled((None, True, False))
_EIGHTHS: Final = st.integers(4, 7)
_SIXTY_FOURTHS: Final = st.integers(1, 16)
_MEASURED: Final = _sampled((None, 100, *range(97, 106)))
_MINIMUM: Final = st.none() | st.floats(1e3, 2e6)
_ABOVE: Final = st.none() | st.floats(1.0, 1.3)
_ANGLE: Final = st.none() | st.integers(50, 1190)
_POUND_FEET: Final = st.integers(5, 900)
_SHARE: Final = st.none() | st.integers(50, 95)


def _length(draw: st.DrawFn, low: int, high: int) -> Length:
    step = draw(_STEP)
    first, last = -(-low // step), high // step
    if first > last:
        step, first, last = 1, low, high
    return Length(step * (first + (last - first) * draw(_PART) // (1 << 16)))


@st.composite
def lengths(draw: st.DrawFn, low: int, high: int) -> Length:
    """Lengths between two counts of nanometres, both in it; most of them on a graduation of a tape."""
    return _length(draw, low, high)


@cache
def companies(
    *, style: str | None = None, least: int = 1, most: int = 3, kinds: tuple[TerminationKind, ...] = ()
) -> st.SearchStrategy[Company]:
    """Rule sets that can govern together, at least and at most so many, whose style makes one of these kinds."""
    made = {each.id for each in CATALOGUE.styles if not kinds or set(kinds) & set(each.terminations)}
    known = made if style is None else made & {style}
    return st.sampled_from([c for c in COMPANIES if least <= len(c.members) <= most and c.style in known])


def _seat(draw: st.DrawFn, company: Company) -> Length:
    return _length(draw, *draw(_sampled(company.spans)))


@st.composite
def seats(draw: st.DrawFn, company: Company) -> Length:
    """A diameter under the clip that every member takes."""
    return _seat(draw, company)


def _coating(draw: st.DrawFn, kind: str, seat: Length) -> tuple[Length, Coating | None]:
    if not kind:
        return seat, None
    if kind == "left on":
        bare = Length(seat.nanometres * draw(_EIGHTHS) // 8)
        return bare, Coating(seat, stripped=False, eye_stripped=draw(_HIDDEN))
    finished = seat + SIXTY_FOURTH * draw(_SIXTY_FOURTHS)
    return seat, Coating(finished, stripped=True, eye_stripped=kind == "stripped")


def _rope(
    draw: st.DrawFn, company: Company, seat: Length, coatings: tuple[str, ...], conditions: tuple[str, ...]
) -> Rope:
    diameter, coating = _coating(draw, draw(_sampled(coatings)), seat)
    construction = draw(_sampled(company.constructions))
    seale = construction.endswith("S") and "W" not in construction
    minimum, percent = draw(_MINIMUM), draw(_MEASURED)
    above = None if minimum is None else draw(_ABOVE)
    return Rope(
        diameter,
        construction,
        draw(_sampled(company.cores)),
        draw(_sampled(company.grades)),
        draw(_sampled(company.lays)),
        draw(_sampled(("", "large") if seale else ("", "large", "ordinary"))),
        draw(_sampled(_FINISHES)),
        draw(_sampled(conditions)),
        draw(_sampled(company.rotation_resistant)),
        draw(_FLAG),
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


def _far_enough(draw: st.DrawFn, radius: int) -> Length:
    """From the centre to a base whose legs enclose less than 120 degrees: q > R / sin 60."""
    return _length(draw, radius * 1160 // 1000 + 2, radius * 6 + 2)


def _thimble(draw: st.DrawFn, rope: Rope, whole: bool) -> ThimbleEye:
    missing = "" if whole else draw(_sampled(("", "", "", "offset", "width", "all")))
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
    """Legs exist where R cos B > e/2, so where D > d (1/cos B - 1): above 120 degrees no pulley of D = d has any."""
    tenths = draw(_ANGLE)
    tread = None
    if whole or not draw(_HIDDEN):
        tread = _length(draw, rope.diameter.nanometres * 21 // 20, 30 * rope.diameter.nanometres)
    return PulleyEye(tread, None if tenths is None else Angle.of(f"{tenths / 10} deg"))


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
    around = _soft_eye(draw, rope, whole) if draw(_HIDDEN) else _thimble(draw, rope, whole)
    apart = None if draw(_HIDDEN) else _length(draw, rope.diameter.nanometres, rope.diameter.nanometres * 3 // 2)
    return PlateEye(around, apart)


@st.composite
def terminations(draw: st.DrawFn, rope: Rope, kind: TerminationKind, whole: bool = False) -> Termination:
    """An eye or splice of one kind whose dimensions fit the rope; some are missing unless it is drawn whole."""
    return _termination(draw, rope, kind, whole)


def _is_capped(service: str | None, jurisdiction: str | None) -> bool:
    """Whether a service bounds the distance between the clips from above, which few rule sets can meet."""
    circle = {jurisdiction, (jurisdiction or "").partition("-")[0], "any"}
    return any(
        bound.bound != "least"
        for rule in BOOK.rules
        if rule.service in (service, "any") and (jurisdiction is None or rule.jurisdiction in circle)
        for bound in rule.spacing
    )


Use = tuple[str | None, str | None]
"""Service and jurisdiction."""
USES: Final[tuple[Use, ...]] = tuple(
    (service, place)
    for service in (None, *BOOK.services)
    for place in (None, *BOOK.jurisdictions)
    if not _is_capped(service, place)
)
"""Every service in every jurisdiction, each given or not, that puts no upper bound on the spacing."""


def _base_share(bound: SpacingBound) -> Fraction:
    own = bound.length.base_widths if bound.length is not None else Fraction(0)
    return own + 1 if bound.clear else own


def _fixed(bound: SpacingBound, row: Row, seat: Length) -> Fraction:
    """The part of a bound that does not depend on the base width [nm]."""
    if bound.length is not None:
        return bound.length.diameters * seat.nanometres + bound.length.constant.nanometres
    return Fraction(row.spacing.value.nanometres if row.spacing is not None else 0)


def base_width_span(rows: Sequence[tuple[RuleSet, Row]], seat: Length, more: Sequence[SpacingBound] = ()) -> Span:
    """Base widths with which the clips fit into every printed turn-back and between every pair of bounds [nm]."""
    low, high = seat.nanometres // 2, 6 * seat.nanometres
    for _, row in rows:
        printed, count = row.turn_back, row.count_for("not given")
        if printed is not None and count is not None:
            high = min(high, printed.value.nanometres // (count.value + 1))
    asked = [(bound, row) for rules, row in rows for bound in rules.spacing] + [(bound, Row(seat)) for bound in more]
    fixed = [_fixed(bound, row, seat) for bound, row in asked if bound.bound != "greatest" and not _base_share(bound)]
    for bound, row in asked:
        share = _base_share(bound)
        if bound.bound != "least" and share:
            low = max([low, *(ceil((each - _fixed(bound, row, seat)) / share) for each in fixed)])
        elif bound.bound != "least":
            shares = [_base_share(each) for each, _ in asked if each.bound != "greatest"]
            high = min(high, int(_fixed(bound, row, seat) / max([Fraction(2), *shares])))
    return min(low, high), high


def _maker(draw: st.DrawFn) -> MakerFigures:
    share = draw(_SHARE)
    return MakerFigures(
        "invented sheet 3",
        Torque(draw(_POUND_FEET), "lbf·ft"),
        draw(_sampled(("dry", "greased"))),
        None if share is None else Fraction(share, 100),
    )


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
        measured: Whether the base width is given; either where None.
        whole: Whether every dimension of the eye is given.
        coatings: What may become of a coating.
        conditions: Conditions of the rope.
        uses: Service and jurisdiction.
        maker: Whether the clip's maker gives figures; either where None.
        extra: Most clips beyond the rule.
        own_size: Whether the user pairs the rope with a printed clip size.
    """
    found = draw(companies(style=style, least=least, most=most, kinds=kinds)) if company is None else company
    hardware = CATALOGUE.style(found.style)
    seat = _seat(draw, found)
    rope = _rope(draw, found, seat, coatings, conditions)
    makes = tuple(kind for kind in hardware.terminations if not kinds or kind in kinds)
    termination = _termination(draw, rope, draw(_sampled(makes)), whole)
    use = draw(_sampled(uses))
    size = _clip_size(draw, found) if own_size else None
    is_measured = not draw(_HIDDEN) if measured is None else measured
    by_maker = draw(_sampled((False, True))) if maker is None else maker
    return Request(
        rope,
        termination,
        found.style,
        _names(found, draw(_sampled((0, 1, 2)))),
        draw(_sampled(("forged", "other", "not given"))),
        _base_width(draw, found, rope, termination, use, seat, size) if is_measured else None,
        size,
        None if size is None else "invented sheet 4",
        _maker(draw) if by_maker else None,
        use[0],
        use[1],
        draw(_sampled(tuple(range(extra + 1)))) if hardware.in_series else 0,
        None,
        None,
    )


def _rating() -> Iterator[Company]:
    for company in COMPANIES:
        prints = any(rules.rows and rules.rows[0].torque is not None for rules in company.members)
        if company.style not in SERIES_STYLES or not prints or "6x19" not in company.constructions:
            continue
        yield attrs.evolve(company, constructions=("6x19", "6x36WS", "6x19S"), rotation_resistant=(None, False))


RATING: Final = tuple(_rating())
"""The companies that print a torque, held to ropes for which they give more than counts."""


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
        minimum_breaking_force=Force(draw(st.floats(1e4, 1e6))),
        actual_breaking_force=None,
        certificate="certificate 8 of the invented works",
    )
    return attrs.evolve(made, rope=certified)


def planned(request: Request) -> Plan:
    """Plan a request with the plugins of this repository, whatever else is installed."""
    return plan_request(request, CATALOGUE)
