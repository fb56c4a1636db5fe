"""Laws of admission and of several rule sets that govern together, searched with the other rule sets at hand."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from itertools import combinations, permutations
from math import ceil
from typing import Final

import attrs
from hypothesis import strategies as st

from turnback.conformance._expected import cell_of, row_of
from turnback.conformance.draws import ANY, Unseen, requests
from turnback.conformance.judging import Verdict, broken, halves_of, in_both, no_plans, planned, search_of, shown
from turnback.conformance.law import Law
from turnback.conformance.ropes import stocks
from turnback.conformance.subject import Subject, changed
from turnback.errors import Conflict, InputError, OutOfScope, OutOfTable, TurnbackError
from turnback.model.absent import Absent
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.admission import breaches
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import RuleSet
from turnback.rules.selection import FirstOf, Governing, RulesChoice, choice_text, first_of, governing

__all__ = ["GOVERNING_LAWS"]

_AFTER: Final = ("rows-answer", "row-edges", "scope-answers")
_SET: Final = Citation(COMMON_PRACTICE, "what governs together is a set, in no order", "common practice")
_FIRST: Final = Citation(
    COMMON_PRACTICE, "the first that covers the rope, and nothing skipped in silence", "common practice"
)
_ORDER: Final = Citation(COMMON_PRACTICE, "which plugin is loaded first is chance", "common practice")


# --- admitted ---


def _admitted(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    forms = [plan]
    if request.base_width is not None:
        forms.append(plan_request(attrs.evolve(request, base_width=None), subject.catalogue))
    for form in forms:
        found = _objection(form, subject.rules)
        if found is not None:
            return found
    return "kept"


def _objection(plan: Plan, rules: RuleSet) -> Verdict:
    for member in plan.members:
        if member.rules.id != rules.id:
            continue
        for breach in breaches(member.rules, plan.joint, counts_only=member.verdict.counts_only):
            words = f"{breach.clause}: {breach.expected}, as {rules.id} asks"
            return broken(plan.request, words, breach.got, breach.citation, member.row.size)
    return None


# --- governing ---


def _companies(subject: Subject) -> list[tuple[RuleSet, ...]]:
    """Neighbours, one or two at a time, that take a size and a pattern of the subject's."""
    found = []
    for beside in (each for count in (1, 2) for each in combinations(subject.neighbours, count)):
        patterns = {rules.pattern for rules in (subject.rules, *beside)} - {""}
        if len(patterns) <= 1 and stocks(subject.rules, beside):
            found.append(beside)
    return found


def _has_company(subject: Subject) -> str:
    if subject.rules.is_basis:
        return no_plans(subject)
    return "" if _companies(subject) else "no other rule set at hand takes a size and a pattern of its own"


def _together(subject: Subject) -> st.SearchStrategy[Request]:
    return st.one_of([requests(subject, beside=beside) for beside in _companies(subject)])


def _admits_each(subject: Subject, request: Request) -> Verdict:
    plan = _met(subject, request)
    if plan is None:
        return None
    counts = []
    for member in plan.members:
        found = _objection(plan, member.rules)
        if found is not None:
            return found
        alone = _met(subject, attrs.evolve(request, rules=member.rules))
        if alone is None:
            continue
        counts.append(alone.clip_count)
        if isinstance(alone.turn_back, Length):
            if isinstance(plan.turn_back, Absent) and request.base_width is None:
                continue  # a distance that another member asks for needs a measured clip
            if isinstance(plan.turn_back, Absent) or plan.turn_back < alone.turn_back:
                words = f"a turn-back of at least {in_both(alone.turn_back)}, which {member.rules.id} alone asks for"
                return broken(request, words, shown(plan.turn_back), member.rules.citation, member.row.size)
    most = max(counts, default=0)
    # With a pulley one source may print more clips and another the greater addition.
    if plan.clip_count < most or (counts and request.termination.kind != "pulley eye" and plan.clip_count > most):
        return broken(request, f"{most} clips, the most that one member asks for", f"{plan.clip_count} clips", _SET)
    return _in_proportion(subject, plan) or "kept"


def _met(subject: Subject, request: Request) -> Plan | None:
    """Plan a request that may be refused: scopes differ, and demands that cannot be met together say nothing."""
    try:
        return planned(subject, request)
    except (OutOfScope, OutOfTable, Conflict):
        return None
    except InputError as error:
        if error.field == "rules":
            return None  # a member that prints no number of clips makes no plan alone
        raise


