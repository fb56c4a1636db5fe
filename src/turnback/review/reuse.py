"""Whether a clip that has been used may be used again."""

from __future__ import annotations

from typing import Final, Literal

import attrs

from turnback.model.sources import Citation
from turnback.planning.cautions import practice
from turnback.review.readings import flag

__all__ = ["ClipReason", "ClipVerdict", "inspect_clip"]

ClipAnswer = Literal["keep", "discard", "measure first"]

_QUESTIONS: Final = (
    ("drops_in", "fit", "the U-bolt (or bolts) drops into the saddle without force", "has to be forced: it is bent"),
    ("threads_sound", "threads", "the threads are sound", "the threads are worn, stripped or crossed"),
    ("nuts_run_freely", "nuts", "the nuts run freely by hand", "the nuts do not run freely"),
    ("ridges_unworn", "ridges", "the ridges of the saddle are not worn", "the ridges of the saddle are worn"),
    ("ridges_ungouged", "gouges", "the ridges of the saddle are not gouged", "the ridges of the saddle are gouged"),
    ("uncorroded", "corrosion", "the clip is free of corrosion", "the clip is corroded"),
    ("takes_torque", "torque", "the clip takes its full torque", "the clip does not take its full torque"),
)


@attrs.frozen
class ClipReason:
    """One reason why a clip is not simply kept.

    Args:
        code: Stable name: ``clip-`` and the item, such as ``clip-threads``.
        item: What it is about: ``fit``, ``threads``, ``nuts``, ``ridges``, ``gouges``, ``corrosion`` or ``torque``.
        answer: ``discard`` or ``measure first``.
        text: What is wrong with it, or what nobody has looked at.
        citation: Who says so.
    """

    code: str
    item: str
    answer: ClipAnswer
    text: str
    citation: Citation

    def __str__(self) -> str:
        return f"{self.answer}: {self.text} [{self.citation}]"


@attrs.frozen
class ClipVerdict:
    """Whether a clip may be used again. :func:`inspect_clip` makes it.

    Args:
        answer: ``keep``, ``discard`` or ``measure first``.
        reasons: Every reason, those to discard first; empty for ``keep``.
    """

    answer: ClipAnswer
    reasons: tuple[ClipReason, ...]

    def __str__(self) -> str:
        return "\n".join([self.answer, *(f"  {reason}" for reason in self.reasons)])


def inspect_clip(
    *,
    drops_in: bool | None = None,
    threads_sound: bool | None = None,
    nuts_run_freely: bool | None = None,
    ridges_unworn: bool | None = None,
    ridges_ungouged: bool | None = None,
    uncorroded: bool | None = None,
    takes_torque: bool | None = None,
) -> ClipVerdict:
    """Say whether a clip that has been used may be used again.

    Every question is put so that True is good; None where nobody has looked yet.

    Args:
        drops_in: The U-bolt (or the bolts of another style) drops into the saddle without force.
        threads_sound: The threads are sound.
        nuts_run_freely: The nuts run freely by hand.
        ridges_unworn: The ridges of the saddle are not worn.
        ridges_ungouged: The ridges of the saddle are not gouged.
        uncorroded: The clip is free of corrosion.
        takes_torque: The clip takes its full torque, on a rope of its size.

    Returns:
        ``discard`` where any answer is no, else ``measure first`` where any is missing, else ``keep``. The clip maker's
        instructions and a competent person stand above it.

    Raises:
        InputError: An answer is neither True, False nor None.

    Source: common practice; no document at hand prints it.
    """
    answers = (drops_in, threads_sound, nuts_run_freely, ridges_unworn, ridges_ungouged, uncorroded, takes_torque)
    reasons: list[ClipReason] = []
    for (field, item, good, bad), given in zip(_QUESTIONS, answers, strict=True):
        answer = flag(given, field)
        if answer is True:
            continue
        verdict: ClipAnswer = "discard" if answer is False else "measure first"
        text = f"{item}: {bad}" if answer is False else f"{item}: nobody has looked whether {good}"
        cited = practice(
            "clips may be used again if the U-bolt drops in, threads, nuts and ridges are good, and it takes "
            "its full torque"
            if item != "corrosion"
            else "a corroded clip is not used again"
        )
        reasons.append(ClipReason(f"clip-{item}", item, verdict, text, cited))
    reasons.sort(key=lambda reason: reason.answer)
    return ClipVerdict(reasons[0].answer if reasons else "keep", tuple(reasons))
