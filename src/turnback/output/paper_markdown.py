"""A paper as Markdown (CommonMark with tables), every text escaped."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from turnback.model.lettering import clean_text
from turnback.output.paper import Blanks, Block, Grid, Paper, Picture, Point, Points, Section, Words, refs

__all__ = ["markdown_text", "paper_markdown"]

_BLANK: Final = r"\_" * 12
_BOX: Final = "[ ]"
# Every sign that may begin markup somewhere. A colon before a word and an at sign would make an address of it.
_SIGNS: Final = re.compile(r"([\\`*_\[\]<>#|~!@{}$^=]|:(?=\S))")
_AT_THE_START: Final = re.compile(r"^([-+:]|[0-9]+[.)](?=\s|$))")
_BARE_ADDRESS: Final = re.compile(r"\b(www)\.", re.IGNORECASE)
_LITERAL: Final = {"<": "&lt;", ">": "&gt;"}


def markdown_text(text: str) -> str:
    """Escape a text for Markdown.

    Args:
        text: Any text.

    Returns:
        One line that shows the text and does nothing else, whatever reads it: neither markup, nor HTML, nor a link.
    """
    # Blanks around a text keep the asterisks beside it from making it bold.
    line = clean_text(text).strip().replace("&", "&amp;")
    line = _SIGNS.sub(lambda found: _LITERAL.get(found[1], f"\\{found[1]}"), line)
    line = _BARE_ADDRESS.sub(r"\1\\.", line)
    found = _AT_THE_START.match(line)
    if found is None:
        return line
    return f"{found[1][:-1]}\\{found[1][-1]}{line[found.end() :]}"


def paper_markdown(paper: Paper) -> str:
    """Write a paper as Markdown.

    Args:
        paper: The paper.

    Returns:
        Markdown, ending in a new line.
    """
    parts = [f"# {markdown_text(paper.title)}"]
    parts += [markdown_text(paper.under)] if paper.under else []
    for section in paper.sections:
        parts += _section(section)
    parts += ["---", *(markdown_text(each) for each in paper.foot)] if paper.foot else []
    return "\n\n".join(parts) + "\n"


def _section(section: Section) -> Iterator[str]:
    yield f"## **{markdown_text(section.title.upper())}**" if section.alarm else f"## {markdown_text(section.title)}"
    for block in section.blocks:
        written = _block(block)
        yield "\n".join(f"> {line}".rstrip() for line in written.split("\n")) if section.alarm else written


def _block(block: Block) -> str:
    if isinstance(block, Words):
        text = markdown_text(block.text)
        return f"**{text}**" if block.strong else text
    if isinstance(block, Points):
        return "\n".join(line for point in block.points for line in _point(point))
    if isinstance(block, Grid):
        return "\n".join(_grid(block))
    if isinstance(block, Blanks):
        return "\n".join(f"- {markdown_text(label)}: {_BLANK}" for label in block.labels)
    return _picture(block)


def _picture(picture: Picture) -> str:
    words = f"The drawing is on the HTML page. In words: {picture.title}. {picture.description}"
    return f"*{markdown_text(words)}*"


def _point(point: Point) -> Iterator[str]:
    label = f"**{markdown_text(point.label)}** " if point.label else ""
    hold = "**HOLD.** " if point.hold else ""
    box = f"{_BOX} " if point.tick else ""
    yield f"- {box}{label}{hold}{markdown_text(f'{point.text} {refs(point.cited)}'.rstrip())}"
    for each in point.under:
        yield f"  - {markdown_text(each)}"
    if point.hold:
        yield f"  - **HOLD POINT**, released by {_BLANK} date {_BLANK}"
    for each in point.blanks:
        yield f"  - {markdown_text(each)}: {_BLANK}"


def _grid(grid: Grid) -> Iterator[str]:
    headers, rows = grid.headers, grid.rows
    empty = r"\_" * 6 if grid.to_fill else ""
    lines = [[markdown_text(cell) or empty for cell in row] for row in rows]
    heads = [markdown_text(header) for header in headers]
    if grid.tick:
        heads, lines = ["", *heads], [[_BOX, *line] for line in lines]
    yield f"| {' | '.join(heads)} |"
    yield "|" + " --- |" * len(heads)
    yield from (f"| {' | '.join(line)} |" for line in lines)
    if grid.notes:
        yield ""
        yield from (f"- {markdown_text(note)}" for note in grid.notes)
