"""``turnback.sphinxext`` serves the site of a plugin as it serves ours, and a site that is wrong fails and says how."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

pytest.importorskip("sphinx", reason="the extra [docs] is not installed")

from docutils import nodes
from sphinx.errors import ExtensionError

from turnback.conformance.data_proof import data_proof
from turnback.conformance.laws import LAWS
from turnback.conformance.subject import subject_of
from turnback.rules.catalogue import Catalogue
from turnback.sphinxext.certificates import read_certificate
from turnback.sphinxext.coverage import read_coverage
from turnback.sphinxext.laws import law_tests, module_of
from turnback.sphinxext.nodes import paragraph
from turnback.sphinxext.uses import sources_of, taken_from, uses_of_core, uses_of_rule_sets

ROOT: Final = Path(__file__).parents[2]
REFERENCE: Final = ROOT / "docs" / "reference"
sys.path.insert(0, str(ROOT / "docs" / "_ext"))
from hostile_list import PAGE as HOSTILE_PAGE  # noqa: E402
from hostile_list import hostile_page  # noqa: E402
from law_tests import PAGE as LAW_TESTS_PAGE  # noqa: E402
from law_tests import law_tests_text  # noqa: E402

CERTIFY: Final = "stale: run python docs/_ext/write_certificates.py"
EVERYTHING: Final = (*Catalogue.installed().rule_sets, *Catalogue.installed().bases)


def build(
    folder: Path, conf: str, index: str, builder: str = "dummy", path: Path | None = None
) -> subprocess.CompletedProcess[str]:
    """Build a site of one page and what the extension writes."""
    folder.mkdir(exist_ok=True)
    (folder / "conf.py").write_text(f'extensions = ["turnback.sphinxext"]\n{conf}\n', encoding="utf-8")
    (folder / "index.rst").write_text(f"Site\n====\n\n{index}\n", encoding="utf-8")
    env = {**os.environ, **({"PYTHONPATH": str(path)} if path is not None else {})}
    command = [sys.executable, "-m", "sphinx", "-q", "-n", "-W", "--keep-going", "-b", builder, ".", "out"]
    return subprocess.run(command, capture_output=True, text=True, check=False, env=env, cwd=folder)


def test_nothing_else_of_the_library_loads_it() -> None:
    said = "import sys, turnback, turnback.cli.main; print(sorted({'sphinx', 'docutils'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", said], capture_output=True, text=True, check=True)
    assert "[]\n" == done.stdout


def test_a_site_of_a_plugin_gets_its_pages(tmp_path: Path) -> None:
    conf = 'turnback_rule_sets = ["us-army-3810-305"]\nturnback_law_pages = False\nhtml_theme = "basic"'
    index = ".. rule-set-index::\n\n.. rule-set-toctree::\n\nSee :law:`row-edges`.\n\n.. source-coverage::\n"
    done = build(tmp_path / "site", conf, index, "html")
    assert (0, "") == (done.returncode, done.stderr)
    assert ["us-army-3810-305.html"] == [page.name for page in (tmp_path / "site" / "out" / "rule-sets").iterdir()]
    page = (tmp_path / "site" / "out" / "rule-sets" / "us-army-3810-305.html").read_text(encoding="utf-8")
    text = " ".join(re.sub(r"<[^>]+>", " ", page).split())
    # TM 5-3810-305-10, Table 6: 1/2 in, 3 clips, 11 in, 65 lbf·ft and 88 N·m.
    for said in (
        "11 in",
        "279.4 mm",
        "65 lbf·ft",
        "88 N·m",
        "How far it is proved",
        "turnback conform us-army-3810-305",
    ):
        assert said in text, said
    # What git would take for a page of the author's is not.
    ignored = (tmp_path / "site" / "rule-sets" / ".gitignore").read_text(encoding="utf-8")
    assert [".gitignore", "us-army-3810-305.rst"] == ignored.split()


def test_a_page_of_the_author_is_neither_taken_away_nor_written_over(tmp_path: Path) -> None:
    folder = tmp_path / "site" / "rule-sets"
    folder.mkdir(parents=True)
    own, left = folder / "own.rst", folder / "gone.rst"
    own.write_text("Own\n===\n", encoding="utf-8")
    left.write_text(".. Written when the site is built; do not edit.\n\nGone\n====\n", encoding="utf-8")
    conf = 'turnback_rule_sets = ["us-army-3810-305"]\nturnback_law_pages = False'
    index = ".. rule-set-toctree::\n\n.. toctree::\n\n   rule-sets/own\n"
    done = build(tmp_path / "site", conf, index)
    assert (0, "") == (done.returncode, done.stderr)
    assert "Own\n===\n" == own.read_text(encoding="utf-8")
    assert not left.exists()
    clash = folder / "us-army-3810-305.rst"
    clash.write_text("Own\n===\n", encoding="utf-8")
    done = build(tmp_path / "site", conf, index)
    assert 0 != done.returncode
    assert "us-army-3810-305.rst is a page of your own" in done.stderr
    assert "Own\n===\n" == clash.read_text(encoding="utf-8")


def test_a_rule_set_that_is_not_installed_stops_the_build(tmp_path: Path) -> None:
    done = build(tmp_path / "site", 'turnback_rule_sets = ["us-army-3810-350"]', "")
    assert 0 != done.returncode
    assert "no rule set 'us-army-3810-350' is installed. Did you mean us-army-3810-305?" in done.stderr


PLUGIN: Final = """
from pathlib import Path
import turnback.rules as rules

