"""What a rule set's scope says of a rope: in, out, or not given, attribute by attribute; one entry is enough.

The scopes here are invented. Which classes a construction counts as is tested in ``tests/model/test_rope_classes.py``;
what the published files say, in ``tests/published/test_clip_scopes.py``.
"""

from __future__ import annotations

import attrs
import pytest

from turnback.errors import OutOfScope
from turnback.model.rope import Rope
from turnback.model.sources import Citation, Source
from turnback.quantities import Length
from turnback.rules.ruleset import RuleSet, ScopeEntry
from turnback.rules.scope import Verdict, scope_verdict

SOURCE = Source("invented", "Invented Institute, sheet 1")
HALF_INCH = Length.of("1/2 in")


def cite(place: str) -> Citation:
    return Citation(SOURCE, place, "read")


ANYTHING = ScopeEntry("everything", None, None, (), (), (), (), (), None, False, (), cite("note 1"))
# Every attribute that an entry can name, all at once.
NARROW = attrs.evolve(
    ANYTHING,
    least=Length.of("3/8 in"),
    greatest=Length.of("5/8 in"),
    constructions=("6x19 class", "6x36WS"),
    cores=("IWRC", "FC"),
    grades=("IPS", "EIP"),
    lays=("right regular",),
    rotation_resistant=False,
)
FITTING = Rope(HALF_INCH, "6x36WS", "IWRC", "IPS", "right regular", rotation_resistant=False)


def rules(*scope: ScopeEntry) -> RuleSet:
    return RuleSet("invented", "u-bolt", "Invented", "", SOURCE, cite("whole"), scope=scope)


def verdict(rope: Rope, *scope: ScopeEntry, diameter: Length | None = None) -> Verdict:
    return scope_verdict(rules(*scope), rope, diameter or rope.diameter)


def refused(rope: Rope, *scope: ScopeEntry) -> OutOfScope:
    with pytest.raises(OutOfScope) as caught:
        verdict(rope, *scope)
    assert caught.value.instead
    return caught.value


CLEAN = Verdict(False, (), (), (), cite("note 1"))


# --- in ---


def test_a_rope_that_fits_in_everything_passes_clean() -> None:
    assert CLEAN == verdict(FITTING, NARROW)


def test_a_source_that_says_nothing_refuses_nothing() -> None:
    assert Verdict(False, (), (), (), cite("whole")) == verdict(Rope("3 in"))
    assert CLEAN == verdict(Rope("3 in", "8x19", "WSC", "1960", "left Lang"), ANYTHING)


@pytest.mark.parametrize("diameter", ["3/8 in", "1/2 in", "5/8 in"])
def test_the_ends_of_a_range_of_sizes_belong_to_it(diameter: str) -> None:
    assert CLEAN == verdict(attrs.evolve(FITTING, diameter=diameter), NARROW)


def test_the_diameter_under_the_clip_is_what_counts() -> None:
    """Over a coating it is the finished diameter, which the caller hands in."""
    with pytest.raises(OutOfScope, match="diameter"):
        verdict(FITTING, NARROW, diameter=Length.of("11/16 in"))
    assert CLEAN == verdict(attrs.evolve(FITTING, diameter="1/4 in"), NARROW, diameter=HALF_INCH)


def test_a_class_that_is_not_the_construction_itself_is_cited() -> None:
    by_class = verdict(attrs.evolve(FITTING, construction="6x25F"), NARROW)
    assert (False, (), ()) == (by_class.counts_only, by_class.not_given, by_class.outside)
    assert ["6x25F counts as 6x19 class"] == [citation.locator for citation in by_class.class_citations]
    assert {"memory"} == {citation.status for citation in by_class.class_citations}


# --- out ---

OUT: dict[str, tuple[Rope, str, str, str]] = {
    "too small": (attrs.evolve(FITTING, diameter=Length(9_524_999)), "diameter", "9.524999 mm", "from 3/8 in"),
    "too large": (attrs.evolve(FITTING, diameter=Length(15_875_001)), "diameter", "15.875001 mm", "up to 5/8 in"),
    "construction": (attrs.evolve(FITTING, construction="8x19"), "construction", "8x19", "6x19 class or 6x36WS"),
    "core": (attrs.evolve(FITTING, core="WSC"), "core", "WSC", "IWRC or FC"),
    "grade": (attrs.evolve(FITTING, grade="1770"), "grade", "1770", "IPS or EIP"),
    "lay": (attrs.evolve(FITTING, lay="right Lang"), "lay", "right Lang", "right regular"),
    "rotation": (
        attrs.evolve(FITTING, rotation_resistant=True),
        "rotation_resistant",
        "rotation-resistant",
        "not rotation-resistant",
    ),
}


@pytest.mark.parametrize("case", OUT)
def test_one_attribute_outside_is_refused_with_the_bound_and_the_place(case: str) -> None:
    rope, field, value, bound = OUT[case]
    error = refused(rope, NARROW)
    assert (field, str(cite("note 1"))) == (error.field, error.citation)
    assert error.value.startswith(value)
    assert error.bound.startswith(bound)


def test_a_metric_grade_is_not_taken_for_a_table_grade() -> None:
    """Design, section 5: table grades and grades in N/mm² are never mapped in silence."""
    only = attrs.evolve(ANYTHING, grades=("1770",))
    assert "grade" == refused(Rope("1/2 in", grade="IPS"), only).field
    assert CLEAN == verdict(Rope("1/2 in", grade="1770"), only)


