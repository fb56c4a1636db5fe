"""One joint under inspection: its plan, its readings, and what follows from the two together."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.model.absent import Absent
from turnback.model.findings import Kind
from turnback.model.sources import Citation
from turnback.model.styles import SeriesStyle
from turnback.planning.bill import tape_step
from turnback.planning.cautions import practice
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.review.as_built import AsBuilt
from turnback.review.observations import Observation
from turnback.review.remake import remake_length
from turnback.rules.admission import Breach, Joint, Margin, breaches

__all__ = ["MAKE_AGAIN", "Subject"]

MAKE_AGAIN: Final = practice("a joint that is wrong after it has carried load is cut off and made again on fresh rope")

_U_ON_DEAD_END: Final = ("u-bolt-on-dead-end-and-table-h-2", "scaffold-clips")
"""Codes of the service rules that say which way round a U-bolt clip goes."""


@attrs.frozen(eq=False)
class Subject:
    """One eye or splice under inspection.

    Args:
        plan: Its plan.
        as_built: Its readings.
        eye: ``first eye`` or ``second eye`` of linked eyes; empty otherwise.
    """

    plan: Plan
    as_built: AsBuilt
    eye: str = ""

    @property
    def count(self) -> int:
        """Clips that were counted, or those planned where nobody counted [-]."""
        return self.plan.clip_count if self.as_built.clip_count is None else self.as_built.clip_count

    @property
    def base_width(self) -> Length | None:
        """Base width as measured on the joint, or as the plan was made with [length]."""
        return self.as_built.base_width or self.plan.request.base_width

    @property
    def margin(self) -> Margin:
        """By how much a reading may miss its bound, as the user says."""
        return self.as_built.tolerances.margin

    @property
    def loaded(self) -> bool:
        """Whether it has carried load; where nobody says, it is taken to have."""
        return self.as_built.loaded is not False

    @property
    def near_edges(self) -> tuple[Length | None, ...]:
        """Near edges as measured, or from the measured centres where the base width is known [length]."""
        if not self.as_built.centres:
            return self.as_built.near_edges
        width = self.base_width
        if width is None:
            return (None,) * len(self.as_built.centres)
        half = Length(width.nanometres // 2)
        return tuple(None if centre is None else centre - half for centre in self.as_built.centres)

    def joint(self) -> Joint:
        """Return what was measured, for the checker of rule sets; torque and threads are asked one by one.

        Returns:
            The joint, with the clip size of the plan, whose row is the one to hold it to. Centres stand for the edges,
            for their distances are the same.
        """
        return attrs.evolve(
            self.plan.joint,
            count=self.count,
            base_width=self.base_width,
            turn_back=self.as_built.turn_back,
            near_edges=self.as_built.centres or self.near_edges,
            torque=None,
            threads="",
        )

    def breaches(self, joint: Joint, clause: str, margin: Margin) -> tuple[Breach, ...]:
        """Ask every rule set of the plan whether it admits a joint.

        Args:
            joint: The joint.
            clause: The clause asked about.
            margin: By how much a reading may miss its bound.

        Returns:
            The breaches of that clause.
        """
        return tuple(
            breach
            for member in self.plan.members
            for breach in breaches(member.rules, joint, member.verdict.counts_only, margin)
            if breach.clause == clause
        )

    @property
    def saddle_citations(self) -> tuple[Citation, ...]:
        """Who says which way round the clips go, beside common practice: the style, and the services that name it."""
        asked = (finding for finding in self.plan.service.findings if finding.code in _U_ON_DEAD_END)
        return (self.plan.style.citation, *(citation for finding in asked for citation in finding.citations))

    @property
    def dead_end_bound(self) -> Length | None:
        """Least length of dead end beyond the first clip [length]; None where it needs a base width."""
        if isinstance(self.plan.style, SeriesStyle):
            return self.base_width
        planned = self.plan.dead_end
        return None if isinstance(planned, Absent) else planned

    @property
    def dead_ends(self) -> tuple[tuple[int, Length], ...]:
        """The clip next to each dead end that was measured, and the dead end beyond it [length]."""
        edges, found = self.near_edges, []
        tails = [tail for tail in (self.as_built.dead_end, edges[0] if edges else None) if tail is not None]
        if tails:
            found.append((1, min(tails)))
        overlap, width, last = self.as_built.turn_back, self.base_width, self.last_edge
        if self.plan.layout_demand.splice and overlap is not None and width is not None and last is not None:
            found.append((self.count, overlap - last - width))
        return tuple(found)

    @property
    def last_edge(self) -> Length | None:
        """Near edge of the clip farthest from the dead end [length]; None where it was not measured."""
        edges = self.near_edges
        return edges[self.count - 1] if 0 < self.count <= len(edges) else None

    def clip(self, number: int) -> str:
        """Name a clip.

        Args:
            number: From 1 at the dead end [-]; a plate's body is clip 1.

        Returns:
            ``clip 2``.
        """
        return f"clip {number}"

    def named(self, item: str) -> str:
        """Name an item, with the eye that it belongs to where there are two.

        Args:
            item: The item.

        Returns:
            The name.
        """
        return f"{self.eye}, {item}" if self.eye else item

    def seen(
        self,
        code: str,
        kind: Kind,
        item: str,
        text: str,
        do: str,
        citations: tuple[Citation, ...],
        *,
        measured: object = "",
        bound: object = "",
        out_of_service: bool = False,
    ) -> Observation:
        """Write an observation.

        Args:
            code: Its code.
            kind: Its kind.
            item: What it is about.
            text: What was observed.
            do: What to do.
            citations: Who says so; each is kept once.
            measured: The measured value.
            bound: What it should be.
            out_of_service: Whether the joint is taken out of service for it.

        Returns:
            The observation.
        """
        once = tuple(dict.fromkeys(citations))
        named = self.named(item)
        return Observation(code, kind, named, text, str(measured), str(bound), do, once, out_of_service)

    def made_again(self, fresh: str) -> tuple[str, bool]:
        """Say what to do with a joint that is wrong and cannot be put right under way.

        Args:
            fresh: What to do where it has not carried load.

        Returns:
            What to do, and whether the joint is out of service.
        """
        if not self.loaded:
            return fresh, False
        doubt = "" if self.as_built.loaded else "Nobody says whether it has carried load, so it is taken to have. "
        return f"{doubt}Take the load off and the joint out of service. {self.cut_off()}", True

    def cut_off(self) -> str:
        """Say what is cut off before a joint is made again.

        Returns:
            One or two sentences.
        """
        if self.plan.layout_demand.splice:
            run = "on each rope, from its dead end to the mark where the other dead end came to lie"
        else:
            run = "from the dead end to the mark on the live part where the dead end came to lie"
        length = remake_length(self.plan, self.as_built.turn_back)
        size = "" if isinstance(length, Absent) else f", {length.tape(tape_step(self.plan), 'up')}"
        return f"Cut off the marked length, {run}{size}, and make it again on fresh rope."
