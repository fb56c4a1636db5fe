"""How much rope it takes to make a joint again."""

from __future__ import annotations

from turnback.model.absent import Absent
from turnback.planning.plan import Plan
from turnback.quantities import Length

__all__ = ["remake_length"]


def remake_length(plan: Plan, turn_back: Length | None = None) -> Length | Absent:
    """Return the rope that is cut off when a joint is made again.

    It is what the clips and the eye have bent or gripped: from the dead end to the place on the live part where the
    dead end comes to lie, which is both turn-backs and the rope in the eye; of a lap splice the overlap, on each rope.

    Args:
        plan: The plan of the joint; of linked eyes, the first eye.
        turn_back: The turn-back as measured, where it was [length]; the longer of the two counts.

    Returns:
        The length, each time the joint is made again [length]; absent with the reason.
    """
    planned, eye = plan.turn_back, plan.rope_in_eye
    if isinstance(planned, Absent):
        if turn_back is None:
            return Absent("remake_length", planned.reason)
        planned = turn_back
    longer = planned if turn_back is None else max(planned, turn_back)
    if plan.layout_demand.splice:
        return longer
    return Absent("remake_length", eye.reason) if isinstance(eye, Absent) else longer * 2 + eye
