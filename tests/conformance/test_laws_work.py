"""The laws of sources, strength, work, inspection, records and surroundings: each catches what it is there for.

For each law there are rule sets or styles that are wrong on purpose. Where a constructor would refuse the fault, it is
gone round, for a plugin can do that too. Everything about them is invented.
"""

from __future__ import annotations

import decimal
from collections.abc import Callable
from fractions import Fraction
from itertools import count
from typing import Final, Literal, TypeVar

import attrs
import pytest
from tests.companies import CATALOGUE

from turnback.conformance.effort import Effort
from turnback.conformance.law import Law
from turnback.conformance.laws_inspection import INSPECTION_LAWS
from turnback.conformance.laws_procedure import PROCEDURE_LAWS
from turnback.conformance.laws_records import RECORD_LAWS
from turnback.conformance.laws_sources import SOURCE_LAWS
from turnback.conformance.laws_strength import STRENGTH_LAWS
from turnback.conformance.laws_surroundings import SURROUNDING_LAWS
from turnback.conformance.outcome import Outcome
from turnback.conformance.running import run_laws
from turnback.conformance.subject import Subject, subject_of
from turnback.model.cited import Cited
from turnback.model.figures import ClipPlace
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.shapes import Circle, Shape
from turnback.model.sources import Citation, Source
from turnback.model.steps import StepTemplate
from turnback.model.styles import BodyStyle, ClipStyle, SeriesStyle
from turnback.quantities import Length
from turnback.rules.ruleset import EfficiencyBand, LinearLength, Procedure, Row, RuleSet, SpacingBound

LAWS: Final[dict[str, Law]] = {
    law.id: law
    for law in (
        *SOURCE_LAWS, *STRENGTH_LAWS, *PROCEDURE_LAWS, *INSPECTION_LAWS, *RECORD_LAWS, *SURROUNDING_LAWS
    )
}  # fmt: skip
A_FEW: Final = Effort("a few", 40, 1)
TABLE: Final = CATALOGUE.rule_set("us-ca-8-8497")
METRIC: Final = CATALOGUE.rule_set("en-13411-5")
PLATE: Final = CATALOGUE.rule_set("common-practice-single-plate")
U_BOLT: Final = CATALOGUE.style("u-bolt")
SINGLE_PLATE: Final = CATALOGUE.style("single-plate")

T = TypeVar("T")


def ran(law_id: str, subject: Subject) -> Outcome:
    (outcome,) = run_laws(subject, (LAWS[law_id],), A_FEW, 1)
    return outcome


def under(rules: RuleSet, style: ClipStyle | None = None, text: str = "") -> Subject:
    """A rule set at hand, with a style of its own in the place of the one of its id."""
    sets = tuple(rules if each.id == rules.id else each for each in CATALOGUE.rule_sets)
    styles = tuple(style if style is not None and each.id == style.id else each for each in CATALOGUE.styles)
    return Subject(rules, attrs.evolve(CATALOGUE, rule_sets=sets, styles=styles), text)


def forced(value: T, **fields: object) -> T:
    """A copy with fields that its constructor would refuse."""
    made: T = object.__new__(type(value))
    for name in _fields_of(value):
        object.__setattr__(made, name, fields.get(name, getattr(value, name)))
    return made


def _fields_of(value: object) -> list[str]:
    kind = type(value)
    assert attrs.has(kind)
    cached = [name for name in ("_attrs_cached_hash",) if hasattr(value, name)]
    return [*(field.name for field in attrs.fields(kind)), *cached]


def first_row(**fields: object) -> RuleSet:
    row, *others = TABLE.rows
    return attrs.evolve(TABLE, rows=(forced(row, **fields), *others))


def like(kind: type[T], model: object, **fields: object) -> T:
    """A value of a subclass with the fields of another."""
    of = type(model)
    assert attrs.has(of)
    given = {field.name: getattr(model, field.name) for field in attrs.fields(of)}
    return kind(**{**given, **fields})


def step(code: str) -> StepTemplate:
    return next(each for each in U_BOLT.procedure if each.code == code)


def without(*codes: str) -> ClipStyle:
    return attrs.evolve(U_BOLT, procedure=tuple(each for each in U_BOLT.procedure if each.code not in codes))


def with_steps(*changed: StepTemplate) -> ClipStyle:
    named = {each.code: each for each in changed}
    return attrs.evolve(U_BOLT, procedure=tuple(named.get(each.code, each) for each in U_BOLT.procedure))


