"""Design, section 10: the same answer from inches and from millimetres, exactly; from text, Length and pint alike."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import attrs
import pint
import pytest
from hypothesis import given
from tests.strategies import planned, rated_requests, requests

from turnback.model.rope import Coating, Rope
from turnback.model.terminations import LapSplice, LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Force, Length, LengthLike

INCH = 25_400_000
EXACT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
FLOAT: pint.UnitRegistry[float] = pint.UnitRegistry()

Writer = Callable[[Length], LengthLike]


def inch_text(length: Length) -> str:
    """As a fraction of inches, mixed where it is more than one: ``1-1/2 in``."""
    whole, part = divmod(Fraction(length.nanometres, INCH), 1)
    if not part:
        return f"{whole} in"
    return f"{whole}-{part} in" if whole else f"{part} in"


def millimetre_text(length: Length) -> str:
    """As exact decimal millimetres: ``19.05 mm``."""
    whole, part = divmod(length.nanometres, 10**6)
    return f"{whole}.{part:06} mm"


def metre_text(length: Length) -> str:
    whole, part = divmod(length.nanometres, 10**9)
    return f"{whole}.{part:09} m"


def exact_pint(length: Length) -> LengthLike:
    return EXACT.Quantity(Fraction(length.nanometres, 12 * INCH), "foot")


def float_pint(length: Length) -> LengthLike:
    return FLOAT.Quantity(length.nanometres / INCH, "inch")


def rewritten_eye(eye: Termination, write: Writer) -> Termination:
    def maybe(length: Length | None) -> LengthLike | None:
        return None if length is None else write(length)

    def thimble(each: ThimbleEye) -> ThimbleEye:
        return ThimbleEye(maybe(each.inside_length), maybe(each.inside_width), maybe(each.groove_offset))

    if isinstance(eye, ThimbleEye):
        return thimble(eye)
    if isinstance(eye, SoftEye):
        return SoftEye(maybe(eye.pin), maybe(eye.length))
    if isinstance(eye, PulleyEye):
        return PulleyEye(maybe(eye.tread_diameter), eye.included_angle)
    if isinstance(eye, LinkedEyes):
        return LinkedEyes(thimble(eye.first), thimble(eye.second))
    if isinstance(eye, LapSplice):
        return eye
    around = rewritten_eye(eye.around, write)
    assert isinstance(around, (ThimbleEye, SoftEye))
    return PlateEye(around, maybe(eye.parts_apart))


def rewritten(request: Request, write: Writer) -> Request:
    """The same request with every length written anew."""
    rope, coating = request.rope, request.rope.coating
    measured = rope.measured_diameter
    return attrs.evolve(
        request,
        rope=Rope(
            write(rope.diameter),
            rope.construction,
            rope.core,
            rope.grade,
            rope.lay,
            rope.outer_wires,
            rope.finish,
            rope.condition,
            rope.rotation_resistant,
            rope.preformed,
            None if measured is None else write(measured),
            None
            if coating is None
            else Coating(write(coating.finished_diameter), coating.stripped, coating.eye_stripped),
            rope.minimum_breaking_force,
            rope.actual_breaking_force,
            rope.mass_per_length,
            rope.certificate,
        ),
        termination=rewritten_eye(request.termination, write),
        base_width=None if request.base_width is None else write(request.base_width),
        clip_size=None if request.clip_size is None else write(request.clip_size),
    )


@pytest.mark.parametrize("write", [inch_text, millimetre_text, metre_text, exact_pint, float_pint])
def test_the_same_plan_from_every_way_to_write_a_length(write: Writer) -> None:
    """The same answer from inches and from millimetres exactly, as text and as pint quantities of any registry."""

    @given(requests())
    def law(request: Request) -> None:
        assert planned(request) == planned(rewritten(request, write))

    law()


@given(requests(own_size=True))
def test_the_same_plan_for_a_clip_size_in_inches_and_in_millimetres(request: Request) -> None:
    """The same answer from inches and from millimetres exactly, for a clip size of the user too."""
    assert planned(rewritten(request, inch_text)) == planned(rewritten(request, millimetre_text))


@given(requests(whole=True, measured=True))
def test_every_length_goes_back_to_pint_and_returns_unchanged(request: Request) -> None:
    """Section 3: quantities are given back in the caller's registry; in an exact one nothing is lost on the way."""
    plan = planned(request)
    for length in (plan.turn_back, plan.spacing, plan.dead_end, plan.rope_in_eye, plan.geometry.reach):
        if isinstance(length, Length) and length.nanometres > 0:
            assert length == Length.of(length.to_pint(EXACT, "in"))
            assert length == Length.of(length.to_pint(FLOAT, "mm"))


@given(rated_requests())
def test_a_breaking_force_in_pint_gives_the_plan_of_the_same_force(request: Request) -> None:
    """Section 3: a force from a pint quantity is the same force."""
    force = request.rope.minimum_breaking_force
    assert isinstance(force, Force)
    rope = attrs.evolve(request.rope, minimum_breaking_force=EXACT.Quantity(Fraction(force.newtons), "newton"))
    assert planned(request) == planned(attrs.evolve(request, rope=rope))


def test_three_quarters_of_an_inch_is_nineteen_point_zero_five_millimetres() -> None:
    """Section 3: 3/4 in = 19.05 mm holds as an equality; one worked request, written by hand both ways."""

    def made(rope: str, base: str) -> Plan:
        return planned(Request(Rope.parse(rope), ThimbleEye(), "u-bolt", "us-ca-8-8497", base_width=base))

    assert made("3/4 in 6x19 IWRC EIP", "2-1/4 in") == made("19.05 mm 6x19 IWRC EIP", "57.15 mm")
