"""JSON that nobody vouches for: every bound to the last character, and what the standard parser lets pass."""

# ruff: noqa: UP031 - in format strings every brace of the JSON would have to be doubled

from __future__ import annotations

import json
import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.output.json_text import Json, to_text
from turnback.output.reading import read_document, refuse_beyond_bounds


def nested(levels: int) -> str:
    """An object that is so many levels deep, itself the first."""
    return '{"a":' + "[" * (levels - 1) + "]" * (levels - 1) + "}"


def padded(size: int) -> str:
    return '{"a":1}' + " " * (size - len('{"a":1}'))


def keys(number: int) -> str:
    return "{" + ",".join(f'"k{i}":0' for i in range(number)) + "}"


# The bounds of the issue: 1 MiB, depth 32, strings of 4 KiB, 10 000 items; numbers of 40 characters (the brief).
AT_THE_BOUND = {
    "bytes": (padded(1_048_576), padded(1_048_577)),
    "levels": (nested(32), nested(33)),
    "text": ('{"a":"%s"}' % ("x" * 4096), '{"a":"%s"}' % ("x" * 4097)),
    "escaped text": ('{"a":"%s"}' % ("\\u00e9" * 4096), '{"a":"%s"}' % ("\\u00e9" * 4097)),
    "key": ('{"%s":1}' % ("x" * 4096), '{"%s":1}' % ("x" * 4097)),
    "entries": ('{"a":[%s]}' % ",".join("0" * 10_000), '{"a":[%s]}' % ",".join("0" * 10_001)),
    "entries of several lists": (
        '{"a":[%s],"b":[%s]}' % (",".join("0" * 5_000), ",".join("0" * 5_000)),
        '{"a":[%s],"b":[%s]}' % (",".join("0" * 5_000), ",".join("0" * 5_001)),
    ),
    "keys": (keys(100), keys(101)),
    "number": ('{"a":%s}' % ("9" * 40), '{"a":%s}' % ("9" * 41)),
    "decimal": ('{"a":0.%s}' % ("9" * 38), '{"a":0.%s}' % ("9" * 39)),
}


@pytest.mark.parametrize("bound", AT_THE_BOUND)
def test_a_bound_is_kept_to_the_last_character(bound: str) -> None:
    within, beyond = AT_THE_BOUND[bound]
    assert json.loads(within) == read_document(within)
    with pytest.raises(InputError) as caught:
        read_document(beyond)
    assert caught.value.field
    assert caught.value.bound


def test_bytes_are_counted_and_not_characters() -> None:
    text = '{"a":"é"}'
    wide = text + " " * (1_048_576 - len(text.encode()))
    assert {"a": "é"} == read_document(wide)
    with pytest.raises(InputError, match="too long"):
        read_document(wide + " ")


REFUSED = {
    "empty": ("", "document", "empty"),
    "blank": (" \n\t", "document", "empty"),
    "a list": ("[]", "document", "object"),
    "a number": ("5", "document", "object"),
    "cut off in a list": ('{"a":{"b":[1,2', "a.b", "cut off"),
    "cut off in a text": ('{"a":{"b":"x', "a.b", "cut off"),
    "cut off behind a key": ('{"a":', "a", "cut off"),
    "a key twice": ('{"a":{"b":1,"b":2}}', "a.b", "twice"),
    "NaN": ('{"a":[0,NaN]}', "a[1]", "no value of JSON"),
    "Infinity": ('{"a":Infinity}', "a", "no value of JSON"),
    "-Infinity": ('{"a":-Infinity}', "a", "no value of JSON"),
    "a number beyond floats": ('{"a":[1e999]}', "a[0]", "too large"),
    "half a character": ('{"a":"\\ud800"}', "a", "surrogate"),
    "the other half": ('{"a":"\\udc00x"}', "a", "surrogate"),
    "half a character in a key": ('{"\\ud800":1}', "document", "surrogate"),
    "an unknown escape": ('{"a":"\\x41"}', "a", "escape"),
    "a line break in a text": ('{"a":"\n"}', "a", "line break"),
    "single quotes": ("{'a':1}", "document", "line 1, column 2"),
    "a trailing comma": ('{"a":1,}', "document", "key"),
    "a trailing comma in a list": ('{"a":[1,]}', "a[1]", "value"),
    "no comma": ('{"a":[1 2]}', "a", ","),
    "no colon": ('{"a" 1}', "a", ":"),
    "a leading zero": ('{"a":01}', "document", ","),
    "a plus sign": ('{"a":+1}', "a", "JSON"),
    "a bare point": ('{"a":.5}', "a", "JSON"),
    "a comment": ('{"a":1 // one\n}', "a", "JSON"),
    "two documents": ('{"a":1}{"b":2}', "document", "behind the end"),
    "second line": ('{"a":1,\n "b":tru}', "b", "no value"),
}


