"""What is drawn is what is planned: positions read back from the SVG, values typed from the printed tables."""

from __future__ import annotations

import os
import pickle
import re
import subprocess
import sys
from pathlib import Path
from typing import Literal, get_args

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.drawing.joints import EVERY, KINDS, ODD, THIMBLE, series
from tests.drawing.pictures import Picture
from tests.strategies import CATALOGUE, planned, requests

from turnback.model.absent import Absent
from turnback.model.figures import ClipPlace
from turnback.model.findings import Finding
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.shapes import Circle, Rect, Shape
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import ClipStyle, SeriesStyle
from turnback.planning.figure import figure_of
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length

# A coordinate has two decimals, and a position is the difference of two.
NEAR = 0.02

View = Literal["side", "along"]

every = pytest.mark.parametrize("name", EVERY)


def layout(plan: Plan) -> Layout:
    return plan.layout if isinstance(plan.tape, Absent) else plan.tape.layout


def mm(length: Length | Absent) -> float:
    assert isinstance(length, Length)
    return length.nanometres / 1e6


def whole(plan: Plan) -> str:
    return "dimension overlap" if plan.layout_demand.splice else "dimension turn-back"


def hardware_tone(plan: Plan) -> str:
    return "saddle" if plan.style.in_series else "metal"


def check_places(plan: Plan) -> None:
    """Every drawn clip stands where it is planned, from the dead end; beyond a break line, from the base."""
    picture = Picture(plan.to_svg())
    left, right = picture.line(whole(plan))
    broken = "break" in picture.parts
    total = mm(layout(plan).turn_back)
    eye_broken = "break in the eye" in picture.parts
    if not broken and not eye_broken:
        assert total * picture.scale == pytest.approx(right - left, abs=NEAR)
    drawn = [int(part.removeprefix("clip ")) for part in picture.parts if re.fullmatch(r"clip \d+", part)]
    assert drawn == sorted(drawn)
    for clip in layout(plan).clips:
        if clip.number not in drawn:
            assert broken
            continue
        near, far = picture.across(f"clip {clip.number}", hardware_tone(plan))
        if broken and clip.number > len(drawn) // 2:
            assert (total - mm(clip.near_edge)) * picture.scale == pytest.approx(right - near, abs=NEAR)
            assert (total - mm(clip.far_edge)) * picture.scale == pytest.approx(right - far, abs=NEAR)
        else:
            assert mm(clip.near_edge) * picture.scale == pytest.approx(near - left, abs=NEAR)
            assert mm(clip.far_edge) * picture.scale == pytest.approx(far - left, abs=NEAR)


@every
def test_clips_stand_where_they_are_planned(name: str) -> None:
    plan = EVERY[name]
    if isinstance(plan.turn_back, Absent):
        assert "data-units-per-mm" not in Picture(plan.to_svg()).root.attrib
        assert "NOT TO SCALE" in Picture(plan.to_svg()).written()
        return
    if not plan.clips:
        assert "not to scale" in Picture(plan.to_svg()).written()
        return
    check_places(plan)


@given(requests(measured=True))
def test_drawing_and_plan_agree(asked: Request) -> None:
    check_places(planned(asked))


@given(requests())
def test_every_plan_can_be_drawn(asked: Request) -> None:
    plan = planned(asked)
    picture = Picture(plan.to_svg())
    assert ("not usable" in picture.parts) is not plan.usable
    assert f"{plan.clip_count} {plan.style.title}" in picture.said("title")


@every
def test_the_same_bytes_again(name: str) -> None:
    plan = EVERY[name]
    assert plan.to_svg() == pickle.loads(pickle.dumps(figure_of(plan))).to_svg() == plan._repr_svg_()


def test_hash_seed_and_locale_change_no_byte() -> None:
    code = (
        "import sys; from tests.drawing.joints import EVERY; "
        "sys.stdout.buffer.write(''.join(p.to_svg() for p in EVERY.values()).encode())"
    )
    texts = set()
    for seed, locale in (("1", "C.UTF-8"), ("2", "POSIX")):
        path = os.pathsep.join(filter(None, (os.environ.get("PYTHONPATH"), str(Path(__file__).parents[2]))))
        env = {**os.environ, "PYTHONHASHSEED": seed, "LC_ALL": locale, "PYTHONPATH": path}
        texts.add(subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, env=env).stdout)
    assert 1 == len(texts)
    assert "".join(plan.to_svg() for plan in EVERY.values()).encode() in texts


def test_dimensions_of_a_printed_row() -> None:
    """8 CCR 8497, Table 1, 3/4 in: 4 clips, turn-back 18 in. With a base width of 2-1/4 in the rest by hand.

    The first near edge is 2-1/4 in from the dead end, the last far edge at 18 in, so the pitch is
    (18 - 2 x 2-1/4) / 3 = 4-1/2 in. The eye is the thimble's inside length, 3-3/4 in.
    """
    picture = Picture(series(THIMBLE).to_svg())
    inch = 25.4 * picture.scale
    for part, inches in (
        ("dimension turn-back", 18.0),
        ("dimension end distance", 2.25),
        ("dimension base width", 2.25),
        ("dimension spacing", 4.5),
        ("dimension eye", 3.75),
    ):
        left, right = picture.line(part)
        assert inches * inch == pytest.approx(right - left, abs=NEAR), part
    for text in ("turn-back 18 in", "3 equal spacings", "4-1/2 in", "2-1/4 in", "eye 3-3/4 in", "2-3/8 in"):
        assert text in picture.texts()
    assert "torque 130 lbf·ft" in picture.written()


