"""Exit codes of the command line."""

from __future__ import annotations

from typing import Final

from turnback.errors import Conflict, OutOfScope, OutOfTable, PluginError, TurnbackError, UnknownRuleSet, UnknownStyle

__all__ = [
    "BROKEN",
    "CODES_TEXT",
    "CONFLICT",
    "DIFFERS",
    "FORBIDDEN",
    "MUST_FIX",
    "NOT_COVERED",
    "OK",
    "OUT_OF_SERVICE",
    "PLUGIN",
    "USAGE",
    "WAIVED",
    "code_of",
]

OK: Final = 0
USAGE: Final = 2
NOT_COVERED: Final = 3
CONFLICT: Final = 4
FORBIDDEN: Final = 5
MUST_FIX: Final = 6
PLUGIN: Final = 7
DIFFERS: Final = 8
OUT_OF_SERVICE: Final = 9
WAIVED: Final = 10
BROKEN: Final = 11

CODES_TEXT: Final = """\
exit codes:
  0  done; for a plan: nothing forbids it; verified: the same; inspected: it may stay in service
  2  the arguments or an input cannot be read
  3  no rule set covers it: unknown style or rule set, size outside the table, rope outside the scope
  4  demands conflict and cannot be met together
  5  the plan was printed, and a source forbids the use
  6  the plan was printed, and something must be fixed before the joint is used; inspected: something is to be done, or
     found out, before it is loaded again
  7  a plugin failed to load, and what was asked for may be its own
  8  verified, and the recorded plan or certificate differs from the one that comes out now
  9  inspected, and the joint is out of service
  10 examined, and it passed with laws that its file waives
  11 examined, and it failed or does not reach the level that was asked for"""


def code_of(error: TurnbackError) -> int:
    """Return the exit code of an error.

    Args:
        error: Any error of the library.

    Returns:
        One of the codes above.
    """
    if isinstance(error, PluginError):
        return PLUGIN
    if isinstance(error, Conflict):
        return CONFLICT
    if isinstance(error, (OutOfTable, OutOfScope, UnknownRuleSet, UnknownStyle)):
        return NOT_COVERED
    return USAGE
