"""One row of a register as the full scalar plan, with the derivation of every number."""

from __future__ import annotations

import os
from collections.abc import Mapping
from fractions import Fraction

import attrs

from turnback.batch._files_pieces import blocks
from turnback.batch._files_planning import FilePlanner
from turnback.batch._files_sources import open_source
from turnback.batch.cells import CellError
from turnback.batch.columns import bind
from turnback.batch.options import BatchOptions
from turnback.batch.own_factor import with_own_factor
from turnback.batch.rows import read_row, request_of_row
from turnback.batch.statuses import BATCH_STATUSES, BatchStatus
from turnback.errors import InputError, TurnbackError
from turnback.planning.build import plan_request
from turnback.planning.plan import Plan
from turnback.planning.request import check_kind
from turnback.rules.catalogue import Catalogue

__all__ = ["Explained", "explain_row"]


@attrs.frozen
class Explained:
    """What stands behind one row.

    Args:
        row: Its number, counted from 0 [-].
        status: Its status.
        plan: The scalar plan, with the row's own design factor where it has one; None where the row was not planned.
        error: Why it was not planned; None where it was.
        answers: What the column path answered, by column; numbers, text and nulls.
        cited: The plan at the cited design factor, which another can make again from its request; the same plan where
            the row has no factor of its own.
    """

    row: int
    status: BatchStatus
    plan: Plan | None
    error: TurnbackError | None
    answers: tuple[tuple[str, object], ...]
    cited: Plan | None = None


def explain_row(
    source: str | os.PathLike[str],
    row: int,
    options: BatchOptions,
    *,
    units: Mapping[str, str] | None = None,
    catalogue: Catalogue | None = None,
) -> Explained:
    """Turn one row of an input, or of an output, into its full plan.

    Parquet is read from the row group that holds the row, Arrow record batch by record batch, CSV from its beginning.
    Columns of an output are left out, so that the output of a run explains itself.

    Args:
        source: A file, or a folder of Parquet files.
        row: Number of the row, counted from 0 [-].
        options: What holds for every row.
        units: Units of columns of numbers.
        catalogue: What is at hand; the installed plugins when not given.

    Returns:
        The plan, or why there is none.

    Raises:
        TurnbackError: The columns or the options cannot be planned with, or the input cannot be read.
        InputError: There is no such row.
    """
    at_hand = Catalogue.installed() if catalogue is None else catalogue
    given = open_source(source, units or {}, as_text=True)
    settled = attrs.evolve(options, strict=False)
    planner = FilePlanner(given, settled, at_hand, again=True)
    check_kind(row, (int,), "row", "a whole number from 0")
    if isinstance(row, bool) or row < 0:
        raise _no_row(row, None)
    piece = next(iter(blocks(given, row, 1)), None)
    if piece is None or (given.rows is not None and row >= given.rows):
        raise _no_row(row, given.counted())
    answers = planner.plan(piece).to_pylist()[0]
    status = BATCH_STATUSES[answers["status"]]
    said = tuple((name, answers[name]) for name in planner.answers)
    plan: Plan | None = None
    cited: Plan | None = None
    problem: TurnbackError | None = None
    try:
        refused = planner.why(piece, 0)
        if refused is not None:
            raise refused
        cells = {name: value for name, value in piece.given.to_pylist()[0].items() if name in planner.given.names}
        columns = bind(planner.given, settled, ())
        plan = cited = plan_request(request_of_row(cells, planner.given, settled, at_hand), at_hand)
        read = read_row(cells, columns, settled, at_hand)
        factor = None if isinstance(read, CellError) else read.get("design_factor")
        if isinstance(factor, Fraction):
            plan = with_own_factor(plan, factor, at_hand)
    except TurnbackError as error:
        problem = error
    return Explained(row, status, plan, problem, said, cited)


def _no_row(row: object, rows: int | None) -> InputError:
    return InputError(
        "there is no such row",
        field="row",
        value=repr(row)[:80],
        bound="whole numbers from 0" if rows is None else f"rows 0 to {rows - 1}" if rows else "no rows at all",
        instead="The first row below the names is row 0.",
    )
