"""A rope: what its constructor reads, keeps and refuses."""

from __future__ import annotations

import copy
import pickle
from fractions import Fraction
from typing import Any

import attrs
import pint
import pytest
from attrs import validators

from turnback.errors import InputError
from turnback.model.rope import Coating, Rope
from turnback.quantities import Force, Length, MassPerLength


def with_field(rope: Rope, field: str, value: str) -> Rope:
    """The rope with one more field, for tests that go through the fields by name."""
    changes: dict[str, Any] = {field: value}
    return attrs.evolve(rope, **changes)


def test_only_the_diameter_is_asked_for_and_nothing_else_is_assumed() -> None:
    rope = Rope("3/4 in")
    assert Fraction(3, 4) == rope.diameter.inches
    assert {"", None} == {value for field, value in attrs.asdict(rope, recurse=False).items() if field != "diameter"}


@pytest.mark.parametrize("diameter", ["19.05 mm", Length(19_050_000), '3/4"'])
def test_the_same_rope_from_inches_and_from_millimetres(diameter: str | Length) -> None:
    assert Rope("3/4 in") == Rope(diameter)
    assert hash(Rope("3/4 in")) == hash(Rope(diameter))


def test_a_pint_quantity_of_any_registry_is_a_diameter() -> None:
    assert Rope("1/2 in") == Rope(pint.UnitRegistry().Quantity(12.7, "mm"))


def test_words_are_kept_in_one_spelling() -> None:
    rope = Rope(
        "1 in",
        construction="6 X 19 seale",
        core="iwrc",
        grade="XIP",
        lay="Right-hand Lang's lay",
        outer_wires="large",
        finish="Galvanised",
        condition="New",
    )
    expected = ("6x19S", "IWRC", "EIP", "right Lang", "large", "galvanized", "new")
    assert expected == attrs.astuple(rope, recurse=False)[1:8]


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("IP", "IPS"),
        ("ips", "IPS"),
        ("EIPS", "EIP"),
        ("xip", "EIP"),
        ("EEIPS", "EEIP"),
        ("1960 N/mm²", "1960"),
        ("", ""),
    ],
)
def test_grades_have_one_spelling_each(given: str, kept: str) -> None:
    assert kept == Rope("1 in", grade=given).grade


@pytest.mark.parametrize(
    ("field", "value", "listed", "nearest"),
    [
        ("core", "IWC", '"FC", "IWRC", "WSC"', "iwrc"),
        ("grade", "1870", '"IPS", "EIP", "EEIP", "1570", "1770", "1960", "2160"', ""),
        ("lay", "right reguler", '"right regular"', "right regular"),
        ("lay", "RRL", '"left Lang"', ""),
        ("outer_wires", "big", '"large", "ordinary"', ""),
        ("finish", "galvanzed", '"bright", "galvanized", "stainless"', "galvanized"),
        ("condition", "newish", '"new", "used", "worn"', "new"),
    ],
)
def test_an_unknown_word_names_the_list_and_the_nearest(field: str, value: str, listed: str, nearest: str) -> None:
    with pytest.raises(InputError) as caught:
        with_field(Rope("1 in"), field, value)
    assert f"rope.{field}" == caught.value.field
    assert listed in caught.value.bound
    assert repr(value) == caught.value.value
    assert nearest in caught.value.instead


@pytest.mark.parametrize(
    "construction", ["6", "6x", "x19", "0x19", "6x0", "6x19Q", "6x19S seale", "6x19 seale class", "6.5x19"]
)
def test_a_construction_that_cannot_be_read_is_refused(construction: str) -> None:
    with pytest.raises(InputError, match=r"rope\.construction"):
        Rope("1 in", construction=construction)


@pytest.mark.parametrize("diameter", ["0 mm", "-1 mm", "13", "301 mm", "1 m", "nan mm"])
def test_a_diameter_that_no_rope_has_is_refused(diameter: str) -> None:
    with pytest.raises(InputError, match=r"rope\.diameter"):
        Rope(diameter)


