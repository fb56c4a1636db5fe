"""What the trade talks about, as typed values: ropes, clips, eyes and splices, sources, findings, steps."""

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import KINDS, Finding, Kind
from turnback.model.layout import Layout, LayoutDemand, PlacedClip, SaddleOn
from turnback.model.rope import Coating, Rope
from turnback.model.ropedata import (
    ROPE_TABLES,
    RopeCell,
    breaking_force,
    diameter_tolerance,
    mass_per_length,
    rope_cells,
)
from turnback.model.sources import COMMON_PRACTICE, USER, Citation, Source, Status, user_citation, weakest
from turnback.model.steps import STEP_CONDITIONS, STEP_VALUES, Step, StepTemplate, common_step
from turnback.model.styles import BodyStyle, ClipStyle, SeriesStyle
from turnback.model.terminations import (
    TERMINATION_KINDS,
    LapSplice,
    LinkedEyes,
    PlateEye,
    PulleyEye,
    SoftEye,
    Termination,
    TerminationKind,
    ThimbleEye,
)

__all__ = [
    "COMMON_PRACTICE",
    "KINDS",
    "ROPE_TABLES",
    "STEP_CONDITIONS",
    "STEP_VALUES",
    "TERMINATION_KINDS",
    "USER",
    "Absent",
    "BodyStyle",
    "Citation",
    "Cited",
    "ClipStyle",
    "Coating",
    "Finding",
    "Kind",
    "LapSplice",
    "Layout",
    "LayoutDemand",
    "LinkedEyes",
    "PlacedClip",
    "PlateEye",
    "PulleyEye",
    "Rope",
    "RopeCell",
    "SaddleOn",
    "SeriesStyle",
    "SoftEye",
    "Source",
    "Status",
    "Step",
    "StepTemplate",
    "Termination",
    "TerminationKind",
    "ThimbleEye",
    "breaking_force",
    "common_step",
    "diameter_tolerance",
    "mass_per_length",
    "rope_cells",
    "user_citation",
    "weakest",
]
