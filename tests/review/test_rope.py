"""Rope that is taken out of service: Mich. Admin. Code R 408.40834(1), limits typed from its text."""

from __future__ import annotations

import attrs
import pytest
from tests.review.joints import as_planned, plan, request, sound

from turnback.errors import InputError
from turnback.model.rope import Coating
from turnback.model.terminations import ThimbleEye
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.review.inspection import Inspection, inspect
from turnback.review.rope_state import RopeState

CODE = "R 408.40834(1)"


def looked_at(of: Plan, use: str | None = "standing", **changed: object) -> Inspection:
    state = attrs.evolve(sound(of), use=use, **changed)  # type: ignore[arg-type]  # one of its fields
    return inspect(of, attrs.evolve(as_planned(of), rope=state))


def codes(inspection: Inspection) -> list[str]:
    return [each.code for each in inspection.deviations]


@pytest.mark.parametrize(
    ("use", "field", "kept", "gone", "code"),
    [
        ("running", "broken_wires_in_lay", 5, 6, "discard-running-broken-wires"),
        ("standing", "broken_wires_in_lay", 2, 3, "discard-standing-broken-wires"),
        ("standing", "broken_wires_at_end", 1, 2, "discard-standing-broken-wires-at-end"),
        ("standing", "share_broken", "10 %", "11 %", "discard-broken-wires-in-8-diameters"),
        ("standing", "wear", "33 %", "1/3", "discard-worn-outer-wires"),
    ],
)
def test_each_limit_at_its_edge(use: str, field: str, kept: object, gone: object, code: str) -> None:
    assert [] == codes(looked_at(plan(), use, **{field: kept}))
    inspection = looked_at(plan(), use, **{field: gone})
    assert [code] == codes(inspection)
    assert "out of service" == inspection.in_service
    assert CODE in str(inspection.deviations[0].citations[0])


def test_three_broken_wires_in_one_strand_of_a_running_rope() -> None:
    inspection = looked_at(plan(), "running", broken_wires_in_lay=3, broken_wires_in_strand=3)
    assert ["discard-running-broken-wires-in-strand"] == codes(inspection)


@pytest.mark.parametrize(
    ("size", "base", "loss"),
    # The sizes at the edges of the printed ranges, and the loss above which the rope goes.
    [("1/2 in", "1-1/4 in", "1/32 in"), ("3/4 in", "2-1/4 in", "3/64 in"), ("1 in", "2-1/2 in", "1/16 in")],
)
def test_loss_of_diameter_goes_by_size(size: str, base: str, loss: str) -> None:
    made = plan(request(f"{size} 6x19 IWRC EIP right regular new", ThimbleEye(), base))
    allowed = Length.of(size) - Length.of(loss)
    assert [] == codes(looked_at(made, diameter=allowed))
    inspection = looked_at(made, diameter=allowed - Length(1))
    assert ["discard-loss-of-diameter"] == codes(inspection)
    assert f"at least {allowed}" == inspection.deviations[0].bound


def test_a_rope_that_measured_more_when_new_has_lost_that_too() -> None:
    rope = attrs.evolve(request().rope, measured_diameter="25/32 in")
    made = plan(attrs.evolve(request(), rope=rope))
    # 25/32 less 3/64 is 47/64 in.
    assert [] == codes(looked_at(made, diameter="47/64 in"))
    lost = looked_at(made, diameter="46/64 in")
    assert ["discard-loss-of-diameter"] == codes(lost)
    assert "1/16 in (1.5875 mm) less than the 25/32 in" in lost.deviations[0].text


def test_a_size_for_which_nothing_is_printed_is_never_passed() -> None:
    large = plan(request("2 in 6x19 IWRC EIP right regular new", ThimbleEye(), "4 in"))
    missing = [each.what for each in looked_at(large, diameter="1/2 in").still_to_measure]
    assert "rope, loss of diameter" in missing


@pytest.mark.parametrize("damage", ["kink", "crushing", "bird-cage", "heat"])
def test_damage_seen_takes_the_rope_out(damage: str) -> None:
    assert ["discard-damaged"] == codes(looked_at(plan(), damage=[damage]))


def test_corrosion_is_for_a_competent_person() -> None:
    """No source at hand prints a limit, so none is made up."""
    inspection = looked_at(plan(), corrosion=True)
    assert [("rope-corroded", False)] == [(each.code, each.out_of_service) for each in inspection.deviations]
    assert "act" == inspection.in_service


def test_in_a_mine_hoist_the_attachment_is_cut_off() -> None:
    """30 CFR 57.19025, 75.1435, 77.1437: more than one broken wire at the attachment, slippage, corrosion."""
    hoist = plan(request(service="mine-hoist"))
    assert [] == codes(looked_at(hoist, "running", broken_wires_at_end=1))
    inspection = looked_at(hoist, "running", broken_wires_at_end=2)
    assert ["attachment-cut-off"] == codes(inspection)
    assert "30 CFR" in str(inspection.deviations[0].citations[0])
    assert "attachment-cut-off" in codes(looked_at(hoist, "running", corrosion=True))


def test_where_nobody_says_running_or_standing_the_stricter_rule_holds_and_says_so() -> None:
    inspection = looked_at(plan(), None, broken_wires_in_lay=3, broken_wires_in_strand=0)
    assert ["discard-standing-broken-wires"] == codes(inspection)
    assert "nobody says whether this one runs or stands" in inspection.deviations[0].text
    assert "rope, running or standing" in [each.what for each in inspection.still_to_measure]


def test_a_coating_that_stays_on_hides_the_rope() -> None:
    coated = attrs.evolve(request().rope, diameter="5/8 in", coating=Coating("3/4 in", stripped=False))
    made = plan(attrs.evolve(request(), rope=coated))
    missing = {each.what: each.reason for each in looked_at(made, diameter="1/2 in").still_to_measure}
    assert "hides the rope" in missing["rope, loss of diameter"]


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"broken_wires_in_lay": -1}, "rope.broken_wires_in_lay"),
        ({"broken_wires_in_lay": True}, "rope.broken_wires_in_lay"),
        ({"broken_wires_in_lay": 1, "broken_wires_in_strand": 2}, "rope.broken_wires_in_strand"),
        ({"wear": "110 %"}, "rope.wear"),
        ({"wear": 0.3}, "rope.wear"),
        ({"share_broken": "10 mm"}, "rope.share_broken"),
        ({"damage": "kink"}, "rope.damage"),
        ({"damage": ["kinks"]}, "rope.damage[0]"),
        ({"damage": [None]}, "rope.damage[0]"),
        ({"corrosion": "none"}, "rope.corrosion"),
        ({"use": "walking"}, "rope.use"),
        ({"diameter": "0.7"}, "rope.diameter"),
    ],
)
def test_a_state_that_cannot_be_read(given: dict[str, object], field: str) -> None:
    with pytest.raises(InputError) as caught:
        RopeState(**given)  # type: ignore[arg-type]  # wrong on purpose
    assert field == caught.value.field
