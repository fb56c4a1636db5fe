"""Design, section 10: every number has a citation."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from tests.strategies import planned, rated_requests, requests

from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Length

NUMBERS = (
    "clip_size", "clip_count", "turn_back", "spacing", "strip_length", "rope_in_eye", "torque", "thread_condition",
    "minimum_breaking_force", "efficiency", "termination_breaking_force",
)  # fmt: skip


def stands(citation: Citation) -> bool:
    """A citation names a document, and a place in it or that there is no document."""
    named = bool(citation.source.id.strip() and citation.source.document.strip())
    return named and (bool(citation.locator.strip()) or citation.status == "read")


@given(requests(maker=None))
def test_every_number_of_a_plan_has_a_derivation(request: Request) -> None:
    """Every number has a citation: every number of a plan, also an absent one, stands among the derivations."""
    plan = planned(request)
    names = [item.name for item in plan.derivations]
    assert set() == {*NUMBERS, "eye_radius", "base_distance", "included_angle", "reach", "design_factor"} - set(names)
    assert len(set(names)) == len(names)
    assert ("positions" in names) == bool(plan.clips)


@given(requests(maker=None))
def test_every_derivation_has_a_citation_that_names_a_place(request: Request) -> None:
    """Every number has a citation: none of the derivations goes without, and each names document and place."""
    assert [] == [item.name for item in planned(request).derivations if not item.citations]
    assert [] == [item for item in planned(request).derivations if not all(map(stands, item.citations))]


@given(requests(maker=None))
def test_a_derivation_shows_the_number_of_the_plan(request: Request) -> None:
    """Every number has a citation: the derivation is that of the very number that the plan shows."""
    plan = planned(request)
    for name in NUMBERS:
        number: object = getattr(plan, name)
        if name != "efficiency" or isinstance(number, Absent):
            assert (name, str(number)) == (name, plan.derivations[name].value)


@given(requests(maker=None))
def test_a_number_that_is_there_is_explained_and_one_that_is_absent_says_why(request: Request) -> None:
    """Section 5: what a source does not say is absent, with the reason; what is there has its formula or look-up."""
    plan = planned(request)
    for name in NUMBERS:
        number: object = getattr(plan, name)
        if isinstance(number, Absent):
            assert number.reason.strip()
        else:
            assert plan.derivations[name].formula.strip()


def exact(text: str) -> Fraction:
    """An input as it is shown, back to its exact number: nanometres, or the plain number."""
    first = text.partition(" (")[0]
    return Fraction(first) if first.isdigit() else Fraction(Length.of(first).nanometres)


@given(requests(measured=True, whole=True, coatings=("", "stripped", "eye left coated")))
def test_the_formula_that_is_shown_gives_the_number_that_is_shown(request: Request) -> None:
    """Section 8: the formula shown is the formula run; here those of the layout, which are exact."""
    plan = planned(request)
    shown = [
        item for item in plan.derivations if item.name.partition(" ")[0] in ("spacing", "turn_back", "strip_length")
    ]
    for item in shown:
        formula, comma, _ = item.formula.partition(", rounded up")
        if not item.formula or (not comma and item.name != "strip_length"):
            continue
        inputs = {symbol: exact(value) for symbol, _, value in item.inputs}
        found = eval(formula, {"__builtins__": {}}, inputs)
        assert (item.name, item.value) == (item.name, str(Length.up(found)))


def leaned_on(plan: Plan) -> set[Citation]:
    present = [item for item in plan.derivations if not item.value.startswith("absent: ")]
    found = {citation for item in present for citation in item.citations}
    return found | {citation for finding in plan.findings for citation in finding.citations}


@given(requests(maker=None))
def test_the_citations_of_a_plan_are_those_of_its_numbers_and_findings_each_once(request: Request) -> None:
    """Every number has a citation: a plan lists every one that it leans on, once, and every finding has one."""
    plan = planned(request)
    assert leaned_on(plan) == set(plan.citations)
    assert len(set(plan.citations)) == len(plan.citations)
    assert [] == [finding.code for finding in plan.findings if not finding.citations]


@given(requests(maker=None))
def test_every_clause_of_a_member_that_decides_is_cited(request: Request) -> None:
    """Every number has a citation: each printed turn-back and each step of the count cites its own source."""
    plan = planned(request)
    sources = {member.rules.source for member in plan.members}
    for found in plan.demand.turn_backs:
        (source,) = {member.rules.source for member in plan.members if member.rules.id == found.rules_id}
        assert source == found.citations[0].source
    assert plan.demand.steps[0].citations[0].source in sources
    assert all(step.citations for step in plan.demand.steps)


@given(rated_requests())
def test_a_number_recalled_from_memory_is_named_with_the_document_to_check(request: Request) -> None:
    """Section 4: a plan that leans on a value from memory carries a finding that names value and document."""
    plan = planned(request)
    recalled = {
        citation.source.document
        for name in ("torque", "clip_count", "turn_back", "efficiency")
        for citation in plan.derivations[name].citations
        if citation.status == "memory"
    }
    named = " ".join(finding.text for finding in plan.findings if finding.code == "from-memory")
    assert [] == [document for document in recalled if document not in named]
