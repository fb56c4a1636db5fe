"""The findings of a plan: what a person must know or do. Every code of planning is made here or in the service book."""

from __future__ import annotations

from typing import Final

from turnback.model.absent import Absent
from turnback.model.classes import is_rotation_resistant
from turnback.model.findings import Finding
from turnback.model.ropedata import diameter_tolerance
from turnback.model.sources import Citation, Source
from turnback.model.styles import ClipStyle
from turnback.planning.cautions import MEASURE_BODY, MEASURE_SERIES, THREE_CLIPS, practice
from turnback.planning.demand import Demand
from turnback.planning.geometry import WIDE_ANGLE, EyeGeometry
from turnback.planning.request import Request
from turnback.planning.resolve import Member
from turnback.planning.service import ServiceDemands
from turnback.planning.spacing import APART
from turnback.planning.strength import Strength
from turnback.quantities import SIXTEENTH, Length, percent_text
from turnback.rules.catalogue import Catalogue

__all__ = [
    "angle_findings",
    "base_width_findings",
    "demand_findings",
    "rope_findings",
    "rule_findings",
    "service_findings",
    "termination_findings",
]


_LEGS: Final = Citation(
    Source("ff-c-450f", "Federal Specification FF-C-450F", issuer="General Services Administration"),
    "inside width between the legs: rope and at least 1/16 in to 1 in, rope and 1/8 in above",
    "read",
)
_NARROW: Final = SIXTEENTH
_WIDE: Final = SIXTEENTH * 2
_ONE_INCH: Final = SIXTEENTH * 16


def rule_findings(request: Request, members: tuple[Member, ...], demand: Demand) -> list[Finding]:
    """Return what the rule sets and their scopes leave to a person.

    Args:
        request: The request.
        members: The rule sets that govern.
        demand: What they ask for together.

    Returns:
        Findings in the order of the rule sets.
    """
    found: list[Finding] = []
    for member in members:
        found += _scope_findings(member, request.termination.kind)
        rules, row = member.rules, member.row
        for service, text in rules.excluded_services:
            if service == request.service:
                found.append(
                    Finding("service-outside-rules", "forbidden", f"{rules.id}: {_closed(text.value)}", text.citations)
                )
        if row.confirm is not None:
            found.append(
                Finding("row-to-confirm", "confirm", f"{rules.id}: {_closed(row.confirm.value)}", row.confirm.citations)
            )
        if row.tells_bodies_apart and request.clip_body == "not given":
            cell = row.count_for("not given")
            text_ = "The body of the clip was not given: the larger count is used. Say whether it is drop-forged."
            found.append(
                Finding("clip-body-not-given", "confirm", text_, cell.citations if cell else (rules.citation,))
            )
        for floor in rules.floors:
            printed = row.count_for(request.clip_body)
            if printed is not None and printed.value < floor.count:
                words = f"{rules.id} prints {printed.value} clips for this size and also says: {floor.text}. "
                words += f"The plan has {demand.count}."
                found.append(Finding("source-floor", "must-do", words, (floor.citation, *printed.citations)))
        for note in rules.notes:
            found.append(Finding("rule-set-note", "note", f"{rules.id}: {note.value}", note.citations))
    return found


def service_findings(
    style: ClipStyle,
    members: tuple[Member, ...],
    service: ServiceDemands,
    strength: Strength,
    catalogue: Catalogue,
) -> list[Finding]:
    """Return what the service asks of the rule sets and of the strength, and is not met.

    Args:
        style: The clip style.
        members: The rule sets that govern.
        service: What the service asks for.
        strength: What the termination breaks at.
        catalogue: Where the tables that a service points to are found.

    Returns:
        Findings that block where something is plainly not met.
    """
    found: list[Finding] = []
    taken = [member.rules for member in members]
    for group in service.rule_sets:
        # By content: a file that bears the table's name need not be the table.
        if not any(catalogue.find(name) in taken for name in group.value):
            words = f"{group.how} The plan does not take that table: name {' or '.join(group.value)} beside the others."
            found.append(Finding("service-table-not-taken", "must-fix", words, group.citations))
    floor = service.count_floor
    if not style.in_series and floor is not None and floor.value > 1:
        words = (
            f"The service asks for at least {floor.value} clips; a {style.title} makes the connection with one body."
        )
        found.append(Finding("one-body-not-enough", "must-fix", words, floor.citations))
    asked, held = service.efficiency_at_least, strength.efficiency
    if asked is None:
        return found
    share = f"The service asks for a connection of at least {percent_text(asked.value)} of the rope's strength"
    if isinstance(held, Absent):
        words = f"{share}, and no source here gives this one an efficiency: {held.reason}."
        found.append(Finding("efficiency-not-shown", "must-fix", words, asked.citations))
    elif held.value < asked.value:
        words = f"{share}, and this one holds {percent_text(held.value)}."
        found.append(Finding("efficiency-too-low", "must-fix", words, (*asked.citations, *held.citations)))
    return found


