"""Values go to JSON and back without loss; hostile and damaged text is refused; a plan can be checked later."""

from __future__ import annotations

import contextlib
import json
from datetime import date

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.strategies import CATALOGUE, requests

import turnback as tb
from turnback.output.interchange import SCHEMAS
from turnback.output.schema import json_schema, schema_text
from turnback.planning.build import plan_request
from turnback.planning.request import Request
from turnback.rules.catalogue import Catalogue


def guy() -> tb.Plan:
    """An invented guy on a thimble."""
    eye = tb.ThimbleEye("4-1/2 in", "2-3/8 in", "1/8 in")
    return tb.plan(
        "3/4 in 6x19 IWRC EIP right regular new",
        eye,
        style="u-bolt",
        rules="us-ca-8-8497",
        clip_body="forged",
        base_width="2-1/4 in",
        service="guy",
        jurisdiction="US",
    )


PLAN_SCHEMA = jsonschema.Draft202012Validator(json_schema("plan"))


def test_a_plan_comes_back_equal_and_in_the_same_bytes() -> None:
    made = guy()
    text = tb.to_json(made)
    assert made == tb.from_json(text)
    assert text == tb.to_json(tb.from_json(text))


@settings(max_examples=40)
@given(requests())
def test_requests_and_plans_come_back_equal(request: Request) -> None:
    """Law: the JSON round trip is identity."""
    assert request == tb.from_json(tb.to_json(request))
    try:
        made = plan_request(request, CATALOGUE)
    except tb.TurnbackError:
        return
    text = tb.to_json(made)
    assert made == tb.from_json(text)
    PLAN_SCHEMA.validate(json.loads(text))


@pytest.mark.parametrize("rules_id", [rules.id for rules in Catalogue.installed().rule_sets])
def test_rule_sets_come_back_equal(rules_id: str) -> None:
    rules = Catalogue.installed().rule_set(rules_id)
    assert rules == tb.from_json(tb.to_json(rules))


def test_findings_readings_inspections_and_records_come_back_equal() -> None:
    made = guy()
    readings = tb.AsBuilt(clip_count=4, turn_back="17 in", thimble=True)
    held = tb.inspect(made, readings)
    record = tb.Record("invented joint 7", plan=made, made_on=date(2026, 3, 2))
    for value in (made.findings[0], readings, held, record):
        assert value == tb.from_json(tb.to_json(value))


@pytest.mark.parametrize("kind", sorted(SCHEMAS))
def test_the_committed_schema_is_the_one_that_the_code_gives(kind: str) -> None:
    from turnback.output.schema import FOLDER

    assert schema_text(kind) == (FOLDER / f"{kind}.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator.check_schema(json_schema(kind))


# --- bad input ---


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        tb.to_json(guy())[:4000],
        "[" * 10_000_000,
        '{"format": 1, "kind": "plan", "kind": "plan"}',
        '{"format": 1, "kind": "request", "x": NaN}',
        '{"format": 1, "kind": "request", "x": Infinity}',
        '{"format": 1, "kind": "nothing"}',
        '{"format": 1}',
        json.dumps({"format": 1, "kind": "finding", "code": "x" * 5000}),
        json.dumps({"format": 1, "kind": "finding", "code": [0] * 20_000}),
        '{"format": 1, "kind": "request", "x": ' + "1" * 60 + "}",
        "\ud800",
    ],
    ids=[
        "empty", "truncated", "a plan cut off", "brackets", "a key twice", "NaN", "infinity", "unknown kind", "no kind",
        "a long text", "many items", "a long number", "half a character",
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_one_clear_error(text: str) -> None:
    with pytest.raises(tb.InputError):
        tb.from_json(text)


def test_a_future_format_is_refused_politely() -> None:
    with pytest.raises(tb.InputError, match="format"):
        tb.from_json('{"format": 2, "kind": "plan"}')


@settings(max_examples=60)
@given(st.data())
def test_damaged_text_is_refused_or_read(data: st.DataObject) -> None:
    text = tb.to_json(guy())
    at = data.draw(st.integers(0, len(text) - 1))
    damaged = text[:at] + data.draw(st.characters()) + text[at + data.draw(st.integers(0, 3)) :]
    with contextlib.suppress(tb.TurnbackError):
        tb.from_json(damaged)


# --- verify ---


def test_a_plan_that_was_not_touched_is_the_same() -> None:
    assert tb.verify(tb.to_json(guy())).same


def test_a_number_that_was_edited_is_named() -> None:
    document = json.loads(tb.to_json(guy()))
    document["clip_count"] = 3
    found = tb.verify(json.dumps(document))
    assert not found.same
    assert "clip_count" in str(found)


def test_a_text_of_a_certificate_survives_whatever_it_holds() -> None:
    hostile = "<script>&\"'\u202e number 9"
    rope = tb.Rope("3/4 in", minimum_breaking_force="200 kN", certificate=hostile)
    request = Request(rope, tb.ThimbleEye(), "u-bolt", "us-navy-14026")
    back = tb.from_json(tb.to_json(request))
    assert isinstance(back, Request)
    assert hostile == back.rope.certificate