# --- sources ---

NAMELESS: Final = forced(TABLE.source, document=" ")
OTHER_ISSUER: Final = attrs.evolve(TABLE.source, issuer="Another issuer")
OTHER_ID: Final = attrs.evolve(TABLE.source, id="another-id")


def cell(citation: Citation | None) -> Cited[int]:
    return forced(Cited(3, (TABLE.citation,)), citations=() if citation is None else (citation,))


def remembered_plate() -> Subject:
    assert isinstance(SINGLE_PLATE, BodyStyle)
    cited = Citation(Source("invented-plates", "Invented sheet of plates"), "line 2", "memory")
    return under(PLATE, attrs.evolve(SINGLE_PLATE, dead_end_citation=cited))


def nameless_step() -> Subject:
    template = step("tools")
    cited = forced(template.citation, source=NAMELESS)
    return under(TABLE, with_steps(attrs.evolve(template, citation=cited)))


# --- strength ---


@attrs.frozen
class AnySize(EfficiencyBand):
    """A band that takes ropes outside its own ends."""

    def takes(self, size: Length) -> bool:
        return True


def band(
    value: object, low: str = "1/8 in", high: str = "4 in", kind: type[EfficiencyBand] = EfficiencyBand
) -> EfficiencyBand:
    ends = EfficiencyBand(Fraction(1, 2), Length.of(low), Length.of(high), TABLE.citation)
    return like(kind, ends, value=value)


def banded(*bands: EfficiencyBand, terminations: object = ("thimble eye", "linked eyes"), most: str = "") -> Subject:
    bound = Cited(Fraction(most), (TABLE.citation,)) if most else None
    return under(forced(TABLE, efficiency=bands, efficiency_terminations=terminations, efficiency_at_most=bound))


def spaced(*bounds: tuple[Literal["least", "greatest", "equal"], str, str, bool]) -> Subject:
    made = tuple(
        SpacingBound(kind, clear, LinearLength(Fraction(d), Fraction(b), Length(0), f"{d} d + {b} b"), METRIC.citation)
        for kind, d, b, clear in bounds
    )
    return under(attrs.evolve(METRIC, spacing=made))


def scoped(**fields: object) -> Subject:
    return under(attrs.evolve(TABLE, scope=tuple(forced(entry, **fields) for entry in TABLE.scope)))


# --- styles ---


@attrs.frozen
class Unsided(SeriesStyle):
    """Says that there is no wrong way round, and has one."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return U_BOLT.lay_out(demand)


@attrs.frozen
class FromTheEye(SeriesStyle):
    """Counts its clips from the eye."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        made = U_BOLT.lay_out(demand)
        clips = tuple(attrs.evolve(clip, number=len(made.clips) + 1 - clip.number) for clip in made.clips)
        return attrs.evolve(made, clips=clips)


