"""Shapes and figures as values, and how they are written as SVG."""

from __future__ import annotations

import math
import pickle
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from turnback.errors import InputError
from turnback.model.bounds import bounds_of
from turnback.model.figures import ClipPlace, Figure
from turnback.model.lettering import clean_text, text_width, wrapped
from turnback.model.shapes import Circle, Group, Path, Rect, Shape, Text, line, polygon, polyline

ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=60)
HOSTILE = (
    '"><script>alert(1)</script>',
    "</svg><svg onload=alert(1)>",
    "]]></style><style>*{display:none}",
    "&lt;b&gt; &amp; &#60;",
    "a\x00b\x1bc\ufffed",
    "\ud800 half a surrogate",
    "line\nbreak\u2028and\u2029more",
    "\u202eelddas eht no\u202c",
)


def figure(*shapes: Shape, title: str = "a title", desc: str = "a description") -> Figure:
    return Figure(100.0, 50.0, title, desc, shapes)


def test_shapes_are_values() -> None:
    group = Group((Circle(1.0, 2.0, 3.0), line(0.0, 0.0, 1.0, 1.0), Text(0.0, 0.0, "a")), "part", "title")
    assert group == pickle.loads(pickle.dumps(group))
    assert hash(group) == hash(pickle.loads(pickle.dumps(group)))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_only_finite_numbers_are_drawn(bad: float) -> None:
    for make in (
        lambda: line(0.0, 0.0, bad, 0.0),
        lambda: polyline([(0.0, 0.0), (bad, 1.0)]),
        lambda: polygon([(0.0, bad), (1.0, 1.0), (2.0, 0.0)], "ink"),
        lambda: Path((("A", bad, False, True, 1.0, 1.0),)),
        lambda: Rect(0.0, 0.0, bad, 1.0),
        lambda: Circle(0.0, 0.0, bad),
        lambda: Text(bad, 0.0, "a"),
        lambda: ClipPlace("side", 0.0, 1.0, bad, 0.0, 1.0),
        lambda: Figure(bad, 1.0, "", "", ()),
    ):
        with pytest.raises(InputError, match="finite"):
            make()


def test_what_does_not_exist_is_refused() -> None:
    with pytest.raises(InputError, match="no such tone"):
        Circle(0.0, 0.0, 1.0, "red")  # type: ignore[arg-type]  # a colour is no tone
    with pytest.raises(InputError, match="no such step"):
        Path((("Q", 0.0, 0.0),))  # type: ignore[arg-type]  # no such step
    with pytest.raises(InputError, match="no such step"):
        Path((("L", 0.0),))  # type: ignore[arg-type]  # a number is missing
    with pytest.raises(InputError, match="no such anchor"):
        Text(0.0, 0.0, "a", anchor="left")  # type: ignore[arg-type]  # no such anchor
    with pytest.raises(InputError, match="a page has a size"):
        Figure(0.0, 10.0, "", "", ())
    with pytest.raises(InputError, match="a clip has a width"):
        ClipPlace("side", 0.0, 0.0, 1.0, 0.0, 1.0)
    with pytest.raises(InputError, match="nothing is drawn"):
        bounds_of([])


def test_numbers_have_two_decimals_and_no_negative_zero() -> None:
    svg = figure(line(-0.0, -0.001, 1 / 3, 2.005, width=1.0), Circle(5.0, 6.5, 2.25)).to_svg()
    assert 'd="M0.00 0.00 L0.33 2.00"' in svg or 'd="M0.00 0.00 L0.33 2.01"' in svg
    assert 'cx="5.00" cy="6.50" r="2.25"' in svg
    assert "-0.00" not in svg


def test_bounds_hold_what_is_drawn() -> None:
    shapes = (
        Rect(1.0, 2.0, 3.0, 4.0),
        Group((Circle(10.0, 10.0, 2.0), line(-3.0, 0.0, 0.0, 20.0))),
        Path((("M", 0.0, 0.0), ("C", 1.0, -5.0, 2.0, 1.0, 3.0, 0.0), ("Z",))),
    )
    assert (-3.0, -5.0, 12.0, 20.0) == bounds_of(shapes)


def test_a_figure_is_self_contained_and_named() -> None:
    svg = figure(Text(1.0, 2.0, "words")).to_svg()
    root = ElementTree.fromstring(svg)
    ids = {each.attrib["id"] for each in root.iter() if "id" in each.attrib}
    assert "img" == root.attrib["role"]
    assert ids == set(root.attrib["aria-labelledby"].split())
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")
    for foreign in ("url(", "@import", "@font-face", "href", "<script", "<image", "<foreignObject"):
        assert foreign not in svg
    for scheme in ("prefers-color-scheme:dark", "@media print", "currentColor"):
        assert scheme in svg


def test_ids_differ_between_figures_on_one_page() -> None:
    first, second = figure(title="one").to_svg(), figure(title="two").to_svg()
    assert (
        ElementTree.fromstring(first).attrib["aria-labelledby"]
        != (ElementTree.fromstring(second).attrib["aria-labelledby"])
    )
    assert first == figure(title="one").to_svg()


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_becomes_markup(text: str) -> None:
    shape = Group((Text(1.0, 1.0, text),), text, text)
    tags = [each.tag for each in ElementTree.fromstring(figure(shape, title=text, desc=text).to_svg()).iter()]
    quiet = Group((Text(1.0, 1.0, "a"),), "a", "a")
    assert [each.tag for each in ElementTree.fromstring(figure(quiet).to_svg()).iter()] == tags


@given(ANY_TEXT)
def test_any_text_can_be_written_and_read_back(text: str) -> None:
    root = ElementTree.fromstring(figure(Text(1.0, 1.0, text), title=text, desc=text).to_svg())
    written = [each.text or "" for each in root.iter() if each.tag.endswith(("}text", "}title", "}desc"))]
    assert [clean_text(text)] * 3 == written


@given(ANY_TEXT)
def test_clean_text_is_one_line_that_turns_no_way(text: str) -> None:
    cleaned = clean_text(text)
    assert cleaned == clean_text(cleaned)
    assert 1 >= len(cleaned.splitlines())
    assert not set(cleaned) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")


@given(ANY_TEXT, st.floats(20, 400), st.booleans())
def test_lines_fit_and_lose_nothing(text: str, width: float, bold: bool) -> None:
    lines = wrapped(text, 12.0, width, bold=bold)
    assert "".join(clean_text(text).split()) == "".join("".join(lines).split())
    assert all(len(each) == 1 or text_width(each, 12.0, bold=bold) <= width for each in lines if each)


def test_a_word_without_end_is_broken() -> None:
    lines = wrapped("i" * 4096, 12.0, 300.0)
    assert "i" * 4096 == "".join(lines)
    assert max(text_width(each, 12.0) for each in lines) <= 300.0
