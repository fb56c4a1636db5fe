"""Clip styles: what is true of the hardware, whatever a source says of its numbers.

:class:`SeriesStyle` (clips in a row along the rope) and :class:`BodyStyle` (one body holds both parts) are the two in
the core; a plugin may write a third by subclassing :class:`ClipStyle`.
"""

from __future__ import annotations

import abc
from collections.abc import Callable
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING, Final, TypeAlias

import attrs

from turnback.errors import InputError
from turnback.mechanics import (
    overlap_for_spacing,
    spacing_in_overlap,
    spacing_in_turn_back,
    turn_back_for_spacing,
)
from turnback.model.absent import Absent
from turnback.model.layout import Layout, LayoutDemand, PlacedClip, SaddleOn
from turnback.model.sources import Citation
from turnback.model.steps import StepTemplate
from turnback.model.terminations import TerminationKind
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.model.figures import ClipPlace
    from turnback.model.shapes import Shape

__all__ = ["BodyStyle", "ClipDrawing", "ClipStyle", "SeriesStyle"]

ClipDrawing: TypeAlias = "Callable[[ClipPlace], tuple[Shape, ...]]"
"""How a clip is drawn at a place: a function of a module, so that a style can be compared and pickled."""

_MEASURE: Final = "it depends on the clip's base width, which was not given; measure the saddle along the rope"
_ONE: Final = "one clip has no spacing"


@attrs.frozen
class ClipStyle(abc.ABC):
    """What every style of clip says of itself.

    Args:
        id: Stable name, lower case with hyphens, such as ``u-bolt``.
        title: Its name in a sentence.
        wrong_way_round: Whether the clip can be put on the wrong way round.
        terminations: The kinds of eye and splice that it can make.
        procedure: The steps of its work, in order.
        citation: Who says so.
        drawing: How one clip is drawn; None for the core's own schematic drawing of the style.

    Raises:
        InputError: The id is empty, or the style makes no termination.
    """

    id: str
    title: str
    wrong_way_round: bool
    terminations: tuple[TerminationKind, ...]
    procedure: tuple[StepTemplate, ...]
    citation: Citation
    drawing: ClipDrawing | None = attrs.field(default=None, kw_only=True, repr=False)

    def __attrs_post_init__(self) -> None:
        if not self.id or not self.terminations:
            raise InputError("a style needs an id and at least one termination", field="style", value=repr(self.id))

    @property
    @abc.abstractmethod
    def in_series(self) -> bool:
        """Whether several clips stand in a row along the rope."""

    @abc.abstractmethod
    def lay_out(self, demand: LayoutDemand) -> Layout:
        """Place the clips on the rope.

        Args:
            demand: What the rules ask for.

        Returns:
            Positions from the dead end, or what is absent and why.
        """

    def draw_clip(self, place: ClipPlace) -> tuple[Shape, ...]:
        """Draw one clip.

        Args:
            place: Where, and from which side it is seen.

        Returns:
            What the style's own drawing gives; without one, what the core draws for such a style.
        """
        return self._draw(place) if self.drawing is None else self.drawing(place)

    def _draw(self, place: ClipPlace) -> tuple[Shape, ...]:
        from turnback.model.hardware import draw_block

        return draw_block(place)


