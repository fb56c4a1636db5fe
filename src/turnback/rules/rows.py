"""What a source says for one size: a printed row, or a rule that is linear in the diameter."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Literal

import attrs

from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.quantities import Length, Torque

__all__ = ["BodyOfClip", "CountRule", "LinearLength", "Row", "SpacingBound"]

BodyOfClip = Literal["forged", "other", "not given"]


@attrs.frozen
class LinearLength:
    """A length of the form ``p diameters + q base widths + constant``.

    Args:
        diameters: Factor of the rope diameter [-].
        base_widths: Factor of the clip's base width [-].
        constant: Constant part [length]; zero nanometres when there is none.
        text: As the rule file writes it.
    """

    diameters: Fraction
    base_widths: Fraction
    constant: Length
    text: str

    def nanometres(self, diameter: Length, base_width: Length | None) -> Fraction | None:
        """Evaluate it exactly.

        Args:
            diameter: Nominal rope diameter [length].
            base_width: Base width of the clip [length]; None when it was not measured.

        Returns:
            Nanometres, or None when it needs a base width that was not measured.
        """
        value = self.diameters * diameter.nanometres + self.constant.nanometres
        if not self.base_widths:
            return value
        return None if base_width is None else value + self.base_widths * base_width.nanometres


@attrs.frozen
class SpacingBound:
    """A bound on the distance between neighbouring clips.

    Args:
        bound: ``least``, ``greatest`` or ``equal``.
        clear: True when it is measured between saddles, False from centre to centre.
        length: The bound; None when each row prints its own.
        citation: Who says so.
    """

    bound: Literal["least", "greatest", "equal"]
    clear: bool
    length: LinearLength | None
    citation: Citation


@attrs.frozen
class Row:
    """What a source says for one clip size.

    Args:
        size: Clip size as printed [length].
        above: The size takes ropes above this one up to ``size`` [length]; None when it takes its own size alone.
        count: Number of clips [-], where the source does not tell bodies apart.
        count_forged: Number of drop-forged clips [-].
        count_other: Number of clips of other material [-].
        turn_back: Turn-back [length].
        spacing: Distance between clips as printed for this size [length].
        torque: Tightening torque [torque].
        confirm: What somebody must confirm for this row; None when nothing.
        misprint: How the document misprints it; empty when it does not.
    """

    size: Length
    above: Length | None = None
    count: Cited[int] | None = None
    count_forged: Cited[int] | None = None
    count_other: Cited[int] | None = None
    turn_back: Cited[Length] | None = None
    spacing: Cited[Length] | None = None
    torque: Cited[Torque] | None = None
    confirm: Cited[str] | None = None
    misprint: str = ""

    def takes(self, diameter: Length) -> bool:
        """Whether a rope of this diameter takes a clip of this size.

        Args:
            diameter: Nominal diameter under the clip [length].

        Returns:
            Exact comparison in nanometres.
        """
        if self.above is None:
            return diameter == self.size
        return self.above < diameter <= self.size

    def count_for(self, body: BodyOfClip) -> Cited[int] | None:
        """Return the printed count for a clip's body; the larger one when the body is not given.

        Args:
            body: ``forged``, ``other`` or ``not given``.

        Returns:
            The count, or None when the source prints none.
        """
        if self.count_forged is None or self.count_other is None:
            return self.count
        if body == "forged":
            return self.count_forged
        if body == "other":
            return self.count_other
        return max((self.count_other, self.count_forged), key=lambda cell: cell.value)

    def count_beside_turn_back(self, body: BodyOfClip) -> Cited[int] | None:
        """Return the printed count that the turn-back is taken in proportion to.

        Args:
            body: ``forged``, ``other`` or ``not given``; not given takes the smaller, which asks for more rope.

        Returns:
            The count, or None when the source prints none.
        """
        if body == "not given" and self.count_forged is not None and self.count_other is not None:
            return min((self.count_forged, self.count_other), key=lambda cell: cell.value)
        return self.count_for(body)

    @property
    def tells_bodies_apart(self) -> bool:
        """Whether the source prints one count for forged clips and another for other ones."""
        return self.count_forged is not None and self.count_other is not None


@attrs.frozen
class CountRule:
    """A count that grows with the diameter, ``per_inch x D + plus``, next whole number up; or one for every size.

    Args:
        per_inch: Clips per inch of diameter [1/in]; zero for a count that is the same for every size.
        plus: Clips added [-].
        least: Smallest declared size [length]; None where every size is meant.
        greatest: Greatest declared size [length]; None where every size is meant.
        citation: Who says so.
        sizes_citation: Who declares the range of sizes; None where every size is meant.
        text: As the rule file writes it.
    """

    per_inch: Fraction
    plus: int
    least: Length | None
    greatest: Length | None
    citation: Citation
    sizes_citation: Citation | None
    text: str

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Who says so, and who declares the range."""
        return (self.citation,) if self.sizes_citation is None else (self.citation, self.sizes_citation)

    def covers(self, diameter: Length) -> bool:
        """Whether a size is in the declared range.

        Args:
            diameter: Nominal rope diameter [length].

        Returns:
            Both ends belong to the range.
        """
        low = self.least is None or self.least <= diameter
        return low and (self.greatest is None or diameter <= self.greatest)

    def count(self, diameter: Length) -> int:
        """Return the number of clips.

        Args:
            diameter: Nominal rope diameter [length].

        Returns:
            A whole number, rounded up exactly [-].
        """
        return ceil(self.per_inch * diameter.inches + self.plus)
