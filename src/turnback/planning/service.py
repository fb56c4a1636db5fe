"""What the service asks of one termination: the service rules, weighed against a request.

A :class:`ServiceBook` is built once from the rules and factors at hand, and asked once a plan. A state takes the rules
of its federation too (``US-CA`` takes those of ``US``); where no jurisdiction is given the rules of all hold together,
the strictest of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Final, NamedTuple, TypeVar

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.classes import is_rotation_resistant
from turnback.model.findings import Finding
from turnback.model.rope import Rope
from turnback.model.terminations import Termination
from turnback.planning._service_factors import FactorBook
from turnback.planning._service_weighing import (
    Entry,
    ServiceDemands,
    checked,
    in_order,
    not_stated,
    nothing_read,
    together,
)
from turnback.rules.service import ANY, GENERAL, DesignFactor, ServiceRule
from turnback.rules.servicefile import jurisdiction_names, service_names

__all__ = ["ServiceBook", "ServiceDemands", "forbidden_uses"]

T = TypeVar("T")

_NO_FACTOR: Final = Absent("design_factor", "state the service; the design factor depends on it")


@attrs.frozen(eq=False)
class _Shelf:
    """The rules of one service, those of every service among them."""

    entries: tuple[Entry, ...]
    sized: tuple[ServiceRule, ...]
    tells_resistant: bool

    @classmethod
    def of(cls, entries: tuple[Entry, ...]) -> _Shelf:
        rules = [entry.rule for entry in entries]
        sized = tuple(rule for rule in rules if rule.rope_from is not None or rule.rope_below is not None)
        return cls(entries, sized, any(rule.design_factor_rotation_resistant is not None for rule in rules))


class _Key(NamedTuple):
    """All that an answer depends on, but for the checks that look at dimensions."""

    service: str | None
    jurisdiction: str | None
    style: str
    kind: str
    sizes: tuple[bool, ...]
    resistant: bool | None


@attrs.frozen(eq=False)
class _Answer:
    """The answer for one key, the rules to check against dimensions, and the answer where those are met."""

    demands: ServiceDemands
    to_check: tuple[Entry, ...]
    all_met: ServiceDemands


@attrs.frozen
class ServiceBook:
    """The service rules and design factors at hand. Build it once, with :meth:`of`.

    Args:
        rules: The service rules.
        factors: The design factors.
        services: Ids of every service that may be asked for: the core's, and what the rules and factors add.
        jurisdictions: Ids of every jurisdiction that may be asked for, likewise.
    """

    rules: tuple[ServiceRule, ...]
    factors: tuple[DesignFactor, ...]
    services: tuple[str, ...]
    jurisdictions: tuple[str, ...]
    # Look-ups of what the tuples hold already, and answers that were computed from them: no part of what the book is.
    _shelves: Mapping[str | None, _Shelf] = attrs.field(init=False, eq=False, repr=False)
    _circles: Mapping[str | None, frozenset[str]] = attrs.field(init=False, eq=False, repr=False)
    _styles: frozenset[str] = attrs.field(init=False, eq=False, repr=False)
    _factors: FactorBook = attrs.field(init=False, eq=False, repr=False)
    _answers: dict[_Key, _Answer] = attrs.field(init=False, eq=False, repr=False, factory=dict)

    def __attrs_post_init__(self) -> None:
        entries = tuple(Entry.of(rule) for rule in self.rules)
        shelves: dict[str | None, _Shelf] = {
            service: _Shelf.of(tuple(entry for entry in entries if entry.rule.service in (service, ANY)))
            for service in (*self.services, None)
        }
        circles = {each: frozenset((each, each.partition("-")[0], ANY)) for each in self.jurisdictions}
        object.__setattr__(self, "_shelves", shelves)
        object.__setattr__(self, "_circles", {**circles, None: frozenset((*self.jurisdictions, ANY))})
        object.__setattr__(self, "_styles", frozenset(style for rule in self.rules for style in rule.styles))
        object.__setattr__(self, "_factors", FactorBook.of(self.factors))

    @classmethod
    def of(cls, rules: Iterable[ServiceRule], factors: Iterable[DesignFactor]) -> ServiceBook:
        """Build a book.

        Args:
            rules: The service rules, those of the core and of plugins.
            factors: The design factors.

        Returns:
            The book. The services and jurisdictions of the core are always known to it.
        """
        rules_, factors_ = tuple(rules), tuple(factors)
        services = [name for name, _ in service_names()]
        services += [rule.service for rule in rules_] + [name for factor in factors_ for name in factor.services]
        places = [name for name, _ in jurisdiction_names()]
        places += [rule.jurisdiction for rule in rules_] + [factor.jurisdiction for factor in factors_]
        return cls(rules_, factors_, _once(services), _once(places))

    def demands(
        self,
        *,
        service: str | None,
        jurisdiction: str | None,
        rope: Rope,
        style_id: str,
        termination: Termination,
    ) -> ServiceDemands:
        """Weigh the rules of a service against one termination.

        Args:
            service: Id of the service; None when it is not stated.
            jurisdiction: Id of the jurisdiction; None takes the rules of all together.
            rope: The rope.
            style_id: Id of the clip style.
            termination: The kind of eye or splice.

        Returns:
            What the service asks for.

        Raises:
            InputError: The service or the jurisdiction is not known; the nearest and the list are named.
        """
        circle = _found(self._circles, "jurisdiction", jurisdiction, self.jurisdictions)
        shelf = _found(self._shelves, "service", service, self.services)
        key = _Key(
            service,
            jurisdiction,
            style_id if style_id in self._styles else "",
            termination.kind,
            tuple([rule.holds_for_size(rope.diameter) for rule in shelf.sized]),
            is_rotation_resistant(rope) if shelf.tells_resistant else None,
        )
        answer = self._answers.get(key)
        if answer is None:
            # The same answer whoever computes it first, so threads may race here.
            answer = self._answers[key] = self._answer(key, shelf, circle, rope, termination)
        if not answer.to_check:
            return answer.demands
        more = [finding for entry in answer.to_check for finding in checked(entry, rope, termination)]
        if more == [entry.finding for entry in answer.to_check]:
            return answer.all_met
        return attrs.evolve(answer.demands, findings=in_order((*answer.demands.findings, *more)))

    def _answer(
        self, key: _Key, shelf: _Shelf, circle: frozenset[str], rope: Rope, termination: Termination
    ) -> _Answer:
        findings: list[Finding] = []
        asking: list[ServiceRule] = []
        to_check: list[Entry] = []
        for entry in _holding(shelf, circle, rope, termination):
            if entry.rule.styles and key.style not in entry.rule.styles:
                findings.append(entry.other_style)
                continue
            asking.append(entry.rule)
            if entry.depends_on_dimensions(termination.kind):
                to_check.append(entry)
            elif entry.has_checks:
                findings.extend(checked(entry, rope, termination))
            elif not entry.rule.forged_only_confirm:
                findings.append(entry.finding)
        factor: Cited[Fraction] | Absent = _NO_FACTOR
        if key.service is None:
            forbidding = [r for r in self.rules if r.kind == "forbidden" and r.jurisdiction in circle]
            findings.append(not_stated(forbidding, key.style))
        else:
            factor, doubts = self._factors.factor(key.service, key.jurisdiction, circle, asking, key.resistant)
            findings.extend(doubts)
            if key.service != GENERAL and not _is_read(key.service, shelf, circle):
                findings.append(nothing_read(key.service, key.jurisdiction))
        demands = together(findings, asking, factor)
        met = in_order((*demands.findings, *(entry.finding for entry in to_check)))
        return _Answer(demands, tuple(to_check), attrs.evolve(demands, findings=met))


def forbidden_uses(book: ServiceBook, style_id: str) -> tuple[ServiceRule, ...]:
    """List the rules that forbid a style of clip in some service.

    Args:
        book: The rules at hand.
        style_id: Id of the clip style.

    Returns:
        The rules that forbid clips of every style, or name this one, in the order of the book.
    """
    return tuple(r for r in book.rules if r.kind == "forbidden" and (not r.styles or style_id in r.styles))


def _holding(shelf: _Shelf, circle: frozenset[str], rope: Rope, termination: Termination) -> Iterable[Entry]:
    for entry in shelf.entries:
        rule = entry.rule
        if rule.jurisdiction not in circle or not rule.holds_for_size(rope.diameter):
            continue
        if not rule.terminations or termination.kind in rule.terminations:
            yield entry


def _is_read(service: str, shelf: _Shelf, circle: frozenset[str]) -> bool:
    """Tell whether any paragraph on this very service was read for these jurisdictions."""
    rules = (entry.rule for entry in shelf.entries)
    return any(r.service == service and r.jurisdiction in circle and not r.forged_only_confirm for r in rules)


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(name for name in dict.fromkeys(names) if name != ANY)


def _found(table: Mapping[str | None, T], field: str, value: str | None, known: Sequence[str]) -> T:
    try:
        return table[value]
    except (KeyError, TypeError):
        pass
    from difflib import get_close_matches  # only where a message is written

    near = get_close_matches(str(value)[:64], known, n=1)
    raise InputError(
        f"no {field} of this name is known",
        field=field,
        value=repr(value)[:80],
        bound="one of " + ", ".join(known),
        instead=f"Did you mean {near[0]}?" if near else f"Take one of these, or leave the {field} out.",
    )
