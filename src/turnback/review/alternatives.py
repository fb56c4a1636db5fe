"""What else could end this rope: the printed efficiencies of other terminations, beside a plan and only on request."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.mechanics import termination_breaking_force
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.rope import Rope
from turnback.model.sources import Citation
from turnback.planning.plan import Plan
from turnback.quantities import Force, percent_text
from turnback.review.alternatives_file import EndFigure, WayOfEnding, ways_of_ending

__all__ = ["NOT_A_RATING", "Alternative", "alternatives"]

NOT_A_RATING: Final = (
    "Shares of the rope's minimum breaking force as a table prints them, for the conversation before the rope is cut. "
    "None of them is a rating or a load to put on a rope. Whether the service, the local code and the maker allow one "
    "of them, and for which ropes, was not looked up here: ask them and a qualified person."
)
"""What stands beside every list of other terminations."""

_CLIPS: Final = "clips"


@attrs.frozen
class Alternative:
    """One way of ending the rope of a plan, as a table prints it. It is no rating.

    Args:
        code: Stable name, lower case with hyphens.
        name: Its name in the trade.
        printed: All that the table prints of it, in words.
        figure: The figure that is printed for this rope; absent where none is, with the reason.
        breaks_at_least: Lower end of that share of the rope's minimum breaking force [force].
        breaks_at_most: Upper end, the same where no range is printed [force].
        citations: Who says so: the figures, then the breaking force where there is one.
        note: What else to know; empty when nothing.
    """

    code: str
    name: str
    printed: str
    figure: EndFigure | Absent
    breaks_at_least: Force | Absent
    breaks_at_most: Force | Absent
    citations: tuple[Citation, ...]
    note: str = ""

    @property
    def efficiency(self) -> str:
        """The figure in words: one share, or a range that stays one."""
        if isinstance(self.figure, Absent):
            return f"no figure: {self.figure.reason}"
        return _share(self.figure)

    @property
    def breaks_at(self) -> str:
        """What it breaks at, in words; the reason where there is no number."""
        least, most = self.breaks_at_least, self.breaks_at_most
        if isinstance(least, Absent) or isinstance(most, Absent):
            return str(least if isinstance(least, Absent) else most)
        return f"{least}" if least == most else f"{least} to {most}"

    def __str__(self) -> str:
        note = f"; {self.note}" if self.note else ""
        cited = "; ".join(str(citation) for citation in self.citations)
        holds = self.efficiency
        if not isinstance(self.figure, Absent):
            holds += f", breaks at {self.breaks_at}"
        return f"{self.name}: {holds}{note} [{cited}]"


def alternatives(plan: Plan) -> tuple[Alternative, ...]:
    """Say what else could end the rope of a plan, and what each would break at.

    Args:
        plan: The plan.

    Returns:
        Every way of the table, also those whose figures are not printed for this rope: they say why.

    Source: TM 5-3810-305-10, Table 4.
    """
    return tuple(_alternative(way, plan) for way in ways_of_ending())


def _alternative(way: WayOfEnding, plan: Plan) -> Alternative:
    rope = plan.request.rope
    printed = "; ".join(_printed(figure) for figure in way.figures)
    cited = tuple(dict.fromkeys(figure.citation for figure in way.figures))
    figure = _figure_for(way, rope)
    why = _why_none(plan, way)
    force = plan.strength.minimum_breaking_force
    if isinstance(figure, Absent):
        why = why or figure.reason
    elif not why and isinstance(force, Absent):
        why = force.reason
    if why or isinstance(figure, Absent) or not isinstance(force, Cited):
        nothing = Absent("breaks_at", why)
        return Alternative(way.code, way.name, printed, figure, nothing, nothing, cited)
    shares = (figure.least, figure.greatest)
    note = ""
    if way.code == _CLIPS and not isinstance(plan.efficiency, Absent) and plan.efficiency != figure.least:
        note = f"this plan reckons with {percent_text(plan.efficiency)} by {plan.efficiency_basis}; the lower governs"
        # A lower figure of the clip's maker or of a rule set is not talked up by this table.
        shares = (min(figure.least, plan.efficiency), min(figure.greatest, plan.efficiency))
    least, most = (Force(termination_breaking_force(force.value.newtons, float(share))) for share in shares)
    return Alternative(way.code, way.name, printed, figure, least, most, (*cited, *force.citations), note)


def _why_none(plan: Plan, way: WayOfEnding) -> str:
    rope = plan.request.rope
    if rope.condition in ("used", "worn"):
        return f"the rope is {rope.condition}; the sources speak of new rope"
    if rope.coating is not None and not rope.coating.stripped:
        return "the coating stays on; no source here speaks of that"
    breaking = plan.termination_breaking_force
    # What a plan of clips does not get, this table does not give it by the back door.
    return breaking.reason if way.code == _CLIPS and isinstance(breaking, Absent) else ""


def _figure_for(way: WayOfEnding, rope: Rope) -> EndFigure | Absent:
    reasons: list[str] = []
    for figure in way.figures:
        reason = _misfit(figure, rope)
        if not reason:
            return figure
        reasons.append(f"{_share(figure)} {reason}")
    return Absent("efficiency", "; ".join(dict.fromkeys(reasons)))


def _misfit(figure: EndFigure, rope: Rope) -> str:
    # A size that the figure is not printed for says more than a core or finish that was not given.
    if figure.at is not None and rope.diameter != figure.at:
        return f"is printed at {figure.at}, and this rope is {rope.diameter}"
    if figure.up_to is not None and rope.diameter > figure.up_to:
        return f"is printed up to {figure.up_to}, and this rope is {rope.diameter}"
    for what, value, accepted in (("core", rope.core, figure.cores), ("finish", rope.finish, figure.finishes)):
        if accepted and value not in accepted:
            named = " or ".join(accepted)
            printed = f"{figure.steel} ({named})" if what == "finish" and figure.steel else named
            given = f"this rope's {what} is {value}" if value else f"the {what} of this rope was not given"
            return f"is printed for {printed}, and {given}"
    return ""


def _printed(figure: EndFigure) -> str:
    words = [_share(figure)]
    words += ["for " + " or ".join(figure.cores)] if figure.cores else []
    words += [f"for {figure.steel}"] if figure.steel else []
    words += [f"at {figure.at}"] if figure.at is not None else []
    words += [f"up to {figure.up_to}"] if figure.up_to is not None else []
    return " ".join(words)


def _share(figure: EndFigure) -> str:
    if figure.least == figure.greatest:
        return percent_text(figure.least)
    return f"{percent_text(figure.least)} to {percent_text(figure.greatest)}"
