"""The mirrored-saddle clip: two equal saddles and two bolts."""

from __future__ import annotations

from typing import Final

from turnback.model.series_procedure import SERIES_PROCEDURE
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import SeriesStyle

__all__ = ["MIRRORED_SADDLE"]

MIRRORED_SADDLE: Final = SeriesStyle(
    id="mirrored-saddle",
    title="mirrored-saddle clip",
    wrong_way_round=False,
    terminations=("thimble eye", "soft eye", "pulley eye", "linked eyes", "lap splice"),
    procedure=SERIES_PROCEDURE,
    citation=Citation(COMMON_PRACTICE, "mirrored-saddle clips have no wrong way round", "common practice"),
)
