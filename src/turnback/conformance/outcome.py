"""What came of one law."""

from __future__ import annotations

from typing import Literal

import attrs

from turnback.conformance.law import Breakage

__all__ = ["STATES", "Outcome", "State"]

State = Literal["passed", "waived", "not applicable", "failed", "blocked", "not reached"]
STATES: tuple[State, ...] = ("passed", "waived", "not applicable", "failed", "blocked", "not reached")


@attrs.frozen
class Outcome:
    """What came of one law.

    Args:
        law: Id of the law.
        state: ``passed``; ``waived``: broken in rows that the file waives, and nowhere else; ``not applicable``;
            ``failed``; ``blocked``: a law that it builds on is broken; ``not reached``: nothing was looked at, which
            counts as a failure.
        strength: ``proved`` over the whole table, or ``searched`` over examples; empty where it was not run.
        amount: Cells proved, or examples searched [-].
        reason: Why it does not apply, is blocked or was not reached; the waivers' reasons where it is waived.
        breakages: How it is broken; of a waived law, in the rows that are waived.
    """

    law: str
    state: State
    strength: Literal["proved", "searched", ""] = ""
    amount: int = 0
    reason: str = ""
    breakages: tuple[Breakage, ...] = ()

    @property
    def fails(self) -> bool:
        """Whether it keeps the rule set from passing."""
        return self.state in ("failed", "blocked", "not reached")
