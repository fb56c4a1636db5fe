"""Whether a rule set admits a plan that was made under the same or other rule sets."""

from __future__ import annotations

import attrs

from turnback.errors import InputError, OutOfScope, OutOfTable
from turnback.planning.plan import Plan
from turnback.quantities.grammar import shown
from turnback.rules.admission import Breach, breaches
from turnback.rules.ruleset import ANY_STYLE, RuleSet
from turnback.rules.scope import scope_verdict

__all__ = ["Admission", "admits"]


@attrs.frozen
class Admission:
    """What a rule set says of a plan. It is true where the rule set admits it.

    Args:
        rules_id: The rule set.
        breaches: The clauses that the plan breaks; none where it is admitted.
        outside: Why the rule set does not speak of the plan's rope or style at all; empty where it does.
    """

    rules_id: str
    breaches: tuple[Breach, ...]
    outside: str

    @property
    def admitted(self) -> bool:
        """Whether the rule set speaks of the rope, and the plan breaks no clause of it."""
        return not self.breaches and not self.outside

    def __bool__(self) -> bool:
        return self.admitted

    def __str__(self) -> str:
        if self.outside:
            return f"{self.rules_id} does not speak of it: {self.outside}"
        if not self.breaches:
            return f"{self.rules_id} admits it"
        told = "; ".join(f"{each.clause}: {each.expected}, not {each.got} [{each.citation}]" for each in self.breaches)
        return f"{self.rules_id} does not admit it: {told}"


def admits(rules: RuleSet, plan: Plan) -> Admission:
    """Say whether a plan satisfies a rule set, and which clauses it breaks.

    The checker is the one that inspection uses (:func:`turnback.breaches`); it shares no code with the planner. What a
    plan does not know, such as positions without a base width, breaks nothing.

    Args:
        rules: The rule set; any, not only those that the plan was made under.
        plan: The plan.

    Returns:
        True or false, with the clauses that are broken.

    Raises:
        InputError: The rules are no rule set but the id of one, or the plan is no plan.

    Source: the clauses that are cited in each breach.
    """
    _checked(rules, plan)
    if rules.style not in (plan.style.id, ANY_STYLE):
        return Admission(rules.id, (), f"it is for {rules.style}, the plan for {plan.style.id}")
    try:
        verdict = scope_verdict(rules, plan.request.rope, plan.demand.seat)
        return Admission(rules.id, breaches(rules, plan.joint, counts_only=verdict.counts_only), "")
    except (OutOfScope, OutOfTable) as error:
        return Admission(rules.id, (), str(error))


def _checked(rules: object, plan: object) -> None:
    """Refuse what a caller without a type checker may hand over; an id is the usual slip."""
    if not isinstance(rules, RuleSet):
        by_id = isinstance(rules, str)
        raise InputError(
            "one rule set is asked here, and this is its id or a choice" if by_id else "this is no rule set",
            field="rules",
            value=shown(rules),
            bound="a RuleSet",
            instead=(
                "Write Catalogue.installed().rule_set(ID), or read_rules(FILE) for a rule file."
                if by_id
                else "Take one of Catalogue.installed().rule_sets; of several ask one by one."
            ),
        )
    if not isinstance(plan, Plan):
        raise InputError(
            "this is no plan", field="plan", value=shown(plan), bound="a Plan", instead="Make one by plan(...)."
        )
