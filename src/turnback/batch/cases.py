"""The table of cases: for each combination of size, construction, service and the like, the numbers of its case.

A case is what the sources say before anything is measured (:mod:`turnback.planning.case`). It is computed once for each
combination, by the scalar path; its numbers are kept in columns, to be gathered by the rows.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import lcm
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from turnback.batch.cells import Cell
from turnback.batch.options import BatchOptions
from turnback.batch.requests import kind_of, request_from
from turnback.batch.statuses import Status, status_of_error
from turnback.errors import Conflict, TurnbackError
from turnback.model.absent import Absent
from turnback.model.layout import LayoutDemand
from turnback.model.styles import BodyStyle
from turnback.model.terminations import TERMINATION_KINDS
from turnback.planning.build import plan_request
from turnback.planning.case import Case, case_of
from turnback.planning.request import Request
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue

__all__ = ["FAR", "CaseTable", "Line"]

FAR: Final = 1 << 62
"""Farther than any length: a bound that is not there [nm]."""
_LARGE: Final = 10**11
"""A case with a length above this is left to the scalar path [nm]."""
_MOST_CLIPS: Final = 1000
_DIMENSIONS: Final = ("pin", "eye_length", "tread_diameter")
_ROOM: Final = 64


class Line(NamedTuple):
    """A bound that grows with the base width: (constant + factor x base width) / divisor, rounded up or down.

    Args:
        constant: Constant part, times the divisor [nm].
        factor: Factor of the base width, times the divisor [-].
        divisor: What both are divided by [-].
        up: Whether it is rounded up.
    """

    constant: int
    factor: int
    divisor: int
    up: bool


class _Numbers(NamedTuple):
    """The numbers of one case, each for one column of the table."""

    cells: int = 0
    refused: int = 0
    kind: int = 0
    scalar: bool = False
    clips: int = 2
    printed: int = 0
    least: int = 0
    greatest: int = FAR
    room: int = FAR
    unmeasured: int = 0
    unmeasured_conflict: bool = False
    spaced: bool = True
    seat: int = 10_000_000
    around: float = 10_000_000.0
    under: float = 10_000_000.0
    clip_size: int = 0
    beyond: int = 0
    judged: bool = False
    breaking: float = float("nan")
    efficiency: float = float("nan")
    factor: float = float("nan")


_KINDS: Final[Mapping[str, type[np.generic]]] = {"bool": np.bool_, "int": np.int64, "float": np.float64}


class CaseTable:
    """The cases that were met so far, in columns.

    Args:
        options: What holds for every row.
        catalogue: What is at hand.
    """

    def __init__(self, options: BatchOptions, catalogue: Catalogue) -> None:
        self._options = options
        self._catalogue = catalogue
        self._rows: list[_Numbers] = []
        self.least_lines: list[tuple[Line, ...]] = []
        self.greatest_lines: list[tuple[Line, ...]] = []
        self._columns: dict[str, npt.NDArray[np.generic]] = {}
        self.has_lines = False
        self.has_greatest = False
        self.has_refused = False
        self.has_scalar = False
        self.has_unspaced = False
        self.has_single = False

    def __len__(self) -> int:
        return len(self._rows)

    def column(self, name: str) -> npt.NDArray[np.generic]:
        """Return one number of every case.

        Args:
            name: Name of the number.

        Returns:
            A column to gather from.
        """
        column = self._columns.get(name)
        if column is None or len(column) != len(self._rows):
            kind = type(getattr(self._rows[0], name)).__name__
            column = np.array([getattr(row, name) for row in self._rows], dtype=_KINDS[kind])
            self._columns[name] = column
        return column

    def add(self, cells: Mapping[str, Cell | Status]) -> int:
        """Add the case of a combination.

        Args:
            cells: The cells that tell cases apart; a status where a cell was refused.

        Returns:
            Its place in the table.
        """
        statuses = [int(cell) for cell in cells.values() if isinstance(cell, Status)]
        lines: tuple[tuple[Line, ...], tuple[Line, ...]] = ((), ())
        if statuses:
            numbers = _Numbers(cells=min(statuses))
        else:
            given = {name: cell for name, cell in cells.items() if cell is not None and not isinstance(cell, Status)}
            kind = TERMINATION_KINDS.index(kind_of(given, self._options))
            try:
                request = request_from(given, self._options)
                case = case_of(request, self._catalogue)
            except TurnbackError as error:
                numbers = _Numbers(refused=int(status_of_error(error)), kind=kind)
            else:
                lines = _lines(case)
                numbers = _numbers(request, case, kind, lines, conflict=self._in_conflict(given, case))
        self._rows.append(numbers)
        self.least_lines.append(lines[0])
        self.greatest_lines.append(lines[1])
        self.has_lines |= bool(lines[0] or lines[1])
        self.has_greatest |= bool(lines[1]) or numbers.greatest != FAR
        self.has_refused |= bool(numbers.cells or numbers.refused)
        self.has_scalar |= numbers.scalar
        self.has_unspaced |= not numbers.spaced
        self.has_single |= numbers.clips == 1
        return len(self._rows) - 1

    def _in_conflict(self, cells: Mapping[str, Cell], case: Case) -> bool:
        """Whether no base width can meet the bounds: what the scalar plan says of the case without any dimension."""
        if case.demand.greatest is None:
            return False
        bare = {name: cell for name, cell in cells.items() if name not in _DIMENSIONS}
        try:
            plan_request(request_from(bare, self._options), self._catalogue)
        except Conflict:
            return True
        return False


def _lines(case: Case) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """The bounds on the spacing that depend on the base width: at two base widths a line shows its slope."""
    least: list[Line] = []
    greatest: list[Line] = []
    seat = case.demand.seat
    for bound, row in case.asked:
        if bound.length is not None:
            slope = Fraction(bound.length.base_widths)
            constant = Fraction(bound.length.nanometres(seat, Length(0)) or 0)
        elif row.spacing is not None:
            slope, constant = Fraction(0), Fraction(row.spacing.value.nanometres)
        else:
            continue
        slope += 1 if bound.clear else 0
        if not slope:
            continue
        divisor = lcm(slope.denominator, constant.denominator)
        parts = (int(constant * divisor), int(slope * divisor), divisor)
        # As the scalar path rounds them: an equal distance is met by the whole number above it.
        if bound.bound != "greatest":
            least.append(Line(*parts, up=True))
        if bound.bound != "least":
            greatest.append(Line(*parts, up=bound.bound == "equal"))
    return tuple(least), tuple(greatest)


def _unmeasured(request: Request, case: Case) -> int:
    """The turn-back that stands before a clip is measured [nm]; zero where there is none."""
    demand = case.demand
    if not case.has_length:
        return 0
    asked = LayoutDemand(
        demand.count,
        demand.seat,
        None,
        demand.turn_back,
        None if demand.least is None else demand.least.length,
        None if demand.greatest is None else demand.greatest.length,
        demand.depends_on_base_width,
        request.termination.kind == "lap splice",
    )
    turn_back = case.style.lay_out(asked).turn_back
    return 0 if isinstance(turn_back, Absent) else turn_back.nanometres


def _numbers(
    request: Request, case: Case, kind: int, lines: tuple[tuple[Line, ...], tuple[Line, ...]], *, conflict: bool
) -> _Numbers:
    demand, strength, style = case.demand, case.strength, case.style
    coating = request.rope.coating
    bare = finished = request.rope.diameter.nanometres
    if coating is not None:
        finished = coating.finished_diameter.nanometres
    stripped = coating is None or coating.stripped
    eye_stripped = coating is None or coating.eye_stripped
    printed = 0 if demand.turn_back is None else demand.turn_back.nanometres
    least = 0 if demand.least is None else demand.least.length.nanometres
    greatest = FAR if demand.greatest is None else demand.greatest.length.nanometres
    factor, efficiency, breaking = case.service.design_factor, strength.efficiency, strength.breaking_force
    lengths = [printed, least, greatest if greatest != FAR else 0, finished]
    lengths += [each for group in lines for line in group for each in (line.constant, line.factor * 1000, line.divisor)]
    beyond = demand.seat.nanometres * style.dead_end_diameters if isinstance(style, BodyStyle) else 0
    return _Numbers(
        kind=kind,
        scalar=max(map(abs, lengths)) > _LARGE or demand.count > _MOST_CLIPS,
        clips=demand.count,
        printed=printed,
        least=least,
        greatest=greatest,
        room=min((each.length.nanometres for each in demand.turn_backs), default=FAR),
        unmeasured=_unmeasured(request, case),
        unmeasured_conflict=conflict,
        spaced=case.has_length,
        seat=demand.seat.nanometres,
        around=float(bare if stripped and eye_stripped else finished),
        under=float(bare if stripped else finished),
        clip_size=demand.clip_size.nanometres,
        beyond=beyond,
        judged=not isinstance(breaking, Absent) and not isinstance(factor, Absent),
        breaking=_nan(None if isinstance(breaking, Absent) else breaking.newtons),
        efficiency=_nan(None if isinstance(efficiency, Absent) else float(efficiency.value)),
        factor=_nan(None if isinstance(factor, Absent) else float(factor.value)),
    )


def _nan(number: float | None) -> float:
    return float("nan") if number is None else number
