"""The command line: the job as a user types it, the exit codes as documented, and one clear line for every slip.

Numbers from 8 CCR §8497, Table 1, 29 CFR 1926.251, Table H-2, TM 5-3810-305-10 and NAVEDTRA 14026. Base widths are
invented.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.sheets import sheet_text

from turnback.cli import main

INCH = 25_400_000
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs the command line in this process: exit code, output, errors."""

    def called(*arguments: str) -> tuple[int, str, str]:
        code = main(list(arguments))
        out, err = capsys.readouterr()
        return code, out, err

    return called


def words(text: str) -> str:
    """A text without its line breaks and columns."""
    return " ".join(text.split())


def members(document: object, path: str = "") -> Iterator[tuple[str, object]]:
    """Every key of a JSON document with its value."""
    if isinstance(document, dict):
        for key, value in document.items():
            yield key, value
            yield from members(value, f"{path}.{key}")
    elif isinstance(document, list):
        for each in document:
            yield from members(each, path)


def parsed(out: str) -> dict[str, object]:
    """JSON with nothing in it that JSON does not know."""
    document = json.loads(out, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))
    assert isinstance(document, dict)
    for key, value in members(document):
        if key.endswith("_nm") and not isinstance(value, dict):
            assert value is None or type(value) is int, (key, value)
        if key.endswith(("_newton", "_newton_metre", "_radian")):
            assert value is None or isinstance(value, float), (key, value)
    return document


GUY = ("plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--rules", "us-ca-8-8497", "--eye", "thimble",
       "--clip-body", "forged")  # fmt: skip


# --- the lines by which it is to be judged ---


def test_a_thimble_eye_with_the_clip_measured(run: Run) -> None:
    code, out, err = run(*GUY, "--base-width", "2-1/4 in")
    assert (0, "") == (code, err)
    text = words(out)
    for expected in (
        "4 of 3/4 in", "18 in (457.2 mm)", "4-1/2 in (114.3 mm)", "130 lbf·ft", "dry", "80 %", "common-practice",
        "never load to it", "California Code of Regulations", "47040 lbf",
    ):  # fmt: skip
        assert expected in text
    # (18 - 2 x 2-1/4) / 3 = 4-1/2 in: centres at 3-3/8, 7-7/8, 12-3/8 and 16-7/8 in.
    centres = [line.split() for line in out.splitlines() if line.rstrip().endswith("live part")]
    assert ["3-3/8", "7-7/8", "12-3/8", "16-7/8"] == [cells[3] for cells in centres[:4]]