def test_texts_are_texts() -> None:
    with pytest.raises(InputError, match=r"rope\.grade"):
        Rope("1 in", grade=1960)  # type: ignore[arg-type]  # what an untyped caller may write


@pytest.mark.parametrize("value", [1, 0, "yes"])
def test_a_flag_is_true_or_false(value: object) -> None:
    with pytest.raises(InputError, match=r"rope\.preformed"):
        Rope("1 in", preformed=value)  # type: ignore[arg-type]  # what an untyped caller may write
    with pytest.raises(InputError, match=r"coating\.stripped"):
        Coating("1 in", stripped=value)  # type: ignore[arg-type]  # what an untyped caller may write


def test_a_flag_of_a_coating_is_never_left_open() -> None:
    with pytest.raises(InputError, match=r"coating\.stripped"):
        Coating("1 in", stripped=None)  # type: ignore[arg-type]  # what an untyped caller may write


# The example of a coated cable is invented.
def test_a_coating_is_thicker_than_the_rope() -> None:
    coating = Coating("3/16 in", stripped=True)
    assert coating == Rope("1/8 in", coating=coating).coating
    for bare in ("3/16 in", "1/4 in"):
        with pytest.raises(InputError, match="greater than that of the bare rope"):
            Rope(bare, coating=coating)


def test_a_coating_is_a_coating() -> None:
    with pytest.raises(InputError, match=r"rope\.coating"):
        Rope("1/8 in", coating="3/16 in")  # type: ignore[arg-type]  # what an untyped caller may write


@pytest.mark.parametrize(
    ("field", "value"),
    [("minimum_breaking_force", "100 kN"), ("actual_breaking_force", "100 kN"), ("mass_per_length", "0.7 kg/m")],
)
def test_a_value_of_a_certificate_needs_the_certificate(field: str, value: str) -> None:
    for certificate in ("", "  "):
        with pytest.raises(InputError, match="needs the certificate"):
            with_field(Rope("13 mm", certificate=certificate), field, value)
    assert getattr(with_field(Rope("13 mm", certificate="invented 1"), field, value), field) is not None


def test_values_of_a_certificate_are_read_with_their_unit() -> None:
    rope = Rope(
        "13 mm",
        minimum_breaking_force="118 kN",
        actual_breaking_force="131 kN",
        mass_per_length="0.7 kg/m",
        certificate="c",
    )
    assert (Force(118_000), Force(131_000), MassPerLength(0.7)) == (
        rope.minimum_breaking_force,
        rope.actual_breaking_force,
        rope.mass_per_length,
    )


def test_an_actual_breaking_force_below_the_minimum_is_refused() -> None:
    with pytest.raises(InputError, match="failed its test"):
        Rope("13 mm", minimum_breaking_force="118 kN", actual_breaking_force="117.9 kN", certificate="c")
    equal = Rope("13 mm", minimum_breaking_force="118 kN", actual_breaking_force="118 kN", certificate="c")
    assert equal.minimum_breaking_force == equal.actual_breaking_force


def test_seale_has_large_outer_wires() -> None:
    with pytest.raises(InputError, match="Seale"):
        Rope("1 in", construction="6x19S", outer_wires="ordinary")
    # Any other pattern may be called so.
    assert str(Rope("1 in", construction="6x26WS", outer_wires="ordinary")).endswith("ordinary outer wires")


def test_checks_stay_on_when_a_host_switches_validators_off() -> None:
    with validators.disabled():
        with pytest.raises(InputError):
            Rope("1 in", core="hemp")
        with pytest.raises(InputError):
            Rope("1/4 in", coating=Coating("3/16 in", stripped=True))


def test_a_rope_is_an_immutable_value() -> None:
    rope = Rope.parse("1/8 in 7x19 galvanized coated 3/16 in stripped")
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        rope.core = "FC"  # type: ignore[misc]  # the point of the test
    for twin in (copy.copy(rope), copy.deepcopy(rope), pickle.loads(pickle.dumps(rope)), attrs.evolve(rope)):
        assert rope == twin
        assert hash(rope) == hash(twin)
