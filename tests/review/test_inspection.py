"""Joints with known faults, held to published tables. Readings are invented; bounds are those in print.

8 CCR 8497 Table 1, row 3/4 in: 4 clips, 18 in turn-back, 130 lbf·ft (typed from the table).
"""

from __future__ import annotations

import attrs
import pytest
from tests.review.joints import CATALOGUE, as_planned, lap_splice, plan, request

from turnback.errors import InputError
from turnback.model.terminations import LinkedEyes, PlateEye, SoftEye, ThimbleEye
from turnback.planning.request import MakerFigures
from turnback.quantities import Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.identity import plan_id
from turnback.review.inspection import Inspection, inspect
from turnback.review.observations import OBSERVATION_CODES, Observation
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import TorquePass

TABLE = "California Code of Regulations, Title 8, Section 8497"


def codes(inspection: Inspection) -> list[str]:
    return [each.code for each in inspection.deviations]


def only(inspection: Inspection, code: str) -> Observation:
    found = [each for each in inspection.deviations if each.code == code]
    assert 1 == len(found)
    return found[0]


def faulty(*, loaded: bool) -> AsBuilt:
    """One clip backwards, one under-torqued, the turn-back 1 in short."""
    left = ["130 lbf·ft", "130 lbf·ft", "90 lbf·ft", "130 lbf·ft"]
    return AsBuilt(
        clip_count=4,
        saddles=["live part", "dead part", "live part", "live part"],
        turn_back="17 in",
        passes=[TorquePass("after the first load" if loaded else "assembly", None, left)],
        carried_load=loaded,
    )


def test_the_three_faults_of_the_acceptance_are_each_found_cited_and_answered() -> None:
    inspection = inspect(plan(), faulty(loaded=False))
    assert {"clip-reversed", "clip-under-torqued", "turn-back-short"} == set(codes(inspection))
    reversed_, low, short = (
        only(inspection, code) for code in ("clip-reversed", "clip-under-torqued", "turn-back-short")
    )
    assert ("clip 2", "saddle on the dead part", "saddle on the live part") == (
        reversed_.item,
        reversed_.measured,
        reversed_.bound,
    )
    assert ("clip 3", "90 lbf·ft") == (low.item, low.measured.partition(" (")[0])
    assert low.bound.startswith("130 lbf·ft")
    assert ("turn-back", "17 in (431.8 mm)", "at least 18 in (457.2 mm)") == (short.item, short.measured, short.bound)
    assert "1 in (25.4 mm) less than planned" in short.text
    assert "Take it off" in reversed_.do
    assert "torque it to 130 lbf·ft" in low.do
    assert "draw the dead end through" in short.do
    for each in (low, short):
        assert TABLE in str(each.citations[0])
        assert "row 3/4" in str(each.citations[0])
    assert "saddle on the live part" in str(reversed_.citations[0])
    assert "act" == inspection.in_service
    assert not inspection.usable


def test_on_a_joint_that_has_carried_load_a_reversed_clip_is_never_turned_round() -> None:
    inspection = inspect(plan(), faulty(loaded=True))
    reversed_ = only(inspection, "clip-reversed")
    assert reversed_.out_of_service
    assert "out of service" == inspection.in_service
    assert "fresh rope" in reversed_.do
    # 2 x 18 in and the rope in the eye; the dead end is marked where it came to lie.
    assert "mark on the live part where the dead end came to lie, 47-3/16 in" in reversed_.do
    assert "Put the clip on" not in reversed_.do


def test_where_nobody_says_whether_it_carried_load_it_is_taken_to_have() -> None:
    inspection = inspect(plan(), attrs.evolve(faulty(loaded=False), carried_load=None))
    assert only(inspection, "clip-reversed").out_of_service
    assert "Nobody says whether it has carried load" in only(inspection, "clip-reversed").do


@pytest.mark.parametrize("slip", [True, "slipped", "1/8 in"])
def test_slip_on_a_loaded_joint_takes_it_out_of_service(slip: str | bool) -> None:
    changed = attrs.evolve(as_planned(plan()), slips=["none", slip, "none", "none"])
    inspection = inspect(plan(), changed)
    seen = only(inspection, "slipped")
    assert ("clip 2", True) == (seen.item, seen.out_of_service)
    assert "Cut off the marked length" in seen.do


def test_a_joint_as_planned_with_every_reading_is_kept() -> None:
    inspection = inspect(plan(), as_planned(plan()))
    assert ([], (), "keep") == (codes(inspection), inspection.still_to_measure, inspection.in_service)
    assert inspection.usable


