"""The order of work for clips that stand in a row: what a rigger does, from the tools to the later checks.

It is common practice of the trade, written down once for every style of :class:`~turnback.model.styles.SeriesStyle`;
where a source says otherwise (dry or greased threads, which end is tightened first), the step for that case is taken.
It takes nothing away from the clip maker's instructions, the local code or the judgement of a competent person.
"""

from __future__ import annotations

from typing import Final

from turnback.model.series_preparing import PREPARING, ROPE_WORK
from turnback.model.steps import StepTemplate, common_step

__all__ = ["SERIES_PROCEDURE"]

_EYE: Final = (
    common_step(
        "bend-round-thimble",
        "eye on a thimble",
        "Lay the rope round the thimble so that it sits in the groove all the way, and bring the dead part "
        "alongside the live part with the mark at the thimble's point.",
        when=("thimble eye",),
    ),
    common_step(
        "bend-round-pin",
        "soft eye",
        "Lay the rope round the pin without a sharp bend, and bring the dead part alongside the live part with the "
        "mark at the base of the eye.",
        when=("soft eye",),
    ),
    common_step(
        "bend-round-pulley",
        "pulley in place of a thimble",
        "Lay the rope round the pulley. The clip nearest the pulley stands one pulley diameter from the pulley's "
        "centre, which leaves about 60 degrees between the two parts; where the plan asks for another angle, its "
        "mark holds.",
        when=("pulley eye",),
    ),
    common_step(
        "link-eyes",
        "linked eyes",
        "Make two eyes, each a whole joint of {count} clips, its rope lying in the groove of its own thimble. Make "
        "the first by the steps below, pass the other rope through it, and make the second by the same steps.",
        when=("linked eyes",),
    ),
    common_step(
        "lay-alongside",
        "lap splice",
        "Lay the two ropes side by side without crossing, each dead end at the other rope's overlap mark.",
        when=("lap splice",),
    ),
    common_step(
        "saddle-on-live-part",
        "saddle on the live part",
        "Every clip goes on the same way round: the saddle on the live part, the U on the dead part. A clip put on "
        "the other way round crushes the live part: take it off, and have the rope looked at.",
        when=("wrong way round", "eye"),
    ),
    common_step(
        "saddle-in-lap",
        "lap splice, half of the clips reversed",
        "Half of the clips are reversed. Each saddle bears on the rope whose dead end is farther away, the live "
        "part there; each U bears on the rope whose dead end is nearer.",
        when=("wrong way round", "lap splice"),
    ),
    common_step(
        "seat-both-saddles",
        "no wrong way round",
        "This clip has no wrong way round. Seat both saddles squarely, one on each part of the rope.",
        unless=("wrong way round",),
    ),
)

_CLIPS: Final = (
    common_step(
        "how-to-tighten",
        "tightening",
        "Tighten the nuts of one clip in turns, a little at a time, so that it closes evenly. No impact driver. "
        "Stop if the rope kinks before the torque is reached: then clip and rope do not belong together.",
    ),
    common_step(
        "first-clip",
        "order of the clips",
        "Put clip 1, the first from the dead end, on one base width from it and bring it to full torque: {torque}.",
        when=("eye", "begin at the dead end"),
        reading="torque of the first clip",
    ),
    common_step(
        "second-clip",
        "order of the clips",
        "Next put clip {count}, the last from the dead end, on at the base of the eye, tight against the thimble "
        "where there is one, its nuts snug only.",
        when=("eye", "begin at the dead end"),
        unless=("one clip",),
    ),
    common_step(
        "other-clips",
        "order of the clips",
        "Put the other clips on evenly between these two, at their places, their nuts snug only.",
        when=("eye", "begin at the dead end", "three or more clips"),
    ),
    common_step(
        "slack-to-the-eye",
        "slack",
        "Put light tension on the eye and take out the slack between the clips, pushing it towards the eye.",
        when=("eye", "begin at the dead end"),
        unless=("one clip",),
    ),
    common_step(
        "torque-from-the-dead-end",
        "order of tightening",
        "Bring the clips to {torque}, beginning at the one nearest the dead end and working to the eye: {order}.",
        when=("eye", "begin at the dead end"),
        reading="torque of every clip",
    ),
    common_step(
        "first-clip-at-the-eye",
        "the source begins at the eye",
        "The source begins at the eye. Put clip {count}, the last from the dead end, on first, close to the eye, its "
        "nuts snug only.",
        when=("eye", "begin at the eye"),
    ),
    common_step(
        "clips-towards-the-dead-end",
        "the source begins at the eye",
        "Put the other clips on towards the dead end, at their places, their nuts snug only; the last stands at "
        "least one base width from the dead end.",
        when=("eye", "begin at the eye"),
        unless=("one clip",),
    ),
    common_step(
        "slack-to-the-dead-end",
        "the source begins at the eye",
        "See that the rope lies close in the eye, and take out the slack between the clips towards the dead end.",
        when=("eye", "begin at the eye"),
        unless=("one clip",),
    ),
    common_step(
        "torque-from-the-eye",
        "the source begins at the eye",
        "Bring the clips to {torque}, beginning at the one nearest the eye and working to the dead end: {order}.",
        when=("eye", "begin at the eye"),
        reading="torque of every clip",
    ),
    common_step(
        "first-clip-of-lap",
        "lap splice, the order of an eye carried over",
        "Put clip 1 on one base width from the dead end of the first rope and bring it to full torque: {torque}. The "
        "clips are counted from there.",
        when=("lap splice",),
        reading="torque of the first clip",
    ),
    common_step(
        "second-clip-of-lap",
        "lap splice, the order of an eye carried over",
        "Next put clip {total} on one base width from the other dead end, its nuts snug only.",
        when=("lap splice",),
        unless=("one clip",),
    ),
    common_step(
        "other-clips-of-lap",
        "lap splice, the order of an eye carried over",
        "Put the other clips on evenly between these two, at their places, their nuts snug only.",
        when=("lap splice", "three or more clips"),
    ),
    common_step(
        "slack-out-of-lap",
        "lap splice, the order of an eye carried over",
        "Put light tension on both live parts so that the two ropes lie straight beside each other, without slack "
        "between the clips.",
        when=("lap splice",),
    ),
    common_step(
        "torque-lap",
        "order of tightening",
        "Bring the clips to {torque} in this order: {order}.",
        when=("lap splice",),
        reading="torque of every clip",
    ),
    common_step(
        "check-joint",
        "check before the first load",
        "Before any load a competent person checks the joint: {total} clips, their places and sides, the dead end "
        "standing out, no kink, and the torque of every clip.",
        hold=True,
        reading="name and date of the check",
    ),
    common_step(
        "torque-before-use",
        "tightening again",
        "Tighten every clip again to {torque} before first use, in the same order.",
        when=("retorque before first use",),
        reading="torque of every clip before first use",
    ),
)

