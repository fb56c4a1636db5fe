"""Which rule sets can govern one joint together, and what of ropes, sizes and clips all of them take.

Everything is read from the rule sets at hand: rows, declared ranges, scopes and bounds. No strategy is made here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, product
from math import ceil
from typing import Final, TypeVar

import attrs

import turnback_mirrored_saddle.plugin
import turnback_plate.plugin
import turnback_ubolt.plugin
from turnback.model.classes import classes_of
from turnback.planning.build import service_book
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import Row, RuleSet, ScopeEntry, SpacingBound

__all__ = [
    "BOOK",
    "CATALOGUE",
    "COMPANIES",
    "FINISHES",
    "PLUGINS",
    "RATING",
    "SERIES_STYLES",
    "TABLES",
    "USES",
    "Company",
    "Use",
    "base_width_span",
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
FINISHES: Final = ("", "bright", "galvanized", "stainless")

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
        lays_out: Whether any member gives a turn-back or a spacing for all of these ropes; a plate needs neither.
    """

    members: tuple[RuleSet, ...]
    spans: tuple[Span, ...]
    constructions: tuple[str, ...]
    cores: tuple[str, ...]
    grades: tuple[str, ...]
    lays: tuple[str, ...]
    rotation_resistant: tuple[bool | None, ...]
    lays_out: bool

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
    counts_alone = {entry for entry in entries if entry.gives == "counts"}
    lays_out = not CATALOGUE.style(members[0].style).in_series or any(
        rules.spacing or (any(row.turn_back for row in rules.rows) and not counts_alone & set(rules.scope))
        for rules in members
    )
    words = (("", *constructions), ("", *cores), ("", *grades), ("", *lays))
    return Company(members, tuple(spans), *words, turns, lays_out)


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


def _rating() -> Iterator[Company]:
    for company in COMPANIES:
        prints = any(rules.rows and rules.rows[0].torque is not None for rules in company.members)
        if company.style not in SERIES_STYLES or not prints or "6x19" not in company.constructions:
            continue
        yield attrs.evolve(company, constructions=("6x19", "6x36WS", "6x19S"), rotation_resistant=(None, False))


RATING: Final = tuple(_rating())
"""The companies that print a torque, held to ropes for which they give more than counts."""
