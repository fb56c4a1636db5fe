"""Job cards, other terminations and comparisons as a user types them. Base widths and sheets are invented."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from turnback.cli import main

INCH = 25_400_000
Run = Callable[..., tuple[int, str, str]]
GUY = (
    "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--clip-body", "forged", "--base-width", "2-1/4 in",
    "--service", "guy", "--jurisdiction", "US",
)  # fmt: skip
RULES = ("--rules", "us-ca-8-8497")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs the command line in this process: exit code, output, errors."""

    def called(*arguments: str) -> tuple[int, str, str]:
        code = main(list(arguments))
        out, err = capsys.readouterr()
        return code, out, err

    return called


# --- the job card ---


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("card.html", "<!doctype html>"),
        ("card.HTM", "<!doctype html>"),
        ("card.md", "# Job card: thimble eye with U-bolt clip"),
        ("card.txt", "Job card: thimble eye with U-bolt clip"),
    ],
)
def test_a_card_is_written_in_the_form_that_its_name_asks_for(run: Run, tmp_path: Path, name: str, begins: str) -> None:
    code, out, err = run("plan", *GUY, *RULES, "--card", str(tmp_path / name))
    assert (0, "") == (code, err)
    assert out.startswith("Plan: thimble eye")
    assert (tmp_path / name).read_text(encoding="utf-8").startswith(begins)


def test_several_cards_are_written_at_once_and_json_still_goes_out(run: Run, tmp_path: Path) -> None:
    html, text = tmp_path / "card.html", tmp_path / "card.txt"
    code, out, _ = run("plan", *GUY, *RULES, "--card", str(html), "--card", str(text), "--json")
    assert 0 == code
    assert 4 == json.loads(out)["clip_count"]  # 8 CCR §8497 at 3/4 in
    assert html.exists()
    assert text.exists()


