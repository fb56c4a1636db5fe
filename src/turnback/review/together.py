"""Which of several rule sets can be met together, and what governs then, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

import attrs

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.planning.demand import Bound
from turnback.planning.plan import Plan
from turnback.review.clashes import Clash, clash_of_several, clashes_of
from turnback.review.saying import Answer, Item, efficiency_text, item_label

__all__ = ["Together", "companies_of"]

_LONGER: Final = "longer than any of them asks for alone"
_MORE: Final = "more than any of them asks for alone"


@attrs.frozen
class Together:
    """Rule sets that can be met together; no further one of those that cover the case can join them.

    Args:
        answers: What each says alone.
        plan: The plan by all of them.
    """

    answers: tuple[Answer, ...]
    plan: Plan

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the rule sets."""
        return tuple(each.rules.id for each in self.answers)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What a person must know or do of the plan by all that no member's own plan says."""
        alone = {finding for answer in self.answers for finding in answer.plan.findings}
        return tuple(finding for finding in self.plan.findings if finding not in alone)

    @property
    def governs(self) -> tuple[tuple[str, str], ...]:
        """What governs: name of the item, and what holds with who asks for it."""
        return tuple((item_label(item, self.plan), text) for item, text in _governs(self))


def companies_of(
    answers: tuple[Answer, ...], plan_by: Callable[[tuple[Answer, ...]], Plan]
) -> tuple[tuple[Together, ...], tuple[Clash, ...]]:
    """Find every largest set of answers that can be met together, and what keeps the others apart.

    Args:
        answers: What each rule set says alone.
        plan_by: Plans by all of several; it raises where they cannot be met together.

    Returns:
        The companies, the largest first, and the clashes.
    """
    clashes: list[Clash] = []
    friends: dict[int, set[int]] = {i: set() for i in range(len(answers))}
    for i, one in enumerate(answers):
        for j in range(i + 1, len(answers)):
            pair = (one, answers[j])
            found = clashes_of(*pair)
            error = None if found else _refusal(pair, plan_by)
            clashes += found if error is None else (clash_of_several(pair, error),)
            if not found and error is None:
                friends[i].add(j)
                friends[j].add(i)
    kept: dict[tuple[int, ...], Together] = {}
    waiting = sorted(_cliques(friends, set(), set(friends), set()), key=_order) if answers else []
    while waiting:
        members = waiting.pop(0)
        if any(set(members) <= set(larger) for larger in kept):
            continue
        chosen = tuple(answers[i] for i in members)
        try:
            kept[members] = Together(chosen, chosen[0].plan if len(chosen) == 1 else plan_by(chosen))
        except TurnbackError as error:
            # No two contradict each other and all of them do: leave out each in turn.
            clashes.append(clash_of_several(chosen, error))
            fewer = [tuple(i for i in members if i != left_out) for left_out in members]
            waiting = sorted({*waiting, *fewer}, key=_order)
    return tuple(kept.values()), tuple(clashes)


def _order(members: tuple[int, ...]) -> tuple[int, tuple[int, ...]]:
    return -len(members), members


def _refusal(answers: tuple[Answer, ...], plan_by: Callable[[tuple[Answer, ...]], Plan]) -> TurnbackError | None:
    try:
        plan_by(answers)
    except TurnbackError as error:
        return error
    return None


def _cliques(
    friends: dict[int, set[int]], chosen: set[int], open_: set[int], done: set[int]
) -> Iterator[tuple[int, ...]]:
    """Yield every largest set whose members are all friends (Bron and Kerbosch, Algorithm 457 of the ACM, 1973)."""
    if not open_ and not done:
        yield tuple(sorted(chosen))
        return
    pivot = max(open_ | done, key=lambda i: (len(friends[i] & open_), -i))
    for i in sorted(open_ - friends[pivot]):
        yield from _cliques(friends, chosen | {i}, open_ & friends[i], done & friends[i])
        open_ = open_ - {i}
        done = done | {i}


def _governs(company: Together) -> Iterator[tuple[Item, str]]:
    plan = company.plan
    yield "count", _count(company)
    yield "turn-back", _turn_back(company)
    if plan.style.in_series:
        yield "spacing", _spacing(plan)
    yield "torque", _torque(company)
    for item in ("efficiency", "breaking force"):
        yield item, _same(company, item)


def _count(company: Together) -> str:
    plan = company.plan
    asking = _who(company, lambda each: each.plan.clip_count == plan.clip_count)
    if asking:
        return f"{plan.clip_count}, as {asking}"
    steps = "; ".join(f"{step.label}, which makes {step.count}" for step in plan.demand.steps)
    return f"{plan.clip_count}, {_MORE}: {steps}"


def _turn_back(company: Together) -> str:
    length = company.plan.turn_back
    if isinstance(length, Absent):
        return f"not known: {length.reason}"
    asking = _who(company, lambda each: each.plan.turn_back == length)
    if asking:
        return f"{length}, as {asking}"
    why = [f.text for f in company.plan.findings if f.code == "turn-back-lengthened"]
    return f"{length}, {_LONGER}" + (
        f". {' '.join(why)}" if why else f": in proportion to {company.plan.clip_count} clips"
    )


def _spacing(plan: Plan) -> str:
    spacing = plan.spacing
    words = [f"not known: {spacing.reason}" if isinstance(spacing, Absent) else f"{spacing} between centres"]
    words += _bound("at least", plan.demand.least)
    words += _bound("at most", plan.demand.greatest)
    if plan.demand.depends_on_base_width and plan.request.base_width is None:
        words.append("whether every bound can be met is known only with the base width of the clip")
    return "; ".join(words)


def _bound(word: str, bound: Bound | None) -> list[str]:
    return [] if bound is None else [f"{word} {bound.length} ({bound.text}) [{bound.citation}]"]


def _torque(company: Together) -> str:
    torque, threads = company.plan.torque, company.plan.thread_condition
    if isinstance(torque, Absent):
        return f"none: {torque.reason}"
    said = "condition not stated" if isinstance(threads, Absent) else threads
    asking = _who(company, lambda each: each.about("torque").says)
    return f"{torque}, threads: {said}, as {asking}"


def _same(company: Together, item: Item) -> str:
    plan = company.plan
    if item == "breaking force":
        force = plan.termination_breaking_force
        return f"none: {force.reason}" if isinstance(force, Absent) else f"{force}; never load to it"
    efficiency = plan.efficiency
    if isinstance(efficiency, Absent):
        return f"none: {efficiency.reason}"
    asking = _who(company, lambda each: each.plan.efficiency == efficiency)
    lowest = len({each.plan.efficiency for each in company.answers if each.about(item).says}) > 1
    return f"{efficiency_text(plan, efficiency)}{', the lowest' if lowest else ''}, as {asking}"


def _who(company: Together, asks: Callable[[Answer], bool]) -> str:
    found = [each.rules.id for each in company.answers if asks(each)]
    if not found:
        return ""
    return f"{_and(found)} {'asks' if len(found) == 1 else 'ask'}"


def _and(names: Iterable[str]) -> str:
    *rest, last = names
    return f"{', '.join(rest)} and {last}" if rest else last
