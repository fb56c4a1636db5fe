"""The layouts of many rows, as the two styles of the core lay out one: whole nanometres, exactly."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from turnback.batch.arrays import Flags
from turnback.batch.cases import Line
from turnback.batch.roster import Wholes
from turnback.mechanics import (
    overlap_for_spacing,
    spacing_in_overlap,
    spacing_in_turn_back,
    turn_back_for_spacing,
)

__all__ = ["Layouts", "along_lines", "body_layouts", "least_spacing", "series_layouts"]


class Layouts(NamedTuple):
    """The layouts of many rows; one clip has no spacing, and whatever stands there is no number.

    Args:
        turn_back: Turn-backs, in whole nanometres.
        spacing: Distances between centres, in whole nanometres, rounded up.
        lengthened: Where a least spacing needs more than the printed turn-back.
    """

    turn_back: Wholes
    spacing: Wholes
    lengthened: Flags


def least_spacing(base: Wholes, least: Wholes) -> Wholes:
    """Return the least distance between clips: what is asked for, and one base width between two of them.

    Args:
        base: Base widths.
        least: The least distances that do not depend on them.

    Returns:
        The greater of both.
    """
    return np.maximum(least, 2 * base)


def along_lines(base: Wholes, cases: Wholes, lines: Sequence[tuple[Line, ...]], start: Wholes, *, most: bool) -> Wholes:
    """Take bounds into account that grow with the base width.

    Args:
        base: Base widths.
        cases: The case of each row.
        lines: The bounds of each case.
        start: The bounds that do not grow.
        most: True for greatest bounds, of which the smallest holds; False for least ones.

    Returns:
        The bounds of each row.
    """
    found = start.copy()
    for case in np.unique(cases).tolist():
        if not lines[case]:
            continue
        rows = np.flatnonzero(cases == case)
        for line in lines[case]:
            exact = line.constant + line.factor * base[rows]
            value = -(-exact // line.divisor) if line.up else exact // line.divisor
            found[rows] = np.minimum(found[rows], value) if most else np.maximum(found[rows], value)
    return found


def series_layouts(base: Wholes, count: Wholes, printed: Wholes, least: Wholes, *, splice: bool) -> Layouts:
    """Lay out clips in a row.

    Args:
        base: Base widths.
        count: Clips on one eye, or on each half of a lap splice.
        printed: Printed turn-backs; zero where none is printed.
        least: Least distances between centres.
        splice: Whether they are lap splices.

    Returns:
        The layouts.
    """
    # Below 1e13 nm the float nearest to a quotient of whole numbers has the quotient's own ceiling.
    if splice:
        total = 2 * count
        printed = 2 * printed
        whole = np.maximum(printed, overlap_for_spacing(base, total, least))
        spacing = spacing_in_overlap(whole, base, total)
    else:
        whole = np.maximum(printed, turn_back_for_spacing(base, count, least))
        spacing = spacing_in_turn_back(whole, base, count)
    lengthened = whole > printed
    lengthened &= printed > 0
    return Layouts(whole, np.ceil(spacing).astype(np.int64), lengthened)


def body_layouts(base: Wholes, beyond: Wholes, printed: Wholes) -> Layouts:
    """Lay out bodies of one or two plates.

    Args:
        base: Lengths of the body along the rope.
        beyond: Dead ends beyond it.
        printed: Printed turn-backs; zero where none is printed.

    Returns:
        The layouts.
    """
    whole = np.maximum(beyond + base, printed)
    return Layouts(whole, whole, np.zeros(len(base), dtype=np.bool_))
