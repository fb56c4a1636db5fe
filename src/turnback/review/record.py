"""The record of one joint: who made it with what, what was read on it, and when it is looked at again."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Final

import attrs

from turnback.errors import InputError
from turnback.model.absent import Absent
from turnback.planning.plan import Plan
from turnback.quantities import Force, Length, LengthLike
from turnback.review.as_built import AsBuilt
from turnback.review.inspection import Inspection, inspect
from turnback.review.readings import label, length, whole, written_day
from turnback.review.remake import remake_length
from turnback.review.upkeep import Due, Interval, due, torque_times

__all__ = ["Record"]

_MOST_CERTIFICATES: Final = 100


@attrs.frozen(init=False)
class Record:
    """The record of one joint. Everything but the joint's id may be left out.

    People are named by a role or a number of your own, as your rules on personal data ask.

    Args:
        joint_id: What the joint is called.
        plan: Its plan.
        as_built: What was read on it.
        made_by: Who made it.
        checked_by: Who checked it.
        competent_person: The competent person who took it over.
        wrench_id: Which torque wrench.
        wrench_calibrated_until: Until when its calibration holds.
        rope_certificate: Number of the rope's certificate.
        clip_certificates: Numbers of the clips' certificates.
        made_on: The day on which it was made.
        first_load_on: The day of its first load.
        last_torque_check: The day on which every clip was last torqued.
        last_inspection: The day on which it was last inspected.
        torque_interval: From one torque check to the next, with its reason.
        inspection_interval: From one inspection to the next, with its reason.
        remakes: How often it has been made again [-].
        rope_left: Rope that is left for making it again [length]; ``"none"`` where there is none.

    Raises:
        InputError: A value cannot be read, or dates are out of order.
    """

    joint_id: str
    plan: Plan | None
    as_built: AsBuilt | None
    made_by: str
    checked_by: str
    competent_person: str
    wrench_id: str
    wrench_calibrated_until: datetime.date | None
    rope_certificate: str
    clip_certificates: tuple[str, ...]
    made_on: datetime.date | None
    first_load_on: datetime.date | None
    last_torque_check: datetime.date | None
    last_inspection: datetime.date | None
    torque_interval: Interval | None
    inspection_interval: Interval | None
    remakes: int | None
    rope_left: Length | None

    def __init__(
        self,
        joint_id: str,
        plan: Plan | None = None,
        as_built: AsBuilt | None = None,
        made_by: str = "",
        checked_by: str = "",
        competent_person: str = "",
        wrench_id: str = "",
        wrench_calibrated_until: datetime.date | str | None = None,
        rope_certificate: str = "",
        clip_certificates: Sequence[str] = (),
        made_on: datetime.date | str | None = None,
        first_load_on: datetime.date | str | None = None,
        last_torque_check: datetime.date | str | None = None,
        last_inspection: datetime.date | str | None = None,
        torque_interval: Interval | None = None,
        inspection_interval: Interval | None = None,
        remakes: int | None = None,
        rope_left: LengthLike | None = None,
    ) -> None:
        self.__attrs_init__(
            label(joint_id, "joint_id"),
            plan,
            as_built,
            label(made_by, "made_by"),
            label(checked_by, "checked_by"),
            label(competent_person, "competent_person"),
            label(wrench_id, "wrench_id"),
            written_day(wrench_calibrated_until, "wrench_calibrated_until"),
            label(rope_certificate, "rope_certificate"),
            _certificates(clip_certificates),
            written_day(made_on, "made_on"),
            written_day(first_load_on, "first_load_on"),
            written_day(last_torque_check, "last_torque_check"),
            written_day(last_inspection, "last_inspection"),
            torque_interval,
            inspection_interval,
            whole(remakes, "remakes"),
            Length(0) if rope_left in ("none", Length(0)) else length(rope_left, "rope_left"),
        )

    def __attrs_post_init__(self) -> None:
        if not self.joint_id:
            raise InputError("a record is the record of a joint", field="joint_id", instead="Name or number the joint.")
        for name, kind in (
            ("plan", Plan),
            ("as_built", AsBuilt),
            ("torque_interval", Interval),
            ("inspection_interval", Interval),
        ):
            value = getattr(self, name)
            if value is not None and not isinstance(value, kind):
                raise InputError(f"this is no {kind.__name__}", field=name, value=repr(value)[:80])
        for earlier, later in (
            ("made_on", "first_load_on"),
            ("made_on", "last_torque_check"),
            ("made_on", "last_inspection"),
        ):
            one, other = getattr(self, earlier), getattr(self, later)
            if one is not None and other is not None and other < one:
                raise InputError(
                    "this day is before the joint was made",
                    field=later,
                    value=other.isoformat(),
                    bound=f"not before {one.isoformat()}",
                    instead="Correct the one or the other; a joint that was made again has the day of its last making.",
                )

    @property
    def first_load(self) -> Force | None:
        """The first load as read on the joint [force]."""
        return None if self.as_built is None else self.as_built.first_load

    @property
    def inspection(self) -> Inspection | Absent:
        """The readings against the plan; absent with the reason where either is missing."""
        if self.plan is None or self.as_built is None:
            return Absent("inspection", "the record has no plan" if self.plan is None else "the record has no readings")
        return inspect(self.plan, self.as_built)

    @property
    def next_torque_check(self) -> Due:
        """When every clip is torqued again: at each shift where the service asks for it, else after the interval."""
        return self._due("torque check", self.last_torque_check, self.torque_interval)

    @property
    def next_inspection(self) -> Due:
        """When the joint is inspected again: at each shift where the service asks for it, else after the interval."""
        return self._due("inspection", self.last_inspection, self.inspection_interval)

    def _due(self, what: str, last: datetime.date | None, interval: Interval | None) -> Due:
        times = torque_times(self.plan) if self.plan is not None else ()
        shift = next((each for each in times if each.value == "each shift"), None)
        return due(what, last, interval, shift)

    @property
    def remake_length(self) -> Length | Absent:
        """Rope that is cut off each time the joint is made again [length]; absent with the reason."""
        if self.plan is None:
            return Absent("remake_length", "the record has no plan")
        return remake_length(self.plan, None if self.as_built is None else self.as_built.turn_back)

    @property
    def remakes_left(self) -> int | Absent:
        """How often the rope that is left lets the joint be made again [-]; absent with the reason."""
        each = self.remake_length
        if isinstance(each, Absent):
            return Absent("remakes_left", each.reason)
        if self.rope_left is None:
            return Absent("remakes_left", "the rope left for making it again was not given")
        return self.rope_left.nanometres // each.nanometres


def _certificates(given: object) -> tuple[str, ...]:
    if not isinstance(given, (list, tuple)) or len(given) > _MOST_CERTIFICATES:
        raise InputError(
            "certificates are a list",
            field="clip_certificates",
            value=repr(given)[:80],
            bound=f"at most {_MOST_CERTIFICATES}",
            instead="Write ['clip certificate 3'].",
        )
    return tuple(label(one, f"clip_certificates[{i}]") for i, one in enumerate(given))