def test_the_same_as_json(run: Run) -> None:
    code, out, err = run(*GUY, "--base-width", "2-1/4 in", "--json")
    assert (0, "") == (code, err)
    document = parsed(out)
    expected = {
        "clip_count": 4,
        "clip_size_nm": 3 * INCH // 4,
        "turn_back_nm": 18 * INCH,
        "spacing_nm": 9 * INCH // 2,
        "thread_condition": "dry",
        "efficiency": "4/5",
        "usable": True,
        "forbidden": [],
    }
    assert expected == {key: document[key] for key in expected}
    clips = document["clips"]
    assert isinstance(clips, list)
    assert [27 * INCH // 8, 63 * INCH // 8, 99 * INCH // 8, 135 * INCH // 8] == [c["position_nm"] for c in clips]
    # 130 x 1.3558179483314004 N·m (NIST SP 811).
    torque = document["torque"]
    assert isinstance(torque, dict)
    assert 176.256333283 == pytest.approx(torque["torque_newton_metre"], rel=1e-11)
    # 29.4 x 2000 lbf x 80 % in newtons.
    assert 47040 * 4.4482216152605 == pytest.approx(document["termination_breaking_force_newton"], rel=1e-12)


def test_without_the_base_width_it_asks_for_it(run: Run) -> None:
    code, out, err = run(*GUY)
    assert (0, "") == (code, err)
    text = words(out)
    for expected in ("4 of 3/4 in", "18 in (457.2 mm)", "130 lbf·ft", "measure the saddle"):
        assert expected in text
    assert "live part 2" not in text
    document = parsed(run(*GUY, "--json")[1])
    assert ([], None) == (document["clips"], document["spacing_nm"])
    absent = document["absent"]
    assert isinstance(absent, dict)
    assert "base width" in absent["spacing"]


def test_two_rule_sets_lengthen_the_turn_back_and_say_why(run: Run) -> None:
    """2 x 1-3/4 + 4 x 6 = 27-1/2 in against 26 in."""
    line = ["plan", "1 in 6x19 IWRC IPS", "--style", "u-bolt", "--rules", "us-ca-8-8497+us-osha-1926-251",
            "--clip-body", "forged", "--base-width", "1-3/4 in"]  # fmt: skip
    code, out, _ = run(*line)
    assert 0 == code
    assert "The turn-back is lengthened from 26 in (660.4 mm) to 27-1/2 in (698.5 mm)" in words(out)
    document = parsed(run(*line, "--json")[1])
    assert (5, 55 * INCH // 2, 6 * INCH) == tuple(document[k] for k in ("clip_count", "turn_back_nm", "spacing_nm"))


def test_an_eye_on_a_pulley(run: Run) -> None:
    """TM 5-3810-305-10, Table 6: 3 clips and 11 in; one more for a pulley, 11 x 4/3 in rounded up."""
    _, out, _ = run("plan", "1/2 in 6x25F IWRC EIP", "--style", "mirrored-saddle", "--rules", "us-army-3810-305",
                    "--eye", "pulley", "--tread-diameter", "8 in", "--json")  # fmt: skip
    document = parsed(out)
    assert (4, 372_533_334) == (document["clip_count"], document["turn_back_nm"])


def test_a_lap_splice_grows_its_overlap_to_keep_its_spacing(run: Run) -> None:
    """NAVEDTRA 14026 at 1/2 in: 3 clips, 3 in apart; twice 3 clips: 3 x 1-1/2 + 5 x 3 = 19-1/2 in."""
    _, out, _ = run("plan", "1/2 in 6x25F IWRC IPS", "--style", "u-bolt", "--rules", "us-navy-14026", "--eye", "lap",
                    "--base-width", "1-1/2 in", "--json")  # fmt: skip
    document = parsed(out)
    assert (6, 39 * INCH // 2, 3 * INCH) == tuple(document[k] for k in ("clip_count", "turn_back_nm", "spacing_nm"))


@pytest.mark.parametrize(("coating", "size"), [("stripped", INCH // 8), ("coating left on", 3 * INCH // 16)])
def test_a_coated_cable(run: Run, coating: str, size: int) -> None:
    """NAVEDTRA 14026: 3/8 + 1, so 2 clips at 1/8 in; 9/16 + 1, so 2 at 3/16 in. A public regulator asks for 3."""
    rope = f"1/8 in 7x19 galvanized coated 3/16 in, {coating}"
    _, out, _ = run("plan", rope, "--style", "u-bolt", "--rules", "us-navy-14026", "--json")
    document = parsed(out)
    findings = document["findings"]
    assert isinstance(findings, list)
    codes = {finding["code"] for finding in findings}
    assert (2, size) == (document["clip_count"], document["clip_size_nm"])
    assert [None] * 3 == [document[k] for k in ("torque", "termination_breaking_force_newton", "efficiency")]
    assert {"fewer-than-three", "strip-coating" if coating == "stripped" else "coating-left-on"} <= codes


def test_a_plate_eye(run: Run) -> None:
    """Common practice: two finished diameters of dead end, 3/8 in."""
    _, out, _ = run("plan", "1/8 in 7x19 galvanized coated 3/16 in, stripped", "--style", "double-plate", "--rules",
                    "common-practice-double-plate", "--eye", "plate", "--base-width", "1-1/2 in", "--json")  # fmt: skip
    document = parsed(out)
    assert (1, 3 * INCH // 8, None) == tuple(
        document[k] for k in ("clip_count", "dead_end_nm", "termination_breaking_force_newton")
    )


def test_a_metric_rope_under_an_inch_table_is_told_its_neighbours(run: Run) -> None:
    code, out, err = run("plan", "13 mm 6x36WS IWRC 1960", "--style", "u-bolt", "--rules", "us-ca-8-8497")
    assert (3, "") == (code, out)
    for expected in ("1/2 in", "+2.4%", "9/16 in", "-9.0%"):
        assert expected in err
    # EN 13411-5, Annex A: 4 grips and 33 N·m at 13 mm.
    code, out, _ = run("plan", "13 mm 6x36WS IWRC 1960", "--style", "u-bolt", "--rules", "en-13411-5", "--json")
    document = parsed(out)
    assert (0, 4) == (code, document["clip_count"])


def test_a_lifting_sling_is_forbidden_with_its_paragraph(run: Run) -> None:
    line = (*GUY, "--service", "sling", "--jurisdiction", "US")
    code, out, _ = run(*line)
    assert 5 == code
    assert "1926.251(c)(4)(iii)" in out
    assert "forbidden" in out.lower()[:600]
    code, out, _ = run(*line, "--json")
    document = parsed(out)
    assert (5, False) == (code, document["usable"])
    assert document["forbidden"]
    assert ["format", "kind", "usable", "forbidden"] == list(document)[:4]


# --- rules ---


def test_rules_lists_what_is_installed_and_from_where(run: Run) -> None:
    code, out, err = run("rules")
    assert (0, "") == (code, err)
    listed = dict(re.findall(r"^(\S+)  \(([a-z-]+)\)$", out, flags=re.MULTILINE))
    assert {"us-ca-8-8497": "u-bolt", "us-army-3810-305": "mirrored-saddle"}.items() <= listed.items()
    assert "turnback-ubolt 0.1" in out
    document = parsed(run("rules", "--json")[1])
    sets = document["rule_sets"]
    assert isinstance(sets, list)
    assert set(listed) == {each["id"] for each in sets}
    assert [] == document["failures"]
    memory = document["memory"]
    assert isinstance(memory, dict)
    # 29 CFR 1926.251, Table H-2: row 1 read, the other 8 rows of three cells from memory; 8 CCR §8497 only confirms.
    assert 24 == len(memory["us-osha-1926-251"])
    assert [] == memory["us-navy-14026"]


def test_rules_shows_one_and_keeps_to_a_style(run: Run) -> None:
    code, out, _ = run("rules", "us-osha-1926-251")
    assert 0 == code
    assert "1926.251" in out
    rows = [line.split() for line in out.splitlines() if line.startswith("1/2 in")]
    assert ["3", "4", "3"] == [cell for cell in rows[0] if cell in ("3", "4")]
    document = parsed(run("rules", "us-osha-1926-251", "--json")[1])
    assert ("us-osha-1926-251", "turnback-ubolt") == (document["id"], document["distribution"])
    _, out, _ = run("rules", "--style", "mirrored-saddle", "--json")
    sets = parsed(out)["rule_sets"]
    assert isinstance(sets, list)
    assert {"us-army-3810-305", "us-ca-8-8497-t2"} == {each["id"] for each in sets}


def test_rules_lists_services(run: Run) -> None:
    code, out, _ = run("rules", "--services")
    assert 0 == code
    for expected in ("sling", "scaffold-suspension", "mine-hoist", "US-CA", "CA-QC"):
        assert expected in out
    document = parsed(run("rules", "--services", "--json")[1])
    assert {"services", "jurisdictions"} == set(document)


# --- a rule file of one's own ---


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """An invented maker's sheet: 4 clips, 14 in, 60 lbf·ft greased at 1/2 in."""
    path = tmp_path / "invented-maker.toml"
    path.write_text(
        sheet_text("invented-maker", count=4, turn_back="14", torque="60", threads="greased"), encoding="utf-8"
    )
    return path


def test_a_rule_file_is_one_more_rule_set(run: Run, file: Path) -> None:
    code, out, err = run("plan", "1/2 in 6x25F IWRC EIP", "--style", "u-bolt", "--rules", str(file), "--json")
    assert (0, "") == (code, err)
    document = parsed(out)
    torque = document["torque"]
    assert isinstance(torque, dict)
    assert (4, 14 * INCH, "greased") == tuple(
        document[key] for key in ("clip_count", "turn_back_nm", "thread_condition")
    )
    assert torque["printed"].startswith("60 lbf·ft")
    assert "invented-maker" in run("rules", str(file))[1]


def test_a_rule_file_governs_with_others_and_stands_behind_them(run: Run, file: Path) -> None:
    rope = ("plan", "1/2 in 6x25F IWRC IPS", "--style", "u-bolt", "--clip-body", "forged", "--json", "--rules")
    # Table H-2: 3 forged clips; the sheet: 4.
    assert 4 == parsed(run(*rope, f"us-osha-1926-251+{file}")[1])["clip_count"]
    # NAVEDTRA 14026 covers the rope first: 3 clips.
    assert 3 == parsed(run(*rope, f"us-navy-14026,{file}")[1])["clip_count"]
    assert 4 == parsed(run(*rope, f"{file},us-navy-14026")[1])["clip_count"]
    assert 4 == parsed(run(*rope, f"(us-navy-14026,us-army-5420-278)+{file}")[1])["clip_count"]
    # Its torque is another than 65 lbf·ft, dry (8 CCR §8497).
    assert 4 == run(*rope, f"us-ca-8-8497+{file}")[0]
