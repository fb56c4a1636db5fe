"""Laws of sources: who says so is written beside everything that a rule set says, and beside every number of a plan."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

import attrs

from turnback.conformance.draws import ANY, requests
from turnback.conformance.judging import broken, in_both, planned
from turnback.conformance.law import Breakage, Law, Proof, Search
from turnback.conformance.subject import Subject
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.sources import COMMON_PRACTICE, USER, Citation, Source
from turnback.planning.build import service_book
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.rules.ruleset import ANY_STYLE, Row, RuleSet

__all__ = ["SOURCE_LAWS", "gives_everything", "has_places", "plans_alone"]

Verdict = Breakage | Literal["kept"] | None
_NO_CELLS: Final = ("size", "above", "misprint")
"""Of a row, what is no cell of its own: the size is the row's name."""
_TEXTS: Final = ("confirm", "notes")
"""What may cite a whole document, for it is advice and no number."""
_SAID: Final = (
    ("procedure", "begin_at", "begin_citation"),
    ("procedure", "retorque", "retorque_citation"),
    ("count_rule", "greatest", "sizes_citation"),
)
"""Words and sizes of a rule set that carry their citation in a field of its own."""
_GROUND: Final = "a value without a citation cannot be stored"


def plans_alone(subject: Subject) -> str:
    """Say why a rule set makes no plan by itself.

    Args:
        subject: The subject.

    Returns:
        The reason; empty where it makes plans.
    """
    rules = subject.rules
    if rules.is_basis:
        return "it gives efficiencies alone, so that it plans nothing by itself"
    if rules.style == ANY_STYLE:
        return "it speaks of every style and is planned with beside another rule set alone"
    if rules.count_rule is None and all(row.count_for("not given") is None for row in rules.rows):
        return "it gives no number of clips, so that it plans nothing by itself"
    return ""


def gives_everything(subject: Subject) -> bool:
    """Tell whether there is a rope for which more than the count holds.

    Args:
        subject: The subject.

    Returns:
        False where every entry of the scope gives counts alone.
    """
    scope = subject.rules.scope
    return not scope or any(entry.gives == "everything" for entry in scope)


def has_places(subject: Subject) -> str:
    """Say why no plan of a rule set tells where its clips stand.

    Args:
        subject: The subject.

    Returns:
        The reason; empty where there are places, once the clip is measured.
    """
    reason, rules = plans_alone(subject), subject.rules
    if reason or not subject.style.in_series:
        return reason
    printed = gives_everything(subject) and any(row.turn_back is not None for row in rules.rows)
    spaced = any(bound.bound != "greatest" for bound in rules.spacing)
    return "" if printed or spaced else "it gives neither a turn-back nor a distance, so that no clip has a place"


# --- every cell ---


def _leaves(value: object, path: str, size: str = "") -> Iterator[tuple[str, str, object]]:
    """Yield everything in a rule set that is cited or ought to be: its path, the size of its row, and itself."""
    if isinstance(value, (Cited, Citation)):
        yield path, size, value
    elif isinstance(value, tuple):
        for number, each in enumerate(value):
            yield from _leaves(each, f"{path}[{number}]", size)
        return
    kind = type(value)
    if attrs.has(kind):
        own = in_both(value.size) if isinstance(value, Row) else size
        for field in attrs.fields(kind):
            found: object = getattr(value, field.name)
            is_cell = isinstance(value, Row) and field.name not in _NO_CELLS
            if field.name == "citation" or (is_cell and found is not None):
                yield f"{path}.{field.name}".lstrip("."), own, found
            else:
                yield from _leaves(found, f"{path}.{field.name}".lstrip("."), own)


def _said(rules: RuleSet) -> Iterator[tuple[str, object]]:
    for part, field, citation in _SAID:
        owner: object = getattr(rules, part)
        if owner is not None and getattr(owner, field):
            yield f"{part}.{citation}", getattr(owner, citation)


