"""Codes of continuous columns, as far as a case depends on them: on which side of a limit a number lies.

The rules look at a measured diameter, a pin and a pulley only by comparing them with the rope's diameter. So it is
enough for a case to know between which limits a row lies; any number between them stands for all.
"""

from __future__ import annotations

import functools
from typing import Final

import numpy as np

from turnback.batch.cells import Cell
from turnback.batch.quantities import Lengths, Scalars
from turnback.batch.roster import Wholes
from turnback.model.ropedata import rope_cells
from turnback.planning.service import ServiceBook
from turnback.quantities import Force, Length

__all__ = [
    "AnyForce",
    "Tolerances",
    "force_codes",
    "measured_cells",
    "measured_codes",
    "pin_cells",
    "pin_codes",
    "pin_limits",
    "tolerances",
    "tread_cells",
]

Tolerances = tuple[int, ...]
AnyForce: Final = Force(100_000.0)
"""Stands for every force of a certificate: a case depends only on whether there is one [force]."""
_BELOW, _EQUAL, _ABOVE = 1, 2, 3


@functools.cache
def tolerances() -> Tolerances:
    """Return every tolerance on a diameter that a table prints.

    Returns:
        Nanometres, in order.
    """
    plus = [
        Length.of(f"{cell.text} {cell.unit}")
        for cell in rope_cells()
        if cell.table == "small_cable_tolerance" and cell.column == "plus"
    ]
    return tuple(sorted({length.nanometres for length in plus}))


def measured_codes(measured: Lengths, diameters: Wholes, plus: Tolerances) -> Wholes:
    """Return on which side of the diameter and its tolerances each measured diameter lies.

    Args:
        measured: The measured diameters.
        diameters: The nominal ones.
        plus: The tolerances.

    Returns:
        0 where none was given, else a code.
    """
    numbers = measured.numbers
    codes = np.where(numbers < diameters, _BELOW, np.where(numbers == diameters, _EQUAL, _ABOVE))
    for each in plus:
        codes += numbers > diameters + each
    return codes if measured.given is None else np.where(measured.given, codes, 0)


def measured_cells(code: int, diameter: int, plus: Tolerances) -> dict[str, Cell]:
    """Return a measured diameter that stands for a code.

    Args:
        code: The code [-].
        diameter: Nominal diameter [nm].
        plus: The tolerances.

    Returns:
        The cell; none for code 0.
    """
    if code == 0:
        return {}
    above = (0, *plus)
    nanometres = diameter - 1 if code == _BELOW else diameter if code == _EQUAL else diameter + above[code - _ABOVE] + 1
    return {"measured_diameter": Length(nanometres)}


def pin_limits(book: ServiceBook) -> tuple[int, ...]:
    """Return the limits on pins and pulleys that the service rules at hand set.

    Args:
        book: The service rules.

    Returns:
        Numbers of rope diameters, in order.
    """
    return tuple(sorted({rule.pin_under_diameters for rule in book.rules if rule.pin_under_diameters is not None}))


def pin_codes(pin: Lengths | None, length: Lengths | None, diameters: Wholes, limits: tuple[int, ...]) -> Wholes:
    """Return between which limits each pin or pulley lies.

    Args:
        pin: The pins, or the tread diameters of pulleys.
        length: The lengths of the eyes round pins; None for pulleys.
        diameters: The nominal diameters of the ropes.
        limits: Numbers of rope diameters [-].

    Returns:
        0 where nothing was given, 1 where only the length was, else a code.
    """
    codes = np.zeros(len(diameters), dtype=np.int64)
    if length is not None:
        codes[:] = 1 if length.given is None else length.given.astype(np.int64)
    if pin is None:
        return codes
    inside = np.full(len(diameters), 2, dtype=np.int64)
    for limit in limits:
        inside += pin.numbers >= diameters * limit
    return inside if pin.given is None else np.where(pin.given, inside, codes)


def pin_cells(code: int, diameter: int, limits: tuple[int, ...]) -> dict[str, Cell]:
    """Return a pin that stands for a code.

    Args:
        code: The code [-].
        diameter: Nominal diameter of the rope [nm].
        limits: Numbers of rope diameters [-].

    Returns:
        The cells; none for code 0.
    """
    if code == 0:
        return {}
    return {"eye_length": Length(1)} if code == 1 else {"pin": _between(code, diameter, limits)}


def tread_cells(code: int, diameter: int, limits: tuple[int, ...]) -> dict[str, Cell]:
    """Return a pulley that stands for a code.

    Args:
        code: The code [-].
        diameter: Nominal diameter of the rope [nm].
        limits: Numbers of rope diameters [-].

    Returns:
        The cell; none for code 0.
    """
    return {} if code == 0 else {"tread_diameter": _between(code, diameter, limits)}


def _between(code: int, diameter: int, limits: tuple[int, ...]) -> Length:
    return Length((0, *limits)[code - 2] * diameter or 1)


def force_codes(force: Scalars, rows: int) -> Wholes:
    """Return which rows give a force.

    Args:
        force: The forces.
        rows: Number of rows [-].

    Returns:
        1 where one is given, else 0.
    """
    return np.ones(rows, dtype=np.int64) if force.given is None else force.given.astype(np.int64)
