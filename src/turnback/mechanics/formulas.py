"""The formulas of this room as printed text, for derivations that show what was computed.

The text is plain arithmetic over the symbols listed beside it; ``sqrt``, ``sin``, ``cos``, ``asin``, ``atan``, ``exp``
and ``pi`` mean what they mean in ``math``. A test derives every text from the function that is run.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from turnback.mechanics.eye_formulas import EYE_FORMULAS
from turnback.mechanics.formula import Formula
from turnback.mechanics.layout_formulas import LAYOUT_FORMULAS
from turnback.mechanics.strength_formulas import STRENGTH_FORMULAS

__all__ = ["FORMULAS"]

FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.name: formula for formula in (*EYE_FORMULAS, *LAYOUT_FORMULAS, *STRENGTH_FORMULAS)}
)
