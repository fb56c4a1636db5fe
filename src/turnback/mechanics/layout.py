"""Where the clips sit and how much rope it takes, one equation a function.

A position is measured along the dead part from the dead end towards the eye; in a lap splice, from one dead end towards
the other. b is the base width of a clip (its saddle's length along the rope), s the spacing of the clips from centre to
centre, n their number, T the turn-back.

Every formula is linear and exact for exact numbers: whole nanometres as ``int`` where nothing is divided; where
something is, the length that is divided as ``Fraction`` (an ``int`` divided by an ``int`` is a float). Floats and
arrays do as well. All lengths share one unit, written [mm] here. Nothing is checked or rounded.
"""

from __future__ import annotations

from typing import TypeVar

from turnback.mechanics.functions import Divisible, Number

__all__ = [
    "clear_gap",
    "cut_length",
    "far_edge",
    "near_edge",
    "on_live_part",
    "overlap_for_spacing",
    "saddle_centre",
    "spacing_in_overlap",
    "spacing_in_turn_back",
    "strip_length_one_run",
    "turn_back_for_spacing",
    "turn_back_in_proportion",
]

D = TypeVar("D", bound=Divisible)
N = TypeVar("N", bound=Number)


def turn_back_for_spacing(b: N, n: N | int, s: N) -> N:
    """Turn-back that holds n clips at a spacing.

    One base width beyond the first clip, the clips, and the last saddle's edge at the base of the eye.

    Args:
        b: Base width of a clip [mm].
        n: Number of clips [-].
        s: Spacing from centre to centre [mm].

    Returns:
        Turn-back T [mm].
    """
    return 2 * b + (n - 1) * s


def spacing_in_turn_back(turn_back: D, b: D | int, n: D | int) -> D:
    """Spacing of n clips set evenly in a turn-back.

    The inverse of ``turn_back_for_spacing``.

    Args:
        turn_back: Turn-back T [mm].
        b: Base width of a clip [mm].
        n: Number of clips, two or more: one clip has no spacing [-].

    Returns:
        Spacing from centre to centre [mm].
    """
    return (turn_back - 2 * b) / (n - 1)


def overlap_for_spacing(b: N, total: N | int, s: N) -> N:
    """Overlap of a lap splice that holds all its clips at a spacing.

    As a turn-back, with one base width beyond the clips at the second dead end too.

    Args:
        b: Base width of a clip [mm].
        total: Number of clips in the splice [-].
        s: Spacing from centre to centre [mm].

    Returns:
        Overlap [mm].
    """
    return 3 * b + (total - 1) * s


def spacing_in_overlap(overlap: D, b: D | int, total: D | int) -> D:
    """Spacing of clips set evenly in the overlap of a lap splice.

    The inverse of ``overlap_for_spacing``.

    Args:
        overlap: Overlap [mm].
        b: Base width of a clip [mm].
        total: Number of clips in the splice, two or more [-].

    Returns:
        Spacing from centre to centre [mm].
    """
    return (overlap - 3 * b) / (total - 1)


def near_edge(i: N | int, b: N, s: N | int) -> N:
    """Position of the edge of a saddle that is nearer to the dead end.

    The first saddle stands one base width from the dead end.

    Args:
        i: Clips between this one and the dead end: 0 for the first [-].
        b: Base width of a clip [mm].
        s: Spacing from centre to centre [mm].

    Returns:
        Position [mm].
    """
    return b + i * s


def saddle_centre(i: D | int, b: D, s: D | int) -> D:
    """Position of the centre of a saddle.

    Half a base width beyond its near edge: 1.5 b for the first.

    Args:
        i: Clips between this one and the dead end: 0 for the first [-].
        b: Base width of a clip [mm].
        s: Spacing from centre to centre [mm].

    Returns:
        Position [mm].
    """
    return near_edge(i, b, s) + b / 2


def far_edge(i: N | int, b: N, s: N | int) -> N:
    """Position of the edge of a saddle that is farther from the dead end.

    One base width beyond its near edge.

    Args:
        i: Clips between this one and the dead end: 0 for the first [-].
        b: Base width of a clip [mm].
        s: Spacing from centre to centre [mm].

    Returns:
        Position [mm].
    """
    return near_edge(i, b, s) + b


def clear_gap(b: N, s: N) -> N:
    """Clear distance between two neighbouring saddles.

    The spacing less one base width. Add b to a clear distance that a source prints to have it from centre to centre.

    Args:
        b: Base width of a clip [mm].
        s: Spacing from centre to centre [mm].

    Returns:
        Distance [mm].
    """
    return s - b


def turn_back_in_proportion(turn_back: D, count: D | int, printed_count: D | int) -> D:
    """Turn-back for another number of clips than the one printed beside it.

    In proportion to the number of clips.

    Args:
        turn_back: Printed turn-back [mm].
        count: Number of clips used [-].
        printed_count: Number of clips printed beside the turn-back [-].

    Returns:
        Turn-back T [mm].
    """
    return turn_back * count / printed_count


def strip_length_one_run(turn_back: N, rope_in_eye: N) -> N:
    """Length to strip of a coated rope, in one run from the dead end.

    The dead part, the eye, and as much of the live part as the clips grip.

    Args:
        turn_back: Turn-back T [mm].
        rope_in_eye: Rope in the eye [mm].

    Returns:
        Length [mm].
    """
    return 2 * turn_back + rope_in_eye


def on_live_part(position: N, turn_back: N, rope_in_eye: N) -> N:
    """Place on the live part that lies beside a position on the dead part, measured along the rope from the dead end.

    Out to the base of the eye, round the eye, and back. Position 0 is where the dead end comes to lie.

    Args:
        position: Position on the dead part, from the dead end [mm].
        turn_back: Turn-back T [mm].
        rope_in_eye: Rope in the eye [mm].

    Returns:
        Length along the rope from the dead end [mm].
    """
    return 2 * turn_back + rope_in_eye - position


def cut_length(span: N, reach_a: N, reach_b: N, eye_a: N, eye_b: N, turn_back_a: N, turn_back_b: N) -> N:
    """Length of rope to cut for a span between the bearing points of two eyes.

    The straight part between the two bases, both eyes, both turn-backs. Nothing is added for trim, stretch, take-up or
    remaking.

    Args:
        span: Distance between the bearing points [mm].
        reach_a: Distance from base to bearing point at the first end [mm].
        reach_b: The same at the second end [mm].
        eye_a: Rope in the eye at the first end [mm].
        eye_b: The same at the second end [mm].
        turn_back_a: Turn-back at the first end [mm].
        turn_back_b: The same at the second end [mm].

    Returns:
        Length [mm].
    """
    return span - reach_a - reach_b + eye_a + eye_b + turn_back_a + turn_back_b
