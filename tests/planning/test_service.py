"""What a service asks of a termination. Expected values are those of the paragraphs named beside them."""

from __future__ import annotations

import pickle
from fractions import Fraction

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.findings import KINDS, Finding
from turnback.model.rope import Rope
from turnback.model.sources import user_citation
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.service import ServiceBook, ServiceDemands, forbidden_uses
from turnback.rules.service import DesignFactor, ServiceRule
from turnback.rules.servicefile import design_factors, service_rules

BOOK = ServiceBook.of(service_rules(), design_factors())
ROPE = Rope("1/2 in", construction="6x19", core="IWRC", grade="EIP")
HERE = user_citation("an invented paragraph for this test")


def ask(
    service: str | None,
    jurisdiction: str | None = None,
    *,
    book: ServiceBook = BOOK,
    rope: Rope = ROPE,
    style: str = "u-bolt",
    termination: Termination | None = None,
) -> ServiceDemands:
    return book.demands(
        service=service,
        jurisdiction=jurisdiction,
        rope=rope,
        style_id=style,
        termination=ThimbleEye() if termination is None else termination,
    )


def kinds(demands: ServiceDemands) -> dict[str, str]:
    return {finding.code: finding.kind for finding in demands.findings}


def finding(demands: ServiceDemands, code: str) -> Finding:
    [found] = [each for each in demands.findings if each.code == code]
    return found


def factor(demands: ServiceDemands) -> Fraction:
    assert not isinstance(demands.design_factor, Absent)
    return demands.design_factor.value


def cited(demands: ServiceDemands) -> str:
    assert not isinstance(demands.design_factor, Absent)
    return "; ".join(str(each) for each in demands.design_factor.citations)


# What is forbidden


@pytest.mark.parametrize(
    ("service", "jurisdiction", "forbidden"),
    [
        ("sling", "US", True),  # 29 CFR 1926.251(c)(4)(iii)
        ("sling", "US-CA", True),  # federal rules hold in a state
        ("sling", "DE", True),  # DGUV Information 209-013
        ("sling", None, True),
        ("sling", "CA-AB", False),  # nothing read
        ("critical-lift", "US", True),  # DOE-STD-1090-96
        ("towline", "US", True),  # 33 CFR 164.74
        ("mooring", "DE", True),  # DGUV Vorschrift 60
        ("mooring", "US", False),
        ("elevator-residence", "US-WA", True),  # WAC 296-96-24660
        ("elevator-residence", "US", False),  # a state's rule does not hold in the federation
        ("scaffold-hoist-suspension-point", "US", True),  # 29 CFR 1926.451(d)(12)
        ("scaffold-bracket", "US", True),  # 29 CFR 1926.452(x)(9)
        ("scaffold-suspension", "US", False),
        ("general", None, False),
    ],
)
def test_what_is_forbidden_comes_first(service: str, jurisdiction: str | None, forbidden: bool) -> None:
    found = ask(service, jurisdiction).findings
    assert forbidden == (bool(found) and found[0].kind == "forbidden")
    assert forbidden == any(each.kind == "forbidden" for each in found)


def test_a_paragraph_that_names_u_bolts_is_confirmed_for_another_style() -> None:
    demands = ask("scaffold-bracket", "US", style="mirrored-saddle")
    found = finding(demands, "no-u-bolts-on-bracket-scaffold-other-style")
    assert "confirm" == found.kind
    assert "names U-bolt clips" in found.text
    assert "No U-bolt clips on the securing and anchorage ropes" in found.text
    assert not any(each.kind == "forbidden" for each in demands.findings)


@pytest.mark.parametrize("style", ["u-bolt", "mirrored-saddle", "single-plate", "an-invented-style"])
def test_a_paragraph_that_says_clips_holds_for_every_style(style: str) -> None:
    assert "forbidden" == kinds(ask("sling", "US", style=style))["no-clips-in-slings"]


def test_forbidden_uses_by_style() -> None:
    every = {"sling", "critical-lift", "towline", "mooring"}
    u_bolt = {"scaffold-hoist-suspension-point", "scaffold-bracket", "elevator-residence"}
    assert every | u_bolt == {rule.service for rule in forbidden_uses(BOOK, "u-bolt")}
    assert every == {rule.service for rule in forbidden_uses(BOOK, "mirrored-saddle")}


# The service is not stated


