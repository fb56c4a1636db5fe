"""The U-bolt clip: a saddle on the live part and a U-bolt round the dead part."""

from __future__ import annotations

from typing import Final

from turnback.model.series_procedure import SERIES_PROCEDURE
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import SeriesStyle

__all__ = ["U_BOLT"]

U_BOLT: Final = SeriesStyle(
    id="u-bolt",
    title="U-bolt clip",
    wrong_way_round=True,
    terminations=("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice"),
    procedure=SERIES_PROCEDURE,
    citation=Citation(COMMON_PRACTICE, "U-bolt clips: saddle on the live part, U on the dead part", "common practice"),
)
