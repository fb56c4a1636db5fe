"""A new rule set to begin with: it holds, it is marked as invented, every key is explained, nothing is written over.

The expected numbers are those of the invented table, typed here a second time.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from datetime import date
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

import turnback_ubolt.plugin
from turnback.conformance import Effort, check, read_check_values
from turnback.conformance.new_rules import plugin_files, rule_file, write_plugin, write_rule_file
from turnback.errors import InputError, UnknownStyle
from turnback.model.styles import ClipStyle
from turnback.quantities import Length
from turnback.rules import RuleSet, parse_rules
from turnback.rules._reading_keys import FILE, KEYS
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import hookimpl
from turnback_ubolt import U_BOLT

STYLES = ("u-bolt", "mirrored-saddle", "single-plate", "double-plate")
IN_SERIES = ("u-bolt", "mirrored-saddle")
DAY = date(2026, 11, 25)
SECTION = re.compile(r"^# == (?P<name>[a-z_]+) ==$", re.MULTILINE)
OFF = re.compile(r"(?:^#[^ \n].*\n|^#    .*\n)+", re.MULTILINE)
"""A block of keys that are off: lines that begin with # and no space, or go on inside a list."""


def text_for(style: str) -> str:
    return rule_file("my-standard", style).text


def sections(text: str) -> dict[str, str]:
    found = list(SECTION.finditer(text))
    ends = [match.start() for match in found[1:]] + [len(text)]
    return {match["name"]: text[match.end() : end] for match, end in zip(found, ends, strict=True)}


def toml_lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.strip() and not line.startswith("#")]


# --- the rule file ---


@pytest.mark.parametrize("style", STYLES)
def test_a_new_rule_file_holds_at_once_and_costs_at_most_sixty_lines(style: str) -> None:
    rules = parse_rules(text_for(style))
    assert ("my-standard", style, 3) == (rules.id, rules.style, len(rules.rows))
    assert len(toml_lines(text_for(style))) <= 60


@pytest.mark.parametrize("style", STYLES)
def test_it_says_in_every_place_that_it_is_invented(style: str) -> None:
    text = text_for(style)
    rules = parse_rules(text)
    assert text.startswith("# Invented example, not for use")
    for told in (rules.title, rules.source.document, rules.notes[0].value):
        assert told.startswith("Invented example, not for use")
    assert "user" == rules.citation.status
    # Nothing is rated, for no source rates it.
    assert ((), None) == (rules.efficiency, rules.efficiency_at_most)


@pytest.mark.parametrize("style", STYLES)
def test_every_key_of_the_format_is_explained_in_its_own_section(style: str) -> None:
    found = sections(text_for(style))
    head = text_for(style).partition("# == file ==")[0]
    missing = []
    for form, keys in KEYS.items():
        name = form.partition(".")[0] or "file"
        for key in keys:
            if form == FILE and key in found:
                continue  # it is a section of its own
            place = found[name] + (head if key in ("locator", "status", "note") else "")
            if not re.search(rf"\b{key}\b", place):
                missing.append(f"{form}.{key}")
    assert [] == missing


def blocks(text: str) -> Iterator[tuple[str, str]]:
    """Yield each block of keys that are off, and the file with that block on."""
    for block in OFF.finditer(text):
        on = re.sub(r"^#", "", block[0], flags=re.MULTILINE)
        yield block[0], text[: block.start()] + on + text[block.end() :]


@pytest.mark.parametrize("style", STYLES)
def test_every_key_that_is_off_holds_when_the_mark_is_taken_away(style: str) -> None:
    text = text_for(style)
    off = list(blocks(text))
    assert len(off) >= 20
    for block, changed in off:
        rules = parse_rules(changed, block)
        assert attrs.evolve(parse_rules(text), sha256="", origin="") != attrs.evolve(rules, sha256="", origin="")


@pytest.mark.parametrize("style", STYLES)
def test_every_line_that_is_no_explanation_is_a_key(style: str) -> None:
    # A key that is commented out with a space behind the mark would be read as prose; only [count] is, and says so.
    strange = [
        line
        for line in text_for(style).splitlines()
        if re.match(r"# (?:\[|[a-z_]+ = )", line) and not line.startswith(("# [count]", "# rule", "# sizes"))
    ]
    assert [] == strange


def test_the_rule_in_place_of_a_table_holds_as_the_file_says_to_write_it() -> None:
    text = text_for("u-bolt")
    counted = "".join(f"{line[2:]}\n" for line in re.findall(r"^# (?:\[count\]|rule = .*|sizes.* = .*)$", text, re.M))
    cut = re.sub(r"^# == units ==.*?(?=^# == count ==)", "", text, flags=re.MULTILINE | re.DOTALL)
    cut = cut.replace('least = "table"\n', 'least = "7 diameters"\n').replace('identity = "7 diameters"\n', "")
    rules = parse_rules(cut.replace("# == spacing ==", counted + "\n# == spacing =="))
    assert rules.count_rule is not None
    # 2 x 1/2 + 3 = 4.
    assert 4 == rules.count_rule.count(Length.of("1/2 in"))


