"""Every cell of the clip tables against a second typing, made column by column and not from the rule files.

Sources, each named again beside its table: 8 CCR §8497, Tables 1 and 2; 29 CFR 1926.251, Table H-2; NAVEDTRA 14026;
TM 5-5420-278-10; TM 5-3810-305-10; the guidance of New Brunswick's regulator; EN 13411-5. What no source says is typed
too: a cell too many fails like a cell too few.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from turnback.quantities import Length, Torque
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

CALIFORNIA, FEDERAL, NAVY, CABLES = "us-ca-8-8497", "us-osha-1926-251", "us-navy-14026", "us-army-5420-278"
SADDLES, CALIFORNIA_2, BRUNSWICK, EUROPE = "us-army-3810-305", "us-ca-8-8497-t2", "ca-nb-clips", "en-13411-5"
TABLES = (CALIFORNIA, FEDERAL, SADDLES, CALIFORNIA_2, BRUNSWICK, EUROPE)
LINEAR = (NAVY, CABLES)

# 1 in = 25 400 000 nm, 1 mm = 1 000 000 nm (NIST SP 811, Appendix B).
INCH, MILLIMETRE = 25_400_000, 1_000_000

Typed = dict[tuple[Length, str], tuple[object, str]]
"""Size and column, then value and status."""


def words(text: str) -> list[str]:
    return text.split()


def number(text: str) -> Fraction:
    """A mixed number such as 11-1/2, or a decimal."""
    return sum((Fraction(part) for part in text.split("-")), Fraction(0))


def inches(text: str) -> Length:
    nanometres = number(text) * INCH
    assert nanometres.denominator == 1
    return Length(int(nanometres))


def millimetres(text: str) -> Length:
    return Length(int(number(text) * MILLIMETRE))


def rules(rules_id: str) -> RuleSet:
    return Catalogue.installed().rule_set(rules_id)


def cells_of(found: RuleSet) -> Typed:
    """Every cell that a rule set holds, with the status of its own citation."""
    cells: Typed = {}
    for row in found.rows:
        counts = {"count": row.count, "count_forged": row.count_forged, "count_other": row.count_other}
        others = {"turn_back": row.turn_back, "spacing": row.spacing, "torque": row.torque}
        for column, cell in (*counts.items(), *others.items()):
            if cell is not None:
                cells[row.size, column] = (cell.value, cell.citations[0].status)
    return cells


def clips_in_inches(size: str, count: str, turn_back: str, torque: str, first: str, rest: str) -> Typed:
    """A table in inches and lbf·ft: the status of its first row, then of the others."""
    cells: Typed = {}
    columns = zip(words(size), words(count), words(turn_back), words(torque), strict=True)
    for place, (one, clips, length, pound_feet) in enumerate(columns):
        status = first if place == 0 else rest
        cells[inches(one), "count"] = (int(clips), status)
        cells[inches(one), "turn_back"] = (inches(length), status)
        cells[inches(one), "torque"] = (Torque(number(pound_feet), "lbf·ft"), status)
    return cells


def typed_california() -> Typed:
    """8 CCR §8497, Table 1: every row read."""
    return clips_in_inches(
        size="1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2 1-5/8 1-3/4 2 2-1/4",
        count="3 3 3 4 4 5 6 6 7 7 7 7 8 8",
        turn_back="11-1/2 12 12 18 19 26 34 37 44 48 51 53 71 73",
        torque="65 95 95 130 225 225 225 360 360 360 430 590 750 750",
        first="read",
        rest="read",
    )


def typed_federal() -> Typed:
    """29 CFR 1926.251, Table H-2: the first row read, the others from memory; no turn-back, no torque."""
    cells: Typed = {}
    size = words("1/2 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2")
    drop_forged = words("3 3 4 4 5 6 6 7 7")
    other_material = words("4 4 5 5 6 6 7 7 8")
    spacing = words("3 3-3/4 4-1/2 5-1/4 6 6-3/4 7-1/2 8-1/4 9")
    for one, forged, other, apart in zip(size, drop_forged, other_material, spacing, strict=True):
        status = "read" if one == "1/2" else "memory"
        cells[inches(one), "count_forged"] = (int(forged), status)
        cells[inches(one), "count_other"] = (int(other), status)
        cells[inches(one), "spacing"] = (inches(apart), status)
    return cells


def typed_saddles() -> Typed:
    """TM 5-3810-305-10, Table 6: one row, read; the torque is printed in two units."""
    return {
        (inches("1/2"), "count"): (3, "read"),
        (inches("1/2"), "turn_back"): (inches("11"), "read"),
        (inches("1/2"), "torque"): (Torque(65, "lbf·ft", (88, "N·m")), "read"),
    }


def typed_california_2() -> Typed:
    """8 CCR §8497, Table 2: the 1/2 in row read, the others from memory."""
    return clips_in_inches(
        size="1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2",
        count="3 3 3 3 4 5 5 6 6 7",
        turn_back="11 12-3/4 13-1/2 16 26 37 41 55 62 78",
        torque="65 130 130 225 225 225 360 360 500 500",
        first="read",
        rest="memory",
    )


def typed_brunswick() -> Typed:
    """WorkSafeNB, wire rope cable clips guidance, sample installation table: every row read."""
    return clips_in_inches(
        size="5/16 3/8 7/16 1/2 9/16 5/8 3/4 7/8",
        count="2 2 2 3 3 3 4 4",
        turn_back="5-1/2 6-1/2 7 11-1/2 12 12 18 19",
        torque="30 45 65 65 95 95 130 225",
        first="read",
        rest="read",
    )


def typed_europe() -> Typed:
    """EN 13411-5, Annex A: read are the torque at 10 mm and the count 4 from 8 to 16 mm, the rest is from memory."""
    cells: Typed = {}
    size = words("5 6.5 8 10 12 13 14 16 19 22 26 30 34 40")
    torque = words("2.0 3.5 6.0 9.0 20 33 33 49 67.7 107 147 212 296 363")
    count = words("3 3 4 4 4 4 4 4 4 5 5 6 6 6")
    for one, newton_metres, grips in zip(size, torque, count, strict=True):
        read = one in ("8", "10", "12", "13", "14", "16")
        cells[millimetres(one), "count"] = (int(grips), "read" if read else "memory")
        cells[millimetres(one), "torque"] = (Torque(number(newton_metres), "N·m"), "read" if one == "10" else "memory")
    return cells


@pytest.mark.parametrize(
    ("rules_id", "expected"),
    [
        pytest.param(CALIFORNIA, typed_california(), id=CALIFORNIA),
        pytest.param(FEDERAL, typed_federal(), id=FEDERAL),
        pytest.param(SADDLES, typed_saddles(), id=SADDLES),
        pytest.param(CALIFORNIA_2, typed_california_2(), id=CALIFORNIA_2),
        pytest.param(BRUNSWICK, typed_brunswick(), id=BRUNSWICK),
        pytest.param(EUROPE, typed_europe(), id=EUROPE),
    ],
)
def test_every_cell_is_the_printed_one_with_its_status_and_none_is_missing_or_extra(
    rules_id: str, expected: Typed
) -> None:
    assert expected == cells_of(rules(rules_id))


def test_a_table_has_no_linear_count_and_a_linear_rule_no_rows() -> None:
    assert set() == {name for name in TABLES if rules(name).count_rule is not None}
    assert set() == {name for name in LINEAR if rules(name).rows}


# NAVEDTRA 14026, p. 1-8, and TM 5-5420-278-10, WP 0035: the count is 3D + 1, D in inches, the next whole number where
# it has a fraction. By hand: n clips hold as long as D is at most (n - 1)/3 in; the last sixteenth that is.
LAST_SIXTEENTH = {
    2: "5/16", 3: "5/8", 4: "1", 5: "1-5/16", 6: "1-5/8", 7: "2", 8: "2-5/16", 9: "2-5/8", 10: "3", 11: "3-5/16",
    12: "3-1/2",
}  # fmt: skip


@pytest.mark.parametrize("rules_id", LINEAR)
def test_every_sixteenth_of_the_declared_range_has_the_count_of_the_formula(rules_id: str) -> None:
    found = rules(rules_id)
    sixteenths = range(2, 3 * 16 + 8 + 1)  # 1/8 to 3-1/2 in
    by_formula = {place: -(-(3 * place + 16) // 16) for place in sixteenths}
    by_hand = {
        place: next(n for n, last in LAST_SIXTEENTH.items() if place <= number(last) * 16) for place in by_formula
    }
    assert by_hand == by_formula  # the two typings agree before the code is asked
    printed = {place: found.row_for(Length(place * INCH // 16)).count for place in sixteenths}
    assert by_hand == {place: cell.value for place, cell in printed.items() if cell is not None}


@pytest.mark.parametrize("rules_id", LINEAR)
@pytest.mark.parametrize(
    ("size", "clips"),
    # Worked out on paper: 3D + 1 is 1.375, 1.75, 2.125, 2.5, 3.25, 4, 4.375, 5.5, 7 and 11.5.
    [("1/8", 2), ("1/4", 2), ("3/8", 3), ("1/2", 3), ("3/4", 4), ("1", 4), ("1-1/8", 5), ("1-1/2", 6), ("2", 7),
     ("3-1/2", 12)],
)  # fmt: skip
def test_linear_counts_worked_out_on_paper(rules_id: str, size: str, clips: int) -> None:
    cell = rules(rules_id).row_for(inches(size)).count
    assert cell is not None
    assert clips == cell.value
    # The rule was read; the range of sizes is common practice, for none is printed.
    assert ["read", "common practice"] == [citation.status for citation in cell.citations]


@pytest.mark.parametrize(
    ("rules_id", "size", "apart"),
    # NAVEDTRA 14026: 6D. TM 5-5420-278-10: 6D + 1 in.
    [
        (NAVY, "1/8", "3/4"), (NAVY, "1/2", "3"), (NAVY, "11/16", "4-1/8"), (NAVY, "1", "6"), (NAVY, "3-1/2", "21"),
        (CABLES, "1/8", "1-3/4"), (CABLES, "1/2", "4"), (CABLES, "11/16", "5-1/8"), (CABLES, "1", "7"),
        (CABLES, "3-1/2", "22"),
    ],
)  # fmt: skip
def test_the_distance_of_the_linear_sources_is_a_least_one_between_centres(
    rules_id: str, size: str, apart: str
) -> None:
    (bound,) = rules(rules_id).spacing
    assert ("least", False, "read") == (bound.bound, bound.clear, bound.citation.status)
    assert bound.length is not None
    assert inches(apart).nanometres == bound.length.nanometres(inches(size), None)


def test_table_h_2_prints_a_least_distance_in_every_row_and_it_is_six_diameters() -> None:
    """29 CFR 1926.251, Table H-2: every spacing equals exactly 6 rope diameters."""
    found = rules(FEDERAL)
    (bound,) = found.spacing
    assert ("least", False, None) == (bound.bound, bound.clear, bound.length)
    assert [row.size * 6 for row in found.rows] == [row.spacing.value for row in found.rows if row.spacing is not None]


def test_the_grips_stand_one_and_a_half_to_three_bridge_widths_clear_of_each_other() -> None:
    """EN 13411-5, from memory. A bridge of 20 mm: 30 to 60 mm clear."""
    bounds = rules(EUROPE).spacing
    assert {("least", True, "memory"), ("greatest", True, "memory")} == {
        (bound.bound, bound.clear, bound.citation.status) for bound in bounds
    }
    widths = {
        bound.bound: bound.length.nanometres(millimetres("10"), millimetres("20"))
        for bound in bounds
        if bound.length is not None
    }
    assert {"least": 30 * MILLIMETRE, "greatest": 60 * MILLIMETRE} == widths


@pytest.mark.parametrize("rules_id", [CALIFORNIA, SADDLES, CALIFORNIA_2, BRUNSWICK])
def test_what_prints_no_spacing_has_none(rules_id: str) -> None:
    assert () == rules(rules_id).spacing


@pytest.mark.parametrize("rules_id", LINEAR)
def test_the_linear_sources_give_neither_turn_back_nor_torque(rules_id: str) -> None:
    row = rules(rules_id).row_for(inches("1"))
    assert (None, None, None, None) == (row.turn_back, row.torque, row.count_forged, row.count_other)


def test_a_metric_grip_takes_the_ropes_above_the_next_smaller_size() -> None:
    """EN 13411-5: the size is the largest rope it takes; the 5 mm size takes 5 mm alone, no lower bound was read."""
    found = rules(EUROPE)
    takes = {
        "5": "5", "5.1": "6.5", "6.5": "6.5", "6.6": "8", "8": "8", "9": "10", "12.7": "13", "15": "16", "20": "22",
        "36": "40", "40": "40",
    }  # fmt: skip
    expected = {rope: millimetres(grip) for rope, grip in takes.items()}
    assert expected == {rope: found.row_for(millimetres(rope)).size for rope in takes}
    untaken = [rope for rope in ("4.9", "40.1") if any(row.takes(millimetres(rope)) for row in found.rows)]
    assert [] == untaken


@pytest.mark.parametrize("rules_id", [name for name in TABLES if name != EUROPE])
def test_an_inch_size_takes_its_own_rope_alone(rules_id: str) -> None:
    assert {None} == {row.above for row in rules(rules_id).rows}


@pytest.mark.parametrize(
    ("rules_id", "words"),
    [
        (CALIFORNIA, ("8497", "Table 1")),
        (FEDERAL, ("1926.251", "H-2")),
        (NAVY, ("NAVEDTRA 14026", "1-8")),
        (CABLES, ("TM 5-5420-278-10", "0035")),
        (SADDLES, ("TM 5-3810-305-10", "Table 6")),
        (CALIFORNIA_2, ("8497", "Table 2")),
        (BRUNSWICK, ("clips", "table")),
        (EUROPE, ("EN 13411-5:2003+A1:2008", "Annex A")),
    ],
)
def test_every_number_cites_its_own_document_and_place(rules_id: str, words: tuple[str, str]) -> None:
    found = rules(rules_id)
    sizes = [row.size for row in found.rows] or [inches("1")]
    rows = [found.row_for(size) for size in sizes]
    cells = [cell for row in rows for cell in (row.count, row.count_forged, row.count_other, row.turn_back, row.torque)]
    named = {f"{cell.citations[0].source} {cell.citations[0].source.edition} {cell.citations[0].locator}"
             for cell in cells if cell is not None}  # fmt: skip
    assert named
    assert set() == {text for text in named if not all(word in text for word in words)}


@pytest.mark.parametrize("style", ["single-plate", "double-plate"])
def test_plates_have_one_body_by_common_practice_and_no_table(style: str) -> None:
    """No published count, torque or efficiency was found for plate clips."""
    sets = Catalogue.installed().for_style(style)
    assert [f"common-practice-{style}"] == [found.id for found in sets]
    (found,) = sets
    assert "common practice" == found.citation.status
    assert ((), (), None) == (found.spacing, found.efficiency, found.threads)
    for size in ("1/8", "3/8"):
        row = found.row_for(inches(size))
        assert row.count is not None
        assert (1, "common practice") == (row.count.value, row.count.citations[0].status)
        assert (None, None) == (row.turn_back, row.torque)


def test_nothing_else_is_installed_and_nothing_failed() -> None:
    catalogue = Catalogue.installed()
    assert () == catalogue.failures
    plates = {"common-practice-single-plate", "common-practice-double-plate"}
    assert {*TABLES, *LINEAR, *plates} == {found.id for found in catalogue.rule_sets}
