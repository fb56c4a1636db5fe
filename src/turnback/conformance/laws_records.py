"""Laws of records: what is written down reads back as the same value, and a rule file reads the same each time."""

from __future__ import annotations

from functools import lru_cache
from hashlib import sha256
from typing import Final, Literal, TypeVar

import attrs
from hypothesis import strategies as st

from turnback.conformance.draws import requests
from turnback.conformance.judging import broken, planned
from turnback.conformance.law import Breakage, Law, Proof, Search
from turnback.conformance.laws_sources import plans_alone
from turnback.conformance.subject import Subject
from turnback.errors import TurnbackError
from turnback.output.interchange import from_json, to_json
from turnback.output.verification import verify
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.rules.catalogue import Catalogue
from turnback.rules.rulefile import parse_rules
from turnback.rules.ruleset import RuleSet

__all__ = ["RECORD_LAWS"]

T = TypeVar("T")
Verdict = Breakage | Literal["kept"] | None
_MARK: Final = "\ufeff".encode()
"""What some editors put before a text in UTF-8."""


@lru_cache(maxsize=8)
def _with(catalogue: Catalogue, rules: RuleSet) -> Catalogue:
    """Return the catalogue with a rule set in the place of that of its id, which a record would be held against."""

    others = tuple(each for each in catalogue.rule_sets if each.id != rules.id)
    return attrs.evolve(catalogue, rule_sets=tuple(sorted((*others, rules), key=lambda each: each.id)))


def _rules_back(subject: Subject) -> Proof:
    rules = subject.rules
    try:
        text = to_json(rules)
        back = from_json(text, RuleSet)
    except TurnbackError as error:
        return Proof(1, (Breakage("a rule set that can be written and read back", str(error), str(rules.citation)),))
    found = []
    if back != rules:
        names = [
            field.name for field in attrs.fields(RuleSet) if getattr(back, field.name) != getattr(rules, field.name)
        ]
        got = f"another one in {', '.join(names)}" if names else f"a {type(back).__name__}"
        found.append(Breakage(f"the same {type(rules).__name__} read back", got, str(rules.citation)))
    elif to_json(back) != text:
        found.append(Breakage("the same bytes written again", "other bytes", str(rules.citation)))
    return Proof(1, tuple(found))


def _cases(subject: Subject) -> st.SearchStrategy[tuple[Request, bool]]:
    return st.tuples(requests(subject), st.booleans())


def _round_trip(subject: Subject, case: tuple[Request, bool]) -> Verdict:
    if planned(subject, case[0]) is None:
        return None
    drawn, verified = case
    # By its id, for the rule set itself is written and read back by a law of its own.
    at_hand, request = _with(subject.catalogue, subject.rules), attrs.evolve(drawn, rules=subject.rules.id)
    plan = plan_request(request, at_hand)
    try:
        asked = from_json(to_json(request), Request)
        text = to_json(plan, at_hand)
        # Both plan the request again and compare, so that one of them is enough for a case.
        checked = verify(text, at_hand) if verified else None
        back = from_json(text, Plan, at_hand) if checked is None else checked.plan
    except TurnbackError as error:
        return broken(drawn, "a plan that can be written and read back", str(error), subject.rules.citation)
    if asked != request:
        return broken(drawn, "the same request read back", "another one", subject.rules.citation)
    if checked is not None and not checked.same:
        return broken(drawn, "every recorded number again", str(checked), subject.rules.citation)
    if back != plan:
        return broken(drawn, "the same plan read back", "another one", subject.rules.citation)
    return "kept"


def _reads_the_same(subject: Subject) -> Proof:
    text, rules = subject.text, subject.rules
    data = text.encode()
    unix = text.replace("\r\n", "\n")
    one, again, other = parse_rules(data), parse_rules(text), parse_rules(unix.replace("\n", "\r\n"))
    found = []
    if one != again or one.sha256 != sha256(data).hexdigest():
        found.append(Breakage("the same rules and hash each time", "others", str(rules.citation)))
    if _content(other) != _content(one):
        found.append(Breakage("the same rules with the line ends of any system", "others", str(rules.citation)))
    if _content(one) != _content(rules):
        fields = [field.name for field in attrs.fields(RuleSet) if field.name not in ("sha256", "origin")]
        names = [name for name in fields if getattr(one, name) != getattr(rules, name)]
        got = f"another in {', '.join(names)}" if names else f"a {type(rules).__name__}"
        found.append(Breakage("the rule set that its file says", got, str(rules.citation)))
    if rules.sha256 not in (one.sha256, sha256(_MARK + data).hexdigest()):
        found.append(Breakage(f"hash {one.sha256}", rules.sha256 or "none", str(rules.citation)))
    return Proof(4, tuple(found))


def _content(rules: RuleSet) -> RuleSet:
    return attrs.evolve(rules, sha256="", origin="")


def _has_text(subject: Subject) -> str:
    return "" if subject.text else "it was made in Python and has no file at hand"


RECORD_LAWS: Final = (
    Law("file-reads-the-same", "A rule file reads as the same rules with the same hash each time, whatever its line "
        "ends, and they are those of the rule set.", proof=_reads_the_same, applies=_has_text),
    Law("rules-round-trip", "A rule set is written as JSON and read back as an equal one, in the same bytes.",
        proof=_rules_back),
    Law("json-round-trip", "A request and its plan are written as JSON and read back as equal ones, and the record "
        "verifies.", search=Search(_cases, _round_trip),
        after=("rows-answer", "row-edges", "scope-answers", "rules-round-trip"), applies=plans_alone, dear=16),
)  # fmt: skip
"""In the order in which they are checked."""
