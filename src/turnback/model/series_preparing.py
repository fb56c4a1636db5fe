"""The order of work for clips in a row, first part: everything up to the rope that is seized, cut and marked.

:mod:`turnback.model.series_procedure` joins the two parts.
"""

from __future__ import annotations

from typing import Final

from turnback.model.steps import common_step

__all__ = ["PREPARING", "ROPE_WORK"]

PREPARING: Final = (
    common_step(
        "who-governs",
        "before the work",
        "The clip maker's instructions, the local code and a competent person stand above these steps. Where they "
        "differ, follow them.",
    ),
    common_step(
        "no-torque",
        "torque",
        "No torque is known for this clip. Get it from the clip maker, with the condition of the threads that it "
        "is meant for, before the work begins. A joint tightened by feel is never loaded.",
        when=("torque unknown",),
        hold=True,
        reading="the clip maker's torque and where it stands",
    ),
    common_step(
        "no-turn-back",
        "base width",
        "The turn-back is not known: it depends on the base width of the clip, or no source gives one. Measure the "
        "clip, or take the turn-back from the clip maker, and make the plan again before the rope is cut or bent.",
        when=("turn-back unknown",),
        hold=True,
    ),
    common_step(
        "measure-clip",
        "base width",
        "Measure the base width: the length of one saddle along the rope. Make the plan again with it for the "
        "places and marks of the clips; without it the saddle itself is the gauge.",
        when=("unmeasured",),
        reading="base width",
    ),
    common_step(
        "tools",
        "tools",
        "Have at hand: tape, marker and paint, seizing wire, rope cutter, gloves and eye protection, a wrench, and "
        "a torque wrench in calibration that covers {torque}. No impact driver.",
        reading="torque wrench: number and date of calibration",
    ),
    common_step(
        "check-rope",
        "rope before use",
        "Check that the rope is the one planned for: {rope}. It has no kink, crushed place, bird-cage, corrosion, "
        "heat mark or broken wire where the joint comes. Measure its diameter.",
        reading="measured diameter",
    ),
    common_step(
        "check-clips",
        "clips before use",
        "Check the clips: {total} of size {clip_size}, all of one make, size and body. Threads are sound, nuts run "
        "freely, and the ridges of the saddles are neither worn nor gouged.",
        reading="size and marking of the clips",
    ),
    common_step(
        "check-u-bolts",
        "clips before use",
        "Check that every U-bolt drops into its saddle without force.",
        when=("wrong way round",),
    ),
    common_step(
        "check-thimble",
        "thimble",
        "Check that the thimble is sound and that its groove fits the rope.",
        when=("thimble eye",),
    ),
    common_step(
        "check-thimbles",
        "linked eyes",
        "Check that each of the two eyes has a sound thimble of its own and that both grooves fit the rope.",
        when=("linked eyes",),
    ),
    common_step(
        "check-pin",
        "soft eye",
        "Check that the pin is smooth, round and without an edge that the rope could bear on.",
        when=("soft eye",),
    ),
    common_step(
        "check-pulley",
        "pulley in place of a thimble",
        "Check that the pulley is sound and that its groove fits the rope.",
        when=("pulley eye",),
    ),
    common_step(
        "dry-threads",
        "threads",
        "Clean the threads and nuts and leave them dry, neither oiled nor greased: the torque is meant for dry "
        "threads.",
        when=("dry threads",),
    ),
    common_step(
        "greased-threads",
        "threads",
        "Clean the threads and nuts and grease them: the torque is meant for greased threads and is wrong for dry "
        "ones.",
        when=("greased threads",),
    ),
    common_step(
        "ask-threads",
        "threads",
        "Nothing says whether the torque is meant for dry or for greased threads. Ask the clip maker before "
        "tightening.",
        when=("threads not stated", "torque known"),
        hold=True,
        reading="condition of the threads and who stated it",
    ),
)
"""From the tools to the checked clips."""

ROPE_WORK: Final = (
    common_step(
        "seize",
        "seizing before the cut",
        "Seize the rope before it is cut: {seizing}.",
    ),
    common_step(
        "seize-first",
        "rotation-resistant rope",
        "This rope is rotation-resistant. Check that the seizings are on and tight before anybody cuts: no strand "
        "and no core may slip.",
        when=("rotation-resistant",),
        hold=True,
    ),
    common_step(
        "keep-from-turning",
        "rotation-resistant rope",
        "Keep the rope from turning, with neither turns put in nor let out, until every clip is at full torque.",
        when=("rotation-resistant",),
    ),
    common_step(
        "hold-both-ends",
        "Lang lay",
        "This is Lang lay rope. Hold both ends so that neither can turn, and keep them held until every clip is at "
        "full torque.",
        when=("lang lay",),
    ),
    common_step(
        "cut",
        "cut",
        "Measure twice, then cut between the seizings with eye protection on. The seizing nearest the cut stays on the "
        "dead end; as the clips go on, take off any other that lies where a clip comes.",
    ),
    common_step(
        "strip",
        "coated cable",
        "Strip the coating where the clips sit, as far as where the dead end comes to lie on the live part: "
        "{strip}. Do not nick a wire; where one is nicked, cut back to sound cable and begin again.",
        when=("stripped",),
        reading="every wire sound where the coating was stripped",
    ),
    common_step(
        "coating-test",
        "clips over a coating",
        "The coating stays on under the clips: they hold much less, and how much cannot be foretold. Never for "
        "critical work. Make a sample of this joint and have it tested before this one is used.",
        when=("coating on",),
        hold=True,
        reading="result of the test",
    ),
    common_step(
        "mark-turn-back",
        "marks",
        "Measured from the dead end, mark the base of the eye at {turn_back}.",
        when=("eye", "turn-back known"),
    ),
    common_step(
        "mark-overlap",
        "marks of a lap splice",
        "On each of the two ropes mark the overlap, {turn_back}, from its dead end.",
        when=("lap splice", "turn-back known"),
    ),
    common_step(
        "mark-clips",
        "marks",
        "From the same datum mark the edges of every clip: {edges}. A mark at the centre would hide under the clip.",
        when=("eye", "measured"),
    ),
    common_step(
        "mark-clips-lap",
        "marks of a lap splice",
        "From the dead end of one rope, the datum of them all, mark the edges of every clip: {edges}.",
        when=("lap splice", "measured"),
    ),
    common_step(
        "gauge",
        "first clip one base width from the dead end",
        "Without a base width the saddle is the gauge: the first clip stands one saddle's length from the dead "
        "end, the last at the base of the eye, the rest evenly between, each at least one saddle's length clear of "
        "the next. Where they do not fit so, turn back more rope.",
        when=("eye", "unmeasured"),
    ),
    common_step(
        "gauge-lap",
        "first clip one base width from the dead end",
        "Without a base width the saddle is the gauge: one clip stands one saddle's length from each dead end, the "
        "rest evenly between, each at least one saddle's length clear of the next. Where they do not fit so, lengthen "
        "the overlap.",
        when=("lap splice", "unmeasured"),
    ),
)
"""From the seizing to the marks."""