@attrs.frozen
class OneLess(SeriesStyle):
    """Leaves the last clip out."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        made = U_BOLT.lay_out(demand)
        return attrs.evolve(made, clips=made.clips[:-1])


@attrs.frozen
class NearTheEnd(SeriesStyle):
    """Puts the first clip half a base width from the dead end."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        made = U_BOLT.lay_out(demand)
        if not made.clips:
            return made
        near = Length(made.clips[0].near_edge.nanometres // 2 + 1)
        first = attrs.evolve(made.clips[0], near_edge=near, far_edge=near + (demand.base_width or near))
        return attrs.evolve(made, end_distance=near, clips=(first, *made.clips[1:]))


@attrs.frozen
class CoarseOnTape(SeriesStyle):
    """Lays out small numbers, which the graduations of a tape are, otherwise than large ones."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        made = U_BOLT.lay_out(demand)
        if not made.clips or demand.base_width is None or demand.base_width > Length(1000) or demand.splice:
            return made
        last, less = made.clips[-1], Length(3)
        if last.near_edge <= less * 2:
            return made
        moved = attrs.evolve(
            last, position=last.position - less, near_edge=last.near_edge - less, far_edge=last.far_edge - less
        )
        return attrs.evolve(made, clips=(*made.clips[:-1], moved))


@attrs.frozen
class Guessed(SeriesStyle):
    """Takes two rope diameters for a base width that nobody measured."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        return U_BOLT.lay_out(attrs.evolve(demand, base_width=demand.base_width or demand.rope_diameter * 2))


CALLS: Final = count(1)


@attrs.frozen
class Drifting(SeriesStyle):
    """Turns back a little more rope each time that it is asked."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        made = U_BOLT.lay_out(demand)
        if not isinstance(made.turn_back, Length):
            return made
        return attrs.evolve(made, turn_back=made.turn_back + Length(next(CALLS)))


def draw_nothing(place: ClipPlace) -> tuple[Shape, ...]:
    return ()


def draw_elsewhere(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x + 10 * place.width, place.saddle, place.diameter),)


def draw_another_each_time(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x, (place.saddle + place.other) / 2, place.diameter * 2 + next(CALLS) % 7),)


def draw_off_the_page(place: ClipPlace) -> tuple[Shape, ...]:
    return (Circle(place.x, place.saddle, 5000.0),)


def draw_and_print(place: ClipPlace) -> tuple[Shape, ...]:
    print("drawn")
    return (Circle(place.x, (place.saddle + place.other) / 2, place.diameter * 2),)


def drawn(drawing: Callable[[ClipPlace], tuple[Shape, ...]]) -> Subject:
    return under(TABLE, attrs.evolve(U_BOLT, drawing=drawing))


# --- rule sets that are no plain values ---


class Moody(RuleSet):
    """Asks for one clip more every second time."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = super().row_for(diameter, field)
        return attrs.evolve(row, count=Cited(4 + next(CALLS) % 2, (TABLE.citation,)), count_forged=None)


class Reckoning(RuleSet):
    """Reckons with decimals as they are set about it."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        row = super().row_for(diameter, field)
        clips = decimal.Decimal("3.0001") * 1
        number = 3 + int((clips - 3) * 10_000)
        return attrs.evolve(row, count=Cited(number, (TABLE.citation,)), count_forged=None)


class Meddling(RuleSet):
    """Sets how decimals are reckoned for everybody."""

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        decimal.getcontext().prec = 7
        return super().row_for(diameter, field)


def procedure(begin_at: str = "", retorque: tuple[str, ...] = (), cited: Citation | None = TABLE.citation) -> RuleSet:
    return attrs.evolve(TABLE, procedure=forced(Procedure(), begin_at=begin_at, begin_citation=cited, retorque=retorque,
                                                retorque_citation=cited))  # fmt: skip


FAULTS: Final[dict[str, dict[str, Callable[[], Subject]]]] = {
    "every-cell-cited": {
        "a count without a citation": lambda: under(first_row(count=cell(None))),
        "a count from a whole document": lambda: under(first_row(count=cell(TABLE.citation.at("")))),
        "a count that is no cell": lambda: under(first_row(count=3)),
        "an order of work that nobody says": lambda: under(procedure("eye", cited=None)),
        "a source without a name": lambda: under(attrs.evolve(TABLE, citation=forced(TABLE.citation, source=NAMELESS))),
    },
    "one-source-one-spelling": {
        "another issuer in one cell": lambda: under(first_row(count=cell(Citation(OTHER_ISSUER, "row 1", "read")))),
        "another id in one cell": lambda: under(first_row(count=cell(Citation(OTHER_ID, "row 1", "read")))),
        "cited from another source": lambda: under(attrs.evolve(TABLE, citation=METRIC.citation)),
    },
    "torque-names-threads": {
        "no threads": lambda: under(forced(TABLE, threads=None)),
        "empty threads": lambda: under(attrs.evolve(TABLE, threads=Cited(" ", (TABLE.citation,)))),
    },
    "excluded-services-known": {
        "a misspelt service": lambda: under(
            attrs.evolve(TABLE, excluded_services=(("mine-hoists", Cited("not for mines", (TABLE.citation,))),))
        ),
    },
    "every-number-cited": {
        "a step from a source without a name": nameless_step,
        "a torque without a citation": lambda: under(
            attrs.evolve(TABLE, rows=tuple(attrs.evolve(row, torque=forced(row.torque, citations=()))
                                           if row.torque is not None else row for row in TABLE.rows))
        ),
    },
    "memory-is-named": {"a dead end from memory": remembered_plate},
    "efficiency-is-a-share": {
        "above one": lambda: banded(band(Fraction(3, 2))),
        "nothing": lambda: banded(band(Fraction(0))),
        "a float": lambda: banded(band(0.8)),
        "two for one size": lambda: banded(band(Fraction(4, 5), "1/8 in", "1 in"), band(Fraction(9, 10), "1 in")),
        "for no eye": lambda: banded(band(Fraction(4, 5)), terminations=()),
        "above its own bound": lambda: banded(band(Fraction(9, 10)), most="17/20"),
        "a band turned round": lambda: banded(band(Fraction(4, 5), "2 in", "1 in")),
    },
    "efficiency-bands-cover": {
        "a printed size between two bands": lambda: banded(
            band(Fraction(4, 5), "1/8 in", "7/8 in"), band(Fraction(9, 10), "1-1/8 in", "4 in")
        ),
    },
    "spacing-bounds-agree": {
        "in diameters": lambda: spaced(("least", "6", "0", False), ("greatest", "4", "0", False)),
        "in base widths": lambda: spaced(("least", "0", "2", True), ("greatest", "0", "2", False)),
        "for wide clips": lambda: spaced(("least", "0", "2", False), ("greatest", "6", "0", False)),
        "for narrow clips": lambda: spaced(("least", "6", "0", False), ("greatest", "0", "3", False)),
        "two exact ones": lambda: spaced(("equal", "6", "0", False), ("equal", "7", "0", False)),
        "below nothing": lambda: spaced(("least", "-1", "0", False)),
        "distances that no row prints": lambda: under(
            attrs.evolve(METRIC, spacing=(SpacingBound("least", False, None, METRIC.citation),))
        ),
    },
    "every-row-has-a-rope": {
        "a scope that stops short": lambda: scoped(greatest=Length.of("1 in")),
        "a construction that no rope has": lambda: scoped(constructions=("six by nineteen",)),
    },
    "never-a-strength-unrated": {
        "counts misspelt": lambda: scoped(gives="count", terminations=()),
        "eyes in one text": lambda: under(
            forced(TABLE, efficiency=(band(Fraction(4, 5)),), scope=(),
                   efficiency_terminations="thimble eye, linked eyes, soft eye, lap splice")
        ),
    },
    "never-above-the-rope": {
        "above one": lambda: banded(band(Fraction(3, 2))),
        "a band that takes other ropes": lambda: banded(
            band(Fraction(9, 10), "2 in", "4 in", AnySize), band(Fraction(4, 5), "1/8 in", "1-15/16 in")
        ),
    },
    "cautions-always-shown": {
        "a wrong way round that is not owned": lambda: under(TABLE, like(Unsided, U_BOLT, wrong_way_round=False)),
    },
    "tightening-order": {
        "a beginning that nobody knows": lambda: under(procedure("thimble")),
        "no round": lambda: under(TABLE, without("torque-from-the-dead-end")),
        "from the wrong end": lambda: under(
            TABLE, with_steps(attrs.evolve(step("torque-from-the-dead-end"), text=step("torque-from-the-eye").text))
        ),
        "from both ends": lambda: under(TABLE, with_steps(attrs.evolve(step("torque-from-the-eye"), when=("eye",)))),
        "no first load": lambda: under(TABLE, without("first-load", "first-load-not-known")),
    },
    "torqued-again": {
        "not again": lambda: under(TABLE, without("retorque", "retorque-loaded", "retorque-unloaded")),
        "one clip alone": lambda: under(
            TABLE, with_steps(attrs.evolve(step("retorque"), text="Tighten the first clip to {torque} once more."))
        ),
        "at a time that nobody knows": lambda: under(procedure(retorque=("after first load",))),
        "not before first use": lambda: under(procedure(retorque=("before first use",)), without("torque-before-use")),
        "no later checks": lambda: under(procedure(retorque=("at intervals",)), without("later-checks", "each-shift")),
    },
    "threads-as-the-source": {
        "dry and greased swapped": lambda: under(
            TABLE,
            with_steps(
                attrs.evolve(step("dry-threads"), text=step("greased-threads").text),
                attrs.evolve(step("greased-threads"), text=step("dry-threads").text),
            ),
        ),
        "nothing said": lambda: under(TABLE, without("dry-threads")),
        "waxed": lambda: under(attrs.evolve(TABLE, threads=Cited("waxed", (TABLE.citation,)))),
    },
    "marks-match-positions": {"counted from the eye": lambda: under(TABLE, like(FromTheEye, U_BOLT))},
    "bill-counts-clips": {"one clip left out": lambda: under(TABLE, like(OneLess, U_BOLT))},
    "as-built-equal-adds-nothing": {
        "too near the dead end": lambda: under(TABLE, like(NearTheEnd, U_BOLT)),
        "a wrong way round that is not owned": lambda: under(TABLE, like(Unsided, U_BOLT, wrong_way_round=False)),
    },
    "one-change-is-seen": {"other places on the tape": lambda: under(TABLE, like(CoarseOnTape, U_BOLT))},
    "unmeasured-is-asked": {
        "a base width that is guessed": lambda: under(TABLE, like(Guessed, U_BOLT)),
        "no gauge": lambda: under(TABLE, without("gauge")),
        "edges of clips that nobody measured": lambda: under(
            TABLE, with_steps(attrs.evolve(step("mark-clips"), when=("eye",)))
        ),
    },
    "file-reads-the-same": {
        "rules that are not those of the file": lambda: under(
            first_row(count=cell(TABLE.citation)), text=subject_of("us-ca-8-8497", CATALOGUE).text
        ),
        "a hash of another file": lambda: under(
            attrs.evolve(TABLE, sha256="0" * 64), text=subject_of("us-ca-8-8497", CATALOGUE).text
        ),
    },
    "rules-round-trip": {
        "a kind of its own": lambda: under(like(Moody, TABLE)),
        "a title without end": lambda: under(attrs.evolve(TABLE, title="a" * 10_000)),
    },
    "json-round-trip": {"a little more each time": lambda: under(TABLE, like(Drifting, U_BOLT))},
    "drawing-is-made": {
        "nothing": lambda: drawn(draw_nothing),
        "another place": lambda: drawn(draw_elsewhere),
        "another one each time": lambda: drawn(draw_another_each_time),
        "off the page": lambda: drawn(draw_off_the_page),
    },
    "same-answer-again": {
        "one more every second time": lambda: under(like(Moody, TABLE)),
        "by the decimals about it": lambda: under(like(Reckoning, TABLE)),
    },
    "surroundings-left-alone": {
        "it prints": lambda: drawn(draw_and_print),
        "it sets the decimals": lambda: under(like(Meddling, TABLE)),
    },
}  # fmt: skip
ALL: Final = [(law, name) for law, faults in FAULTS.items() for name in faults]
SOUND: Final = {
    "excluded-services-known": METRIC, "spacing-bounds-agree": METRIC, "efficiency-is-a-share": METRIC,
    "memory-is-named": METRIC, "efficiency-bands-cover": CATALOGUE.rule_set("common-practice-efficiency"),
}  # fmt: skip


@pytest.mark.parametrize(("law_id", "fault"), ALL, ids=[f"{law}: {name}" for law, name in ALL])
def test_a_fault_is_caught_by_its_law(law_id: str, fault: str) -> None:
    with decimal.localcontext():  # one of them meddles with it
        outcome = ran(law_id, FAULTS[law_id][fault]())
    assert "failed" == outcome.state, outcome
    assert all(each.expected and each.got and each.citation for each in outcome.breakages)


@pytest.mark.parametrize("law_id", LAWS)
def test_a_rule_set_without_a_fault_passes(law_id: str) -> None:
    rules = SOUND.get(law_id, TABLE)
    outcome = ran(law_id, subject_of(rules, CATALOGUE))
    assert ("passed", ()) == (outcome.state, outcome.breakages)
    assert outcome.amount


def test_every_law_has_a_fault_of_its_own() -> None:
    assert set(LAWS) == set(FAULTS)


def test_a_basis_of_efficiency_plans_nothing_and_says_so() -> None:
    """A law of plans does not apply to a rule set that gives shares alone, and says why."""
    subject = subject_of("common-practice-efficiency", CATALOGUE)
    searched = [law for law in LAWS.values() if law.search is not None]
    assert searched
    for law in searched:
        outcome = ran(law.id, subject)
        assert ("not applicable", True) == (outcome.state, bool(outcome.reason))


def test_a_breakage_of_a_plan_names_the_rope_in_both_units_and_how_to_see_it_again() -> None:
    outcome = ran("unmeasured-is-asked", under(TABLE, like(Guessed, U_BOLT)))
    (breakage,) = outcome.breakages
    assert " in (" in breakage.rope
    assert breakage.replay.startswith("tb.plan(")