def test_an_unstated_service_lists_every_forbidden_use_first() -> None:
    first = ask(None).findings[0]
    assert ("service-not-stated", "must-do") == (first.code, first.kind)
    uses = {
        "sling",
        "critical-lift",
        "towline",
        "mooring",
        "scaffold-hoist-suspension-point",
        "scaffold-bracket",
        "elevator-residence",
    }
    assert uses == set(dict(first.values)["forbidden"].split(", "))
    assert all(use in first.text for use in uses)
    places = "; ".join(str(each) for each in first.citations)
    for place in (
        "1926.251(c)(4)(iii)",
        "209-013",
        "11.3",
        "1926.451(d)(12)",
        "1926.452(x)(9)",
        "164.74",
        "40(3)",
        "24660",
    ):
        assert place in places


def test_an_unstated_service_in_one_jurisdiction_lists_what_is_forbidden_there() -> None:
    first = ask(None, "DE").findings[0]
    assert {"sling", "mooring"} == set(dict(first.values)["forbidden"].split(", "))


def test_an_unstated_service_where_nothing_was_read_still_says_so_first() -> None:
    first = ask(None, "AU").findings[0]
    assert ("service-not-stated", "must-do") == (first.code, first.kind)
    assert "Nothing was read" in first.text


def test_an_unstated_service_has_no_design_factor() -> None:
    found = ask(None).design_factor
    assert isinstance(found, Absent)
    assert "state the service" in found.reason


def test_where_no_paragraph_was_read_it_does_not_look_as_if_none_applied() -> None:
    found = finding(ask("sling", "AU"), "nothing-read-for-service")
    assert "confirm" == found.kind
    assert "does not mean that there is none" in found.text
    assert "nothing-read-for-service" not in kinds(ask("sling", "US"))
    # Forged clips are asked for by no paragraph of a regulation.
    assert "nothing-read-for-service" in kinds(ask("hoist-rope", "DE"))
    assert "nothing-read-for-service" not in kinds(ask("general", "AU"))


# Unknown names


@pytest.mark.parametrize(
    ("service", "jurisdiction", "field", "near"),
    [
        ("slings", None, "service", "Did you mean sling?"),
        ("any", None, "service", ""),
        ("", None, "service", ""),
        ("guy", "US-TX", "jurisdiction", ""),
        ("guy", "us-ca", "jurisdiction", ""),
        ("guy", "any", "jurisdiction", ""),
        ("guy", "CA-QB", "jurisdiction", "Did you mean CA-"),
    ],
)
def test_an_unknown_name_is_refused_with_the_list(
    service: str, jurisdiction: str | None, field: str, near: str
) -> None:
    with pytest.raises(InputError) as caught:
        ask(service, jurisdiction)
    assert field == caught.value.field
    assert near in caught.value.instead
    assert ("hoist-rope" if field == "service" else "CA-QC") in caught.value.bound


def test_a_name_of_another_type_is_refused() -> None:
    with pytest.raises(InputError):
        ask(["sling"])  # type: ignore[arg-type]  # a wrong type is the point


# What a request plainly breaks


@pytest.mark.parametrize(
    ("service", "jurisdiction", "code"),
    [
        ("hoist-rope", "US", "rope-in-one-piece"),  # 29 CFR 1926.251(c)(4)(ii)
        ("mine-hoist", "US", "mine-hoist-load-end"),  # 30 CFR 57.19025
        ("scaffold-suspension", "US-WA", "scaffold-ropes-joined-by-splice-thimbles"),  # WAC 296-874-30018
    ],
)
@pytest.mark.parametrize("splice", [LapSplice(), LinkedEyes()])
def test_a_joint_of_two_ropes_must_be_mended_where_the_rope_is_in_one_piece(
    service: str, jurisdiction: str, code: str, splice: Termination
) -> None:
    found = kinds(ask(service, jurisdiction, termination=splice))
    assert "must-fix" == found[f"{code}-not-met"]
    assert code not in found
    assert "must-do" == kinds(ask(service, jurisdiction))[code]


@pytest.mark.parametrize(
    ("termination", "fixes", "confirms"),
    [
        (ThimbleEye(), False, False),
        (SoftEye(), True, False),
        (PlateEye(SoftEye()), True, False),
        (PlateEye(ThimbleEye()), False, False),
        (PulleyEye(), False, True),
    ],
)
def test_an_eye_needs_its_thimble(termination: Termination, fixes: bool, confirms: bool) -> None:
    # 29 CFR 1926.1431(g): eyes of the rigging of a personnel platform need thimbles.
    found = kinds(ask("personnel-platform", "US", termination=termination))
    assert fixes == ("personnel-platform-rigging-not-met" in found)
    assert confirms == ("personnel-platform-rigging-to-confirm" in found)


