"""What the document of a plan says, key by key: the numbers that are computed from the request."""

from __future__ import annotations

import functools
import typing
from fractions import Fraction
from typing import Final, NamedTuple

from turnback.errors import TurnbackError
from turnback.model.absent import Absent
from turnback.model.findings import Finding
from turnback.model.layout import PlacedClip
from turnback.model.sources import Citation
from turnback.model.steps import Step
from turnback.output._annotations import shape_of, with_special
from turnback.output._composite import Field, Many, Object, Optional, Perhaps
from turnback.output._shapes import FLAG, LENGTH, RATIO, TEXT, WHOLE, Shape
from turnback.output._torque_shape import TORQUE
from turnback.output.documents._parts import Part, described, written
from turnback.output.json_text import Json
from turnback.output.reading import LONGEST_TEXT
from turnback.planning.bill import BillLine
from turnback.planning.demand import Demand
from turnback.planning.derivations import Derivation
from turnback.planning.marks import Mark, marks_missing
from turnback.planning.plan import Plan
from turnback.planning.tape import TapeLayout
from turnback.quantities import Angle, Force, Length

__all__ = ["first_parts", "last_parts"]

_MORE: Final = " ... (the rest is left out here)"


class _Cut(Shape):
    """Text that is made for a reader: where it is longer than a text may be, the rest is left out.

    A joint of two hundred clips has such texts; its numbers stand apart from them.
    """

    def write(self, value: object) -> Json:
        text = str(value)
        return text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - len(_MORE)] + _MORE

    def schema(self, defs: dict[str, Json], /) -> dict[str, Json]:
        return TEXT.schema(defs)


_LENGTH: Final = Perhaps(LENGTH)
_FORCE: Final = Perhaps(shape_of(Force))
_CUT: Final = _Cut()
_TEXTS: Final[dict[object, Shape]] = {str: _CUT}


class _OtherEye(Shape):
    """The second of two linked eyes: a plan again, of which its own numbers are written."""

    def write(self, value: object) -> Json:
        return written(_eye_parts(), value) if isinstance(value, Plan) else None

    def schema(self, defs: dict[str, Json], /) -> dict[str, Json]:
        defs.setdefault("other_eye", described(_eye_parts(), defs))
        return {"anyOf": [{"$ref": "#/$defs/other_eye"}, {"type": "null"}]}


class _Tape(NamedTuple):
    step: Length
    turn_back: Length | Absent
    spacing: Length | Absent
    dead_end: Length | Absent
    clips: tuple[PlacedClip, ...]


class _Skipped(NamedTuple):
    name: str
    reason: str


def _tape(plan: Plan) -> _Tape | Absent:
    tape = plan.tape
    if not isinstance(tape, TapeLayout):
        return tape
    layout = tape.layout
    return _Tape(tape.step, layout.turn_back, layout.spacing, layout.end_distance, layout.clips)


def _working_load(plan: Plan) -> Force | Absent:
    try:
        return plan.working_load()
    except TurnbackError as error:
        return Absent("working_load", error.problem)


def _leg_force(plan: Plan) -> Force | Absent:
    if plan.request.load is None:
        return Absent("leg_force", "the load was not given")
    return plan.geometry.leg_force(plan.request.load)


def _design_factor(plan: Plan) -> Fraction | Absent:
    factor = plan.service.design_factor
    return factor if isinstance(factor, Absent) else factor.value


def _many(kind: type) -> Shape:
    return Many(with_special(kind, _TEXTS, {}))


def _tape_shape() -> Object:
    clips = _many(PlacedClip)
    return Object(
        _Tape,
        "tape",
        "The same layout on the graduations of a tape, rounded to the safe side.",
        [
            Field("step", "step_nm", LENGTH, True, "Graduation of the tape."),
            Field("turn_back", "turn_back_nm", _LENGTH, True, "Turn-back, or overlap."),
            Field("spacing", "spacing_nm", _LENGTH, True, "Between the centres of neighbouring clips."),
            Field("dead_end", "dead_end_nm", _LENGTH, True, "From the dead end to the first clip."),
            Field("clips", "clips", clips, True, "Every clip, from the dead end."),
        ],
        absences=True,
    )


def _skipped_shape() -> Object:
    fields = [Field("name", "name", _CUT, True, "The option."), Field("reason", "reason", _CUT, True, "Why not.")]
    return Object(_Skipped, "skipped", "An option of a first-of choice that was passed over.", fields)


@functools.cache
def first_parts() -> tuple[Part, ...]:
    """Return what a person must know before any number."""
    return (
        Part("usable", FLAG, lambda plan: plan.usable, "False while anything is forbidden or must be fixed."),
        Part(
            "forbidden",
            Many(_CUT),
            lambda plan: tuple(finding.text for finding in plan.findings if finding.kind == "forbidden"),
            "What a source forbids.",
        ),
    )


