"""Plugins that are broken in every way that comes to mind: none takes another down, and none goes unnoticed."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import attrs
import pytest

from turnback.errors import PluginError, UnknownRuleSet, UnknownStyle
from turnback.model.styles import ClipStyle
from turnback.model.terminations import ThimbleEye
from turnback.planning.build import plan
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import hookimpl
from turnback.rules.loading import Failure, Origin, load
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet
from turnback_mirrored_saddle import plugin as mirrored_saddle
from turnback_plate import plugin as plate
from turnback_ubolt import plugin as ubolt

GOOD = (ubolt, mirrored_saddle, plate)
INVENTED = Path(__file__).parent / "data" / "invented-rule.toml"


def invented(rules_id: str) -> RuleSet:
    """An invented rule set under another name."""
    return parse_rules(INVENTED.read_text(encoding="utf-8").replace("invented-rule", rules_id, 1), "invented")


# --- plugins that are passed in ---


class Bringing:
    """A plugin that brings what it is told to bring."""

    def __init__(self, *rule_sets: RuleSet, styles: tuple[ClipStyle, ...] = ()) -> None:
        self.rule_sets = rule_sets
        self.styles = styles

    @hookimpl
    def turnback_rule_sets(self) -> tuple[RuleSet, ...]:
        return self.rule_sets

    @hookimpl
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        return self.styles


class Raising:
    """A plugin whose hook raises."""

    def __init__(self, error: BaseException) -> None:
        self.error = error

    @hookimpl
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        raise self.error


class Giving:
    """A plugin whose hook returns what it must not."""

    def __init__(self, result: object) -> None:
        self.result = result

    @hookimpl
    def turnback_styles(self) -> object:
        return self.result


BAD: tuple[object, ...] = (
    Raising(OSError("no disk")), Raising(SystemExit("leaving")), Raising(RecursionError()), Raising(GeneratorExit()),
    Giving([]), Giving("u-bolt"), Giving(("u-bolt",)), Giving({}), Giving(iter(())), Bringing, SimpleNamespace(), 5,
    None, "turnback_ubolt.plugin",
)  # fmt: skip


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: repr(getattr(bad, "__dict__", bad))[:40])
def test_a_broken_plugin_takes_nothing_down(bad: object) -> None:
    alone, beside = Catalogue.of(*GOOD), Catalogue.of(*GOOD, bad)
    assert not alone.failures
    assert 1 == len(beside.failures)
    assert alone == attrs.evolve(beside, failures=())
    name = getattr(bad, "__name__", type(bad).__name__)
    assert Origin("passed in", "-", name) == beside.failures[0].origin
    # What everybody else brings is as good as before.
    assert 4 == len(beside.styles)
    assert alone.rule_set("us-ca-8-8497") is not None


def test_a_hook_that_gives_nothing_brings_nothing() -> None:
    """pluggy passes over an implementation that returns None."""
    assert Catalogue.of(Giving(None)) == Catalogue.of() == Catalogue.of(Bringing())


def interrupted() -> object:
    raise KeyboardInterrupt


def interrupting() -> object:
    return Raising(KeyboardInterrupt())


@pytest.mark.parametrize("plugin", [interrupted, interrupting])
def test_a_keyboard_interrupt_passes_through(plugin: Callable[[], object]) -> None:
    with pytest.raises(KeyboardInterrupt):
        load(Origin("invented", "1", "x"), plugin)
    with pytest.raises(KeyboardInterrupt):
        Catalogue.of(*GOOD, Raising(KeyboardInterrupt()))


@pytest.mark.parametrize("order", list(itertools.permutations(range(4))))
def test_the_order_of_plugins_does_not_matter(order: tuple[int, ...]) -> None:
    plugins = (ubolt, plate, Raising(OSError("no disk")), Giving([]))
    first = Catalogue.of(*plugins)
    other = Catalogue.of(*(plugins[i] for i in order))
    assert 2 == len(first.failures)
    assert first == other
    assert hash(first) == hash(other)


def test_the_order_does_not_matter_where_names_are_claimed_twice() -> None:
    plugins = [Bringing(invented("b"), invented("a")), Bringing(invented("b"), invented("c")), Bringing(invented("d"))]
    found = {Catalogue.of(*order) for order in itertools.permutations(plugins)}
    assert 1 == len(found)
    assert ["a", "c", "d"] == [rules.id for rules in found.pop().rule_sets]


def test_a_style_that_two_claim_belongs_to_neither() -> None:
    catalogue = Catalogue.of(ubolt, Bringing(styles=ubolt.turnback_styles()))
    assert () == catalogue.styles
    assert {"turnback_ubolt.plugin", "Bringing"} == {each.origin.entry_point for each in catalogue.failures}
    with pytest.raises(PluginError, match=r"u-bolt is claimed more than once, by .*Bringing.* and .*turnback_ubolt"):
        catalogue.style("u-bolt")
    # The rule sets of the one that was refused its style are still at hand.
    assert "us-ca-8-8497" == catalogue.rule_set("us-ca-8-8497").id


def test_a_rule_set_may_not_take_the_name_of_a_basis_of_the_core() -> None:
    core = Catalogue.of().rule_set("common-practice-efficiency")
    catalogue = Catalogue.of(Bringing(invented("common-practice-efficiency"), invented("other")))
    assert core == catalogue.rule_set("common-practice-efficiency")
    assert "other" == catalogue.rule_set("other").id
    assert [Failure(Origin("passed in", "-", "Bringing"), catalogue.failures[0].reason)] == list(catalogue.failures)
    assert "common-practice-efficiency" in catalogue.failures[0].reason


# --- asking ---


@pytest.mark.parametrize(
    ("misspelt", "nearest"),
    [("us-ca-8-8479", "us-ca-8-8497"), ("us-osha-1926-215", "us-osha-1926-251"), ("en-13411", "en-13411-5")],
)
def test_a_misspelt_rule_set_names_the_nearest(misspelt: str, nearest: str) -> None:
    with pytest.raises(UnknownRuleSet) as refused:
        Catalogue.of(*GOOD).rule_set(misspelt)
    assert f"Did you mean {nearest}?" == refused.value.instead
    assert ("rules", repr(misspelt)) == (refused.value.field, refused.value.value)
    assert nearest in refused.value.bound


def test_a_misspelt_style_names_the_nearest() -> None:
    with pytest.raises(UnknownStyle) as refused:
        Catalogue.of(*GOOD).style("u-blot")
    assert ("style", "Did you mean u-bolt?") == (refused.value.field, refused.value.instead)
    assert "at hand: double-plate, mirrored-saddle, single-plate, u-bolt" == refused.value.bound


@pytest.mark.parametrize("wanted", ["", "two\nlines", "x" * 10**6, None, 5, ["u-bolt"], ("a", "b")])
def test_whatever_is_asked_for_the_message_is_one_short_line(wanted: object) -> None:
    catalogue = Catalogue.of(*GOOD)
    for ask, kind in ((catalogue.style, UnknownStyle), (catalogue.rule_set, UnknownRuleSet)):
        with pytest.raises(kind) as refused:
            ask(wanted)  # type: ignore[arg-type]  # a caller without a type checker
        assert "\n" not in str(refused.value)
        assert len(str(refused.value)) < 1000


def test_asking_a_plan_for_what_a_broken_plugin_may_have_brought() -> None:
    catalogue = Catalogue.of(ubolt, Raising(OSError("no disk")))
    for style, rules in (("wedge", "us-ca-8-8497"), ("u-bolt", "wedge-rules"), ("u-bolt", "us-ca-8-8497+wedge-rules")):
        with pytest.raises(PluginError, match="OSError: no disk") as refused:
            plan("3/4 in 6x19 IWRC EIP", ThimbleEye(), style=style, rules=rules, catalogue=catalogue)
        assert "Mend or remove that plugin." in refused.value.instead
    # A first-of choice does not pass over it as if it did not cover the rope.
    with pytest.raises(PluginError, match="OSError: no disk"):
        plan("3/4 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", rules="gone,us-ca-8-8497", catalogue=catalogue)
    # Where no rule set is named, those at hand are listed and the refused plugin is named too.
    with pytest.raises(UnknownRuleSet, match="OSError: no disk") as unnamed:
        plan("3/4 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", catalogue=catalogue)
    assert "us-ca-8-8497" in unnamed.value.bound


def test_what_is_at_hand_knows_where_it_comes_from() -> None:
    installed = Catalogue.installed()
    origins = {
        rules.id: origin.distribution for rules in installed.rule_sets if (origin := installed.origin_of(rules.id))
    }
    assert {"turnback-ubolt"} == {origins[name] for name in ("us-ca-8-8497", "en-13411-5", "ca-nb-clips")}
    assert {"turnback-mirrored-saddle"} == {origins[name] for name in ("us-army-3810-305", "us-ca-8-8497-t2")}
    assert {rules.id for rules in installed.rule_sets} == set(origins)
    assert installed.origin_of("common-practice-efficiency") is None
    assert Catalogue.installed() is installed
