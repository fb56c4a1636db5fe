"""The status of a row: one small number that says whether it was planned, and if not, why not."""

from __future__ import annotations

from enum import IntEnum
from typing import Final

import attrs

from turnback.errors import Conflict, OutOfScope, OutOfTable, PluginError, TurnbackError

__all__ = ["BATCH_STATUSES", "BatchStatus", "Status", "status_of_error"]


class Status(IntEnum):
    """Status of one row, as the column ``status`` holds it. Where several hold, the one that comes first stands."""

    OK = 0
    SIZE_MISSING = 1
    VALUE_UNREADABLE = 2
    VALUE_OUT_OF_BOUNDS = 3
    UNKNOWN_WORD = 4
    OTHER_STYLE = 5
    DIMENSION_OF_ANOTHER_KIND = 6
    OUT_OF_TABLE = 7
    OUT_OF_SCOPE = 8
    CONFLICT = 9
    INPUT_REFUSED = 10
    OTHER_CLIP_SIZE = 11
    SPAN_REFUSED = 12
    PLUGIN_FAILED = 13

    @property
    def label(self) -> str:
        """Its name in text, such as ``out-of-table``."""
        return self.name.lower().replace("_", "-")


@attrs.frozen
class BatchStatus:
    """One status and what it says.

    Args:
        status: The status.
        text: What it says of the row, one sentence.
    """

    status: Status
    text: str

    @property
    def code(self) -> int:
        """The number in the column ``status`` [-]."""
        return int(self.status)

    @property
    def name(self) -> str:
        """Its name in text, such as ``out-of-table``."""
        return self.status.label


BATCH_STATUSES: Final[tuple[BatchStatus, ...]] = (
    BatchStatus(Status.OK, "The row was planned; what is null beside it is absent from its plan too."),
    BatchStatus(Status.SIZE_MISSING, "The rope's diameter is not given."),
    BatchStatus(
        Status.VALUE_UNREADABLE,
        "A cell cannot be read: text that is not of the accepted forms, a number without its unit (--unit COLUMN=UNIT "
        "names it for a column of CSV, such as --unit base_width=mm), a number that is not finite, a length of no "
        "whole number of nanometres.",
    ),
    BatchStatus(
        Status.VALUE_OUT_OF_BOUNDS,
        "A cell can be read and is out of its bounds: zero, negative, longer than any rope, a factor below 1.",
    ),
    BatchStatus(
        Status.UNKNOWN_WORD,
        "A word is in no closed list: construction, core, grade, termination, clip body, service and the like.",
    ),
    BatchStatus(Status.OTHER_STYLE, "The row names another clip style than the one that is planned."),
    BatchStatus(
        Status.DIMENSION_OF_ANOTHER_KIND,
        "The row gives a dimension that its kind of termination does not have, such as a pulley for a thimble eye.",
    ),
    BatchStatus(Status.OUT_OF_TABLE, "The rule set prints no row for the size; nothing is interpolated."),
    BatchStatus(Status.OUT_OF_SCOPE, "The rule set does not speak of this rope."),
    BatchStatus(Status.CONFLICT, "Two cited demands cannot be met together."),
    BatchStatus(
        Status.INPUT_REFUSED,
        "Each cell can be read, and together they make no termination, such as an eye too short for its rope; or the "
        "design factor is below the service's cited one.",
    ),
    BatchStatus(
        Status.OTHER_CLIP_SIZE,
        "The row names another clip size than its rope's own, which only one plan at a time takes, on the clip "
        "maker's word.",
    ),
    BatchStatus(Status.SPAN_REFUSED, "The two ends do not fit into the span."),
    BatchStatus(Status.PLUGIN_FAILED, "The plugin that brings the style breaks on this row."),
)
"""Every status in the order of its number, which is the order in which rows are checked."""


def status_of_error(error: TurnbackError) -> Status:
    """Return the status that stands for an error of the scalar plan.

    Args:
        error: The error.

    Returns:
        The status of a row whose plan raises it.
    """
    if isinstance(error, OutOfTable):
        return Status.OUT_OF_TABLE
    if isinstance(error, OutOfScope):
        return Status.OUT_OF_SCOPE
    if isinstance(error, Conflict):
        return Status.CONFLICT
    if isinstance(error, PluginError):
        return Status.PLUGIN_FAILED
    return Status.INPUT_REFUSED
