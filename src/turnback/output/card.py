"""The job card of a plan: one printable page, the same as Markdown and as plain text.

It is what goes to the bench: what forbids the joint first, then numbers, drawing, materials, marks, steps with boxes
and blanks, the record of torques, findings and sources. It replaces neither local codes nor the clip maker's
instructions nor a qualified person.
"""

from __future__ import annotations

from typing import Final

from turnback import __version__
from turnback.model.findings import Finding, Kind
from turnback.output.card_numbers import numbers_grid
from turnback.output.card_work import marks_sections, materials_section, procedure_section, torque_section
from turnback.output.paper import Blanks, Paper, Picture, Point, Points, Section, Words
from turnback.output.paper_html import paper_html
from turnback.output.paper_markdown import paper_markdown
from turnback.output.paper_text import paper_text
from turnback.output.sources_list import SourcesList, finding_points
from turnback.planning.figure import figure_of
from turnback.planning.plan import Plan
from turnback.rules.selection import choice_text

__all__ = ["card_html", "card_markdown", "card_paper", "card_text"]

_NOT_STATED: Final = "service-not-stated"
_HEADER: Final = (
    "joint number",
    "place and drawing",
    "made by",
    "checked by (competent person)",
    "date",
    "rope: certificate number",
    "clips: make, size and marking",
    "torque wrench: number, calibrated until",
)
_CAUTION: Final = (
    "This card replaces neither local codes nor the clip maker's instructions nor a qualified person; where they ask "
    "for more, they govern. Nothing here is a rating unless its source is named beside it."
)
_LEAD: Final[tuple[tuple[Kind, str, bool, str], ...]] = (
    ("must-do", "Must be done", True, ""),
    ("confirm", "To be confirmed before the work", True, "confirmed by, and how"),
)


def card_html(plan: Plan) -> str:
    """Write the job card as one HTML page for print on A4 or Letter.

    Args:
        plan: The plan.

    Returns:
        A whole document that needs nothing else: no script, no font, no file, no address.
    """
    return paper_html(card_paper(plan))


def card_markdown(plan: Plan) -> str:
    """Write the job card as Markdown.

    Args:
        plan: The plan.

    Returns:
        The same content as :func:`card_html`, the drawing in words.
    """
    return paper_markdown(card_paper(plan))


def card_text(plan: Plan) -> str:
    """Write the job card as plain text.

    Args:
        plan: The plan.

    Returns:
        The same content as :func:`card_html` in lines of at most 80 columns, the drawing in words.
    """
    return paper_text(card_paper(plan))


def card_paper(plan: Plan) -> Paper:
    """Build the content of the job card, before it takes any form.

    Args:
        plan: The plan.

    Returns:
        The card as a value.
    """
    sources = SourcesList()
    sections = [
        *_alarms(plan, sources),
        Section("This joint", (Blanks(_HEADER),), whole=True),
        Section("Numbers", (numbers_grid(plan, sources),)),
        Section("Cautions", (finding_points(_of(plan, "caution"), sources, tick=False),), whole=True),
        *_leads(plan, sources),
        Section("Drawing", _pictures(plan)),
        *marks_sections(plan),
        materials_section(plan, sources),
        procedure_section(plan, sources),
        torque_section(plan),
    ]
    notes = _of(plan, "note")
    if notes:
        sections.append(Section("Notes", (finding_points(notes, sources, tick=False),)))
    sources.cite(plan.citations)
    sections.append(Section("Sources", (sources.points(),)))
    title = f"Job card: {plan.request.termination.kind} with {plan.style.title}"
    return Paper(title, _under(plan), tuple(sections), forbidden=not plan.usable, foot=(_CAUTION, _pinned(plan)))


def _alarms(plan: Plan, sources: SourcesList) -> list[Section]:
    found: list[Section] = []
    grave = [finding for finding in plan.findings if finding.blocks]
    if grave:
        points = tuple(
            Point(finding.text, f"{finding.kind.upper()}:", cited=sources.cite(finding.citations)) for finding in grave
        )
        found.append(Section("Not usable: do not make or load this joint", (Points(points),), alarm=True, whole=True))
    unstated = tuple(finding for finding in plan.findings if finding.code == _NOT_STATED)
    if unstated:
        blocks = (finding_points(unstated, sources, tick=True, blank="service and jurisdiction, stated by"),)
        found.append(Section("Service not stated: is this use forbidden?", blocks, alarm=True, whole=True))
    return found


def _leads(plan: Plan, sources: SourcesList) -> list[Section]:
    sections: list[Section] = []
    for kind, title, tick, blank in _LEAD:
        found = tuple(finding for finding in _of(plan, kind) if finding.code != _NOT_STATED)
        if found:
            sections.append(Section(title, (finding_points(found, sources, tick=tick, blank=blank),)))
    return sections


def _of(plan: Plan, kind: Kind) -> tuple[Finding, ...]:
    return tuple(finding for finding in plan.findings if finding.kind == kind)


def _pictures(plan: Plan) -> tuple[Picture | Words, ...]:
    first = figure_of(plan)
    pictures: list[Picture | Words] = [Picture(first.to_svg(), first.title, first.desc)]
    if plan.other_eye is not None:
        second = figure_of(plan.other_eye)
        if second == first:
            pictures.append(Words("The second eye is made the same way."))
        else:
            pictures.append(Picture(second.to_svg(), second.title, second.desc))
    return tuple(pictures)


def _under(plan: Plan) -> str:
    request = plan.request
    rules = choice_text(request.rules) if request.rules is not None else ""
    service = request.service or "NOT STATED"
    place = request.jurisdiction or "jurisdiction not stated, the strictest of all taken"
    certificate = f"; certificate: {request.rope.certificate}" if request.rope.certificate else ""
    return f"Rope: {request.rope}{certificate}. Rules: {rules}. Service: {service}, {place}."


def _pinned(plan: Plan) -> str:
    files = "; ".join(f"{member.rules.id}, SHA-256 {member.rules.sha256}" for member in plan.members)
    return f"Planned by turnback {__version__} with the rule files: {files}."
