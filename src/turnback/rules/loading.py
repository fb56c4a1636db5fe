"""Loading plugins one at a time, so that a broken one takes nothing down and never goes unnoticed.

In-process plugins are trusted code: nothing here is a sandbox.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import attrs
import pluggy

from turnback.model.styles import ClipStyle
from turnback.quantities.grammar import shown
from turnback.rules._entry_points import discovered
from turnback.rules._host import left_as_found
from turnback.rules._promised import RULE_SET, SERVICE_RULE, check_style
from turnback.rules.hookspecs import CONTRACT, CONTRACT_NAME, ENTRY_POINT_GROUP, HOOK_NAMES, PROJECT, Hooks
from turnback.rules.ruleset import RuleSet
from turnback.rules.service import ServiceRule

__all__ = ["Failure", "Origin", "Supplied", "class_name", "load", "load_installed", "reason_of"]

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
        slips: What it changed in the process while it was loaded, in words; empty when it left it as it was.
    """

    origin: Origin
    styles: tuple[ClipStyle, ...] = ()
    rule_sets: tuple[RuleSet, ...] = ()
    service_rules: tuple[ServiceRule, ...] = ()
    slips: tuple[str, ...] = ()


def load(origin: Origin, plugin: Callable[[], object]) -> Supplied | Failure:
    """Load one plugin in a manager of its own and check everything that it returns, down to the last number.

    What it changes in the process meanwhile (folder, locale, environment and the like) is put back.

    Args:
        origin: Where it comes from.
        plugin: Returns the module or object with the hook implementations; may raise.

    Returns:
        What it supplies, or why it was refused. Only a keyboard interrupt passes through.
    """
    result, slips = left_as_found(lambda: _tried(origin, plugin))
    if not slips:
        return result
    if isinstance(result, Failure):
        return Failure(origin, "; ".join((result.reason, *slips)))
    return attrs.evolve(result, slips=slips)


def _tried(origin: Origin, plugin: Callable[[], object]) -> Supplied | Failure:
    try:
        return _supplied(origin, plugin())
    except BaseException as error:
        if type(error) is KeyboardInterrupt:  # somebody pressed the key; a subclass of it is a plugin's own
            raise
        return Failure(origin, reason_of(error))


def class_name(thing: object) -> str:
    """Return the name of a thing's class, as Python itself keeps it: a class of a plugin may answer anything.

    Args:
        thing: Anything.

    Returns:
        The name.
    """
    name: str = type.__dict__["__name__"].__get__(type(thing))
    return name


def reason_of(error: BaseException) -> str:
    """Say in one short line what a plugin raised, whatever it is.

    Args:
        error: What it raised.

    Returns:
        The name of its class and its message, or that the message cannot be read.
    """
    line = "its message cannot be read"
    try:
        # A message may be of a subclass of str, endless, of many lines, or hold what no terminal should be sent.
        message = " ".join(str.__str__(str(error))[:4000].split())[:400] or "no message"
        line = "".join(character if character.isprintable() else "?" for character in message)
    except BaseException as other:
        if type(other) is KeyboardInterrupt:
            raise
    return f"{class_name(error)}: {line}"


def _supplied(origin: Origin, plugin: object) -> Supplied:
    if isinstance(plugin, type):
        raise TypeError("the entry point names a class; name a module or an instance")
    # Before anything else: under another contract hooks may have other names, and values other fields.
    contract = getattr(plugin, CONTRACT_NAME, CONTRACT)
    if type(contract) is not int or contract != CONTRACT:
        raise TypeError(
            f"it is written for contract {shown(contract)[:20]} of the hooks, and this library speaks contract "
            f"{CONTRACT}; take versions of the two that go together"
        )
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Hooks)
    manager.register(plugin, name=str(origin))
    manager.check_pending()
    callers = {caller.name for caller in manager.get_hookcallers(plugin) or ()}
    if not callers & set(HOOK_NAMES):
        raise TypeError("it implements no hook; mark functions named " + ", ".join(HOOK_NAMES) + " with hookimpl")
    seen: dict[int, object] = {}
    return Supplied(
        origin,
        _checked(manager, "turnback_styles", ClipStyle, lambda style: check_style(style, seen)),  # type: ignore[type-abstract]  # only isinstance is asked
        _checked(manager, "turnback_rule_sets", RuleSet, lambda rules: RULE_SET(rules, seen)),
        _checked(manager, "turnback_service_rules", ServiceRule, lambda rule: SERVICE_RULE(rule, seen)),
    )


def _checked(manager: pluggy.PluginManager, name: str, kind: type[T], check: Callable[[T], None]) -> tuple[T, ...]:
    # pluggy checks neither the number nor the type of what a hook returns, so both are checked here. A subclass of a
    # tuple may answer something else each time it is gone through.
    results: object = getattr(manager.hook, name)()
    if type(results) is not list:
        raise TypeError(f"{name} is wrapped, and the wrapper returned {class_name(results)}; leave the wrapper out")
    items: list[T] = []
    for result in results:
        if type(result) is not tuple:
            raise TypeError(f"{name} returned {class_name(result)}; it must return a tuple of {kind.__name__}")
        for item in result:
            if kind not in type(item).__mro__:
                raise TypeError(f"{name} returned a tuple with {class_name(item)}; each must be a {kind.__name__}")
            check(item)
            items.append(item)
    return tuple(items)


def load_installed() -> tuple[Supplied | Failure, ...]:
    """Load every plugin that an installed distribution names in the entry-point group ``turnback.plugins``.

    Returns:
        One result for each entry point, sorted by where it comes from.
    """
    results = [load(Origin(*where), plugin) for where, plugin in discovered(ENTRY_POINT_GROUP)]
    return tuple(sorted(results, key=lambda result: result.origin))
