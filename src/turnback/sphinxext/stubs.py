"""Short pages that are written before a build; what stands on them is made by directives while it runs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final

from docutils import nodes
from sphinx import addnodes
from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment
from sphinx.errors import ExtensionError

__all__ = ["everything", "hidden_toctree", "page", "write_folder"]

_MARK: Final = ".. Written when the site is built; do not edit."
"""First line of a page that is ours to write and to take away."""


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
    return f"{_MARK}\n\n{plain}\n{rule}\n\n.. {directive}:: {argument}\n"


def write_folder(app: Sphinx, name: str, pages: Mapping[str, str]) -> None:
    """Write the pages of a folder, and take away those of an earlier build; pages of an author's own stay.

    Args:
        app: The application.
        name: Name of the folder.
        pages: Text of each page, by its name without an ending.

    Raises:
        ExtensionError: An author's own page has the name of one that is to be written.
    """
    folder = Path(app.srcdir) / name
    folder.mkdir(exist_ok=True)
    wanted = {f"{each}.rst": text for each, text in pages.items()}
    # What is written anew by every build is nobody's to commit.
    (folder / ".gitignore").write_text("\n".join([".gitignore", *wanted, ""]), encoding="utf-8")
    for found in folder.glob("*.rst"):
        if found.read_text(encoding="utf-8").startswith(_MARK):
            found.unlink()
        elif found.name in wanted:
            raise ExtensionError(f"{found} is a page of your own, and one of this name is to be written: rename it")
    for file, text in wanted.items():
        (folder / file).write_text(text, encoding="utf-8")


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
