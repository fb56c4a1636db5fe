"""The exact oracle finds rule sets that were made wrong on purpose."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final

import attrs
import pytest
from tests.companies import CATALOGUE
from tests.conformance.test_oracle import rule_file

from turnback.conformance.oracle_check import Comparison, compare
from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.rows import Row
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

CITED: Final[tuple[Citation, ...]] = (CATALOGUE.rule_sets[0].citation,)


def row_with(rules: RuleSet, size: str, change: Callable[[Row], Row]) -> RuleSet:
    wanted = Length.of(size)
    rows = tuple(change(row) if row.size == wanted else row for row in rules.rows)
    return attrs.evolve(rules, rows=rows)


def count_more(cell: Cited[int] | None, more: int) -> Cited[int] | None:
    return None if cell is None else attrs.evolve(cell, value=cell.value + more)


def length_more(cell: Cited[Length] | None, nanometres: int) -> Cited[Length] | None:
    return None if cell is None else attrs.evolve(cell, value=Length(cell.value.nanometres + nanometres))


FAULTS: Final[dict[str, tuple[str, Callable[[RuleSet], RuleSet]]]] = {
    "a clip less in one row": (
        "us-ca-8-8497",
        lambda r: row_with(r, "2 in", lambda row: attrs.evolve(row, count=count_more(row.count, -1))),
    ),
    "a clip more for other bodies": (
        "us-osha-1926-251",
        lambda r: row_with(r, "1 in", lambda row: attrs.evolve(row, count_other=count_more(row.count_other, 1))),
    ),
    "a turn-back short by a nanometre": (
        "us-ca-8-8497",
        lambda r: row_with(r, "3/4 in", lambda row: attrs.evolve(row, turn_back=length_more(row.turn_back, -1))),
    ),
    "a printed spacing longer by a nanometre": (
        "us-osha-1926-251",
        lambda r: row_with(r, "5/8 in", lambda row: attrs.evolve(row, spacing=length_more(row.spacing, 1))),
    ),
    "inches taken for millimetres": (
        "ca-nb-clips",
        lambda r: row_with(r, "1/2 in", lambda row: attrs.evolve(row, turn_back=Cited(Length(11_500_000), CITED))),
    ),
    "a row left out": ("us-ca-8-8497-t2", lambda r: attrs.evolve(r, rows=r.rows[:4] + r.rows[5:])),
    "a row takes a range that it does not print": (
        "ca-nb-clips",
        lambda r: row_with(r, "1/2 in", lambda row: attrs.evolve(row, above=Length.of("7/16 in"))),
    ),
    "a range that leaves out its first nanometre": (
        "en-13411-5",
        lambda r: row_with(r, "8 mm", lambda row: attrs.evolve(row, above=Length(6_500_001))),
    ),
    "a range that ends a nanometre late": (
        "en-13411-5",
        lambda r: row_with(r, "40 mm", lambda row: attrs.evolve(row, size=Length(40_000_001))),
    ),
    "a rule without its one more": (
        "us-navy-14026",
        lambda r: attrs.evolve(r, count_rule=r.count_rule and attrs.evolve(r.count_rule, plus=0)),
    ),
    "a rule of a little more an inch": (
        "us-army-5420-278",
        lambda r: attrs.evolve(r, count_rule=r.count_rule and attrs.evolve(r.count_rule, per_inch=Fraction(301, 100))),
    ),
    "a spacing a nanometre short": (
        "us-army-5420-278",
        lambda r: attrs.evolve(
            r,
            spacing=tuple(
                attrs.evolve(b, length=b.length and attrs.evolve(b.length, constant=Length(25_399_999)))
                for b in r.spacing
            ),
        ),
    ),
    "clear distances taken from centre to centre": (
        "en-13411-5",
        lambda r: attrs.evolve(r, spacing=tuple(attrs.evolve(bound, clear=False) for bound in r.spacing)),
    ),
    "a greatest spacing taken for an equal one": (
        "en-13411-5",
        lambda r: attrs.evolve(r, spacing=(attrs.evolve(r.spacing[1], bound="equal"),)),
    ),
    "no floor": ("ca-nb-clips", lambda r: attrs.evolve(r, floors=())),
    "two more for a pulley": (
        "us-army-3810-305",
        lambda r: attrs.evolve(r, adjustments=attrs.evolve(r.adjustments, pulley=Cited(2, CITED))),
    ),
    "large wires from a size too late": (
        "us-ca-8-8497",
        lambda r: attrs.evolve(
            r,
            adjustments=attrs.evolve(
                r.adjustments,
                large_wires=r.adjustments.large_wires
                and attrs.evolve(r.adjustments.large_wires, from_size=Length(25_400_001)),
            ),
        ),
    ),
    "large wires forgotten": (
        "us-ca-8-8497-t2",
        lambda r: attrs.evolve(r, adjustments=attrs.evolve(r.adjustments, large_wires=None)),
    ),
    "counts that claim everything": (
        "us-ca-8-8497",
        lambda r: attrs.evolve(r, scope=tuple(attrs.evolve(entry, gives="everything") for entry in r.scope)),
    ),
    "a scope that takes one lay more": (
        "us-ca-8-8497",
        lambda r: attrs.evolve(
            r, scope=tuple(attrs.evolve(entry, lays=(*entry.lays, "left regular")) for entry in r.scope)
        ),
    ),
    "a scope that ends a row late": (
        "us-ca-8-8497",
        lambda r: attrs.evolve(
            r,
            scope=tuple(
                attrs.evolve(entry, greatest=entry.greatest and Length.of("2 in")) for entry in r.scope
            ),
        ),
    ),
    "a confirmation made a refusal": (
        "us-osha-1926-251",
        lambda r: attrs.evolve(r, scope=tuple(attrs.evolve(entry, confirm=()) for entry in r.scope)),
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", sorted(FAULTS))
def test_a_wrong_rule_set_is_found(fault: str) -> None:
    name, make = FAULTS[fault]
    text = rule_file(name)
    wrong = make(parse_rules(text))
    assert wrong != parse_rules(text)
    found: Comparison = compare(text, examples=1_500, seed=7, rules=wrong, catalogue=CATALOGUE)
    assert found.found > 0
    assert not found.agree
    words = str(found.differences[0])
    assert "the rule file gives" in words
