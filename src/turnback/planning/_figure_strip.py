"""One straight rope of a figure: its scale, what its break lines leave out, and where a mark comes to lie."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import attrs

from turnback.model.absent import Absent
from turnback.planning._figure_sheet import MARGIN, PAGE, Cut, Sheet
from turnback.quantities import Length

if TYPE_CHECKING:
    from turnback.planning.marks import Mark

__all__ = ["STRIP_GAP", "TAIL", "Strip", "fitted_strip", "hidden", "mark_mm", "mark_place"]


TAIL: Final = 56.0
"""Room for the rope beyond the last mark [drawing units]."""


STRIP_GAP: Final = 30.0


@attrs.frozen
class Strip:
    """One rope, straight, from its dead end [mm along it]."""

    marks: tuple[Mark, ...]
    length: float
    unit: float
    cuts: tuple[Cut, ...]

    def x(self, along: float) -> float:
        """Return where a length from the dead end comes to lie, from the left of the page."""
        x = MARGIN + along * self.unit
        for cut in self.cuts:
            if along >= cut.end:
                x += STRIP_GAP - (cut.end - cut.start) * self.unit
            elif along > cut.start:
                x = self.x(cut.start) + STRIP_GAP * (along - cut.start) / (cut.end - cut.start)
        return x


def mark_place(mark: Mark) -> Length:
    """Return where a mark is put: on a graduation of the tape if there is one for it."""
    return mark.position if isinstance(mark.tape, Absent) else mark.tape


def mark_mm(mark: Mark) -> float:
    """Return the same as a number [mm]."""
    return mark_place(mark).nanometres / 1e6


def fitted_strip(sheet: Sheet, marks: tuple[Mark, ...]) -> Strip:
    """Find the scale and the break lines of a strip; clips that the sheet leaves out are left out here too."""
    length = max(mark_mm(mark) for mark in marks)
    turn_back = sheet.lengths.turn_back
    cuts = [cut for cut in sheet.cuts if cut.end <= turn_back]
    whole = next((mark_mm(mark) for mark in marks if mark.code == "dead-end-lies"), None)
    if whole is not None and not sheet.lengths.splice:
        cuts += [Cut(whole - cut.end, whole - cut.start) for cut in reversed(cuts)]
    elif marks[0].along == "rope B":
        cuts = [Cut(turn_back - cut.end, turn_back - cut.start) for cut in cuts]
    cuts += _cut_eye(marks, turn_back)
    cuts.sort()
    room = PAGE - 2 * MARGIN - TAIL - STRIP_GAP * len(cuts)
    unit = room / (length - sum(cut.end - cut.start for cut in cuts))
    return Strip(marks, length, unit, tuple(cuts))


def _cut_eye(marks: tuple[Mark, ...], turn_back: float) -> list[Cut]:
    """Leave most of a long eye out, on both sides of its crown."""
    at = {mark.code: mark_mm(mark) for mark in marks if mark.clip == 0}
    if "crown" not in at or "base-live-side" not in at:
        return []
    crown, live, kept = at["crown"], at["base-live-side"], 0.25 * turn_back
    if live - turn_back < 2 * turn_back:
        return []
    return [Cut(turn_back + kept, crown - kept), Cut(crown + kept, live - kept)]


def hidden(sheet: Sheet, mark: Mark) -> bool:
    """Whether a mark belongs to a clip that a break line leaves out."""
    shown = {clip.number for clip in sheet.shown}
    return mark.clip != 0 and mark.clip not in shown
