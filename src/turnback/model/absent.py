"""What stands in a plan where a number would be, when no source gives it or a measurement is missing."""

from __future__ import annotations

from typing import NoReturn

import attrs

from turnback.errors import AbsentError

__all__ = ["Absent"]


@attrs.frozen(eq=True)
class Absent:
    """A number that is not there, with the reason.

    It is false in a condition, prints its reason, and any use of it as a number raises :class:`AbsentError` with that
    reason: ``plan.spacing.inches`` either gives inches or says why there are none.

    Args:
        what: Name of the number that is absent, as the plan names it.
        reason: Why it is absent and what would supply it.
    """

    what: str
    reason: str

    def __bool__(self) -> bool:
        return False

    def __str__(self) -> str:
        return f"absent: {self.reason}"

    def __getattr__(self, name: str) -> NoReturn:
        # Special names are looked up by copy, pickle, notebooks and others that only ask; they get the usual answer.
        if name.startswith("_"):
            raise AttributeError(name)
        raise AbsentError(self.reason, field=self.what)

    def _refuse(self, *_: object) -> NoReturn:
        raise AbsentError(self.reason, field=self.what)

    def __format__(self, spec: str) -> str:
        return self._refuse() if spec else str(self)

    __float__ = __int__ = __neg__ = __abs__ = __round__ = _refuse
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = __rtruediv__ = _refuse
    __lt__ = __le__ = __gt__ = __ge__ = _refuse
