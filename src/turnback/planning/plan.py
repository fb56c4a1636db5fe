"""The plan: the whole answer for one termination."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

import attrs

from turnback.errors import AbsentError, Forbidden, InputError
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.layout import Layout, LayoutDemand, PlacedClip
from turnback.model.sources import Citation
from turnback.model.styles import ClipStyle
from turnback.planning.case import Case
from turnback.planning.demand import Demand
from turnback.planning.geometry import EyeGeometry
from turnback.planning.request import Request
from turnback.planning.resolve import Member
from turnback.planning.service import ServiceDemands
from turnback.planning.strength import Strength, checked_factor
from turnback.planning.tape import TapeLayout, tape_layout
from turnback.quantities import Force, Length, Torque
from turnback.rules.admission import Joint

if TYPE_CHECKING:
    from turnback.model.steps import Step
    from turnback.planning.bill import Bill
    from turnback.planning.derivations import Derivations
    from turnback.planning.marks import Mark

__all__ = ["Plan"]


@attrs.frozen(eq=True)
class Plan:
    """The whole answer for one termination. :func:`turnback.plan` makes it.

    A number that no source gives, or that needs a measurement that was not made, is an
    :class:`~turnback.model.absent.Absent` with the reason; using it as a number raises an error that says so.

    Args:
        request: What was asked.
        case: What the sources say before anything is measured.
        demand: What is asked for together, with the base width.
        layout_demand: What the style was asked to lay out.
        layout: Where everything comes to lie, exactly.
        geometry: The eye; of linked eyes, the first.
        strength: What it breaks at.
        findings: What a person must know or do, gravest first.
        second_eye: Of linked eyes, the second; otherwise None.
    """

    request: Request
    case: Case = attrs.field(eq=False, repr=False)
    demand: Demand
    layout_demand: LayoutDemand
    layout: Layout
    geometry: EyeGeometry
    strength: Strength
    findings: tuple[Finding, ...]
    second_eye: EyeGeometry | None = None

    @property
    def other_eye(self) -> Plan | None:
        """Of linked eyes, the plan of the second; otherwise None."""
        return None if self.second_eye is None else attrs.evolve(self, geometry=self.second_eye, second_eye=None)

    @property
    def style(self) -> ClipStyle:
        """The clip style."""
        return self.case.style

    @property
    def members(self) -> tuple[Member, ...]:
        """The rule sets that govern, with their rows, by id."""
        return self.case.members

    @property
    def skipped(self) -> tuple[tuple[str, str], ...]:
        """Options of a first-of choice that were passed over: name and reason."""
        return self.case.skipped

    @property
    def service(self) -> ServiceDemands:
        """What the service asks for."""
        return self.case.service

    # --- what the rigger asks first ---

    @property
    def clip_count(self) -> int:
        """Clips on one eye, or on the whole lap splice [-]."""
        return self.demand.total

    @property
    def clip_size(self) -> Length:
        """Size of the clips [length]."""
        return self.demand.clip_size

    @property
    def spacing(self) -> Length | Absent:
        """Distance between the centres of neighbouring clips, rounded up to the nanometre [length]."""
        return self.layout.spacing

    @property
    def turn_back(self) -> Length | Absent:
        """From the base of the eye to the dead end; in a lap splice the overlap [length]."""
        return self.layout.turn_back

    @property
    def dead_end(self) -> Length | Absent:
        """From the dead end to the first clip's near edge [length]."""
        return self.layout.end_distance

    @property
    def torque(self) -> Torque | Absent:
        """Tightening torque of each nut."""
        torque = self.demand.torque
        return torque if isinstance(torque, Absent) else torque.value

    @property
    def thread_condition(self) -> str | Absent:
        """Condition of the threads that the torque belongs to: ``dry`` or ``greased``."""
        threads = self.demand.threads
        return threads if isinstance(threads, Absent) else threads.value

    @property
    def clips(self) -> tuple[PlacedClip, ...]:
        """Every clip at its place, from the dead end to the eye; empty where the base width is not known."""
        return self.layout.clips

    @property
    def usable(self) -> bool:
        """False while anything is forbidden or must be fixed."""
        return not any(finding.blocks for finding in self.findings)

    # --- the eye ---

    @property
    def rope_in_eye(self) -> Length | Absent:
        """Rope from base to base round the eye [length]."""
        return self.geometry.rope_in_eye

    @property
    def strip_length(self) -> Length | Absent:
        """Coating to take off: one run from the dead end, or both runs together where the eye stays coated [length]."""
        coating = self.request.rope.coating
        if coating is None or not coating.stripped:
            word = "the rope has no coating" if coating is None else "the coating stays on"
            return Absent("strip_length", word)
        turn_back, eye = self.turn_back, self.rope_in_eye
        if isinstance(turn_back, Absent):
            return Absent("strip_length", turn_back.reason)
        if self.request.termination.kind == "lap splice":
            return turn_back
        if not coating.eye_stripped:
            return turn_back * 2
        return Absent("strip_length", eye.reason) if isinstance(eye, Absent) else turn_back * 2 + eye

    @property
    def tape(self) -> TapeLayout | Absent:
        """The layout on the graduations of a tape, rounded to the safe side."""
        nominal = self.request.rope.diameter
        return tape_layout(self.style, self.layout_demand, self.layout, nominal, self.case.origin)

    # --- strength ---

    @property
    def minimum_breaking_force(self) -> Force | Absent:
        """Minimum breaking force of the rope [force]."""
        force = self.strength.minimum_breaking_force
        return force if isinstance(force, Absent) else force.value

    @property
    def efficiency(self) -> Fraction | Absent:
        """Share of the rope's minimum breaking force that the termination holds [-]."""
        efficiency = self.strength.efficiency
        return efficiency if isinstance(efficiency, Absent) else efficiency.value

    @property
    def efficiency_basis(self) -> str:
        """Rule file that the efficiency stands in; empty where there is none."""
        return self.strength.efficiency_basis

    @property
    def termination_breaking_force(self) -> Force | Absent:
        """What it breaks at; never to be loaded to [force]."""
        return self.strength.breaking_force

    def working_load(self, design_factor: float | Fraction | int | None = None) -> Force:
        """Return the load that the termination may carry under a design factor.

        Args:
            design_factor: Breaking force over load [-]; the service's cited factor when not given.

        Returns:
            The working load [force].

        Raises:
            Forbidden: A source forbids the use.
            AbsentError: There is no strength, or no factor to cite; the reason is in the message.
            InputError: The factor is below the one that is cited for the service.
        """
        for finding in self.findings:
            if finding.kind == "forbidden":
                raise Forbidden(finding.text, field="service", citation="; ".join(map(str, finding.citations)))
        breaking, cited = self.termination_breaking_force, self.service.design_factor
        if isinstance(breaking, Absent):
            raise AbsentError(breaking.reason, field="working_load")
        if isinstance(cited, Absent):
            raise AbsentError(cited.reason, field="working_load", instead="A working load needs a cited design factor.")
        factor = cited.value if design_factor is None else checked_factor(design_factor)
        if factor < cited.value:
            raise InputError(
                "this design factor is below the one that is cited for the service",
                field="design_factor",
                value=str(design_factor),
                bound=f"at least {float(cited.value):g}",
                citation="; ".join(str(citation) for citation in cited.citations),
                instead="Take the cited factor or a greater one.",
            )
        return Force(breaking.newtons / float(factor))

    # --- what is made from it on demand ---

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Every mark that a rigger puts on the rope, in the order of the rope."""
        from turnback.planning.marks import marks_of

        return marks_of(self)

    @cached_property
    def procedure(self) -> tuple[Step, ...]:
        """The numbered steps of the work."""
        from turnback.planning.procedure import procedure_of

        return procedure_of(self)

    @cached_property
    def bill(self) -> Bill:
        """The materials: rope, clips with spares, thimbles, seizing, tools."""
        from turnback.planning.bill import bill_of

        return bill_of(self)

    @cached_property
    def derivations(self) -> Derivations:
        """How every number came about: formula, inputs, citations."""
        from turnback.planning.derivations import derivations_of

        return derivations_of(self)

    @cached_property
    def citations(self) -> tuple[Citation, ...]:
        """Every citation that the plan leans on, each once, in the order of its numbers."""
        from turnback.planning.derivations import citations_of

        return citations_of(self)

    def to_svg(self) -> str:
        """Draw the termination.

        Returns:
            One ``<svg>`` element that needs nothing else; what is forbidden or must be fixed stands in it first.
        """
        from turnback.planning.figure import figure_of

        return figure_of(self).to_svg()

    def _repr_svg_(self) -> str:
        return self.to_svg()

    def _repr_html_(self) -> str:
        from turnback.planning.notebook import plan_html

        return plan_html(self)

    @property
    def joint(self) -> Joint:
        """What there is to measure on the joint, for :func:`turnback.rules.breaches`."""
        return Joint(
            kind=self.request.termination.kind,
            rope_diameter=self.demand.seat,
            clip_size=self.clip_size,
            clip_body=self.request.clip_body,
            count=self.clip_count,
            base_width=self.request.base_width,
            turn_back=None if isinstance(self.turn_back, Absent) else self.turn_back,
            near_edges=tuple(clip.near_edge for clip in self.clips),
            torque=None if isinstance(self.demand.torque, Absent) else self.demand.torque.value,
            threads="" if isinstance(self.demand.threads, Absent) else self.demand.threads.value,
            large_wires=self.demand.large_wires,
        )

    def cited(self, name: str) -> Cited[object] | Absent:
        """Return one number of the plan with its citations.

        Args:
            name: ``torque``, ``thread_condition``, ``efficiency``, ``minimum_breaking_force`` or ``design_factor``.

        Returns:
            The number with its citations, or why it is absent.

        Raises:
            InputError: There is no such number; every other one stands in :attr:`derivations`.
        """
        known: dict[str, Cited[object] | Absent] = {
            "torque": self.demand.torque,
            "thread_condition": self.demand.threads,
            "efficiency": self.strength.efficiency,
            "minimum_breaking_force": self.strength.minimum_breaking_force,
            "design_factor": self.service.design_factor,
        }
        if name not in known:
            raise InputError("no such number", field="name", value=name, bound="one of " + ", ".join(known))
        return known[name]

    def __str__(self) -> str:
        from turnback.planning.summary import summary

        return summary(self)
