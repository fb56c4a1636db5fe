"""A paper as one HTML page that needs nothing else: no script, no font, no file, no address."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from turnback.model.markup import Html, element, escaped, joined
from turnback.output.paper import Blanks, Block, Grid, Paper, Picture, Point, Points, Section, Words, refs
from turnback.output.paper_style import STYLE, page_heads

__all__ = ["paper_html"]

_BOX: Final = Html('<span class="box" role="img" aria-label="to tick"></span>')
_RULE: Final = Html('<span class="rule" role="img" aria-label="to write in"></span>')
# A reader that obeys it runs and fetches nothing, whatever else may have gone wrong.
_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'"


def paper_html(paper: Paper) -> str:
    """Write a paper as a page.

    Args:
        paper: The paper.

    Returns:
        A whole HTML document ending in a new line.
    """
    head = joined(
        (
            Html('<meta charset="utf-8">'),
            Html(f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'),
            Html('<meta name="viewport" content="width=device-width,initial-scale=1">'),
            element("title", escaped(paper.title)),
            Html(f"<style>\n{STYLE}{page_heads(forbidden=paper.forbidden)}</style>"),
        ),
        "\n",
    )
    title = element("h1", escaped(paper.title))
    under = element("p", escaped(paper.under), "under") if paper.under else Html("")
    foot = element("footer", joined(element("p", escaped(each)) for each in paper.foot)) if paper.foot else Html("")
    parts = (element("header", joined((title, under))), *(_section(each) for each in paper.sections), foot)
    body = element("main", joined(parts, "\n"))
    return f'<!doctype html>\n<html lang="en">\n<head>\n{head}\n</head>\n<body>\n{body}\n</body>\n</html>\n'


def _section(section: Section) -> Html:
    words = [word for word, holds in (("alarm", section.alarm), ("whole", section.whole)) if holds]
    parts = (element("h2", escaped(section.title)), *(_block(block) for block in section.blocks))
    return element("section", joined(parts, "\n"), " ".join(words), 'role="alert"' if section.alarm else "")


def _block(block: Block) -> Html:
    if isinstance(block, Words):
        text = escaped(block.text)
        return element("p", element("strong", text) if block.strong else text)
    if isinstance(block, Points):
        css_class = "points small" if block.small else "points"
        return element("ul", joined((_point(point) for point in block.points), "\n"), css_class)
    if isinstance(block, Grid):
        return _grid(block)
    if isinstance(block, Blanks):
        return element("div", joined(_blank(label) for label in block.labels), "blanks")
    return _picture(block)


def _picture(picture: Picture) -> Html:
    # The library wrote the element and escaped every text in it; its title and description are inside.
    return element("figure", Html(picture.svg))


def _point(point: Point) -> Html:
    label = element("span", escaped(point.label)) if point.label else Html("")
    lead = joined((_BOX if point.tick else Html(""), label)) or escaped("•")
    said = element("div", joined((escaped(point.text), *_refs(point.cited)), " "))
    if point.under:
        said = joined((said, element("ul", joined(element("li", escaped(each)) for each in point.under))))
    blanks = joined(_blank(label) for label in point.blanks)
    if not point.hold:
        return _item(lead, joined((said, blanks)))
    sign = element("strong", escaped("HOLD POINT: nobody goes on before this is checked."))
    signed = element("div", joined((_blank("released by"), _blank("date and time"))), "blanks")
    return _item(lead, element("div", joined((sign, said, blanks, signed)), "hold"))


def _item(lead: Html, said: Html) -> Html:
    return element("li", joined((element("span", lead, "lead"), element("div", said, "said"))))


def _refs(cited: tuple[int, ...]) -> Iterable[Html]:
    return [element("span", escaped(refs(cited)), "ref")] if cited else []


def _blank(label: str) -> Html:
    return element("div", joined((element("span", escaped(label)), _RULE)), "blank")


def _grid(grid: Grid) -> Html:
    lead_head = [element("th", escaped("done"), attributes='scope="col"')] if grid.tick else []
    head = joined((*lead_head, *(element("th", escaped(header), attributes='scope="col"') for header in grid.headers)))
    rows = joined((_row(row, grid.tick) for row in grid.rows), "\n")
    parts = [element("caption", escaped(grid.caption)), element("thead", element("tr", head)), element("tbody", rows)]
    found = element("table", joined(parts, "\n"), "fill" if grid.to_fill else "")
    if not grid.notes:
        return found
    return joined((found, element("ul", joined(element("li", escaped(note)) for note in grid.notes), "notes")))


def _row(row: tuple[str, ...], tick: bool) -> Html:
    lead = [element("td", _BOX)] if tick else []
    first = element("th", escaped(row[0]), attributes='scope="row"')
    return element("tr", joined((*lead, first, *(element("td", escaped(cell)) for cell in row[1:]))))
