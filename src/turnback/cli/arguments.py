"""The arguments that name one termination and the request read from them; ``plan`` and ``compare`` share them."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Final

import attrs

from turnback.errors import InputError
from turnback.model.rope import Rope
from turnback.model.terminations import (
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    ThimbleEye,
)
from turnback.planning.request import MakerFigures, Request

if TYPE_CHECKING:
    from turnback.cli.parser import Parser
    from turnback.rules.selection import RulesChoice

__all__ = ["HOW_TO_WRITE", "add_termination", "request_of"]

HOW_TO_WRITE: Final = """\
lengths are written with their unit: "1/2 in", "2-1/4 in", "13 mm". Forces: "5 kN", "1200 lbf".
What is not given is absent from the plan with the reason; nothing is guessed."""

_USES: Final[dict[str, tuple[str, ...]]] = {
    "thimble": ("thimble_length", "thimble_width", "groove_offset"),
    "soft": ("pin", "eye_length"),
    "pulley": ("tread_diameter", "included_angle"),
    "linked": ("thimble_length", "thimble_width", "groove_offset"),
    "lap": (),
    "plate": ("thimble_length", "thimble_width", "groove_offset", "pin", "eye_length", "parts_apart"),
}
"""Kinds of eye and splice, and the dimensions that belong to each."""


def add_termination(parser: Parser) -> None:
    """Add the arguments that name rope, eye, clip and use.

    Args:
        parser: Where they are added.
    """
    parser.add_argument("rope", nargs="+", metavar="ROPE", help='the rope, as "3/4 in 6x19 IWRC EIP"')
    parser.add_argument("--style", required=True, help="clip style; see turnback rules")
    parser.add_argument("--eye", choices=tuple(_USES), default="thimble", help="kind of eye or splice")
    eye = parser.add_argument_group("dimensions of the eye")
    eye.add_argument("--thimble-length", help="inside length of the thimble, bearing point to point")
    eye.add_argument("--thimble-width", help="inside width of the thimble")
    eye.add_argument("--groove-offset", help="bearing surface of the thimble to the bottom of its groove")
    eye.add_argument("--pin", help="diameter of the pin of a soft eye")
    eye.add_argument("--eye-length", help="inside length of a soft eye, bearing point to base")
    eye.add_argument("--tread-diameter", help="tread diameter of the pulley")
    eye.add_argument("--included-angle", help='angle between the parts at a pulley, as "60 deg"')
    eye.add_argument("--parts-apart", help="centre lines of the parts apart in a plate clip")
    clip = parser.add_argument_group("the clip in hand")
    clip.add_argument("--clip-body", default="not given", help="forged or other")
    clip.add_argument("--base-width", help="length of one saddle along the rope, measured on the clip")
    clip.add_argument("--clip-size", help="another clip size, on the clip maker's word")
    clip.add_argument("--clip-size-citation", help="where the clip maker says so")
    clip.add_argument("--extra-clips", type=int, default=0, help="clips beyond the rule, on each eye")
    clip.add_argument("--maker-citation", help="the clip maker's sheet, page and date")
    clip.add_argument("--maker-torque", help="the clip maker's torque")
    clip.add_argument("--maker-threads", default="", help="dry or greased, as the maker's sheet says")
    clip.add_argument("--maker-efficiency", help='the clip maker\'s efficiency, as "80 %%"')
    use = parser.add_argument_group("the use")
    use.add_argument(
        "--service", help="service, such as guy, sling, scaffold-suspension; see turnback rules --services"
    )
    use.add_argument("--jurisdiction", help="US, US-CA, US-WA, US-MI, CA-AB, CA-QC, CA-NB, DE, AU; none: the strictest")
    use.add_argument("--load", help="load that the joint is to carry")
    use.add_argument("--efficiency-basis", help="basis of efficiency asked for by name")
    rope = parser.add_argument_group("the rope's certificate")
    rope.add_argument("--breaking-force", help="minimum breaking force on the certificate")
    rope.add_argument("--mass-per-length", help="mass per length on the certificate")
    rope.add_argument("--certificate", default="", help="number and date of the certificate")
    rope.add_argument("--measured-diameter", help="diameter measured on the rope, the mean of three")


def request_of(options: argparse.Namespace, rules: RulesChoice | None) -> Request:
    """Read the request from the arguments.

    Args:
        options: The arguments.
        rules: The rule set or sets; None where none is named.

    Returns:
        The request.

    Raises:
        InputError: An argument cannot be read, or does not belong to the kind of eye.
    """
    return Request(
        _rope(options),
        _termination(options),
        options.style,
        rules,
        options.clip_body,
        options.base_width,
        options.clip_size,
        options.clip_size_citation,
        _maker(options),
        options.service,
        options.jurisdiction,
        options.extra_clips,
        options.load,
        options.efficiency_basis,
    )


def _rope(options: argparse.Namespace) -> Rope:
    rope = Rope.parse(" ".join(options.rope))
    return attrs.evolve(
        rope,
        measured_diameter=options.measured_diameter,
        minimum_breaking_force=options.breaking_force,
        mass_per_length=options.mass_per_length,
        certificate=options.certificate,
    )


def _maker(options: argparse.Namespace) -> MakerFigures | None:
    given = (options.maker_torque, options.maker_efficiency, options.maker_citation)
    if not any(given) and not options.maker_threads:
        return None
    return MakerFigures(
        options.maker_citation or "", options.maker_torque, options.maker_threads, options.maker_efficiency
    )


def _termination(options: argparse.Namespace) -> Termination:
    dimensions = {name for names in _USES.values() for name in names}
    given = [name for name in sorted(dimensions) if getattr(options, name) is not None]
    strange = [name for name in given if name not in _USES[options.eye]]
    if strange:
        flags = ", ".join("--" + name.replace("_", "-") for name in strange)
        raise InputError(
            "this dimension does not belong to the kind of eye",
            field=flags,
            value=f"--eye {options.eye}",
            instead="Leave it out, or name the eye that it belongs to.",
        )
    thimble = ThimbleEye(options.thimble_length, options.thimble_width, options.groove_offset)
    soft = SoftEye(options.pin, options.eye_length)
    on_pin = options.pin is not None or options.eye_length is not None
    if options.eye == "plate" and on_pin and any(getattr(options, name) is not None for name in _USES["thimble"]):
        raise InputError(
            "an eye is laid round a thimble or round a pin, not both",
            field="--pin",
            value=f"{options.pin or options.eye_length} beside a thimble",
            instead="Give the dimensions of one of them.",
        )
    kinds: dict[str, Termination] = {
        "thimble": thimble,
        "soft": soft,
        "linked": LinkedEyes(thimble, thimble),
        "lap": LapSplice(),
        "plate": PlateEye(soft if on_pin else thimble, options.parts_apart),
        "pulley": PulleyEye(options.tread_diameter, options.included_angle),
    }
    return kinds[options.eye]
