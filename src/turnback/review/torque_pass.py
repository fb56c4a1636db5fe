"""Once round with the wrench: the torque of every clip as it was found and as it was left."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Final, Literal, TypeAlias, get_args

import attrs

from turnback.errors import InputError
from turnback.quantities import Torque, TorqueLike
from turnback.review.readings import each, known_word, torque, written_day

__all__ = ["PASSES", "PassName", "TorquePass", "TorqueReadings"]

PassName = Literal["assembly", "before first use", "after the first load", "periodic"]
"""When the wrench went round, in the order of a joint's life."""
PASSES: Final[tuple[PassName, ...]] = get_args(PassName)
_WORDS: Final[dict[str, PassName]] = {
    **{name: name for name in PASSES},
    "after first load": "after the first load",
    "at intervals": "periodic",
    "each shift": "periodic",
}
TorqueReadings: TypeAlias = Sequence[TorqueLike | None] | TorqueLike | None
"""Torques, one for each clip from the dead end, None for one that was not read; or one alone for every clip."""


@attrs.frozen(init=False)
class TorquePass:
    """Once round with the wrench.

    Args:
        at: ``assembly``, ``before first use``, ``after the first load`` or ``periodic``.
        as_found: Torque of each clip before anything was turned, from the dead end; None for one that was not read. One
            reading alone stands for every clip and needs ``clips``.
        as_left: Torque of each clip when the wrench went on to the next, likewise.
        on: The day.
        clips: Clips on the joint [-]; not kept.

    Raises:
        InputError: A word or torque cannot be read, there are more readings than clips, or there is no reading.
    """

    at: PassName
    as_found: tuple[Torque | None, ...]
    as_left: tuple[Torque | None, ...]
    on: datetime.date | None

    def __init__(
        self,
        at: str,
        as_found: TorqueReadings = None,
        as_left: TorqueReadings = None,
        on: datetime.date | str | None = None,
        clips: int | None = None,
    ) -> None:
        name = known_word(at, "at", _WORDS)
        if name is None:
            raise InputError("say when the wrench went round", field="at", bound="one of " + ", ".join(PASSES))
        found = each(as_found, "as_found", torque, clips)
        left = each(as_left, "as_left", torque, clips)
        if not any(reading is not None for reading in (*found, *left)):
            raise InputError(
                "a pass without a reading says nothing",
                field="as_left",
                value="no reading",
                instead="Leave the pass out, or write down at least one torque.",
            )
        self.__attrs_init__(name, found, left, written_day(on, "on"))

    def found(self, clip: int) -> Torque | None:
        """Return the torque of a clip as it was found.

        Args:
            clip: Its number from 1 at the dead end [-].

        Returns:
            The reading, or None.
        """
        return self.as_found[clip - 1] if clip <= len(self.as_found) else None

    def left(self, clip: int) -> Torque | None:
        """Return the torque of a clip as it was left.

        Args:
            clip: Its number from 1 at the dead end [-].

        Returns:
            The reading, or None.
        """
        return self.as_left[clip - 1] if clip <= len(self.as_left) else None

    @property
    def clips(self) -> int:
        """Clips up to the last reading [-]."""
        return max(len(self.as_found), len(self.as_left))
