"""Faults of rule sets and styles that answer by what lies around them, break off, or draw and write wrongly."""

from __future__ import annotations

import decimal
import os
import random
import sys
import threading
from itertools import count
from random import Random
from typing import Final

import attrs
from tests.conformance.faults.making import (
    SADDLE,
    TABLE,
    Fault,
    asked,
    drawn,
    like,
    made,
    rowed,
    rules_of,
    twisted,
    under,
)

from turnback.conformance.subject import Subject
from turnback.errors import OutOfTable
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.figures import ClipPlace
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.shapes import Circle, Shape
from turnback.quantities import Length
from turnback.rules.rows import BodyOfClip, Row
from turnback.rules.ruleset import RuleSet

__all__ = ["SURROUNDING_FAULTS"]

CALLS: Final = count(1)
"""Calls of the faults that answer differently each time."""
DICE: Final = Random(11)


def longer(made: Layout, nanometres: int) -> Layout:
    if isinstance(made.turn_back, Absent):
        return made
    return attrs.evolve(made, turn_back=Length(made.turn_back.nanometres + nanometres))


# --- state between calls ---


def drifting(demand: LayoutDemand, made: Layout) -> Layout:
    return longer(made, next(CALLS))


class Memory:
    """What a fault remembers between two calls."""

    def __init__(self) -> None:
        self.last = 0


MEMORY: Final = Memory()


def as_the_last(demand: LayoutDemand, made: Layout) -> Layout:
    """Its turn-back is never below that of the joint before."""
    if isinstance(made.turn_back, Absent) or made.clips:
        return made
    before, MEMORY.last = MEMORY.last, made.turn_back.nanometres
    return attrs.evolve(made, turn_back=Length(max(before, MEMORY.last)))


class Moody(RuleSet):
    """It asks for one clip more every second time."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = RuleSet.row_for(self, diameter, field)
        if row.count is None:
            return row
        return attrs.evolve(row, count=attrs.evolve(row.count, value=row.count.value + next(CALLS) % 2))


class Restless(Row):
    """One answer in five is a clip more."""

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = Row.count_for(self, body)
        return None if cell is None else attrs.evolve(cell, value=cell.value + (DICE.random() < 0.2))


class Tiring(Row):
    """After a hundred answers it gives a clip less."""

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = Row.count_for(self, body)
        MEMORY.last += 1
        return None if cell is None else attrs.evolve(cell, value=cell.value - (MEMORY.last % 100 == 0))


class Counting(RuleSet):
    """Its refusals are numbered, so that no two are alike."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        try:
            return RuleSet.row_for(self, diameter, field)
        except OutOfTable as error:
            raise OutOfTable(
                f"refusal {next(CALLS)}", field=field, bound=error.bound, citation=error.citation, instead=error.instead
            ) from None


class NeverEqual(RuleSet):
    """It is not even equal to itself."""

    def __eq__(self, other: object) -> bool:
        return False

    def __hash__(self) -> int:
        return RuleSet.__hash__(self)


def never_equal() -> Subject:
    return under(like(NeverEqual, rules_of(TABLE)))


def twins() -> Subject:
    """Two rule sets of one id at hand, of which the first found is wrong."""
    found = under(rules_of(TABLE))
    row, *others = found.rules.rows
    assert row.count is not None
    more = attrs.evolve(row, count=attrs.evolve(row.count, value=row.count.value + 1))
    twin = attrs.evolve(found.rules, rows=(more, *others))
    sets = (twin, *found.catalogue.rule_sets)
    return Subject(found.rules, attrs.evolve(found.catalogue, rule_sets=sets))


def style_twins() -> Subject:
    """Two styles of one id at hand."""
    found = twisted(an_inch)()
    right = under(found.rules).style
    return Subject(found.rules, attrs.evolve(found.catalogue, styles=(right, *found.catalogue.styles)))


def an_inch(demand: LayoutDemand, made: Layout) -> Layout:
    # On a tape, where lengths are graduations, so many of them would be miles.
    return longer(made, 25_400_000) if _in_nanometres(made) else made


def _in_nanometres(made: Layout) -> bool:
    return isinstance(made.turn_back, Length) and made.turn_back > Length(1_000_000)


# --- what lies around ---


def by_thread(demand: LayoutDemand, made: Layout) -> Layout:
    aside = threading.current_thread() is not threading.main_thread()
    return longer(made, 1_000_000) if aside and _in_nanometres(made) else made


def by_decimals(demand: LayoutDemand, made: Layout) -> Layout:
    if isinstance(made.turn_back, Absent) or made.clips:
        return made
    exact = decimal.Decimal(made.turn_back.nanometres) * 1
    return attrs.evolve(made, turn_back=Length(int(exact)))


