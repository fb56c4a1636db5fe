"""The eyes of many rows: the formulas of :mod:`turnback.mechanics.eye` on arrays, and the choices round them.

Choices are made where they are sure. The included angle of most eyes need not be computed: an eye is wider than 60
degrees where its base lies nearer than the distance at which it would be 60 degrees. Where a comparison is closer than
the last bits of an arc function can tell, the row is marked as doubtful, and the scalar path decides.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final, NamedTuple, cast

import numpy as np

from turnback.batch.arrays import Flags, Numbers
from turnback.batch.roster import Wholes
from turnback.mechanics import (
    Functions,
    base_distance_for_angle,
    base_point_distance,
    half_included_angle,
    pulley_radius,
    reach,
    rope_in_eye,
    soft_eye_base_distance,
    soft_eye_radius,
    thimble_base_distance,
    thimble_radius,
)
from turnback.planning.geometry import WIDE_ANGLE
from turnback.quantities import Length

__all__ = ["Eyes", "pulley_eyes", "soft_eyes", "thimble_eyes"]

_CLEAR: Final = 1.16
"""Farther out than so many radii the legs meet at less than 120 degrees, and every angle is well told [-]."""
_NEAR_HALF: Final = 1e-4
"""So near to half of a nanometre the scalar function rounds [nm]."""
_BAND: Final = 1e-9
_ILL: Final = 1e-6
_NUDGE: Final = 1e-12
_ANGLE_BAND: Final = 1e-10
_FARTHEST: Final = 1e10
"""A base farther out than this is left to the scalar path, for a float then tells halves of nanometres badly [nm]."""


class Eyes(NamedTuple):
    """The eyes of many rows.

    Args:
        rope: Rope in each eye, in whole nanometres.
        reach: From the base of each to its bearing point, in whole nanometres.
        refused: Eyes that cannot be made; None where all can.
        wide: Eyes whose parts meet at more than 60 degrees.
        doubt: Eyes that the scalar path decides on; None where there are none.
    """

    rope: Wholes
    reach: Wholes
    refused: Flags | None
    wide: Flags
    doubt: Flags | None


def thimble_eyes(length: Wholes, width: Wholes, offset: Wholes, around: Numbers, apart: Numbers) -> Eyes:
    """Compute eyes round thimbles.

    Args:
        length: Inside lengths.
        width: Inside widths.
        offset: Groove offsets.
        around: Diameters of the rope in the groove.
        apart: Distances between the two parts at the base.

    Returns:
        The eyes.
    """
    width_ = width.astype(np.float64)
    radius = thimble_radius(width_, offset.astype(np.float64), around)
    return _closed(radius, thimble_base_distance(length.astype(np.float64), width_), apart, width_ / 2)


def soft_eyes(pin: Wholes, length: Wholes, around: Numbers, apart: Numbers) -> Eyes:
    """Compute eyes round pins.

    Args:
        pin: Diameters of the pins.
        length: Inside lengths.
        around: Diameters of the rope on the pin.
        apart: Distances between the two parts at the base.

    Returns:
        The eyes.
    """
    pin_ = pin.astype(np.float64)
    base = soft_eye_base_distance(length.astype(np.float64), pin_)
    return _closed(soft_eye_radius(pin_, around), base, apart, pin_ / 2)


def pulley_eyes(tread: Wholes, angle: Numbers | None, around: Numbers, apart: Numbers) -> Eyes:
    """Compute eyes round pulleys.

    Args:
        tread: Tread diameters.
        angle: Included angles; None where all are the usual 60 degrees.
        around: Diameters of the rope on the pulley.
        apart: Distances between the two parts at the base.

    Returns:
        The eyes.
    """
    tread_ = tread.astype(np.float64)
    radius = pulley_radius(tread_, around)
    half = WIDE_ANGLE / 2 if angle is None else angle / 2
    cosine = math.cos(half) if isinstance(half, float) else np.cos(half)
    a = _base_distance(radius, apart, half)
    # The legs must run forwards; see planning.geometry.
    left, right = radius * cosine, apart / 2
    backwards = left <= right
    doubt = np.abs(left - right) <= _BAND * right

    def exact(i: int) -> tuple[float, float, float]:
        half_ = half if isinstance(half, float) else float(half[i])
        r, e = float(radius[i]), float(apart[i])
        return r, base_distance_for_angle(r, e, half_, math), e

    ill = (base_point_distance(a, apart, np) <= radius * (1 + _ILL)) | (a > _FARTHEST)
    if isinstance(half, float):
        wide = np.zeros(len(tread), dtype=np.bool_)
    else:
        wide = 2 * half > WIDE_ANGLE * (1 + _BAND)
        doubt |= (np.abs(2 * half - WIDE_ANGLE) <= _BAND) & (half != WIDE_ANGLE / 2)
        doubt |= 2 * half >= 2 * WIDE_ANGLE * (1 - _BAND)
    rope = _rounded(rope_in_eye(radius, a, apart, np), lambda i: rope_in_eye(*exact(i), math), ~(backwards | ill))
    return Eyes(
        rope,
        _rounded(reach(a, tread_ / 2), lambda i: reach(exact(i)[1], float(tread_[i]) / 2), ~(backwards | ill)),
        backwards & ~doubt,
        wide,
        doubt | (ill & ~backwards),
    )


def _base_distance(radius: Numbers, apart: Numbers, half: Numbers | float) -> Numbers:
    """Base distances at angles of each row's own, or all at one; the formula does not mind, the type checker does."""
    if isinstance(half, float):
        return base_distance_for_angle(radius, apart, cast("Numbers", half), cast("Functions[Numbers]", math))
    return base_distance_for_angle(radius, apart, half, np)


