"""How the numbers and statements of a rule set were taken, said in one wording everywhere."""

from __future__ import annotations

import pytest

from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import parse_rules
from turnback.rules.standing import not_read, not_read_text, standings

INVENTED = """
format = 1
id = "invented"
style = "u-bolt"
title = "Invented table, not for use"
notes = [{ text = "Recalled.", status = "memory" }]
rows = [
    { size = "1/2", count = 3, turn_back = "12", torque = 60 },
    { size = "3/4", count = 4, turn_back = "18", torque = 130, status = { torque = "memory" } },
    { size = "1", count = 5, turn_back = "26", torque = 220, confirm = "Ask.", confirm_status = "memory" },
]

[source]
id = "invented"
document = "Invented Institute, sheet 1"
locator = "Table 1"
status = "read"

[units]
size = "in"
turn_back = "in"
torque = "lbf·ft"

[threads]
condition = "dry"
status = "common practice"
locator = "habit of the trade"
"""
RULES = parse_rules(INVENTED)


def test_numbers_and_statements_are_counted_apart() -> None:
    # Three rows of three cells; threads, one note, one remark to confirm.
    assert (9, 3) == (
        sum(each.number for each in standings(RULES)),
        sum(not each.number for each in standings(RULES)),
    )
    assert [
        ("rows[3/4 in (19.05 mm)].torque", True, "memory"),
        ("threads", False, "common practice"),
        ("notes[0]", False, "memory"),
        ("rows[1 in (25.4 mm)].confirm", False, "memory"),
    ] == [(each.place, each.number, each.status) for each in not_read(RULES)]


def test_it_is_said_in_one_sentence_by_status() -> None:
    assert (
        "1 of 9 numbers is from memory, not yet read against the document: rows[3/4 in (19.05 mm)].torque; "
        "1 of 3 statements is common practice, without a source: threads; "
        "2 of 3 statements are from memory, not yet read against the document: notes[0], rows[1 in (25.4 mm)].confirm"
    ) == not_read_text(RULES)
    assert (
        "1 of 9 numbers is from memory, not yet read against the document: rows[3/4 in (19.05 mm)].torque"
        == not_read_text(RULES, numbers_alone=True)
    )


def test_what_was_read_throughout_says_nothing() -> None:
    read = INVENTED.replace('"memory"', '"read"').replace('"common practice"', '"read"')
    assert "" == not_read_text(parse_rules(read))


def test_many_places_are_counted_and_not_listed() -> None:
    recalled = parse_rules(INVENTED.replace('status = "read"', 'status = "memory"'))
    assert "9 of 9 numbers are from memory" in not_read_text(recalled)
    assert "rows[1/2 in (12.7 mm)].torque and 6 more" in not_read_text(recalled)


@pytest.mark.parametrize(
    ("name", "numbers"),
    [
        # 29 CFR 1926.251, Table H-2: eight rows of three cells. NAVEDTRA 14026: the range of sizes of its rule.
        ("us-osha-1926-251", 24),
        ("us-navy-14026", 1),
        ("us-ca-8-8497", 0),
    ],
)
def test_numbers_of_the_sources_that_nobody_read(name: str, numbers: int) -> None:
    assert numbers == sum(each.number for each in not_read(Catalogue.installed().rule_set(name)))
