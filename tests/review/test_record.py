"""The record of a joint and what follows from it. People are roles with invented numbers."""

from __future__ import annotations

import datetime
import json

import attrs
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.review.joints import as_planned, lap_splice, plan, request

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.quantities import Length
from turnback.review.as_built import AsBuilt
from turnback.review.identity import plan_id
from turnback.review.record import Record
from turnback.review.record_document import record_document, record_from_document
from turnback.review.remake import remake_length
from turnback.review.upkeep import Interval

PLANT = "rules of the plant, sheet 3"


def record() -> Record:
    return Record(
        "guy 7, lower end",
        plan(),
        as_planned(plan()),
        made_by="rigger 7",
        checked_by="rigger 12",
        competent_person="inspector 2",
        wrench_id="wrench 4",
        wrench_calibrated_until="2031-12-31",
        rope_certificate="certificate 7 of the invented works",
        clip_certificates=["clip certificate 3", "clip certificate 4"],
        made_on="2031-05-09",
        first_load_on=datetime.date(2031, 5, 10),
        last_torque_check="2031-05-10",
        last_inspection="2031-05-10",
        torque_interval=Interval("1 month", PLANT),
        inspection_interval=Interval("12 months", PLANT),
        remakes=1,
        rope_left="8 ft",
    )


def test_next_checks_follow_from_the_users_own_intervals() -> None:
    made = record()
    assert datetime.date(2031, 6, 10) == made.next_torque_check.on
    assert datetime.date(2032, 5, 10) == made.next_inspection.on
    assert PLANT in str(made.next_torque_check.citations[0])
    assert (False, True) == (
        made.next_torque_check.overdue(datetime.date(2031, 6, 10)),
        made.next_torque_check.overdue(datetime.date(2031, 6, 11)),
    )


def test_each_shift_is_shorter_than_any_interval() -> None:
    """29 CFR 1926.451(d)(12): inspect and retighten at the start of each shift."""
    scaffold = plan(request(base_width="1-1/2 in", service="scaffold-suspension"))
    due = attrs.evolve(record(), plan=scaffold, as_built=None).next_torque_check
    assert (None, "at the start of each shift", None) == (due.on, due.words, due.overdue(datetime.date(2031, 6, 1)))
    assert "1926.451(d)(12)" in str(due.citations[0])


def test_without_an_interval_or_a_last_check_nothing_is_made_up() -> None:
    bare = Record("guy 8")
    assert (None, None) == (bare.next_torque_check.on, bare.next_inspection.on)
    assert "give the interval of the torque check" in bare.next_torque_check.words
    unchecked = Record("guy 8", torque_interval=Interval("30 days", PLANT))
    assert "give the day of the last torque check" in unchecked.next_torque_check.words


def test_remakes_left_count_the_rope_that_is_cut_off_each_time() -> None:
    """2 x 18 in of turn-back and the rope in the eye of this thimble, about 11.1 in: two remakes from 8 ft."""
    made = record()
    length = made.remake_length
    assert isinstance(length, Length)
    eye = plan().rope_in_eye
    assert Length.of("36 in") + eye == length
    assert 2 == made.remakes_left
    assert 0 == attrs.evolve(made, rope_left="none").remakes_left
    assert isinstance(attrs.evolve(made, rope_left=None).remakes_left, Absent)
    assert isinstance(Record("guy 8").remakes_left, Absent)


def test_the_longer_of_the_planned_and_the_measured_turn_back_is_cut_off() -> None:
    longer = remake_length(plan(), Length.of("19 in"))
    shorter = remake_length(plan(), Length.of("17 in"))
    assert isinstance(longer, Length)
    assert isinstance(shorter, Length)
    assert Length.of("2 in") == longer - shorter
    overlap = lap_splice().turn_back
    assert overlap == remake_length(lap_splice())


def test_the_inspection_of_a_record() -> None:
    assert "keep" == record().inspection.in_service
    missing = Record("guy 8").inspection
    assert isinstance(missing, Absent)
    assert "no plan" in missing.reason
    assert record().first_load == as_planned(plan()).first_load


# --- intervals ---


@given(
    st.dates(datetime.date(1990, 1, 1), datetime.date(2200, 12, 31)),
    st.integers(1, 1000),
    st.sampled_from(["day", "week", "month", "year"]),
)
def test_intervals_end_as_another_library_reckons_them(day: datetime.date, number: int, unit: str) -> None:
    """Against numpy's calendar: days and weeks are counted, months and years keep the day or take the month's last."""
    ours = np.datetime64(Interval(f"{number} {unit}s", PLANT).after(day), "D")
    start = np.datetime64(day, "D")
    if unit in ("day", "week"):
        assert start + np.timedelta64(number * (7 if unit == "week" else 1), "D") == ours
        return
    month = start.astype("datetime64[M]") + np.timedelta64(number * (12 if unit == "year" else 1), "M")
    first, last = month.astype("datetime64[D]"), (month + 1).astype("datetime64[D]") - 1
    assert min(first + np.timedelta64(day.day - 1, "D"), last) == ours