def test_a_plan_that_is_forbidden_is_not_kept_however_well_it_is_made() -> None:
    """29 CFR 1926.251(c)(4)(iii): eyes in slings are not made with clips."""
    sling = plan(request(service="sling"))
    inspection = inspect(sling, as_planned(sling))
    assert ([], "out of service") == (codes(inspection), inspection.in_service)


def test_an_old_joint_is_held_to_a_plan_made_from_its_request() -> None:
    inspection = inspect(request(), faulty(loaded=True), CATALOGUE)
    assert inspection.planned_here
    assert "planned-here" in {finding.code for finding in inspection.findings}
    assert "clip-reversed" in codes(inspection)


def test_a_partly_filled_record_lists_what_is_still_to_be_measured() -> None:
    readings = AsBuilt(clip_count=4, near_edges=["2-1/4 in", None, "11-1/4 in"], saddles="live part")
    missing = [each.what for each in inspect(plan(), readings).still_to_measure]
    assert ["clip 2, place", "clip 4, place"] == [what for what in missing if what.endswith("place")]
    assert "turn-back" in missing
    assert "dead end" not in missing
    assert not [what for what in missing if "side of the saddle" in what]


def test_each_clip_is_missed_at_the_pass_that_counts() -> None:
    """EN 13411-5 asks for the torque again before first use as well as after the first load."""
    grips = plan(request("10 mm 6x19 new", None, "20 mm", "en-13411-5"))
    made = AsBuilt(clip_count=4, passes=[TorquePass("assembly", None, "9 N·m", clips=4)], carried_load=False)
    missing = [each.what for each in inspect(grips, made).still_to_measure]
    assert [f"clip {clip}, torque before first use" for clip in (1, 2, 3, 4)] == [w for w in missing if "torque" in w]
    loaded = attrs.evolve(made, carried_load=True)
    assert "clip 1, torque after the first load" in [each.what for each in inspect(grips, loaded).still_to_measure]
    assert ["not-torqued-again"] == codes(inspect(grips, loaded))


# --- one bound each ---


def test_a_clip_too_many_asks_for_another_plan_and_for_more_turn_back() -> None:
    """Table 1 notes: more clips, turn-back in proportion: 5/4 of 18 in."""
    made = AsBuilt(clip_count=5, turn_back="18 in", carried_load=False)
    inspection = inspect(plan(), made)
    assert "confirm" == only(inspection, "clips-more-than-planned").kind
    assert "at least 22-1/2 in (571.5 mm)" == only(inspection, "turn-back-short").bound


def test_the_count_that_was_asked_for_is_held_to() -> None:
    """The rule set admits four clips; five were planned."""
    five = plan(request(extra_clips=1))
    seen = only(inspect(five, AsBuilt(clip_count=4, carried_load=False)), "clips-missing")
    assert ("4 clips", "5 clips") == (seen.measured, seen.bound)


def test_the_distance_of_a_service_is_checked() -> None:
    """29 CFR 1926.451(d)(12): at least 6 rope diameters apart, 4-1/2 in at 3/4 in rope."""
    scaffold = plan(request(base_width="1-1/2 in", service="scaffold-suspension"))
    whole = as_planned(scaffold)
    moved = [whole.near_edges[0], Length.of("6 in") - Length.of("1/16 in"), *whole.near_edges[2:]]
    seen = only(inspect(scaffold, attrs.evolve(whole, near_edges=moved)), "spacing-off")
    assert "clips 1 and 2" == seen.item
    assert seen.bound.startswith("at least 4-1/2 in (114.3 mm)")
    assert "1926.451(d)(12)" in str(seen.citations[0])


def test_clear_distances_are_checked_at_both_ends_from_centres_too() -> None:
    """EN 13411-5: clear between grips 1.5 to 3 base widths, so 50 to 80 mm between centres for a base of 20 mm."""
    grips = plan(request("10 mm 6x19 new", None, "20 mm", "en-13411-5"))
    made = AsBuilt(clip_count=4, centres=["30 mm", "79 mm", "129 mm", "210 mm"], carried_load=False)
    off = {each.item: each.bound for each in inspect(grips, made).deviations if each.code == "spacing-off"}
    assert {"clips 1 and 2", "clips 3 and 4"} == set(off)
    assert off["clips 1 and 2"].startswith("at least 50 mm")
    assert off["clips 3 and 4"].startswith("at most 80 mm")


