"""How the site is built: ``sphinx-build -W --keep-going -b html docs docs/_build/html``. Nothing is fetched."""

from __future__ import annotations

import sys
from pathlib import Path

import turnback

# Extensions of this site alone; what a plugin's site can use too is turnback.sphinxext.
sys.path.insert(0, str(Path(__file__).parent / "_ext"))

project = "turnback"
author = "The turnback developers"
copyright = author
version = release = turnback.__version__

extensions = [
    "myst_parser",
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
    "turnback.sphinxext",
    "face_pages",
    "name_examples",
    "references",
    "inventories",
    "command_pages",
    "formula_pages",
    "picture_pages",
    "accessible_html",
    "plain_copies",
    "search_words",
    "examples_builder",
]
exclude_patterns = ["_build"]
root_doc = "index"

myst_enable_extensions = ["deflist"]
myst_heading_anchors = 3

napoleon_google_docstring = True
napoleon_numpy_docstring = False
nitpicky = True
# Two thousand objects in the sidebar of every page would take longer than all the rest; modules have headings.
toc_object_entries = False

autodoc_member_order = "bysource"
autodoc_typehints = "description"
autodoc_typehints_description_target = "documented_params"
python_use_unqualified_type_names = True

html_theme = "furo"
html_title = f"turnback {release}"
html_static_path = ["_static"]
templates_path = ["_templates"]
html_css_files = ["turnback.css"]
html_copy_source = False
html_domain_indices = False
html_show_sourcelink = False
html_theme_options = {
    "light_css_variables": {"color-brand-primary": "#1f5673", "color-brand-content": "#1b5e80"},
    "dark_css_variables": {"color-brand-primary": "#9ccbe4", "color-brand-content": "#8fc7e6"},
}

turnback_law_tests = "reference/law-tests.toml"
turnback_coverage = "reference/coverage.toml"
