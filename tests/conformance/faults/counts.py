"""Faults of the number of clips, as they are typed and as they are answered."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import Final

import attrs
from tests.conformance.faults.making import (
    ARMY,
    BRUNSWICK,
    EN,
    NAVY,
    OSHA,
    PLATE,
    SADDLE,
    SADDLE_POINT,
    TABLE,
    Fault,
    departing,
    forced,
    like,
    polite,
    retyped,
    rowed,
    rules_of,
    under,
)

from turnback.conformance.subject import Subject
from turnback.model.cited import Cited
from turnback.model.sources import user_citation
from turnback.quantities import Length
from turnback.rules.rows import BodyOfClip, CountRule, Row
from turnback.rules.ruleset import LargeWires, RuleSet

__all__ = ["COUNT_FAULTS"]

CITED: Final = (user_citation("invented sheet 11"),)


class OneLess(Row):
    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = Row.count_for(self, body)
        return None if cell is None else attrs.evolve(cell, value=cell.value - 1)


class OneMore(Row):
    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = Row.count_for(self, body)
        return None if cell is None else attrs.evolve(cell, value=cell.value + 1)


class Milder(Row):
    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        return Row.count_for(self, "forged" if body == "not given" else body)


class Exchanged(Row):
    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        other: dict[BodyOfClip, BodyOfClip] = {"forged": "other", "other": "forged"}
        return Row.count_for(self, other.get(body, body))


class BesideMore(Row):
    def count_beside_turn_back(self, body: BodyOfClip) -> Cited[int] | None:
        cell = Row.count_beside_turn_back(self, body)
        return None if cell is None else attrs.evolve(cell, value=cell.value + 2)


class Nearest(CountRule):
    def count(self, diameter: Length) -> int:
        return floor(self.per_inch * diameter.inches + self.plus + Fraction(1, 2))


class Down(CountRule):
    def count(self, diameter: Length) -> int:
        return floor(self.per_inch * diameter.inches + self.plus)


class ThroughFloats(CountRule):
    def count(self, diameter: Length) -> int:
        exact = float(self.per_inch) * float(diameter.inches) + self.plus
        return -int(-(exact + 1e-9) // 1)


class OneTooMany(CountRule):
    def count(self, diameter: Length) -> int:
        return floor(self.per_inch * diameter.inches + self.plus) + 1


def ruled(kind: type[CountRule], rules_id: str = NAVY) -> Subject:
    rules = rules_of(rules_id)
    return under(attrs.evolve(rules, count_rule=like(polite(kind), rules.count_rule)))


def adjusted(rules: RuleSet, **fields: object) -> RuleSet:
    return forced(rules, adjustments=forced(rules.adjustments, **fields))


def counted(rules: RuleSet, value: object) -> RuleSet:
    row, *others = rules.rows
    assert row.count is not None
    return attrs.evolve(rules, rows=(attrs.evolve(row, count=forced(row.count, value=value)), *others))


def large(add: int, size: str = "1 in") -> LargeWires:
    return LargeWires(add, Length.of(size), CITED[0])


FALLING: Final = "falling count"
FEW: Final = "fewer than two clips"
ROUNDING: Final = "wrong rounding"
BODIES: Final = "bodies of clips mixed up"
PULLEY: Final = "pulley against its own words"
WIRES: Final = "large outer wires forgotten or mistaken"
FLOOR: Final = "floor forgotten"
ANSWER: Final = "a row that answers otherwise than it says"

COUNT_FAULTS: Final = (
    Fault("falling-table", FALLING, "The row of 1 in has 3 clips, the one before has 4.",
          retyped(TABLE, ('size = "1", count = 5', 'size = "1", count = 3'))),
    Fault("falling-other-bodies", FALLING, "The count for other bodies falls at 1-1/4 in, that for forged ones rises.",
          retyped(OSHA, ("count_forged = 6, count_other = 7", "count_forged = 6, count_other = 5"))),
    Fault("falling-metric", FALLING, "The size of 22 mm has 3 grips, that of 19 mm has 4.",
          retyped(EN, ("torque = 107, count = 5", "torque = 107, count = 3"))),
    Fault("falling-saddle", FALLING, "The row of 1-3/8 in has 4 clips, the one before has 6.",
          retyped(SADDLE, ('size = "1-3/8", count = 6', 'size = "1-3/8", count = 4'))),
    Fault("falling-last-row", FALLING, "The last row has one clip less than the row before.",
          retyped(TABLE, ('size = "2-1/4", count = 8', 'size = "2-1/4", count = 7'))),
    Fault("falling-rule", FALLING, "A rule takes clips away for every inch, made as a value.",
          departing(NAVY, lambda r: attrs.evolve(r, count_rule=r.count_rule and attrs.evolve(
              r.count_rule, per_inch=Fraction(-1), plus=9)))),
    Fault("falling-rule-typed", FALLING, "A rule takes clips away for every inch, typed in a file.",
          retyped(NAVY, ("3 per inch, plus 1, rounded up", "-3 per inch, plus 20, rounded up"))),
    Fault("one-clip-forged", FEW, "Half an inch has one forged clip.",
          retyped(OSHA, ("count_forged = 3, count_other = 4, spacing = \"3\"", ("count_forged = 1, count_other = 4, "
                         "spacing = \"3\"")))),
    Fault("one-clip-for-every-size", FEW, "Every size has one clip, in a row.",
          retyped(NAVY, ("3 per inch, plus 1, rounded up", "1 for every size"),
                  ('sizes = "1/8 in to 3-1/2 in"\nsizes_status = "common practice"\n', ""))),
    Fault("no-clip", FEW, "The first row has no clip.", retyped(TABLE, ('"1/2", count = 3', '"1/2", count = 0'))),
    Fault("a-count-of-halves", FEW, "The first row has three and a half clips.",
          departing(TABLE, lambda r: counted(r, Fraction(7, 2)))),
    Fault("a-count-in-words", FEW, "The first row has its number in words.",
          departing(TABLE, lambda r: counted(r, "three"))),
    Fault("a-count-that-is-true", FEW, "The first row has True for a number.",
          departing(TABLE, lambda r: counted(r, True))),
    Fault("rounded-to-the-nearest", ROUNDING, "The rule rounds to the nearest whole clip.", lambda: ruled(Nearest)),
    Fault("rounded-down", ROUNDING, "The rule rounds down.", lambda: ruled(Down)),
    Fault("rounded-down-army", ROUNDING, "The rule of another source rounds down.", lambda: ruled(Down, ARMY)),
    Fault("rounded-through-floats", ROUNDING, "The rule adds a billionth before it rounds up, to be safe.",
          lambda: ruled(ThroughFloats)),
    Fault("one-too-many-at-whole-numbers", ROUNDING, "The rule takes the next whole number where it has one already.",
          lambda: ruled(OneTooMany)),
    Fault("milder-body", BODIES, "Where the body is not given the smaller count is taken.", rowed(Milder, OSHA)),
    Fault("bodies-exchanged", BODIES, "Forged clips get the count of the others.", rowed(Exchanged, OSHA)),
    Fault("bodies-exchanged-typed", BODIES, "Both columns of the body are typed in each other's place.",
          retyped(OSHA, ("count_forged = 3, count_other = 4, spacing = \"3\"", ("count_forged = 4, count_other = 3, "
                         "spacing = \"3\"")), valued=True)),
    Fault("one-body-alone", BODIES, "One row loses its column for other bodies.",
          retyped(OSHA, ("count_forged = 5, count_other = 6, ", "count_forged = 5, "))),
    Fault("pulley-adds-nothing", PULLEY, "A pulley adds no clip.",
          departing(TABLE, lambda r: adjusted(r, pulley=Cited(0, CITED)))),
    Fault("pulley-takes-one", PULLEY, "A pulley takes one clip away.",
          departing(SADDLE_POINT, lambda r: adjusted(r, pulley=Cited(-1, CITED)))),
    Fault("pulley-adds-two-typed", PULLEY, "A pulley adds two clips where its source says one.",
          retyped(SADDLE_POINT, ("pulley = { add = 1,", "pulley = { add = 2,"), valued=True)),
    Fault("pulley-adds-two", PULLEY, "A pulley adds two clips, and the file beside it says one.",
          departing(SADDLE_POINT, lambda r: adjusted(r, pulley=Cited(2, CITED)), text=True)),
    Fault("pulley-adds-nothing-typed", PULLEY, "A file says that a pulley adds no clip.",
          retyped(SADDLE_POINT, ("pulley = { add = 1,", "pulley = { add = 0,"))),
    Fault("wires-take-one", WIRES, "Large outer wires take one clip away.",
          departing(TABLE, lambda r: adjusted(r, large_wires=large(-1)))),
    Fault("wires-add-nothing", WIRES, "Large outer wires add no clip.",
          departing(TABLE, lambda r: adjusted(r, large_wires=large(0)))),
    Fault("wires-from-the-wrong-size", WIRES, "Large outer wires count from 1-1/8 in on, a row too late.",
          retyped(TABLE, ('from = "1 in"', 'from = "1-1/8 in"'), valued=True)),
    Fault("wires-add-two", WIRES, "Large outer wires add two clips where the source says one.",
          retyped(TABLE, ("large_outer_wires = { add = 1,", "large_outer_wires = { add = 2,"), valued=True)),
    Fault("wires-forgotten", WIRES, "The rule set forgets what its file says of large outer wires.",
          departing(SADDLE, lambda r: adjusted(r, large_wires=None), text=True)),
    Fault("floor-dropped", FLOOR, "The floor of three clips is not typed.",
          retyped(BRUNSWICK, (text_floor := '[[floors]]\ncount = 3\n', '[[floors]]\ncount = 1\n'), valued=True)),
    Fault("floor-forgotten", FLOOR, "The rule set forgets the floor that its file has.",
          departing(BRUNSWICK, lambda r: attrs.evolve(r, floors=()), text=True)),
    Fault("floor-of-two", FLOOR, "The floor is two clips where the source says three.",
          retyped(BRUNSWICK, (text_floor, '[[floors]]\ncount = 2\n'), valued=True)),
    Fault("row-answers-one-less", ANSWER, "Every row answers with one clip less than it says.", rowed(OneLess)),
    Fault("row-answers-one-more", ANSWER, "Every row answers with one clip more than it says.", rowed(OneMore)),
    Fault("row-answers-one-less-metric", ANSWER, "Every row of a metric table answers with one grip less.",
          rowed(OneLess, EN)),
    Fault("turn-back-beside-more-clips", ANSWER, "A turn-back is taken for that of two clips more.", rowed(BesideMore)),
    Fault("a-plate-counted-twice", ANSWER, "One plate is said to be two.",
          retyped(PLATE, ("1 for every size", "2 for every size"), valued=True)),
)  # fmt: skip
