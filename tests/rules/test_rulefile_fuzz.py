"""Rule files: whole families of slips. Whatever is in a file, it is read or refused, and the place is named."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Torque
from turnback.rules._reading_keys import KEYS
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

DATA = Path(__file__).parent / "data"
SHEET, LINEAR, BASIS = (
    (DATA / f"invented-{name}.toml").read_text(encoding="utf-8") for name in ("sheet", "rule", "basis")
)
PAGE = Path(__file__).parents[2] / "docs" / "how-to" / "write-a-rule-file.md"
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)


def refused(text: str | bytes) -> InputError:
    with pytest.raises(InputError) as caught:
        parse_rules(text, "invented.toml")
    assert "invented.toml" in str(caught.value)
    return caught.value


def leaves(value: object) -> Iterator[object]:
    """Everything that a rule set holds, down to the plain values."""
    kind = type(value)
    if attrs.has(kind):
        for field in attrs.fields(kind):
            yield from leaves(getattr(value, field.name))
    elif isinstance(value, Torque):
        yield from leaves((value.value, value.unit, value.also))
    elif isinstance(value, tuple):
        for entry in value:
            yield from leaves(entry)
    else:
        yield value


def toml_value(value: object) -> str:
    """Write a value of the tests as TOML, for the standard library only reads it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str) and not isinstance(value, Keep):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return f"[{', '.join(map(toml_value, value))}]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml_value(key)} = {toml_value(entry)}" for key, entry in value.items()) + "}"
    return str(value)


def toml_text(tables: dict[str, object]) -> str:
    return "\n".join(f"{toml_value(key)} = {toml_value(value)}" for key, value in tables.items())


Place = tuple[str | int, ...]


def places(value: object, here: Place = ()) -> Iterator[Place]:
    """Every key and entry of a file, from the outermost."""
    entries = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, entry in entries:
        yield (*here, key)
        yield from places(entry, (*here, key))


def path_text(place: Place) -> str:
    return "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in place).removeprefix(".")


class Keep(str):
    """A decimal that is written as it was read, without quotes."""

    __slots__ = ()


def loaded(text: str) -> dict[str, object]:
    return tomllib.loads(text, parse_float=Keep)


def edited(text: str, place: Place, **change: object) -> str:
    """Drop the key at a place, give it another name, or another value."""
    tables = loaded(text)
    parent: Any = tables
    for part in place[:-1]:
        parent = parent[part]
    last = place[-1]
    if "name" in change:
        parent[change["name"]] = parent.pop(last)
    elif "value" in change:
        parent[last] = change["value"]
    else:
        del parent[last]
    return toml_text(tables)


FILES = (SHEET, LINEAR, BASIS, *EXAMPLES)
WORD_LISTS = ("constructions", "cores", "grades", "lays", "terminations", "confirm", "retorque")
EVERY_PLACE = [(text, place) for text in FILES for place in places(loaded(text))]


@pytest.mark.parametrize("text", FILES)
def test_the_writer_of_the_tests_keeps_the_meaning(text: str) -> None:
    given, written = parse_rules(text), parse_rules(toml_text(loaded(text)))
    assert given == attrs.evolve(written, sha256=given.sha256)


def test_every_misspelt_key_is_found() -> None:
    for text, place in EVERY_PLACE:
        if isinstance(place[-1], str):
            wrong = (*place[:-1], f"{place[-1]}x")
            assert path_text(wrong) == refused(edited(text, place, name=wrong[-1])).field


def test_every_value_of_another_type_is_found() -> None:
    for text, place in EVERY_PLACE:
        if place[-1] == "rotation_resistant":
            continue
        # An entry of a list of words is named by the list.
        where = place[:-1] if isinstance(place[-1], int) and place[-2] in WORD_LISTS else place
        assert path_text(where) == refused(edited(text, place, value=True)).field


OTHER_VALUES = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-(10**20), 10**20),
        st.sampled_from([Keep("inf"), Keep("nan"), Keep("-0.0"), Keep("1e400"), Keep("0.75")]),
        st.text(st.characters(codec="utf-8"), max_size=70),
        st.sampled_from(["table", "read", "1/2", "80 %", "6 diameters", "up to 1 in", "any", "eye", "1979-05-27"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from([key for keys in KEYS.values() for key in keys]), inner, max_size=3),
    ),
    max_leaves=6,
)
FUZZ = settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.too_slow])


def tried(text: str | bytes) -> RuleSet | InputError:
    try:
        return parse_rules(text, "fuzz.toml")
    except InputError as error:
        return error


def taken_or_refused(text: str | bytes) -> None:
    found = tried(text)
    if isinstance(found, InputError):
        assert "fuzz.toml" in str(found)
        assert found.field
        return
    assert all(not isinstance(leaf, float) for leaf in leaves(found))
    assert all(cell.citations for row in found.rows for cell in (row.count, row.torque, row.turn_back) if cell)


@FUZZ
@given(st.sampled_from(EVERY_PLACE))
def test_a_dropped_key_is_refused_or_absent(case: tuple[str, Place]) -> None:
    taken_or_refused(edited(*case))


@FUZZ
@given(st.sampled_from(EVERY_PLACE), OTHER_VALUES)
def test_any_other_value_is_taken_or_refused(case: tuple[str, Place], value: object) -> None:
    taken_or_refused(edited(*case, value=value))


@FUZZ
@given(st.sampled_from(EVERY_PLACE), st.text(st.characters(codec="utf-8"), max_size=60))
def test_any_other_name_is_refused(case: tuple[str, Place], name: str) -> None:
    text, place = case
    if isinstance(place[-1], str):
        taken_or_refused(edited(text, place, name=name))


@FUZZ
@given(st.one_of(st.binary(max_size=300), st.text(max_size=300)))
def test_any_bytes_are_refused(text: str | bytes) -> None:
    refused(text)


@FUZZ
@given(st.sampled_from(FILES), st.integers(0, 4000), st.integers(0, 12), st.binary(max_size=12))
def test_a_file_with_damage_is_taken_or_refused(text: str, at: int, cut: int, put: bytes) -> None:
    data = text.encode()
    taken_or_refused(data[:at] + put + data[at + cut :])
