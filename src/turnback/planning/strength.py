"""What a termination breaks at, where a source rates it; and why there is no number, where none does."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.mechanics import termination_breaking_force
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.ropedata import breaking_force
from turnback.planning.demand import Demand
from turnback.planning.request import Request
from turnback.planning.resolve import Member
from turnback.quantities import Force
from turnback.rules.catalogue import Catalogue
from turnback.rules.ruleset import ANY_STYLE, RuleSet

__all__ = ["Strength", "checked_factor", "design_factor_text", "strength_of"]

_GREATEST_FACTOR: Final = 1000
"""A limit of this library against slips, no source [-]."""
_COMMON: Final = frozenset({"thimble eye", "linked eyes"})


@attrs.frozen
class Strength:
    """The strength of a termination and what it rests on.

    Args:
        minimum_breaking_force: Of the rope [force].
        efficiency: Share of it that the termination holds, with its basis [-].
        efficiency_basis: Id of the rule file that the efficiency stands in, or ``clip maker``; empty when absent.
        breaking_force: At which the termination breaks; never to be loaded to [force].
    """

    minimum_breaking_force: Cited[Force] | Absent
    efficiency: Cited[Fraction] | Absent
    efficiency_basis: str
    breaking_force: Force | Absent

    def refused(self, reason: str) -> Strength:
        """Return the same without efficiency and breaking force.

        Args:
            reason: Why there is none.

        Returns:
            A strength of nothing but the rope's.
        """
        return Strength(
            self.minimum_breaking_force,
            Absent("efficiency", reason),
            "",
            Absent("termination_breaking_force", reason),
        )


def strength_of(request: Request, members: tuple[Member, ...], demand: Demand, catalogue: Catalogue) -> Strength:
    """Compute the strength, or say why there is none.

    Args:
        request: The request.
        members: The rule sets that govern.
        demand: What they ask for together.
        catalogue: Where bases of efficiency are found.

    Returns:
        The strength.

    Raises:
        InputError: A basis of efficiency is named that is none.
        UnknownRuleSet: A basis is named that is not at hand.
    """
    rope_force = breaking_force(request.rope)
    named = _named_basis(request, catalogue)
    nothing = Strength(rope_force, Absent("efficiency", ""), "", Absent("termination_breaking_force", ""))
    reason = _why_none(request, members, demand)
    if reason:
        return nothing.refused(reason)
    found = _efficiency(request, members, demand, (named,) if named is not None else catalogue.core_bases)
    if isinstance(found, Absent):
        return nothing.refused(found.reason)
    efficiency, basis = found
    if isinstance(rope_force, Absent):
        return Strength(rope_force, efficiency, basis, Absent("termination_breaking_force", rope_force.reason))
    force = Force(termination_breaking_force(rope_force.value.newtons, float(efficiency.value)))
    return Strength(rope_force, efficiency, basis, force)


def _why_none(request: Request, members: tuple[Member, ...], demand: Demand) -> str:
    if isinstance(demand.torque, Absent):
        return "no torque is given, and nothing rates a clip without one: " + demand.torque.reason
    if request.rope.condition in ("used", "worn"):
        return f"the rope is {request.rope.condition}; the sources speak of new rope"
    if request.rope.coating is not None and not request.rope.coating.stripped:
        return "the coating stays on under the clips; no source rates that"
    by_maker = request.maker is not None and request.maker.efficiency is not None
    if request.clip_size is not None and not by_maker:
        return "the clip size is the user's pairing; the rule set's efficiency does not speak of it"
    measured = request.rope.measured_diameter
    if measured is not None and measured < request.rope.diameter:
        return f"the rope measures {measured}, less than its nominal diameter"
    return next((reason for member in members if (reason := _unspoken(member, request, demand))), "")


def _unspoken(member: Member, request: Request, demand: Demand) -> str:
    """Say why one rule set does not carry a strength for this request; empty where it does."""
    rules, verdict, kind = member.rules, member.verdict, request.termination.kind
    if verdict.counts_only:
        return f"{rules.id} gives the number of clips alone for this rope"
    if verdict.terminations and kind not in verdict.terminations:
        return f"{rules.id} does not speak of a {kind}"
    maker = request.maker
    if maker is not None and maker.efficiency is not None:
        return ""
    if rules.efficiency and _band(rules, demand, kind) is None:
        return f"{rules.id} gives no efficiency for this size and termination"
    printed = member.row.torque
    if maker is None or maker.torque is None or printed is None:
        return ""
    threads = rules.threads.value if rules.threads is not None else maker.threads
    if printed.value.same_as(maker.torque) and threads == maker.threads:
        return ""
    return (
        f"{rules.id} rates clips at {printed.value}, {threads} threads, and the clip maker's torque is another; the "
        "maker's own efficiency is needed with it"
    )


def _named_basis(request: Request, catalogue: Catalogue) -> RuleSet | None:
    if request.efficiency_basis is None:
        return None
    basis = catalogue.rule_set(request.efficiency_basis)
    if basis not in catalogue.bases or basis.style not in (ANY_STYLE, request.style):
        raise InputError(
            "this rule set is no basis of efficiency for others",
            field="efficiency_basis",
            value=basis.id,
            bound="one of " + ", ".join(each.id for each in catalogue.bases),
            instead="Name a basis that gives efficiencies.",
        )
    return basis


def _band(rules: RuleSet, demand: Demand, kind: str) -> Cited[Fraction] | None:
    if kind not in rules.efficiency_terminations:
        return None
    for band in rules.efficiency:
        if band.takes(demand.seat):
            return Cited(band.value, (band.citation,), f"basis: {rules.id}")
    return None


def _efficiency(
    request: Request,
    members: tuple[Member, ...],
    demand: Demand,
    bases: tuple[RuleSet, ...],
) -> tuple[Cited[Fraction], str] | Absent:
    kind = request.termination.kind
    found: list[tuple[Cited[Fraction], str]] = []
    for member in members:
        own = _band(member.rules, demand, kind)
        if own is not None:
            found.append((own, member.rules.id))
        elif not member.rules.efficiency:
            cells = [(cell, basis.id) for basis in bases if (cell := _band(basis, demand, kind)) is not None]
            found.extend([min(cells, key=lambda pair: pair[0].value)] if cells else [])
    maker = request.maker
    if maker is not None and maker.efficiency is not None:
        found.append((Cited(maker.efficiency, (maker.citation,), "the clip maker's figure"), "clip maker"))
    if not found:
        word = "" if kind in _COMMON else f"; none of them speaks of a {kind}"
        return Absent("efficiency", f"no source here gives an efficiency for this size and termination{word}")
    # The lower governs; a printed upper bound below it leaves no value, for a bound never stands for one.
    value, basis_id = min(found, key=lambda pair: pair[0].value)
    for member in members:
        most = member.rules.efficiency_at_most
        if most is not None and most.value < value.value:
            return Absent("efficiency", f"{member.rules.id} allows at best {float(most.value):.0%}, below every basis")
    return value, basis_id


def design_factor_text(factor: Fraction) -> str:
    """Write a design factor.

    Args:
        factor: The factor [-].

    Returns:
        As a whole number or decimal.
    """
    return str(factor.numerator) if factor.denominator == 1 else f"{float(factor):g}"


def checked_factor(factor: float | Fraction | int) -> Fraction:
    """Read a design factor that a caller gives.

    Args:
        factor: A number of 1 or more [-].

    Returns:
        The exact factor.

    Raises:
        InputError: It is no finite number of 1 or more.
    """
    given: object = factor  # a caller without a type checker may hand over anything
    is_number = isinstance(given, (int, float, Fraction)) and not isinstance(given, bool)
    if not is_number or not 1 <= factor <= _GREATEST_FACTOR:
        raise InputError(
            "a design factor is a number of 1 or more",
            field="design_factor",
            value=repr(factor),
            bound=f"1 to {_GREATEST_FACTOR}",
            instead="Write the factor that your regulation asks for, such as 5.",
        )
    return Fraction(factor)
