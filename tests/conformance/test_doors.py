"""The three doors to the kit: the command, the function, and a test of two lines; certificates; levels."""

from __future__ import annotations

import ast
import json
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Final

import attrs
import pytest

import turnback.conformance as kit
from turnback.cli import main
from turnback.conformance.data_proof import data_proof
from turnback.conformance.effort import Effort
from turnback.conformance.level import level_of
from turnback.conformance.new_rules import rule_file, write_plugin
from turnback.conformance.outcome import Outcome
from turnback.conformance.report_text import failure_lines
from turnback.conformance.subject import subject_of
from turnback.errors import Conflict, InputError, PluginError, UnknownRuleSet
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import read_rules

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
    apart = sum(report.totals[state] for state in ("not applicable", "blocked", "not reached"))
    assert len(kit.LAWS) == report.run + apart
    assert f"laws: {len(kit.LAWS)} in all, {report.run} run; " in str(report)


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
    text = failure_lines(report, failed)
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


def test_check_values_that_were_not_read_prove_nothing() -> None:
    subject = subject_of(NAME)
    assert subject.values is not None
    data = data_proof(subject)
    for status, told in (("memory", "memory"), ("", "do not say how they were taken")):
        changed = attrs.evolve(subject, values=attrs.evolve(subject.values, source_status=status))
        level = level_of(changed, (), 0, data, None, "not run")
        assert ("sourced", True) == (level.name, told in level.reason)


def test_a_law_that_was_not_reached_fails_the_whole() -> None:
    level = level_of(subject_of(NAME), (Outcome("admitted", "not reached"),), 0, None, None, "")
    assert "loads" == level.name
    assert "admitted" in level.reason


# --- pytest ---


def test_the_door_for_pytest_passes_and_fails_with_the_report(falling: Path) -> None:
    kit.conformance_test(NAME, level="proved", effort=SHORT)()
    with pytest.raises(AssertionError, match="count-never-falls"):
        kit.conformance_test(falling, effort=SHORT)()
    with pytest.raises(AssertionError, match="FAILED: the level is lawful, sourced was asked for"):
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


def test_a_certificate_names_what_lay_beside_and_a_later_plugin_does_not_change_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("turnback.conformance.effort.EFFORTS", (SHORT,))
    text = kit.certificate(kit.check(NAME, effort="quick"))
    beside = json.loads(text)["beside"]
    assert NAME not in beside
    assert Catalogue.installed().rule_set("us-navy-14026").sha256 == beside["us-navy-14026"]
    later = attrs.evolve(RULES, id="installed-later", origin="later.toml")
    at_hand = Catalogue.installed()
    more = attrs.evolve(at_hand, rule_sets=(later, *at_hand.rule_sets))
    assert kit.verify_certificate(text, catalogue=more).same
    fewer = attrs.evolve(at_hand, rule_sets=tuple(each for each in at_hand.rule_sets if each.id != "us-navy-14026"))
    places = [place for place, _, _ in kit.verify_certificate(text, catalogue=fewer).differences]
    assert "beside.us-navy-14026" == places[0]


