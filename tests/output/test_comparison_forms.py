"""A comparison as text, Markdown, HTML and JSON: nothing of what a rule set says is lost on the way."""

from __future__ import annotations

import json
import re
from typing import Final

import pytest
from hypothesis import given, settings
from tests.output.reading import hostile_text, rendered, squeezed, texts_of
from tests.strategies import CATALOGUE, requests

from turnback.model.absent import Absent
from turnback.model.rope import Rope
from turnback.model.terminations import ThimbleEye
from turnback.output.comparison import comparison_html, comparison_markdown, comparison_text
from turnback.output.comparison_document import alternatives_document, comparison_document
from turnback.output.interchange import Json, to_text
from turnback.planning.build import plan
from turnback.planning.request import MakerFigures, Request
from turnback.quantities import Length
from turnback.review.comparison import Comparison, compare, compare_request

INCH: Final = 25_400_000
"""One inch [nm]."""


def one_inch() -> Comparison:
    """A rope of 1 in with an invented base width, at which the sources differ most."""
    return compare(
        "1 in 6x25F IWRC IPS",
        ThimbleEye(),
        style="u-bolt",
        clip_body="forged",
        base_width="1-3/4 in",
        service="guy",
        jurisdiction="US",
        catalogue=CATALOGUE,
    )


def forms(found: Comparison) -> list[str]:
    page = squeezed("".join(texts_of(comparison_html(found)).text))
    text = squeezed(comparison_text(found).replace("!! ", ""))
    markdown = rendered(comparison_markdown(found))
    return [page, text] if markdown is None else [page, text, squeezed("".join(texts_of(markdown).text))]


@settings(max_examples=40)
@given(requests(most=1, maker=None))
def test_no_form_says_less_than_each_rule_set_alone(request: Request) -> None:
    found = compare_request(request, catalogue=CATALOGUE)
    for form in forms(found):
        for answer in found.answers:
            assert squeezed(answer.rules.id) in form
            for said in answer.said:
                assert squeezed(said.text) in form
        for refusal in found.refusals:
            assert squeezed(refusal.reason) in form
        for finding, _ in found.findings:
            assert squeezed(finding.text) in form
        for clash in found.clashes:
            assert squeezed(clash.text) in form
    assert all(len(line) <= 80 for line in comparison_text(found).splitlines())
    assert all(len(line) <= 80 for line in str(found).splitlines())


def test_the_table_has_a_line_a_rule_set_and_marks_what_is_recalled() -> None:
    """At 1 in: 8 CCR §8497 prints 5 clips, 26 in and 225 lbf·ft, all read; Table H-2's row of 1 in is recalled."""
    rows = [line.split("|")[1:-1] for line in comparison_markdown(one_inch()).splitlines() if line.startswith("|")]
    table = {row[0].strip(): [cell.strip() for cell in row[1:]] for row in rows}
    assert ["5", "26 in"] == table["us-ca-8-8497"][:2]
    assert "225 lbf·ft" == table["us-ca-8-8497"][3]
    assert ["5 m", "27-1/2 in m s"] == table["us-osha-1926-251"][:2]
    # NAVEDTRA 14026 prints no torque; its range of sizes is common practice.
    assert ("4 c", r"\-") == (table["us-navy-14026"][0], table["us-navy-14026"][3])
    assert "read" == table["us-ca-8-8497"][-1]
    assert "memory" == table["us-osha-1926-251"][-1]


def test_what_governs_what_differs_and_what_conflicts_is_said_in_words() -> None:
    text = " ".join(comparison_text(one_inch()).split())
    assert "clips: the most, 5 by en-13411-5, us-ca-8-8497, us-osha-1926-251; 4 by us-army-5420-278" in text
    assert "turn-back: 31-1/2 in (800.1 mm), longer than any of them asks for alone" in text
    assert "These can be met together: us-army-5420-278 + us-ca-8-8497 + us-navy-14026 + us-osha-1926-251." in text
    assert "Take the rule set of the clip in hand: clips of two patterns are not mixed." in text
    assert "pattern: en-13411-5 is for the en-metric pattern, us-ca-8-8497 for the inch pattern." in text
    assert "Nothing is chosen here" in text


def test_a_forbidden_use_stands_first_in_every_form() -> None:
    found = compare("1/2 in 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", service="sling", catalogue=CATALOGUE)
    for form in (comparison_text(found), comparison_markdown(found), comparison_html(found)):
        body = form[form.index("<body>") if "<body>" in form else 0 :]
        assert body.index("FORBIDDEN") < body.index("What each says")
    assert "NOT USABLE" in comparison_html(found)


