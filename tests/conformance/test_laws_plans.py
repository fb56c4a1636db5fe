"""The searched laws of plans: each catches what breaks it and names the smallest rope; what is right passes.

The faults are invented: rule sets and styles of this repository with one thing turned wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import count
from random import Random
from typing import Final, Literal, TypeVar, cast

import attrs
import pytest

import turnback_mirrored_saddle.plugin
import turnback_plate.plugin
import turnback_ubolt.plugin
from turnback.conformance.effort import Effort
from turnback.conformance.law import Breakage, Law
from turnback.conformance.laws_counts import COUNT_LAWS
from turnback.conformance.laws_governing import GOVERNING_LAWS
from turnback.conformance.laws_layout import LAYOUT_LAWS
from turnback.conformance.laws_spacing import SPACING_LAWS
from turnback.conformance.laws_tables import TABLE_LAWS
from turnback.conformance.outcome import Outcome
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject
from turnback.errors import OutOfTable
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.sources import user_citation
from turnback.model.styles import ClipStyle, SeriesStyle
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.rows import BodyOfClip, LinearLength, Row, SpacingBound
from turnback.rules.ruleset import Adjustments, LargeWires, RuleSet

CATALOGUE: Final = Catalogue.of(turnback_ubolt.plugin, turnback_mirrored_saddle.plugin, turnback_plate.plugin)
LAWS: Final = (*COUNT_LAWS, *LAYOUT_LAWS, *SPACING_LAWS, *GOVERNING_LAWS)
TABLE: Final = CATALOGUE.rule_set("us-ca-8-8497")
BODIES: Final = CATALOGUE.rule_set("us-osha-1926-251")
LINEAR: Final = CATALOGUE.rule_set("us-navy-14026")
BASE_WIDTHS: Final = CATALOGUE.rule_set("en-13411-5")
CITED: Final = user_citation("invented sheet 11")
SEARCH: Final = Effort("test", 60, 0)

T = TypeVar("T")


def run(law: Law, subject: Subject, seed: int = 0, examples: int = 60) -> Outcome:
    (outcome,) = run_laws(subject, (law,), Effort("test", examples, 0), seed)
    return outcome


def named(law_id: str) -> Law:
    return next(law for law in LAWS if law.id == law_id)


# --- faults ---


def turned(kind: type[T], good: attrs.AttrsInstance) -> T:
    """The same value as another class, whose methods are wrong."""
    fields = {field.name.lstrip("_"): getattr(good, field.name) for field in attrs.fields(type(good)) if field.init}
    return kind(**fields)


def ruled(rules: RuleSet) -> Subject:
    return Subject(rules, CATALOGUE)


def rowed(kind: type[Row], rules: RuleSet) -> Subject:
    return ruled(attrs.evolve(rules, rows=tuple(turned(kind, row) for row in rules.rows)))


def styled(kind: type[ClipStyle], rules: RuleSet = TABLE) -> Subject:
    styles = tuple(turned(kind, style) if style.id == rules.style else style for style in CATALOGUE.styles)
    return Subject(rules, attrs.evolve(CATALOGUE, styles=styles))


def linear(diameters: int) -> LinearLength:
    return LinearLength(Fraction(diameters), Fraction(0), Length(0), f"{diameters} diameters")


class OneLess(Row):
    """Its table is right, and it answers with one clip less."""

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = super().count_for(body)
        return None if cell is None else attrs.evolve(cell, value=cell.value - 1)


class Milder(Row):
    """Where the body is not given it takes the smaller count."""

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        return super().count_for("forged" if body == "not given" else body)


class BesideMore(Row):
    """Its turn-back is said to stand beside more clips than it does."""

    def count_beside_turn_back(self, body: BodyOfClip) -> Cited[int] | None:
        cell = super().count_beside_turn_back(body)
        return None if cell is None else attrs.evolve(cell, value=cell.value + 2)


class Silent(RuleSet):
    """It refuses a size without saying which sizes it prints."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        try:
            return super().row_for(diameter, field)
        except OutOfTable:
            raise OutOfTable("not in my table", field=field) from None