def test_the_invented_table_of_clips_in_a_row() -> None:
    rules = parse_rules(text_for("u-bolt"))
    cells = []
    for row in rules.rows:
        assert row.count_forged is not None
        assert row.count_other is not None
        assert row.turn_back is not None
        assert row.spacing is not None
        assert row.torque is not None
        # 7 diameters between centres, as the identity says.
        assert 7 * row.size.nanometres == row.spacing.value.nanometres
        # 2 b + (n - 1) s with b of one diameter.
        assert row.turn_back.value >= row.size * 2 + row.spacing.value * (row.count_other.value - 1)
        cells.append((str(row.size.inches), row.count_forged.value, row.count_other.value, row.torque.value.value))
    assert [("1/2", 4, 5, Fraction(40)), ("5/8", 4, 5, Fraction(60)), ("3/4", 5, 6, Fraction(90))] == cells


# --- the distribution ---


@pytest.fixture(scope="module")
def texts() -> dict[str, str]:
    return {file.path: file.text for file in plugin_files("my-standard", "u-bolt", today=DAY)}


def test_two_new_rule_sets_name_two_documents_and_stand_beside_each_other() -> None:
    files = [parse_rules(rule_file(name, "u-bolt").text) for name in ("my-standard", "other-standard")]
    own, other = files
    assert own.source.document != other.source.document

    def turnback_rule_sets() -> tuple[RuleSet, ...]:
        return tuple(files)

    catalogue = Catalogue.of(SimpleNamespace(turnback_rule_sets=hookimpl(turnback_rule_sets)), turnback_ubolt.plugin)
    for rules in files:
        report = check(rules, effort=Effort("few", 8, 10), only="one-source-one-spelling", catalogue=catalogue)
        assert report.passed, str(report)


def test_the_files_of_a_distribution(texts: dict[str, str]) -> None:
    home = "src/turnback_my_standard"
    assert {
        "pyproject.toml", "README.md", f"{home}/__init__.py", f"{home}/plugin.py", f"{home}/py.typed",
        f"{home}/rules/my-standard.toml", f"{home}/rules/my-standard.check.toml", "tests/test_conformance.py",
    } == set(texts)  # fmt: skip
    assert texts[f"{home}/rules/my-standard.toml"] == text_for("u-bolt")
    project = tomllib.loads(texts["pyproject.toml"])
    assert "turnback-my-standard" == project["project"]["name"]
    assert {"my-standard": "turnback_my_standard.plugin"} == project["project"]["entry-points"]["turnback.plugins"]
    assert ["turnback>=0.1,<0.2", "turnback-ubolt"] == project["project"]["dependencies"]
    for path in ("README.md", f"{home}/__init__.py", f"{home}/rules/my-standard.check.toml"):
        assert "nvented example, not for use" in texts[path], path
    assert "nvented example, not for use" in project["project"]["description"]


def test_the_whole_test_file_has_three_lines_at_most(texts: dict[str, str]) -> None:
    assert len(texts["tests/test_conformance.py"].splitlines()) <= 3


def test_the_check_values_do_not_claim_that_anybody_compared(texts: dict[str, str], tmp_path: Path) -> None:
    path = tmp_path / "my-standard.check.toml"
    path.write_text(texts["src/turnback_my_standard/rules/my-standard.check.toml"], encoding="utf-8")
    values = read_check_values(path)
    assert ("my-standard", DAY.isoformat(), False) == (values.rules, values.typed_on, values.another_person)
    assert "user" == values.source_status


@pytest.mark.parametrize("style", STYLES)
def test_it_keeps_every_law_and_its_check_values_notice_every_slip(style: str, tmp_path: Path) -> None:
    (path,) = (path for path in write_plugin("my-standard", style, tmp_path) if path.name == "my-standard.toml")
    # A few examples of each law, for tests/docs walks a whole run; with so few a law may find no case to speak of.
    report = check(path, effort=Effort("few", 8, 100), seed=3)
    assert [] == [outcome.law for outcome in report.outcomes if outcome.state in ("failed", "blocked", "waived")]
    assert () == report.typed
    assert report.oracle is not None
    assert report.oracle.agree
    assert report.data is not None
    assert 80 < report.data.killed
    assert () == report.data.survivors
    # Invented numbers are nobody's: it may be lawful, and never sourced.
    assert report.level.name in ("loads", "lawful")


# --- what is refused ---


