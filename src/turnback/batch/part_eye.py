"""The eyes of many rows of one kind: which dimensions are given, what is laid round what, and what is refused."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from turnback.batch.answers import Mask
from turnback.batch.arrays import Flags, Numbers
from turnback.batch.eye_kernel import Eyes, pulley_eyes, soft_eyes, thimble_eyes
from turnback.batch.part_rows import PartRows
from turnback.batch.roster import Wholes
from turnback.planning.geometry import WIDE_ANGLE

__all__ = ["BARE", "THIMBLE", "PartEye", "eyes_of"]

BARE: Final = ("pin", "eye_length")
"""Dimensions of an eye round a pin."""
THIMBLE: Final = ("inside_length", "inside_width", "groove_offset")
"""Dimensions of an eye round a thimble."""


class PartEye(NamedTuple):
    """The eyes of rows.

    Args:
        rope: Rope in each eye, in whole nanometres.
        reach: From the base of each to its bearing point, in whole nanometres.
        given: Rows that have an eye; None where every row has one.
    """

    rope: Wholes
    reach: Wholes
    given: Flags | None


def eyes_of(rows: PartRows) -> PartEye | None:
    """Compute the eyes of rows of one kind.

    Args:
        rows: The rows.

    Returns:
        The eyes, of linked eyes the first; None where no row has one.
    """
    if rows.kind == "lap splice":
        return None
    nominal = rows.stretch.nominal
    if nominal is None:
        around, apart = rows.floats("around"), rows.floats("under")
    else:
        around = apart = nominal.astype(np.float64)
    parts = rows.stretch.lengths.get("parts_apart")
    if rows.kind == "plate eye" and parts is not None:
        wanted = parts.numbers.astype(np.float64)
        rows.refuse(wanted < apart, parts.given)
        apart = wanted if parts.given is None else np.where(parts.given, wanted, apart)
    if rows.kind == "linked eyes":
        first = _thimbles(rows, "", around, apart, Mask.WIDE)
        _thimbles(rows, "second_", around, apart, Mask.WIDE_SECOND)
        return first
    if rows.kind == "pulley eye":
        return _pulleys(rows, around, apart)
    soft = None if rows.kind == "thimble eye" else _softs(rows, around, apart)
    thimbles = None if rows.kind == "soft eye" else _thimbles(rows, "", around, apart, Mask.WIDE)
    return _merged(soft, thimbles)


def _merged(one: PartEye | None, other: PartEye | None) -> PartEye | None:
    if one is None or other is None:
        return one or other
    # Rows that give both are refused, so that what is not the one is the other.
    mine = np.ones(len(one.rope), dtype=np.bool_) if one.given is None else one.given
    return PartEye(
        np.where(mine, one.rope, other.rope),
        np.where(mine, one.reach, other.reach),
        None if one.given is None or other.given is None else one.given | other.given,
    )


def _judged(rows: PartRows, eyes: Eyes, given: Flags | None, bit: int) -> PartEye:
    rows.mark(eyes.wide if given is None else eyes.wide & given, bit)
    if eyes.doubt is not None:
        rows.verdict.ask(eyes.doubt if given is None else eyes.doubt & given)
    if eyes.refused is not None:
        rows.refuse(eyes.refused, given)
    return PartEye(eyes.rope, eyes.reach, given)


def _thimbles(rows: PartRows, prefix: str, around: Numbers, apart: Numbers, bit: int) -> PartEye | None:
    names = [prefix + name for name in THIMBLE]
    if rows.stretch.nowhere(*names):
        return None
    length, width, offset = (rows.stretch.lengths[name].numbers for name in names)
    return _judged(rows, thimble_eyes(length, width, offset, around, apart), rows.stretch.given(*names), bit)


def _softs(rows: PartRows, around: Numbers, apart: Numbers) -> PartEye | None:
    if rows.stretch.nowhere(*BARE):
        return None
    pin, length = (rows.stretch.lengths[name].numbers for name in BARE)
    return _judged(rows, soft_eyes(pin, length, around, apart), rows.stretch.given(*BARE), Mask.WIDE)


def _pulleys(rows: PartRows, around: Numbers, apart: Numbers) -> PartEye | None:
    if rows.stretch.nowhere("tread_diameter"):
        return None
    column = rows.stretch.scalars.get("included_angle")
    angle = None if column is None else column.numbers
    if column is not None and angle is not None and column.given is not None:
        angle = np.where(column.given, angle, WIDE_ANGLE)
    tread = rows.stretch.lengths["tread_diameter"]
    return _judged(rows, pulley_eyes(tread.numbers, angle, around, apart), tread.given, Mask.WIDE)
