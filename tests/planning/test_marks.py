"""Marks on the rope, against hand arithmetic and against a figure drawn with shapely.

The ropes, clips and thimbles are invented. Turn-backs and counts are those of 8 CCR 8497, Table 1.
"""

from __future__ import annotations

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Point

from turnback.model.absent import Absent
from turnback.model.rope import Coating, Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.build import plan
from turnback.planning.marks import Mark, marks_missing, marks_of
from turnback.planning.plan import Plan
from turnback.quantities import MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, Length

ROPE = "3/4 in 6x19 IWRC EIP"
THIMBLE = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")


def made(termination: Termination, rope: Rope | str = ROPE, base_width: str | Length | None = "2-1/4 in") -> Plan:
    return plan(rope, termination, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", base_width=base_width)


def plate(coating: Coating | None, base_width: str | None = "1 in") -> Plan:
    cable = Rope("1/8 in", "7x19", finish="galvanized", coating=coating)
    around = PlateEye(ThimbleEye("2 in", "1 in", "1/16 in"))
    rules = "common-practice-single-plate"
    return plan(cable, around, style="single-plate", rules=rules, base_width=base_width)


def inches(*texts: str) -> list[Length]:
    return [Length.of(f"{text} in") for text in texts]


def places(marks: tuple[Mark, ...], along: str, *codes: str) -> list[Length]:
    return [mark.position for mark in marks if mark.along == along and mark.code in codes]


def one(marks: tuple[Mark, ...], code: str) -> Mark:
    (found,) = [mark for mark in marks if mark.code == code]
    return found


def rope_round(radius: float, a: float, e: float) -> float:
    """Rope from base to base: the tight band round a disc and the two base points, less its base edge."""
    disc = Point(0, 0).buffer(radius, quad_segs=20_000)
    hull = MultiPoint([*disc.exterior.coords, (a, e / 2), (a, -e / 2)]).convex_hull
    return float(hull.length) - e


# 4 clips, turn-back 18 in (8 CCR 8497, Table 1, 3/4 in), base width 2-1/4 in. First near edge 2-1/4; the last ends at
# 18, so its near edge is 15-3/4; the pitch is (15-3/4 - 2-1/4) / 3 = 4-1/2.
EDGES = inches("2-1/4", "4-1/2", "6-3/4", "9", "11-1/4", "13-1/2", "15-3/4", "18")


def test_dead_part_of_a_thimble_eye_by_hand() -> None:
    marks = marks_of(made(THIMBLE))
    assert places(marks, "dead part", "clip-near-edge", "clip-far-edge") == EDGES
    assert Length(0) == one(marks, "dead-end").position
    assert Length.of("18 in") == one(marks, "base-dead-side").position
    # One rope diameter: the least width of a seizing in NAVEDTRA 14081, ch. 13, and TM 5-3810-305-10, p. 4-34.
    assert Length.of("3/4 in") == one(marks, "seizing-edge").position


def test_eye_and_live_part_against_a_drawn_figure() -> None:
    marks = marks_of(made(THIMBLE))
    # R = 2-3/8 / 2 + 1/8 + 3/4 / 2 = 1-11/16 in; a = 3-3/4 - 2-3/8 / 2 = 2-9/16 in; e = 3/4 in.
    eye = 25.4e6 * rope_round(1.6875, 2.5625, 0.75)
    turn_back = 18 * 25.4e6
    assert pytest.approx(turn_back + eye / 2, abs=2) == one(marks, "crown").position.nanometres
    assert pytest.approx(turn_back + eye, abs=2) == one(marks, "base-live-side").position.nanometres
    assert pytest.approx(2 * turn_back + eye, abs=2) == one(marks, "dead-end-lies").position.nanometres
    # Folded at the crown, every edge on the live part lies on its like on the dead part.
    folded = [2 * turn_back + eye - edge.nanometres for edge in reversed(EDGES)]
    live = places(marks, "live part", "clip-near-edge", "clip-far-edge")
    assert pytest.approx(folded, abs=2) == [length.nanometres for length in live]


def test_marks_are_numbered_in_the_order_of_the_rope() -> None:
    marks = marks_of(made(THIMBLE))
    assert list(range(1, len(marks) + 1)) == [mark.number for mark in marks]
    assert sorted(mark.position for mark in marks) == [mark.position for mark in marks]
    # 2 at the dead end, 3 at each of 4 clips on 2 parts, 2 bases, crown, dead end.
    assert 2 + 3 * 4 * 2 + 2 + 1 + 1 == len(marks)


def test_witness_marks_stand_where_slip_brings_them_into_the_open() -> None:
    marks = marks_of(made(THIMBLE))
    edges: dict[tuple[str, int, str], Length] = {(mark.along, mark.clip, mark.code): mark.position for mark in marks}
    for clip in range(1, 5):
        # The load draws the dead part towards the eye and the live part away from it.
        dead, live = ("dead part", clip, "witness"), ("live part", clip, "witness")
        assert max(edges["dead part", clip, f"clip-{side}-edge"] for side in ("near", "far")) == edges[dead]
        assert max(edges["live part", clip, f"clip-{side}-edge"] for side in ("near", "far")) == edges[live]


@pytest.mark.parametrize("termination", [THIMBLE, LapSplice()])
def test_every_name_stands_by_itself(termination: Termination) -> None:
    names = [mark.name for mark in marks_of(made(termination))]
    assert len(names) == len(set(names))


def test_saddle_on_the_live_part_is_said_at_the_edges() -> None:
    marks = marks_of(made(THIMBLE))
    said = {mark.along: mark.note for mark in marks if mark.code == "clip-near-edge"}
    assert "U sits" in said["dead part"]
    assert "saddle sits" in said["live part"]


def test_lap_splice_has_the_same_marks_on_both_ropes() -> None:
    # Overlap: the longer of 2 x 18 in and 3 x 2-1/4 + 7 x 4-1/2 = 38-1/4 in (clips one base width apart).
    marks = marks_of(made(LapSplice()))
    for rope in ("rope A", "rope B"):
        assert inches("38-1/4") == places(marks, rope, "dead-end-lies")
        assert [*EDGES, *inches("20-1/4", "22-1/2", "24-3/4", "27", "29-1/4", "31-1/2", "33-3/4", "36")] == places(
            marks, rope, "clip-near-edge", "clip-far-edge"
        )
    order_b = [mark.clip for mark in marks if mark.along == "rope B" and mark.code == "clip-near-edge"]
    assert [8, 7, 6, 5, 4, 3, 2, 1] == order_b
    saddles = {mark.along: set[int]() for mark in marks}
    for mark in marks:
        if mark.code == "clip-near-edge" and mark.note.startswith("The saddle"):
            saddles[mark.along].add(mark.clip)
    # Each saddle bears on the rope whose dead end is farther away: clips 1 to 4 stand near the dead end of rope A.
    assert {"rope A": {5, 6, 7, 8}, "rope B": {1, 2, 3, 4}} == saddles
    assert () == marks_missing(made(LapSplice()))


def test_each_of_two_linked_eyes_has_marks_of_its_own() -> None:
    linked = made(LinkedEyes(THIMBLE, ThimbleEye("4-3/4 in", "2-3/8 in", "1/8 in")))
    assert linked.other_eye is not None
    turn_back = 18 * 25.4e6
    # The second thimble is an inch longer: a = 4-3/4 - 2-3/8 / 2 = 3-9/16 in.
    for marks, a in ((linked.marks, 2.5625), (linked.other_eye.marks, 3.5625)):
        eye = 25.4e6 * rope_round(1.6875, a, 0.75)
        assert pytest.approx(turn_back + eye, abs=2) == one(marks, "base-live-side").position.nanometres


def test_plate_has_body_and_a_dead_end_of_two_diameters() -> None:
    # Body 1 in; dead end 2 x 1/8 in; base at 1-1/4 in.
    marks = marks_of(plate(None))
    assert inches("1/4", "1-1/4") == places(marks, "dead part", "clip-near-edge", "clip-far-edge")
    assert Length.of("1-1/4 in") == one(marks, "base-dead-side").position


def test_one_run_is_stripped_as_far_as_the_dead_end_comes_to_lie() -> None:
    marks = marks_of(plate(Coating("3/16 in", stripped=True)))
    assert Length(0) == one(marks, "strip-from").position
    assert one(marks, "dead-end-lies").position == one(marks, "strip-to").position


def test_two_runs_leave_the_eye_coated() -> None:
    marks = marks_of(plate(Coating("3/16 in", stripped=True, eye_stripped=False)))
    base, live = one(marks, "base-dead-side").position, one(marks, "base-live-side").position
    assert [Length(0), live] == [mark.position for mark in marks if mark.code == "strip-from"]
    assert [base, live + base] == [mark.position for mark in marks if mark.code == "strip-to"]


@pytest.mark.parametrize("coating", [None, Coating("3/16 in", stripped=False)])
def test_nothing_is_stripped_where_nothing_is_to_be(coating: Coating | None) -> None:
    assert not [mark for mark in marks_of(plate(coating)) if mark.code.startswith("strip")]


def test_without_base_width_the_base_is_marked_and_the_clips_are_not() -> None:
    unmeasured = made(THIMBLE, base_width=None)
    marks = marks_of(unmeasured)
    codes = ["dead-end", "seizing-edge", "base-dead-side", "crown", "base-live-side", "dead-end-lies"]
    assert codes == [mark.code for mark in marks]
    why = {absent.what: absent.reason for absent in marks_missing(unmeasured)}
    assert {f"clip edges and witness marks on the {part} part" for part in ("dead", "live")} == set(why)
    assert all("base width" in reason for reason in why.values())


def test_without_the_groove_nothing_is_marked_beyond_the_base() -> None:
    vague = made(ThimbleEye("3-3/4 in", "2-3/8 in"))
    assert {"dead part"} == {mark.along for mark in marks_of(vague)}
    missing = marks_missing(vague)
    assert [
        "crown of the eye",
        "base of the eye on the live side",
        "clip edges and witness marks on the live part",
        "where the dead end comes to lie",
    ] == [absent.what for absent in missing]
    assert all("groove offset" in absent.reason for absent in missing)


def test_unmeasured_plate_keeps_the_dead_end_alone() -> None:
    marks = marks_of(plate(Coating("3/16 in", stripped=True), base_width=None))
    assert ["dead-end", "seizing-edge"] == [mark.code for mark in marks]
    assert "limits of stripping" in [
        absent.what for absent in marks_missing(plate(Coating("3/16 in", stripped=True), base_width=None))
    ]


def test_metric_marks_go_to_whole_millimetres() -> None:
    # EN 13411-5: 4 grips of 13 mm at least 1.5 base widths clear; 30 mm base: 2 x 30 + 3 x 75 = 285 mm.
    eye = ThimbleEye("95 mm", "60 mm", "3 mm")
    metric = plan("13 mm 6x36WS IWRC 1960", eye, style="u-bolt", rules="en-13411-5", base_width="30 mm")
    edges = [f"{edge} mm" for edge in (30, 60, 105, 135, 180, 210, 255, 285)]
    tape = [mark.tape for mark in metric.marks if mark.along == "dead part" and mark.clip and mark.code != "witness"]
    assert [Length.of(edge) for edge in edges] == tape
    for mark in metric.marks:
        assert isinstance(mark.tape, Length)
        assert 0 == mark.tape.nanometres % MILLIMETRE.nanometres


# Rope, whether large outer wires are no question: rows of 8 CCR 8497, Table 1; base width from one to two diameters.
SIZES = st.sampled_from(["1/2 in", "3/4 in", "1 in", "1-1/2 in"])
TERMINATIONS: st.SearchStrategy[Termination] = st.one_of(
    st.builds(lambda d: PulleyEye(Length.of(d)), st.sampled_from(["6 in", "12 in", "305 mm"])),
    st.builds(lambda n: SoftEye("2 in", Length(n)), st.integers(250_000_000, 900_000_000)),
    st.builds(
        lambda n, g: ThimbleEye(Length(n), "2-3/8 in", Length(g)),
        st.integers(200_000_000, 400_000_000),
        st.integers(1, 9_000_000),
    ),
    st.just(LapSplice()),
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    size = Length.of(draw(SIZES))
    base = size + SIXTY_FOURTH * draw(st.integers(0, 30))
    rope = Rope(size, "6x19", "IWRC", "EIP", outer_wires="ordinary")
    return made(draw(TERMINATIONS), rope, base)


@settings(deadline=None, max_examples=60)
@given(plans())
def test_dead_and_live_part_fold_onto_each_other(found: Plan) -> None:
    marks = marks_of(found)
    if found.layout_demand.splice:
        a = [(mark.code, mark.position) for mark in marks if mark.along == "rope A"]
        b = [(mark.code, mark.position) for mark in marks if mark.along == "rope B"]
        assert a == b
        return
    whole = one(marks, "dead-end-lies").position
    dead = {(mark.clip, mark.code): mark.position for mark in marks if mark.along == "dead part" and mark.clip}
    live = {(mark.clip, mark.code): mark.position for mark in marks if mark.along == "live part" and mark.clip}
    sides = [key for key in dead if key[1] != "witness"]
    assert [whole] * len(sides) == [dead[key] + live[key] for key in sides]
    assert one(marks, "base-dead-side").position + one(marks, "base-live-side").position == whole
    halves = one(marks, "crown").position * 2 - whole
    assert halves in (Length(0), Length(1))


@settings(deadline=None, max_examples=60)
@given(plans())
def test_the_tape_errs_to_the_safe_side(found: Plan) -> None:
    for mark in marks_of(found):
        assert isinstance(mark.tape, Length)
        assert 0 == mark.tape.nanometres % SIXTEENTH.nanometres
        if mark.code in ("base-dead-side", "base-live-side", "dead-end-lies", "crown", "seizing-edge", "strip-to"):
            assert mark.position <= mark.tape
    for rope in ("rope A", "rope B", "dead part", "eye", "live part"):
        on_tape = [mark.tape for mark in marks_of(found) if mark.along == rope and isinstance(mark.tape, Length)]
        assert sorted(on_tape) == on_tape


def test_where_no_graduation_keeps_a_bound_the_tape_is_absent_with_the_reason() -> None:
    found = made(THIMBLE)
    bound = attrs.evolve(found.layout_demand, greatest=Length.of("4-1/2 in") - Length(1))
    marks = marks_of(attrs.evolve(found, layout_demand=bound))
    assert EDGES == places(marks, "dead part", "clip-near-edge", "clip-far-edge")
    assert all(isinstance(mark.tape, Absent) and "greatest spacing" in mark.tape.reason for mark in marks)
