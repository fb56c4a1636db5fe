"""Wire rope clip terminations: the whole job computed, every number with its source.

The face loads on first use: importing this package loads nothing else.
"""

from __future__ import annotations

__version__ = "0.1.0"

# The name that type checkers take for true; importing it from typing would cost more than all the rest of this module.
TYPE_CHECKING = False

if TYPE_CHECKING:
    from turnback.errors import (
        AbsentError as AbsentError,
    )
    from turnback.errors import (
        Conflict as Conflict,
    )
    from turnback.errors import (
        Forbidden as Forbidden,
    )
    from turnback.errors import (
        InputError as InputError,
    )
    from turnback.errors import (
        OutOfScope as OutOfScope,
    )
    from turnback.errors import (
        OutOfTable as OutOfTable,
    )
    from turnback.errors import (
        PluginError as PluginError,
    )
    from turnback.errors import (
        TurnbackError as TurnbackError,
    )
    from turnback.errors import (
        UnknownRuleSet as UnknownRuleSet,
    )
    from turnback.errors import (
        UnknownStyle as UnknownStyle,
    )
    from turnback.model.absent import Absent as Absent
    from turnback.model.cited import Cited as Cited
    from turnback.model.findings import Finding as Finding
    from turnback.model.layout import PlacedClip as PlacedClip
    from turnback.model.rope import Coating as Coating
    from turnback.model.rope import Rope as Rope
    from turnback.model.sources import Citation as Citation
    from turnback.model.sources import Source as Source
    from turnback.model.steps import Step as Step
    from turnback.model.styles import BodyStyle as BodyStyle
    from turnback.model.styles import ClipStyle as ClipStyle
    from turnback.model.styles import SeriesStyle as SeriesStyle
    from turnback.model.terminations import (
        LapSplice as LapSplice,
    )
    from turnback.model.terminations import (
        LinkedEyes as LinkedEyes,
    )
    from turnback.model.terminations import (
        PlateEye as PlateEye,
    )
    from turnback.model.terminations import (
        PulleyEye as PulleyEye,
    )
    from turnback.model.terminations import (
        SoftEye as SoftEye,
    )
    from turnback.model.terminations import (
        ThimbleEye as ThimbleEye,
    )
    from turnback.output.card import card_html as card_html
    from turnback.output.card import card_markdown as card_markdown
    from turnback.output.card import card_text as card_text
    from turnback.output.interchange import from_json as from_json
    from turnback.output.interchange import to_json as to_json
    from turnback.output.verification import Verification as Verification
    from turnback.output.verification import verify as verify
    from turnback.planning.admitting import Admission as Admission
    from turnback.planning.admitting import admits as admits
    from turnback.planning.build import plan as plan
    from turnback.planning.build import plan_request as plan_request
    from turnback.planning.cutting import CutLength as CutLength
    from turnback.planning.cutting import cut_length as cut_length
    from turnback.planning.plan import Plan as Plan
    from turnback.planning.possible import Candidate as Candidate
    from turnback.planning.possible import possible as possible
    from turnback.planning.request import MakerFigures as MakerFigures
    from turnback.planning.request import Request as Request
    from turnback.quantities import (
        Angle as Angle,
    )
    from turnback.quantities import (
        Force as Force,
    )
    from turnback.quantities import (
        Length as Length,
    )
    from turnback.quantities import (
        Mass as Mass,
    )
    from turnback.quantities import (
        MassPerLength as MassPerLength,
    )
    from turnback.quantities import (
        Torque as Torque,
    )
    from turnback.review.alternatives import Alternative as Alternative
    from turnback.review.alternatives import alternatives as alternatives
    from turnback.review.as_built import AsBuilt as AsBuilt
    from turnback.review.comparison import Comparison as Comparison
    from turnback.review.comparison import compare as compare
    from turnback.review.inspection import Inspection as Inspection
    from turnback.review.inspection import inspect as inspect
    from turnback.review.record import Record as Record
    from turnback.review.register import write_register_csv as write_register_csv
    from turnback.review.register import write_register_parquet as write_register_parquet
    from turnback.review.reuse import ClipVerdict as ClipVerdict
    from turnback.review.reuse import inspect_clip as inspect_clip
    from turnback.review.rope_state import RopeState as RopeState
    from turnback.review.tolerances import Tolerances as Tolerances
    from turnback.review.torque_pass import TorquePass as TorquePass
    from turnback.review.upkeep import Interval as Interval
    from turnback.rules.admission import Breach as Breach
    from turnback.rules.admission import Joint as Joint
    from turnback.rules.admission import breaches as breaches
    from turnback.rules.catalogue import Catalogue as Catalogue
    from turnback.rules.rulefile import parse_rules as parse_rules
    from turnback.rules.rulefile import read_rules as read_rules
    from turnback.rules.ruleset import RuleSet as RuleSet
    from turnback.rules.selection import (
        FirstOf as FirstOf,
    )
    from turnback.rules.selection import (
        Governing as Governing,
    )
    from turnback.rules.selection import (
        first_of as first_of,
    )
    from turnback.rules.selection import (
        governing as governing,
    )

