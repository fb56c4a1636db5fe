"""The cases by which the library is to be judged, end to end, each number typed from its source.

Base widths are invented: no published dimension of a clip was read.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest

from turnback.errors import Forbidden, OutOfTable
from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import LapSplice, PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.quantities import Length, Torque

INCH = 25_400_000
# 1 lbf in newtons (NIST SP 811, Appendix B).
POUND_FORCE = Fraction("4.4482216152605")


def at(text: str) -> Length:
    return Length.of(text)


def found(made: Plan, code: str) -> Finding:
    return next(finding for finding in made.findings if finding.code == code)


def gaps(made: Plan) -> set[Length]:
    return {later.position - clip.position for clip, later in zip(made.clips, made.clips[1:], strict=False)}


def absent(*numbers: object) -> set[type]:
    return {type(each) for each in numbers}


# --- 3/4 in, thimble eye, 8 CCR §8497, Table 1: 4 clips, 18 in, 130 lbf·ft ---


def three_quarters(base_width: str | None) -> Plan:
    return plan(
        "3/4 in 6x19 IWRC EIP",
        ThimbleEye(),
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width=base_width,
    )


def test_three_quarters_of_an_inch_with_the_clip_measured() -> None:
    made = three_quarters("2-1/4 in")
    assert (4, at("3/4 in"), at("18 in")) == (made.clip_count, made.clip_size, made.turn_back)
    assert (Torque(130, "lbf·ft"), "dry") == (made.torque, made.thread_condition)
    # (18 - 2 x 2-1/4) / 3 = 4-1/2 in, laid out from one base width before the first saddle.
    assert at("4-1/2 in") == made.spacing
    assert [at("3-3/8 in"), at("7-7/8 in"), at("12-3/8 in"), at("16-7/8 in")] == [clip.position for clip in made.clips]
    assert (at("2-1/4 in"), at("18 in")) == (made.clips[0].near_edge, made.clips[-1].far_edge)
    assert {"live part"} == {clip.saddle_on for clip in made.clips}
    # 80 % by common practice, of 29.4 tons of 2000 lb for 6x19 IWRC EIP (RR-W-410 and ASTM A1023, from memory).
    assert Fraction(80, 100) == made.efficiency
    breaking = made.termination_breaking_force
    assert not isinstance(breaking, Absent)
    assert float(Fraction("29.4") * 2000 * Fraction(8, 10) * POUND_FORCE) == pytest.approx(breaking.newtons, rel=1e-15)
    assert 47_040 == pytest.approx(breaking.pounds_force, rel=1e-15)
    assert made.usable


def test_the_cautions_stand_beside_it() -> None:
    made = three_quarters("2-1/4 in")
    assert made.findings[0].code == "service-not-stated"
    assert {"qualified-person", "stand-clear", "never-rated", "never-load-to"} <= {
        finding.code for finding in made.findings if finding.kind == "caution"
    }
    assert {"torque-again", "saddle-on-live-part"} <= {
        finding.code for finding in made.findings if finding.kind == "must-do"
    }
    # The strength of the rope is recalled and was not read: the plan says so and names the table.
    from_memory = [finding for finding in made.findings if finding.code == "from-memory"]
    assert any("minimum breaking force" in finding.text and "RR-W-410" in finding.text for finding in from_memory)


def test_three_quarters_of_an_inch_without_the_clip_in_hand() -> None:
    made = three_quarters(None)
    assert (4, at("18 in"), Torque(130, "lbf·ft")) == (made.clip_count, made.turn_back, made.torque)
    assert () == made.clips
    assert {Absent} == absent(made.spacing, made.dead_end)
    assert found(made, "measure-base-width").kind == "must-do"


# --- 1 in, two sources together ---


def test_one_inch_by_two_sources_needs_a_longer_turn_back_and_says_why() -> None:
    """8 CCR §8497: 5 clips in 26 in. 29 CFR 1926.251: 5 forged clips at least 6 in apart."""
    made = plan(
        "1 in 6x19 IWRC IPS",
        ThimbleEye(),
        style="u-bolt",
        rules="us-ca-8-8497+us-osha-1926-251",
        clip_body="forged",
        base_width="1-3/4 in",
    )
    # 2 x 1-3/4 + 4 x 6 = 27-1/2 in.
    assert (5, at("27-1/2 in"), at("6 in")) == (made.clip_count, made.turn_back, made.spacing)
    assert {at("6 in")} == gaps(made)
    why = found(made, "turn-back-lengthened")
    assert all(length in why.text for length in ("26 in", "27-1/2 in", "6 in"))
    cited = " ".join(str(citation) for citation in why.citations)
    assert "1926.251" in cited
    assert "8497" in cited


# --- 1/2 in mirrored-saddle clips ---


@pytest.mark.parametrize("base_width", [None, "1-1/2 in"])
def test_a_pulley_takes_one_more_mirrored_saddle_clip(base_width: str | None) -> None:
    """TM 5-3810-305-10, Table 6 and notes: 3 clips, 11 in; a pulley one more, in proportion; rated on a thimble."""
    made = plan(
        "1/2 in 6x19 IWRC EIP",
        PulleyEye("8 in"),
        style="mirrored-saddle",
        rules="us-army-3810-305",
        base_width=base_width,
    )
    assert (4, Length(ceil(Fraction(11 * INCH * 4, 3)))) == (made.clip_count, made.turn_back)
    assert {Absent} == absent(made.efficiency, made.termination_breaking_force)
    assert Torque(65, "lbf·ft", (88, "N·m")) == made.torque


@pytest.mark.parametrize(
    ("base_width", "overlap", "spacing"),
    [
        # Twice 11 in; (22 - 3 x 1-1/2) / 5 = 3-1/2 in between centres, more than 2 x 1-1/2.
        ("1-1/2 in", "22 in", "3-1/2 in"),
        # Six clips at 2 x 1-3/4 in between centres need 3 x 1-3/4 + 5 x 3-1/2 = 22-3/4 in.
        ("1-3/4 in", "22-3/4 in", "3-1/2 in"),
    ],
)
def test_a_lap_splice_keeps_its_least_spacing_and_grows_where_it_must(
    base_width: str, overlap: str, spacing: str
) -> None:
    """TM 5-3810-305-10, Table 6: 3 clips and 11 in; a lap splice takes twice both, clips one base width apart."""
    made = plan(
        "1/2 in 6x19 IWRC EIP",
        LapSplice(),
        style="mirrored-saddle",
        rules="us-army-3810-305",
        base_width=base_width,
    )
    assert (6, at(overlap), at(spacing)) == (made.clip_count, made.turn_back, made.spacing)
    assert {at(spacing)} == gaps(made)
    # The same from either dead end.
    from_other_end = [at(overlap) - clip.position for clip in reversed(made.clips)]
    assert [clip.position for clip in made.clips] == from_other_end
    assert isinstance(made.termination_breaking_force, Absent)
    # The finding is there exactly where twice the printed turn-back is not enough.
    lengthened = {finding.code for finding in made.findings} & {"turn-back-lengthened"}
    assert (overlap != "22 in") == bool(lengthened)


def test_a_lap_splice_by_two_sources_keeps_the_printed_spacing() -> None:
    """1 in: twice 5 clips and 26 in (8 CCR §8497), 6 in apart (29 CFR 1926.251): 3 x 1-3/4 + 9 x 6 = 59-1/4 in."""
    made = plan(
        "1 in 6x19 IWRC IPS",
        LapSplice(),
        style="u-bolt",
        rules="us-ca-8-8497+us-osha-1926-251",
        clip_body="forged",
        base_width="1-3/4 in",
    )
    assert (10, at("59-1/4 in"), at("6 in")) == (made.clip_count, made.turn_back, made.spacing)
    assert {at("6 in")} == gaps(made)
    # Half of the clips are reversed: each bears on the rope whose dead end is farther away.
    assert ["rope B"] * 5 + ["rope A"] * 5 == [clip.saddle_on for clip in made.clips]


# --- coated cable, 1/8 in under a coating of 3/16 in (invented) ---


def coated(stripped: bool, eye_stripped: bool = True) -> Plan:
    coating = Coating("3/16 in", stripped=stripped, eye_stripped=eye_stripped)
    rope = Rope("1/8 in", construction="7x19", finish="galvanized", coating=coating)
    eye = SoftEye(pin="1/2 in", length="2 in")
    return plan(rope, eye, style="u-bolt", rules="us-navy-14026", clip_body="forged", base_width="3/8 in")


def test_stripped_cable_takes_the_clip_of_the_bare_cable() -> None:
    """NAVEDTRA 14026: 3 x 1/8 + 1 = 1.375, so 2 clips, 6 x 1/8 = 3/4 in apart. New Brunswick: 3 in any eye."""
    made = coated(stripped=True)
    assert (at("1/8 in"), 2, at("3/4 in")) == (made.clip_size, made.clip_count, made.spacing)
    few = found(made, "fewer-than-three")
    assert few.kind == "must-do"
    assert any("WorkSafeNB" in citation.source.issuer for citation in few.citations)
    assert {Absent} == absent(made.torque, made.efficiency, made.termination_breaking_force)
    # Turn-back 2 x 3/8 + 3/4 = 1-1/2 in; stripped twice that and the rope in the eye, in one run from the dead end.
    assert at("1-1/2 in") == made.turn_back
    assert not isinstance(made.strip_length, Absent)
    assert not isinstance(made.rope_in_eye, Absent)
    assert at("3 in") == made.strip_length - made.rope_in_eye


def test_with_the_eye_left_coated_two_runs_are_stripped() -> None:
    assert at("3 in") == coated(stripped=True, eye_stripped=False).strip_length


def test_a_coating_left_on_takes_the_clip_of_the_finished_cable_and_no_strength() -> None:
    made = coated(stripped=False)
    # 3 x 3/16 + 1 = 1.5625, so 2 clips.
    assert (at("3/16 in"), 2) == (made.clip_size, made.clip_count)
    assert {Absent} == absent(made.termination_breaking_force, made.efficiency, made.strip_length)
    assert "never for critical work" in found(made, "coating-left-on").text


def test_a_coating_left_on_has_no_strength_even_where_the_clip_has_a_torque() -> None:
    """New Brunswick's table, 3/8 in: 45 lbf·ft; the torque stands, and no source rates a clip over a coating."""
    rope = Rope("5/16 in", construction="6x19", core="IWRC", grade="EIP", coating=Coating("3/8 in", stripped=False))
    made = plan(rope, ThimbleEye(), style="u-bolt", rules="ca-nb-clips")
    assert (at("3/8 in"), Torque(45, "lbf·ft")) == (made.clip_size, made.torque)
    assert isinstance(made.termination_breaking_force, Absent)
    assert "coating" in made.termination_breaking_force.reason