def test_a_forbidden_joint_gets_its_card_with_the_reason_first(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "card.txt"
    code, _, _ = run(
        "plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", *RULES, "--service", "sling", "--card", str(path)
    )
    assert 5 == code
    text = path.read_text(encoding="utf-8")
    assert text.index("NOT USABLE") < text.index("This joint")


@pytest.mark.parametrize("name", ["card.pdf", "card", ".html", "card.html.exe", "a\0card.html"])
def test_another_name_is_refused_before_anything_is_written(run: Run, tmp_path: Path, name: str) -> None:
    good = tmp_path / "card.md"
    code, out, err = run("plan", *GUY, *RULES, "--card", str(good), "--card", str(tmp_path / name))
    assert (2, "") == (code, out)
    assert "--card" in err
    assert ".html" in err
    assert 1 == len(err.splitlines())
    assert [] == list(tmp_path.iterdir())


def test_a_place_where_nothing_can_be_written_is_one_clear_line(run: Run, tmp_path: Path) -> None:
    code, out, err = run("plan", *GUY, *RULES, "--card", str(tmp_path / "no such folder" / "card.html"))
    assert (2, "") == (code, out)
    assert 1 == len(err.splitlines())
    assert "no such folder" in err


def test_a_plan_that_fails_writes_no_card(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "card.html"
    code, _, _ = run("plan", "13 mm 6x19 IWRC EIP", "--style", "u-bolt", *RULES, "--card", str(path))
    assert 3 == code
    assert not path.exists()


# --- what else could end the rope ---


def test_other_terminations_are_printed_on_request_only(run: Run) -> None:
    """TM 5-3810-305-10, Table 4."""
    _, plain, _ = run("plan", *GUY, *RULES)
    code, out, _ = run("plan", *GUY, *RULES, "--alternatives")
    assert 0 == code
    assert out.startswith(plain)
    assert "wedge socket" not in plain
    words = " ".join(out[len(plain) :].split())
    assert "None of them is a rating" in words
    assert "wedge socket: 75 % to 95 %, breaks at" in words
    assert "hand-tucked splice: no figure for this rope" in words


def test_other_terminations_are_in_the_json_on_request_only(run: Run) -> None:
    _, plain, _ = run("plan", *GUY, *RULES, "--json")
    _, out, _ = run("plan", *GUY, *RULES, "--json", "--alternatives")
    assert "alternatives" not in json.loads(plain)
    ways = json.loads(out)["alternatives"]["ways"]
    wedge = next(each for each in ways if each["code"] == "wedge-socket")
    assert ("3/4", "19/20") == (wedge["efficiency_at_least"], wedge["efficiency_at_most"])


# --- side by side ---


def test_rule_sets_are_compared_as_text(run: Run) -> None:
    """At 1 in: 8 CCR §8497 prints 5 clips, NAVEDTRA 14026 gives 3 x 1 + 1 = 4; New Brunswick ends at 7/8 in."""
    code, out, err = run(
        "compare", "1 in 6x25F IWRC IPS", "--style", "u-bolt", "--base-width", "1-3/4 in", "--service", "guy"
    )
    assert (0, "") == (code, err)
    assert all(len(line) <= 80 for line in out.splitlines())
    for part in (
        "What each says",
        "What governs",
        "Where they differ",
        "Where they cannot be met together",
        "Not covered",
    ):
        assert f"\n{part}\n---" in out
    assert "ca-nb-clips, no row for this size" in " ".join(out.split())


@pytest.mark.parametrize(("form", "begins"), [("markdown", "# Rule sets side by side"), ("html", "<!doctype html>")])
def test_rule_sets_are_compared_in_other_forms(run: Run, form: str, begins: str) -> None:
    code, out, _ = run("compare", *GUY, "--format", form)
    assert 0 == code
    assert out.startswith(begins)


def test_rule_sets_are_compared_as_json(run: Run) -> None:
    """8 CCR §8497 at 3/4 in: 4 clips, 18 in."""
    code, out, _ = run("compare", *GUY, "--json")
    assert 0 == code
    by_id = {each["rules"]: each for each in json.loads(out)["covers"]}
    assert (4, 18 * INCH) == (by_id["us-ca-8-8497"]["clip_count"], by_id["us-ca-8-8497"]["turn_back_nm"])


def test_a_sheet_of_your_own_is_laid_beside_them(run: Run, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.toml"
    sheet.write_text(
        'format = 1\nid = "invented-sheet"\nstyle = "u-bolt"\ntitle = "An invented sheet"\n'
        'rows = [{ size = "3/4", count = 5 }]\n[units]\nsize = "in"\n'
        '[source]\nid = "invented-works"\ndocument = "Sheet 12 of the invented works"\nstatus = "user"\n',
        encoding="utf-8",
    )
    code, out, _ = run("compare", *GUY, "--also", str(sheet))
    assert 0 == code
    assert "invented-sheet" in out
    code, _, err = run("compare", *GUY, "--also", str(tmp_path / "none.toml"))
    assert 2 == code
    assert 1 == len(err.splitlines())


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("100 mm 6x19 IWRC EIP", "--style", "u-bolt"), 3),  # in no table
        (("1/2 in 6x19 IWRC EIP", "--style", "u-bolt", "--service", "sling"), 5),  # 29 CFR 1926.251(c)(4)(iii)
        (("1/2 in 6x19 IWRC EIP", "--style", "u-bolt", "--service", "slings"), 2),
        (("1/2 in 6x19 IWRC EIP", "--style", "u-bolts"), 3),
        (("1/2 in 6x19 IWRC EIP", "--style", "u-bolt", "--pin", "1 in"), 2),  # a pin has no place in a thimble eye
        ((), 2),
    ],
)
def test_exit_codes_of_a_comparison(run: Run, arguments: tuple[str, ...], expected: int) -> None:
    code, _, _ = run("compare", *arguments)
    assert expected == code


def test_a_load_that_is_too_great_under_every_set_that_rates_it_is_no_reason_to_hide_the_others(run: Run) -> None:
    """Only a set that gives a strength can say that a load is too great; the others say that they cannot tell."""
    code, out, _ = run("compare", *GUY, "--load", "200 kN")
    assert 0 == code
    assert "MUST-FIX" in out
    assert "NOT USABLE" in out