class Counting(RuleSet):
    """Its refusals are numbered, so that no two are alike."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        try:
            return super().row_for(diameter, field)
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


DICE: Final = Random(11)
CALLS: Final = count()
"""Calls of the faults that answer differently each time."""


class Restless(Row):
    """One answer in five is a clip more."""

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        cell = super().count_for(body)
        return None if cell is None else attrs.evolve(cell, value=cell.value + (DICE.random() < 0.2))


class Thrifty(SeriesStyle):
    """From four clips on it takes two thirds of the rope."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        printed = demand.turn_back
        less = None if printed is None or demand.count < 4 else printed.times(Fraction(2, 3), "up")
        return super().lay_out(demand if less is None else attrs.evolve(demand, turn_back=less))


class OffCentre(SeriesStyle):
    """It gives a third of the saddle for its middle."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        if demand.base_width is None:
            return found
        third = demand.base_width.times(Fraction(1, 3), "down")
        return attrs.evolve(
            found, clips=tuple(attrs.evolve(clip, position=clip.near_edge + third) for clip in found.clips)
        )


class FlushWithTheEnd(SeriesStyle):
    """It puts the first clip a nanometre too near to the dead end."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        clips = tuple(
            attrs.evolve(
                clip,
                near_edge=clip.near_edge - Length(1),
                position=clip.position - Length(1),
                far_edge=clip.far_edge - Length(1),
            )
            for clip in found.clips[:1]
        )
        end = clips[0].near_edge if clips else found.end_distance
        return attrs.evolve(found, clips=clips + found.clips[1:], end_distance=end)


class Lopsided(SeriesStyle):
    """It takes all the rope of a lap splice, and sets its clips a nanometre off the middle."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        if not demand.splice or isinstance(found.turn_back, Absent):
            return found
        return attrs.evolve(found, turn_back=found.turn_back + Length(1))


class LastTurned(SeriesStyle):
    """The last clip of three or more has its saddle on both parts."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        if demand.splice or len(found.clips) < 3:
            return found
        return attrs.evolve(found, clips=(*found.clips[:-1], attrs.evolve(found.clips[-1], saddle_on="both parts")))


class Crowded(SeriesStyle):
    """It does not look at the least distance."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return super().lay_out(attrs.evolve(demand, least=None, turn_back=demand.turn_back or demand.rope_diameter * 7))


class EitherOr(SeriesStyle):
    """Where a source asks for more distance than the trade does, it forgets the printed turn-back."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        base, least = demand.base_width, demand.least
        asked = base is not None and least is not None and least > base * 2
        return super().lay_out(attrs.evolve(demand, turn_back=None) if asked else demand)


class NothingUnderAMillimetre(SeriesStyle):
    """It takes a least distance under a million for none, as if it always counted nanometres."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        tiny = demand.least is not None and demand.least < Length(1_000_000)
        return super().lay_out(attrs.evolve(demand, least=None) if tiny else demand)


class Drifting(SeriesStyle):
    """Each answer is a nanometre longer than the one before."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        if isinstance(found.turn_back, Absent):
            return found
        return attrs.evolve(found, turn_back=found.turn_back + Length(next(CALLS)))


class ANanometreShort(SeriesStyle):
    """It gives one nanometre less rope than is asked for, where no clip was measured."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        found = super().lay_out(demand)
        if found.clips or isinstance(found.turn_back, Absent):
            return found
        return attrs.evolve(found, turn_back=found.turn_back - Length(1))


class Leaving(SeriesStyle):
    """It leaves the program."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        raise SystemExit(3)


