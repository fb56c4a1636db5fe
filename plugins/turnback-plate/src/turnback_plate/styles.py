"""Plate clips: one body of one or two stamped plates makes the whole connection."""

from __future__ import annotations

from typing import Final

from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import BodyStyle
from turnback_plate.procedure import PLATE_PROCEDURE

__all__ = ["DOUBLE_PLATE", "SINGLE_PLATE"]

_BODY: Final = Citation(
    COMMON_PRACTICE, "plate clips: one body, sized to the finished diameter of the cable", "common practice"
)
_DEAD_END: Final = Citation(
    COMMON_PRACTICE, "plate clips: at least two cable diameters of dead end beyond the body", "common practice"
)

SINGLE_PLATE: Final = BodyStyle(
    id="single-plate",
    title="single-plate clip",
    wrong_way_round=False,
    terminations=("plate eye",),
    procedure=PLATE_PROCEDURE,
    citation=_BODY,
    dead_end_diameters=2,
    dead_end_citation=_DEAD_END,
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
