"""Beside every page stands a copy in plain text, and ``llms.txt`` leads to each of them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from tests.docs.site import addresses

import turnback
from turnback.rules.catalogue import Catalogue

NO_COPY: Final = ("genindex", "search", "py-modindex")
LINE: Final = re.compile(r"^- \[(?P<title>.+?)\]\((?P<path>[^)]+)\.txt\)(?:: (?P<said>.+))?$", re.MULTILINE)
FULL_AT_MOST: Final = 400_000


def written(site: Path) -> list[str]:
    return [name for name in addresses(site) if name not in NO_COPY]


def text_of(site: Path, name: str) -> str:
    return (site / f"{name}.txt").read_text(encoding="utf-8")


def test_every_page_has_a_copy_and_leads_to_it(site: Path) -> None:
    assert 30 < len(written(site))
    for name in written(site):
        page = (site / f"{name}.html").read_text(encoding="utf-8")
        (link,) = re.findall(r'<a class="plain-copy" href="([^"]+)"', page)
        assert (site / name).parent.joinpath(link).resolve() == site / f"{name}.txt"
        assert 100 < len(text_of(site, name)), name
    for name in NO_COPY[:2]:
        assert "plain-copy" not in (site / f"{name}.html").read_text(encoding="utf-8")


def test_no_copy_is_left_without_its_page(site: Path) -> None:
    paths = (path.relative_to(site) for path in site.rglob("*.txt"))
    copies = {path.with_suffix("").as_posix() for path in paths if path.parts[0] != "_static"}
    assert {*written(site), "llms"} == copies - {"llms-full"}


def test_the_copies_say_what_the_pages_say(site: Path) -> None:
    # 8 CCR 8497 Table 1: 3/4 in, 4 clips, 18 in, 130 lbf·ft; a row stands on one line.
    text = text_of(site, "rule-sets/us-ca-8-8497")
    assert re.search(
        r"^3/4 in \| 19\.05 mm \| 4 read \| 18 in read \| 457\.2 mm \| 130 lbf·ft read \|", text, re.MULTILINE
    )
    assert re.search(r"^clip size, in \| clip size, mm \| clips \| turn-back, in \|", text, re.MULTILINE)
    for name in written(site):
        copy = text_of(site, name)
        assert "<SYSTEM MESSAGE" not in copy
        assert "</" not in re.sub(r"[\"'`].*?[\"'`]", "", copy) or "api" in name or "how-to" in name, name


def test_the_caution_is_in_the_first_copy(site: Path) -> None:
    assert "is not a substitute for your local code" in " ".join(text_of(site, "index").split())


def test_every_public_name_and_rule_set_occurs(site: Path) -> None:
    everything = "\n".join(text_of(site, name) for name in written(site))
    assert [] == [name for name in turnback.__all__ if not re.search(rf"\bturnback\.{name}\b", everything)]
    catalogue = Catalogue.installed()
    for rules in (*catalogue.rule_sets, *catalogue.bases):
        text = " ".join(text_of(site, f"rule-sets/{rules.id}").split())
        assert rules.source.document in text
        assert rules.sha256 in text


def test_the_index_lists_every_page_once_with_a_line(site: Path) -> None:
    text = (site / "llms.txt").read_text(encoding="utf-8")
    assert text.startswith(f"# turnback {turnback.__version__}\n\n> ")
    listed = [found["path"] for found in LINE.finditer(text)]
    assert sorted(set(written(site)) - {"index"}) == sorted(listed)
    said = [found["said"] for found in LINE.finditer(text)]
    assert all(line is None or 10 < len(line) <= 204 for line in said)
    # A page may begin with a table; most begin with a sentence.
    assert said.count(None) < len(said) / 10
    assert re.findall(r"^## (.+)$", text, re.MULTILINE)[:1] == ["Tutorial"]


def test_all_in_one_is_there_when_it_is_short_enough(site: Path) -> None:
    size = sum(len(text_of(site, name).encode()) for name in written(site))
    whole = site / "llms-full.txt"
    assert whole.is_file() == (size + 40 * len(written(site)) < FULL_AT_MOST) or abs(size - FULL_AT_MOST) < 20_000
    if whole.is_file():
        full = whole.read_text(encoding="utf-8")
        assert len(full.encode()) <= FULL_AT_MOST
        assert all(f"[{name}.txt]" in full for name in written(site))
