"""A paper in its three forms: whatever its text is, the markup is the writer's own."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.output.reading import HOSTILE, hostile_text, rendered, squeezed, texts_of

from turnback.errors import InputError
from turnback.model.lettering import clean_text
from turnback.output.paper import Blanks, Grid, Paper, Picture, Point, Points, Section, Words
from turnback.output.paper_html import paper_html
from turnback.output.paper_markdown import markdown_text, paper_markdown
from turnback.output.paper_text import paper_text, text_table

SVG = '<svg xmlns="http://www.w3.org/2000/svg"><title>a drawing</title></svg>'


def paper(text: str, other: str) -> Paper:
    """A paper with every kind of block, two texts in every place that takes one."""
    point = Point(text, other, tick=True, hold=True, blanks=(text, other), cited=(1, 2), under=(other, text))
    plain = Point(other, cited=(3,))
    grid = Grid((other, text), ((text, other), (other, "")), text, to_fill=True, notes=(text, other), tick=True)
    bare = Grid((text,), ((other,),), other)
    blocks = (Words(text), Words(other, strong=True), Points((point, plain)), grid, bare, Blanks((text, other)))
    picture = Picture(SVG, text, other)
    sections = (
        Section(text, blocks, alarm=True, whole=True),
        Section(other, (*blocks, picture, Points((point,), True))),
    )
    return Paper(text, other, sections, forbidden=True, foot=(text, other))


HARMLESS = paper("harmless", "words")


@given(hostile_text(), hostile_text())
def test_no_text_becomes_markup_in_html(text: str, other: str) -> None:
    expected, found = texts_of(paper_html(HARMLESS)), texts_of(paper_html(paper(text, other)))
    assert expected.tags == found.tags
    assert [] == [tag for tag in found.tags if "script" in tag or "on" == tag[:2]]
    # And nothing of it is lost.
    for each in (text, other):
        assert squeezed(clean_text(each)) in squeezed("".join(found.text))


@given(hostile_text(), hostile_text())
def test_no_text_becomes_markup_in_markdown(text: str, other: str) -> None:
    expected = rendered(paper_markdown(HARMLESS))
    if expected is None:
        pytest.skip("markdown-it is not installed")
    page = rendered(paper_markdown(paper(text, other)))
    assert page is not None
    found = texts_of(page)
    assert texts_of(expected).tags == found.tags
    for each in (text, other):
        # Headings of an alarm stand in capitals.
        assert squeezed(clean_text(each)).upper() in squeezed("".join(found.text)).upper()


@given(hostile_text(), hostile_text())
def test_no_text_moves_the_cursor_or_turns_the_writing_in_plain_text(text: str, other: str) -> None:
    lines = paper_text(paper(text, other)).split("\n")
    for line in lines:
        assert len(line) <= 80
        assert [] == [sign for sign in line if unicodedata.category(sign) in ("Cc", "Cs")]
        assert not set(line) & set("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@pytest.mark.parametrize("text", HOSTILE)
def test_markdown_shows_a_text_as_it_is(text: str) -> None:
    page = rendered(f"before {markdown_text(text)} behind\n")
    if page is None:
        pytest.skip("markdown-it is not installed")
    found = texts_of(page)
    assert ["<p []>", "</p>"] == found.tags
    assert f"before {clean_text(text)} behind".split() == "".join(found.text).split()


@pytest.mark.parametrize("text", [text for text in HOSTILE if clean_text(text).strip()])
def test_markdown_shows_a_text_at_the_start_of_a_line_as_it_is(text: str) -> None:
    page = rendered(markdown_text(text) + "\n")
    if page is None:
        pytest.skip("markdown-it is not installed")
    assert ["<p []>", "</p>"] == texts_of(page).tags


def test_the_page_needs_nothing_else() -> None:
    page = paper_html(HARMLESS)
    for word in ("<script", "<link", "<img", "<iframe", "src=", "href=", "url(", "@import", "@font-face"):
        assert word not in page
    assert "default-src 'none'" in page
    assert 1 == page.count("<h1>")
    assert page.startswith('<!doctype html>\n<html lang="en">')


def test_every_table_has_headers_and_a_caption() -> None:
    page = paper_html(HARMLESS)
    tables = page.count("<table")
    assert 4 == tables
    assert tables == page.count("<thead>") == page.count("<caption>")
    assert 'scope="col"' in page
    assert 'scope="row"' in page


def test_paper_of_both_sizes_is_left_to_the_printer_and_every_page_is_numbered() -> None:
    page = paper_html(HARMLESS)
    assert "size:auto" in page
    assert "counter(page)" in page
    assert "@media print" in page


@pytest.mark.parametrize("forbidden", [True, False])
def test_what_may_not_be_made_says_so_on_every_page(forbidden: bool) -> None:
    page = paper_html(Paper("harmless", "", (), forbidden=forbidden))
    assert forbidden is ("NOT USABLE" in page)


def test_a_row_that_does_not_fit_its_table_is_refused() -> None:
    with pytest.raises(InputError):
        Grid(("a", "b"), (("one",),), "an invented table")


@given(st.lists(st.lists(st.text("abc -", max_size=60), min_size=3, max_size=3), min_size=1, max_size=5))
def test_a_table_of_text_fits_and_loses_no_word(rows: list[list[str]]) -> None:
    lines = list(text_table(("a", "b", "c"), rows))
    assert all(len(line) <= 80 for line in lines)
    letters = sorted("".join(sign for row in rows for cell in row for sign in cell if sign in "abc"))
    body = "".join(lines[2:])
    assert letters == sorted(sign for sign in body if sign in "abc")
