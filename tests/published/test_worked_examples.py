"""Printed examples E1 to E11, each through the public plan; the answer is typed from print beside its source."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest

from turnback.mechanics import rule_of_thumb_short_tons
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.rope import Rope
from turnback.model.ropedata import mass_per_length
from turnback.model.terminations import PulleyEye, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Length, Torque

# 1 lbf is 4.448 221 615 260 5 N and 1 in is 25 400 000 nm (NIST SP 811, Appendix B).
POUND_FORCE = Fraction("4.4482216152605")
INCH = 25_400_000


def thimble(rope: str, rules: str, style: str = "u-bolt") -> Plan:
    return plan(rope, ThimbleEye(), style=style, rules=rules, clip_body="forged")


def rope_kilonewtons(made: Plan) -> float:
    force = made.minimum_breaking_force
    assert not isinstance(force, Absent)
    return force.newtons / 1000


@pytest.mark.parametrize(("size", "clips"), [("1 in", 4), ("1/2 in", 3)])
def test_e1_and_e2_clips_by_three_d_plus_one(size: str, clips: int) -> None:
    """NAVEDTRA 14026, p. 1-8: 1 in takes 4 clips; 1/2 in gives 2-1/2 and takes 3."""
    assert clips == thimble(f"{size} 6x19 IWRC IPS", "us-navy-14026").clip_count


def test_e3_rule_of_thumb_for_a_safe_working_load() -> None:
    """NAVEDTRA 14026, p. 1-7, 8D² in short tons: 1/2 in carries 2 tons. A cross-check that no plan uses."""
    assert 2 == rule_of_thumb_short_tons(Fraction(1, 2))


@pytest.mark.parametrize(
    ("size", "clips", "turn_back", "pound_feet"),
    [
        ("1/2 in", 3, "11-1/2 in", 65),
        ("3/4 in", 4, "18 in", 130),
        ("1 in", 5, "26 in", 225),
        ("1-1/2 in", 7, "48 in", 360),
        ("2 in", 8, "71 in", 750),
    ],
)
def test_e4_clips_turn_back_and_torque(size: str, clips: int, turn_back: str, pound_feet: int) -> None:
    """8 CCR §8497, Table 1."""
    made = thimble(f"{size} 6x25F IWRC EIP right regular", "us-ca-8-8497")
    expected = (clips, Length.of(turn_back), Torque(pound_feet, "lbf·ft"))
    assert expected == (made.clip_count, made.turn_back, made.torque)


def test_e5_the_mirrored_saddle_clip_is_printed_in_two_units() -> None:
    """TM 5-3810-305-10, Table 6, 1/2 in: 3 clips, 11 in = 279 mm, 65 lbf·ft = 88 N·m."""
    made = thimble("1/2 in 6x19 IWRC EIP right regular", "us-army-3810-305", "mirrored-saddle")
    assert 3 == made.clip_count
    turn_back, torque = made.turn_back, made.torque
    assert not isinstance(turn_back, Absent)
    assert not isinstance(torque, Absent)
    assert Length(11 * INCH) == turn_back
    assert 279 == round(turn_back.millimetres)
    assert Torque(65, "lbf·ft", (88, "N·m")) == torque
    assert 88 == round(torque.newton_metres)


def test_e6_a_pulley_in_place_of_the_thimble() -> None:
    """TM 5-3810-305-10, notes to Table 6: 4 clips, turn-back in proportion.

    11 x 4/3 in is 372 533 333 1/3 nm, so it is rounded up to the next whole nanometre.
    """
    made = plan(
        "1/2 in 6x19 IWRC EIP right regular", PulleyEye("10 in"), style="mirrored-saddle", rules="us-army-3810-305"
    )
    assert 372_533_334 == ceil(Fraction(11 * INCH * 4, 3))
    assert (4, Length(372_533_334)) == (made.clip_count, made.turn_back)


@pytest.mark.parametrize(
    ("size", "grade", "kilonewtons", "place"),
    [
        # E7 and E8: API Spec 9A / ISO 10425, Table C.1, 6x7 fibre core; half a unit of the last printed place.
        ("6 mm", "1770", 21.2, 0.05),
        ("10 mm", "1770", 58.8, 0.05),
        ("13 mm", "1770", 99.3, 0.05),
        ("20 mm", "1770", 235, 0.5),
        ("40 mm", "1770", 940, 0.5),
        ("10 mm", "1960", 65.1, 0.05),
        ("20 mm", "1960", 260, 0.5),
        ("40 mm", "1960", 1040, 5),
    ],
)
def test_e7_and_e8_breaking_force_by_formula(size: str, grade: str, kilonewtons: float, place: float) -> None:
    made = thimble(f"{size} 6x7 FC {grade}", "en-13411-5")
    assert kilonewtons == pytest.approx(rope_kilonewtons(made), rel=0, abs=place)


@pytest.mark.parametrize(
    ("size", "kilograms", "place"),
    # E7: API Spec 9A / ISO 10425, Table C.1, kg per 100 m.
    [("6 mm", 12.4, 0.05), ("10 mm", 34.5, 0.05), ("13 mm", 58.3, 0.05), ("20 mm", 138, 0.5), ("40 mm", 552, 0.5)],
)
def test_e7_mass_by_formula(size: str, kilograms: float, place: float) -> None:
    mass = mass_per_length(Rope(size, construction="6x7", core="FC", grade="1770"))
    assert isinstance(mass, Cited)
    assert kilograms == pytest.approx(100 * mass.value.kilograms_per_metre, rel=0, abs=place)


def test_e9_a_grip_of_ten_millimetres() -> None:
    """EN 13411-5, Annex A: 10 mm takes 9 N·m and 4 grips."""
    made = thimble("10 mm 6x7 FC 1770", "en-13411-5")
    assert (4, Torque(9, "N·m"), "greased") == (made.clip_count, made.torque, made.thread_condition)


@pytest.mark.parametrize(
    ("size", "pounds_force"),
    # FAA AC 43.13-1B, Table 7-3, 7x19, carbon steel.
    [("1/8 in", 2000), ("3/16 in", 4200), ("1/4 in", 7000), ("3/8 in", 14400)],
)
def test_e10_strength_of_small_cable(size: str, pounds_force: int) -> None:
    made = thimble(f"{size} 7x19 galvanized", "us-navy-14026")
    assert float(pounds_force * POUND_FORCE) == rope_kilonewtons(made) * 1000
    # No torque stands behind it, so the termination has no strength.
    assert isinstance(made.termination_breaking_force, Absent)


@pytest.mark.parametrize(
    ("size", "base_width", "apart"),
    # 29 CFR 1926.251, Table H-2, every row; the base widths are invented and under half of the distance.
    [
        ("1/2 in", "1 in", "3 in"),
        ("5/8 in", "1-1/4 in", "3-3/4 in"),
        ("3/4 in", "1-1/2 in", "4-1/2 in"),
        ("7/8 in", "1-3/4 in", "5-1/4 in"),
        ("1 in", "2 in", "6 in"),
        ("1-1/8 in", "2-1/4 in", "6-3/4 in"),
        ("1-1/4 in", "2-1/2 in", "7-1/2 in"),
        ("1-3/8 in", "2-3/4 in", "8-1/4 in"),
        ("1-1/2 in", "3 in", "9 in"),
    ],
)
def test_e11_every_spacing_is_six_diameters_exactly(size: str, base_width: str, apart: str) -> None:
    """29 CFR 1926.251, Table H-2: spacing = 6 x diameter."""
    rope = Rope.parse(f"{size} 6x19 IWRC IPS")
    made = plan(rope, ThimbleEye(), style="u-bolt", rules="us-osha-1926-251", clip_body="forged", base_width=base_width)
    assert Length.of(apart) == made.spacing == rope.diameter * 6
    gaps = {later.position - clip.position for clip, later in zip(made.clips, made.clips[1:], strict=False)}
    assert {Length.of(apart)} == gaps
