"""Designations: what people write, what is refused, round trips, and a fuzz of the closed grammar."""

from __future__ import annotations

from contextlib import suppress
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.model.designation import VOCABULARY, WordKind, normal_construction, normal_word
from turnback.model.rope import Coating, Rope
from turnback.quantities import Length


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1/2 in 6x36 IWRC EIP", Rope("1/2 in", construction="6x36", core="IWRC", grade="EIP")),
        ("13 mm 6x36WS-IWRC 1960", Rope("13 mm", construction="6x36WS", core="IWRC", grade="1960")),
        (
            "13mm 6x36WS+FC 1770 N/mm² sZ",
            Rope("13 mm", construction="6x36WS", core="FC", grade="1770", lay="right regular"),
        ),
        ("1/8 in 7x19 galvanized", Rope("1/8 in", construction="7x19", finish="galvanized")),
        # Lay symbols of EN 12385-2, from memory: the strand's direction, then the rope's.
        ("13 mm zS, 6x19", Rope("13 mm", construction="6x19", lay="left regular")),
        ("13 mm 6x19 sS", Rope("13 mm", construction="6x19", lay="left Lang")),
        ('3/4" 6x19 class FC IPS', Rope("3/4 in", construction="6x19 class", core="FC", grade="IPS")),
        (
            "1 in 6x19S IWRC XIP right regular lay",
            Rope("1 in", construction="6x19S", core="IWRC", grade="EIP", lay="right regular"),
        ),
        (
            "1 1/2 in 6 X 19 Seale + IWRC, EIPS, left-hand Lang's lay",
            Rope("1-1/2 in", construction="6x19S", core="IWRC", grade="EIP", lay="left Lang"),
        ),
        ("1-1/2in 6×25 filler wire", Rope("1-1/2 in", construction="6x25F")),
        ("1 in 6x19Seale", Rope("1 in", construction="6x19S")),
        ("1-1/2 INCH 6x25Fi NEW", Rope("1-1/2 in", construction="6x25F", condition="new")),
        ("0.75 in improved plow steel 6x37", Rope("3/4 in", construction="6x37", grade="IPS")),
        ("34 mm 34(M)x7-WSC 1960 zZ", Rope("34 mm", construction="34Mx7", core="WSC", grade="1960", lay="right Lang")),
        (
            "  10   mm\t18x7  fibre core rotation-resistant, not preformed ",
            Rope("10 mm", construction="18x7", core="FC", rotation_resistant=True, preformed=False),
        ),
        (
            "1/4 in 7x7 stainless steel used large outer wires",
            Rope("1/4 in", construction="7x7", finish="stainless", condition="used", outer_wires="large"),
        ),
        ("13 mm", Rope("13 mm")),
        (
            "1/8 in 7x19 galvanized coated 3/16 in stripped",
            Rope("1/8 in", construction="7x19", finish="galvanized", coating=Coating("3/16 in", stripped=True)),
        ),
        (
            "1/8 in 7x19 galvanized coated 3/16 in, coating left on",
            Rope("1/8 in", construction="7x19", finish="galvanized", coating=Coating("3/16 in", stripped=False)),
        ),
        (
            '1/8" coated to 3/16", stripped, eye left coated, 7x19',
            Rope("1/8 in", construction="7x19", coating=Coating("3/16 in", stripped=True, eye_stripped=False)),
        ),
    ],
)
def test_what_people_write_is_read(text: str, expected: Rope) -> None:
    assert expected == Rope.parse(text)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("1/2 in 6x19 IWRC EIP shiny", "'shiny'"),
        ("1/2 in 6x19 galvanizd", "galvanized"),
        ("1/2 in 6x19 IPS EIP", "the grade is given twice"),
        ("1/2 in 6x19 IPS IPS", "the grade is given twice"),
        ("1/2 in 6x19 6x36", "the construction is given twice"),
        ("1/2 in FC 6x19 IWRC", "the core is given twice"),
        ("1/2 in new 6x19 used", "the condition is given twice"),
        ("1/8 in coated 3/16 in stripped coated 1/4 in stripped", "the coating is given twice"),
        ("1/8 in rotation-resistant not rotation-resistant", "the rotation resistant is given twice"),
        ("1/8 in 7x19 coated 3/16 in", "what becomes of it"),
        ("1/8 in 7x19 coated stripped", "finished diameter"),
        ("1/8 in 7x19 stripped", "'stripped'"),
        ("1/8 in 7x19 coated 1/8 in stripped", "greater than that of the bare rope"),
        ("6x19 IWRC", "does not begin with a diameter"),
        ("13 6x19 IWRC", "does not begin with a diameter"),
        ("1,5 mm 7x7", "does not begin with a diameter"),
        ("", "does not begin with a diameter"),
        ("1/2 in 13 mm 6x19", "'13'"),
        ("1/2 in 6x19 1960 kN", "'kn'"),
        ("1/2 in 6x19 1870", "'1870'"),
        # Stainless or a lay: nobody can tell.
        ("1/8 in 7x19 SS", "'ss'"),
        ("1/8 in 7x19 ss", "'ss'"),
        ("1/2 in 6xx19", r"rope\.construction"),
        ("½ in 6x19", "does not begin with a diameter"),
        ("0 mm 6x19", r"rope\.diameter"),
        ("1/2 in " + "6x19 " * 50, "too long"),
    ],
)
def test_what_cannot_be_read_is_named(text: str, named: str) -> None:
    with pytest.raises(InputError, match=named):
        Rope.parse(text)


