"""What a site sets in its ``conf.py``, and which rule sets it is about."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Final

from sphinx.application import Sphinx
from sphinx.config import Config
from sphinx.errors import ExtensionError

from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet

__all__ = [
    "CERTIFICATES",
    "COVERAGE",
    "LAW_PAGES",
    "LAW_TESTS",
    "RULE_SETS",
    "add_settings",
    "chosen",
    "chosen_bases",
    "chosen_rule_sets",
    "file_named",
]

RULE_SETS: Final = "turnback_rule_sets"
"""Ids of the rule sets that get a page; every installed one where it is not set."""
LAW_PAGES: Final = "turnback_law_pages"
"""Whether each law of the conformance kit gets a page of its own; it does where it is not set."""
LAW_TESTS: Final = "turnback_law_tests"
"""A TOML file with the test files that show a fault which a law notices; none where it is not set."""
CERTIFICATES: Final = "turnback_certificates"
"""The folder of certificates, ``ID.json`` each, as ``turnback conform ID --certificate`` writes them."""
COVERAGE: Final = "turnback_coverage"
"""A TOML file that says of each source what is not taken from it; none where it is not set."""


def add_settings(app: Sphinx) -> None:
    """Make the settings known to a site.

    Args:
        app: The application.
    """
    app.add_config_value(RULE_SETS, None, "env", (list, tuple, type(None)))
    app.add_config_value(LAW_PAGES, True, "env", (bool,))
    app.add_config_value(LAW_TESTS, "", "env", (str,))
    app.add_config_value(CERTIFICATES, "certificates", "env", (str,))
    app.add_config_value(COVERAGE, "", "env", (str,))


def chosen(config: Config) -> tuple[RuleSet, ...]:
    """Return the rule sets and bases that the site is about.

    Args:
        config: The settings.

    Returns:
        Those that the setting names, or every installed one: rule sets by id, then bases of efficiency.

    Raises:
        ExtensionError: The setting names a rule set that is not installed.
    """
    catalogue = Catalogue.installed()
    everything = (*catalogue.rule_sets, *catalogue.bases)
    named: object = config[RULE_SETS]
    if named is None:
        return everything
    known = {rules.id for rules in everything}
    wanted = [str(each) for each in named] if isinstance(named, (list, tuple)) else []
    for name in wanted:
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            refused = "; ".join(str(failure) for failure in catalogue.failures)
            hint = f"Did you mean {near[0]}?" if near else "Install the plugin that brings it."
            raise ExtensionError(
                f"{RULE_SETS}: no rule set {name!r} is installed. {hint}" + (f" Refused: {refused}" if refused else "")
            )
    return tuple(rules for rules in everything if rules.id in wanted)


def chosen_rule_sets(config: Config) -> tuple[RuleSet, ...]:
    """Return those of :func:`chosen` that count clips.

    Args:
        config: The settings.

    Returns:
        Rule sets by id.

    Raises:
        ExtensionError: As :func:`chosen`.
    """
    return tuple(rules for rules in chosen(config) if not rules.is_basis)


def chosen_bases(config: Config) -> tuple[RuleSet, ...]:
    """Return those of :func:`chosen` that give efficiencies alone.

    Args:
        config: The settings.

    Returns:
        Bases, those of the core first.

    Raises:
        ExtensionError: As :func:`chosen`.
    """
    return tuple(rules for rules in chosen(config) if rules.is_basis)


def file_named(app: Sphinx, setting: str) -> Path | None:
    """Return the file or folder that a setting names.

    Args:
        app: The application.
        setting: Name of the setting.

    Returns:
        Its path below the folder of the pages; None where the setting is empty.
    """
    named = str(app.config[setting])
    return Path(app.srcdir) / named if named else None