def test_what_is_not_met_is_said() -> None:
    found = finding(ask("personnel-platform", "US", termination=SoftEye()), "personnel-platform-rigging-not-met")
    assert ("must-fix", True) == (found.kind, found.blocks)
    assert "an eye without a thimble" in found.text
    assert "Eyes need thimbles." in found.text


@pytest.mark.parametrize(
    ("pin", "code"),
    [
        ("1-31/32 in", "thimble-over-small-pin-not-met"),
        ("2 in", "thimble-over-small-pin"),
        (None, "thimble-over-small-pin-to-confirm"),
    ],
)
def test_a_pin_under_four_rope_diameters_needs_a_thimble_in_michigan(pin: str | None, code: str) -> None:
    # Mich. R 408.10582; four diameters of 1/2 in rope are 2 in.
    found = kinds(ask("general", "US-MI", termination=SoftEye(pin=pin)))
    assert code in found
    assert ("thimble-over-small-pin-not-met" in found) == (pin == "1-31/32 in")
    assert "thimble-over-small-pin-not-met" not in kinds(ask("general", "US-MI", termination=ThimbleEye()))
    assert "thimble-over-small-pin" not in kinds(ask("general", "US-WA", termination=SoftEye(pin=pin)))


@pytest.mark.parametrize(("tread", "confirms"), [(None, True), ("1-31/32 in", True), ("2 in", False)])
def test_a_small_pulley_in_place_of_a_pin_is_confirmed(tread: str | None, confirms: bool) -> None:
    found = kinds(ask("general", "US-MI", termination=PulleyEye(tread_diameter=tread)))
    assert confirms == ("thimble-over-small-pin-to-confirm" in found)


def test_the_checks_follow_the_request_and_not_the_one_before_it() -> None:
    small, large = SoftEye(pin="1 in"), SoftEye(pin="3 in")
    thick, thin = Rope("1/2 in"), Rope("1/4 in")
    fixes = [
        "thimble-over-small-pin-not-met" in kinds(ask("general", "US-MI", rope=rope, termination=eye))
        for rope, eye in ((thick, large), (thick, small), (thin, small), (thick, small), (thick, large))
    ]
    assert [False, True, False, True, False] == fixes


@pytest.mark.parametrize(
    ("diameter", "grade", "fixes", "confirms"),
    [
        ("5/16 in", "IPS", False, False),
        ("5/16 in", "EEIP", False, False),
        ("9/32 in", "IPS", True, False),
        ("5/16 in", "", False, True),
        ("8 mm", "1770", False, True),
        ("7 mm", "1770", True, True),
    ],
)
def test_the_rope_of_a_powered_platform(diameter: str, grade: str, fixes: bool, confirms: bool) -> None:
    # 29 CFR 1910.66: at least 5/16 in (7.9375 mm), improved plow steel or better.
    found = kinds(ask("powered-platform", "US", rope=Rope(diameter, grade=grade)))
    assert fixes == ("powered-platform-connection-not-met" in found)
    assert confirms == ("powered-platform-connection-to-confirm" in found)


def test_a_table_grade_that_is_not_named_must_be_mended() -> None:
    rule = ServiceRule("guy", "US", "required", "Invented.", HERE, "invented", grades=("EIP", "EEIP"))
    book = ServiceBook.of((rule,), ())
    assert "must-fix" == kinds(ask("guy", "US", book=book, rope=Rope("1/2 in", grade="IPS")))["invented-not-met"]
    assert "must-do" == kinds(ask("guy", "US", book=book, rope=Rope("1/2 in", grade="EIP")))["invented"]


@pytest.mark.parametrize("termination", [ThimbleEye(), SoftEye(), PulleyEye(), LinkedEyes(), LapSplice(), PlateEye()])
def test_no_clip_joins_the_dead_to_the_live_part_of_a_wedge_socket(termination: Termination) -> None:
    # 29 CFR 1926.1414, from memory: on the unloaded dead end only.
    found = finding(ask("wedge-socket", "US", termination=termination), "wedge-socket-clip-on-dead-end-not-met")
    assert ("must-fix", "memory") == (found.kind, found.citations[0].status)


# Numbers