def test_a_construction_tells_whether_a_rope_resists_rotation() -> None:
    """8x19 and 19x7: 8 CCR 8497, Table 1."""
    resistant, plain = (attrs.evolve(ANYTHING, rotation_resistant=each) for each in (True, False))
    for construction in ("8x19", "19x7"):
        assert CLEAN == verdict(Rope("1/2 in", construction), resistant)
        assert "rotation_resistant" == refused(Rope("1/2 in", construction), plain).field
    # What was given outranks the name.
    assert CLEAN == verdict(Rope("1/2 in", "8x19", rotation_resistant=False), plain)


@pytest.mark.parametrize("strand", ["1x7", "1x19"])
def test_a_strand_is_refused_unless_the_source_names_it(strand: str) -> None:
    for scope in ((), (ANYTHING,), (NARROW,)):
        error = refused(Rope("1/2 in", strand), *scope)
        assert ("construction", strand) == (error.field, error.value)
        assert str(cite("whole")) == error.citation
    naming = attrs.evolve(ANYTHING, constructions=(strand,))
    assert CLEAN == verdict(Rope("1/2 in", strand), naming)
    other = "1x7" if strand == "1x19" else "1x19"
    assert "construction" == refused(Rope("1/2 in", other), naming).field


# --- not given ---


def test_what_is_not_given_is_neither_passed_nor_refused() -> None:
    assert ("construction", "core", "grade", "lay", "rotation_resistant") == verdict(Rope("1/2 in"), NARROW).not_given


@pytest.mark.parametrize(
    ("left_out", "value"),
    [("construction", ""), ("core", ""), ("grade", ""), ("lay", ""), ("rotation_resistant", None)],
)
def test_each_attribute_that_is_not_given_is_named(left_out: str, value: str | None) -> None:
    # A 6x36WS rope may or may not resist rotation; its name does not tell.
    rope = attrs.evolve(FITTING, **{left_out: value})  # type: ignore[arg-type]  # one field of many
    assert attrs.evolve(CLEAN, not_given=(left_out,)) == verdict(rope, NARROW)


def test_what_the_source_does_not_name_is_not_asked_for() -> None:
    assert CLEAN == verdict(Rope("1/2 in"), ANYTHING)


@pytest.mark.parametrize("condition", ["", "new", "used", "worn"])
def test_condition_and_termination_refuse_nothing_here(condition: str) -> None:
    """They decide whether there is a strength, not whether there is a count."""
    entry = attrs.evolve(ANYTHING, new_only=True, terminations=("thimble eye",))
    expected = attrs.evolve(CLEAN, terminations=("thimble eye",))
    assert expected == verdict(Rope("1/2 in", condition=condition), entry)


# --- to confirm ---

CONFIRM: dict[str, tuple[str, tuple[str, str, str]]] = {
    "constructions": ("construction", ("construction", "8x19", "6x19 class or 6x36WS")),
    "cores": ("core", ("core", "WSC", "IWRC or FC")),
    "grades": ("grade", ("grade", "1770", "IPS or EIP")),
    "lays": ("lay", ("lay", "right Lang", "right regular")),
}


@pytest.mark.parametrize("plural", CONFIRM)
def test_what_the_file_lets_pass_is_planned_with_a_finding(plural: str) -> None:
    field, outside = CONFIRM[plural]
    rope = attrs.evolve(FITTING, **{field: outside[1]})  # type: ignore[arg-type]  # one field of many
    lenient = attrs.evolve(NARROW, confirm=(plural,))
    assert attrs.evolve(CLEAN, outside=(outside,)) == verdict(rope, lenient)
    # It lets that attribute pass and no other.
    for other in CONFIRM:
        if other != plural:
            assert field == refused(rope, attrs.evolve(NARROW, confirm=(other,))).field


# --- several entries ---

COUNTS = attrs.evolve(
    ANYTHING, gives="counts", constructions=("8x19",), greatest=Length.of("3/8 in"), citation=cite("note 2")
)


def test_one_entry_is_enough_and_says_what_it_gives() -> None:
    first = attrs.evolve(ANYTHING, constructions=("6x19 class",))
    small = Rope("3/8 in", "8x19")
    assert Verdict(True, (), (), (), cite("note 2")) == verdict(small, first, COUNTS)
    assert Verdict(False, (), (), (), cite("note 1")) == verdict(Rope("3/8 in", "6x19 class"), first, COUNTS)
    # Outside both: above the sizes of the one, of another construction than the other.
    assert "6x19 class" == refused(attrs.evolve(small, diameter="1/2 in"), first, COUNTS).bound


def test_the_entry_that_fits_best_is_the_one_that_is_named() -> None:
    three_off = attrs.evolve(ANYTHING, constructions=("6x19 class",), cores=("FC",), grades=("IPS",))
    rope = Rope("1/2 in", "8x19", "IWRC", "EIP")
    error = refused(rope, three_off, COUNTS)
    assert ("diameter", str(cite("note 2"))) == (error.field, error.citation)
    assert "diameter" == refused(rope, COUNTS, three_off).field


def test_where_several_entries_cover_a_rope_the_first_stands() -> None:
    twice = (attrs.evolve(ANYTHING, citation=cite("note 3")), ANYTHING)
    assert cite("note 3") == verdict(FITTING, *twice).citation
