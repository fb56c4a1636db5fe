"""What a style is asked to lay out, and what it answers.

Positions are measured from the dead end along the dead part, the datum of every mark on the rope.
"""

from __future__ import annotations

from typing import Literal

import attrs

from turnback.model.absent import Absent
from turnback.quantities import Length

__all__ = ["Layout", "LayoutDemand", "PlacedClip", "SaddleOn"]

SaddleOn = Literal["live part", "both parts", "rope A", "rope B", "plates"]
"""Which rope a clip's saddle bears on. In a lap splice rope A is the one whose dead end is the datum."""


@attrs.frozen
class LayoutDemand:
    """What the rules ask of the hardware.

    Args:
        count: Clips on one eye, or on each half of a lap splice [-].
        rope_diameter: Diameter under the clip, coating included where it stays on; for one body always the finished
            diameter [length].
        base_width: Length of one saddle or body along the rope [length]; None when it was not measured.
        turn_back: Longest printed turn-back, in proportion to the count [length]; None when no source prints one.
        least: Greatest of the least centre distances that the sources ask for [length].
        greatest: Smallest of the greatest centre distances [length].
        depends_on_base_width: Whether a bound of a source is given in base widths that were not measured, or can
            only be compared with a printed turn-back when the base width is known.
        splice: Whether it is a lap splice.
    """

    count: int
    rope_diameter: Length
    base_width: Length | None
    turn_back: Length | None
    least: Length | None
    greatest: Length | None
    depends_on_base_width: bool
    splice: bool


@attrs.frozen
class PlacedClip:
    """One clip at its place.

    Args:
        number: From 1 at the dead end [-].
        position: Centre of the clip from the dead end [length].
        near_edge: Edge nearer the dead end [length].
        far_edge: Edge nearer the eye [length].
        saddle_on: What the saddle bears on.
    """

    number: int
    position: Length
    near_edge: Length
    far_edge: Length
    saddle_on: SaddleOn


@attrs.frozen
class Layout:
    """Where everything comes to lie.

    Args:
        turn_back: From the base of the eye to the dead end; in a lap splice the overlap [length].
        spacing: Distance between centres [length].
        end_distance: From the dead end to the first clip's near edge [length].
        clips: From the dead end to the eye; empty when the base width is not known.
        lengthened: Whether a least spacing made the turn-back longer than any source prints.
    """

    turn_back: Length | Absent
    spacing: Length | Absent
    end_distance: Length | Absent
    clips: tuple[PlacedClip, ...]
    lengthened: bool
