"""Joints to draw: every style with every termination that it makes, measured and not, and odd ones. All invented."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from tests.strategies import CATALOGUE

from turnback.model.rope import Coating, Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    TerminationKind,
    ThimbleEye,
)
from turnback.planning.build import plan
from turnback.planning.plan import Plan

__all__ = ["EVERY", "KINDS", "ODD", "plate", "series"]

ROPE: Final = "3/4 in 6x19 IWRC EIP"
THIMBLE: Final = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
SMALL: Final = ThimbleEye("2 in", "1 in", "1/16 in")
WHOLE: Final[dict[TerminationKind, Termination]] = {
    "thimble eye": THIMBLE,
    "soft eye": SoftEye("4 in", "9 in"),
    "pulley eye": PulleyEye("12 in"),
    "linked eyes": LinkedEyes(THIMBLE, ThimbleEye("4 in", "2-1/2 in", "1/8 in")),
    "lap splice": LapSplice(),
    "plate eye": PlateEye(SMALL),
}
BARE: Final[dict[TerminationKind, Termination]] = {
    "thimble eye": ThimbleEye(),
    "soft eye": SoftEye(),
    "pulley eye": PulleyEye(),
    "linked eyes": LinkedEyes(),
    "lap splice": LapSplice(),
    "plate eye": PlateEye(),
}
RULES: Final = {"u-bolt": "us-ca-8-8497", "mirrored-saddle": "us-ca-8-8497-t2"}


def series(
    termination: Termination,
    style: str = "u-bolt",
    base_width: str | None = "2-1/4 in",
    rope: str | Rope = ROPE,
    rules: str | None = None,
    extra_clips: int = 0,
    service: str | None = "guy",
) -> Plan:
    """A joint with clips in a row."""
    return plan(
        rope, termination, style=style, rules=rules or RULES[style], clip_body="forged", base_width=base_width,
        service=service, jurisdiction="US", extra_clips=extra_clips, catalogue=CATALOGUE,
    )  # fmt: skip


def plate(
    termination: Termination, style: str = "single-plate", body: str | None = "1 in", coating: Coating | None = None
) -> Plan:
    """A joint with a plate clip."""
    cable = Rope("1/8 in", "7x19", finish="galvanized", coating=coating)
    rules = f"common-practice-{style}"
    return plan(cable, termination, style=style, rules=rules, base_width=body, catalogue=CATALOGUE)


def _kinds() -> dict[str, Plan]:
    found = {}
    for style in CATALOGUE.styles:
        for kind in style.terminations:
            made: Callable[..., Plan] = series if style.in_series else plate
            found[f"{style.id}, {kind}, measured"] = made(WHOLE[kind], style.id)
            found[f"{style.id}, {kind}, unmeasured"] = made(BARE[kind], style.id, None)
    return found


KINDS: Final = _kinds()
"""Every style with every termination that it makes, measured and unmeasured."""

_METRIC: Final = series(
    ThimbleEye("60 mm", "40 mm", "3 mm"), base_width="34 mm", rope="13 mm 6x36WS IWRC 1960", rules="en-13411-5",
    service=None,
)  # fmt: skip
_LINKED: Final = series(WHOLE["linked eyes"]).other_eye
assert _LINKED is not None

ODD: Final = {
    "groove offset missing": series(ThimbleEye("3-3/4 in", "2-3/8 in")),
    "base width missing": series(THIMBLE, base_width=None),
    "long soft eye": series(SoftEye("4 in", "60 in")),
    "long thimble": series(ThimbleEye("36 in", "7-1/2 in", "1/4 in"), base_width="2 in"),
    "great pulley": series(PulleyEye("24 in")),
    "pulley too great": series(PulleyEye("60 in")),
    "second of linked eyes": _LINKED,
    "many clips": series(THIMBLE, extra_clips=20),
    "very many clips": series(THIMBLE, extra_clips=100),
    "long lap splice": series(LapSplice(), extra_clips=12),
    "seven clips": series(
        ThimbleEye("7 in", "4 in", "1/4 in"), base_width="3-1/2 in", rope="1-1/2 in 6x36WS IWRC EIP right Lang"
    ),
    "two clips": series(
        ThimbleEye("2 in", "1 in", "1/16 in"), base_width="1 in", rope="3/8 in 6x19 IWRC IPS", rules="ca-nb-clips"
    ),
    "metric": _METRIC,
    "forbidden": series(THIMBLE, service="sling"),
    "saddle narrower than the rope": series(THIMBLE, base_width="1/2 in"),
    "saddles side by side": series(THIMBLE, base_width="3-1/2 in"),
    "parts held apart": plate(PlateEye(SMALL, "1/4 in"), "double-plate"),
    "stripped": plate(PlateEye(SoftEye("1 in", "3 in")), coating=Coating("3/16 in", stripped=True)),
    "eye left coated": plate(PlateEye(SMALL), coating=Coating("3/16 in", stripped=True, eye_stripped=False)),
    "thick coating stripped": plate(PlateEye(SMALL), coating=Coating("9/16 in", stripped=True)),
    "coating left on": plate(PlateEye(SMALL), "double-plate", coating=Coating("3/16 in", stripped=False)),
}
"""What a drawing must bear beside the usual."""

EVERY: Final = {**KINDS, **ODD}
