"""From pieces of a file to planned batches, and the one form that a part has however it was read."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from turnback import __version__
from turnback.batch._files_pieces import Piece, Source
from turnback.batch.column_use import ColumnUse, column_use
from turnback.batch.columns import EXAMPLES, INPUT_COLUMNS
from turnback.batch.options import BatchOptions
from turnback.batch.output import OUTPUT_COLUMNS
from turnback.batch.planner import BatchPlanner
from turnback.batch.reporting import row_text
from turnback.batch.statuses import Status
from turnback.errors import InputError, TurnbackError
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
        named: How many of the rows that were not planned to name, with the reason [-].

    Raises:
        TurnbackError: The columns or the options cannot be planned with.
    """

    def __init__(
        self, source: Source, options: BatchOptions, catalogue: Catalogue | None, *, again: bool, named: int = 0
    ) -> None:
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
        quantities = ("length", "force", "angle")
        self._texts = [
            each.name for each in self._planner.columns if each.form == "text" and each.column.kind in quantities
        ]
        self._named = named
        self._takes_units = source.has_units  # CSV; what else is text has its units in its cells
        self._bare: Counter[str] = Counter()
        self._rows: list[str] = []

    @property
    def given(self) -> pa.Schema:
        """The schema of what is planned from."""
        return pa.schema(list(self._planner.output_schema)[: len(self._names)])

    @property
    def columns(self) -> ColumnUse:
        """What is made of the columns of the input."""
        return column_use(self.given, self._planner.columns)

    def noted(self) -> tuple[dict[str, int], list[str]]:
        """Return what was noted since this was asked last, and forget it.

        Returns:
            Cells that hold a number without a unit, by column [-]; and the rows that are to be named.
        """
        bare, rows = dict(self._bare), self._rows
        self._bare, self._rows = Counter(), []
        return bare, rows

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
        self._note(piece, given, answers[0])
        return pa.RecordBatch.from_arrays([*kept.columns, *answers], schema=self.schema)

    def _note(self, piece: Piece, given: pa.RecordBatch, answered: pa.Array) -> None:
        statuses = np.asarray(answered)
        unread = np.flatnonzero(statuses == Status.VALUE_UNREADABLE) if self._texts or self._named else ()
        for name in self._texts if len(unread) else ():
            cells = given.column(name).take(pa.array(unread))
            if count := pc.sum(pc.match_substring_regex(cells.cast(pa.string()), _BARE)).as_py():
                self._bare[name] += count
        if self._named:
            for row in np.flatnonzero(statuses)[: self._named].tolist():
                self._named -= 1
                self._rows.append(row_text(piece.first + row, Status(int(statuses[row])), self.why(piece, row)))

    def why(self, piece: Piece, row: int) -> TurnbackError | None:
        """Say why a row of a piece was not planned.

        Args:
            piece: The piece.
            row: Place of the row in the piece, counted from 0 [-].

        Returns:
            The error; None where it was planned.
        """
        given = piece.given if self._all else piece.given.select(self._names)
        if piece.unreadable is not None and piece.unreadable[row]:
            read, text = (batch.slice(row, 1).to_pylist()[0] for batch in (piece.given, piece.kept))
            if text[self._planner.columns[0].name] is not None:
                return _cell_of_another_kind(read, text)
        error = self._planner.why(given, row)
        if isinstance(error, InputError) and error.field in self._texts and re.search(_BARE, error.value.strip("'")):
            error.instead = f"{self._hint(error.field)}."
        return error

    def _hint(self, name: str) -> str:
        kind = next(each.column.kind for each in self._planner.columns if each.name == name)
        unit = EXAMPLES[kind]
        if self._takes_units:
            return f"Write the unit in the cell or, where every cell is a number, once: --unit {name}={unit}"
        keep = f"or keep numbers and name their unit: --unit {name}={unit}"
        return f"Write the unit in each cell, such as 57.15 {unit}, {keep}"

    def warnings(self, bare: Mapping[str, int]) -> tuple[str, ...]:
        """Say what a person should look at before trusting the output.

        Args:
            bare: Cells that hold a number without a unit, by column [-].

        Returns:
            One sentence each.
        """
        said = [
            f"column {name!r} holds a number without a unit in {count} {'row' if count == 1 else 'rows'}, not planned "
            f"for it. {self._hint(name)}"
            for name, count in bare.items()
        ]
        return (*self.columns.warnings, *said)


_BARE: Final = r"^\s*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)\s*$"
"""Text that is a number and nothing else."""


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


def _cell_of_another_kind(read: Mapping[str, object], text: Mapping[str, object]) -> InputError:
    """Name the cell of a CSV row that is not of its column's kind."""
    size = INPUT_COLUMNS[0]
    # A cell that cannot be read is null, but for the diameter: it is spoiled wherever another cell is.
    bad = [name for name, cell in text.items() if cell is not None and read.get(name) is None]
    name = next(iter(bad or [name for name in text if name in (size.name, size.exact_name)]))
    return InputError(
        "the cell cannot be read",
        field=name,
        value=repr(text[name])[:80],
        bound="a number with a point for the decimals, or true and false, as the column's name says",
        instead="Correct the cell; a column without an ending for its unit takes text such as 2-1/4 in.",
    )
