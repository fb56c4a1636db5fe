"""The planner of a run: record batches in, record batches out, with the cases of the rules kept between them."""

from __future__ import annotations

from typing import Final

import pyarrow as pa

from turnback.batch.columns import Bound, bind
from turnback.batch.kernel import Kernel
from turnback.batch.options import BatchOptions
from turnback.batch.output import OUTPUT_COLUMNS, output_schema
from turnback.batch.provenance import checked_rule_sets, provenance
from turnback.batch.reporting import refuse_rows
from turnback.batch.results import Results
from turnback.batch.rows import answer_of_row
from turnback.errors import InputError, TurnbackError
from turnback.planning.asking import OURS
from turnback.planning.request import check_kind
from turnback.rules.catalogue import Catalogue

__all__ = ["BLOCK", "BatchPlanner"]

BLOCK: Final = 1 << 16
"""Rows that are planned at a time, so that what is computed of them stays near the processor [-]."""
_MOST_CASES: Final = 100_000


class BatchPlanner:
    """Plans the rows of record batches of one schema.

    It keeps what the rules say of each combination of size, construction, service and the like, so that a later batch
    need not ask again. One planner serves one thread at a time; make one for each.

    Args:
        options: What holds for every row.
        input_schema: The schema of every batch.
        catalogue: What is at hand; the installed plugins when not given.

    Raises:
        TurnbackError: The schema or the options cannot be planned from; nothing was planned yet.
    """

    def __init__(self, options: BatchOptions, input_schema: pa.Schema, catalogue: Catalogue | None = None) -> None:
        check_kind(options, (BatchOptions,), "options", "BatchOptions(style=..., rules=...)")
        check_kind(input_schema, (pa.Schema,), "input_schema", "a pyarrow.Schema")
        self._options = options
        self._catalogue = Catalogue.installed() if catalogue is None else catalogue
        self._input_schema = input_schema
        self._columns = bind(input_schema, options, [name for name, _ in OUTPUT_COLUMNS])
        rule_sets = checked_rule_sets(options, self._catalogue)
        self._schema = output_schema(input_schema, provenance(options, rule_sets, self._catalogue))
        # A style that a plugin wrote lays out one joint at a time; it is asked for each.
        ours = type(self._catalogue.style(options.style)) in OURS
        self._kernel = Kernel(options, self._columns, self._catalogue) if ours else None
        self._seen = 0

    @property
    def output_schema(self) -> pa.Schema:
        """The schema of every batch that comes out."""
        return self._schema

    def plan(self, batch: pa.RecordBatch) -> pa.RecordBatch:
        """Plan the rows of one batch.

        Args:
            batch: A batch of the input's schema.

        Returns:
            The batch with the columns of :data:`~turnback.batch.OUTPUT_COLUMNS` behind its own.

        Raises:
            InputError: The batch is of another schema; or, with ``strict``, a row was not planned.
        """
        check_kind(batch, (pa.RecordBatch,), "batch", "a pyarrow.RecordBatch")
        if not batch.schema.equals(self._input_schema):
            raise InputError(
                "the batch is of another schema than the planner was made for",
                field="batch",
                value=", ".join(batch.schema.names)[:80],
                bound=", ".join(self._input_schema.names)[:200],
                instead="Make a planner for each schema.",
            )
        arrays = self._by_row(batch) if self._kernel is None else self._by_column(batch, self._kernel)
        planned = pa.RecordBatch.from_arrays([*batch.columns, *arrays], schema=self._schema)
        if self._options.strict:
            refuse_rows([planned], self._seen, self.why)
        self._seen += batch.num_rows
        return planned

    @property
    def columns(self) -> tuple[Bound, ...]:
        """The known columns of the input."""
        return self._columns

    def why(self, batch: pa.RecordBatch, row: int) -> TurnbackError | None:
        """Say why a row was not planned.

        Args:
            batch: A batch of the input or of the output.
            row: Place of the row in the batch, counted from 0 [-].

        Returns:
            The error of its scalar plan; None where it was planned.
        """
        (cells,) = batch.select([bound.name for bound in self._columns]).slice(row, 1).to_pylist()
        return answer_of_row(cells, self._columns, self._options, self._catalogue).error

    def _by_column(self, batch: pa.RecordBatch, kernel: Kernel) -> list[pa.Array]:
        if len(kernel) > _MOST_CASES:
            # A register of endless sizes; what was kept of them is let go.
            kernel = self._kernel = Kernel(self._options, self._columns, self._catalogue)
        count = batch.num_rows
        results = Results(count)
        if count:
            kernel.open(batch)
        for start in range(0, count, BLOCK):
            kernel.run(start, min(start + BLOCK, count), results)
        return results.columns(kernel.answers)

    def _by_row(self, batch: pa.RecordBatch) -> list[pa.Array]:
        rows = batch.select([bound.name for bound in self._columns]).to_pylist()
        answers = [answer_of_row(row, self._columns, self._options, self._catalogue) for row in rows]
        arrays = [pa.array([int(each.status) for each in answers], OUTPUT_COLUMNS[0][1])]
        for i, (_, kind) in enumerate(OUTPUT_COLUMNS[1:]):
            arrays.append(pa.array([each.values[i] for each in answers], kind))
        return arrays
