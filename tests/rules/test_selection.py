"""How rules are named: what is the same choice, what the text means, and what is no choice at all."""

from __future__ import annotations

import copy
import itertools
import pickle
from pathlib import Path

import attrs
import pytest

from turnback.errors import InputError
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import Floor, RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, first_of, governing, parse_choice

TEXT = (Path(__file__).parent / "data" / "invented-rule.toml").read_text(encoding="utf-8")


def rule_set(rules_id: str, origin: str = "invented") -> RuleSet:
    """An invented rule set."""
    return parse_rules(TEXT.replace("invented-rule", rules_id, 1), origin)


A, B = rule_set("a"), rule_set("b")
WITH_A_FLOOR = attrs.evolve(A, floors=(Floor(4, "at least four", A.citation),))


# --- governing ---


def test_governing_is_a_set_of_its_leaf_members() -> None:
    assert Governing(("a", "b", "c")) == governing("c", governing("b", "a"), "a", "b+c")
    assert Governing(("a", "b")) == governing("a+b") == governing("b+a") == governing(" b ", "a")


@pytest.mark.parametrize("one", ["a", A, first_of("a", "b")])
def test_governing_one_is_that_one(one: RulesChoice) -> None:
    assert one == governing(one) == governing(one, one) == governing(governing(one))


def test_governing_keeps_a_first_of_whole() -> None:
    inner = FirstOf(("a", "b"))
    assert Governing((inner, "c")) == governing("c", inner) == governing(first_of("a", "b"), "c", "c")


def test_governing_compares_by_content() -> None:
    # One file under two names is one member; one name over two contents is two members.
    assert A == governing(A, rule_set("a", "copy.toml"))
    for order in itertools.permutations((A, WITH_A_FLOOR, B)):
        made = governing(*order)
        assert isinstance(made, Governing)
        assert 3 == len(made.members)
        assert governing(A, WITH_A_FLOOR, B) == made
    # A rule set made in a program has no hash; one must not swallow the other.
    one, other = attrs.evolve(A, sha256=""), attrs.evolve(WITH_A_FLOOR, sha256="")
    both = governing(one, other)
    assert isinstance(both, Governing)
    assert {one, other} == set(both.members)
    assert both == governing(other, one)
    # A name and the rule set of that name are told apart until the name is looked up.
    assert Governing(("a", A)) == governing(A, "a")


# --- first of ---


def test_first_of_keeps_the_order() -> None:
    assert FirstOf(("b", "a")) == first_of("b", "a") == first_of("b", first_of("a", "b")) == first_of("b,a", "b")
    assert first_of("a", "b") != first_of("b", "a")
    assert FirstOf((Governing(("a", "b")), "c")) == first_of("b+a", "c") == first_of(governing("a", "b"), "c")


@pytest.mark.parametrize("one", ["a", A, governing("a", "b")])
def test_first_of_one_is_that_one(one: RulesChoice) -> None:
    assert one == first_of(one) == first_of(one, one) == first_of(first_of(one))


# --- text ---

TEXTS: dict[str, RulesChoice] = {
    "a": "a",
    "  a  ": "a",
    "a+b": Governing(("a", "b")),
    "b + a": Governing(("a", "b")),
    "a+a": "a",
    "a,b": FirstOf(("a", "b")),
    "a , b , a": FirstOf(("a", "b")),
    # The plus binds tighter.
    "a+b,c": FirstOf((Governing(("a", "b")), "c")),
    "c,b+a": FirstOf(("c", Governing(("a", "b")))),
    "a+b,c+d": FirstOf((Governing(("a", "b")), Governing(("c", "d")))),
    # Brackets group.
    "(a)": "a",
    "((a))+(b)": Governing(("a", "b")),
    "(a,b)+c": Governing((FirstOf(("a", "b")), "c")),
    "c+(b,a)": Governing((FirstOf(("b", "a")), "c")),
    "(a+b),c": FirstOf((Governing(("a", "b")), "c")),
    "a,(b,c)": FirstOf(("a", "b", "c")),
    "((a,b)+c,d)+e": Governing((FirstOf((Governing((FirstOf(("a", "b")), "c")), "d")), "e")),
}


@pytest.mark.parametrize("text", TEXTS)
def test_the_text_means(text: str) -> None:
    assert TEXTS[text] == parse_choice(text) == governing(text) == first_of(text)


@pytest.mark.parametrize("text", TEXTS)
def test_what_is_written_is_read_back(text: str) -> None:
    choice = TEXTS[text]
    assert choice == parse_choice(choice_text(choice))
    if not isinstance(choice, str):
        assert choice_text(choice) == str(choice)


def test_a_rule_set_is_written_by_its_id() -> None:
    assert "a+b" == choice_text(governing(B, A))
    assert "b,a" == choice_text(first_of(B, A))
    assert "(a,b)+c" == choice_text(governing("c", first_of(A, B)))


@pytest.mark.parametrize(
    "text",
    ["+", "a+", "+a", "a++b", ",", "a,", ",a", "a,,b", "a+,b", "a, ", "()", "a+()", "(a", "a)", "(a))", "((a)", "a(b)",
     "(a)b", "(a)(b)", "(a,)", ")(", "(" * 9 + "a" + ")" * 9, "(" * 2000],
)  # fmt: skip
def test_a_slip_in_the_text_is_refused_and_shown(text: str) -> None:
    for read in (parse_choice, governing, first_of):
        with pytest.raises(InputError) as refused:
            read(text)
        assert "rules" == refused.value.field
        assert repr(text)[:20] == refused.value.value[:20]
        assert "a+b" in refused.value.instead


@pytest.mark.parametrize("text", ["", " ", "\t\n"])
def test_no_name_is_refused(text: str) -> None:
    for read in (parse_choice, governing, first_of):
        with pytest.raises(InputError, match="no rule set is named"):
            read(text)


def test_nothing_is_refused() -> None:
    for choose in (governing, first_of):
        with pytest.raises(InputError, match="no rule set is named"):
            choose()


@pytest.mark.parametrize("given", [None, 5, ["a", "b"], ("a", "b"), b"a", {"a"}, object(), RuleSet])
def test_what_is_no_choice_is_refused(given: object) -> None:
    for read in (parse_choice, governing, first_of):
        with pytest.raises(InputError) as refused:
            read(given)  # type: ignore[arg-type]  # a caller without a type checker
        assert "rules" == refused.value.field


def test_a_text_without_end_is_refused_at_once() -> None:
    with pytest.raises(InputError, match="4000 characters") as refused:
        parse_choice("a+" * 10**6 + "a")
    assert len(str(refused.value)) < 400


# --- as values ---


@pytest.mark.parametrize("choice", [governing("a", B), first_of(A, "b"), governing(first_of("a", "b"), "c")])
def test_a_choice_is_a_value(choice: RulesChoice) -> None:
    for other in (pickle.loads(pickle.dumps(choice)), copy.deepcopy(choice)):
        assert (choice, hash(choice)) == (other, hash(other))
    with pytest.raises(AttributeError):
        choice.members = ()  # type: ignore[union-attr,misc]  # it is frozen