# The same list once more for the interpreter: a test holds the two, and the documentation, to each other.
_PLACES = {
    "turnback.errors": (
        "AbsentError", "Conflict", "Forbidden", "InputError", "OutOfScope", "OutOfTable", "PluginError",
        "TurnbackError", "UnknownRuleSet", "UnknownStyle",
    ),
    "turnback.model.absent": ("Absent",),
    "turnback.model.cited": ("Cited",),
    "turnback.model.findings": ("Finding",),
    "turnback.model.layout": ("PlacedClip",),
    "turnback.model.rope": ("Coating", "Rope"),
    "turnback.model.sources": ("Citation", "Source"),
    "turnback.model.steps": ("Step",),
    "turnback.model.styles": ("BodyStyle", "ClipStyle", "SeriesStyle"),
    "turnback.model.terminations": ("LapSplice", "LinkedEyes", "PlateEye", "PulleyEye", "SoftEye", "ThimbleEye"),
    "turnback.output.card": ("card_html", "card_markdown", "card_text"),
    "turnback.output.interchange": ("from_json", "to_json",),
    "turnback.output.verification": ("Verification", "verify",),
    "turnback.review.as_built": ("AsBuilt",),
    "turnback.review.inspection": ("Inspection", "inspect",),
    "turnback.review.record": ("Record",),
    "turnback.review.register": ("write_register_csv", "write_register_parquet",),
    "turnback.review.reuse": ("ClipVerdict", "inspect_clip",),
    "turnback.review.rope_state": ("RopeState",),
    "turnback.review.tolerances": ("Tolerances",),
    "turnback.review.torque_pass": ("TorquePass",),
    "turnback.review.upkeep": ("Interval",),
    "turnback.planning.admitting": ("Admission", "admits"),
    "turnback.planning.build": ("plan", "plan_request"),
    "turnback.planning.cutting": ("CutLength", "cut_length"),
    "turnback.planning.plan": ("Plan",),
    "turnback.planning.possible": ("Candidate", "possible"),
    "turnback.planning.request": ("MakerFigures", "Request"),
    "turnback.quantities": ("Angle", "Force", "Length", "Mass", "MassPerLength", "Torque"),
    "turnback.review.alternatives": ("Alternative", "alternatives"),
    "turnback.review.comparison": ("Comparison", "compare"),
    "turnback.rules.admission": ("Breach", "Joint", "breaches"),
    "turnback.rules.catalogue": ("Catalogue",),
    "turnback.rules.rulefile": ("parse_rules", "read_rules"),
    "turnback.rules.ruleset": ("RuleSet",),
    "turnback.rules.selection": ("FirstOf", "Governing", "first_of", "governing"),
}  # fmt: skip
_PLACE_OF = {name: module for module, names in _PLACES.items() for name in names}

__all__ = sorted(_PLACE_OF)  # noqa: PLE0605 - computed from the one list above

if not TYPE_CHECKING:
    # Hidden from the type checker, so that a misspelt name is an error there too.
    def __getattr__(name: str) -> object:
        if name not in _PLACE_OF:
            raise AttributeError(f"module 'turnback' has no attribute {name!r}")
        from importlib import import_module

        value = getattr(import_module(_PLACE_OF[name]), name)
        globals()[name] = value
        return value

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
