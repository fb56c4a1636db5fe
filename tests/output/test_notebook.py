"""What a notebook shows: tables with headers, drawings, what forbids the joint first, and no markup of a user's."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from tests.output.cards import PLANS, hostile, sling
from tests.output.reading import hostile_text, squeezed, texts_of
from tests.strategies import CATALOGUE

from turnback.model.findings import Finding
from turnback.model.markup import Html, element, escaped, joined, table
from turnback.model.sources import Citation, Source
from turnback.model.terminations import ThimbleEye
from turnback.review.comparison import compare
from turnback.rules.rulefile import parse_rules


def shown(value: object) -> str:
    text = value._repr_html_()  # type: ignore[attr-defined]  # the notebook's own protocol
    assert isinstance(text, str)
    return text


def finding(text: str, kind: str = "forbidden") -> Finding:
    cited = Citation(Source("invented", text or "invented"), text, "user", text)
    return Finding("invented", "forbidden" if kind == "forbidden" else "note", text, (cited,))


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_shows_its_drawing_its_numbers_and_its_findings(name: str) -> None:
    plan = PLANS[name]
    page = texts_of(shown(plan))
    text = squeezed("".join(page.text))
    assert 1 == page.tags.count("<svg>")
    for each in plan.findings:
        assert squeezed(each.text) in text
    for item in plan.derivations:
        assert squeezed(item.value) in text


def test_a_plan_that_may_not_be_used_says_so_before_anything_else() -> None:
    page = shown(sling())
    assert page.index("NOT USABLE") < page.index("<svg")
    assert page.index("FORBIDDEN") < page.index("us-ca-8-8497")


@pytest.mark.parametrize("rules_id", [rules.id for rules in (*CATALOGUE.rule_sets, *CATALOGUE.bases)])
def test_a_rule_set_shows_its_rows_with_the_status_of_each_cell(rules_id: str) -> None:
    rules = CATALOGUE.rule_set(rules_id)
    page = shown(rules)
    assert len(rules.rows) == page.count('scope="row"')
    for row in rules.rows:
        if row.torque is not None:
            assert str(row.torque.value) in page
    text = squeezed("".join(texts_of(page).text))
    assert all(squeezed(note.value) in text for note in rules.notes)


def test_a_cell_from_memory_says_so() -> None:
    """8 CCR §8497, Table 2: the 1/2 in row was read, 65 lbf·ft; the 9/16 in row, 130 lbf·ft, is recalled."""
    page = shown(CATALOGUE.rule_set("us-ca-8-8497-t2"))
    assert "65 lbf·ft (≈ 88.13 N·m) (read)" in page
    assert "130 lbf·ft (≈ 176.3 N·m) (memory)" in page


def test_a_comparison_has_a_column_a_rule_set() -> None:
    found = compare("1/2 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", service="sling", catalogue=CATALOGUE)
    page = shown(found)
    assert len(found.answers) + 1 == page.count('scope="col"')
    assert "FORBIDDEN" in page
    assert all(str(escaped(clash.text)) in page for clash in found.clashes)


def test_every_table_has_headers() -> None:
    for page in (shown(PLANS["guy"]), shown(CATALOGUE.rule_set("en-13411-5")), shown(finding("invented"))):
        assert 0 < page.count("<table") == page.count("<thead>") == page.count("<caption>")


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_prints_in_80_columns(name: str) -> None:
    assert all(len(line) <= 80 for line in str(PLANS[name]).splitlines())


# --- any text ---


@given(hostile_text())
def test_no_text_of_a_finding_becomes_markup(text: str) -> None:
    assert texts_of(shown(finding("harmless"))).tags == texts_of(shown(finding(text))).tags


@settings(max_examples=30)
@given(hostile_text())
def test_no_text_of_a_plan_becomes_markup(text: str) -> None:
    found, plain = texts_of(shown(hostile(text[-200:]))), texts_of(shown(hostile("harmless")))
    assert plain.tags == found.tags
    assert set(plain.inside) == set(found.inside)


FILE = """
format = 1
id = "invented-sheet"
style = "u-bolt"
title = {text}
rows = [{{ size = "1/2", count = 3 }}]
notes = [{{ text = {text} }}]
[source]
id = "invented-works"
document = {text}
locator = {text}
status = "user"
[units]
size = "in"
"""


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "</td></tr></table><b>", '"><img src=x onerror=y>', "&lt;b&gt;"]
)
def test_no_text_of_a_rule_file_becomes_markup(text: str) -> None:
    found = shown(parse_rules(FILE.format(text=f"'{text}'")))
    assert texts_of(shown(parse_rules(FILE.format(text="'harmless'")))).tags == texts_of(found).tags
    # Title and note, each with document and locator behind it.
    assert 6 == "".join(texts_of(found).text).count(text)


@given(hostile_text(), hostile_text())
def test_the_pieces_escape_and_nest(text: str, other: str) -> None:
    page = element("div", joined((escaped(text), table((text,), [(escaped(other),)], other)), text), "a")
    expected = element("div", joined((escaped("x"), table(("x",), [(escaped("x"),)], "x")), "x"), "a")
    assert texts_of(expected).tags == texts_of(page).tags


def test_a_piece_that_is_html_already_is_left_as_it_is() -> None:
    assert "<p><b>4</b> of &lt;4&gt;</p>" == element("p", Html("<b>4</b> of &lt;4&gt;"))
