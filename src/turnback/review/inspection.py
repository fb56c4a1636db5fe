"""A joint as it was made, against its plan: what deviates, what to do, and what is still to be measured."""

from __future__ import annotations

from typing import Final, Literal

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.findings import KINDS, Finding
from turnback.model.sources import Citation
from turnback.planning.build import plan_request
from turnback.planning.cautions import merged, practice
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.review.as_built import AsBuilt
from turnback.review.check_clips import hardware, saddles, slips
from turnback.review.check_load import first_load
from turnback.review.check_places import count, places, turn_back
from turnback.review.check_rope import rope
from turnback.review.check_torque import torques
from turnback.review.identity import plan_id
from turnback.review.missing import still_to_measure
from turnback.review.observations import Observation
from turnback.review.subject import Subject
from turnback.review.upkeep import torque_times
from turnback.rules.catalogue import Catalogue

__all__ = ["InService", "Inspection", "inspect"]

InService = Literal["keep", "find out first", "act", "out of service"]
"""Whether a joint may stay in service, from the best down. ``keep``: every reading is there and every bound is met;
``find out first``: something was not measured, or somebody must check a fact; ``act``: something is to be done before
it is loaded again; ``out of service``: it is taken out, and made again or given up."""

_CHECKS: Final = (count, saddles, slips, places, turn_back, torques, hardware, first_load, rope)
_LATER: Final = practice("first load, then inspect and torque every clip again; later at intervals")
_PLANNED: Final = practice("a joint without a plan is held to the rules that hold for it now")


@attrs.frozen
class Inspection:
    """What an inspection found. :func:`inspect` makes it. It does not replace a competent person on the spot.

    Args:
        plan: The plan that the joint was held to.
        as_built: The readings.
        observations: What was observed, gravest first.
        still_to_measure: What is still to be measured, counted, looked at or stated, with the reason.
        planned_here: Whether the joint had no plan and was planned for this inspection.
    """

    plan: Plan
    as_built: AsBuilt
    observations: tuple[Observation, ...]
    still_to_measure: tuple[Absent, ...]
    planned_here: bool = False

    @property
    def deviations(self) -> tuple[Observation, ...]:
        """What is not as it should be; without what only informs."""
        return tuple(each for each in self.observations if each.deviates)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The plan's own findings and those of the inspection, gravest first."""
        return merged(self.plan.findings, [each.finding for each in self.observations])

    @property
    def in_service(self) -> InService:
        """Whether the joint may stay in service, so far as the readings tell."""
        kinds = {each.kind for each in self.deviations}
        of_plan = {finding.kind for finding in self.plan.findings}
        if "forbidden" in of_plan or any(each.out_of_service for each in self.deviations):
            return "out of service"
        if kinds & {"must-fix", "must-do"} or "must-fix" in of_plan:
            return "act"
        return "find out first" if self.still_to_measure or "confirm" in kinds else "keep"

    @property
    def usable(self) -> bool:
        """False while anything blocks or nobody knows: true for ``keep`` alone."""
        return self.in_service == "keep"

    def about(self, item: str) -> tuple[Observation, ...]:
        """Return what was observed of one item.

        Args:
            item: Its name, such as ``clip 2`` or ``turn-back``; two clips together are about each of them.

        Returns:
            The observations, gravest first.
        """
        return tuple(each for each in self.observations if item in _items(each.item))

    def __str__(self) -> str:
        lines = [f"in service: {self.in_service}"]
        for each in self.observations:
            lines.append(f"{each.kind}: {each.item}: {each.text}")
            lines += [f"    measured {each.measured}"] if each.measured else []
            lines += [f"    should be {each.bound}"] if each.bound else []
            lines += [f"    {each.do}"] if each.do else []
            lines.append(f"    [{'; '.join(str(citation) for citation in each.citations)}]")
        lines += [f"still to find out: {each.what}: {each.reason}" for each in self.still_to_measure]
        lines += [str(finding) for finding in self.plan.findings if finding.blocks]
        return "\n".join(lines)


