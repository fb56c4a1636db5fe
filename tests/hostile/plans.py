"""Plans over the built-in rule sets, and what of them may differ when a hostile plugin stands beside the good ones."""

from __future__ import annotations

import json
from typing import Final

from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.output.interchange import to_json
from turnback.planning.build import plan
from turnback.rules.catalogue import Catalogue

__all__ = ["PLANS", "all_but_what_is_said", "written"]

_THIMBLE: Final = ThimbleEye(inside_length="3-3/4 in", inside_width="2-3/8 in", groove_offset="1/8 in")
_EIP: Final = "3/4 in 6x19 IWRC EIP"

PLANS: Final[tuple[tuple[str, str, str, Termination, str | None], ...]] = (
    (_EIP, "u-bolt", "us-ca-8-8497", _THIMBLE, "2-1/4 in"),
    (_EIP, "u-bolt", "us-ca-8-8497", ThimbleEye(), None),
    (_EIP, "u-bolt", "us-ca-8-8497", SoftEye(pin="4 in"), "2-1/4 in"),
    (_EIP, "u-bolt", "us-ca-8-8497", PulleyEye(tread_diameter="12 in"), "2-1/4 in"),
    (_EIP, "u-bolt", "us-ca-8-8497", LinkedEyes(), "2-1/4 in"),
    (_EIP, "u-bolt", "us-ca-8-8497", LapSplice(), "2-1/4 in"),
    ("1/2 in 6x19 IWRC IPS", "u-bolt", "us-ca-8-8497", _THIMBLE, "1-1/2 in"),
    ("1 in 6x19 IWRC IPS", "u-bolt", "us-ca-8-8497", ThimbleEye(), "2-1/2 in"),
    ("1-1/4 in 6x37 IWRC EIP", "u-bolt", "us-ca-8-8497", ThimbleEye(), "3 in"),
    (_EIP, "u-bolt", "us-osha-1926-251", _THIMBLE, "2-1/4 in"),
    (_EIP, "u-bolt", "us-osha-1926-251", LapSplice(), None),
    (_EIP, "u-bolt", "us-ca-8-8497+us-osha-1926-251", _THIMBLE, "2 in"),
    (_EIP, "u-bolt", "us-osha-1926-251,us-ca-8-8497", _THIMBLE, "2 in"),
    ("1/2 in 6x19 IWRC IPS", "u-bolt", "us-navy-14026", ThimbleEye(), "1-1/2 in"),
    ("5/8 in 6x19 IWRC IPS", "u-bolt", "us-army-5420-278", ThimbleEye(), "1-1/2 in"),
    ("12 mm 6x19 IWRC 1770", "u-bolt", "en-13411-5", ThimbleEye(), "35 mm"),
    ("16 mm 6x19 IWRC 1770", "u-bolt", "en-13411-5", LapSplice(), None),
    ("1/2 in", "u-bolt", "ca-nb-clips", ThimbleEye(), "1-1/2 in"),
    (_EIP, "mirrored-saddle", "us-ca-8-8497-t2", _THIMBLE, "2-1/4 in"),
    ("1/2 in 6x19 IWRC IPS", "mirrored-saddle", "us-army-3810-305", LapSplice(), "1-1/2 in"),
    ("1/4 in 7x19", "single-plate", "common-practice-single-plate", PlateEye(), "2 in"),
    ("1/4 in 7x19", "double-plate", "common-practice-double-plate", PlateEye(), None),
)
"""Rope, style, rule sets, termination, base width."""


def written(catalogue: Catalogue) -> dict[int, str]:
    """Every plan as JSON, by its place in the list; what a refused plugin took with it is an error's class and text."""
    found = {}
    for place, (rope, style, rules, termination, base_width) in enumerate(PLANS):
        try:
            made = plan(rope, termination, style=style, rules=rules, base_width=base_width, catalogue=catalogue)
            found[place] = to_json(made, catalogue)
        except Exception as error:
            found[place] = f"{type(error).__name__}: {error}"
    return found


def all_but_what_is_said(text: str) -> str:
    """A plan as JSON without the finding that a plugin was refused, its citation, and hostile plugins in its list."""
    document = json.loads(text)
    document["plugins"] = [each for each in document["plugins"] if not each["distribution"].startswith("hostile-")]
    document["findings"] = [each for each in document["findings"] if each["code"] != "plugin-refused"]
    document["citations"] = [each for each in document["citations"] if each["locator"] != "nothing passes in silence"]
    return json.dumps(document, ensure_ascii=False)
