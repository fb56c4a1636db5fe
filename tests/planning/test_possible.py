"""The inverse question: so much rope, so many clips, such a load. What fits, and what stops the others, in words.

Numbers by hand from 8 CCR §8497, Table 1 (1/2 in: 3 clips, 11-1/2 in; 3/4 in: 4 clips, 18 in), NAVEDTRA 14026
(count 3D + 1, spacing 6D) and the breaking force of 1/2 in 6x19 IWRC EIP, 13.3 tons of 2000 lb (RR-W-410 and ASTM
A1023 family, from memory). Base widths are invented.
"""

from __future__ import annotations

import pytest

from turnback.errors import InputError, PluginError, UnknownRuleSet, UnknownStyle
from turnback.model.rope import Rope
from turnback.model.styles import ClipStyle
from turnback.model.terminations import LapSplice, PlateEye, SoftEye, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.possible import Candidate, possible
from turnback.planning.request import MakerFigures
from turnback.quantities import Force, Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import hookimpl
from turnback.rules.selection import first_of, governing
from turnback_ubolt import plugin as ubolt

HALF, THREE_QUARTERS = "1/2 in 6x19 IWRC EIP", "3/4 in 6x19 IWRC EIP"
CALIFORNIA, FEDERAL, NAVY, EUROPE = "us-ca-8-8497", "us-osha-1926-251", "us-navy-14026", "en-13411-5"


def one(rope: str = HALF, rules: str = CALIFORNIA, /, **at_hand: object) -> Candidate:
    """The only candidate for one rope and one choice of rules."""
    given: dict[str, object] = {"clip_body": "forged", **at_hand}
    found = possible([rope], style="u-bolt", rules=[rules], **given)  # type: ignore[arg-type]  # some fields of many
    assert 1 == len(found)
    return found[0]


# --- so many clips, so much rope ---


@pytest.mark.parametrize(("rope", "needed"), [(HALF, 3), (THREE_QUARTERS, 4)])
def test_so_many_clips(rope: str, needed: int) -> None:
    assert one(rope, clips=needed).fits
    assert one(rope, clips=needed + 1).fits
    short = one(rope, clips=needed - 1)
    assert not short.fits
    (why,) = short.obstacles
    assert f"{needed} clips" in why
    assert str(needed - 1) in why


@pytest.mark.parametrize(("rope", "needed"), [(HALF, "11-1/2 in"), (THREE_QUARTERS, "18 in")])
def test_so_much_rope_to_turn_back(rope: str, needed: str) -> None:
    exact = Length.of(needed)
    assert one(rope, turn_back=needed).fits
    short = one(rope, turn_back=Length(exact.nanometres - 1))
    assert not short.fits
    (why,) = short.obstacles
    assert needed in why


def test_a_lap_splice_is_asked_for_its_overlap() -> None:
    """Twice the turn-back and twice the clips, common practice: 23 in and 6 clips at 1/2 in."""
    both = possible([HALF], LapSplice(), style="u-bolt", rules=[CALIFORNIA], turn_back="23 in", clips=6)
    assert [()] == [each.obstacles for each in both]
    (short,) = possible([HALF], LapSplice(), style="u-bolt", rules=[CALIFORNIA], turn_back="22-63/64 in", clips=5)
    assert 2 == len(short.obstacles)


def test_a_turn_back_that_hangs_on_a_measurement_cannot_be_told() -> None:
    unmeasured = one(HALF, NAVY, turn_back="2 m")
    assert not unmeasured.fits
    assert "base width" in unmeasured.obstacles[0]
    # 3 clips, 3 in apart, 1-1/2 in long: 2 x 1-1/2 + 2 x 3 = 9 in.
    assert one(HALF, NAVY, turn_back="9 in", base_width="1-1/2 in").fits
    assert not one(HALF, NAVY, turn_back="8-63/64 in", base_width="1-1/2 in").fits


def test_every_obstacle_is_named() -> None:
    found = one(THREE_QUARTERS, turn_back="10 in", clips=2, load="50 kip", design_factor=5, service="general")
    assert 3 == len(found.obstacles)
    assert ["4 clips", "18 in", "the load"] == [
        word for word, why in zip(("4 clips", "18 in", "the load"), found.obstacles, strict=True) if word in why
    ]


# --- such a load ---


def test_such_a_load_under_a_factor() -> None:
    """13.3 x 2000 lbf x 80 % (common practice up to 7/8 in) / 5 = 4256 lbf."""
    asked = {"design_factor": 5, "service": "general", "jurisdiction": "US"}
    assert one(load="4255.9 lbf", **asked).fits
    heavy = one(load="4256.1 lbf", **asked)
    assert not heavy.fits
    (why,) = heavy.obstacles
    assert str(Force.of("4256.1 lbf")) in why


