"""Rule files: what is written is read, exactly, and every value keeps its citation.

The files in `data/` are invented. A number of a document stands beside its name.
"""

from __future__ import annotations

import hashlib
import pickle
import re
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from turnback.model.sources import COMMON_PRACTICE
from turnback.quantities import Length, Torque
from turnback.rules._reading_keys import KEYS
from turnback.rules.rulefile import basis_rule_sets, parse_rules, read_rules
from turnback.rules.ruleset import EfficiencyBand, LinearLength, RuleSet

DATA = Path(__file__).parent / "data"
SHEET, LINEAR, BASIS = (
    (DATA / f"invented-{name}.toml").read_text(encoding="utf-8") for name in ("sheet", "rule", "basis")
)
PAGE = Path(__file__).parents[2] / "docs" / "how-to" / "write-a-rule-file.md"
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)


def swapped(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, f"{old!r} must stand once in the file that a test changes"
    return text.replace(old, new)


def leaves(value: object) -> Iterator[object]:
    """Everything that a rule set holds, down to the plain values."""
    kind = type(value)
    if attrs.has(kind):
        for field in attrs.fields(kind):
            yield from leaves(getattr(value, field.name))
    elif isinstance(value, Torque):
        yield from leaves((value.value, value.unit, value.also))
    elif isinstance(value, tuple):
        for entry in value:
            yield from leaves(entry)
    else:
        yield value


def test_cells_are_exact() -> None:
    rules = parse_rules(SHEET)
    half, five, three = rules.rows
    assert [row.size.nanometres for row in rules.rows] == [12_700_000, 15_875_000, 19_050_000]
    assert half.turn_back is not None
    assert half.spacing is not None
    assert half.torque is not None
    assert Length.of("11-1/2 in") == half.turn_back.value
    assert half.turn_back.how == "also printed as 292 mm"
    assert Torque(65, "lbf·ft", (88, "N·m")) == half.torque.value
    assert Length.of("1/2 in") == five.above
    assert five.count is None
    assert tuple(cell.value for cell in (five.count_forged, five.count_other) if cell) == (3, 4)
    assert five.torque is not None
    assert Torque(Fraction(677, 10), "lbf·ft") == five.torque.value
    assert three.turn_back is None
    assert three.torque is not None
    assert Torque(130, "lbf·ft") == three.torque.value


def test_statuses_and_citations() -> None:
    half, _, three = parse_rules(SHEET).rows
    assert half.count is not None
    assert str(half.count.citations[0]) == "Invented Institute, sheet 1, Table 1, row 1/2, count"
    assert three.torque is not None
    assert three.count is not None
    assert three.spacing is not None
    assert tuple(cell.citations[0].status for cell in (three.torque, three.count, three.spacing)) == (
        "memory",
        "common practice",
        "read",
    )
    # Common practice is not laid to the document beside which it stands.
    assert three.count.citations[0].source == COMMON_PRACTICE
    assert three.torque.citations[0].note == "the copy prints 4/3"
    assert three.confirm is not None
    assert (three.confirm.value, three.confirm.citations[0].status) == ("the clip maker asks for more", "memory")


def test_everything_beside_the_rows() -> None:
    rules = parse_rules(SHEET, "sheet.toml")
    assert (rules.id, rules.style, rules.pattern) == ("invented-sheet", "u-bolt", "invented-pattern")
    assert [note.value for note in rules.notes] == ["Invented for a test."]
    least, greatest = rules.spacing
    assert (least.bound, least.clear, least.length) == ("least", False, None)
    assert LinearLength(Fraction(7), Fraction(0), Length(0), "7 diameters") == greatest.length
    assert rules.threads is not None
    assert (rules.threads.value, rules.threads.citations[0].status) == ("dry", "common practice")
    assert [Fraction(4, 5)] == [band.value for band in rules.efficiency]
    assert rules.efficiency_at_most is not None
    assert Fraction(17, 20) == rules.efficiency_at_most.value
    (scope,) = rules.scope
    assert (None, Length.of("3/4 in")) == (scope.least, scope.greatest)
    assert (
        scope.constructions,
        scope.cores,
        scope.grades,
        scope.lays,
    ) == (("6x19 class",), ("FC",), ("IPS", "1770"), ("right Lang",))
    assert (scope.rotation_resistant, scope.new_only, scope.confirm) == (False, True, ("grades",))
    added = rules.adjustments
    assert added.large_wires is not None
    assert (1, Length.of("1 in")) == (added.large_wires.add, added.large_wires.from_size)
    assert added.pulley is not None
    assert added.lap_factor is not None
    assert (added.pulley.value, added.lap_factor.value) == (1, 2)
    assert rules.citation == added.proportion
    assert [(floor.count, floor.text) for floor in rules.floors] == [(3, "At least three.")]
    assert [(name, text.value) for name, text in rules.excluded_services] == [("mine-hoist", "Not for mine hoists.")]
    order = rules.procedure
    assert (order.begin_at, order.retorque) == ("eye", ("before first use", "at intervals"))
    assert order.begin_citation is not None
    assert order.begin_citation.locator == "note 1"
    (waiver,) = rules.waivers
    assert ("count-never-falls", Length.of("5/8 in")) == (waiver.law, Length.of(waiver.row))
    assert rules.origin == "sheet.toml"


def test_a_linear_file() -> None:
    rules = parse_rules(LINEAR)
    rule = rules.count_rule
    assert rule is not None
    assert (Length.of("1/8 in"), Length.of("3-1/2 in")) == (rule.least, rule.greatest)
    assert [citation.status for citation in rule.citations] == ["read", "common practice"]
    assert [bound.clear for bound in rules.spacing] == [True, True]
    assert rules.spacing[0].citation.locator == "page 8"
    # NAVEDTRA 14026, page 1-8: 3 D + 1 rounded up is 4 at 1 in and 3 at 1/2 in.
    counts = [rules.row_for(Length.of(size)).count for size in ("1 in", "1/2 in")]
    assert [cell.value for cell in counts if cell] == [4, 3]


def test_metric_columns() -> None:
    # EN 13411-5 Annex A: 10 mm takes ropes above 8 mm, 9 N·m, 4 grips; 6.5 mm takes 3.5 N·m and 3 grips (memory).
    text = LINEAR[: LINEAR.index("[count]")] + (
        '[units]\nsize = "mm"\ntorque = "N·m"\n[threads]\ncondition = "greased"\n'
        "[[rows]]\nsize = 6.5\nabove = 5\ncount = 3\ntorque = 3.5\n"
        "[[rows]]\nsize = 10\nabove = 8\ncount = 4\ntorque = 9.0\n"
        '[[waivers]]\nlaw = "a-law"\nrow = 6.5\nreason = "Printed so."\nnote = "beside it"\n'
    )
    rules = parse_rules(text)
    small, ten = rules.rows
    assert ("6.5 mm", "beside it") == (rules.waivers[0].row, rules.waivers[0].citation.note)
    assert small.size.nanometres == 6_500_000
    assert small.torque is not None
    assert Torque(Fraction(7, 2), "N·m") == small.torque.value
    assert not ten.takes(Length.of("8 mm"))
    assert ten.takes(Length.of("8.5 mm"))
    assert ten.torque is not None
    assert Torque(9, "N·m") == ten.torque.value


def test_second_print_of_the_army_manual() -> None:
    # TM 5-3810-305-10, Table 6, 1/2 in: 11 in printed with 279 mm, 65 lbf·ft with 88 N·m.
    text = swapped(swapped(SHEET, 'turn_back = "11-1/2"', 'turn_back = "11"'), '"292 mm"', '"279 mm"')
    row = parse_rules(text).rows[0]
    assert row.turn_back is not None
    assert Length.of("11 in") == row.turn_back.value


def test_spellings_become_those_of_a_rope() -> None:
    text = swapped(SHEET, 'grades = ["IPS", "1770"]', 'grades = ["XIP", "1770 N/mm²"]')
    assert parse_rules(text).scope[0].grades == ("EIP", "1770")


def test_no_float_anywhere() -> None:
    for rules in (*map(parse_rules, (SHEET, LINEAR, BASIS)), *basis_rule_sets()):
        kinds = {type(leaf) for leaf in leaves(rules)}
        assert float not in kinds
        # Not even a text that remembers being a decimal.
        assert {str, int, bool, type(None), Length, Fraction} >= kinds


def test_rule_sets_hash_and_pickle() -> None:
    rules = parse_rules(SHEET)
    assert rules == pickle.loads(pickle.dumps(rules))
    assert hash(rules) == hash(parse_rules(SHEET))


def test_the_hash_is_of_the_bytes(tmp_path: Path) -> None:
    data = b"\xef\xbb\xbf" + SHEET.replace("\n", "\r\n").encode()
    path = tmp_path / "sheet.toml"
    path.write_bytes(data)
    rules = read_rules(path)
    assert (hashlib.sha256(data).hexdigest(), "sheet.toml") == (rules.sha256, rules.origin)
    assert rules.rows == parse_rules(SHEET).rows
    assert rules == read_rules(str(path))


def test_the_core_bases() -> None:
    # Common practice: 80 % for 1/8 to 7/8 in, 90 % for 1 to 3-1/2 in, between the two the lower.
    # TM 5-3810-305-10, Table 4: clips 80 %, no sizes printed.
    practice, manual = basis_rule_sets()

    def at(rules: RuleSet, size: str) -> list[Fraction]:
        return [band.value for band in rules.efficiency if band.takes(Length.of(size))]

    low, high = [Fraction(80, 100)], [Fraction(90, 100)]
    for size, expected in {
        "1/8 in": low, "7/8 in": low, "15/16 in": low, "25.399999 mm": low, "1 in": high, "3-1/2 in": high,
        "3/32 in": [], "3-5/8 in": [],
    }.items():  # fmt: skip
        assert expected == at(practice, size), size
        assert low == at(manual, size), size
    assert {"common practice"} == {band.citation.status for band in practice.efficiency}
    assert practice.source == COMMON_PRACTICE
    assert str(manual.efficiency[0].citation) == "TM 5-3810-305-10, Table 4"
    assert [rules.is_basis for rules in (practice, manual)] == [True, True]
    assert [rules.style for rules in (practice, manual)] == ["any", "any"]
    assert len(practice.sha256) == 64


@pytest.mark.parametrize("text", EXAMPLES)
def test_the_examples_of_the_page(text: str) -> None:
    assert "nvented" in text.splitlines()[0]
    rules = parse_rules(text)
    assert rules.id.startswith("example-")


def test_the_page_explains_every_key() -> None:
    assert len(EXAMPLES) == 2
    page = PAGE.read_text(encoding="utf-8")
    explained = set(re.findall(r"`([a-z_]+)`", page[page.index("## Every key") :]))
    assert set() == {key for keys in KEYS.values() for key in keys} - explained


def test_the_complete_example_uses_nearly_every_key() -> None:
    # `count` of a row and `value` beside `bands` cannot stand with what the example shows instead.
    used: set[str] = set()

    def walk(value: object) -> None:
        for key, entry in value.items() if isinstance(value, dict) else ():
            used.add(key)
            walk(entry)
        for entry in value if isinstance(value, list) else ():
            walk(entry)

    for text in EXAMPLES:
        walk(tomllib.loads(text))
    known = {key for keys in KEYS.values() for key in keys}
    assert {"bands", "below", "equal", "retorque_status", "begin_locator"} == known - used


# What is written is read


@st.composite
def tables(draw: st.DrawFn) -> list[dict[str, Fraction | int | None]]:
    """Rows by increasing size in sixty-fourths of an inch, with or without each cell."""
    steps = draw(st.lists(st.integers(1, 40), min_size=1, max_size=12))
    rows: list[dict[str, Fraction | int | None]] = []
    size = 0
    for step in steps:
        above = size + draw(st.integers(0, step - 1)) if draw(st.booleans()) else None
        size += step
        rows.append(
            {
                "size": Fraction(size, 64),
                "above": Fraction(above, 64) if above else None,
                "count": draw(st.integers(1, 99)),
                "turn_back": draw(st.none() | st.integers(1, 9000).map(lambda n: Fraction(n, 64))),
                "torque": draw(st.none() | st.integers(1, 9000).map(lambda n: Fraction(n, 10))),
            }
        )
    return rows


def mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


@settings(deadline=None)
@given(tables())
def test_what_is_written_is_read(rows: list[dict[str, Fraction | int | None]]) -> None:
    lines = []
    for row in rows:
        lines.append("[[rows]]")
        for key, value in row.items():
            if isinstance(value, Fraction):
                lines.append(f"{key} = {float(value):.1f}" if key == "torque" else f'{key} = "{mixed(value)}"')
            elif value is not None:
                lines.append(f"{key} = {value}")
    head = LINEAR[: LINEAR.index("[count]")]
    units = '[units]\nsize = "in"\nturn_back = "in"\ntorque = "N·m"\n[threads]\ncondition = "dry"\n'
    found = parse_rules(head + units + "\n".join(lines)).rows
    read_back = [
        {
            "size": row.size.inches,
            "above": row.above.inches if row.above else None,
            "count": row.count.value if row.count else None,
            "turn_back": row.turn_back.value.inches if row.turn_back else None,
            "torque": row.torque.value.value if row.torque else None,
        }
        for row in found
    ]
    assert rows == read_back


@settings(deadline=None)
@given(st.integers(1, 500), st.integers(1, 500), st.sampled_from(["greatest", "below"]))
def test_bands_leave_no_gap_and_no_overlap(first: int, more: int, kind: str) -> None:
    # Two bands that meet: the first ends at or below a size, the second begins there.
    meet, end = Length(first * 396_875), Length((first + more) * 396_875)
    one = EfficiencyBand(Fraction(4, 5), None, None, basis_rule_sets()[0].citation, below=meet)
    two = EfficiencyBand(
        Fraction(9, 10), meet, end if kind == "greatest" else None, one.citation, None if kind == "greatest" else end
    )
    for size in (Length(1), meet - Length(1), meet, meet + Length(1)):
        assert one.takes(size) + two.takes(size) == 1
    assert (kind == "greatest") is two.takes(end)
