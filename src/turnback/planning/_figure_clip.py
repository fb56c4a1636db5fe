"""One clip as its style draws it; what a plugin's style draws is looked at first."""

from __future__ import annotations

from typing import Final

from turnback.errors import PluginError
from turnback.model.figures import ClipPlace
from turnback.model.shapes import Circle, Group, Path, Rect, Shape, Text
from turnback.model.styles import ClipStyle
from turnback.planning.asking import OURS, broken
from turnback.rules.loading import Origin, reason_of

__all__ = ["drawn"]

_SHAPES: Final = (Path, Rect, Circle, Text)


def drawn(style: ClipStyle, place: ClipPlace, origin: Origin | None) -> tuple[Shape, ...]:
    """Have a style draw one clip.

    Args:
        style: The clip style.
        place: Where, and from which side it is seen.
        origin: Where the style comes from; None where nobody knows.

    Returns:
        Its shapes.

    Raises:
        PluginError: The style breaks, or answers what cannot be drawn.
    """
    if type(style) in OURS and style.drawing is None:
        return style.draw_clip(place)
    try:
        shapes = style.draw_clip(place)
        _check_drawn(shapes)
    except BaseException as error:
        if type(error) is KeyboardInterrupt:
            raise
        broken(style, origin, "draws a clip", reason_of(error), error)
    return shapes


def _check_drawn(shapes: object) -> None:
    if type(shapes) is not tuple or not shapes:
        raise PluginError(f"it returned {type(shapes).__name__}; it must return a tuple of at least one shape")
    for shape in shapes:
        words: tuple[object, ...] = (shape.part, shape.title) if isinstance(shape, Group) else ()
        words = (shape.text,) if isinstance(shape, Text) else words
        if any(type(word) is not str for word in words):
            raise PluginError("it wrote what is no text")
        if type(shape) is Group:
            _check_drawn(shape.shapes)
        elif type(shape) in _SHAPES:
            shape.__attrs_post_init__()  # its numbers and tones, which can be changed past the constructor
        else:
            raise PluginError(f"it drew with {type(shape).__name__}; it draws with Path, Rect, Circle, Text and Group")
