"""A comparison of rule sets as text of 80 columns, as Markdown and as an HTML page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from turnback.model.absent import Absent
from turnback.model.sources import Status
from turnback.output.paper import Block, Grid, Paper, Point, Points, Section, Words
from turnback.output.paper_html import paper_html
from turnback.output.paper_markdown import paper_markdown
from turnback.output.paper_text import paper_text
from turnback.output.sources_list import SourcesList
from turnback.quantities import SIXTY_FOURTH, Length, percent_text
from turnback.review.clashes import Clash
from turnback.review.comparison import Comparison, Why
from turnback.review.saying import Answer, Said, item_label
from turnback.review.together import Together

__all__ = ["comparison_html", "comparison_markdown", "comparison_paper", "comparison_text"]

_MARKS: Final[dict[Status, str]] = {"read": "", "memory": " m", "common practice": " c", "user": " u"}
_KEY: Final = (
    "m: from memory, not yet read against the document; c: common practice; u: given by the user",
    "s: from the spacing, for the source prints no turn-back; -: it says nothing, why stands under each rule set",
    "status: the least certain of what the rule set itself says for this rope",
)
_WHY: Final[dict[Why, str]] = {
    "size": "no row for this size",
    "rope": "does not speak of this rope",
    "demands": "cannot meet what is asked for",
    "input": "does not fit the clip in hand",
}
_NOTHING_CHOSEN: Final = (
    "Nothing is chosen here: name the rule set of a plan, or several to satisfy them all. Where sources differ, the "
    "local code, the clip maker's instructions and a qualified person decide."
)
_NO_COVER: Final = "No rule set at hand covers this case."


def comparison_text(comparison: Comparison) -> str:
    """Write a comparison as plain text.

    Args:
        comparison: The comparison.

    Returns:
        Lines of at most 80 columns.
    """
    return paper_text(comparison_paper(comparison))


def comparison_markdown(comparison: Comparison) -> str:
    """Write a comparison as Markdown.

    Args:
        comparison: The comparison.

    Returns:
        Markdown, every text escaped.
    """
    return paper_markdown(comparison_paper(comparison))


def comparison_html(comparison: Comparison) -> str:
    """Write a comparison as one HTML page.

    Args:
        comparison: The comparison.

    Returns:
        A whole document that needs nothing else, every text escaped.
    """
    return paper_html(comparison_paper(comparison))


def comparison_paper(comparison: Comparison) -> Paper:
    """Build the content of a comparison, before it takes any form.

    Args:
        comparison: The comparison.

    Returns:
        The comparison as a paper.
    """
    sources = SourcesList()
    sections = [*_alarms(comparison, sources)]
    if comparison.answers:
        table = Grid(
            _headers(comparison), tuple(_row(each) for each in comparison.answers), "What each says", notes=_KEY
        )
        sections.append(Section("What each says", (table,)))
        sections.append(Section("What governs", tuple(_governs(comparison))))
        sections.append(Section("Where they differ", (_differences(comparison),)))
    else:
        sections.append(Section("What each says", (Words(_NO_COVER, strong=True),)))
    if comparison.clashes:
        sections.append(Section("Where they cannot be met together", (_clashes(comparison.clashes, sources),)))
    if comparison.refusals:
        sections.append(Section("Not covered", (_refusals(comparison),)))
    sections += [_in_full(answer, sources) for answer in comparison.answers]
    if comparison.findings:
        sections.append(Section("Findings", (_findings(comparison, sources),)))
    sections.append(Section("Sources", (sources.points(),)))
    kind = comparison.request.termination.kind
    usable = bool(comparison.usable) or not comparison.answers
    title = f"Rule sets side by side: {kind} with {comparison.style.title}"
    return Paper(title, _under(comparison), tuple(sections), forbidden=not usable, foot=(_NOTHING_CHOSEN,))


def _under(comparison: Comparison) -> str:
    request = comparison.request
    base = "not given" if request.base_width is None else str(request.base_width)
    return (
        f"Rope: {request.rope}. Clip body: {request.clip_body}; base width: {base}. "
        f"Service: {request.service or 'not stated'}, {request.jurisdiction or 'jurisdiction not stated'}."
    )


def _alarms(comparison: Comparison, sources: SourcesList) -> Iterator[Section]:
    if comparison.failures:
        points = tuple(Point(each) for each in comparison.failures)
        yield Section("A plugin failed to load and may bring further rule sets", (Points(points),), alarm=True)
    grave = [(finding, ids) for finding, ids in comparison.findings if finding.blocks]
    if grave:
        everyone = len(comparison.answers)
        points = tuple(
            Point(
                finding.text + ("" if len(ids) == everyone else f" (under {', '.join(ids)})"),
                f"{finding.kind.upper()}:",
                cited=sources.cite(finding.citations),
            )
            for finding, ids in grave
        )
        yield Section("Not usable: do not make or load such a joint", (Points(points),), alarm=True)


def _headers(comparison: Comparison) -> tuple[str, ...]:
    turn_back = item_label("turn-back", comparison.answers[0].plan)
    return ("rule set", "clips", turn_back, "spacing", "torque", "threads", "holds", "status")


def _row(answer: Answer) -> tuple[str, ...]:
    plan = answer.plan
    turn_back = _length(answer, plan.turn_back if isinstance(plan.turn_back, Length) else None, "turn-back")
    if isinstance(plan.turn_back, Length) and plan.demand.turn_back is None and plan.style.in_series:
        turn_back += " s"
    return (
        answer.rules.id,
        _cell(answer.about("count")),
        turn_back,
        _length(answer, plan.spacing if isinstance(plan.spacing, Length) else None, "spacing"),
        _cell(answer.about("torque"), str(plan.torque).partition(" (")[0]),
        _cell(answer.about("threads")),
        _cell(answer.about("efficiency"), "" if isinstance(plan.efficiency, Absent) else percent_text(plan.efficiency)),
        str(answer.status) + ("" if plan.usable else "; NOT USABLE"),
    )


def _length(answer: Answer, length: Length | None, item: str) -> str:
    if length is None:
        return "-"
    said = answer.about("turn-back" if item == "turn-back" else "spacing")
    inch = length.nanometres % SIXTY_FOURTH.nanometres == 0
    return length.text("in" if inch else "mm") + _mark(said)


def _cell(said: Said, short: str = "") -> str:
    return (short or said.text) + _mark(said) if said.says else "-"


def _mark(said: Said) -> str:
    return "" if said.status is None else _MARKS[said.status]


def _governs(comparison: Comparison) -> Iterator[Block]:
    if len(comparison.answers) == 1:
        yield Words(f"{comparison.answers[0].rules.id} alone covers this case.", strong=True)
        return
    for company in comparison.together:
        yield Words(_company(company, len(comparison.answers)), strong=True)
        points = [Point(text, f"{label}:") for label, text in company.governs]
        said = " ".join(text for _, text in company.governs)
        points += [Point(each.text, f"{each.kind}:") for each in company.findings if each.text not in said]
        yield Points(tuple(points))


def _company(company: Together, everyone: int) -> str:
    names = " + ".join(company.ids)
    if len(company.ids) == 1:
        return f"{names} stands alone: it cannot be met together with any other."
    if len(company.ids) == everyone:
        return f"All of them can be met together: {names}."
    return f"These can be met together: {names}."


def _differences(comparison: Comparison) -> Points:
    return Points(tuple(Point(each.text) for each in comparison.differences if each.values))


def _clashes(clashes: tuple[Clash, ...], sources: SourcesList) -> Points:
    by_rules: dict[tuple[str, ...], list[Clash]] = {}
    for clash in clashes:
        by_rules.setdefault(clash.rules, []).append(clash)
    points = []
    for ids, found in by_rules.items():
        cited = sources.cite(citation for clash in found for citation in clash.citations)
        under = [f"{clash.item}: {clash.text}" for clash in found]
        under += list(dict.fromkeys(clash.instead for clash in found if clash.instead))
        points.append(Point(f"{' and '.join(ids)}:", cited=cited, under=tuple(under)))
    return Points(tuple(points))


def _refusals(comparison: Comparison) -> Points:
    return Points(tuple(Point(each.reason, f"{each.rules.id}, {_WHY[each.why]}:") for each in comparison.refusals))


def _in_full(answer: Answer, sources: SourcesList) -> Section:
    points = []
    for said in answer.said:
        label = f"{item_label(said.item, answer.plan)}:"
        how = f" ({said.how})" if said.how else ""
        points.append(Point(f"{said.text}{how}", label, cited=sources.cite(said.citations)))
    cited = sources.cite((answer.rules.citation,))
    head = Point(answer.rules.title, "it is:", cited=cited)
    return Section(f"In full: {answer.rules.id}", (Points((head, *points)),))


def _findings(comparison: Comparison, sources: SourcesList) -> Points:
    everyone = len(comparison.answers)
    return Points(
        tuple(
            Point(
                finding.text + ("" if len(ids) == everyone else f" (under {', '.join(ids)})"),
                f"{finding.kind}:",
                cited=sources.cite(finding.citations),
            )
            for finding, ids in comparison.findings
        )
    )