def test_the_factor_of_the_service_is_taken_where_none_is_given() -> None:
    """29 CFR 1926.451(a)(4): 6 times the greatest intended load: 21280 / 6 = 3546.67 lbf."""
    scaffold = {"service": "scaffold-suspension", "jurisdiction": "US"}
    assert one(load="3546 lbf", **scaffold).fits
    assert not one(load="3547 lbf", **scaffold).fits


def test_a_factor_below_the_cited_one_is_an_obstacle() -> None:
    low = one(load="1 lbf", design_factor=4, service="scaffold-suspension", jurisdiction="US")
    (why,) = low.obstacles
    assert "at least 6" in why


def test_a_load_without_a_service_has_no_factor_to_cite() -> None:
    (why,) = one(load="1 lbf").obstacles
    assert "service" in why


@pytest.mark.parametrize(
    ("rules", "eye"),
    # NAVEDTRA 14026 prints no torque; nobody rates a soft eye.
    [(NAVY, ThimbleEye()), (CALIFORNIA, SoftEye("3 in", "9 in"))],
)
def test_what_nobody_rates_carries_no_load(rules: str, eye: ThimbleEye | SoftEye) -> None:
    (found,) = possible([HALF], eye, style="u-bolt", rules=[rules], load="1 lbf", service="general")
    assert not found.fits
    assert any("working load" in why for why in found.obstacles)
    # Without a load it is not asked for.
    (unloaded,) = possible([HALF], eye, style="u-bolt", rules=[rules], clips=9, service="general")
    assert unloaded.fits


def test_the_clip_makers_figures_are_taken() -> None:
    maker = MakerFigures("invented sheet 1", "60 lbf·ft", "dry", "75 %")
    # 26600 lbf x 75 % / 5 = 3990 lbf.
    assert one(HALF, NAVY, maker=maker, load="3989 lbf", service="general", jurisdiction="US").fits
    assert not one(HALF, NAVY, maker=maker, load="3991 lbf", service="general", jurisdiction="US").fits


# --- what stops the others ---


def test_a_forbidden_use_fits_nowhere() -> None:
    """29 CFR 1926.251(c)(4)(iii)."""
    found = possible([HALF], style="u-bolt", clips=9, service="sling", jurisdiction="US")
    assert found
    for each in found:
        assert not each.fits
        assert each.obstacles[0].startswith("forbidden")
        assert each.plan is not None
        assert not each.plan.usable


def test_a_size_between_rows_names_its_neighbours() -> None:
    metric = one("13 mm 6x36WS IWRC 1960", clips=9)
    assert metric.plan is None
    (why,) = metric.obstacles
    assert "1/2 in" in why
    assert "9/16 in" in why
    assert "+2.4%" in why
    assert one("13 mm 6x36WS IWRC 1960", EUROPE, clips=4).fits


def test_a_rope_outside_the_scope_says_so() -> None:
    outside = one("1/2 in 6x19 IWRC 1770", clips=9)
    assert outside.plan is None
    assert "1770" in outside.obstacles[0]


def test_rule_sets_that_cannot_be_met_together_say_so() -> None:
    (found,) = possible([HALF], style="u-bolt", rules=[governing(CALIFORNIA, EUROPE)], clips=9)
    assert f"{EUROPE}+{CALIFORNIA}" == found.rules
    assert "pattern" in found.obstacles[0] or "clip sizes" in found.obstacles[0]


def test_a_base_width_too_great_stops_one_rule_set_and_not_the_other() -> None:
    """Side by side, 3 clips and the end take 4 base widths: 11-1/2 in holds 2-7/8 in at most."""
    wide = {"base_width": "2-57/64 in", "clips": 9}
    assert "2-7/8 in" in one(**wide).obstacles[0]
    assert one(HALF, NAVY, **wide).fits
    assert one(base_width="2-7/8 in", clips=9).fits


def test_a_misspelt_rule_set_names_the_nearest() -> None:
    (why,) = one(HALF, "us-ca-8-8479", clips=9).obstacles
    assert CALIFORNIA in why


# --- the answer as a whole ---


def test_every_rope_and_every_rule_set_comes_back_in_order() -> None:
    ropes: list[Rope | str] = [HALF, "13 mm 6x36WS IWRC 1960", Rope(THREE_QUARTERS.split(maxsplit=1)[0] + " in")]
    found = possible(ropes, style="u-bolt", clips=4)
    names = [rules.id for rules in Catalogue.installed().for_style("u-bolt")]
    assert {CALIFORNIA, FEDERAL, NAVY, EUROPE} <= set(names)
    parsed = [Rope.parse(rope) if isinstance(rope, str) else rope for rope in ropes]
    assert [(rope, name) for rope in parsed for name in names] == [(each.rope, each.rules) for each in found]


