"""Faults of where a style puts the clips and of how much rope it takes."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, cast

import attrs
from tests.conformance.faults.making import (
    NAVY,
    OSHA,
    PLATE,
    SADDLE,
    TABLE,
    U_BOLT,
    Fault,
    Twisted,
    asked,
    like,
    moved,
    rules_of,
    twisted,
    under,
)

from turnback.conformance.subject import Subject
from turnback.model.absent import Absent
from turnback.model.layout import Layout, LayoutDemand, PlacedClip, SaddleOn
from turnback.quantities import Length

__all__ = ["LAYOUT_FAULTS"]

DEAD: Final = cast("SaddleOn", "dead part")


def longer(layout: Layout, nanometres: int) -> Layout:
    """The same clips on more or less rope."""
    if isinstance(layout.turn_back, Absent):
        return layout
    return attrs.evolve(layout, turn_back=Length(layout.turn_back.nanometres + nanometres))


# --- how much rope ---


def a_nanometre_short(demand: LayoutDemand, made: Layout) -> Layout:
    return made if made.clips else longer(made, -1)


def a_nanometre_long(demand: LayoutDemand, made: Layout) -> Layout:
    return made if made.clips else longer(made, 1)


def an_inch_short(demand: LayoutDemand, made: Layout) -> Layout:
    return made if made.clips else longer(made, -25_400_000)


def short_for_ten(demand: LayoutDemand, made: Layout) -> Layout:
    return longer(made, -1) if demand.count >= 10 and not made.clips and not demand.splice else made


def thrifty(demand: LayoutDemand) -> LayoutDemand:
    printed = demand.turn_back
    if printed is None or demand.count < 7:
        return demand
    return attrs.evolve(demand, turn_back=printed.times(Fraction(2, 3), "up"))


def to_a_millimetre(demand: LayoutDemand) -> LayoutDemand:
    printed = demand.turn_back
    if printed is None:
        return demand
    return attrs.evolve(demand, turn_back=Length(printed.nanometres // 1_000_000 * 1_000_000))


def to_the_nearest_inch(demand: LayoutDemand, made: Layout) -> Layout:
    if made.clips or isinstance(made.turn_back, Absent):
        return made
    whole = (made.turn_back.nanometres + 12_700_000) // 25_400_000 * 25_400_000
    return attrs.evolve(made, turn_back=Length(whole))


def splice_longer_at_seven(demand: LayoutDemand, made: Layout) -> Layout:
    wanted = demand.splice and demand.count == 7 and not made.clips
    return longer(made, 40 * demand.rope_diameter.nanometres) if wanted else made


def forgets_the_printed(demand: LayoutDemand) -> LayoutDemand:
    base, least = demand.base_width, demand.least
    far = base is not None and least is not None and least > base * 2
    return attrs.evolve(demand, turn_back=None) if far else demand


def invents(demand: LayoutDemand, made: Layout) -> Layout:
    if isinstance(made.turn_back, Absent):
        return attrs.evolve(made, turn_back=demand.rope_diameter * 24)
    return made


# --- places ---


def first_too_near(demand: LayoutDemand, made: Layout) -> Layout:
    if not made.clips:
        return made
    first = moved(made.clips[0], -1)
    return attrs.evolve(made, clips=(first, *made.clips[1:]), end_distance=first.near_edge)


def half_a_base(demand: LayoutDemand, made: Layout) -> Layout:
    if not made.clips:
        return made
    first = moved(made.clips[0], -(made.clips[0].near_edge.nanometres // 2))
    return attrs.evolve(made, clips=(first, *made.clips[1:]), end_distance=first.near_edge)


def last_off_the_base(demand: LayoutDemand, made: Layout) -> Layout:
    return longer(made, 1) if made.clips and not demand.splice else made


def last_well_off_the_base(demand: LayoutDemand, made: Layout) -> Layout:
    if not made.clips or demand.splice or demand.base_width is None:
        return made
    return longer(made, demand.base_width.nanometres)


def last_beyond_the_base(demand: LayoutDemand, made: Layout) -> Layout:
    return longer(made, -1) if made.clips and not demand.splice else made


def dead_end_misread(demand: LayoutDemand, made: Layout) -> Layout:
    if not made.clips or isinstance(made.end_distance, Absent):
        return made
    return attrs.evolve(made, end_distance=made.end_distance + Length(1))


def uneven(demand: LayoutDemand, made: Layout) -> Layout:
    """It moves the second clip by two nanometres where no bound forbids it."""
    if len(made.clips) < 3 or demand.splice:
        return made
    one, two, *others = made.clips
    gap = (two.near_edge - one.near_edge).nanometres
    if gap - 2 < (demand.least.nanometres if demand.least is not None else 0):
        return made
    return attrs.evolve(made, clips=(one, moved(two, -2), *others))


def halved(demand: LayoutDemand, made: Layout) -> Layout:
    """It puts the second clip halfway between the first and where it belongs."""
    if len(made.clips) < 3:
        return made
    one, two, *others = made.clips
    gap = (two.near_edge - one.near_edge).nanometres
    return attrs.evolve(made, clips=(one, moved(two, -(gap // 2)), *others))


def crowded(demand: LayoutDemand) -> LayoutDemand:
    return attrs.evolve(demand, least=None, turn_back=demand.turn_back or demand.rope_diameter * 12)


def nothing_under_a_millimetre(demand: LayoutDemand) -> LayoutDemand:
    tiny = demand.least is not None and demand.least < Length(1_000_000)
    return attrs.evolve(demand, least=None) if tiny else demand


def off_centre(demand: LayoutDemand, made: Layout) -> Layout:
    if demand.base_width is None:
        return made
    third = demand.base_width.times(Fraction(1, 3), "down")
    return attrs.evolve(made, clips=tuple(attrs.evolve(clip, position=clip.near_edge + third) for clip in made.clips))


def from_the_eye(demand: LayoutDemand, made: Layout) -> Layout:
    count = len(made.clips) + 1
    return attrs.evolve(made, clips=tuple(attrs.evolve(clip, number=count - clip.number) for clip in made.clips))


def one_less(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, clips=made.clips[:-1])


def one_twice(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, clips=(*made.clips[:1], *made.clips))


def wide(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(
        made, clips=tuple(attrs.evolve(clip, far_edge=clip.far_edge + Length(1)) for clip in made.clips)
    )


def guessed(demand: LayoutDemand) -> LayoutDemand:
    return attrs.evolve(demand, base_width=demand.base_width or demand.rope_diameter * 2)


def spacing_misread(demand: LayoutDemand, made: Layout) -> Layout:
    if isinstance(made.spacing, Absent):
        return made
    return attrs.evolve(made, spacing=made.spacing + Length(2))


def coarse_on_tape(demand: LayoutDemand, made: Layout) -> Layout:
    """On a tape, where lengths are small numbers, the last clip stands three graduations early where it may."""
    if not made.clips or demand.base_width is None or demand.base_width > Length(1000) or demand.splice:
        return made
    last = made.clips[-1]
    before = made.clips[-2].near_edge.nanometres if len(made.clips) > 1 else 0
    least = demand.least.nanometres if demand.least is not None else 0
    if last.near_edge.nanometres - 3 - before < max(least, 1):
        return made
    return attrs.evolve(made, clips=(*made.clips[:-1], moved(last, -3)))


def generous_on_tape(demand: LayoutDemand) -> LayoutDemand:
    """On a tape, where lengths are small numbers, it takes forty graduations for each clip more than it is asked."""
    if demand.base_width is None or demand.base_width > Length(1000) or demand.turn_back is None:
        return demand
    return attrs.evolve(demand, turn_back=demand.turn_back + Length(40 * demand.count))


def splice_longer_at_eight(demand: LayoutDemand, made: Layout) -> Layout:
    wanted = demand.splice and demand.count in (5, 8) and not made.clips
    return longer(made, 40 * demand.rope_diameter.nanometres) if wanted else made


# --- sides ---


def sided(made: Layout, *sides: tuple[int, SaddleOn]) -> Layout:
    clips = list(made.clips)
    for at, side in sides:
        clips[at] = attrs.evolve(clips[at], saddle_on=side)
    return attrs.evolve(made, clips=tuple(clips))


def all_dead(demand: LayoutDemand, made: Layout) -> Layout:
    return made if demand.splice else sided(made, *((at, DEAD) for at in range(len(made.clips))))


def last_turned(demand: LayoutDemand, made: Layout) -> Layout:
    return made if demand.splice or len(made.clips) < 4 else sided(made, (-1, "both parts"))


def alternating(demand: LayoutDemand, made: Layout) -> Layout:
    return made if demand.splice else sided(made, *((at, DEAD) for at in range(1, len(made.clips), 2)))


def _turned(clip: PlacedClip) -> PlacedClip:
    turned: dict[SaddleOn, SaddleOn] = {"rope A": "rope B", "rope B": "rope A"}
    return attrs.evolve(clip, saddle_on=turned.get(clip.saddle_on, clip.saddle_on))


def splice_turned(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, clips=tuple(map(_turned, made.clips))) if demand.splice else made


def splice_one_way(demand: LayoutDemand, made: Layout) -> Layout:
    if not demand.splice:
        return made
    return sided(made, *((at, "rope B") for at in range(len(made.clips))))


def unsided() -> Subject:
    style = like(Twisted, U_BOLT, wrong_way_round=False, twist=as_if_sided)
    return under(rules_of(TABLE), style)


def as_if_sided(demand: LayoutDemand, made: Layout) -> Layout:
    return made if demand.splice else sided(made, *((at, "live part") for at in range(len(made.clips))))


# --- splices ---


def lopsided(demand: LayoutDemand, made: Layout) -> Layout:
    return longer(made, 1) if demand.splice else made


def splice_moved(demand: LayoutDemand, made: Layout) -> Layout:
    if not demand.splice or not made.clips:
        return made
    return attrs.evolve(made, clips=(moved(made.clips[0], 3), *made.clips[1:]))


def splice_as_an_eye(demand: LayoutDemand) -> LayoutDemand:
    return attrs.evolve(demand, splice=False, count=2 * demand.count) if demand.splice else demand


def splice_of_one_eye(demand: LayoutDemand, made: Layout) -> Layout:
    if not demand.splice or made.clips or isinstance(made.turn_back, Absent):
        return made
    return attrs.evolve(made, turn_back=Length(made.turn_back.nanometres // 2))


# --- plates ---


def plate_at_the_end(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, clips=tuple(attrs.evolve(clip, saddle_on="both parts") for clip in made.clips))


def plate_moved(demand: LayoutDemand, made: Layout) -> Layout:
    return attrs.evolve(made, clips=tuple(moved(clip, -1_000_000) for clip in made.clips))


ROPE: Final = "turn-back shortened or invented"
ROUNDED: Final = "lengths rounded on the way"
ENDS: Final = "ends of the row misplaced"
UNEVEN: Final = "spacing unequal or too small"
PLACES: Final = "places and numbers of clips wrong"
SIDES: Final = "wrong way round"
SPLICE: Final = "lap splice not mirrored"
PLATES: Final = "plates misplaced"

LAYOUT_FAULTS: Final = (
    Fault("a-nanometre-short", ROPE, "The turn-back is one nanometre short where no clip was measured.",
          twisted(a_nanometre_short)),
    Fault("an-inch-short", ROPE, "The turn-back is an inch short where no clip was measured.",
          twisted(an_inch_short, SADDLE)),
    Fault("a-nanometre-long", ROPE, "The turn-back is one nanometre longer than the printed one.",
          twisted(a_nanometre_long)),
    Fault("short-for-ten-clips", ROPE, "From ten clips on the turn-back is a nanometre short.", twisted(short_for_ten)),
    Fault("thrifty", ROPE, "From seven clips on it takes two thirds of the rope.", asked(thrifty)),
    Fault("splice-longer-at-seven", ROPE, "A splice of seven clips a half takes more rope than one of eight.",
          twisted(splice_longer_at_seven, SADDLE)),
    Fault("splice-longer-at-eight", ROPE, "A splice of five or eight clips a half takes more rope than one of more.",
          twisted(splice_longer_at_eight, SADDLE)),
    Fault("forgets-the-printed", ROPE, "Where a source asks for more distance it forgets the printed turn-back.",
          asked(forgets_the_printed)),
    Fault("invents-a-turn-back", ROPE, "A turn-back is invented where no source prints one.", twisted(invents, OSHA)),
    Fault("down-to-a-millimetre", ROUNDED, "The turn-back is rounded down to a millimetre.", asked(to_a_millimetre)),
    Fault("to-the-nearest-inch", ROUNDED, "The turn-back is rounded to the nearest inch.",
          twisted(to_the_nearest_inch)),
    Fault("nothing-under-a-millimetre", ROUNDED, "A least distance under a million is taken for none.",
          asked(nothing_under_a_millimetre, NAVY)),
    Fault("coarse-on-tape", ROUNDED, "On a tape the last clip stands three graduations early.",
          twisted(coarse_on_tape)),
    Fault("generous-on-tape", ROUNDED, "On a tape each clip takes forty graduations more.", asked(generous_on_tape)),
    Fault("spacing-misread", ROUNDED, "The spacing is told two nanometres too large.", twisted(spacing_misread)),
    Fault("first-too-near", ENDS, "The first clip is a nanometre too near to the dead end.", twisted(first_too_near)),
    Fault("first-half-a-base", ENDS, "The first clip is half a base width from the dead end.", twisted(half_a_base)),
    Fault("last-off-the-base", ENDS, "The last clip is a nanometre off the base of the eye.",
          twisted(last_off_the_base)),
    Fault("last-well-off-the-base", ENDS, "The last clip is a base width off the base of the eye.",
          twisted(last_well_off_the_base, SADDLE)),
    Fault("last-beyond-the-base", ENDS, "The last clip reaches a nanometre beyond the base of the eye.",
          twisted(last_beyond_the_base)),
    Fault("dead-end-misread", ENDS, "The dead end is told a nanometre too long.", twisted(dead_end_misread)),
    Fault("second-moved", UNEVEN, "The second clip stands two nanometres off its even place.", twisted(uneven)),
    Fault("second-halved", UNEVEN, "The second clip stands halfway to the first.", twisted(halved)),
    Fault("least-forgotten", UNEVEN, "The least distance is forgotten.", asked(crowded, NAVY)),
    Fault("least-forgotten-table", UNEVEN, "The least distance is forgotten beside a printed turn-back.",
          asked(crowded)),
    Fault("second-halved-saddle", UNEVEN, "The second of two-saddle clips stands halfway to the first.",
          twisted(halved, SADDLE)),
    Fault("off-centre", PLACES, "A third of the saddle is given for its middle.", twisted(off_centre)),
    Fault("numbered-from-the-eye", PLACES, "The clips are numbered from the eye.", twisted(from_the_eye)),
    Fault("last-left-out", PLACES, "The last clip has no place.", twisted(one_less)),
    Fault("first-placed-twice", PLACES, "The first clip is placed twice.", twisted(one_twice)),
    Fault("a-nanometre-wide", PLACES, "Each clip is a nanometre wider than it was measured.", twisted(wide)),
    Fault("base-width-guessed", PLACES, "Two diameters are taken for a base width that nobody measured.",
          asked(guessed)),
    Fault("all-on-the-dead-part", SIDES, "All saddles bear on the dead part.", twisted(all_dead)),
    Fault("last-turned", SIDES, "From four clips on the last has its saddle on both parts.", twisted(last_turned)),
    Fault("alternating", SIDES, "Every second clip is turned round.", twisted(alternating)),
    Fault("unsided", SIDES, "A style has a wrong way round and says that it has none.", unsided),
    Fault("splice-turned", SIDES, "The saddles of a splice bear on the rope whose dead end is nearer.",
          twisted(splice_turned)),
    Fault("splice-one-way", SIDES, "All saddles of a splice bear on one rope.", twisted(splice_one_way)),
    Fault("splice-lopsided", SPLICE, "A splice has a nanometre more on one side.", twisted(lopsided)),
    Fault("splice-moved", SPLICE, "One clip of a splice stands three nanometres off.", twisted(splice_moved, SADDLE)),
    Fault("splice-as-an-eye", SPLICE, "A splice is laid out as one long eye.", asked(splice_as_an_eye)),
    Fault("splice-of-one-eye", SPLICE, "A splice has the overlap of one eye.", twisted(splice_of_one_eye)),
    Fault("plate-with-saddles", PLATES, "A plate is said to bear with saddles on both parts.",
          twisted(plate_at_the_end, PLATE)),
    Fault("plate-moved", PLATES, "A plate stands a millimetre off its place.", twisted(plate_moved, PLATE)),
    Fault("plate-without-a-dead-end", PLATES, "No dead end stands out beyond the plate.",
          twisted(lambda demand, made: made, PLATE, dead_end_diameters=0)),
)  # fmt: skip
