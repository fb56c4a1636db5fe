"""Terminations by the million: Arrow record batches in, Arrow record batches out, the same bits as the scalar plan."""

from turnback.batch._needs import LIBRARIES
from turnback.batch.changes import ChangedRow, ChangeReport, GivenChange, LengthChange, against, against_file
from turnback.batch.column_use import ColumnRead, ColumnUse
from turnback.batch.columns import INPUT_COLUMNS, InputColumn
from turnback.batch.explaining import Explained, explain_row
from turnback.batch.files import FileReport, Rehearsal, plan_file, rehearse_file
from turnback.batch.fingerprints import fingerprint
from turnback.batch.options import BatchOptions
from turnback.batch.output import OUTPUT_COLUMNS
from turnback.batch.planner import BatchPlanner
from turnback.batch.rows import request_of_row
from turnback.batch.statuses import BATCH_STATUSES, BatchStatus, Status
from turnback.batch.stream import ArrowStream, plan_batches, plan_table

__all__ = [
    "BATCH_STATUSES",
    "INPUT_COLUMNS",
    "LIBRARIES",
    "OUTPUT_COLUMNS",
    "ArrowStream",
    "BatchOptions",
    "BatchPlanner",
    "BatchStatus",
    "ChangeReport",
    "ChangedRow",
    "ColumnRead",
    "ColumnUse",
    "Explained",
    "FileReport",
    "GivenChange",
    "InputColumn",
    "LengthChange",
    "Rehearsal",
    "Status",
    "against",
    "against_file",
    "explain_row",
    "fingerprint",
    "plan_batches",
    "plan_file",
    "plan_table",
    "rehearse_file",
    "request_of_row",
]
