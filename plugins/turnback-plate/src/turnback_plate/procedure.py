"""The order of work for a plate clip.

It is common practice of the trade. The clip maker's instructions, the local code and a competent person stand above it.
"""

from __future__ import annotations

from typing import Final

from turnback.model.series_procedure import SERIES_PROCEDURE
from turnback.model.steps import StepTemplate, common_step

__all__ = ["PLATE_PROCEDURE"]

# Steps that are the same for every clip are the same values.
_SHARED: Final = {step.code: step for step in SERIES_PROCEDURE}

PLATE_PROCEDURE: Final[tuple[StepTemplate, ...]] = (
    _SHARED["who-governs"],
    common_step(
        "no-torque",
        "torque of a plate clip",
        "No torque is known for this clip, for none is published. Get it and the rating from the clip maker before "
        "the work begins. A joint tightened by feel is never loaded.",
        when=("torque unknown",),
        hold=True,
        reading="the clip maker's torque and rating, and where they stand",
    ),
    common_step(
        "measure-body",
        "length of the body",
        "Measure the length of the body along the cable. Make the plan again with it for the turn-back and the "
        "marks; without it the body itself is the gauge.",
        when=("unmeasured",),
        reading="length of the body",
    ),
    _SHARED["tools"],
    common_step(
        "check-cable",
        "cable before use",
        "Check that the cable is the one planned for: {rope}. It has no kink, crushed place, corrosion or broken "
        "wire where the joint comes. Measure its finished diameter, any coating included.",
        reading="measured finished diameter",
    ),
    common_step(
        "check-body",
        "plate clips before use",
        "Check the clip: size {clip_size}, made for the finished diameter of the cable. The plates are flat and "
        "without cracks, their grooves not worn; the threads are sound and the nuts run freely.",
        reading="size and marking of the clip",
    ),
    _SHARED["dry-threads"],
    _SHARED["greased-threads"],
    _SHARED["ask-threads"],
    _SHARED["seize"],
    common_step(
        "keep-from-turning",
        "rotation-resistant rope",
        "Check that the seizings are tight before anybody cuts, and keep the cable from turning until the clip is "
        "tight.",
        when=("rotation-resistant",),
        hold=True,
    ),
    _SHARED["hold-both-ends"],
    _SHARED["cut"],
    common_step(
        "strip",
        "coated cable",
        "Strip the coating where the body sits, as far as where the dead end comes to lie on the live part: "
        "{strip}. Do not nick a wire; where one is nicked, cut back to sound cable and begin again.",
        when=("stripped",),
        reading="every wire sound where the coating was stripped",
    ),
    common_step(
        "coating-test",
        "clips over a coating",
        "The coating stays on under the body: it holds much less, and how much cannot be foretold. Never for "
        "critical work. Make a sample of this joint and have it tested before this one is used.",
        when=("coating on",),
        hold=True,
        reading="result of the test",
    ),
    common_step(
        "mark",
        "marks",
        "Measured from the dead end, mark the edges of the body, {edges}, and the base of the eye, {turn_back}.",
        when=("measured", "turn-back known"),
    ),
    common_step(
        "gauge",
        "dead end beyond the body",
        "Without the length of the body, hold the body itself against the cable: it ends at the base of the eye "
        "and leaves at least {dead_end} of dead end beyond it.",
        when=("unmeasured",),
    ),
    common_step(
        "bend",
        "eye of a plate clip",
        "Lay the cable round the thimble or the pin without a sharp bend, and bring the dead part alongside the "
        "live part.",
    ),
    common_step(
        "put-on-body",
        "plate clips: one body makes the connection",
        "Put the body on at the base of the eye with each part in its own groove and at least {dead_end} of dead "
        "end standing out. Bring the nuts on by hand.",
    ),
    common_step(
        "slack",
        "slack",
        "Put light tension on the eye so that the cable lies close round it, and see that the dead end still "
        "stands out.",
    ),
    common_step(
        "torque",
        "plate clips: the plate closes evenly",
        "Tighten the nuts in turns, a little at a time, so that the plate closes evenly, to {torque}. No impact "
        "driver. Stop if the cable kinks first: then clip and cable do not belong together.",
        reading="torque of every nut",
    ),
    common_step(
        "check-joint",
        "check before the first load",
        "Before any load a competent person checks the joint: the size of the clip, each part in its groove, the "
        "plate closed evenly, at least {dead_end} of dead end, and the torque of every nut.",
        hold=True,
        reading="name and date of the check",
    ),
    common_step(
        "torque-before-use",
        "tightening again",
        "Tighten every nut again to {torque} before first use.",
        when=("retorque before first use",),
        reading="torque of every nut before first use",
    ),
    _SHARED["clear-the-line"],
    _SHARED["first-load"],
    common_step(
        "first-load-not-known",
        "first load",
        "The first load is at least the load expected in service and no more than the working load, which the clip "
        "maker or a competent person states before any load goes on; otherwise the joint is not loaded.",
        when=("working load unknown",),
        hold=True,
        reading="first load, and who stated the working load",
    ),
    common_step(
        "look-for-slip",
        "first load",
        "Look at the marks. Where the cable has slipped in the body, take the load off and find out why.",
        reading="slip, or none",
    ),
    common_step(
        "retorque-unloaded",
        "tightening again",
        "Take the load off, then tighten every nut again to {torque}, in turns.",
        when=("retorque unloaded",),
        reading="torque of every nut after the first load",
    ),
    common_step(
        "retorque-loaded",
        "tightening again",
        "With the load on and steady, and from beside the line of the cable, tighten every nut again to {torque}, "
        "in turns.",
        when=("retorque loaded",),
        reading="torque of every nut after the first load",
    ),
    common_step(
        "retorque",
        "tightening again",
        "Tighten every nut again to {torque}, in turns. No source says whether under load: ask the clip maker; "
        "without an answer, take the load off first.",
        when=("retorque state not stated",),
        reading="torque of every nut after the first load",
    ),
    common_step(
        "witness-marks",
        "marks",
        "Paint a witness mark over body and cable, so that later slip shows.",
    ),
    _SHARED["seal-coating"],
    common_step(
        "tie-the-tail",
        "dead end",
        "Tie the tail of the dead end to the live part where it could catch. The tie carries nothing.",
    ),
    common_step(
        "each-shift",
        "later checks",
        "At the start of each shift inspect the joint and tighten every nut again to {torque}.",
        when=("each shift",),
        reading="torque of every nut, slip, broken wires",
    ),
    common_step(
        "later-checks",
        "later checks",
        "Inspect the joint and tighten every nut again to {torque}, {intervals}, and after any shock or overload. "
        "Take it out of service where the cable has slipped or wires are broken at the body.",
        unless=("each shift",),
        reading="torque of every nut, slip, broken wires",
    ),
)
"""The steps in order; of every group of cases exactly the one that holds for a plan is taken."""