def test_the_dead_end_and_the_place_beside_it_are_one_reading() -> None:
    whole = as_planned(plan())
    inspection = inspect(plan(), attrs.evolve(whole, dead_end="2 in"))
    assert {"readings-disagree", "dead-end-short"} == set(codes(inspection))
    assert "at least 2-1/4 in (57.15 mm)" == only(inspection, "dead-end-short").bound


def test_the_clip_nearest_the_eye_stands_at_the_base() -> None:
    whole = as_planned(plan())
    near = [*whole.near_edges[:3], Length.of("15-3/4 in") - Length.of("1/8 in")]
    off = inspect(plan(), attrs.evolve(whole, near_edges=near))
    assert ("clip 4", "1/8 in (3.175 mm)") == (
        only(off, "clip-off-the-base").item,
        only(off, "clip-off-the-base").measured,
    )
    near = [*whole.near_edges[:3], Length.of("15-3/4 in") + Length.of("1/8 in")]
    assert "clip-past-the-base" in codes(inspect(plan(), attrs.evolve(whole, near_edges=near)))


def test_a_longer_turn_back_is_only_written_down() -> None:
    whole = as_planned(plan())
    inspection = inspect(plan(), attrs.evolve(whole, turn_back="18-1/2 in", near_edges=None, dead_end=None))
    assert [("turn-back-longer", "note")] == [(each.code, each.kind) for each in inspection.deviations]


def test_both_dead_ends_of_a_lap_splice_are_checked() -> None:
    splice = lap_splice()
    whole = as_planned(splice)
    last = whole.near_edges[-1]
    assert last is not None
    moved = [*whole.near_edges[:-1], last + Length.of("1 mm")]
    seen = only(inspect(splice, attrs.evolve(whole, near_edges=moved)), "dead-end-short")
    assert ("clip 8", "19 mm", "at least 20 mm") == (seen.item, seen.measured.partition(" (")[0], seen.bound[:14])


def test_a_lap_splice_has_its_saddles_on_the_rope_whose_dead_end_is_farther() -> None:
    splice = lap_splice()
    whole = as_planned(splice)
    assert (*["rope B"] * 4, *["rope A"] * 4) == whole.saddles
    seen = only(inspect(splice, attrs.evolve(whole, saddles=[*["rope B"] * 5, *["rope A"] * 3])), "clip-reversed")
    assert "clip 5" == seen.item
    assert "on each rope" in seen.do


def test_the_dead_end_of_a_plate_is_two_diameters() -> None:
    """Common practice: at least two cable diameters of dead end stand out of the body."""
    plate = plan(
        request(
            "1/4 in 7x19 new", PlateEye(ThimbleEye()), "3 in", "common-practice-single-plate", "single-plate", "general"
        )
    )
    seen = only(inspect(plate, AsBuilt(clip_count=1, dead_end="7/16 in")), "dead-end-short")
    assert ("clip 1", "at least 1/2 in (12.7 mm)") == (seen.item, seen.bound)


def test_clips_of_another_size_mixed_threads_and_thimble() -> None:
    changed = attrs.evolve(
        as_planned(plan(), loaded=False),
        clip_size="5/8 in",
        makes_mixed=True,
        sizes_mixed=True,
        threads="greased",
        thimble=False,
    )
    inspection = inspect(plan(), changed)
    assert {"clip-size-differs", "clips-mixed", "threads-differ", "thimble-missing"} == set(codes(inspection))
    assert {"must-fix"} == {each.kind for each in inspection.deviations}
    assert ("greased", "dry") == (only(inspection, "threads-differ").measured, only(inspection, "threads-differ").bound)


def test_a_thimble_in_a_soft_eye_is_written_down() -> None:
    soft = plan(request(termination=SoftEye("4 in", "12 in")))
    assert ["thimble-not-planned"] == codes(inspect(soft, AsBuilt(thimble=True)))


@pytest.mark.parametrize(
    ("load", "code", "bound"),
    [
        ("8 kN", "first-load-too-small", "at least 9 kN"),
        ("12 kN", "first-load-too-great", "no more than 11 kN"),
    ],
)
def test_the_first_load_is_between_the_expected_and_the_working_load(load: str, code: str, bound: str) -> None:
    made = AsBuilt(
        first_load=load, expected_load="9 kN", working_load="11 kN", working_load_reason="engineer 4, sheet 2"
    )
    seen = [each for each in inspect(plan(), made).deviations if each.code.startswith("first-load")]
    assert [code] == [each.code for each in seen]
    assert bound == seen[0].bound.partition(" (")[0]


