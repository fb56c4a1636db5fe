"""Faults of rule sets and styles that break off, draw wrongly, or do not come back from a record or a file."""

from __future__ import annotations

from itertools import count
from typing import Final, cast

import attrs
from tests.conformance.faults.making import (
    BRUNSWICK,
    EN,
    NAVY,
    OSHA,
    SADDLE,
    TABLE,
    Fault,
    departing,
    drawn,
    like,
    made,
    retyped,
    rules_of,
    text_of,
    twisted,
    under,
)

from turnback.conformance.subject import Subject
from turnback.errors import InputError, OutOfTable
from turnback.model.cited import Cited
from turnback.model.figures import ClipPlace
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.shapes import Circle, Shape
from turnback.quantities import Length
from turnback.rules.rows import Row
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["ENDING_FAULTS"]

CALLS: Final = count(1)


# --- breaking off ---


def raises(demand: LayoutDemand, made: Layout) -> Layout:
    raise ZeroDivisionError("clips between none")


def raises_its_own(demand: LayoutDemand, made: Layout) -> Layout:
    raise InputError("not today", field="today", value="25 November")


def leaves(demand: LayoutDemand, made: Layout) -> Layout:
    raise SystemExit(3)


def recurses(demand: LayoutDemand, made: Layout) -> Layout:
    return recurses(demand, made)


def nothing(demand: LayoutDemand, made: Layout) -> Layout:
    return cast("Layout", None)


def a_text(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, turn_back=cast("Length", "11-1/2 in"))


def refuses_many(demand: LayoutDemand, made: Layout) -> Layout:
    if demand.count > 6:
        raise InputError("too many clips", field="count", value=str(demand.count), bound="6")
    return made


def fails_for_large_ropes(demand: LayoutDemand, made: Layout) -> Layout:
    if demand.rope_diameter > Length.of("2 in"):
        raise KeyError("large")
    return made


class NoRow(RuleSet):
    """It gives no row at all."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        return cast("Row", None)


class RefusesOne(RuleSet):
    """It refuses a size that it prints."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        if diameter == Length.of("7/8 in"):
            raise OutOfTable("not this one", field=field)
        return RuleSet.row_for(self, diameter, field)


# --- drawings ---


def at(place: ClipPlace, radius: float) -> Circle:
    return Circle(place.x, (place.saddle + place.other) / 2, radius)


def round_both(place: ClipPlace) -> Circle:
    return at(place, abs(place.saddle - place.other) + place.width + place.diameter)


def draws_nothing(place: ClipPlace) -> tuple[Shape, ...]:
    return ()


def draws_elsewhere(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x + 10 * place.width, place.saddle, place.diameter),)


def draws_anew(place: ClipPlace) -> tuple[Shape, ...]:
    return (at(place, place.diameter * 2 + next(CALLS) % 7),)


def draws_off_the_page(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x, place.saddle, 5000.0),)


def draws_one_part(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x, place.saddle, abs(place.saddle - place.other) / 3),)


def draws_and_fails(place: ClipPlace) -> tuple[Shape, ...]:
    if place.view == "along":
        raise NotImplementedError
    return (at(place, place.diameter * 2),)


def draws_no_number(place: ClipPlace) -> tuple[Shape, ...]:
    circle = at(place, place.diameter * 2)
    object.__setattr__(circle, "radius", float("nan"))
    return (circle,)


# --- records ---


def another_hash(rules: RuleSet) -> RuleSet:
    return attrs.evolve(rules, sha256="0" * 64)


def another_file() -> Subject:
    return under(rules_of(TABLE), text=text_of(BRUNSWICK).replace('"ca-nb-clips"', f'"{TABLE}"'))


def a_kind_of_its_own() -> Subject:
    return under(like(Plain, rules_of(TABLE)))


class Plain(RuleSet):
    """A rule set of a kind of its own."""


def list_of_rows(rules: RuleSet) -> RuleSet:
    return attrs.evolve(rules, notes=cast("tuple[Cited[str], ...]", list(rules.notes)))


def without_hash() -> Subject:
    text = text_of(EN)
    return under(attrs.evolve(parse_rules(text), sha256=""), text=text)


BREAKS: Final = "breaks off or answers nothing"
DRAWING: Final = "drawing wrong"
RECORD: Final = "record or file that does not come back"

ENDING_FAULTS: Final = (
    Fault("raises", BREAKS, "The layout divides by nothing.", twisted(raises)),
    Fault(
        "raises-its-own",
        BREAKS,
        "The layout refuses everything, in the library's own words.",
        twisted(raises_its_own, EN),
    ),
    Fault("leaves", BREAKS, "The layout leaves the program.", twisted(leaves)),
    Fault("recurses", BREAKS, "The layout calls itself without end.", twisted(recurses)),
    Fault("nothing-laid-out", BREAKS, "The layout is None.", twisted(nothing)),
    Fault("a-turn-back-in-words", BREAKS, "The turn-back is a text.", twisted(a_text)),
    Fault("refuses-many", BREAKS, "More than six clips are refused.", twisted(refuses_many)),
    Fault("fails-for-large-ropes", BREAKS, "Above 2 in the layout fails.", twisted(fails_for_large_ropes)),
    Fault("no-row", BREAKS, "No row comes back.", made(NoRow)),
    Fault("refuses-one", BREAKS, "A printed size is refused.", made(RefusesOne)),
    Fault("draws-nothing", DRAWING, "A clip is not drawn.", drawn(draws_nothing)),
    Fault("draws-elsewhere", DRAWING, "A clip is drawn ten widths from its place.", drawn(draws_elsewhere)),
    Fault("draws-anew", DRAWING, "A clip is drawn otherwise each time.", drawn(draws_anew)),
    Fault("draws-off-the-page", DRAWING, "A clip is larger than its page.", drawn(draws_off_the_page)),
    Fault("draws-one-part", DRAWING, "A clip is drawn round one part alone.", drawn(draws_one_part, SADDLE)),
    Fault("draws-and-fails", DRAWING, "A clip seen along the rope is not drawn.", drawn(draws_and_fails)),
    Fault("draws-no-number", DRAWING, "A radius is not a number.", drawn(draws_no_number)),
    Fault(
        "another-hash",
        RECORD,
        "The rule set bears the hash of another file.",
        departing(TABLE, another_hash, text=True),
    ),
    Fault("no-hash", RECORD, "The rule set bears no hash of its file.", without_hash),
    Fault("another-file", RECORD, "The file beside the rule set is that of another source.", another_file),
    Fault("a-kind-of-its-own", RECORD, "The rule set is of a kind that nobody can write down.", a_kind_of_its_own),
    Fault(
        "a-title-without-end",
        RECORD,
        "The title is so long that no record takes it.",
        departing(TABLE, lambda r: attrs.evolve(r, title="a" * 10_000)),
    ),
    Fault("notes-in-a-list", RECORD, "The notes stand in a list.", departing(TABLE, list_of_rows)),
    Fault(
        "another-title",
        RECORD,
        "The title is not the one of the file.",
        departing(NAVY, lambda r: attrs.evolve(r, title="Another"), text=True),
    ),
    Fault(
        "unknown-style-typed",
        RECORD,
        "The file names a style that nobody brings.",
        retyped(TABLE, ('style = "u-bolt"', 'style = "u-bolts"')),
    ),
    Fault(
        "unknown-key-typed", RECORD, "The file has a key that nobody reads.", retyped(OSHA, ("title = ", "titel = "))
    ),
)
