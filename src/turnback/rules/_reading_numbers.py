"""What a rule file says beside its rows in numbers: the linear count, the spacing, the threads, the efficiency."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final, Literal

from turnback.errors import InputError
from turnback.model.cited import Cited
from turnback.model.sources import Citation
from turnback.model.terminations import TERMINATION_KINDS
from turnback.quantities import Length, percent, percent_text
from turnback.rules._reading import Table
from turnback.rules._reading_places import WORDS_OF_STATUS, place_of, with_status
from turnback.rules.expressions import RANGE_FORMS, read_count_rule, read_linear_length, read_size_range
from turnback.rules.ruleset import CountRule, EfficiencyBand, LinearLength, Row, SpacingBound

__all__ = ["Efficiency", "read_count", "read_efficiency", "read_spacing", "read_threads"]

Efficiency = tuple[tuple[EfficiencyBand, ...], Cited[Fraction] | None, tuple[str, ...]]
"""Bands by increasing size, an upper bound that is never a value, and the terminations spoken of."""

_Bound = Literal["least", "greatest", "equal"]
_BOUNDS: Final[tuple[_Bound, ...]] = ("least", "greatest", "equal")
_TABLE: Final = "table"


def read_count(file: Table, base: Citation) -> CountRule | None:
    """Read a linear count.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        The rule; None where the file has none.

    Raises:
        InputError: The rule or its range cannot be read, or rows stand beside it.
    """
    if not file.has("count"):
        return None
    table = file.table("count")
    if file.has("rows"):
        raise InputError(
            "a linear count and rows stand together",
            field="count",
            instead="One file says one or the other: write two files, or leave one out.",
        )
    text = table.text("rule")
    per_inch, plus = read_count_rule(text, table.at("rule"))
    if not per_inch:
        for key in ("sizes", "sizes_status"):
            if table.has(key):
                raise table.wrong(key, "a count for every size has no range", instead=f"Leave {key} out.")
        return CountRule(per_inch, plus, None, None, place_of(table, base), None, text)
    sizes = table.text("sizes")
    least, greatest = read_size_range(sizes, table.at("sizes"))
    if least is None or greatest is None:
        raise table.wrong("sizes", "a linear count needs both ends of its range", instead=RANGE_FORMS)
    status = table.word("sizes_status", WORDS_OF_STATUS)
    range_citation = with_status(base, status, f"range of sizes {sizes}")
    return CountRule(per_inch, plus, least, greatest, place_of(table, base), range_citation, text)


def read_spacing(file: Table, rows: Sequence[Row], base: Citation) -> tuple[SpacingBound, ...]:
    """Read the bounds on the spacing, and check the printed cells against the printed identity.

    Args:
        file: The file.
        rows: Its rows.
        base: The file's own citation.

    Returns:
        The bounds; empty where the file has none.

    Raises:
        InputError: A bound cannot be read, contradicts another or the cells, or a cell breaks the identity.
    """
    printed = [i for i, row in enumerate(rows) if row.spacing is not None]
    if not file.has("spacing"):
        if printed:
            raise InputError(
                "a printed spacing needs a table that says how it is meant",
                field=f"rows[{printed[0]}].spacing",
                instead='Write [spacing], then measured = "centre to centre" and least = "table" below it.',
            )
        return ()
    table = file.table("spacing")
    clear = table.word("measured", ("centre to centre", "clear")) == "clear"
    texts = {bound: table.text(bound) for bound in _BOUNDS if table.has(bound)}
    if not texts or ("equal" in texts and len(texts) > 1):
        raise InputError(
            "a spacing has a least or a greatest bound or both, or is equal to something",
            field=table.path,
            value=", ".join(texts),
            instead='Write least = "6 diameters", or another bound.',
        )
    _check_cells(table, texts, rows, printed)
    lengths = {
        bound: None if text == _TABLE else read_linear_length(text, table.at(bound)) for bound, text in texts.items()
    }
    _check_order(table, lengths.get("least"), lengths.get("greatest"))
    if table.has("identity"):
        _check_identity(table, rows, _TABLE in texts.values())
    citation = place_of(table, base)
    return tuple(SpacingBound(bound, clear, length, citation) for bound, length in lengths.items())


def _check_cells(table: Table, texts: Mapping[_Bound, str], rows: Sequence[Row], printed: Sequence[int]) -> None:
    from_cells = [bound for bound, text in texts.items() if text == _TABLE]
    if len(from_cells) > 1:
        raise table.wrong("greatest", "both bounds are taken from one column", instead='Write equal = "table" alone.')
    if not from_cells and printed:
        raise InputError(
            "the rows print a spacing that no bound takes up",
            field=table.path,
            instead='Write least = "table", or leave the column out.',
        )
    if from_cells and len(printed) < len(rows):
        missing = next(i for i in range(len(rows)) if i not in printed)
        raise InputError(
            f"{table.at(from_cells[0])} is the column spacing, and this row has none",
            field=f"rows[{missing}].spacing",
            instead="Write the cell, or write the bound as an expression.",
        )
    if from_cells and not rows:
        raise table.wrong(from_cells[0], "the file has no rows to take it from", instead='Write it like "6 diameters".')


def _check_order(table: Table, least: LinearLength | None, greatest: LinearLength | None) -> None:
    if least is None or greatest is None:
        return
    low = (least.diameters, least.base_widths, Fraction(least.constant.nanometres))
    high = (greatest.diameters, greatest.base_widths, Fraction(greatest.constant.nanometres))
    if low != high and all(one >= other for one, other in zip(low, high, strict=True)):
        raise table.wrong("greatest", "it is less than the least bound for every clip", f"at least {least.text}")


def _check_identity(table: Table, rows: Sequence[Row], from_cells: bool) -> None:
    identity = read_linear_length(table.text("identity"), table.at("identity"))
    if not from_cells or identity.base_widths:
        raise table.wrong(
            "identity",
            "it is an identity of the column spacing with diameters and lengths alone",
            instead='Write it beside least = "table", such as identity = "6 diameters".',
        )
    for i, row in enumerate(rows):
        expected = identity.nanometres(row.size, None)
        if row.spacing is not None and row.spacing.value.nanometres != expected:
            raise InputError(
                "the cell breaks the identity that the file declares",
                field=f"rows[{i}].spacing",
                value=str(row.spacing.value),
                bound=f"{identity.text} of {row.size}, which is {Length.nearest(expected or Fraction(0))}",
                instead="Look for a slip of the pen; if the source prints it so, leave the identity out.",
            )


def read_threads(file: Table, base: Citation) -> Cited[str] | None:
    """Read the condition of the threads.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        ``dry`` or ``greased``, with the source's own words in ``how``; None where the file says nothing.

    Raises:
        InputError: A key is missing or wrong.
    """
    if not file.has("threads"):
        return None
    table = file.table("threads")
    condition = table.word("condition", ("dry", "greased"))
    return Cited(condition, (place_of(table, base),), table.text_or("text", ""))


def read_efficiency(file: Table, base: Citation) -> Efficiency:
    """Read the termination efficiency.

    Args:
        file: The file.
        base: The file's own citation.

    Returns:
        Bands, upper bound and terminations; all empty where the file says nothing.

    Raises:
        InputError: A share is outside its bounds, bands overlap, or it is not said for which terminations they hold.
    """
    if not file.has("efficiency"):
        return (), None, ()
    table = file.table("efficiency")
    citation = place_of(table, base)
    at_most = Cited(_share(table, "at_most", None), (citation,)) if table.has("at_most") else None
    ceiling = at_most.value if at_most else None
    if table.has("value") and table.has("bands"):
        raise table.wrong("value", "a value and bands stand together", instead="Write one of them.")
    bands: tuple[EfficiencyBand, ...] = ()
    if table.has("value"):
        bands = (EfficiencyBand(_share(table, "value", ceiling), None, None, citation),)
    elif table.has("bands"):
        bands = _read_bands(table, ceiling, citation)
    elif at_most is None:
        raise InputError("it says nothing", field="efficiency", instead='Write value = "80 %", bands or at_most.')
    if bands and not table.has("terminations"):
        raise InputError(
            "it is not said for which terminations the efficiency holds",
            field="efficiency.terminations",
            instead='Write those that the source speaks of, such as terminations = ["thimble eye"].',
        )
    return bands, at_most, table.words("terminations", TERMINATION_KINDS)


def _share(table: Table, key: str, ceiling: Fraction | None) -> Fraction:
    share = percent(table.text(key), table.at(key))
    if not 0 < share <= 1:
        raise table.wrong(key, "a termination holds a share of the rope's breaking force", "above 0 % and up to 100 %")
    if ceiling is not None and share > ceiling:
        raise table.wrong(key, "it is above the upper bound that the file gives", f"at most {percent_text(ceiling)}")
    return share


def _read_bands(table: Table, ceiling: Fraction | None, base: Citation) -> tuple[EfficiencyBand, ...]:
    bands: list[EfficiencyBand] = []
    for entry in table.tables("bands", "efficiency.bands"):
        least, greatest, below = (
            Length.of(entry.text(key), entry.at(key)) if entry.has(key) else None
            for key in ("least", "greatest", "below")
        )
        if greatest is not None and below is not None:
            raise entry.wrong("below", "it stands beside greatest", instead="Write greatest, or below for less than.")
        if least is not None and (
            (greatest is not None and greatest < least) or (below is not None and below <= least)
        ):
            raise entry.wrong("least", "the band ends before it begins")
        if bands and not _begins_after(least, bands[-1]):
            raise entry.wrong("least", "the band overlaps the one before it", instead="Put the bands in order, apart.")
        citation = place_of(entry, base)
        bands.append(EfficiencyBand(_share(entry, "value", ceiling), least, greatest, citation, below))
    return tuple(bands)


def _begins_after(least: Length | None, before: EfficiencyBand) -> bool:
    if least is None:
        return False
    if before.below is not None:
        return before.below <= least
    return before.greatest is not None and before.greatest < least
