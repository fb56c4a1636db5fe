"""What else could end this rope: every figure typed from TM 5-3810-305-10, Table 4, over an invented certificate."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from tests.strategies import planned, requests

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.rope import Coating, Rope
from turnback.model.sources import USER, Citation
from turnback.model.terminations import SoftEye, ThimbleEye
from turnback.output.alternatives import alternatives_text
from turnback.output.text import plan_text
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import Force
from turnback.review.alternatives import NOT_A_RATING, Alternative, alternatives
from turnback.review.alternatives_file import EndFigure, ways_of_ending

CODES = ("zinc-or-resin-socket", "swaged-socket", "mechanical-sleeve", "hand-tucked-splice", "wedge-socket", "clips")


def made(size: str = "1/2 in", core: str = "IWRC", finish: str = "bright", condition: str = "new") -> Plan:
    """A plan over a rope of the invented works, whose certificate says 100 kN."""
    rope = Rope(
        size,
        construction="6x19",
        core=core,
        grade="EIP",
        finish=finish,
        condition=condition,
        minimum_breaking_force="100 kN",
        certificate="certificate 7 of the invented works",
    )
    return plan(rope, ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", service="guy", jurisdiction="US")


def ways(of: Plan) -> dict[str, Alternative]:
    return {each.code: each for each in alternatives(of)}


def newtons(each: Alternative) -> tuple[float, float] | None:
    least, most = each.breaks_at_least, each.breaks_at_most
    if isinstance(least, Absent) or isinstance(most, Absent):
        return None
    return least.newtons, most.newtons


def why(each: Alternative) -> str:
    assert isinstance(each.breaks_at_least, Absent)
    return each.breaks_at_least.reason


@pytest.mark.parametrize(
    ("core", "finish", "expected"),
    [
        # Zinc or resin 100 %; swaged 95 % IWRC; sleeve 95 % IWRC, 92.5 % FC; splice at 1/2 in 86 % carbon, 76 %
        # stainless; wedge 75 to 95 %; clips 80 %.
        ("IWRC", "bright", (100e3, 95e3, 95e3, 86e3, (75e3, 95e3), 80e3)),
        ("FC", "galvanized", (100e3, None, 92.5e3, 86e3, (75e3, 95e3), 80e3)),
        ("IWRC", "stainless", (100e3, 95e3, 95e3, 76e3, (75e3, 95e3), 80e3)),
        ("IWRC", "", (100e3, 95e3, 95e3, None, (75e3, 95e3), 80e3)),
        ("", "bright", (100e3, None, None, 86e3, (75e3, 95e3), 80e3)),
    ],
)
def test_the_shares_of_the_table_over_the_ropes_own_breaking_force(
    core: str, finish: str, expected: tuple[float | tuple[float, float] | None, ...]
) -> None:
    found = ways(made(core=core, finish=finish))
    assert CODES == tuple(found)
    for code, wanted in zip(CODES, expected, strict=True):
        got = newtons(found[code])
        if wanted is None:
            assert got is None, code
        else:
            pair = wanted if isinstance(wanted, tuple) else (wanted, wanted)
            assert pair == pytest.approx(got), code


@pytest.mark.parametrize(
    ("code", "size", "core", "said"),
    [
        ("mechanical-sleeve", "1-1/8 in", "IWRC", "up to 1 in"),
        ("hand-tucked-splice", "5/8 in", "IWRC", "at 1/2 in"),
        ("swaged-socket", "1/2 in", "FC", "for IWRC"),
        ("mechanical-sleeve", "1/2 in", "", "not given"),
    ],
)
def test_a_way_whose_figure_is_not_printed_for_this_rope_says_why(code: str, size: str, core: str, said: str) -> None:
    each = ways(made(size, core))[code]
    assert isinstance(each.figure, Absent)
    assert said in each.figure.reason
    assert each.printed  # what the table does print stays in sight
    assert "no figure" in str(each)


def test_a_sleeve_is_printed_up_to_one_inch_that_size_included() -> None:
    assert (95e3, 95e3) == pytest.approx(newtons(ways(made("1 in"))["mechanical-sleeve"]))


def test_a_range_stays_a_range() -> None:
    each = ways(made())["wedge-socket"]
    assert "75 % to 95 %" == each.efficiency
    assert " to " in each.breaks_at
    assert "75 kN" in each.breaks_at
    assert "95 kN" in each.breaks_at


@pytest.mark.parametrize("condition", ["used", "worn"])
def test_a_rope_that_is_not_new_breaks_at_nothing_known(condition: str) -> None:
    for each in alternatives(made(condition=condition)):
        assert newtons(each) is None
        assert condition in why(each) or isinstance(each.figure, Absent)


def test_a_coating_left_on_breaks_at_nothing_known() -> None:
    rope = Rope(
        "1/2 in", "6x19", "IWRC", "EIP", coating=Coating("5/8 in", stripped=False),
        minimum_breaking_force="100 kN", certificate="certificate 7 of the invented works",
    )  # fmt: skip
    maker = MakerFigures("invented sheet 3", "65 lbf·ft", "dry")
    found = plan(rope, ThimbleEye(), style="u-bolt", rules="us-navy-14026", maker=maker)
    assert [None] * len(CODES) == [newtons(each) for each in alternatives(found)]


def test_without_a_breaking_force_nothing_is_reckoned() -> None:
    found = plan("1/2 in 6x19 IWRC EIP stainless", ThimbleEye(), style="u-bolt", rules="us-ca-8-8497")
    assert [None] * len(CODES) == [newtons(each) for each in alternatives(found)]


@pytest.mark.parametrize(
    "refused",
    [
        # 29 CFR 1926.251(c)(4)(iii) forbids the sling; no source rates a soft eye.
        {"termination": ThimbleEye(), "service": "sling"},
        {"termination": SoftEye(), "service": "guy"},
    ],
)
def test_clips_get_no_number_here_that_their_plan_does_not_get(refused: dict[str, object]) -> None:
    rope = "1/2 in 6x19 IWRC EIP"
    termination, service = refused["termination"], refused["service"]
    assert isinstance(termination, (ThimbleEye, SoftEye))
    assert isinstance(service, str)
    found = plan(rope, termination, style="u-bolt", rules="us-ca-8-8497", service=service)
    assert isinstance(found.termination_breaking_force, Absent)
    assert found.termination_breaking_force.reason == why(ways(found)["clips"])


def test_a_lower_figure_of_the_clips_maker_is_not_talked_up() -> None:
    rope = Rope("1/2 in", "6x19", "IWRC", "EIP", minimum_breaking_force="100 kN", certificate="invented works 7")
    maker = MakerFigures("invented sheet 3", "65 lbf·ft", "dry", "70 %")
    found = plan(rope, ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", maker=maker, service="guy")
    each = ways(found)["clips"]
    assert (70e3, 70e3) == pytest.approx(newtons(each))
    assert "70 %" in each.note
    assert "80 %" == each.efficiency


def test_every_figure_is_cited_and_was_read() -> None:
    for way in ways_of_ending():
        for figure in way.figures:
            assert ("TM 5-3810-305-10", "read") == (figure.citation.source.document, figure.citation.status)
            assert figure.citation.locator.startswith("Table 4")


@pytest.mark.parametrize(("least", "greatest"), [(9, 8), (0, 5), (5, 11)])
def test_a_range_the_wrong_way_round_is_no_figure(least: int, greatest: int) -> None:
    cited = Citation(USER, "an invented table", "user")
    with pytest.raises(InputError):
        EndFigure(Fraction(least, 10), Fraction(greatest, 10), (), "", (), None, None, cited)


def test_they_are_shown_on_request_only_and_never_as_a_rating() -> None:
    found = made()
    said = " ".join(alternatives_text(found).split())
    assert NOT_A_RATING in said
    assert "zinc or resin socket" in said
    assert "socket" not in plan_text(found)
    for each in alternatives(found):
        assert f"{each.name}:" in said


@given(requests(kinds=("thimble eye", "pulley eye", "lap splice"), maker=None))
def test_no_way_breaks_above_the_rope_itself_and_every_way_is_there(request: Request) -> None:
    found = planned(request)
    every = alternatives(found)
    assert CODES == tuple(each.code for each in every)
    force = found.minimum_breaking_force
    for each in every:
        numbers = newtons(each)
        assert each.citations
        if numbers is not None:
            assert isinstance(force, Force)
            assert 0 < numbers[0] <= numbers[1] <= force.newtons
        if request.rope.condition in ("used", "worn"):
            assert numbers is None
    assert all(len(line) <= 80 for line in alternatives_text(found).splitlines())
