"""The battery, one way at a time: the host survives, the others' results stay the same, the reason is told."""

from __future__ import annotations

import decimal
import importlib
import locale
import os
import random
import sys
import threading
import warnings
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from tests.hostile.plans import PLANS, all_but_what_is_said, written
from tests.hostile.ways import CONTRACT, DRAWING, HOOKS, HOSTILE_WAYS, PLANNING, VALUES, VERSION, Way, install

from turnback.errors import PluginError
from turnback.model.terminations import ThimbleEye
from turnback.output.interchange import to_json
from turnback.planning.build import plan
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue, _installed
from turnback.rules.loading import Failure, Origin
from turnback_mirrored_saddle import plugin as mirrored_saddle
from turnback_plate import plugin as plate
from turnback_ubolt import plugin as ubolt

GOOD = (ubolt, mirrored_saddle, plate)
TAKEN = {"takes-a-rule-set": "us-navy-14026", "takes-a-style": "single-plate"}
"""What a way claims that a good plugin brings: neither has it, and asking for it names both."""


def state() -> dict[str, object]:
    """What a plugin could change in the process."""
    return {
        "output": sys.stdout,
        "errors": sys.stderr,
        "recursion": sys.getrecursionlimit(),
        "folder": os.getcwd(),
        "locale": locale.setlocale(locale.LC_ALL),
        "decimals": repr(decimal.getcontext()),
        "random": random.getstate(),
        "warnings": list(warnings.filters),
        "variables": dict(os.environ),
        "validators": attrs.validators.get_disabled(),
    }


def changed(before: dict[str, object]) -> list[str]:
    """What is otherwise than before; with other threads about, which a test may leave, chance is left alone."""
    alone = threading.active_count() == 1
    return [name for name, value in state().items() if value != before[name] and (alone or name != "random")]


@pytest.fixture(scope="module")
def clean() -> dict[int, str]:
    """The plans where no hostile plugin is installed."""
    catalogue = Catalogue.installed()
    assert ((), ()) == (catalogue.failures, catalogue.slips)
    return {place: all_but_what_is_said(text) for place, text in written(catalogue).items()}


@pytest.fixture
def as_it_was() -> Iterator[dict[str, object]]:
    """The state before; put back after the test, whatever it finds, so that no other test suffers."""
    before = state()
    streams, context = (sys.stdout, sys.stderr), decimal.getcontext().copy()
    yield before
    sys.setrecursionlimit(int(str(before["recursion"])))
    sys.stdout, sys.stderr = streams
    os.chdir(str(before["folder"]))
    locale.setlocale(locale.LC_ALL, str(before["locale"]))
    decimal.setcontext(context)
    attrs.validators.set_disabled(bool(before["validators"]))


def installed_with(way: Way, site: Path, monkeypatch: pytest.MonkeyPatch) -> Catalogue:
    """What a process finds in which one way is installed beside the three good plugins."""
    install(site, way)
    if way.name.startswith("claims-with-"):
        for other in HOSTILE_WAYS:
            if other.name.startswith("claims-with-") and other != way:
                install(site, other)
    monkeypatch.syspath_prepend(site)
    return _installed.__wrapped__()


def told_of(catalogue: Catalogue, way: Way) -> list[Failure]:
    """What the catalogue says of a way's distribution."""
    name = "unknown distribution" if way.name == "no-metadata" else way.distribution
    return [each for each in (*catalogue.failures, *catalogue.slips) if each.origin.distribution == name]


@pytest.mark.parametrize("way", HOSTILE_WAYS, ids=lambda way: way.name)
def test_the_host_survives_and_everybody_else_is_the_same_to_the_bit(
    way: Way,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    clean: dict[int, str],
    as_it_was: dict[str, object],
) -> None:
    monkeypatch.setenv("HOME", "/home/invented")
    monkeypatch.delenv("TZ", raising=False)
    before = state()
    catalogue = installed_with(way, tmp_path, monkeypatch)
    assert [] == changed(before)

    # The others' results.
    beside = written(catalogue)
    for place, (_, style, rules, _, _) in enumerate(PLANS):
        if TAKEN.get(way.name) in (style, rules):
            assert beside[place].startswith("PluginError: ")
            assert way.distribution in beside[place]
        else:
            assert clean[place] == all_but_what_is_said(beside[place])

    # What is said of it.
    told = told_of(catalogue, way)
    version = "?" if way.name == "no-metadata" else VERSION
    for each in told:
        assert (version, True) == (each.origin.version, each.reason.isprintable())
        assert len(each.reason) < 700
    if way.fate == "refused":
        assert 1 == len(told)
        assert told[0] in catalogue.failures
        assert way.says in told[0].reason
    elif way.fate == "put right":
        if way.name == "seeds-chance" and threading.active_count() > 1:
            return  # with other threads about, random numbers are left alone; test_hostile_process.py looks at it
        assert set(told) <= set(catalogue.slips)
        assert any(way.says in each.reason for each in told)
        assert way.name == catalogue.rule_set(way.name).id
    else:
        assert [] == told


