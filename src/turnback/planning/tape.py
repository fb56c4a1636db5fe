"""The same layout on the graduations of a tape: rounded to the safe side, from one datum."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.model.absent import Absent
from turnback.model.layout import Layout, LayoutDemand, PlacedClip
from turnback.model.styles import ClipStyle
from turnback.planning.asking import laid_out
from turnback.quantities import MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, THIRTY_SECOND, Length
from turnback.rules.loading import Origin

__all__ = ["TapeLayout", "tape_layout", "tape_steps"]

_INCH_STEPS: Final = (SIXTEENTH, THIRTY_SECOND, SIXTY_FOURTH)
_METRIC_STEPS: Final = (MILLIMETRE, Length(500_000), Length(100_000))


@attrs.frozen
class TapeLayout:
    """A layout to be marked with a tape.

    Args:
        step: Graduation of the tape [length].
        layout: The layout, every position a whole number of graduations from the dead end.
    """

    step: Length
    layout: Layout


def tape_steps(nominal: Length) -> tuple[Length, ...]:
    """Return the graduations to try, coarse first.

    Args:
        nominal: Nominal rope diameter: a multiple of 1/64 in is an inch size, anything else a metric one [length].

    Returns:
        Sixteenths and finer, or millimetres and finer.
    """
    return _INCH_STEPS if nominal.nanometres % SIXTY_FOURTH.nanometres == 0 else _METRIC_STEPS


def tape_layout(
    style: ClipStyle, demand: LayoutDemand, exact: Layout, nominal: Length, origin: Origin | None = None
) -> TapeLayout | Absent:
    """Lay a plan out again on the graduations of a tape.

    The turn-back, the base width and a least spacing are rounded up first; rounding never stretches the spacing past a
    greatest bound.

    Args:
        style: The clip style.
        demand: What the exact layout was made from.
        exact: The exact layout.
        nominal: Nominal rope diameter [length].
        origin: Where the style comes from; None where nobody knows.

    Returns:
        The layout on the coarsest graduation that keeps every bound, or why there is none.

    Raises:
        PluginError: The style breaks, or answers what is no layout.
    """
    if isinstance(exact.turn_back, Absent):
        return Absent("tape", exact.turn_back.reason)
    halves = 2 if demand.splice else 1
    for step in tape_steps(nominal):
        # The style lays out whole numbers; handing it graduations in place of nanometres rounds nothing twice.
        whole = _up(exact.turn_back, step) if halves == 1 else _up(Length(-(-exact.turn_back.nanometres // 2)), step)
        scaled = LayoutDemand(
            count=demand.count,
            rope_diameter=_up(demand.rope_diameter, step),
            base_width=None if demand.base_width is None else _up(demand.base_width, step),
            turn_back=whole,
            least=None if demand.least is None else _up(demand.least, step),
            greatest=None if demand.greatest is None else Length(demand.greatest.nanometres // step.nanometres),
            depends_on_base_width=demand.depends_on_base_width,
            splice=demand.splice,
        )
        found = laid_out(style, scaled, origin)
        spacing, greatest = found.spacing, scaled.greatest
        if greatest is None or isinstance(spacing, Absent) or spacing <= greatest:
            return TapeLayout(step, _back(found, step.nanometres))
    return Absent("tape", "no graduation of the tape keeps the greatest spacing; mark the exact positions")


def _up(length: Length, step: Length) -> Length:
    return Length(-(-length.nanometres // step.nanometres))


def _back(found: Layout, step: int) -> Layout:
    return Layout(
        turn_back=_scaled(found.turn_back, step),
        spacing=_scaled(found.spacing, step),
        end_distance=_scaled(found.end_distance, step),
        clips=tuple(
            PlacedClip(clip.number, clip.position * step, clip.near_edge * step, clip.far_edge * step, clip.saddle_on)
            for clip in found.clips
        ),
        lengthened=found.lengthened,
    )


def _scaled(length: Length | Absent, step: int) -> Length | Absent:
    return length if isinstance(length, Absent) else length * step
