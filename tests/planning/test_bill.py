"""The bill of materials. Ropes, clips and thimbles are invented; what is printed is cited beside it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.bill import bill_of, seizing_of
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.quantities import SIXTEENTH, Length, Mass

ROPE = "3/4 in 6x19 IWRC EIP"
THIMBLE = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
LONGER = ThimbleEye("4-3/4 in", "2-3/8 in", "1/8 in")


def made(termination: Termination, rope: Rope | str = ROPE, base_width: str | None = "2-1/4 in") -> Plan:
    return plan(rope, termination, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", base_width=base_width)


def of(rope: Rope) -> Plan:
    """A plan for a rope of any size: plate clips are sized to the cable."""
    return plan(rope, PlateEye(), style="double-plate", rules="common-practice-double-plate")


def plate(termination: PlateEye, coating: Coating | None = None) -> Plan:
    cable = Rope("1/8 in", "7x19", finish="galvanized", coating=coating)
    return plan(cable, termination, style="single-plate", rules="common-practice-single-plate", base_width="1 in")


# NAVEDTRA 14081, ch. 13: about 3D seizings rounded up, 1 to 1-1/2 D wide, 2 D apart.
# TM 5-3810-305-10, p. 4-34: each side of the cut 1 preformed, at least 2 not; at least 1 D wide, 6 D apart.
# Mich. R 408.11824(4): each side of the cut 1 preformed; not preformed 2 up to 7/8 in, 3 from 1 in.
# The largest of the three, with the distance of the source that asks for it.
@pytest.mark.parametrize(
    ("size", "preformed", "number", "distances"),
    [
        ("1/8 in", True, 1, []),  # 3 x 1/8 up = 1; 1; 1
        ("1/8 in", False, 2, ["3/4 in"]),  # 1; 2; 2: the army's 6 x 1/8
        ("5/16 in", False, 2, ["1-7/8 in"]),  # 3 x 5/16 = 15/16 up = 1; 2; 2
        ("1/2 in", True, 2, ["1 in"]),  # 3 x 1/2 up = 2; 1; 1: the navy's 2 x 1/2
        ("1/2 in", False, 2, ["1 in", "3 in"]),  # 2; 2; 2: both distances stand
        ("3/4 in", True, 3, ["1-1/2 in"]),  # 9/4 up = 3; 1; 1
        ("7/8 in", False, 3, ["1-3/4 in"]),  # 21/8 up = 3; 2; 2
        ("1 in", False, 3, ["2 in"]),  # 3; 2; 3: Michigan prints no distance
        ("1-1/2 in", False, 5, ["3 in"]),  # 9/2 up = 5; 2; 3
    ],
)
def test_seizing_is_the_most_that_a_source_asks_for(
    size: str, preformed: bool, number: int, distances: list[str]
) -> None:
    rope = Rope(size, "6x19", "IWRC", "EIP", outer_wires="ordinary", preformed=preformed)
    seizing = seizing_of(of(rope))
    assert number == seizing.number
    assert [Length.of(distance) for distance in distances] == [each.value for each in seizing.distances]
    assert not seizing.ask_preformed


def test_seizing_is_one_to_one_and_a_half_diameters_wide() -> None:
    # NAVEDTRA 14081, ch. 13, and at least one diameter in TM 5-3810-305-10, p. 4-34.
    seizing = seizing_of(made(THIMBLE))
    assert Length.of("3/4 in") == seizing.width_at_least
    assert Length.of("1-1/8 in") == seizing.width_at_most
    assert {"NAVEDTRA 14081"} == {citation.source.document for citation in seizing.citations}


def test_preformed_or_not_is_asked_where_it_matters() -> None:
    unsaid = of(Rope("5/16 in", "6x19", "IWRC", "EIP"))
    assert seizing_of(unsaid).ask_preformed
    assert "nobody said" in bill_of(unsaid).line("seizings").note
    assert not seizing_of(made(THIMBLE)).ask_preformed


def test_coated_cable_is_seized_over_its_coating() -> None:
    # 3/16 in over the coating: at least 1 D wide in both books.
    assert Length.of("3/16 in") == seizing_of(plate(PlateEye(), Coating("3/16 in", stripped=True))).width_at_least


@pytest.mark.parametrize(
    ("termination", "clips", "thimbles", "seizings"),
    [
        (THIMBLE, 4, 1, 6),
        (SoftEye("3 in", "12 in"), 4, None, 6),
        (PulleyEye("12 in"), 5, None, 6),
        (LinkedEyes(THIMBLE, LONGER), 8, 2, 12),
        (LapSplice(), 8, None, 12),
    ],
)
def test_pieces(termination: Termination, clips: int, thimbles: int | None, seizings: int) -> None:
    # 8 CCR 8497, Table 1, 3/4 in: 4 clips; a pulley takes one more (TM 5-3810-305-10); two eyes or a lap take twice 4.
    # 3 seizings (NAVEDTRA 14081: 9/4 up) on two sides of each cut; two ropes are cut for linked eyes and a lap splice.
    bill = bill_of(made(termination))
    codes = [line.code for line in bill.lines]
    assert clips == bill.line("clips").number
    assert (thimbles is not None) == ("thimbles" in codes)
    if thimbles is not None:
        assert thimbles == bill.line("thimbles").number
    assert (termination.kind == "pulley eye") == ("pulley" in codes)
    assert seizings == bill.line("seizings").number


def test_rope_is_the_turn_back_and_the_eye() -> None:
    found = made(THIMBLE)
    line = bill_of(found).line("rope")
    live = [mark.position for mark in found.marks if mark.code == "base-live-side"]
    assert live == [line.length]
    assert isinstance(line.length, Length)
    assert isinstance(line.tape, Length)
    assert 0 == line.tape.nanometres % SIXTEENTH.nanometres
    assert Length(0) <= line.tape - line.length < SIXTEENTH
    # 1.04 lb/ft: inch ropes, 6x19 class, IWRC, 3/4 in (RR-W-410 and ASTM A1023 family; from memory).
    assert isinstance(line.mass, Mass)
    assert pytest.approx(1.04 * float(line.length.inches) / 12, rel=1e-12) == line.mass.pounds


def test_linked_eyes_total_both_eyes() -> None:
    first, second = bill_of(made(THIMBLE)).line("rope").length, bill_of(made(LONGER)).line("rope").length
    assert isinstance(first, Length)
    assert isinstance(second, Length)
    assert first + second == bill_of(made(LinkedEyes(THIMBLE, LONGER))).line("rope").length


def test_lap_splice_uses_the_overlap_of_both_ropes() -> None:
    # Overlap 3 x 2-1/4 + 7 x 4-1/2 = 38-1/4 in, twice.
    assert Length.of("76-1/2 in") == bill_of(made(LapSplice())).line("rope").length


def test_what_is_not_known_says_why() -> None:
    bill = bill_of(made(ThimbleEye()))
    line = bill.line("rope")
    assert isinstance(line.length, Absent)
    assert isinstance(line.mass, Absent)
    assert "inside length" in line.length.reason
    assert "length not known" in str(line)
    assert "absent:" not in str(bill)


def test_mass_is_absent_where_no_table_speaks_of_the_rope() -> None:
    line = bill_of(plate(PlateEye(ThimbleEye("2 in", "1 in", "1/16 in")))).line("rope")
    assert isinstance(line.length, Length)
    assert isinstance(line.mass, Absent)


def test_no_number_of_spares_is_made_up() -> None:
    found = made(THIMBLE)
    assert isinstance(bill_of(found).line("spare-clips").number, Absent)
    assert 2 == bill_of(found, spare_clips=2).line("spare-clips").number
    assert 0 == bill_of(found, spare_clips=0).line("spare-clips").number


@pytest.mark.parametrize("spares", [-1, 1001, True, Fraction(2)])
def test_spares_are_a_whole_number(spares: object) -> None:
    with pytest.raises(InputError, match="spare_clips"):
        bill_of(made(THIMBLE), spare_clips=spares)  # type: ignore[arg-type]  # the point of the test


def test_tools_and_what_a_coating_adds() -> None:
    bare = {line.code for line in bill_of(plate(PlateEye())).lines}
    stripped = {line.code for line in bill_of(plate(PlateEye(), Coating("3/16 in", stripped=True))).lines}
    left_on = {line.code for line in bill_of(plate(PlateEye(), Coating("3/16 in", stripped=False))).lines}
    assert {"tape", "vernier", "paint-marker", "cutter", "torque-wrench"} <= bare
    assert {"stripper", "sealant"} == stripped - bare
    assert bare == left_on


def test_torque_wrench_covers_the_torque() -> None:
    # 8 CCR 8497, Table 1, 3/4 in: 130 lbf·ft.
    assert "130 lbf·ft" in bill_of(made(THIMBLE)).line("torque-wrench").item
    assert "clip maker's torque" in bill_of(plate(PlateEye())).line("torque-wrench").item


def test_grease_where_the_source_greases_the_threads() -> None:
    # EN 13411-5, Annex A: threads and nuts greased (from memory).
    metric = plan("13 mm 6x36WS IWRC 1960", THIMBLE, style="u-bolt", rules="en-13411-5", base_width="30 mm")
    assert "grease" in {line.code for line in bill_of(metric).lines}
    assert "grease" not in {line.code for line in bill_of(made(THIMBLE)).lines}
    maker = MakerFigures("invented sheet 1, page 2", torque="120 lbf·ft", threads="dry")
    dry = plan(ROPE, THIMBLE, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", maker=maker)
    assert "grease" not in {line.code for line in bill_of(dry).lines}


def test_every_line_has_a_citation() -> None:
    for found in (made(LinkedEyes(THIMBLE, LONGER)), made(LapSplice()), plate(PlateEye())):
        assert all(line.citations for line in found.bill.lines)


def test_an_unknown_line_is_refused() -> None:
    with pytest.raises(InputError, match="torque-wrench"):
        bill_of(made(THIMBLE)).line("wrench")
