"""The torque of every clip, as it was found and as it was left, each time round with the wrench."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from turnback.model.absent import Absent
from turnback.planning.cautions import practice
from turnback.quantities import Torque, percent_text
from turnback.review.check_load import torque_again
from turnback.review.observations import Observation
from turnback.review.subject import Subject
from turnback.review.torque_pass import PASSES, TorquePass
from turnback.rules.admission import EXACT, Margin, means_torque

__all__ = ["torques"]

_SETTLES: Final = practice("rope settles under its first load and clips lose their grip: torque again")
_ORDER: Final = practice("every clip to its torque, nuts in turns")
_TOO_TIGHT: Final = practice("not so tight that the rope kinks; a clip that was strained is looked at before it stays")
_WRENCH: Final = "If it is within what your wrench can tell, give the wrench's tolerance with its reason."
_AFTER: Final = PASSES.index("after the first load")


def torques(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the torques.

    A torque that was low as found after a load is normal and is a thing to do; a torque that was left low is not.

    Args:
        subject: The joint.

    Returns:
        Observations by clip and pass; none where no torque is known to judge by.
    """
    if isinstance(subject.plan.torque, Absent):
        return
    for clip in range(1, subject.count + 1):
        for i, one in enumerate(subject.as_built.passes):
            yield from _reading(subject, clip, i, one)
    if subject.as_built.loaded and not _went_round_after(subject):
        yield subject.seen(
            "not-torqued-again",
            "must-do",
            "torque",
            "The joint has carried load and no clip was torqued after it.",
            f"Torque every clip again to {subject.plan.torque} and write down what was found and left.",
            torque_again(subject),
            measured="no pass after the first load",
            bound=subject.plan.torque,
        )


def _went_round_after(subject: Subject) -> bool:
    return any(PASSES.index(one.at) >= _AFTER for one in subject.as_built.passes)


def _off(subject: Subject, reading: Torque, margin: Margin) -> bool:
    """Tell whether a torque is not the plan's. The clip maker's, where the user gave one, overrules what is printed."""
    plan = subject.plan
    wanted = plan.demand.torque
    if isinstance(wanted, Absent):
        return False
    if not means_torque(wanted.value, reading, margin):
        return True
    by_maker = plan.request.maker is not None and plan.request.maker.torque is not None
    joint = attrs.evolve(subject.joint(), torque=reading)
    return not by_maker and bool(subject.breaches(joint, "torque", margin))


def _reading(subject: Subject, clip: int, index: int, one: TorquePass) -> Iterator[Observation]:
    found, left = one.found(clip), one.left(clip)
    loaded = PASSES.index(one.at) >= _AFTER
    if left is not None:
        yield from _left(subject, clip, index, left, "left")
    elif found is not None and not loaded:
        # No load has made it lose its torque yet: it was never tight.
        yield from _left(subject, clip, index, found, "found")
    if found is not None and loaded:
        yield from _found(subject, clip, index, found)


def _left(subject: Subject, clip: int, index: int, reading: Torque, how: str) -> Iterator[Observation]:
    plan, one = subject.plan, subject.as_built.passes[index]
    wanted, when = plan.demand.torque, _when(one)
    if isinstance(wanted, Absent) or not _off(subject, reading, EXACT):
        return
    low = reading.exact_newton_metres < wanted.value.exact_newton_metres
    if not _off(subject, reading, subject.margin):
        yield _tolerated(subject, clip, reading, when)
        return
    side = "under" if low else "above"
    text = f"{when} it was {how} at {reading}, {side} {wanted.value}."
    if _put_right(subject, clip, index):
        yield subject.seen(
            "torque-was-off",
            "confirm",
            subject.clip(clip),
            f"{text} A later pass left it right.",
            "Look at its witness mark for slip, and at rope and saddle where it was above.",
            (*wanted.citations, _ORDER),
            measured=reading,
            bound=wanted.value,
        )
    elif low:
        yield subject.seen(
            "clip-under-torqued",
            "must-fix",
            subject.clip(clip),
            text,
            f"Not to be loaded so. Look for slip; torque it to {wanted.value}, nuts in turns, {_threads(subject)}. "
            "Then torque the other clips again in their order, and again after load. " + _WRENCH,
            (*wanted.citations, _ORDER),
            measured=reading,
            bound=wanted.value,
        )
    else:
        yield subject.seen(
            "clip-over-torqued",
            "must-fix",
            subject.clip(clip),
            text,
            "Take the load off and the clip off. Look at rope, saddle and threads, and use the clip again only where "
            f"it passes; then torque it to {wanted.value}. " + _WRENCH,
            (*wanted.citations, _TOO_TIGHT),
            measured=reading,
            bound=wanted.value,
        )


def _found(subject: Subject, clip: int, index: int, reading: Torque) -> Iterator[Observation]:
    plan, one = subject.plan, subject.as_built.passes[index]
    wanted, when = plan.demand.torque, _when(one)
    if isinstance(wanted, Absent) or not _off(subject, reading, subject.margin):
        return
    low = reading.exact_newton_metres < wanted.value.exact_newton_metres
    if not low:
        yield subject.seen(
            "torque-high-as-found",
            "confirm",
            subject.clip(clip),
            f"{when} it was found at {reading}, above {wanted.value}; load does not tighten a clip.",
            "Find out who tightened it, or check the wrench. " + _WRENCH,
            (*wanted.citations, _ORDER),
            measured=reading,
            bound=wanted.value,
        )
        return
    first = one.at == "after the first load"
    normal = "which is normal after the first load" if first else "as rope and clips settle"
    watch = "" if first else " Where it keeps falling, look for slip, broken wires and a rope that grows thinner."
    done = one.left(clip) is not None or _put_right(subject, clip, index)
    yield subject.seen(
        "torque-low-as-found",
        "note" if done else "must-do",
        subject.clip(clip),
        f"{when} it was found at {reading}, under {wanted.value}, {normal}.",
        ("It was torqued again." if done else f"Torque it again to {wanted.value}.") + watch,
        (*torque_again(subject), _SETTLES),
        measured=reading,
        bound=wanted.value,
    )


def _put_right(subject: Subject, clip: int, index: int) -> bool:
    for one in subject.as_built.passes[index + 1 :]:
        reading = one.left(clip) or one.found(clip)
        if reading is not None and not _off(subject, reading, subject.margin):
            return True
    return False


def _tolerated(subject: Subject, clip: int, reading: Torque, when: str) -> Observation:
    tolerances = subject.as_built.tolerances
    share = "0 %" if tolerances.wrench is None else percent_text(tolerances.wrench)
    return subject.seen(
        "within-tolerance",
        "note",
        subject.clip(clip),
        f"{when} it was left at {reading}, which passes by the wrench's tolerance of {share}.",
        "Nothing, where the tolerance is true.",
        tolerances.citations,
        measured=reading,
        bound=subject.plan.torque,
    )


def _when(one: TorquePass) -> str:
    day = "" if one.on is None else f" on {one.on.isoformat()}"
    words = {"assembly": "At assembly", "before first use": "Before first use", "periodic": "At a later check"}
    return words.get(one.at, "After the first load") + day


def _threads(subject: Subject) -> str:
    condition = subject.plan.thread_condition
    return "threads as the clip maker says" if isinstance(condition, Absent) else f"threads {condition}"