def _in_proportion(subject: Subject, plan: Plan) -> Verdict:
    """The subject's own printed turn-back, for as many clips as govern, by the cells of its row."""
    member = next((each for each in plan.members if each.rules == subject.rules), None)
    row = row_of(subject.rules, plan.demand.seat)
    cell = None if row is None else cell_of(row, plan.request.clip_body, fewest=True)
    if member is None or row is None or cell is None or row.turn_back is None or member.verdict.counts_only:
        return None
    if isinstance(plan.turn_back, Absent):
        return None
    halves = halves_of(plan.request)
    share = max(Fraction(plan.clip_count // halves, cell.value), Fraction(1))
    least = Length(ceil(row.turn_back.value.nanometres * share * halves))
    if plan.turn_back < least:
        words = f"a turn-back of at least {in_both(least)}, in proportion to {plan.clip_count} clips"
        return broken(plan.request, words, in_both(plan.turn_back), row.turn_back.citations[0], row.size)
    return None


def _as_a_set(subject: Subject) -> st.SearchStrategy[Request]:
    return st.one_of([requests(subject, beside=beside) for beside in _companies(subject) or [()]])


def _is_a_set(subject: Subject, request: Request) -> Verdict:
    rules = request.rules
    if governing(subject.rules) is not subject.rules or first_of(subject.rules) is not subject.rules:
        return broken(request, f"governing({subject.rules.id}) to be {subject.rules.id} itself", "another choice", _SET)
    members = rules.members if isinstance(rules, Governing) else (subject.rules,)
    expected = _answer(subject, request, governing(*members))
    others: tuple[tuple[str, RulesChoice], ...] = (
        ("named the other way round", governing(*reversed(members))),
        ("named twice", governing(*members, *members)),
        ("nested", governing(members[-1], governing(*members[:-1] or members))),
    )
    for how, choice in others:
        if choice != governing(*members):
            got = choice_text(choice)
            return broken(request, f"the same choice, {choice_text(governing(*members))}, {how}", got, _SET)
        got = _difference(expected, _answer(subject, request, choice))
        if got:
            return broken(request, f"the same answer from the same members {how}", got, _SET)
    return "kept"


def _answer(subject: Subject, request: Request, rules: RulesChoice, catalogue: Catalogue | None = None) -> Plan | str:
    try:
        return plan_request(attrs.evolve(request, rules=rules), catalogue or subject.catalogue)
    except TurnbackError as error:
        return f"{type(error).__name__}: {error}"


def _difference(one: Plan | str, other: Plan | str) -> str:
    if isinstance(one, str) or isinstance(other, str):
        return "" if one == other else f"{_head(other)}, and {_head(one)} before"
    pairs: tuple[tuple[str, object, object], ...] = (
        ("clips", one.clip_count, other.clip_count),
        ("turn-back", one.turn_back, other.turn_back),
        ("torque", one.torque, other.torque),
        ("members", _names(one), _names(other)),
        ("the members", one.members, other.members),
        ("the style", one.style, other.style),
        ("what is asked", one.demand, other.demand),
        ("the layout", one.layout, other.layout),
        ("the strength", one.strength, other.strength),
        ("the findings", one.findings, other.findings),
    )
    for what, before, after in pairs:
        if before != after:
            return (
                f"{what} differ" if what.startswith("the ") else f"{what}: {shown(after)}, and {shown(before)} before"
            )
    return ""


def _head(answer: Plan | str) -> str:
    return answer if isinstance(answer, str) else f"a plan of {answer.clip_count} clips"


def _names(plan: Plan) -> str:
    return " and ".join(member.rules.id for member in plan.members)


# --- first-of-takes-the-first ---


def _options(subject: Subject) -> st.SearchStrategy[Request]:
    found = []
    for others in combinations(subject.neighbours, min(2, len(subject.neighbours))):
        choices = tuple(first_of(*options) for options in permutations((subject.rules, *others)))
        # A rope of a neighbour's too, for it is the subject that is to be skipped where it takes none such.
        found += [_under_one_of(Unseen((changed(subject, rules), choices))) for rules in (*others, subject.rules)]
    return st.one_of(found)


@st.composite
def _under_one_of(draw: st.DrawFn, made_from: Unseen[tuple[Subject, tuple[RulesChoice, ...]]]) -> Request:
    subject, choices = made_from.value
    at = draw(st.integers(0, len(choices) - 1))
    return attrs.evolve(draw(requests(subject, measured=False, extra=0)), rules=choices[at])


def _takes_the_first(subject: Subject, request: Request) -> Verdict:
    choice = request.rules
    if not isinstance(choice, FirstOf):
        return None
    skipped: list[tuple[str, str]] = []
    taken: RulesChoice | None = None
    for option in choice.options:
        try:
            plan_request(attrs.evolve(request, rules=option), subject.catalogue)
        except (OutOfScope, OutOfTable) as error:
            skipped.append((choice_text(option), str(error)))
            continue
        except (InputError, Conflict):
            return None  # it covers the rope, and no plan is made from it alone
        taken = option
        break
    if taken is None:
        return None
    plan = plan_request(request, subject.catalogue)
    names = [choice_text(taken)]
    if [member.rules.id for member in plan.members] != names:
        return broken(request, f"{names[0]}, the first that covers the rope", _names(plan), _FIRST)
    told = sum(finding.code == "rule-set-skipped" for finding in plan.findings)
    if plan.skipped != tuple(skipped) or told != len(skipped):
        words = "skipped, each with its reason: " + (", ".join(name for name, _ in skipped) or "none")
        got = ", ".join(name for name, _ in plan.skipped) or "none"
        return broken(request, words, f"{got}; {told} said in the findings", _FIRST)
    return "kept"


def _has_neighbours(subject: Subject) -> str:
    return no_plans(subject) or ("" if subject.neighbours else "no other rule set for this style is at hand")


# --- order-of-plugins ---


@lru_cache(maxsize=4)
def _other_way_round(catalogue: Catalogue) -> Catalogue:
    return attrs.evolve(
        catalogue,
        styles=catalogue.styles[::-1],
        rule_sets=catalogue.rule_sets[::-1],
        added_bases=catalogue.added_bases[::-1],
        service_rules=catalogue.service_rules[::-1],
        failures=catalogue.failures[::-1],
        origins=catalogue.origins[::-1],
    )


def _any_order(subject: Subject, request: Request) -> Verdict:
    # By its id where it is at hand under it, so that the look-up is searched too.
    found = subject.catalogue.find(subject.rules.id)
    choice: RulesChoice = subject.rules.id if found == subject.rules else subject.rules
    one = _answer(subject, request, choice)
    other = _answer(subject, request, choice, _other_way_round(subject.catalogue))
    got = _difference(one, other)
    if got:
        return broken(request, "the same answer when the plugins are loaded in the other order", got, _ORDER)
    return "kept"


GOVERNING_LAWS: Final = (
    Law("admitted", "A plan is admitted by its own rule set, measured or not, by the checker that inspection uses.",
        search=search_of(requests, _admitted, ANY), after=_AFTER, applies=no_plans,
        redundant="stricter-body puts the same joints to the same checker where the body is not given; it stays "
        "because it is asked of every body, and because governing-admits-each builds on it"),
    Law("governing-admits-each", "What governs together is admitted by every member alone: the most clips, and no less "
        "rope than any of them asks for.",
        search=search_of(_together, _admits_each), after=(*_AFTER, "admitted"), applies=_has_company),
    Law("governing-is-a-set", "What governs together is a set: neither order nor nesting nor naming a member twice "
        "changes the answer, and one alone is itself.",
        search=search_of(_as_a_set, _is_a_set), after=_AFTER, applies=no_plans,
        redundant="the library sorts the members, whatever a plugin brings, and a rule set that does not equal itself "
        "is noticed by order-of-plugins and rules-round-trip too; it stays because no other law names members twice "
        "or nests them"),
    Law("first-of-takes-the-first", "Of several rule sets the first that covers the rope is taken, and those before it "
        "are reported with the reason.",
        search=search_of(_options, _takes_the_first), after=_AFTER, applies=_has_neighbours),
    Law("order-of-plugins", "The order in which plugins are loaded changes nothing.",
        search=search_of(requests, _any_order, ANY), after=_AFTER, applies=no_plans),
)  # fmt: skip
"""In the order in which they are checked."""