def _every_cell(subject: Subject) -> Proof:
    cells, found = 0, []
    said = [(path, "", value) for path, value in _said(subject.rules)]
    for path, size, value in (*_leaves(subject.rules, ""), *said):
        cells += 1
        words = _wrong(value, path.partition(".")[0].partition("[")[0] in _TEXTS or path.endswith(_TEXTS))
        if words:
            found.append(Breakage(f"{path}: a citation with a document and a place in it", words, _GROUND, size))
    return Proof(cells, tuple({(each.row, each.expected): each for each in found}.values()))


def _wrong(value: object, is_text: bool) -> str:
    citations: object = value.citations if isinstance(value, Cited) else (value,)
    if not isinstance(citations, tuple) or not citations:
        return "no citation"
    for citation in citations:
        if not isinstance(citation, Citation) or not isinstance(citation.source, Source):
            return "no citation" if citation is None else f"{type(citation).__name__}, which is no citation"
        if not citation.source.id.strip() or not citation.source.document.strip():
            return "a source without a name"
        if not citation.locator.strip() and not is_text:
            return f"no place in {citation.source.document}"
    return ""


# --- sources ---


def _citations(rules: RuleSet) -> Iterator[Citation]:
    for _, _, value in _leaves(rules, ""):
        found: tuple[object, ...] = value.citations if isinstance(value, Cited) else (value,)
        yield from (each for each in found if isinstance(each, Citation))
    yield from (value for _, value in _said(rules) if isinstance(value, Citation))


def _one_spelling(subject: Subject) -> Proof:
    rules, at_hand = subject.rules, subject.catalogue
    own = dict.fromkeys([rules.source, *(citation.source for citation in _citations(rules))])
    found = []
    if rules.citation.source != rules.source:
        found.append(Breakage(f"its own source, {rules.source}", str(rules.citation.source), str(rules.citation)))
    others = [each for each in (*at_hand.rule_sets, *at_hand.bases) if each.id != rules.id]
    elsewhere = {citation.source: each.id for each in others for citation in _citations(each)}
    known = {**elsewhere, COMMON_PRACTICE: "the library", USER: "the library", **dict.fromkeys(own, rules.id)}
    cells = 0
    for one in own:
        for other, where in known.items():
            cells += 1
            if one.id == other.id and one != other:
                found.append(_spelt(one, other, where))
            elif one.id != other.id and _same_document(one, other):
                wanted = f"one id for {one.document}, {one.edition}"
                found.append(Breakage(wanted, f"{one.id}, and {other.id} in {where}", str(rules.citation)))
    return Proof(cells, tuple(dict.fromkeys(found)))


def _spelt(one: Source, other: Source, where: str) -> Breakage:
    names = [field.name for field in attrs.fields(Source) if getattr(one, field.name) != getattr(other, field.name)]
    mine, theirs = (", ".join(f"{name} {getattr(each, name)!r}" for name in names) for each in (one, other))
    return Breakage(f"{one.id} as {where} has it: {theirs}", mine, one.document)


def _same_document(one: Source, other: Source) -> bool:
    mine, theirs = ((" ".join(f"{s.document}, {s.edition}".split()).casefold()) for s in (one, other))
    return mine == theirs


def _threads_named(subject: Subject) -> Proof:
    cells, found = 0, []
    threads = subject.rules.threads
    for row in subject.rules.rows:
        if row.torque is None:
            continue
        cells += 1
        if threads is None or not str(threads.value).strip():
            citation = str(row.torque.citations[0]) if row.torque.citations else _GROUND
            got = f"{row.torque.value}, and nothing of the threads"
            found.append(Breakage("a torque with the condition of its threads", got, citation, in_both(row.size)))
    return Proof(cells, tuple(found))


def _services_known(subject: Subject) -> Proof:
    known, seen, found = service_book(subject.catalogue).services, set[str](), []
    for name, text in subject.rules.excluded_services:
        citation = str(text.citations[0]) if text.citations else _GROUND
        if name not in known:
            found.append(Breakage("one of " + ", ".join(known), name, citation))
        elif name in seen or not text.value.strip():
            found.append(Breakage("each service once, with the sentence that excludes it", name, citation))
        seen.add(name)
    return Proof(len(subject.rules.excluded_services), tuple(found))


# --- plans ---


