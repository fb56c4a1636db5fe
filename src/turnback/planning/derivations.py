"""How every number of a plan came about: formula, inputs, citations. Built on demand."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from turnback.errors import InputError
from turnback.mechanics import FORMULAS
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.sources import COMMON_PRACTICE, USER, Citation, Source, weakest
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, SoftEye, ThimbleEye
from turnback.planning.demand import LAP
from turnback.planning.spacing import APART
from turnback.quantities import Length, percent_text

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["Derivation", "Derivations", "citations_of", "derivations_of"]

_GEOMETRY: Final = Citation(
    Source("plane-geometry", "Plane geometry of a circle with two straight legs", "this library's own", "turnback"),
    "open belt with the small pulley shrunk to a point",
    "read",
)
_STATICS: Final = Citation(Source("statics", "Statics", "this library's own", "turnback"), "sum of parts", "read")
_FIRST_CLIP: Final = Citation(
    COMMON_PRACTICE, "first clip one base width from the dead end, last clip at the base of the eye", "common practice"
)
_WIDE: Final = Citation(COMMON_PRACTICE, "60 degrees between the parts at a pulley", "common practice")
_GIVEN: Final = Citation(USER, "the request", "user")

Input = tuple[str, str, str]
"""Symbol, meaning with its unit, value as text."""


@attrs.frozen
class Derivation:
    """How one number came about.

    Args:
        name: The number, as the plan names it.
        value: What it is, as text; the reason where it is absent.
        formula: The printed formula that the library runs, or the look-up in words; empty where the number is absent.
        inputs: Symbol, meaning and value of each input.
        citations: Who says so; the weakest status is the number's.
    """

    name: str
    value: str
    formula: str
    inputs: tuple[Input, ...]
    citations: tuple[Citation, ...]

    @property
    def status(self) -> str:
        """The least certain status among the citations."""
        return weakest(self.citations)

    def __str__(self) -> str:
        lines = [f"{self.name} = {self.value}"]
        if self.formula:
            lines.append(f"  by {self.formula}")
        lines += [f"  {symbol} = {value} ({meaning})" for symbol, meaning, value in self.inputs]
        return "\n".join([*lines, *(f"  source: {citation}" for citation in self.citations)])


@attrs.frozen
class Derivations:
    """All derivations of a plan; look one up by its name.

    Args:
        items: In the order in which the numbers come about.
    """

    items: tuple[Derivation, ...]

    def __iter__(self) -> Iterator[Derivation]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)

    def __contains__(self, name: object) -> bool:
        return any(item.name == name for item in self.items)

    def __getitem__(self, name: str) -> Derivation:
        for item in self.items:
            if item.name == name:
                return item
        names = [item.name for item in self.items]
        near = difflib.get_close_matches(name, names, n=1)
        raise InputError(
            "no number of this plan has this name",
            field="name",
            value=name,
            bound="one of " + ", ".join(names),
            instead=f"Did you mean {near[0]}?" if near else "Take one of these.",
        )

    def __str__(self) -> str:
        return "\n".join(str(item) for item in self.items)


def derivations_of(plan: Plan) -> Derivations:
    """Explain every number of a plan.

    Args:
        plan: The plan.

    Returns:
        One derivation for each number, also for those that are absent.
    """
    return Derivations(tuple(_all(plan)))


def citations_of(plan: Plan) -> tuple[Citation, ...]:
    """List every citation that a plan leans on.

    Args:
        plan: The plan.

    Returns:
        Each once, those of the numbers first, then those of the findings.
    """
    named = [citation for item in plan.derivations if item.formula for citation in item.citations]
    named += [citation for finding in plan.findings for citation in finding.citations]
    return tuple(dict.fromkeys(named))


def _all(plan: Plan) -> Iterator[Derivation]:
    yield _clip_size(plan)
    yield _count(plan)
    yield from _lengths(plan)
    yield from _eye(plan)
    yield from _looked_up(plan)
    yield from _strength(plan)


def _clip_size(plan: Plan) -> Derivation:
    given = plan.request.clip_size is not None
    words = "given by the user" if given else "the row of the rule set that takes this diameter"
    seat = ("d", "diameter under the clip [length]", str(plan.demand.seat))
    return Derivation("clip_size", str(plan.clip_size), words, (seat,), (plan.demand.clip_size_citation,))


def _count(plan: Plan) -> Derivation:
    steps = plan.demand.steps
    words = "; ".join(f"{step.label}, which makes {step.count}" for step in steps)
    citations = tuple(dict.fromkeys(citation for step in steps for citation in step.citations))
    return Derivation("clip_count", str(plan.clip_count), words, (), citations)


def _absent(name: str, absent: Absent) -> Derivation:
    return Derivation(name, str(absent), "", (), (Citation(COMMON_PRACTICE, "nothing is guessed", "common practice"),))


def _lengths(plan: Plan) -> Iterator[Derivation]:
    demand, base = plan.demand, plan.request.base_width
    for each in demand.turn_backs:
        inputs = (
            ("T", f"turn-back that {each.rules_id} prints [length]", str(each.printed)),
            ("n", "number of clips [-]", str(demand.count)),
            ("m", "number of clips printed beside it [-]", str(each.printed_count)),
        )
        formula = FORMULAS["turn_back_in_proportion"].text + ", rounded up"
        yield Derivation(f"turn_back by {each.rules_id}", str(each.length), formula, inputs, each.citations)
    if isinstance(plan.turn_back, Absent):
        yield _absent("turn_back", plan.turn_back)
    else:
        yield _turn_back(plan, plan.turn_back)
    if isinstance(plan.spacing, Absent) or base is None or isinstance(plan.turn_back, Absent):
        yield _absent("spacing", plan.spacing if isinstance(plan.spacing, Absent) else Absent("spacing", "not known"))
    else:
        splice = plan.layout_demand.splice
        formula = FORMULAS["spacing_in_overlap" if splice else "spacing_in_turn_back"].text + ", rounded up"
        inputs = (
            ("T", "overlap [length]" if splice else "turn-back [length]", str(plan.turn_back)),
            ("b", "base width of a clip [length]", str(base)),
            ("n", "number of clips [-]", str(demand.total)),
        )
        yield Derivation("spacing", str(plan.spacing), formula, inputs, (_FIRST_CLIP,))
    if plan.clips:
        words = ", ".join(str(clip.position) for clip in plan.clips)
        formula = FORMULAS["saddle_centre"].text if plan.style.in_series else "turn-back less half the body"
        inputs = (
            ("i", "clips between this one and the dead end [-]", "0, 1, 2, ..."),
            ("b", "base width of a clip [length]", str(base)),
            ("s", "spacing [length]", str(plan.spacing)),
        )
        yield Derivation("positions", words, formula, inputs, (_FIRST_CLIP,))
    strip = plan.strip_length
    if isinstance(strip, Absent):
        yield _absent("strip_length", strip)
    else:
        yield _strip_length(plan, strip)


def _strip_length(plan: Plan, strip: Length) -> Derivation:
    splice, coating = plan.layout_demand.splice, plan.request.rope.coating
    given: tuple[Input, ...] = (("T", "overlap [length]" if splice else "turn-back [length]", str(plan.turn_back)),)
    formula = "T" if splice else "2*T"
    if not splice and coating is not None and coating.eye_stripped:
        formula = FORMULAS["strip_length_one_run"].text
        given = (*given, ("c", "rope in the eye [length]", str(plan.rope_in_eye)))
    return Derivation("strip_length", str(strip), formula, given, (_STATICS,))


def _turn_back(plan: Plan, turn_back: Length) -> Derivation:
    demand, base, splice = plan.demand, plan.request.base_width, plan.layout_demand.splice
    citations: list[Citation] = []
    inputs: list[Input] = []
    words: list[str] = []
    if demand.turn_back is not None:
        longest = max(demand.turn_backs, key=lambda each: each.length)
        citations += longest.citations
        words.append("twice the longest printed turn-back" if splice else "the longest printed turn-back")
        inputs.append(("T", f"turn-back by {longest.rules_id} [length]", str(longest.length)))
    if base is not None and plan.style.in_series:
        words.append(FORMULAS["overlap_for_spacing" if splice else "turn_back_for_spacing"].text)
        inputs += [("b", "base width of a clip [length]", str(base)), ("n", "number of clips [-]", str(demand.total))]
        if demand.least is not None:
            citations.append(demand.least.citation)
            inputs.append(("s", f"least spacing, {demand.least.text} [length]", str(demand.least.length)))
    elif base is not None and not plan.style.in_series:
        words.append("body and the dead end that stands out of it")
        inputs += [
            ("b", "length of the body [length]", str(base)),
            ("x", "dead end beyond it [length]", str(plan.dead_end)),
        ]
        citations.append(getattr(plan.style, "dead_end_citation", plan.style.citation))
    formula = "the longer of: " + "; ".join(words) if len(words) > 1 else "".join(words)
    if splice:
        citations.append(LAP)
    return Derivation("turn_back", str(turn_back), formula, tuple(inputs), tuple(dict.fromkeys(citations)) or (APART,))


def _eye(plan: Plan) -> Iterator[Derivation]:
    eye, termination = plan.geometry, plan.request.termination
    kind = termination.first if isinstance(termination, LinkedEyes) else termination
    around = kind.around if isinstance(kind, PlateEye) else kind
    citations: tuple[Citation, ...] = (_GEOMETRY, _GIVEN)
    radius, base = "pulley_radius", "base_distance_for_angle"
    if isinstance(around, ThimbleEye):
        radius, base = "thimble_radius", "thimble_base_distance"
    elif isinstance(around, SoftEye):
        radius, base = "soft_eye_radius", "soft_eye_base_distance"
    elif isinstance(around, PulleyEye) and around.included_angle is None:
        citations = (_GEOMETRY, _GIVEN, _WIDE)
    for name, value, formula, needs in (
        ("eye_radius", eye.radius, radius, ()),
        ("base_distance", eye.base_distance, base, ()),
        ("rope_in_eye", eye.rope_in_eye, "rope_in_eye", ("R", "a", "e")),
        ("included_angle", eye.included_angle, "half_included_angle", ("R", "a", "e")),
        ("reach", eye.reach, "reach", ()),
    ):
        if isinstance(value, Absent):
            yield _absent(name, value)
            continue
        known = {"R": ("radius of the rope's centre line [length]", eye.radius)}
        known["a"] = ("from the centre of the circle to the base [length]", eye.base_distance)
        known["e"] = ("between the centre lines of the parts [length]", eye.parts_apart)
        inputs = tuple((symbol, known[symbol][0], str(known[symbol][1])) for symbol in needs)
        inputs = inputs or _given(plan, around)
        text = FORMULAS[formula].text if name != "included_angle" else f"2*({FORMULAS[formula].text})"
        yield Derivation(name, str(value), text, inputs, citations)


_SYMBOLS: Final = {
    "inside_length": ("L", "inside length of the thimble [length]"),
    "inside_width": ("w", "inside width of the thimble [length]"),
    "groove_offset": ("g", "bearing surface to the bottom of the groove [length]"),
    "pin": ("p", "diameter of the pin [length]"),
    "length": ("L", "inside length of the eye [length]"),
    "tread_diameter": ("D", "tread diameter of the pulley [length]"),
    "included_angle": ("2*B", "included angle [angle]"),
}


def _given(plan: Plan, around: object) -> tuple[Input, ...]:
    rope = ("d", "diameter of the rope [length]", str(plan.request.rope.diameter))
    found = [
        (*named, str(value)) for name, named in _SYMBOLS.items() if (value := getattr(around, name, None)) is not None
    ]
    return (*found, rope)


def _looked_up(plan: Plan) -> Iterator[Derivation]:
    for name in ("torque", "thread_condition", "minimum_breaking_force", "design_factor"):
        cell = plan.cited(name)
        if isinstance(cell, Absent):
            yield _absent(name, cell)
        else:
            yield _cell(name, cell)


def _cell(name: str, cell: Cited[object]) -> Derivation:
    return Derivation(name, str(cell.value), cell.how or "looked up", (), cell.citations)


def _strength(plan: Plan) -> Iterator[Derivation]:
    strength = plan.strength
    efficiency, force, breaking = strength.efficiency, strength.minimum_breaking_force, strength.breaking_force
    if isinstance(efficiency, Absent):
        yield _absent("efficiency", efficiency)
    else:
        yield Derivation(
            "efficiency", percent_text(efficiency.value), efficiency.how or "looked up", (), efficiency.citations
        )
    if isinstance(breaking, Absent) or isinstance(efficiency, Absent) or isinstance(force, Absent):
        word = breaking.reason if isinstance(breaking, Absent) else "not known"
        yield _absent("termination_breaking_force", Absent("termination_breaking_force", word))
        return
    inputs = (
        ("F", "minimum breaking force of the rope [force]", str(force.value)),
        ("k", "efficiency of the termination [-]", percent_text(efficiency.value)),
    )
    yield Derivation(
        "termination_breaking_force",
        str(breaking),
        FORMULAS["termination_breaking_force"].text,
        inputs,
        (*force.citations, *efficiency.citations),
    )