@pytest.mark.parametrize(
    ("service", "jurisdiction", "diameter", "count"),
    [
        ("scaffold-suspension", "US", "1/2 in", 3),  # 29 CFR 1926.451(d)(12)
        ("scaffold-suspension", "DE", "1/2 in", None),
        ("logging-wrap", "US-WA", "63/64 in", 2),  # WAC 296-54-569(5)(b)
        ("logging-wrap", "US-WA", "1 in", 3),
        ("logging-wrap", None, "25.3 mm", 2),
        ("elevator-residence", "US-WA", "1/2 in", 3),  # WAC 296-96-24660
        ("sling", "DE", "1/2 in", 4),  # DGUV Information 209-013, the exception
        ("towline", "US", "1/2 in", 5),  # 33 CFR 164.74, the exception
        ("guy", None, "1/2 in", None),
    ],
)
def test_the_least_count(service: str, jurisdiction: str | None, diameter: str, count: int | None) -> None:
    found = ask(service, jurisdiction, rope=Rope(diameter)).count_floor
    assert count == (None if found is None else found.value)


def test_the_greatest_of_several_least_counts_stands_with_all_who_print_it() -> None:
    other = user_citation("another invented paragraph")
    rules = [
        ServiceRule("guy", place, "floor", "Invented.", who, f"invented-{number}", clip_count_at_least=count)
        for number, (place, count, who) in enumerate((("US", 3, HERE), ("DE", 5, HERE), ("AU", 5, other)))
    ]
    book = ServiceBook.of(rules, ())
    found = ask("guy", book=book).count_floor
    assert found is not None
    assert (5, (HERE, other)) == (found.value, found.citations)


def test_the_distances_of_scaffolds_and_elevators() -> None:
    # 29 CFR 1926.451(d)(12): at least 6 diameters; Construction Code B-1.1, r. 2, s. 4.20: not more than 6.
    found = {
        service: [(b.bound, b.length.nanometres(ROPE.diameter, None)) for b in ask(service).spacing if b.length]
        for service in ("scaffold-suspension", "elevator", "guy")
    }
    three_inches = Fraction(3 * 25_400_000)
    assert {
        "scaffold-suspension": [("least", three_inches)],
        "elevator": [("greatest", three_inches)],
        "guy": [],
    } == found


def test_when_to_tighten_again_each_word_once_with_all_who_ask() -> None:
    first, shift = ask("scaffold-suspension").retorque
    assert ("after the first load", "each shift") == (first.value, shift.value)
    # 29 CFR 1926.451(d)(12) and WAC 296-155-33915(1).
    assert ["1926.451(d)(12)", "WAC 296-155-33915(1)"] == [each.locator for each in first.citations]
    assert ["1926.451(d)(12)"] == [each.locator for each in shift.citations]
    assert () == ask("scaffold-suspension", "DE").retorque
    assert ["after the first load"] == [each.value for each in ask("guy", "US-WA").retorque]


def test_the_connection_of_platforms_and_mine_hoists_holds_eighty_per_cent() -> None:
    # 29 CFR 1910.66; 30 CFR 57.19025.
    for service in ("powered-platform", "mine-hoist"):
        found = ask(service, "US").efficiency_at_least
        assert found is not None
        assert Fraction(4, 5) == found.value
    assert ask("hoist-rope", "US").efficiency_at_least is None


def test_the_tables_that_a_paragraph_points_to() -> None:
    assert [("us-osha-1926-251",)] == [each.value for each in ask("construction-eye", "US").rule_sets]
    assert [("us-ca-8-8497", "us-ca-8-8497-t2")] == [each.value for each in ask("tunnel-hoist", "US-CA").rule_sets]
    assert () == ask("construction-eye", "US", style="mirrored-saddle").rule_sets


def test_forged_clips_are_confirmed_where_loads_are_hoisted() -> None:
    found = ask("hoist-rope", "DE").forged_confirm
    assert found is not None
    assert ("confirm", ["memory", "common practice"]) == (found.kind, [each.status for each in found.citations])
    assert "forged-clips-only" not in kinds(ask("hoist-rope", "DE"))
    assert ask("guy").forged_confirm is None
    assert ask(None).forged_confirm is None


# Design factors

RESISTANT = attrs.evolve(ROPE, rotation_resistant=True)
ORDINARY = attrs.evolve(ROPE, rotation_resistant=False)