UNKNOWN: Final = attrs.evolve(TABLE, excluded_services=(("gye", Cited("not for guys", (CITED,))),))
NARROW: Final = attrs.evolve(LINEAR, spacing=(*LINEAR.spacing, SpacingBound("greatest", False, linear(5), CITED)))
NO_PULLEY: Final = attrs.evolve(TABLE, adjustments=attrs.evolve(TABLE.adjustments, pulley=Cited(0, (CITED,))))
FEWER: Final = attrs.evolve(TABLE, adjustments=Adjustments(large_wires=LargeWires(-1, Length.of("1 in"), CITED)))
_COUNT: Final = cast('Literal["counts"]', "count")
MISSPELT: Final = attrs.evolve(
    TABLE, scope=(TABLE.scope[0], *(attrs.evolve(entry, gives=_COUNT) for entry in TABLE.scope[1:]))
)
TWINS: Final = attrs.evolve(
    CATALOGUE, rule_sets=(attrs.evolve(TABLE, rows=tuple(turned(OneLess, r) for r in TABLE.rows)), *CATALOGUE.rule_sets)
)

HALF: Final = "1/2 in (12.7 mm), 6x19, FC, IPS, right regular, "
FAULTS: Final[list[tuple[str, Callable[[], Subject], str, str, str]]] = [
    # The law; what is wrong; how the smallest rope begins; what is expected; what comes.
    ("scope-answers", lambda: ruled(UNKNOWN), HALF + "thimble eye", "a plan, for", "a service that nobody knows"),
    ("scope-answers", lambda: ruled(NARROW), "1/8 in", "a plan, for", "more distance between the clips than another"),
    ("plan-says-the-row", lambda: rowed(OneLess, TABLE), HALF + "thimble eye", "clips: 3", "2"),
    ("plan-says-the-row", lambda: rowed(BesideMore, TABLE), HALF + "thimble eye", "turn-back: 11-1/2 in", "6.9 in"),
    ("plan-says-the-row", lambda: styled(ANanometreShort), HALF + "thimble eye", "turn-back: 11-1/2 in", "292.099999"),
    ("extra-clips-add", lambda: rowed(Restless, TABLE), "1/2 in", "clips counted and placed", "clips"),
    ("pulley-adds", lambda: ruled(NO_PULLEY), HALF + "pulley eye", "one more clip at least", "0 more"),
    ("stricter-body", lambda: rowed(Milder, BODIES), "1/2 in", "at least 4 clips, as for other ones", "3 clips"),
    ("large-wires-add", lambda: ruled(FEWER), HALF + "thimble eye", "one more clip at least", "-1 more"),
    ("counts-only", lambda: ruled(MISSPELT), "1/2 in (12.7 mm), 8x19", "no turn-back, for the scope gives count", "in"),
    (
        "one-more-clip-never-shortens",
        lambda: styled(Thrifty),
        HALF + "thimble eye",
        "at least 11-1/2 in",
        "for 4 clips",
    ),
    ("positions-in-order", lambda: styled(OffCentre), HALF + "thimble eye", "its position in the middle", "position 1"),
    ("inside-the-turn-back", lambda: styled(FlushWithTheEnd), HALF, "one base width from the dead end", "12.699999"),
    ("lap-splice-mirrors", lambda: styled(Lopsided), HALF + "lap splice", "the mirror image of clip", "mm"),
    ("saddles-on-the-live-part", lambda: styled(LastTurned), HALF, "the saddle of clip 3 of 3", "on both parts"),
    ("spacing-in-bounds", lambda: styled(Crowded, LINEAR), "1/8 in", "at least 3/4 in", "between clips 1 and 2"),
    ("tape-is-safe", lambda: styled(NothingUnderAMillimetre, LINEAR), "1/8 in", "on the tape", "in"),
    ("inches-equal-millimetres", lambda: styled(Drifting), HALF, "typed in inches", "turn-back: "),
    ("refusals-name-neighbours", lambda: ruled(turned(Silent, TABLE)), "", "a refusal that names", "not in my table"),
    ("admitted", lambda: styled(ANanometreShort), HALF, "turn-back: at least 11-1/2 in", "292.099999 mm"),
    (
        "governing-admits-each",
        lambda: styled(EitherOr),
        HALF,
        "turn-back: at least 11-1/2 in (292.1 mm), as us-ca-8-8497 asks",
        "in",
    ),
    ("governing-is-a-set", lambda: ruled(turned(NeverEqual, TABLE)), HALF, "the same choice", "us-ca-8-8497"),
    ("first-of-takes-the-first", lambda: ruled(turned(Counting, TABLE)), "", "skipped, each with its reason", "said"),
    ("order-of-plugins", lambda: Subject(TABLE, TWINS), HALF + "thimble eye", "in the other order", "clips: "),
    ("admitted", lambda: styled(Leaving), HALF + "thimble eye", "an answer", "SystemExit: 3"),
]


