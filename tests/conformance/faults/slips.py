"""Faults of numbers and rows as they are typed, and of rows that take other ropes than they say."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final

import attrs
from tests.conformance.faults.making import (
    ARMY,
    BASIS,
    BRUNSWICK,
    EN,
    NAVY,
    OSHA,
    SADDLE,
    SADDLE_POINT,
    TABLE,
    Fault,
    departing,
    first_row,
    forced,
    like,
    made,
    polite,
    retyped,
    rowed,
    rules_of,
    text_of,
    under,
)

from turnback.conformance.subject import Subject
from turnback.errors import OutOfTable
from turnback.quantities import Length, Torque
from turnback.rules.rows import Row
from turnback.rules.ruleset import RuleSet

__all__ = ["SLIP_FAULTS"]


# --- behaviour ---


class LowerEdgeToo(Row):
    def takes(self, diameter: Length) -> bool:
        return Row.takes(self, diameter) or diameter == self.above


class UpperEdgeNot(Row):
    def takes(self, diameter: Length) -> bool:
        return Row.takes(self, diameter) and (self.above is None or diameter < self.size)


class ATenthOver(Row):
    def takes(self, diameter: Length) -> bool:
        return abs(diameter.nanometres - self.size.nanometres) <= 100_000


class Between(RuleSet):
    """Between two rows it interpolates the torque."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        for one, other in zip(self.rows, self.rows[1:], strict=False):
            if one.size < diameter < other.size and one.torque and other.torque:
                share = Fraction((diameter - one.size).nanometres, (other.size - one.size).nanometres)
                low, high = one.torque.value, other.torque.value
                value = Torque(low.value + (high.value - low.value) * share, low.unit)
                return attrs.evolve(other, size=diameter, torque=attrs.evolve(other.torque, value=value))
        return RuleSet.row_for(self, diameter, field)


class NextRow(RuleSet):
    """Where no row takes a rope it gives the next larger one."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        return next((row for row in self.rows if diameter <= row.size), self.rows[-1])


class NearestRow(RuleSet):
    """It gives the row whose size is nearest."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        return min(self.rows, key=lambda row: abs(row.size.nanometres - diameter.nanometres))


class RowBefore(RuleSet):
    """It gives the row before the right one."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        at = self.rows.index(RuleSet.row_for(self, diameter, field))
        return self.rows[max(at - 1, 0)]


class WithoutTorque(RuleSet):
    """Its rows come without their torque from 1 in on."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = RuleSet.row_for(self, diameter, field)
        return attrs.evolve(row, torque=None) if diameter >= Length.of("1 in") else row


class Alike(Row):
    """It says that it equals every row of its size."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Row) and self.size == other.size

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self.size)


class TorqueGone(RuleSet):
    """From 1 in on its rows come without their torque, and say that they are the same."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = RuleSet.row_for(self, diameter, field)
        return like(Alike, row, torque=None) if diameter >= Length.of("1 in") else row


class OneRopeAlone(RuleSet):
    """One rope inside a row, a hundredth of a millimetre wide, has a clip less."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = RuleSet.row_for(self, diameter, field)
        if row.count is None or not 17_310_000 <= diameter.nanometres <= 17_320_000:
            return row
        return attrs.evolve(row, count=attrs.evolve(row.count, value=row.count.value - 1))


class Silent(RuleSet):
    """It refuses a size without saying which sizes it prints."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        try:
            return RuleSet.row_for(self, diameter, field)
        except OutOfTable:
            raise OutOfTable("not in my table", field=field) from None


