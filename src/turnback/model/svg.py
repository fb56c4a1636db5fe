"""A figure as SVG: one element that needs nothing else, the same bytes for the same figure."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from turnback.model.figures import Figure
from turnback.model.lettering import clean_text
from turnback.model.shapes import Circle, Group, Path, PathStep, Rect, Shape, Text, Tone

__all__ = ["svg_of"]

# Every tone on a light page, on a dark one, and on paper. The first are also written beside each shape, for programs
# that know no style sheets.
_LIGHT: Final[dict[Tone, str]] = {
    "paper": "#ffffff",
    "ink": "#1b2128",
    "faint": "#59636e",
    "live": "#cbe2f6",
    "metal": "#d5d9de",
    "saddle": "#a3400c",
    "alarm": "#b3001b",
}
_DARK: Final[dict[Tone, str]] = {
    "paper": "#15191e",
    "ink": "#e9edf1",
    "faint": "#a4aeb9",
    "live": "#1d4f7c",
    "metal": "#505b66",
    "saddle": "#ff9d5c",
    "alarm": "#ff8a80",
}
_PRINT: Final[dict[Tone, str]] = {
    "paper": "#ffffff",
    "ink": "#000000",
    "faint": "#444444",
    "live": "#e2e2e2",
    "metal": "#d0d0d0",
    "saddle": "#333333",
    "alarm": "#000000",
}
_ROOT: Final = "turnback-figure"


def _palette(tones: dict[Tone, str]) -> str:
    return f".{_ROOT}{{" + ";".join(f"--turnback-{tone}:{colour}" for tone, colour in tones.items()) + "}"


def _style() -> str:
    rules = [
        _palette(_LIGHT),
        f"@media (prefers-color-scheme:dark){{{_palette(_DARK)}}}",
        f"@media print{{{_palette(_PRINT)}}}",
        f".{_ROOT}{{color:var(--turnback-ink);max-width:100%;height:auto}}",
    ]
    for tone in _LIGHT:
        colour = "currentColor" if tone == "ink" else f"var(--turnback-{tone})"
        rules.append(f".{_ROOT} .f-{tone}{{fill:{colour}}}.{_ROOT} .s-{tone}{{stroke:{colour}}}")
    return "\n".join(rules)


def svg_of(figure: Figure) -> str:
    """Write a figure as SVG.

    Args:
        figure: The figure.

    Returns:
        One ``<svg>`` element ending in a new line. Its ids come from its content, so that several figures can stand
        on one page.
    """
    body = "\n".join(_written(figure.shapes))
    title, desc = _escaped(figure.title), _escaped(figure.desc)
    key = hashlib.sha256("\n".join((title, desc, body)).encode()).hexdigest()[:12]
    scale = "" if figure.units_per_millimetre is None else f' data-units-per-mm="{figure.units_per_millimetre:.9f}"'
    width, height = _number(figure.width), _number(figure.height)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{_ROOT}" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="turnback-{key}-title turnback-{key}-desc" '
        f'font-family="sans-serif" stroke-linejoin="round"{scale}>\n'
        f'<title id="turnback-{key}-title">{title}</title>\n'
        f'<desc id="turnback-{key}-desc">{desc}</desc>\n'
        f"<style>\n{_style()}\n</style>\n"
        f'<rect width="{width}" height="{height}" class="f-paper" fill="{_LIGHT["paper"]}"/>\n'
        f"{body}\n</svg>\n"
    )


def _written(shapes: tuple[Shape, ...]) -> Iterator[str]:
    for shape in shapes:
        if isinstance(shape, Group):
            part = f" data-part={quoteattr(clean_text(shape.part))}" if shape.part else ""
            title = f"<title>{_escaped(shape.title)}</title>" if shape.title else ""
            yield f"<g{part}>{title}"
            yield from _written(shape.shapes)
            yield "</g>"
        else:
            yield _one(shape)


def _one(shape: Path | Rect | Circle | Text) -> str:
    if isinstance(shape, Text):
        return _text(shape)
    if isinstance(shape, Path):
        paint = _paint(shape.fill, shape.stroke, shape.width, shape.dash)
        return f'<path d="{" ".join(_step(step) for step in shape.steps)}"{paint}/>'
    if isinstance(shape, Circle):
        place = f'cx="{_number(shape.x)}" cy="{_number(shape.y)}" r="{_number(shape.radius)}"'
        return f"<circle {place}{_paint(shape.fill, shape.stroke, shape.width, shape.dash)}/>"
    place = f'x="{_number(shape.x)}" y="{_number(shape.y)}" width="{_number(shape.width)}"'
    corner = f' rx="{_number(shape.corner)}"' if shape.corner else ""
    return f'<rect {place} height="{_number(shape.height)}"{corner}{_paint(shape.fill, shape.stroke, shape.line, ())}/>'


def _text(text: Text) -> str:
    x, y = _number(text.x), _number(text.y)
    turned = f' transform="rotate(-90 {x} {y})"' if text.upright else ""
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    bold = ' font-weight="bold"' if text.bold else ""
    paint = f' class="f-{text.tone}" fill="{_LIGHT[text.tone]}"' if text.tone != "none" else ' fill="none"'
    form = f'font-size="{_number(text.size)}"{anchor}{bold}{turned}'
    return f'<text x="{x}" y="{y}" {form}{paint}>{_escaped(text.text)}</text>'


def _paint(fill: Tone, stroke: Tone, width: float, dash: tuple[float, ...]) -> str:
    classes = [f"f-{fill}"] * (fill != "none") + [f"s-{stroke}"] * (stroke != "none")
    named = f' class="{" ".join(classes)}"' if classes else ""
    lined = "" if stroke == "none" else f' stroke="{_LIGHT[stroke]}" stroke-width="{_number(width)}"'
    dashed = f' stroke-dasharray="{" ".join(map(_number, dash))}"' if dash and stroke != "none" else ""
    return f'{named} fill="{_LIGHT.get(fill, "none")}"{lined}{dashed}'


def _step(step: PathStep) -> str:
    if step[0] == "Z":
        return "Z"
    if step[0] == "A":
        radius = _number(step[1])
        return f"A{radius} {radius} 0 {int(step[2])} {int(step[3])} {_number(step[4])} {_number(step[5])}"
    return step[0] + " ".join(_number(number) for number in step[1:])


def _number(value: float) -> str:
    text = f"{value:.2f}"
    return "0.00" if text == "-0.00" else text


def _escaped(text: str) -> str:
    return escape(clean_text(text), {'"': "&quot;", "'": "&#39;"})
