"""What a service asks of a termination. Expected values are those of the paragraphs named beside them."""

from __future__ import annotations

import pytest

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.findings import Finding
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
from turnback.rules.service import ServiceRule
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
