"""Words that stand nowhere in the project, and who may be named as the issuer of a source.

What may not be written is put together from pieces here, so that this file can be looked at too.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = ("src", "plugins", "docs", "tests", "benchmarks", ".ci")
BUILT = {"_build", "__pycache__", "rule-sets"}
TEXTS = {".py", ".toml", ".md", ".rst", ".css", ".html", ".txt", ".svg", ".json", ".js", ".typed", ""}
LICENCE = ROOT / "docs" / "LICENSE.txt"


def texts() -> Iterator[tuple[Path, str]]:
    files = [
        file
        for name in FOLDERS
        for file in sorted((ROOT / name).rglob("*"))
        if not any(part.startswith(".") for part in file.relative_to(ROOT).parts)
    ]
    for file in (ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "pyproject.toml", *files):
        if (
            file.is_file()
            and not BUILT & set(file.parts)
            and not any(part.endswith(".egg-info") for part in file.relative_to(ROOT).parts)
        ):
            assert file.suffix in TEXTS, f"{file}: is this a text? Add its suffix here or take it away."
            yield file, file.read_text(encoding="utf-8")


FILES = dict(texts())

UNSAID = re.compile(
    r"\b(?:" + "|".join(("trans" + "cripts?", "vid" + "eos?", "you" + "tube", "seed" + r"\s+documents?")) + r")\b",
    re.IGNORECASE,
)
# The forms of a firm, and the signs of a trade mark: where a maker is named, one of them is seldom far.
FIRM = re.compile(
    r"(?-i:\b(?:" + "|".join(("I" + "nc", "L" + "td", "Gmb" + "H", "L" + "LC", "Co" + "rp", "P" + "LC", "P" + "ty"))
    + r")\b)|[" + "".join(map(chr, (0xAE, 0x2120, 0x2122))) + "]"
)  # fmt: skip


def lines_with(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{file.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
        for file, text in FILES.items()
        if file != LICENCE
        for number, line in enumerate(text.splitlines(), 1)
        if pattern.search(line)
    ]


def test_the_whole_project_is_looked_at() -> None:
    seen = {str(file.relative_to(ROOT)) for file in FILES}
    assert {"README.md", "src/turnback/errors.py", "docs/index.md", "tests/architecture/test_words.py"} <= seen
    assert sum(name.startswith("plugins/") for name in seen) > 10


def test_nothing_is_said_of_recordings() -> None:
    assert [] == lines_with(UNSAID)
    assert [] == [name for name in map(str, FILES) if UNSAID.search(name.replace("_", " ").replace("-", " "))]
    # Nor across a line break.
    assert [] == [str(file) for file, text in FILES.items() if file != LICENCE and UNSAID.search(text)]


def test_no_firm_is_named() -> None:
    assert [] == lines_with(FIRM)


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (UNSAID, "a Trans" + "cript of it"), (UNSAID, "two vid" + "eos"), (UNSAID, "the seed" + "\n document"),
        (FIRM, "Clips & Co" + "rp."), (FIRM, "Grip" + chr(0x2122)), (FIRM, "Invented L" + "td"),
    ],
)  # fmt: skip
def test_the_patterns_find_what_they_look_for(pattern: re.Pattern[str], text: str) -> None:
    assert pattern.search(text)


@pytest.mark.parametrize("text", ["provided", "inc. of one clip", "an incorporated rule", "seeded documents"])
def test_the_patterns_let_other_words_pass(text: str) -> None:
    assert not UNSAID.search(text)
    assert not FIRM.search(text)


# Who issues what the library leans on: public bodies, standards bodies, nobody, the user. No maker of clips or rope.
ISSUERS = {
    "ASTM and US GSA", "CEN", "CEN and ISO", "Federal Aviation Administration",
    "Federal Motor Carrier Safety Administration", "General Services Administration",
    "German Social Accident Insurance", "Government of Alberta",
    "Government of Quebec", "Mine Safety and Health Administration", "Occupational Safety and Health Administration",
    "State of California", "State of Michigan", "State of Washington", "United States Army",
    "US GSA", "United States Coast Guard", "United States Department of Energy", "United States Navy",
    "WorkSafeNB, New Brunswick", "none", "the user", "issuer not recorded", "publisher not recorded",
}  # fmt: skip


def issuers_in(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, each in value.items():
            if key == "issuer" and isinstance(each, str):
                yield each
            yield from issuers_in(each)
    elif isinstance(value, list):
        for each in value:
            yield from issuers_in(each)


def test_every_source_is_issued_by_somebody_known() -> None:
    shipped = [file for file in FILES if "src" in file.parts and "tests" not in file.parts]
    named: set[str] = set()
    for file in shipped:
        if file.suffix == ".toml":
            named |= set(issuers_in(tomllib.loads(FILES[file])))
        elif file.suffix == ".py":
            named |= set(re.findall(r'\bissuer(?:: str)? ?= ?"([^"]+)"', FILES[file]))
    assert len(named) > 15
    assert set() == named - ISSUERS