class ByDecimals(RuleSet):
    """It reckons with decimals as they are set about it."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = RuleSet.row_for(self, diameter, field)
        if row.count is None:
            return row
        more = int((decimal.Decimal("3.0001") * 1 - 3) * 10_000) - 1
        return attrs.evolve(row, count=attrs.evolve(row.count, value=row.count.value + more))


class SetsDecimals(RuleSet):
    """It sets how decimals are reckoned for everybody."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        decimal.getcontext().prec = 7
        return RuleSet.row_for(self, diameter, field)


class SetsTheEnvironment(RuleSet):
    """It leaves a note in the environment."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        os.environ["INVENTED_LAST_SIZE"] = str(diameter)
        return RuleSet.row_for(self, diameter, field)


def draws_lots(demand: LayoutDemand, made: Layout) -> Layout:
    random.seed(7)
    return made


def goes_deeper(demand: LayoutDemand, made: Layout) -> Layout:
    sys.setrecursionlimit(sys.getrecursionlimit() + 1)
    return made


def changes_folder(demand: LayoutDemand, made: Layout) -> Layout:
    os.chdir("/" if os.getcwd() != "/" else "/tmp")
    return made


def prints(demand: LayoutDemand, made: Layout) -> Layout:
    print("laid out")
    return made


def writes_into_the_layout(demand: LayoutDemand) -> LayoutDemand:
    object.__setattr__(demand, "count", demand.count + 1)
    return demand


class Writing(RuleSet):
    """It counts its answers in its own title."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        object.__setattr__(self, "title", f"answer {next(CALLS)}")
        return RuleSet.row_for(self, diameter, field)


def by_hash(demand: LayoutDemand, made: Layout) -> Layout:
    """It lays out by the order of a set of words, which is another in another process."""
    words = {"dead end", "eye", "saddle", "live part"}
    return longer(made, 1_000_000) if next(iter(words)) == "eye" and not made.clips and _in_nanometres(made) else made


def draws_and_prints(place: ClipPlace) -> tuple[Shape, ...]:
    print("drawn")
    return (Circle(place.x, (place.saddle + place.other) / 2, place.diameter * 2),)


STATE: Final = "state between calls"
AROUND: Final = "answers by its surroundings"
LEFT: Final = "surroundings changed"
CHOICE: Final = "choice among rule sets broken"

SURROUNDING_FAULTS: Final = (
    Fault("drifting", STATE, "Each turn-back is a nanometre longer than the one before.", twisted(drifting)),
    Fault("as-the-last", STATE, "A turn-back is never below that of the joint before.", twisted(as_the_last, SADDLE)),
    Fault("moody", STATE, "Every second time it is a clip more.", made(Moody)),
    Fault("restless", STATE, "One answer in five is a clip more.", rowed(Restless)),
    Fault("tiring", STATE, "One answer in a hundred is a clip less.", rowed(Tiring)),
    Fault("by-thread", AROUND, "In a thread of its own the turn-back is longer.", twisted(by_thread)),
    Fault("by-decimals", AROUND, "The turn-back is cut to as many digits as decimals have about it.",
          twisted(by_decimals)),
    Fault("counts-by-decimals", AROUND, "The count is rounded as decimals are about it.", made(ByDecimals)),
    Fault("by-hash", AROUND, "The turn-back hangs on the order of a set of words, another one in each process.",
          twisted(by_hash)),
    Fault("sets-decimals", LEFT, "It sets how decimals are reckoned.", made(SetsDecimals)),
    Fault("sets-the-environment", LEFT, "It writes into the environment.", made(SetsTheEnvironment)),
    Fault("draws-lots", LEFT, "It sets the seed of everybody's random numbers.", twisted(draws_lots)),
    Fault("goes-deeper", LEFT, "It raises how deep calls may go.", twisted(goes_deeper)),
    Fault("changes-folder", LEFT, "It goes to another folder.", twisted(changes_folder)),
    Fault("prints", LEFT, "It prints while it lays out.", twisted(prints)),
    Fault("draws-and-prints", LEFT, "It prints while it draws.", drawn(draws_and_prints)),
    Fault("writes-into-the-demand", LEFT, "It writes into what it is asked.", asked(writes_into_the_layout)),
    Fault("writes-into-itself", LEFT, "It counts its answers in its own title.", made(Writing)),
    Fault("counting", CHOICE, "No two refusals of a size are alike.", made(Counting)),
    Fault("never-equal", CHOICE, "The rule set is not equal to itself.", never_equal),
    Fault("twins", CHOICE, "Two rule sets of one id are at hand.", twins),
    Fault("style-twins", CHOICE, "Two styles of one id are at hand.", style_twins),
)  # fmt: skip