@attrs.frozen
class SeriesStyle(ClipStyle):
    """Clips in a row: the first one base width from the dead end, the last at the base of the eye, the rest evenly."""

    @property
    def in_series(self) -> bool:
        """Always true."""
        return True

    def lay_out(self, demand: LayoutDemand) -> Layout:
        """Place the clips evenly between one base width from the dead end and the base of the eye.

        Args:
            demand: What the rules ask for.

        Returns:
            The layout. A lap splice is its own mirror image, to the nanometre.
        """
        if demand.base_width is None:
            return self._unmeasured(demand)
        if demand.splice:
            return self._splice(demand, demand.base_width.nanometres)
        return self._eye(demand, demand.base_width.nanometres)

    def _draw(self, place: ClipPlace) -> tuple[Shape, ...]:
        from turnback.model.hardware import draw_twin_saddles, draw_u_bolt

        return draw_u_bolt(place) if self.wrong_way_round else draw_twin_saddles(place)

    def _unmeasured(self, demand: LayoutDemand) -> Layout:
        turn_back: Length | Absent
        if demand.turn_back is None or demand.depends_on_base_width:
            turn_back = Absent("turn_back", _MEASURE)
        else:
            turn_back = demand.turn_back * 2 if demand.splice else demand.turn_back
        spacing = Absent("spacing", _MEASURE if demand.count > 1 or demand.splice else _ONE)
        return Layout(turn_back, spacing, Absent("end_distance", _MEASURE), (), lengthened=False)

    def _eye(self, demand: LayoutDemand, base: int) -> Layout:
        count = demand.count
        least = demand.least.nanometres if demand.least is not None and count > 1 else 0
        printed = demand.turn_back.nanometres if demand.turn_back is not None else 0
        needed = turn_back_for_spacing(base, count, least)
        whole = max(printed, needed)
        saddle: SaddleOn = "live part" if self.wrong_way_round else "both parts"
        # Whole nanometres by floor division keep every gap between the two whole numbers next to the exact spacing.
        nears = [base + (whole - 2 * base) * i // (count - 1) for i in range(count)] if count > 1 else [whole - base]
        spacing: Length | Absent = (
            Length(ceil(spacing_in_turn_back(Fraction(whole), base, count))) if count > 1 else Absent("spacing", _ONE)
        )
        clips = tuple(_placed(i + 1, near, base, saddle) for i, near in enumerate(nears))
        return Layout(Length(whole), spacing, Length(nears[0]), clips, lengthened=0 < printed < whole)

    def _splice(self, demand: LayoutDemand, base: int) -> Layout:
        half = demand.count
        least = demand.least.nanometres if demand.least is not None else 0
        printed = 2 * demand.turn_back.nanometres if demand.turn_back is not None else 0
        overlap = max(printed, overlap_for_spacing(base, 2 * half, least))
        spacing = spacing_in_overlap(Fraction(overlap), base, 2 * half)
        # Distances from the middle are rounded within the class (whole or half nanometres) that keeps both halves
        # whole and mirror-equal; the gaps are then the whole numbers next to the exact spacing.
        middle = Fraction(overlap - base, 2)
        offset = middle - floor(middle)
        steps = [floor((j + Fraction(1, 2)) * spacing - offset + Fraction(1, 2)) + offset for j in range(half)]
        near_a: SaddleOn = "rope B" if self.wrong_way_round else "both parts"
        near_b: SaddleOn = "rope A" if self.wrong_way_round else "both parts"
        nears = [(int(middle - step), near_a) for step in reversed(steps)]
        nears += [(int(middle + step), near_b) for step in steps]
        clips = tuple(_placed(i + 1, near, base, saddle) for i, (near, saddle) in enumerate(nears))
        end = Length(nears[0][0])
        return Layout(Length(overlap), Length(ceil(spacing)), end, clips, lengthened=0 < printed < overlap)


@attrs.frozen
class BodyStyle(ClipStyle):
    """One body of one or two plates holds both parts; a stated length of dead end stands out beyond it.

    Args:
        dead_end_diameters: Dead end beyond the body, in finished rope diameters [-].
        dead_end_citation: Who says so.
    """

    dead_end_diameters: int
    dead_end_citation: Citation

    @property
    def in_series(self) -> bool:
        """Always false."""
        return False

    def lay_out(self, demand: LayoutDemand) -> Layout:
        """Place the body at the base of the eye and leave the dead end beyond it.

        Args:
            demand: What the rules ask for; ``base_width`` is the length of the body along the rope.

        Returns:
            The layout, with one clip.
        """
        end = demand.rope_diameter * self.dead_end_diameters
        one = Absent("spacing", "one body makes the connection")
        if demand.base_width is None:
            return Layout(Absent("turn_back", _MEASURE), one, end, (), lengthened=False)
        whole = max(end + demand.base_width, demand.turn_back or end)
        near = whole - demand.base_width
        clip = _placed(1, near.nanometres, demand.base_width.nanometres, "plates")
        return Layout(whole, one, near, (clip,), lengthened=False)

    def _draw(self, place: ClipPlace) -> tuple[Shape, ...]:
        from turnback.model.plates import draw_plates

        return draw_plates(place)


def _placed(number: int, near: int, base: int, saddle: SaddleOn) -> PlacedClip:
    return PlacedClip(number, Length(near + base // 2), Length(near), Length(near + base), saddle)
