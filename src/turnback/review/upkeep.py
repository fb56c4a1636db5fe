"""When a joint is looked at and torqued again: what sources and service say, and intervals of the user's own."""

from __future__ import annotations

import calendar
import datetime
from typing import Final, Literal, get_args

import attrs

from turnback.errors import InputError
from turnback.model.cited import Cited
from turnback.model.sources import Citation, user_citation
from turnback.planning.plan import Plan
from turnback.review.readings import label

__all__ = ["Due", "Interval", "IntervalUnit", "due", "torque_times"]

IntervalUnit = Literal["days", "weeks", "months", "years"]
_UNITS: Final[tuple[IntervalUnit, ...]] = get_args(IntervalUnit)
_MOST: Final = 1000


def torque_times(plan: Plan) -> tuple[Cited[str], ...]:
    """List when the clips of a plan are torqued again.

    Args:
        plan: The plan.

    Returns:
        ``before first use``, ``after the first load``, ``at intervals`` or ``each shift``, each once, with who asks for
        it: the rule sets first, then the service.
    """
    found: dict[str, tuple[Citation, ...]] = {}
    for member in plan.members:
        said = member.rules.procedure
        for word in said.retorque:
            found[word] = (*found.get(word, ()), said.retorque_citation or member.rules.citation)
    for each in plan.service.retorque:
        found[each.value] = (*found.get(each.value, ()), *each.citations)
    return tuple(Cited(word, tuple(dict.fromkeys(citations))) for word, citations in found.items())


@attrs.frozen(init=False)
class Interval:
    """An interval between two checks, with its reason. No source here prints one, so none stands by default.

    Args:
        text: Such as ``"30 days"``, ``"2 weeks"``, ``"3 months"`` or ``"1 year"``.
        reason: Who asks for it.

    Raises:
        InputError: The text is no interval, or there is no reason.
    """

    number: int
    unit: IntervalUnit
    reason: str

    def __init__(self, text: str, reason: str) -> None:
        number, unit = _read(text)
        self.__attrs_init__(number, unit, label(reason, "interval.reason"))

    def __attrs_post_init__(self) -> None:
        if not self.reason:
            raise InputError(
                "an interval needs the reason for it",
                field="interval.reason",
                instead="Say who asks for it: the plant's rules, the insurer, the clip maker's sheet.",
            )

    def after(self, day: datetime.date) -> datetime.date:
        """Return the day on which the interval ends.

        Args:
            day: The day on which it begins.

        Returns:
            Days and weeks are counted; months and years keep the day of the month, or take the month's last.

        Raises:
            InputError: There is no such date in the calendar.
        """
        try:
            if self.unit in ("days", "weeks"):
                return day + datetime.timedelta(days=self.number * (7 if self.unit == "weeks" else 1))
            months = day.month - 1 + self.number * (12 if self.unit == "years" else 1)
            year, month = day.year + months // 12, months % 12 + 1
            return datetime.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
        except (ValueError, OverflowError) as error:
            raise InputError("the calendar ends before this", field="interval", value=str(self)) from error

    @property
    def text(self) -> str:
        """The interval as it is written."""
        return f"{self.number} {self.unit[:-1] if self.number == 1 else self.unit}"

    def __str__(self) -> str:
        return f"{self.text} ({self.reason})"


@attrs.frozen
class Due:
    """When something is due.

    Args:
        on: The day; None where it is no day of the calendar, or cannot be told.
        words: When, in words: the day, ``at the start of each shift``, or why it cannot be told.
        citations: Who asks for it; empty where nobody does.
    """

    on: datetime.date | None
    words: str
    citations: tuple[Citation, ...] = ()

    def overdue(self, today: datetime.date) -> bool | None:
        """Tell whether it is overdue.

        Args:
            today: The day on which this is asked.

        Returns:
            True after the day, False up to it, None where there is no day.
        """
        return None if self.on is None else today > self.on

    def __str__(self) -> str:
        return self.words


def due(what: str, last: datetime.date | None, interval: Interval | None, shift: Cited[str] | None) -> Due:
    """Say when a check is due.

    Args:
        what: The check, in words.
        last: The day of the last one; None where there was none.
        interval: The interval; None where none was given.
        shift: Who asks for it at each shift; None where nobody does.

    Returns:
        At each shift where that is asked for, for no interval is shorter; else the day.
    """
    if shift is not None:
        return Due(None, "at the start of each shift", shift.citations)
    if interval is None:
        return Due(None, f"not known: give the interval of the {what} with its reason")
    if last is None:
        return Due(None, f"not known: give the day of the last {what}", (user_citation(interval.reason),))
    day = interval.after(last)
    return Due(day, f"{day.isoformat()}, {interval.text} after {last.isoformat()}", (user_citation(interval.reason),))


def _read(text: str) -> tuple[int, IntervalUnit]:
    parts = str(text)[:21].split(" ")
    if len(parts) == 2 and parts[0].isdecimal() and parts[0].isascii() and 1 <= int(parts[0]) <= _MOST:
        for unit in _UNITS:
            if parts[1] in (unit, unit[:-1]):
                return int(parts[0]), unit
    raise InputError(
        "this is no interval",
        field="interval",
        value=repr(text)[:80],
        bound=f"1 to {_MOST} " + ", ".join(_UNITS),
        instead="Write it as '30 days', '2 weeks', '3 months' or '1 year'.",
    )