_LOAD: Final = (
    common_step(
        "clear-the-line",
        "first load",
        "Send everybody away from under the load and out of the line of the rope before the first load goes on.",
        hold=True,
    ),
    common_step(
        "first-load",
        "first load",
        "Load the joint steadily, to at least the load expected in service and no more than the working load, "
        "{working_load}.",
        when=("working load known",),
        reading="first load",
    ),
    common_step(
        "first-load-not-known",
        "first load",
        "The first load is at least the load expected in service and no more than the working load, which is not "
        "known here. A competent person states it before any load goes on; otherwise the joint is not loaded.",
        when=("working load unknown",),
        hold=True,
        reading="first load, and who stated the working load",
    ),
    common_step(
        "look-for-slip",
        "first load",
        "Look at the marks. Where the rope has slipped or a clip has moved, take the load off and find out why.",
        reading="slip, or none",
    ),
    common_step(
        "retorque-unloaded",
        "tightening again",
        "Take the load off, then tighten every clip again to {torque}, in the same order.",
        when=("retorque unloaded",),
        reading="torque of every clip after the first load",
    ),
    common_step(
        "retorque-loaded",
        "tightening again",
        "With the load on and steady, and from beside the line of the rope, tighten every clip again to {torque}, "
        "in the same order.",
        when=("retorque loaded",),
        reading="torque of every clip after the first load",
    ),
    common_step(
        "retorque",
        "tightening again",
        "Tighten every clip again to {torque}, in the same order. The source does not say whether under load: ask "
        "the clip maker; without an answer, take the load off first.",
        when=("retorque state not stated",),
        reading="torque of every clip after the first load",
    ),
)

_AFTER: Final = (
    common_step(
        "witness-marks",
        "marks",
        "Paint a witness mark over clip and rope at every clip, so that later slip shows.",
    ),
    common_step(
        "seal-coating",
        "coated cable",
        "Seal the cut edges of the coating so that no water creeps under it.",
        when=("stripped",),
    ),
    common_step(
        "tie-the-tail",
        "dead end",
        "Tie the tail of the dead end to the live part so that it cannot catch. The tie carries nothing.",
        when=("eye",),
    ),
    common_step(
        "tie-the-tails",
        "dead end",
        "Tie the tail of each dead end to the other rope so that it cannot catch. The ties carry nothing.",
        when=("lap splice",),
    ),
    common_step(
        "each-shift",
        "later checks",
        "At the start of each shift inspect the joint and tighten every clip again to {torque}.",
        when=("each shift",),
        reading="torque of every clip, slip, broken wires",
    ),
    common_step(
        "later-checks",
        "later checks",
        "Inspect the joint and tighten every clip again to {torque}, {intervals}, and after any shock or overload. "
        "Take it out of service where the rope has slipped or wires are broken at the clips.",
        unless=("each shift",),
        reading="torque of every clip, slip, broken wires",
    ),
)

SERIES_PROCEDURE: Final[tuple[StepTemplate, ...]] = (*PREPARING, *ROPE_WORK, *_EYE, *_CLIPS, *_LOAD, *_AFTER)
"""The steps in order; of every group of cases exactly the one that holds for a plan is taken."""
