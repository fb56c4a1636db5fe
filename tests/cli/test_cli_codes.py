"""Exit codes as documented, help that teaches, and for every slip one clear line, whatever is typed.

Numbers from 8 CCR §8497, Table 1; what stands behind each code is told by ``turnback --help``.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
from collections.abc import Callable
from importlib.metadata import entry_points
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.sheets import sheet_text

from turnback.cli import main
from turnback.cli.codes import CODES_TEXT

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


GUY = ("plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--rules", "us-ca-8-8497", "--eye", "thimble",
       "--clip-body", "forged")  # fmt: skip


# --- help and exit codes ---


def commands() -> list[str]:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        main(["--help"])
    return re.findall(r"^    ([a-z]+)(?: |$)", out.getvalue(), flags=re.MULTILINE)


def test_help_names_the_commands_and_the_exit_codes(run: Run) -> None:
    code, out, err = run("--help")
    assert (0, "") == (code, err)
    assert CODES_TEXT in out
    assert {"plan", "rules"} <= set(commands())
    assert "qualified person" in words(out)
    assert (0, "turnback 0.1.0\n", "") == run("--version")


@pytest.mark.parametrize("command", commands())
def test_every_command_teaches_itself(run: Run, command: str) -> None:
    code, out, err = run(command, "--help")
    assert (0, "") == (code, err)
    assert out.startswith(f"usage: turnback {command}")
    assert "exit codes" in out
    assert "--json" in out


def test_the_documented_codes_are_0_and_2_to_9() -> None:
    assert ["0", "2", "3", "4", "5", "6", "7", "8", "9"] == re.findall(r"^  ([0-9])  ", CODES_TEXT, flags=re.MULTILINE)


HALF = ("plan", "1/2 in 6x25F IWRC EIP", "--style", "u-bolt", "--clip-body", "forged")
CALIFORNIA = (*HALF, "--rules", "us-ca-8-8497")
# 13.3 x 2000 lbf x 80 % / 3 = 7093 lbf for a guy (Alberta OHS Code 292.1(1)(d)).
PLANNED: dict[str, tuple[tuple[str, ...], int]] = {
    "done": (CALIFORNIA, 0),
    "done, under load": ((*CALIFORNIA, "--service", "guy", "--jurisdiction", "CA-AB", "--load", "7000 lbf"), 0),
    "forbidden": ((*CALIFORNIA, "--service", "mooring", "--jurisdiction", "DE"), 5),
    "overloaded": ((*CALIFORNIA, "--service", "guy", "--jurisdiction", "CA-AB", "--load", "7200 lbf"), 6),
    "forbidden and overloaded": ((*CALIFORNIA, "--service", "sling", "--load", "900 kN"), 5),
}


@pytest.mark.parametrize("case", PLANNED)
def test_a_plan_that_is_printed_says_by_its_code_whether_it_may_be_used(run: Run, case: str) -> None:
    line, expected = PLANNED[case]
    code, out, err = run(*line)
    assert (expected, "") == (code, err)
    assert out.startswith("Plan:") or "FORBIDDEN" in out[:200].upper() or "MUST-FIX" in out[:200].upper()
    document = json.loads(run(*line, "--json")[1])
    assert document["usable"] is (expected == 0)


SLIPS: dict[str, tuple[tuple[str, ...], int, str]] = {
    "no command": ((), 2, "COMMAND"),
    "unknown command": (("paln",), 2, "paln"),
    "unknown option": ((*CALIFORNIA, "--torque", "5 N·m"), 2, "--torque"),
    "shortened option": ((*HALF, "--rule", "us-ca-8-8497"), 2, "--rule"),
    "option without a value": ((*HALF, "--rules"), 2, "--rules"),
    "option over two lines": ((*CALIFORNIA, "--a\nb"), 2, "--a b"),
    "no rope": (("plan", "--style", "u-bolt"), 2, "ROPE"),
    "empty rope": (("plan", "", "--style", "u-bolt", "--rules", "us-ca-8-8497"), 2, "rope"),
    "no style": (("plan", "1/2 in 6x19"), 2, "--style"),
    "bare diameter": (("plan", "1/2", "--style", "u-bolt", "--rules", "us-ca-8-8497"), 2, "in"),
    "rope misspelt": (("plan", "1/2 in 6y19", "--style", "u-bolt", "--rules", "us-ca-8-8497"), 2, "6y19"),
    "bare base width": ((*CALIFORNIA, "--base-width", "2"), 2, "base_width"),
    "negative base width": ((*CALIFORNIA, "--base-width=-1 in"), 2, "base_width"),
    "zero base width": ((*CALIFORNIA, "--base-width", "0 in"), 2, "base_width"),
    "decimal comma": ((*CALIFORNIA, "--base-width", "1,5 in"), 2, "comma"),
    "base width too great": ((*CALIFORNIA, "--base-width", "3 in"), 2, "side by side"),
    "load in lb": ((*CALIFORNIA, "--load", "500 lb"), 2, "lb"),
    "load in ton": ((*CALIFORNIA, "--load", "5 ton"), 2, "ton"),
    "load not finite": ((*CALIFORNIA, "--load", "nan kN"), 2, "finite"),
    "clips not a number": ((*CALIFORNIA, "--extra-clips", "two"), 2, "--extra-clips"),
    "clips taken away": ((*CALIFORNIA, "--extra-clips", "-1"), 2, "extra_clips"),
    "unknown body": ((*HALF[:-1], "steel", "--rules", "us-ca-8-8497"), 2, "clip_body"),
    "unknown eye": ((*CALIFORNIA, "--eye", "loop"), 2, "--eye"),
    "dimension of another eye": ((*CALIFORNIA, "--pin", "1 in"), 2, "--pin"),
    "soft eye too short": ((*CALIFORNIA, "--eye", "soft", "--pin", "3 in", "--eye-length", "1-1/2 in"), 2, "pin"),
    "unknown service": ((*CALIFORNIA, "--service", "slign"), 2, "sling"),
    "unknown jurisdiction": ((*CALIFORNIA, "--jurisdiction", "Mars"), 2, "jurisdiction"),
    "maker without citation": ((*CALIFORNIA, "--maker-torque", "65 lbf·ft", "--maker-threads", "dry"), 2, "citation"),
    "torque without threads": (
        (*CALIFORNIA, "--maker-torque", "65 lbf·ft", "--maker-citation", "invented"), 2, "threads",
    ),
    "size without the maker's word": ((*CALIFORNIA, "--clip-size", "5/8 in"), 2, "clip_size"),
    "force without a certificate": ((*CALIFORNIA, "--breaking-force", "100 kN"), 2, "certificate"),
    "gap in the rules": ((*HALF, "--rules", "us-ca-8-8497+"), 2, "missing"),
    "empty rules": ((*HALF, "--rules", ""), 2, "no rule set is named"),
    "rule file that is not there": ((*HALF, "--rules", "nowhere.toml"), 2, "nowhere.toml"),
    "rule file that is a folder": ((*HALF, "--rules", "/tmp"), 2, "no such file"),
    "rule set for another style": ((*HALF, "--rules", "us-army-3810-305"), 2, "mirrored-saddle"),
    "a basis in place of a rule set": ((*HALF, "--rules", "common-practice-efficiency"), 2, "efficiencies"),
    "no rules": (HALF, 3, "us-ca-8-8497"),
    "unknown rules": ((*HALF, "--rules", "us-ca-8-8479"), 3, "Did you mean us-ca-8-8497?"),
    "unknown style": (("plan", "1/2 in", "--style", "u-blot", "--rules", "us-ca-8-8497"), 3, "Did you mean u-bolt?"),
    "style over two lines": (("plan", "1/2 in", "--style", "a\nb", "--rules", "us-ca-8-8497"), 3, r"a\nb"),
    "size outside the table": (("plan", "1/4 in", "--style", "u-bolt", "--rules", "us-ca-8-8497"), 3, "1/2 in"),
    "rope outside the scope": (
        ("plan", "1/2 in 6x19 WSC EIP", "--style", "u-bolt", "--rules", "us-ca-8-8497"), 3, "WSC",
    ),
    "none of the first-of choice": (
        ("plan", "3 in", "--style", "u-bolt", "--rules", "us-ca-8-8497,ca-nb-clips"), 3, "3 in",
    ),
    "unknown rules to show": (("rules", "us-ca-8-8479"), 3, "Did you mean us-ca-8-8497?"),
    "unknown style to list": (("rules", "--style", "u-blot"), 3, "Did you mean u-bolt?"),
    "rule file to show that is not there": (("rules", "nowhere.toml"), 2, "nowhere.toml"),
    "patterns that conflict": ((*HALF, "--rules", "us-ca-8-8497+en-13411-5"), 4, "EN 13411-5"),
    "spacing that conflicts": (
        (*CALIFORNIA, "--base-width", "1 in", "--service", "elevator", "--jurisdiction", "CA-QC"), 4, "3 in",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", SLIPS)
def test_a_slip_is_told_in_one_line(run: Run, case: str) -> None:
    line, expected, word = SLIPS[case]
    code, out, err = run(*line)
    assert (expected, "") == (code, out)
    assert 1 == len(err.splitlines())
    assert err.startswith("turnback")
    assert word in err
    assert "Traceback" not in err


def test_a_broken_rule_file_is_told_by_its_place(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text(sheet_text("broken", torque="65 N"), encoding="utf-8")
    code, _, err = run(*HALF, "--rules", str(path))
    assert (2, 1) == (code, len(err.splitlines()))
    assert "rows[0].torque" in err
    assert "broken.toml" in err


TEXTS = st.sampled_from(
    ["1/2 in 6x19 IWRC EIP", "3/4 in", "13 mm", "", " ", "-", "--", "u-bolt", "single-plate", "us-ca-8-8497", "a+b",
     "(a", "en-13411-5,us-navy-14026", "2-1/4 in", "0 in", "5 kN", "1 N·m", "80 %", "60 deg", "dry", "sling", "US",
     "\udcff", "\0", "a\nb", "½ in", "9" * 70, "nowhere.toml", "/", "%s", "{0}", "@file"]
) | st.text(max_size=8)  # fmt: skip
FLAGS = st.sampled_from(
    ["--style", "--rules", "--eye", "--base-width", "--pin", "--eye-length", "--thimble-length", "--thimble-width",
     "--tread-diameter", "--included-angle", "--parts-apart", "--clip-body", "--clip-size", "--clip-size-citation",
     "--extra-clips", "--maker-citation", "--maker-torque", "--maker-threads", "--maker-efficiency", "--service",
     "--jurisdiction", "--load", "--efficiency-basis", "--breaking-force", "--mass-per-length", "--certificate",
     "--measured-diameter", "--json", "--services", "--help", "--version"]
)  # fmt: skip
HEADS = st.sampled_from([("plan",), ("rules",), GUY, CALIFORNIA, ()])


@given(HEADS, st.lists(FLAGS | TEXTS, max_size=6))
def test_no_list_of_arguments_leads_to_a_traceback(head: tuple[str, ...], rest: list[str]) -> None:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main([*head, *rest])
    assert code in (0, 2, 3, 4, 5, 6)
    if code in (0, 5, 6):
        assert "" == err.getvalue()
    else:
        assert 1 == len(err.getvalue().splitlines())
        assert "" == out.getvalue()


def test_the_command_is_installed() -> None:
    assert ["turnback.cli:main"] == [each.value for each in entry_points(group="console_scripts", name="turnback")]
