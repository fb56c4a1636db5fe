"""One row, answered by the scalar plan: the reference for the column path, and its way out where bits are in doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import attrs
import pyarrow as pa

from turnback.batch.cells import Cell, CellError, read_cell
from turnback.batch.columns import Bound, bind
from turnback.batch.options import BatchOptions
from turnback.batch.output import OUTPUT_COLUMNS
from turnback.batch.own_factor import below_cited, judged_by
from turnback.batch.requests import of_another_kind, request_from
from turnback.batch.statuses import Status, status_of_error
from turnback.errors import InputError, TurnbackError
from turnback.model.absent import Absent
from turnback.model.findings import KINDS
from turnback.planning.build import plan_request
from turnback.planning.case import service_book
from turnback.planning.cutting import cut_length
from turnback.planning.plan import Plan
from turnback.planning.request import Request
from turnback.quantities import Force, Length, Torque
from turnback.rules.catalogue import Catalogue

__all__ = ["RowAnswer", "answer_of_row", "read_row", "request_of_row"]


@attrs.frozen
class RowAnswer:
    """What the scalar plan says of one row.

    Args:
        status: Its status.
        values: The values of the output's columns behind the status, in their order; all None where it was not planned.
        error: Why it was not planned; None where it was.
    """

    status: Status
    values: tuple[object, ...]
    error: TurnbackError | None


_NOTHING = (None,) * (len(OUTPUT_COLUMNS) - 1)


def read_row(
    row: Mapping[str, object], columns: Sequence[Bound], options: BatchOptions, catalogue: Catalogue
) -> dict[str, Cell] | CellError:
    """Read the cells of one row.

    Args:
        row: The row as Python values, by the names of its columns.
        columns: The known columns of its schema.
        options: What holds for every row.
        catalogue: What is at hand.

    Returns:
        The cells that were given, by the names of :data:`~turnback.batch.INPUT_COLUMNS`; or the error whose status
        comes first.
    """
    book = service_book(catalogue)
    cells: dict[str, Cell] = {}
    first: CellError | None = None
    for bound in columns:
        cell = read_cell(bound, row[bound.name], book, options.style)
        if isinstance(cell, CellError):
            if first is None or cell.status < first.status:
                first = cell
        elif cell is not None:
            cells[bound.column.name] = cell
        elif bound.column.name == "rope_diameter":
            missing = "the rope's diameter is not given"
            first = CellError(Status.SIZE_MISSING, InputError(missing, field=bound.name, instead="Every row needs it."))
    if first is None and (strange := of_another_kind(cells, options)) is not None:
        first = CellError(Status.DIMENSION_OF_ANOTHER_KIND, strange)
    return cells if first is None else first


def request_of_row(
    row: Mapping[str, object], input_schema: pa.Schema, options: BatchOptions, catalogue: Catalogue | None = None
) -> Request:
    """Return the request that the scalar path would plan for a row of an input.

    Args:
        row: One row as Python values, by the names of its columns, such as one of ``batch.to_pylist()``.
        input_schema: The schema of the input.
        options: What holds for every row.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The request, for :func:`turnback.planning.build.plan_request`.

    Raises:
        InputError: The schema has no place here, a cell cannot be read, or the cells make no termination together.
    """
    columns = bind(input_schema, options, ())
    cells = read_row(row, columns, options, Catalogue.installed() if catalogue is None else catalogue)
    if isinstance(cells, CellError):
        raise cells.error
    return request_from(cells, options)


def answer_of_row(
    row: Mapping[str, object], columns: Sequence[Bound], options: BatchOptions, catalogue: Catalogue
) -> RowAnswer:
    """Answer one row by the scalar plan.

    Args:
        row: One row as Python values, by the names of its columns.
        columns: The known columns of its schema.
        options: What holds for every row.
        catalogue: What is at hand.

    Returns:
        The answer.
    """
    cells = read_row(row, columns, options, catalogue)
    if isinstance(cells, CellError):
        return RowAnswer(cells.status, _NOTHING, cells.error)
    try:
        plan = plan_request(request_from(cells, options), catalogue)
    except TurnbackError as error:
        return RowAnswer(status_of_error(error), _NOTHING, error)
    factor = cells.get("design_factor")
    if isinstance(factor, Fraction):
        low = below_cited(plan, factor)
        if low is not None:
            return RowAnswer(Status.INPUT_REFUSED, _NOTHING, low)
        plan = judged_by(plan, factor, catalogue)
    size, span = cells.get("clip_size"), cells.get("span")
    if isinstance(size, Length) and size != plan.clip_size:
        other = InputError(
            "the clips are of another size than the rope's own",
            field="clip_size",
            value=str(size),
            bound=f"{plan.clip_size} for this rope",
            instead="Plan this joint by itself: clip_size= with the clip maker's word.",
        )
        return RowAnswer(Status.OTHER_CLIP_SIZE, _NOTHING, other)
    cut = None
    if isinstance(span, Length):
        try:
            cut = _number(cut_length(span=span, ends=(plan, plan)).length)
        except InputError as error:
            return RowAnswer(Status.SPAN_REFUSED, _NOTHING, error)
    return RowAnswer(Status.OK, _values(plan, cells, cut), None)


def _values(plan: Plan, cells: Mapping[str, Cell], cut: object) -> tuple[object, ...]:
    efficiency = plan.efficiency
    threads = plan.thread_condition
    kinds = [finding.kind for finding in plan.findings]
    return (
        plan.clip_count,
        _number(plan.spacing),
        _number(plan.turn_back),
        _number(plan.torque),
        None if isinstance(threads, Absent) else threads,
        None if isinstance(efficiency, Absent) else float(efficiency),
        _number(plan.termination_breaking_force),
        _working_load(plan, cells.get("design_factor")),
        _number(plan.rope_in_eye),
        cut,
        plan.usable,
        min(kinds, key=KINDS.index, default=None),
        "; ".join(dict.fromkeys(finding.code for finding in plan.findings)),
    )


def _working_load(plan: Plan, factor: Cell) -> float | None:
    try:
        return plan.working_load(factor).newtons  # type: ignore[arg-type]  # a factor or None, as its column says
    except TurnbackError:
        return None


def _number(value: Length | Torque | Force | Absent) -> int | float | None:
    if isinstance(value, Length):
        return value.nanometres
    if isinstance(value, Torque):
        return value.newton_metres
    return value.newtons if isinstance(value, Force) else None