def test_dimensions_of_a_lap_splice() -> None:
    """The same row lapped: 8 clips at least twice the turn-back, and at least 3b + (2n - 1) 6d = 38-1/4 in."""
    picture = Picture(KINDS["u-bolt, lap splice, measured"].to_svg())
    left, right = picture.line("dimension overlap")
    assert 38.25 * 25.4 * picture.scale == pytest.approx(right - left, abs=NEAR)
    assert "overlap 38-1/4 in" in picture.texts()


@every
def test_a_saddle_lies_on_the_part_that_the_plan_says(name: str) -> None:
    plan = EVERY[name]
    picture = Picture(plan.to_svg())
    if plan.layout_demand.splice:
        top, bottom = (sum(picture.down(part, "paper")) / 2 for part in ("rope A", "rope B"))
    else:
        top, bottom = sum(picture.down("dead part", "paper")) / 2, sum(picture.down("live part", "live")) / 2
    axis = (top + bottom) / 2
    assert top < bottom
    for clip in layout(plan).clips:
        part = f"clip {clip.number}"
        if part not in picture.parts or not plan.style.in_series:
            continue
        first, last = picture.down(part, "saddle")
        if clip.saddle_on in ("live part", "rope B"):
            assert axis < first
        elif clip.saddle_on == "rope A":
            assert last < axis
        else:
            assert axis - first == pytest.approx(last - axis, abs=NEAR)


@pytest.mark.parametrize("name", [name for name, plan in EVERY.items() if not plan.layout_demand.splice])
def test_the_live_part_alone_runs_on_to_the_load(name: str) -> None:
    picture = Picture(EVERY[name].to_svg())
    texts = picture.texts()
    assert {"LIVE PART", "DEAD PART", "to the load"} <= set(texts)
    live, dead = picture.part("live part"), picture.part("dead part")
    # Strands are curves, many in one path; the plain part has none. Neither colour nor tint is needed to tell them.
    assert 6 <= max(path.attrib.get("d", "").count("C") for path in live.iter())
    assert not any("C" in path.attrib.get("d", "") for path in dead.iter())


@pytest.mark.parametrize("name", ["many clips", "very many clips", "long lap splice"])
def test_a_break_line_stands_half_way_to_the_clips_that_it_leaves_out(name: str) -> None:
    """Three clips are kept on each side. The teeth of both its lines stand out by 6 drawing units."""
    plan = EVERY[name]
    picture = Picture(plan.to_svg())
    clips = layout(plan).clips
    kept, lost, back, after = clips[2], clips[3], clips[-4], clips[-3]
    left, right = picture.across("break", "paper")
    first, last = picture.across("clip 3", "saddle")[1], picture.across(f"clip {after.number}", "saddle")[0]
    assert (mm(lost.near_edge) - mm(kept.far_edge)) / 2 * picture.scale == pytest.approx(left + 6 - first, abs=NEAR)
    assert (mm(after.near_edge) - mm(back.far_edge)) / 2 * picture.scale == pytest.approx(last - right + 6, abs=NEAR)


@every
def test_every_mark_of_a_drawn_clip_has_its_number_and_length(name: str) -> None:
    plan = EVERY[name]
    picture = Picture(plan.to_svg())
    shown = {int(part.removeprefix("clip ")) for part in picture.parts if re.fullmatch(r"clip \d+", part)}
    strips = [part for part in picture.parts if part.startswith("marks on")]
    if not strips:
        assert len(plan.marks) < 3
        return
    labels: dict[int, str] = {}
    for part in strips:
        for text in picture.part(part).iter():
            found = re.fullmatch(r"([\d, ]+): (.+)", text.text or "")
            if found is not None:
                labels |= {int(number): found[2].strip() for number in found[1].split(",")}
    for mark in plan.marks:
        if mark.clip and mark.clip not in shown:
            assert mark.number not in labels
            continue
        place = mark.position if isinstance(mark.tape, Absent) else mark.tape
        assert place == (Length.of(labels[mark.number]) if place.nanometres else Length(0))


def test_what_blocks_a_joint_stands_first() -> None:
    picture = Picture(ODD["forbidden"].to_svg())
    assert "not usable" == picture.parts[0]
    assert "NOT USABLE: do not make or load this joint" == picture.texts()[0]
    assert picture.texts()[1].startswith("FORBIDDEN: ")
    assert picture.said("title").startswith("NOT USABLE. ")
    assert picture.said("desc").startswith("FORBIDDEN: ")


