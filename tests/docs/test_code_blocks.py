"""Every code block of the documentation runs, and every session prints what the page says.

``docs/_ext/page_examples.py`` runs a page; the builder ``doctest`` of the site does the same in Sphinx.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest
from tests.docs.site import DOCS

sys.path.insert(0, str(DOCS / "_ext"))

from page_examples import Block, blocks_of, problems_of

__all__ = ["PAGES", "Block", "blocks_of_page"]

GENERATED: Final = ("_build", "rule-sets", "formulas", "laws")
PAGES: Final = sorted(
    page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md") if page.relative_to(DOCS).parts[0] not in GENERATED
)


def blocks_of_page(page: str) -> list[Block]:
    return list(blocks_of((DOCS / page).read_text(encoding="utf-8")))


@pytest.mark.parametrize("page", PAGES)
def test_every_block_of_a_page_runs(page: str) -> None:
    assert [] == [f"{page}:{problem.line}: {problem.said}" for problem in problems_of(DOCS / page)]


def test_the_pages_that_teach_have_code() -> None:
    # A slip in the pattern of blocks would find none, and every page would pass.
    kinds = {page: {block.kind for block in blocks_of_page(page)} for page in PAGES}
    assert {"python", "pycon", "{turnback-command}"} <= kinds["tutorial/first-plan.md"]
    assert {"python", "pycon"} <= kinds["how-to/use-your-own-pint-registry.md"]
    assert {"python", "pycon", "toml"} <= kinds["how-to/add-a-plugin.md"]
    assert {"python", "pycon"} <= kinds["explanation/what-it-refuses.md"]
    assert {"python", "toml"} <= kinds["how-to/write-a-rule-file.md"]


LIES: Final = {
    "```pycon\n>>> 1 + 1\n3\n```\n": "Got:\n    2",
    "```pycon\n1 + 1\n```\n": "the session has no prompt",
    "```python\nassert 2 == 3\n```\n": "AssertionError",
    '```python\nimport turnback as tb\n\ntb.Length.of("1,5 mm")\n```\n': "InputError",
    "```{turnback-command}\n:exit: 0\n\nplan '3/4 in 6x19 IWRC EIP' --style u-bolt\n```\n": "exit code 3, not 0",
    "```{literalinclude} examples/none.py\n```\n": "there is no file",
    "```bash\nls\n```\n": "nothing runs a block of 'bash'",
}
"""A block that does not hold, and what is said of it."""


def test_each_example_that_does_not_hold_is_told(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# Page\n\n```pycon\n>>> 1 + 1\n2\n```\n" + "\n".join(LIES), encoding="utf-8")
    found = list(problems_of(page))
    assert len(LIES) == len(found)
    for said, problem in zip(LIES.values(), found, strict=True):
        assert said in problem.said
    # The fence of the second block, which is the line above its text.
    assert 7 == found[0].line


def test_a_build_with_an_example_that_does_not_hold_fails_and_says_which(tmp_path: Path) -> None:
    pytest.importorskip("myst_parser", reason="the extra [docs] is not installed")
    conf = f"import sys\nsys.path.insert(0, {str(DOCS / '_ext')!r})\nextensions = ['myst_parser', 'examples_builder']\n"
    (tmp_path / "conf.py").write_text(conf, encoding="utf-8")
    good, lie = "```pycon\n>>> 1 + 1\n2\n```\n", "```pycon\n>>> 1 + 1\n3\n```\n"
    command = [sys.executable, "-m", "sphinx", "-n", "-W", "--keep-going", "-b", "doctest", str(tmp_path)]
    for text, fails in ((good, False), (good + lie, True)):
        (tmp_path / "index.md").write_text(f"# Page\n\n{text}", encoding="utf-8")
        done = subprocess.run([*command, str(tmp_path / "out")], capture_output=True, text=True, check=False)
        assert fails == bool(done.returncode), done.stderr
        assert fails == ("index.md:7: WARNING: an example does not hold" in done.stderr), done.stderr
