"""Bounds on the distance between neighbouring clips, from the rule sets, the service and the trade."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, TypeAlias

import attrs

from turnback.errors import Conflict
from turnback.model.sources import COMMON_PRACTICE, Citation
from turnback.model.styles import ClipStyle
from turnback.planning.resolve import Member
from turnback.planning.service import ServiceDemands
from turnback.quantities import Length
from turnback.rules.ruleset import Row, SpacingBound

__all__ = ["APART", "Asked", "Bound", "agree", "asked_bounds", "bounds_of"]

APART: Final = Citation(COMMON_PRACTICE, "clips at least one base width apart", "common practice")


@attrs.frozen
class Bound:
    """One bound on the distance between centres.

    Args:
        length: The bound; a least one rounded up, a greatest one down, to the nanometre [length].
        text: As the source words it.
        citation: Who says so.
    """

    length: Length
    text: str
    citation: Citation


Asked: TypeAlias = tuple[tuple[SpacingBound, Row], ...]
"""Bounds on the spacing, each with the row that it is taken from."""


def asked_bounds(style: ClipStyle, members: tuple[Member, ...], service: ServiceDemands) -> Asked:
    """List the bounds that the rule sets and the service put on the spacing.

    Args:
        style: The clip style.
        members: The rule sets that govern, with their rows.
        service: What the service asks for.

    Returns:
        Bounds with their rows; none for a style of one body.
    """
    if not style.in_series:
        return ()
    # A source that gives nothing but the count for this rope gives no spacing for it either.
    giving = [member for member in members if not member.verdict.counts_only]
    found = [(bound, member.row) for member in giving for bound in member.rules.spacing]
    row = members[0].row
    return (*found, *((bound, row) for bound in service.spacing))


def bounds_of(asked: Asked, seat: Length, base: Length | None) -> tuple[Bound | None, Bound | None]:
    """Evaluate the bounds and take the strictest of each kind.

    Args:
        asked: Bounds with their rows.
        seat: Diameter under the clip [length].
        base: Base width of a clip [length]; None where it was not measured.

    Returns:
        The greatest least bound and the smallest greatest one; None where there is none.

    Raises:
        Conflict: The one is above the other.
    """
    least: list[Bound] = []
    greatest: list[Bound] = []
    for bound, row in asked:
        value = _value(bound, row, seat, base)
        if value is None:
            continue
        text = bound.length.text if bound.length is not None else "as the table prints it,"
        text += " clear" if bound.clear else " between centres"
        # Where the row prints the distance, the cell is the citation; its status may differ from the rule's.
        citation = row.spacing.citations[0] if bound.length is None and row.spacing is not None else bound.citation
        # An equal distance that is no whole number of nanometres is met by the whole number above it.
        low, high = Length.up(value), Length.down(value)
        if bound.bound == "equal":
            high = low
        if bound.bound != "greatest":
            least.append(Bound(low, text, citation))
        if bound.bound != "least":
            greatest.append(Bound(high, text, citation))
    top = max(least, key=lambda bound: bound.length, default=None)
    bottom = min(greatest, key=lambda bound: bound.length, default=None)
    agree(top, bottom)
    return top, bottom


def agree(least: Bound | None, greatest: Bound | None) -> None:
    """Refuse two bounds that cannot be met together.

    Args:
        least: Least distance; None where there is none.
        greatest: Greatest distance; None where there is none.

    Raises:
        Conflict: The least distance is above the greatest.
    """
    if least is None or greatest is None or least.length <= greatest.length:
        return
    raise Conflict(
        "one source asks for more distance between the clips than another allows",
        field="spacing",
        value=f"at least {least.length} ({least.text})",
        bound=f"at most {greatest.length} ({greatest.text})",
        citation=f"{least.citation} and {greatest.citation}",
        instead="Take another rule set, or clips with a smaller base width.",
    )


def _value(bound: SpacingBound, row: Row, seat: Length, base: Length | None) -> Fraction | None:
    if bound.length is not None:
        value = bound.length.nanometres(seat, base)
    else:
        value = Fraction(row.spacing.value.nanometres) if row.spacing is not None else None
    if not bound.clear or value is None:
        return value
    return None if base is None else value + base.nanometres
