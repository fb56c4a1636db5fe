"""Drawings and plots of the site: whole, described, the same bytes every time, and true to the printed tables.

Expected values are typed from the sources (see ``tests/published``): California Title 8 section 8497, Tables 1 and 2;
29 CFR 1926.251, Table H-2; EN 13411-5, Annex A; NAVEDTRA 14026, page 1-8.
"""

from __future__ import annotations

import html
import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from xml.etree import ElementTree

import pytest
from tests.docs.site import DOCS
from tests.docs.small_site import PAGES, small_site

import turnback
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue

sys.path.insert(0, str(DOCS / "_ext"))

from plot_crossings import leaders_of, pairs_of, ranges_text, size_text
from plot_values import Quantity, series_of

SVG: Final = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_site(tmp_path_factory.mktemp("pictures"), {**os.environ, "PYTHONHASHSEED": "1"})


def read(pages: Path, page: str) -> str:
    return (pages / f"{page}.html").read_text(encoding="utf-8")


def figures(text: str) -> Iterator[ElementTree.Element]:
    for found in re.findall(r'<svg [^>]*class="turnback-figure".*?</svg>', text, flags=re.DOTALL):
        yield ElementTree.fromstring(found)


def figure(pages: Path, page: str, title: str) -> ElementTree.Element:
    (found,) = [each for each in figures(read(pages, page)) if each.findtext(SVG + "title") == title]
    return found


def marks(drawn: ElementTree.Element, place: int) -> list[tuple[float, float, bool]]:
    """Middle of each mark of a line, and whether it is filled; by circles or by closed paths."""
    (group,) = [each for each in drawn.iter(SVG + "g") if each.get("data-part") == f"series-{place}"]
    found = []
    for shape in group:
        classes = (shape.get("class") or "").split()
        if shape.tag == SVG + "circle":
            found.append((float(shape.attrib["cx"]), float(shape.attrib["cy"]), "f-ink" in classes))
        elif shape.tag == SVG + "path" and shape.attrib["d"].endswith("Z"):
            corners = [tuple(map(float, each)) for each in re.findall(r"[ML](\S+) (\S+)", shape.attrib["d"])]
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            found.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, "f-ink" in classes))
    return found


def rows(text: str, caption: str) -> list[list[str]]:
    (body,) = re.findall(rf"<caption>.*?{re.escape(caption)}.*?</caption>(.*?)</table>", text, flags=re.DOTALL)
    cells = [
        re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, flags=re.DOTALL) for row in re.findall(r"<tr.*?</tr>", body, re.S)
    ]
    return [[" ".join(html.unescape(re.sub(r"<[^>]+>", "", cell)).split()) for cell in row] for row in cells]


def test_two_builds_are_the_same_bytes(pages: Path, tmp_path: Path) -> None:
    again = small_site(tmp_path, {**os.environ, "PYTHONHASHSEED": "2"})
    built = [f"{page}.html" for page in PAGES]
    built += [each.relative_to(pages).as_posix() for each in sorted((pages / "formulas").iterdir())]
    assert 40 < len(built)
    for page in built:
        assert (pages / page).read_bytes() == (again / page).read_bytes(), page


@pytest.mark.parametrize("page", ["reference/pictures", "reference/plots"])
def test_every_picture_is_described_and_needs_nothing_else(pages: Path, page: str) -> None:
    text = read(pages, page)
    found = list(figures(text))
    assert len(re.findall("<svg ", text)) == len(found)
    assert 10 <= len(found)
    for each in found:
        title, desc = each.find(SVG + "title"), each.find(SVG + "desc")
        assert title is not None
        assert desc is not None
        assert title.text
        assert len(desc.text or "") > len(title.text)
        assert f"{title.get('id')} {desc.get('id')}" == each.get("aria-labelledby")
        assert not {element.tag for element in each.iter()} & {SVG + "script", SVG + "image", SVG + "a", SVG + "use"}
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))


def test_every_style_is_drawn_with_every_termination_that_it_makes(pages: Path) -> None:
    text = read(pages, "reference/pictures")
    headings = [heading for heading in re.findall(r"<h2>(.*?)<a", text) if ": " in heading]
    expected = [f"{style.id}: {kind}" for style in Catalogue.installed().styles for kind in style.terminations]
    assert sorted(expected) == sorted(headings)
    # One more of each ground.
    assert len(expected) + 2 == len(list(figures(text)))


