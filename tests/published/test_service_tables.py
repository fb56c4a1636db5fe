"""The service rules and design factors against a second typing of the same print.

The rule files go by service; this typing goes by document and paragraph, as the books stand on a shelf. It was typed by
hand from the restated paragraphs, not from the files. Every entry must be found once, and nothing else may ship.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.quantities import Length
from turnback.rules.service import ServiceRule
from turnback.rules.servicefile import design_factors, jurisdiction_names, service_names, service_rules

INCH = 25_400_000
SIXTY_FOURTH = 396_875

# document and paragraph | status | service, jurisdiction, kind | what must be found in the restated text
SHELF = {
    "29 CFR Part 1926, 1926.251(c)(4)(ii)": [
        ("read", "hoist-rope", "US", "required", ["one continuous piece", "knot", "eye splices", "endless slings"]),
        # The paragraph speaks of hoisting, lowering and pulling: two more services here hoist.
        ("read", "personnel-platform", "US", "required", ["one continuous piece"]),
        ("read", "tunnel-hoist", "US", "required", ["one continuous piece"]),
    ],
    "29 CFR Part 1926, 1926.251(c)(4)(iii)": [
        ("read", "sling", "US", "forbidden", ["slings", "bridles", "bull wires", "not to be made with clips"])
    ],
    "29 CFR Part 1926, 1926.251(c)(5)": [
        ("read", "construction-eye", "US", "required", ["U goes on the dead end", "number and spacing", "Table H-2"])
    ],
    "29 CFR Part 1926, 1926.451(d)(12)": [
        (
            "read",
            "scaffold-suspension",
            "US",
            "floor",
            ["3 clips", "6 rope diameters", "first load", "each shift", "dead end"],
        ),
        # The same paragraph, for clips at the point of suspension.
        ("read", "scaffold-hoist-suspension-point", "US", "floor", ["3 clips", "6 rope diameters"]),
        ("read", "scaffold-hoist-suspension-point", "US", "forbidden", ["U-bolt", "point of suspension"]),
    ],
    "29 CFR Part 1926, 1926.452(x)(9)": [
        ("read", "scaffold-bracket", "US", "forbidden", ["U-bolt", "securing and anchorage"])
    ],
    "29 CFR Part 1926, 1926.502(d)(8)": [
        ("read", "lifeline-horizontal", "US", "required", ["qualified person", "at least 2", "system"])
    ],
    "29 CFR Part 1926, 1926.1414": [("memory", "wedge-socket", "US", "required", ["unloaded dead end only"])],
    "29 CFR Part 1926, 1926.1431(g)": [
        ("read", "personnel-platform", "US", "required", ["5 times", "10 times", "rotation-resistant", "thimbles"])
    ],
    "29 CFR Part 1910, 1910.66": [
        (
            "read",
            "powered-platform",
            "US",
            "required",
            ["80 %", "factor 10", "5/16 in", "improved plow steel or better"],
        )
    ],
    "OSHA letters of interpretation, 2000-08-28 and 2004-03-04": [
        ("read", "guardrail", "US", "note", ["Table H-2", "guide"])
    ],
    "30 CFR, 57.19025, 75.1435 and 77.1437": [
        (
            "read",
            "mine-hoist",
            "US",
            "required",
            [
                "80 %",
                "no splice at the load end",
                "more than one broken wire",
                "improper installation",
                "slippage",
                "corrosion",
            ],
        )
    ],
    "33 CFR Part 164, 164.74(a)(2)(iii)": [
        (
            "read",
            "towline",
            "US",
            "forbidden",
            ["temporary repair", "thimble", "5 clips", "maker's number", "whichever is more"],
        )
    ],
    "DOE-STD-1090-96, 11.3": [("read", "critical-lift", "US", "forbidden", ["slings", "thimble", "D/d of at least 3"])],
    "California Code of Regulations, Title 8, section 8497": [
        (
            "read",
            "tunnel-hoist",
            "US-CA",
            "required",
            ["thimble eye", "Table 1 or 2", "5 for material", "10 for personnel"],
        )
    ],
    "Washington Administrative Code, WAC 296-54-569(5)(b)": [
        ("read", "logging-wrap", "US-WA", "floor", ["2 clips", "under 1 in"]),
        ("read", "logging-wrap", "US-WA", "floor", ["3 clips", "1 in and over"]),
    ],
    "Washington Administrative Code, WAC 296-96-24660": [
        ("read", "elevator-residence", "US-WA", "forbidden", ["U-shaped", "not accepted"]),
        ("read", "elevator-residence", "US-WA", "floor", ["At least 3"]),
    ],
    "Washington Administrative Code, WAC 296-155-33915(1)": [
        ("read", "any", "US-WA", "required", ["at least the expected load", "tighten", "plastic-coated", "impregnated"])
    ],
    "Washington Administrative Code, WAC 296-874-30018": [
        (
            "read",
            "scaffold-suspension",
            "US-WA",
            "required",
            ["eye-splice thimbles", "shackles", "cover plates and bolts"],
        )
    ],
    "Michigan Administrative Code, R 408.10582": [
        ("read", "any", "US-MI", "required", ["thimble", "under 4 rope diameters"])
    ],
    "Construction Code of Quebec, chapter B-1.1, r. 2, s. 4.20": [
        ("read", "elevator", "CA-QC", "bound", ["not more than 6 rope diameters"])
    ],
    "DGUV Information 209-013, ch. 9": [
        (
            "read",
            "sling",
            "DE",
            "forbidden",
            ["single use", "at least 4", "bridge", "loaded part", "under load", "after use"],
        )
    ],
    "DGUV Vorschrift 60, section 40(3)": [("read", "mooring", "DE", "forbidden", ["mooring and warping"])],
    # No text read: asked for in crane and hoisting work, so in every service here that hoists.
    "Crane and hoisting practice, forged clips only": [
        ("memory", service, "any", "note", ["Forged clips only", "crane and hoisting"])
        for service in ("hoist-rope", "personnel-platform", "mine-hoist", "tunnel-hoist")
    ],
    "Common practice of the trade, malleable clips": [
        ("common practice", service, "any", "note", ["light, non-critical"])
        for service in ("hoist-rope", "personnel-platform", "mine-hoist", "tunnel-hoist")
    ],
}

ROWS = [(place, *row) for place, rows in SHELF.items() for row in rows]


def place_of(rule: ServiceRule) -> str:
    return f"{rule.citation.source.document}, {rule.citation.locator}"


def rule_of(service: str, jurisdiction: str, kind: str, number: int = 0) -> ServiceRule:
    found = [r for r in service_rules() if (r.service, r.jurisdiction, r.kind) == (service, jurisdiction, kind)]
    return found[number]


@pytest.mark.parametrize(("place", "status", "service", "jurisdiction", "kind", "words"), ROWS)
def test_each_paragraph_is_found_once_as_restated(
    place: str, status: str, service: str, jurisdiction: str, kind: str, words: list[str]
) -> None:
    found = [
        rule
        for rule in service_rules()
        if (place_of(rule), rule.service, rule.jurisdiction, rule.kind) == (place, service, jurisdiction, kind)
        and all(word in rule.text for word in words)
    ]
    assert [status] == [rule.citation.status for rule in found]


def test_no_other_paragraph_ships() -> None:
    typed = sorted((place, service, jurisdiction, kind) for place, _, service, jurisdiction, kind, _ in ROWS)
    assert typed == sorted((place_of(r), r.service, r.jurisdiction, r.kind) for r in service_rules())


def test_the_services_and_jurisdictions_are_the_printed_ones() -> None:
    services = """sling construction-eye hoist-rope scaffold-suspension scaffold-hoist-suspension-point scaffold-bracket
        lifeline-horizontal guardrail personnel-platform powered-platform mine-hoist tunnel-hoist towline critical-lift
        mooring elevator elevator-residence logging-wrap guy pendant general wedge-socket"""
    assert set(services.split()) == {name for name, _ in service_names()}
    places = "US US-CA US-WA US-MI CA-AB CA-QC CA-NB DE AU"
    assert set(places.split()) == {name for name, _ in jurisdiction_names()}


# Numbers of the paragraphs: service, jurisdiction, kind and, where there are two such rules, which of them.

COUNTS = {
    ("scaffold-suspension", "US", "floor", 0): 3,
    ("scaffold-hoist-suspension-point", "US", "floor", 0): 3,
    ("elevator-residence", "US-WA", "floor", 0): 3,
    ("logging-wrap", "US-WA", "floor", 0): 2,
    ("logging-wrap", "US-WA", "floor", 1): 3,
    ("sling", "DE", "forbidden", 0): 4,
    ("towline", "US", "forbidden", 0): 5,
}


def test_the_least_counts_are_the_printed_ones_and_no_others() -> None:
    assert COUNTS == {key: rule_of(*key).clip_count_at_least for key in COUNTS}
    assert len(COUNTS) == sum(rule.clip_count_at_least is not None for rule in service_rules())


def test_the_stump_wraps_part_at_one_inch() -> None:
    two, three = (rule_of("logging-wrap", "US-WA", "floor", number) for number in (0, 1))
    assert (None, Length(INCH)) == (two.rope_from, two.rope_below)
    assert (Length(INCH), None) == (three.rope_from, three.rope_below)


def test_the_distances_are_six_diameters_least_in_the_one_and_greatest_in_the_other() -> None:
    shipped = [
        (rule.service, rule.jurisdiction, bound.bound, bound.clear, bound.length and bound.length.diameters)
        for rule in service_rules()
        for bound in rule.spacing
    ]
    assert [
        ("scaffold-suspension", "US", "least", False, Fraction(6)),
        ("scaffold-hoist-suspension-point", "US", "least", False, Fraction(6)),
        ("elevator", "CA-QC", "greatest", False, Fraction(6)),
    ] == shipped


def test_tightening_again_is_asked_for_where_it_is_printed() -> None:
    scaffold = ("after the first load", "each shift")
    assert {
        ("scaffold-suspension", "US"): scaffold,
        ("scaffold-hoist-suspension-point", "US"): scaffold,
        ("any", "US-WA"): ("after the first load",),
    } == {(rule.service, rule.jurisdiction): rule.retorque for rule in service_rules() if rule.retorque}


def test_rules_that_name_u_bolt_clips() -> None:
    assert {
        ("construction-eye", "required"),
        ("scaffold-hoist-suspension-point", "forbidden"),
        ("scaffold-bracket", "forbidden"),
        ("elevator-residence", "forbidden"),
    } == {(rule.service, rule.kind) for rule in service_rules() if rule.styles == ("u-bolt",)}
    assert set() == {rule.styles for rule in service_rules()} - {(), ("u-bolt",)}


def test_thimbles_pins_ropes_and_grades() -> None:
    assert {"personnel-platform", "tunnel-hoist", "towline", "critical-lift"} == {
        rule.service for rule in service_rules() if rule.needs_thimble
    }
    assert [("any", "US-MI", 4)] == [
        (rule.service, rule.jurisdiction, rule.pin_under_diameters)
        for rule in service_rules()
        if rule.pin_under_diameters
    ]
    platform = rule_of("powered-platform", "US", "required")
    assert Length(20 * SIXTY_FOURTH) == platform.rope_at_least
    assert ("IPS", "EIP", "EEIP") == platform.grades
    assert {"powered-platform": Fraction(80, 100), "mine-hoist": Fraction(80, 100)} == {
        rule.service: rule.efficiency_at_least for rule in service_rules() if rule.efficiency_at_least
    }


def test_factors_that_stand_in_the_paragraphs_themselves() -> None:
    assert {
        ("personnel-platform", "US"): (Fraction(5), Fraction(10)),
        ("powered-platform", "US"): (Fraction(10), None),
        ("tunnel-hoist", "US-CA"): (Fraction(10), None),
    } == {
        (rule.service, rule.jurisdiction): (rule.design_factor, rule.design_factor_rotation_resistant)
        for rule in service_rules()
        if rule.design_factor
    }


# Design factors, by document, as (paragraph, use, factor); every one of them was read.

FACTORS = {
    "Washington Administrative Code": [("WAC 296-24-29401", "wire rope in general", "5")],
    "Michigan Administrative Code": [("R 408.15226", "wire rope in general", "5")],
    "29 CFR Part 1910": [("1910.66", "powered platform ropes", "10")],
    "29 CFR Part 1917": [("1917.42(b)(1)", "wire rope in general", "5")],
    "29 CFR Part 1919": [("1919.79", "shore gear, nothing specific given", "4")],
    "29 CFR Part 1926": [("1926.451(a)(4)", "suspension scaffold ropes", "6")],
    "49 CFR Part 393": [("393.108(e)(1)", "cargo tie-down", "4")],
    "Occupational Health and Safety Code of Alberta": [
        ("292(1)", "rigging in general", "5"),
        ("292(1)", "rigging that lifts people", "10"),
        ("292.1(1)(a)", "running lines", "3.5"),
        ("292.1(1)(b)", "hoist lines, non-rotating rope", "5"),
        ("292.1(1)(d)", "guys and pendants", "3"),
        ("292.1(1)(e)", "winch lines", "2"),
    ],
    "California Code of Regulations, Title 8": [
        ("section 7135", "mine hoists beyond 2000 ft deep, new rope", "5"),
        ("section 7135", "mine hoists to 1000 ft deep, new rope", "7"),
        ("section 7135", "mine hoists to 2000 ft deep, new rope", "6"),
        ("section 7135", "mine hoists to 500 ft deep, new rope", "8"),
        ("section 8497(a)", "tunnel hoists, material", "5"),
        ("section 8497(a)", "tunnel hoists, personnel", "10"),
    ],
}


def test_the_design_factors_are_the_printed_ones_and_no_others() -> None:
    typed = {(document, place, use): Fraction(n) for document, rows in FACTORS.items() for place, use, n in rows}
    shipped = {(f.citation.source.document, f.citation.locator, f.use): f.factor for f in design_factors()}
    assert typed == shipped
    assert len(typed) == len(design_factors())
    assert {"read"} == {factor.citation.status for factor in design_factors()}


def test_factors_that_stand_for_a_service() -> None:
    assert {
        "general": {"US": "5", "US-WA": "5", "US-MI": "5", "CA-AB": "5"},
        "guy": {"CA-AB": "3"},
        "pendant": {"CA-AB": "3"},
        "scaffold-suspension": {"US": "6"},
        "scaffold-hoist-suspension-point": {"US": "6"},
    } == {
        service: {f.jurisdiction: str(f.factor) for f in design_factors() if service in f.services}
        for service in ("general", "guy", "pendant", "scaffold-suspension", "scaffold-hoist-suspension-point")
    }
    named_alone = {factor.use for factor in design_factors() if not factor.services}
    assert {"winch lines", "cargo tie-down", "shore gear, nothing specific given"} == named_alone