def test_a_certificate_of_a_rule_file_says_how_it_is_verified(falling: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("turnback.conformance.effort.EFFORTS", (SHORT,))
    text = kit.certificate(kit.check(falling, effort="quick"))
    with pytest.raises(UnknownRuleSet, match="turnback conform FILE --verify CERTIFICATE"):
        kit.verify_certificate(text)
    assert kit.verify_certificate(text, falling).same
    falling.write_text(falling.read_text(encoding="utf-8") + "# one remark more\n", encoding="utf-8")
    changed = kit.verify_certificate(text, falling)
    assert ["rule_file_sha256"] == [place for place, _, _ in changed.differences]


def test_a_changed_file_of_check_values_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("turnback.conformance.effort.EFFORTS", (SHORT,))
    paths = write_plugin("my-standard", "u-bolt", tmp_path)
    rules, values = (
        next(path for path in paths if path.name == f"my-standard.{end}") for end in ("toml", "check.toml")
    )
    text = kit.certificate(kit.check(rules, effort="quick"))
    values.write_text(values.read_text(encoding="utf-8") + "# one remark more\n", encoding="utf-8")
    found = kit.verify_certificate(text, rules)
    assert ["check_values_sha256"] == [place for place, _, _ in found.differences]


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
    first = certificate.read_bytes()
    assert 0 == run(NAME, "--certificate", str(certificate))
    assert first == certificate.read_bytes()
    capsys.readouterr()
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
def test_a_level_that_is_not_reached_is_said_in_words_and_in_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert 11 == run("us-osha-1926-251", "--at-least", "proved")
    words = " ".join(capsys.readouterr().out.split())
    # 29 CFR 1926.251, Table H-2: eight rows of three cells are from memory.
    assert "FAILED: the level is lawful, proved was asked for (because 24 of 28 numbers are from memory" in words
    assert 11 == run("us-osha-1926-251", "--at-least", "proved", "--json")
    told = json.loads(capsys.readouterr().out)
    assert (False, "proved", "lawful") == (told["passed"], told["asked"], told["level"])
    assert told["below"].startswith("the level is lawful, proved was asked for (because 24 of 28 numbers")
    assert 0 == run("us-osha-1926-251", "--at-least", "lawful", "--json")
    told = json.loads(capsys.readouterr().out)
    assert (True, "lawful", "") == (told["passed"], told["asked"], told["below"])


@pytest.mark.usefixtures("short")
def test_what_was_not_read_stands_beside_the_level_in_the_words_of_the_list(
    report: kit.Report, capsys: pytest.CaptureFixture[str]
) -> None:
    # 8 CCR 8497, Table 1 prints no condition of the threads; seven of its rows have a remark that was not read.
    told = "1 of 14 statements is common practice, without a source: threads; 7 of 14 statements are from memory"
    assert "proved" == report.level.name
    assert told in " ".join(str(report).split())
    assert 0 == main(["rules"])
    listed = " ".join(capsys.readouterr().out.split())
    assert f"not read: {told}" in listed
    assert f"not read: {told}" in " ".join(str(report).split())
    certified = json.loads(kit.certificate(report))["not_read"]
    assert {"place": "threads", "number": False, "status": "common practice"}.items() <= certified[0].items()
    assert 8 == len(certified)
    assert 0 == main(["rules", "--json"])
    assert certified == json.loads(capsys.readouterr().out)["not_read"][NAME]


def test_what_was_read_throughout_says_so(falling: Path) -> None:
    assert "not read: nothing; every value was read" in str(kit.check(falling, effort=SHORT)).splitlines()


# --- a failure is seen again ---


def failing(folder: Path) -> Path:
    """Return a rule file whose printed turn-back spreads its clips farther than its greatest distance."""
    file = folder / "my own.toml"
    text = rule_file("my-standard", "u-bolt").text
    assert text.count('least = "table"') == 1
    file.write_text(text.replace('least = "table"', 'greatest = "table"'), encoding="utf-8")
    return file


def block_of(text: str, law: str) -> str:
    return text[text.index(f"FAILED {law}") :].partition("\n\n")[0]


@pytest.mark.usefixtures("short")
def test_the_lines_of_a_failure_run_as_they_stand_and_fail_in_the_same_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("turnback.conformance.replaying.EFFORTS", (SHORT,))
    monkeypatch.chdir(tmp_path)
    assert 11 == run(failing(tmp_path).name, "--seed", "3")
    first = block_of(capsys.readouterr().out, "scope-answers")
    again, plan = (
        next(line for line in first.splitlines() if line.startswith(f"  {label}:")).partition(":")[2].strip()
        for label in ("again", "plan")
    )
    words = shlex.split(again)
    assert ["turnback", "conform", "my own.toml", "--only", "scope-answers"] == words[:5]
    assert 11 == main(words[1:])
    assert first == block_of(capsys.readouterr().out, "scope-answers")
    with pytest.raises(Conflict) as caught:
        exec(plan, {})  # the line is to be copied into Python as it stands
    assert f"got:      Conflict: {str(caught.value)[:30]}" in first


def test_a_rule_set_without_a_name_is_seen_again_by_python(falling: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rules = read_rules(falling)
    first = block_of(str(kit.check(rules, effort=SHORT)), "count-never-falls")
    again = first.splitlines()[-1].removeprefix("  again:    ")
    exec(again, {"rules": rules})  # the line is to be copied into Python as it stands
    assert first == block_of(capsys.readouterr().out, "count-never-falls")


@pytest.mark.usefixtures("short")
def test_one_law_alone_gives_no_level_and_no_certificate(
    tmp_path: Path, falling: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 0 == run(str(falling), "--only", "torque-never-falls")
    out = capsys.readouterr().out
    assert "level: none is given" in out
    assert "passed; torque-never-falls alone was run" == out.splitlines()[-1]
    assert 2 == run(str(falling), "--only", "torque-never-fals")
    assert "Did you mean torque-never-falls?" in capsys.readouterr().err
    assert 2 == run(str(falling), "--only", "torque-never-falls", "--certificate", str(tmp_path / "no.json"))
    assert 2 == run(str(falling), "--only", "torque-never-falls", "--at-least", "loads")
    assert not (tmp_path / "no.json").exists()


def test_a_failure_with_much_to_say_keeps_its_row_and_its_lines_to_copy(report: kit.Report) -> None:
    much = "so many words that they take more than two lines of a report, each of them as long as a line may be, " * 3
    breakage = kit.Breakage(much, much, much, "3/4 in", much, "tb.plan(tb.Rope('3/4 in'), tb.ThimbleEye())")
    other = attrs.evolve(breakage, row="1 in")
    text = failure_lines(report, Outcome("scope-answers", "failed", "searched", 3, much, (breakage, other)))
    assert 12 == len(text)
    assert text[-1].startswith("  again:    import turnback.conformance as kit; print(kit.check('us-ca-8-8497', ")
    assert text[-2].startswith("  plan:     import turnback as tb; ")
    assert "  row:      3/4 in" in text


@pytest.mark.usefixtures("short")
def test_what_builds_on_a_broken_law_is_counted_and_not_told_again(tmp_path: Path) -> None:
    report = kit.check(failing(tmp_path), effort=SHORT)
    assert 30 < report.totals["blocked"]
    assert "BLOCKED" not in str(report)
    assert f"scope-answers; {report.totals['blocked']} more build on them" in report.level.reason


@pytest.mark.usefixtures("short")
def test_the_report_as_json(falling: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 11 == run(str(falling), "--json")
    told = json.loads(capsys.readouterr().out)
    assert told["passed"] is False
    assert "3/4 in (19.05 mm)" == told["breakages"]["count-never-falls"][0]["row"]


def test_the_laws_are_listed_with_a_mark_where_a_file_may_waive_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == run("--laws")
    out = capsys.readouterr().out
    told = " ".join(out.split())
    marks = {line[2:].partition(":")[0]: line[0] for line in out.splitlines() if line[:2] in ("w ", "  ")}
    # A table may be printed so that the count falls; no document makes a plan that it does not admit.
    assert ("w", " ") == (marks["count-never-falls"], marks["admitted"])
    assert "w: a rule file may waive it" in out
    for law in kit.LAWS:
        assert f"{law.id}: {law.sentence}" in told
        assert not law.redundant or f"Kept although it is redundant: {law.redundant}." in told
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
        (('[threads]\ncondition = "dry"\n', ""), "threads: "),
        (('locator = "Table 1"\n', ""), "source.locator: this key is required"),
        (('locator = "Table 1"', 'locator = ""'), "source.locator: "),
        (('status = "read"\n', ""), "source.status: "),
        (('id = "invented"\n', ""), "source.id: "),
        (('status = "read"', 'status = "reed"'), 'Did you mean "read"?'),
        (("torque = 130", "torqe = 130"), "rows[1].torqe: "),
        (("MORE", WAIVER.replace("count-never-falls", "count-never-fals")), "waivers[0].law: "),
    ],
)
def test_a_bad_file_is_one_error_with_the_path_of_the_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str], place: str
) -> None:
    file = tmp_path / "bad.toml"
    assert change[0] in FALLING
    file.write_text(FALLING.replace(*change).replace("MORE", ""), encoding="utf-8")
    assert 2 == run(str(file))
    told = capsys.readouterr()
    assert "" == told.out
    assert 1 == len(told.err.splitlines())
    assert place in told.err
    assert 1 == told.err.count("(rule file bad.toml)")


