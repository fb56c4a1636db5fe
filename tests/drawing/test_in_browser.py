"""What a browser makes of a figure: no label on another or off the page, positions as planned, words to be read.

Contrast is that of WCAG 2.2, success criterion 1.4.3 (relative luminance and ratio as defined there): at least 4.5.
"""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from tests.drawing.browser import MISSING, Box, Measured, Written, browser, measure
from tests.drawing.joints import EVERY

from turnback.model.absent import Absent
from turnback.model.figures import Figure
from turnback.model.lettering import text_width
from turnback.model.shapes import Group, Text
from turnback.planning.plan import Plan

pytestmark = pytest.mark.skipif(browser() is None, reason=MISSING)

every = pytest.mark.parametrize("name", EVERY)
# Boxes of letters are as high as their face, so neighbouring lines touch.
TOUCH = 1.0


@pytest.fixture(scope="session")
def light() -> dict[str, Measured]:
    return measure({name: plan.to_svg() for name, plan in EVERY.items()})


@pytest.fixture(scope="session")
def dark() -> dict[str, Measured]:
    return measure({name: plan.to_svg() for name, plan in EVERY.items()}, dark=True)


@every
def test_no_label_overlaps_another(light: dict[str, Measured], name: str) -> None:
    met = [
        (one.text, other.text) for one, other in combinations(light[name].texts, 2) if one.box.meets(other.box, TOUCH)
    ]
    assert [] == met


@every
def test_no_label_leaves_the_page(light: dict[str, Measured], name: str) -> None:
    width, height = light[name].page
    page = Box(0.0, 0.0, width, height)
    assert [] == [
        each.text
        for each in light[name].texts
        if each.box.left < page.left
        or each.box.top < page.top
        or each.box.right > page.right
        or each.box.bottom > page.bottom
    ]


@every
def test_no_label_lies_on_rope_or_clip(light: dict[str, Measured], name: str) -> None:
    """Rope and clips are boxes here, which they nearly are; the number of a clip lies on its own disc."""
    shapes = [
        (part, box)
        for part, box in light[name].parts
        if re.fullmatch(r"clip \d+|dead part|live part|rope A|rope B", part) or part == "number"
    ]
    labels = [each for each in light[name].texts if "number" not in each.parts]
    assert [] == [(part, each.text) for part, box in shapes for each in labels if each.box.meets(box, TOUCH)]


@every
def test_letters_are_no_wider_than_reckoned(light: dict[str, Measured], name: str) -> None:
    assert [] == [
        each.text for each in light[name].texts if each.length > text_width(each.text, each.size, bold=each.bold)
    ]


def planned_edges(plan: Plan) -> list[tuple[int, float, float]]:
    layout = plan.layout if isinstance(plan.tape, Absent) else plan.tape.layout
    return [(c.number, c.near_edge.nanometres / 1e6, c.far_edge.nanometres / 1e6) for c in layout.clips]


@every
def test_clips_lie_where_they_are_planned(light: dict[str, Measured], name: str) -> None:
    """The browser's own boxes: half a line's width stands out on both sides of a clip."""
    plan, seen = EVERY[name], light[name]
    if not plan.clips or any(part.startswith("break") for part, _ in seen.parts):
        return
    scale = float(re.search(r'data-units-per-mm="([\d.]+)"', plan.to_svg())[1])  # type: ignore[index]  # it is there
    edges = planned_edges(plan)
    first = seen.part("clip 1")
    for number, near, far in edges:
        box = seen.part(f"clip {number}")
        assert (near - edges[0][1]) * scale == pytest.approx(box.left - first.left, abs=0.1)
        assert (far - near) * scale == pytest.approx(box.right - box.left, abs=2.0)


@every
def test_words_can_be_read_by_day_and_by_night(
    light: dict[str, Measured], dark: dict[str, Measured], name: str
) -> None:
    for seen in (light[name], dark[name]):
        faint = [each.text for each in seen.texts if "number" not in each.parts and contrast(each, seen.ground) < 4.5]
        assert [] == faint
    assert light[name].ground != dark[name].ground


def luminance(colour: str) -> float:
    """Relative luminance of ``rgb(r, g, b)``."""
    parts = [int(each) / 255 for each in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(text: Written, ground: str) -> float:
    one, other = sorted((luminance(text.fill), luminance(ground)))
    return (other + 0.05) / (one + 0.05)


def test_contrast_by_the_standard() -> None:
    """Black on white is 21 to 1, the greatest there is."""
    black = Written("", Box(0.0, 0.0, 0.0, 0.0), 12.0, False, 0.0, "rgb(0, 0, 0)", ())
    assert 21.0 == pytest.approx(contrast(black, "rgb(255, 255, 255)"))


def test_an_overlap_would_be_seen() -> None:
    """Of two figures the second has two labels on each other and one off the page."""
    good = Figure(100.0, 60.0, "t", "d", (Text(5.0, 20.0, "one"), Text(5.0, 40.0, "two")))
    bad = Figure(100.0, 60.0, "t", "d", (Text(5.0, 20.0, "one"), Text(8.0, 22.0, "two"), Text(90.0, 50.0, "three")))
    seen = measure({"good": good.to_svg(), "bad": bad.to_svg()})
    assert not seen["good"].texts[0].box.meets(seen["good"].texts[1].box, TOUCH)
    assert seen["bad"].texts[0].box.meets(seen["bad"].texts[1].box, TOUCH)
    assert seen["bad"].texts[2].box.right > seen["bad"].page[0]


def test_hostile_names_bring_nothing_onto_the_page() -> None:
    text = '"><script>document.title="x"</script></svg><iframe src=x></iframe><svg onload=alert(1)><image href=x>'
    shape = Group((Text(1.0, 20.0, text),), text, text)
    seen = measure({"hostile": Figure(100.0, 60.0, text, text, (shape,)).to_svg()})["hostile"]
    assert 0 == seen.foreign
    assert (text,) == tuple(each.text for each in seen.texts)