def test_every_drawing_says_what_it_is_not(pages: Path) -> None:
    text = read(pages, "reference/pictures")
    assert "invented" in text
    for each in figures(text):
        assert "qualified person" in " ".join("".join(words.itertext()) for words in each.iter(SVG + "text"))


def test_every_plot_has_its_table_below_it(pages: Path) -> None:
    text = read(pages, "reference/plots")
    order = re.findall(r"<svg |<table ", text)
    assert ["<svg ", "<table "] * (len(order) // 2) == order


@pytest.mark.parametrize(
    ("caption", "row"),
    [
        # 1 in: Table 1 prints 5; Table H-2 5 forged and 6 others; the formula gives 3 + 1; EN's 26 mm row prints 5.
        (
            "Number of clips against the rope’s diameter: u-bolt",
            ["1 in (25.4 mm)", "—", "5 memory row 26 mm", "4 common practice", "5 read", "5 memory", "6 memory"],
        ),
        ("Number of clips against the rope’s diameter: mirrored-saddle", ["1-1/2 in (38.1 mm)", "—", "7 memory"]),
        (
            "Printed turn-back against the rope’s diameter: u-bolt",
            ["3/4 in (19.05 mm)", *["18 in (457.2 mm) read"] * 2],
        ),
        # 18 in over 3/4 in.
        ("Printed turn-back in rope diameters: u-bolt", ["3/4 in (19.05 mm)", "24 read", "24 read"]),
        # Six diameters and an inch; six diameters; Table H-2.
        (
            "Least distance between the centres of clips: u-bolt",
            ["1 in (25.4 mm)", "7 in (177.8 mm) read", "6 in (152.4 mm) read", "6 in (152.4 mm) memory"],
        ),
        (
            "Torque against the rope’s diameter: mirrored-saddle",
            ["1/2 in (12.7 mm)", "65 lbf·ft (88 N·m) read", "65 lbf·ft (≈ 88.13 N·m) read"],
        ),
    ],
)
def test_a_table_has_what_is_printed_with_its_status(pages: Path, caption: str, row: list[str]) -> None:
    found = [cells for cells in rows(read(pages, "reference/plots"), caption) if cells[0] == row[0]]
    assert [row] == found


def test_a_mark_stands_at_the_value_that_table_1_prints(pages: Path) -> None:
    # California Table 1: sizes and turn-backs in inches. The frame: 60 mm over 610 units, 2000 mm over 300 units.
    table = {
        0.5: 11.5, 0.5625: 12, 0.625: 12, 0.75: 18, 0.875: 19, 1: 26, 1.125: 34,
        1.25: 37, 1.375: 44, 1.5: 48, 1.625: 51, 1.75: 53, 2: 71, 2.25: 73,
    }  # fmt: skip
    drawn = figure(pages, "reference/plots", "Printed turn-back against the rope's diameter: u-bolt")
    expected = [(66 + 25.4 * size * 610 / 60, 346 - 25.4 * length * 300 / 2000) for size, length in table.items()]
    found = marks(drawn, 2)
    assert len(expected) == len(found)
    for (x, y), (mark_x, mark_y, filled) in zip(expected, found, strict=True):
        assert (mark_x, mark_y) == pytest.approx((x, y), abs=0.02)
        assert filled


def test_what_is_from_memory_is_hollow_and_dashed(pages: Path) -> None:
    # Of California Table 2 the first row alone was read.
    drawn = figure(pages, "reference/plots", "Torque against the rope's diameter: mirrored-saddle")
    assert [True] + [False] * 9 == [filled for _, _, filled in marks(drawn, 2)]
    (group,) = [each for each in drawn.iter(SVG + "g") if each.get("data-part") == "series-2"]
    lines = [each for each in group if each.tag == SVG + "path" and not each.attrib["d"].endswith("Z")]
    assert 9 == len(lines)
    assert all(each.get("stroke-dasharray") for each in lines)


def test_counts_are_moved_apart_by_less_than_half_a_clip(pages: Path) -> None:
    drawn = figure(pages, "reference/plots", "Number of clips against the rope's diameter: u-bolt")
    a_clip = 300 / 8
    for place in range(1, 7):
        for _, y, _ in marks(drawn, place):
            count = (346 - y) / a_clip
            assert abs(count - round(count)) < 0.4


def test_the_stairs_of_the_formula_step_where_the_formula_steps() -> None:
    # 3 times the diameter in inches, plus 1, rounded up: up to 1/3 in 2 clips, up to 2/3 in 3, up to 1 in 4.
    (line,) = [each for each in series_of("count", "u-bolt") if "us-navy-14026" in each.rules]
    steps = [(run.end, run.first) for run in line.runs]
    assert [2, 3, 4, 5, 6, 7, 8] == [count for _, count in steps]
    for number, (end, _) in enumerate(steps, 1):
        assert end == pytest.approx(min(number / 3, 2.25) * 25.4, abs=1e-4)


# --- who asks for more ---


def test_who_asks_for_most_clips_changes_from_size_to_size() -> None:
    ahead = {
        size_text(each.size): ([line.name for line in each.series], each.text) for each in leaders_of("count", "u-bolt")
    }
    # Table H-2 prints 6 clips of other bodies at 1 in, 8 at 1-1/2 in; Table 1 goes on alone with the formula.
    assert (["us-osha-1926-251, other clips"], "6") == ahead["1 in"]
    assert (["us-osha-1926-251, other clips"], "8") == ahead["1-1/2 in"]
    assert (["us-ca-8-8497"], "8") == ahead["2 in"]
    # At 2-1/4 in the formula gives 6.75 + 1, rounded up to 8, as Table 1 prints.
    assert (["us-army-5420-278 and us-navy-14026", "us-ca-8-8497"], "8") == ahead["2-1/4 in"]


@pytest.mark.parametrize("size", ["1/2 in", "3/4 in", "7/8 in", "1-1/4 in", "1-1/2 in"])
def test_a_governing_plan_has_as_many_clips_as_the_one_that_asks_for_most(size: str) -> None:
    members = ("us-ca-8-8497", "us-osha-1926-251", "us-navy-14026")
    plan = turnback.plan(
        turnback.Rope(size, construction="6x19 Warrington", core="IWRC", grade="IPS"),
        turnback.ThimbleEye(),
        style="u-bolt",
        rules=turnback.governing(*members),
        clip_body="other",
        service="guy",
        jurisdiction="US",
    )
    said = [
        point.value
        for line in series_of("count", "u-bolt")
        if set(line.rules) & set(members) and line.words != "forged clips"
        if (point := line.cell(Length.of(size))) is not None
    ]
    assert plan.clip_count == max(said)


def test_two_rule_sets_that_cross_are_named_with_the_sizes(pages: Path) -> None:
    crossing = [pair for pair in pairs_of("count", "u-bolt") if pair.crosses]
    assert [("en-13411-5", "us-osha-1926-251, forged clips")] == [(pair.one.name, pair.other.name) for pair in crossing]
    words = (
        "en-13411-5 and us-osha-1926-251, forged clips cross: the first asks for more at 1/2 in to 7/8 in, the second "
        "at 1-3/8 in to 1-1/2 in."
    )
    assert words in " ".join(html.unescape(re.sub(r"<[^>]+>", "", read(pages, "explanation/crossings"))).split())


@pytest.mark.parametrize("quantity", ["count", "turn-back", "spacing"])
def test_a_pair_says_where_each_asks_for_more(quantity: Quantity) -> None:
    for pair in pairs_of(quantity, "u-bolt"):
        assert len(pair.sizes) == len(set(pair.sizes))
        for size, sign in [(s, 1) for s in pair.more] + [(s, 0) for s in pair.same] + [(s, -1) for s in pair.less]:
            one, other = pair.one.cell(size), pair.other.cell(size)
            assert one is not None
            assert other is not None
            assert sign == (one.value > other.value) - (one.value < other.value)


def test_ranges_are_broken_where_a_size_between_them_is_missing() -> None:
    sizes = tuple(Length.of(f"{number} mm") for number in range(1, 7))
    assert "1 mm to 2 mm, 4 mm, 6 mm" == ranges_text((sizes[0], sizes[1], sizes[3], sizes[5]), sizes)
    assert "nowhere" == ranges_text((), sizes)
