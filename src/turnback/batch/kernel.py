"""The column path of one run: from the open batch to numbers, one stretch of rows after the other."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

import numpy as np
import numpy.typing as npt
import pyarrow as pa

from turnback.batch import derived
from turnback.batch.answers import AnswerTable
from turnback.batch.cases import CaseTable
from turnback.batch.cells import THICKEST_ROPE, Cell, CellError, read_cell
from turnback.batch.columns import Bound
from turnback.batch.discrete import Codes, DiameterCodes, ExtraCodes, FlagCodes, WordCodes
from turnback.batch.keys import KeyIndex
from turnback.batch.options import BatchOptions
from turnback.batch.part_rows import PartRows
from turnback.batch.parts import plan_part
from turnback.batch.quantities import LONGEST, LengthReader, ScalarReader
from turnback.batch.requests import request_from
from turnback.batch.results import Results
from turnback.batch.roster import Wholes
from turnback.batch.rows import answer_of_row, read_row
from turnback.batch.statuses import Status
from turnback.batch.stretch import Stretch, Verdict, first_of
from turnback.model.terminations import TERMINATION_KINDS
from turnback.planning.build import plan_request
from turnback.planning.case import service_book
from turnback.planning.plan import Plan
from turnback.quantities import Length
from turnback.rules.catalogue import Catalogue

__all__ = ["Kernel"]

_MOST_DEGREES: Final = 120 * (1 - 1e-12)
_FACTORS: Final = (1.0, 1000.0)
_STAND_INS: Final = {
    "inside_length": 500, "inside_width": 100, "groove_offset": 5,
    "second_inside_length": 500, "second_inside_width": 100, "second_groove_offset": 5,
    "eye_length": 500, "pin": 50, "tread_diameter": 200, "parts_apart": 300,
}  # fmt: skip
"""What stands where such a length is not given, so that what is computed from it is never strange [mm]."""
_ROPE: Final = ("rope_diameter", "coating_diameter", "measured_diameter")
_SILENT: Final = ("style", "rope_certificate")
"""Words of which only a refusal matters."""


class Kernel:
    """Plans stretches of the open batch.

    Args:
        options: What holds for every row.
        columns: The known columns of the schema.
        catalogue: What is at hand.
    """

    def __init__(self, options: BatchOptions, columns: Sequence[Bound], catalogue: Catalogue) -> None:
        self._options = options
        self._columns = columns
        self._catalogue = catalogue
        self._in_series = catalogue.style(options.style).in_series
        self._book = service_book(catalogue)
        self._limits = derived.pin_limits(self._book)
        self._plus = derived.tolerances()
        self._codes: dict[str, Codes] = {}
        self._lengths: dict[str, LengthReader] = {}
        self._scalars: dict[str, ScalarReader] = {}
        for bound in columns:
            self._bind(bound)
        self._names = tuple(self._codes)
        diameter = self._codes["rope_diameter"]
        assert isinstance(diameter, DiameterCodes)  # the first column, always there
        self._diameter = diameter
        self._cases = CaseTable(options, catalogue)
        self._answers = AnswerTable()
        self._keys = KeyIndex(self._case_of)
        self._batch: pa.RecordBatch = None

    def __len__(self) -> int:
        return len(self._cases)

    @property
    def answers(self) -> AnswerTable:
        """The answers that rows share."""
        return self._answers

    def _bind(self, bound: Bound) -> None:
        column = bound.column
        read = partial(self._read, bound)
        if column.name == "rope_diameter" or (column.name == "coating_diameter" and bound.form != "nothing"):
            when_null = int(Status.SIZE_MISSING) if column.name == "rope_diameter" else 0
            self._codes[column.name] = DiameterCodes(LengthReader(bound, read, THICKEST_ROPE.nanometres), when_null)
        elif bound.form == "nothing" or column.name == "preformed":
            return  # nothing is given, or no answer depends on it
        elif column.kind == "length":
            most = THICKEST_ROPE.nanometres if column.name in _ROPE else LONGEST
            stand_in = _STAND_INS.get(column.name, 50) * 1_000_000
            self._lengths[column.name] = LengthReader(bound, read, most, stand_in)
        elif column.kind == "word":
            self._codes[column.name] = WordCodes(read, matters=column.name not in _SILENT)
        elif column.kind == "flag":
            self._codes[column.name] = FlagCodes()
        elif column.kind == "whole":
            self._codes[column.name] = ExtraCodes()
        else:
            self._scalars[column.name] = _scalar_reader(bound, read)

    def _read(self, bound: Bound, value: object) -> Cell | CellError:
        return read_cell(bound, value, self._book, self._options.style)

    def open(self, batch: pa.RecordBatch) -> None:
        """Take a batch.

        Args:
            batch: A batch of the schema.
        """
        self._batch = batch
        for bound in self._columns:
            name = bound.column.name
            reader = self._codes.get(name) or self._lengths.get(name) or self._scalars.get(name)
            if reader is not None:
                array = batch.column(bound.index)
                reader.open(pa.nulls(len(array), pa.int64()) if bound.form == "nothing" else array)

    def run(self, start: int, stop: int, results: Results) -> None:
        """Plan a stretch of the open batch.

        Args:
            start: First row [-].
            stop: Row behind the last [-].
            results: Where the answers are written.
        """
        with np.errstate(all="ignore"):
            self._run(start, stop, results)

    def _run(self, start: int, stop: int, results: Results) -> None:
        stretch = Stretch.read(self._lengths, self._scalars, start, stop)
        cases = self._case_places(stretch, start, stop)
        if "coating_diameter" not in self._codes:
            stretch.nominal = self._diameter.numbers
        statuses = stretch.worst()
        if self._cases.has_refused:
            refused = self._cases.column("cells").take(cases).astype(np.uint8)
            statuses = refused if statuses is None else first_of(statuses, refused)
        kinds = self._kinds(cases)
        masks = np.zeros(stretch.count, dtype=np.uint8)
        asked = np.zeros(stretch.count, dtype=np.bool_)
        for kind, rows in kinds:
            mine = PartRows(
                stretch if rows is None else stretch.only(rows),
                cases if rows is None else cases.take(rows),
                self._cases,
                kind,
                Verdict(
                    stretch.count if rows is None else len(rows),
                    statuses if rows is None or statuses is None else statuses.take(rows),
                ),
            )
            part = plan_part(mine, in_series=self._in_series)
            results.put_part(part, start, stop, rows)
            verdict = part.verdict
            if rows is None:
                masks, statuses = part.masks, verdict.statuses
                asked = asked if verdict.asked is None else verdict.asked
                continue
            masks[rows] = part.masks
            if verdict.statuses is not None:
                statuses = np.zeros(stretch.count, dtype=np.uint8) if statuses is None else statuses
                statuses[rows] = verdict.statuses
            if verdict.asked is not None:
                asked[rows] = verdict.asked
        places = self._answer_places(cases, masks, statuses, asked, start)
        results.put_answers(places, self._answers, stretch, statuses, start, stop)
        for row in np.flatnonzero(asked).tolist():
            answer = answer_of_row(self._row(start + row), self._columns, self._options, self._catalogue)
            results.put_row(start + row, answer, self._answers)

    def _kinds(self, cases: Wholes) -> list[tuple[str, Wholes | None]]:
        if "termination" not in self._codes:
            return [(self._options.termination, None)]
        kinds = self._cases.column("kind").take(cases)
        present = np.unique(kinds).tolist()
        if len(present) == 1:
            return [(TERMINATION_KINDS[present[0]], None)]
        return [(TERMINATION_KINDS[kind], np.flatnonzero(kinds == kind)) for kind in present]

    # --- cases ---

    def _case_places(self, stretch: Stretch, start: int, stop: int) -> Wholes:
        codes = [reader.take(start, stop) for reader in self._codes.values()]
        sizes = [len(reader) for reader in self._codes.values()]
        lengths, force = stretch.lengths, stretch.scalars.get("minimum_breaking_force")
        most = len(self._limits) + 3
        if {"measured_diameter", "pin", "eye_length", "tread_diameter"} & set(lengths):
            nominal = self._diameter.numbers
            measured, pin, tread = (lengths.get(name) for name in ("measured_diameter", "pin", "tread_diameter"))
            if measured is not None:
                codes.append(derived.measured_codes(measured, nominal, self._plus))
                sizes.append(len(self._plus) + 4)
            if pin is not None or "eye_length" in lengths:
                codes.append(derived.pin_codes(pin, lengths.get("eye_length"), nominal, self._limits))
                sizes.append(most)
            if tread is not None:
                codes.append(derived.pin_codes(tread, None, nominal, self._limits))
                sizes.append(most)
        if force is not None:
            codes.append(derived.force_codes(force, stretch.count))
            sizes.append(2)
        return self._keys.places(codes, sizes)

    def _case_of(self, codes: tuple[int, ...]) -> int:
        cells: dict[str, Cell | Status] = {
            name: self._codes[name].cell(code) for name, code in zip(self._names, codes, strict=False)
        }
        rest = list(codes[len(self._names) :])
        size = cells["rope_diameter"]
        nominal = size.nanometres if isinstance(size, Length) else 0
        if isinstance(size, Length):
            if "measured_diameter" in self._lengths:
                cells |= derived.measured_cells(rest.pop(0), nominal, self._plus)
            if "pin" in self._lengths or "eye_length" in self._lengths:
                cells |= derived.pin_cells(rest.pop(0), nominal, self._limits)
            if "tread_diameter" in self._lengths:
                cells |= derived.tread_cells(rest.pop(0), nominal, self._limits)
            if "minimum_breaking_force" in self._scalars and rest.pop(0):
                cells["minimum_breaking_force"] = derived.AnyForce
        return self._cases.add(cells)

    # --- answers ---

    def _answer_places(
        self,
        cases: Wholes,
        masks: npt.NDArray[np.uint8],
        statuses: npt.NDArray[np.uint8] | None,
        asked: npt.NDArray[np.bool_],
        start: int,
    ) -> Wholes:
        most = len(self._cases)
        refused = statuses is not None and bool(statuses.any())
        if not refused and not asked.any():
            return self._answers.places(cases, masks, lambda i: self._plan(start + i), most)
        fine = ~asked if statuses is None else ~asked & (statuses == 0)
        rows = np.flatnonzero(fine)
        places = np.zeros(len(cases), dtype=np.int64)
        places[rows] = self._answers.places(
            cases.take(rows), masks.take(rows), lambda i: self._plan(start + int(rows[i])), most
        )
        return places

    def _row(self, row: int) -> dict[str, object]:
        return {bound.name: self._batch.column(bound.index)[row].as_py() for bound in self._columns}

    def _plan(self, row: int) -> Plan:
        cells = read_row(self._row(row), self._columns, self._options, self._catalogue)
        if isinstance(cells, CellError):
            raise cells.error
        return plan_request(request_from(cells, self._options), self._catalogue)


def _scalar_reader(bound: Bound, read: partial[Cell | CellError]) -> ScalarReader:
    if bound.column.kind == "angle":
        return ScalarReader(bound, read, most=_MOST_DEGREES, scale=180.0 / np.pi)
    if bound.column.kind == "number":
        return ScalarReader(bound, read, least=_FACTORS[0], most=_FACTORS[1], open_below=False, open_above=False)
    return ScalarReader(bound, read)
