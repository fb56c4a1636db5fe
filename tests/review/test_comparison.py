"""Rule sets side by side: published differences named with both sources, and never less than each says alone."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from tests.strategies import CATALOGUE

from turnback.errors import Conflict, InputError, UnknownRuleSet, UnknownStyle
from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.quantities import Length, Torque
from turnback.review.clashes import Clash
from turnback.review.comparison import Comparison, compare
from turnback.review.saying import Answer
from turnback.review.together import companies_of
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

CALIFORNIA, FEDERAL, NAVY, CABLES = "us-ca-8-8497", "us-osha-1926-251", "us-navy-14026", "us-army-5420-278"
BRUNSWICK, EUROPE = "ca-nb-clips", "en-13411-5"
U_BOLT = {CALIFORNIA, FEDERAL, NAVY, CABLES, BRUNSWICK, EUROPE}


def beside(
    rope: str, base_width: str | None = None, service: str | None = "guy", jurisdiction: str | None = "US"
) -> Comparison:
    return compare(
        rope,
        ThimbleEye(),
        style="u-bolt",
        clip_body="forged",
        base_width=base_width,
        service=service,
        jurisdiction=jurisdiction,
        catalogue=CATALOGUE,
    )


def between(found: Comparison, one: str, other: str) -> dict[str, Clash]:
    return {clash.item: clash for clash in found.clashes if {one, other} == set(clash.rules)}


def values(found: Comparison, item: str) -> dict[str, tuple[str, ...]]:
    return next(dict(each.values) for each in found.differences if each.item == item)


# --- what the sources print ---


def test_from_one_inch_up_the_formula_asks_for_fewer_clips_than_the_tables() -> None:
    """3D + 1 at 1 in is 4 (NAVEDTRA 14026, TM 5-5420-278-10); 8 CCR §8497 and 29 CFR 1926.251, Table H-2, print 5."""
    found = values(beside("1 in 6x25F IWRC IPS"), "count")
    assert ["5", "4"] == list(found)  # the largest first
    assert {CALIFORNIA, FEDERAL, EUROPE} == set(found["5"])
    assert {CABLES, NAVY} == set(found["4"])


def test_the_most_and_the_longest_are_named() -> None:
    found = beside("1 in 6x25F IWRC IPS", "1-3/4 in")
    said = {each.item: each for each in found.differences}
    assert "the most" == said["count"].extreme
    assert "the longest" == said["turn-back"].extreme
    # 29 CFR 1926.251: 2 x 1-3/4 + 4 x 6 = 27-1/2 in; 8 CCR §8497 prints 26 in.
    assert ["27-1/2 in (698.5 mm)", "26 in (660.4 mm)"] == list(values(found, "turn-back"))[:2]
    assert said["count"].text.startswith("clips: the most, 5 by")


def test_the_spacing_that_no_printed_turn_back_holds_is_met_by_a_longer_one() -> None:
    """8 CCR §8497: 5 clips in 26 in; TM 5-5420-278-10: at least 6D + 1 in = 7 in. 2 x 1-3/4 + 4 x 7 = 31-1/2 in."""
    found = beside("1 in 6x25F IWRC IPS", "1-3/4 in")
    company = found.together[0]
    assert (CABLES, CALIFORNIA, NAVY, FEDERAL) == company.ids
    assert Length.of("31-1/2 in") == company.plan.turn_back
    governs = dict(company.governs)
    assert "31-1/2 in" in governs["turn-back"]
    assert "longer than any of them asks for alone" in governs["turn-back"]
    assert f"5, as {CALIFORNIA} and {FEDERAL} ask" == governs["clips"]


def test_torque_of_two_patterns_is_a_conflict_with_both_sources() -> None:
    """At 1/2 in 8 CCR §8497 prints 65 lbf·ft dry; EN 13411-5 takes 12.7 mm rope into 13 mm: 33 N·m greased."""
    found = between(beside("1/2 in 6x19 IWRC EIP"), CALIFORNIA, EUROPE)
    assert {"pattern", "clip size", "torque", "threads"} == set(found)
    torque = found["torque"]
    assert "65 lbf·ft" in torque.text
    assert "33 N·m" in torque.text
    assert {"dry", "greased"} <= set(torque.text.replace(",", "").split())
    for clash in (torque, found["pattern"]):
        documents = [citation.source.document for citation in clash.citations]
        order = {CALIFORNIA: "California Code of Regulations, Title 8", EUROPE: "EN 13411-5:2003+A1:2008"}
        for rules_id, document in zip(clash.rules, documents, strict=True):
            assert document.startswith(order[rules_id])
    assert all(clash.instead for clash in found.values())


def test_two_sources_that_print_one_torque_do_not_conflict() -> None:
    """8 CCR §8497 and New Brunswick's sample table both print 65 lbf·ft at 1/2 in, both dry."""
    found = beside("1/2 in 6x19 IWRC EIP")
    assert {} == between(found, CALIFORNIA, BRUNSWICK)
    company = next(each for each in found.together if CALIFORNIA in each.ids)
    assert {CALIFORNIA, BRUNSWICK} <= set(company.ids)
    assert Torque(65, "lbf·ft") == company.plan.torque


