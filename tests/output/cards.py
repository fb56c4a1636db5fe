"""Plans for the tests of the job card; every rope, clip and thimble of them is invented."""

from __future__ import annotations

from typing import Final

from turnback.model.rope import Rope
from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, Termination, ThimbleEye
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures

__all__ = ["PLANS", "guy", "hostile", "overloaded", "sling"]

_THIMBLE: Final = ThimbleEye("3-3/4 in", "2-3/8 in", "1/8 in")
_SMALL: Final = ThimbleEye("2-3/4 in", "1-1/2 in", "3/32 in")


def guy(certificate: str = "") -> Plan:
    """A thimble eye for a guy; with a certificate the rope's breaking force is known and not recalled."""
    rope: Rope | str = "3/4 in 6x19 IWRC EIP"
    if certificate:
        rope = Rope(
            "3/4 in", "6x19 class", "IWRC", "EIP", lay="right regular", outer_wires="ordinary", condition="new",
            minimum_breaking_force="260 kN", mass_per_length="1.5 kg/m", certificate=certificate,
        )  # fmt: skip
    return plan(
        rope,
        _THIMBLE,
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width="2-1/4 in",
        service="guy",
        jurisdiction="US",
    )


def sling() -> Plan:
    """A forbidden use: 29 CFR 1926.251(c)(4)(iii)."""
    return plan(
        "3/4 in 6x19 IWRC EIP", _THIMBLE, style="u-bolt", rules="us-ca-8-8497", base_width="2-1/4 in", service="sling"
    )


def overloaded() -> Plan:
    """A load above the working load, which must be mended first."""
    return plan(
        "3/4 in 6x19 IWRC EIP",
        _THIMBLE,
        style="u-bolt",
        rules="us-ca-8-8497",
        base_width="2-1/4 in",
        service="guy",
        jurisdiction="US",
        load="200 kN",
    )


def hostile(text: str) -> Plan:
    """A plan whose rope, clip and maker are named by text of any kind."""
    rope = Rope("1/2 in", "6x19", "IWRC", "EIP", minimum_breaking_force="100 kN", certificate=text)
    maker = MakerFigures(text, "65 lbf·ft", "dry", "70 %")
    return plan(
        rope,
        _SMALL,
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_size="1/2 in",
        clip_size_citation=text,
        maker=maker,
        base_width="1-1/8 in",
        service="guy",
    )


def _made(rope: str, termination: Termination, style: str, rules: str, base_width: str | None, service: str) -> Plan:
    return plan(
        rope,
        termination,
        style=style,
        rules=rules,
        clip_body="forged",
        base_width=base_width,
        service=service or None,
        jurisdiction="US",
    )


PLANS: Final[dict[str, Plan]] = {
    "guy": guy(),
    "certified": guy("certificate 7 of the invented works"),
    "sling": sling(),
    "overloaded": overloaded(),
    "unmeasured": _made("13 mm 6x36WS IWRC 1960", ThimbleEye(), "u-bolt", "en-13411-5", None, ""),
    "linked": _made(
        "1/2 in 6x19 IWRC EIP",
        LinkedEyes(_SMALL, ThimbleEye("3-1/4 in", "1-3/4 in", "3/32 in")),
        "u-bolt",
        "us-ca-8-8497",
        "1-1/8 in",
        "guy",
    ),
    "lap": _made("1-1/2 in 6x19 IWRC EIP", LapSplice(), "u-bolt", "us-navy-14026", "3 in", "general"),
    "stripped": _made(
        "1/2 in 6x19 IWRC EIP coated 5/8 in stripped", _SMALL, "mirrored-saddle", "us-army-3810-305", "1-1/4 in", "guy"
    ),
    "plate": _made(
        "1/8 in 7x19 galvanized coated 3/16 in, coating left on",
        PlateEye(ThimbleEye("1 in", "1/2 in", "1/16 in")),
        "double-plate",
        "common-practice-double-plate",
        "1 in",
        "guy",
    ),
}
"""One plan of every kind that the card shows in its own way."""