def test_the_plans_own_working_load_is_kept_where_it_is_the_smaller() -> None:
    """A stated load never lifts what the sources give: 8 CCR 8497 with an invented breaking force of 30 kN."""
    rope = attrs.evolve(
        request().rope, minimum_breaking_force="30 kN", certificate="certificate 7 of the invented works"
    )
    weak = plan(attrs.evolve(request(), rope=rope))
    made = AsBuilt(first_load="9 kN", working_load="20 kN", working_load_reason="engineer 4, sheet 2")
    # 30 kN x 80 % / 5 = 4.8 kN: efficiency of common practice, design factor 5 of wire rope in general (US).
    assert "no more than 4.8 kN" == only(inspect(weak, made), "first-load-too-great").bound.partition(" (")[0]


def test_a_first_load_that_is_still_to_come() -> None:
    inspection = inspect(plan(), AsBuilt(first_load_applied=False))
    assert [("first-load-to-come", "must-do")] == [(each.code, each.kind) for each in inspection.deviations]


# --- linked eyes ---


def linked() -> Inspection:
    eyes = plan(request(termination=LinkedEyes(ThimbleEye(), ThimbleEye())))
    readings = as_planned(eyes)
    second = attrs.evolve(readings, saddles=["dead part", *["live part"] * 3], other_eye=None)
    return inspect(eyes, attrs.evolve(readings, other_eye=second))


def test_each_of_two_linked_eyes_has_its_own_readings() -> None:
    inspection = linked()
    assert ["second eye, clip 1"] == [each.item for each in inspection.deviations]
    alone = inspect(inspection.plan, attrs.evolve(inspection.as_built, other_eye=None))
    assert ["second eye"] == [each.what for each in alone.still_to_measure if each.what.startswith("second")]
    assert "find out first" == alone.in_service


# --- later checks ---


def test_a_service_that_looks_at_each_shift_is_named() -> None:
    """29 CFR 1926.451(d)(12): inspect and retighten at the start of each shift."""
    scaffold = plan(request(base_width="1-1/2 in", service="scaffold-suspension"))
    inspection = inspect(scaffold, as_planned(scaffold))
    seen = [each for each in inspection.observations if each.code == "check-each-shift"]
    assert ["must-do"] == [each.kind for each in seen]
    assert "1926.451(d)(12)" in str(seen[0].citations[0])
    assert ([], "keep") == (codes(inspection), inspection.in_service)


# --- tolerances ---


def test_without_a_tolerance_a_torque_is_exact_and_with_one_it_passes() -> None:
    """88 N·m is not 65 lbf·ft where the source prints one of the two; a wrench of 4 % cannot tell them apart."""
    half = plan(request("1/2 in 6x19 IWRC EIP right regular new", ThimbleEye(), "1-1/4 in"))
    count = half.clip_count
    made = AsBuilt(clip_count=count, passes=[TorquePass("assembly", None, "88 N·m", clips=count)], carried_load=False)
    assert ["clip-under-torqued"] * 3 == codes(inspect(half, made))
    wrench = Tolerances(wrench="4 %", wrench_reason="calibration sheet 5 of the invented works")
    passed = inspect(half, attrs.evolve(made, tolerances=wrench))
    assert [("within-tolerance", "note")] * 3 == [(each.code, each.kind) for each in passed.deviations]
    assert "calibration sheet 5" in str(passed.deviations[0].citations[0])
    assert "the wrench's tolerance of 4 %" in passed.deviations[0].text


def test_a_tolerance_is_not_wider_than_it_says() -> None:
    tape = Tolerances(tape="1/16 in", tape_reason="class of the tape")
    short = attrs.evolve(as_planned(plan()), near_edges=None, dead_end=None, tolerances=tape)
    inside, outside = Length.of("18 in") - Length.of("1/16 in"), Length.of("18 in") - Length.of("1/16 in") - Length(1)
    assert ["within-tolerance"] == codes(inspect(plan(), attrs.evolve(short, turn_back=inside)))
    assert ["turn-back-short"] == codes(inspect(plan(), attrs.evolve(short, turn_back=outside)))


# --- refusals ---


def test_readings_for_another_plan_are_refused() -> None:
    other = plan(request("1/2 in 6x19 IWRC EIP right regular new", ThimbleEye(), "1-1/4 in"))
    with pytest.raises(InputError, match="belong to another plan") as caught:
        inspect(plan(), AsBuilt(plan_id=plan_id(other)))
    assert ("plan_id", plan_id(plan())) == (caught.value.field, caught.value.bound)
    assert inspect(plan(), AsBuilt(plan_id=plan_id(plan()))).plan == plan()