def test_the_last_day_of_a_month_by_hand() -> None:
    assert datetime.date(2032, 2, 29) == Interval("1 month", PLANT).after(datetime.date(2032, 1, 31))
    assert datetime.date(2033, 2, 28) == Interval("1 year", PLANT).after(datetime.date(2032, 2, 29))
    assert "1 month (rules of the plant, sheet 3)" == str(Interval("1 month", PLANT))


@pytest.mark.parametrize("text", ["", "0 days", "1 fortnight", "1.5 months", "-1 day", "1001 days", "a year", "٣ days"])
def test_what_is_no_interval(text: str) -> None:
    with pytest.raises(InputError, match="no interval"):
        Interval(text, PLANT)


def test_an_interval_has_its_reason_and_the_calendar_an_end() -> None:
    with pytest.raises(InputError, match="needs the reason"):
        Interval("1 month", "")
    with pytest.raises(InputError, match="calendar ends"):
        Interval("1000 years", PLANT).after(datetime.date(9999, 1, 1))


# --- refusals ---


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"joint_id": ""}, "joint_id"),
        ({"joint_id": "=cmd()"}, "joint_id"),
        ({"joint_id": "x" * 201}, "joint_id"),
        ({"made_by": "rigger\x007"}, "made_by"),
        ({"made_on": "9.5.2031"}, "made_on"),
        ({"made_on": "2031-02-30"}, "made_on"),
        ({"made_on": datetime.datetime(2031, 5, 9)}, "made_on"),
        ({"first_load_on": "2031-05-08"}, "first_load_on"),
        ({"last_inspection": "2031-05-08"}, "last_inspection"),
        ({"clip_certificates": "clip certificate 3"}, "clip_certificates"),
        ({"clip_certificates": ["ok", "@x"]}, "clip_certificates[1]"),
        ({"remakes": -1}, "remakes"),
        ({"rope_left": "8"}, "rope_left"),
        ({"torque_interval": "1 month"}, "torque_interval"),
        ({"plan": "plan 7"}, "plan"),
    ],
)
def test_a_record_that_cannot_be(given: dict[str, object], field: str) -> None:
    with pytest.raises(InputError) as caught:
        attrs.evolve(record(), **given)  # type: ignore[arg-type]  # wrong on purpose
    assert field == caught.value.field


def test_a_name_of_two_hundred_characters_is_taken() -> None:
    assert "x" * 200 == Record("x" * 200).joint_id


# --- the document ---


def test_round_trip_of_a_record() -> None:
    made = record()
    document = json.loads(json.dumps(record_document(made)))
    assert made == record_from_document(document, plan())
    assert Record("guy 8") == record_from_document(json.loads(json.dumps(record_document(Record("guy 8")))))


def test_a_document_says_what_follows() -> None:
    document = record_document(record())
    assert (plan_id(plan()), "2031-05-09", 2, "keep") == (
        document["plan_id"],
        document["made_on"],
        document["remakes_left"],
        document["in_service"],
    )
    assert {"when": "2031-06-10, 1 month after 2031-05-10", "on": "2031-06-10"} == document["next_torque_check"]
    assert {"every": "1 month", "reason": PLANT} == document["torque_interval"]
    assert 2_438_400_000 == document["rope_left_nm"]


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"made_bye": "rigger 7"}, "made_bye", "Did you mean made_by"),
        ({"format": 2}, "format", "not known to this version"),
        ({"plan_id": "plan-0000000000000000"}, "plan_id", "another plan"),
        ({"as_built": {"turn_back": 17}}, "as_built.turn_back", "no unit"),
        ({"as_built": "x"}, "as_built", "keys and values"),
        ({"rope_left_nm": 1.5}, "rope_left_nm", "whole number"),
        ({"torque_interval": "1 month"}, "torque_interval", "written with its reason"),
        ({"torque_interval": {"every": "soon", "reason": PLANT}}, "torque_interval", "no interval"),
        ({"torque_interval": {"every": "1 month", "reason": ""}}, "torque_interval.reason", "needs the reason"),
    ],
)
def test_a_document_that_cannot_be_read_names_the_path(changed: dict[str, object], field: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        record_from_document({"joint_id": "guy 7", **changed}, plan())
    assert field == caught.value.field


def test_a_document_without_a_joint_is_refused() -> None:
    with pytest.raises(InputError, match="record of a joint"):
        record_from_document({})
    with pytest.raises(InputError, match="keys and values"):
        record_from_document([])  # type: ignore[arg-type]  # wrong on purpose


def test_readings_of_a_record_without_a_count_still_make_a_document() -> None:
    document = record_document(Record("guy 8", plan(), AsBuilt()))
    assert "find out first" == document["in_service"]
