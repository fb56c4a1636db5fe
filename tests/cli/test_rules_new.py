"""``turnback rules new``: it writes what it names, wherever its options stand, and ``turnback rules`` is as before."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from turnback.cli import main
from turnback.rules import read_rules

Run = Callable[..., tuple[int, str, str]]
NEW = ("rules", "new", "my-standard", "--style", "u-bolt")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs the command line in an empty folder: exit code, output, errors."""
    monkeypatch.chdir(tmp_path)

    def called(*arguments: str) -> tuple[int, str, str]:
        code = main(list(arguments))
        out, err = capsys.readouterr()
        return code, out, err

    return called


@pytest.mark.parametrize(
    "line",
    [
        NEW,
        ("rules", "new", "--style", "u-bolt", "my-standard"),
        ("rules", "--style", "u-bolt", "new", "my-standard"),
        ("rules", "new", "--style=u-bolt", "--", "my-standard"),
    ],
)
def test_a_rule_file_is_written_where_the_command_stands(run: Run, line: tuple[str, ...]) -> None:
    code, out, err = run(*line)
    assert (0, "") == (code, err)
    assert ["wrote my-standard.toml"] == out.splitlines()[:1]
    assert "invented" in out
    assert ["my-standard.toml"] == [path.name for path in Path().iterdir()]
    assert "my-standard" == read_rules("my-standard.toml").id
    # What it wrote can be shown and planned with at once.
    assert 0 == run("rules", "my-standard.toml")[0]


def test_a_new_rule_file_plans_at_once(run: Run) -> None:
    run(*NEW)
    code, out, err = run("plan", "3/4 in 6x19 IWRC EIP", "--style", "u-bolt", "--rules", "my-standard.toml",
                         "--clip-body", "forged", "--base-width", "1-1/2 in", "--json")  # fmt: skip
    assert (0, "") == (code, err)
    # The invented row of 3/4 in: 5 forged clips, 30 in.
    document = json.loads(out)
    assert (5, 762_000_000) == (document["clip_count"], document["turn_back_nm"])


def test_a_distribution_is_written_into_the_folder_that_is_named(run: Run) -> None:
    Path("work").mkdir()
    code, out, err = run(*NEW, "--plugin", "--into", "work")
    assert (0, "") == (code, err)
    written = {line.removeprefix("wrote ") for line in out.splitlines() if line.startswith("wrote ")}
    assert written == {path.as_posix() for path in Path("work").rglob("*") if path.is_file()}
    assert "work/turnback-my-standard/pyproject.toml" in written
    last = out.splitlines()[-1]
    assert last.endswith("turnback conform work/turnback-my-standard/src/turnback_my_standard/rules/my-standard.toml")


def test_what_was_written_as_json(run: Run) -> None:
    code, out, _ = run(*NEW, "--json")
    assert (0, {"written": ["my-standard.toml"]}) == (code, json.loads(out))


@pytest.mark.parametrize(
    ("line", "code", "word"),
    [
        (("rules", "new"), 2, "NAME"),
        (("rules", "new", "x"), 2, "--style"),
        (("rules", "new", "x", "y", "--style", "u-bolt"), 2, "y"),
        (("rules", "new", "x", "--style", "u-blot"), 3, "Did you mean u-bolt?"),
        (("rules", "new", "X", "--style", "u-bolt"), 2, "lower-case"),
        (("rules", "new", "new", "--style", "u-bolt"), 2, "another name"),
        (("rules", "new", "us-ca-8-8497", "--style", "u-bolt"), 2, "installed already"),
        (("rules", "new", "x", "--style", "u-bolt", "--into", "nowhere"), 2, "nowhere"),
        (("rules", "new", "x", "--style", "u-bolt", "--plug"), 2, "--plug"),
        (("rules", "--services", "new", "x", "--style", "u-bolt"), 2, "--services"),
        (("rules", "us-ca-8-8497", "x"), 2, "x"),
    ],
)
def test_a_slip_is_told_in_one_line_and_nothing_is_written(
    run: Run, line: tuple[str, ...], code: int, word: str
) -> None:
    found, out, err = run(*line)
    assert (code, "", 1) == (found, out, len(err.splitlines()))
    assert err.startswith("turnback")
    assert word in err
    assert [] == list(Path().iterdir())


@pytest.mark.parametrize("more", [(), ("--plugin",)])
def test_nothing_is_written_over(run: Run, more: tuple[str, ...]) -> None:
    assert 0 == run(*NEW, *more)[0]
    before = {path: path.read_bytes() for path in Path().rglob("*") if path.is_file()}
    code, out, err = run(*NEW, *more)
    assert (2, "") == (code, out)
    assert "nothing is written over" in err
    assert before == {path: path.read_bytes() for path in Path().rglob("*") if path.is_file()}


def test_help_of_both(run: Run) -> None:
    code, out, err = run("rules", "new", "--help")
    assert (0, "") == (code, err)
    for told in ("turnback rules new NAME --style STYLE", "--plugin", "--into", "--json", "exit codes", "written over"):
        assert told in out
    assert "turnback rules new NAME" in run("rules", "--help")[1]


@pytest.mark.parametrize(
    "line", [("us-ca-8-8497", "--json"), ("--json", "us-ca-8-8497"), ("--json", "--", "us-ca-8-8497")]
)
def test_showing_one_takes_its_options_on_either_side(run: Run, line: tuple[str, ...]) -> None:
    code, out, err = run("rules", *line)
    assert (0, "") == (code, err)
    assert "us-ca-8-8497" == json.loads(out)["id"]


def test_a_rule_file_called_new_is_still_shown(run: Run) -> None:
    run(*NEW)
    Path("my-standard.toml").rename("new.toml")
    code, out, _ = run("rules", "new.toml")
    assert 0 == code
    assert out.startswith("my-standard: Invented example, not for use")