def test_the_id_of_a_plan_does_not_hang_on_how_its_rules_were_named() -> None:
    alone, twice = request(), attrs.evolve(request(), rules="us-ca-8-8497+us-ca-8-8497")
    assert plan_id(plan(alone)) == plan_id(plan(twice))
    assert plan_id(plan(alone)) != plan_id(plan(attrs.evolve(alone, extra_clips=1)))
    assert plan_id(plan(alone)) != plan_id(plan(attrs.evolve(alone, base_width="2-3/16 in")))


def test_readings_of_more_clips_than_planned_need_a_count() -> None:
    with pytest.raises(InputError, match="were not counted") as caught:
        inspect(plan(), AsBuilt(saddles=["live part"] * 5))
    assert "clip_count" == caught.value.field


@pytest.mark.parametrize("side", ["both parts", "rope A"])
def test_a_side_that_such_a_clip_has_not_is_refused(side: str) -> None:
    with pytest.raises(InputError) as caught:
        inspect(plan(), AsBuilt(saddles=["live part", side]))
    assert ("saddles[1]", side) == (caught.value.field, caught.value.value)
    assert "makes_mixed" in caught.value.instead


def test_a_second_eye_is_refused_where_none_is_planned() -> None:
    with pytest.raises(InputError, match="linked eyes alone"):
        inspect(plan(), AsBuilt(other_eye=AsBuilt()))


# --- codes ---


def test_codes_are_in_order_and_an_unknown_one_is_refused() -> None:
    names = [entry.code for entry in OBSERVATION_CODES]
    assert sorted(set(names)) == names
    known = inspect(plan(), faulty(loaded=False)).deviations[0]
    with pytest.raises(InputError, match="no code of an observation"):
        attrs.evolve(known, code="clip-upside-down")
    with pytest.raises(InputError, match="no code of an observation"):
        attrs.evolve(known, kind="note")


def test_a_torque_that_nobody_gives_is_asked_for_and_judges_nothing() -> None:
    """29 CFR 1926.251 Table H-2 prints no torque."""
    untold = plan(request(rules="us-osha-1926-251", service="construction-eye"))
    made = AsBuilt(clip_count=4, passes=[TorquePass("assembly", None, Torque(1, "N·m"), clips=4)])
    inspection = inspect(untold, made)
    assert not [each for each in inspection.deviations if "torque" in each.code]
    assert "torque to judge by" in [each.what for each in inspection.still_to_measure]


def test_text_of_an_inspection_says_what_to_do_and_who_says_so() -> None:
    text = str(inspect(plan(), faulty(loaded=True)))
    assert text.startswith("in service: out of service\n")
    assert "clip 2" in text
    assert "should be at least 18 in (457.2 mm)" in text
    assert TABLE in text
    assert "still to find out: first load" in text


def test_the_clip_makers_torque_overrules_the_printed_one() -> None:
    """Invented sheet; Table 1 prints 130 lbf·ft."""
    maker = MakerFigures("invented sheet 3", "100 lbf·ft", "dry")
    made = plan(attrs.evolve(request(), maker=maker))
    assert [] == codes(inspect(made, as_planned(made)))
    printed = AsBuilt(passes=[TorquePass("assembly", None, ["130 lbf·ft"])], carried_load=False)
    assert ["clip-over-torqued"] == codes(inspect(made, printed))


def test_centres_give_the_dead_end_where_the_base_width_is_known() -> None:
    """Centre at 1.5 base widths: 3-3/8 in for a base of 2-1/4 in."""
    good = AsBuilt(centres=["3-3/8 in"], carried_load=False)
    short = AsBuilt(centres=["3-1/4 in", None], carried_load=False)
    assert [] == codes(inspect(plan(), good))
    assert "2-1/8 in (53.975 mm)" == only(inspect(plan(), short), "dead-end-short").measured


def test_a_clip_off_its_place_within_every_bound_is_written_down() -> None:
    wide = plan(request(base_width="1 in"))
    whole = as_planned(wide)
    second = whole.near_edges[1]
    assert second is not None
    moved = [whole.near_edges[0], second + Length.of("1/16 in"), *whole.near_edges[2:]]
    inspection = inspect(wide, attrs.evolve(whole, near_edges=moved))
    assert [("off-plan", "note", "clip 2")] == [(each.code, each.kind, each.item) for each in inspection.deviations]
    assert "keep" == inspection.in_service
