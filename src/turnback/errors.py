"""One error tree for the whole library (floor 0).

Every error says which field is wrong, what was given, which bound it breaks, who says so, and what to write instead.
The same facts are attributes, so that a host can show them in its own words.
Each class is also a built-in, so that ``except ValueError`` and its like keep working.
"""

from __future__ import annotations

__all__ = [
    "AbsentError",
    "Conflict",
    "Forbidden",
    "InputError",
    "OutOfScope",
    "OutOfTable",
    "PluginError",
    "TurnbackError",
    "UnknownRuleSet",
    "UnknownStyle",
]


class TurnbackError(Exception):
    """Base of every error that the library raises on purpose.

    Args:
        problem: What is wrong, one sentence without the field's name.
        field: Name of the input that is wrong, as the caller writes it; empty where there is no single one.
        value: What was given, as text.
        bound: The limit that it breaks, as text.
        citation: Who says so, as text.
        instead: What to write or do instead.
    """

    def __init__(
        self,
        problem: str,
        *,
        field: str = "",
        value: str = "",
        bound: str = "",
        citation: str = "",
        instead: str = "",
    ) -> None:
        super().__init__(problem)
        self.problem = problem
        self.field = field
        self.value = value
        self.bound = bound
        self.citation = citation
        self.instead = instead

    def __str__(self) -> str:
        head = f"{self.field}: {self.problem}" if self.field else self.problem
        parts = [head]
        if self.value:
            parts.append(f"Given: {self.value}.")
        if self.bound:
            parts.append(f"Bound: {self.bound}.")
        if self.citation:
            parts.append(f"Source: {self.citation}.")
        if self.instead:
            parts.append(self.instead)
        return " ".join(part if part.endswith((".", "?", "!", ":")) else part + "." for part in parts)

    def __reduce__(self) -> tuple[object, ...]:
        # Keyword-only fields do not survive the default reduction of an exception.
        return (_rebuild, (type(self), self.problem, dict(self.__dict__)))


def _rebuild(kind: type[TurnbackError], problem: str, state: dict[str, str]) -> TurnbackError:
    error = kind(problem)
    error.__dict__.update(state)
    return error


class InputError(TurnbackError, ValueError):
    """An input cannot be read, or breaks a bound of its own."""


class AbsentError(TurnbackError, AttributeError):
    """A number was asked of something that is absent; the reason why it is absent is in the message."""


class OutOfTable(TurnbackError, LookupError):
    """A size is not among the sizes that the source prints; nothing is interpolated."""


class OutOfScope(TurnbackError, ValueError):
    """A rope, clip or termination is outside what the source speaks of."""


class Conflict(TurnbackError, ValueError):
    """Two cited demands cannot be met together."""


class Forbidden(TurnbackError, ValueError):
    """A source forbids what was asked for."""


class UnknownStyle(TurnbackError, LookupError):
    """No installed plugin brings this clip style."""


class UnknownRuleSet(TurnbackError, LookupError):
    """No installed plugin brings this rule set, or none was named."""


class PluginError(TurnbackError, ImportError):
    """A plugin failed to load, or supplied something that is not what its hook promises."""