@pytest.mark.parametrize("slip", REFUSED)
def test_a_slip_is_one_error_that_names_its_place(slip: str) -> None:
    text, field, words = REFUSED[slip]
    with pytest.raises(InputError) as caught:
        read_document(text)
    assert field == caught.value.field
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "text", ["[" * 10_000_000, "[" * 1_000_000, '{"a":' * 200_000, '{"a":"' + '\\"' * 500_000, '"' * 1_000_000],
    ids=["10 MB of brackets", "1 MB of brackets", "objects", "quotes", "more quotes"],
)  # fmt: skip
def test_what_is_made_to_wear_a_parser_out_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_document(text)


@pytest.mark.parametrize("given", [None, 5, bytearray(b"{}"), ["{}"], b"\xff\xfe{", "\ud800"])
def test_what_is_no_text_is_refused(given: object) -> None:
    with pytest.raises(InputError) as caught:
        read_document(given)  # type: ignore[arg-type]  # a host without a type checker
    assert "document" == caught.value.field


def test_a_mark_of_utf_8_and_bytes_are_read() -> None:
    assert {"a": "é"} == read_document('\ufeff{"a":"é"}') == read_document('\ufeff{"a":"é"}'.encode())


# --- against the standard parser ---

plain = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**38), 10**38) | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6).filter(str.isprintable), inner, max_size=4)
    ),
    max_leaves=20,
)  # fmt: skip
objects = st.dictionaries(st.text(st.characters(exclude_categories=["Cs"]), max_size=6), plain, max_size=5)


@given(objects, st.sampled_from((None, 0, 2)), st.booleans())
def test_what_the_standard_library_writes_is_read_to_the_same(
    value: dict[str, Json], indent: int | None, ascii_only: bool
) -> None:
    text = json.dumps(value, indent=indent, ensure_ascii=ascii_only)
    assert value == read_document(text)
    assert value == json.loads(to_text(value))


def strict(text: str) -> object:
    """The standard parser, made to refuse what it lets pass: the oracle of the next test."""

    def pairs(found: list[tuple[str, object]]) -> dict[str, object]:
        if len({key for key, _ in found}) < len(found):
            raise ValueError("twice")
        return dict(found)

    def number(token: str) -> float:
        if not math.isfinite(float(token)):
            raise ValueError("too large")
        return float(token)

    def constant(token: str) -> object:
        raise ValueError(token)

    value = json.loads(text, object_pairs_hook=pairs, parse_float=number, parse_constant=constant)
    json.dumps(value, ensure_ascii=False).encode()  # halves of surrogate pairs do not encode
    if not isinstance(value, dict):
        raise ValueError("no object")  # noqa: TRY004 - one kind of refusal
    return value


MARKS = st.sampled_from(
    ("{", "}", "[", "]", ",", ":", '"', "\\", "1", "-", ".", "e", "0", "true", "nul", "null", '"a"', '"b":', " ", "\n",
     "\\u0041", "\\ud83d", "\\ude00", "1e5", "-0", "\t", "é")
)  # fmt: skip


@given(st.lists(MARKS, max_size=14).map("".join), st.booleans())
@example('"a":1,"a":1', True)
@example('"a":"\\ud83d\\ude00"', True)
@example('"a":-', True)
@example('"a":1e5', True)
@example('"a":1.0e-5,"b":[]', True)
def test_it_reads_and_refuses_what_a_strict_standard_parser_does(inner: str, braces: bool) -> None:
    text = "{" + inner + "}" if braces else inner
    try:
        expected = strict(text)
    except (ValueError, UnicodeError, RecursionError):
        with pytest.raises(InputError):
            read_document(text)
    else:
        found = read_document(text)
        assert expected == found
        assert json.dumps(expected) == json.dumps(found)  # 1 and 1.0 and True are equal, and not the same


# --- what is not written, for it could not be read ---


@pytest.mark.parametrize(
    ("document", "field"),
    [
        ({"a": ["x" * 4097]}, "a[0]"),
        ({"a": {"b": "\ud800"}}, "a.b"),
        ({"a": [0] * 10_001}, "document"),
        ({"a": ["x" * 4096] * 300}, "document"),
        (json.loads(nested(33)), "a" + "[0]" * 31),
    ],
    ids=["text", "surrogate", "entries", "bytes", "levels"],
)
def test_a_document_beyond_the_bounds_is_not_written(document: Json, field: str) -> None:
    with pytest.raises(InputError) as caught:
        refuse_beyond_bounds(document, to_text(document))
    assert field == caught.value.field
