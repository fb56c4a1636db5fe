"""Mirrored-saddle clips: the style, and what two published sources say of it."""

from __future__ import annotations

from turnback_mirrored_saddle.styles import MIRRORED_SADDLE

__all__ = ["MIRRORED_SADDLE"]
