"""The three doors to the kit: the command, the function, and a test of two lines; certificates; levels."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path
from typing import Final

import attrs
import pytest

import turnback.conformance as kit
from turnback.cli import main
from turnback.conformance.effort import Effort
from turnback.conformance.level import level_of
from turnback.conformance.outcome import Outcome
from turnback.conformance.report_text import failure_lines
from turnback.conformance.subject import subject_of
from turnback.errors import InputError, PluginError, UnknownRuleSet
from turnback.rules.catalogue import Catalogue

SHORT: Final = Effort("quick", 12, 60)
NAME: Final = "us-ca-8-8497"
RULES: Final = Catalogue.installed().rule_set(NAME)
FALLING: Final = """
format = 1
id = "invented-falling"
style = "u-bolt"
title = "Invented table whose count falls, not for use"
rows = [
    { size = "1/2", count = 4, turn_back = "12", torque = 60 },
    { size = "3/4", count = 3, turn_back = "18", torque = 130 },
]
MORE
[source]
id = "invented"
document = "Invented Institute, sheet 2"
issuer = "Invented Institute"
locator = "Table 1"
status = "read"

[units]
size = "in"
turn_back = "in"
torque = "lbf·ft"

[threads]
condition = "dry"
"""
WAIVER: Final = (
    'waivers = [{ law = "count-never-falls", row = "3/4", reason = "printed so", locator = "Table 1" }, '
    '{ law = "stale", row = "3/4", reason = "printed so", locator = "Table 1" }]'
)


@pytest.fixture(scope="module")
def report() -> kit.Report:
    return kit.check(NAME, effort=SHORT)


@pytest.fixture
def falling(tmp_path: Path) -> Path:
    file = tmp_path / "invented-falling.toml"
    file.write_text(FALLING.replace("MORE", ""), encoding="utf-8")
    return file


def waived(tmp_path: Path) -> Path:
    file = tmp_path / "invented-waived.toml"
    one = WAIVER.partition(", {")[0] + "]"
    file.write_text(FALLING.replace("MORE", one), encoding="utf-8")
    return file


# --- the flat list ---


def test_the_list_for_the_type_checker_is_the_list_of_the_interpreter() -> None:
    body = ast.parse(Path(kit.__file__).read_text(encoding="utf-8")).body
    checked = next(node for node in body if isinstance(node, ast.If))
    names = [alias.asname for node in checked.body if isinstance(node, ast.ImportFrom) for alias in node.names]
    assert sorted(filter(None, names)) == kit.__all__
    assert all(getattr(kit, name) is not None for name in kit.__all__)


def test_without_hypothesis_the_kit_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> object:
        raise ModuleNotFoundError(f"No module named {name!r}", name="hypothesis")

    monkeypatch.delitem(vars(kit), "check", raising=False)
    monkeypatch.setattr("importlib.import_module", missing)
    with pytest.raises(PluginError, match=r"pip install 'turnback\[conformance\]'"):
        _ = kit.check


def test_importing_the_kit_loads_no_hypothesis() -> None:
    script = "import sys, turnback.conformance.new_rules; sys.exit('hypothesis' in sys.modules)"
    assert 0 == subprocess.run([sys.executable, "-c", script], check=False).returncode


# --- a report ---


def test_a_table_that_was_read_and_typed_twice_is_proved(report: kit.Report) -> None:
    assert report.passed
    assert "proved" == report.level.name
    assert report.data is not None
    assert report.data.complete
    assert report.oracle is not None
    assert report.oracle.agree


def test_the_totals_add_up_to_every_law(report: kit.Report) -> None:
    assert [law.id for law in kit.LAWS] == [outcome.law for outcome in report.outcomes]
    assert len(kit.LAWS) == sum(report.totals.values())


def test_a_report_says_of_each_law_how_it_was_checked(report: kit.Report) -> None:
    lines = str(report).splitlines()
    # Table 1 prints 14 sizes: 13 pairs of neighbours.
    assert any("count-never-falls (proved, 13 cells)" in line for line in lines)
    assert any("admitted (searched, 12 examples)" in line for line in lines)
    assert any(line.startswith("laws: ") for line in lines)
    assert "passed" == lines[-1]
    assert 80 >= max(len(line) for line in lines)


def test_what_was_recalled_from_memory_is_lawful_with_the_reason() -> None:
    level = kit.check("us-osha-1926-251", effort=SHORT).level
    assert "lawful" == level.name
    assert "from memory" in level.reason


def test_a_failure_reads_in_at_most_twelve_lines_and_names_the_row(falling: Path) -> None:
    report = kit.check(falling, effort=SHORT)
    assert not report.passed
    failed = next(outcome for outcome in report.outcomes if outcome.law == "count-never-falls")
    text = failure_lines(failed)
    assert 12 >= len(text)
    assert "FAILED count-never-falls: The number of clips never falls as the size grows," in text[0]
    assert "  row:      3/4 in (19.05 mm)" in text
    assert "  got:      3" in text
    assert "loads" == report.level.name
    assert "FAILED" == str(report).splitlines()[-1]


def test_the_same_seed_gives_the_same_report_but_for_the_time(report: kit.Report) -> None:
    again = kit.check(NAME, effort=SHORT)
    assert kit.certificate(report) == kit.certificate(again)
    assert report == attrs.evolve(again, subject=report.subject)


def test_check_values_from_memory_prove_nothing() -> None:
    subject = subject_of(NAME)
    assert subject.values is not None
    recalled = attrs.evolve(subject, values=attrs.evolve(subject.values, source_status="memory"))
    level = level_of(recalled, (), 0, kit.check(NAME, effort=SHORT).data, None, "not run")
    assert ("sourced", True) == (level.name, "memory" in level.reason)


def test_a_law_that_was_not_reached_fails_the_whole() -> None:
    level = level_of(subject_of(NAME), (Outcome("admitted", "not reached"),), 0, None, None, "")
    assert "loads" == level.name
    assert "admitted" in level.reason


# --- pytest ---


def test_the_door_for_pytest_passes_and_fails_with_the_report(falling: Path) -> None:
    kit.conformance_test(NAME, level="proved", effort=SHORT)()
    with pytest.raises(AssertionError, match="count-never-falls"):
        kit.conformance_test(falling, effort=SHORT)()
    with pytest.raises(AssertionError, match="wanted: sourced"):
        kit.conformance_test("us-osha-1926-251", level="sourced", effort=SHORT)()
    with pytest.raises(InputError, match="no such level"):
        kit.conformance_test(NAME, level="best")  # type: ignore[arg-type]  # a host without a type checker


# --- certificates ---


def test_a_certificate_says_what_was_run_on_what_and_verifies(report: kit.Report) -> None:
    told = json.loads(kit.certificate(attrs.evolve(report, effort=kit.QUICK)))
    assert ("certificate", NAME, "proved") == (told["kind"], told["rules"], told["level"])
    assert RULES.sha256 == told["rule_file_sha256"]
    assert "turnback-ubolt" == told["distribution"]
    assert {"mutants", "killed", "refused", "alive", "typed_by", "typed_on", "edition", "another_person"} == set(
        told["data"]
    )
    assert "seconds" not in told


def test_a_certificate_that_was_edited_is_not_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("turnback.conformance.effort.EFFORTS", (SHORT,))
    text = kit.certificate(kit.check(NAME, effort="quick"))
    assert kit.verify_certificate(text).same
    edited = text.replace('"level": "proved"', '"level": "lawful"')
    found = kit.verify_certificate(edited)
    assert not found.same
    assert ("level", "lawful", "proved") in [
        (place, then.strip("'"), now.strip("'")) for place, then, now in found.differences
    ]
    assert "NOT THE SAME" in str(found)


@pytest.mark.parametrize(
    "text", ["", "{}", '{"format": 1, "kind": "plan"}', '{"format": 1, "kind": "certificate"}', "[" * 99]
)
def test_what_is_no_certificate_is_one_clear_error(text: str) -> None:
    with pytest.raises(InputError):
        kit.verify_certificate(text)


# --- the command ---


def run(*words: str) -> int:
    return main(["conform", *words])


@pytest.fixture
def short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("turnback.conformance.effort.EFFORTS", (SHORT,))


@pytest.mark.usefixtures("short")
def test_the_command_examines_and_its_code_says_how_it_went(
    tmp_path: Path, falling: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    certificate = tmp_path / "out.json"
    assert 0 == run(NAME, "--certificate", str(certificate))
    assert "level: proved" in capsys.readouterr().out
    assert 0 == run("--verify", str(certificate))
    assert "the same: us-ca-8-8497 still reaches the level proved" in capsys.readouterr().out
    assert 11 == run(str(falling))
    assert 11 == run("us-osha-1926-251", "--at-least", "sourced")
    assert 10 == run(str(waived(tmp_path)))
    assert "passed, with 1 waived" in capsys.readouterr().out
    certificate.write_text(
        certificate.read_text(encoding="utf-8").replace('"alive": 0', '"alive": 1'), encoding="utf-8"
    )
    assert 8 == run("--verify", str(certificate), "--json")
    assert {"path": "data.alive", "certified": "1", "now": "0"} in json.loads(capsys.readouterr().out)["differences"]


@pytest.mark.usefixtures("short")
def test_the_report_as_json(falling: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 11 == run(str(falling), "--json")
    told = json.loads(capsys.readouterr().out)
    assert told["passed"] is False
    assert "3/4 in (19.05 mm)" == told["breakages"]["count-never-falls"][0]["row"]


def test_the_laws_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == run("--laws", "--json")
    assert [law.id for law in kit.LAWS] == [each["id"] for each in json.loads(capsys.readouterr().out)["laws"]]


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (("format = 1", "format = = 1"), "line 2"),
        (("title =", "titel ="), "title"),
        (('locator = "Table 1"', 'locater = "Table 1"'), "locator"),
        (('document = "Invented Institute, sheet 2"\n', ""), "source.document"),
        (('size = "3/4"', 'size = "1/2"'), "rows[1].size"),
        (('[threads]\ncondition = "dry"\n', ""), "threads"),
    ],
)
def test_a_bad_file_is_one_error_with_the_path_of_the_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str], place: str
) -> None:
    file = tmp_path / "bad.toml"
    text = FALLING.replace("MORE", "")
    assert change[0] in text
    file.write_text(text.replace(*change), encoding="utf-8")
    assert 2 == run(str(file))
    told = capsys.readouterr().err
    assert 1 == len(told.splitlines())
    assert place in told


def test_unknown_names_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(UnknownRuleSet):
        kit.check("us-ca-8-8498")
    assert 3 == run("us-ca-8-8498")
    assert "us-ca-8-8497" in capsys.readouterr().err
    assert 2 == run()
    assert 2 == run(NAME, "--seed", "-1")
    assert 2 == run("--verify", "no-such-file.json")