@functools.cache
def _eye_parts() -> tuple[Part, ...]:
    angle = Perhaps(shape_of(Angle))
    return (
        Part("rope_in_eye", _LENGTH, lambda plan: plan.rope_in_eye, "Rope from base to base round the eye."),
        Part("eye_radius", _LENGTH, lambda plan: plan.geometry.radius, "Radius of the rope's centre line."),
        Part("base_distance", _LENGTH, lambda plan: plan.geometry.base_distance, "Centre of the eye to its base."),
        Part("parts_apart", _LENGTH, lambda plan: plan.geometry.parts_apart, "Between both parts at the base."),
        Part("included_angle", angle, lambda plan: plan.geometry.included_angle, "Between both parts at the base."),
        Part("reach", _LENGTH, lambda plan: plan.geometry.reach, "From the base to the bearing point."),
        Part("strip_length", _LENGTH, lambda plan: plan.strip_length, "Coating to take off."),
        Part("leg_force", _FORCE, _leg_force, "In each part of the eye under the load."),
        Part("marks", _many(Mark), lambda plan: plan.marks, "Every mark on the rope, from its dead end."),
        Part("marks_missing", _many(Absent), marks_missing, "Marks that cannot be given, and why."),
    )


@functools.cache
def last_parts() -> tuple[Part, ...]:
    """Return the numbers, the findings, the work and the sources."""
    demand = typing.get_type_hints(Demand)
    return (
        Part("clip_count", WHOLE, lambda plan: plan.clip_count, "Clips on one eye, or on the whole lap splice."),
        Part("clip_size", LENGTH, lambda plan: plan.clip_size, "Size of the clips."),
        Part(
            "count_steps", shape_of(demand["steps"], _TEXTS), lambda plan: plan.demand.steps, "The way to the number."
        ),
        Part("turn_back", _LENGTH, lambda plan: plan.turn_back, "From the base of the eye to the dead end; overlap."),
        Part("turn_backs", shape_of(demand["turn_backs"]), lambda plan: plan.demand.turn_backs, "By each rule set."),
        Part("spacing", _LENGTH, lambda plan: plan.spacing, "Between the centres of neighbouring clips."),
        Part("least_spacing", shape_of(demand["least"]), lambda plan: plan.demand.least, "The least asked for."),
        Part("greatest_spacing", shape_of(demand["greatest"]), lambda plan: plan.demand.greatest, "The greatest."),
        Part("dead_end", _LENGTH, lambda plan: plan.dead_end, "From the dead end to the first clip."),
        Part("torque", Perhaps(TORQUE), lambda plan: plan.torque, "Tightening torque of each nut."),
        Part("thread_condition", Perhaps(TEXT), lambda plan: plan.thread_condition, "What the torque belongs to."),
        Part("clips", _many(PlacedClip), lambda plan: plan.clips, "Every clip at its place, from the dead end."),
        Part("tape", Perhaps(_tape_shape()), _tape, "The same on the graduations of a tape."),
        *_eye_parts(),
        Part("efficiency", Perhaps(RATIO), lambda plan: plan.efficiency, "Share of the rope's force that it holds."),
        Part("efficiency_basis", Optional(TEXT), lambda plan: plan.efficiency_basis or None, "Where it stands."),
        Part("minimum_breaking_force", _FORCE, lambda plan: plan.minimum_breaking_force, "Of the rope."),
        Part("termination_breaking_force", _FORCE, lambda plan: plan.termination_breaking_force, "Never load to it."),
        Part("design_factor", Perhaps(RATIO), _design_factor, "Breaking force over load, as cited for the service."),
        Part("working_load", _FORCE, _working_load, "Under that design factor."),
        Part("other_eye", _OtherEye(), lambda plan: plan.other_eye, "Of linked eyes, the second; its own numbers."),
        Part("findings", _many(Finding), lambda plan: plan.findings, "What a person must know or do, gravest first."),
        Part(
            "skipped",
            Many(_skipped_shape()),
            lambda plan: tuple(_Skipped(*each) for each in plan.skipped),
            "Options of a first-of choice that were passed over.",
        ),
        Part("procedure", _many(Step), lambda plan: plan.procedure, "The numbered steps of the work."),
        Part("bill", _many(BillLine), lambda plan: plan.bill.lines, "The materials and tools."),
        Part("derivations", _many(Derivation), lambda plan: tuple(plan.derivations), "How numbers came about."),
        Part("citations", shape_of(tuple[Citation, ...]), lambda plan: plan.citations, "Every source, each once."),
    )