# --- plates ---


def plated(rope: Rope | str, maker: MakerFigures | None = None) -> Plan:
    eye = PlateEye(ThimbleEye())
    rules = "common-practice-double-plate"
    return plan(rope, eye, style="double-plate", rules=rules, base_width="1-1/2 in", maker=maker)


@pytest.mark.parametrize(
    ("rope", "dead_end", "turn_back"),
    [
        (Rope("1/8 in", construction="7x19", finish="galvanized"), "1/4 in", "1-3/4 in"),
        (Rope("1/8 in", construction="7x19", coating=Coating("3/16 in", stripped=False)), "3/8 in", "1-7/8 in"),
    ],
)
def test_two_finished_diameters_stand_out_of_a_double_plate(rope: Rope, dead_end: str, turn_back: str) -> None:
    """Common practice: at least two finished diameters of dead end beyond the body, here 1-1/2 in long (invented)."""
    made = plated(rope)
    assert (1, at(dead_end), at(turn_back)) == (made.clip_count, made.dead_end, made.turn_back)
    assert {Absent} == absent(made.spacing, made.torque, made.efficiency, made.termination_breaking_force)


def test_a_plate_is_rated_by_its_maker_alone() -> None:
    """FAA AC 43.13-1B, Table 7-3: 14400 lbf at 3/8 in, 7x19. The maker's sheet is invented: 60 %, 15 lbf·ft."""
    rope = "3/8 in 7x19 galvanized"
    assert isinstance(
        plated(rope, MakerFigures("invented sheet 1", "15 lbf·ft", "dry")).termination_breaking_force, Absent
    )
    made = plated(rope, MakerFigures("invented sheet 1", "15 lbf·ft", "dry", "60 %"))
    breaking = made.termination_breaking_force
    assert not isinstance(breaking, Absent)
    # 60 % of 14400 lbf.
    assert 8640 == pytest.approx(breaking.pounds_force, rel=1e-12)