def test_an_unknown_style_is_said_once_with_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.toml"
    file.write_text(FALLING.replace("MORE", "").replace('"u-bolt"', '"u-bold"'), encoding="utf-8")
    assert 3 == run(str(file))
    told = capsys.readouterr().err
    assert (1, 1) == (told.count("u-bold"), told.count("(rule file bad.toml)"))
    assert "Did you mean u-bolt?" in told


def test_a_waiver_of_a_law_that_does_not_apply_waives_nothing(tmp_path: Path) -> None:
    file = tmp_path / "idle.toml"
    idle = WAIVER.partition(", {")[0].replace("count-never-falls", "efficiency-bands-cover") + "]"
    file.write_text(FALLING.replace("count = 3", "count = 4").replace("MORE", idle), encoding="utf-8")
    report = kit.check(file, effort=SHORT, only="efficiency-bands-cover")
    assert not report.passed
    assert "take the waiver out" in report.outcomes[0].breakages[0].got


def test_unknown_names_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(UnknownRuleSet):
        kit.check("us-ca-8-8498")
    assert 3 == run("us-ca-8-8498")
    assert "us-ca-8-8497" in capsys.readouterr().err
    assert 2 == run()
    assert 2 == run(NAME, "--seed", "-1")
    assert 2 == run("--verify", "no-such-file.json")
