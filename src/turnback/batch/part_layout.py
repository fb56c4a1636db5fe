"""Where the clips of many rows sit: the cases' demands, completed with the base widths, and laid out."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from turnback.batch.answers import Mask
from turnback.batch.arrays import Flags
from turnback.batch.layout_kernel import along_lines, body_layouts, least_spacing, series_layouts
from turnback.batch.part_rows import PartRows
from turnback.batch.roster import Wholes
from turnback.batch.statuses import Status

__all__ = ["Laid", "lay_out"]


class Laid(NamedTuple):
    """Layouts. Flags of None mean that the numbers are there for every row; numbers of None, for none.

    Args:
        turn_back: Turn-backs, in whole nanometres.
        turn_back_given: Rows that have one.
        spacing: Distances between centres, in whole nanometres.
        spacing_given: Rows that have one.
    """

    turn_back: Wholes | None
    turn_back_given: Flags | None
    spacing: Wholes | None
    spacing_given: Flags | None


def lay_out(rows: PartRows, *, in_series: bool) -> Laid:
    """Lay out the clips of rows of one kind.

    Args:
        rows: The rows.
        in_series: Whether the style's clips stand in a row.

    Returns:
        The layouts.
    """
    column = rows.stretch.lengths.get("base_width")
    if column is None or (column.given is not None and not column.given.any()):
        rows.masks |= np.uint8(Mask.UNMEASURED)
        return _unmeasured(rows, None) if in_series else Laid(None, None, None, None)
    base, known = column.numbers, column.given
    nominal = rows.stretch.nominal
    small = base < (rows.wholes("seat") if nominal is None else nominal)
    if known is not None:
        rows.mark(~known, Mask.UNMEASURED)
        small &= known
    rows.mark(small, Mask.SMALL)
    if not in_series:
        laid = body_layouts(base, rows.wholes("beyond"), rows.wholes("printed"))
        return Laid(laid.turn_back, known, None, None)
    measured = _measured(rows, base, known)
    return measured if known is None else _beside(rows, measured, known)


def _measured(rows: PartRows, base: Wholes, known: Flags | None) -> Laid:
    table, clips = rows.table, rows.wholes("clips")
    # Side by side the clips and the end allowance take one base width more than there are clips.
    crowded = base * (clips + 1) > rows.wholes("room")
    if crowded.any():
        rows.refuse(crowded & (clips > 1), known)
    least = rows.wholes("least")
    if table.has_lines:
        least = along_lines(base, rows.cases, table.least_lines, least, most=False)
    least = least_spacing(base, least)
    greatest: Wholes | None = None
    if table.has_greatest:
        greatest = rows.wholes("greatest")
        if table.has_lines:
            greatest = along_lines(base, rows.cases, table.greatest_lines, greatest, most=True)
        rows.refuse(least > greatest, known, Status.CONFLICT)
    laid = series_layouts(base, clips, rows.wholes("printed"), least, splice=rows.kind == "lap splice")
    spaced = rows.flags("spaced") if table.has_unspaced else None
    turn_back_given = _both(known, spaced)
    spacing_given = turn_back_given
    if rows.kind != "lap splice" and table.has_single:
        spacing_given = _both(spacing_given, clips > 1)
    lengthened = laid.lengthened if turn_back_given is None else laid.lengthened & turn_back_given
    rows.mark(lengthened, Mask.LENGTHENED)
    if greatest is not None:
        rows.refuse(laid.spacing > greatest, spacing_given, Status.CONFLICT)
    return Laid(laid.turn_back, turn_back_given, laid.spacing, spacing_given)


def _both(one: Flags | None, other: Flags | None) -> Flags | None:
    if one is None or other is None:
        return other if one is None else one
    return one & other


def _unmeasured(rows: PartRows, unknown: Flags | None) -> Laid:
    """What stands without a base width: a printed turn-back, unless no base width can bring it within its bound."""
    if rows.table.has_greatest:
        rows.refuse(rows.flags("unmeasured_conflict"), unknown, Status.CONFLICT)
    turn_back = rows.wholes("unmeasured")
    return Laid(turn_back, turn_back > 0, None, None)


def _beside(rows: PartRows, measured: Laid, known: Flags) -> Laid:
    """Rows with a base width and rows without one, together."""
    rest = _unmeasured(rows, ~known)
    if rest.turn_back is None or measured.turn_back is None:
        return measured
    return Laid(
        np.where(known, measured.turn_back, rest.turn_back),
        np.where(known, True if measured.turn_back_given is None else measured.turn_back_given, rest.turn_back > 0),
        measured.spacing,
        measured.spacing_given,
    )
