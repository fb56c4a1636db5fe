"""Care of the rope itself: seizing it before a cut, and when to take it out of service, as typed values.

They are read from files (:mod:`turnback.rules.servicefile`). Other codes and the rope's maker may ask for more.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError, OutOfTable
from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.quantities import Length
from turnback.rules.ruleset import LinearLength
from turnback.rules.service import need, need_citation, need_words

__all__ = ["DISCARD_MEASURES", "DiscardMeasure", "DiscardRule", "SeizingRule"]

DiscardMeasure = Literal[
    "broken wires in one lay",
    "broken wires in one strand in one lay",
    "broken wires at an end connection",
    "share of all wires broken in 8 diameters",
    "share of the outer wires' diameter worn away",
    "loss of diameter",
    "damage seen",
]
DISCARD_MEASURES: Final[tuple[DiscardMeasure, ...]] = get_args(DiscardMeasure)


@attrs.frozen
class SeizingRule:
    """How a source seizes a rope before it is cut.

    Args:
        id: Stable name.
        text: What it says, restated.
        citation: Where it says so.
        each_side: Whether its numbers are for each side of the cut; False where it does not say.
        per_inch: Seizings per inch of rope diameter [1/in], rounded up; None when it counts otherwise.
        preformed: Seizings of a preformed rope [-]; None when it does not tell preformed rope apart.
        not_preformed: Seizings of other rope: greatest size [length], None for no limit, and number [-]; by size.
        width_at_least: Least width of one seizing [length].
        width_at_most: Greatest width of one seizing [length].
        distance: Distance between seizings [length].

    Raises:
        InputError: A text is empty, or it gives no number of seizings at all.
    """

    id: str
    text: str
    citation: Citation
    each_side: bool
    per_inch: Fraction | None = None
    preformed: int | None = None
    not_preformed: tuple[tuple[Length | None, int], ...] = ()
    width_at_least: LinearLength | None = None
    width_at_most: LinearLength | None = None
    distance: LinearLength | None = None

    def __attrs_post_init__(self) -> None:
        need_words(self, ("id", "text"))
        need_citation(self.citation)
        counts = self.per_inch is not None or (self.preformed is not None and bool(self.not_preformed))
        need(counts, "it must give a number of seizings", "per_inch", self.per_inch)
        if self.not_preformed:
            sizes = [size.nanometres for size, _ in self.not_preformed[:-1] if size is not None]
            ordered = sizes == sorted(set(sizes)) and len(sizes) == len(self.not_preformed) - 1
            need(ordered, "sizes grow from one to the next", "not_preformed", self.not_preformed)

    def number(self, diameter: Length, preformed: bool | None) -> Cited[int]:
        """Return the number of seizings, on each side of the cut where the source says so.

        Args:
            diameter: Nominal rope diameter [length].
            preformed: Whether the rope is preformed; None when not known takes the larger number.

        Returns:
            The number with its citation [-]. A size between two printed ones takes the larger number.

        Raises:
            OutOfTable: The source prints no number for a rope of this size.
        """
        if self.per_inch is not None:
            return Cited(ceil(self.per_inch * diameter.inches), (self.citation,), "by the diameter, rounded up")
        if preformed and self.preformed is not None:
            return Cited(self.preformed, (self.citation,), "preformed rope")
        known = "rope that is not preformed" if preformed is False else "preformed or not is not known: the larger"
        for size, number in self.not_preformed:
            if size is None or diameter <= size:
                return Cited(number, (self.citation,), known)
        raise OutOfTable(
            "the source prints no number of seizings for this size",
            field="diameter",
            value=str(diameter),
            bound=f"up to {self.not_preformed[-1][0]}",
            citation=str(self.citation),
            instead="Ask the rope's maker.",
        )


@attrs.frozen
class DiscardRule:
    """When a source takes a rope out of service.

    Args:
        code: Stable code of the finding that it leads to, lower case with hyphens.
        rope: The ropes that it speaks of: ``running``, ``standing`` or ``any``.
        measure: What is counted, measured or seen.
        text: What it says, restated.
        citation: Where it says so.
        from_value: The rope is discarded from this value on [-]; None when the limit is another.
        more_than: The rope is discarded above this value [-]; None when the limit is another.
        losses: Loss of diameter that is still allowed, by size: smallest and greatest size, None where not limited,
            and the loss [length].

    Raises:
        InputError: A field is out of its closed list, or the limit does not fit what is measured.
    """

    code: str
    rope: Literal["running", "standing", "any"]
    measure: DiscardMeasure
    text: str
    citation: Citation
    from_value: Fraction | None = None
    more_than: Fraction | None = None
    losses: tuple[tuple[Length | None, Length, Length], ...] = ()

    def __attrs_post_init__(self) -> None:
        need_words(self, ("code", "text"))
        need_citation(self.citation)
        ropes = ("running", "standing", "any")
        need(self.rope in ropes, "no such kind of rope", "rope", self.rope, "one of " + ", ".join(ropes))
        closed = "one of " + ", ".join(DISCARD_MEASURES)
        need(self.measure in DISCARD_MEASURES, "no such measure", "measure", self.measure, closed)
        limits = sum((self.from_value is not None, self.more_than is not None, bool(self.losses)))
        need(limits == (self.measure != "damage seen"), "one limit is needed, none for damage", "measure", limits)
        need(bool(self.losses) == (self.measure == "loss of diameter"), "losses go by size", "losses", self.losses)
        sizes = [size.nanometres for low, high, _ in self.losses for size in (low, high) if size is not None]
        need(sizes == sorted(sizes), "sizes grow from one to the next", "losses", self.losses)

    def is_reached(self, value: Fraction | int) -> bool:
        """Tell whether a rope is to be discarded.

        Args:
            value: Number of broken wires, or the share [-].

        Returns:
            True from the limit on, or above it, as the source words it.

        Raises:
            InputError: The rule goes by size or by sight; see :meth:`allowed_loss`.
        """
        if self.from_value is not None:
            return value >= self.from_value
        if self.more_than is not None:
            return value > self.more_than
        raise InputError("this rule has no limit in numbers", field="measure", value=self.measure, bound=self.text)

    def allowed_loss(self, diameter: Length) -> Cited[Length]:
        """Return the loss of diameter above which a rope is to be discarded.

        Args:
            diameter: Nominal rope diameter [length].

        Returns:
            The loss [length] with its citation. A size between two printed ranges takes the smaller loss.

        Raises:
            OutOfTable: The rope is larger than the source prints, or the rule does not go by size.
        """
        smaller: Length | None = None
        for low, high, loss in self.losses:
            if diameter <= high:
                if low is None or low <= diameter:
                    return Cited(loss, (self.citation,), "printed for this size")
                if smaller is not None:
                    return Cited(smaller, (self.citation,), "between two printed ranges of sizes: the smaller loss")
                break
            smaller = loss
        raise OutOfTable(
            "the source prints no loss of diameter for this size",
            field="diameter",
            value=str(diameter),
            bound=f"up to {self.losses[-1][1]}" if self.losses else "it does not go by size",
            citation=str(self.citation),
            instead="Ask the rope's maker or a qualified person.",
        )
