"""The same outputs by hand: what a patient user of numpy would write for this one table, style and register.

It knows nothing of rule files, citations, bad rows, nulls or other terminations; every guard that the library has is
missing. Blocks of 64 Ki rows, scratch re-used. Counts, turn-backs, torques: 8 CCR 8497, Table 1, typed from print. The
geometry is the belt of a circle and two straight legs. What no arithmetic gives (the codes of the findings, the rope's
strength) is taken once from a scalar plan of each combination, as a user would type it.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Final

import numpy as np
import pyarrow as pa

from benchmarks.batch_register import BLOCK, GRADES, OPTIONS, SIXTEENTH, SIXTEENTHS
from turnback.batch import OUTPUT_COLUMNS, request_of_row
from turnback.planning.build import plan_request

if TYPE_CHECKING:
    from numpy.typing import NDArray

INCH: Final = 25_400_000
COUNT: Final = np.array([3, 3, 4, 4, 5])
TURN_BACK: Final = np.array([23, 24, 36, 38, 52], np.int64) * (INCH // 2)
"""Half inches: 11-1/2, 12, 18, 19 and 26 in."""
TORQUE: Final = np.array([65, 95, 130, 225, 225]) * 1.3558179483314004
"""lbf·ft, NIST SP 811."""
HALF: Final = np.radians(30.0)


class HandKernel:
    """Plans blocks of the register of the benchmarks.

    Args:
        schema: Schema of the register.
    """

    def __init__(self, schema: pa.Schema) -> None:
        kinds = dict(OUTPUT_COLUMNS)
        self._schema = pa.schema([*schema, *(pa.field(name, kind) for name, kind in kinds.items())])
        self._index = np.full(max(SIXTEENTHS) + 1, -1, np.int64)
        self._index[list(SIXTEENTHS)] = range(len(SIXTEENTHS))
        self._floats = [np.empty(BLOCK) for _ in range(6)]
        self._wholes = [np.empty(BLOCK, np.int64) for _ in range(3)]
        self._looked_up(schema)

    def _looked_up(self, schema: pa.Schema) -> None:
        """Strength and findings of every size, grade, and eye narrow or wide, turn-back as printed or lengthened."""
        strength, working, usable, codes = [], [], [], []
        for sixteenths, grade, wide, longer in itertools.product(SIXTEENTHS, GRADES, (False, True), (False, True)):
            diameter = sixteenths * SIXTEENTH
            row = {
                "joint": 0, "rope_diameter_nm": diameter, "construction": "6x19", "core": "IWRC", "grade": grade,
                "inside_length_nm": diameter * (4 if wide else 7), "inside_width_nm": diameter * 3,
                "groove_offset_nm": diameter // 6, "base_width_nm": diameter * (4 if longer else 2),
            }  # fmt: skip
            plan = plan_request(request_of_row(row, schema, OPTIONS))
            strength.append(plan.termination_breaking_force.newtons)
            working.append(plan.working_load().newtons)
            usable.append(plan.usable)
            codes.append("; ".join(dict.fromkeys(each.code for each in plan.findings)))
        self._strength, self._working, self._usable = np.array(strength), np.array(working), np.array(usable)
        texts = sorted(set(codes))
        self._codes = np.array([texts.index(each) for each in codes], np.int32)
        self._texts = pa.array(texts)
        self._threads, self._worst = pa.array(["dry"]), pa.array(["must-do"])

    def plan(self, batch: pa.RecordBatch) -> pa.RecordBatch:
        """Plan one block.

        Args:
            batch: At most 64 Ki rows without nulls.

        Returns:
            The batch with the answers behind it.
        """
        rows = batch.num_rows
        given = {name: batch.column(name).to_numpy() for name in batch.schema.names if name.endswith("_nm")}
        size = self._index[given["rope_diameter_nm"] // SIXTEENTH]
        grade = np.asarray(batch.column("grade").indices)
        count, turn_back = COUNT.take(size), TURN_BACK.take(size)
        wide = np.empty(rows, np.bool_)
        rope = self._eye(given, rows, wide)
        spacing, longer = self._layout(given["base_width_nm"], count, turn_back, rows)
        case = ((size * len(GRADES) + grade) * 2 + wide) * 2 + longer
        zeros = np.zeros(rows, np.int8)
        arrays = [
            pa.array(np.zeros(rows, np.uint8)),
            pa.array(count.astype(np.int32)),
            pa.array(spacing),
            pa.array(turn_back),
            pa.array(TORQUE.take(size)),
            pa.DictionaryArray.from_arrays(pa.array(zeros), self._threads),
            pa.array(np.full(rows, 0.8)),
            pa.array(self._strength.take(case)),
            pa.array(self._working.take(case)),
            pa.array(rope),
            pa.nulls(rows, pa.int64()),
            pa.array(self._usable.take(case)),
            pa.DictionaryArray.from_arrays(pa.array(zeros), self._worst),
            pa.DictionaryArray.from_arrays(pa.array(self._codes.take(case)), self._texts),
        ]
        return pa.RecordBatch.from_arrays([*batch.columns, *arrays], schema=self._schema)

    def _layout(
        self, width: NDArray[np.int64], count: NDArray[np.int64], turn_back: NDArray[np.int64], rows: int
    ) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
        """Lengthen the turn-back where clips would lie less than a base width apart."""
        least, gaps, twice = (each[:rows] for each in self._wholes)
        np.subtract(count, 1, out=gaps)
        np.multiply(width, 2, out=twice)
        np.multiply(gaps, twice, out=least)
        np.add(least, twice, out=least)
        longer = least > turn_back
        np.maximum(turn_back, least, out=turn_back)
        np.subtract(twice, turn_back, out=least)
        return -(least // gaps), longer  # rounded up, as a least spacing is

    def _eye(self, given: dict[str, NDArray[np.int64]], rows: int, wide: NDArray[np.bool_]) -> NDArray[np.int64]:
        """Rope in the eye: two legs and the arc; and whether the parts stand wider than 60 degrees."""
        d, a, r, q, leg, arc = (each[:rows] for each in self._floats)
        np.multiply(given["inside_width_nm"], 0.5, out=r)
        np.subtract(given["inside_length_nm"], r, out=a)
        np.add(r, given["groove_offset_nm"], out=r)
        np.multiply(given["rope_diameter_nm"], 0.5, out=d)
        np.add(r, d, out=r)
        np.multiply(a, a, out=q)
        np.multiply(d, d, out=leg)
        np.add(q, leg, out=q)
        np.multiply(r, r, out=leg)
        np.subtract(q, leg, out=leg)
        np.sqrt(leg, out=leg)
        np.sqrt(q, out=q)
        np.divide(r, q, out=q)
        np.arccos(q, out=arc)
        np.divide(d, a, out=d)
        np.arctan(d, out=d)
        np.arcsin(q, out=q)
        np.subtract(q, d, out=q)
        np.greater(q, HALF, out=wide)
        np.add(arc, d, out=arc)
        np.subtract(np.pi, arc, out=arc)
        np.multiply(arc, r, out=arc)
        np.add(arc, leg, out=arc)
        np.multiply(arc, 2, out=arc)
        return np.rint(arc).astype(np.int64)


def same(ours: pa.RecordBatch, by_hand: pa.RecordBatch) -> bool:
    """Tell whether two blocks have the same answers, a nanometre of the rounding at a half apart.

    Args:
        ours: What the library answers.
        by_hand: What is written here.

    Returns:
        Whether they are the same.
    """
    for name, _ in OUTPUT_COLUMNS:
        one, other = ours.column(name), by_hand.column(name)
        if name == "rope_in_eye_nm":
            if np.abs(one.to_numpy() - other.to_numpy()).max(initial=0) > 1:
                return False
        elif name in ("torque_newton_metre", "efficiency", "termination_breaking_force_newton", "working_load_newton"):
            if not np.allclose(
                one.to_numpy(zero_copy_only=False), other.to_numpy(zero_copy_only=False), 1e-12, equal_nan=True
            ):
                return False
        elif one.to_pylist() != other.to_pylist():
            return False
    return True
