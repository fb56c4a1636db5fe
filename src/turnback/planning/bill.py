"""The bill of materials of one termination: rope, clips, thimbles, seizing, tools."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from turnback.errors import InputError, OutOfTable
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.ropedata import mass_per_length
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.terminations import LinkedEyes, PlateEye, PulleyEye, Termination, ThimbleEye
from turnback.planning.tape import tape_steps
from turnback.quantities import Length, Mass
from turnback.rules.ropecare import SeizingRule
from turnback.rules.ropecarefile import seizing_rules
from turnback.rules.ruleset import LinearLength

if TYPE_CHECKING:
    from turnback.planning.plan import Plan

__all__ = ["Bill", "BillLine", "Seizing", "bill_of", "seizing_of", "tape_step"]

_SPARES: Final = "no source prints a number of spare clips; have as many as the job asks, with spare_clips"


def _practice(about: str) -> Citation:
    return Citation(COMMON_PRACTICE, about, "common practice")


_LENGTH: Final = _practice("rope of a termination: the turn-back and the rope in the eye")
_SPARE: Final = _practice("spare clips, as the job asks")
_AROUND: Final = _practice("what the eye is laid round")
_TOOLS: Final = _practice("tools")
_COATING: Final = _practice("coated cable")


@attrs.frozen
class Seizing:
    """How a rope is seized before the cut: the source that asks for most, or several that ask for the same.

    Args:
        number: Seizings on each side of the cut [-]; the largest number that any source asks for.
        width_at_least: Least width of one seizing [length]; None where no source says.
        width_at_most: Greatest width of one seizing [length]; None where no source says.
        distances: Distance between seizings [length], by each source that gives one; empty for a single seizing.
        ask_preformed: Whether the number hangs on whether the rope is preformed, and nobody said.
        citations: Who says so.
    """

    number: int
    width_at_least: Length | None
    width_at_most: Length | None
    distances: tuple[Cited[Length], ...]
    ask_preformed: bool
    citations: tuple[Citation, ...]

    @property
    def width(self) -> str:
        """The width of one seizing in words; empty where no source says."""
        if self.width_at_least is None:
            return ""
        upper = "" if self.width_at_most is None else f" and at most {self.width_at_most}"
        return f"at least {self.width_at_least}{upper} wide"

    @property
    def words(self) -> str:
        """Number, width and distance as one phrase."""
        one = self.number == 1
        parts = [f"{self.number} seizing{'' if one else 's'} on each side of the cut"]
        if self.width:
            parts.append(self.width if one else f"each {self.width}")
        if len(self.distances) == 1:
            parts.append(f"{self.distances[0].value} apart")
        elif self.distances:
            each = (f"{found.value} by {found.citations[0].source.document}" for found in self.distances)
            parts.append("apart " + " or ".join(each))
        return ", ".join(parts)


@attrs.frozen
class BillLine:
    """One line of a bill.

    Args:
        code: Stable name: ``rope``, ``clips``, ``spare-clips``, ``thimbles``, ``pulley``, ``seizings`` or the tool.
        item: What it is, in words.
        citations: Who says so.
        number: Pieces [-]; None for what is not counted.
        length: Length of rope, exact [length]; None for what is not rope.
        tape: The same rounded up to the graduations of a tape [length].
        mass: Mass of the rope [mass]; None for what is not rope.
        note: What else to know; empty when nothing.
    """

    code: str
    item: str
    citations: tuple[Citation, ...]
    number: int | Absent | None = None
    length: Length | Absent | None = None
    tape: Length | Absent | None = None
    mass: Mass | Absent | None = None
    note: str = ""

    def __str__(self) -> str:
        words = [
            self.item if self.number is None or isinstance(self.number, Absent) else f"{self.number} x {self.item}"
        ]
        if self.length is not None:
            words.append(
                f"length not known ({self.length.reason})" if isinstance(self.length, Absent) else str(self.tape)
            )
        if self.mass is not None and not isinstance(self.length, Absent):
            words.append("mass not known" if isinstance(self.mass, Absent) else str(self.mass))
        return ", ".join(words) + (f": {self.note}" if self.note else "")


@attrs.frozen
class Bill:
    """What a termination is made from and with.

    Args:
        lines: The lines, materials first and tools last.
    """

    lines: tuple[BillLine, ...]

    def line(self, code: str) -> BillLine:
        """Return one line.

        Args:
            code: Its code.

        Returns:
            The line.

        Raises:
            InputError: The bill has no such line.
        """
        for line in self.lines:
            if line.code == code:
                return line
        known = ", ".join(line.code for line in self.lines)
        raise InputError("the bill has no such line", field="code", value=repr(code)[:80], bound=f"one of {known}")

    def __str__(self) -> str:
        return "\n".join(str(line) for line in self.lines)


def bill_of(plan: Plan, spare_clips: int | None = None) -> Bill:
    """Write the bill of a termination; of linked eyes, for both eyes together.

    Args:
        plan: The plan.
        spare_clips: Spare clips to have at hand [-]; no source prints a number, so none is made up here.

    Returns:
        The bill. The rope on it is what this termination uses: turn-back and rope in the eye, or the overlap on both
        ropes of a lap splice; :func:`turnback.cut_length` gives the length to cut for a span.

    Raises:
        InputError: The number of spares is no whole number from 0 to 1000.
    """
    if spare_clips is not None and (type(spare_clips) is not int or not 0 <= spare_clips <= 1000):
        raise InputError(
            "a number of spare clips is a whole number",
            field="spare_clips",
            value=repr(spare_clips)[:80],
            bound="0 to 1000",
            instead="Leave it out where the job does not say.",
        )
    lines = [_rope(plan), *_clips(plan, spare_clips), *_around(plan.request.termination), _seizings(plan)]
    return Bill((*lines, *_tools(plan)))


def tape_step(plan: Plan) -> Length:
    """Return the graduation of the tape that a plan is marked out with.

    Args:
        plan: The plan.

    Returns:
        That of the plan's layout on the tape; the coarsest for a rope of its size where it has none [length].
    """
    tape = plan.tape
    return tape_steps(plan.request.rope.diameter)[0] if isinstance(tape, Absent) else tape.step


def seizing_of(plan: Plan) -> Seizing:
    """Say how the rope of a plan is seized before it is cut.

    Args:
        plan: The plan.

    Returns:
        The largest number that any source asks for, with width and distance by the sources that ask for it. A coated
        cable is cut before it is stripped, so there its finished diameter counts, which never asks for less.

    Source: NAVEDTRA 14081; TM 5-3810-305-10; Mich. Admin. Code R 408.11824(4).
    """
    rope = plan.request.rope
    diameter = rope.diameter if rope.coating is None else rope.coating.finished_diameter
    asked: list[tuple[Cited[int], SeizingRule]] = []
    for rule in seizing_rules():
        try:
            asked.append((rule.number(diameter, rope.preformed), rule))
        except OutOfTable:
            # A source that is silent on this size leaves it to the others; the first counts by a formula.
            continue
    most = max(number.value for number, _ in asked)
    chosen = [rule for number, rule in asked if number.value == most]
    everyone = [rule for _, rule in asked]
    least = _widths([rule.width_at_least for rule in chosen], diameter) or _widths(
        [rule.width_at_least for rule in everyone], diameter
    )
    widest = _widths([rule.width_at_most for rule in chosen], diameter)
    distances: list[Cited[Length]] = []
    for rule in chosen if most > 1 else ():
        if rule.distance is not None:
            distances.append(Cited(_length(rule.distance, diameter), (rule.citation,), rule.distance.text))
    return Seizing(
        number=most,
        width_at_least=max(least, default=None),
        width_at_most=min(widest, default=None),
        distances=tuple(distances),
        ask_preformed=rope.preformed is None and any(rule.preformed is not None for rule in chosen),
        citations=tuple(rule.citation for rule in chosen),
    )


def _length(linear: LinearLength, diameter: Length) -> Length:
    # A seizing has no base width, so the length is always known.
    return Length.up(linear.nanometres(diameter, diameter) or 0)


def _widths(found: list[LinearLength | None], diameter: Length) -> list[Length]:
    return [_length(linear, diameter) for linear in found if linear is not None]


def _rope(plan: Plan) -> BillLine:
    length, tape = _rope_length(plan), _rope_length(plan, tape=True)
    item = str(plan.request.rope)
    cited: tuple[Citation, ...] = (_LENGTH,)
    note = "turn-back and rope in the eye; the live part is not counted"
    if plan.layout_demand.splice:
        note = "the overlap on both ropes; the live parts are not counted"
    elif plan.other_eye is not None:
        note = "turn-back and rope in the eye, both eyes together; the live parts are not counted"
    per_length = mass_per_length(plan.request.rope)
    mass: Mass | Absent
    if isinstance(length, Absent):
        mass = Absent("mass", length.reason)
    elif isinstance(per_length, Absent):
        mass = Absent("mass", per_length.reason)
    else:
        mass = per_length.value.of_length(length)
        cited = (*cited, *per_length.citations)
    return BillLine("rope", item, cited, length=length, tape=tape, mass=mass, note=note)


def _rope_length(plan: Plan, *, tape: bool = False) -> Length | Absent:
    turn_back = plan.turn_back
    on_tape = plan.tape
    if tape and not isinstance(on_tape, Absent):
        turn_back = on_tape.layout.turn_back
    if isinstance(turn_back, Absent):
        return Absent("rope", turn_back.reason)
    if plan.layout_demand.splice:
        return _rounded(plan, turn_back, tape) * 2
    total = Length(0)
    for each in (plan,) if plan.other_eye is None else (plan, plan.other_eye):
        if isinstance(each.rope_in_eye, Absent):
            return Absent("rope", each.rope_in_eye.reason)
        total += _rounded(plan, turn_back, tape) + _rounded(plan, each.rope_in_eye, tape)
    return total


def _rounded(plan: Plan, length: Length, tape: bool) -> Length:
    return length.tape(tape_step(plan), "up") if tape else length


def _clips(plan: Plan, spare_clips: int | None) -> tuple[BillLine, BillLine]:
    eyes = 1 if plan.other_eye is None else 2
    body = {"forged": ", drop-forged", "other": ", body other than drop-forged"}.get(plan.request.clip_body, "")
    item = f"{plan.style.title}, size {plan.clip_size}{body}"
    cited = tuple(dict.fromkeys(citation for step in plan.demand.steps for citation in step.citations))
    note = "both eyes together; all of one make, size and body" if eyes == 2 else "all of one make, size and body"
    spare: int | Absent = Absent("spare_clips", _SPARES) if spare_clips is None else spare_clips
    asked = "as the job asks; no source prints a number" if spare_clips is None else "as asked for"
    number = plan.clip_count * eyes
    return (
        BillLine("clips", item, cited, number, note=note if number > 1 else ""),
        BillLine("spare-clips", f"spare {plan.style.title}, the same", (_SPARE,), spare, note=asked),
    )


def _around(termination: Termination) -> tuple[BillLine, ...]:
    if isinstance(termination, LinkedEyes):
        first, second = termination.first, termination.second
        note = _thimble(first) if first == second else f"first: {_thimble(first)}; second: {_thimble(second)}"
        return (BillLine("thimbles", "thimble, for this rope", (_AROUND,), 2, note=note),)
    if isinstance(termination, PulleyEye):
        tread = termination.tread_diameter
        note = "tread diameter not given" if tread is None else f"tread diameter {tread}"
        return (BillLine("pulley", "pulley, its groove for this rope", (_AROUND,), 1, note=note),)
    around = termination.around if isinstance(termination, PlateEye) else termination
    if isinstance(around, ThimbleEye):
        return (BillLine("thimbles", "thimble, for this rope", (_AROUND,), 1, note=_thimble(around)),)
    return ()


def _thimble(thimble: ThimbleEye) -> str:
    length, width = thimble.inside_length, thimble.inside_width
    if length is None or width is None:
        return "dimensions not given"
    return f"inside {length} long, {width} wide"


def _seizings(plan: Plan) -> BillLine:
    seizing = seizing_of(plan)
    cuts = 2 if plan.layout_demand.splice or plan.other_eye is not None else 1
    note = seizing.words
    if seizing.ask_preformed:
        note += "; the number for rope that is not preformed, for nobody said that this one is"
    return BillLine("seizings", "seizing of wire", seizing.citations, seizing.number * 2 * cuts, note=note)


def _tools(plan: Plan) -> tuple[BillLine, ...]:
    torque = plan.torque
    range_ = "that covers the clip maker's torque" if isinstance(torque, Absent) else f"that covers {torque}"
    tools = [
        BillLine("tape", "tape, to measure every mark from one datum", (_TOOLS,), 1),
        BillLine("vernier", "vernier, for the rope's diameter and the clip", (_TOOLS,), 1),
        BillLine("paint-marker", "marker and paint for marks and witness marks", (_TOOLS,), 1),
        BillLine("cutter", "rope cutter, with gloves and eye protection", (_TOOLS,), 1),
        BillLine("torque-wrench", f"torque wrench in calibration {range_}, and a wrench", (_TOOLS,), 1),
    ]
    threads = plan.thread_condition
    if isinstance(threads, str) and threads == "greased":
        cited = plan.demand.threads.citations if isinstance(plan.demand.threads, Cited) else (_TOOLS,)
        tools.append(BillLine("grease", "grease for the threads and nuts", cited))
    coating = plan.request.rope.coating
    if coating is not None and coating.stripped:
        tools.append(BillLine("stripper", "stripping tool that does not nick the wires", (_COATING,), 1))
        tools.append(BillLine("sealant", "sealant for the cut edges of the coating", (_COATING,)))
    return tuple(tools)
