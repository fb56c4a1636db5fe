"""A joint as it was made: what was counted, measured and seen on it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, Literal, TypeAlias

import attrs

from turnback.errors import InputError
from turnback.quantities import Force, ForceLike, Length, LengthLike, Torque
from turnback.review.readings import each, flag, known_word, label, length, slip, whole
from turnback.review.rope_state import RopeState
from turnback.review.tolerances import Tolerances
from turnback.review.torque_pass import PASSES, TorquePass

__all__ = ["AsBuilt", "LengthReadings", "SaddleFound", "Slip", "SlipReadings"]

SaddleFound = Literal["live part", "dead part", "both parts", "rope A", "rope B"]
"""What a saddle was found on. In a lap splice rope A is the one whose dead end is the datum of the positions."""
Slip: TypeAlias = Length | bool
"""What a witness mark shows: False for no slip, True for a slip that was not measured, or how far."""
LengthReadings: TypeAlias = Sequence[LengthLike | None] | LengthLike | None
SlipReadings: TypeAlias = Sequence[LengthLike | bool | None] | LengthLike | bool | None

_SADDLES: Final[dict[str, SaddleFound]] = {
    "live part": "live part",
    "dead part": "dead part",
    "both parts": "both parts",
    "rope A": "rope A",
    "rope B": "rope B",
    "live": "live part",
    "dead": "dead part",
    "both": "both parts",
}
_THREADS: Final = {"dry": "dry", "greased": "greased"}


@attrs.frozen(init=False)
class AsBuilt:
    """A joint as it was made. Everything may be left out; what is left out is still to be measured.

    Clips are counted from the dead end, and positions are measured from there along the dead part. Readings that come
    one for each clip are lists, None for a clip that was not measured; one reading alone stands for every clip.
    Of linked eyes it is the first eye, and ``other_eye`` the second.

    Args:
        plan_id: Id of the plan that the joint was made to (:func:`~turnback.review.identity.plan_id`); empty
            when unknown.
        clip_count: Clips counted [-].
        clip_size: Size of the clips [length].
        sizes_mixed: Whether clips of different sizes stand on the joint.
        makes_mixed: Whether clips of different makes or styles do.
        base_width: Length of one saddle (or plate body) along the rope [length].
        near_edges: Edge of each saddle nearer the dead end [length].
        centres: Middle of each saddle [length]; instead of ``near_edges``.
        saddles: What each saddle bears on: ``live part`` or ``dead part``; ``rope A`` or ``rope B`` in a lap splice.
        passes: Each time round with the wrench, in the order of time.
        threads: Condition of the threads: ``dry`` or ``greased``.
        dead_end: From the dead end to the near edge of the first clip [length].
        turn_back: From the base of the eye to the dead end; in a lap splice the overlap [length].
        thimble: Whether a thimble lies in the eye.
        carried_load: Whether the joint has carried load, the first load among it.
        first_load_applied: Whether the first load was put on.
        first_load: How much it was [force].
        expected_load: The load expected in service, where the plan does not say [force].
        working_load: The working load, where somebody competent states one [force].
        working_load_reason: Who states it; needed with ``working_load``.
        slips: What the witness mark at each clip shows: ``none``, ``slipped`` or how far [length].
        rope: The state of the rope.
        tolerances: Of the tape and of the wrench, each with its reason; none by default.
        other_eye: The second of two linked eyes.

    Raises:
        InputError: A value cannot be read, there are more readings than clips, positions are not in order, or two
            statements contradict each other.
    """

    plan_id: str
    clip_count: int | None
    clip_size: Length | None
    sizes_mixed: bool | None
    makes_mixed: bool | None
    base_width: Length | None
    near_edges: tuple[Length | None, ...]
    centres: tuple[Length | None, ...]
    saddles: tuple[SaddleFound | None, ...]
    passes: tuple[TorquePass, ...]
    threads: str
    dead_end: Length | None
    turn_back: Length | None
    thimble: bool | None
    carried_load: bool | None
    first_load_applied: bool | None
    first_load: Force | None
    expected_load: Force | None
    working_load: Force | None
    working_load_reason: str
    slips: tuple[Slip | None, ...]
    rope: RopeState
    tolerances: Tolerances
    other_eye: AsBuilt | None

    def __init__(
        self,
        plan_id: str = "",
        clip_count: int | None = None,
        clip_size: LengthLike | None = None,
        sizes_mixed: bool | None = None,
        makes_mixed: bool | None = None,
        base_width: LengthLike | None = None,
        near_edges: LengthReadings = None,
        centres: LengthReadings = None,
        saddles: Sequence[str | None] | str | None = None,
        passes: Sequence[TorquePass] = (),
        threads: str | None = None,
        dead_end: LengthLike | None = None,
        turn_back: LengthLike | None = None,
        thimble: bool | None = None,
        carried_load: bool | None = None,
        first_load_applied: bool | None = None,
        first_load: ForceLike | None = None,
        expected_load: ForceLike | None = None,
        working_load: ForceLike | None = None,
        working_load_reason: str = "",
        slips: SlipReadings = None,
        rope: RopeState | None = None,
        tolerances: Tolerances | None = None,
        other_eye: AsBuilt | None = None,
    ) -> None:
        count = whole(clip_count, "clip_count")
        self.__attrs_init__(
            label(plan_id, "plan_id"),
            count,
            length(clip_size, "clip_size"),
            flag(sizes_mixed, "sizes_mixed"),
            flag(makes_mixed, "makes_mixed"),
            length(base_width, "base_width"),
            each(near_edges, "near_edges", length, count),
            each(centres, "centres", length, count),
            each(saddles, "saddles", _saddle, count),
            _kept(passes, TorquePass, "passes"),
            known_word(threads or None, "threads", _THREADS) or "",
            length(dead_end, "dead_end"),
            length(turn_back, "turn_back"),
            flag(thimble, "thimble"),
            flag(carried_load, "carried_load"),
            flag(first_load_applied, "first_load_applied"),
            None if first_load is None else Force.of(first_load, "first_load"),
            None if expected_load is None else Force.of(expected_load, "expected_load"),
            None if working_load is None else Force.of(working_load, "working_load"),
            label(working_load_reason, "working_load_reason"),
            each(slips, "slips", slip, count),
            RopeState() if rope is None else rope,
            Tolerances() if tolerances is None else tolerances,
            other_eye,
        )

    def __attrs_post_init__(self) -> None:
        _of_type(self.rope, RopeState, "rope")
        _of_type(self.tolerances, Tolerances, "tolerances")
        if self.other_eye is not None:
            _of_type(self.other_eye, AsBuilt, "other_eye")
            _agree(self.other_eye.other_eye is None, "other_eye.other_eye", "there are two linked eyes and no third")
        both = bool(self.near_edges) and bool(self.centres)
        _agree(not both, "centres", "a clip has one place", "Give near_edges or centres, not both.")
        for name in ("near_edges", "centres"):
            _in_order(name, getattr(self, name))
        self._check_passes()
        self._check_loads()

    def _check_passes(self) -> None:
        order = [PASSES.index(one.at) for one in self.passes]
        early = "Write them down in this order: " + ", ".join(PASSES) + "."
        _agree(order == sorted(order), "passes", "the passes are not in the order of time", early)
        for i, one in enumerate(self.passes):
            fits = self.clip_count is None or one.clips <= self.clip_count
            bound = f"{self.clip_count} clips"
            _agree(fits, f"passes[{i}]", "there are more readings than clips", "Count the clips again.", bound)

    def _check_loads(self) -> None:
        loaded = self.first_load_applied or self.first_load is not None
        later = any(PASSES.index(one.at) > PASSES.index("before first use") for one in self.passes)
        says_no = self.first_load_applied is False
        _agree(
            not (says_no and (self.first_load is not None or later)),
            "first_load_applied",
            "it says that there was no first load, and another field says that there was",
            "Correct the one or the other.",
        )
        _agree(
            not (self.carried_load is False and loaded),
            "carried_load",
            "a joint that has had its first load has carried load",
            "Correct the one or the other.",
        )
        _agree(
            (self.working_load is None) == (not self.working_load_reason),
            "working_load_reason",
            "a working load of your own goes with who states it, and who with a load",
            "Name the competent person's role or the document.",
        )

    @property
    def loaded(self) -> bool | None:
        """Whether the joint has carried load, as far as anything here says so."""
        if self.carried_load is not None:
            return self.carried_load
        later = any(PASSES.index(one.at) > PASSES.index("before first use") for one in self.passes)
        if self.first_load_applied or self.first_load is not None or later:
            return True
        return False if self.first_load_applied is False else None

    @property
    def highest_clip(self) -> int:
        """Number of the last clip that has a reading [-]; 0 where none has one."""
        lists = (self.near_edges, self.centres, self.saddles, self.slips)
        return max([0, *(len(one) for one in lists), *(one.clips for one in self.passes)])

    def last_torque(self, clip: int) -> Torque | None:
        """Return the torque that a clip has now, as far as it was read.

        Args:
            clip: Its number from 1 at the dead end [-].

        Returns:
            As it was left, or else found, the last time round that has a reading of it.
        """
        for one in reversed(self.passes):
            reading = one.left(clip) or one.found(clip)
            if reading is not None:
                return reading
        return None


def _saddle(value: object, field: str) -> SaddleFound | None:
    return known_word(value, field, _SADDLES)


def _agree(held: bool, field: str, problem: str, instead: str = "", bound: str = "") -> None:
    if not held:
        raise InputError(problem, field=field, bound=bound, instead=instead)


def _of_type(value: object, kind: type, field: str) -> None:
    if not isinstance(value, kind):
        raise InputError(
            f"this is no {kind.__name__}",
            field=field,
            value=repr(value)[:80],
            instead=f"Make one with {kind.__name__}(...), or leave it out.",
        )


def _kept(values: Sequence[TorquePass], kind: type, field: str) -> tuple[TorquePass, ...]:
    if not isinstance(values, (list, tuple)):
        raise InputError("passes are a list", field=field, value=repr(values)[:80], instead="Write [TorquePass(...)].")
    for i, value in enumerate(values):
        _of_type(value, kind, f"{field}[{i}]")
    return tuple(values)


def _in_order(field: str, positions: tuple[Length | None, ...]) -> None:
    known = [(i, position) for i, position in enumerate(positions) if position is not None]
    for (_, one), (i, after) in pairwise(known):
        if after <= one:
            raise InputError(
                "clips are written in order from the dead end, and no two stand at one place",
                field=f"{field}[{i}]",
                value=str(after),
                bound=f"more than {one}",
                instead="Measure every position from the dead end, the first clip first.",
            )
