"""From the rows of the rule sets to one count, one turn-back, one pair of spacing bounds and one torque."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Final

import attrs

from turnback.errors import Conflict, InputError
from turnback.mechanics import turn_back_in_proportion
from turnback.model.absent import Absent
from turnback.model.cited import Cited
from turnback.model.classes import large_outer_wires
from turnback.model.sources import COMMON_PRACTICE, USER, Citation
from turnback.model.styles import ClipStyle
from turnback.planning.request import Request
from turnback.planning.resolve import Member, seat_diameter
from turnback.planning.service import ServiceDemands
from turnback.planning.spacing import APART, Asked, Bound, agree, asked_bounds, bounds_of
from turnback.planning.torque import torque_of
from turnback.quantities import Length, Torque

__all__ = [
    "Asked",
    "Bound",
    "CountStep",
    "Demand",
    "MemberTurnBack",
    "asked_bounds",
    "demand_of",
    "has_length",
    "in_proportion",
    "measured",
]

PULLEY: Final = Citation(COMMON_PRACTICE, "one more clip for a pulley in place of a thimble", "common practice")
LAP: Final = Citation(COMMON_PRACTICE, "a lap splice has twice the clips and twice the turn-back", "common practice")
ASKED: Final = Citation(USER, "clips asked for beyond the rule", "user")
PROPORTION: Final = Citation(COMMON_PRACTICE, "more clips: turn-back in proportion", "common practice")


@attrs.frozen
class CountStep:
    """One step on the way to the number of clips.

    Args:
        label: What was done, in words.
        count: Number of clips after it [-].
        citations: Who says so.
    """

    label: str
    count: int
    citations: tuple[Citation, ...]


@attrs.frozen
class MemberTurnBack:
    """One member's turn-back for the number of clips of this plan.

    Args:
        rules_id: The member.
        printed: As its row prints it [length].
        printed_count: Clips printed beside it [-].
        length: In proportion to the clips of one eye, rounded up once [length].
        citations: Who says so.
    """

    rules_id: str
    printed: Length
    printed_count: int
    length: Length
    citations: tuple[Citation, ...]


@attrs.frozen
class Demand:
    """What the rule sets, the service and the trade ask for together.

    Args:
        seat: Diameter that the clip sits on [length].
        clip_size: Size of the clip [length].
        clip_size_citation: Who pairs it with the rope.
        steps: The way to the number of clips.
        count: Clips on one eye, or on each half of a lap splice [-].
        total: Clips on one eye, or on the whole lap splice [-].
        turn_backs: Each member's turn-back.
        turn_back: The longest of them [length]; None where nobody prints one.
        least: The greatest of the least distances; None where there is none.
        greatest: The smallest of the greatest distances; None where there is none.
        base_width: Base width of a clip [length]; None where it was not measured.
        depends_on_base_width: Whether the turn-back cannot be told without the base width.
        torque: Tightening torque [torque].
        threads: Condition of the threads that goes with it.
        large_wires: Whether the rope has large outer wires; None where somebody must say.
    """

    seat: Length
    clip_size: Length
    clip_size_citation: Citation
    steps: tuple[CountStep, ...]
    count: int
    total: int
    turn_backs: tuple[MemberTurnBack, ...]
    turn_back: Length | None
    least: Bound | None
    greatest: Bound | None
    base_width: Length | None
    depends_on_base_width: bool
    torque: Cited[Torque] | Absent
    threads: Cited[str] | Absent
    large_wires: bool | None


def demand_of(request: Request, style: ClipStyle, members: tuple[Member, ...], service: ServiceDemands) -> Demand:
    """Bring the members together, as far as it can be done before a clip is measured.

    Args:
        request: The request; its base width is not looked at.
        style: The clip style.
        members: The rule sets that govern, with their rows.
        service: What the service asks for.

    Returns:
        One demand, to be completed with :func:`measured`.

    Raises:
        Conflict: Patterns, clip sizes, torques or spacing bounds cannot be met together.
        InputError: Clips are added to a style of one body, or no member prints a count.
    """
    size = _agreed_size(request, members)
    wires = large_outer_wires(request.rope)
    seat = seat_diameter(request.rope, in_series=style.in_series)
    steps = _count_steps(request, style, members, service, wires, seat)
    count = total = steps[-1].count
    turn_backs = tuple(found for member in members if (found := _turn_back(member, request, count)) is not None)
    if request.termination.kind == "lap splice":
        total = 2 * count
        cited = tuple(c for m in members if (f := m.rules.adjustments.lap_factor) is not None for c in f.citations)
        steps = (*steps, CountStep("twice for a lap splice", total, cited or (LAP,)))
    torque, threads = torque_of(request, members)
    asked = asked_bounds(style, members, service)
    least, greatest = bounds_of(asked, seat, None)
    return Demand(
        seat=seat,
        clip_size=size,
        clip_size_citation=request.clip_size_citation or _pairing(members[0], request),
        steps=steps,
        count=count,
        total=total,
        turn_backs=turn_backs,
        turn_back=max((found.length for found in turn_backs), default=None),
        least=least,
        greatest=greatest,
        base_width=None,
        depends_on_base_width=any(bound.bound != "greatest" for bound, _ in asked),
        torque=torque,
        threads=threads,
        large_wires=wires,
    )


def _pairing(member: Member, request: Request) -> Citation:
    # The size stands in the row, and the row may have been read where the rest of the table was not.
    cell = member.row.count_for(request.clip_body) or member.row.torque
    return cell.citations[0] if cell is not None and member.rules.rows else member.rules.citation


def has_length(demand: Demand, asked: Asked) -> bool:
    """Whether any source gives a turn-back or a spacing that makes one.

    Args:
        demand: What is asked for together.
        asked: The bounds on the spacing.

    Returns:
        False where nothing but common practice would be left to tell how much rope to turn back.
    """
    return demand.turn_back is not None or any(bound.bound != "greatest" for bound, _ in asked)


def measured(demand: Demand, asked: Asked, base_width: Length, *, in_series: bool) -> Demand:
    """Complete a demand with the base width of the clip in hand.

    Args:
        demand: What was made before the clip was measured.
        asked: The bounds on the spacing.
        base_width: Length of one saddle along the rope [length].
        in_series: Whether the style's clips stand in a row.

    Returns:
        The demand with its bounds on the spacing.

    Raises:
        Conflict: One source asks for more distance than another allows.
        InputError: The clips cannot even stand side by side in a printed turn-back.
    """
    least, greatest = demand.least, demand.greatest
    if in_series:
        for each in demand.turn_backs:
            _fits(each, base_width, demand.count)
        if any(bound.clear or (bound.length is not None and bound.length.base_widths) for bound, _ in asked):
            least, greatest = bounds_of(asked, demand.seat, base_width)
        apart = base_width * 2
        if least is None or apart > least.length:
            least = Bound(apart, "one base width apart", APART)
            agree(least, greatest)
    return Demand(
        demand.seat,
        demand.clip_size,
        demand.clip_size_citation,
        demand.steps,
        demand.count,
        demand.total,
        demand.turn_backs,
        demand.turn_back,
        least,
        greatest,
        base_width,
        False,
        demand.torque,
        demand.threads,
        demand.large_wires,
    )


def _agreed_size(request: Request, members: tuple[Member, ...]) -> Length:
    sized = [member for member in members if member.rules.rows]
    for one, other in pairwise(sized):
        pair = f"{one.rules.citation} and {other.rules.citation}"
        if one.row.size != other.row.size:
            raise Conflict(
                "the rule sets take different clip sizes for this rope",
                field="rules",
                value=f"{one.rules.id} takes {one.row.size}, {other.rules.id} takes {other.row.size}",
                citation=pair,
                instead="Take the rule sets one at a time: clips of two patterns are not mixed.",
            )
    patterns = {member.rules.pattern: member for member in members if member.rules.pattern}
    if len(patterns) > 1:
        one, other = list(patterns.values())[:2]
        raise Conflict(
            "the rule sets belong to different patterns of clip, and torque belongs to the pattern",
            field="rules",
            value=f"{one.rules.id} is for the {one.rules.pattern} pattern, {other.rules.id} for {other.rules.pattern}",
            citation=f"{one.rules.citation} and {other.rules.citation}",
            instead="Take the rule set of the clip in hand.",
        )
    return request.clip_size or (sized or members)[0].row.size


def _count_steps(
    request: Request,
    style: ClipStyle,
    members: tuple[Member, ...],
    service: ServiceDemands,
    wires: bool | None,
    seat: Length,
) -> tuple[CountStep, ...]:
    steps = _printed_steps(request, members, wires, seat)
    count = steps[-1].count
    if not style.in_series:
        if request.extra_clips:
            raise InputError(
                f"one body makes the connection with a {style.title}; clips are not added",
                field="extra_clips",
                value=str(request.extra_clips),
                bound="0",
                citation=str(style.citation),
                instead="Leave extra_clips out.",
            )
        return tuple(steps)
    for floor_count, label, citations in _floors(members, service):
        if floor_count > count:
            count = floor_count
            steps.append(CountStep(label, count, citations))
    if request.termination.kind == "pulley eye":
        own = [m.rules.adjustments.pulley for m in members if m.rules.adjustments.pulley is not None]
        more = max(own, key=lambda cell: cell.value, default=Cited(1, (PULLEY,)))
        count += more.value
        steps.append(CountStep(f"{more.value} more for a pulley", count, more.citations))
    if request.extra_clips:
        count += request.extra_clips
        steps.append(CountStep(f"{request.extra_clips} more asked for", count, (ASKED,)))
    return tuple(steps)


def _printed_steps(request: Request, members: tuple[Member, ...], wires: bool | None, seat: Length) -> list[CountStep]:
    printed: list[CountStep] = []
    for member in members:
        cell = member.row.count_for(request.clip_body)
        if cell is None:
            continue
        more = member.rules.adjustments.large_wires
        printed.append(CountStep(f"{member.rules.id} prints {cell.value}", cell.value, cell.citations))
        # By the diameter under the clip, which picks the row too; over a coating it never asks for less.
        if more is not None and wires and seat >= more.from_size:
            label = f"{member.rules.id} adds {more.add} for large outer wires"
            printed.append(CountStep(label, cell.value + more.add, (*cell.citations, more.citation)))
    if not printed:
        raise InputError(
            "none of the rule sets prints a number of clips",
            field="rules",
            value=", ".join(member.rules.id for member in members),
            instead="Add a rule set that prints a count.",
        )
    if len(members) == 1:
        return printed
    top = max(printed, key=lambda step: step.count)
    return [CountStep("the largest: " + ", ".join(step.label for step in printed), top.count, top.citations)]


def _floors(members: tuple[Member, ...], service: ServiceDemands) -> list[tuple[int, str, tuple[Citation, ...]]]:
    found: list[tuple[int, str, tuple[Citation, ...]]] = [
        (floor.count, f"{member.rules.id}: {floor.text}", (floor.citation,))
        for member in members
        for floor in member.rules.floors
    ]
    if service.count_floor is not None:
        found.append(
            (service.count_floor.value, "the service asks for at least so many", service.count_floor.citations)
        )
    return found


def _turn_back(member: Member, request: Request, count: int) -> MemberTurnBack | None:
    printed, cell = member.row.turn_back, member.row.count_beside_turn_back(request.clip_body)
    if printed is None or cell is None or member.verdict.counts_only:
        return None
    length = printed.value
    citations = printed.citations
    if count != cell.value:
        length = _grown(length, count, cell.value)
        citations = (*citations, member.rules.adjustments.proportion or PROPORTION)
    return MemberTurnBack(member.rules.id, printed.value, cell.value, length, citations)


def in_proportion(each: MemberTurnBack, count: int) -> Length:
    """Return a member's turn-back for another number of clips.

    Args:
        each: The member's turn-back.
        count: Clips on one eye [-].

    Returns:
        In proportion from its own row, rounded up once [length].
    """
    return _grown(each.printed, count, each.printed_count)


def _grown(printed: Length, count: int, printed_count: int) -> Length:
    return Length.up(turn_back_in_proportion(Fraction(printed.nanometres), count, printed_count))


def _fits(each: MemberTurnBack, base_width: Length, count: int) -> None:
    # Side by side the clips and the end allowance take count + 1 base widths: the spacing is then one base width.
    if count > 1 and base_width.nanometres * (count + 1) > each.length.nanometres:
        room = Length.down(Fraction(each.length.nanometres, count + 1))
        raise InputError(
            f"{count} clips of this base width cannot stand side by side in the turn-back of {each.length}",
            field="base_width",
            value=str(base_width),
            bound=f"at most {room} for the clips to touch",
            citation=str(each.citations[0]),
            instead="Measure one saddle along the rope again, and check that the clip is of the right size and kind.",
        )
