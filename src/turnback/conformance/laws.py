"""Every law, in the order in which they are checked: those that others build on first."""

from __future__ import annotations

from typing import Final

from turnback.conformance.law import Law
from turnback.conformance.laws_counts import COUNT_LAWS
from turnback.conformance.laws_governing import GOVERNING_LAWS
from turnback.conformance.laws_inspection import INSPECTION_LAWS
from turnback.conformance.laws_layout import LAYOUT_LAWS
from turnback.conformance.laws_procedure import PROCEDURE_LAWS
from turnback.conformance.laws_records import RECORD_LAWS
from turnback.conformance.laws_sources import SOURCE_LAWS
from turnback.conformance.laws_spacing import SPACING_LAWS
from turnback.conformance.laws_strength import STRENGTH_LAWS
from turnback.conformance.laws_surroundings import SURROUNDING_LAWS
from turnback.conformance.laws_tables import TABLE_LAWS

__all__ = ["LAWS", "law_named"]

LAWS: Final[tuple[Law, ...]] = (
    *TABLE_LAWS,
    *COUNT_LAWS,
    *SOURCE_LAWS,
    *SPACING_LAWS,
    *LAYOUT_LAWS,
    *GOVERNING_LAWS,
    *STRENGTH_LAWS,
    *PROCEDURE_LAWS,
    *INSPECTION_LAWS,
    *RECORD_LAWS,
    *SURROUNDING_LAWS,
)


def law_named(law_id: str) -> Law | None:
    """Return a law by its id.

    Args:
        law_id: Its id.

    Returns:
        The law; None where there is none of this name.
    """
    return next((law for law in LAWS if law.id == law_id), None)