@pytest.mark.parametrize("name", [name for name, plan in EVERY.items() if plan.usable])
def test_nothing_else_cries_wolf(name: str) -> None:
    assert "NOT USABLE" not in EVERY[name].to_svg()


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("u-bolt, thimble eye, unmeasured", "clips not to scale: base width not measured"),
        ("u-bolt, thimble eye, unmeasured", "the inside length and width of the thimble were not given"),
        ("u-bolt, pulley eye, unmeasured", "the tread diameter of the pulley was not given"),
        ("u-bolt, soft eye, unmeasured", "the pin or the length of the eye was not given"),
        ("groove offset missing", "the groove offset of the thimble was not given"),
        ("single-plate, plate eye, unmeasured", "turn-back not known: measure the body"),
        ("single-plate, plate eye, unmeasured", "body not to scale: measure it along the rope"),
        ("pulley too great", "the eye is too large to be drawn beside its rope and clips"),
        ("many clips", "Clips 4 to 21 are left out at the break line"),
        ("coating left on", "stays on under the clips"),
    ],
)
def test_what_is_missing_is_said_in_the_picture(name: str, words: str) -> None:
    assert words in Picture(EVERY[name].to_svg()).written()


@every
def test_the_description_names_every_clip(name: str) -> None:
    plan = EVERY[name]
    said = Picture(plan.to_svg()).said("desc")
    for clip in layout(plan).clips:
        assert f"clip {clip.number} from " in said
    if plan.clips and plan.style.wrong_way_round:
        assert said.count("saddle on ") >= plan.clip_count


@given(st.text(st.characters(exclude_categories=()), max_size=300))
def test_no_name_becomes_markup(text: str) -> None:
    plan = series(THIMBLE)
    finding = Finding("invented", "must-fix", text, (Citation(COMMON_PRACTICE, "invented", "common practice"),))
    style = attrs.evolve(plan.style, title=text)
    hostile = attrs.evolve(plan, findings=(finding,), case=attrs.evolve(plan.case, style=style))
    quiet = attrs.evolve(plan, findings=(attrs.evolve(finding, text="quiet"),))
    tags = {each.tag for each in Picture(hostile.to_svg()).root.iter()}
    assert {each.tag for each in Picture(quiet.to_svg()).root.iter()} == tags


def own_clip(place: ClipPlace) -> tuple[Shape, ...]:
    """An invented clip: a ring of the base width, twice as high as both parts."""
    return (Circle(place.x, (place.saddle + place.other) / 2, place.width / 2, fill="saddle"),)


def test_a_plugin_draws_its_own_hardware() -> None:
    plan = series(THIMBLE)
    style = attrs.evolve(plan.style, drawing=own_clip)
    assert style == pickle.loads(pickle.dumps(style))
    assert style != plan.style
    drawn = attrs.evolve(plan, case=attrs.evolve(plan.case, style=style))
    picture = Picture(drawn.to_svg())
    near, far = picture.line("dimension base width")
    ring = next(each for each in picture.part("clip 1").iter() if each.tag.endswith("}circle"))
    assert (near + far) / 2 == pytest.approx(float(ring.attrib["cx"]), abs=NEAR)
    assert far - near == pytest.approx(2 * float(ring.attrib["r"]), abs=NEAR)


class Bare(ClipStyle):
    """A third kind of style, which says nothing of its looks."""

    @property
    def in_series(self) -> bool:
        return True

    def lay_out(self, demand: LayoutDemand) -> Layout:
        raise NotImplementedError


def test_a_style_without_a_drawing_has_a_block_with_its_saddle() -> None:
    cited = Citation(COMMON_PRACTICE, "invented", "common practice")
    style = Bare("invented", "invented clip", False, ("thimble eye",), (), cited)
    for view in get_args(View):
        shapes = style.draw_clip(ClipPlace(view, 100.0, 40.0, 120.0, 100.0, 20.0))
        saddle = shapes[-1]
        assert isinstance(saddle, Rect)
        assert "saddle" == saddle.fill
        # The saddle is below: its part lies at 120, and it bears from outside.
        assert saddle.y > 120.0


def test_styles_are_built_as_before() -> None:
    cited = Citation(COMMON_PRACTICE, "invented", "common practice")
    style = SeriesStyle("invented", "invented clip", True, ("thimble eye",), (), cited)
    assert style.drawing is None
    assert "drawing" not in repr(style)


def test_nothing_is_loaded_before_a_drawing_is_asked_for() -> None:
    code = (
        "import sys, turnback as tb; "
        "p = tb.plan('3/4 in 6x19 IWRC EIP', tb.ThimbleEye(), style='u-bolt', rules='us-ca-8-8497'); "
        "print(sorted(m for m in sys.modules if m.startswith('turnback') and any(w in m for w in "
        "('figure', 'shapes', 'hardware', 'svg', 'plates', 'drawing', 'bounds', 'lettering')))); p.to_svg()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "[]" == done.stdout.strip()


def test_every_style_at_hand_is_drawn() -> None:
    assert {style.id for style in CATALOGUE.styles} == {name.split(",")[0] for name in KINDS}
