"""The README gives a first right answer: its commands, its code, its picture and its links hold.

Its two marked commands are run from an empty environment by ``.ci/run``; here the first is run in this process.
"""

from __future__ import annotations

import contextlib
import io
import re
import shlex
from pathlib import Path
from typing import Final

import pytest

import turnback
from turnback.cli.main import main
from turnback.rules.catalogue import Catalogue

ROOT: Final = Path(__file__).parents[2]
README: Final = (ROOT / "README.md").read_text(encoding="utf-8")
PICTURE: Final = "docs/_static/first-plan.svg"
BLOCK: Final = re.compile(r"^```python\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
MARKED: Final = re.compile(r"<!-- command (?P<mark>\w+) -->\n```console\n(?P<command>.*?)\n```", re.DOTALL)
LINK: Final = re.compile(r"!?\[[^\]]*\]\((?P<target>[^)\s]+)\)")
LEAST_BLOCKS: Final = 4
"""Python blocks of the README; the number may grow and may not fall."""


def blocks() -> list[str]:
    return [found["body"] for found in BLOCK.finditer(README)]


@pytest.fixture(scope="module")
def names() -> dict[str, object]:
    """What stands in the namespace after every block was run, from top to bottom."""
    known: dict[str, object] = {"__name__": "readme"}
    for body in blocks():
        exec(compile(body, "README.md", "exec"), known)
    return known


def test_every_block_runs(names: dict[str, object]) -> None:
    assert LEAST_BLOCKS <= len(blocks())
    assert {"tb", "both", "compared", "planned", "law"} <= set(names)


def test_the_first_command_prints_what_is_said_of_it() -> None:
    commands = {found["mark"]: found["command"] for found in MARKED.finditer(README)}
    assert {"run", "test"} == set(commands)
    last = shlex.split(commands["run"].rpartition("&&")[2])
    assert ".venv/bin/turnback" == last[0]
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert 0 == main(last[1:])
    printed = out.getvalue()
    # California Title 8 section 8497, Table 1, row 3/4: 4 clips, 18 in, 130 lbf·ft.
    for expected in ("18 in (457.2 mm)", "130 lbf·ft", "dry"):
        assert expected in printed
    assert re.search(r"^ *clips +4 ", printed, re.MULTILINE), printed[:600]


def test_the_picture_is_what_the_code_draws_now() -> None:
    # The plan of the first block: the same joint as that of the first command, with its thimble measured.
    known: dict[str, object] = {"__name__": "readme"}
    with contextlib.redirect_stdout(io.StringIO()):
        exec(compile(blocks()[0].partition("both = ")[0], "README.md", "exec"), known)
    plan = known["plan"]
    assert isinstance(plan, turnback.Plan)
    assert plan.to_svg() == (ROOT / PICTURE).read_text(encoding="utf-8"), (
        f"write plan.to_svg() of the README's first plan to {PICTURE} again, and look at it"
    )


def test_the_picture_is_shown_by_a_relative_path() -> None:
    assert 1 == len(re.findall(rf"!\[[^\]]+\]\({re.escape(PICTURE)}\)", README))


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_link_leads_to_a_file(name: str) -> None:
    targets = [found["target"] for found in LINK.finditer((ROOT / name).read_text(encoding="utf-8"))]
    outside = [target for target in targets if target.startswith(("http:", "https:"))]
    assert [] == outside
    assert [] == [target for target in targets if not (ROOT / target.partition("#")[0]).exists()]


def test_the_table_of_plugins_is_what_they_bring() -> None:
    catalogue = Catalogue.installed()
    rows = re.findall(r"^\| `turnback-[a-z-]+` \| (.+) \| (.+) \|$", README, re.MULTILINE)
    styles = {word for row in rows for word in re.findall(r"`([^`]+)`", row[0])}
    rule_sets = {word for row in rows for word in re.findall(r"`([^`]+)`", row[1])}
    assert {style.id for style in catalogue.styles} == styles
    assert {rules.id for rules in catalogue.rule_sets} == rule_sets


def test_it_leads_on_to_a_rule_set_of_ones_own() -> None:
    # Two sentences that the two ways into the project promise a standards engineer, word by word.
    begins = (
        "`turnback rules new my-standard --style u-bolt --plugin` begins a rule set of your own, and "
        "[Prove a rule set](docs/how-to/prove-a-rule-set.md) leads from there to a certificate."
    )
    assert begins in README
    examined = (
        "Begin with `turnback rules new NAME --style STYLE`; `turnback conform FILE` examines it, and check values lie "
        "beside it as `NAME.check.toml`."
    )
    assert examined in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_floors_in_the_developers_guide_are_the_folders() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = guide[guide.index("| floor |") : guide.index("Rooms on one floor")]
    folders = {word.rstrip("/") for word in re.findall(r"`([a-z]+/)`", table)}
    there = {each.parent.name for each in (ROOT / "src" / "turnback").glob("*/__init__.py")}
    assert there == folders
