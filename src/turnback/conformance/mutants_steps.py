"""What the mutants share: a change, and the slips of a number."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Final

import attrs

from turnback.model.sources import Citation
from turnback.quantities import MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, Length, Torque
from turnback.quantities.units import NANOMETRES_PER_INCH, NANOMETRES_PER_MILLIMETRE
from turnback.rules.ruleset import RuleSet

__all__ = ["EDGE", "MILLIMETRES", "Change", "edge_slips", "length_slips", "length_steps", "torque_slips"]

EDGE: Final = Length(1)
"""One nanometre: an edge that a row takes or loses."""

_TENTH: Final = Length(100_000)
MILLIMETRES: Final = Fraction(NANOMETRES_PER_INCH, NANOMETRES_PER_MILLIMETRE)
"""Millimetres in an inch [-]."""
_SLIPS: Final = (
    ("inches taken for millimetres, 25.4 times", MILLIMETRES),
    ("millimetres taken for inches, a 25.4th part", 1 / MILLIMETRES),
    ("point slipped, 10 times", Fraction(10)),
    ("point slipped, a tenth", Fraction(1, 10)),
)
_UNITS: Final = ("lbf·ft", "lbf·in", "N·m")


@attrs.frozen(eq=False)
class Change:
    """One fault and how it is made.

    Args:
        row: Size of the row, with its unit; empty where the fault is in no row.
        column: The column, or the place outside the table.
        what: The fault.
        citation: The source of the cell.
        make: Builds the faulty rule set, or raises where the types refuse.
    """

    row: str
    column: str
    what: str
    citation: Citation
    make: Callable[[], RuleSet]


def length_steps(length: Length) -> Iterator[tuple[str, Length]]:
    """Move a length by one step of its tape.

    Args:
        length: The length [length].

    Yields:
        The fault, and the length [length]: by 1/16 in, or by 1 mm, or by the next finer step where it is no multiple.
    """
    # Five inches are 127 mm: where both tapes have a mark, the finer step is taken.
    tapes = (MILLIMETRE, SIXTEENTH, SIXTY_FOURTH)
    step = next((each for each in tapes if not length.nanometres % each.nanometres), _TENTH)
    yield "one step up", length + step
    yield "one step down", length - step


def length_slips(length: Length) -> Iterator[tuple[str, Length]]:
    """Slip with the unit or the decimal point of a length.

    Args:
        length: The length [length].

    Yields:
        The fault, and the length [length], to the nearest nanometre.
    """
    for what, ratio in _SLIPS:
        yield what, length.times(ratio, "nearest")


def edge_slips(length: Length) -> Iterator[tuple[str, Length]]:
    """Change the comparison at an edge: the edge moves by one nanometre.

    Args:
        length: The edge [length].

    Yields:
        The fault, and the length [length].
    """
    yield "edge one nanometre up", length + EDGE
    yield "edge one nanometre down", length - EDGE


def torque_slips(torque: Torque) -> Iterator[tuple[str, Callable[[], Torque]]]:
    """Slip with a torque: one unit up and down, its unit, its decimal point, its second print.

    Args:
        torque: The torque [torque].

    Yields:
        The fault, and what builds the torque, for the type refuses some.
    """

    def built(value: Fraction, unit: str, also: tuple[Fraction, str] | None) -> Callable[[], Torque]:
        return lambda: Torque(value, unit, also)

    slips = [("one step up", torque.value + 1, torque.unit), ("one step down", torque.value - 1, torque.unit)]
    slips += [(what, torque.value * ratio, torque.unit) for what, ratio in _SLIPS]
    slips += [(f"unit taken for {unit}", torque.value, unit) for unit in _UNITS if unit != torque.unit]
    for what, value, unit in slips:
        yield what, built(value, unit, torque.also)
        if torque.also is not None:
            # The second print guards the first one; without it the slip stands alone.
            yield f"{what}, alone", built(value, unit, None)
    if torque.also is not None:
        number, unit = torque.also
        yield "second print dropped", lambda: Torque(torque.value, torque.unit)
        yield "second print one step up", lambda: Torque(torque.value, torque.unit, (number + 1, unit))
        yield "second print one step down", lambda: Torque(torque.value, torque.unit, (number - 1, unit))
