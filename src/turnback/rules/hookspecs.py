"""The hooks that a plugin implements: none takes an argument, each returns a tuple of typed values.

A plugin is a module (or object) with functions of these names marked by :data:`hookimpl`, found through the entry-point
group ``turnback.plugins``. It says which contract it was written for by a number of the name :data:`CONTRACT_NAME`.
"""

from __future__ import annotations

from typing import Final

import pluggy

from turnback.model.styles import ClipStyle
from turnback.rules.ruleset import RuleSet
from turnback.rules.service import ServiceRule

__all__ = ["CONTRACT", "CONTRACT_NAME", "ENTRY_POINT_GROUP", "HOOK_NAMES", "PROJECT", "Hooks", "hookimpl"]

PROJECT: Final = "turnback"
ENTRY_POINT_GROUP: Final = "turnback.plugins"
CONTRACT: Final = 1
"""Number of the contract that these hooks and the values they return make up; another number when one of them changes
so that a plugin written for it no longer holds."""
CONTRACT_NAME: Final = "turnback_contract"
"""Under this name a plugin says which contract it was written for; one that says nothing is taken at the first."""

hookspec: Final = pluggy.HookspecMarker(PROJECT)
hookimpl: Final = pluggy.HookimplMarker(PROJECT)
"""Marks a plugin's implementation of a hook."""


class Hooks:
    """The contract between the catalogue and a plugin. All three are optional; a plugin implements at least one."""

    @hookspec
    def turnback_styles(self) -> tuple[ClipStyle, ...]:
        """Return the clip styles that the plugin brings.

        Returns:
            Styles with ids of their own.
        """
        raise NotImplementedError

    @hookspec
    def turnback_rule_sets(self) -> tuple[RuleSet, ...]:
        """Return the rule sets that the plugin brings.

        Returns:
            Rule sets with ids of their own, usually from :func:`turnback.rules.read_rules`.
        """
        raise NotImplementedError

    @hookspec
    def turnback_service_rules(self) -> tuple[ServiceRule, ...]:
        """Return what further regulations forbid or demand of clips in a given service.

        Returns:
            Service rules, added to those of the core.
        """
        raise NotImplementedError


HOOK_NAMES: Final = ("turnback_rule_sets", "turnback_service_rules", "turnback_styles")
