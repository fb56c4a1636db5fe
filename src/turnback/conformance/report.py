"""What an examination came to, with totals: nothing in it is green in silence."""

from __future__ import annotations

import attrs

from turnback.conformance.check_values import Difference
from turnback.conformance.data_proof import DataProof
from turnback.conformance.effort import Effort
from turnback.conformance.level import Level, LevelName
from turnback.conformance.oracle_check import Comparison
from turnback.conformance.outcome import STATES, Outcome, State
from turnback.conformance.subject import Subject

__all__ = ["Report"]


@attrs.frozen
class Report:
    """The outcome of one examination. :func:`turnback.conformance.check` makes it.

    Args:
        subject: What was examined.
        effort: How much was drawn.
        seed: Seed of the draws [-].
        outcomes: One for each law, in their order.
        typed: Where the rule set differs from the check values; empty where it does not, or where there are none.
        data: What mutating the table came to; None where there are no check values.
        oracle: What the exact oracle found; None where it does not apply.
        oracle_reason: Why it does not apply; empty where it does.
        level: The highest level that it reaches, with the reason why not the next.
        asked: The level that was asked for; None where none was.
        only: The one law that was run; empty where all were.
        seconds: How long it took, in seconds; no part of a certificate [-].
    """

    subject: Subject = attrs.field(eq=False, repr=False)
    effort: Effort
    seed: int
    outcomes: tuple[Outcome, ...]
    typed: tuple[Difference, ...]
    data: DataProof | None
    oracle: Comparison | None
    oracle_reason: str
    level: Level
    asked: LevelName | None = None
    only: str = ""
    seconds: float = attrs.field(eq=False, default=0.0)

    @property
    def passed(self) -> bool:
        """Whether no law failed or went unchecked, no check value differs, the oracle agrees, the level is reached."""
        agrees = self.oracle is None or self.oracle.agree
        return agrees and not self.typed and not any(each.fails for each in self.outcomes) and not self.below

    @property
    def below(self) -> str:
        """Why it is below the level that was asked for; empty where it is not."""
        if self.asked is None or self.level.is_at_least(self.asked):
            return ""
        return f"the level is {self.level.name}, {self.asked} was asked for (because {self.level.reason})"

    @property
    def waived(self) -> tuple[Outcome, ...]:
        """Laws that the file waives."""
        return tuple(outcome for outcome in self.outcomes if outcome.state == "waived")

    @property
    def level_name(self) -> LevelName:
        """Name of the level; ``loads`` where a law, a check value or the oracle does not hold."""
        return self.level.name

    def count(self, state: State) -> int:
        """Count the laws of one state.

        Args:
            state: The state.

        Returns:
            How many there are [-].
        """
        return sum(outcome.state == state for outcome in self.outcomes)

    @property
    def run(self) -> int:
        """How many laws were run: those that passed, are waived or failed [-]."""
        return self.count("passed") + self.count("waived") + self.count("failed")

    @property
    def totals(self) -> dict[State, int]:
        """Laws by state; every state is there, also with none."""
        return {state: self.count(state) for state in STATES}

    def __str__(self) -> str:
        from turnback.conformance.report_text import report_text

        return report_text(self)

    def _repr_html_(self) -> str:
        from html import escape

        return f"<pre>{escape(str(self))}</pre>"
