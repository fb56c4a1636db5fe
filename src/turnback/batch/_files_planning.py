"""From pieces of a file to planned batches, and the one form that a part has however it was read."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from turnback import __version__
from turnback.batch._files_pieces import Piece, Source
from turnback.batch.options import BatchOptions
from turnback.batch.output import OUTPUT_COLUMNS
from turnback.batch.planner import BatchPlanner
from turnback.batch.statuses import Status
from turnback.errors import InputError
from turnback.rules.catalogue import Catalogue

__all__ = ["FilePlanner", "canonical", "options_hash", "without_answers"]

_ANSWERS = frozenset(name for name, _ in OUTPUT_COLUMNS)


class FilePlanner:
    """Plans the pieces of one source.

    Args:
        source: The source.
        options: What holds for every row; not strict.
        catalogue: What is at hand; the installed plugins when not given.
        again: Leave out the columns that the output adds.

    Raises:
        TurnbackError: The columns or the options cannot be planned with.
    """

    def __init__(self, source: Source, options: BatchOptions, catalogue: Catalogue | None, *, again: bool) -> None:
        self._names = without_answers(source.given) if again else list(source.given.names)
        self._all = self._names == list(source.given.names)
        if not again and (there := sorted(_ANSWERS.intersection(source.given.names))):
            raise InputError(
                "the input holds answers of an earlier run, and the output adds its own under the same names",
                field="IN",
                value=", ".join(there),
                instead="Leave them out of the input with --again (again=True), or rename the columns.",
            )
        given = source.given if self._all else _chosen(source.given, self._names)
        kept = source.kept if self._all else _chosen(source.kept, self._names)
        self._planner = BatchPlanner(options, given, catalogue)
        planned = self._planner.output_schema
        self._answers = list(planned)[len(given) :]
        self.schema: pa.Schema = pa.schema([*kept, *self._answers], planned.metadata)

    @property
    def given(self) -> pa.Schema:
        """The schema of what is planned from."""
        return pa.schema(list(self._planner.output_schema)[: len(self._names)])

    @property
    def answers(self) -> tuple[str, ...]:
        """Names of the columns that are added."""
        return tuple(field.name for field in self._answers)

    def plan(self, piece: Piece) -> pa.RecordBatch:
        """Plan the rows of a piece.

        Args:
            piece: The piece.

        Returns:
            The columns that are kept, and the answers behind them.
        """
        given = piece.given if self._all else piece.given.select(self._names)
        kept = piece.kept if self._all else piece.kept.select(self._names)
        planned = self._planner.plan(given)
        answers = planned.columns[given.num_columns :]
        if piece.unreadable is not None:
            # The rest of such a row is null already: its diameter was made unreadable before it was planned.
            status = np.array(answers[0])
            status[piece.unreadable & (status != Status.SIZE_MISSING)] = Status.VALUE_UNREADABLE
            answers[0] = pa.array(status, answers[0].type)
        return pa.RecordBatch.from_arrays([*kept.columns, *answers], schema=self.schema)


def options_hash(options: BatchOptions, schema: pa.Schema) -> str:
    """Return a text that changes when a run would answer otherwise for the same rows.

    Args:
        options: What holds for every row.
        schema: Schema of the output; its metadata names rule sets, editions and the hashes of their files.

    Returns:
        A hash, in hexadecimal digits.
    """
    said = hashlib.sha256(f"{__version__}\n{options!r}\n".encode())
    said.update(schema.serialize())
    return said.hexdigest()


def without_answers(schema: pa.Schema) -> list[str]:
    """Return the columns of a schema that are not answers of an earlier run.

    Args:
        schema: The schema.

    Returns:
        Their names, in order.
    """
    return [name for name in schema.names if name not in _ANSWERS]


def _chosen(schema: pa.Schema, names: Sequence[str]) -> pa.Schema:
    return pa.schema([schema.field(name) for name in names], schema.metadata)


def canonical(part: Sequence[pa.RecordBatch], schema: pa.Schema) -> pa.Table:
    """Return a part in the one form that its rows have, however they were read and planned.

    Of a dictionary only the values that the part uses stay, sorted: what else stands in it tells of rows before.

    Args:
        part: The batches.
        schema: Their schema.

    Returns:
        One table of one chunk a column.

    Raises:
        InputError: A column holds more than fits into one chunk.
    """
    table = pa.Table.from_batches(list(part), schema).combine_chunks()
    for index, field in enumerate(schema):
        if pa.types.is_dictionary(field.type) and table.num_rows:
            column = table.column(index)
            if column.num_chunks != 1:
                raise InputError("a part holds more text than fits", field=field.name)
            table = table.set_column(index, field, _used(column.chunk(0)))
    return table


def _used(column: pa.DictionaryArray) -> pa.DictionaryArray:
    codes = column.indices
    if len(column.dictionary) == 1 and not column.null_count and len(codes):
        return column  # most words of most registers are one word
    used = np.zeros(len(column.dictionary), np.bool_)
    used[np.asarray(codes.drop_null())] = True
    values = pc.unique(column.dictionary.filter(pa.array(used))).drop_null()
    ordered = values.take(pc.sort_indices(values))
    place = pc.index_in(column.dictionary, ordered).cast(codes.type)
    return pa.DictionaryArray.from_arrays(place.take(codes), ordered)
