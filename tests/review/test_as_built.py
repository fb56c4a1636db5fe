"""Reading what was written down at the bench, and refusing what cannot be meant."""

from __future__ import annotations

import pickle
from fractions import Fraction

import attrs
import pint
import pytest
from tests.review.joints import as_planned, plan

from turnback.errors import InputError
from turnback.quantities import Force, Length, Torque
from turnback.review.as_built import AsBuilt
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import TorquePass

UREG: pint.UnitRegistry[float] = pint.UnitRegistry()


def test_text_values_and_quantities_of_any_registry_are_read() -> None:
    made = AsBuilt(
        turn_back="17-1/2 in",
        dead_end=Length.of("57.15 mm"),
        base_width=UREG.Quantity(2.25, "inch"),
        near_edges=["2-1/4 in", None, UREG.Quantity(285, "mm")],
        first_load=UREG.Quantity(9, "kN"),
        clip_count=3,
        passes=[TorquePass("assembly", None, [UREG.Quantity(130, "force_pound * foot"), "130 lbf·ft"])],
    )
    assert (Length(444_500_000), Length(57_150_000), Length(57_150_000)) == (
        made.turn_back,
        made.dead_end,
        made.base_width,
    )
    assert (Length(57_150_000), None, Length(285_000_000)) == made.near_edges
    assert Force(9000.0) == made.first_load
    assert (Torque(130, "lbf·ft"), Torque(130, "lbf·ft")) == made.passes[0].as_left


def test_a_torque_of_many_digits_is_kept_to_a_billionth() -> None:
    made = TorquePass("assembly", None, [UREG.Quantity(1 / 3, "newton * meter")])
    torque = made.as_left[0]
    assert torque is not None
    assert Fraction(333_333_333, 10**9) == torque.value


def test_one_reading_stands_for_every_clip() -> None:
    made = AsBuilt(clip_count=3, saddles="live", slips="none")
    assert (("live part",) * 3, (False,) * 3) == (made.saddles, made.slips)


def test_what_witness_marks_show() -> None:
    assert (False, True, Length(3_175_000), None, False, True) == AsBuilt(
        slips=["none", "slipped", "1/8 in", None, False, True]
    ).slips


@pytest.mark.parametrize(
    ("made", "loaded"),
    [
        ({}, None),
        ({"carried_load": False}, False),
        ({"carried_load": True, "first_load_applied": False}, True),
        ({"first_load_applied": True}, True),
        ({"first_load_applied": False}, False),
        ({"first_load": "1 kN"}, True),
        ({"passes": [TorquePass("periodic", None, ["1 N·m"])]}, True),
        ({"passes": [TorquePass("before first use", None, ["1 N·m"])]}, None),
    ],
)
def test_whether_it_has_carried_load_is_told_by_anything_that_says_so(
    made: dict[str, object], loaded: bool | None
) -> None:
    assert loaded is AsBuilt(**made).loaded  # type: ignore[arg-type]  # one of its fields


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"clip_count": -1}, "clip_count", "whole number"),
        ({"clip_count": True}, "clip_count", "whole number"),
        ({"clip_count": 4.0}, "clip_count", "whole number"),
        ({"clip_count": 1001}, "clip_count", "whole number"),
        ({"turn_back": "17.5"}, "turn_back", "no unit"),
        ({"turn_back": "17 lbf·ft"}, "turn_back", "where a length belongs"),
        ({"turn_back": "0 in"}, "turn_back", "greater than zero"),
        ({"first_load": "9 kg"}, "first_load", "kg is a mass"),
        ({"near_edges": ["2 in", "1 in"]}, "near_edges[1]", "in order from the dead end"),
        ({"near_edges": ["2 in", None, "2 in"]}, "near_edges[2]", "in order from the dead end"),
        ({"near_edges": ["2 in"], "centres": ["3 in"]}, "centres", "one place"),
        ({"clip_count": 1, "near_edges": ["2 in", "4 in"]}, "near_edges", "more readings than clips"),
        ({"near_edges": "2 in"}, "near_edges", "needs the number of clips"),
        ({"saddles": ["life part"]}, "saddles[0]", "this word is not read"),
        ({"slips": ["a little"]}, "slips[0]", "or how far"),
        ({"threads": "oily"}, "threads", "this word is not read"),
        ({"thimble": "yes"}, "thimble", "neither True nor False"),
        ({"carried_load": False, "first_load_applied": True}, "carried_load", "has carried load"),
        ({"carried_load": False, "first_load": "1 kN"}, "carried_load", "has carried load"),
        ({"first_load_applied": False, "first_load": "1 kN"}, "first_load_applied", "another field says"),
        ({"working_load": "1 kN"}, "working_load_reason", "goes with who states it"),
        ({"working_load_reason": "engineer 4"}, "working_load_reason", "goes with who states it"),
        ({"plan_id": "=1+1"}, "plan_id", "begins with a letter or a digit"),
        ({"plan_id": "a\nb"}, "plan_id", "one line of text"),
        ({"rope": {"wear": "1 %"}}, "rope", "no RopeState"),
        ({"passes": "assembly"}, "passes", "passes are a list"),
        ({"passes": ["assembly"]}, "passes[0]", "no TorquePass"),
        ({"other_eye": AsBuilt(other_eye=AsBuilt())}, "other_eye.other_eye", "no third"),
    ],
)
def test_what_cannot_be_meant_is_refused(given: dict[str, object], field: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        AsBuilt(**given)  # type: ignore[arg-type]  # wrong on purpose
    assert field == caught.value.field
    assert caught.value.instead or caught.value.bound or "third" in words


def test_the_nearest_word_is_named() -> None:
    with pytest.raises(InputError) as caught:
        AsBuilt(saddles=["life part"])
    assert "Did you mean live part?" == caught.value.instead


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"tape": "1/32 in"}, "tolerances.tape_reason"),
        ({"tape_reason": "class of the tape"}, "tolerances.tape_reason"),
        ({"wrench": "4 %", "wrench_reason": " "}, "tolerances.wrench_reason"),
        ({"wrench": "4", "wrench_reason": "sheet 5"}, "tolerances.wrench"),
        ({"tape": "4 %", "tape_reason": "sheet 5"}, "tolerances.tape"),
    ],
)
def test_a_tolerance_has_its_reason(given: dict[str, str], field: str) -> None:
    with pytest.raises(InputError) as caught:
        Tolerances(**given)
    assert field == caught.value.field


def test_tolerances_print_and_none_stands_by_default() -> None:
    assert "none" == str(Tolerances())
    assert "tape 1/32 in (0.79375 mm) (class of the tape), wrench 4 % (sheet 5)" == str(
        Tolerances("1/32 in", "class of the tape", "4 %", "sheet 5")
    )


def test_readings_are_values() -> None:
    made = as_planned(plan())
    assert made == pickle.loads(pickle.dumps(made))
    assert hash(made) == hash(attrs.evolve(made))
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        made.clip_count = 3  # type: ignore[misc]  # frozen on purpose