class FarNeighbours(RuleSet):
    """It refuses a size and names the first and the last of its sizes."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        try:
            return RuleSet.row_for(self, diameter, field)
        except OutOfTable as error:
            bound = f"sizes from {self.rows[0].size} to {self.rows[-1].size}"
            raise OutOfTable(
                "no such size", field=field, bound=bound, citation=error.citation, instead=error.instead
            ) from None


def lower_edge_too() -> Subject:
    """Without the row of 13 mm, so that no other row takes the lower edge of 14 mm before it."""
    rules, wrong = rules_of(EN), polite(LowerEdgeToo)
    return under(
        attrs.evolve(rules, rows=tuple(like(wrong, row) for row in rules.rows if row.size != Length.of("13 mm")))
    )


def edges(change: Callable[[Row], Row]) -> Callable[[RuleSet], RuleSet]:
    return lambda rules: attrs.evolve(rules, rows=tuple(change(row) for row in rules.rows))


def overlapping(rules: RuleSet) -> RuleSet:
    one, two, three, *others = rules.rows
    return forced(rules, rows=(one, two, attrs.evolve(three, above=one.size), *others))


def shorter_by(nanometres: int, size: str) -> Callable[[RuleSet], RuleSet]:
    def change(row: Row) -> Row:
        if row.turn_back is None or row.size != Length.of(size):
            return row
        value = Length(row.turn_back.value.nanometres - nanometres)
        return attrs.evolve(row, turn_back=attrs.evolve(row.turn_back, value=value))

    return edges(change)


def in_floats(rules: RuleSet) -> RuleSet:
    cell = rules.rows[0].turn_back
    assert cell is not None
    value = object.__new__(Length)
    object.__setattr__(value, "nanometres", 292_099_999.9)
    return first_row(turn_back=attrs.evolve(cell, value=value))(rules)


def two_torques(rules: RuleSet) -> RuleSet:
    cell = rules.rows[0].torque
    assert cell is not None
    return first_row(torque=attrs.evolve(cell, value=Torque(cell.value.value, cell.value.unit, (65, "N·m"))))(rules)


# --- text ---


def moved_up(rules_id: str, column: str) -> str:
    """The text with a column typed one row too high; its last value then stands twice."""
    pattern = re.compile(rf"(?<=\b{column} = )(\"[^\"]*\"|[\d.]+)")
    head, rows, tail = text_of(rules_id).partition("\nrows = [")
    body, end, rest = tail.partition("\n]\n")
    values = pattern.findall(body)
    others = iter([*values[1:], values[-1]])
    return head + rows + pattern.sub(lambda _: next(others), body) + end + rest


def dropped(rules_id: str, size: str) -> str:
    lines = text_of(rules_id).splitlines(keepends=True)
    kept = [line for line in lines if not line.startswith(f"    {{ size = {size},")]
    assert len(kept) == len(lines) - 1
    return "".join(kept)


TORQUE: Final = "falling torque"
SHORT: Final = "short turn-back"
UNITS: Final = "units slip, 25.4 and others"
TEN: Final = "slip of ten"
DIGIT: Final = "one digit mistyped"
SWAPPED: Final = "swapped cells"
DROPPED: Final = "dropped row"
SHIFTED: Final = "off by one row"
FLOATS: Final = "sizes and lengths through floats"
EDGE: Final = "edge of a row moved or opened"
INTERPOLATED: Final = "interpolated or guessed row"
REFUSAL: Final = "refusal that does not teach"

SLIP_FAULTS: Final = (
    Fault("torque-falls", TORQUE, "The torque of 1-1/8 in is that of 3/4 in.",
          retyped(TABLE, ('turn_back = "34", torque = 225', 'turn_back = "34", torque = 130'))),
    Fault("torque-falls-metric", TORQUE, "The torque of 30 mm is below that of 26 mm.",
          retyped(EN, ("torque = 212", "torque = 112"))),
    Fault("torque-falls-other-unit", TORQUE, "One row is typed in newton metres in a column of foot-pounds; it falls.",
          retyped(SADDLE, ('turn_back = "62", torque = 500', 'turn_back = "62", torque = 50'))),
    Fault("torque-falls-at-the-end", TORQUE, "The last torque of a table is a tenth.",
          retyped(BRUNSWICK, ('turn_back = "19", torque = 225', 'turn_back = "19", torque = 22.5'))),
    Fault("torque-twice", TORQUE, "The second unit of a torque is copied from the first.",
          retyped(SADDLE_POINT, ('torque_also = "88 N·m"', 'torque_also = "65 N·m"'))),
    Fault("torque-in-two-values", TORQUE, "The second unit of a torque means another torque, made as a value.",
          departing(SADDLE_POINT, two_torques)),
    Fault("turn-back-short", SHORT, "The turn-back of 3/4 in is 5 inches, which four clips do not fit into.",
          retyped(TABLE, ('turn_back = "18"', 'turn_back = "5"'))),
    Fault("turn-back-of-the-wrong-row", SHORT, "The turn-back of 2 in is 17 inches.",
          retyped(TABLE, ('turn_back = "71"', 'turn_back = "17"'))),
    Fault("turn-back-a-tenth", SHORT, "The turn-back of 1-1/2 in is a tenth.",
          retyped(SADDLE, ('turn_back = "78"', 'turn_back = "7.8"'))),
    Fault("turn-back-first-row", SHORT, "The first row has an inch for two clips.",
          retyped(BRUNSWICK, ('turn_back = "5-1/2"', 'turn_back = "1"'))),
    Fault("turn-back-without-a-count", SHORT, "A turn-back stands beside no count.",
          retyped(TABLE, ('size = "1", count = 5, ', 'size = "1", '))),
    Fault("turn-back-a-nanometre", SHORT, "A turn-back is one nanometre short of that in its file.",
          departing(TABLE, shorter_by(1, "3/4 in"), text=True)),
    Fault("turn-back-in-millimetres", UNITS, "The turn-backs are declared as millimetres.",
          retyped(TABLE, ('turn_back = "in"', 'turn_back = "mm"'))),
    Fault("sizes-in-millimetres", UNITS, "The sizes are declared as millimetres.",
          retyped(TABLE, ('\nsize = "in"', '\nsize = "mm"'))),
    Fault("sizes-in-inches", UNITS, "Metric sizes are declared as inches.",
          retyped(EN, ('\nsize = "mm"', '\nsize = "in"'))),
    Fault("torque-in-foot-pounds", UNITS, "Newton metres are declared as foot-pounds.",
          retyped(EN, ('torque = "N·m"', 'torque = "lbf·ft"'), valued=True)),
    Fault("torque-in-newton-metres", UNITS, "Foot-pounds are declared as newton metres.",
          retyped(TABLE, ('torque = "lbf·ft"', 'torque = "N·m"'), valued=True)),
    Fault("torque-in-inch-pounds", UNITS, "Foot-pounds are declared as inch-pounds.",
          retyped(SADDLE, ('torque = "lbf·ft"', 'torque = "lbf·in"'), valued=True)),
    Fault("spacing-in-millimetres", UNITS, "Six diameters become six millimetres.",
          retyped(NAVY, ('least = "6 diameters"', 'least = "6 mm"'), valued=True)),
    Fault("constant-in-millimetres", UNITS, "The inch that is added to six diameters becomes 25.4 of them.",
          retyped(ARMY, ("6 diameters + 1 in", "6 diameters + 25.4 in"), valued=True)),
    Fault("turn-back-twice-turned", UNITS, "A turn-back was turned into millimetres and typed as inches.",
          retyped(SADDLE, ('turn_back = "11"', 'turn_back = "279.4"'), valued=True)),
    Fault("ten-times-the-torque", TEN, "Half an inch is tightened to 650.",
          retyped(TABLE, ("torque = 65 }", "torque = 650 }"))),
    Fault("ten-times-the-last-torque", TEN, "The last row is tightened to 7500.",
          retyped(TABLE, ('turn_back = "73", torque = 750', 'turn_back = "73", torque = 7500'), valued=True)),
    Fault("a-tenth-of-the-first-torque", TEN, "The first row is tightened to a tenth.",
          retyped(SADDLE, ('turn_back = "11", torque = 65', 'turn_back = "11", torque = 6.5'), valued=True)),
    Fault("a-tenth-of-the-efficiency", TEN, "80 % became 8 %.",
          retyped(EN, ('value = "80 %"', 'value = "8 %"'), valued=True)),
    Fault("ten-times-the-spacing", TEN, "A printed distance is ten times itself, against its own identity.",
          retyped(OSHA, ('spacing = "4-1/2"', 'spacing = "45"'))),
    Fault("ten-times-the-wires-size", TEN, "Large outer wires count from 10 in on.",
          retyped(TABLE, ('from = "1 in"', 'from = "10 in"'), valued=True)),
    Fault("sixty-six", DIGIT, "65 became 66.", retyped(TABLE, ("torque = 65 }", "torque = 66 }"), valued=True)),
    Fault("one-thirty-five", DIGIT, "130 became 135.",
          retyped(TABLE, ("torque = 130", "torque = 135"), valued=True)),
    Fault("half-an-inch-more", DIGIT, "19 became 19-1/2.",
          retyped(TABLE, ('turn_back = "19"', 'turn_back = "19-1/2"'), valued=True)),
    Fault("half-an-inch-less", DIGIT, "26 became 25-1/2.",
          retyped(TABLE, ('turn_back = "26"', 'turn_back = "25-1/2"'), valued=True)),
    Fault("forty-four", DIGIT, "41 became 44.", retyped(SADDLE, ('"41"', '"44"'), valued=True)),
    Fault("six-for-five-clips", DIGIT, "5 clips became 6.",
          retyped(TABLE, ('size = "1", count = 5', 'size = "1", count = 6'), valued=True)),
    Fault("plus-two", DIGIT, "One more became two more.",
          retyped(NAVY, ("3 per inch, plus 1", "3 per inch, plus 2"), valued=True)),
    Fault("one-and-a-half-inches", DIGIT, "The constant of a distance is half an inch longer.",
          retyped(ARMY, ("6 diameters + 1 in", "6 diameters + 1-1/2 in"), valued=True)),
    Fault("one-point-six", DIGIT, "One and a half base widths became 1.6.",
          retyped(EN, ('"1.5 base widths"', '"1.6 base widths"'), valued=True)),
    Fault("eighty-five", DIGIT, "80 % became 85 %.",
          retyped(BASIS, ('value = "80 %"', 'value = "85 %"'), valued=True)),
    Fault("sixty-seven", DIGIT, "67.7 lost its tenths.", retyped(EN, ("67.7", "67"), valued=True)),
    Fault("torques-swapped", SWAPPED, "Two neighbouring torques stand in each other's place.",
          retyped(TABLE, ("torque = 130", "torque = 225"), ('turn_back = "19", torque = 225',
                                                            'turn_back = "19", torque = 130'))),
    Fault("turn-backs-swapped", SWAPPED, "Two neighbouring turn-backs stand in each other's place.",
          retyped(TABLE, ('"1-1/8", count = 6, turn_back = "34"', '"1-1/8", count = 6, turn_back = "37"'),
                  ('"1-1/4", count = 6, turn_back = "37"', '"1-1/4", count = 6, turn_back = "34"'), valued=True)),
    Fault("turn-backs-swapped-small", SWAPPED, "The first two turn-backs stand in each other's place.",
          retyped(BRUNSWICK, ('"5/16", count = 2, turn_back = "5-1/2"', '"5/16", count = 2, turn_back = "6-1/2"'),
                  ('"3/8", count = 2, turn_back = "6-1/2"', '"3/8", count = 2, turn_back = "5-1/2"'), valued=True)),
    Fault("count-and-torque-swapped", SWAPPED, "Count and torque of one row stand in each other's column.",
          retyped(EN, ("torque = 9.0, count = 4", "torque = 4, count = 9"))),
    Fault("sizes-swapped", SWAPPED, "Two sizes stand in each other's row.",
          retyped(TABLE, ('size = "9/16"', 'size = "5/8" '), ('size = "5/8",', 'size = "9/16",'))),
    Fault("row-dropped", DROPPED, "The row of 1-1/8 in was left out.",
          retyped(TABLE, text=dropped(TABLE, '"1-1/8"'), valued=True)),
    Fault("row-dropped-in-a-chain", DROPPED, "The row of 13 mm was left out, which leaves a gap between 12 and 13.",
          retyped(EN, text=dropped(EN, "13"), valued=True)),
    Fault("last-row-dropped", DROPPED, "The last row was left out.",
          retyped(SADDLE, text=dropped(SADDLE, '"1-1/2"'), valued=True)),
    Fault("first-row-dropped", DROPPED, "The first row was left out.",
          retyped(OSHA, text=dropped(OSHA, '"1/2"'), valued=True)),
    Fault("row-dropped-as-a-value", DROPPED, "A row of the file is not in the rule set.",
          departing(TABLE, lambda r: attrs.evolve(r, rows=r.rows[:5] + r.rows[6:]), text=True)),
    Fault("torques-a-row-up", SHIFTED, "The column of torques is typed one row too high.",
          retyped(TABLE, text=moved_up(TABLE, "torque"), valued=True)),
    Fault("counts-a-row-up", SHIFTED, "The column of counts is typed one row too high.",
          retyped(TABLE, text=moved_up(TABLE, "count"), valued=True)),
    Fault("turn-backs-a-row-up", SHIFTED, "The column of turn-backs is typed one row too high.",
          retyped(SADDLE, text=moved_up(SADDLE, "turn_back"), valued=True)),
    Fault("forged-counts-a-row-up", SHIFTED, "The column of forged clips alone is typed one row too high.",
          retyped(OSHA, text=moved_up(OSHA, "count_forged"), valued=True)),
    Fault("row-before", SHIFTED, "The row before the right one answers.", made(RowBefore)),
    Fault("size-through-a-float", FLOATS, "Half an inch is typed as 0.4999.",
          retyped(TABLE, ('size = "1/2"', 'size = "0.4999"'))),
    Fault("metric-size-through-a-float", FLOATS, "Half an inch is typed as 12.69 mm.",
          retyped(EN, ("size = 13, above = 12", "size = 12.69, above = 12"),
                  ("above = 13, torque = 33", "above = 12.69, torque = 33"))),
    Fault("size-a-nanometre-off", FLOATS, "A size is one nanometre too large.",
          departing(TABLE, first_row(size=Length(12_700_001)))),
    Fault("turn-back-through-a-float", FLOATS, "A turn-back is typed as 11.4999 inches.",
          retyped(TABLE, ('"11-1/2"', '"11.4999"'), valued=True)),
    Fault("length-in-floats", FLOATS, "A turn-back counts its nanometres in floats.", departing(TABLE, in_floats)),
    Fault("lower-edge-too", EDGE, "Each row takes its lower edge too.", lower_edge_too),
    Fault("upper-edge-not", EDGE, "Each row stops short of its own size.", rowed(UpperEdgeNot, EN)),
    Fault("a-tenth-over", EDGE, "Each row takes ropes a tenth of a millimetre off.", rowed(ATenthOver)),
    Fault("edge-typed-late", EDGE, "A row takes ropes from 6.6 mm on, not from 6.5.",
          retyped(EN, ("size = 8, above = 6.5", "size = 8, above = 6.6"), valued=True)),
    Fault("edge-dropped", EDGE, "A row takes its own size alone, for its lower edge was not typed.",
          retyped(EN, ("size = 13, above = 12", "size = 13"), valued=True)),
    Fault("edge-too-low", EDGE, "A row takes ropes that the row before takes.",
          retyped(EN, ("size = 8, above = 6.5", "size = 8, above = 6"))),
    Fault("rows-overlap", EDGE, "Two rows take the same ropes, made as a value.", departing(EN, overlapping)),
    Fault("edge-a-nanometre-late", EDGE, "A row leaves out the first nanometre that its file gives it.",
          departing(EN, edges(lambda row: row if row.above is None else attrs.evolve(
              row, above=Length(row.above.nanometres + 1))), text=True)),
    Fault("torque-between-rows", INTERPOLATED, "Between two rows the torque is interpolated.", made(Between)),
    Fault("next-row", INTERPOLATED, "Where no row takes a rope the next larger one does.", made(NextRow)),
    Fault("nearest-row", INTERPOLATED, "The row of the nearest size answers.", made(NearestRow)),
    Fault("nearest-row-metric", INTERPOLATED, "The row of the nearest size answers in a metric table.",
          made(NearestRow, EN)),
    Fault("rows-without-torque", INTERPOLATED, "From 1 in on a row comes without its torque.", made(WithoutTorque)),
    Fault("rows-said-to-be-alike", INTERPOLATED, "A row without its torque says that it is the printed one.",
          made(TorqueGone)),
    Fault("one-rope-alone", INTERPOLATED, "Ropes within one hundredth of a millimetre inside a row get a clip less.",
          made(OneRopeAlone, EN)),
    Fault("silent-refusal", REFUSAL, "A size is refused without a word of the sizes next to it.", made(Silent)),
    Fault("far-neighbours", REFUSAL, "A refusal names the first and the last size and not the nearest.",
          made(FarNeighbours)),
)  # fmt: skip