@pytest.mark.parametrize(
    ("service", "jurisdiction", "rope", "expected", "place"),
    [
        ("guy", "CA-AB", ROPE, "3", "292.1(1)(d)"),
        ("pendant", "CA-AB", ROPE, "3", "292.1(1)(d)"),
        ("guy", "US", ROPE, "5", "1917.42(b)(1)"),  # nothing specific: wire rope in general
        ("guy", None, ROPE, "5", "WAC 296-24-29401"),  # the greater of 3 and 5
        ("hoist-rope", "CA-AB", ROPE, "5", "292.1(1)(b)"),  # the stricter of 5 and 3.5
        ("scaffold-suspension", "US", ROPE, "6", "1926.451(a)(4)"),
        ("scaffold-suspension", "US-WA", ROPE, "6", "1926.451(a)(4)"),
        ("scaffold-suspension", "US-CA", ROPE, "6", "1926.451(a)(4)"),
        ("powered-platform", "US", ROPE, "10", "1910.66"),
        ("tunnel-hoist", "US-CA", ROPE, "10", "section 8497(a)"),
        ("tunnel-hoist", "US", ROPE, "5", "1917.42(b)(1)"),
        ("mine-hoist", "US-CA", ROPE, "8", "section 7135"),
        ("personnel-platform", "US", ORDINARY, "5", "1926.1431(g)"),
        ("personnel-platform", "US", RESISTANT, "10", "1926.1431(g)"),
        ("personnel-platform", "US", ROPE, "10", "1926.1431(g)"),  # not known: the stricter
        ("personnel-platform", "CA-AB", ORDINARY, "10", "292(1)"),
        ("personnel-platform", None, ORDINARY, "10", "292(1)"),
        ("lifeline-horizontal", "US", ROPE, "5", "1917.42(b)(1)"),  # 2 is of the whole system
        ("general", "US-MI", ROPE, "5", "R 408.15226"),
        ("general", "CA-AB", ROPE, "5", "292(1)"),
        ("general", "DE", ROPE, "5", "WAC 296-24-29401"),  # none read there: all are cited
        ("general", None, ROPE, "5", "R 408.15226"),
    ],
)
def test_the_design_factor(service: str, jurisdiction: str | None, rope: Rope, expected: str, place: str) -> None:
    demands = ask(service, jurisdiction, rope=rope)
    assert Fraction(expected) == factor(demands)
    assert place in cited(demands)


def test_what_a_request_does_not_tell_apart_is_said() -> None:
    how = {
        service: found.how
        for service in ("tunnel-hoist", "mine-hoist")
        if not isinstance(found := ask(service, "US-CA").design_factor, Absent)
    }
    assert "material has 5" in how["tunnel-hoist"]
    assert "does not give the depth" in how["mine-hoist"]


def test_a_factor_from_elsewhere_says_so() -> None:
    found = ask("guy", "DE").design_factor
    assert not isinstance(found, Absent)
    assert "No factor for guy was read for DE" in found.how
    assert "cited from elsewhere" in found.how
    assert 4 == len(found.citations)


def test_rotation_resistance_that_is_not_known_is_confirmed() -> None:
    assert "rotation-resistance-not-known" in kinds(ask("personnel-platform", "US"))
    assert "rotation-resistance-not-known" not in kinds(ask("personnel-platform", "US", rope=ORDINARY))
    assert "rotation-resistance-not-known" not in kinds(ask("personnel-platform", "US", rope=Rope("1/2 in", "19x7")))


def test_without_any_factor_at_hand_it_is_absent() -> None:
    assert isinstance(ask("guy", book=ServiceBook.of(service_rules(), ())).design_factor, Absent)


# What a plugin adds


def test_a_plugin_adds_services_and_jurisdictions() -> None:
    rule = ServiceRule(
        "kite-line",
        "XX-YY",
        "floor",
        "Invented.",
        HERE,
        "invented",
        terminations=("soft eye",),
        clip_count_at_least=4,
        design_factor=Fraction(7),
    )
    book = ServiceBook.of((*service_rules(), rule), design_factors())
    assert {"kite-line"} == set(book.services) - set(BOOK.services)
    assert {"XX-YY"} == set(book.jurisdictions) - set(BOOK.jurisdictions)
    demands = ask("kite-line", "XX-YY", book=book, termination=SoftEye())
    assert (4, Fraction(7)) == (demands.count_floor and demands.count_floor.value, factor(demands))
    # The rule speaks of soft eyes alone.
    assert ask("kite-line", "XX-YY", book=book).count_floor is None


def test_a_factor_for_every_service_of_a_place() -> None:
    rule = ServiceRule("any", "AU", "required", "Invented.", HERE, "invented", design_factor=Fraction(9))
    assert Fraction(9) == factor(ask("guy", "AU", book=ServiceBook.of((rule,), design_factors())))
    alone = DesignFactor("an invented use", (), "AU", Fraction(9), "Invented.", HERE)
    assert Fraction(5) == factor(ask("guy", "AU", book=ServiceBook.of((), (*design_factors(), alone))))


