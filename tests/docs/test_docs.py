"""The site builds without a warning from a clean copy, and says what the library says.

Expected numbers are typed from the sources (see ``tests/published``), counts of cells from the printed tables.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Final

import pytest
from tests.docs.site import DOCS, build, inventory

import turnback
from turnback.cli.codes import CODES_TEXT
from turnback.rules.catalogue import Catalogue
from turnback.rules.servicefile import design_factors, service_rules

STATUSES: Final = ("read", "memory", "common practice", "user")


class Reader(HTMLParser):
    """Reads headings, tables as rows of cell texts, and labels of status."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.labels: list[str] = []
        self.headings: list[str] = []
        self._open: list[str] = []
        self._in_table = self._in_label = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        classes = (given.get("class") or "").split()
        if tag == "table":
            self._in_table = "rule-table" in classes
        elif tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th", "h1", "h2"):
            self._open = []
        elif tag == "span" and "status" in classes:
            self._in_label = True
            if self._in_table:
                self.labels.append("")

    def handle_data(self, data: str) -> None:
        self._open.append(data)
        if self._in_label and self._in_table:
            self.labels[-1] += data

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th"):
            self.rows[-1].append(" ".join("".join(self._open).split()))
        elif tag in ("h1", "h2"):
            self.headings.append("".join(self._open).strip().removesuffix("¶"))
        elif tag == "span":
            self._in_label = False
        elif tag == "table":
            self._in_table = False


def read(page: Path) -> Reader:
    reader = Reader()
    reader.feed(page.read_text(encoding="utf-8"))
    return reader


def pages(site: Path) -> Iterator[Path]:
    return (page for page in sorted(site.rglob("*.html")) if page.name not in ("genindex.html", "search.html"))


def test_every_name_of_the_face_has_an_entry(site: Path) -> None:
    documented = {name for name, kind in inventory(site) if kind.startswith("py:")}
    assert set() == {f"turnback.{name}" for name in turnback.__all__} - documented


def test_the_methods_of_a_plan_are_documented(site: Path) -> None:
    documented = {name for name, _ in inventory(site)}
    for name in ("clip_count", "turn_back", "torque", "clips", "usable", "working_load", "marks", "procedure", "bill"):
        assert f"turnback.Plan.{name}" in documented


def test_every_rule_set_has_a_page_with_its_source_and_hash(site: Path) -> None:
    catalogue = Catalogue.installed()
    everything = (*catalogue.rule_sets, *catalogue.bases)
    assert 9 < len(everything)
    for rules in everything:
        page = site / "rule-sets" / f"{rules.id}.html"
        text = re.sub(r"\s+", " ", page.read_text(encoding="utf-8"))
        for part in (rules.sha256, rules.source.document, rules.source.issuer, rules.source.edition):
            assert part in text, f"{rules.id}: {part}"


def test_no_page_of_a_rule_set_is_left_over(site: Path) -> None:
    catalogue = Catalogue.installed()
    expected = {f"{rules.id}.html" for rules in (*catalogue.rule_sets, *catalogue.bases)}
    assert expected == {page.name for page in (site / "rule-sets").glob("*.html")}


@pytest.mark.parametrize(
    ("rules_id", "row"),
    [
        # California Title 8 section 8497, Table 1; 1 in = 25.4 mm.
        ("us-ca-8-8497", ("3/4 in", "19.05 mm", "4 read", "18 in read", "457.2 mm", "130 lbf·ft read", "≈ 176.3 N·m")),
        # The same section, Table 2: recalled but for the first row.
        ("us-ca-8-8497-t2", ("1 in", "25.4 mm", "5 memory", "37 in memory", "939.8 mm", "225 lbf·ft memory")),
        # 29 CFR 1926.251, Table H-2: the 1/2 in row was read.
        ("us-osha-1926-251", ("1/2 in", "12.7 mm", "3 read", "4 read", "3 in read", "76.2 mm")),
        ("us-osha-1926-251", ("1 in", "25.4 mm", "5 memory", "6 memory", "6 in memory", "152.4 mm")),
        # EN 13411-5, Annex A: of the 8 mm row the count was read, of the 10 mm row the torque as well.
        ("en-13411-5", ("8 mm", "≈ 0.3150 in", "over 6.5 mm, up to 8 mm", "4 read", "6 N·m memory")),
        ("en-13411-5", ("10 mm", "≈ 0.3937 in", "over 8 mm, up to 10 mm", "4 read", "9 N·m read")),
        # TM 5-3810-305-10, Table 6 prints 65 lbf·ft and 88 N·m.
        ("us-army-3810-305", ("1/2 in", "12.7 mm", "3 read", "11 in read", "279.4 mm", "65 lbf·ft read", "88 N·m")),
    ],
)
def test_a_row_shows_its_values_unit_by_unit_with_their_status(site: Path, rules_id: str, row: tuple[str, ...]) -> None:
    rows = read(site / "rule-sets" / f"{rules_id}.html").rows
    found = [cells for cells in rows if cells and cells[0].startswith(row[0]) and cells[1] == row[1]]
    assert 1 == len(found)
    for expected, cell in zip(row, found[0], strict=False):
        assert cell.startswith(expected)