def caught(law_id: str, make: Callable[[], Subject]) -> Breakage:
    outcome = run(named(law_id), make())
    assert ("failed", "searched") == (outcome.state, outcome.strength), outcome
    (breakage,) = outcome.breakages
    return breakage


@pytest.mark.parametrize(("law_id", "make", "rope", "expected", "got"), FAULTS, ids=[each[0] for each in FAULTS])
def test_a_law_catches_what_breaks_it_and_names_the_smallest_rope(
    law_id: str, make: Callable[[], Subject], rope: str, expected: str, got: str
) -> None:
    breakage = caught(law_id, make)
    assert breakage.rope.startswith(rope), breakage
    assert expected in breakage.expected
    assert got in breakage.got
    assert breakage.citation
    assert "tb.plan(tb.Rope(" in breakage.replay


def test_every_law_is_shown_to_catch_something() -> None:
    assert {law.id for law in LAWS} == {law_id for law_id, *_ in FAULTS}
    assert len(LAWS) == len({law.id for law in LAWS})
    known = {law.id for law in (*TABLE_LAWS, *LAWS)}
    assert all(set(law.after) <= known and law.sentence.endswith(".") for law in LAWS)


@pytest.mark.parametrize("rules", CATALOGUE.rule_sets, ids=[rules.id for rules in CATALOGUE.rule_sets])
def test_what_is_built_in_keeps_every_law(rules: RuleSet) -> None:
    outcomes = [run(law, ruled(rules), seed=7, examples=15) for law in LAWS]
    assert [] == [each for each in outcomes if each.state not in ("passed", "not applicable")]
    assert all(each.reason for each in outcomes if each.state == "not applicable")
    assert all(each.amount >= 5 for each in outcomes if each.state == "passed"), outcomes


def test_a_law_that_does_not_apply_says_why() -> None:
    plates = ruled(CATALOGUE.rule_set("common-practice-single-plate"))
    assert "one body; no clips stand in a row" in run(named("extra-clips-add"), plates).reason
    bare = attrs.evolve(LINEAR, spacing=())
    assert "it gives neither a turn-back nor a spacing that makes one" == run(named("tape-is-safe"), ruled(bare)).reason
    counts = attrs.evolve(TABLE, scope=TABLE.scope[1:])
    assert "it gives the number of clips alone" == run(named("spacing-in-bounds"), ruled(counts)).reason
    spacing = attrs.evolve(LINEAR, count_rule=None)
    assert (
        "it prints no number of clips, and no plan is made from it alone"
        == run(named("admitted"), ruled(spacing)).reason
    )


def test_a_set_that_prints_a_spacing_alone_still_governs_with_others() -> None:
    outcome = run(named("governing-admits-each"), ruled(attrs.evolve(LINEAR, id="invented-spacing", count_rule=None)))
    assert "passed" == outcome.state, outcome


def test_a_row_without_a_count_is_no_rope_to_be_planned() -> None:
    """A source that prints a torque for more sizes than it prints counts for is no lying scope."""
    first, *others = TABLE.rows
    bare = attrs.evolve(first, count=None, turn_back=None)
    outcome = run(named("scope-answers"), ruled(attrs.evolve(TABLE, rows=(bare, *others))))
    assert "passed" == outcome.state, outcome
