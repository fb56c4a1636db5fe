"""Asking a style that a plugin wrote: what it raises or answers wrongly is told as the plugin's own failure.

The two styles of the core are asked directly. A style of another class is trusted code all the same, but it may be
wrong: it is handed copies, what it raises becomes a :class:`~turnback.errors.PluginError`, and what it answers is
looked at before anything is computed from it. Whether its layout is *right* is for the conformance kit to say.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NoReturn, get_args

from turnback.errors import PluginError, TurnbackError
from turnback.model.absent import Absent
from turnback.model.layout import Layout, LayoutDemand, PlacedClip, SaddleOn
from turnback.model.styles import BodyStyle, ClipStyle, SeriesStyle
from turnback.quantities import Length
from turnback.rules.loading import Origin, reason_of

__all__ = ["OURS", "broken", "laid_out"]

OURS: Final = (SeriesStyle, BodyStyle)
"""The styles of the core, which are asked directly."""
_SADDLES: Final = frozenset(get_args(SaddleOn))


def laid_out(style: ClipStyle, demand: LayoutDemand, origin: Origin | None) -> Layout:
    """Have a style place the clips.

    Args:
        style: The clip style.
        demand: What the rules ask for.
        origin: Where the style comes from; None where nobody knows.

    Returns:
        Its layout.

    Raises:
        PluginError: The style breaks, or answers what is no layout for the demand.
        TurnbackError: The style refuses the demand.
    """
    if type(style) in OURS:
        return style.lay_out(demand)
    try:
        layout = style.lay_out(_copied(demand))
        problem = _wrong_with(layout, demand, in_series=style.in_series)
    except TurnbackError:
        raise
    except BaseException as error:
        if type(error) is KeyboardInterrupt:
            raise
        broken(style, origin, "lays out clips", reason_of(error), error)
    if problem:
        broken(style, origin, "lays out clips", problem)
    return layout


def broken(
    style: ClipStyle, origin: Origin | None, doing: str, reason: str, error: BaseException | None = None
) -> NoReturn:
    """Tell that a style broke.

    Args:
        style: The clip style.
        origin: Where it comes from; None where nobody knows.
        doing: What it was doing, as a verb.
        reason: What went wrong.
        error: What it raised; None where it answered wrongly.

    Raises:
        PluginError: Always.
    """
    raise PluginError(
        f"the style {style.id} of the plugin {origin or 'of unknown origin'} breaks when it {doing}: {reason}",
        field="style",
        value=style.id,
        instead="Mend or remove that plugin, or take another style.",
    ) from error


def _copied(demand: LayoutDemand) -> LayoutDemand:
    # The lengths are those of the request and of the rule sets themselves; a style gets its own.
    return LayoutDemand(
        demand.count,
        Length(demand.rope_diameter.nanometres),
        _copy(demand.base_width),
        _copy(demand.turn_back),
        _copy(demand.least),
        _copy(demand.greatest),
        demand.depends_on_base_width,
        demand.splice,
    )


def _copy(length: Length | None) -> Length | None:
    return None if length is None else Length(length.nanometres)


# --- what a layout must be, whatever the style ---


def _wrong_with(layout: object, demand: LayoutDemand, *, in_series: bool) -> str:
    if type(layout) is not Layout:
        return f"it returned {type(layout).__name__}; it must return a Layout"
    for field in ("turn_back", "spacing", "end_distance"):
        length = getattr(layout, field)
        absent = _is(length, Absent) and _is(length.what, str) and _is(length.reason, str)
        if not absent and not _is_length(length, 0 if field == "end_distance" else 1):
            return f"its {field} is neither a Length above zero in whole nanometres nor Absent with a reason"
    if not _is(layout.clips, tuple) or not all(_is(clip, PlacedClip) for clip in layout.clips):
        return "its clips are no tuple of PlacedClip"
    if not _is(layout.lengthened, bool):
        return "lengthened is neither True nor False"
    return _wrong_with_clips(layout, demand, in_series=in_series) if layout.clips else ""


def _wrong_with_clips(layout: Layout, demand: LayoutDemand, *, in_series: bool) -> str:
    wanted = demand.count * (2 if demand.splice else 1) if in_series else 1
    if len(layout.clips) != wanted:
        return f"it placed {len(layout.clips)} clips where {wanted} were asked for"
    for number, clip in enumerate(layout.clips, 1):
        places = (clip.near_edge, clip.position, clip.far_edge)
        if not _is(clip.number, int) or clip.number != number:
            return f"its clips are not numbered from 1 at the dead end: number {number} is missing"
        if not all(_is_length(place, 0) for place in places):
            return f"a place of clip {number} is no Length from the dead end on, in whole nanometres"
        if not _is(clip.saddle_on, str) or clip.saddle_on not in _SADDLES:
            return f"the saddle of clip {number} is on none of " + ", ".join(sorted(_SADDLES))
        if not clip.near_edge <= clip.position <= clip.far_edge or clip.near_edge == clip.far_edge:
            return f"the centre of clip {number} is not between its edges"
    if any(after.near_edge <= clip.near_edge for clip, after in pairwise(layout.clips)):
        return "its clips do not stand in order from the dead end"
    if isinstance(layout.turn_back, Length) and layout.clips[-1].far_edge > layout.turn_back:
        return "its last clip stands beyond the base of the eye"
    return ""


def _is(found: object, kind: type) -> bool:
    return type(found) is kind


def _is_length(found: object, least: int = 1) -> bool:
    return type(found) is Length and type(found.nanometres) is int and found.nanometres >= least
