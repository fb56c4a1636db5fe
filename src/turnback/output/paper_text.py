"""A paper as plain text of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from turnback.model.lettering import clean_text
from turnback.output.paper import Blanks, Block, Grid, Paper, Picture, Point, Points, Section, Words, refs

__all__ = ["paper_text", "text_table"]

WIDTH: Final = 80
_BLANK: Final = "_" * 12
_BOX: Final = "[ ]"
_GAP: Final = 2
_NUMBER: Final = 4
"""Longest label under which the text is lined up [-]."""
_LEAST: Final = 4
"""Narrowest column of a table [-]."""


def paper_text(paper: Paper) -> str:
    """Write a paper as plain text.

    Args:
        paper: The paper.

    Returns:
        Lines of at most 80 columns, ending in a new line. Signs that would move the cursor or turn the direction of
        writing are replaced.
    """
    lines = [*_headed(paper.title, "=")]
    lines += _wrapped(paper.under, "") if paper.under else []
    for section in paper.sections:
        lines += ["", *_section(section)]
    lines += ["", *(line for each in paper.foot for line in _wrapped(each, ""))] if paper.foot else []
    return "\n".join(lines) + "\n"


def _headed(title: str, sign: str) -> list[str]:
    lines = _wrapped(title, "")
    return [*lines, sign * max(len(line) for line in lines)]


def _section(section: Section) -> Iterator[str]:
    if section.alarm:
        yield "!" * WIDTH
        yield from _wrapped(section.title.upper(), "!! ")
    else:
        yield from _headed(section.title, "-")
    for block in section.blocks:
        yield from _block(block, "!! " if section.alarm else "")
    if section.alarm:
        yield "!" * WIDTH


def _block(block: Block, before: str) -> Iterator[str]:
    if isinstance(block, Words):
        yield from _wrapped(block.text, before)
    elif isinstance(block, Points):
        for point in block.points:
            yield from _point(point, before)
    elif isinstance(block, Grid):
        yield from _grid(block)
    elif isinstance(block, Blanks):
        yield from (line for label in block.labels for line in _blank(label, "  "))
    else:
        yield from _picture(block)


def _picture(picture: Picture) -> Iterator[str]:
    yield from _wrapped(f"(The drawing is on the HTML page. In words: {picture.title}. {picture.description})", "")


def _point(point: Point, before: str) -> Iterator[str]:
    box, label = [_BOX] if point.tick else [], clean_text(point.label)
    said = f"HOLD. {point.text}" if point.hold else point.text
    numbered = 0 < len(label) <= _NUMBER
    if label and not numbered:
        # A word in front is a part of the text; under a number the text is lined up.
        said = f"{label} {said}"
    signs = [*box, label] if numbered else box or ([] if label else ["-"])
    first = before + "  " + "".join(f"{sign} " for sign in signs)
    indent = before + " " * max(len(first) - len(before), 4)
    yield from _wrapped(f"{said} {refs(point.cited)}", first, indent)
    for each in point.under:
        yield from _wrapped(each, f"{indent}- ", f"{indent}  ")
    if point.hold:
        yield f"{indent}HOLD POINT, released by {_BLANK} date {_BLANK}"
    for each in point.blanks:
        yield from _blank(each, indent)


def _blank(label: str, indent: str) -> Iterator[str]:
    yield from _wrapped(f"{label}: {_BLANK}", indent)


def _grid(grid: Grid) -> Iterator[str]:
    empty = "______" if grid.to_fill else ""
    rows = [tuple(cell or empty for cell in row) for row in grid.rows]
    headers = grid.headers
    if grid.tick:
        headers, rows = ("", *headers), [(_BOX, *row) for row in rows]
    yield from text_table(headers, rows)
    for note in grid.notes:
        yield from _wrapped(note, "  ")


def text_table(headers: Sequence[str], rows: Sequence[Sequence[str]], width: int = WIDTH) -> Iterator[str]:
    """Write a table whose cells are wrapped so that it fits.

    Args:
        headers: Of the columns.
        rows: Their cells.
        width: Greatest width of a line [-].

    Yields:
        Lines.
    """
    cells = [[clean_text(cell) for cell in line] for line in (headers, *rows)]
    widths = _widths(cells, width - 2)
    for number, line in enumerate(cells):
        yield from _table_row(line, widths)
        if number == 0:
            yield "  " + "  ".join("-" * each for each in widths)


def _table_row(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    columns = [
        textwrap.wrap(cell, each, break_on_hyphens=True) or [""] for cell, each in zip(cells, widths, strict=True)
    ]
    for i in range(max(len(column) for column in columns)):
        parts = [
            (column[i] if i < len(column) else "").ljust(each) for column, each in zip(columns, widths, strict=True)
        ]
        yield ("  " + "  ".join(parts)).rstrip()


def _widths(cells: Sequence[Sequence[str]], width: int) -> list[int]:
    room = width - _GAP * (len(cells[0]) - 1)
    widths = [max(_LEAST, *(len(line[i]) for line in cells)) for i in range(len(cells[0]))]
    words = [max(_LEAST, *(len(word) for line in cells for word in line[i].split())) for i in range(len(cells[0]))]
    # The widest column gives way first, down to its longest word; then, where words are endless, below it.
    for least in (words, [_LEAST] * len(widths)):
        while sum(widths) > room and any(each > low for each, low in zip(widths, least, strict=True)):
            widest = max((i for i in range(len(widths)) if widths[i] > least[i]), key=lambda i: widths[i])
            widths[widest] -= 1
    return widths


def _wrapped(text: str, first: str, rest: str | None = None) -> list[str]:
    return textwrap.wrap(
        clean_text(text),
        WIDTH,
        initial_indent=first,
        subsequent_indent=first if rest is None else rest,
        break_on_hyphens=False,
    ) or [first.rstrip()]
