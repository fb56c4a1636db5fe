"""The output of one batch: its buffers, written stretch by stretch, and the arrays that are made of them."""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from turnback.batch.answers import AnswerTable
from turnback.batch.arrays import Flags, Numbers, bits_of, of_numbers, room
from turnback.batch.output import OUTPUT_COLUMNS
from turnback.batch.parts import Part
from turnback.batch.quantities import Scalars
from turnback.batch.roster import Wholes
from turnback.batch.rows import RowAnswer
from turnback.batch.stretch import Stretch
from turnback.mechanics import termination_breaking_force, working_load
from turnback.model.findings import KINDS

__all__ = ["Results"]

_LENGTHS: Final = ("spacing_nm", "turn_back_nm", "rope_in_eye_nm", "cut_length_nm")
_FORCES: Final = {
    "torque_newton_metre": "torque",
    "efficiency": "efficiency",
    "termination_breaking_force_newton": "breaking",
    "working_load_newton": "working",
}
"""Each column of floats, and what it is called in an answer."""
_TYPES: Final = dict(OUTPUT_COLUMNS)
_NAMES: Final = tuple(name for name, _ in OUTPUT_COLUMNS)
_KINDS: Final[tuple[str, ...]] = KINDS


class Results:
    """The answers to the rows of one batch.

    Args:
        count: Number of rows [-].
    """

    def __init__(self, count: int) -> None:
        self._count = count
        self._status = np.zeros(count, dtype=np.uint8)
        self._planned: Flags | None = None
        self._lengths: dict[str, Wholes] = {name: room(count, np.int64) for name in _LENGTHS}
        self._forces: dict[str, Numbers] = {name: room(count, np.float64) for name in _FORCES}
        self._given: dict[str, Flags] = {}
        self._clips = room(count, np.int32)
        self._threads = room(count, np.int8)
        self._usable = room(count, np.bool_)
        self._worst = room(count, np.int8)
        self._codes = room(count, np.int32)

    def _flags(self, name: str) -> Flags:
        if name not in self._given:
            self._given[name] = np.ones(self._count, dtype=np.bool_)
        return self._given[name]

    def put_part(self, part: Part, start: int, stop: int, rows: Wholes | None) -> None:
        """Write the lengths of rows of one kind.

        Args:
            part: What was found.
            start: First row of the stretch [-].
            stop: Row behind its last [-].
            rows: Places of the part's rows in the stretch; None where it is all of them.
        """
        where: slice | Wholes = slice(start, stop) if rows is None else rows + start
        for name, numbers, given in (
            ("spacing_nm", part.laid.spacing, part.laid.spacing_given),
            ("turn_back_nm", part.laid.turn_back, part.laid.turn_back_given),
            ("rope_in_eye_nm", part.eye and part.eye.rope, part.eye and part.eye.given),
            ("cut_length_nm", part.cut, part.cut_given),
        ):
            if numbers is None:
                self._lengths[name][where] = 0
                self._flags(name)[where] = False
            elif given is None:
                self._lengths[name][where] = numbers
            else:
                # Nothing but zeros under a null, so that the bytes are the same for the same input.
                self._lengths[name][where] = numbers * given
                self._flags(name)[where] = given

    def put_answers(
        self,
        places: Wholes,
        answers: AnswerTable,
        stretch: Stretch,
        statuses: npt.NDArray[np.uint8] | None,
        start: int,
        stop: int,
    ) -> None:
        """Write what rows share with others, and what hangs on their own forces.

        Args:
            places: Place of each row's answer.
            answers: The answers.
            stretch: The continuous columns of the rows.
            statuses: The statuses; None where every row was planned.
            start: First row of the stretch [-].
            stop: Row behind its last [-].
        """
        where = slice(start, stop)
        for name, target in (
            ("clips", self._clips),
            ("threads", self._threads),
            ("usable", self._usable),
            ("worst", self._worst),
            ("codes", self._codes),
        ):
            answers.column(name).take(places, out=target[where], mode="clip")
        bad = None if statuses is None or not statuses.any() else statuses > 0
        self._put_forces(places, answers, stretch, where, holes=bad is not None or int(places.min()) == 0)
        if statuses is not None and bad is not None:
            self._status[where] = statuses
            if self._planned is None:
                self._planned = np.ones(self._count, dtype=np.bool_)
            self._planned[where] = ~bad
            for name in _LENGTHS:
                self._lengths[name][where][bad] = 0
                self._flags(name)[where][bad] = False

    def _put_forces(self, places: Wholes, answers: AnswerTable, stretch: Stretch, where: slice, *, holes: bool) -> None:
        force, factor = stretch.scalars.get("minimum_breaking_force"), stretch.scalars.get("design_factor")
        shared = ["torque_newton_metre", "efficiency"]
        if force is None:
            shared.append("termination_breaking_force_newton")
            if factor is None:
                shared.append("working_load_newton")
        for name in shared:
            # Nothing but the gather, where every answer has the number.
            answers.floats(_FORCES[name]).take(places, out=self._forces[name][where], mode="clip")
            if holes or not answers.everywhere(_FORCES[name]):
                self._put_holes(name, self._forces[name][where], where)
        if force is not None or factor is not None:
            self._put_own(places, answers, force, factor, where)

    def _put_own(
        self, places: Wholes, answers: AnswerTable, force: Scalars | None, factor: Scalars | None, where: slice
    ) -> None:
        """Forces that hang on a row's own breaking force or design factor."""
        breaking = answers.floats("breaking").take(places)
        if force is not None:
            own = termination_breaking_force(force.numbers, answers.floats("efficiency").take(places))
            breaking = own if force.given is None else np.where(force.given, own, breaking)
        cited = answers.floats("least_factor").take(places)
        asked = answers.floats("factor").take(places)
        # A factor below the cited one is refused, and so is any where none is cited.
        enough = ~np.isnan(cited)
        if factor is not None:
            high = factor.numbers >= cited
            enough &= high if factor.given is None else high | ~factor.given
            asked = factor.numbers if factor.given is None else np.where(factor.given, factor.numbers, asked)
        working = np.where(enough, working_load(breaking, asked), np.nan)
        for name, numbers in (("termination_breaking_force_newton", breaking), ("working_load_newton", working)):
            self._put_holes(name, numbers, where)
            self._forces[name][where] = numbers

    def _put_holes(self, name: str, numbers: Numbers, where: slice) -> None:
        absent = np.isnan(numbers)
        if absent.any():
            self._flags(name)[where] = ~absent
            numbers[absent] = 0.0

    def put_row(self, row: int, answer: RowAnswer, answers: AnswerTable) -> None:
        """Write one row that the scalar path answered.

        Args:
            row: The row [-].
            answer: Its answer.
            answers: The answers, which keep the texts.
        """
        self._status[row] = int(answer.status)
        if self._planned is None:
            self._planned = np.ones(self._count, dtype=np.bool_)
        self._planned[row] = answer.error is None
        values = dict(zip(_NAMES[1:], answer.values, strict=True))
        for name in (*_LENGTHS, *_FORCES):
            value = values[name]
            column = self._lengths[name] if name in self._lengths else self._forces[name]
            column[row] = value if isinstance(value, (int, float)) else 0
            if value is None or name in self._given:
                self._flags(name)[row] = value is not None
        count, threads, worst, codes = (
            values[name] for name in ("clip_count", "thread_condition", "worst_finding", "finding_codes")
        )
        self._clips[row] = count if isinstance(count, int) else 0
        self._threads[row] = answers.thread(threads) if isinstance(threads, str) else -1
        self._usable[row] = values["usable"] is True
        self._worst[row] = _KINDS.index(worst) if isinstance(worst, str) else -1
        self._codes[row] = answers.text(codes) if isinstance(codes, str) else -1

    def columns(self, answers: AnswerTable) -> list[pa.Array]:
        """Build the arrays of the output.

        Args:
            answers: The answers, which keep the texts.

        Returns:
            One array for each of :data:`~turnback.batch.OUTPUT_COLUMNS`.
        """
        plain = {**self._lengths, **self._forces}
        found = {name: of_numbers(_TYPES[name], numbers, self._given.get(name)) for name, numbers in plain.items()}
        found["status"] = of_numbers(_TYPES["status"], self._status, None)
        found["clip_count"] = of_numbers(_TYPES["clip_count"], self._clips, self._planned)
        validity = None if self._planned is None else bits_of(self._planned)
        found["usable"] = pa.Array.from_buffers(pa.bool_(), self._count, [validity, bits_of(self._usable)])
        for name, places, texts in (
            ("thread_condition", self._threads, answers.threads),
            ("worst_finding", self._worst, list(_KINDS)),
            ("finding_codes", self._codes, answers.codes),
        ):
            found[name] = _texts(_TYPES[name], places, texts)
        return [found[name] for name in _NAMES]


def _texts(kind: pa.DataType, places: npt.NDArray[np.int8] | npt.NDArray[np.int32], texts: list[str]) -> pa.Array:
    given: Flags | None = None
    if len(places) and int(places.min()) < 0:
        given = places >= 0
        places = np.maximum(places, 0)
    return pa.DictionaryArray.from_arrays(of_numbers(kind.index_type, places, given), pa.array(texts, kind.value_type))
