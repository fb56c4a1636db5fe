"""From the printed rows to one count and one turn-back: published arithmetic, by hand.

Every printed number stands beside its source; what is computed from it is computed with fractions of an inch. Base
widths and the sheets of the invented institute are invented.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from tests.sheets import sheet

from turnback.errors import InputError
from turnback.model.terminations import LapSplice, PlateEye, PulleyEye, Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures
from turnback.quantities import Length
from turnback.rules.selection import RulesChoice, governing

INCH = 25_400_000
EYE, PULLEY, LAP = ThimbleEye(), PulleyEye(), LapSplice()
CALIFORNIA, FEDERAL, NAVY, BRUNSWICK, EUROPE = (
    "us-ca-8-8497",
    "us-osha-1926-251",
    "us-navy-14026",
    "ca-nb-clips",
    "en-13411-5",
)
ARMY, SADDLES = "us-army-3810-305", "us-ca-8-8497-t2"


def up(inches: Fraction | int | str) -> Length:
    """A length that no source prints in so many words, rounded up to the nanometre, once."""
    return Length(ceil(Fraction(inches) * INCH))


def joint(
    rope: str,
    rules: RulesChoice,
    termination: Termination = EYE,
    *,
    style: str = "u-bolt",
    clip_body: str = "forged",
    base_width: str | None = None,
    service: str | None = None,
    jurisdiction: str | None = "US",
    extra_clips: int = 0,
    maker: MakerFigures | None = None,
) -> Plan:
    return plan(
        rope,
        termination,
        style=style,
        rules=rules,
        clip_body=clip_body,
        base_width=base_width,
        service=service,
        jurisdiction=jurisdiction,
        extra_clips=extra_clips,
        maker=maker,
    )


def counts(made: Plan) -> list[int]:
    """The number of clips after each step."""
    return [step.count for step in made.demand.steps]


def cited(made: Plan, step: int) -> str:
    return "; ".join(str(citation) for citation in made.demand.steps[step].citations)


# --- the count, step by step ---


def test_a_floor_of_the_source_itself() -> None:
    """WorkSafeNB prints 2 clips at 7/16 in and asks for at least 3 in any eye. Turn-back 7 in for 2: 7 x 3/2."""
    made = joint("7/16 in 6x25F IWRC EIP", BRUNSWICK)
    assert [2, 3] == counts(made)
    assert "New Brunswick" in cited(made, 1) or "cable clips guidance" in cited(made, 1)
    assert up("21/2") == made.turn_back


def test_a_floor_that_is_met_adds_no_step() -> None:
    """WorkSafeNB prints 3 clips and 11-1/2 in at 1/2 in."""
    made = joint("1/2 in 6x25F IWRC EIP", BRUNSWICK)
    assert ([3], up("23/2")) == (counts(made), made.turn_back)


@pytest.mark.parametrize(
    ("rope", "service", "steps"),
    [
        # NAVEDTRA 14026 at 1/4 in: 3/4 + 1, so 2. 29 CFR 1926.451(d)(12): at least 3 on a scaffold.
        ("1/4 in 6x25F IWRC IPS", "scaffold-suspension", [2, 3]),
        ("1/2 in 6x25F IWRC IPS", "scaffold-suspension", [3]),
        # No floor in general.
        ("1/4 in 6x25F IWRC IPS", "general", [2]),
    ],
)
def test_a_floor_of_the_service(rope: str, service: str, steps: list[int]) -> None:
    made = joint(rope, NAVY, service=service)
    assert steps == counts(made)
    if len(steps) > 1:
        assert "1926.451(d)(12)" in cited(made, 1)


@pytest.mark.parametrize(("size", "needed"), [("1/2 in", 3), ("7/8 in", 4), ("1 in", 4), ("1-3/4 in", 7)])
def test_the_linear_count_takes_the_next_whole_number_up(size: str, needed: int) -> None:
    """NAVEDTRA 14026, p. 1-8: 3D + 1: 2.5, 3.625, 4 (printed example), 6.25."""
    assert [needed] == counts(joint(f"{size} 6x25F IWRC IPS", NAVY))


def test_a_pulley_adds_one_clip_once_whoever_prints_it() -> None:
    """TM 5-3810-305-10, Table 6: 1/2 in, 3 clips, 11 in; one more for a pulley, turn-back in proportion."""
    rope = "1/2 in 6x25F IWRC EIP"
    for choice in (ARMY, SADDLES, governing(ARMY, SADDLES)):
        made = joint(rope, choice, PULLEY, style="mirrored-saddle")
        assert 4 == made.clip_count
        assert counts(made)[-2:] == [3, 4]
        assert up(Fraction(11 * 4, 3)) == made.turn_back
    # Where the source prints it, it is cited; where none does, it is common practice.
    assert "TM 5-3810-305-10" in cited(joint(rope, ARMY, PULLEY, style="mirrored-saddle"), -1)
    assert "common practice" in cited(joint(rope, SADDLES, PULLEY, style="mirrored-saddle"), -1)


def test_a_source_that_adds_more_than_one_for_a_pulley_is_taken_at_its_word() -> None:
    two = sheet("two", more="[adjustments]\npulley = { add = 2 }\n")
    one = sheet("one", more="[adjustments]\npulley = { add = 1 }\n")
    assert [3, 5] == counts(joint("1/2 in", governing(one, two), PULLEY))


@pytest.mark.parametrize(("extra", "inches"), [(0, Fraction(23, 2)), (1, Fraction(46, 3)), (2, Fraction(115, 6))])
def test_extra_clips_and_the_turn_back_in_proportion(extra: int, inches: Fraction) -> None:
    """8 CCR §8497, Table 1: 3 clips and 11-1/2 in at 1/2 in; 23/2 x 4/3 = 46/3, 23/2 x 5/3 = 115/6."""
    made = joint("1/2 in 6x25F IWRC EIP", CALIFORNIA, extra_clips=extra)
    assert (3 + extra, up(inches)) == (made.clip_count, made.turn_back)


@pytest.mark.parametrize(
    ("rope", "steps", "inches"),
    [
        # 8 CCR §8497, Table 1: 7/8 in 4 clips, 19 in; 1 in 5 clips, 26 in; 1-1/8 in 6 clips, 34 in.
        ("7/8 in 6x19S IWRC EIP", [4], Fraction(19)),
        ("1 in 6x19S IWRC EIP", [5, 6], Fraction(26 * 6, 5)),
        ("1-1/8 in 6x19S IWRC EIP", [6, 7], Fraction(34 * 7, 6)),
        ("1 in 6x25F IWRC EIP", [5], Fraction(26)),
    ],
)
def test_seale_and_other_large_outer_wires_from_one_inch(rope: str, steps: list[int], inches: Fraction) -> None:
    made = joint(rope, CALIFORNIA)
    assert (steps, up(inches)) == (counts(made), made.turn_back)


def test_a_bare_6x19_of_one_inch_asks_whether_its_wires_are_large() -> None:
    for rope, asks in (("1 in 6x19 IWRC EIP", True), ("7/8 in 6x19 IWRC EIP", False), ("1 in 6x36WS IWRC EIP", False)):
        assert asks is ("large-wires-unknown" in {finding.code for finding in joint(rope, CALIFORNIA).findings})


def test_each_member_adds_its_own_before_the_largest_is_taken() -> None:
    """1 in Seale: 8 CCR §8497 5 + 1; 29 CFR 1926.251, Table H-2, 5 forged or 6 other, and adds nothing."""
    for body in ("forged", "other"):
        made = joint("1 in 6x19S IWRC IPS", governing(CALIFORNIA, FEDERAL), clip_body=body)
        assert [6] == counts(made)
    # Without large wires the body decides: 5 or 6; 26 in for 5 clips is 26 x 6/5 in for 6.
    for body, count in (("forged", 5), ("other", 6)):
        made = joint("1 in 6x25F IWRC IPS", governing(CALIFORNIA, FEDERAL), clip_body=body, base_width="1 in")
        # Table H-2 asks for 6 in between centres: 2 x 1 + (n - 1) x 6 = 26 or 32 in, against 26 or 31.2 in.
        assert (count, up(max(Fraction(26 * count, 5), Fraction(2 + (count - 1) * 6)))) == (
            made.clip_count,
            made.turn_back,
        )


def test_the_steps_come_in_the_order_of_the_design() -> None:
    """Printed 2, floor 3, pulley 4, one asked for 5 (WorkSafeNB, 7/16 in): 7 in for 2 clips is 7 x 5/2 for 5."""
    made = joint("7/16 in 6x25F IWRC EIP", BRUNSWICK, PULLEY, extra_clips=1)
    assert ([2, 3, 4, 5], up("35/2")) == (counts(made), made.turn_back)


def test_a_lap_splice_has_everything_twice_at_the_end() -> None:
    """WorkSafeNB, 7/16 in: 2, floor 3, one asked for 4, twice 8; overlap 2 x 7 x 4/2."""
    made = joint("7/16 in 6x25F IWRC EIP", BRUNSWICK, LAP, extra_clips=1)
    assert ([2, 3, 4, 8], up(28)) == (counts(made), made.turn_back)
    assert "common practice" in cited(made, -1)


def test_the_source_of_a_lap_splice_is_cited_where_there_is_one() -> None:
    """EN 13411-5, Annex A: 4 grips at 10 mm, 8 in a joint of two ropes."""
    made = joint("10 mm 6x19 FC 1770", EUROPE, LAP)
    assert [4, 8] == counts(made)
    assert "EN 13411-5" in cited(made, -1)


def test_plates_take_no_more_clips() -> None:
    rope = "1/8 in 7x19 galvanized"
    made = joint(rope, "common-practice-double-plate", PlateEye(), style="double-plate")
    assert [1] == counts(made)
    with pytest.raises(InputError) as refused:
        joint(rope, "common-practice-double-plate", PlateEye(), style="double-plate", extra_clips=1)
    assert ("extra_clips", "0") == (refused.value.field, refused.value.bound)


# --- the turn-back ---


@pytest.mark.parametrize(
    ("one", "other", "longest"),
    [
        # 3 clips in 8 in and 4 clips in 10 in: for 4 clips 8 x 4/3 = 10-2/3 in and 10 in.
        ((3, "8"), (4, "10"), Fraction(32, 3)),
        # 3 clips in 7 in: 7 x 4/3 = 9-1/3 in, less than 10 in.
        ((3, "7"), (4, "10"), Fraction(10)),
        ((3, "15/2"), (4, "10"), Fraction(10)),
    ],
)
def test_several_turn_backs_each_from_its_own_row(
    one: tuple[int, str], other: tuple[int, str], longest: Fraction
) -> None:
    members = [
        sheet(f"s{i}", count=count, turn_back=text.replace("15/2", "7-1/2"))
        for i, (count, text) in enumerate((one, other))
    ]
    made = joint("1/2 in", governing(*members))
    assert (4, up(longest)) == (made.clip_count, made.turn_back)
    # Each is rounded up once, from the exact product: never a rounded one in proportion again.
    by_member = {each.rules_id: each.length for each in made.demand.turn_backs}
    first = Fraction(one[1]) * 4 / one[0]
    assert {"s0": up(first), "s1": up(10)} == by_member


def test_a_third_of_a_nanometre_is_rounded_up_once_and_not_twice() -> None:
    """11 in x 5/3 = 465 666 666 nm and two thirds; x 4/3 = 372 533 333 and a third (TM 5-3810-305-10, Table 6)."""
    rope = "1/2 in 6x25F IWRC EIP"
    assert Length(372_533_334) == joint(rope, ARMY, extra_clips=1, style="mirrored-saddle").turn_back
    assert Length(465_666_667) == joint(rope, ARMY, extra_clips=2, style="mirrored-saddle").turn_back


@pytest.mark.parametrize(
    ("fields", "turn_back", "shares"),
    [
        # Side by side n clips and the end allowance take n + 1 base widths (8 CCR §8497, 1/2 in: 3 in 11-1/2 in).
        ({}, up("23/2"), 4),
        ({"termination": PULLEY}, up("46/3"), 5),
        ({"termination": LAP}, up("23/2"), 4),
        ({"extra_clips": 2}, up("115/6"), 6),
    ],
)
def test_a_base_width_too_great_for_the_turn_back_is_refused_at_the_nanometre(
    fields: dict[str, object], turn_back: Length, shares: int
) -> None:
    widest = turn_back.nanometres // shares
    rope = "1/2 in 6x25F IWRC EIP"
    touching = plan(rope, **{"termination": EYE, **_given(widest), **fields})  # type: ignore[arg-type]  # some of many
    assert touching.clips
    with pytest.raises(InputError) as refused:
        plan(rope, **{"termination": EYE, **_given(widest + 1), **fields})  # type: ignore[arg-type]  # some of many
    assert "base_width" == refused.value.field
    assert str(Length(widest)) in refused.value.bound
    assert "8497" in refused.value.citation


def _given(base_width: int) -> dict[str, object]:
    return {"style": "u-bolt", "rules": CALIFORNIA, "clip_body": "forged", "base_width": Length(base_width)}
