"""The rows of a rule file, as the oracle reads them."""

from __future__ import annotations

from fractions import Fraction

import attrs

from turnback.conformance._oracle_reading import UNITS, Table, number, text

__all__ = ["OracleRow", "row_of"]


@attrs.frozen
class OracleRow:
    """What the file says for one size.

    Args:
        size: Greatest rope that it takes [nm].
        above: It takes ropes above this; None where it takes its own size alone [nm].
        forged: Clips with forged bodies; None where none is printed [-].
        other: Clips with other bodies [-].
        turn_back: Printed turn-back; None where none is printed [nm].
        spacing: Printed distance of clips; None where none is printed [nm].
    """

    size: Fraction
    above: Fraction | None
    forged: int | None
    other: int | None
    turn_back: Fraction | None
    spacing: Fraction | None

    def takes(self, diameter: Fraction) -> bool:
        """Say whether a rope takes this size.

        Args:
            diameter: Rope diameter [nm].

        Returns:
            Whether it does; nothing is interpolated.
        """
        return diameter == self.size if self.above is None else self.above < diameter <= self.size

    def counts(self, body: str) -> tuple[int, int] | None:
        """Give the clips to fit, and the clips that the printed turn-back belongs to.

        Args:
            body: Body of the clip.

        Returns:
            Both counts; where the body is not given the greater and the smaller, each the stricter, for more clips
            than printed lengthen the turn-back. None where no count is printed [-].
        """
        if self.forged is None or self.other is None:
            return None
        if body == "not given":
            return max(self.forged, self.other), min(self.forged, self.other)
        own = self.forged if body == "forged" else self.other
        return own, own


def row_of(place: Table, units: Table) -> OracleRow:
    """Read one row.

    Args:
        place: The row as it stands in the file [-].
        units: The unit of each column.

    Returns:
        The row, exactly.

    Raises:
        InputError: A cell cannot be read.
    """

    def cell(name: str) -> Fraction | None:
        return number(place[name]) * UNITS[text(units.get(name))] if name in place else None

    def whole(name: str) -> int | None:
        value = place.get(name, place.get("count"))
        return None if value is None else int(number(value))

    inches = UNITS[text(units.get("size"))]
    above = number(place["above"]) * inches if "above" in place else None
    size = number(place["size"]) * inches
    return OracleRow(size, above, whole("count_forged"), whole("count_other"), cell("turn_back"), cell("spacing"))
