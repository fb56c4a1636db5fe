"""A paper as values: sections of words, points, tables, blanks and pictures, to be written as HTML, Markdown or text.

What stands here is plain text; each form escapes it in its own way, so that no text of a user becomes markup.
"""

from __future__ import annotations

from typing import TypeAlias

import attrs

from turnback.errors import InputError

__all__ = ["Blanks", "Block", "Grid", "Paper", "Picture", "Point", "Points", "Section", "Words", "refs"]


@attrs.frozen
class Words:
    """A paragraph.

    Args:
        text: The text.
        strong: Whether it stands out.
    """

    text: str
    strong: bool = False


@attrs.frozen
class Point:
    """One entry of a list.

    Args:
        text: The text.
        label: What stands in front of it, such as the number of a step or the kind of a finding.
        tick: Whether it has a box to tick.
        hold: Whether nobody goes on before it has been checked and signed.
        blanks: What is to be written down beside it.
        cited: Numbers in the list of sources [-].
        under: Entries that belong under it.
    """

    text: str
    label: str = ""
    tick: bool = False
    hold: bool = False
    blanks: tuple[str, ...] = ()
    cited: tuple[int, ...] = ()
    under: tuple[str, ...] = ()


@attrs.frozen
class Points:
    """A list.

    Args:
        points: Its entries.
        small: Whether it is for looking up, and may stand small and in two columns.
    """

    points: tuple[Point, ...]
    small: bool = False


@attrs.frozen
class Grid:
    """A table.

    Args:
        headers: Of the columns.
        rows: Their cells; an empty cell is one to write in, where `to_fill` says so.
        caption: What it shows, for a reader who does not see it.
        to_fill: Whether empty cells are to be written in.
        notes: What stands under it.
        tick: Whether each row begins with a box to tick.

    Raises:
        InputError: A row has more or fewer cells than there are headers.
    """

    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str
    to_fill: bool = False
    notes: tuple[str, ...] = ()
    tick: bool = False

    def __attrs_post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.headers):
                raise InputError(
                    "a row of a table has a cell for each column",
                    field="rows",
                    value=f"{len(row)} cells",
                    bound=f"{len(self.headers)} columns",
                )


@attrs.frozen
class Blanks:
    """Fields to write in.

    Args:
        labels: What belongs there.
    """

    labels: tuple[str, ...]


@attrs.frozen
class Picture:
    """A drawing.

    Args:
        svg: One ``<svg>`` element that the library itself wrote.
        title: What it shows.
        description: The same in words, for those forms that show no picture.
    """

    svg: str
    title: str
    description: str


Block: TypeAlias = Words | Points | Grid | Blanks | Picture


@attrs.frozen
class Section:
    """A part of a paper under a heading.

    Args:
        title: The heading.
        blocks: What stands under it.
        alarm: Whether it says that something is forbidden or must be fixed first.
        whole: Whether it is kept on one page where it fits.
    """

    title: str
    blocks: tuple[Block, ...]
    alarm: bool = False
    whole: bool = False


@attrs.frozen
class Paper:
    """A whole paper.

    Args:
        title: Its heading.
        under: What stands under the heading.
        sections: Its parts.
        forbidden: Whether what it describes may not be made or used; it then stands at the head of every page.
        foot: What stands at the end.
    """

    title: str
    under: str
    sections: tuple[Section, ...]
    forbidden: bool = False
    foot: tuple[str, ...] = ()


def refs(numbers: tuple[int, ...]) -> str:
    """Write references to the list of sources.

    Args:
        numbers: Numbers in that list [-].

    Returns:
        Text such as ``"[1, 4]"``; empty where there are none.
    """
    return f"[{', '.join(str(number) for number in numbers)}]" if numbers else ""
