"""What the sources say of one rope, kind of termination and service, before anything is measured.

A plan has two halves. This half looks up and weighs: rule sets, scope, service, count, torque, strength, and most of
the findings. It depends on no dimension of clip or eye, so the same case serves every termination of its kind; the
other half (:mod:`turnback.planning.build`) lays out and computes the eye.
"""

from __future__ import annotations

import functools
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.rope import Rope
from turnback.model.ropedata import mass_per_length
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import ClipStyle
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, SoftEye, Termination, ThimbleEye
from turnback.planning.cautions import ALWAYS, SADDLE, sorted_findings
from turnback.planning.demand import Asked, Demand, asked_bounds, demand_of, has_length
from turnback.planning.memory import memory_findings
from turnback.planning.remarks import (
    demand_findings,
    rope_findings,
    rule_findings,
    service_findings,
    termination_findings,
)
from turnback.planning.request import MakerFigures, Request
from turnback.planning.resolve import Member, resolve
from turnback.planning.service import ServiceBook, ServiceDemands, forbidden_uses
from turnback.planning.strength import Strength, strength_of
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue
from turnback.rules.loading import Origin
from turnback.rules.selection import RulesChoice
from turnback.rules.servicefile import design_factors, service_rules

__all__ = ["Case", "case_of", "service_book", "strength_findings"]

_NOT_RATED: Final = Citation(COMMON_PRACTICE, "nothing is rated that no source rates", "common practice")
_LOCAL: Final = Citation(COMMON_PRACTICE, "nothing passes in silence", "common practice")
_BLOCKED: Final = "the plan is forbidden or has something that must be fixed first"
_REMEMBERED: Final = 1024


@attrs.frozen(eq=False)
class Case:
    """What the sources say before anything is measured.

    Args:
        style: The clip style.
        origin: Where the style comes from.
        members: The rule sets that govern, with their rows.
        skipped: Options of a first-of choice that were passed over.
        service: What the service asks for.
        asked: Bounds on the spacing, with their rows.
        has_length: Whether a source gives a turn-back, or a spacing that makes one.
        demand: What is asked for together, without a base width.
        strength: What the termination breaks at.
        findings: Sorted findings, without those on strength.
        sorted_with_strength: The same with those on strength.
    """

    style: ClipStyle
    origin: Origin | None
    members: tuple[Member, ...]
    skipped: tuple[tuple[str, str], ...]
    service: ServiceDemands
    asked: Asked
    has_length: bool
    demand: Demand
    strength: Strength
    findings: tuple[Finding, ...]
    sorted_with_strength: tuple[Finding, ...]


def case_of(request: Request, catalogue: Catalogue) -> Case:
    """Return the case of a request.

    Args:
        request: The request.
        catalogue: What is at hand.

    Returns:
        The case; computed once for requests that differ in nothing but dimensions and load.

    Raises:
        TurnbackError: As :func:`turnback.plan`.
    """
    return _case(
        request.rope,
        _kind_alone(request.termination),
        request.style,
        request.rules,
        request.clip_body,
        request.clip_size,
        request.clip_size_citation,
        request.maker,
        request.service,
        request.jurisdiction,
        request.extra_clips,
        request.efficiency_basis,
        catalogue,
    )


_THIMBLE: Final = ThimbleEye()
_LINKED: Final = LinkedEyes()
_PLATE: Final = PlateEye()


def _kind_alone(termination: Termination) -> Termination:
    # A pin or a pulley is kept, for service rules look at it; every other dimension belongs to the other half.
    if isinstance(termination, ThimbleEye):
        return _THIMBLE
    if isinstance(termination, LinkedEyes):
        return _LINKED
    if isinstance(termination, SoftEye):
        return SoftEye(termination.pin)
    if isinstance(termination, PulleyEye):
        return PulleyEye(termination.tread_diameter)
    if isinstance(termination, PlateEye):
        around = termination.around
        return PlateEye(SoftEye(around.pin)) if isinstance(around, SoftEye) else _PLATE
    return termination


