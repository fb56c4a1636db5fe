"""A drawing with its page, and the place that a clip style is given to draw its hardware in.

The shapes stand in :mod:`turnback.model.shapes`. A clip style returns some for one clip; see
:meth:`turnback.model.styles.ClipStyle.draw_clip`.
"""

from __future__ import annotations

from typing import Literal

import attrs

from turnback.errors import InputError
from turnback.model.shapes import Shape, check_drawn

__all__ = ["ClipPlace", "Figure"]


@attrs.frozen
class ClipPlace:
    """Where a style is to draw one clip, in drawing units.

    Args:
        view: ``side``: the rope runs from left to right. ``along``: seen along the rope.
        x: Centre of the clip, from the left; in the view along the rope, the middle of both parts [drawing units].
        width: The clip's base width to scale, along the rope [drawing units].
        saddle: Height of the centre line of the part that the saddle bears on, from the top [drawing units].
        other: Height of the centre line of the other part, from the top [drawing units].
        diameter: Diameter of the rope under the clip [drawing units].

    Raises:
        InputError: A number is not finite, or a width is not above zero.
    """

    view: Literal["side", "along"]
    x: float
    width: float
    saddle: float
    other: float
    diameter: float

    def __attrs_post_init__(self) -> None:
        check_drawn("place", (self.x, self.width, self.saddle, self.other, self.diameter))
        if self.width <= 0 or self.diameter <= 0:
            raise InputError("a clip has a width and its rope a diameter", field="place", value=repr(self))

    @property
    def out(self) -> float:
        """Direction from the other part to the saddle: 1 down the page, -1 up the page [-]."""
        return 1.0 if self.saddle >= self.other else -1.0


@attrs.frozen
class Figure:
    """A drawing with its page.

    Args:
        width: Width of the page [drawing units].
        height: Height of the page [drawing units].
        title: What it shows, in a few words.
        desc: What it shows, in sentences, for those who cannot see it.
        shapes: The shapes, the later ones on top.
        units_per_millimetre: Scale of what is drawn to scale [drawing units/mm]; None where nothing is.

    Raises:
        InputError: A number is not finite, or the page has no size.
    """

    width: float
    height: float
    title: str
    desc: str
    shapes: tuple[Shape, ...]
    units_per_millimetre: float | None = None

    def __attrs_post_init__(self) -> None:
        check_drawn("figure", (self.width, self.height, self.units_per_millimetre or 0.0))
        if self.width <= 0 or self.height <= 0:
            raise InputError("a page has a size", field="figure", value=f"{self.width} x {self.height}")

    def to_svg(self) -> str:
        """Write the figure as SVG that needs nothing else: no font, file or script.

        Returns:
            One ``<svg>`` element, the same bytes for the same figure.
        """
        from turnback.model.svg import svg_of

        return svg_of(self)
