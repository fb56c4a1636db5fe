"""A small site of the generated pages alone, built strictly; what their links lead to is there as a stub."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from tests.docs.site import DOCS, build

from turnback.rules.catalogue import Catalogue

__all__ = ["PAGES", "small_site"]

PAGES: Final = ("reference/formulas", "reference/pictures", "reference/plots", "explanation/crossings")
_CONF: Final = """
import sys
sys.path.insert(0, {ext!r})
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon", "formula_pages", "picture_pages"]
html_theme = "basic"
html_static_path = ["_static"]
html_copy_source = False
html_show_sphinx = False
myst_enable_extensions = ["deflist"]
autodoc_typehints = "none"
"""
_STUBS: Final = """Stubs
=====

.. py:function:: turnback.governing(*rules)

.. automodule:: turnback.mechanics
   :members:
   :imported-members:
"""


def small_site(work: Path, env: Mapping[str, str] | None = None) -> Path:
    """Build it.

    Args:
        work: An empty folder.
        env: The variables of the environment; ours where None.

    Returns:
        The folder with the built pages.
    """
    source = work / "docs"
    for page in PAGES:
        (source / page).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(DOCS / f"{page}.md", source / f"{page}.md")
    (source / "_static").mkdir()
    shutil.copy(DOCS / "_static" / "pictures.css", source / "_static")
    (source / "conf.py").write_text(_CONF.format(ext=str(DOCS / "_ext")), encoding="utf-8")
    (source / "stubs.rst").write_text(_STUBS, encoding="utf-8")
    catalogue = Catalogue.installed()
    stubs = [f"rule-sets/{rules.id}" for rules in (*catalogue.rule_sets, *catalogue.bases)]
    stubs.append("how-to/draw-and-restyle")
    for stub in stubs:
        (source / stub).parent.mkdir(exist_ok=True)
        (source / f"{stub}.md").write_text(f"# {stub}\n", encoding="utf-8")
    listed = "\n".join((*PAGES, "stubs", *stubs))
    (source / "index.md").write_text(f"# Small\n\n```{{toctree}}\n{listed}\n```\n", encoding="utf-8")
    done = build(source, work / "html", env)
    assert (0, "") == (done.returncode, done.stderr), done.stderr
    return work / "html"