@functools.lru_cache(maxsize=_REMEMBERED)
def _case(
    rope: Rope,
    termination: Termination,
    style_id: str,
    rules: RulesChoice | None,
    clip_body: str,
    clip_size: Length | None,
    clip_size_citation: Citation | None,
    maker: MakerFigures | None,
    service_id: str | None,
    jurisdiction: str | None,
    extra_clips: int,
    efficiency_basis: str | None,
    catalogue: Catalogue,
) -> Case:
    style = catalogue.style(style_id)
    if termination.kind not in style.terminations:
        raise InputError(
            f"a {style.title} does not make this termination",
            field="termination",
            value=termination.kind,
            bound="one of " + ", ".join(style.terminations),
            citation=str(style.citation),
            instead="Take one of these, or another style.",
        )
    request = Request(
        rope,
        termination,
        style_id,
        rules,
        clip_body,
        clip_size=clip_size,
        clip_size_citation=clip_size_citation,
        maker=maker,
        service=service_id,
        jurisdiction=jurisdiction,
        extra_clips=extra_clips,
        efficiency_basis=efficiency_basis,
    )
    resolved = resolve(request, catalogue)
    members = resolved.members
    book = service_book(catalogue)
    _check_excluded(members, book.services)
    service = book.demands(
        service=service_id, jurisdiction=jurisdiction, rope=rope, style_id=style.id, termination=termination
    )
    demand = demand_of(request, style, members, service)
    asked = asked_bounds(style, members, service)
    spaced = not style.in_series or has_length(demand, asked)
    strength = strength_of(request, members, demand, catalogue)
    if not spaced and not isinstance(strength.efficiency, Absent):
        strength = strength.refused("no source here gives a turn-back or a spacing")
    findings = [*service.findings, *service_findings(style, members, service, strength, catalogue), *ALWAYS]
    if style.wrong_way_round:
        findings.append(SADDLE)
    findings += rule_findings(request, members, demand)
    findings += demand_findings(request, style, members, demand)
    findings += rope_findings(request)
    findings += termination_findings(request, style)
    if service.forged_confirm is not None and clip_body != "forged":
        findings.append(service.forged_confirm)
    for name, reason in resolved.skipped:
        words = f"{name} was passed over: {reason}"
        findings.append(Finding("rule-set-skipped", "note", words, (members[0].rules.citation,)))
    findings += _elsewhere(book, service, service_id, jurisdiction, style)
    findings += _namesakes(members, catalogue)
    if catalogue.failures:
        names = "; ".join(str(failure) for failure in catalogue.failures)
        words = f"A plugin was refused, and what it would forbid or demand is not known here: {names}."
        findings.append(Finding("plugin-refused", "must-do", words, (_LOCAL,)))
    if service_id is None:
        findings = [_with_exclusions(finding, members) for finding in findings]
    if any(finding.blocks for finding in findings):
        strength = strength.refused(_BLOCKED)
    findings += memory_findings(members, demand, strength, asked, mass_per_length(rope))
    return Case(
        style=style,
        origin=catalogue.origin_of_style(style.id),
        members=members,
        skipped=resolved.skipped,
        service=service,
        asked=asked,
        has_length=spaced,
        demand=demand,
        strength=strength,
        findings=sorted_findings(findings),
        sorted_with_strength=sorted_findings([*findings, *strength_findings(strength)]),
    )


def _elsewhere(
    book: ServiceBook, service: ServiceDemands, service_id: str | None, jurisdiction: str | None, style: ClipStyle
) -> list[Finding]:
    # A use that every paragraph read forbids is not free where no paragraph was read.
    if service_id is None or jurisdiction is None or any(f.kind == "forbidden" for f in service.findings):
        return []
    forbidding = [rule for rule in forbidden_uses(book, style.id) if rule.service == service_id]
    if not forbidding:
        return []
    words = (
        f"This use is forbidden elsewhere, and no paragraph that allows it in {jurisdiction} was read: "
        + " ".join(rule.text for rule in forbidding)
        + " Find out what holds there."
    )
    citations = tuple(dict.fromkeys(rule.citation for rule in forbidding))
    return [Finding("forbidden-elsewhere", "must-fix", words, citations)]


def _namesakes(members: tuple[Member, ...], catalogue: Catalogue) -> list[Finding]:
    found = []
    for member in members:
        installed = catalogue.find(member.rules.id)
        if installed is not None and attrs.evolve(installed, origin="") != attrs.evolve(member.rules, origin=""):
            words = f"The rule set {member.rules.id} bears the name of an installed one and is another: rename it."
            found.append(Finding("rule-set-of-the-same-name", "must-do", words, (member.rules.citation,)))
    return found


def _check_excluded(members: tuple[Member, ...], services: tuple[str, ...]) -> None:
    for member in members:
        for name, text in member.rules.excluded_services:
            if name not in services:
                raise InputError(
                    f"{member.rules.id} excludes a service that nobody knows, so that it would exclude nothing",
                    field="excluded_services",
                    value=name,
                    bound="one of " + ", ".join(services),
                    citation=str(text.citations[0]),
                    instead="Correct the service's id in the rule file.",
                )


def _with_exclusions(finding: Finding, members: tuple[Member, ...]) -> Finding:
    # The first finding lists every forbidden use, those that the rule sets themselves exclude among them.
    if finding.code != "service-not-stated":
        return finding
    for member in members:
        excluded = member.rules.excluded_services
        if excluded:
            words = (
                f"{finding.text} {member.rules.id} is not for: " + "; ".join(text.value for _, text in excluded) + "."
            )
            more = tuple(citation for _, text in excluded for citation in text.citations)
            finding = attrs.evolve(finding, text=words, citations=(*finding.citations, *more))
    return finding


def strength_findings(strength: Strength) -> list[Finding]:
    """Return what a strength, or its absence, leaves to a person.

    Args:
        strength: The strength.

    Returns:
        One finding.
    """
    if isinstance(strength.breaking_force, Absent):
        words = f"No strength is given: {strength.breaking_force.reason}."
        return [Finding("no-strength", "caution", words, (_NOT_RATED,))]
    breaks = strength.breaking_force.text("both", "down")
    words = f"Breaks at {breaks}; never load to it. A working load needs a cited design factor."
    citations = strength.efficiency.citations if isinstance(strength.efficiency, Cited) else (_NOT_RATED,)
    return [Finding("never-load-to", "caution", words, citations)]


@functools.lru_cache(maxsize=8)
def service_book(catalogue: Catalogue) -> ServiceBook:
    """Return the service rules of the core and of a catalogue's plugins, ready to be asked.

    Args:
        catalogue: What is at hand.

    Returns:
        An immutable book; built once for each catalogue.
    """
    return ServiceBook.of((*service_rules(), *catalogue.service_rules), design_factors())
