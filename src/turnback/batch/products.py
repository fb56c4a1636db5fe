"""Floats times an exact factor, rounded once, as a fraction turned into a float is."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

import numpy as np

from turnback.batch.arrays import Numbers

__all__ = ["multiplied"]

# Splits a float of 53 bits into two of 26, whose products are exact (Dekker, 1971).
_SPLIT: Final = 134_217_729.0
_LARGEST: Final = 1e280
_SMALLEST: Final = 1e-250


def multiplied(numbers: Numbers, factor: Fraction) -> Numbers:
    """Multiply floats by an exact factor and round each product once.

    The product is computed as a sum of two floats; where that sum lies too near the middle between two floats to tell
    the right one, the cell is computed as a fraction.

    Args:
        numbers: The numbers.
        factor: The factor, above zero [-].

    Returns:
        The float nearest to each exact product; infinite where there is none.
    """
    head = float(factor)
    if Fraction(head) == factor:
        with np.errstate(all="ignore"):
            return numbers * head
    tail = float(factor - Fraction(head))
    with np.errstate(all="ignore"):
        product = numbers * head
        high = _SPLIT * numbers
        high -= high - numbers
        low = numbers - high
        head_high = _SPLIT * head - (_SPLIT * head - head)
        head_low = head - head_high
        error = ((high * head_high - product) + high * head_low + low * head_high) + low * head_low
        rest = error + numbers * tail
        total = product + rest
        left = rest - (total - product)
        half = np.spacing(np.abs(total)) / 2
        doubt = np.abs(np.abs(left) - half) <= half * 1e-3
        # At a power of two the next float below is half as far.
        doubt |= np.abs(np.abs(left) - half / 2) <= half * 1e-3
        size = np.abs(numbers)
        doubt |= (size > _LARGEST) | ((size < _SMALLEST) & (size > 0))
    for i in np.flatnonzero(doubt & np.isfinite(numbers)).tolist():
        try:
            total[i] = float(Fraction(float(numbers[i])) * factor)
        except OverflowError:
            total[i] = np.inf
    return total
