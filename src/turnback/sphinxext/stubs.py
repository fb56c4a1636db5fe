"""Short pages that are written before a build; what stands on them is made by directives while it runs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment

__all__ = ["everything", "hidden_toctree", "page", "write_folder"]

_SUFFIXES = (".rst", ".md")


def page(title: str, directive: str, argument: str) -> str:
    """Write a page of one directive.

    Args:
        title: Its title.
        directive: Name of the directive.
        argument: Its argument.

    Returns:
        The page in reStructuredText.
    """
    plain = title.replace("\\", "\\\\").replace("*", "\\*").replace("`", "\\`").replace("_", "\\_").replace("|", "\\|")
    rule = "=" * (2 * len(plain))  # a wide letter counts for two
    return f".. Written when the site is built; do not edit.\n\n{plain}\n{rule}\n\n.. {directive}:: {argument}\n"


def write_folder(app: Sphinx, name: str, pages: Mapping[str, str]) -> None:
    """Write the pages of a folder, and take away those of an earlier build.

    Args:
        app: The application.
        name: Name of the folder.
        pages: Text of each page, by its name without an ending.
    """
    folder = Path(app.srcdir) / name
    folder.mkdir(exist_ok=True)
    # What is written anew by every build is nobody's to commit.
    (folder / ".gitignore").write_text("*\n", encoding="utf-8")
    wanted = {f"{each}.rst" for each in pages}
    for found in folder.iterdir():
        if found.suffix in _SUFFIXES and found.name not in wanted:
            found.unlink()
    for each, text in pages.items():
        (folder / f"{each}.rst").write_text(text, encoding="utf-8")


def hidden_toctree(docname: str, pages: Sequence[tuple[str, str]]) -> nodes.compound:
    """Build entries of the sidebar that the page itself does not show.

    Args:
        docname: The page that they hang on.
        pages: Title and name of each.

    Returns:
        A hidden list of pages.
    """
    tree = addnodes.toctree("", entries=list(pages), includefiles=[each for _, each in pages], parent=docname)
    for name in ("glob", "numbered", "titlesonly", "includehidden"):
        tree[name] = False
    tree["hidden"], tree["maxdepth"], tree["caption"] = True, 1, None
    return nodes.compound("", tree, classes=["toctree-wrapper"])


def everything(
    app: Sphinx, env: BuildEnvironment, added: set[str], changed: set[str], removed: set[str]
) -> Iterable[str]:
    """Build every page anew each time: what they show comes from the library, whose changes Sphinx does not see.

    Args:
        app: The application.
        env: The environment.
        added: Pages that are new.
        changed: Pages whose text changed.
        removed: Pages that are gone.

    Returns:
        All pages.
    """
    del app, added, changed
    return env.found_docs - removed