def _closed(text: str) -> str:
    """What an author of a rule file wrote, as a sentence, whether it ends with a full stop there or not."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _scope_findings(member: Member, kind: str) -> list[Finding]:
    rules, verdict = member.rules, member.verdict
    found: list[Finding] = []
    if verdict.not_given:
        names = ", ".join(verdict.not_given)
        words = f"{rules.id} speaks of certain ropes, and of this one was not given: {names}. Check that it is covered."
        found.append(Finding("rope-not-described", "confirm", words, (verdict.citation,), (("attributes", names),)))
    for name, value, covered in verdict.outside:
        words = (
            f"{rules.id} is headed {covered}, and the {name} is {value}: check the count against the clip maker's "
            "figures."
        )
        found.append(Finding("outside-heading", "confirm", words, (verdict.citation,), ((name, value),)))
    if verdict.terminations and kind not in verdict.terminations:
        words = (
            f"{rules.id} is for {', '.join(verdict.terminations)}; that its numbers hold for a {kind} too is "
            "common practice at best."
        )
        found.append(Finding("termination-not-named", "confirm", words, (verdict.citation,)))
    if verdict.counts_only:
        words = f"For this rope {rules.id} gives the number of clips alone: no turn-back and no torque."
        found.append(Finding("counts-only", "confirm", words, (verdict.citation,)))
    return found


def demand_findings(request: Request, style: ClipStyle, members: tuple[Member, ...], demand: Demand) -> list[Finding]:
    """Return what the count, the torque and the base width leave to a person.

    Args:
        request: The request.
        style: The clip style.
        members: The rule sets that govern.
        demand: What they ask for together.

    Returns:
        Findings, gravest last-minute questions first.
    """
    found: list[Finding] = []
    if demand.large_wires is None:
        asking = [m for m in members if (a := m.rules.adjustments.large_wires) and demand.seat >= a.from_size]
        for member in asking:
            more = member.rules.adjustments.large_wires
            if more is not None:
                words = (
                    f"Is it Seale or another rope with large outer wires? Then {member.rules.id} asks for {more.add} "
                    "more."
                )
                found.append(Finding("large-wires-unknown", "confirm", words, (more.citation,)))
    if request.clip_size is not None and request.clip_size_citation is not None:
        words = f"The clip size {request.clip_size} for this rope is given by the user: confirm it with the clip maker."
        found.append(Finding("clip-size-given", "confirm", words, (request.clip_size_citation,)))
        room = request.clip_size + (_NARROW if request.clip_size <= _ONE_INCH else _WIDE)
        between = [row for m in members for row in m.rules.rows if demand.seat < row.size < request.clip_size]
        if between:
            words = (
                f"A clip of {request.clip_size} is far too big for a rope of {demand.seat}: the table prints a size "
                "between the two, and the torque is meant for a thicker rope."
            )
            found.append(Finding("clip-too-big", "must-fix", words, (members[0].rules.citation,)))
        if demand.seat > room:
            words = (
                f"A rope of {demand.seat} does not go between the legs of a clip of {request.clip_size}: they stand "
                f"{room} apart at least by specification, and no more is known."
            )
            found.append(Finding("clip-too-small", "must-fix", words, (_LEGS,)))
    if style.in_series and demand.count < 3 and request.termination.kind != "lap splice":
        words = f"The rule set asks for {demand.count}; a public regulator asks for at least three clips in any eye."
        found.append(Finding("fewer-than-three", "must-do", words, (THREE_CLIPS,)))
    maker = request.maker
    if maker is not None and maker.efficiency is not None:
        words = (
            f"The clip maker's efficiency of {percent_text(maker.efficiency)} is as the user gave it; the lower of "
            "it and the sources' governs."
        )
        found.append(Finding("efficiency-given", "confirm", words, (maker.citation,)))
    if request.clip_body == "other":
        words = "Malleable and cast clips are for light, non-critical work."
        found.append(Finding("not-forged", "caution", words, (practice("malleable clips for light work only"),)))
    return found + _torque_findings(request, members, demand)


def base_width_findings(base_width: Length | None, seat: Length, *, in_series: bool) -> list[Finding]:
    """Return what a base width that is missing or strange leaves to a person.

    Args:
        base_width: As measured; None where it was not [length].
        seat: Diameter under the clip [length].
        in_series: Whether the style's clips stand in a row.

    Returns:
        At most one finding.
    """
    if base_width is None:
        return [MEASURE_SERIES if in_series else MEASURE_BODY]
    if base_width >= seat:
        return []
    words = f"A base width of {base_width} is under one rope diameter: another dimension may have been measured."
    return [Finding("base-width-small", "confirm", words, (APART,))]


def _torque_findings(request: Request, members: tuple[Member, ...], demand: Demand) -> list[Finding]:
    found: list[Finding] = []
    torque = demand.torque
    if isinstance(torque, Absent):
        words = "No torque is given: take it from the clip maker before the joint is made or loaded."
        found.append(Finding("torque-missing", "must-do", words, (practice("torque comes from the clip's maker"),)))
    elif request.maker is not None and request.maker.torque is not None:
        printed = ", ".join(f"{m.row.torque.value} ({m.rules.id})" for m in members if m.row.torque is not None)
        words = f"The torque {torque.value} is the clip maker's as given by the user" + (
            f"; printed: {printed}." if printed else "."
        )
        found.append(Finding("torque-given", "confirm", words, (request.maker.citation,)))
    if isinstance(demand.threads, Absent) and not isinstance(torque, Absent):
        words = "The condition of the threads is not stated beside the torque: ask the clip maker."
        found.append(Finding("threads-not-stated", "confirm", words, torque.citations))
    return found


def rope_findings(request: Request) -> list[Finding]:
    """Return what the rope itself leaves to a person.

    Args:
        request: The request.

    Returns:
        Findings on condition, diameter, coating and rotation.
    """
    rope = request.rope
    found: list[Finding] = []
    if rope.condition in ("used", "worn"):
        words = f"The rope is {rope.condition}: the sources speak of new rope, and no strength is given."
        found.append(Finding("rope-not-new", "must-do", words, (practice("clips are rated on new rope"),)))
    elif not rope.condition:
        words = "Whether the rope is new was not given; everything here is for new rope."
        found.append(Finding("rope-condition-not-given", "confirm", words, (practice("clips are rated on new rope"),)))
    if rope.measured_diameter is not None:
        found += _diameter_findings(request, rope.measured_diameter)
    if rope.coating is not None:
        words = "Strip the coating where the clips sit, without nicking a wire, and seal its cut edge."
        code, locator = "strip-coating", "coated cable is clipped bare"
        if not rope.coating.stripped:
            words = (
                "Clips over a coating hold far less and unpredictably: never for critical work; test such a joint "
                "first."
            )
            code, locator = "coating-left-on", "clips over a coating"
        found.append(Finding(code, "must-do", words, (practice(locator),)))
    if is_rotation_resistant(rope):
        words = "Rotation-resistant rope: seize it before the cut and keep it from turning until the clips are tight."
        found.append(
            Finding("rotation-resistant", "must-do", words, (practice("handling of rotation-resistant rope"),))
        )
    if rope.actual_breaking_force is not None:
        words = "The actual breaking force on the certificate is recorded and not used: the minimum governs."
        found.append(Finding("actual-force-recorded", "note", words, (practice("the minimum breaking force governs"),)))
    return found


def _diameter_findings(request: Request, measured: Length) -> list[Finding]:
    rope = request.rope
    tolerance = diameter_tolerance(rope)
    pair = (("nominal", str(rope.diameter)), ("measured", str(measured)))
    if isinstance(tolerance, Absent):
        if measured == rope.diameter:
            return []
        words = (
            f"The rope measures {measured} against {rope.diameter} nominal, and no tolerance is at hand: "
            f"{tolerance.reason}."
        )
        return [Finding("diameter-to-confirm", "confirm", words, (practice("measure the rope three times"),), pair)]
    if rope.diameter <= measured <= rope.diameter + tolerance.value:
        return []
    words = (
        f"The rope measures {measured}; the tolerance is {rope.diameter} to "
        f"{rope.diameter + tolerance.value}. Find out why "
        "before it is used; a measured diameter never chooses the clip."
    )
    return [Finding("diameter-out-of-tolerance", "must-do", words, tolerance.citations, pair)]


def termination_findings(request: Request, style: ClipStyle) -> list[Finding]:
    """Return what the kind of eye or splice leaves to a person.

    Args:
        request: The request.
        style: The clip style.

    Returns:
        Findings on the termination.
    """
    kind = request.termination.kind
    found: list[Finding] = []
    if kind == "lap splice":
        words = "A lap splice is for less critical work; two linked eyes are preferred."
        found.append(Finding("lap-splice", "caution", words, (practice("joining two ropes"),)))
    if kind == "soft eye":
        words = "An eye without a thimble crushes the rope on its pin; no source here rates it."
        found.append(Finding("soft-eye", "caution", words, (practice("thimble in every loaded eye"),)))
    if kind == "pulley eye":
        words = (
            "The clip nearest the pulley stands one pulley diameter from its centre, for an included angle of 60 "
            "degrees."
        )
        found.append(Finding("pulley-eye", "note", words, (practice("a pulley in place of a thimble"),)))
    if kind == "plate eye":
        words = (
            "Tighten the nuts in turns so that the plate closes evenly; torque and rating come from the clip's maker."
        )
        found.append(Finding("plate-clip", "must-do", words, (style.citation,)))
    return found


def angle_findings(geometry: EyeGeometry) -> list[Finding]:
    """Return what too wide an angle leaves to a person.

    Args:
        geometry: The eye.

    Returns:
        At most one finding.
    """
    angle = geometry.included_angle
    if isinstance(angle, Absent) or abs(angle.radians) <= WIDE_ANGLE * (1 + 1e-12):
        return []
    words = (
        f"The parts meet at {angle.degrees:.1f} degrees; common practice is 60 degrees or less: make the eye longer."
    )
    return [Finding("wide-angle", "must-do", words, (practice("included angle of 60 degrees"),))]
