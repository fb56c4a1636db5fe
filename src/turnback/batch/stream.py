"""The two functions that most callers need: batches in and batches out, or a whole table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

import pyarrow as pa

from turnback.batch.options import DEFAULT_BODY, DEFAULT_KIND, BatchOptions
from turnback.batch.planner import BatchPlanner
from turnback.batch.provenance import checked_rule_sets
from turnback.batch.reporting import refuse_rows
from turnback.errors import InputError
from turnback.planning.request import MakerFigures
from turnback.rules.catalogue import Catalogue
from turnback.rules.selection import RulesChoice

__all__ = ["ArrowStream", "plan_batches", "plan_table"]


class ArrowStream(Protocol):
    """A table of any library that hands its columns over by the Arrow C stream interface."""

    def __arrow_c_stream__(self, requested_schema: object = None) -> object:
        """Hand the columns over."""


def plan_batches(
    batches: Iterable[pa.RecordBatch],
    *,
    style: str,
    rules: RulesChoice,
    termination: str = DEFAULT_KIND,
    clip_body: str = DEFAULT_BODY,
    service: str | None = None,
    jurisdiction: str | None = None,
    efficiency_basis: str | None = None,
    maker: MakerFigures | None = None,
    strict: bool = False,
    catalogue: Catalogue | None = None,
) -> Iterator[pa.RecordBatch]:
    """Plan the rows of a stream of record batches, one batch after the other.

    Args:
        batches: Batches of one schema; a ``pyarrow.RecordBatchReader`` is one such stream.
        style: Id of the clip style.
        rules: The rule set or sets.
        termination: Kind of termination of rows that do not name one.
        clip_body: ``forged``, ``other`` or ``not given``, where there is no column of that name.
        service: Id of the service, where there is no column of that name.
        jurisdiction: Where the joints are used, where there is no column of that name.
        efficiency_basis: Basis of efficiency asked for by name.
        maker: Further figures of the clip's maker, for every row.
        strict: Raise at the first batch with a row that was not planned, in place of a status.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        One batch for each that comes in, with the columns of :data:`~turnback.batch.OUTPUT_COLUMNS` behind its own.

    Raises:
        TurnbackError: The options cannot be planned with (raised at once), or the schema cannot be planned from (raised
            at once where the stream tells its schema, otherwise with the first batch); nothing was planned yet.
        InputError: A batch has another schema than the first; or, with ``strict``, a row was not planned.
    """
    options = BatchOptions(style, rules, termination, clip_body, service, jurisdiction, efficiency_basis, maker, strict)
    checked_rule_sets(options, Catalogue.installed() if catalogue is None else catalogue)
    schema = getattr(batches, "schema", None)
    planner = BatchPlanner(options, schema, catalogue) if isinstance(schema, pa.Schema) else None
    return _planned(batches, options, catalogue, planner)


def _planned(
    batches: Iterable[pa.RecordBatch],
    options: BatchOptions,
    catalogue: Catalogue | None,
    planner: BatchPlanner | None,
) -> Iterator[pa.RecordBatch]:
    for batch in batches:
        if planner is None:
            planner = BatchPlanner(options, batch.schema, catalogue)
        yield planner.plan(batch)


def plan_table(
    table: ArrowStream | pa.Table,
    *,
    style: str,
    rules: RulesChoice,
    termination: str = DEFAULT_KIND,
    clip_body: str = DEFAULT_BODY,
    service: str | None = None,
    jurisdiction: str | None = None,
    efficiency_basis: str | None = None,
    maker: MakerFigures | None = None,
    strict: bool = False,
    catalogue: Catalogue | None = None,
) -> pa.Table:
    """Plan the rows of a whole table.

    Args:
        table: A ``pyarrow.Table``, or a frame of any library with the Arrow C stream interface.
        style: Id of the clip style.
        rules: The rule set or sets.
        termination: Kind of termination of rows that do not name one.
        clip_body: ``forged``, ``other`` or ``not given``, where there is no column of that name.
        service: Id of the service, where there is no column of that name.
        jurisdiction: Where the joints are used, where there is no column of that name.
        efficiency_basis: Basis of efficiency asked for by name.
        maker: Further figures of the clip's maker, for every row.
        strict: Raise where a row was not planned, with the counts of the whole table.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The table with the columns of :data:`~turnback.batch.OUTPUT_COLUMNS` behind its own.

    Raises:
        TurnbackError: The options or the schema cannot be planned with; nothing was planned.
        InputError: It is no table; or, with ``strict``, a row was not planned.
    """
    options = BatchOptions(style, rules, termination, clip_body, service, jurisdiction, efficiency_basis, maker)
    whole = _table(table)
    planner = BatchPlanner(options, whole.schema, catalogue)
    planned = [planner.plan(batch) for batch in whole.to_batches()]
    if strict:
        refuse_rows(planned, 0, planner.why)
    return pa.Table.from_batches(planned, schema=planner.output_schema)


def _table(given: object) -> pa.Table:
    if isinstance(given, pa.Table):
        return given
    if hasattr(given, "__arrow_c_stream__") or hasattr(given, "__arrow_c_array__"):
        return pa.table(given)
    raise InputError(
        "this is no table",
        field="table",
        value=repr(type(given).__name__),
        bound="a pyarrow.Table, or a frame with the Arrow C stream interface",
        instead="Hand over the frame itself, or pyarrow.table(...) of it.",
    )
