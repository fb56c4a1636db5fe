"""Rows of one kind of termination, planned together: what is checked, in the order in which the scalar path checks."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from turnback.batch.answers import Mask
from turnback.batch.arrays import Flags
from turnback.batch.part_eye import BARE, THIMBLE, PartEye, eyes_of
from turnback.batch.part_layout import Laid, lay_out
from turnback.batch.part_rows import PartRows
from turnback.batch.requests import DIMENSIONS
from turnback.batch.roster import Wholes
from turnback.batch.statuses import Status
from turnback.batch.stretch import Stretch, Verdict
from turnback.mechanics import cut_length, termination_breaking_force

__all__ = ["Part", "plan_part"]

_FARTHEST: Final = 10**10
"""A dimension of an eye or a clip above this is left to the scalar path [nm]."""
_EYE: Final = tuple(dict.fromkeys(name for names in DIMENSIONS.values() for name in names if name != "included_angle"))


class Part(NamedTuple):
    """What was found for rows of one kind.

    Args:
        laid: Their layouts.
        eye: Their eyes; None where no row has one.
        cut: Lengths to cut for their spans, in whole nanometres; None where no row has one.
        cut_given: Rows that have one; None where every row has.
        masks: What tells their findings apart.
        verdict: Their statuses, and the rows that are left to the scalar path.
    """

    laid: Laid
    eye: PartEye | None
    cut: Wholes | None
    cut_given: Flags | None
    masks: npt.NDArray[np.uint8]
    verdict: Verdict


def plan_part(rows: PartRows, *, in_series: bool) -> Part:
    """Plan rows of one kind of termination.

    Args:
        rows: The rows.
        in_series: Whether the style's clips stand in a row.

    Returns:
        What was found.
    """
    stretch, verdict = rows.stretch, rows.verdict
    _other_kinds(stretch, rows.kind, verdict)
    _too_short(rows)
    if rows.table.has_refused:
        verdict.take(rows.wholes("refused").astype(np.uint8))
    if rows.table.has_scalar:
        verdict.ask(rows.flags("scalar"))
    for name in ("base_width", *_EYE):
        column = stretch.lengths.get(name)
        if column is not None and column.most > _FARTHEST:
            verdict.ask(column.numbers > _FARTHEST)
    laid = lay_out(rows, in_series=in_series)
    eye = eyes_of(rows)
    _judge_load(rows)
    _own_factor(rows)
    size = stretch.lengths.get("clip_size")
    if size is not None:
        rows.refuse(size.numbers != rows.wholes("clip_size"), size.given, Status.OTHER_CLIP_SIZE)
    cut, cut_given = _cut(rows, laid, eye)
    return Part(laid, eye, cut, cut_given, rows.masks, verdict)


def _other_kinds(stretch: Stretch, kind: str, verdict: Verdict) -> None:
    allowed = DIMENSIONS[kind]
    for name in (*_EYE, "included_angle"):
        column = stretch.lengths.get(name) or stretch.scalars.get(name)
        if column is not None and name not in allowed:
            everywhere = np.ones(stretch.count, dtype=np.bool_)
            verdict.refuse(everywhere if column.given is None else column.given, Status.DIMENSION_OF_ANOTHER_KIND)
    if kind == "plate eye":
        both = _any_given(stretch, BARE) & _any_given(stretch, THIMBLE)
        verdict.refuse(both, Status.DIMENSION_OF_ANOTHER_KIND)


def _any_given(stretch: Stretch, names: tuple[str, ...]) -> Flags:
    found = np.zeros(stretch.count, dtype=np.bool_)
    for name in names:
        column = stretch.lengths.get(name)
        if column is not None:
            found |= True if column.given is None else column.given
    return found


def _too_short(rows: PartRows) -> None:
    stretch, kind = rows.stretch, rows.kind
    for prefix in ("", "second_") if kind == "linked eyes" else ("",):
        names = (f"{prefix}inside_length", f"{prefix}inside_width")
        if kind in ("thimble eye", "linked eyes", "plate eye") and not stretch.nowhere(*names):
            length, width = (stretch.lengths[name].numbers for name in names)
            rows.refuse(length < width, stretch.given(*names))
    if kind in ("soft eye", "plate eye") and not stretch.nowhere(*BARE):
        pin, length = (stretch.lengths[name].numbers for name in BARE)
        rows.refuse(length <= pin, stretch.given(*BARE))


def _judge_load(rows: PartRows) -> None:
    load = rows.stretch.scalars.get("load")
    if load is None:
        return
    judged = rows.flags("judged")
    breaking = rows.floats("breaking")
    force = rows.stretch.scalars.get("minimum_breaking_force")
    if force is not None:
        own = termination_breaking_force(force.numbers, rows.floats("efficiency"))
        breaking = own if force.given is None else np.where(force.given, own, breaking)
    above = judged & ~(load.numbers <= breaking / rows.floats("factor"))
    not_judged = ~judged
    if load.given is not None:
        above &= load.given
        not_judged &= load.given
    rows.mark(above, Mask.OVERLOADED)
    rows.mark(not_judged, Mask.NOT_JUDGED)
    factor = rows.stretch.scalars.get("design_factor")
    if factor is not None:
        # A load between the two working loads, at the cited factor and at the row's own, is judged by the scalar path.
        near = judged & ~above & ~(load.numbers <= breaking / factor.numbers)
        rows.verdict.ask(near if factor.given is None else near & factor.given)


def _own_factor(rows: PartRows) -> None:
    """Leave a design factor below the one that is cited to the scalar path, which refuses it."""
    own = rows.stretch.scalars.get("design_factor")
    if own is not None:
        low = ~(own.numbers > rows.floats("factor")) & ~np.isnan(rows.floats("factor"))
        rows.verdict.ask(low if own.given is None else low & own.given)


def _cut(rows: PartRows, laid: Laid, eye: PartEye | None) -> tuple[Wholes | None, Flags | None]:
    span = rows.stretch.lengths.get("span")
    if span is None or eye is None or laid.turn_back is None:
        return None, None
    given: Flags | None = None
    for flags in (span.given, eye.given, laid.turn_back_given):
        if flags is not None:
            given = flags if given is None else given & flags
    reach, rope, turn_back = eye.reach, eye.rope, laid.turn_back
    cut = cut_length(span.numbers, reach, reach, rope, rope, turn_back, turn_back)
    between = span.numbers - 2 * reach
    # Nothing between the bases is less than both turn-backs too, which are above zero.
    rows.refuse(between < 2 * turn_back, given, Status.SPAN_REFUSED)
    return cut, given
