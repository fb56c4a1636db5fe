"""How much a run draws: quick while writing, full before a release, deep by night."""

from __future__ import annotations

from typing import Final

import attrs

from turnback.errors import InputError

__all__ = ["DEEP", "EFFORTS", "FULL", "QUICK", "Effort", "effort_named"]


@attrs.frozen
class Effort:
    """How much a run draws.

    Args:
        name: ``quick``, ``full`` or ``deep``.
        examples: Examples drawn for each law that is searched [-].
        oracle: Cases that the oracle recomputes [-].
    """

    name: str
    examples: int
    oracle: int


QUICK: Final = Effort("quick", 60, 1500)
FULL: Final = Effort("full", 1000, 20_000)
DEEP: Final = Effort("deep", 10_000, 100_000)
EFFORTS: Final = (QUICK, FULL, DEEP)


def effort_named(name: str) -> Effort:
    """Return an effort by its name.

    Args:
        name: ``quick``, ``full`` or ``deep``.

    Returns:
        The effort.

    Raises:
        InputError: There is none of this name.
    """
    for effort in EFFORTS:
        if effort.name == name:
            return effort
    raise InputError(
        "no such effort", field="effort", value=name, bound="one of " + ", ".join(each.name for each in EFFORTS)
    )
