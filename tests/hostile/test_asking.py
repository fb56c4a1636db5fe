"""A style of a plugin's own that does what it should plans and draws as the core's own do."""

from __future__ import annotations

import attrs
import pytest
from tests.hostile.parts import Honest, table, tabled

from turnback.errors import Conflict
from turnback.model.absent import Absent
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.styles import ClipStyle, SeriesStyle
from turnback.model.terminations import LapSplice, Termination, ThimbleEye
from turnback.planning.asking import laid_out
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import SIXTEENTH, Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import hookimpl
from turnback.rules.loading import Origin
from turnback.rules.ruleset import RuleSet


class Bringing:
    """A plugin that brings one style and the invented table."""

    def __init__(self, style: ClipStyle) -> None:
        self.style = style

    @hookimpl
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        return (self.style,)

    @hookimpl
    def turnback_rule_sets(self) -> tuple[RuleSet, ...]:
        return (table(),)


def planned(style: ClipStyle, termination: Termination, base_width: str | None) -> Plan:
    catalogue = Catalogue.of(Bringing(style))
    assert () == catalogue.failures
    return plan(
        "1/2 in 6x19 IWRC EIP", termination, style="hostile", rules="hostile-rules", base_width=base_width,
        catalogue=catalogue,
    )  # fmt: skip


@pytest.mark.parametrize("base_width", ["1-1/4 in", "1/2 in", "1-47/64 in", "31.7 mm", None])
@pytest.mark.parametrize("termination", [ThimbleEye("3 in", "2 in", "1/8 in"), LapSplice()], ids=lambda each: each.kind)
def test_an_honest_style_is_as_good_as_the_core_s_own(termination: Termination, base_width: str | None) -> None:
    theirs = planned(tabled(Honest), termination, base_width)
    ours = planned(tabled(SeriesStyle), termination, base_width)
    assert ours.layout == theirs.layout
    assert ours.tape == theirs.tape
    assert ours.to_svg() == theirs.to_svg()
    assert ours.findings == theirs.findings


@pytest.mark.parametrize("step", range(1, 40))
def test_a_layout_of_few_graduations_is_taken(step: int) -> None:
    """On a coarse tape a saddle is one graduation wide, and its centre falls on its edge."""
    demand = LayoutDemand(3, Length(step), Length(1), Length(2 + 2 * step), None, None, False, False)
    assert SeriesStyle.lay_out(tabled(Honest), demand) == laid_out(tabled(Honest), demand, None)
    assert SIXTEENTH > Length(step)


@attrs.frozen
class Refusing(SeriesStyle):
    """It refuses every demand, as a style may."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        raise Conflict("these clips do not stand so close", field="base_width")


def test_a_style_may_refuse() -> None:
    with pytest.raises(Conflict, match="these clips do not stand so close"):
        planned(tabled(Refusing), ThimbleEye(), "1-1/4 in")


@attrs.frozen
class Pressed(SeriesStyle):
    """Somebody presses the key while it lays out clips."""

    def lay_out(self, demand: LayoutDemand) -> Layout:
        raise KeyboardInterrupt


def test_a_keyboard_interrupt_passes_through() -> None:
    with pytest.raises(KeyboardInterrupt):
        planned(tabled(Pressed), ThimbleEye(), "1-1/4 in")


def test_a_plan_knows_where_its_style_comes_from() -> None:
    made = planned(tabled(Honest), ThimbleEye(), None)
    assert Origin("passed in", "-", "Bringing") == made.case.origin
    assert isinstance(made.spacing, Absent)
