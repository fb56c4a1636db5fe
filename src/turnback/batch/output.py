"""The columns that the output adds, and its schema with the provenance of every number in the metadata."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import pyarrow as pa

__all__ = ["OUTPUT_COLUMNS", "output_schema"]

_TEXT: Final = pa.string()

OUTPUT_COLUMNS: Final[tuple[tuple[str, pa.DataType], ...]] = (
    ("status", pa.uint8()),
    ("clip_count", pa.int32()),
    ("spacing_nm", pa.int64()),
    ("turn_back_nm", pa.int64()),
    ("torque_newton_metre", pa.float64()),
    ("thread_condition", pa.dictionary(pa.int8(), _TEXT)),
    ("efficiency", pa.float64()),
    ("termination_breaking_force_newton", pa.float64()),
    ("working_load_newton", pa.float64()),
    ("rope_in_eye_nm", pa.int64()),
    ("cut_length_nm", pa.int64()),
    ("usable", pa.bool_()),
    ("worst_finding", pa.dictionary(pa.int8(), _TEXT)),
    ("finding_codes", pa.dictionary(pa.int32(), _TEXT)),
)
"""Names and types of the columns behind the input's own, in order. Lengths are whole nanometres, torques newton metre,
forces newton. ``clip_count`` and ``turn_back_nm`` are those of the whole lap splice; ``working_load_newton`` is that of
the row's design factor or the service's cited one, null where the plan refuses it; ``cut_length_nm`` is for a span
between two such ends; ``worst_finding`` is the gravest kind, ``finding_codes`` the codes in the plan's order, each
once, joined by ``; ``."""


def output_schema(input_schema: pa.Schema, provenance: bytes) -> pa.Schema:
    """Return the schema of the output.

    Args:
        input_schema: The schema of the input.
        provenance: What stands behind the numbers, as JSON.

    Returns:
        The input's fields unchanged, then :data:`OUTPUT_COLUMNS`; the input's metadata with ``turnback`` in it.
    """
    fields = [*input_schema, *(pa.field(name, kind) for name, kind in OUTPUT_COLUMNS)]
    known: Mapping[bytes, bytes] = input_schema.metadata or {}
    return pa.schema(fields, {**known, b"turnback": provenance})
