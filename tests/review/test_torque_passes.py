"""Each time round with the wrench. 8 CCR 8497 Table 1, row 3/4 in: 130 lbf·ft, typed from the table."""

from __future__ import annotations

import datetime

import attrs
import pytest
from tests.review.joints import as_planned, plan

from turnback.errors import InputError
from turnback.quantities import Torque
from turnback.review.as_built import AsBuilt
from turnback.review.inspection import inspect
from turnback.review.observations import Observation
from turnback.review.torque_pass import TorquePass

FULL = "130 lbf·ft"


def seen(*passes: TorquePass) -> list[Observation]:
    inspection = inspect(plan(), attrs.evolve(as_planned(plan()), passes=passes))
    return list(inspection.deviations)


def brief(*passes: TorquePass) -> list[tuple[str, str, str]]:
    return [(each.code, each.kind, each.item) for each in seen(*passes)]


def test_found_low_after_the_first_load_is_torqued_again_and_no_failure() -> None:
    low = [FULL, "100 lbf·ft", FULL, FULL]
    assert [("torque-low-as-found", "must-do", "clip 2")] == brief(
        TorquePass("assembly", None, FULL, clips=4), TorquePass("after the first load", low)
    )
    done = seen(TorquePass("assembly", None, FULL, clips=4), TorquePass("after the first load", low, FULL, clips=4))
    assert [("torque-low-as-found", "note")] == [(each.code, each.kind) for each in done]
    assert "normal after the first load" in done[0].text


def test_found_low_at_a_later_check_is_torqued_again_and_watched() -> None:
    found = seen(TorquePass("periodic", [FULL, FULL, FULL, "60 lbf·ft"]))
    assert [("torque-low-as-found", "must-do", "clip 4")] == [(e.code, e.kind, e.item) for e in found]
    assert "Where it keeps falling" in found[0].do


def test_found_low_before_any_load_was_never_tight() -> None:
    inspection = inspect(plan(), AsBuilt(passes=[TorquePass("assembly", [FULL, "100 lbf·ft"])], carried_load=False))
    assert [("clip-under-torqued", "must-fix", "clip 2")] == [
        (each.code, each.kind, each.item) for each in inspection.deviations
    ]
    assert "it was found at 100 lbf·ft" in inspection.deviations[0].text


def test_a_later_pass_puts_an_earlier_one_right_and_asks_for_a_look() -> None:
    low = [FULL, FULL, "100 lbf·ft", FULL]
    assert [("torque-was-off", "confirm", "clip 3")] == brief(
        TorquePass("assembly", None, low), TorquePass("after the first load", None, FULL, clips=4)
    )


def test_a_later_pass_that_is_low_too_puts_nothing_right() -> None:
    low = [FULL, FULL, "100 lbf·ft", FULL]
    assert [("clip-under-torqued", "must-fix", "clip 3")] * 2 == brief(
        TorquePass("assembly", None, low), TorquePass("after the first load", None, low)
    )


def test_left_above_the_torque_is_no_better_than_below() -> None:
    high = seen(TorquePass("periodic", None, [FULL, "180 lbf·ft", FULL, FULL]))
    assert [("clip-over-torqued", "must-fix", "clip 2")] == [(e.code, e.kind, e.item) for e in high]
    assert "use the clip again only where it passes" in high[0].do


def test_found_above_the_torque_is_to_be_explained() -> None:
    assert [("torque-high-as-found", "confirm", "clip 1")] == brief(
        TorquePass("periodic", ["180 lbf·ft", FULL, FULL, FULL], FULL, clips=4)
    )


def test_no_pass_after_a_load_is_something_to_do() -> None:
    assert [("not-torqued-again", "must-do", "torque")] == brief(TorquePass("assembly", None, FULL, clips=4))


def test_the_day_of_a_pass_is_said() -> None:
    found = seen(TorquePass("periodic", None, [FULL, FULL, FULL, "60 lbf·ft"], on="2031-05-09"))
    assert found[0].text.startswith("At a later check on 2031-05-09 it was left at 60 lbf·ft")


def test_the_same_torque_in_another_unit_is_the_same() -> None:
    assert [] == brief(TorquePass("periodic", None, "1560 lbf·in", clips=4))


def test_the_torque_of_now_is_the_last_one_read() -> None:
    made = AsBuilt(passes=[TorquePass("assembly", None, [FULL, FULL]), TorquePass("periodic", ["99 lbf·ft", None])])
    assert [Torque(99, "lbf·ft"), Torque(130, "lbf·ft"), None] == [made.last_torque(clip) for clip in (1, 2, 3)]


def test_words_of_a_pass() -> None:
    assert "after the first load" == TorquePass("after first load", None, [FULL]).at
    assert "periodic" == TorquePass("each shift", None, [FULL]).at
    assert datetime.date(2031, 5, 9) == TorquePass("periodic", None, [FULL], on=datetime.date(2031, 5, 9)).on
    with pytest.raises(InputError, match="Did you mean assembly") as caught:
        TorquePass("asembly", None, [FULL])
    assert "at" == caught.value.field


@pytest.mark.parametrize(
    ("left", "field", "words"),
    [
        (["130 N"], "as_left[0]", "where a torque belongs"),
        (["130 lb-ft"], "as_left[0]", "lb is a mass"),
        (["130"], "as_left[0]", "no unit"),
        ([130], "as_left[0]", "no unit"),
        ([FULL] * 5, "as_left", "more readings than clips"),
        ([None], "as_left", "without a reading"),
    ],
)
def test_a_pass_that_cannot_be_read(left: list[str | None], field: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        TorquePass("assembly", None, left, clips=4)
    assert field == caught.value.field


def test_passes_are_in_the_order_of_time() -> None:
    with pytest.raises(InputError, match="order of time"):
        AsBuilt(passes=[TorquePass("periodic", None, [FULL]), TorquePass("assembly", None, [FULL])])


def test_a_pass_of_more_clips_than_were_counted_is_refused() -> None:
    with pytest.raises(InputError, match="more readings than clips") as caught:
        AsBuilt(clip_count=3, passes=[TorquePass("assembly", None, [FULL] * 4)])
    assert ("passes[0]", "3 clips") == (caught.value.field, caught.value.bound)


def test_one_reading_for_every_clip_needs_their_number() -> None:
    with pytest.raises(InputError, match="needs the number of clips"):
        TorquePass("assembly", None, FULL)
