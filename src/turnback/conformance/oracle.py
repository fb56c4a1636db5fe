"""The exact oracle: counts, spacings and turn-backs in rationals, straight from the text of a rule file.

It shares nothing with the rule sets and the planner, so that a slip in either shows as a difference. What it does is
written down in the how-to page on rule files and in the rules of layout, not taken from their code.
"""

from __future__ import annotations

import tomllib
from fractions import Fraction
from math import ceil, floor
from typing import Final

import attrs

from turnback.conformance._oracle_linear import CountLine, Span, Sum, count_line, span, sum_of
from turnback.conformance._oracle_reading import Table, length, number, sub_tables, table, text, unread
from turnback.conformance._oracle_rows import OracleRow, row_of
from turnback.conformance._oracle_scope import Entry, RopeWords, entry, has_large_wires

__all__ = ["Oracle", "OracleAnswer", "OracleCase", "OracleRow", "RopeWords", "oracle_answers"]

_LEAST_WIDTHS: Final = 2
"""Centres of neighbouring saddles are at least so many base widths apart: one of metal, one of air [-]."""
_BEYOND_PLATE: Final = 2
"""Rope diameters of dead end beyond the body of a plate clip [-]."""


@attrs.frozen
class OracleCase:
    """One joint, as the oracle is asked for it.

    Args:
        diameter: Rope diameter [nm].
        body: Body of the clip: ``forged``, ``other`` or ``not given``.
        kind: Kind of eye or splice.
        large_wires: What is said of the outer wires; None where nothing is.
        extra: Clips asked for beyond the rule, on each eye or half of a splice [-].
        base_width: Length of one saddle along the rope; None where not measured [nm].
        rope: What is said of the rope.
    """

    diameter: Fraction
    body: str = "not given"
    kind: str = "thimble eye"
    large_wires: bool | None = None
    extra: int = 0
    base_width: Fraction | None = None
    rope: RopeWords = attrs.field(factory=RopeWords)


@attrs.frozen
class OracleAnswer:
    """What the rule file makes of a joint.

    Args:
        count: Clips on one eye, or on the whole splice; None where refused [-].
        turn_back: Turn-back, or overlap of a splice; None where the file gives none, or not without a base width [nm].
        spacing: Between centres of neighbouring clips, rounded up; None where there is none [nm].
        counts_only: Whether the file holds for the number of clips alone.
        refused: Why there is no plan: ``size``, ``scope``, ``count``, ``extra``, ``bounds`` or ``room``; empty where
            there is one.
    """

    count: int | None = None
    turn_back: int | None = None
    spacing: int | None = None
    counts_only: bool = False
    refused: str = ""


class _Refusal(Exception):
    """Why there is no plan, inside the oracle."""