# Laws

ropes = st.sampled_from(
    [ROPE, RESISTANT, ORDINARY, Rope("1/4 in"), Rope("1-1/2 in", "19x7"), Rope("8 mm", grade="1770")]
)
terminations = st.sampled_from(
    [
        ThimbleEye(),
        SoftEye(),
        SoftEye(pin="1 in"),
        PulleyEye(),
        LinkedEyes(),
        LapSplice(),
        PlateEye(SoftEye(pin="4 in")),
    ]
)
styles = st.sampled_from(["u-bolt", "mirrored-saddle", "single-plate"])
services = st.sampled_from([None, *BOOK.services])
places = st.sampled_from(BOOK.jurisdictions)


@settings(deadline=None)
@given(services, places, ropes, styles, terminations)
def test_no_jurisdiction_is_at_least_as_strict_as_any(
    service: str | None, place: str, rope: Rope, style: str, termination: Termination
) -> None:
    one = ask(service, place, rope=rope, style=style, termination=termination)
    every = ask(service, rope=rope, style=style, termination=termination)
    asked = {each for each in one.findings if each.code not in ("service-not-stated", "nothing-read-for-service")}
    assert asked <= set(every.findings)
    assert set(one.spacing) <= set(every.spacing)
    assert {each.value for each in one.retorque} <= {each.value for each in every.retorque}
    if one.count_floor is not None:
        assert every.count_floor is not None
        assert one.count_floor.value <= every.count_floor.value
    if service is not None:
        assert factor(one) <= factor(every)


@settings(deadline=None)
@given(services, st.sampled_from(["US-CA", "US-WA", "US-MI"]), ropes, styles, terminations)
def test_a_state_takes_the_rules_of_its_federation(
    service: str | None, state: str, rope: Rope, style: str, termination: Termination
) -> None:
    federal = ask(service, "US", rope=rope, style=style, termination=termination)
    own = ask(service, state, rope=rope, style=style, termination=termination)
    apart = ("service-not-stated", "nothing-read-for-service")
    assert {each for each in federal.findings if each.code not in apart} <= set(own.findings)


@settings(deadline=None)
@given(services, st.none() | places, ropes, styles, terminations, st.randoms(use_true_random=False))
def test_the_order_of_the_rules_changes_nothing_but_the_order_of_the_findings(
    service: str | None, place: str | None, rope: Rope, style: str, termination: Termination, random: object
) -> None:
    rules = list(service_rules())
    random.shuffle(rules)  # type: ignore[attr-defined]  # hypothesis gives a random.Random
    book = ServiceBook.of(rules, design_factors())
    one = ask(service, place, rope=rope, style=style, termination=termination)
    other = ask(service, place, book=book, rope=rope, style=style, termination=termination)
    assert sorted(each.code for each in one.findings) == sorted(each.code for each in other.findings)
    assert [each.kind for each in one.findings] == [each.kind for each in other.findings]
    for field in ("count_floor", "efficiency_at_least"):
        first, second = getattr(one, field), getattr(other, field)
        assert (first and first.value) == (second and second.value)
    assert set(one.spacing) == set(other.spacing)
    assert [each.value for each in one.retorque] == [each.value for each in other.retorque]


@settings(deadline=None)
@given(services, st.none() | places, ropes, styles, terminations)
def test_findings_stand_by_gravity_and_an_answer_does_not_depend_on_the_ones_before(
    service: str | None, place: str | None, rope: Rope, style: str, termination: Termination
) -> None:
    demands = ask(service, place, rope=rope, style=style, termination=termination)
    fresh = ServiceBook.of(service_rules(), design_factors())
    assert demands == ask(service, place, book=fresh, rope=rope, style=style, termination=termination)
    ranks = [KINDS.index(each.kind) for each in demands.findings if each.code != "service-not-stated"]
    assert ranks == sorted(ranks)
    assert demands == pickle.loads(pickle.dumps(demands))
    assert isinstance(hash(demands), int)


def test_a_book_is_equal_to_its_copy_whatever_was_asked_of_it() -> None:
    fresh = ServiceBook.of(service_rules(), design_factors())
    copy = pickle.loads(pickle.dumps(BOOK))
    assert (True, True) == (fresh == BOOK, copy == BOOK)
    assert hash(fresh) == hash(BOOK)
    assert ask("sling", book=copy) == ask("sling")
