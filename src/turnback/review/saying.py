"""What one rule set says for a case, item by item, each with its citations or with the reason why it says nothing."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal, TypeAlias

import attrs

from turnback.model.absent import Absent
from turnback.model.sources import Citation, Status, weakest
from turnback.planning.demand import LAP
from turnback.planning.plan import Plan
from turnback.quantities import Length, percent_text
from turnback.rules.ruleset import RuleSet, SpacingBound

__all__ = [
    "ITEMS",
    "Answer",
    "Item",
    "Said",
    "answer_of",
    "efficiency_text",
    "item_label",
    "turn_back_citations",
]

Item: TypeAlias = Literal[
    "clip size", "count", "turn-back", "spacing rule", "spacing", "torque", "threads", "efficiency", "breaking force"
]
"""What rule sets are compared by."""

ITEMS: Final[tuple[Item, ...]] = (
    "clip size", "count", "turn-back", "spacing rule", "spacing", "torque", "threads", "efficiency", "breaking force",
)  # fmt: skip

_BOUNDS: Final = {"least": "at least", "greatest": "at most", "equal": "exactly"}
_LABELS: Final = {"count": "clips", "breaking force": "breaks at"}


def item_label(item: Item, plan: Plan) -> str:
    """Return how an item is called before a reader.

    Args:
        item: The item.
        plan: A plan of the case; the turn-back of a lap splice is its overlap.

    Returns:
        One or two words.
    """
    if item == "turn-back" and plan.layout_demand.splice:
        return "overlap"
    return _LABELS.get(item, item)


@attrs.frozen
class Said:
    """What a rule set says of one item.

    Args:
        item: The item.
        text: What it says; where it says nothing, why.
        citations: Who says so; empty where nothing is said.
        rank: Where it stands among others of the same item, the one that governs first [-]; 0 where none does.
        how: How it came about, where that is more than a look-up.
    """

    item: Item
    text: str
    citations: tuple[Citation, ...] = ()
    rank: Fraction = Fraction(0)
    how: str = ""

    @property
    def says(self) -> bool:
        """Whether anything is said."""
        return bool(self.citations)

    @property
    def status(self) -> Status | None:
        """The least certain status among the citations; None where nothing is said."""
        return weakest(self.citations) if self.citations else None


@attrs.frozen
class Answer:
    """A rule set that covers the case, with its plan.

    Args:
        rules: The rule set.
        plan: The plan by this rule set alone.
        said: What it says, in the order of :data:`ITEMS`.
    """

    rules: RuleSet
    plan: Plan
    said: tuple[Said, ...]

    @property
    def status(self) -> Status:
        """The least certain status of what the rule set itself says for this case."""
        # The size is how a row is found; what the row says of it has statuses of its own.
        said = (each for each in self.said if each.item != "clip size")
        own = [c for each in said for c in each.citations if c.source == self.rules.source]
        return weakest(tuple(own)) if own else self.rules.citation.status

    def about(self, item: Item) -> Said:
        """Return what it says of one item.

        Args:
            item: The item.

        Returns:
            What it says, or why it says nothing.
        """
        return self.said[ITEMS.index(item)]


def efficiency_text(plan: Plan, efficiency: Fraction) -> str:
    """Write an efficiency with its basis.

    Args:
        plan: The plan that gives it.
        efficiency: Share of the rope's minimum breaking force [-].

    Returns:
        Text such as ``"80 % (basis: common-practice-efficiency)"``.
    """
    return f"{percent_text(efficiency)} (basis: {plan.efficiency_basis})"


def turn_back_citations(plan: Plan) -> tuple[Citation, ...]:
    """Say who stands behind a turn-back.

    Args:
        plan: A plan whose turn-back is known.

    Returns:
        Where a printed turn-back governs, its own citations alone: what asks for no more has no part in it.
    """
    printed = [each for each in plan.demand.turn_backs if each.length == plan.demand.turn_back]
    if not printed or plan.layout.lengthened or not plan.style.in_series:
        return plan.derivations["turn_back"].citations
    cited = tuple(dict.fromkeys(citation for each in printed for citation in each.citations))
    return (*cited, LAP) if plan.layout_demand.splice else cited


def answer_of(rules: RuleSet, plan: Plan) -> Answer:
    """Read from a plan what its one rule set says.

    Args:
        rules: The rule set.
        plan: The plan by this rule set alone.

    Returns:
        The answer.
    """
    return Answer(
        rules,
        plan,
        (
            _clip_size(plan),
            _count(plan),
            _turn_back(plan),
            _spacing_rule(rules, plan),
            _spacing(plan),
            _torque(plan),
            _threads(plan),
            _efficiency(rules, plan),
            _breaking_force(plan),
        ),
    )


def _clip_size(plan: Plan) -> Said:
    return Said("clip size", str(plan.clip_size), (plan.demand.clip_size_citation,))


def _count(plan: Plan) -> Said:
    steps = plan.demand.steps
    cited = tuple(dict.fromkeys(citation for step in steps for citation in step.citations))
    how = "; ".join(f"{step.label}, which makes {step.count}" for step in steps) if len(steps) > 1 else steps[0].label
    return Said("count", str(plan.clip_count), cited, Fraction(-plan.clip_count), how)


def _turn_back(plan: Plan) -> Said:
    length = plan.turn_back
    if isinstance(length, Absent):
        return Said("turn-back", length.reason)
    formula = plan.derivations["turn_back"].formula
    return Said("turn-back", str(length), turn_back_citations(plan), Fraction(-length.nanometres), formula)


def _spacing_rule(rules: RuleSet, plan: Plan) -> Said:
    if not plan.style.in_series:
        return Said("spacing rule", "one body makes the connection")
    if not rules.spacing:
        return Said("spacing rule", "it prints none; the clips divide the turn-back evenly")
    words, cited = [], []
    for bound in rules.spacing:
        text, citation = _bound(bound, plan)
        words.append(text)
        cited.append(citation)
    return Said("spacing rule", "; ".join(words), tuple(dict.fromkeys(cited)))


def _bound(bound: SpacingBound, plan: Plan) -> tuple[str, Citation]:
    how = "clear" if bound.clear else "between centres"
    word, row = _BOUNDS[bound.bound], plan.members[0].row
    if bound.length is None:
        # The row prints the distance, so its cell is the clause.
        if row.spacing is None:
            return f"{word} a distance that this row does not print", bound.citation
        return f"{word} {row.spacing.value} {how}", row.spacing.citations[0]
    exact = bound.length.nanometres(plan.demand.seat, plan.request.base_width)
    if exact is None:
        return f"{word} {bound.length.text} {how}, which needs the base width of the clip", bound.citation
    length = Length.down(exact) if bound.bound == "greatest" else Length.up(exact)
    return f"{word} {length} {how} ({bound.length.text})", bound.citation


def _spacing(plan: Plan) -> Said:
    length = plan.spacing
    if isinstance(length, Absent):
        return Said("spacing", length.reason)
    cited = (*turn_back_citations(plan), *plan.derivations["spacing"].citations)
    return Said("spacing", f"{length} between centres", tuple(dict.fromkeys(cited)))


def _torque(plan: Plan) -> Said:
    cell = plan.demand.torque
    return Said("torque", cell.reason) if isinstance(cell, Absent) else Said("torque", str(cell.value), cell.citations)


def _threads(plan: Plan) -> Said:
    cell = plan.demand.threads
    return Said("threads", cell.reason) if isinstance(cell, Absent) else Said("threads", cell.value, cell.citations)


def _efficiency(rules: RuleSet, plan: Plan) -> Said:
    most = rules.efficiency_at_most
    limit = "" if most is None else f"{rules.id}: at best {percent_text(most.value)} [{most.citations[0]}]"
    cell = plan.strength.efficiency
    if isinstance(cell, Absent):
        return Said("efficiency", cell.reason, how=limit)
    return Said("efficiency", efficiency_text(plan, cell.value), cell.citations, cell.value, limit)


def _breaking_force(plan: Plan) -> Said:
    force = plan.termination_breaking_force
    if isinstance(force, Absent):
        return Said("breaking force", force.reason)
    derived = plan.derivations["termination_breaking_force"]
    text = f"{force}; never load to it"
    return Said("breaking force", text, derived.citations, Fraction(force.newtons), derived.formula)
