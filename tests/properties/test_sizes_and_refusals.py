"""Design, sections 5 and 9: sizes outside a table, and input that is refused whatever a host has switched off."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, TABLES, planned

from turnback.errors import InputError, OutOfScope, OutOfTable, TurnbackError
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.rope import Coating, Rope
from turnback.model.sources import COMMON_PRACTICE, Citation, Source, user_citation
from turnback.model.terminations import LinkedEyes, PulleyEye, SoftEye, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, Torque
from turnback.rules.ruleset import Row, RuleSet
from turnback.rules.selection import first_of, governing

EXACT = tuple(rules for rules in TABLES if len(rules.rows) > 1 and all(row.above is None for row in rules.rows))
RANGED = tuple(rules for rules in TABLES if any(row.above is not None for row in rules.rows))


def refused(rules: RuleSet, size: Length) -> OutOfTable:
    """The refusal of a bare rope of this diameter, described by nothing else."""
    with pytest.raises(OutOfTable) as caught:
        planned(Request(Rope(size), ThimbleEye(), rules.style, rules.id))
    return caught.value


@given(st.sampled_from(EXACT), st.data())
def test_a_size_between_two_rows_names_both_neighbours(rules: RuleSet, data: st.DataObject) -> None:
    """Section 5: no interpolation; a rope between two printed sizes is out of table, with both neighbours named."""
    below, above = data.draw(st.sampled_from(list(pairwise(row.size for row in rules.rows))))
    size = Length(data.draw(st.integers(below.nanometres + 1, above.nanometres - 1)))
    error = refused(rules, size)
    assert str(below) in error.bound
    assert str(above) in error.bound
    assert str(size) == error.value
    assert error.citation
    assert error.instead


@given(st.sampled_from(TABLES), st.data())
def test_a_size_beyond_the_table_names_the_last_row(rules: RuleSet, data: st.DataObject) -> None:
    """Section 5: below the first and above the last row the one neighbour is named."""
    first, last = rules.rows[0].size, rules.rows[-1].size
    low, high = st.integers(100_000, first.nanometres - 1), st.integers(last.nanometres + 1, 300_000_000)
    size = Length(data.draw(low | high))
    assert str(first if size < first else last) in refused(rules, size).bound


@given(st.sampled_from(RANGED), st.data())
def test_a_clip_size_between_two_printed_ones_is_no_clip(rules: RuleSet, data: st.DataObject) -> None:
    """Section 5: a size takes a range of ropes, and is still one size of clip: another is refused, neighbours named."""
    row = data.draw(st.sampled_from([row for row in rules.rows if row.above is not None]))
    assert row.above is not None
    size = Length(data.draw(st.integers(row.above.nanometres + 1, row.size.nanometres - 1)))
    request = Request(Rope(row.size), ThimbleEye(), rules.style, rules.id, clip_size=size, clip_size_citation="a sheet")
    with pytest.raises(OutOfTable) as caught:
        planned(request)
    assert str(row.above) in caught.value.bound
    assert str(row.size) in caught.value.bound
    assert row.size == planned(attrs.evolve(request, clip_size=row.size)).clip_size


def test_13_mm_against_half_an_inch_is_two_point_four_percent() -> None:
    """Section 5: the message says how far the neighbours misfit: 13 mm is 2.36 % more than 12.7 mm."""
    error = refused(CATALOGUE.rule_set("us-ca-8-8497"), Length.of("13 mm"))
    assert "+2.4%" in error.bound


CITED = user_citation("invented sheet 6")
BAD: list[tuple[str, Callable[[], object]]] = [
    ("clips taken away", lambda: _request(extra_clips=-1)),
    ("clips as a bool", lambda: _request(extra_clips=True)),
    ("clips as a float", lambda: _request(extra_clips=1.0)),
    ("too many clips", lambda: _request(extra_clips=101)),
    ("no such body", lambda: _request(clip_body="cast iron")),
    ("no base width", lambda: _request(base_width="0 in")),
    ("a bare number", lambda: _request(base_width="2.25")),
    ("a number for a length", lambda: _request(base_width=2.25)),
    ("a bool for a length", lambda: _request(base_width=True)),
    ("a clip size without a word for it", lambda: _request(clip_size="1/2 in")),
    ("a word without a clip size", lambda: _request(clip_size_citation="sheet 6")),
    ("a word that says nothing", lambda: _request(clip_size="1/2 in", clip_size_citation=" ")),
    ("a negative load", lambda: _request(load="-5 kN")),
    ("a load in pounds", lambda: _request(load="500 lb")),
    ("a number for a load", lambda: _request(load=5000)),
    ("no rope at all", lambda: _request(rope="")),
    ("a rope that is a number", lambda: _request(rope=12.7)),
    ("a termination that is text", lambda: _planned(termination="thimble eye")),
    ("no termination", lambda: _planned(termination=None)),
    ("a termination that is a class", lambda: _planned(termination=ThimbleEye)),
    ("no rules", lambda: _planned(rules=None)),
    ("rules in a list", lambda: _planned(rules=["us-ca-8-8497"])),
    ("rules that are a number", lambda: _planned(rules=8497)),
    ("no style", lambda: _planned(style=None)),
    ("a style that is a number", lambda: _planned(style=3)),
    ("a service that is a number", lambda: _planned(service=3)),
    ("a service in a list", lambda: _planned(service=["guy"])),
    ("a jurisdiction that is a number", lambda: _planned(jurisdiction=1)),
    ("maker's figures that are text", lambda: _planned(maker="100 lbf·ft")),
    ("a basis that is none", lambda: _planned(efficiency_basis="us-navy-14026")),
    ("a basis that is a number", lambda: _planned(efficiency_basis=80)),
    ("a catalogue that is text", lambda: _planned(catalogue="installed")),
    ("a torque without threads", lambda: MakerFigures("sheet 6", torque="100 lbf·ft")),
    ("an efficiency above one", lambda: MakerFigures("sheet 6", efficiency="101 %")),
    ("an efficiency that is a bool", lambda: MakerFigures("sheet 6", efficiency=True)),  # type: ignore[arg-type]  # likewise
    ("an efficiency that is a float", lambda: MakerFigures("sheet 6", efficiency=0.8)),  # type: ignore[arg-type]  # likewise
    ("figures without a sheet", lambda: MakerFigures("", efficiency="80 %")),
    ("governing nothing", governing),
    ("first of nothing", first_of),
    ("a thimble shorter than wide", lambda: ThimbleEye("2 in", "3 in")),
    ("a pin as long as its eye", lambda: SoftEye("2 in", "2 in")),
    ("a pulley at 120 degrees", lambda: PulleyEye("12 in", "120 deg")),
    ("a pulley at no angle", lambda: PulleyEye("12 in", "0 deg")),
    ("linked eyes of text", lambda: _planned(termination=LinkedEyes("a", "b"))),  # type: ignore[arg-type]  # likewise
    ("a rope of no thickness", lambda: Rope("0 mm")),
    ("a rope thicker than any", lambda: Rope("301 mm")),
    ("a rope of an unknown grade", lambda: Rope("1/2 in", grade="extra good")),
    ("a Seale rope with ordinary outer wires", lambda: Rope("1/2 in", "6x19S", outer_wires="ordinary")),
    ("a certificate's value without it", lambda: Rope("1/2 in", minimum_breaking_force="100 kN")),
    (
        "an actual force below the minimum",
        lambda: _rope(minimum_breaking_force="100 kN", actual_breaking_force="99 kN"),
    ),
    ("a flag that is text", lambda: Rope("1/2 in", rotation_resistant="yes")),  # type: ignore[arg-type]  # likewise
    ("a coating thinner than its rope", lambda: Rope("1/2 in", coating=Coating("3/8 in", stripped=True))),
    ("a coating that is text", lambda: Rope("1/2 in", coating="5/8 in")),  # type: ignore[arg-type]  # likewise
    ("a value without a citation", lambda: Cited(3, ())),
    ("a finding without a citation", lambda: Finding("code", "note", "text", ())),
    ("a finding of no kind", lambda: Finding("code", "advice", "text", (CITED,))),  # type: ignore[arg-type]  # likewise
    ("a citation of no status", lambda: Citation(COMMON_PRACTICE, "here", "certain")),  # type: ignore[arg-type]  # likewise
    ("a source without a document", lambda: Source("x", " ")),
    ("a rule set without an id", lambda: RuleSet("", "u-bolt", "t", "", COMMON_PRACTICE, CITED)),
    (
        "rows out of order",
        lambda: RuleSet("x", "u-bolt", "t", "", COMMON_PRACTICE, CITED, (_row("1 in"), _row("1/2 in"))),
    ),
    ("a length that is a bool", lambda: Length(True)),
    ("a length that is a float", lambda: Length(1.5)),  # type: ignore[arg-type]  # likewise
    ("a force that is no number", lambda: Force(float("nan"))),
    ("a mass without end", lambda: Mass(float("inf"))),
    ("a mass per length that is a bool", lambda: MassPerLength(True)),
    ("an angle that is text", lambda: Angle("60")),  # type: ignore[arg-type]  # likewise
    ("a torque of zero", lambda: Torque(0, "N·m")),
    ("a torque that is a float", lambda: Torque(88.0, "N·m")),  # type: ignore[arg-type]  # likewise
    ("a torque in pounds", lambda: Torque(65, "lb·ft")),
    ("two torques that are not one", lambda: Torque(65, "lbf·ft", (Fraction(80), "N·m"))),
]


def _arguments(changed: dict[str, object]) -> dict[str, object]:
    fine = {"rope": "3/4 in 6x19 IWRC EIP", "termination": ThimbleEye(), "style": "u-bolt", "rules": "us-ca-8-8497"}
    return {**fine, **changed}


def _request(**changed: object) -> object:
    return Request(**_arguments(changed))  # type: ignore[arg-type]  # what a host without a type checker may give


def _planned(**changed: object) -> object:
    return plan(**_arguments({"catalogue": CATALOGUE, **changed}))  # type: ignore[arg-type]  # likewise


def _rope(**changed: object) -> object:
    return Rope("1/2 in", certificate="certificate 9", **changed)  # type: ignore[arg-type]  # likewise


def _row(size: str) -> Row:
    return Row(Length.of(size))


@pytest.mark.parametrize("bad", [bad for _, bad in BAD], ids=[name for name, _ in BAD])
def test_bad_input_is_refused_with_the_validators_of_attrs_switched_off(bad: Callable[[], object]) -> None:
    """Section 3: safety invariants do not hang on attrs' validators; every refusal is an error of the tree."""
    with attrs.validators.disabled(), pytest.raises(TurnbackError) as caught:
        bad()
    assert caught.value.problem
    assert isinstance(caught.value, (ValueError, LookupError, ImportError))