def test_a_set_that_stands_alone_is_a_company_of_its_own() -> None:
    """EN 13411-5: at most 3 base widths clear, so 4 x 11/16 = 2-3/4 in; the rules of 6D and more ask for 3 in."""
    found = beside("1/2 in 6x19 IWRC EIP", "11/16 in")
    assert (EUROPE,) in [company.ids for company in found.together]
    assert {"spacing"} == set(between(found, EUROPE, NAVY))


def test_a_formula_that_knows_no_table_joins_any_pattern() -> None:
    """NAVEDTRA 14026 speaks of the rope's diameter; 1/2 in rope takes a 13 mm grip by EN 13411-5."""
    found = beside("1/2 in 6x19 IWRC EIP")
    assert {} == between(found, EUROPE, NAVY)
    company = next(each for each in found.together if EUROPE in each.ids)
    assert NAVY in company.ids
    assert Length.of("13 mm") == company.plan.clip_size


def test_a_size_outside_the_table_is_not_covered_and_says_why() -> None:
    """29 CFR 1926.251, Table H-2, begins at 1/2 in; New Brunswick's table ends at 7/8 in."""
    small, large = beside("7/16 in 6x25F IWRC IPS"), beside("1 in 6x25F IWRC IPS")
    assert "size" == next(each.why for each in small.refusals if each.rules.id == FEDERAL)
    assert "size" == next(each.why for each in large.refusals if each.rules.id == BRUNSWICK)
    with pytest.raises(InputError, match="prints no row"):
        small.answer(FEDERAL)


def test_a_rope_outside_the_scope_is_not_covered_and_says_why() -> None:
    """8 CCR §8497 speaks of IPS and XIP alone."""
    found = beside("1/2 in 6x19 IWRC EEIP")
    assert "rope" == next(each.why for each in found.refusals if each.rules.id == CALIFORNIA)


def test_what_the_service_forbids_to_be_met_is_not_covered_and_names_both() -> None:
    """At most 6D: Quebec Construction Code, B-1.1, r. 2, s. 4.20. At least 6D + 1 in: TM 5-5420-278-10."""
    found = beside("1/2 in 6x25F IWRC IPS", "1 in", "elevator", "CA-QC")
    refusal = next(each for each in found.refusals if each.rules.id == CABLES)
    assert "demands" == refusal.why
    assert "TM 5-5420-278-10" in refusal.reason
    assert "4.20" in refusal.reason
    # Exactly 6D satisfies the American least and the Quebec greatest together.
    assert Length.of("3 in") == found.answer(NAVY).plan.spacing == found.answer(FEDERAL).plan.spacing


def test_a_clip_that_does_not_fit_one_table_leaves_the_others() -> None:
    """8 CCR §8497: 3 clips in 11-1/2 in; saddles of 3 in (invented) cannot stand in it: 4 x 3 = 12."""
    found = beside("1/2 in 6x19 IWRC EIP", "3 in")
    assert "input" == next(each.why for each in found.refusals if each.rules.id == CALIFORNIA)
    assert NAVY in {answer.rules.id for answer in found.answers}


def test_each_says_what_it_does_not_print() -> None:
    """NAVEDTRA 14026 prints no torque and no turn-back."""
    found = beside("1/2 in 6x19 IWRC EIP").answer(NAVY)
    assert not found.about("torque").says
    assert found.about("torque").status is None
    assert found.about("torque").text
    silent = next(each.silent for each in beside("1/2 in 6x19 IWRC EIP").differences if each.item == "torque")
    assert NAVY in silent


