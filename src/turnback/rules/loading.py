"""Loading plugins one at a time, so that a broken one takes nothing down and never goes unnoticed.

In-process plugins are trusted code: nothing here is a sandbox.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import metadata
from typing import TypeVar

import attrs
import pluggy

from turnback.model.styles import ClipStyle
from turnback.rules.hookspecs import ENTRY_POINT_GROUP, HOOK_NAMES, PROJECT, Hooks
from turnback.rules.ruleset import RuleSet
from turnback.rules.service import ServiceRule

__all__ = ["Failure", "Origin", "Supplied", "load", "load_installed"]

T = TypeVar("T")


@attrs.frozen(order=True)
class Origin:
    """Where a plugin comes from: never the name that a plugin gives itself.

    Args:
        distribution: Name of the distribution.
        version: Its version.
        entry_point: Name of the entry point, or of the object that was passed in.
    """

    distribution: str
    version: str
    entry_point: str

    def __str__(self) -> str:
        return f"{self.distribution} {self.version} ({self.entry_point})"


@attrs.frozen(order=True)
class Failure:
    """A plugin, or a part of what it supplies, that was refused.

    Args:
        origin: Where it comes from.
        reason: What went wrong.
    """

    origin: Origin
    reason: str

    def __str__(self) -> str:
        return f"{self.origin}: {self.reason}"


@attrs.frozen
class Supplied:
    """What one plugin supplies.

    Args:
        origin: Where it comes from.
        styles: Its styles.
        rule_sets: Its rule sets.
        service_rules: Its service rules.
    """

    origin: Origin
    styles: tuple[ClipStyle, ...] = ()
    rule_sets: tuple[RuleSet, ...] = ()
    service_rules: tuple[ServiceRule, ...] = ()


def load(origin: Origin, plugin: Callable[[], object]) -> Supplied | Failure:
    """Load one plugin in a manager of its own and check everything that it returns.

    Args:
        origin: Where it comes from.
        plugin: Returns the module or object with the hook implementations; may raise.

    Returns:
        What it supplies, or why it was refused. Only a keyboard interrupt passes through.
    """
    try:
        return _supplied(origin, plugin())
    except KeyboardInterrupt:
        raise
    except BaseException as error:
        return Failure(origin, f"{type(error).__name__}: {_text(error)}")


def _text(error: BaseException) -> str:
    try:
        return " ".join(str(error).split())[:400] or "no message"
    except Exception:
        return "its message cannot be read"


def _supplied(origin: Origin, plugin: object) -> Supplied:
    if isinstance(plugin, type):
        raise TypeError("the entry point names a class; name a module or an instance")
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Hooks)
    manager.register(plugin, name=str(origin))
    manager.check_pending()
    callers = {caller.name for caller in manager.get_hookcallers(plugin) or ()}
    if not callers & set(HOOK_NAMES):
        raise TypeError("it implements no hook; mark functions named " + ", ".join(HOOK_NAMES) + " with hookimpl")
    return Supplied(
        origin,
        _checked(manager, "turnback_styles", ClipStyle),  # type: ignore[type-abstract]  # only isinstance is asked
        _checked(manager, "turnback_rule_sets", RuleSet),
        _checked(manager, "turnback_service_rules", ServiceRule),
    )


def _checked(manager: pluggy.PluginManager, name: str, kind: type[T]) -> tuple[T, ...]:
    # pluggy checks neither the number nor the type of what a hook returns, so both are checked here.
    results: list[object] = getattr(manager.hook, name)()
    items: list[T] = []
    for result in results:
        if not isinstance(result, tuple):
            raise TypeError(f"{name} returned {type(result).__name__}; it must return a tuple of {kind.__name__}")
        for item in result:
            if not isinstance(item, kind):
                raise TypeError(f"{name} returned a tuple with {type(item).__name__}; each must be a {kind.__name__}")
            items.append(item)
    return tuple(items)


def load_installed() -> tuple[Supplied | Failure, ...]:
    """Load every plugin that an installed distribution names in the entry-point group ``turnback.plugins``.

    Returns:
        One result for each entry point, sorted by where it comes from.
    """
    results = [load(origin, entry_point.load) for origin, entry_point in _entry_points()]
    return tuple(sorted(results, key=lambda result: result.origin))


def _entry_points() -> Iterator[tuple[Origin, metadata.EntryPoint]]:
    seen: set[Origin] = set()
    for entry_point in metadata.entry_points(group=ENTRY_POINT_GROUP):
        dist = entry_point.dist
        name, version = (dist.name, dist.version) if dist is not None else ("unknown distribution", "?")
        origin = Origin(name, version, entry_point.name)
        if origin not in seen:  # an editable install beside a stale one lists the same entry point twice
            seen.add(origin)
            yield origin, entry_point
