"""Quantities as values: unchangeable, hashable, copied and pickled, and never mixed."""

from __future__ import annotations

import copy
import operator
import pickle
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.quantities import Angle, Force, Length, Mass, MassPerLength, Torque

VALUES = [
    Length(292_100_000),
    Length(-5),
    Torque(65, "lbf·ft"),
    Torque(Fraction(65), "lbf·ft", (Fraction(88), "N·m")),
    Force(5000.0),
    Mass(12.0),
    MassPerLength(1.55),
    Angle(1.05),
]


@pytest.mark.parametrize("value", VALUES, ids=repr)
@pytest.mark.parametrize("protocol", range(pickle.HIGHEST_PROTOCOL + 1))
def test_pickles(value: object, protocol: int) -> None:
    again = pickle.loads(pickle.dumps(value, protocol))
    assert value == again
    assert hash(value) == hash(again)
    assert type(value) is type(again)


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_copies(value: object) -> None:
    assert value is copy.copy(value)
    assert value is copy.deepcopy(value)
    assert [value] == copy.deepcopy([value])


def test_an_edited_pickle_is_checked() -> None:
    whole = pickle.dumps(Length(5), 2)
    broken = whole.replace(b"K\x05", b"G" + b"\x40\x14" + b"\x00" * 6)  # 5 becomes 5.0
    assert whole != broken
    with pytest.raises(InputError):
        pickle.loads(broken)


@pytest.mark.parametrize("value", VALUES, ids=repr)
@pytest.mark.parametrize("name", ["nanometres", "value", "unit", "_si", "anything"])
def test_nothing_can_be_changed(value: object, name: str) -> None:
    before = repr(value)
    with pytest.raises(AttributeError):
        setattr(value, name, 5)
    with pytest.raises(AttributeError):
        delattr(value, name)
    assert before == repr(value)
    assert not hasattr(value, "__dict__")


@pytest.mark.parametrize("kind", [Length, Torque, Force, Mass, MassPerLength, Angle])
def test_no_kind_can_be_subclassed(kind: type) -> None:
    with pytest.raises(TypeError):
        type("Longer", (kind,), {})


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_repr_is_code(value: object) -> None:
    assert value == eval(repr(value))  # our own repr, no text from outside


@given(st.integers(), st.integers())
@settings(deadline=None)
def test_equal_lengths_have_equal_hashes(one: int, two: int) -> None:
    assert (one == two) is (Length(one) == Length(two))
    assert len({one, two}) == len({Length(one), Length(two)})


def test_a_length_is_no_number() -> None:
    assert Length(1) != 1
    assert {1: "number", Length(1): "length"} == {Length(1): "length", 1: "number"}
    assert len({1, Length(1)}) == 2


def test_kinds_are_never_equal() -> None:
    kinds = (Force(5.0), Mass(5.0), MassPerLength(5.0), Angle(5.0), Length(5), Torque(5, "N·m"))
    assert len(kinds) == len(set(kinds))
    for kind in kinds:
        assert all(kind != other for other in (5, 5.0, "5", None))


def test_torques_are_equal_as_printed() -> None:
    assert Torque(65, "lbf·ft") == Torque(Fraction(65), "lbf·ft")
    assert Torque(65, "lbf·ft") != Torque(780, "lbf·in")
    assert Torque(65, "lbf·ft") != Torque(65, "lbf·ft", (88, "N·m"))


PAIRS = (operator.add, operator.sub, operator.lt, operator.le, operator.gt, operator.ge, operator.truediv, operator.mul)


@pytest.mark.parametrize("operation", PAIRS)
@pytest.mark.parametrize("one", VALUES, ids=repr)
def test_kinds_do_not_mix(operation: Callable[[object, object], object], one: object) -> None:
    for two in (*VALUES, 5, 5.0, Fraction(5), True, "5 mm", None):
        if type(one) is type(two) or (operation in (operator.mul, operator.truediv) and _is_factor(one, two)):
            continue
        with pytest.raises(TypeError):
            operation(one, two)
        with pytest.raises(TypeError):
            operation(two, one)


def _is_factor(one: object, two: object) -> bool:
    if isinstance(two, bool):
        return False
    if isinstance(one, Length):
        return isinstance(two, int)
    return not isinstance(one, Torque) and isinstance(two, (int, float, Fraction))


@pytest.mark.parametrize("two", [Length(2), 2.0, True, Fraction(1, 2), "2"], ids=repr)
def test_a_length_is_multiplied_by_whole_numbers_only(two: object) -> None:
    with pytest.raises(TypeError):
        Length(5) * two  # type: ignore[operator]
    with pytest.raises(TypeError):
        two * Length(5)  # type: ignore[arg-type]


@pytest.mark.parametrize("two", [2, 2.0, Fraction(2)])
def test_a_length_is_divided_by_a_length_only(two: object) -> None:
    with pytest.raises(TypeError):
        operator.truediv(Length(5), two)
    with pytest.raises(TypeError):
        operator.truediv(two, Length(5))


@pytest.mark.parametrize("value", [Force(2.0), Mass(2.0)], ids=repr)
def test_a_scalar_has_no_square_and_no_reciprocal(value: Force | Mass) -> None:
    with pytest.raises(TypeError):
        value * value  # type: ignore[operator]
    with pytest.raises(TypeError):
        1 / value  # type: ignore[operator]


@pytest.mark.parametrize("operation", [operator.lt, operator.add, operator.sub, operator.mul, operator.truediv])
def test_printed_torques_have_no_arithmetic(operation: Callable[[object, object], object]) -> None:
    with pytest.raises(TypeError):
        operation(Torque(65, "lbf·ft"), Torque(65, "lbf·ft"))


def test_lengths_sort_and_add_up() -> None:
    lengths = [Length(3), Length(1), Length(2)]
    assert [Length(1), Length(2), Length(3)] == sorted(lengths)
    assert Length(6) == sum(lengths, Length(0))
    assert Length(3) == max(lengths)
