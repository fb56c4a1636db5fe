"""Readings as plain dictionaries: lossless, and readable when a person writes them."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.review.joints import as_planned
from tests.strategies import planned, requests

from turnback.errors import InputError
from turnback.planning.request import Request
from turnback.quantities import Force, Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.as_built_document import as_built_document, as_built_from_document
from turnback.review.rope_state import RopeState
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import TorquePass


@given(requests(measured=True, maker=None), st.booleans())
def test_round_trip_of_a_joint_as_planned(request: Request, loaded: bool) -> None:
    made = as_planned(planned(request), loaded=loaded)
    assert made == as_built_from_document(json.loads(json.dumps(as_built_document(made))))


LENGTHS = st.integers(1, 10**12).map(Length)
TORQUES = st.builds(Torque, st.fractions(Fraction(1, 10**6), 10**6, max_denominator=10**9), st.just("N·m"))
FORCES = st.floats(1e-3, 1e9).map(Force)


@st.composite
def readings(draw: st.DrawFn) -> AsBuilt:
    """Readings of any kind, each there or not."""

    def some(strategy: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
        return st.none() | strategy

    count = draw(st.integers(0, 5))
    edges = draw(st.lists(LENGTHS, unique=True, max_size=count).map(sorted))
    left = draw(st.lists(some(TORQUES), min_size=count, max_size=count))
    passes = [TorquePass("periodic", None, left, on=draw(st.none() | st.dates()))] if any(left) else []  # type: ignore[arg-type]  # some torques
    stated = draw(st.none() | FORCES)
    share = st.none() | st.fractions(0, 1)
    return AsBuilt(
        plan_id=draw(st.sampled_from(["", "plan-0123456789abcdef"])),
        clip_count=count,
        clip_size=draw(st.none() | LENGTHS),
        sizes_mixed=draw(st.none() | st.booleans()),
        near_edges=edges,
        saddles=draw(st.lists(st.sampled_from([None, "live part", "dead part"]), max_size=count)),
        passes=passes,
        threads=draw(st.sampled_from([None, "dry", "greased"])),
        turn_back=draw(st.none() | LENGTHS),
        carried_load=draw(st.none() | st.just(True)),
        first_load=draw(st.none() | FORCES),
        working_load=stated,
        working_load_reason="" if stated is None else "engineer 4",
        slips=draw(st.lists(st.none() | st.booleans() | LENGTHS, max_size=count)),
        rope=RopeState(
            draw(st.sampled_from([None, "running"])),
            draw(st.none() | LENGTHS),
            draw(st.none() | st.integers(0, 99)),
            None,
            draw(st.none() | st.integers(0, 99)),
            draw(share),
            draw(share),
            draw(st.sampled_from([None, [], ["kink"], ["heat", "crushing"]])),
            draw(st.none() | st.booleans()),
        ),
        tolerances=draw(st.sampled_from([None, Tolerances("1/32 in", "class of the tape", "4 %", "sheet 5")])),
    )


@given(readings())
def test_round_trip_of_any_readings(made: AsBuilt) -> None:
    assert made == as_built_from_document(json.loads(json.dumps(as_built_document(made))))


def test_keys_carry_their_unit_and_torques_their_text() -> None:
    made = AsBuilt(
        clip_count=2,
        turn_back="17-1/2 in",
        first_load="9 kN",
        slips=["none", "1/8 in"],
        passes=[TorquePass("assembly", None, ["65 lbf·ft (88 N·m)", None])],
        rope=RopeState(damage=[], wear="1/3"),
    )
    document = as_built_document(made)
    assert (444_500_000, 9000.0) == (document["turn_back_nm"], document["first_load_newton"])
    assert [False, "1/8 in (3.175 mm)"] == document["slips"]
    assert {"damage": [], "wear": "1/3"} == document["rope"]
    passes = document["passes"]
    assert isinstance(passes, list)
    (one,) = passes
    assert ["65 lbf·ft (88 N·m)", None] == one["as_left"]
    # 65 lbf·ft is 65 x 1.3558179483314004 N·m (NIST SP 811).
    assert [pytest.approx(88.128166641541026), None] == one["as_left_newton_metre"]


def test_a_person_writes_text() -> None:
    made = as_built_from_document(
        {
            "clip_count": 3,
            "saddles": "live",
            "near_edges": ["2-1/4 in", "6-3/4 in", None],
            "turn_back": "17-1/2 in",
            "passes": [{"at": "assembly", "as_left": "130 lbf·ft"}],
            "rope": {"use": "standing", "share_broken": "5 %"},
            "tolerances": {"tape": "1/32 in", "tape_reason": "class of the tape"},
            "expected_load": "9 kN",
            "dead_end": None,
        }
    )
    assert (("live part",) * 3, (Torque(130, "lbf·ft"),) * 3) == (made.saddles, made.passes[0].as_left)
    assert (Length(444_500_000), Fraction(1, 20)) == (made.turn_back, made.rope.share_broken)
    assert (Length(793_750), Force(9000.0)) == (made.tolerances.tape, made.expected_load)


def test_numbers_alone_are_read_under_their_unit() -> None:
    made = as_built_from_document(
        {
            "turn_back_nm": 444_500_000,
            "first_load_newton": 9000,
            "passes": [{"at": "assembly", "as_left_newton_metre": [88.5]}],
        }
    )
    assert (Length(444_500_000), Force(9000.0)) == (made.turn_back, made.first_load)
    assert (Torque(Fraction(177, 2), "N·m"),) == made.passes[0].as_left


@pytest.mark.parametrize(
    ("document", "field", "words"),
    [
        ({"turn_bak": "17 in"}, "turn_bak", "Did you mean turn_back"),
        ({"turn_back_mm": 432}, "turn_back_mm", "Did you mean turn_back"),
        ({"turn_back_newton": 4}, "turn_back_newton", "no such key"),
        ({"turn_back": 17}, "turn_back", "no unit"),
        ({"turn_back_nm": 17.5}, "turn_back_nm", "whole number of nanometres"),
        ({"turn_back_nm": True}, "turn_back_nm", "whole number of nanometres"),
        ({"turn_back_nm": "17"}, "turn_back_nm", "whole number of nanometres"),
        ({"turn_back_nm": -5}, "turn_back", "greater than zero"),
        ({"turn_back": "17 in", "turn_back_nm": 457_200_000}, "turn_back", "written twice"),
        ({"first_load_newton": float("inf")}, "first_load_newton", "greater than zero"),
        ({"first_load_newton": 0}, "first_load_newton", "greater than zero"),
        ({"near_edges_nm": [57_150_000, 1.5]}, "near_edges_nm[1]", "whole number of nanometres"),
        ({"clip_count": 2, "saddles": ["live part", "dead parts"]}, "saddles[1]", "Did you mean dead part"),
        ({"passes": {"at": "assembly"}}, "passes", "a list stands here"),
        ({"passes": ["assembly"]}, "passes[0]", "keys and values"),
        ({"passes": [{"as_left": ["1 N·m"]}]}, "passes[0].at", "when the wrench went round"),
        ({"passes": [{"at": "assembly", "as_left": ["1 N·m", "2 N"]}]}, "passes[0].as_left[1]", "a torque belongs"),
        ({"passes": [{"at": "assembly", "asleft": []}]}, "passes[0].asleft", "Did you mean as_left"),
        (
            {"passes": [{"at": "assembly", "as_left": ["1 N·m"], "as_left_newton_metre": [2]}]},
            "passes[0].as_left",
            "written twice",
        ),
        (
            {"clip_count": 1, "passes": [{"at": "assembly", "as_left": ["1 N·m"] * 2}]},
            "passes[0].as_left",
            "more readings",
        ),
        ({"rope": {"ware": "1 %"}}, "rope.ware", "Did you mean wear"),
        ({"rope": {"wear": "x"}}, "rope.wear", "number"),
        ({"rope": []}, "rope", "keys and values"),
        ({"other_eye": {"rope": {"wear": "x"}}}, "other_eye.rope.wear", "number"),
        ({"other_eye": {"turn_back": "x"}}, "other_eye.turn_back", "begin with a number"),
        ({"tolerances": {"tape": "1/32 in"}}, "tolerances.tape_reason", "reason"),
        ({"format": 2}, "format", "not known to this version"),
        ({"format": True}, "format", "not known to this version"),
        ([], "", "keys and values"),
    ],
)
def test_every_error_names_the_path(document: object, field: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        as_built_from_document(document)  # type: ignore[arg-type]  # wrong on purpose
    assert field == caught.value.field
