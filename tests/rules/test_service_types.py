"""The types of service rules and of rope care: what they refuse, and where their limits lie."""

from __future__ import annotations

import pickle
from fractions import Fraction

import attrs
import pytest

from turnback.errors import InputError, OutOfTable
from turnback.model.sources import Citation, user_citation
from turnback.quantities import Length
from turnback.rules.ropecare import DiscardRule, SeizingRule
from turnback.rules.ropecarefile import discard_rules, seizing_rules
from turnback.rules.ruleset import SpacingBound
from turnback.rules.service import DesignFactor, ServiceRule
from turnback.rules.servicefile import design_factors, service_rules

HERE: Citation = user_citation("an invented paragraph for this test")
RULE = ServiceRule("guy", "DE", "required", "An invented demand.", HERE, "invented-demand")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("service", ""),
        ("jurisdiction", " "),
        ("text", ""),
        ("code", ""),
        ("kind", "must"),
        ("citation", None),
        ("retorque", ("now and then",)),
        ("terminations", ("eye",)),
        ("refuses_terminations", ("splice",)),
        ("clip_count_at_least", 0),
        ("clip_count_at_least", True),
        ("pin_under_diameters", 4.0),
        ("design_factor", Fraction(1, 2)),
        ("design_factor_rotation_resistant", Fraction(10)),  # without one for other rope
        ("efficiency_at_least", Fraction(81, 80)),
        ("efficiency_at_least", Fraction(0)),
        ("spacing", (SpacingBound("least", False, None, HERE),)),
    ],
)
def test_a_rule_refuses_what_it_cannot_mean(field: str, value: object) -> None:
    with pytest.raises(InputError) as caught:
        attrs.evolve(RULE, **{field: value})  # type: ignore[arg-type]  # a wrong value is the point
    assert caught.value.field in (field, "design_factor")


def test_a_rule_refuses_an_empty_range_of_sizes() -> None:
    one = Length.of("1 in")
    with pytest.raises(InputError, match="no rope is in this range"):
        attrs.evolve(RULE, rope_from=one, rope_below=one)


def test_a_floor_without_a_number_is_none() -> None:
    with pytest.raises(InputError, match="a floor is a count or a distance"):
        attrs.evolve(RULE, kind="floor")


def test_the_lower_end_belongs_to_a_range_of_sizes_and_the_upper_does_not() -> None:
    nanometre = Length(1)
    low, high = Length.of("1/2 in"), Length.of("1 in")
    rule = attrs.evolve(RULE, rope_from=low, rope_below=high)
    sizes = (low - nanometre, low, high - nanometre, high)
    assert [False, True, True, False] == [rule.holds_for_size(size) for size in sizes]


def test_a_design_factor_under_one_is_none() -> None:
    with pytest.raises(InputError) as caught:
        DesignFactor("an invented use", (), "DE", Fraction(9, 10), "Invented.", HERE)
    assert "factor" == caught.value.field


def test_everything_that_ships_is_hashable_and_survives_pickling() -> None:
    shipped = (*service_rules(), *design_factors(), *seizing_rules(), *discard_rules())
    assert shipped == pickle.loads(pickle.dumps(shipped))
    assert len(shipped) == len(set(shipped))


def test_a_seizing_rule_needs_a_number() -> None:
    with pytest.raises(InputError, match="number of seizings"):
        SeizingRule("invented", "Seize it.", HERE, each_side=True, preformed=1)


def test_seizing_sizes_grow() -> None:
    steps = ((Length.of("1 in"), 2), (Length.of("1/2 in"), 3), (None, 4))
    with pytest.raises(InputError, match="sizes grow"):
        SeizingRule("invented", "Seize it.", HERE, each_side=True, preformed=1, not_preformed=steps)


def test_no_number_of_seizings_beyond_the_printed_sizes() -> None:
    rule = SeizingRule(
        "invented", "Seize it.", HERE, each_side=True, preformed=1, not_preformed=((Length.of("1 in"), 2),)
    )
    with pytest.raises(OutOfTable) as caught:
        rule.number(Length.of("1-1/8 in"), False)
    assert "up to 1 in (25.4 mm)" == caught.value.bound


@pytest.mark.parametrize(
    ("measure", "limit"),
    [("damage seen", Fraction(1)), ("broken wires in one lay", None), ("loss of diameter", Fraction(1))],
)
def test_the_limit_of_a_discard_rule_fits_what_is_measured(measure: str, limit: Fraction | None) -> None:
    with pytest.raises(InputError):
        DiscardRule("invented", "any", measure, "Invented.", HERE, from_value=limit)  # type: ignore[arg-type]  # text


def _loss() -> DiscardRule:
    return next(rule for rule in discard_rules() if rule.measure == "loss of diameter")


def test_between_two_ranges_of_sizes_the_smaller_loss_stands() -> None:
    # Mich. R 408.40834(1) prints 1/64 in up to 5/16 in and 1/32 in from 3/8 in; 9 mm lies between them.
    found = _loss().allowed_loss(Length.of("9 mm"))
    assert Length.of("1/64 in") == found.value
    assert "between" in found.how


def test_no_loss_is_given_beyond_the_printed_sizes() -> None:
    with pytest.raises(OutOfTable):
        _loss().allowed_loss(Length.of("1-5/8 in"))


def test_a_rule_of_sight_has_no_number() -> None:
    damage = next(rule for rule in discard_rules() if rule.measure == "damage seen")
    with pytest.raises(InputError):
        damage.is_reached(1)
    with pytest.raises(OutOfTable):
        damage.allowed_loss(Length.of("1/2 in"))
