"""Faults so fine that one law alone notices them: each keeps every other law, or was made to."""

from __future__ import annotations

from typing import Final

import attrs
from tests.conformance.faults.making import SADDLE, Fault, asked, moved, twisted

from turnback.model.layout import Layout, LayoutDemand
from turnback.quantities import Length

__all__ = ["FINER_FAULTS"]


def _on_tape(demand: LayoutDemand, made: Layout) -> bool:
    """Whether lengths are graduations of a tape: a base width of so few of anything is no nanometres."""
    return demand.base_width is not None and demand.base_width < Length(1000) and bool(made.clips)


def first_late_on_tape(demand: LayoutDemand, made: Layout) -> Layout:
    """On a tape the first clip stands a graduation farther from the dead end where there is room for it."""
    if not _on_tape(demand, made) or len(made.clips) < 2 or demand.splice:
        return made
    one, two, *others = made.clips
    gap, least = two.near_edge - one.near_edge, demand.least or Length(0)
    if gap.nanometres - 1 < least.nanometres:
        return made
    first = moved(one, 1)
    return attrs.evolve(made, clips=(first, two, *others), end_distance=first.near_edge)


def wide_on_tape(demand: LayoutDemand, made: Layout) -> Layout:
    """On a tape the last clip is taken for up to twice as wide as it is, as far as the one before leaves room."""
    if not _on_tape(demand, made) or len(made.clips) < 2 or demand.splice or demand.base_width is None:
        return made
    before, last = made.clips[-2:]
    room = (last.near_edge - before.near_edge).nanometres - (demand.least or Length(0)).nanometres
    wider = attrs.evolve(last, near_edge=last.near_edge - Length(max(min(room, demand.base_width.nanometres), 0)))
    return attrs.evolve(made, clips=(*made.clips[:-1], wider))


def longer_with_fewer(demand: LayoutDemand) -> LayoutDemand:
    """A splice takes so much more rope for each clip that it has not that one clip more shortens it."""
    if not demand.splice or demand.turn_back is None or demand.rope_diameter < Length(1_000_000):
        return demand
    more = demand.rope_diameter * (20 * max(20 - demand.count, 0))
    return attrs.evolve(demand, turn_back=demand.turn_back + more)


FINER_FAULTS: Final = (
    Fault("first-late-on-tape", "ends of the row misplaced",
          "On a tape the first clip stands a graduation farther from the dead end.", twisted(first_late_on_tape)),
    Fault("last-wide-on-tape", "ends of the row misplaced",
          "On a tape the last clip is taken for up to twice as wide as it is.", twisted(wide_on_tape)),
    Fault("splice-longer-with-fewer", "turn-back shortened or invented",
          "A splice takes the more rope the fewer its clips are.", asked(longer_with_fewer, SADDLE)),
)  # fmt: skip
