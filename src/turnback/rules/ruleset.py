"""A rule set: what one source says for one style, as a typed value.

Rule sets are read from rule files (:mod:`turnback.rules.rulefile`). What a source does not say is ``None`` here and
absent in a plan, never zero and never guessed.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Final, Literal

import attrs

from turnback.errors import InputError, OutOfTable
from turnback.model.cited import Cited
from turnback.model.sources import Citation, Source
from turnback.quantities import Length
from turnback.rules.rows import BodyOfClip, CountRule, LinearLength, Row, SpacingBound

__all__ = [
    "ANY_STYLE",
    "Adjustments",
    "BodyOfClip",
    "CountRule",
    "EfficiencyBand",
    "Floor",
    "LargeWires",
    "LinearLength",
    "Procedure",
    "Row",
    "RuleSet",
    "ScopeEntry",
    "SpacingBound",
    "Waiver",
]

ANY_STYLE: Final = "any"
"""Style of a rule file that speaks of every style, such as a basis of efficiency."""


@attrs.frozen
class ScopeEntry:
    """One thing that a source says of the ropes and joints it is for. Empty tuples mean: it does not say.

    Args:
        gives: ``everything`` or ``counts`` (nothing but the number of clips holds for these ropes).
        least: Smallest size [length]; None when not limited.
        greatest: Greatest size [length]; None when not limited.
        constructions: Constructions and classes.
        cores: Cores.
        grades: Grades.
        lays: Lays.
        terminations: Kinds of eye and splice.
        rotation_resistant: Required value; None when it does not say.
        new_only: Whether it speaks of new rope alone.
        confirm: Attributes for which something else is planned with a finding instead of being refused.
        citation: Who says so.
    """

    gives: Literal["everything", "counts"]
    least: Length | None
    greatest: Length | None
    constructions: tuple[str, ...]
    cores: tuple[str, ...]
    grades: tuple[str, ...]
    lays: tuple[str, ...]
    terminations: tuple[str, ...]
    rotation_resistant: bool | None
    new_only: bool
    confirm: tuple[str, ...]
    citation: Citation


@attrs.frozen
class LargeWires:
    """More clips for Seale and other ropes with large outer wires.

    Args:
        add: Clips added [-].
        from_size: From this size on [length].
        citation: Who says so.
    """

    add: int
    from_size: Length
    citation: Citation


@attrs.frozen
class Adjustments:
    """What a source adds to its own table; None where it says nothing.

    Args:
        large_wires: More clips for large outer wires.
        pulley: Clips added for a pulley in place of the thimble [-].
        proportion: The turn-back grows in proportion to the count: who says so.
        lap_factor: Clips of a lap splice per clip of an eye [-].
    """

    large_wires: LargeWires | None = None
    pulley: Cited[int] | None = None
    proportion: Citation | None = None
    lap_factor: Cited[int] | None = None

    def __attrs_post_init__(self) -> None:
        if self.lap_factor is not None and self.lap_factor.value != 2:
            raise InputError(
                "a lap splice has twice the clips of an eye, for it is its own mirror image",
                field="adjustments.lap_splice.factor",
                value=str(self.lap_factor.value),
                bound="2",
                citation=str(self.lap_factor.citations[0]),
                instead="Ask for more clips with extra_clips.",
            )


@attrs.frozen
class Floor:
    """A least number of clips that a source asks for beside its table.

    Args:
        count: Least number of clips [-].
        text: What it says, restated.
        citation: Where it says so.
    """

    count: int
    text: str
    citation: Citation


@attrs.frozen
class EfficiencyBand:
    """A termination efficiency for a range of sizes.

    Args:
        value: Share of the rope's minimum breaking force [-].
        least: Smallest size [length]; None when not limited.
        greatest: Greatest size, itself included [length]; None when not limited so.
        citation: Who says so.
        below: Size that the band stops short of, itself not included [length]; None when not limited so.
    """

    value: Fraction
    least: Length | None
    greatest: Length | None
    citation: Citation
    below: Length | None = None

    def takes(self, size: Length) -> bool:
        """Whether a rope of this size falls into the band.

        Args:
            size: Nominal rope diameter [length].

        Returns:
            Exact comparison in nanometres.
        """
        return (
            (self.least is None or self.least <= size)
            and (self.greatest is None or size <= self.greatest)
            and (self.below is None or size < self.below)
        )


@attrs.frozen
class Procedure:
    """What a source says of the order of work; empty where it says nothing.

    Args:
        begin_at: Where the first grip goes and the tightening begins: ``dead end`` or ``eye``; empty when not said.
        begin_citation: Who says where to begin; None when nobody does.
        retorque: When to tighten again, in order.
        retorque_citation: Who says so; None when nobody does.
    """

    begin_at: Literal["dead end", "eye", ""] = ""
    begin_citation: Citation | None = None
    retorque: tuple[str, ...] = ()
    retorque_citation: Citation | None = None


@attrs.frozen
class Waiver:
    """A law of the library that a published table breaks because its source does.

    Args:
        law: Id of the law.
        row: Size of the row that breaks it, as printed and with its unit, so that it reads as a length; empty when it
            is the whole file.
        reason: Why it stands all the same.
        citation: Who prints it so.
    """

    law: str
    row: str
    reason: str
    citation: Citation


@attrs.frozen(cache_hash=True)
class RuleSet:
    """What one source says for one style.

    Args:
        id: Stable name.
        style: Id of the clip style, or ``any``.
        title: What it is, in a few words.
        pattern: Family of clips whose dimensions, torque and turn-back belong together; empty when it has none.
        source: The document.
        citation: The place in it, with the status of most cells.
        rows: Rows by increasing size; empty for a linear rule.
        count_rule: The linear rule of the count; None for a table.
        spacing: Bounds on the distance between clips.
        threads: ``dry`` or ``greased`` or another condition of the threads, cited apart; None when it does not say.
        efficiency: Efficiencies by size; empty when it gives none.
        efficiency_at_most: An upper bound that is never used as a value [-]; None when there is none.
        efficiency_terminations: The kinds of termination that the efficiency speaks of.
        scope: What it is for; any one entry is enough.
        adjustments: What it adds to its own table.
        floors: Least counts beside the table.
        excluded_services: Service and the sentence that excludes it.
        procedure: What it says of the order of work.
        notes: What a reader must know of this file, shown beside every plan.
        waivers: Laws that its table breaks.
        sha256: Hash of the rule file's bytes.
        origin: File name, for messages.
    """

    id: str
    style: str
    title: str
    pattern: str
    source: Source
    citation: Citation
    rows: tuple[Row, ...] = ()
    count_rule: CountRule | None = None
    spacing: tuple[SpacingBound, ...] = ()
    threads: Cited[str] | None = None
    efficiency: tuple[EfficiencyBand, ...] = ()
    efficiency_at_most: Cited[Fraction] | None = None
    efficiency_terminations: tuple[str, ...] = ()
    scope: tuple[ScopeEntry, ...] = ()
    adjustments: Adjustments = attrs.field(factory=Adjustments)
    floors: tuple[Floor, ...] = ()
    excluded_services: tuple[tuple[str, Cited[str]], ...] = ()
    procedure: Procedure = attrs.field(factory=Procedure)
    notes: tuple[Cited[str], ...] = ()
    waivers: tuple[Waiver, ...] = ()
    sha256: str = ""
    origin: str = ""

    def __attrs_post_init__(self) -> None:
        if not self.id or not self.style:
            raise InputError("a rule set needs an id and a style", field="id", value=repr(self.id))
        if not isinstance(self.rows, tuple):
            raise InputError("rows are a tuple", field="rows", value=type(self.rows).__name__)
        for number, row in enumerate(self.rows):
            if row.turn_back is not None and row.count_for("not given") is None:
                raise InputError("a turn-back needs a count beside it", field=f"rows[{number}].turn_back")
            if row.torque is not None and self.threads is None:
                raise InputError(
                    "a torque needs a condition of the threads",
                    field="threads",
                    bound=f"needed by rows[{number}].torque",
                )
        for one, other in pairwise(self.rows):
            if other.above is not None and other.above < one.size:
                raise InputError("the row takes ropes that the row before takes", field="rows", value=str(other.size))
        sizes = [row.size for row in self.rows]
        if sizes != sorted(set(sizes)):
            raise InputError("rows are written by increasing size, each size once", field="rows", value=self.id)

    @property
    def is_basis(self) -> bool:
        """Whether it gives efficiencies alone, to be named as the basis of another rule set's strength."""
        return not self.rows and self.count_rule is None and not self.spacing

    def row_for(self, diameter: Length, field: str = "diameter") -> Row:
        """Return the row that takes a rope of this diameter; nothing is interpolated.

        Args:
            diameter: Nominal diameter under the clip, or a clip size named by the user [length].
            field: Name of the input, for the error.

        Returns:
            The printed row, or one made from the linear rule.

        Raises:
            OutOfTable: No row takes it; both neighbours and how far they misfit are in the message.
        """
        rule = self.count_rule
        if rule is not None:
            if rule.covers(diameter):
                return Row(size=diameter, count=Cited(rule.count(diameter), rule.citations, rule.text))
            bounds = tuple(size for size in (rule.least, rule.greatest) if size is not None)
            raise _out_of_table(self, diameter, bounds, field)
        for row in self.rows:
            if row.takes(diameter):
                return row
        if not self.rows and self.spacing:
            return Row(size=diameter)  # it speaks of the distance alone, whatever the size
        raise _out_of_table(self, diameter, tuple(row.size for row in self.rows), field)

    def __str__(self) -> str:
        return f"{self.id}: {self.title} [{self.citation}]"

    def _repr_html_(self) -> str:
        from turnback.rules.notebook import rule_set_html

        return rule_set_html(self)


def _out_of_table(rules: RuleSet, diameter: Length, sizes: tuple[Length, ...], field: str) -> OutOfTable:
    below = [size for size in sizes if size < diameter]
    above = [size for size in sizes if size > diameter]
    neighbours = [*below[-1:], *above[:1]]
    misfits = ", ".join(f"{size} ({float((diameter - size) / size):+.1%} to it)" for size in neighbours)
    return OutOfTable(
        f"{rules.id} prints no row for this size, and nothing is interpolated",
        field=field,
        value=str(diameter),
        bound=f"nearest printed sizes: {misfits}" if misfits else "it has no rows",
        citation=str(rules.citation),
        instead="Take a rule set that prints this size, or give clip_size= with the clip maker's word as its citation.",
    )