# --- 13 mm against inch rules ---


@pytest.mark.parametrize("rules", ["us-ca-8-8497", "us-osha-1926-251", "ca-nb-clips"])
def test_thirteen_millimetres_falls_between_the_inch_sizes(rules: str) -> None:
    with pytest.raises(OutOfTable) as refused:
        plan("13 mm 6x19 IWRC", ThimbleEye(), style="u-bolt", rules=rules)
    bound = refused.value.bound
    # 13 / 12.7 = 1.0236; the next size is 5/8 in in Table H-2, which does not print 9/16.
    assert "1/2 in" in bound
    assert "+2.4" in bound
    # 13 / 14.2875 = 0.9099 and 13 / 15.875 = 0.8189.
    above, misfit = ("5/8 in", "-18.1") if rules == "us-osha-1926-251" else ("9/16 in", "-9.0")
    assert above in bound
    assert misfit in bound


def test_thirteen_millimetres_is_a_size_of_the_metric_grips() -> None:
    """EN 13411-5, Annex A, from memory: 13 mm takes 33 N·m greased; 4 grips (read)."""
    made = plan("13 mm 6x19 IWRC", ThimbleEye(), style="u-bolt", rules="en-13411-5")
    assert (at("13 mm"), 4) == (made.clip_size, made.clip_count)
    assert (Torque(33, "N·m"), "greased") == (made.torque, made.thread_condition)