def test_the_request_that_is_spoilt_in_these_tests_is_a_good_one() -> None:
    """The law above is not empty: unspoilt, the same request is planned."""
    with attrs.validators.disabled():
        assert _planned() == _planned()


@given(st.sampled_from(["1x7", "1x19", "1x37"]), st.sampled_from([r.id for r in CATALOGUE.for_style("u-bolt")]))
def test_a_single_strand_is_outside_every_scope(construction: str, rules_id: str) -> None:
    """Section 7, step 9: strand is outside the scope of every rule set at hand."""
    rope = Rope("16 mm" if rules_id.startswith("en-") else "1/2 in", construction)
    with pytest.raises((OutOfScope, OutOfTable)):
        planned(Request(rope, ThimbleEye(), "u-bolt", rules_id))


@given(st.integers(1, 40), st.sampled_from([rules.id for rules in TABLES if rules.rows[0].turn_back is not None]))
def test_clips_that_cannot_stand_side_by_side_in_a_printed_turn_back_are_refused(more: int, rules_id: str) -> None:
    """Section 7, step 4: s < b in a printed turn-back refuses, for the clip or the measurement is wrong."""
    rules = CATALOGUE.rule_set(rules_id)
    for row in rules.rows:
        count, printed = row.count_for("forged"), row.turn_back
        assert count is not None
        assert printed is not None
        # Three at least are placed where a floor of the source asks for them, in a turn-back in proportion.
        placed = max([count.value, *(floor.count for floor in rules.floors)])
        touching = printed.value.nanometres * placed // (count.value * (placed + 1))
        fits = Request(Rope(row.size), ThimbleEye(), rules.style, rules_id, "forged", Length(touching))
        assert touching == planned(fits).clips[0].near_edge.nanometres
        with pytest.raises(InputError) as caught:
            planned(attrs.evolve(fits, base_width=Length(touching + more)))
        assert "base_width" == caught.value.field
