"""Plate clips: one body of one or two stamped plates makes the whole connection."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import BodyStyle
from turnback_plate.procedure import PLATE_PROCEDURE

if TYPE_CHECKING:
    from turnback.model.figures import ClipPlace
    from turnback.model.shapes import Shape

__all__ = ["DOUBLE_PLATE", "SINGLE_PLATE"]

_BODY: Final = Citation(
    COMMON_PRACTICE, "plate clips: one body, sized to the finished diameter of the cable", "common practice"
)
_DEAD_END: Final = Citation(
    COMMON_PRACTICE, "plate clips: at least two cable diameters of dead end beyond the body", "common practice"
)


def _draw_single_plate(place: ClipPlace) -> tuple[Shape, ...]:
    # Drawings are loaded when somebody asks for one.
    from turnback_plate.drawing import draw_single_plate

    return draw_single_plate(place)


SINGLE_PLATE: Final = BodyStyle(
    id="single-plate",
    title="single-plate clip",
    wrong_way_round=False,
    terminations=("plate eye",),
    procedure=PLATE_PROCEDURE,
    citation=_BODY,
    dead_end_diameters=2,
    dead_end_citation=_DEAD_END,
    drawing=_draw_single_plate,
)

DOUBLE_PLATE: Final = BodyStyle(
    id="double-plate",
    title="double-plate clip",
    wrong_way_round=False,
    terminations=("plate eye",),
    procedure=PLATE_PROCEDURE,
    citation=_BODY,
    dead_end_diameters=2,
    dead_end_citation=_DEAD_END,
)
