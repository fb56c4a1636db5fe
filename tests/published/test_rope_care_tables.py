"""Seizing and discard rules against a second typing of the same print, in another layout than the files."""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.quantities import Length
from turnback.rules.ropecare import DiscardRule, SeizingRule
from turnback.rules.ropecarefile import discard_rules, seizing_rules

SIXTY_FOURTH = 396_875


def place_of(rule: SeizingRule | DiscardRule) -> str:
    return f"{rule.citation.source.document}, {rule.citation.locator}"


# Seizing: NAVEDTRA 14081 ch. 13; TM 5-3810-305-10 p. 4-34; Mich. R 408.11824(4).

NUMBERS = [
    # place, inches, preformed, not preformed
    ("NAVEDTRA 14081, ch. 13", "1/2", 2, 2),  # 3 x 1/2 = 1-1/2, rounded up
    ("NAVEDTRA 14081, ch. 13", "3/4", 3, 3),  # 2-1/4, rounded up
    ("NAVEDTRA 14081, ch. 13", "1", 3, 3),
    ("NAVEDTRA 14081, ch. 13", "1-1/8", 4, 4),  # 3-3/8, rounded up
    ("TM 5-3810-305-10, p. 4-34", "3/8", 1, 2),
    ("TM 5-3810-305-10, p. 4-34", "2", 1, 2),
    ("Michigan Administrative Code, R 408.11824(4)", "1/2", 1, 2),
    ("Michigan Administrative Code, R 408.11824(4)", "7/8", 1, 2),
    ("Michigan Administrative Code, R 408.11824(4)", "1", 1, 3),
    ("Michigan Administrative Code, R 408.11824(4)", "2", 1, 3),
    # Nothing is printed between 7/8 and 1 in: the larger number.
    ("Michigan Administrative Code, R 408.11824(4)", "15/16", 1, 3),
]


@pytest.mark.parametrize(("place", "inches", "preformed", "other"), NUMBERS)
def test_the_number_of_seizings(place: str, inches: str, preformed: int, other: int) -> None:
    [rule] = [rule for rule in seizing_rules() if place_of(rule) == place]
    diameter = Length.of(f"{inches} in")
    assert "read" == rule.citation.status
    assert preformed == rule.number(diameter, True).value
    assert other == rule.number(diameter, False).value
    assert max(preformed, other) == rule.number(diameter, None).value


def test_width_and_distance_of_the_seizings() -> None:
    shipped = {
        place_of(rule): [each and each.diameters for each in (rule.width_at_least, rule.width_at_most, rule.distance)]
        for rule in seizing_rules()
    }
    assert {
        "NAVEDTRA 14081, ch. 13": [1, Fraction(3, 2), 2],
        "TM 5-3810-305-10, p. 4-34": [1, None, 6],
        "Michigan Administrative Code, R 408.11824(4)": [None, None, None],
    } == shipped
    assert [False, True, True] == [rule.each_side for rule in seizing_rules()]


# Discarding rope: Mich. Admin. Code R 408.40834(1).

KEPT_AND_DISCARDED = [
    ("running", "broken wires in one lay", "5", "6"),
    ("running", "broken wires in one strand in one lay", "2", "3"),
    ("standing", "broken wires in one lay", "2", "3"),
    ("standing", "broken wires at an end connection", "1", "2"),
    ("any", "share of all wires broken in 8 diameters", "10/100", "101/1000"),
    ("any", "share of the outer wires' diameter worn away", "33/100", "1/3"),
]


@pytest.mark.parametrize(("rope", "measure", "kept", "discarded"), KEPT_AND_DISCARDED)
def test_the_last_value_kept_and_the_first_discarded(rope: str, measure: str, kept: str, discarded: str) -> None:
    [rule] = [rule for rule in discard_rules() if (rule.rope, rule.measure) == (rope, measure)]
    assert "Michigan Administrative Code, R 408.40834(1)" == place_of(rule)
    assert not rule.is_reached(Fraction(kept))
    assert rule.is_reached(Fraction(discarded))


def test_damage_that_is_seen_and_the_number_of_discard_rules() -> None:
    [damage] = [rule for rule in discard_rules() if rule.measure == "damage seen"]
    assert all(word in damage.text for word in ("kinks", "crushing", "bird-caging", "heat"))
    assert len(KEPT_AND_DISCARDED) + 2 == len(discard_rules())


LOSSES = {
    1: "1/8 1/4 5/16",
    2: "3/8 7/16 1/2",
    3: "9/16 5/8 3/4",
    4: "7/8 1 1-1/8",
    6: "1-1/4 1-3/8 1-1/2",
}


@pytest.mark.parametrize(("sixty_fourths", "sizes"), LOSSES.items())
def test_the_loss_of_diameter_by_size(sixty_fourths: int, sizes: str) -> None:
    [rule] = [rule for rule in discard_rules() if rule.measure == "loss of diameter"]
    expected = Length(sixty_fourths * SIXTY_FOURTH)
    assert [expected] * 3 == [rule.allowed_loss(Length.of(f"{size} in")).value for size in sizes.split()]
