"""The laws that a rule set waives, each a link to its page; a waiver of a law that nobody knows is a warning."""

from __future__ import annotations

import difflib
from typing import Final

from docutils import nodes
from sphinx.environment import BuildEnvironment
from sphinx.util import logging

from turnback.conformance.laws import LAWS, law_named
from turnback.rules.ruleset import RuleSet, Waiver
from turnback.sphinxext.nodes import Cell, cited, code, doc_link, table
from turnback.sphinxext.settings import LAW_PAGES

__all__ = ["LAW_FOLDER", "law_link", "nearest_law", "waiver_nodes"]

LAW_FOLDER: Final = "laws"
"""Folder of the pages of laws."""
_LOG: Final = logging.getLogger(__name__)


def nearest_law(law_id: str) -> str:
    """Say which law may have been meant.

    Args:
        law_id: An id that no law has.

    Returns:
        A sentence.
    """
    near = difflib.get_close_matches(law_id, [law.id for law in LAWS], n=1)
    return f"Did you mean {near[0]}?" if near else "turnback conform --laws lists them."


def law_link(env: BuildEnvironment, law_id: str) -> nodes.Node:
    """Build the name of a law, as a link where the site has a page for it.

    Args:
        env: The environment.
        law_id: Its id.

    Returns:
        The node.
    """
    return doc_link(env.docname, f"{LAW_FOLDER}/{law_id}", code(law_id)) if env.config[LAW_PAGES] else code(law_id)


def waiver_nodes(rules: RuleSet, env: BuildEnvironment, location: str) -> list[nodes.Node]:
    """Build the table of waivers.

    Args:
        rules: The rule set.
        env: The environment.
        location: The page, for a warning.

    Returns:
        A table; nothing where nothing is waived.
    """
    rows = [_row(waiver, rules, env, location) for waiver in rules.waivers]
    return [table("", ("law", "row", "why it stands"), rows)] if rows else []


def _row(waiver: Waiver, rules: RuleSet, env: BuildEnvironment, location: str) -> list[Cell]:
    known = law_named(waiver.law) is not None
    if not known:
        hint = nearest_law(waiver.law)
        _LOG.warning("%s waives a law that nobody knows: %s. %s", rules.id, waiver.law, hint, location=location)
    link = law_link(env, waiver.law) if known else code(waiver.law)
    return [link, waiver.row or "whole file", cited(waiver.reason, (waiver.citation,))]
