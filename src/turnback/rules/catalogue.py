"""The catalogue: the styles, rule sets and service rules at hand, and what failed to load."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterable, Mapping
from typing import TypeVar

import attrs

from turnback.errors import PluginError, TurnbackError, UnknownRuleSet, UnknownStyle
from turnback.model.styles import ClipStyle
from turnback.quantities.grammar import shown
from turnback.rules.loading import Failure, Origin, Supplied, class_name, load, load_installed
from turnback.rules.rulefile import basis_rule_sets
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.rules.service import ServiceRule

__all__ = ["Catalogue"]

T = TypeVar("T", ClipStyle, RuleSet)


@attrs.frozen(cache_hash=True)
class Catalogue:
    """What is at hand. Build it with :meth:`installed` or :meth:`of`.

    Args:
        styles: Clip styles by id.
        rule_sets: Rule sets by id.
        core_bases: The core's own bases of efficiency, used where a rule set prints none.
        added_bases: Those of plugins, used when they are named.
        service_rules: Service rules that plugins add to those of the core.
        failures: Plugins and parts that were refused, with the reason.
        origins: Id of each style and rule set, and where it comes from.
        style_origins: Those of the styles alone.
        slips: What plugins changed in the process while they were loaded; it was put back, and nothing was refused.
    """

    styles: tuple[ClipStyle, ...]
    rule_sets: tuple[RuleSet, ...]
    core_bases: tuple[RuleSet, ...]
    added_bases: tuple[RuleSet, ...]
    service_rules: tuple[ServiceRule, ...]
    failures: tuple[Failure, ...]
    origins: tuple[tuple[str, Origin], ...]
    style_origins: tuple[tuple[str, Origin], ...] = ()
    slips: tuple[Failure, ...] = ()
    _by_id: Mapping[str, RuleSet] = attrs.field(init=False, eq=False, repr=False)
    _styles_by_id: Mapping[str, ClipStyle] = attrs.field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        # Read-only look-ups of what the tuples hold already.
        object.__setattr__(self, "_by_id", {rules.id: rules for rules in (*self.bases, *self.rule_sets)})
        object.__setattr__(self, "_styles_by_id", {style.id: style for style in self.styles})

    @property
    def bases(self) -> tuple[RuleSet, ...]:
        """All bases of efficiency."""
        return self.core_bases + self.added_bases

    @classmethod
    def installed(cls) -> Catalogue:
        """Return the catalogue of every installed plugin; it is read once in a process.

        Returns:
            An immutable catalogue; broken plugins stand in :attr:`failures`.
        """
        return _installed()

    @classmethod
    def of(cls, *plugins: object) -> Catalogue:
        """Build a catalogue explicitly, without entry points.

        Args:
            *plugins: Modules or objects with hook implementations.

        Returns:
            An immutable catalogue of the core and these.
        """
        results = [load(_given(plugin), lambda plugin=plugin: plugin) for plugin in plugins]  # type: ignore[misc]  # mypy cannot infer a lambda with a default
        return _assemble(results)

    def style(self, style_id: str) -> ClipStyle:
        """Return a style.

        Args:
            style_id: Its id.

        Returns:
            The style.

        Raises:
            UnknownStyle: No plugin brings it.
            PluginError: No plugin brings it, and one that failed to load may have.
        """
        found = _found(self._styles_by_id, style_id)
        if found is None:
            raise self._unknown(UnknownStyle, "style", style_id, self._styles_by_id)
        return found

    def rule_set(self, rules_id: str) -> RuleSet:
        """Return a rule set or basis.

        Args:
            rules_id: Its id.

        Returns:
            The rule set.

        Raises:
            UnknownRuleSet: No plugin brings it.
            PluginError: No plugin brings it, and one that failed to load may have.
        """
        found = _found(self._by_id, rules_id)
        if found is None:
            raise self._unknown(UnknownRuleSet, "rules", rules_id, self._by_id)
        return found

    def find(self, rules_id: str) -> RuleSet | None:
        """Return a rule set or basis if it is at hand.

        Args:
            rules_id: Its id.

        Returns:
            The rule set; None where no plugin brings it.
        """
        return self._by_id.get(rules_id)

    def for_style(self, style_id: str) -> tuple[RuleSet, ...]:
        """Return the rule sets that speak of a style.

        Args:
            style_id: Id of the style.

        Returns:
            Rule sets by id, without the bases of efficiency.
        """
        return tuple(rules for rules in self.rule_sets if rules.style in (style_id, ANY_STYLE))

    def origin_of(self, item_id: str) -> Origin | None:
        """Return where a style or rule set comes from.

        Args:
            item_id: Its id.

        Returns:
            The origin; None for what the core itself brings.
        """
        return next((origin for name, origin in self.origins if name == item_id), None)

    def origin_of_style(self, style_id: str) -> Origin | None:
        """Return where a style comes from, whatever rule set bears the same name.

        Args:
            style_id: Its id.

        Returns:
            The origin; None where no plugin brings it.
        """
        return next((origin for name, origin in self.style_origins if name == style_id), None)

    def _unknown(
        self, kind: type[TurnbackError], field: str, wanted: object, known: Mapping[str, object]
    ) -> TurnbackError:
        given = shown(wanted)  # one short line, whatever was given
        near = difflib.get_close_matches(str(wanted)[:64], known, n=1)
        hint = f"Did you mean {near[0]}?" if near else "Install the plugin that brings it, or take one of these."
        at_hand = "at hand: " + (", ".join(sorted(known)) or "none")
        if not self.failures:
            return kind("nothing of this name is at hand", field=field, value=given, bound=at_hand, instead=hint)
        broken = "; ".join(str(failure) for failure in self.failures)
        return PluginError(
            f"nothing of this name is at hand, and a plugin that was refused may have brought it ({broken})",
            field=field,
            value=given,
            bound=at_hand,
            instead="Mend or remove that plugin. " + hint,
        )


@functools.cache
def _installed() -> Catalogue:
    return _assemble(load_installed())


def _found(table: Mapping[str, T], name: object) -> T | None:
    return table.get(name) if isinstance(name, str) else None


def _given(plugin: object) -> Origin:
    # Nothing of the plugin's own is asked but a name, and that may fail too.
    kind = class_name(plugin)
    try:
        name = getattr(plugin, "__name__", kind)
    except BaseException as error:
        if type(error) is KeyboardInterrupt:
            raise
        name = kind
    return Origin("passed in", "-", name if type(name) is str else kind)


def _assemble(results: Iterable[Supplied | Failure]) -> Catalogue:
    failures = [result for result in results if isinstance(result, Failure)]
    supplied = [result for result in results if isinstance(result, Supplied)]
    styles = _unique("style", [(style, part.origin) for part in supplied for style in part.styles], failures)
    sets = _unique("rule set", [(rules, part.origin) for part in supplied for rules in part.rule_sets], failures)
    core = basis_rule_sets()
    taken = {rules.id for rules in core}
    for rules, origin in [pair for pair in sets if pair[0].id in taken]:
        failures.append(Failure(origin, f"its rule set {rules.id} has the name of one of the core's"))
    sets = [pair for pair in sets if pair[0].id not in taken]
    bases = [rules for rules, _ in sets if rules.is_basis]
    style_origins = tuple(sorted((style.id, origin) for style, origin in styles))
    return Catalogue(
        styles=tuple(style for style, _ in styles),
        rule_sets=tuple(rules for rules, _ in sets if not rules.is_basis),
        core_bases=core,
        added_bases=tuple(bases),
        service_rules=tuple(rule for part in sorted(supplied, key=lambda p: p.origin) for rule in part.service_rules),
        failures=tuple(sorted(failures)),
        # Rule sets first: whoever asks for the origin of one is never told that of a style with the same name.
        origins=(*sorted((rules.id, origin) for rules, origin in sets), *style_origins),
        style_origins=style_origins,
        slips=tuple(sorted(Failure(part.origin, slip) for part in supplied for slip in part.slips)),
    )


def _unique(what: str, pairs: list[tuple[T, Origin]], failures: list[Failure]) -> list[tuple[T, Origin]]:
    # Which of two plugins loads first is chance, so a name that two of them claim belongs to neither.
    claims: dict[str, list[Origin]] = {}
    for item, origin in pairs:
        claims.setdefault(item.id, []).append(origin)
    for name, origins in claims.items():
        if len(origins) > 1:
            both = " and ".join(str(origin) for origin in sorted(origins))
            failures.extend(
                Failure(o, f"the {what} {name} is claimed more than once, by {both}") for o in sorted(set(origins))
            )
    kept = [pair for pair in pairs if len(claims[pair[0].id]) == 1]
    return sorted(kept, key=lambda pair: pair[0].id)
