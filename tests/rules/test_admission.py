"""Clause by clause: a joint that meets every clause to the nanometre, and then breaks one of them alone.

The rule set is invented, so that every clause has a place of its own; the arithmetic is done by hand beside each case.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import attrs
import pytest

from turnback.model.cited import Cited
from turnback.model.sources import Citation, Source
from turnback.quantities import Length, Torque
from turnback.rules.admission import EXACT, Breach, Joint, Margin, breaches, means_torque
from turnback.rules.ruleset import (
    Adjustments,
    CountRule,
    Floor,
    LargeWires,
    LinearLength,
    Row,
    RuleSet,
    SpacingBound,
)

SOURCE = Source("invented", "Invented Institute, sheet 1")
INCH = 25_400_000
HALF = Length.of("1/2 in")


def cite(place: str) -> Citation:
    return Citation(SOURCE, place, "read")


def inches(*values: float | Fraction | int | str) -> tuple[Length, ...]:
    return tuple(Length(int(Fraction(value) * INCH)) for value in values)


def bound(
    kind: Literal["least", "greatest", "equal"], diameters: int, base_widths: str = "0", *, clear: bool = False
) -> SpacingBound:
    length = LinearLength(Fraction(diameters), Fraction(base_widths), Length(0), kind)
    return SpacingBound(kind, clear, length, cite(kind))


ROW = Row(
    HALF,
    count_forged=Cited(4, (cite("forged"),)),
    count_other=Cited(5, (cite("other"),)),
    turn_back=Cited(Length.of("16 in"), (cite("turn-back"),)),
    torque=Cited(Torque(65, "lbf·ft", (88, "N·m")), (cite("torque"),)),
)
RULES = RuleSet(
    "invented",
    "u-bolt",
    "Invented",
    "",
    SOURCE,
    cite("whole"),
    rows=(ROW,),
    # 6 x 1/2 = 3 in and 10 x 1/2 = 5 in between centres.
    spacing=(bound("least", 6), bound("greatest", 10)),
    threads=Cited("dry", (cite("threads"),)),
)
# 4 clips, 1 in long, 4 in apart: the first 1 in from the dead end, the last ends at 1 + 3 x 4 + 1 = 14 in of 16 in.
JOINT = Joint(
    "thimble eye",
    HALF,
    HALF,
    "forged",
    4,
    Length.of("1 in"),
    Length.of("16 in"),
    inches(1, 5, 9, 13),
    Torque(65, "lbf·ft"),
    "dry",
)


def changed(**fields: object) -> Joint:
    return attrs.evolve(JOINT, **fields)  # type: ignore[arg-type]  # one field of many


def only(rules: RuleSet, joint: Joint, margin: Margin = EXACT) -> Breach:
    found = breaches(rules, joint, margin=margin)
    assert 1 == len(found), found
    return found[0]


def admitted(rules: RuleSet, joint: Joint, margin: Margin = EXACT) -> None:
    assert () == breaches(rules, joint, margin=margin)


def test_a_joint_that_meets_every_clause_is_admitted() -> None:
    admitted(RULES, JOINT)


# --- size ---


def test_a_size_that_is_not_printed() -> None:
    breach = only(RULES, changed(clip_size=Length(HALF.nanometres + 1)))
    assert ("size", f"one of {HALF}", cite("whole")) == (breach.clause, breach.expected, breach.citation)


def test_a_size_outside_the_range_of_a_linear_rule() -> None:
    low, high = inches("1/4", "1/2")
    rule = CountRule(Fraction(3), 1, low, high, cite("rule"), cite("sizes"), "3 per inch, plus 1, rounded up")
    linear = attrs.evolve(RULES, rows=(), count_rule=rule)
    # 3 x 1/2 + 1 = 2.5: 3 clips.
    admitted(linear, changed(count=3))
    assert Breach("count", "at least 3 clips", "2 clips", cite("rule")) == only(linear, changed(count=2))
    breach = only(linear, changed(rope_diameter=Length(high.nanometres + 1)))
    assert ("size", f"from {low} up to {high}", cite("whole")) == (breach.clause, breach.expected, breach.citation)
    admitted(attrs.evolve(linear, count_rule=attrs.evolve(rule, least=None, greatest=None)), JOINT)


# --- count ---


@pytest.mark.parametrize(
    ("body", "least", "place"), [("forged", 4, "forged"), ("other", 5, "other"), ("not given", 5, "other")]
)
def test_a_clip_too_few_for_its_body(body: str, least: int, place: str) -> None:
    # A body that is not given takes the larger count, and the turn-back in proportion to the smaller.
    turn_back = JOINT.turn_back if body != "not given" else Length.of("20 in")
    enough = changed(clip_body=body, count=least, turn_back=turn_back)
    admitted(RULES, enough)
    breach = only(RULES, attrs.evolve(enough, count=least - 1))
    expected = Breach("count", f"at least {least} clips", f"{least - 1} clips", cite(place))
    assert expected == breach


def longer(joint: Joint, count: int) -> Joint:
    """The same joint with more clips and rope enough for them."""
    return attrs.evolve(joint, count=count, turn_back=joint.turn_back and joint.turn_back * 3)


@pytest.mark.parametrize(
    ("adjustments", "floors", "fields", "least", "place"),
    [
        # 4 + 1 for large outer wires, from the very size on.
        (Adjustments(large_wires=LargeWires(1, HALF, cite("wires"))), (), {"large_wires": True}, 5, "forged"),
        (Adjustments(large_wires=LargeWires(1, HALF, cite("wires"))), (), {"large_wires": False}, 4, "forged"),
        (Adjustments(large_wires=LargeWires(1, HALF, cite("wires"))), (), {"large_wires": None}, 4, "forged"),
        (
            Adjustments(large_wires=LargeWires(1, Length(HALF.nanometres + 1), cite("wires"))),
            (),
            {"large_wires": True},
            4,
            "forged",
        ),
        # A floor over the printed count, and one under it.
        (Adjustments(), (Floor(6, "six", cite("floor")),), {}, 6, "floor"),
        (Adjustments(), (Floor(3, "three", cite("floor")),), {}, 4, "forged"),
        (Adjustments(), (Floor(4, "four", cite("floor")),), {}, 4, "forged"),
        # The pulley comes on top of the floor: 6 + 2.
        (
            Adjustments(pulley=Cited(2, (cite("pulley"),))),
            (Floor(6, "six", cite("floor")),),
            {"kind": "pulley eye"},
            8,
            "floor",
        ),
        (Adjustments(pulley=Cited(2, (cite("pulley"),))), (), {"kind": "thimble eye"}, 4, "forged"),
        # Wires before the floor: 4 + 1 = 5 is still under 6.
        (
            Adjustments(large_wires=LargeWires(1, HALF, cite("wires"))),
            (Floor(6, "six", cite("floor")),),
            {"large_wires": True},
            6,
            "floor",
        ),
        # A lap splice has the clips of two eyes, whoever says so.
        (Adjustments(), (), {"kind": "lap splice"}, 8, "forged"),
        (Adjustments(lap_factor=Cited(2, (cite("lap"),))), (), {"kind": "lap splice"}, 8, "forged"),
    ],
)
def test_a_clip_too_few_after_what_the_source_adds(
    adjustments: Adjustments, floors: tuple[Floor, ...], fields: dict[str, object], least: int, place: str
) -> None:
    rules = attrs.evolve(RULES, adjustments=adjustments, floors=floors)
    joint = longer(changed(**fields), least)
    admitted(rules, joint)
    breach = only(rules, attrs.evolve(joint, count=least - 1))
    assert Breach("count", f"at least {least} clips", f"{least - 1} clips", cite(place)) == breach


# --- turn-back ---


@pytest.mark.parametrize(
    ("fields", "least"),
    [
        # 16 in for the 4 clips that are printed.
        ({}, Fraction(16)),
        # In proportion to more clips: 16 x 5/4 = 20 in.
        ({"count": 5}, Fraction(20)),
        # The other body prints 5 clips beside the same turn-back: 16 x 6/5 in.
        ({"clip_body": "other", "count": 6}, Fraction(96, 5)),
        # A lap splice overlaps by two turn-backs, in proportion to half of its clips: 2 x 16, 2 x 16 x 5/4.
        ({"kind": "lap splice", "count": 8}, Fraction(32)),
        ({"kind": "lap splice", "count": 10}, Fraction(40)),
    ],
)
def test_a_turn_back_a_nanometre_short(fields: dict[str, object], least: Fraction) -> None:
    exact = Length(int(least * INCH))
    joint = changed(turn_back=exact, **fields)
    admitted(RULES, joint)
    breach = only(RULES, attrs.evolve(joint, turn_back=Length(exact.nanometres - 1)))
    assert ("turn-back", f"at least {exact}", cite("turn-back")) == (breach.clause, breach.expected, breach.citation)


def test_a_turn_back_that_is_no_whole_number_of_nanometres_is_rounded_up() -> None:
    """11 x 4/3 in: the printed example of TM 5-3810-305-10, Table 6, with a pulley."""
    row = attrs.evolve(
        ROW,
        count=Cited(3, (cite("count"),)),
        count_forged=None,
        count_other=None,
        turn_back=Cited(Length.of("11 in"), (cite("turn-back"),)),
    )
    rules = attrs.evolve(RULES, rows=(row,))
    # 11 x 4/3 x 25.4 mm = 372 533 333 nm and a third.
    admitted(rules, changed(turn_back=Length(372_533_334)))
    assert f"at least {Length(372_533_334)}" == only(rules, changed(turn_back=Length(372_533_333))).expected


def test_too_few_clips_break_the_count_and_do_not_shorten_the_turn_back() -> None:
    found = breaches(RULES, changed(count=2, turn_back=Length.of("15 in")))
    assert ["count", "turn-back"] == [breach.clause for breach in found]
    assert f"at least {Length.of('16 in')}" == found[1].expected


# --- spacing ---


@pytest.mark.parametrize(
    ("edges", "pair", "expected"),
    [
        # Least 3 in: 1, 5, 8, 11 in, and then the second pair a nanometre closer.
        ((1, 5, 8, 11), None, ""),
        ((1, 5, 8 - Fraction(1, INCH), 11), (2, 3), "at least 3 in"),
        # Greatest 5 in: 1, 6, 10, 14 in, and then the first pair a nanometre farther.
        ((1, 6, 10, 14), None, ""),
        ((1, 6 + Fraction(1, INCH), 10, 14), (1, 2), "at most 5 in"),
    ],
)
def test_a_pair_of_clips_a_nanometre_off(
    edges: tuple[float | Fraction, ...], pair: tuple[int, int] | None, expected: str
) -> None:
    joint = changed(near_edges=inches(*edges))
    if pair is None:
        admitted(RULES, joint)
        return
    breach = only(RULES, joint)
    assert ("spacing", pair, cite(expected.split()[1].replace("most", "greatest"))) == (
        breach.clause,
        breach.clips,
        breach.citation,
    )
    assert breach.expected.startswith(expected)
    assert breach.expected.endswith(f"between centres of clips {pair[0]} and {pair[1]}")


def test_every_pair_that_breaks_it_is_named() -> None:
    found = breaches(RULES, changed(near_edges=inches(1, 3, 5, 9)))
    assert [(1, 2), (2, 3)] == [breach.clips for breach in found]


@pytest.mark.parametrize(("apart", "breaks"), [(Fraction(5, 2), False), (Fraction(5, 2) - Fraction(1, INCH), True)])
def test_a_clear_distance_is_measured_between_saddles(apart: Fraction, breaks: bool) -> None:
    """1.5 base widths of 1 in clear are 2-1/2 in between centres."""
    rules = attrs.evolve(RULES, spacing=(bound("least", 0, "1.5", clear=True),))
    joint = changed(near_edges=inches(1, 1 + apart, 9, 13))
    assert ([(1, 2)] if breaks else []) == [breach.clips for breach in breaches(rules, joint)]
    # Without the base width nobody can tell.
    admitted(rules, attrs.evolve(joint, base_width=None))


@pytest.mark.parametrize(("off", "breaks"), [(-1, True), (0, False), (1, True)])
def test_an_equal_distance_holds_on_both_sides(off: int, breaks: bool) -> None:
    rules = attrs.evolve(RULES, spacing=(bound("equal", 8),))
    edges = (*inches(1, 5, 9), Length(13 * INCH + off))
    found = breaches(rules, changed(near_edges=edges))
    assert ([("spacing", (3, 4), cite("equal"))] if breaks else []) == [(b.clause, b.clips, b.citation) for b in found]


def test_a_distance_that_each_row_prints_is_cited_by_its_cell() -> None:
    row = attrs.evolve(ROW, spacing=Cited(Length.of("4 in"), (cite("cell"),)))
    rules = attrs.evolve(RULES, rows=(row,), spacing=(SpacingBound("least", False, None, cite("column")),))
    admitted(rules, JOINT)
    breach = only(rules, changed(near_edges=(*inches(1, 5, 9), Length(13 * INCH - 1))))
    assert ("spacing", cite("cell"), (3, 4)) == (breach.clause, breach.citation, breach.clips)


# --- torque and threads ---


@pytest.mark.parametrize(
    ("torque", "same"),
    [
        (Torque(65, "lbf·ft"), True),
        (Torque(88, "N·m"), True),
        (Torque(780, "lbf·in"), True),
        (Torque(66, "lbf·ft"), False),
        (Torque(87, "N·m"), False),
        # The exact conversion of 65 lbf·ft (NIST SP 811) is no number that the source prints, nor one of its units.
        (Torque(Fraction("65.1"), "lbf·ft"), False),
    ],
)
def test_another_torque(torque: Torque, same: bool) -> None:
    joint = changed(torque=torque)
    assert same is means_torque(Torque(65, "lbf·ft", (88, "N·m")), torque)
    if same:
        admitted(RULES, joint)
    else:
        printed = str(Torque(65, "lbf·ft", (88, "N·m")))
        assert Breach("torque", printed, str(torque), cite("torque")) == only(RULES, joint)


def test_other_threads() -> None:
    breach = only(RULES, changed(threads="greased"))
    assert Breach("threads", "dry threads", "greased threads", cite("threads")) == breach


# --- what is not known, and what the source does not give ---


@pytest.mark.parametrize(
    "unknown",
    [
        {"turn_back": None}, {"near_edges": ()}, {"near_edges": (None, *inches(5, 9, 13))}, {"torque": None},
        {"threads": ""}, {"base_width": None},
    ],
)  # fmt: skip
def test_what_is_still_to_be_measured_breaks_nothing(unknown: dict[str, object]) -> None:
    admitted(RULES, changed(**unknown))


def test_an_edge_that_was_not_measured_hides_no_other_pair() -> None:
    edges = (*inches(1, 5), None, *inches(9, 10))
    assert [(4, 5)] == [breach.clips for breach in breaches(RULES, changed(near_edges=edges, count=4))]


def test_a_scope_that_gives_counts_alone_gives_no_turn_back_and_no_torque() -> None:
    joint = changed(turn_back=Length.of("1 in"), torque=Torque(1, "N·m"), threads="greased", count=3)
    assert ["count"] == [breach.clause for breach in breaches(RULES, joint, counts_only=True)]


def test_a_source_that_prints_nothing_else_asks_for_nothing_else() -> None:
    bare = attrs.evolve(RULES, rows=(Row(HALF, count=Cited(4, (cite("count"),))),), spacing=(), threads=None)
    joint = changed(turn_back=Length(1), torque=Torque(1, "N·m"), threads="greased", near_edges=inches(1, 1, 1, 1))
    admitted(bare, joint)
    assert cite("count") == only(bare, attrs.evolve(joint, count=3)).citation


# --- margins ---


@pytest.mark.parametrize(
    ("fields", "short"),
    [
        ({"turn_back": Length(16 * INCH - 1000)}, {"turn_back": Length(16 * INCH - 1001)}),
        (
            {"near_edges": (*inches(1, 5, 8), Length(11 * INCH - 1000))},
            {"near_edges": (*inches(1, 5, 8), Length(11 * INCH - 1001))},
        ),
        (
            {"near_edges": (*inches(1, 5, 9), Length(14 * INCH + 1000))},
            {"near_edges": (*inches(1, 5, 9), Length(14 * INCH + 1001))},
        ),
        # 10 % of 65 lbf·ft, up and down, and of 88 N·m.
        ({"torque": Torque(Fraction("71.5"), "lbf·ft")}, {"torque": Torque(72, "lbf·ft")}),
        ({"torque": Torque(Fraction("58.5"), "lbf·ft")}, {"torque": Torque(Fraction("58.3"), "lbf·ft")}),
        ({"torque": Torque(Fraction("79.2"), "N·m")}, {"torque": Torque(79, "N·m")}),
    ],
)
def test_a_margin_widens_a_bound_by_just_so_much(fields: dict[str, object], short: dict[str, object]) -> None:
    margin = Margin(Length(1000), Fraction(1, 10))
    admitted(RULES, changed(**fields), margin)
    only(RULES, changed(**short), margin)
    # Without it both break.
    only(RULES, changed(**fields))


def test_no_margin_makes_up_for_a_clip_or_for_threads() -> None:
    wide = Margin(Length.of("1 m"), Fraction(10))
    assert "count" == only(RULES, changed(count=3), wide).clause
    assert "threads" == only(RULES, changed(threads="greased"), wide).clause