# --- a forbidden service ---


@pytest.mark.parametrize(
    ("jurisdiction", "clips", "turn_back"),
    [
        ("US", 3, Fraction(23, 2)),
        ("US-CA", 3, Fraction(23, 2)),
        # The strictest of all: DGUV Information 209-013, ch. 9, forbids too, and asks for 4 in its one exception.
        (None, 4, Fraction(23 * 4, 2 * 3)),
    ],
)
def test_a_clip_eye_on_a_sling_is_forbidden(jurisdiction: str | None, clips: int, turn_back: Fraction) -> None:
    """29 CFR 1926.251(c)(4)(iii): eyes of slings, bridles and bull wires are not made with clips."""
    made = plan(
        "1/2 in 6x19 IWRC EIP",
        ThimbleEye(),
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width="1-1/2 in",
        service="sling",
        jurisdiction=jurisdiction,
    )
    first = made.findings[0]
    assert first.kind == "forbidden"
    forbidden = [finding for finding in made.findings if finding.kind == "forbidden"]
    assert any("1926.251(c)(4)(iii)" in str(citation) for finding in forbidden for citation in finding.citations)
    assert not made.usable
    assert {Absent} == absent(made.efficiency, made.termination_breaking_force)
    # The numbers that are no rating stay: somebody may have to judge a joint that is there.
    assert (clips, Length(ceil(turn_back * INCH))) == (made.clip_count, made.turn_back)
    with pytest.raises(Forbidden) as refused:
        made.working_load(5)
    assert "1926.251(c)(4)(iii)" in refused.value.citation
