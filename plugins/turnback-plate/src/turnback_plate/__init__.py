"""Plate clips: the two styles and their procedure; no source publishes numbers for them."""

from __future__ import annotations

from turnback_plate.procedure import PLATE_PROCEDURE
from turnback_plate.styles import DOUBLE_PLATE, SINGLE_PLATE

__all__ = ["DOUBLE_PLATE", "PLATE_PROCEDURE", "SINGLE_PLATE"]
