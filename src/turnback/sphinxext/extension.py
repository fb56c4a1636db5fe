"""The extension itself: ``extensions = ["turnback.sphinxext"]``."""

from __future__ import annotations

from sphinx.application import Sphinx
from sphinx.util.typing import ExtensionMetadata

from turnback import __version__
from turnback.sphinxext.bibliography import add_bibliography
from turnback.sphinxext.laws import add_law_pages
from turnback.sphinxext.lists import add_lists
from turnback.sphinxext.rule_sets import add_rule_set_pages
from turnback.sphinxext.services import add_service_pages
from turnback.sphinxext.settings import add_settings
from turnback.sphinxext.sides import add_sides
from turnback.sphinxext.stubs import everything

__all__ = ["setup"]


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the settings, the directives and the writers of pages.

    Args:
        app: The application.

    Returns:
        What Sphinx wants to know of an extension.
    """
    add_settings(app)
    add_rule_set_pages(app)
    add_law_pages(app)
    add_service_pages(app)
    add_bibliography(app)
    add_sides(app)
    add_lists(app)
    app.connect("env-get-outdated", everything)
    return {"version": __version__, "parallel_read_safe": True, "parallel_write_safe": True}
