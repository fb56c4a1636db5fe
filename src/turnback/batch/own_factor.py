"""A row that has a design factor of its own: it is refused below the cited one, and its load is judged by it above."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

from turnback.errors import InputError, TurnbackError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.sources import user_citation
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.quantities import Force
from turnback.rules.catalogue import Catalogue

__all__ = ["below_cited", "judged_by", "with_own_factor"]

_OVER: Final = 1 + 1e-9
"""So much above the working load a load is above it in every bit [-]."""
_OVERLOAD: Final = "load-above-working-load"
_WHERE: Final = "design factor of the row, as given in the register"


def below_cited(plan: Plan, factor: Fraction) -> InputError | None:
    """Say whether a row's design factor is below the cited one.

    Args:
        plan: The scalar plan of the row.
        factor: The row's own factor [-].

    Returns:
        The error, not raised; None where the factor may stand.
    """
    cited = plan.service.design_factor
    if isinstance(cited, Absent) or factor >= cited.value:
        return None
    return InputError(
        "this design factor is below the one that is cited for the service",
        field="design_factor",
        value=f"{float(factor):g}",
        bound=f"at least {float(cited.value):g}",
        citation="; ".join(map(str, cited.citations)),
        instead="Take the cited factor or a greater one.",
    )


def judged_by(plan: Plan, factor: Fraction, catalogue: Catalogue) -> Plan:
    """Judge the load by the row's own design factor too, which is not below the cited one.

    Args:
        plan: The scalar plan of the row.
        factor: The row's own factor [-].
        catalogue: What is at hand.

    Returns:
        The plan itself; where the load is above the working load at the row's factor, one with the findings of an
        overload, whose load is no longer the row's.
    """
    load, cited = plan.request.load, plan.service.design_factor
    if load is None or isinstance(cited, Absent) or isinstance(plan.termination_breaking_force, Absent):
        return plan
    try:
        if load.newtons <= plan.working_load(factor).newtons:
            return plan
    except TurnbackError:
        return plan
    # A plan judges its load by the cited factor; so much greater a load at that one is the same overload at this one.
    heavier = Force(max(load.newtons, plan.working_load().newtons * _OVER) * float(factor / cited.value))
    return plan_request(attrs.evolve(plan.request, load=heavier), catalogue)


def with_own_factor(plan: Plan, factor: Fraction, catalogue: Catalogue) -> Plan:
    """Return the plan of a row as its own design factor has it, for a person to read.

    Its working load, its findings and its derivations are those of the row of the output.

    Args:
        plan: The scalar plan of the row.
        factor: The row's own factor, not below the cited one [-].
        catalogue: What is at hand.

    Returns:
        The plan with the row's factor in place of the cited one.
    """
    cited = plan.service.design_factor
    if isinstance(cited, Absent) or factor == cited.value:
        return plan
    # A float is an ugly fraction; the plainest one that is the same float reads better and divides alike.
    plain = factor.limit_denominator(1000)
    factor = plain if float(plain) == float(factor) else factor
    own = Cited(factor, (user_citation(_WHERE), *cited.citations), f"the row's own; the cited one is {_plain(cited)}")
    service = attrs.evolve(plan.service, design_factor=own)
    judged = judged_by(plan, factor, catalogue)
    findings = judged.findings
    if judged is not plan and plan.request.load is not None:
        words = (
            f"The load {plan.request.load.text('both', 'up')} is above the working load "
            f"{plan.working_load(factor).text('both', 'down')} at the row's own design factor of {_plain(own)}; the "
            f"cited factor is {_plain(cited)}."
        )
        overload = Finding(_OVERLOAD, "must-fix", words, own.citations)
        findings = tuple(overload if each.code == _OVERLOAD else each for each in findings)
    return attrs.evolve(judged, request=plan.request, case=attrs.evolve(plan.case, service=service), findings=findings)


def _plain(factor: Cited[Fraction]) -> str:
    return f"{float(factor.value):g}"
