"""The joints that the page of drawings shows: every style with every termination that it makes. All invented."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

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
from turnback.rules.catalogue import Catalogue

__all__ = ["INVENTED", "INVENTED_ONE", "every_joint"]

INVENTED: Final = (
    "Every joint on this page is invented to be drawn: in a row of clips, a guy of 3/4 in rope and clips of 2-1/4 in "
    "base width; under plates, a 1/8 in cable. No such joint exists, and none of the numbers is to be used for one."
)
INVENTED_ONE: Final = "This joint is invented to be drawn; none of its numbers is to be used for one."
_THIMBLE: Final = ThimbleEye("5 in", "2-3/8 in", "1/8 in")
_KINDS: Final[dict[TerminationKind, Termination]] = {
    "thimble eye": _THIMBLE,
    "soft eye": SoftEye("4 in", "12 in"),
    "pulley eye": PulleyEye("12 in"),
    "linked eyes": LinkedEyes(_THIMBLE, ThimbleEye("6 in", "2-1/2 in", "1/8 in")),
    "lap splice": LapSplice(),
    "plate eye": PlateEye(ThimbleEye("2 in", "1 in", "1/16 in")),
}
# Style, rule set, rope, base width or length of the body.
_STYLES: Final = {
    "u-bolt": ("us-ca-8-8497", "3/4 in 6x19 IWRC EIP", "2-1/4 in"),
    "mirrored-saddle": ("us-ca-8-8497-t2", "3/4 in 6x19 IWRC EIP", "2-1/4 in"),
    "single-plate": ("common-practice-single-plate", "1/8 in 7x19 galvanized", "1 in"),
    "double-plate": ("common-practice-double-plate", "1/8 in 7x19 galvanized", "1 in"),
}


def every_joint(catalogue: Catalogue) -> Iterator[tuple[str, TerminationKind, Plan]]:
    """Plan every style of a catalogue with every termination that it makes.

    Args:
        catalogue: The styles at hand.

    Yields:
        Style, termination and plan, clips in a row first.

    Raises:
        ValueError: There is no invented joint for a style.
    """
    for style in sorted(catalogue.styles, key=lambda each: list(_STYLES).index(each.id)):
        rules, rope, base = _STYLES[style.id]
        for kind in style.terminations:
            made = plan(
                rope,
                _KINDS[kind],
                style=style.id,
                rules=rules,
                clip_body="forged" if style.in_series else "not given",
                base_width=base,
                service="guy" if style.in_series else None,
                jurisdiction="US",
                catalogue=catalogue,
            )
            yield style.id, kind, made
