"""What is examined: a rule set with its style, its neighbours, its file and the author's check values."""

from __future__ import annotations

import importlib.util
import os
from functools import cached_property
from hashlib import sha256
from importlib import metadata

import attrs

from turnback.conformance.check_values import CheckValues, read_check_values
from turnback.errors import InputError
from turnback.model.styles import ClipStyle
from turnback.rules.catalogue import Catalogue
from turnback.rules.hookspecs import ENTRY_POINT_GROUP
from turnback.rules.loading import Origin
from turnback.rules.rulefile import parse_rules, read_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["CHECK_ENDING", "Subject", "changed", "parsed", "subject_of"]

CHECK_ENDING = ".check.toml"
"""Ending of the file of check values that lies beside ``NAME.toml``."""


@attrs.frozen(eq=False, slots=False)
class Subject:
    """One rule set under examination.

    Args:
        rules: The rule set.
        catalogue: What is at hand beside it.
        text: The text of its rule file; empty where it was made in Python.
        values: The author's check values; None where there are none.
        named: What a command line calls it: the id, or the path as it was given; empty where neither was given.
    """

    rules: RuleSet = attrs.field(repr=False)
    catalogue: Catalogue = attrs.field(repr=False)
    text: str = attrs.field(default="", repr=False)
    values: CheckValues | None = attrs.field(default=None, repr=False)
    named: str = ""

    @cached_property
    def style(self) -> ClipStyle:
        """The clip style that it is for.

        Raises:
            UnknownStyle: No plugin brings it.
        """
        return self.catalogue.style(self.rules.style)

    @cached_property
    def neighbours(self) -> tuple[RuleSet, ...]:
        """The other rule sets for the style, by id."""
        return tuple(rules for rules in self.catalogue.for_style(self.rules.style) if rules.id != self.rules.id)

    @property
    def is_file(self) -> bool:
        """Whether it is a rule file that was named by its path, and no installed rule set."""
        return bool(self.named) and self.named != self.rules.id

    @property
    def origin(self) -> Origin | None:
        """The distribution that brings it; None for a file of the user's."""
        return self.catalogue.origin_of(self.rules.id)


def subject_of(
    rules: RuleSet | str | os.PathLike[str],
    catalogue: Catalogue | None = None,
    check_values: CheckValues | str | os.PathLike[str] | None = None,
) -> Subject:
    """Bring together what is examined.

    Args:
        rules: A rule set, the id of an installed one, or the path of a rule file.
        catalogue: What is at hand; the installed plugins when not given.
        check_values: Check values or the path of their file; the file beside the rule file when not given.

    Returns:
        The subject.

    Raises:
        InputError: A file cannot be read or breaks its format.
        UnknownRuleSet: No plugin brings a rule set of this id.
        PluginError: A plugin that failed to load may have brought it.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    path: str | None = None
    name = ""
    if isinstance(rules, RuleSet):
        found = rules
        path = _file_of(found, at_hand)
    else:
        name = os.fspath(rules)
        if _is_path(name):
            path, found = name, read_rules(name)
        else:
            found = at_hand.rule_set(name)
            path = _file_of(found, at_hand)
    if isinstance(check_values, CheckValues):
        values: CheckValues | None = check_values
    elif check_values is not None:
        values = read_check_values(check_values)
    else:
        beside = None if path is None else os.path.splitext(path)[0] + CHECK_ENDING
        values = read_check_values(beside) if beside is not None and os.path.isfile(beside) else None
    if values is not None and values.rules != found.id:
        raise InputError(
            "these check values are for another rule set",
            field="rules",
            value=values.rules,
            bound=found.id,
            instead="Name the rule set that they were typed for.",
        )
    return Subject(found, at_hand, "" if path is None else _text(path), values, name)


def _is_path(name: str) -> bool:
    return name.endswith(".toml") or os.sep in name or os.path.isfile(name)


def _text(path: str) -> str:
    with open(path, encoding="utf-8-sig", newline="") as file:
        return file.read()


def _file_of(rules: RuleSet, catalogue: Catalogue) -> str | None:
    """Find the file that a rule set was read from: by name and hash, in the folder of the plugin that brings it."""
    if not rules.origin.endswith(".toml"):
        return None
    origin = catalogue.origin_of(rules.id)
    for folder in _folders(origin):
        for place, _, names in os.walk(folder):
            path = os.path.join(place, rules.origin)
            if rules.origin in names and _hash(path) == rules.sha256:
                return path
    return None


def _folders(origin: Origin | None) -> list[str]:
    core = os.path.join(os.path.dirname(os.path.dirname(__file__)), "rules", "data")
    modules = [] if origin is None else [origin.entry_point]
    if origin is not None:
        modules += [
            point.value.partition(":")[0]
            for point in metadata.entry_points(group=ENTRY_POINT_GROUP)
            if point.name == origin.entry_point
        ]
    found = [core]
    for module in modules:
        try:
            spec = importlib.util.find_spec(module)
        except (ImportError, ValueError):
            continue
        if spec is not None and spec.origin is not None:
            found.append(os.path.dirname(spec.origin))
    return found


def _hash(path: str) -> str:
    with open(path, "rb") as file:
        return sha256(file.read()).hexdigest()


def changed(subject: Subject, rules: RuleSet) -> Subject:
    """Return the same subject with another rule set in place of its own, such as a mutant.

    Args:
        subject: The subject.
        rules: The other rule set.

    Returns:
        A subject without a file, for the file says something else.
    """
    return Subject(rules, subject.catalogue, "", subject.values)


def parsed(text: str, catalogue: Catalogue | None = None) -> Subject:
    """Bring together what is examined of a rule file that is at hand as text.

    Args:
        text: The text.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The subject, without check values.

    Raises:
        InputError: The text breaks the format.
    """
    return Subject(parse_rules(text), Catalogue.installed() if catalogue is None else catalogue, text)
