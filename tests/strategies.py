"""Strategies for the whole suite: valid ropes, clips, eyes and requests, built from what the rule sets declare.

Sizes come from the rows and ranges of the rule sets at hand, ropes from their scopes, base widths from the room that
a printed turn-back leaves, thimbles from the condition that the legs of the eye exist. Nothing is drawn and thrown away.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, product
from math import ceil
from typing import Final

import attrs
import turnback_mirrored_saddle.plugin
import turnback_plate.plugin
import turnback_ubolt.plugin
from hypothesis import strategies as st

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
from turnback.planning.build import service_book
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
    "SERIES_STYLES",
    "TABLES",
    "Company",
    "base_widths",
    "companies",
    "lengths",
    "pulley_eyes",
    "rated_requests",
    "requests",
    "ropes",
    "seats",
    "services",
    "soft_eyes",
    "terminations",
    "thimbles",
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
    if rules.count_rule is not None:
        return [(rules.count_rule.least.nanometres, rules.count_rule.greatest.nanometres)]
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
    for entry in entries:
        low = entry.least.nanometres if entry.least is not None else 1
        high = entry.greatest.nanometres if entry.greatest is not None else 300 * _MM
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
        # A scope without a size, a pattern or a word of its own says nothing that a rope could miss.
        for members in (m for n in (1, 2, 3) for m in combinations(CATALOGUE.for_style(style.id), n)):
            for entries in product(*(rules.scope for rules in members if rules.scope)):
                found = _company(members, entries)
                if found is not None:
                    yield found


COMPANIES: Final = tuple(_companies())
"""Every rule set alone, and every pair and triple that can govern together, once for each way through their scopes."""


def companies(*, style: str | None = None, least: int = 1, most: int = 3) -> st.SearchStrategy[Company]:
    """Rule sets that can govern together, at least and at most so many of them."""
    found = [c for c in COMPANIES if least <= len(c.members) <= most and style in (None, c.style)]
    return st.sampled_from(found)


def lengths(low: int, high: int) -> st.SearchStrategy[Length]:
    """Lengths between two counts of nanometres: on a tape where there is room for a graduation, and between them."""
    options = [st.integers(low, high)]
    for step in (SIXTY_FOURTH.nanometres, 4 * SIXTY_FOURTH.nanometres, _MM // 10, _MM):
        first, last = -(-low // step), high // step
        if first <= last:
            options.append(st.integers(first, last).map(step.__mul__))
    return st.one_of(options).map(Length)


def seats(company: Company) -> st.SearchStrategy[Length]:
    """Diameters under the clip that every member takes."""
    return st.sampled_from(company.spans).flatmap(lambda span: lengths(*span))


@st.composite
def ropes(
    draw: st.DrawFn,
    company: Company,
    seat: Length,
    coatings: Sequence[str] = ("", "stripped", "eye left coated", "left on"),
    conditions: Sequence[str] = ("new", "", "used", "worn"),
) -> Rope:
    """A rope that every member of a company speaks of, with this diameter under the clip; described more or less."""
    coating, diameter = None, seat
    kind = draw(st.sampled_from(coatings))
    if kind == "left on":
        diameter = Length(seat.nanometres * draw(st.integers(4, 7)) // 8)
        coating = Coating(seat, stripped=False, eye_stripped=draw(st.booleans()))
    elif kind:
        finished = seat + SIXTY_FOURTH * draw(st.integers(1, 16))
        coating = Coating(finished, stripped=True, eye_stripped=kind == "stripped")
    construction = draw(st.sampled_from(company.constructions))
    wires = ("", "large") if construction.endswith("S") and "W" not in construction else ("", "large", "ordinary")
    minimum = draw(st.none() | st.floats(1e3, 2e6).map(Force))
    actual = None if minimum is None else draw(st.none() | st.floats(1.0, 1.3).map(minimum.__mul__))
    return Rope(
        diameter,
        construction,
        draw(st.sampled_from(company.cores)),
        draw(st.sampled_from(company.grades)),
        draw(st.sampled_from(company.lays)),
        draw(st.sampled_from(wires)),
        draw(st.sampled_from(_FINISHES)),
        draw(st.sampled_from(conditions)),
        draw(st.sampled_from(company.rotation_resistant)),
        draw(st.sampled_from((None, True, False))),
        draw(st.none() | st.integers(97, 105).map(lambda p: Length(diameter.nanometres * p // 100))),
        coating,
        minimum,
        actual,
        None,
        "" if minimum is None else "certificate 7 of the invented works",
    )


def _around(rope: Rope) -> int:
    coating = rope.coating
    if coating is None or (coating.stripped and coating.eye_stripped):
        return rope.diameter.nanometres
    return coating.finished_diameter.nanometres


def _far_enough(radius: int) -> st.SearchStrategy[Length]:
    """From the centre to a base whose legs enclose less than 120 degrees: q > R / sin 60."""
    return lengths(radius * 1160 // 1000 + 2, radius * 6 + 2)


@st.composite
def thimbles(draw: st.DrawFn, rope: Rope, whole: bool = False) -> ThimbleEye:
    """A thimble with room for the legs of its eye; a dimension may be missing unless it is drawn whole."""
    width = draw(lengths(rope.diameter.nanometres, 8 * rope.diameter.nanometres))
    offset = draw(lengths(1, rope.diameter.nanometres))
    radius = -(-width.nanometres // 2) + offset.nanometres + -(-_around(rope) // 2)
    length = Length(-(-width.nanometres // 2)) + draw(_far_enough(radius))
    missing = draw(st.sampled_from(("", "", "", "offset", "width", "all"))) if not whole else ""
    return ThimbleEye(
        None if missing == "all" else length,
        None if missing in ("width", "all") else width,
        None if missing in ("offset", "all") else offset,
    )


@st.composite
def soft_eyes(draw: st.DrawFn, rope: Rope, whole: bool = False) -> SoftEye:
    """A soft eye long enough for its pin."""
    pin = draw(lengths(rope.diameter.nanometres // 2, 8 * rope.diameter.nanometres))
    radius = -(-(pin.nanometres + _around(rope)) // 2)
    length = Length(-(-pin.nanometres // 2)) + draw(_far_enough(radius))
    known = whole or draw(st.integers(0, 3)) > 0
    return SoftEye(pin if known else None, length if whole or draw(st.integers(0, 3)) > 0 else None)


@st.composite
def pulley_eyes(draw: st.DrawFn, rope: Rope, whole: bool = False) -> PulleyEye:
    """A pulley no smaller than its rope, at an angle at which the legs exist."""
    tread = draw(lengths(rope.diameter.nanometres * 21 // 20, 30 * rope.diameter.nanometres))
    angle = draw(st.none() | st.integers(50, 1190).map(lambda tenths: Angle.of(f"{tenths / 10} deg")))
    return PulleyEye(tread if whole or draw(st.integers(0, 3)) > 0 else None, angle)


@st.composite
def terminations(draw: st.DrawFn, rope: Rope, kind: TerminationKind, whole: bool = False) -> Termination:
    """An eye or splice of one kind whose dimensions fit the rope."""
    if kind == "thimble eye":
        return draw(thimbles(rope, whole))
    if kind == "soft eye":
        return draw(soft_eyes(rope, whole))
    if kind == "pulley eye":
        return draw(pulley_eyes(rope, whole))
    if kind == "linked eyes":
        return LinkedEyes(draw(thimbles(rope, whole)), draw(thimbles(rope, whole)))
    if kind == "lap splice":
        return LapSplice()
    around = draw(thimbles(rope, whole) | soft_eyes(rope, whole))
    return PlateEye(around, draw(st.none() | lengths(rope.diameter.nanometres, rope.diameter.nanometres * 3 // 2)))


def _is_capped(service: str | None, jurisdiction: str | None) -> bool:
    """Whether a service bounds the distance between the clips from above, which few rule sets can meet."""
    circle = {jurisdiction, (jurisdiction or "").partition("-")[0], "any"}
    return any(
        bound.bound != "least"
        for rule in BOOK.rules
        if rule.service in (service, "any") and (jurisdiction is None or rule.jurisdiction in circle)
        for bound in rule.spacing
    )


_PLACES: Final = (None, *BOOK.jurisdictions)
_USES: Final = tuple((use, place) for use in (None, *BOOK.services) for place in _PLACES if not _is_capped(use, place))


def services() -> st.SearchStrategy[tuple[str | None, str | None]]:
    """A service and a jurisdiction, each given or not, that put no upper bound on the spacing."""
    return st.sampled_from(_USES)


def _base_share(bound: SpacingBound) -> Fraction:
    own = bound.length.base_widths if bound.length is not None else Fraction(0)
    return own + 1 if bound.clear else own


def base_widths(
    rows: Sequence[tuple[RuleSet, Row]], seat: Length, more: Sequence[SpacingBound] = ()
) -> st.SearchStrategy[Length]:
    """Base widths with which the clips fit into every printed turn-back and between every pair of bounds."""
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
    return lengths(min(low, high), high)


def _fixed(bound: SpacingBound, row: Row, seat: Length) -> Fraction:
    """The part of a bound that does not depend on the base width [nm]."""
    if bound.length is not None:
        return bound.length.diameters * seat.nanometres + bound.length.constant.nanometres
    return Fraction(row.spacing.value.nanometres if row.spacing is not None else 0)


def _makers() -> st.SearchStrategy[MakerFigures]:
    torque = st.integers(5, 900).map(lambda n: Torque(n, "lbf·ft"))
    share = st.none() | st.integers(50, 95).map(lambda n: Fraction(n, 100))
    return st.builds(MakerFigures, st.just("invented sheet 3"), torque, st.sampled_from(("dry", "greased")), share)


@st.composite
def requests(
    draw: st.DrawFn,
    *,
    company: Company | None = None,
    style: str | None = None,
    least: int = 1,
    most: int = 3,
    kinds: Sequence[TerminationKind] = (),
    measured: bool | None = None,
    whole: bool = False,
    coatings: Sequence[str] = ("", "", "stripped", "eye left coated", "left on"),
    conditions: Sequence[str] = ("new", "new", "", "used", "worn"),
    uses: st.SearchStrategy[tuple[str | None, str | None]] | None = None,
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
    found = draw(companies(style=style, least=least, most=most)) if company is None else company
    hardware = CATALOGUE.style(found.style)
    seat = draw(seats(found))
    rope = draw(ropes(found, seat, coatings, conditions))
    kind = draw(st.sampled_from(tuple(kind for kind in hardware.terminations if not kinds or kind in kinds)))
    termination = draw(terminations(rope, kind, whole))
    service, jurisdiction = draw(services() if uses is None else uses)
    size = draw(seats(found)) if own_size else None
    rows = [(rules, rules.row_for(size or seat)) for rules in found.members]
    base = None
    if draw(st.integers(0, 3)) > 0 if measured is None else measured:
        bounds = BOOK.demands(
            service=service, jurisdiction=jurisdiction, rope=rope, style_id=found.style, termination=termination
        ).spacing
        base = draw(base_widths(rows, seat, bounds))
    names: RulesChoice = draw(st.sampled_from(("+".join(found.ids), governing(*found.ids), governing(*found.members))))
    by_maker = draw(st.booleans()) if maker is None else maker
    return Request(
        rope,
        termination,
        found.style,
        names,
        draw(st.sampled_from(("forged", "other", "not given"))),
        base,
        size,
        None if size is None else "invented sheet 4",
        draw(_makers()) if by_maker else None,
        service,
        jurisdiction,
        draw(st.integers(0, extra)) if hardware.in_series else 0,
        None,
        None,
    )


_RATING: Final = tuple(
    company
    for company in COMPANIES
    if company.style in SERIES_STYLES
    and any(rules.rows and rules.rows[-1].torque is not None for rules in company.members)
    and all(entry.gives == "everything" for rules in company.members for entry in rules.scope[:1])
    and {"6x19", "6x36WS"} & set(company.constructions)
)


@st.composite
def rated_requests(draw: st.DrawFn, service: str | None = "guy", jurisdiction: str | None = "US") -> Request:
    """A request for which a source gives a strength: new rope with a known breaking force, an eye on a thimble."""
    company = draw(st.sampled_from(_RATING))
    company = attrs.evolve(company, constructions=("6x19",) if "6x19" in company.constructions else ("6x36WS",))
    made = draw(
        requests(
            company=company,
            kinds=("thimble eye", "linked eyes"),
            coatings=("", "stripped"),
            conditions=("new",),
            uses=st.just((service, jurisdiction)),
        )
    )
    least = draw(st.floats(1e4, 1e6).map(Force))
    certified = attrs.evolve(
        made.rope, minimum_breaking_force=least, actual_breaking_force=None, certificate="certificate 8, invented"
    )
    return attrs.evolve(made, rope=certified)
