"""The clips themselves: which way round, of what size and make, their threads, the thimble, and slip beside them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.model.sources import Citation
from turnback.model.terminations import LinkedEyes, PlateEye, ThimbleEye
from turnback.planning.cautions import practice
from turnback.quantities import Length
from turnback.review.as_built import Slip
from turnback.review.observations import Observation
from turnback.review.subject import MAKE_AGAIN, Subject

__all__ = ["hardware", "has_thimble", "saddle_wanted", "saddles", "slips"]

_SADDLE: Final = practice("saddle on the live part, every clip the same way round")
_MIXED: Final = practice("clips of one size, make and style on one joint; never mixed")
_THIMBLE: Final = practice("thimble in every loaded eye")
_THREADS: Final = practice("threads as the source of the torque says, dry or greased, never the other")
_SLIP: Final = practice("a joint that has slipped is taken out of service and made again")


def saddle_wanted(subject: Subject, clip: int) -> str:
    """Say what a clip's saddle must bear on.

    Args:
        subject: The joint.
        clip: Its number from 1 at the dead end [-].

    Returns:
        ``live part``; in a lap splice the rope whose dead end is farther away; empty for a clip without a wrong way
        round, and for the middle clip of an odd number in a lap splice.
    """
    plan, count = subject.plan, subject.count
    if not plan.style.wrong_way_round:
        return ""
    if not plan.layout_demand.splice:
        return "live part"
    if 2 * clip == count + 1:
        return ""
    return "rope B" if 2 * clip <= count else "rope A"


def saddles(subject: Subject) -> Iterator[Observation]:
    """Yield every clip that is on the wrong way round.

    Args:
        subject: The joint.

    Returns:
        Observations by clip.

    Raises:
        InputError: A reading names a part that such a clip has no saddle on.
    """
    for clip, found in enumerate(subject.as_built.saddles, 1):
        if found is None:
            continue
        _known(subject, clip, found)
        wanted = saddle_wanted(subject, clip)
        if not wanted or found == wanted:
            continue
        do, out = subject.made_again(
            f"Not to be loaded so. Take it off and look at the {wanted} where the U sat: where it is crushed or "
            f"nicked, cut off and make the joint again. Put the clip on with its saddle on the {wanted} and torque it."
        )
        yield subject.seen(
            "clip-reversed",
            "must-fix",
            subject.clip(clip),
            f"It is on the wrong way round: its saddle bears on the {found}, not on the {wanted}"
            + (". It is never just turned round: the U has crushed the part that carries." if out else "."),
            do,
            (_SADDLE, *subject.saddle_citations, *([MAKE_AGAIN] if out else [])),
            measured=f"saddle on the {found}",
            bound=f"saddle on the {wanted}",
            out_of_service=out,
        )


def _known(subject: Subject, clip: int, found: str) -> None:
    plan = subject.plan
    if not plan.style.wrong_way_round:
        sides: tuple[str, ...] = ("both parts",)
    elif plan.layout_demand.splice:
        sides = ("rope A", "rope B")
    else:
        sides = ("live part", "dead part")
    if found not in sides:
        raise InputError(
            f"the saddle of a {plan.style.title} on a {plan.request.termination.kind} does not bear on this",
            field=f"saddles[{clip - 1}]",
            value=found,
            bound="one of " + ", ".join(sides),
            citation=str(plan.style.citation),
            instead="A clip of another style among them is written down as makes_mixed.",
        )


def slips(subject: Subject) -> Iterator[Observation]:
    """Yield every clip at which the rope has slipped.

    Args:
        subject: The joint.

    Returns:
        Observations by clip. No tolerance excuses a slip.
    """
    for clip, slip in enumerate(subject.as_built.slips, 1):
        if slip is None or slip is False:
            continue
        do, out = subject.made_again(
            "Not to be loaded so. Find out what moved the rope before any load; set the clips out again to the plan "
            "and torque them."
        )
        yield subject.seen(
            "slipped",
            "must-fix",
            subject.clip(clip),
            f"The rope has slipped at its witness mark{_by(slip)}.",
            do,
            (_SLIP, *([MAKE_AGAIN] if out else [])),
            measured="slipped" if slip is True else slip,
            bound="no slip",
            out_of_service=out,
        )


def hardware(subject: Subject) -> Iterator[Observation]:
    """Yield what is wrong with the clips' size, make and threads, and with the thimble.

    Args:
        subject: The joint.

    Returns:
        At most one observation each.
    """
    yield from _size(subject)
    yield from _mixed(subject)
    yield from _threads(subject)
    yield from _thimble(subject)


def _size(subject: Subject) -> Iterator[Observation]:
    size, plan = subject.as_built.clip_size, subject.plan
    if size is None or size == plan.clip_size:
        return
    broken = subject.breaches(attrs.evolve(subject.joint(), clip_size=size), "size", subject.margin)
    do, out = subject.made_again(f"Not to be loaded so. Make it again with clips of {plan.clip_size}.")
    yield subject.seen(
        "clip-size-differs",
        "must-fix",
        "clip size",
        f"The clips are of {size}, and the plan has {plan.clip_size}.",
        do,
        (*(breach.citation for breach in broken), plan.demand.clip_size_citation, *([MAKE_AGAIN] if out else [])),
        measured=size,
        bound=plan.clip_size,
        out_of_service=out,
    )


def _mixed(subject: Subject) -> Iterator[Observation]:
    as_built = subject.as_built
    mixed = [word for word, is_so in (("sizes", as_built.sizes_mixed), ("makes", as_built.makes_mixed)) if is_so]
    if not mixed:
        return
    do, out = subject.made_again("Not to be loaded so. Make it again with clips of one size, make and style.")
    yield subject.seen(
        "clips-mixed",
        "must-fix",
        "clips",
        f"Clips of different {' and '.join(mixed)} stand on one joint; count, turn-back and torque belong to one "
        "pattern.",
        do,
        (_MIXED, *([MAKE_AGAIN] if out else [])),
        measured=f"different {' and '.join(mixed)}",
        bound="one size, make and style",
        out_of_service=out,
    )


def _threads(subject: Subject) -> Iterator[Observation]:
    found, wanted = subject.as_built.threads, subject.plan.demand.threads
    if not found or isinstance(wanted, Absent) or found == wanted.value:
        return
    joint = attrs.evolve(subject.joint(), threads=found)
    broken = subject.breaches(joint, "threads", subject.margin)
    yield subject.seen(
        "threads-differ",
        "must-fix",
        "threads",
        f"The threads are {found}, and the torque belongs to {wanted.value} ones: the clips are not as tight, or "
        "tighter, than the wrench says.",
        f"Take the load off. One clip at a time: nuts off, make the threads {wanted.value}, look at them, torque it "
        "again.",
        (*(breach.citation for breach in broken), *wanted.citations, _THREADS),
        measured=found,
        bound=wanted.value,
    )


def has_thimble(subject: Subject) -> bool:
    """Tell whether the plan lays the eye round a thimble.

    Args:
        subject: The joint.

    Returns:
        True for a thimble eye, for linked eyes, and for a plate eye round a thimble.
    """
    termination = subject.plan.request.termination
    if isinstance(termination, PlateEye):
        return isinstance(termination.around, ThimbleEye)
    return isinstance(termination, (ThimbleEye, LinkedEyes))


def _thimble(subject: Subject) -> Iterator[Observation]:
    lies, planned = subject.as_built.thimble, has_thimble(subject)
    if lies is None or lies is planned:
        return
    if lies:
        yield subject.seen(
            "thimble-not-planned",
            "note",
            "thimble",
            "A thimble lies in an eye that is planned without one.",
            "Plan it as a thimble eye and inspect it against that plan.",
            (_THIMBLE,),
            measured="thimble in the eye",
        )
        return
    do, out = subject.made_again("Not to be loaded so. Make the eye again round a thimble.")
    yield subject.seen(
        "thimble-missing",
        "must-fix",
        "thimble",
        "No thimble lies in the eye, and one is planned.",
        do,
        (_THIMBLE, *_asking_for_thimble(subject), *([MAKE_AGAIN] if out else [])),
        measured="no thimble",
        bound="a thimble",
        out_of_service=out,
    )


def _asking_for_thimble(subject: Subject) -> tuple[Citation, ...]:
    return tuple(
        entry.citation
        for member in subject.plan.members
        for entry in member.rules.scope
        if entry.terminations and "soft eye" not in entry.terminations
    )


def _by(slip: Slip) -> str:
    return f" by {slip}" if isinstance(slip, Length) else ""