@pytest.mark.parametrize(
    "name",
    [
        "",
        " ",
        "A",
        "my_standard",
        "my standard",
        "-a",
        "a-",
        "a--b",
        "é",
        "a.b",
        "../a",
        "a/b",
        "a\n",
        "a\0",
        "x" * 65,
        "٣",
    ],
)
@pytest.mark.parametrize("write", [write_rule_file, write_plugin])
def test_what_is_no_id_is_refused(name: str, write: object, tmp_path: Path) -> None:
    assert callable(write)
    with pytest.raises(InputError, match="no id") as caught:
        write(name, "u-bolt", tmp_path)
    assert "single hyphens" in caught.value.bound
    assert [] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("new", "word of the command line"),
        ("us-navy-14026", "installed already"),
        ("common-practice-efficiency", "installed already"),
        ("ubolt", "distribution of this name"),  # turnback-ubolt would be replaced by pip
    ],
)
def test_an_id_that_is_taken_is_refused(name: str, told: str) -> None:
    for make in (rule_file, plugin_files):
        with pytest.raises(InputError, match=told):
            make(name, "u-bolt")


@given(st.text(max_size=66) | st.text("ab1-", min_size=1, max_size=66))
def test_what_is_no_id_here_is_none_in_a_rule_file_either(name: str) -> None:
    text = text_for("u-bolt")
    assert _takes(lambda: rule_file(name, "u-bolt"), "NAME") is _takes(
        lambda: parse_rules(text.replace('id = "my-standard"', f"id = {_quoted(name)}", 1)), "id"
    )


def _takes(make: Callable[[], object], field: str) -> bool:
    try:
        make()
    except InputError as error:
        if error.field != field:
            raise
        return False
    return True


def _quoted(name: str) -> str:
    return '"' + "".join(f"\\U{ord(c):08x}" if c < " " or c in '"\\\x7f' else c for c in name) + '"'


def test_an_unknown_style_names_the_nearest() -> None:
    with pytest.raises(UnknownStyle, match=r"Did you mean u-bolt\?"):
        rule_file("my-standard", "u-blot")


def test_nothing_is_written_over(tmp_path: Path) -> None:
    file, folder = tmp_path / "my-standard.toml", tmp_path / "turnback-my-standard"
    file.write_text("mine", encoding="utf-8")
    folder.mkdir()
    for write in (write_rule_file, write_plugin):
        with pytest.raises(InputError, match="nothing is written over"):
            write("my-standard", "u-bolt", tmp_path)
    assert "mine" == file.read_text(encoding="utf-8")
    assert [] == list(folder.iterdir())


def test_a_link_that_leads_nowhere_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "my-standard.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(InputError, match="nothing is written over"):
        write_rule_file("my-standard", "u-bolt", tmp_path)
    assert not (tmp_path / "elsewhere.toml").exists()


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    for write in (write_rule_file, write_plugin):
        with pytest.raises(InputError, match="no such folder"):
            write("my-standard", "u-bolt", tmp_path / "nowhere")
    assert [] == list(tmp_path.iterdir())


def test_a_distribution_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, *arguments: object, **named: object) -> object:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "open", full)
    with pytest.raises(OSError, match="No space"):
        write_plugin("my-standard", "u-bolt", tmp_path)
    monkeypatch.undo()
    assert [] == list(tmp_path.iterdir())


def test_a_style_of_somebody_else_gets_its_own_eyes() -> None:
    own = attrs.evolve(U_BOLT, id="own-clip", title="clip of our own", terminations=("lap splice", "soft eye"))

    def turnback_styles() -> tuple[ClipStyle, ...]:
        return (own,)

    def turnback_rule_sets() -> tuple[RuleSet, ...]:
        return ()

    plugin = SimpleNamespace(turnback_styles=hookimpl(turnback_styles), turnback_rule_sets=hookimpl(turnback_rule_sets))
    catalogue = Catalogue.of(plugin, turnback_ubolt.plugin)
    rules = parse_rules(rule_file("my-standard", "own-clip", catalogue=catalogue).text)
    assert ("own-clip", ("lap splice", "soft eye")) == (rules.style, rules.scope[0].terminations)
    (project,) = (
        file.text
        for file in plugin_files("my-standard", "own-clip", catalogue=catalogue)
        if file.path == "pyproject.toml"
    )
    # Who brings it is not installed, so there is nothing to name.
    assert ["turnback>=0.1,<0.2"] == tomllib.loads(project)["project"]["dependencies"]


def test_the_torque_in_two_units_is_one_torque() -> None:
    # 40 lbf·ft = 54.2 N·m (NIST SP 811: 1 lbf·ft = 1.355818 N·m), printed as 54 in the key that is off.
    text = text_for("u-bolt").replace('#torque_also = "54 N·m"', 'torque_also = "54 N·m"')
    torque = parse_rules(text).rows[0].torque
    assert torque is not None
    assert (Fraction(54), "N·m") == torque.value.also
