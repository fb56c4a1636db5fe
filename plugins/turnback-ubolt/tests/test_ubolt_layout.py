"""The U-bolt style laid out on printed rows."""

from __future__ import annotations

from turnback.model.layout import LayoutDemand
from turnback.quantities import Length
from turnback_ubolt import U_BOLT


def demand(count: int, turn_back: str, base_width: str, splice: bool = False) -> LayoutDemand:
    return LayoutDemand(
        count=count,
        rope_diameter=Length.of("3/4 in"),
        base_width=Length.of(base_width),
        turn_back=Length.of(turn_back),
        least=None,
        greatest=None,
        depends_on_base_width=False,
        splice=splice,
    )


def test_four_clips_in_eighteen_inches() -> None:
    # 8 CCR 8497 Table 1, 3/4 in: 4 clips, 18 in. With saddles of 2-1/4 in (invented) they stand 4-1/2 in apart.
    layout = U_BOLT.lay_out(demand(4, "18 in", "2-1/4 in"))
    assert Length.of("18 in") == layout.turn_back
    assert Length.of("4-1/2 in") == layout.spacing
    assert Length.of("2-1/4 in") == layout.end_distance
    expected = ["3-3/8 in", "7-7/8 in", "12-3/8 in", "16-7/8 in"]
    assert [Length.of(text) for text in expected] == [clip.position for clip in layout.clips]
    assert Length.of("18 in") == layout.clips[-1].far_edge
    assert {"live part"} == {clip.saddle_on for clip in layout.clips}


def test_half_of_a_lap_splice_is_reversed() -> None:
    # Common practice: twice the clips; each saddle on the rope whose dead end is farther away. Rope A's is the datum.
    layout = U_BOLT.lay_out(demand(4, "18 in", "2-1/4 in", splice=True))
    assert ["rope B"] * 4 + ["rope A"] * 4 == [clip.saddle_on for clip in layout.clips]


def test_no_plate_eye_is_made_with_u_bolts() -> None:
    assert ("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice") == U_BOLT.terminations
    assert U_BOLT.wrong_way_round
    assert U_BOLT.in_series
