"""By how much the user's own tape and wrench may be off. None of it is ours, and none stands by default."""

from __future__ import annotations

from fractions import Fraction

import attrs

from turnback.errors import InputError
from turnback.model.sources import Citation, user_citation
from turnback.quantities import Length, LengthLike, percent_text
from turnback.review.readings import label, length, share
from turnback.rules.admission import Margin

__all__ = ["Tolerances"]


@attrs.frozen(init=False)
class Tolerances:
    """The tolerances of the tape and of the wrench, each with its reason.

    A measured length, or a distance between two of them, passes where it misses its bound by no more than the tape's;
    a torque where it misses the printed one by no more than the wrench's.

    Args:
        tape: Tolerance of a measured length [length]; None for none.
        tape_reason: Who says so, such as the class of the tape; needed with ``tape``.
        wrench: Tolerance of a torque, as a share of the printed one, such as ``"4 %"`` [-]; None for none.
        wrench_reason: Who says so, such as the wrench's calibration sheet; needed with ``wrench``.

    Raises:
        InputError: A value cannot be read, a tolerance has no reason, or a reason has no tolerance.
    """

    tape: Length | None
    tape_reason: str
    wrench: Fraction | None
    wrench_reason: str

    def __init__(
        self,
        tape: LengthLike | None = None,
        tape_reason: str = "",
        wrench: str | Fraction | None = None,
        wrench_reason: str = "",
    ) -> None:
        self.__attrs_init__(
            length(tape, "tolerances.tape"),
            label(tape_reason, "tolerances.tape_reason"),
            share(wrench, "tolerances.wrench"),
            label(wrench_reason, "tolerances.wrench_reason"),
        )

    def __attrs_post_init__(self) -> None:
        for name in ("tape", "wrench"):
            if (getattr(self, name) is None) != (not getattr(self, f"{name}_reason")):
                raise InputError(
                    "a tolerance goes with the reason for it, and the reason with a tolerance",
                    field=f"tolerances.{name}_reason",
                    value=repr(getattr(self, f"{name}_reason")),
                    instead="Say who states it: the class of the tape, the calibration sheet of the wrench.",
                )

    @property
    def margin(self) -> Margin:
        """The same for the checker of rule sets."""
        return Margin(self.tape or Length(0), self.wrench or Fraction(0))

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Who states them."""
        return tuple(user_citation(reason) for reason in (self.tape_reason, self.wrench_reason) if reason)

    def __str__(self) -> str:
        parts = [f"tape {self.tape} ({self.tape_reason})"] if self.tape is not None else []
        parts += [f"wrench {percent_text(self.wrench)} ({self.wrench_reason})"] if self.wrench is not None else []
        return ", ".join(parts) or "none"
