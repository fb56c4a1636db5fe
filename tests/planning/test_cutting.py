"""Cut length for a span, against hand arithmetic and against a rope drawn with shapely. All joints are invented."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Point

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import LapSplice, LinkedEyes, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.cutting import CutLength, cut_length
from turnback.planning.plan import Plan
from turnback.quantities import SIXTEENTH, Length, Mass

ROPE = "3/4 in 6x19 IWRC EIP"
THIMBLE = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
SOFT = SoftEye("3 in", "12 in")


def made(termination: Termination, rope: Rope | str = ROPE, base_width: str | None = "2-1/4 in") -> Plan:
    return plan(rope, termination, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", base_width=base_width)


def known(found: CutLength) -> tuple[Length, Length]:
    assert isinstance(found.length, Length)
    assert isinstance(found.tape, Length)
    return found.length, found.tape


def eye_outline(centre: float, towards: int, radius: float, a: float, e: float) -> tuple[float, float]:
    """Draw an eye: its rope as the tight band round a disc and two base points; where its base lies."""
    disc = Point(centre, 0).buffer(radius, quad_segs=20_000)
    base = centre + towards * a
    hull = MultiPoint([*disc.exterior.coords, (base, e / 2), (base, -e / 2)]).convex_hull
    return float(hull.length) - e, base


def drawn(span: float, first: tuple[float, ...], second: tuple[float, ...], e: float) -> float:
    """Draw a whole rope with bearing points ``span`` apart and measure it [in].

    Each end: radius of the centre line, base distance, bearing radius, turn-back.
    """
    radius_a, a_a, bearing_a, turn_back_a = first
    radius_b, a_b, bearing_b, turn_back_b = second
    # The pins pull outwards, so each bears at the far side of its eye: the left one at x = 0, the right one at span.
    rope_a, base_a = eye_outline(bearing_a, 1, radius_a, a_a, e)
    rope_b, base_b = eye_outline(span - bearing_b, -1, radius_b, a_b, e)
    live = LineString([(base_a, e / 2), (base_b, e / 2)])
    dead_a = LineString([(base_a, -e / 2), (base_a + turn_back_a, -e / 2)])
    dead_b = LineString([(base_b, -e / 2), (base_b - turn_back_b, -e / 2)])
    return float(dead_a.length) + rope_a + float(live.length) + rope_b + float(dead_b.length)


# Thimble: R = 2-3/8 / 2 + 1/8 + 3/4 / 2, a = 3-3/4 - 2-3/8 / 2, bears at half the width; turn-back 18 in (8 CCR 8497).
DRAWN_THIMBLE = (1.6875, 2.5625, 1.1875, 18.0)
# Soft eye: R = (3 + 3/4) / 2, a = 12 - 3 / 2, bears at half the pin; turn-back 18 in.
DRAWN_SOFT = (1.875, 10.5, 1.5, 18.0)


def test_two_thimbles_against_a_drawn_rope() -> None:
    end = made(THIMBLE)
    length, _ = known(cut_length(span="40 ft", ends=(end, end)))
    assert pytest.approx(25.4e6 * drawn(480, DRAWN_THIMBLE, DRAWN_THIMBLE, 0.75), abs=4) == length.nanometres


def test_two_different_ends_against_a_drawn_rope() -> None:
    ends = (made(THIMBLE), made(SOFT))
    length, _ = known(cut_length(span="40 ft", ends=ends))
    assert pytest.approx(25.4e6 * drawn(480, DRAWN_THIMBLE, DRAWN_SOFT, 0.75), abs=4) == length.nanometres
    turned, _ = known(cut_length(span="40 ft", ends=(ends[1], ends[0])))
    assert length == turned


def test_parts_by_hand() -> None:
    # Between the bases: 480 - 3-3/4 (the inside length of a thimble is its reach) - 12 (that of the soft eye)
    # = 464-1/4 in = 464.25 x 25 400 000 nm = 11 791 950 000 nm. Turn-back 18 in = 457 200 000 nm, both ends.
    found = cut_length(span="40 ft", ends=(made(THIMBLE), made(SOFT)))
    lengths = {part.name: part.length.nanometres for part in found.parts}
    assert 11_791_950_000 == lengths["between the two bases"]
    assert Length(11_791_950_000) == found.between_bases
    assert 457_200_000 == lengths["turn-back of the first end"]
    assert 457_200_000 == lengths["turn-back of the second end"]
    assert found.length == sum((part.length for part in found.parts), start=Length(0))
    assert 5 == len(found.parts)


def test_what_is_asked_for_beside() -> None:
    # + 2 in trim + 5 in spare + 3/8 in taken up by an adjuster - 1/4 in stretch = 7-1/8 in.
    ends = (made(THIMBLE), made(SOFT))
    plain = cut_length(span="40 ft", ends=ends)
    asked = cut_length(span="40 ft", ends=ends, trim="2 in", spare="5 in", take_up="3/8 in", stretch="1/4 in")
    assert known(plain)[0] + Length.of("7-1/8 in") == known(asked)[0]
    assert isinstance(plain.between_bases, Length)
    # 464-1/4 + 3/8 - 1/4 = 464-3/8 in.
    assert Length.of("464-3/8 in") == asked.between_bases
    assert asked.length == sum((part.length for part in asked.parts), start=Length(0))
    assert ["trim", "spare"] == [part.name for part in asked.parts][5:]


def test_none_by_default_and_said_so() -> None:
    found = cut_length(span="40 ft", ends=(made(THIMBLE), made(THIMBLE)))
    (said,) = [note for note in found.notes if note.startswith("Not given")]
    assert all(word in said for word in ("trim", "stretch", "take-up", "spare"))
    given = cut_length(span="40 ft", ends=(made(THIMBLE), made(THIMBLE)), spare="1 ft", trim="1 in")
    (said,) = [note for note in given.notes if note.startswith("Not given")]
    assert "trim" not in said
    assert "spare" not in said
    assert any("last dead end" in note for note in given.notes)


def test_the_tape_never_robs_the_last_turn_back() -> None:
    # Make the first end by its marks on the tape and set out the span exactly: what is left is the last turn-back.
    first, last = made(THIMBLE), made(SOFT)
    found = cut_length(span="1003 cm", ends=(first, last))
    length, tape = known(found)
    (base,) = [mark.tape for mark in first.marks if mark.code == "base-live-side"]
    assert isinstance(base, Length)
    assert isinstance(found.between_bases, Length)
    assert isinstance(last.rope_in_eye, Length)
    left = tape - base - found.between_bases - last.rope_in_eye
    assert Length.of("18 in") <= left < Length.of("18 in") + SIXTEENTH * 3
    assert length <= tape
    assert 0 == tape.nanometres % SIXTEENTH.nanometres


def test_mass_is_that_of_the_length() -> None:
    # 1.04 lb/ft: inch ropes, 6x19 class, IWRC, 3/4 in (RR-W-410 and ASTM A1023 family; from memory).
    found = cut_length(span="40 ft", ends=(made(THIMBLE), made(THIMBLE)))
    assert isinstance(found.mass, Mass)
    assert pytest.approx(1.04 * float(known(found)[0].inches) / 12, rel=1e-12) == found.mass.pounds


def test_a_lap_splice_has_no_bearing_point() -> None:
    found = cut_length(span="40 ft", ends=(made(THIMBLE), made(LapSplice())))
    assert isinstance(found.length, Absent)
    assert isinstance(found.tape, Absent)
    assert isinstance(found.mass, Absent)
    assert () == found.parts
    assert "second end is a lap splice" in found.reason


@pytest.mark.parametrize("missing", [ThimbleEye(), ThimbleEye("3-3/4 in", "2-3/8 in"), SoftEye("3 in"), PulleyEye()])
def test_a_missing_dimension_says_which_end(missing: Termination) -> None:
    found = cut_length(span="40 ft", ends=(made(missing), made(THIMBLE)))
    assert isinstance(found.length, Absent)
    assert "first end" in found.reason
    assert "not given" in found.reason


def test_without_base_width_a_printed_turn_back_will_do() -> None:
    # 8 CCR 8497, Table 1 prints 18 in for 3/4 in; no clip edge is needed.
    measured, not_measured = made(THIMBLE), made(THIMBLE, base_width=None)
    one = cut_length(span="40 ft", ends=(measured, measured))
    other = cut_length(span="40 ft", ends=(not_measured, not_measured))
    assert one.length == other.length


def test_linked_eyes_are_named_and_the_second_rope_is_not_forgotten() -> None:
    linked = made(LinkedEyes(THIMBLE, ThimbleEye("4-3/4 in", "2-3/8 in", "1/8 in")))
    found = cut_length(span="40 ft", ends=(linked, made(THIMBLE)))
    assert cut_length(span="40 ft", ends=(made(THIMBLE), made(THIMBLE))).length == found.length
    assert any("linked eyes" in note for note in found.notes)


def test_a_plan_that_is_not_usable_says_so() -> None:
    sling = plan(
        ROPE, THIMBLE, style="u-bolt", rules="us-ca-8-8497", clip_body="forged", service="sling", jurisdiction="US"
    )
    assert not sling.usable
    notes = cut_length(span="40 ft", ends=(made(THIMBLE), sling)).notes
    assert any("second end is not usable" in note for note in notes)


def test_a_span_no_longer_than_both_reaches_is_refused() -> None:
    # 2 x 3-3/4 = 7-1/2 in.
    end = made(THIMBLE)
    with pytest.raises(InputError, match="than the two eyes reach") as refused:
        cut_length(span="7-1/2 in", ends=(end, end))
    assert "span" == refused.value.field
    assert "7-1/2 in" in refused.value.bound


def test_turn_backs_that_overlap_are_refused() -> None:
    # 7-1/2 in of reaches and 2 x 18 in of turn-backs: 43-1/2 in is the least span.
    end = made(THIMBLE)
    with pytest.raises(InputError, match="36 in"):
        cut_length(span=Length.of("43-1/2 in") - Length(1), ends=(end, end))
    length, _ = known(cut_length(span="43-1/2 in", ends=(end, end)))
    assert Length(0) < length
    with pytest.raises(InputError):
        cut_length(span="43-1/2 in", ends=(end, end), stretch="1 mm")


@pytest.mark.parametrize("field", ["span", "trim", "stretch", "take_up", "spare"])
@pytest.mark.parametrize("value", ["-1 in", "0 in", Length(-1), Length(0), "12", 12, True])
def test_negative_and_unreadable_lengths_are_refused(field: str, value: object) -> None:
    end = made(THIMBLE)
    given: dict[str, object] = {"span": "40 ft", field: value}
    with pytest.raises(InputError) as refused:
        cut_length(ends=(end, end), **given)  # type: ignore[arg-type]  # the point of the test
    assert field == refused.value.field


def test_two_different_ropes_are_refused() -> None:
    other = made(THIMBLE, "3/4 in 6x19 FC IPS")
    with pytest.raises(InputError, match="different ropes"):
        cut_length(span="40 ft", ends=(made(THIMBLE), other))


@pytest.mark.parametrize("ends", [(), (None, None), "ab"])
def test_two_plans_are_wanted(ends: object) -> None:
    with pytest.raises(InputError, match="two ends"):
        cut_length(span="40 ft", ends=ends)  # type: ignore[arg-type]  # the point of the test


@settings(deadline=None, max_examples=50)
@given(st.integers(2 * 10**9, 10**12), st.integers(1, 10**9), st.integers(100_000_000, 400_000_000))
def test_length_follows_the_span_to_the_nanometre(span: int, more: int, inside: int) -> None:
    ends = (made(THIMBLE), made(ThimbleEye(Length(inside), "2-3/8 in", "1/8 in")))
    short, tape = known(cut_length(span=Length(span), ends=ends))
    long, _ = known(cut_length(span=Length(span + more), ends=ends))
    assert Length(more) == long - short
    assert short <= tape
    # Turn-back and eye of each end are rounded up, and then the whole once more: five times under a sixteenth.
    assert (tape - short) / SIXTEENTH < Fraction(5)