def _closed(radius: Numbers, a: Numbers, apart: Numbers, bearing: Numbers) -> Eyes:
    clear = a > radius * _CLEAR
    clear &= apart <= 2 * radius
    limit = _base_distance(radius, apart, WIDE_ANGLE / 2)
    wide = a < limit
    doubt = np.abs(a - limit) <= a * _BAND
    refused: Flags | None = None
    fine = clear
    if not clear.all():
        rows = np.flatnonzero(~clear)
        refused = np.zeros(len(a), dtype=np.bool_)
        refused[rows], wide[rows], doubt[rows] = _unclear(radius[rows], a[rows], apart[rows])
        fine = ~refused
    rope = _rounded(
        rope_in_eye(radius, a, apart, np),
        lambda i: rope_in_eye(float(radius[i]), float(a[i]), float(apart[i]), math),
        fine,
    )
    # Whole and half nanometres all the way: the sum is exact.
    return Eyes(rope, reach(a, bearing).astype(np.int64), refused, wide, doubt if doubt.any() else None)


def _unclear(radius: Numbers, a: Numbers, apart: Numbers) -> tuple[Flags, Flags, Flags]:
    """Refused, wide and doubtful among eyes that are short for their circle, or whose parts lie far apart."""
    q = base_point_distance(a, apart, np)
    refused = (a <= 0) | (q <= radius)
    angle = np.abs(2 * half_included_angle(radius, a, apart, np))
    doubt = (q <= radius * (1 + _ILL)) | (np.abs(angle - WIDE_ANGLE) <= _ANGLE_BAND)
    doubt |= np.abs(angle - 2 * WIDE_ANGLE) <= _ANGLE_BAND
    doubt &= ~refused
    refused |= ~doubt & (angle >= 2 * WIDE_ANGLE * (1 - _NUDGE))
    return refused, angle > WIDE_ANGLE * (1 + _NUDGE), doubt


def _rounded(numbers: Numbers, exact: Callable[[int], float], fine: Flags) -> Wholes:
    """Round to the nearest; near a half as the scalar function does, from its own last bits."""
    nearest = np.rint(numbers)
    near = np.abs(numbers - nearest) >= 0.5 - _NEAR_HALF
    whole = nearest.astype(np.int64)
    if near.any():
        for i in np.flatnonzero(near & fine).tolist():
            whole[i] = Length.nearest(exact(i)).nanometres
    return whole
