"""Laws of a table: looked up on every row, every pair of neighbours and every edge, so that they are proved."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import Final

from turnback.conformance.judging import in_both
from turnback.conformance.law import Breakage, Law, Proof, needs_hardware_in_series
from turnback.conformance.subject import Subject
from turnback.errors import OutOfTable
from turnback.mechanics import turn_back_for_spacing
from turnback.model.cited import Cited
from turnback.quantities import Length, Torque
from turnback.rules.ruleset import CountRule, Row, RuleSet

__all__ = ["TABLE_LAWS"]

_COUNTS: Final = ("count", "count_forged", "count_other")
_SIXTY_FOURTH: Final = 396_875
_TENTH: Final = 100_000
_INCH: Final = Length.of("1 in").nanometres
_GREATEST: Final = 300_000_000
"""The library takes ropes to 300 mm [nm]."""
_MOST_STEPS: Final = 1000
_ROUNDED: Final = Fraction(6, 100)
"""A torque that is printed in a second unit is rounded there to about two digits [-]; common practice."""


def _has_rows(subject: Subject) -> str:
    return "" if subject.rules.rows else "it has no table"


def _has_edges(subject: Subject) -> str:
    return "" if subject.rules.count_rule is not None else _has_rows(subject)


def _counted(row: Row, column: str) -> Cited[int] | None:
    found: Cited[int] | None = getattr(row, column)
    return found


def _falls(subject: Subject) -> Proof:
    cells, found = 0, []
    for one, other in pairwise(subject.rules.rows):
        for column in _COUNTS:
            before, after = _counted(one, column), _counted(other, column)
            if before is None or after is None:
                continue
            cells += 1
            if after.value < before.value:
                found.append(_row(other, f"at least {before.value} clips, as {one.size} has", after.value, after))
    rule = subject.rules.count_rule
    if rule is not None:
        # n(D) = ceil(a D + c) never falls for any D where a is not negative: arithmetic, not samples.
        cells += 1
        if rule.per_inch < 0:
            found.append(Breakage("not fewer clips on a thicker rope", rule.text, str(rule.citation)))
    return Proof(cells, _each_row_once(found))


def _torque_falls(subject: Subject) -> Proof:
    cells, found = 0, []
    for one, other in pairwise([row for row in subject.rules.rows if row.torque is not None]):
        if one.torque is None or other.torque is None:
            continue
        cells += 1
        if other.torque.value.exact_newton_metres < one.torque.value.exact_newton_metres:
            found.append(_row(other, f"at least {one.torque.value}", other.torque.value, other.torque))
    return Proof(cells, tuple(found))


def _covers(subject: Subject) -> Proof:
    cells, found = 0, []
    for row in subject.rules.rows:
        counts = [cell for column in _COUNTS if (cell := _counted(row, column)) is not None]
        if row.turn_back is None or not counts:
            continue
        cells += 1
        # The base width of the smallest clip that is not questioned is one rope diameter; its clips stand one base
        # width apart, or as far as the same row prints.
        base = row.size.nanometres
        apart = max(2 * base, row.spacing.value.nanometres if row.spacing is not None else 0)
        needed = Length(turn_back_for_spacing(base, max(cell.value for cell in counts), apart))
        if row.turn_back.value < needed:
            found.append(_row(row, f"at least {in_both(needed)}", in_both(row.turn_back.value), row.turn_back))
    return Proof(cells, tuple(found))


def _edges(subject: Subject) -> Proof:
    """Probe each edge of each row: at it, one nanometre below and one above."""
    cells, found = 0, []
    if subject.rules.count_rule is not None:
        return _steps(subject.rules, subject.rules.count_rule)
    for row in subject.rules.rows:
        edges = {row.size, *(() if row.above is None else (row.above,))}
        for probe in sorted({Length(edge.nanometres + step) for edge in edges for step in (-1, 0, 1)}):
            cells += 1
            meant = [each for each in subject.rules.rows if _takes(each, probe)]
            expected = in_both(meant[0].size) if len(meant) == 1 else ("no row" if not meant else "one row alone")
            try:
                got = in_both(subject.rules.row_for(probe).size)
            except OutOfTable:
                got = "no row"
            if got != expected:
                found.append(_row(row, f"{expected} for a rope of {in_both(probe)}", got, subject.rules.citation))
    return Proof(cells, _each_row_once(found))


def _steps(rules: RuleSet, rule: CountRule) -> Proof:
    """Probe a linear rule at each size at which its count steps up, and at both ends of its sizes.

    Between two steps the count is one number, so that a rule that rounds up exactly shows it at the steps.
    """
    low = 1 if rule.least is None else rule.least.nanometres
    high = _GREATEST if rule.greatest is None else rule.greatest.nanometres
    ends = {end.nanometres for end in (rule.least, rule.greatest) if end is not None}
    around = {at + step for at in (*ends, *_stepping(rule, low, high)) for step in (-1, 0, 1)}
    # Beyond an end that nobody declares there is nothing to probe.
    probes = sorted(at for at in around if low <= at <= high or {at - 1, at + 1} & ends)
    found = []
    for at in probes:
        probe = Length(at)
        exact = ceil(rule.per_inch * probe.inches + rule.plus)
        expected = f"{exact} clips" if low <= at <= high else "no row"
        try:
            row = rules.row_for(probe)
            got = "no number of clips" if row.count is None else f"{row.count.value} clips"
        except OutOfTable:
            got = "no row"
        if got != expected:
            found.append(
                Breakage(f"{expected} for a rope of {in_both(probe)}", got, str(rule.citation), in_both(probe))
            )
    return Proof(len(probes), tuple(found))


def _stepping(rule: CountRule, low: int, high: int) -> Iterator[int]:
    """The greatest sizes of each number of clips, between two sizes [nm]."""
    if rule.per_inch <= 0:
        return
    first, last = (ceil(rule.per_inch * Length(end).inches + rule.plus) for end in (low, high))
    # A slope that steps more often than a tape has marks is a slip of its own; it is not probed for hours.
    for count in range(first, last, max((last - first) // _MOST_STEPS, 1)):
        at = Length.down((count - rule.plus) / rule.per_inch * _INCH).nanometres
        if low <= at <= high:
            yield at


def _takes(row: Row, probe: Length) -> bool:
    # Written out here and not asked of the row, whose own comparison is what is examined.
    return probe == row.size if row.above is None else row.above < probe <= row.size


def _rows_answer(subject: Subject) -> Proof:
    cells, found = 0, []
    for row in subject.rules.rows:
        again = subject.rules.row_for(row.size)
        for column in (*_COUNTS, "turn_back", "spacing", "torque"):
            cells += 1
            if getattr(again, column) != getattr(row, column):
                got = getattr(again, column)
                found.append(_row(row, f"{column} as the row has it", got, subject.rules.citation))
    return Proof(cells, _each_row_once(found))


def _sizes_on_a_tape(subject: Subject) -> Proof:
    found = []
    for row in subject.rules.rows:
        size = row.size.nanometres
        if size % _SIXTY_FOURTH and size % _TENTH:
            wanted = "a multiple of 1/64 in, or of 0.1 mm"
            found.append(_row(row, wanted, in_both(row.size), subject.rules.citation))
    return Proof(len(subject.rules.rows), tuple(found))


def _torque_units(subject: Subject) -> Proof:
    cells, found = 0, []
    for row in subject.rules.rows:
        if row.torque is None or row.torque.value.also is None:
            continue
        cells += 1
        one = Torque(row.torque.value.value, row.torque.value.unit).exact_newton_metres
        other = Torque(*row.torque.value.also).exact_newton_metres
        if abs(one - other) > _ROUNDED * one:
            found.append(_row(row, "two numbers that mean one torque", row.torque.value, row.torque))
    return Proof(cells, tuple(found))


def _two_clips(subject: Subject) -> Proof:
    cells, found = 0, []
    for row, column, cell in _count_cells(subject):
        cells += 1
        # A rule set that was made in Python may hold what no rule file can.
        if type(cell.value) is not int or cell.value < 2:
            found.append(_row(row, f"{column}: a whole number, two or more", repr(cell.value), cell))
    rule = subject.rules.count_rule
    if rule is not None and not rule.per_inch:
        cells += 1
        if rule.plus < 2:
            found.append(Breakage("two clips or more", rule.text, str(rule.citation)))
    return Proof(cells, _each_row_once(found))


def _count_cells(subject: Subject) -> Iterator[tuple[Row, str, Cited[int]]]:
    for row in subject.rules.rows:
        for column in _COUNTS:
            cell = _counted(row, column)
            if cell is not None:
                yield row, column, cell


def _row(row: Row, expected: str, got: object, cited: object) -> Breakage:
    citations = getattr(cited, "citations", None)
    return Breakage(expected, str(got), str(citations[0] if citations else cited), in_both(row.size))


def _each_row_once(found: list[Breakage]) -> tuple[Breakage, ...]:
    return tuple({each.row: each for each in reversed(found)}.values())[::-1]


TABLE_LAWS: Final = (
    Law("rows-answer", "A size that is printed gets its own row, with every cell as it stands there.",
        proof=_rows_answer, applies=_has_rows),
    Law("row-edges", "At each edge of a row, a nanometre below and a nanometre above, the row that is declared answers "
        "and no other; nothing is interpolated.", proof=_edges, applies=_has_edges),
    Law("sizes-on-a-tape", "A clip size is a multiple of 1/64 in or of 0.1 mm, as a tape or a gauge shows it, and no "
        "float that was turned from one into the other.", proof=_sizes_on_a_tape, applies=_has_rows,
        waivable=True),
    Law("count-never-falls", "The number of clips never falls as the size grows, in any column of the body.",
        proof=_falls, waivable=True),
    Law("torque-never-falls", "The torque never falls as the size grows.", proof=_torque_falls, applies=_has_rows,
        waivable=True),
    Law("torque-units-agree", "A torque that is printed in two units means one torque, but for rounding.",
        proof=_torque_units, applies=_has_rows,
        redundant="a torque refuses two numbers that do not mean one when it is made, and rules-round-trip notices one "
        "that was forced; it stays because it looks at every row, whoever made its torques", waivable=True),
    Law("turn-back-covers-clips", "A printed turn-back covers the clips, their spacing and the end allowance.",
        proof=_covers, applies=_has_rows, waivable=True),
    Law("two-clips-or-more", "Clips in a row are whole numbers, two or more.", proof=_two_clips,
        applies=needs_hardware_in_series, waivable=True),
)  # fmt: skip
"""In the order in which they are checked."""
