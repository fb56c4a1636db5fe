"""Where two rule sets cannot be met together: who says what, and what there is to do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.planning.demand import Bound
from turnback.planning.plan import Plan
from turnback.review.saying import Answer

__all__ = ["Clash", "clash_of_several", "clashes_of"]

_ONE_AT_A_TIME: Final = "Take the rule set of the clip in hand: clips of two patterns are not mixed."
_ONE_TORQUE: Final = (
    "Take one of the rule sets alone, or the clip maker's torque; a torque is never mixed, averaged or interpolated."
)
_APART: Final = "Take one of the rule sets alone, or clips with a smaller base width."


@attrs.frozen
class Clash:
    """Demands that cannot be met together.

    Args:
        item: What they are about: ``pattern``, ``clip size``, ``torque``, ``threads``, ``spacing``, or the field that
            the plan by all of them names.
        rules: Ids of the rule sets.
        text: Who says what.
        citations: Who says so, one for each rule set and in their order.
        instead: What there is to do.
    """

    item: str
    rules: tuple[str, ...]
    text: str
    citations: tuple[Citation, ...]
    instead: str

    def __str__(self) -> str:
        cited = "; ".join(str(citation) for citation in self.citations)
        return f"{' and '.join(self.rules)}, {self.item}: {self.text} [{cited}] {self.instead}"


def clashes_of(one: Answer, other: Answer) -> tuple[Clash, ...]:
    """Say in what two rule sets contradict each other.

    This reads both answers beside each other; whether a plan by both exists is asked apart, so that each checks the
    other.

    Args:
        one: What one rule set says.
        other: What another says.

    Returns:
        Every contradiction, each with both citations.
    """
    return tuple(_clashes(one, other))


def clash_of_several(answers: tuple[Answer, ...], error: TurnbackError) -> Clash:
    """Say why several rule sets cannot be met together, where no two of their demands alone contradict each other.

    Args:
        answers: What each says.
        error: What planning by all of them says.

    Returns:
        The clash.
    """
    parts = [error.problem, f"given: {error.value}" if error.value else "", f"bound: {error.bound}"]
    text = "; ".join(part for part in parts if part and part != "bound: ")
    ids, cited = tuple(each.rules.id for each in answers), tuple(each.rules.citation for each in answers)
    return Clash(error.field or "together", ids, f"{text} ({error.citation}).", cited, error.instead)


def _clashes(one: Answer, other: Answer) -> Iterator[Clash]:
    ids = (one.rules.id, other.rules.id)
    cited = (one.rules.citation, other.rules.citation)
    sizes = one.plan.members[0].row.size, other.plan.members[0].row.size
    if one.rules.pattern and other.rules.pattern and one.rules.pattern != other.rules.pattern:
        text = f"{ids[0]} is for the {one.rules.pattern} pattern, {ids[1]} for the {other.rules.pattern} pattern."
        yield Clash("pattern", ids, text, cited, _ONE_AT_A_TIME)
    # A rule without a table speaks of the rope's diameter, whatever clip is on it.
    if one.rules.rows and other.rules.rows and sizes[0] != sizes[1]:
        text = f"{ids[0]} takes a clip of {sizes[0]} for this rope, {ids[1]} one of {sizes[1]}."
        yield Clash("clip size", ids, text, cited, _ONE_AT_A_TIME)
    yield from _torques(one, other)
    yield from _spacing(one, other)


def _torques(one: Answer, other: Answer) -> Iterator[Clash]:
    ids = (one.rules.id, other.rules.id)
    a, b = one.plan.demand.torque, other.plan.demand.torque
    if isinstance(a, Absent) or isinstance(b, Absent):
        return
    threads = _threads(one.plan), _threads(other.plan)
    if not a.value.same_as(b.value):
        text = f"{ids[0]} prints {a.value} for {threads[0]} threads, {ids[1]} {b.value} for {threads[1]} threads."
        yield Clash("torque", ids, text, (a.citations[0], b.citations[0]), _ONE_TORQUE)
    if threads[0] != threads[1]:
        text = f"{ids[0]} means its torque for {threads[0]} threads, {ids[1]} for {threads[1]} threads."
        yield Clash("threads", ids, text, (_cited_threads(one), _cited_threads(other)), _ONE_TORQUE)


def _threads(plan: Plan) -> str:
    threads = plan.demand.threads
    return "unstated" if isinstance(threads, Absent) else threads.value


def _cited_threads(answer: Answer) -> Citation:
    threads = answer.plan.demand.threads
    return answer.rules.citation if isinstance(threads, Absent) else threads.citations[0]


def _spacing(one: Answer, other: Answer) -> Iterator[Clash]:
    ids = (one.rules.id, other.rules.id)
    a, b = one.plan.demand, other.plan.demand
    for (first, word), (second, other_word) in (
        ((a.least, "at least"), (b.greatest, "at most")),
        ((a.greatest, "at most"), (b.least, "at least")),
    ):
        if first is None or second is None:
            continue
        low, high = (first, second) if word == "at least" else (second, first)
        if low.length > high.length:
            text = f"by {ids[0]} {_words(word, first)}, by {ids[1]} {_words(other_word, second)}."
            yield Clash("spacing", ids, text, (first.citation, second.citation), _APART)


def _words(word: str, bound: Bound) -> str:
    return f"{word} {bound.length} ({bound.text})"