def test_the_status_is_the_weakest_of_what_the_set_itself_says() -> None:
    """The 1/2 in row of Table H-2 was read, others recalled; 8 CCR §8497's rows were read."""
    assert "read" == beside("1/2 in 6x25F IWRC IPS").answer(FEDERAL).status
    assert "memory" == beside("1 in 6x25F IWRC IPS").answer(FEDERAL).status
    assert "read" == beside("1 in 6x25F IWRC IPS").answer(CALIFORNIA).status
    assert "memory" == beside("1/2 in 6x25F IWRC IPS").answer(EUROPE).status


def test_an_upper_bound_of_the_efficiency_stands_beside_the_value() -> None:
    """New Brunswick: at best 85 %."""
    assert "at best 85 %" in beside("1/2 in 6x19 IWRC EIP").answer(BRUNSWICK).about("efficiency").how


def test_a_forbidden_use_stands_first_under_every_set() -> None:
    """29 CFR 1926.251(c)(4)(iii): no eyes in slings with clips."""
    found = beside("1/2 in 6x19 IWRC EIP", None, "sling")
    assert () == found.usable
    first, ids = found.findings[0]
    assert "forbidden" == first.kind
    assert {answer.rules.id for answer in found.answers} == set(ids)


@pytest.mark.parametrize(
    ("style", "termination"),
    [
        ("u-bolt", LapSplice()),
        ("u-bolt", PulleyEye("4 in")),
        ("u-bolt", LinkedEyes()),
        ("mirrored-saddle", ThimbleEye()),
        ("double-plate", PlateEye(SoftEye())),
    ],
)
def test_every_style_and_kind_compares(
    style: str, termination: LapSplice | PulleyEye | LinkedEyes | ThimbleEye
) -> None:
    found = compare("1/2 in 6x19 IWRC EIP", termination, style=style, catalogue=CATALOGUE)
    listed = [each.rules.id for each in found.answers] + [each.rules.id for each in found.refusals]
    assert sorted(rules.id for rules in CATALOGUE.for_style(style)) == sorted(listed)
    assert found.answers


# --- one of your own, errors, plugins that failed ---

OWN = """
format = 1
id = "invented-sheet"
style = "u-bolt"
title = "An invented sheet"
pattern = "inch"
rows = [{ size = "1/2", count = 4, turn_back = "13", torque = "70" }]
[source]
id = "invented-works"
document = "Sheet 12 of the invented works"
status = "user"
[units]
size = "in"
turn_back = "in"
torque = "lbf·ft"
[threads]
condition = "dry"
"""


def test_a_sheet_of_your_own_stands_beside_the_others() -> None:
    own = parse_rules(OWN)
    found = compare("1/2 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", also=[own], catalogue=CATALOGUE)
    assert 4 == found.answer("invented-sheet").plan.clip_count
    assert "70 lbf·ft" in between(found, "invented-sheet", CALIFORNIA)["torque"].text


def test_the_makers_torque_settles_what_the_sources_contradict() -> None:
    own, maker = parse_rules(OWN), MakerFigures("invented sheet 3", "68 lbf·ft", "dry")
    rope = "1/2 in 6x19 IWRC EIP"
    found = compare(rope, ThimbleEye(), style="u-bolt", also=[own], maker=maker, catalogue=CATALOGUE)
    assert {} == between(found, "invented-sheet", CALIFORNIA)
    company = next(each for each in found.together if "invented-sheet" in each.ids)
    assert Torque(68, "lbf·ft") == company.plan.torque


CLOSE = """
format = 1
id = "invented-close"
style = "u-bolt"
title = "An invented rule of clips that stand close"
[source]
id = "invented-works"
document = "Sheet 13 of the invented works"
status = "user"
[count]
rule = "3 per inch, plus 1, rounded up"
sizes = "1/8 in to 3-1/2 in"
sizes_status = "user"
[spacing]
measured = "centre to centre"
greatest = "6 diameters"
"""


