"""What the eye of a figure lies round: a thimble, a pin, a pulley, another eye."""

from __future__ import annotations

import math
from collections.abc import Iterator

from turnback.model.shapes import Circle, Path, PathStep, Rect, Shape, Text
from turnback.planning._figure_ends import rope_end
from turnback.planning._figure_eye import EyePlace
from turnback.planning._figure_eyes import DrawnEye
from turnback.planning._figure_labels import SMALL
from turnback.planning._figure_rope import Arc, Run, Straight
from turnback.planning._figure_sheet import GAP, PAGE

__all__ = ["hardware", "linked_eye"]


def hardware(place: EyePlace) -> Iterator[Shape]:
    """Draw what an eye is laid round.

    Args:
        place: The eye.

    Yields:
        The shapes, to be covered by the rope.
    """
    if place.eye.around == "thimble":
        yield from _thimble(place)
    elif place.eye.around == "pin":
        yield from _pin(place)
    else:
        yield from _pulley(place)


def _thimble(place: EyePlace) -> Iterator[Shape]:
    dash = (6.0, 4.0) if place.eye.missing else ()
    # A break line cuts a long eye into several runs; the thimble is drawn in the one that has the crown.
    run = next((run for run in place.runs if any(isinstance(each, Arc) for each in run)), ())
    arc = next((each for each in run if isinstance(each, Arc)), None)
    if arc is None:
        return
    cut = None if place.broken is None or not isinstance(run[0], Straight) else run[0].x1
    start, end = arc.at(arc.start), arc.at(arc.end)
    large = arc.end - arc.start > math.pi
    first, last = (place.dead, place.live) if cut is None else _ends(run)
    outer: tuple[PathStep, ...] = (
        ("M", *first), ("L", *start), ("A", arc.radius, large, True, *end), ("L", *last), ("Z",),
    )  # fmt: skip
    yield Path(outer, "none", "metal")
    point = place.x - (place.eye.opening - place.eye.bearing) * place.unit
    reach, r = place.x - point, place.bearing
    if reach <= r:
        yield Circle(place.x, place.y, r, "ink", "paper", dash=dash)
        return
    touch = Arc(place.x, place.y, r, -math.pi + math.acos(r / reach), math.pi - math.acos(r / reach))
    start, end = touch.at(touch.start), touch.at(touch.end)
    large = touch.end - touch.start > math.pi
    if cut is None or cut <= point:
        inner: tuple[PathStep, ...] = (
            ("M", point, place.y), ("L", *start), ("A", r, large, True, *end), ("Z",),
        )  # fmt: skip
    else:
        share = (cut - point) / (start[0] - point)
        up, down = (place.y + share * (y - place.y) for y in (start[1], end[1]))
        inner = (("M", cut, up), ("L", *start), ("A", r, large, True, *end), ("L", cut, down))
    yield Path(inner, "ink", "paper", 1.4, dash)


def _ends(run: Run) -> tuple[tuple[float, float], tuple[float, float]]:
    first, last = run[0], run[-1]
    begins = (first.x1, first.y1) if isinstance(first, Straight) else first.at(first.start)
    return begins, (last.x2, last.y2) if isinstance(last, Straight) else last.at(last.end)


def _pin(place: EyePlace) -> Iterator[Shape]:
    dash = (6.0, 4.0) if place.eye.missing else ()
    r = place.bearing
    yield Circle(place.x, place.y, r, "ink", "metal", 1.4, dash)
    steps: list[PathStep] = []
    pitch = max(7.0, r / 5)
    for i in range(-int(r / pitch), int(r / pitch) + 1):
        # A section line at 45 degrees, so far from the centre, ends on the circle.
        off = i * pitch
        half = math.sqrt(max(r * r - off * off, 0.0))
        a, b = (off - half) * math.sqrt(0.5), (off + half) * math.sqrt(0.5)
        steps += [("M", place.x + a, place.y + b), ("L", place.x + b, place.y + a)]
    yield Path(tuple(steps), "ink", width=0.8)
    yield from _word("pin", place, r)


def _pulley(place: EyePlace) -> Iterator[Shape]:
    dash = (6.0, 4.0) if place.eye.missing else ()
    r = place.bearing
    yield Circle(place.x, place.y, place.radius + 0.75 * place.rope, "faint", "none", 1.0, (8.0, 4.0))
    yield Circle(place.x, place.y, r, "ink", "metal", 1.4, dash)
    yield Circle(place.x, place.y, 0.8 * r, "ink", "paper", 0.9)
    yield Circle(place.x, place.y, max(0.14 * r, 3.0), "ink", "metal", 1.2)
    yield from _word("pulley", place, 0.8 * r)


def _word(word: str, place: EyePlace, radius: float) -> Iterator[Shape]:
    if radius < 26:
        return
    x, y = place.x, place.y + radius * 0.55 + 4
    yield Rect(x - 22, y - 12, 44, 16, "none", "paper", corner=3)
    yield Text(x, y, word, SMALL, "middle")


def linked_eye(place: EyePlace, other: DrawnEye) -> Iterator[Shape]:
    """Draw the other of two linked eyes, turned a quarter and so seen from its edge.

    Args:
        place: The eye that is drawn in full.
        other: The other.

    Yields:
        Its thimble and its rope, broken off beyond its base.
    """
    unit, rope = place.unit, other.rope * place.unit
    touch = place.x + place.bearing
    groove = (other.radius - other.bearing) * unit - rope / 2
    left = touch - groove - rope
    base = touch + (other.base + other.bearing) * unit
    end = min(base + GAP / 2, PAGE - 64)
    flange = 1.5 * rope
    yield Rect(left, place.y - flange / 2, min(base, end) - left, flange, fill="metal", corner=rope * 0.7)
    yield Rect(left - 1, place.y - rope / 2, end - left + 1, rope, fill="live", corner=rope / 2)
    yield from rope_end(end, place.y, rope)
