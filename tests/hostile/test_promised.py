"""What is looked at once more when a plugin is loaded: every field of everything that it can bring."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from tests.hostile.parts import CITED, Honest, changed, rule_set, table, tabled

import turnback_ubolt
from turnback.errors import PluginError, TurnbackError
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Source
from turnback.model.styles import BodyStyle, ClipStyle
from turnback.quantities import Length
from turnback.rules import _promised
from turnback.rules._exact import Value
from turnback.rules._promised import RULE_SET, SERVICE_RULE, check_style
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import read_rules
from turnback.rules.ruleset import RuleSet
from turnback.rules.servicefile import service_rules

TABLES = [each for each in vars(_promised).values() if isinstance(each, Value)]
RULES = (Path(turnback_ubolt.__file__).parent / "rules").glob("*.toml")
FILES = sorted(file for file in RULES if not file.name.endswith(".check.toml"))


@pytest.mark.parametrize("table_", TABLES, ids=lambda each: each.kind.__name__)
def test_every_field_of_every_class_is_looked_at(table_: Value) -> None:
    assert [field.name for field in attrs.fields(table_.kind)] == [name for name, _ in table_.fields]


def test_every_field_of_a_style_is_looked_at() -> None:
    of_all = [name for name, _ in _promised._STYLE]
    of_bodies = [name for name, _ in _promised._BODY]
    assert of_all == [field.name for field in attrs.fields(ClipStyle)]
    assert {*of_all, *of_bodies} == {field.name for field in attrs.fields(BodyStyle)}


def test_what_the_library_and_its_plugins_bring_passes() -> None:
    catalogue = Catalogue.installed()
    for rules in (*catalogue.rule_sets, *catalogue.bases, rule_set("invented"), table()):
        RULE_SET(rules, {})
    for rule in service_rules():
        SERVICE_RULE(rule, {})
    for style in (*catalogue.styles, tabled(Honest)):
        check_style(style, {})


def fields_of(part: object) -> tuple[str, ...]:
    return tuple(field.name for field in getattr(type(part), "__attrs_attrs__", ()))


def parts(value: object, seen: set[int]) -> Iterator[object]:
    """Every attrs value in a value, the value itself among them."""
    if isinstance(value, tuple):
        for each in value:
            yield from parts(each, seen)
    elif attrs.has(type(value)) and id(value) not in seen:
        seen.add(id(value))
        yield value
        for field in fields_of(value):
            yield from parts(getattr(value, field), seen)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_nothing_in_a_rule_set_can_be_anything_else(file: Path) -> None:
    """Every field of every part in turn holds an object, a list and a number that is none."""
    rules = read_rules(file)
    looked_at = 0
    for part in parts(rules, set()):
        if isinstance(part, (Source, Citation)) and looked_at > 1000:
            continue  # hundreds of them, all alike
        for field in fields_of(part):
            kept = getattr(part, field)
            for wrong in (object(), [], float("nan")):
                changed(part, field, wrong)
                with pytest.raises(PluginError):
                    RULE_SET(rules, {})
                looked_at += 1
            changed(part, field, kept)
    RULE_SET(rules, {})
    assert looked_at > 100


def test_a_length_that_was_changed_is_found_wherever_it_stands() -> None:
    rules = table()
    lengths = [
        getattr(part, field)
        for part in parts(rules, set())
        for field in fields_of(part)
        if isinstance(getattr(part, field), Length)
    ]
    assert len(lengths) > 3
    for length in lengths:
        kept = length.nanometres
        for wrong in (float(kept), -kept, 0, 10**16, True):
            changed(length, "nanometres", wrong)
            with pytest.raises(PluginError, match="whole nanometres"):
                RULE_SET(rules, {})
        changed(length, "nanometres", kept)
    RULE_SET(rules, {})


def test_the_reason_names_the_way_to_the_field() -> None:
    own = attrs.evolve(table(), citation=CITED)
    changed(own.rows[1].turn_back, "citations", (changed(Citation(CITED.source, "x", "read"), "locator", 5),))
    with pytest.raises(PluginError) as refused:
        RULE_SET(own, {})
    assert "rows[1].turn_back.citations[0].locator" == refused.value.field


def test_a_subclass_of_a_cited_value_is_refused() -> None:
    class Hostile(Cited[int]):
        pass

    rules = table()
    changed(rules.rows[0], "count", Hostile(3, (CITED,)))
    with pytest.raises(PluginError, match="a Cited itself"):
        RULE_SET(rules, {})


def test_a_constructor_that_was_passed_by_is_asked_again() -> None:
    rules = table()
    changed(rules, "threads", None)  # a torque without a condition of the threads
    with pytest.raises(TurnbackError, match="a torque needs a condition of the threads"):
        RULE_SET(rules, {})


@attrs.frozen
class Stored(Honest):
    """Whether its clips stand in a row is a field of it."""

    in_series: bool = attrs.field(default=True, kw_only=True)


def test_whether_clips_stand_in_a_row_may_be_a_field() -> None:
    check_style(tabled(Stored), {})
    with pytest.raises(PluginError, match="True or False"):
        check_style(changed(tabled(Stored), "in_series", 1), {})


@pytest.mark.parametrize(
    ("field", "wrong"),
    [
        ("id", "Hostile"), ("id", ""), ("id", "any"), ("title", 5), ("wrong_way_round", 1), ("terminations", ()),
        ("terminations", ("wedge",)), ("terminations", ["thimble eye"]), ("procedure", (5,)), ("citation", "a book"),
        ("drawing", 5),
    ],
)  # fmt: skip
def test_a_style_says_what_it_should_of_itself(field: str, wrong: object) -> None:
    with pytest.raises(TurnbackError):
        check_style(changed(tabled(Honest), field, wrong), {})


def test_one_rule_set_is_not_the_only_one_that_is_looked_at() -> None:
    """What was looked at once is not looked at again, but only if it is the very same object."""
    seen: dict[int, object] = {}
    RULE_SET(table(), seen)
    broken = table()
    changed(broken, "rows", ())
    changed(broken, "title", 5)
    with pytest.raises(PluginError, match="title"):
        RULE_SET(broken, seen)
    assert RuleSet is RULE_SET.kind
