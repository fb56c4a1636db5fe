"""Which numbers of a plan lean on memory, and which document must be opened to check them."""

from __future__ import annotations

from collections.abc import Iterable

from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.findings import Finding
from turnback.model.sources import Citation
from turnback.planning.demand import Asked, Demand
from turnback.planning.resolve import Member
from turnback.planning.strength import Strength
from turnback.quantities import MassPerLength

__all__ = ["memory_findings"]


def memory_findings(
    members: tuple[Member, ...], demand: Demand, strength: Strength, asked: Asked, mass: Cited[MassPerLength] | Absent
) -> list[Finding]:
    """Return one finding for each document that numbers were recalled from.

    Args:
        members: The rule sets that govern.
        demand: What the rule sets ask for together.
        strength: What the termination breaks at.
        asked: Bounds on the spacing, with their rows.
        mass: Mass of the rope per length, which the materials lean on [mass per length].

    Returns:
        Findings that name the values and the place to read them.
    """
    found: dict[str, tuple[list[str], list[Citation]]] = {}
    for name, citations in _named(members, demand, strength, asked, mass):
        for citation in citations:
            if citation.status == "memory":
                names, places = found.setdefault(citation.source.id, ([], []))
                if name not in names:
                    names.append(name)
                if citation not in places:
                    places.append(citation)
    return [
        Finding(
            "from-memory",
            "confirm",
            f"Recalled and not yet read against the document: {', '.join(names)}. Check in "
            f"{places[0].source.document}: " + "; ".join(place.locator for place in places) + ".",
            tuple(places),
            (("values", ", ".join(names)),),
        )
        for names, places in found.values()
    ]


def _named(
    members: tuple[Member, ...], demand: Demand, strength: Strength, asked: Asked, mass: Cited[MassPerLength] | Absent
) -> Iterable[tuple[str, tuple[Citation, ...]]]:
    for member in members:
        yield "class of the construction", member.verdict.class_citations
    yield "size of the clip", (demand.clip_size_citation,)
    for step in demand.steps:
        yield "number of clips", step.citations
    for turn_back in demand.turn_backs:
        yield "turn-back", turn_back.citations
    for bound, row in asked:
        yield (
            "spacing",
            row.spacing.citations if bound.length is None and row.spacing is not None else (bound.citation,),
        )
    for name, cell in (
        ("torque", demand.torque),
        ("threads", demand.threads),
        ("efficiency", strength.efficiency),
        ("minimum breaking force", strength.minimum_breaking_force),
        ("mass of the rope", mass),
    ):
        if isinstance(cell, Cited):
            yield name, cell.citations