def _numbers_cited(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    for item in plan.derivations:
        is_absent = item.value.startswith("absent: ")
        if not is_absent and not item.formula.strip():
            return broken(request, f"{item.name}: how it came about", "nothing", subject.rules.citation)
        if words := _wrong_of(item.citations):
            return broken(request, f"{item.name}: a document and a place in it", words, subject.rules.citation)
    for what, citations in _told(plan):
        if words := _wrong_of(citations):
            return broken(request, f"{what}: who says so", words, subject.rules.citation)
    named = set(plan.citations)
    present = [c for item in plan.derivations if not item.value.startswith("absent: ") for c in item.citations]
    missing = [citation for citation in present if citation not in named]
    if missing or len(named) != len(plan.citations):
        got = str(missing[0]) + " is missing" if missing else "one of them stands twice"
        return broken(request, "every citation among those of the plan, once", got, subject.rules.citation)
    return "kept"


def _told(plan: Plan) -> Iterator[tuple[str, tuple[Citation, ...]]]:
    yield from ((f"finding {each.code}", each.citations) for each in plan.findings)
    yield from ((f"step {each.code}", each.citations) for each in plan.procedure)
    yield from ((f"line {each.code} of the bill", each.citations) for each in plan.bill.lines)


def _wrong_of(citations: tuple[Citation, ...]) -> str:
    # A text may cite a whole document, and a number that does is noticed in its cell.
    return next((words for each in citations if (words := _wrong(each, True))), "") if citations else "no citation"


def _memory_named(subject: Subject, request: Request) -> Verdict:
    plan = planned(subject, request)
    if plan is None:
        return None
    numbers = [(item.name, c) for item in plan.derivations if item.formula for c in item.citations]
    numbers += [("mass of the rope", c) for c in plan.bill.line("rope").citations if _mass_is_known(plan)]
    numbers += [(f"step {step.code}", c) for step in plan.procedure for c in step.citations]
    recalled = [(name, citation) for name, citation in numbers if citation.status == "memory"]
    told = [finding for finding in plan.findings if finding.code == "from-memory"]
    for name, citation in recalled:
        document = citation.source.document
        if not any(citation in each.citations and document in each.text for each in told):
            wanted = f"{name} is from memory: a finding that names it and {document}, {citation.locator}"
            return broken(request, wanted, "none", citation)
    return "kept"


def _mass_is_known(plan: Plan) -> bool:
    return not isinstance(plan.bill.line("rope").mass, Absent)


def _leans_on_memory(subject: Subject) -> str:
    if plans_alone(subject):
        return plans_alone(subject)
    style = subject.style
    marks = [citation.status for citation in _citations(subject.rules)]
    marks += [step.citation.status for step in style.procedure]
    marks += [value.status for value in (style.citation, getattr(style, "dead_end_citation", None)) if value]
    return "" if "memory" in marks else "nothing in it is from memory"


SOURCE_LAWS: Final = (
    Law("every-cell-cited", "Every cell, bound and word of a rule set has a citation, with a document and the place in "
        "it; advice in words may cite a whole document.", proof=_every_cell),
    Law("one-source-one-spelling", "A source is spelt in one way wherever it is cited, and a document of one edition "
        "has one id.", proof=_one_spelling),
    Law("torque-names-threads", "A torque stands with the condition of the threads that it is meant for.",
        proof=_threads_named),
    Law("excluded-services-known", "A service that a source excludes is one that the library knows, so that it is "
        "excluded indeed.", proof=_services_known),
    Law("every-number-cited", "Every number of a plan says how it came about and who says so, and so does every "
        "finding, step and line of the bill.", search=Search(requests, _numbers_cited, ANY),
        after=("rows-answer", "row-edges", "scope-answers", "every-cell-cited"), applies=plans_alone, dear=2),
    Law("memory-is-named", "A plan that leans on a value from memory has a finding that names the value's document and "
        "place.", search=Search(requests, _memory_named, ANY),
        after=("rows-answer", "row-edges", "scope-answers", "every-cell-cited"), applies=_leans_on_memory,
        dear=2),
)  # fmt: skip
"""In the order in which they are checked."""
