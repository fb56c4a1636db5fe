"""The first load of a joint, against the load it is made for and the load it may carry."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.sources import Citation, user_citation
from turnback.planning.cautions import practice
from turnback.quantities import Force
from turnback.review.observations import Observation
from turnback.review.subject import Subject
from turnback.review.upkeep import torque_times

__all__ = ["expected_load", "first_load", "load_limit", "torque_again"]

_FIRST_LOAD: Final = practice("first load at least the expected service load, then inspect and torque every clip again")


def first_load(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the first load.

    Args:
        subject: The joint.

    Returns:
        At most two observations.
    """
    as_built, item = subject.as_built, "first load"
    if as_built.first_load_applied is False:
        yield subject.seen(
            "first-load-to-come",
            "must-do",
            item,
            "The first load was not put on.",
            "Nobody under or in line: load it steadily to at least the expected load and no more than the working "
            "load, then torque every clip again.",
            torque_again(subject),
            measured="none",
        )
    load, expected = as_built.first_load, expected_load(subject)
    if load is None:
        return
    if expected is not None and load < expected:
        yield subject.seen(
            "first-load-too-small",
            "must-do",
            item,
            f"The first load was {load}, under the load expected in service, {expected}.",
            "Load it again, to at least the expected load and no more than the working load, then torque every clip "
            "again.",
            torque_again(subject),
            measured=load,
            bound=f"at least {expected}",
        )
    limit, citations = load_limit(subject)
    if not isinstance(limit, Absent) and load > limit:
        yield subject.seen(
            "first-load-too-great",
            "must-fix",
            item,
            f"The first load was {load}, above the working load, {limit}.",
            "Take the load off and the joint out of service, until a competent person has looked at the rope along its "
            "length, the clips, the eye and what it hangs on.",
            (*citations, _FIRST_LOAD),
            measured=load,
            bound=f"no more than {limit}",
            out_of_service=True,
        )


def load_limit(subject: Subject) -> tuple[Force | Absent, tuple[Citation, ...]]:
    """Return the greatest load that the joint may have carried.

    Args:
        subject: The joint.

    Returns:
        The smaller of the plan's working load and the one that somebody competent states [force], or why there is
        none; with the citations.
    """
    stated, plan = subject.as_built.working_load, subject.plan
    citations = (user_citation(subject.as_built.working_load_reason),) if stated is not None else ()
    try:
        planned = plan.working_load()
    except TurnbackError as error:
        reason = f"no working load is known ({error.problem}); give the one that a competent person states"
        return (stated, citations) if stated is not None else (Absent("working_load", reason), ())
    factor = plan.service.design_factor
    cited = () if isinstance(factor, Absent) else factor.citations
    return (planned, cited) if stated is None or planned <= stated else (stated, citations)


def expected_load(subject: Subject) -> Force | None:
    """Return the load that is expected in service.

    Args:
        subject: The joint.

    Returns:
        As written down on the joint, or as the plan was asked for [force]; None where nobody says.
    """
    return subject.as_built.expected_load or subject.plan.request.load


def torque_again(subject: Subject) -> tuple[Citation, ...]:
    """Return who asks for the clips to be torqued again after the first load.

    Args:
        subject: The joint.

    Returns:
        The rule sets and the service that say so, and common practice.
    """
    asked = [each for each in torque_times(subject.plan) if each.value == "after the first load"]
    return (*(citation for each in asked for citation in each.citations), _FIRST_LOAD)
