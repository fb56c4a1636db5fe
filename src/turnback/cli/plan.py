"""``turnback plan``: the whole plan of one termination."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Final

import attrs

from turnback.cli.choice import read_choice
from turnback.cli.codes import FORBIDDEN, MUST_FIX, OK
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
from turnback.output.interchange import plan_document, to_text
from turnback.output.text import plan_text
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures

if TYPE_CHECKING:
    from argparse import _SubParsersAction

    from turnback.cli.parser import Parser

__all__ = ["add"]

_EPILOG: Final = """\
lengths are written with their unit: "1/2 in", "2-1/4 in", "13 mm". Forces: "5 kN", "1200 lbf".
What is not given is absent from the plan with the reason; nothing is guessed.

example (invented):
  turnback plan "3/4 in 6x19 IWRC EIP" --style u-bolt --rules us-ca-8-8497 --eye thimble \\
      --clip-body forged --base-width "2-1/4 in" --service guy --jurisdiction US

exit codes: 0 nothing forbids it, 5 forbidden, 6 something must be fixed; the others under turnback --help"""


_USES: Final[dict[str, tuple[str, ...]]] = {
    "thimble": ("thimble_length", "thimble_width", "groove_offset"),
    "soft": ("pin", "eye_length"),
    "pulley": ("tread_diameter", "included_angle"),
    "linked": ("thimble_length", "thimble_width", "groove_offset"),
    "lap": (),
    "plate": ("thimble_length", "thimble_width", "groove_offset", "pin", "eye_length", "parts_apart"),
}
"""Kinds of eye and splice, and the dimensions that belong to each."""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command.

    Args:
        commands: Where commands are added.
    """
    parser = commands.add_parser(
        "plan",
        help="plan one termination",
        description="Plan one termination: every number with its source.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("rope", nargs="+", metavar="ROPE", help='the rope, as "3/4 in 6x19 IWRC EIP"')
    parser.add_argument("--style", required=True, help="clip style; see turnback rules")
    parser.add_argument("--rules", help="rule set, rule file (.toml), a+b (govern together) or a,b (first that covers)")
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
    parser.add_argument("--json", action="store_true", help="print JSON instead of text")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Plan and print.

    Args:
        options: The arguments.

    Returns:
        Exit code.
    """
    made = plan(
        _rope(options),
        _termination(options),
        style=options.style,
        rules=None if options.rules is None else read_choice(options.rules),
        clip_body=options.clip_body,
        base_width=options.base_width,
        clip_size=options.clip_size,
        clip_size_citation=options.clip_size_citation,
        maker=_maker(options),
        service=options.service,
        jurisdiction=options.jurisdiction,
        extra_clips=options.extra_clips,
        load=options.load,
        efficiency_basis=options.efficiency_basis,
    )
    print(to_text(plan_document(made)) if options.json else plan_text(made), end="")
    return _code(made)


def _code(made: Plan) -> int:
    kinds = {finding.kind for finding in made.findings}
    if "forbidden" in kinds:
        return FORBIDDEN
    return MUST_FIX if "must-fix" in kinds else OK


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