def test_where_nothing_covers_it_says_so_and_why() -> None:
    found = compare("100 mm 6x19 IWRC EIP", ThimbleEye(), style="u-bolt", catalogue=CATALOGUE)
    text = comparison_text(found)
    assert "No rule set at hand covers this case." in text
    assert 6 == text.count("no row for this size")


@settings(max_examples=30)
@given(hostile_text())
def test_no_name_becomes_markup(text: str) -> None:
    def shown(name: str) -> Comparison:
        rope = Rope("1/2 in", "6x19", "IWRC", "EIP", minimum_breaking_force="100 kN", certificate=name)
        maker = MakerFigures(name, "65 lbf·ft", "dry", "70 %")
        return compare(rope, ThimbleEye(), style="u-bolt", maker=maker, catalogue=CATALOGUE)

    found, plain = shown(text[-200:]), shown("harmless")
    assert texts_of(comparison_html(plain)).tags == texts_of(comparison_html(found)).tags
    one, other = rendered(comparison_markdown(plain)), rendered(comparison_markdown(found))
    if one is not None and other is not None:
        assert texts_of(one).tags == texts_of(other).tags


# --- JSON ---


def part(document: Json, *path: str | int) -> Json:
    for key in path:
        if isinstance(key, str):
            assert isinstance(document, dict)
            document = document[key]
        else:
            assert isinstance(document, list)
            document = document[key]
    return document


def numbers(document: Json) -> dict[str, Json]:
    listed = part(document, "covers")
    assert isinstance(listed, list)
    return {str(part(each, "rules")): each for each in listed}


def test_json_gives_whole_nanometres_newton_metres_and_null_for_what_is_absent() -> None:
    """8 CCR §8497 at 1 in: 26 in, 225 lbf·ft = 305.06 N·m; NAVEDTRA 14026: no torque, at least 6 in apart."""
    by_id = numbers(comparison_document(one_inch()))
    assert 26 * INCH == part(by_id["us-ca-8-8497"], "turn_back_nm")
    assert "225 lbf·ft" in str(part(by_id["us-ca-8-8497"], "torque", "printed"))
    torque = part(by_id["us-ca-8-8497"], "torque", "torque_newton_metre")
    assert isinstance(torque, float)
    assert 305.06 == pytest.approx(torque, abs=0.01)
    assert part(by_id["us-navy-14026"], "torque") is None
    assert 6 * INCH == part(by_id["us-navy-14026"], "least_spacing_nm")
    assert part(by_id["us-navy-14026"], "efficiency") is None


@settings(max_examples=40)
@given(requests(most=1, maker=None))
def test_json_says_what_the_plans_say_and_survives_the_way(request: Request) -> None:
    found = compare_request(request, catalogue=CATALOGUE)
    document = comparison_document(found)
    assert document == json.loads(to_text(document))
    by_id = numbers(document)
    assert [answer.rules.id for answer in found.answers] == list(by_id)
    for answer in found.answers:
        shown = by_id[answer.rules.id]
        assert answer.plan.clip_count == part(shown, "clip_count")
        length = answer.plan.turn_back
        assert (length.nanometres if isinstance(length, Length) else None) == part(shown, "turn_back_nm")
        assert isinstance(answer.plan.torque, Absent) is (part(shown, "torque") is None)
    listed = part(document, "conflicts")
    assert isinstance(listed, list)
    assert len(found.clashes) == len(listed)
    for clash in listed:
        cited, rules = part(clash, "citations"), part(clash, "rules")
        assert isinstance(cited, list)
        assert isinstance(rules, list)
        assert len(rules) == len(cited)


def test_every_length_and_force_of_the_json_names_its_unit() -> None:
    text = to_text(comparison_document(one_inch()))
    for key in re.findall(r'"([a-z_]*(?:length|spacing|turn_back|width|size|force)[a-z_]*)":', text):
        assert key.endswith(("_nm", "_newton")), key


def test_alternatives_in_json_carry_the_caution() -> None:
    """A wedge socket: 75 to 95 % (TM 5-3810-305-10, Table 4) of an invented 100 kN."""
    rope = Rope("1/2 in", "6x19", "IWRC", "EIP", minimum_breaking_force="100 kN", certificate="invented works 7")
    found = plan(rope, ThimbleEye(), style="u-bolt", rules="us-ca-8-8497", service="guy", catalogue=CATALOGUE)
    document = alternatives_document(found)
    assert "rating" in str(document["caution"])
    wedge = part(document, "ways", 4)
    assert ("3/4", "19/20") == (part(wedge, "efficiency_at_least"), part(wedge, "efficiency_at_most"))
    least, most = part(wedge, "breaks_at_least_newton"), part(wedge, "breaks_at_most_newton")
    assert isinstance(least, float)
    assert isinstance(most, float)
    assert (75e3, 95e3) == pytest.approx((least, most))