@attrs.frozen
class Oracle:
    """A rule file, read once.

    Args:
        style: Id of the clip style.
        rows: The rows, by size.
        rule: The linear count in place of rows; None where there are rows.
        sizes: Sizes that the linear count takes.
        clear: Whether distances are measured from saddle to saddle.
        bounds: ``least``, ``greatest`` or ``equal`` with the bound as the file writes it.
        scope: The entries of the scope.
        wires: Clips added for large outer wires [-].
        wires_from: From this size on [nm].
        pulley: Clips added for a pulley [-].
        splice: Clips of a splice for each clip of an eye [-].
        least_count: Greatest of the file's floors [-].
    """

    style: str
    rows: tuple[OracleRow, ...]
    rule: CountLine | None
    sizes: Span
    clear: bool
    bounds: tuple[tuple[str, Sum | None], ...]
    scope: tuple[Entry, ...]
    wires: int
    wires_from: Fraction
    pulley: int
    splice: int
    least_count: int

    @classmethod
    def read(cls, source: str) -> Oracle:
        """Read a rule file.

        Args:
            source: The text of the file.

        Returns:
            The oracle of that file.

        Raises:
            InputError: Something in it cannot be read.
        """
        try:
            return cls._of(tomllib.loads(source, parse_float=str))
        except tomllib.TOMLDecodeError as error:
            raise unread("file", str(error)) from error
        except KeyError as error:
            raise unread("file", f"nothing known stands under {error}") from error

    @classmethod
    def _of(cls, file: Table) -> Oracle:
        counting, apart, more = table(file.get("count")), table(file.get("spacing")), table(file.get("adjustments"))
        wires, pulley, splice = (table(more.get(key)) for key in ("large_outer_wires", "pulley", "lap_splice"))
        bounds = {key: text(apart[key]) for key in ("least", "greatest", "equal") if key in apart}
        return cls(
            style=text(file.get("style")),
            rows=tuple(row_of(each, table(file.get("units"))) for each in sub_tables(file.get("rows"))),
            rule=count_line(text(counting["rule"])) if counting else None,
            sizes=span(counting.get("sizes")),
            clear=apart.get("measured") == "clear",
            bounds=tuple((key, None if says == "table" else sum_of(says)) for key, says in bounds.items()),
            scope=tuple(entry(each) for each in sub_tables(file.get("scope"))),
            wires=int(number(wires.get("add", 0))),
            wires_from=length(wires["from"]) if "from" in wires else Fraction(0),
            # One clip more for a pulley is common practice where the source is silent.
            pulley=int(number(pulley.get("add", 1))),
            splice=int(number(splice.get("factor", 2))),
            least_count=max([int(number(each["count"])) for each in sub_tables(file.get("floors"))], default=0),
        )

    def answer(self, case: OracleCase) -> OracleAnswer:
        """Work out one joint.

        Args:
            case: The joint.

        Returns:
            Counts and lengths [nm], or why there is no plan.
        """
        try:
            return self._answer(case)
        except _Refusal as refusal:
            return OracleAnswer(refused=str(refusal))

    def _answer(self, case: OracleCase) -> OracleAnswer:
        row, printed, beside = self._printed(case)
        counts_only = self._counts_only(case)
        if case.kind == "plate eye":
            return self._plate(case, printed, counts_only)
        clips = self._clips(case, printed)
        halves = 2 if case.kind == "lap splice" else 1
        total = clips * (self.splice if halves == 2 else 1)
        if counts_only:
            return OracleAnswer(total, counts_only=True)
        # In proportion from its own row, rounded up once.
        tabled = None if row is None or row.turn_back is None else ceil(row.turn_back * clips / beside)
        least, greatest = self._apart(case, row)
        if least is not None and greatest is not None and least > greatest:
            raise _Refusal("bounds")
        rules_apart = any(key != "greatest" for key, _ in self.bounds)
        width = case.base_width
        if width is None:
            # The base width is at most half the greatest spacing, which leaves room for no more than this.
            most = None if greatest is None else halves * clips * greatest + (halves - 1) * Fraction(greatest, 2)
            if tabled and most is not None and total > 1 and halves * tabled > most:
                raise _Refusal("bounds")
            # Where a spacing is asked for too, the longer of both depends on the base width.
            return OracleAnswer(total, None if rules_apart or tabled is None else halves * tabled)
        step = max(_LEAST_WIDTHS * width, Fraction(least or 0))
        if tabled is not None and clips > 1 and tabled < (clips + 1) * width:
            raise _Refusal("room")
        if greatest is not None and step > greatest:
            raise _Refusal("bounds")
        if tabled is None and not rules_apart:
            return OracleAnswer(total)
        one = max(tabled or 0, ceil(2 * width + (clips - 1) * step))
        if halves == 1:
            return self._laid(total, one, one - 2 * width, greatest)
        both = max(2 * one, ceil(3 * width + (total - 1) * step))
        return self._laid(total, both, both - 3 * width, greatest)

    @staticmethod
    def _plate(case: OracleCase, clips: int, counts_only: bool) -> OracleAnswer:
        """One body makes the connection, and the dead end stands out of it."""
        if case.extra:
            raise _Refusal("extra")
        if case.base_width is None:
            return OracleAnswer(clips, counts_only=counts_only)
        return OracleAnswer(clips, ceil(case.base_width + _BEYOND_PLATE * case.diameter), counts_only=counts_only)

    @staticmethod
    def _laid(total: int, turn_back: int, room: Fraction, greatest: int | None) -> OracleAnswer:
        gaps = total - 1
        if not gaps:
            return OracleAnswer(total, turn_back)
        if greatest is not None and room > gaps * greatest:
            raise _Refusal("bounds")
        return OracleAnswer(total, turn_back, ceil(room / gaps))

    def _printed(self, case: OracleCase) -> tuple[OracleRow | None, int, int]:
        if self.rule is not None:
            if not self.sizes.holds(case.diameter):
                raise _Refusal("size")
            clips = self.rule.of(case.diameter)
            return None, clips, clips
        for row in self.rows:
            if row.takes(case.diameter):
                counts = row.counts(case.body)
                if counts is None:
                    raise _Refusal("count")
                return row, *counts
        raise _Refusal("size")

    def _counts_only(self, case: OracleCase) -> bool:
        met = [each for each in self.scope if each.admits(case.diameter, case.rope)]
        if self.scope and not met:
            raise _Refusal("scope")
        return bool(met) and all(each.counts_only for each in met)

    def _clips(self, case: OracleCase, printed: int) -> int:
        # Where nobody says whether the wires are large, nothing is added and somebody is to confirm it.
        if case.diameter >= self.wires_from and has_large_wires(case.rope.construction, case.large_wires):
            printed += self.wires
        return max(printed, self.least_count) + (self.pulley if case.kind == "pulley eye" else 0) + case.extra

    def _apart(self, case: OracleCase, row: OracleRow | None) -> tuple[int | None, int | None]:
        """Bounds from centre to centre: the least rounded up, the greatest down."""
        least, greatest, width = None, None, case.base_width
        for key, linear in self.bounds:
            said = (row.spacing if row is not None else None) if linear is None else linear.of(case.diameter, width)
            if said is None or (self.clear and width is None):
                continue
            centres = said + width if self.clear and width is not None else said
            if key in ("least", "equal"):
                least = ceil(centres)
            if key in ("greatest", "equal"):
                greatest = ceil(centres) if key == "equal" else floor(centres)
        return least, greatest


def oracle_answers(rule_file_text: str, case: OracleCase) -> OracleAnswer:
    """Work out one joint from the text of a rule file.

    Args:
        rule_file_text: The text of the file.
        case: The joint.

    Returns:
        Counts and lengths [nm], or why there is no plan.

    Raises:
        InputError: Something in the file cannot be read.
    """
    return Oracle.read(rule_file_text).answer(case)