@pytest.mark.parametrize(
    ("rules_id", "cells", "from_memory"),
    [
        ("us-ca-8-8497", 14 * 3, 0),
        ("us-ca-8-8497-t2", 10 * 3, 9 * 3),
        ("us-osha-1926-251", 9 * 3, 8 * 3),
        ("en-13411-5", 14 * 2, 14 * 2 - 7),
        ("ca-nb-clips", 8 * 3, 0),
        ("us-army-3810-305", 3, 0),
    ],
)
def test_every_cell_of_a_table_says_its_status_in_words(
    site: Path, rules_id: str, cells: int, from_memory: int
) -> None:
    labels = read(site / "rule-sets" / f"{rules_id}.html").labels
    assert cells == len(labels)
    assert from_memory == labels.count("memory")
    assert set(labels) <= set(STATUSES)
    index = next(
        row for row in read(site / "reference" / "rule-sets.html").rows if row and row[0].split()[0] == rules_id
    )
    assert [str(cells - from_memory), str(from_memory), "0", "0"] == index[2:6]


def test_misprints_are_shown(site: Path) -> None:
    # The public copy of Table 1 prints the size 1-3/4 as 1/34.
    text = (site / "rule-sets" / "us-ca-8-8497.html").read_text(encoding="utf-8")
    assert "1-3/4 in: misprint, the public copy prints this row’s size as 1/34." in text


def test_services_and_factors_are_listed(site: Path) -> None:
    text = (site / "reference" / "services.html").read_text(encoding="utf-8")
    codes = (site / "reference" / "finding-codes.html").read_text(encoding="utf-8")
    for rule in service_rules():
        assert rule.citation.locator in text, rule.code
        assert f">{rule.code}<" in codes
    for factor in design_factors():
        assert factor.use in text
    # 29 CFR 1926.251(c)(4)(iii) and DGUV Vorschrift 60 section 40(3) forbid; 1926.502(d)(8) does not.
    forbidden = text[text.index("Forbidden by a paragraph") : text.index("Excluded by a rule set")]
    assert "1926.251(c)(4)(iii)" in forbidden
    assert "section 40(3)" in forbidden
    assert "1926.502(d)(8)" not in forbidden


def test_exit_codes_and_commands_are_listed(site: Path) -> None:
    page = read(site / "reference" / "command-line.html")
    codes = re.findall(r"^  ([0-9]+) +[a-z]", CODES_TEXT, re.MULTILINE)
    assert {"0", "10", "11"} <= set(codes)
    # A meaning that goes on in a second line makes no row of its own.
    assert ["code", *codes] == [row[0] for row in page.rows[: len(codes) + 1]]
    text = (site / "reference" / "command-line.html").read_text(encoding="utf-8")
    block = text[text.index("$ turnback --help") :]
    commands = re.findall(r"^    ([a-z]+) +[a-z]", block[: block.index("exit codes:")], re.MULTILINE)
    assert {"plan", "rules"} <= set(commands)
    assert [] == [name for name in commands if f"turnback {name}" not in page.headings]


def test_every_page_has_one_title_and_its_tables_have_headers(site: Path) -> None:
    for page in pages(site):
        text = page.read_text(encoding="utf-8")
        assert 1 == text.count("<h1"), page
        assert text.count("<table") == text.count("<thead"), page


def test_a_site_that_lies_fails_and_says_where(site: Path, tmp_path: Path) -> None:
    del site  # it skips where Sphinx is not installed
    lies = {
        "```{rule-set} us-ca-8-8479\n```\n": "Did you mean us-ca-8-8497?",
        "```{turnback-command}\n:exit: 0\n\nplan '3/4 in 6x19 IWRC EIP' --style u-bolt\n```\n": "exit code 3, not 0",
        "[a page](no-such-page.md)\n": "no-such-page.md",
        "{py:func}`turnback.plann`\n": "turnback.plann",
    }
    for name in ("conf.py", "_ext", "_static", "_templates"):
        copy = shutil.copytree if (DOCS / name).is_dir() else shutil.copy
        copy(DOCS / name, tmp_path / name)
    toctree = "```{toctree}\n:glob:\n\nrule-sets/*\n```\n"
    (tmp_path / "index.md").write_text("\n".join(["# Page\n", *lies, toctree]), encoding="utf-8")
    with (tmp_path / "conf.py").open("a", encoding="utf-8") as conf:
        conf.write('turnback_law_pages = False\nturnback_law_tests = turnback_coverage = ""\n')
    # A distribution whose plugin does not exist.
    broken = tmp_path / "elsewhere" / "broken_clips-1.0.dist-info"
    broken.mkdir(parents=True)
    (broken / "METADATA").write_text("Metadata-Version: 2.1\nName: broken-clips\nVersion: 1.0\n", encoding="utf-8")
    (broken / "entry_points.txt").write_text("[turnback.plugins]\nbroken = broken_clips.plugin\n", encoding="utf-8")
    done = build(tmp_path, tmp_path / "out", {**os.environ, "PYTHONPATH": str(broken.parent)})
    assert 0 != done.returncode
    for said in (*lies.values(), "broken-clips 1.0"):
        assert said in done.stderr


def test_the_caution_stands_on_every_page(site: Path) -> None:
    for page in pages(site):
        assert "Not a substitute for your local code" in page.read_text(encoding="utf-8"), page