def test_what_is_refused_takes_nothing_else_of_its_plugin_for_granted() -> None:
    """A finding on every plan says that a plugin was refused, and it alone differs: see the test above."""
    catalogue = Catalogue.of(*GOOD, 5)
    made = plan("3/4 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", catalogue=catalogue)
    assert ["must-do"] == [each.kind for each in made.findings if each.code == "plugin-refused"]


@pytest.mark.parametrize("way", [*CONTRACT, *HOOKS, *VALUES], ids=lambda way: way.name)
def test_what_is_passed_in_is_refused_as_what_is_installed_is(
    way: Way, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, as_it_was: dict[str, object]
) -> None:
    install(tmp_path, way)
    monkeypatch.syspath_prepend(tmp_path)
    module = importlib.import_module(f"hostile_{way.name.replace('-', '_')}")
    hostile: object = getattr(module, way.attribute[1:]) if way.attribute else module
    alone, beside = Catalogue.of(*GOOD), Catalogue.of(*GOOD, hostile)
    assert alone == attrs.evolve(beside, failures=())
    assert ["passed in"] == [each.origin.distribution for each in beside.failures]
    assert way.says in beside.failures[0].reason


# --- when it plans and draws ---


def hostile_plan(catalogue: Catalogue, termination: ThimbleEye | None = None) -> Plan:
    return plan(
        "1/2 in 6x19 IWRC EIP",
        termination or ThimbleEye(),
        style="hostile",
        rules="hostile-rules",
        base_width="1-1/4 in",
        catalogue=catalogue,
    )


def assert_it_is_named(error: PluginError, way: Way) -> None:
    for text in (f"{way.distribution} {VERSION} (Hostile)", "the style hostile", way.says):
        assert text in str(error)
    assert "\n" not in str(error)


@pytest.mark.parametrize("way", PLANNING, ids=lambda way: way.name)
def test_a_style_that_breaks_when_it_plans_is_named(
    way: Way, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, as_it_was: dict[str, object]
) -> None:
    catalogue = installed_with(way, tmp_path, monkeypatch)
    for _ in range(2):
        with pytest.raises(PluginError) as told:
            hostile_plan(catalogue)
        assert_it_is_named(told.value, way)
    assert as_it_was["output"] is sys.stdout


@pytest.mark.parametrize("way", DRAWING, ids=lambda way: way.name)
def test_a_style_that_breaks_when_it_draws_is_named_and_its_plan_stands(
    way: Way, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = installed_with(way, tmp_path, monkeypatch)
    made = hostile_plan(catalogue, ThimbleEye("3 in", "2 in", "1/8 in"))
    assert 3 == made.clip_count
    assert "hostile" in to_json(made, catalogue)
    with pytest.raises(PluginError) as told:
        made.to_svg()
    assert_it_is_named(told.value, way)


def test_a_style_cannot_change_the_lengths_of_the_request_and_the_rules(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    way = next(each for each in HOSTILE_WAYS if each.name == "lay-out-mutates")
    catalogue = installed_with(way, tmp_path, monkeypatch)
    made = hostile_plan(catalogue)
    # 1-1/4 in = 31.75 mm and 12 in = 304.8 mm, as they were given and as the invented sheet prints it.
    assert Length(31_750_000) == made.request.base_width == made.layout_demand.base_width
    turn_back = catalogue.rule_set("hostile-rules").rows[0].turn_back
    assert turn_back is not None
    assert Length(304_800_000) == turn_back.value
    assert made.layout == hostile_plan(catalogue).layout


def test_a_rule_set_with_the_name_of_a_style_hides_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    way = next(each for each in HOSTILE_WAYS if each.name == "rule-set-named-as-a-style")
    catalogue = installed_with(way, tmp_path, monkeypatch)
    theirs, ours = catalogue.origin_of("u-bolt"), catalogue.origin_of_style("u-bolt")
    assert theirs is not None
    assert ours is not None
    assert (way.distribution, "turnback-ubolt") == (theirs.distribution, ours.distribution)


# --- the battery itself ---


def test_there_are_twenty_ways_at_least_and_each_has_a_sentence() -> None:
    assert len(HOSTILE_WAYS) >= 100
    assert len(HOSTILE_WAYS) == len({way.name for way in HOSTILE_WAYS}) == len({way.sentence for way in HOSTILE_WAYS})
    for way in HOSTILE_WAYS:
        assert way.sentence.endswith("."), way.name
        assert "\n" not in way.sentence, way.name
        assert way.says or way.fate == "harmless", way.name
    files = {file.stem for file in (Path(__file__).parent / "plugins").iterdir()}
    assert files == {way.name for way in HOSTILE_WAYS}


def test_the_good_plugins_declare_the_contract_of_the_library() -> None:
    assert [1, 1, 1] == [each.turnback_contract for each in GOOD]


def test_a_plugin_with_the_contract_of_the_library_is_taken_and_one_that_says_nothing_too() -> None:
    assert Origin("passed in", "-", "turnback_ubolt.plugin") in {each for _, each in Catalogue.of(ubolt).origins}
    silent = type(sys)("silent")
    silent.turnback_rule_sets = mirrored_saddle.turnback_rule_sets  # type: ignore[attr-defined]  # a module made by hand
    assert () == Catalogue.of(silent).failures
    assert 2 == len(Catalogue.of(silent).rule_sets)
