"""The builder ``doctest``: ``sphinx-build -n -W -b doctest docs OUT`` runs every example of the pages.

An example that no longer holds is a warning with page and line, so a strict build fails and says which.
"""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar, Final

from docutils import nodes
from page_examples import problems_of
from sphinx.application import Sphinx
from sphinx.builders.dummy import DummyBuilder
from sphinx.util import logging
from sphinx.util.typing import ExtensionMetadata

__all__ = ["PageExamples", "setup"]

_LOG: Final = logging.getLogger(__name__)


class PageExamples(DummyBuilder):
    """Runs the examples of every page in Markdown and writes nothing."""

    name: ClassVar[str] = "doctest"
    epilog: ClassVar[str] = "The examples were run."
    allow_parallel: ClassVar[bool] = False

    def write_doc(self, docname: str, doctree: nodes.document) -> None:
        """Run a page.

        Args:
            docname: Its name.
            doctree: Its tree; what is run is its text.
        """
        del doctree
        page = Path(self.env.doc2path(docname))
        if page.suffix == ".md":
            for problem in problems_of(page):
                _LOG.warning("an example does not hold: %s", problem.said, location=(docname, problem.line))


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the builder.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    app.add_builder(PageExamples)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
