"""The answers that a row shares with every row of its case and its own few findings.

Findings, torque, efficiency and what hangs on them depend on the case and on a handful of yes and no: whether the base
width is small, the eye wide, the turn-back lengthened, the load too high. Each such combination is answered once, by
the scalar plan of the first row that has it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from turnback.batch.arrays import Numbers
from turnback.batch.roster import Roster, Wholes
from turnback.model.absent import Absent
from turnback.model.findings import KINDS
from turnback.planning.plan import Plan

__all__ = ["MASKS", "AnswerTable", "Mask"]


class Mask:
    """What tells rows of one case apart, one bit each."""

    UNMEASURED: Final = 1
    SMALL: Final = 2
    WIDE: Final = 4
    WIDE_SECOND: Final = 8
    LENGTHENED: Final = 16
    NOT_JUDGED: Final = 32
    OVERLOADED: Final = 64


MASKS: Final = 128
"""Number of combinations of the bits [-]."""
_DIRECT: Final = 1 << 20
_NAN: Final = float("nan")


class _Answer(NamedTuple):
    clips: int = 0
    torque: float = _NAN
    threads: int = -1
    efficiency: float = _NAN
    breaking: float = _NAN
    working: float = _NAN
    usable: bool = False
    worst: int = -1
    codes: int = -1
    factor: float = _NAN
    least_factor: float = _NAN


_TYPES: Final[dict[str, type[np.generic]]] = {
    "clips": np.int32,
    "threads": np.int8,
    "usable": np.bool_,
    "worst": np.int8,
    "codes": np.int32,
}


class AnswerTable:
    """The answers that were met so far, in columns. Place 0 is that of a row without an answer."""

    def __init__(self) -> None:
        self._rows: list[_Answer] = [_Answer()]
        self._columns: dict[str, npt.NDArray[np.generic]] = {}
        self._direct: npt.NDArray[np.int64] = np.full(0, -1, dtype=np.int64)
        self._roster = Roster()
        self._places: Wholes = np.empty(0, dtype=np.int64)
        self.threads: list[str] = []
        self.codes: list[str] = []
        self._code_places: dict[str, int] = {}

    def column(self, name: str) -> npt.NDArray[np.generic]:
        """Return one number of every answer.

        Args:
            name: Name of the number.

        Returns:
            A column to gather from.
        """
        column = self._columns.get(name)
        if column is None or len(column) != len(self._rows):
            column = np.array([getattr(row, name) for row in self._rows], dtype=_TYPES.get(name, np.float64))
            self._columns[name] = column
        return column

    def floats(self, name: str) -> Numbers:
        """Return one float of every answer.

        Args:
            name: Name of the number.

        Returns:
            A column to gather from; no number where an answer has none.
        """
        return self.column(name)  # type: ignore[return-value]  # every column that is not in _TYPES

    def everywhere(self, name: str) -> bool:
        """Tell whether every answer has a float.

        Args:
            name: Name of the number.

        Returns:
            False where one has none, place 0 aside.
        """
        return not bool(np.isnan(self.floats(name)[1:]).any())

    def places(self, cases: Wholes, masks: npt.NDArray[np.uint8], plan_of: Callable[[int], Plan], most: int) -> Wholes:
        """Return the place of each row's answer.

        Args:
            cases: The case of each row.
            masks: What tells it apart from others of its case.
            plan_of: The scalar plan of a row, asked for once per answer.
            most: Number of cases so far [-].

        Returns:
            The places.
        """
        keys = cases * MASKS
        keys += masks
        if most * MASKS > _DIRECT:
            return self._through_roster(keys, plan_of)
        if len(self._direct) < most * MASKS:
            grown = np.full(max(2 * most, 16) * MASKS, -1, dtype=np.int64)
            grown[: len(self._direct)] = self._direct
            self._direct = grown
        found = self._direct.take(keys)
        if len(found) and found.min() < 0:
            new, rows = np.unique(np.where(found < 0, keys, -1), return_index=True)
            for key, row in zip(new.tolist(), rows.tolist(), strict=True):
                if key >= 0:
                    self._direct[key] = self._add(plan_of(row))
            found = self._direct.take(keys)
        return found

    def _through_roster(self, keys: Wholes, plan_of: Callable[[int], Plan]) -> Wholes:
        numbers = self._roster.codes(keys)
        known = len(self._places)
        if len(numbers) and int(numbers.max()) >= known:
            new, rows = np.unique(numbers, return_index=True)
            grown = np.zeros(len(self._roster), dtype=np.int64)
            grown[:known] = self._places
            for number, row in zip(new.tolist(), rows.tolist(), strict=True):
                if number >= known:
                    grown[number] = self._add(plan_of(row))
            self._places = grown
        return self._places.take(numbers)

    def _add(self, plan: Plan) -> int:
        torque, threads, efficiency = plan.torque, plan.thread_condition, plan.efficiency
        breaking, cited = plan.termination_breaking_force, plan.service.design_factor
        forbidden = any(finding.kind == "forbidden" for finding in plan.findings)
        factor = least = working = _NAN
        if not forbidden and not isinstance(cited, Absent):
            factor, least = float(cited.value), _ceiling(cited.value)
            if not isinstance(breaking, Absent):
                working = plan.working_load().newtons
        kinds = [KINDS.index(finding.kind) for finding in plan.findings]
        self._rows.append(
            _Answer(
                clips=plan.clip_count,
                torque=_NAN if isinstance(torque, Absent) else torque.newton_metres,
                threads=-1 if isinstance(threads, Absent) else self.thread(threads),
                efficiency=_NAN if isinstance(efficiency, Absent) else float(efficiency),
                breaking=_NAN if isinstance(breaking, Absent) else breaking.newtons,
                working=working,
                usable=plan.usable,
                worst=min(kinds, default=-1),
                codes=self.text("; ".join(dict.fromkeys(finding.code for finding in plan.findings))),
                factor=factor,
                least_factor=least,
            )
        )
        return len(self._rows) - 1

    def thread(self, text: str) -> int:
        """Return the place of a condition of threads.

        Args:
            text: The condition.

        Returns:
            Its place in :attr:`threads`.
        """
        if text not in self.threads:
            self.threads.append(text)
        return self.threads.index(text)

    def text(self, text: str) -> int:
        """Return the place of the codes of a plan's findings.

        Args:
            text: The codes, joined.

        Returns:
            Their place in :attr:`codes`.
        """
        place = self._code_places.get(text)
        if place is None:
            place = self._code_places[text] = len(self.codes)
            self.codes.append(text)
        return place


def _ceiling(factor: Fraction) -> float:
    """The least float that is not below a factor, so that floats can be compared with it exactly."""
    near = float(factor)
    return near if Fraction(near) >= factor else math.nextafter(near, math.inf)
