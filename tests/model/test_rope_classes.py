"""Classes of constructions and what a construction's name says.

The class definitions (EN 12385-2, ISO 17893, ASTM A1023, RR-W-410) are from memory, here as in the library; the words
of the rule on large outer wires are those of TM 5-3810-305-10, Table 6.
"""

from __future__ import annotations

import pytest

from turnback.errors import InputError
from turnback.model.classes import classes_of, is_rotation_resistant, is_strand, large_outer_wires
from turnback.model.rope import Rope


@pytest.mark.parametrize(
    ("construction", "expected"),
    [
        ("", []),
        ("6x19", ["6x19", "6x19 class"]),
        ("6x19 class", ["6x19 class"]),
        ("6x19S", ["6x19S", "6x19", "6x19 class"]),
        ("6x25F", ["6x25F", "6x25", "6x19", "6x19 class"]),
        ("6 x 26 Warrington Seale", ["6x26WS", "6x26", "6x19", "6x19 class"]),
        ("6x36", ["6x36", "6x37 class"]),
        ("6x36WS", ["6x36WS", "6x36", "6x37 class"]),
        ("6x41WS", ["6x41WS", "6x41", "6x36", "6x37 class"]),
        ("6x37", ["6x37", "6x37 class"]),
        ("8x25F", ["8x25F", "8x25", "8x19"]),
        ("8x36WS", ["8x36WS", "8x36"]),
        ("17x7", ["17x7", "18x7"]),
        ("34(M)x7", ["34Mx7", "34x7"]),
        # Wires laid in several operations, or otherwise apart: the name alone, never the stronger class.
        ("6x19M", ["6x19M"]),
        ("6x37M", ["6x37M"]),
        ("6x35N", ["6x35N"]),
        ("6xK36WS", ["6xK36WS"]),
        ("35Wx7", ["35Wx7"]),
        # A fibre in every strand.
        ("6x24", ["6x24"]),
        ("7x19", ["7x19"]),
        ("7x7", ["7x7"]),
        ("18x7", ["18x7"]),
        ("19x7", ["19x7"]),
        ("1x19", ["1x19"]),
    ],
)
def test_a_construction_counts_as_itself_and_its_classes(construction: str, expected: list[str]) -> None:
    assert expected == [cited.value for cited in classes_of(construction)]


@pytest.mark.parametrize("construction", ["6x19S", "6x36WS", "8x25F", "17x7"])
def test_only_the_own_name_is_given_and_every_mapping_is_from_memory(construction: str) -> None:
    own, *mapped = classes_of(construction)
    assert {"user"} == {citation.status for citation in own.citations}
    assert {"memory"} == {citation.status for cited in mapped for citation in cited.citations}
    for cited in mapped:
        assert f"{construction} counts as {cited.value}" == cited.citations[0].locator


def test_what_is_no_construction_is_refused() -> None:
    for ask in (classes_of, is_strand):
        with pytest.raises(InputError, match="construction"):
            ask("six by nineteen")


@pytest.mark.parametrize(
    ("construction", "outer_wires", "expected"),
    [
        ("6x19S", "", True),
        ("6x19", "", None),
        ("6x19 class", "", None),
        ("6x26", "", None),
        ("8x19", "", None),
        ("", "", None),
        ("6x19", "large", True),
        ("6x19", "ordinary", False),
        ("", "ordinary", False),
        ("6x25F", "", False),
        ("6x19W", "", False),
        ("6x26WS", "", False),
        ("6x49SWS", "", False),
        ("6x26WS", "large", True),
        ("6x36", "", False),
        ("6x37 class", "", False),
        ("19x7", "", False),
    ],
)
def test_large_outer_wires(construction: str, outer_wires: str, expected: bool | None) -> None:
    assert expected is large_outer_wires(Rope("1 in", construction=construction, outer_wires=outer_wires))


def test_a_strand_is_one_strand() -> None:
    expected = {"1x7": True, "1x19": True, "7x7": False, "11x7": False, "": False}
    assert expected == {construction: is_strand(construction) for construction in expected}


@pytest.mark.parametrize(
    ("construction", "given", "expected"),
    [
        # 8 CCR 8497, Table 1, calls 8x19 and 19x7 rotation-resistant.
        ("8x19", None, True),
        ("8x19S", None, True),
        ("19x7", None, True),
        # From memory.
        ("18x7", None, True),
        ("34Mx7", None, True),
        ("6x19", None, None),
        ("", None, None),
        ("6x19", True, True),
        ("8x19", False, False),
    ],
)
def test_rotation_resistance(construction: str, given: bool | None, expected: bool | None) -> None:
    assert expected is is_rotation_resistant(Rope("1 in", construction=construction, rotation_resistant=given))