@rules.hookimpl
def turnback_rule_sets():
    return (rules.read_rules(Path(__file__).with_suffix(".toml")),)
"""
WAIVER: Final = '\n[[waivers]]\nlaw = "row-edge"\nreason = "the source prints it so"\n'


def distribution(folder: Path, name: str, file: str) -> None:
    """Lay out an installed plugin with one rule file."""
    (folder / f"{name}.py").write_text(PLUGIN, encoding="utf-8")
    (folder / f"{name}.toml").write_text(file, encoding="utf-8")
    info = folder / f"{name}-1.0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n", encoding="utf-8")
    (info / "entry_points.txt").write_text(f"[turnback.plugins]\n{name} = {name}\n", encoding="utf-8")


def test_a_site_that_is_wrong_says_what_is_wrong(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    whole = subject_of("us-army-3810-305").text
    source = re.compile(r"^\[source\]\n(?:[^\[\n].*\n|\n)*", re.MULTILINE)
    uncited = source.sub("", whole.replace('"us-army-3810-305"', '"uncited-clips"'))
    assert "[source]" in whole
    assert "[source]" not in uncited
    distribution(elsewhere, "uncited", uncited)
    distribution(elsewhere, "waiving", whole.replace('"us-army-3810-305"', '"waiving-clips"') + WAIVER)
    site = tmp_path / "site"
    (site / "certificates").mkdir(parents=True)
    stale = json.loads((ROOT / "docs" / "certificates" / "us-army-3810-305.json").read_text(encoding="utf-8"))
    stale["rule_file_sha256"] = "0" * 64
    (site / "certificates" / "us-army-3810-305.json").write_text(json.dumps(stale), encoding="utf-8")
    entry = '[[source]]\nid = "no-such-source"\nrest = "Nothing."\n'
    (site / "coverage.toml").write_text(entry, encoding="utf-8")
    said = {
        ".. rule-set:: us-ca-8-8479": "Did you mean us-ca-8-8497?",
        ".. law:: count-never-fall": "Did you mean count-never-falls?",
        "A law: :law:`torque-never-fals`.": "Did you mean torque-never-falls?",
        ".. rope-by-source:: u-bolt\n   :rope: 1 in 6x19 IWRC unobtainium": "unobtainium",
        ".. source-coverage::": "the source tm-5-3810-305-10 has no entry",
        "And :doc:`no/such-page`.": "no/such-page",
    }
    conf = 'turnback_rule_sets = ["us-army-3810-305", "waiving-clips"]\nturnback_coverage = "coverage.toml"'
    index = "\n\n".join((*said, ".. rule-set-toctree::", ".. law-toctree::"))
    done = build(site, conf, index, path=elsewhere)
    assert 0 != done.returncode
    for words in (
        *said.values(),
        "no source has the id no-such-source",
        "waives a law that nobody knows: row-edge. Did you mean row-edges?",
        "turnback conform us-army-3810-305 --certificate",
        "uncited 1.0 (uncited): InputError: source: this key is required (rule file uncited.toml)",
    ):
        assert words in done.stderr, words


def test_an_option_of_the_command_line_keeps_its_hyphens() -> None:
    built = paragraph("Give --maker-torque, or (--clip-size) too--late.")
    assert ["--maker-torque", "--clip-size"] == [each.astext() for each in built.findall(nodes.literal)]
    assert "Give --maker-torque, or (--clip-size) too--late." == built.astext()
    assert "" == paragraph("").astext()


# --- what is not taken ---


def test_every_source_says_what_is_not_taken_from_it() -> None:
    uses = (*uses_of_rule_sets(EVERYTHING), *uses_of_core())
    used = {source.id for source in sources_of(uses, EVERYTHING)}
    assert 25 < len(used)
    assert () == read_coverage(REFERENCE / "coverage.toml").problems(used)


def test_what_is_taken_is_counted_by_place_and_status() -> None:
    uses = uses_of_rule_sets(EVERYTHING)
    osha = next(source for source in sources_of(uses) if source.id == "29-cfr-1926-251")
    found = {(each.place, each.what): dict(each.statuses) for each in taken_from(osha, uses)}
    # Table H-2 has nine rows, of which the first was read.
    assert {"read": 1, "memory": 8} == found["(c)(5), Table H-2", "count forged"]
    california = next(source for source in sources_of(uses) if source.id == "8-ccr-8497")
    found = {(each.place, each.what): dict(each.statuses) for each in taken_from(california, uses)}
    # Table 1 has fourteen rows, all read; Table 2 ten, of which the first was read.
    assert {"read": 14} == found["Table 1", "torque"]
    assert {"read": 1, "memory": 9} == found["Table 2", "torque"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[source]]\nid = 'x'\n", "rest is a text"),
        ("[[source]]\nid = 'x'\nrest = 'y'\nnot_taken = 'z'\n", "not_taken is a list of tables"),
        (
            "[[source]]\nid = 'x'\nrest = 'y'\nnot_taken = [{ what = 'a', why = 'forgotten', reason = 'b' }]\n",
            "why is one of out of scope, not read, not printed, not 'forgotten'",
        ),
        ("[[source]]\nid = 'x'\nrest = 'y'\n[[source]]\nid = 'x'\nrest = 'y'\n", "a second entry for x"),
        ("source = [", "cannot be read"),
    ],
)
def test_a_coverage_file_of_another_form_is_refused(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "coverage.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ExtensionError, match=re.escape(said)):
        read_coverage(path)


# --- what is committed beside the pages ---


@pytest.mark.parametrize("rules", EVERYTHING, ids=lambda rules: rules.id)
def test_every_rule_set_has_a_certificate_that_fits(rules: object) -> None:
    found = next(each for each in EVERYTHING if each is rules)
    path = ROOT / "docs" / "certificates" / f"{found.id}.json"
    assert read_certificate(found, path.parent, "") is not None
    kept = json.loads(path.read_text(encoding="utf-8"))
    # What goes stale with any change of the library, such as its hash, the page says of itself; this may not.
    assert kept["level"] in ("lawful", "sourced", "proved"), CERTIFY
    assert [law.id for law in LAWS] == [each["id"] for each in kept["laws"]], CERTIFY
    applying = {law.id for law in LAWS if not law.applies(subject_of(found))}
    assert applying >= {each["id"] for each in kept["laws"] if each["state"] != "not applicable"}, CERTIFY
    data, then = data_proof(subject_of(found)), kept["data"]
    now = (data.total, data.killed, data.refused, len(data.survivors))
    assert now == (then["mutants"], then["killed"], then["refused"], then["alive"]), CERTIFY


def test_no_certificate_is_left_over() -> None:
    names = {path.stem for path in (ROOT / "docs" / "certificates").iterdir()}
    assert {rules.id for rules in EVERYTHING} == names


def test_the_tests_of_each_law_are_listed() -> None:
    said = "run: python docs/_ext/law_tests.py"
    assert law_tests_text() == LAW_TESTS_PAGE.read_text(encoding="utf-8"), said


def test_every_law_has_a_test_or_says_why_it_has_none() -> None:
    listed = law_tests(LAW_TESTS_PAGE)
    assert [] == [law.id for law in LAWS if not listed[law.id] and not law.redundant]
    assert [] == [file for files in listed.values() for file in files if not (ROOT / file).is_file()]


def test_every_hostile_way_is_listed() -> None:
    said = "run: PYTHONPATH=. python docs/_ext/hostile_list.py"
    assert hostile_page() == HOSTILE_PAGE.read_text(encoding="utf-8"), said


def test_every_law_has_a_module() -> None:
    assert [] == [law.id for law in LAWS if not module_of(law).startswith("turnback.conformance.laws_")]