def inspect(plan: Plan | Request, as_built: AsBuilt, catalogue: Catalogue | None = None) -> Inspection:
    """Hold a joint as it was made to its plan, to every rule set of the plan, to the service and to the trade.

    Bounds are exact; a tolerance of tape or wrench is the user's own, given with its reason in the readings.

    Args:
        plan: The plan of the joint; for an old joint without one, the request that describes it, which is planned
            first.
        as_built: The readings.
        catalogue: What is at hand for planning a request; the installed plugins when not given.

    Returns:
        What deviates, what to do, and what is still to be measured.

    Raises:
        InputError: The readings belong to another plan, there are more readings than clips, a saddle is on a part that
            such a clip has none on, or there is a second eye where none is planned.
        TurnbackError: A request cannot be planned, as :func:`turnback.plan`.
    """
    here = not isinstance(plan, Plan)
    made = plan if isinstance(plan, Plan) else plan_request(plan, catalogue)
    _belongs(made, as_built)
    subjects = [Subject(made, as_built)]
    second = made.other_eye
    missing: list[Absent] = []
    if second is not None:
        subjects = [Subject(made, as_built, "first eye")]
        if as_built.other_eye is None:
            missing.append(Absent("second eye", "it is a joint of its own: give its readings as other_eye"))
        else:
            subjects.append(Subject(second, as_built.other_eye, "second eye"))
    observed = [each for subject in subjects for check in _CHECKS for each in check(subject)]
    observed += _informing(made, here)
    missing = [*(each for subject in subjects for each in still_to_measure(subject)), *missing]
    rank = {kind: i for i, kind in enumerate(KINDS)}
    observed.sort(key=lambda each: (rank[each.kind], not each.out_of_service))
    return Inspection(made, as_built, tuple(dict.fromkeys(observed)), tuple(missing), here)


def _belongs(plan: Plan, as_built: AsBuilt) -> None:
    own = plan_id(plan)
    for field, one in (("", as_built), ("other_eye.", as_built.other_eye)):
        if one is None:
            continue
        if one.plan_id and one.plan_id != own:
            raise InputError(
                "the readings belong to another plan",
                field=f"{field}plan_id",
                value=one.plan_id,
                bound=own,
                instead="Take the plan that the joint was made to, or leave plan_id out to hold it to this one.",
            )
        if one.clip_count is None and one.highest_clip > plan.clip_count:
            raise InputError(
                "there are more readings than the plan has clips, and the clips were not counted",
                field=f"{field}clip_count",
                value=f"readings of {one.highest_clip} clips",
                bound=f"{plan.clip_count} clips planned",
                instead="Count the clips and give clip_count.",
            )
    if as_built.other_eye is not None and plan.other_eye is None:
        raise InputError(
            "there is a second eye in linked eyes alone",
            field="other_eye",
            value=plan.request.termination.kind,
            instead="Leave other_eye out, or plan the joint as linked eyes.",
        )


def _informing(plan: Plan, here: bool) -> list[Observation]:
    found: list[Observation] = []
    subject = Subject(plan, AsBuilt())
    if here:
        text = "No plan of this joint is at hand: it is held to a plan that was made now from what is known of it."
        found.append(subject.seen("planned-here", "note", "plan", text, "", (_PLANNED,)))
    times = {each.value: each.citations for each in torque_times(plan)}
    shift: tuple[Citation, ...] = times.get("each shift", ())
    if shift:
        text = "At the start of each shift the joint is inspected and every clip is torqued again."
        found.append(subject.seen("check-each-shift", "must-do", "later checks", text, "", shift))
    else:
        text = "The joint is looked at and torqued again at intervals, and after any shock or overload."
        do = "State the interval with its reason; no source here prints one."
        cited = (*times.get("at intervals", ()), _LATER)
        found.append(subject.seen("check-at-intervals", "note", "later checks", text, do, cited))
    return found


def _items(item: str) -> tuple[str, ...]:
    if " and " not in item:
        return (item,)
    head, _, other = item.partition(" and ")
    eye, _, first = head.rpartition("clips ")
    return (item, f"{eye}clip {first}", f"{eye}clip {other}")