def test_a_word_means_one_thing() -> None:
    for (_, one), (_, other) in combinations(VOCABULARY.items(), 2):
        assert not one.keys() & other.keys()


# Lengths that a rope may have, as a tape shows them, as metric tables print them, and any count of nanometres.
DIAMETERS = st.one_of(
    st.integers(1, 640).map(lambda count: Length(count * 396_875)),
    st.integers(1, 2_000).map(lambda count: Length(count * 100_000)),
    st.integers(1, 250_000_000).map(Length),
)
CONSTRUCTIONS = st.one_of(
    st.sampled_from(["", "6x19 class", "6x37 class", "34Mx7", "35Wx7", "6xK36WS", "1x19", "18x7", "7x19"]),
    st.builds(
        lambda strands, wires, pattern: f"{strands}x{wires}{pattern}",
        st.integers(1, 99),
        st.integers(1, 999),
        st.sampled_from(["", "S", "W", "F", "WS", "SWS", "SFW", "M", "N"]),
    ),
)


@st.composite
def ropes(draw: st.DrawFn) -> Rope:
    """Ropes of which nothing but the designation is given."""
    diameter, construction = draw(DIAMETERS), draw(CONSTRUCTIONS)
    coating = None
    if draw(st.booleans()):
        finished = diameter + Length(draw(st.integers(1, 50_000_000)))
        coating = Coating(finished, stripped=draw(st.booleans()), eye_stripped=draw(st.booleans()))
    seale = construction.endswith("S") and not construction.endswith("WS")
    return Rope(
        diameter,
        construction=construction,
        core=draw(st.sampled_from(["", "FC", "IWRC", "WSC"])),
        grade=draw(st.sampled_from(["", "IPS", "EIP", "EEIP", "1570", "1770", "1960", "2160"])),
        lay=draw(st.sampled_from(["", "right regular", "left regular", "right Lang", "left Lang"])),
        outer_wires=draw(st.sampled_from(["", "large"] if seale else ["", "large", "ordinary"])),
        finish=draw(st.sampled_from(["", "bright", "galvanized", "stainless"])),
        condition=draw(st.sampled_from(["", "new", "used", "worn"])),
        rotation_resistant=draw(st.sampled_from([None, True, False])),
        preformed=draw(st.sampled_from([None, True, False])),
        coating=coating,
    )


@given(ropes())
@settings(deadline=None)
def test_a_designation_reads_back_to_the_same_rope(rope: Rope) -> None:
    assert rope == Rope.parse(str(rope))


@given(ropes())
@settings(deadline=None)
def test_upper_and_lower_case_and_white_space_mean_nothing(rope: Rope) -> None:
    text = str(rope)
    assert rope == Rope.parse(f" {text.upper()}  ") == Rope.parse(text.lower().replace(" ", "  "))


WORDS = st.one_of(
    st.sampled_from([phrase for words in VOCABULARY.values() for phrase in words]),
    st.sampled_from(
        ["1/2", "in", '3/16"', "mm", "13", "coated", "to", "stripped", "coating left on", "class", "seale"]
    ),
    st.sampled_from(
        ["6x19", "6x36WS-IWRC", "6 x", "x", "-", "+", ",", ";", "(", "1-1/2", "00", "N/mm2", "K", "İ", "½"]
    ),
    st.text(max_size=6),
)


def _check_rope_or_input_error(text: str) -> None:
    rope = None
    with suppress(InputError):
        rope = Rope.parse(text)
    assert rope is None or rope == Rope.parse(str(rope))


@given(st.text(max_size=220))
@settings(deadline=None, max_examples=300)
def test_any_text_is_a_rope_or_an_input_error(text: str) -> None:
    _check_rope_or_input_error(text)


@given(st.lists(WORDS, max_size=14), st.sampled_from(["", "1/2 in ", "13 mm 6x19 "]))
@settings(deadline=None, max_examples=600)
def test_any_heap_of_words_is_a_rope_or_an_input_error(words: list[str], start: str) -> None:
    _check_rope_or_input_error(start + " ".join(words))


KINDS: list[WordKind] = ["core", "grade", "lay", "outer_wires", "finish", "condition"]


@given(st.sampled_from(KINDS), st.sampled_from(["", "FC", "1960", "right regular", "new"]), st.text())
@settings(deadline=None)
def test_any_text_in_a_field_is_a_word_of_its_list_or_an_input_error(kind: WordKind, start: str, text: str) -> None:
    word = ""
    with suppress(InputError):
        word = normal_word(kind, start + text)
    assert word in {"", *VOCABULARY[kind].values()}


@given(st.sampled_from(["", "6x19", "6x19 ", "34(M)x"]), st.text())
@settings(deadline=None)
def test_any_text_is_a_construction_that_reads_as_itself_or_an_input_error(start: str, text: str) -> None:
    construction = ""
    with suppress(InputError):
        construction = normal_construction(start + text)
    assert construction == normal_construction(construction)
