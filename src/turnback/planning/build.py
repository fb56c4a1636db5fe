"""From a request to a plan: the half that lays out and computes the eye."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.errors import Conflict
from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.model.layout import Layout, LayoutDemand
from turnback.model.rope import Rope
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.terminations import LinkedEyes, Termination
from turnback.planning.asking import laid_out
from turnback.planning.case import Case, case_of, service_book, strength_findings
from turnback.planning.cautions import merged
from turnback.planning.demand import Demand, in_proportion, measured
from turnback.planning.geometry import eye_geometry
from turnback.planning.plan import Plan
from turnback.planning.remarks import angle_findings, base_width_findings
from turnback.planning.request import MakerFigures, Request, check_kind
from turnback.planning.service import ServiceDemands
from turnback.planning.strength import Strength
from turnback.quantities import Force, ForceLike, LengthLike
from turnback.rules.catalogue import Catalogue
from turnback.rules.selection import RulesChoice

__all__ = ["plan", "plan_request", "service_book"]

_FACTOR: Final = Citation(COMMON_PRACTICE, "a working load needs a design factor", "common practice")
_OVERLOADED: Final = "the plan has something that must be fixed first"


def plan(
    rope: Rope | str,
    termination: Termination,
    *,
    style: str,
    rules: RulesChoice | None = None,
    clip_body: str = "not given",
    base_width: LengthLike | None = None,
    clip_size: LengthLike | None = None,
    clip_size_citation: str | Citation | None = None,
    maker: MakerFigures | None = None,
    service: str | None = None,
    jurisdiction: str | None = None,
    extra_clips: int = 0,
    load: ForceLike | None = None,
    efficiency_basis: str | None = None,
    catalogue: Catalogue | None = None,
) -> Plan:
    """Plan one termination: how many clips, where, which way round, at what torque, and what it may be trusted with.

    Args:
        rope: The rope, or its designation as text.
        termination: The kind of eye or splice, with the dimensions that are known.
        style: Id of the clip style, such as ``"u-bolt"``.
        rules: Id of the rule set, a rule set, or several joined by ``+``, :func:`governing` or :func:`first_of`.
        clip_body: ``"forged"``, ``"other"`` or ``"not given"``.
        base_width: Length of one saddle (or plate body) along the rope, measured on the clip [length].
        clip_size: Another clip size than the rope's own, on the clip maker's word [length].
        clip_size_citation: That word.
        maker: Further figures of the clip's maker.
        service: Id of the service; what is forbidden in it comes first in the findings.
        jurisdiction: Where the joint is used; the strictest of all when not given.
        extra_clips: Clips added on each eye, or on each half of a lap splice [-].
        load: The load that the joint is to carry [force].
        efficiency_basis: Basis of efficiency asked for by name.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The plan. It is also returned where a use is forbidden: it then says so first and is not usable.

    Raises:
        InputError: An input cannot be read or breaks a bound of its own.
        UnknownStyle: No plugin brings the style.
        UnknownRuleSet: No plugin brings the rule set, or none was named.
        OutOfTable: The rule set prints no row for the size.
        OutOfScope: The rule set does not speak of the rope.
        Conflict: Demands cannot be met together.
        PluginError: A plugin that failed to load may have brought what was asked for.
    """
    request = Request(
        rope, termination, style, rules, clip_body, base_width, clip_size, clip_size_citation, maker, service,
        jurisdiction, extra_clips, load, efficiency_basis,
    )  # fmt: skip
    return plan_request(request, catalogue)


def plan_request(request: Request, catalogue: Catalogue | None = None) -> Plan:
    """Plan a request that was made before; see :func:`plan`.

    Args:
        request: The request.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The plan.

    Raises:
        TurnbackError: As :func:`plan`.
    """
    check_kind(catalogue, (Catalogue, type(None)), "catalogue", "Catalogue.installed(), Catalogue.of(...) or None")
    case = case_of(request, Catalogue.installed() if catalogue is None else catalogue)
    style, demand = case.style, case.demand
    if request.base_width is not None:
        demand = measured(demand, case.asked, request.base_width, in_series=style.in_series)
    asked = LayoutDemand(
        demand.count,
        demand.seat,
        request.base_width,
        demand.turn_back,
        None if demand.least is None else demand.least.length,
        None if demand.greatest is None else demand.greatest.length,
        demand.depends_on_base_width,
        request.termination.kind == "lap splice",
    )
    layout = laid_out(style, asked, case.origin) if case.has_length else _NO_LENGTH
    _within_greatest(demand, layout, case, asked)
    geometry = eye_geometry(request.rope, request.termination)
    strength = case.strength
    more = base_width_findings(request.base_width, demand.seat, in_series=style.in_series)
    more += angle_findings(geometry)
    if layout.lengthened:
        more += _lengthened(demand, layout)
    if request.load is not None:
        more += _load_findings(request.load, strength, case.service)
    other = None
    if isinstance(request.termination, LinkedEyes):
        other = eye_geometry(request.rope, request.termination.second)
        more += angle_findings(other)
    findings = case.sorted_with_strength
    if any(finding.blocks for finding in more):
        strength = strength.refused(_OVERLOADED)
        findings = merged(case.findings, [*more, *strength_findings(strength)])
    elif more:
        findings = merged(findings, more)
    return Plan(request, case, demand, asked, layout, geometry, strength, findings, other)


_NO_SOURCE: Final = "no source here gives a turn-back or a spacing; take the clip maker's, as a rule file"
_NO_LENGTH: Final = Layout(
    Absent("turn_back", _NO_SOURCE),
    Absent("spacing", _NO_SOURCE),
    Absent("end_distance", _NO_SOURCE),
    (),
    lengthened=False,
)


def _within_greatest(demand: Demand, layout: Layout, case: Case, asked: LayoutDemand) -> None:
    if demand.greatest is None:
        return
    greatest = demand.greatest.length
    if isinstance(layout.spacing, Absent):
        # Clips one base width apart are at least two base widths from centre to centre, so that no base width can
        # bring a turn-back of more than so many greatest spacings within the bound.
        fits = asked.base_width is not None or demand.turn_back is None or demand.total == 1
        if not fits and demand.turn_back is not None:
            # A splice has one end more: 3 b + (2 n - 1) s with b at most half of s.
            most = greatest.nanometres * (4 * demand.count + 1 if asked.splice else 2 * demand.count)
            fits = demand.turn_back.nanometres * (4 if asked.splice else 2) <= most
    else:
        fits = layout.spacing <= greatest
    if fits:
        return
    printed = max(demand.turn_backs, key=lambda each: each.length, default=None)
    raise Conflict(
        "the printed turn-back spreads the clips farther apart than another source allows",
        field="spacing",
        value=(
            f"a turn-back of {layout.turn_back} for {demand.total} clips"
            if isinstance(layout.spacing, Absent)
            else f"{layout.spacing} between centres, from a turn-back of {layout.turn_back}"
        ),
        bound=f"at most {demand.greatest.length} ({demand.greatest.text})",
        citation=f"{printed.citations[0] if printed else 'the turn-back'} and {demand.greatest.citation}",
        instead=_remedy(demand, case, asked),
    )


def _remedy(demand: Demand, case: Case, asked: LayoutDemand) -> str:
    for extra in range(1, 13):
        count = asked.count + extra
        longest = max((in_proportion(each, count) for each in demand.turn_backs), default=None)
        more = attrs.evolve(asked, count=count, turn_back=longest)
        spacing = laid_out(case.style, more, case.origin).spacing
        if demand.greatest is not None and not isinstance(spacing, Absent) and spacing <= demand.greatest.length:
            return f"Add clips (extra_clips={extra} more would do), or take another rule set."
    return "Take another rule set; more clips alone do not mend it."


def _lengthened(demand: Demand, layout: Layout) -> list[Finding]:
    if demand.least is None or demand.turn_back is None:
        return []
    halves = demand.total // demand.count
    words = (
        f"The turn-back is lengthened from {demand.turn_back * halves} to {layout.turn_back}: {demand.total} clips at "
        f"least {demand.least.length} between centres ({demand.least.text}) do not fit in less."
    )
    longest = max(demand.turn_backs, key=lambda each: each.length)
    return [Finding("turn-back-lengthened", "note", words, (demand.least.citation, *longest.citations))]


def _load_findings(load: Force, strength: Strength, service: ServiceDemands) -> list[Finding]:
    breaking, factor = strength.breaking_force, service.design_factor
    if isinstance(breaking, Absent) or isinstance(factor, Absent):
        reason = breaking.reason if isinstance(breaking, Absent) else str(factor).removeprefix("absent: ")
        words = f"The load {load} cannot be judged: {reason}."
        return [Finding("load-not-judged", "must-do", words, (_FACTOR,))]
    most = breaking.newtons / float(factor.value)
    if load.newtons <= most:
        return []
    words = (
        f"The load {load.text('both', 'up')} is above the working load {Force(most).text('both', 'down')}: the "
        f"termination breaks at {breaking.text('both', 'down')}, and the service's design factor is "
        f"{float(factor.value):g}."
    )
    return [Finding("load-above-working-load", "must-fix", words, factor.citations)]