def test_a_printed_turn_back_that_spreads_the_clips_too_far_is_found_by_planning_both() -> None:
    """8 CCR §8497: 3 clips in 11-1/2 in; b = 1-1/8 in: (11-1/2 - 2-1/4) / 2 = 4-5/8 in, above 6 x 1/2 = 3 in."""
    own = parse_rules(CLOSE)
    rope = "1/2 in 6x19 IWRC EIP"
    found = compare(rope, ThimbleEye(), style="u-bolt", also=[own], base_width="1-1/8 in", catalogue=CATALOGUE)
    clash = between(found, "invented-close", CALIFORNIA)["spacing"]
    assert "4-5/8 in" in clash.text
    assert "at most 3 in" in clash.text
    assert 2 == len(clash.citations)
    # At least 6D + 1 in against at most 6D is seen in the rules themselves.
    assert "at least 4 in" in between(found, "invented-close", CABLES)["spacing"].text
    # Exactly 6D satisfies both.
    assert {} == between(found, "invented-close", NAVY)


def test_where_no_two_contradict_each_other_and_all_do_each_is_left_out_in_turn() -> None:
    answers = beside("1/2 in 6x25F IWRC IPS").answers[2:5]
    names = [answer.rules.id for answer in answers]

    def plan_by(chosen: tuple[Answer, ...]) -> Plan:
        if len(chosen) == 3:
            raise Conflict("an invented conflict of three", field="spacing", instead="Take two of them.")
        return chosen[0].plan

    together, clashes = companies_of(answers, plan_by)
    assert [(names[0], names[1]), (names[0], names[2]), (names[1], names[2])] == [each.ids for each in together]
    (clash,) = clashes
    assert tuple(names) == clash.rules
    assert 3 == len(clash.citations)


def test_nothing_that_covers_is_no_company() -> None:
    found = beside("100 mm 6x19 IWRC EIP")
    assert ((), (), ()) == (found.answers, found.together, found.differences)
    assert "cover it: none" in str(found)


@pytest.mark.parametrize("wrong", ["us-army-3810-305", "common-practice-efficiency", CALIFORNIA])
def test_what_cannot_stand_beside_them_is_refused(wrong: str) -> None:
    """A set for another style, a basis of efficiency, and one whose name is taken."""
    rules = CATALOGUE.rule_set(wrong)
    with pytest.raises(InputError) as refused:
        compare("1/2 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", also=[rules], catalogue=CATALOGUE)
    assert ("also", wrong) == (refused.value.field, refused.value.value)


def test_an_input_that_is_wrong_whatever_the_rule_set_is_an_error() -> None:
    rope, eye = "1/2 in 6x19 IWRC EIP", ThimbleEye()
    with pytest.raises(InputError, match="service"):
        compare(rope, eye, style="u-bolt", service="slings", catalogue=CATALOGUE)
    with pytest.raises(InputError, match="jurisdiction"):
        compare(rope, eye, style="u-bolt", jurisdiction="XX", catalogue=CATALOGUE)
    with pytest.raises(InputError, match="extra_clips"):
        compare(rope, eye, style="u-bolt", extra_clips=-1, catalogue=CATALOGUE)
    with pytest.raises(InputError, match="inside_length"):
        compare(rope, ThimbleEye("2 in", "2 in", "1/8 in"), style="u-bolt", catalogue=CATALOGUE)
    with pytest.raises(InputError, match="termination"):
        compare(rope, PlateEye(), style="u-bolt", catalogue=CATALOGUE)
    with pytest.raises(UnknownRuleSet):
        compare(rope, eye, style="u-bolt", efficiency_basis="none-such", catalogue=CATALOGUE)
    with pytest.raises(UnknownStyle):
        compare(rope, eye, style="u-bolts", catalogue=CATALOGUE)


def test_a_plugin_that_failed_never_looks_like_no_rule() -> None:
    import turnback_ubolt.plugin as ubolt

    broken = SimpleNamespace(__name__="broken", turnback_rule_sets=_raises)
    catalogue = Catalogue.of(ubolt, broken)
    assert catalogue.failures
    found = compare("1/2 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", catalogue=catalogue)
    assert tuple(str(failure) for failure in catalogue.failures) == found.failures
    assert str(found).startswith(found.failures[0][:40])


def _raises() -> tuple[RuleSet, ...]:
    raise RuntimeError("invented failure")