def test_a_candidate_holds_the_plan_that_would_be_made() -> None:
    choices = [CALIFORNIA, governing(CALIFORNIA, FEDERAL), first_of(FEDERAL, CALIFORNIA)]
    at_hand = {"clip_body": "forged", "base_width": "1-1/2 in", "service": "guy", "jurisdiction": "US"}
    found = possible(
        [HALF], ThimbleEye(), style="u-bolt", rules=choices, clips=9, clip_body="forged", base_width="1-1/2 in",
        service="guy", jurisdiction="US",
    )  # fmt: skip
    for choice, each in zip(choices, found, strict=True):
        assert each.fits
        assert plan(HALF, ThimbleEye(), style="u-bolt", rules=choice, **at_hand) == each.plan  # type: ignore[arg-type]  # some fields of many


def test_ropes_and_rules_may_come_from_an_iterator() -> None:
    found = possible(iter([HALF]), style="u-bolt", rules=iter([CALIFORNIA, FEDERAL]), clips=4)
    assert [CALIFORNIA, FEDERAL] == [each.rules for each in found]


# --- bad input ---

BAD: dict[str, tuple[dict[str, object], str]] = {
    "nothing asked for": ({"clips": None}, "turn_back"),
    "no clips": ({"clips": 0}, "clips"),
    "clips true": ({"clips": True}, "clips"),
    "clips 2.5": ({"clips": 2.5}, "clips"),
    "clips text": ({"clips": "3"}, "clips"),
    "bare turn-back": ({"turn_back": "12"}, "turn_back"),
    "zero turn-back": ({"turn_back": "0 in"}, "turn_back"),
    "load in lb": ({"load": "5 lb"}, "load"),
    "load not finite": ({"load": "nan kN"}, "load"),
    "factor without load": ({"design_factor": 5}, "design_factor"),
    "factor under one": ({"load": "1 kN", "design_factor": 0.9}, "design_factor"),
    "factor not a number": ({"load": "1 kN", "design_factor": float("nan")}, "design_factor"),
    "factor true": ({"load": "1 kN", "design_factor": True}, "design_factor"),
    "no rope": ({"ropes": []}, "ropes"),
    "one rope as text": ({"ropes": HALF}, "ropes"),
    "one rope": ({"ropes": Rope("1/2 in")}, "ropes"),
    "ropes none": ({"ropes": None}, "ropes"),
    "no rules": ({"rules": []}, "rules"),
    "one rule set as text": ({"rules": CALIFORNIA}, "rules"),
    "one choice": ({"rules": governing(CALIFORNIA, FEDERAL)}, "rules"),
    "rules with a gap": ({"rules": [f"{CALIFORNIA}+"]}, "rules"),
    "rules a number": ({"rules": [5]}, "rules"),
    "bare base width": ({"base_width": "2"}, "base_width"),
    "unknown body": ({"clip_body": "steel"}, "clip_body"),
    "unknown service": ({"service": "kite"}, "service"),
    "unknown jurisdiction": ({"jurisdiction": "XX"}, "jurisdiction"),
    "an eye that the style does not make": ({"termination": PlateEye()}, "termination"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_refused_and_is_no_mere_obstacle(case: str) -> None:
    fields, name = BAD[case]
    given: dict[str, object] = {"ropes": [HALF], "style": "u-bolt", "clips": 4, **fields}
    with pytest.raises(InputError) as refused:
        possible(**given)  # type: ignore[arg-type]  # that is the point
    assert name == refused.value.field
    assert refused.value.instead or refused.value.bound


def test_a_rope_that_cannot_be_read_is_refused() -> None:
    with pytest.raises(InputError, match="6y19"):
        possible([HALF, "1/2 in 6y19"], style="u-bolt", clips=4)


def test_an_unknown_style_is_refused() -> None:
    with pytest.raises(UnknownStyle, match="u-bolt"):
        possible([HALF], style="u-blot", clips=4)


class StyleAlone:
    """An invented plugin that brings a style and no rule set."""

    @hookimpl
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        return ubolt.turnback_styles()


class Broken:
    """An invented plugin that fails."""

    @hookimpl
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        raise OSError("no disk")


def test_no_rule_set_at_hand_is_no_empty_answer() -> None:
    with pytest.raises(UnknownRuleSet, match="u-bolt"):
        possible([HALF], style="u-bolt", clips=4, catalogue=Catalogue.of(StyleAlone()))
    with pytest.raises(PluginError, match="no disk"):
        possible([HALF], style="u-bolt", clips=4, catalogue=Catalogue.of(StyleAlone(), Broken()))
