"""U-bolt clips: the style, and what six published sources say of it."""

from __future__ import annotations

from turnback_ubolt.styles import U_BOLT

__all__ = ["U_BOLT"]
