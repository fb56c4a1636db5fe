"""Reads a figure back from its SVG, by the names of its parts and its coordinates, without the code that drew it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final
from xml.etree import ElementTree

__all__ = ["Picture"]

_SVG: Final = "{http://www.w3.org/2000/svg}"
_POINT: Final = re.compile(r"(-?\d+\.\d\d) (-?\d+\.\d\d)(?=[A-Z ]|$)")


class Picture:
    """One figure."""

    def __init__(self, svg: str) -> None:
        self.svg = svg
        self.root = ElementTree.fromstring(svg)

    @property
    def scale(self) -> float:
        """Drawing units to the millimetre, as the figure states it."""
        return float(self.root.attrib["data-units-per-mm"])

    @property
    def parts(self) -> list[str]:
        """Names of all parts, in the order in which they are drawn."""
        return [each.attrib["data-part"] for each in self.root.iter(_SVG + "g") if "data-part" in each.attrib]

    def part(self, name: str) -> ElementTree.Element:
        """The one part of this name."""
        (found,) = [each for each in self.root.iter(_SVG + "g") if each.attrib.get("data-part") == name]
        return found

    def texts(self) -> list[str]:
        """All that is written, in the order in which it is drawn."""
        return [each.text or "" for each in self.root.iter(_SVG + "text")]

    def written(self) -> str:
        """The same in one."""
        return " ".join(self.texts())

    def said(self, name: str) -> str:
        """Title or description of the whole figure."""
        return self.root.findtext(_SVG + name) or ""

    def across(self, name: str, tone: str) -> tuple[float, float]:
        """Left and right end of what a part has in one tone."""
        xs = [x for x, _ in self._points(name, tone)]
        return min(xs), max(xs)

    def down(self, name: str, tone: str) -> tuple[float, float]:
        """Top and foot of what a part has in one tone."""
        ys = [y for _, y in self._points(name, tone)]
        return min(ys), max(ys)

    def line(self, name: str) -> tuple[float, float]:
        """Both ends of the dimension line that is the first shape of a part, from the left."""
        path = next(self.part(name).iter(_SVG + "path"))
        (x1, _), (x2, _) = _points(path)
        return x1, x2

    def _points(self, name: str, tone: str) -> Iterator[tuple[float, float]]:
        for each in self.part(name).iter():
            if {f"f-{tone}", f"s-{tone}"} & set(each.attrib.get("class", "").split()):
                yield from _points(each)


def _points(shape: ElementTree.Element) -> Iterator[tuple[float, float]]:
    if shape.tag == _SVG + "rect":
        x, y, width, height = (float(shape.attrib[name]) for name in ("x", "y", "width", "height"))
        yield from ((x, y), (x + width, y + height))
    elif shape.tag == _SVG + "path":
        # Straight pieces alone: every number but those of an arc's flags has two decimals.
        yield from (
            (float(x), float(y)) for x, y in _POINT.findall(shape.attrib["d"].replace("M", "").replace("L", ""))
        )
